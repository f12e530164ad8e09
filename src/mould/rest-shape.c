// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines of castings with their risers, seen from a runner.
#include "mould/rest-shape.h"

#include <math.h>

#include "solid/outline.h"

#define DISC_SIDES 24 // of a riser
#define MARGIN 6e-5   // m

double
rest_shape_margin(const MouldFixed *fixed)
{
    return MARGIN + fixed->out;
}

double
rest_shape_riser(const MouldWish *wish)
{
    return wish->riser_diameter > 0 ? wish->riser_diameter + 0.5 * wish->neck : 0;
}

// A polygon about a riser.
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

SolidOutline *
rest_shape_outline(const MouldFixed *fixed, const MouldStance *s, double u, double v,
                   double gate_to)
{
    const MouldWish *wish = &fixed->wish;
    g_autoptr(SolidOutline) turned = mould_stance_turned(fixed->shadow, s->turn);
    g_autoptr(SolidOutline) simple = solid_outline_simplified(turned, REST_SIMPLER);
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint loop = 0; loop < simple->n_loops; loop++) {
        guint n = simple->starts[loop + 1] - simple->starts[loop];
        g_array_append_val(starts, points->len);
        g_array_append_vals(points, simple->points + simple->starts[loop], n);
    }
    double r = wish->riser_diameter / 2;
    if (r > 0)
        add_disc(points, starts, s->attach_u, -s->front - 0.5 * wish->neck - r, r);
    if (s->riser_r > 0)
        add_disc(points, starts, s->riser_u, s->riser_v, s->riser_r);
    if (!isnan(gate_to)) {
        SolidPoint ends[2] = {{s->attach_u, s->attach_v}, {s->attach_u, gate_to - v}};
        g_array_append_val(starts, points->len);
        g_array_append_vals(points, ends, 2);
    }
    for (guint i = 0; i < points->len; i++) {
        g_array_index(points, SolidPoint, i).x += u;
        g_array_index(points, SolidPoint, i).y += v;
    }
    return solid_outline_take(points, starts);
}

RestSeen
rest_shape_seen(const MouldFixed *fixed, const PlacementSpot *p, RestSide s)
{
    RestSeen seen = {.u = s.side * (s.axis ? p->y : p->x),
                     .v = s.side * ((s.axis ? -p->x : p->y) - s.v)};
    double turn = p->turn - s.axis * G_PI / 2 + (s.side < 0 ? G_PI : 0);
    MouldBeside beside = mould_place_beside(&fixed->wish);
    // On the other side it is fed the other way round.
    if (seen.v <= 0)
        turn += G_PI;
    seen.stance = mould_stance_reach(fixed->shadow, fixed->skin, turn, &beside);
    return seen;
}

PlacementSpot
rest_shape_spot(RestSide s, const MouldStance *stance, double u, double away, gboolean guest)
{
    MouldWay way = {.axis = s.axis};
    SolidPoint at = mould_place_point(&way, s.side * u, s.v + s.side * away);
    double turn = stance->turn + s.axis * G_PI / 2 + (s.side < 0 ? G_PI : 0);
    return (PlacementSpot){at.x, at.y, remainder(turn, 2 * G_PI), FALSE, guest};
}

guint
rest_shape_guests(const PlacementSpot *spots, guint n)
{
    guint guests = 0;
    for (guint i = 0; i < n; i++)
        guests += spots[i].guest;
    return guests;
}

// The least shift along v is that along u of both turned by a quarter.
double
rest_shape_past_sprue(const MouldFixed *fixed, const RestSeen *seen, double sprue_u, double reach)
{
    g_autoptr(SolidOutline) all = rest_shape_outline(fixed, &seen->stance, seen->u, seen->v, NAN);
    g_autoptr(SolidOutline) upright = mould_stance_turned(all, -G_PI / 2);
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    SolidPoint sprue = {0, -sprue_u};
    guint first = 0;
    g_array_append_val(points, sprue);
    g_array_append_val(starts, first);
    g_autoptr(SolidOutline) middle = solid_outline_take(points, starts);
    return mould_stance_shift(middle, upright, reach);
}
