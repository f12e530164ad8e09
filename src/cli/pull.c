// SPDX-License-Identifier: GPL-3.0-or-later
// `pull`: which way a part draws: the ten best pulls, or what one given pull costs.
#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>

#include "book/field.h"
#include "cli/cli.h"
#include "part/findings.h"
#include "part/search.h"
#include "solid/read.h"

typedef struct {
    char *unit, *draft, *allowance, *pull;
    gboolean json;
} Options;

static void
clear_options(Options *o)
{
    g_free(o->unit);
    g_free(o->draft);
    g_free(o->allowance);
    g_free(o->pull);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Options, clear_options)

static const char *
name_kind(DirectionKind kind)
{
    switch (kind) {
    case DIRECTION_FILE_AXIS:
        return _("axis of the file");
    case DIRECTION_AXIS:
        return _("principal axis");
    case DIRECTION_FACE:
        return _("across a flat face");
    default:
        return "";
    }
}

static void
print_answer(guint rank, const SearchAnswer *a, double part_volume, const UnitSet *units)
{
    g_autofree char *added = quantity_format(QUANTITY_VOLUME, a->added, units);
    g_autofree char *filled = quantity_format(QUANTITY_VOLUME, a->undercut_volume, units);
    g_autofree char *draft = quantity_format(QUANTITY_VOLUME, a->draft_volume, units);
    g_autofree char *stock = quantity_format(QUANTITY_VOLUME, a->allowance_volume, units);
    g_autofree char *cope = quantity_format(QUANTITY_LENGTH, a->depth_cope, units);
    g_autofree char *drag = quantity_format(QUANTITY_LENGTH, a->depth_drag, units);
    g_autofree char *area = quantity_format(QUANTITY_AREA, a->parting_area, units);
    g_autofree char *words = search_words(a, part_volume, units);
    g_print("%2u  %7.4f,%7.4f,%7.4f  %s\n", rank, a->pull.x, a->pull.y, a->pull.z,
            name_kind(a->kind));
    g_print(_("    adds %s (%.1f %% of the part): undercuts %s, draft %s, allowance %s\n"), added,
            100 * a->added / part_volume, filled, draft, stock);
    g_print(_("    depth of draw: cope %s, drag %s; parting %s\n"), cope, drag, area);
    g_print("    %s\n", words);
}

static void
print_table(const char *file, char **found, const SearchResult *r, const UnitSet *units)
{
    g_autofree char *volume = quantity_format(QUANTITY_VOLUME, r->part_volume, units);
    g_autofree char *cell = quantity_format(QUANTITY_LENGTH, r->cell, units);
    g_print(_("%s: part %s; %u pulls judged, on cells of %s\n"), file, volume, r->directions, cell);
    for (; *found; found++)
        g_print("%s\n", *found);
    for (guint i = 0; i < r->n; i++)
        print_answer(i + 1, &r->answers[i], r->part_volume, units);
}

static void
add_number(JsonBuilder *b, const char *name, double value)
{
    json_builder_set_member_name(b, name);
    json_builder_add_double_value(b, value);
}

static void
add_vector(JsonBuilder *b, const char *name, Vec3 v)
{
    json_builder_set_member_name(b, name);
    json_builder_begin_array(b);
    json_builder_add_double_value(b, v.x);
    json_builder_add_double_value(b, v.y);
    json_builder_add_double_value(b, v.z);
    json_builder_end_array(b);
}

static void
add_answer(JsonBuilder *b, const SearchAnswer *a)
{
    json_builder_begin_object(b);
    add_vector(b, "pull", a->pull);
    add_number(b, "parting", a->parting);
    add_number(b, "added", a->added);
    add_number(b, "undercut_volume", a->undercut_volume);
    add_number(b, "draft_volume", a->draft_volume);
    add_number(b, "allowance_volume", a->allowance_volume);
    add_number(b, "depth_cope", a->depth_cope);
    add_number(b, "depth_drag", a->depth_drag);
    add_number(b, "parting_area", a->parting_area);
    json_builder_set_member_name(b, "fills");
    json_builder_begin_array(b);
    for (guint i = 0; i < a->n_fills; i++) {
        json_builder_begin_object(b);
        add_number(b, "volume", a->fills[i].volume);
        add_number(b, "diameter", a->fills[i].diameter);
        add_number(b, "enclosed", a->fills[i].enclosed);
        add_vector(b, "middle", a->fills[i].middle);
        json_builder_end_object(b);
    }
    json_builder_end_array(b);
    json_builder_end_object(b);
}

