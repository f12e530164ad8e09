// SPDX-License-Identifier: GPL-3.0-or-later
// Triangles to fine pixels, nearest first by depth. Corners fall on 1/256 of a fine pixel and the
// edge functions are whole numbers, so two triangles of one edge neither leave a gap nor overlap.
#include "sketch/shade-private.h"

#define STEPS 256
#define FARTHEST 4e6 // fine pixels; what is zoomed out of sight this far is left out
#define PARTING_SLACK 1.5

typedef struct {
    gint64 x, y; // 1/256 fine pixel
    double depth;
    double light;
} Corner;

ShadeCamera
shade_camera(const ShadeModel *m, const ShadeView *view)
{
    ShadeCamera c = {.fine = (view->rough ? 1 : 2) * view->pixels, .middle = m->middle};
    double ct = cos(view->turn), st = sin(view->turn), ce = cos(view->tilt), se = sin(view->tilt);
    c.width = view->width * c.fine;
    c.height = view->height * c.fine;
    c.right = vec3(ct, st, 0);
    c.away = vec3(-st * ce, ct * ce, -se);
    c.up = vec3_cross(c.right, c.away);
    c.scale = shade_scale(m, view) * c.fine;
    return c;
}

double
shade_scale(const ShadeModel *m, const ShadeView *view)
{
    double across = fmax(m->round, 1e-9) * 1.22, along = fmax(m->whole, 1e-9) * 1.08;
    return 0.5 * fmin(view->width / across, view->height / along) * view->zoom;
}

ShadePlace
shade_place(const ShadeCamera *c, Vec3 at)
{
    Vec3 d = vec3_sub(at, c->middle);
    return (ShadePlace){0.5 * c->width + vec3_dot(d, c->right) * c->scale,
                        0.5 * c->height - vec3_dot(d, c->up) * c->scale,
                        vec3_dot(d, c->away) * c->scale};
}

// A lamp over the eye's left shoulder, some light from the other side, and some from everywhere. A
// face seen from behind (of a skin that is open or inside out) is darker.
static double
light_of(const ShadeCamera *c, ShadeNormal n)
{
    Vec3 v = vec3(n.x, n.y, n.z);
    double x = vec3_dot(v, c->right), y = vec3_dot(v, c->up), z = -vec3_dot(v, c->away);
    double dim = 1;
    if (z < 0) {
        x = -x, y = -y, z = -z;
        dim = 0.6;
    }
    double lamp = fmax(0, -0.42 * x + 0.55 * y + 0.72 * z);
    double other = fmax(0, 0.8 * x - 0.3 * y + 0.52 * z);
    return dim * fmin(1, 0.28 + 0.58 * lamp + 0.18 * other);
}

static gint64
edge_at(const Corner *a, const Corner *b, gint64 x, gint64 y)
{
    return (b->x - a->x) * (y - a->y) - (b->y - a->y) * (x - a->x);
}

// A fine pixel whose centre lies on an edge belongs to the triangle on one side of it.
static gint64
edge_bias(const Corner *a, const Corner *b)
{
    gint64 dx = b->x - a->x, dy = b->y - a->y;
    return dy < 0 || (dy == 0 && dx > 0) ? 0 : -1;
}

// First fine pixel whose centre is at or after `at`.
static int
first_centre(gint64 at, int most)
{
    gint64 i = at - STEPS / 2;
    i = i >= 0 ? (i + STEPS - 1) / STEPS : 0;
    return (int)MIN(i, most);
}

