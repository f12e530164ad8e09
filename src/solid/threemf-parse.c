// SPDX-License-Identifier: GPL-3.0-or-later
// One model part of a 3MF package, from XML: unit, objects (vertices and triangles, or components)
// and the items of the build. Elements of other namespaces are passed over; a model that *requires*
// an extension we do not know is refused, as the specification asks.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "solid/scan.h"
#include "solid/threemf.h"

#define MAX_DEPTH 64
#define MAX_OBJECTS 100000

struct ThreeMfParser {
    const SolidReadJob *job;
    ThreeMfModel *model;
    char *part;
    gboolean root;
    gboolean started; // the byte order mark is behind us
    gboolean seen_model;
    int depth;
    double unit; // metres
    GMarkupParseContext *context;
    ThreeMfObject *object; // being read; owned by the model
};

static gboolean
fail_here(ThreeMfParser *p, BaseError code, GError **error, const char *what)
{
    int line, column;
    g_markup_parse_context_get_position(p->context, &line, &column);
    g_autofree char *part = solid_text_printable(p->part);
    g_autofree char *place = g_strdup_printf(_("%s, line %d"), part, line);
    return base_error_set(error, code, p->job->name, place, what, _("export it again"));
}

static const char *
find_value(const char **names, const char **values, const char *name)
{
    for (int i = 0; names[i]; i++)
        if (!strcmp(names[i], name))
            return values[i];
    return NULL;
}

// The value of an attribute known by its local name, whatever prefix its namespace has.
static const char *
find_local_value(const char **names, const char **values, const char *name)
{
    for (int i = 0; names[i]; i++) {
        const char *colon = strchr(names[i], ':');
        if (colon && !strcmp(colon + 1, name))
            return values[i];
    }
    return NULL;
}

static gboolean
read_number(ThreeMfParser *p, const char **names, const char **values, const char *name,
            double *number, GError **error)
{
    const char *text = find_value(names, values, name);
    SolidWord word = {text, text ? strlen(text) : 0};
    if (text && solid_word_number(word, number) && isfinite(*number))
        return TRUE;
    g_autofree char *what = g_strdup_printf(_("\"%s\" is missing or not a finite number"), name);
    return fail_here(p, BASE_ERROR_FORMAT, error, what);
}

static gboolean
read_transform(ThreeMfParser *p, const char *text, ThreeMfTransform *transform, GError **error)
{
    static const ThreeMfTransform same = {{1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0}};
    *transform = same;
    if (!text)
        return TRUE;
    SolidScan scan;
    SolidWord word;
    int n = 0;
    solid_scan_init(&scan, (const guchar *)text, strlen(text));
    for (; solid_scan_word(&scan, &word); n++)
        if (n == 12 || !solid_word_number(word, &transform->m[n]) || !isfinite(transform->m[n]))
            return fail_here(p, BASE_ERROR_FORMAT, error, _("a transform is not twelve numbers"));
    return n == 12 ||
           fail_here(p, BASE_ERROR_FORMAT, error, _("a transform is not twelve numbers"));
}

// objectid, p:path and transform of a component or an item.
static gboolean
read_component(ThreeMfParser *p, const char **names, const char **values, GArray *to,
               GError **error)
{
    const char *id = find_value(names, values, "objectid");
    const char *path = find_local_value(names, values, "path");
    ThreeMfComponent component;
    if (!id)
        return fail_here(p, BASE_ERROR_FORMAT, error, _("\"objectid\" is missing"));
    if (to->len >= SOLID_MAX_TRIANGLES / 16)
        return fail_here(p, BASE_ERROR_LIMIT, error, _("too many components"));
    if (!read_transform(p, find_value(names, values, "transform"), &component.transform, error))
        return FALSE;
    while (path && *path == '/')
        path++;
    component.object = g_strdup_printf("%s#%s", path ? path : p->part, id);
    g_array_append_val(to, component);
    return TRUE;
}

static gboolean
is_known_extension(const char *uri)
{
    return uri &&
           (g_str_has_prefix(uri, "http://schemas.microsoft.com/3dmanufacturing/production/") ||
            g_str_has_prefix(uri, "http://schemas.microsoft.com/3dmanufacturing/material/"));
}

