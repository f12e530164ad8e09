// SPDX-License-Identifier: GPL-3.0-or-later
// Shapes are told apart by a hash of all that is drawn of them, to an eighth of a device unit.
// Those that were in every scene so far, and lie over nothing that changes, are kept painted; the
// kept ones only grow fewer, and so are painted again only a few times at the start of a move.
#include "sketch/paint-live.h"

#include <math.h>
#include <string.h>

struct PaintLive {
    GHashTable *kept; // hashes (guint64) of the shapes in `image`
    cairo_surface_t *image;
    PaintView view;
    const Theme *theme;
    int width, height, scale;
    guint painted;
};

typedef struct {
    guint64 hash;
    SolidPoint min, max;
    gboolean kept;
} LiveShape;

#define FINENESS 8.0 // steps to a device unit: what moves by less has not moved

PaintLive *
paint_live_new(void)
{
    PaintLive *live = g_new0(PaintLive, 1);
    live->kept = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    return live;
}

void
paint_live_free(PaintLive *live)
{
    if (!live)
        return;
    g_hash_table_unref(live->kept);
    g_clear_pointer(&live->image, cairo_surface_destroy);
    g_free(live);
}

guint
paint_live_painted(const PaintLive *live)
{
    return live->painted;
}

// Fowler-Noll-Vo's way of mixing, by words.
static void
mix(guint64 *hash, const void *data, gsize n)
{
    const guint8 *bytes = data;
    for (; n >= 8; n -= 8, bytes += 8) {
        guint64 word;
        memcpy(&word, bytes, 8);
        *hash = (*hash ^ word) * G_GUINT64_CONSTANT(0x100000001b3);
        *hash ^= *hash >> 29;
    }
    for (; n > 0; n--, bytes++)
        *hash = (*hash ^ *bytes) * G_GUINT64_CONSTANT(0x100000001b3);
}

static LiveShape
know_shape(const Shape *s, double fine)
{
    LiveShape k = {.hash = G_GUINT64_CONSTANT(0xcbf29ce484222325),
                   .min = {INFINITY, INFINITY},
                   .max = {-INFINITY, -INFINITY}};
    const int whole[] = {(int)s->kind, (int)s->role,  s->filled, s->stroked, s->order,
                         s->closed,    (int)s->align, s->strong, s->halo,    s->pinned};
    const double real[] = {floor(s->radius * fine + 0.5), s->size, s->turn, s->room_x, s->room_y};
    mix(&k.hash, whole, sizeof whole);
    mix(&k.hash, real, sizeof real);
    for (guint i = 0; i < s->n_points; i++) {
        const gint64 at[] = {(gint64)floor(s->points[i].x * fine + 0.5),
                             (gint64)floor(s->points[i].y * fine + 0.5)};
        mix(&k.hash, at, sizeof at);
    }
    mix(&k.hash, s->starts, (s->n_runs + 1) * sizeof *s->starts);
    if (s->text)
        mix(&k.hash, s->text, strlen(s->text));
    double reach = fabs(s->radius);
    for (guint i = 0; i < s->n_points; i++) {
        k.min = (SolidPoint){fmin(k.min.x, s->points[i].x - reach),
                             fmin(k.min.y, s->points[i].y - reach)};
        k.max = (SolidPoint){fmax(k.max.x, s->points[i].x + reach),
                             fmax(k.max.y, s->points[i].y + reach)};
    }
    return k;
}

static gboolean
meet(const LiveShape *a, const LiveShape *b, double apart)
{
    return a->min.x - apart <= b->max.x && b->min.x - apart <= a->max.x &&
           a->min.y - apart <= b->max.y && b->min.y - apart <= a->max.y;
}

// Which shapes are kept: those kept before, but what lies over a changed one. TRUE if all that were
// kept before still are.
static gboolean
choose_kept(PaintLive *live, LiveShape *shapes, guint n, double apart)
{
    g_autoptr(GHashTable) now = g_hash_table_new(g_int64_hash, g_int64_equal);
    for (guint i = 0; i < n; i++) {
        shapes[i].kept = g_hash_table_contains(live->kept, &shapes[i].hash);
        for (guint k = 0; shapes[i].kept && k < i; k++)
            if (!shapes[k].kept && meet(&shapes[k], &shapes[i], apart))
                shapes[i].kept = FALSE;
        if (shapes[i].kept)
            g_hash_table_add(now, &shapes[i].hash);
    }
    return live->image && g_hash_table_size(now) == g_hash_table_size(live->kept);
}

static cairo_surface_t *
new_image(const PaintLive *live)
{
    return cairo_image_surface_create(CAIRO_FORMAT_ARGB32, live->width * live->scale,
                                      live->height * live->scale);
}

static void
paint_some(const PaintLive *live, const Scene *scene, const LiveShape *shapes, gboolean kept,
           cairo_surface_t *image)
{
    guint n = scene_shape_count(scene);
    g_autofree gboolean *chosen = g_new(gboolean, n + 1);
    for (guint i = 0; i < n; i++)
        chosen[i] = shapes[i].kept == kept;
    cairo_t *cr = cairo_create(image);
    cairo_scale(cr, live->scale, live->scale);
    paint_scene_some(scene, &live->view, live->theme, 1, chosen, cr);
    cairo_destroy(cr);
}

static void
keep_anew(PaintLive *live, const Scene *scene, const LiveShape *shapes)
{
    g_hash_table_remove_all(live->kept);
    for (guint i = 0; i < scene_shape_count(scene); i++)
        if (shapes[i].kept)
            g_hash_table_add(live->kept, g_memdup2(&shapes[i].hash, sizeof shapes[i].hash));
    g_clear_pointer(&live->image, cairo_surface_destroy);
    live->image = new_image(live);
    paint_some(live, scene, shapes, TRUE, live->image);
}

cairo_surface_t *
paint_live_image(PaintLive *live, const Scene *scene, const PaintView *view, const Theme *theme,
                 int width, int height, int scale)
{
    g_return_val_if_fail(live != NULL && scene != NULL && width > 0 && height > 0, NULL);
    guint n = scene_shape_count(scene);
    g_autofree LiveShape *shapes = g_new(LiveShape, n + 1);
    for (guint i = 0; i < n; i++)
        shapes[i] = know_shape(scene_shape(scene, i), FINENESS * view->scale_x);
    gboolean same = live->image && live->theme == theme && live->width == width &&
                    live->height == height && live->scale == scale &&
                    memcmp(&live->view, view, sizeof *view) == 0;
    live->view = *view;
    live->theme = theme;
    live->width = width;
    live->height = height;
    live->scale = scale;
    if (!same) {
        g_clear_pointer(&live->image, cairo_surface_destroy);
        g_hash_table_remove_all(live->kept);
        for (guint i = 0; i < n; i++)
            g_hash_table_add(live->kept, g_memdup2(&shapes[i].hash, sizeof shapes[i].hash));
    }
    // Lines are wider than nothing: a few units round a shape are its own.
    if (!choose_kept(live, shapes, n, 3 / view->scale_x))
        keep_anew(live, scene, shapes);
    live->painted = n;
    for (guint i = 0; i < n; i++)
        live->painted -= (guint)shapes[i].kept;
    cairo_surface_t *image = new_image(live);
    cairo_t *cr = cairo_create(image);
    cairo_set_operator(cr, CAIRO_OPERATOR_SOURCE);
    cairo_set_source_surface(cr, live->image, 0, 0);
    cairo_paint(cr);
    cairo_destroy(cr);
    paint_some(live, scene, shapes, FALSE, image);
    return image;
}
