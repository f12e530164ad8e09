// SPDX-License-Identifier: GPL-3.0-or-later
// Reach and pitch of a turned casting.
#include "mould/stance.h"

#include <math.h>

#include "mould/beside.h"
#include "mould/place.h"
#include "solid/outline.h"

#define COARSE 5e-5 // m, of the outline a pitch is found with; added to the sand
#define FINE 1e-5   // m
#define DISC_SIDES 24
#define FAR_OFF 10.0 // m, length of the strip kept clear for a gate

SolidOutline *
mould_stance_turned(const SolidOutline *outline, double turn)
{
    GArray *points = g_array_sized_new(FALSE, FALSE, sizeof(SolidPoint), outline->n_points);
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    double c = cos(turn), s = sin(turn);
    for (guint i = 0; i < outline->n_points; i++) {
        SolidPoint p = outline->points[i];
        SolidPoint q = {c * p.x - s * p.y, s * p.x + c * p.y};
        g_array_append_val(points, q);
    }
    g_array_append_vals(starts, outline->starts, outline->n_loops);
    return solid_outline_take(points, starts);
}

SolidOutline *
mould_stance_scaled(const SolidOutline *outline, double scale)
{
    SolidOutline *grown = solid_outline_simplified(outline, FINE);
    for (guint i = 0; i < grown->n_points; i++) {
        grown->points[i].x *= scale;
        grown->points[i].y *= scale;
    }
    return grown;
}

double
mould_stance_least_at(SolidPoint a, SolidPoint b, double v, double c)
{
    double least = INFINITY;
    if (v < fmin(a.y, b.y) - c || v > fmax(a.y, b.y) + c)
        return least;
    const SolidPoint ends[2] = {a, b};
    for (int i = 0; i < 2; i++) {
        double d = v - ends[i].y;
        if (fabs(d) <= c)
            least = fmin(least, ends[i].x - sqrt(c * c - d * d));
    }
    double du = b.x - a.x, dv = b.y - a.y, length = sqrt(du * du + dv * dv);
    for (int side = -1; side <= 1 && length > 0; side += 2) {
        double y = a.y + side * c * du / length, x = a.x - side * c * dv / length;
        double t = dv != 0 ? (v - y) / dv : -1;
        if (t >= 0 && t <= 1)
            least = fmin(least, x + t * du);
    }
    return least;
}

static void
get_side(const SolidOutline *o, guint loop, guint i, SolidPoint *a, SolidPoint *b)
{
    guint next = i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop];
    *a = o->points[i];
    *b = o->points[next];
}

// As mould_stance_shift(), of the corners of `a` and the sides of `b` alone, or, with `way` -1, of
// the corners of `b` seen in the mirror; at least `shift`.
static double
shift_corners(const SolidOutline *a, const SolidOutline *b, double cover, int way, double shift)
{
    SolidPoint p, q;
    for (guint loop = 0; loop < b->n_loops; loop++)
        for (guint i = b->starts[loop]; i < b->starts[loop + 1]; i++) {
            get_side(b, loop, i, &p, &q);
            p.x *= way;
            q.x *= way;
            double nearest = fmin(p.x, q.x) - cover;
            for (guint k = 0; k < a->n_points; k++) {
                double x = way * a->points[k].x;
                if (x - nearest > shift) // most are not, and quickly told
                    shift = fmax(shift, x - mould_stance_least_at(p, q, a->points[k].y, cover));
            }
        }
    return shift;
}

double
mould_stance_shift(const SolidOutline *a, const SolidOutline *b, double cover)
{
    return shift_corners(b, a, cover, -1, shift_corners(a, b, cover, 1, 0));
}

static void
find_reach(const SolidOutline *o, MouldStance *stance)
{
    stance->left = stance->right = stance->front = stance->back = -INFINITY;
    for (guint i = 0; i < o->n_points; i++) {
        stance->left = fmax(stance->left, -o->points[i].x);
        stance->right = fmax(stance->right, o->points[i].x);
        stance->front = fmax(stance->front, -o->points[i].y);
        stance->back = fmax(stance->back, o->points[i].y);
    }
}

static void
add_disc(GArray *points, GArray *starts, double u, double v, double r)
{
    double round = r / cos(G_PI / DISC_SIDES);
    g_array_append_val(starts, points->len);
    for (int i = 0; i < DISC_SIDES; i++) {
        double way = 2 * G_PI * i / DISC_SIDES;
        SolidPoint p = {u + round * cos(way), v + round * sin(way)};
        g_array_append_val(points, p);
    }
}

// Only outer loops matter to a neighbour. With the riser as a polygon around it, and the gate as a
// line down to the runner.
static SolidOutline *
whole_cavity(const SolidOutline *shadow, const MouldStance *stance, const MouldRow *row)
{
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint loop = 0; loop < shadow->n_loops; loop++) {
        guint n = shadow->starts[loop + 1] - shadow->starts[loop];
        g_array_append_val(starts, points->len);
        g_array_append_vals(points, shadow->points + shadow->starts[loop], n);
    }
    double r = row->riser_diameter / 2, top = stance->attach_v;
    if (r > 0)
        add_disc(points, starts, stance->attach_u, -stance->front - row->neck_gap - r, r);
    if (stance->riser_r > 0)
        add_disc(points, starts, stance->riser_u, stance->riser_v, stance->riser_r);
    SolidPoint gate[2] = {{stance->attach_u, top}, {stance->attach_u, top - FAR_OFF}};
    g_array_append_val(starts, points->len);
    g_array_append_vals(points, gate, 2);
    return solid_outline_take(points, starts);
}

double
mould_stance_sand(const MouldRow *row)
{
    return row->cover + 2 * COARSE;
}

SolidOutline *
mould_stance_whole(const SolidOutline *shadow, const MouldStance *stance, const MouldRow *row)
{
    g_autoptr(SolidOutline) turned = mould_stance_turned(shadow, stance->turn);
    g_autoptr(SolidOutline) simple = solid_outline_simplified(turned, COARSE);
    SolidOutline *whole = whole_cavity(simple, stance, row);
    for (guint i = 0; i < whole->n_points; i++)
        whole->points[i].y += stance->front;
    return whole;
}

MouldStance
mould_stance_reach(const SolidOutline *shadow, const SolidOutline *skin, double turn,
                   const MouldBeside *beside)
{
    MouldStance stance = {.turn = turn};
    g_autoptr(SolidOutline) turned = mould_stance_turned(shadow, turn);
    g_autoptr(SolidOutline) turned_skin = mould_stance_turned(skin, turn);
    find_reach(turned, &stance);
    stance.bare = stance.front;
    stance.attach_v = -stance.front;
    mould_place_attach(turned_skin, 1, 0, &stance.attach_u, &stance.attach_v);
    stance.attach_v = fmax(stance.attach_v, -stance.front);
    if (beside && beside->radius > 0)
        mould_beside_stand(beside, turned, turned_skin, &stance);
    return stance;
}

MouldStance
mould_stance(const SolidOutline *shadow, const SolidOutline *skin, double turn, const MouldRow *row)
{
    MouldStance stance = mould_stance_reach(shadow, skin, turn, row->beside);
    g_autoptr(SolidOutline) whole = mould_stance_whole(shadow, &stance, row);
    stance.pitch = mould_stance_shift(whole, whole, mould_stance_sand(row));
    return stance;
}