static void
print_json(const char *file, char **found, const SearchResult *r)
{
    g_autoptr(JsonBuilder) b = json_builder_new();
    json_builder_begin_object(b);
    json_builder_set_member_name(b, "file");
    json_builder_add_string_value(b, file);
    json_builder_set_member_name(b, "notes");
    json_builder_begin_array(b);
    for (; *found; found++)
        json_builder_add_string_value(b, *found);
    json_builder_end_array(b);
    add_number(b, "part_volume", r->part_volume);
    add_number(b, "cell", r->cell);
    json_builder_set_member_name(b, "directions");
    json_builder_add_int_value(b, r->directions);
    json_builder_set_member_name(b, "pulls");
    json_builder_begin_array(b);
    for (guint i = 0; i < r->n; i++)
        add_answer(b, &r->answers[i]);
    json_builder_end_array(b);
    json_builder_end_object(b);
    g_autoptr(JsonGenerator) generator = json_generator_new();
    JsonNode *root = json_builder_get_root(b);
    json_generator_set_root(generator, root);
    json_generator_set_pretty(generator, TRUE);
    g_autofree char *text = json_generator_to_data(generator, NULL);
    g_print("%s\n", text);
    json_node_unref(root);
}

// A number as the field of that path is typed in a book; blank is the field's default.
static gboolean
read_number(const char *path, const char *typed, double *si, const UnitSet *units, GError **error)
{
    const Field *field = field_find(path);
    return field_check(field, typed ? typed : field->fallback, units, NULL, si, error);
}

// The mesh, checked and facing outwards.
static gboolean
read_part(const char *file, const char *unit, PartFindings *found, GError **error)
{
    g_autoptr(SolidMesh) mesh = solid_read(file, unit, NULL, error);
    g_auto(PartFindings) f = {0};
    if (!mesh || !part_find(mesh, &f, NULL, error))
        return FALSE;
    if (!f.solid)
        return part_findings_refuse(&f, file, error);
    *found = f;
    f.mesh = NULL;
    return TRUE;
}

static gboolean
run_pull(const char *file, const Options *o, const UnitSet *units, PartFindings *found,
         SearchResult *result, GError **error)
{
    EnvelopeOptions e = {0};
    double v[3];
    if (!read_number("job.draft", o->draft, &e.draft, units, error) ||
        !read_number("job.allowance", o->allowance ? o->allowance : "0", &e.allowance, units,
                     error) ||
        (o->pull && !field_vector(o->pull, v, error)))
        return FALSE;
    if (!read_part(file, o->unit, found, error))
        return FALSE;
    gboolean done = o->pull
                        ? search_judge(found->mesh, &e, vec3(v[0], v[1], v[2]), result, NULL, error)
                        : search_pulls(found->mesh, &e, result, NULL, NULL, NULL, error);
    if (!done)
        g_prefix_error(error, "%s: ", file);
    return done;
}

int
cli_pull(int argc, char **argv)
{
    g_auto(Options) o = {0};
    gboolean finished;
    const GOptionEntry entries[] = {
        {"unit", 'u', 0, G_OPTION_ARG_STRING, &o.unit,
         N_("Unit of a file that does not say: mm, cm, m, in, ft"), "UNIT"},
        {"draft", 0, 0, G_OPTION_ARG_STRING, &o.draft, N_("Draft wanted; 2 degrees if not said"),
         "ANGLE"},
        {"allowance", 0, 0, G_OPTION_ARG_STRING, &o.allowance,
         N_("Stock on every face; none if not said"), "LENGTH"},
        {"pull", 0, 0, G_OPTION_ARG_STRING, &o.pull, N_("Judge this pull instead of searching"),
         "X,Y,Z"},
        {"json", 0, 0, G_OPTION_ARG_NONE, &o.json, N_("Print JSON, in SI units"), NULL},
        {NULL}};
    int code = cli_options("pull", entries, &argc, &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    if (o.unit && solid_unit_metres(o.unit) == 0)
        return cli_usage(_("pull: \"%s\" is not a unit; use mm, cm, m, in or ft"), o.unit);
    UnitSet units = unit_set_default();
    SearchResult result;
    g_autoptr(GError) error = NULL;
    g_auto(PartFindings) found = {0};
    if (!run_pull(argv[1], &o, &units, &found, &result, &error))
        return cli_fail(error);
    g_auto(GStrv) words = part_findings_words(&found, &units);
    if (o.json)
        print_json(argv[1], words, &result);
    else
        print_table(argv[1], words, &result, &units);
    return CLI_DONE;
}
