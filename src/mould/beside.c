// SPDX-License-Identifier: GPL-3.0-or-later
// A riser beside the casting, found among the places where its rim just leaves the neck's length
// free: square to every side, at its ends, in steps along it, and round its corners.
#include "mould/beside.h"

#include <math.h>

#include "mould/place.h"
#include "solid/outline.h"

#define STEP 0.25  // of the radius, along a side
#define STEPS 64   // of one side, at most
#define ROUND 12   // directions round a corner
#define EQUAL 0.1  // of the radius
#define SLACK 1e-6 // m
#define DISC_SIDES 48

typedef struct {
    const SolidOutline *skin, *shadow;
    SolidPoint place;
    double radius, gap;
    double best; // m, the less the better; distance, more when away from -y
    gboolean found;
    MouldBeside *beside;
} Finder;

static double
side_distance(SolidPoint p, SolidPoint a, SolidPoint b)
{
    double dx = b.x - a.x, dy = b.y - a.y, length = dx * dx + dy * dy;
    double t = length > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0, 1) : 0;
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static void
get_side(const SolidOutline *o, guint loop, guint i, SolidPoint *a, SolidPoint *b)
{
    *a = o->points[i];
    *b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
}

// Is a disc of radius `free` at `p` clear of all metal?
static gboolean
is_clear(const SolidOutline *o, SolidPoint p, double free)
{
    gboolean inside = FALSE;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a, b;
            get_side(o, loop, i, &a, &b);
            if ((a.y <= p.y) != (b.y <= p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
                inside = !inside;
            if (side_distance(p, a, b) < free)
                return FALSE;
        }
    return !inside;
}

static gboolean
is_outer(const SolidOutline *o, guint loop)
{
    double area = 0;
    for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
        SolidPoint a, b;
        get_side(o, loop, i, &a, &b);
        area += a.x * b.y - b.x * a.y;
    }
    return area > 0;
}

// A riser off the point `foot` in the unit direction (nx, ny).
static void
try_place(Finder *f, SolidPoint foot, double nx, double ny)
{
    double off = f->radius + f->gap;
    SolidPoint at = {foot.x + off * nx, foot.y + off * ny};
    double cost = hypot(at.x - f->place.x, at.y - f->place.y) + EQUAL * f->radius * (1 + ny) / 2;
    if (!(cost < f->best))
        return;
    if (!is_clear(f->skin, at, off - SLACK) || !is_clear(f->shadow, at, off - SLACK))
        return;
    f->best = cost;
    f->found = TRUE;
    *f->beside = (MouldBeside){at, foot, f->radius};
}

static void
try_side(Finder *f, SolidPoint a, SolidPoint b)
{
    double dx = b.x - a.x, dy = b.y - a.y, length = hypot(dx, dy);
    if (!(length > 0))
        return;
    dx /= length;
    dy /= length;
    // Metal lies to the left.
    double along = (f->place.x - a.x) * dx + (f->place.y - a.y) * dy;
    along = CLAMP(along, 0, length);
    try_place(f, (SolidPoint){a.x + along * dx, a.y + along * dy}, dy, -dx);
    int steps = (int)CLAMP(ceil(length / (STEP * f->radius)), 1, STEPS);
    for (int i = 0; i <= steps; i++) {
        double s = length * i / steps;
        try_place(f, (SolidPoint){a.x + s * dx, a.y + s * dy}, dy, -dx);
    }
}

// Round the corner at b, where the outline turns to the left.
static void
try_corner(Finder *f, SolidPoint a, SolidPoint b, SolidPoint c)
{
    double from = atan2(b.y - a.y, b.x - a.x) - G_PI / 2;
    double to = atan2(c.y - b.y, c.x - b.x) - G_PI / 2;
    double turn = remainder(to - from, 2 * G_PI);
    if (turn <= 0)
        return;
    for (int i = 1; i < ROUND; i++)
        try_place(f, b, cos(from + turn * i / ROUND), sin(from + turn * i / ROUND));
    double straight = remainder(atan2(f->place.y - b.y, f->place.x - b.x) - from, 2 * G_PI);
    if (straight > 0 && straight < turn)
        try_place(f, b, cos(from + straight), sin(from + straight));
}

