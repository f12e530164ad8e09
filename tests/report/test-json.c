// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON of a plan: read back by json-glib, every figure whole, unknown null, no number by
// locale.
#include "../plan/make.h"

#include <json-glib/json-glib.h>
#include <locale.h>
#include <string.h>

#include "report/json.h"

typedef struct {
    Tables *tables;
    char *folder;
    Plan *plan;
    JsonParser *parser;
    JsonObject *root;
} Fixture;

static void
plan_mesh(Fixture *f, SolidMesh *mesh)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = make_mesh_file(f->folder, "part.stl", mesh);
    g_autoptr(Book) plain = make_book(path, f->tables);
    g_autoptr(Book) book = make_changed(plain, "crucible.rating", "31 kg", f->tables);
    f->plan = make_plan(book, "part", f->tables, NULL);
    g_autofree char *text = report_json(f->plan);
    g_assert_true(g_utf8_validate(text, -1, NULL));
    json_parser_load_from_data(f->parser, text, -1, &error);
    g_assert_no_error(error);
    f->root = json_node_get_object(json_parser_get_root(f->parser));
}

static void
set_up(Fixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    f->parser = json_parser_new();
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    g_free(f->folder);
    plan_unref(f->plan);
    tables_free(f->tables);
    g_object_unref(f->parser);
}

static void
check_value(JsonObject *object, const Figure *figure)
{
    JsonNode *value = json_object_get_member(object, "value");
    g_assert_nonnull(value);
    if (figure->state == FIGURE_UNKNOWN) {
        g_assert_true(JSON_NODE_HOLDS_NULL(value));
        g_assert_cmpstr(json_object_get_string_member(object, "missing"), ==, figure->missing);
        g_assert_cmpstr(json_object_get_string_member(object, "state"), ==, "unknown");
    } else if (figure->text)
        g_assert_cmpstr(json_node_get_string(value), ==, figure->text);
    else
        check_close(json_node_get_double(value), figure->value, 1e-15, "the plan");
}

static void
check_limit(JsonObject *object, const Figure *figure)
{
    g_assert_cmpint(json_object_has_member(object, "limit"), ==, isfinite(figure->limit));
    if (!isfinite(figure->limit))
        return;
    JsonObject *limit = json_object_get_object_member(object, "limit");
    check_close(json_object_get_double_member(limit, "value"), figure->limit, 1e-15, "the plan");
    const char *kind = json_object_get_string_member(limit, "kind");
    g_assert_cmpstr(kind, ==, figure->spec->limit_kind == FIGURE_AT_MOST ? "at most" : "at least");
    g_assert_true(json_object_has_member(object, "margin"));
    g_assert_true(json_object_has_member(object, "state"));
}

static void
check_printed(JsonObject *object, const Figure *figure, JsonObject *figures, JsonObject *givens)
{
    static const char *const keys[] = {"label", "value", "unit", "method", "inputs", "source"};
    g_test_message("%s", figure->spec->id);
    g_assert_nonnull(object);
    for (guint i = 0; i < G_N_ELEMENTS(keys); i++)
        g_assert_true(json_object_has_member(object, keys[i]));
    static const char *const texts[] = {"label", "unit", "method", "source"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++)
        g_assert_cmpstr(json_object_get_string_member(object, texts[i]), !=, NULL);
    check_value(object, figure);
    check_limit(object, figure);
    JsonArray *inputs = json_object_get_array_member(object, "inputs");
    g_assert_cmpuint(json_array_get_length(inputs), ==, figure->n_inputs);
    for (guint i = 0; i < figure->n_inputs; i++) {
        const char *id = json_array_get_string_element(inputs, i);
        g_assert_cmpstr(id, ==, figure->inputs[i].id);
        g_assert_true(json_object_has_member(figures, id) || json_object_has_member(givens, id));
    }
}

// The pieces of the plan, in order; none without them.
static void
check_patterns(JsonArray *patterns, const BoardResult *boards)
{
    g_assert_cmpuint(json_array_get_length(patterns), ==, boards ? boards->n_pieces : 0);
    for (guint i = 0; boards && i < boards->n_pieces; i++) {
        JsonObject *object = json_array_get_object_element(patterns, i);
        const BoardPiece *piece = &boards->pieces[i];
        JsonArray *size = json_object_get_array_member(object, "size");
        g_assert_cmpstr(json_object_get_string_member(object, "name"), ==, piece->name);
        g_assert_cmpstr(json_object_get_string_member(object, "kind"), ==,
                        board_kind_id(piece->kind));
        g_assert_cmpint(json_object_get_int_member(object, "count"), ==, piece->count);
        check_close(json_object_get_double_member(object, "volume"), piece->volume, 1e-15, "plan");
        check_close(json_object_get_double_member(object, "filament_mass"), piece->mass, 1e-15,
                    "plan");
        g_assert_cmpuint(json_array_get_length(size), ==, 3);
        check_close(json_array_get_double_element(size, 1), piece->size.y, 1e-15, "plan");
    }
}

static double
number(JsonObject *object, const char *name)
{
    JsonNode *node = json_object_get_member(object, name);
    return json_node_is_null(node) ? NAN : json_node_get_double(node);
}