static gboolean
check_extensions(ThreeMfParser *p, const char **names, const char **values, GError **error)
{
    const char *required = find_value(names, values, "requiredextensions");
    g_auto(GStrv) prefixes = g_strsplit_set(required ? required : "", " \t\r\n", -1);
    for (char **prefix = prefixes; *prefix; prefix++) {
        g_autofree char *name = g_strconcat("xmlns:", *prefix, NULL);
        if (!**prefix || is_known_extension(find_value(names, values, name)))
            continue;
        g_autofree char *plain = solid_text_printable(*prefix);
        g_autofree char *what = g_strdup_printf(
            _("the model needs the extension \"%s\", not read here"), plain);
        return fail_here(p, BASE_ERROR_FORMAT, error, what);
    }
    return TRUE;
}

static gboolean
read_model(ThreeMfParser *p, const char **names, const char **values, GError **error)
{
    static const struct {
        const char *name;
        double metres;
    } units[] = {{"micron", 1e-6}, {"millimeter", 1e-3}, {"centimeter", 1e-2},
                 {"inch", 0.0254}, {"foot", 0.3048},     {"meter", 1.0}};
    const char *unit = find_value(names, values, "unit");
    p->seen_model = TRUE;
    p->unit = unit ? 0 : 1e-3;
    for (gsize i = 0; unit && i < G_N_ELEMENTS(units); i++)
        if (!strcmp(unit, units[i].name))
            p->unit = units[i].metres;
    if (p->unit == 0)
        return fail_here(p, BASE_ERROR_FORMAT, error, _("the unit is none of 3MF's six"));
    if (p->root)
        p->model->scale = p->unit;
    return check_extensions(p, names, values, error);
}

static gboolean
read_object(ThreeMfParser *p, const char **names, const char **values, GError **error)
{
    const char *id = find_value(names, values, "id");
    const char *type = find_value(names, values, "type");
    if (!id)
        return fail_here(p, BASE_ERROR_FORMAT, error, _("an object has no \"id\""));
    if (g_hash_table_size(p->model->objects) >= MAX_OBJECTS)
        return fail_here(p, BASE_ERROR_LIMIT, error, _("too many objects"));
    g_autofree char *key = g_strdup_printf("%s#%s", p->part, id);
    if (g_hash_table_contains(p->model->objects, key))
        return fail_here(p, BASE_ERROR_FORMAT, error, _("an object's \"id\" stands twice"));
    ThreeMfObject *object = g_new0(ThreeMfObject, 1);
    object->vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    object->triangles = g_array_new(FALSE, FALSE, 3 * sizeof(guint32));
    object->components = g_array_new(FALSE, FALSE, sizeof(ThreeMfComponent));
    object->count = -1;
    object->support = type && (!strcmp(type, "support") || !strcmp(type, "other"));
    g_hash_table_insert(p->model->objects, g_steal_pointer(&key), object);
    p->object = object;
    return TRUE;
}

static gboolean
read_vertex(ThreeMfParser *p, const char **names, const char **values, GError **error)
{
    Vec3 v;
    if (!read_number(p, names, values, "x", &v.x, error) ||
        !read_number(p, names, values, "y", &v.y, error) ||
        !read_number(p, names, values, "z", &v.z, error))
        return FALSE;
    if (++p->model->n_vertices > 3ull * SOLID_MAX_TRIANGLES)
        return solid_fail_too_many(p->job, error);
    v = vec3_scale(v, p->unit);
    if (!solid_is_near(v.x, v.y, v.z))
        return fail_here(p, BASE_ERROR_LIMIT, error,
                         _("a corner lies more than 1000 km from the origin"));
    g_array_append_val(p->object->vertices, v);
    return TRUE;
}

static gboolean
read_triangle(ThreeMfParser *p, const char **names, const char **values, GError **error)
{
    static const char *const corner[] = {"v1", "v2", "v3"};
    guint32 t[3];
    for (int c = 0; c < 3; c++) {
        const char *text = find_value(names, values, corner[c]);
        SolidWord word = {text, text ? strlen(text) : 0};
        gint64 number;
        if (!text || !solid_word_integer(word, &number) || number < 0 ||
            number >= p->object->vertices->len) {
            g_autofree char *quoted = solid_word_quoted(word);
            g_autofree char *what = g_strdup_printf(
                _("a triangle names vertex %s, which is not there"), quoted);
            return fail_here(p, BASE_ERROR_FORMAT, error, what);
        }
        t[c] = (guint32)number;
    }
    if (++p->model->n_triangles > SOLID_MAX_TRIANGLES)
        return solid_fail_too_many(p->job, error);
    g_array_append_vals(p->object->triangles, t, 1);
    return TRUE;
}

