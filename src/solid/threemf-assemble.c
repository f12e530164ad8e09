// SPDX-License-Identifier: GPL-3.0-or-later
// Puts the objects of a 3MF build in place: items, components and their transforms, nested. Counts
// before it copies, since a few lines of nested components can ask for any number of triangles.
#include <glib/gi18n-lib.h>

#include "solid/threemf.h"
#include "solid/weld-table.h"

#define MAX_NESTING 32

static void
clear_component(gpointer data)
{
    ThreeMfComponent *component = data;
    g_free(component->object);
}

static void
free_object(gpointer data)
{
    ThreeMfObject *object = data;
    for (guint i = 0; i < object->components->len; i++)
        clear_component(&g_array_index(object->components, ThreeMfComponent, i));
    g_array_unref(object->vertices);
    g_array_unref(object->triangles);
    g_array_unref(object->components);
    g_free(object);
}

ThreeMfModel *
solid_3mf_model_new(void)
{
    ThreeMfModel *model = g_new0(ThreeMfModel, 1);
    model->objects = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, free_object);
    model->items = g_array_new(FALSE, FALSE, sizeof(ThreeMfComponent));
    g_array_set_clear_func(model->items, clear_component);
    return model;
}

void
solid_3mf_model_free(ThreeMfModel *model)
{
    if (!model)
        return;
    g_hash_table_unref(model->objects);
    g_array_unref(model->items);
    g_free(model);
}

typedef struct {
    const SolidReadJob *job;
    ThreeMfModel *model;
    SolidSoup *soup;
} Assembly;

static ThreeMfObject *
find_object(const Assembly *a, const char *key, GError **error)
{
    ThreeMfObject *object = g_hash_table_lookup(a->model->objects, key);
    if (!object)
        solid_3mf_fail(a->job, key, BASE_ERROR_FORMAT, _("export it again"), error,
                       _("the object is named but not there"));
    return object;
}

// Triangles and steps below an object; < 0 with an error.
static double
count_below(const Assembly *a, const char *key, int depth, GError **error)
{
    ThreeMfObject *object = find_object(a, key, error);
    if (!object)
        return -1;
    if (object->count >= 0)
        return object->count;
    if (object->counting || depth > MAX_NESTING) {
        solid_3mf_fail(a->job, key, BASE_ERROR_FORMAT, _("export it again"), error,
                       _("the components go round in a circle or are nested too deeply"));
        return -1;
    }
    object->counting = TRUE;
    double sum = object->support ? 0 : object->triangles->len;
    for (guint i = 0; i < object->components->len; i++) {
        const ThreeMfComponent *part = &g_array_index(object->components, ThreeMfComponent, i);
        double count = count_below(a, part->object, depth + 1, error);
        if (count < 0)
            return -1;
        sum += count + 1;
    }
    object->counting = FALSE;
    return object->count = sum;
}

// First `inner`, then `outer`; rows as in the file.
static ThreeMfTransform
combine(const ThreeMfTransform *inner, const ThreeMfTransform *outer)
{
    ThreeMfTransform out;
    for (int r = 0; r < 4; r++)
        for (int c = 0; c < 3; c++) {
            double sum = r == 3 ? outer->m[9 + c] : 0;
            for (int k = 0; k < 3; k++)
                sum += inner->m[3 * r + k] * outer->m[3 * k + c];
            out.m[3 * r + c] = sum;
        }
    return out;
}

static double
get_determinant(const ThreeMfTransform *t)
{
    Vec3 a = vec3(t->m[0], t->m[1], t->m[2]), b = vec3(t->m[3], t->m[4], t->m[5]);
    return vec3_dot(a, vec3_cross(b, vec3(t->m[6], t->m[7], t->m[8])));
}

static Vec3
move_point(const ThreeMfTransform *t, Vec3 v)
{
    const double *m = t->m;
    return vec3(v.x * m[0] + v.y * m[3] + v.z * m[6] + m[9],
                v.x * m[1] + v.y * m[4] + v.z * m[7] + m[10],
                v.x * m[2] + v.y * m[5] + v.z * m[8] + m[11]);
}

