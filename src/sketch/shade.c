// SPDX-License-Identifier: GPL-3.0-or-later
// The finished picture: every fine pixel takes the colour of its class, its light, its hatching and
// the lines that cross it; four of them make one pixel, which smooths all of these at once.
#include "sketch/shade.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "sketch/shade-private.h"

#define MOST_PIXELS 16e6
#define FADE 0.62 // of what is not marked

// Paint of a class: the face in full light, and the hatching on it.
typedef struct {
    guint32 face[SHADE_CLASSES], hatch[SHADE_CLASSES], edge; // 0xrrggbb
    guint32 ground;                                          // what is not marked fades into it
    double least;                                            // light that is left in the dark
} Palette;

static const Palette palettes[] = {
    [THEME_LIGHT] = {{0xd4d8dc, 0xccdce9, 0xf7d48a, 0xf2a9a2},
                     {0, 0, 0x6b4700, 0x7d0d16},
                     0x2b3640,
                     0xffffff,
                     0.42},
    [THEME_DARK] = {{0x9aa3ab, 0x8aa8c0, 0xcf9d3f, 0xd0736e},
                    {0, 0, 0x2c1d00, 0x3a0508},
                    0x0d1013,
                    0x2d2d2d,
                    0.3},
    [THEME_PAPER] = {{0xf0f0f0, 0xf4f6f8, 0xfbe9c4, 0xf8d0cc},
                     {0, 0, 0x4a3200, 0x5c0a10},
                     0x101820,
                     0xffffff,
                     0.55},
};

typedef struct {
    double r, g, b;
} Paint;

static Paint
unpack(guint32 rgb)
{
    return (Paint){(rgb >> 16 & 255) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0};
}

static Paint
mix(Paint a, Paint b, double share)
{
    return (Paint){a.r + (b.r - a.r) * share, a.g + (b.g - a.g) * share, a.b + (b.b - a.b) * share};
}

// Lines one way for too little draft, both ways and closer for hidden: read without colour.
static gboolean
is_hatched(ShadeClass class, int x, int y, int fine)
{
    if (class == SHADE_LOW)
        return (x + y) % (8 * fine) < fine + fine / 2;
    if (class == SHADE_HIDDEN) {
        int gap = 7 * fine, down = (y - x) % gap;
        return (x + y) % gap < fine + fine / 2 || (down < 0 ? down + gap : down) < fine + fine / 2;
    }
    return FALSE;
}

static Paint
paint_face(const Palette *p, ShadeClass class, double light, int x, int y, int fine)
{
    double bright = p->least + (1 - p->least) * light;
    Paint face = mix((Paint){0, 0, 0}, unpack(p->face[class]), bright);
    return is_hatched(class, x, y, fine) ? mix(face, unpack(p->hatch[class]), 0.8) : face;
}

// Does a sharp edge or a step in depth lie between two neighbouring fine pixels?
static gboolean
is_edge(const ShadeModel *m, const ShadeCamera *c, const ShadeRaster *r, gsize a, gsize b)
{
    guint32 s = r->triangle[a], t = r->triangle[b];
    if (s == t)
        return FALSE;
    if (s == SHADE_NOTHING || t == SHADE_NOTHING)
        return TRUE;
    ShadeNormal n = m->facets[s], o = m->facets[t];
    if (n.x * o.x + n.y * o.y + n.z * o.z < 0.766f)
        return TRUE;
    // A face runs away from the eye by its slope; what jumps by more is another one behind.
    double facing = fabs(n.x * c->away.x + n.y * c->away.y + n.z * c->away.z);
    double other = fabs(o.x * c->away.x + o.y * c->away.y + o.z * c->away.z);
    double least = fmax(fmin(facing, other), 0.05);
    return fabsf(r->depth[a] - r->depth[b]) > 3 / least + 1;
}

typedef struct {
    const ShadeModel *model;
    const ShadeCamera *camera;
    const ShadeRaster *raster;
    const Palette *palette;
    Paint parting, mark, ground;
    guint32 marked; // 1 + number of the area that stands out, or 0
} Finish;

