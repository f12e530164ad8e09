// SPDX-License-Identifier: GPL-3.0-or-later
// Every hole is joined to the outline by a bridge that is walked both ways; then corners ("ears")
// that hold no other point are cut off one by one, the best-shaped of each round first.
#include "board/fill.h"

#include <math.h>

static double
turn_of(SolidPoint a, SolidPoint b, SolidPoint c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static gboolean
same_place(SolidPoint a, SolidPoint b)
{
    return a.x == b.x && a.y == b.y;
}

static gboolean
holds(SolidPoint a, SolidPoint b, SolidPoint c, SolidPoint p)
{
    return turn_of(a, b, p) >= 0 && turn_of(b, c, p) >= 0 && turn_of(c, a, p) >= 0;
}

static guint
at(const GArray *loop, guint i)
{
    return g_array_index(loop, guint, i % loop->len);
}

static guint
rightmost(const SolidPoint *p, const GArray *loop)
{
    guint best = 0;
    for (guint i = 1; i < loop->len; i++)
        if (p[at(loop, i)].x > p[at(loop, best)].x)
            best = i;
    return best;
}

// TRUE if the segment from a to b meets an edge of the loop anywhere but at a place of its ends.
static gboolean
is_crossed(const SolidPoint *p, const GArray *loop, SolidPoint a, SolidPoint b)
{
    for (guint i = 0; i < loop->len; i++) {
        SolidPoint c = p[at(loop, i)], d = p[at(loop, i + 1)];
        if (same_place(c, a) || same_place(d, a) || same_place(c, b) || same_place(d, b))
            continue;
        double s = turn_of(a, b, c), t = turn_of(a, b, d);
        double u = turn_of(c, d, a), v = turn_of(c, d, b);
        if (((s <= 0 && t >= 0) || (s >= 0 && t <= 0)) &&
            ((u <= 0 && v >= 0) || (u >= 0 && v <= 0)))
            return TRUE;
    }
    return FALSE;
}

// Is b within the corner of the loop at index i, so that a bridge from there runs inside?
static gboolean
opens_to(const SolidPoint *p, const GArray *loop, guint i, SolidPoint b)
{
    SolidPoint before = p[at(loop, i + loop->len - 1)], corner = p[at(loop, i)];
    SolidPoint after = p[at(loop, i + 1)];
    gboolean left = turn_of(before, corner, b) > 0, right = turn_of(corner, after, b) > 0;
    return turn_of(before, corner, after) > 0 ? left && right : left || right;
}

// The corner of the ring nearest to the hole's corner that sees it; G_MAXUINT if there is none.
// Holes not joined yet stand in the way too.
static guint
find_bridge(const SolidPoint *p, const GArray *ring, GPtrArray *loops, guint hole, guint from)
{
    const GArray *loop = g_ptr_array_index(loops, hole);
    SolidPoint b = p[at(loop, from)];
    guint best = G_MAXUINT;
    double least = INFINITY;
    for (guint i = 0; i < ring->len; i++) {
        SolidPoint a = p[at(ring, i)];
        double d = hypot(a.x - b.x, a.y - b.y);
        if (d >= least || !opens_to(p, ring, i, b) || is_crossed(p, ring, a, b))
            continue;
        gboolean free = TRUE;
        for (guint h = hole; h < loops->len && free; h++)
            free = !is_crossed(p, g_ptr_array_index(loops, h), a, b);
        if (!free)
            continue;
        least = d;
        best = i;
    }
    return best;
}

static gboolean
join_hole(const SolidPoint *p, GArray *ring, GPtrArray *loops, guint hole)
{
    const GArray *loop = g_ptr_array_index(loops, hole);
    guint from = rightmost(p, loop), to = find_bridge(p, ring, loops, hole, from);
    if (to == G_MAXUINT)
        return FALSE;
    g_autoptr(GArray) way = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; i <= loop->len; i++) {
        guint v = at(loop, from + i);
        g_array_append_val(way, v);
    }
    guint back = at(ring, to);
    g_array_append_val(way, back);
    g_array_insert_vals(ring, to + 1, way->data, way->len);
    return TRUE;
}

// How good a triangle it would make, 0 when it is none or holds another point.
static double
judge_ear(const SolidPoint *p, const GArray *ring, guint i)
{
    SolidPoint a = p[at(ring, i + ring->len - 1)], b = p[at(ring, i)], c = p[at(ring, i + 1)];
    double area = turn_of(a, b, c);
    if (!(area > 0))
        return 0;
    for (guint k = 0; k < ring->len; k++) {
        SolidPoint q = p[at(ring, k)];
        if (!same_place(q, a) && !same_place(q, b) && !same_place(q, c) && holds(a, b, c, q))
            return 0;
    }
    double ab = hypot(b.x - a.x, b.y - a.y), bc = hypot(c.x - b.x, c.y - b.y);
    double ca = hypot(a.x - c.x, a.y - c.y);
    return area / (ab * ab + bc * bc + ca * ca);
}

static gboolean
cut_ears(const SolidPoint *p, GArray *ring, GArray *triangles)
{
    g_autoptr(GArray) worth = g_array_new(FALSE, FALSE, sizeof(double));
    for (guint i = 0; i < ring->len; i++) {
        double w = judge_ear(p, ring, i);
        g_array_append_val(worth, w);
    }
    while (ring->len > 3) {
        guint best = 0;
        for (guint i = 1; i < ring->len; i++)
            if (g_array_index(worth, double, i) > g_array_index(worth, double, best))
                best = i;
        if (!(g_array_index(worth, double, best) > 0))
            return FALSE;
        guint ear[3] = {at(ring, best + ring->len - 1), at(ring, best), at(ring, best + 1)};
        g_array_append_vals(triangles, ear, 3);
        g_array_remove_index(ring, best);
        g_array_remove_index(worth, best);
        // With a point gone, only the ears at its neighbours change, and those it had spoiled.
        for (guint i = 0; i < ring->len; i++)
            if (i == best % ring->len || (i + 1) % ring->len == best % ring->len ||
                g_array_index(worth, double, i) <= 0)
                g_array_index(worth, double, i) = judge_ear(p, ring, i);
    }
    g_array_append_vals(triangles, ring->data, 3);
    return turn_of(p[at(ring, 0)], p[at(ring, 1)], p[at(ring, 2)]) > 0;
}

gboolean
board_fill(const SolidPoint *points, GPtrArray *loops, GArray *triangles)
{
    const GArray *outline = g_ptr_array_index(loops, 0);
    g_autoptr(GArray) ring = g_array_copy((GArray *)outline);
    // From the right, so that a hole's bridge never has to run through one not joined yet.
    for (guint i = 1; i < loops->len; i++)
        for (guint k = loops->len - 1; k > i; k--) {
            const GArray *a = loops->pdata[k - 1], *b = loops->pdata[k];
            if (points[at(a, rightmost(points, a))].x < points[at(b, rightmost(points, b))].x) {
                gpointer swap = loops->pdata[k - 1];
                loops->pdata[k - 1] = loops->pdata[k];
                loops->pdata[k] = swap;
            }
        }
    for (guint i = 1; i < loops->len; i++)
        if (!join_hole(points, ring, loops, i))
            return FALSE;
    return cut_ears(points, ring, triangles);
}