// A mirroring transform would turn the mesh inside out, so it also turns the triangles round.
static gboolean
add_mesh(Assembly *a, const char *key, const ThreeMfObject *object, const ThreeMfTransform *t,
         GError **error)
{
    double determinant = get_determinant(t);
    if (!(determinant != 0))
        return solid_3mf_fail(a->job, key, BASE_ERROR_FORMAT, _("export it again"), error,
                              _("a transform flattens the object"));
    for (guint i = 0; i < object->triangles->len; i++) {
        const guint32 *corner = &g_array_index(object->triangles, guint32, 3 * i);
        if (i % 8192 == 0 && !progress_check(a->job->progress, error))
            return FALSE;
        for (int c = 0; c < 3; c++) {
            guint32 number = corner[determinant < 0 ? (3 - c) % 3 : c];
            Vec3 v = move_point(t, g_array_index(object->vertices, Vec3, number));
            if (!solid_is_near(v.x, v.y, v.z))
                return solid_3mf_fail(a->job, key, BASE_ERROR_LIMIT, _("export it again"), error,
                                      _("a transform moves it more than 1000 km away"));
            solid_soup_corner(a->soup, v);
        }
    }
    return TRUE;
}

static gboolean
add_object(Assembly *a, const char *key, const ThreeMfTransform *t, GError **error)
{
    const ThreeMfObject *object = find_object(a, key, error);
    if (!object || !progress_check(a->job->progress, error))
        return FALSE;
    if (!object->support && object->triangles->len > 0 && !add_mesh(a, key, object, t, error))
        return FALSE;
    for (guint i = 0; i < object->components->len; i++) {
        const ThreeMfComponent *part = &g_array_index(object->components, ThreeMfComponent, i);
        ThreeMfTransform both = combine(&part->transform, t);
        if (!add_object(a, part->object, &both, error))
            return FALSE;
    }
    return TRUE;
}

// The shifts of a transform are in the unit of the root part; meshes are already in metres.
static void
scale_shifts(ThreeMfModel *model)
{
    GHashTableIter iter;
    gpointer value;
    for (guint i = 0; i < model->items->len; i++)
        for (int c = 9; c < 12; c++)
            g_array_index(model->items, ThreeMfComponent, i).transform.m[c] *= model->scale;
    g_hash_table_iter_init(&iter, model->objects);
    while (g_hash_table_iter_next(&iter, NULL, &value)) {
        ThreeMfObject *object = value;
        for (guint i = 0; i < object->components->len; i++)
            for (int c = 9; c < 12; c++)
                g_array_index(object->components, ThreeMfComponent, i)
                    .transform.m[c] *= model->scale;
    }
}

SolidMesh *
solid_3mf_assemble(const SolidReadJob *job, ThreeMfModel *model, GError **error)
{
    Assembly a = {.job = job, .model = model};
    double count = 0;
    if (model->items->len == 0) {
        solid_3mf_fail(job, NULL, BASE_ERROR_FORMAT, _("export the part again"), error,
                       _("the model builds nothing"));
        return NULL;
    }
    scale_shifts(model);
    for (guint i = 0; i < model->items->len; i++) {
        const ThreeMfComponent *item = &g_array_index(model->items, ThreeMfComponent, i);
        double below = count_below(&a, item->object, 0, error);
        if (below < 0)
            return NULL;
        count += below;
    }
    if (count > SOLID_MAX_TRIANGLES) {
        solid_fail_too_many(job, error);
        return NULL;
    }
    g_autoptr(SolidSoup) soup = a.soup = solid_soup_new((guint32)count);
    for (guint i = 0; i < model->items->len; i++) {
        const ThreeMfComponent *item = &g_array_index(model->items, ThreeMfComponent, i);
        if (!add_object(&a, item->object, &item->transform, error))
            return NULL;
    }
    if (solid_soup_count(soup) == 0) {
        solid_fail_empty(job, error);
        return NULL;
    }
    return solid_soup_end(soup);
}