static void
fill_one(const ShadeCamera *c, Corner v[3], guint32 t, ShadeRaster *r)
{
    gint64 area = edge_at(&v[0], &v[1], v[2].x, v[2].y);
    if (area == 0)
        return;
    if (area < 0) {
        Corner swap = v[1];
        v[1] = v[2];
        v[2] = swap;
        area = -area;
    }
    int x1 = first_centre(MIN(v[0].x, MIN(v[1].x, v[2].x)), c->width);
    int x2 = first_centre(MAX(v[0].x, MAX(v[1].x, v[2].x)) + 1, c->width);
    int y1 = first_centre(MIN(v[0].y, MIN(v[1].y, v[2].y)), c->height);
    int y2 = first_centre(MAX(v[0].y, MAX(v[1].y, v[2].y)) + 1, c->height);
    gint64 bias[3] = {edge_bias(&v[1], &v[2]), edge_bias(&v[2], &v[0]), edge_bias(&v[0], &v[1])};
    for (int y = y1; y < y2; y++) {
        gint64 py = (gint64)y * STEPS + STEPS / 2, px = (gint64)x1 * STEPS + STEPS / 2;
        gint64 e[3] = {edge_at(&v[1], &v[2], px, py), edge_at(&v[2], &v[0], px, py),
                       edge_at(&v[0], &v[1], px, py)};
        gint64 step[3] = {-(v[2].y - v[1].y) * STEPS, -(v[0].y - v[2].y) * STEPS,
                          -(v[1].y - v[0].y) * STEPS};
        gsize at = (gsize)y * (gsize)c->width + (gsize)x1;
        for (int x = x1; x < x2; x++, at++) {
            if (((e[0] + bias[0]) | (e[1] + bias[1]) | (e[2] + bias[2])) >= 0) {
                double a = (double)e[0] / (double)area, b = (double)e[1] / (double)area;
                double d = 1 - a - b;
                float depth = (float)(a * v[0].depth + b * v[1].depth + d * v[2].depth);
                if (depth < r->depth[at]) {
                    r->depth[at] = depth;
                    r->triangle[at] = t;
                    r->light[at] = (guint8)CLAMP(
                        255 * (a * v[0].light + b * v[1].light + d * v[2].light) + 0.5, 0, 255);
                }
            }
            for (int k = 0; k < 3; k++)
                e[k] += step[k];
        }
    }
}

gboolean
shade_fill(const ShadeModel *m, const ShadeCamera *c, ShadeRaster *r, Progress *progress,
           GError **error)
{
    const SolidMesh *mesh = m->mesh;
    g_autofree Corner *at = g_new(Corner, (gsize)mesh->n_vertices + 1);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        ShadePlace p = shade_place(c, mesh->vertices[i]);
        p.x = CLAMP(p.x, -FARTHEST, FARTHEST);
        p.y = CLAMP(p.y, -FARTHEST, FARTHEST);
        at[i] = (Corner){(gint64)floor(p.x * STEPS + 0.5), (gint64)floor(p.y * STEPS + 0.5),
                         p.depth, 0};
    }
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        Corner v[3];
        for (int k = 0; k < 3; k++) {
            v[k] = at[mesh->triangles[t][k]];
            v[k].light = light_of(c, m->corners[3 * (gsize)t + k]);
        }
        fill_one(c, v, t, r);
        if (t % 1024 == 0 && !progress_check(progress, error))
            return FALSE;
    }
    return TRUE;
}

// A line of `thick` fine pixels, where nothing stands nearer to the eye. `on`, `off`: dashes along
// it, fine pixels; off 0 for a full line.
static void
draw_line(const ShadeCamera *c, ShadePlace a, ShadePlace b, double thick, double slack, double on,
          double off, guint8 kind, ShadeRaster *r)
{
    double length = hypot(b.x - a.x, b.y - a.y);
    int n = (int)CLAMP(ceil(length * 2), 1, 40000), reach = (int)ceil(thick / 2);
    for (int i = 0; i <= n; i++) {
        double s = (double)i / n;
        if (off > 0 && fmod(s * length, on + off) > on)
            continue;
        double x = a.x + s * (b.x - a.x), y = a.y + s * (b.y - a.y);
        double depth = a.depth + s * (b.depth - a.depth) - slack;
        if (!(x > -9 && y > -9 && x < c->width + 9 && y < c->height + 9))
            continue;
        for (int py = (int)floor(y) - reach; py <= (int)floor(y) + reach; py++)
            for (int px = (int)floor(x) - reach; px <= (int)floor(x) + reach; px++) {
                if (px < 0 || py < 0 || px >= c->width || py >= c->height ||
                    hypot(px + 0.5 - x, py + 0.5 - y) > thick / 2)
                    continue;
                gsize at = (gsize)py * (gsize)c->width + (gsize)px;
                if (depth < r->depth[at])
                    r->line[at] = kind;
            }
    }
}