// Colour of a fine pixel; FALSE where nothing is.
static gboolean
paint_fine(const Finish *f, int x, int y, Paint *paint)
{
    const ShadeCamera *c = f->camera;
    gsize at = (gsize)y * (gsize)c->width + (gsize)x;
    guint32 t = f->raster->triangle[at];
    if (f->raster->line[at]) {
        *paint = f->raster->line[at] == 3 ? f->mark : f->parting;
        return TRUE;
    }
    if (t == SHADE_NOTHING)
        return FALSE;
    *paint = paint_face(f->palette, f->model->classes[t], f->raster->light[at] / 255.0, x, y,
                        c->fine);
    gboolean edge = (x + 1 < c->width && is_edge(f->model, c, f->raster, at, at + 1)) ||
                    (y + 1 < c->height &&
                     is_edge(f->model, c, f->raster, at, at + (gsize)c->width)) ||
                    (x > 0 && is_edge(f->model, c, f->raster, at, at - 1)) ||
                    (y > 0 && is_edge(f->model, c, f->raster, at, at - (gsize)c->width));
    if (edge)
        *paint = mix(*paint, unpack(f->palette->edge), 0.75);
    if (f->marked && (!f->model->areas || f->model->areas[t] + 1 != f->marked))
        *paint = mix(*paint, f->ground, FADE);
    return TRUE;
}

static guint32
pack(Paint sum, int covered)
{
    guint alpha = (guint)(covered * 255 + 2) / 4;
    guint32 r = (guint32)(sum.r * 255 / 4 + 0.5), g = (guint32)(sum.g * 255 / 4 + 0.5);
    guint32 b = (guint32)(sum.b * 255 / 4 + 0.5);
    return alpha << 24 | MIN(r, alpha) << 16 | MIN(g, alpha) << 8 | MIN(b, alpha);
}

static void
finish_row(const Finish *f, int y, guint32 *row)
{
    for (int x = 0; x < f->camera->width / 2; x++) {
        Paint sum = {0, 0, 0}, one;
        int covered = 0;
        for (int k = 0; k < 4; k++)
            if (paint_fine(f, 2 * x + (k & 1), 2 * y + (k >> 1), &one)) {
                sum = (Paint){sum.r + one.r, sum.g + one.g, sum.b + one.b};
                covered++;
            }
        row[x] = covered ? pack(sum, covered) : 0;
    }
}

// Seen along itself the arrow is its point or its tail in a circle, as on drawings of wiring and
// forces.
static void
draw_arrow(const ShadeModel *m, const ShadeCamera *c, const Theme *theme, cairo_surface_t *surface)
{
    Vec3 foot, tip;
    shade_arrow(m, &foot, &tip);
    ShadePlace a = shade_place(c, foot), b = shade_place(c, tip);
    double pixels = c->fine / 2.0, dx = (b.x - a.x) / c->fine, dy = (b.y - a.y) / c->fine;
    double length = hypot(dx, dy);
    cairo_t *cr = cairo_create(surface);
    cairo_scale(cr, pixels, pixels);
    cairo_set_source_rgba(cr, theme->accent[0], theme->accent[1], theme->accent[2], 1);
    cairo_set_line_width(cr, 3);
    cairo_translate(cr, a.x / c->fine, a.y / c->fine);
    if (length < 9) {
        cairo_arc(cr, 0, 0, 9, 0, 2 * G_PI);
        cairo_set_line_width(cr, 2);
        cairo_stroke(cr);
        if (b.depth < a.depth)
            cairo_arc(cr, 0, 0, 3.5, 0, 2 * G_PI);
        cairo_fill(cr);
        if (b.depth >= a.depth) {
            cairo_move_to(cr, -6, -6), cairo_line_to(cr, 6, 6);
            cairo_move_to(cr, 6, -6), cairo_line_to(cr, -6, 6);
            cairo_stroke(cr);
        }
    } else {
        double head = fmin(13, 0.6 * length);
        cairo_rotate(cr, atan2(dy, dx));
        cairo_move_to(cr, 0, 0);
        cairo_line_to(cr, length - head, 0);
        cairo_stroke(cr);
        cairo_move_to(cr, length, 0);
        cairo_line_to(cr, length - head, 0.5 * head);
        cairo_line_to(cr, length - head, -0.5 * head);
        cairo_fill(cr);
    }
    cairo_destroy(cr);
}

