// SPDX-License-Identifier: GPL-3.0-or-later
// The tree of boxes: triangles in the order of a space-filling curve, four to a leaf, and above the
// leaves a full binary tree in one array, so that the children of node n are 2n and 2n + 1. For the
// nearest triangle every other level is left out and four boxes in single precision are measured at
// a time; they are a little larger, so that they leave out nothing.
#include "solid/bvh.h"

#include <stdlib.h>

#include "solid/four.h"

#include "solid/triangle.h"

#define LEAF 4
#define NARROW 1e-6 // of the square of a triangle's size: with less area its normal is worth little
#define ROUND 1e-8  // of what is measured: more than the normals of the others err by
#define SLACK 4e-7  // of what lies furthest from the origin: more than floats round by

typedef struct {
    Vec3 low, high;
} Box;

// The four boxes below a box, by axis.
typedef struct {
    float low[3][4], high[3][4];
} Wide;

// Round a triangle, and square to it; (0, 0, 0) where it is too narrow to say.
typedef struct {
    Vec3 middle;
    double radius;
    Vec3 normal;
} Ball;

typedef struct {
    guint64 key;
    guint32 triangle;
} Place;

struct SolidBvh {
    Vec3 (*corners)[3]; // in tree order
    Ball *balls;        // round each triangle
    guint32 *triangle;  // tree order -> mesh
    guint32 *order;     // mesh -> tree order
    guint32 n;
    guint32 leaves; // a power of four
    Box *boxes;     // 1 .. 2 * leaves - 1
    guint32 inner;  // (leaves - 1) / 3
    Wide *wide;     // of node w the boxes of 4w + 1 .. 4w + 4; leaf l is node inner + l
};

static const Box empty_box = {{INFINITY, INFINITY, INFINITY}, {-INFINITY, -INFINITY, -INFINITY}};

// Without the care for NAN of fmax and fmin, which costs a call each.
static inline double
larger(double a, double b)
{
    return a > b ? a : b;
}

static inline double
smaller(double a, double b)
{
    return a < b ? a : b;
}

static void
grow_box(Box *box, Vec3 p)
{
    box->low = vec3(smaller(box->low.x, p.x), smaller(box->low.y, p.y), smaller(box->low.z, p.z));
    box->high = vec3(larger(box->high.x, p.x), larger(box->high.y, p.y), larger(box->high.z, p.z));
}

// Every third bit, for one axis of the curve.
static guint64
spread_bits(guint64 v)
{
    v &= 0x1fffff;
    v = (v | v << 32) & 0x1f00000000ffffull;
    v = (v | v << 16) & 0x1f0000ff0000ffull;
    v = (v | v << 8) & 0x100f00f00f00f00full;
    v = (v | v << 4) & 0x10c30c30c30c30c3ull;
    return (v | v << 2) & 0x1249249249249249ull;
}

static int
compare_places(const void *a, const void *b)
{
    const Place *p = a, *q = b;
    if (p->key != q->key)
        return p->key < q->key ? -1 : 1;
    return p->triangle < q->triangle ? -1 : p->triangle > q->triangle;
}

static guint64
scale_axis(double at, double low, double size)
{
    return size > 0 ? (guint64)CLAMP((at - low) / size * 2097151.0, 0.0, 2097151.0) : 0;
}

static Place *
sort_triangles(const SolidMesh *mesh)
{
    Box box = empty_box;
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        grow_box(&box, mesh->vertices[v]);
    Vec3 size = vec3_sub(box.high, box.low);
    double side = larger(size.x, larger(size.y, size.z));
    Place *places = g_new(Place, (gsize)mesh->n_triangles + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *c = mesh->triangles[t];
        Vec3 m = vec3_add(mesh->vertices[c[0]],
                          vec3_add(mesh->vertices[c[1]], mesh->vertices[c[2]]));
        m = vec3_scale(m, 1.0 / 3);
        places[t].key = spread_bits(scale_axis(m.x, box.low.x, side)) |
                        spread_bits(scale_axis(m.y, box.low.y, side)) << 1 |
                        spread_bits(scale_axis(m.z, box.low.z, side)) << 2;
        places[t].triangle = t;
    }
    if (mesh->n_triangles > 1)
        qsort(places, mesh->n_triangles, sizeof *places, compare_places);
    return places;
}

static Ball
find_ball(const Vec3 v[3])
{
    Ball ball = {.middle = vec3_scale(vec3_add(v[0], vec3_add(v[1], v[2])), 1.0 / 3)};
    for (int c = 0; c < 3; c++)
        ball.radius = larger(ball.radius, vec3_length(vec3_sub(v[c], ball.middle)));
    Vec3 normal = vec3_cross(vec3_sub(v[1], v[0]), vec3_sub(v[2], v[0]));
    double length = vec3_length(normal);
    if (length > NARROW * ball.radius * ball.radius)
        ball.normal = vec3_scale(normal, 1 / length);
    return ball;
}