// Where the skin crosses height z. A face lying in it is told by its walls.
static void
draw_crossing(const ShadeModel *m, const ShadeCamera *c, double z, ShadeRaster *r)
{
    const SolidMesh *mesh = m->mesh;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        ShadePlace ends[2];
        int n = 0;
        for (int k = 0; k < 3 && n < 2; k++) {
            Vec3 a = mesh->vertices[mesh->triangles[t][k]];
            Vec3 b = mesh->vertices[mesh->triangles[t][(k + 1) % 3]];
            if ((a.z > z) == (b.z > z))
                continue;
            double s = (z - a.z) / (b.z - a.z);
            ends[n++] = shade_place(c, vec3_add(a, vec3_scale(vec3_sub(b, a), s)));
        }
        if (n == 2)
            draw_line(c, ends[0], ends[1], 1.5 * c->fine, PARTING_SLACK * c->fine, 0, 0, 1, r);
    }
}

void
shade_parting(const ShadeModel *m, const ShadeCamera *c, ShadeRaster *r)
{
    double size = vec3_length(vec3_sub(m->high, m->low)), rim = 0.06 * size;
    double x[2] = {m->low.x - rim, m->high.x + rim}, y[2] = {m->low.y - rim, m->high.y + rim};
    for (int k = 0; k < 4; k++) {
        static const int turn[5][2] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}};
        ShadePlace a = shade_place(c, vec3(x[turn[k][0]], y[turn[k][1]], m->parting));
        ShadePlace b = shade_place(c, vec3(x[turn[k + 1][0]], y[turn[k + 1][1]], m->parting));
        draw_line(c, a, b, 0.9 * c->fine, 0, 14 * c->fine, 4 * c->fine, 2, r);
    }
    draw_crossing(m, c, m->parting + 1e-7 * size, r);
    draw_crossing(m, c, m->parting - 1e-7 * size, r);
}

static gboolean
is_marked(const ShadeModel *m, const ShadeRaster *r, gsize at, guint32 area)
{
    return r->triangle[at] != SHADE_NOTHING && m->areas[r->triangle[at]] == area;
}

static void
stamp_dot(const ShadeCamera *c, int x, int y, ShadeRaster *r)
{
    int reach = (3 * c->fine + 1) / 2;
    for (int py = MAX(0, y - reach); py <= MIN(c->height - 1, y + reach); py++)
        for (int px = MAX(0, x - reach); px <= MIN(c->width - 1, x + reach); px++)
            if ((px - x) * (px - x) + (py - y) * (py - y) <= reach * reach)
                r->line[(gsize)py * (gsize)c->width + (gsize)px] = 3;
}

void
shade_mark(const ShadeModel *m, const ShadeCamera *c, guint32 area, ShadeRaster *r)
{
    if (!m->areas)
        return;
    for (int y = 0; y + 1 < c->height; y++)
        for (int x = 0; x + 1 < c->width; x++) {
            gsize at = (gsize)y * (gsize)c->width + (gsize)x;
            gboolean own = is_marked(m, r, at, area);
            if (own != is_marked(m, r, at + 1, area) ||
                own != is_marked(m, r, at + (gsize)c->width, area))
                stamp_dot(c, x, y, r);
        }
}