// Cavities and vents of the layout, in order.
static void
check_mould(JsonObject *root, const MouldLayout *l)
{
    JsonArray *cavities = json_object_get_array_member(root, "cavities");
    JsonArray *vents = json_object_get_array_member(root, "vents");
    g_assert_cmpuint(json_array_get_length(cavities), ==, l ? l->n_cavities : 0);
    g_assert_cmpuint(json_array_get_length(vents), ==, l ? l->n_vents : 0);
    for (guint i = 0; l && i < l->n_cavities; i++) {
        JsonObject *object = json_array_get_object_element(cavities, i);
        g_assert_cmpint(json_object_get_int_member(object, "cavity"), ==, i + 1);
        check_close(number(object, "x"), l->cavities[i].x, 1e-15, "plan");
        check_close(number(object, "turn"), l->cavities[i].turn, 1e-15, "plan");
        check_close(number(object, "mismatch"), l->cavities[i].mismatch, 1e-15, "plan");
        g_assert_cmpint(isnan(number(object, "riser_y")), ==, isnan(l->cavities[i].riser_y));
    }
    static const char *const kinds[] = {"high point", "blind riser", "far from the gate"};
    for (guint i = 0; l && i < l->n_vents; i++) {
        JsonObject *object = json_array_get_object_element(vents, i);
        g_assert_cmpint(json_object_get_int_member(object, "cavity"), ==, l->vents[i].cavity + 1);
        g_assert_cmpstr(json_object_get_string_member(object, "kind"), ==, kinds[l->vents[i].kind]);
        check_close(number(object, "y"), l->vents[i].y, 1e-15, "plan");
        check_close(number(object, "z"), l->vents[i].z, 1e-15, "plan");
        check_close(number(object, "depth"), l->vents[i].depth, 1e-15, "plan");
        check_close(number(object, "diameter"), l->vents[i].diameter, 1e-15, "plan");
    }
}

static void
check_plan(Fixture *f)
{
    g_assert_cmpstr(json_object_get_string_member(f->root, "job"), ==, "part");
    g_assert_cmpstr(json_object_get_string_member(f->root, "book"), ==, "Shop");
    JsonObject *figures = json_object_get_object_member(f->root, "figures");
    JsonObject *givens = json_object_get_object_member(f->root, "givens");
    g_assert_cmpuint(json_object_get_size(figures), ==, plan_figure_count(f->plan));
    for (guint i = 0; i < plan_figure_count(f->plan); i++) {
        const Figure *figure = plan_figure_at(f->plan, i);
        JsonNode *node = json_object_get_member(figures, figure->spec->id);
        check_printed(node ? json_node_get_object(node) : NULL, figure, figures, givens);
    }
    for (guint i = 0; i < stage_figure_count(); i++)
        g_assert_true(json_object_has_member(figures, stage_figure_at(i)->spec.id));
    JsonArray *checks = json_object_get_array_member(f->root, "checks");
    g_assert_cmpuint(json_array_get_length(checks), >, 0);
    for (guint i = 0; i < json_array_get_length(checks); i++)
        g_assert_true(json_object_has_member(figures, json_array_get_string_element(checks, i)));
    JsonArray *stages = json_object_get_array_member(f->root, "stages");
    g_assert_cmpuint(json_array_get_length(stages), ==, STAGE_COUNT);
    for (guint i = 0; i < STAGE_COUNT; i++)
        g_assert_cmpstr(
            json_object_get_string_member(json_array_get_object_element(stages, i), "id"), ==,
            stage_at(i)->name);
    check_mould(f->root, plan_mould(f->plan));
    check_patterns(json_object_get_array_member(f->root, "patterns"), plan_board(f->plan));
    g_assert_cmpuint(json_array_get_length(json_object_get_array_member(f->root, "cautions")), >=,
                     6);
}

static void
test_whole(Fixture *f, gconstpointer data)
{
    plan_mesh(f, make_plate());
    check_plan(f);
    g_assert_cmpuint(plan_mould(f->plan)->n_cavities, >, 0);
    g_assert_cmpuint(plan_mould(f->plan)->n_vents, >, 0);
}

static void
test_unknown(Fixture *f, gconstpointer data)
{
    plan_mesh(f, make_open_box());
    check_plan(f);
    JsonObject *figures = json_object_get_object_member(f->root, "figures");
    JsonObject *volume = json_object_get_object_member(figures, "part.volume");
    g_assert_true(json_object_get_null_member(volume, "value"));
    g_assert_cmpstr(json_object_get_string_member(volume, "missing"), ==, "part.closed");
    g_assert_cmpstr(json_object_get_string_member(volume, "unit"), ==, "m3");
}

// A file never follows the locale. Skipped where no locale with a decimal comma is installed.
static void
test_comma(Fixture *f, gconstpointer data)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8"};
    const char *found = NULL;
    for (guint i = 0; i < G_N_ELEMENTS(names) && !found; i++)
        found = setlocale(LC_NUMERIC, names[i]);
    if (!found) {
        g_test_skip("no locale with a decimal comma");
        return;
    }
    plan_mesh(f, make_plate());
    check_plan(f);
    setlocale(LC_NUMERIC, "C");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/report/json/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("whole", test_whole);
    ADD("unknown", test_unknown);
    ADD("comma", test_comma);
    return g_test_run();
}