static void
build_boxes(SolidBvh *bvh)
{
    bvh->leaves = 1;
    while ((guint64)bvh->leaves * LEAF < bvh->n)
        bvh->leaves *= 4;
    bvh->boxes = g_new(Box, (gsize)2 * bvh->leaves);
    for (guint32 leaf = 0; leaf < bvh->leaves; leaf++) {
        Box box = empty_box;
        guint64 first = (guint64)leaf * LEAF, last = MIN(first + LEAF, bvh->n);
        for (guint64 t = first; t < last; t++)
            for (int c = 0; c < 3; c++)
                grow_box(&box, bvh->corners[t][c]);
        bvh->boxes[bvh->leaves + leaf] = box;
    }
    for (guint32 node = bvh->leaves - 1; node >= 1; node--) {
        Box box = bvh->boxes[2 * node];
        grow_box(&box, bvh->boxes[2 * node + 1].low);
        grow_box(&box, bvh->boxes[2 * node + 1].high);
        if (!(bvh->boxes[2 * node + 1].low.x <= bvh->boxes[2 * node + 1].high.x))
            box = bvh->boxes[2 * node];
        bvh->boxes[node] = box;
    }
}

static double
get_axis(Vec3 v, int axis)
{
    return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

static void
build_wide(SolidBvh *bvh)
{
    const Box *all = &bvh->boxes[1];
    double most = 0;
    for (int a = 0; a < 3 && bvh->n > 0; a++)
        most = larger(most, larger(fabs(get_axis(all->low, a)), fabs(get_axis(all->high, a))));
    bvh->inner = (bvh->leaves - 1) / 3;
    bvh->wide = g_new(Wide, (gsize)bvh->inner + 1);
    guint32 w = 0;
    for (guint32 level = 1; level < bvh->leaves; level *= 4)
        for (guint32 node = level; node < 2 * level; node++, w++)
            for (guint32 c = 0; c < 4; c++)
                for (int a = 0; a < 3; a++) {
                    const Box *box = &bvh->boxes[4 * node + c];
                    bvh->wide[w].low[a][c] = (float)(get_axis(box->low, a) - SLACK * most);
                    bvh->wide[w].high[a][c] = (float)(get_axis(box->high, a) + SLACK * most);
                }
}

SolidBvh *
solid_bvh_new(const SolidMesh *mesh)
{
    SolidBvh *bvh = g_new0(SolidBvh, 1);
    g_autofree Place *places = sort_triangles(mesh);
    bvh->n = mesh->n_triangles;
    bvh->corners = g_malloc_n((gsize)bvh->n + 1, sizeof *bvh->corners);
    bvh->balls = g_new(Ball, (gsize)bvh->n + 1);
    bvh->triangle = g_new(guint32, (gsize)bvh->n + 1);
    bvh->order = g_new(guint32, (gsize)bvh->n + 1);
    for (guint32 i = 0; i < bvh->n; i++) {
        guint32 t = places[i].triangle;
        bvh->triangle[i] = t;
        bvh->order[t] = i;
        for (int c = 0; c < 3; c++)
            bvh->corners[i][c] = mesh->vertices[mesh->triangles[t][c]];
        bvh->balls[i] = find_ball(bvh->corners[i]);
    }
    build_boxes(bvh);
    build_wide(bvh);
    return bvh;
}

void
solid_bvh_free(SolidBvh *bvh)
{
    if (!bvh)
        return;
    g_free(bvh->corners);
    g_free(bvh->balls);
    g_free(bvh->triangle);
    g_free(bvh->order);
    g_free(bvh->boxes);
    g_free(bvh->wide);
    g_free(bvh);
}

// Squares of the ways to four boxes, none of them too large.
static inline Four
measure_boxes2(const Four p[3], const Wide *wide)
{
    Four sum = four_all(0);
    for (int a = 0; a < 3; a++) {
        Four way = four_most(four_subtract(four_load(wide->low[a]), p[a]),
                             four_subtract(p[a], four_load(wide->high[a])));
        way = four_most(way, four_all(0));
        sum = four_add(sum, four_multiply(way, way));
    }
    return four_multiply(sum, four_all(1 - 2e-6F));
}

typedef struct {
    double d2;
    double d;   // a little more than its root
    guint32 at; // tree order
    Vec3 foot;
} Best;

static void
try_triangle(const SolidBvh *bvh, Vec3 p, guint32 at, Best *best)
{
    const Ball *ball = &bvh->balls[at];
    Vec3 foot = p, way = vec3_sub(p, ball->middle);
    double reach = best->d + ball->radius;
    if (vec3_dot(way, way) > reach * reach) // too far whatever the foot
        return;
    if (fabs(vec3_dot(way, ball->normal)) > best->d + ROUND * reach) // so is the whole plane
        return;
    double d2 = solid_triangle_distance2(p, bvh->corners[at], &foot);
    if (d2 < best->d2)
        *best = (Best){d2, sqrt(d2) * (1 + 1e-9), at, foot};
}

static void
search_tree(const SolidBvh *bvh, Vec3 at, Best *best)
{
    struct {
        guint32 node;
        float d2;
    } stack[64], keep;
    const Four p[3] = {four_all((float)at.x), four_all((float)at.y), four_all((float)at.z)};
    int top = 0;
    stack[top].node = 0;
    stack[top++].d2 = 0;
    while (top > 0) {
        guint32 node = stack[--top].node;
        if ((double)stack[top].d2 >= best->d2)
            continue;
        if (node >= bvh->inner) {
            guint64 first = (guint64)(node - bvh->inner) * LEAF;
            for (guint64 t = first; t < MIN(first + LEAF, bvh->n); t++)
                try_triangle(bvh, at, (guint32)t, best);
            continue;
        }
        float d2[4];
        int base = top;
        four_store(d2, measure_boxes2(p, &bvh->wide[node]));
        for (guint32 c = 0; c < 4; c++) {
            if ((double)d2[c] >= best->d2)
                continue;
            // The nearest comes to lie on top.
            int to = top++;
            keep.node = 4 * node + 1 + c;
            keep.d2 = d2[c];
            for (; to > base && stack[to - 1].d2 < d2[c]; to--)
                stack[to] = stack[to - 1];
            stack[to] = keep;
        }
    }
}

SolidNearest
solid_bvh_nearest(const SolidBvh *bvh, Vec3 p, guint32 hint)
{
    Best best = {INFINITY, INFINITY, 0, p};
    if (bvh->n == 0)
        return (SolidNearest){INFINITY, SOLID_NO_TRIANGLE, p};
    if (hint < bvh->n)
        try_triangle(bvh, p, bvh->order[hint], &best);
    search_tree(bvh, p, &best);
    return (SolidNearest){sqrt(best.d2), bvh->triangle[best.at], best.foot};
}

// Where the ray enters the box, or INFINITY when it passes by.
static double
enter_box(const Box *box, Vec3 o, Vec3 inverse)
{
    double x1 = (box->low.x - o.x) * inverse.x, x2 = (box->high.x - o.x) * inverse.x;
    double y1 = (box->low.y - o.y) * inverse.y, y2 = (box->high.y - o.y) * inverse.y;
    double z1 = (box->low.z - o.z) * inverse.z, z2 = (box->high.z - o.z) * inverse.z;
    double in = larger(larger(smaller(x1, x2), smaller(y1, y2)), larger(smaller(z1, z2), 0));
    double out = smaller(smaller(larger(x1, x2), larger(y1, y2)), larger(z1, z2));
    return box->low.x <= box->high.x && in <= out * (1 + 1e-12) ? in : INFINITY;
}

// Way along the ray to the triangle, by the three volumes it spans with the edges.
static double
meet_triangle(const Vec3 v[3], Vec3 o, Vec3 way)
{
    Vec3 a = vec3_sub(v[0], o), b = vec3_sub(v[1], o), c = vec3_sub(v[2], o);
    double u = vec3_dot(way, vec3_cross(b, c)), w = vec3_dot(way, vec3_cross(c, a));
    double t = vec3_dot(way, vec3_cross(a, b)), sum = u + w + t;
    if (sum == 0 || (u < 0 || w < 0 || t < 0) == (u > 0 || w > 0 || t > 0))
        return INFINITY;
    return (u * vec3_dot(a, way) + w * vec3_dot(b, way) + t * vec3_dot(c, way)) / sum;
}

SolidNearest
solid_bvh_ray(const SolidBvh *bvh, Vec3 o, Vec3 way, double least)
{
    SolidNearest hit = {INFINITY, SOLID_NO_TRIANGLE, o};
    // A tiny slope instead of none keeps 0/0 out of the boxes.
    Vec3 inverse = vec3(1 / (fabs(way.x) > 1e-12 ? way.x : 1e-12),
                        1 / (fabs(way.y) > 1e-12 ? way.y : 1e-12),
                        1 / (fabs(way.z) > 1e-12 ? way.z : 1e-12));
    guint32 stack[64];
    int top = 0;
    if (bvh->n > 0)
        stack[top++] = 1;
    while (top > 0) {
        guint32 node = stack[--top];
        if (enter_box(&bvh->boxes[node], o, inverse) >= hit.distance)
            continue;
        if (node < bvh->leaves) {
            double a = enter_box(&bvh->boxes[2 * node], o, inverse);
            double b = enter_box(&bvh->boxes[2 * node + 1], o, inverse);
            stack[top++] = a <= b ? 2 * node + 1 : 2 * node;
            stack[top++] = a <= b ? 2 * node : 2 * node + 1;
            continue;
        }
        guint64 first = (guint64)(node - bvh->leaves) * LEAF;
        for (guint64 t = first; t < MIN(first + LEAF, bvh->n); t++) {
            double d = meet_triangle(bvh->corners[t], o, way);
            if (d > least && d < hit.distance)
                hit = (SolidNearest){d, bvh->triangle[t], vec3_add(o, vec3_scale(way, d))};
        }
    }
    return hit;
}