// The parent elements of the one being read are in place by the document's own order; what stands
// elsewhere (in metadata, in extensions) has another parent and is passed over.
static gboolean
has_parent(GMarkupParseContext *context, const char *parent)
{
    const GSList *stack = g_markup_parse_context_get_element_stack(context);
    return stack->next && !strcmp(stack->next->data, parent);
}

static void
on_started_cb(GMarkupParseContext *context, const char *element, const char **names,
              const char **values, gpointer data, GError **error)
{
    ThreeMfParser *p = data;
    if (++p->depth > MAX_DEPTH)
        fail_here(p, BASE_ERROR_LIMIT, error, _("elements are nested too deeply"));
    else if (p->depth == 1 && strcmp(element, "model") != 0)
        fail_here(p, BASE_ERROR_FORMAT, error, _("the part is not a 3MF model"));
    else if (p->depth == 1)
        read_model(p, names, values, error);
    else if (p->object && !strcmp(element, "vertex") && has_parent(context, "vertices"))
        read_vertex(p, names, values, error);
    else if (p->object && !strcmp(element, "triangle") && has_parent(context, "triangles"))
        read_triangle(p, names, values, error);
    else if (p->object && !strcmp(element, "component") && has_parent(context, "components"))
        read_component(p, names, values, p->object->components, error);
    else if (!p->object && !strcmp(element, "object") && has_parent(context, "resources"))
        read_object(p, names, values, error);
    else if (p->root && !strcmp(element, "item") && has_parent(context, "build"))
        read_component(p, names, values, p->model->items, error);
}

static void
on_ended_cb(GMarkupParseContext *context, const char *element, gpointer data, GError **error)
{
    ThreeMfParser *p = data;
    p->depth--;
    if (p->depth == 2 && !strcmp(element, "object"))
        p->object = NULL;
}

ThreeMfParser *
solid_3mf_parser_new(const SolidReadJob *job, ThreeMfModel *model, const char *part, gboolean root)
{
    static const GMarkupParser parser = {.start_element = on_started_cb,
                                         .end_element = on_ended_cb};
    ThreeMfParser *p = g_new0(ThreeMfParser, 1);
    p->job = job;
    p->model = model;
    p->part = g_strdup(part);
    p->root = root;
    p->context = g_markup_parse_context_new(&parser, 0, p, NULL);
    return p;
}

void
solid_3mf_parser_free(ThreeMfParser *p)
{
    if (!p)
        return;
    g_markup_parse_context_free(p->context);
    g_free(p->part);
    g_free(p);
}

// Our own errors pass unchanged; those of the XML parser get a place and one line.
static gboolean
pass_error(ThreeMfParser *p, GError *failure, GError **error)
{
    if (failure->domain == BASE_ERROR) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    g_error_free(failure);
    return fail_here(p, BASE_ERROR_FORMAT, error, _("the XML is damaged"));
}

gboolean
solid_3mf_parser_feed(ThreeMfParser *p, const char *text, gsize length, GError **error)
{
    GError *failure = NULL;
    if (!p->started && length >= 2 &&
        (!memcmp(text, "\xFF\xFE", 2) || !memcmp(text, "\xFE\xFF", 2)))
        return fail_here(p, BASE_ERROR_FORMAT, error, _("the part is UTF-16; only UTF-8 is read"));
    if (!p->started && length >= 3 && !memcmp(text, "\xEF\xBB\xBF", 3)) {
        text += 3;
        length -= 3;
    }
    p->started = TRUE;
    if (g_markup_parse_context_parse(p->context, text, (gssize)length, &failure))
        return TRUE;
    return pass_error(p, failure, error);
}

gboolean
solid_3mf_parser_end(ThreeMfParser *p, GError **error)
{
    GError *failure = NULL;
    if (g_markup_parse_context_end_parse(p->context, &failure))
        return TRUE;
    return pass_error(p, failure, error);
}
