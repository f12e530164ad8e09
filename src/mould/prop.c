// SPDX-License-Identifier: GPL-3.0-or-later
// Nearest points of discs, bars, the sprue and the flask's walls.
#include "mould/prop.h"

#include <math.h>

#define MOST_STEPS 400

MouldProp
mould_prop_disc(double x, double y, double diameter, double low, double high)
{
    return (MouldProp){.x = x,
                       .y = y,
                       .low = low,
                       .high = high,
                       .low_radius = diameter / 2,
                       .high_radius = diameter / 2};
}

MouldProp
mould_prop_bar(const MouldChannel *c, double low, double high)
{
    double dx = c->x2 - c->x1, dy = c->y2 - c->y1, length = hypot(dx, dy);
    MouldProp p = {.kind = MOULD_PROP_BAR, .low = low, .high = high, .cos = 1};
    p.x = (c->x1 + c->x2) / 2;
    p.y = (c->y1 + c->y2) / 2;
    p.length = length / 2;
    p.width = c->width / 2;
    if (length > 0) {
        p.cos = dx / length;
        p.sin = dy / length;
    }
    return p;
}

// In the half plane of radius and height the shape is a trapezoid with one side on the axis.
static Vec3
nearest_round(const MouldProp *s, Vec3 p)
{
    double dx = p.x - s->x, dy = p.y - s->y, r = hypot(dx, dy), z = CLAMP(p.z, s->low, s->high);
    double slope = s->high > s->low ? (s->high_radius - s->low_radius) / (s->high - s->low) : 0;
    double here = s->low_radius + slope * (z - s->low);
    if (p.z >= s->low && p.z <= s->high && r <= here)
        return p;
    // On the lid or the floor when over or under it, else on the slanting side.
    double at = CLAMP((p.z - s->low + slope * (r - s->low_radius)) / (1 + slope * slope), 0,
                      fmax(0, s->high - s->low));
    double radius = s->low_radius + slope * at;
    z = s->low + at;
    if (p.z > s->high && r <= s->high_radius) {
        radius = r;
        z = s->high;
    } else if (p.z < s->low && r <= s->low_radius) {
        radius = r;
        z = s->low;
    }
    double share = r > 0 ? radius / r : 0;
    return vec3(s->x + dx * share + (r > 0 ? 0 : radius), s->y + dy * share, z);
}

Vec3
mould_prop_nearest(const MouldProp *s, Vec3 p)
{
    if (s->kind == MOULD_PROP_ROUND)
        return nearest_round(s, p);
    double dx = p.x - s->x, dy = p.y - s->y;
    double u = CLAMP(s->cos * dx + s->sin * dy, -s->length, s->length);
    double v = CLAMP(-s->sin * dx + s->cos * dy, -s->width, s->width);
    return vec3(s->x + s->cos * u - s->sin * v, s->y + s->sin * u + s->cos * v,
                CLAMP(p.z, s->low, s->high));
}

double
mould_prop_distance(const MouldProp *a, const MouldProp *b, Vec3 *on_a, Vec3 *on_b)
{
    Vec3 p = vec3(a->x, a->y, (a->low + a->high) / 2), q = p;
    double distance = INFINITY;
    for (int i = 0; i < MOST_STEPS; i++) {
        q = mould_prop_nearest(b, p);
        p = mould_prop_nearest(a, q);
        double next = vec3_length(vec3_sub(p, q));
        gboolean settled = !(next < distance - 1e-9);
        distance = next;
        if (settled)
            break;
    }
    *on_a = p;
    *on_b = q;
    return distance;
}

MouldWalls
mould_walls_of(const MouldLayout *l)
{
    return (MouldWalls){.round = l->round,
                        .length = l->length,
                        .width = l->width,
                        .cope = l->cope,
                        .drag = l->drag,
                        .draft = l->wall_draft};
}

double
mould_walls_distance(const MouldWalls *w, Vec3 p, Vec3 *on_wall)
{
    double lean = tan(w->draft), c = cos(w->draft), s = sin(w->draft), r = hypot(p.x, p.y);
    double x = copysign(1, p.x), y = 0, distance;
    if (w->round) {
        distance = (w->length / 2 - lean * p.z - r) * c;
        if (r > 0) {
            x = p.x / r;
            y = p.y / r;
        }
    } else {
        double to_x = (w->length / 2 - lean * p.z - fabs(p.x)) * c;
        double to_y = (w->width / 2 - lean * p.z - fabs(p.y)) * c;
        distance = fmin(to_x, to_y);
        if (to_y < to_x) {
            x = 0;
            y = copysign(1, p.y);
        }
    }
    if (on_wall)
        *on_wall = vec3_add(p, vec3_scale(vec3(x * c, y * c, s), distance));
    return distance;
}