gboolean
mould_beside_find(const SolidOutline *skin, const SolidOutline *shadow, SolidPoint place,
                  double radius, double gap, MouldBeside *beside)
{
    g_return_val_if_fail(skin != NULL && shadow != NULL && beside != NULL, FALSE);
    if (!(radius > 0) || !(gap >= 0) || !isfinite(radius + gap + place.x + place.y))
        return FALSE;
    MouldBeside found = {0};
    Finder f = {skin, shadow, place, radius, gap, INFINITY, FALSE, &found};
    for (guint loop = 0; loop < skin->n_loops; loop++) {
        guint from = skin->starts[loop], n = skin->starts[loop + 1] - from;
        if (!is_outer(skin, loop))
            continue;
        for (guint i = 0; i < n; i++) {
            const SolidPoint *p = skin->points + from;
            try_side(&f, p[i], p[(i + 1) % n]);
            try_corner(&f, p[i], p[(i + 1) % n], p[(i + 2) % n]);
        }
    }
    if (f.found)
        *beside = found;
    return f.found;
}

SolidOutline *
mould_beside_outline(const SolidOutline *shadow, const MouldBeside *beside, gboolean within)
{
    g_return_val_if_fail(shadow != NULL && beside != NULL, NULL);
    double r = beside->radius / (within ? 1 : cos(G_PI / DISC_SIDES));
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    g_array_append_vals(points, shadow->points, shadow->n_points);
    g_array_append_vals(starts, shadow->starts, shadow->n_loops);
    if (r > 0)
        g_array_append_val(starts, points->len);
    for (int i = 0; i < DISC_SIDES && r > 0; i++) {
        double way = 2 * G_PI * i / DISC_SIDES;
        SolidPoint p = {beside->at.x + r * cos(way), beside->at.y + r * sin(way)};
        g_array_append_val(points, p);
    }
    return solid_outline_take(points, starts);
}

// Does the strip of half width `half` about u, below v, hold any of the outline?
static gboolean
is_barred(const SolidOutline *o, double u, double half, double v)
{
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a, b;
            get_side(o, loop, i, &a, &b);
            if (fmin(a.y, b.y) >= v || fmax(a.x, b.x) <= u - half || fmin(a.x, b.x) >= u + half)
                continue;
            // The lowest of what lies in the strip.
            double low = INFINITY, s[2] = {u - half, u + half};
            for (int k = 0; k < 2; k++) {
                if ((a.x < s[k]) != (b.x < s[k]))
                    low = fmin(low, a.y + (b.y - a.y) * (s[k] - a.x) / (b.x - a.x));
            }
            if (fabs(a.x - u) < half)
                low = fmin(low, a.y);
            if (fabs(b.x - u) < half)
                low = fmin(low, b.y);
            if (low < v)
                return TRUE;
        }
    return FALSE;
}

// The foremost point of the casting whose line to the runner leaves the riser aside.
static void
pass_riser(const SolidOutline *skin, MouldStance *s, double aside)
{
    double least = INFINITY;
    for (guint i = 0; i < skin->n_points; i++) {
        SolidPoint p = skin->points[i];
        if (fabs(p.x - s->riser_u) < aside || p.y >= least)
            continue;
        least = p.y;
        s->attach_u = p.x;
        s->attach_v = p.y;
    }
}

void
mould_beside_stand(const MouldBeside *beside, const SolidOutline *shadow, const SolidOutline *skin,
                   MouldStance *s)
{
    g_return_if_fail(beside != NULL && shadow != NULL && skin != NULL && s != NULL);
    double c = cos(s->turn), sn = sin(s->turn), r = beside->radius;
    s->riser_u = c * beside->at.x - sn * beside->at.y;
    s->riser_v = sn * beside->at.x + c * beside->at.y;
    s->riser_r = r;
    s->left = fmax(s->left, r - s->riser_u);
    s->right = fmax(s->right, r + s->riser_u);
    s->front = fmax(s->front, r - s->riser_v);
    s->back = fmax(s->back, r + s->riser_v);
    s->hot = !is_barred(shadow, s->riser_u, MOULD_GATE_SIDE * r, s->riser_v);
    double joint_u = c * beside->joint.x - sn * beside->joint.y;
    double gap = hypot(joint_u - s->riser_u,
                       sn * beside->joint.x + c * beside->joint.y - s->riser_v) -
                 r;
    if (s->hot) {
        s->attach_u = s->riser_u;
        s->attach_v = s->riser_v - r;
    } else if (s->riser_v < s->attach_v && fabs(s->attach_u - s->riser_u) < r + gap) {
        pass_riser(skin, s, r + gap);
    }
}