static gboolean
finish(const ShadeModel *m, const ShadeCamera *c, const ShadeRaster *r, const ShadeView *view,
       cairo_surface_t *surface, Progress *progress, GError **error)
{
    const Theme *theme = theme_get(view->theme);
    const double *ink = theme->role[ROLE_PARTING].ink;
    const double *mark = theme->accent;
    Finish f = {.model = m,
                .camera = c,
                .raster = r,
                .palette = &palettes[view->theme],
                .parting = {ink[0], ink[1], ink[2]},
                .mark = {mark[0], mark[1], mark[2]},
                .ground = unpack(palettes[view->theme].ground),
                .marked = view->marked};
    cairo_surface_flush(surface);
    unsigned char *data = cairo_image_surface_get_data(surface);
    gsize stride = (gsize)cairo_image_surface_get_stride(surface);
#pragma omp parallel for schedule(dynamic, 16)
    for (int y = 0; y < c->height / 2; y++)
        if (!progress_stopped(progress))
            finish_row(&f, y, (guint32 *)(void *)(data + stride * (gsize)y));
    if (!progress_check(progress, error))
        return FALSE;
    cairo_surface_mark_dirty(surface);
    if (!isnan(m->parting))
        draw_arrow(m, c, theme, surface);
    cairo_surface_flush(surface);
    return TRUE;
}

cairo_surface_t *
shade_render(const ShadeModel *m, const ShadeView *view, Progress *progress, GError **error)
{
    g_return_val_if_fail(view->width > 0 && view->height > 0 && view->pixels > 0, NULL);
    g_return_val_if_fail(view->theme <= THEME_PAPER, NULL);
    double pixels = (double)view->width * view->height * view->pixels * view->pixels;
    if (pixels > MOST_PIXELS) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, _("the picture is too large"),
                       _("make the window smaller"));
        return NULL;
    }
    if (view->rough && m->coarse)
        m = m->coarse;
    ShadeCamera c = shade_camera(m, view);
    gsize n = (gsize)c.width * (gsize)c.height;
    g_autofree float *depth = g_new(float, n);
    g_autofree guint32 *triangle = g_new(guint32, n);
    g_autofree guint8 *light = g_new0(guint8, n), *line = g_new0(guint8, n);
    for (gsize i = 0; i < n; i++) {
        depth[i] = INFINITY;
        triangle[i] = SHADE_NOTHING;
    }
    ShadeRaster r = {depth, triangle, light, line};
    if (!shade_fill(m, &c, &r, progress, error))
        return NULL;
    if (!isnan(m->parting))
        shade_parting(m, &c, &r);
    if (view->marked)
        shade_mark(m, &c, view->marked - 1, &r);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, MAX(c.width / 2, 1),
                                                          MAX(c.height / 2, 1));
    if (finish(m, &c, &r, view, surface, progress, error))
        return surface;
    cairo_surface_destroy(surface);
    return NULL;
}

cairo_surface_t *
shade_sample(ShadeClass class, ThemeKind theme, int width, int height, int pixels)
{
    g_return_val_if_fail(class < SHADE_CLASSES && theme <= THEME_PAPER, NULL);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width * pixels,
                                                          height * pixels);
    cairo_surface_flush(surface);
    unsigned char *data = cairo_image_surface_get_data(surface);
    gsize stride = (gsize)cairo_image_surface_get_stride(surface);
    int fine = 2 * pixels, w = width * pixels, h = height * pixels;
    for (int y = 0; y < h; y++)
        for (int x = 0; x < w; x++) {
            Paint sum = {0, 0, 0};
            for (int k = 0; k < 4; k++) {
                Paint one = paint_face(&palettes[theme], class, 0.9, 2 * x + (k & 1),
                                       2 * y + (k >> 1), fine);
                sum = (Paint){sum.r + one.r, sum.g + one.g, sum.b + one.b};
            }
            if (x < pixels || y < pixels || x >= w - pixels || y >= h - pixels) {
                Paint edge = unpack(palettes[theme].edge);
                sum = (Paint){4 * edge.r, 4 * edge.g, 4 * edge.b};
            }
            ((guint32 *)(void *)(data + stride * (gsize)y))[x] = pack(sum, 4);
        }
    cairo_surface_mark_dirty(surface);
    return surface;
}
