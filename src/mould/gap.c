// SPDX-License-Identifier: GPL-3.0-or-later
// One gap. A search goes down the tree of balls: a ball whose middle is further away than the
// nearest point found by more than its radius holds none nearer.
#include "mould/gap.h"

#include <math.h>

#define MOST_STEPS 60
#define SETTLED 5e-5 // of the distance, finer than any sand is measured

MouldPose
mould_pose(double x, double y, double turn)
{
    // Quarter turns are exact, so that rows of equal cavities are.
    double quarters = turn / (G_PI / 2), whole = nearbyint(quarters);
    MouldPose pose = {x, y, turn, cos(turn), sin(turn)};
    if (fabs(quarters - whole) < 1e-12) {
        static const double table[5] = {1, 0, -1, 0, 1};
        int q = (int)(whole - 4 * floor(whole / 4));
        pose.cos = table[q];
        pose.sin = table[(q + 3) % 4];
    }
    return pose;
}

Vec3
mould_pose_out(const MouldPose *p, Vec3 v)
{
    return vec3(p->x + p->cos * v.x - p->sin * v.y, p->y + p->sin * v.x + p->cos * v.y, v.z);
}

Vec3
mould_pose_back(const MouldPose *p, Vec3 v)
{
    double x = v.x - p->x, y = v.y - p->y;
    return vec3(p->cos * x + p->sin * y, -p->sin * x + p->cos * y, v.z);
}

typedef struct Search Search;
struct Search {
    const MouldBody *body;
    double (*distance)(const Search *search, Vec3 p); // of a point in body axes
    const MouldPose *pose;                            // of the body
    double slack;                                     // m, what `distance` may err by
    const MouldBody *other;
    MouldPose from; // body axes to the other's
    const MouldProp *prop;
    const MouldWalls *walls;
    double best;
    Vec3 at; // body axes
};

static void
look_into(Search *s, guint index, double here)
{
    const MouldBall *ball = &s->body->balls[index];
    if (here - ball->radius - s->slack >= s->best)
        return;
    if (ball->right == 0) {
        for (guint i = ball->first; i < ball->first + ball->n; i++) {
            double d = s->distance(s, s->body->points[i]);
            if (d < s->best) {
                s->best = d;
                s->at = s->body->points[i];
            }
        }
        return;
    }
    guint near = index + 1, far = ball->right;
    double to_near = s->distance(s, s->body->balls[near].middle);
    double to_far = s->distance(s, s->body->balls[far].middle);
    if (to_far - s->body->balls[far].radius < to_near - s->body->balls[near].radius) {
        guint swap = near;
        near = far;
        far = swap;
        double other = to_near;
        to_near = to_far;
        to_far = other;
    }
    look_into(s, near, to_near);
    look_into(s, far, to_far);
}

// Nothing further than `start` is looked for.
static void
search(Search *s, double start)
{
    s->best = start;
    look_into(s, 0, s->distance(s, s->body->balls[0].middle));
}

// By the field; beyond it a bound from below.
static double
distance_in_field(const Search *s, Vec3 p)
{
    const SolidGrid *g = s->other->field;
    Vec3 q = mould_pose_out(&s->from, p);
    double x = (q.x - g->origin.x) / g->cell, y = (q.y - g->origin.y) / g->cell;
    double z = (q.z - g->origin.z) / g->cell;
    if (x >= 0 && y >= 0 && z >= 0 && x < g->nx - 1 && y < g->ny - 1 && z < g->nz - 1) {
        int i = (int)x, j = (int)y, k = (int)z;
        double u = x - i, v = y - j, w = z - k;
        const float *f = g->value + solid_grid_index(g, i, j, k), *h = f + (gsize)g->nx * g->ny;
        int row = g->nx;
        double low = (1 - v) * ((1 - u) * f[0] + u * f[1]) +
                     v * ((1 - u) * f[row] + u * f[row + 1]);
        double high = (1 - v) * ((1 - u) * h[0] + u * h[1]) +
                      v * ((1 - u) * h[row] + u * h[row + 1]);
        return (1 - w) * low + w * high;
    }
    double dx = fmax(0, fmax(-x, x - (g->nx - 1))), dy = fmax(0, fmax(-y, y - (g->ny - 1)));
    double dz = fmax(0, fmax(-z, z - (g->nz - 1)));
    return g->cell * sqrt(dx * dx + dy * dy + dz * dz) + s->other->margin - g->cell;
}

static double
distance_to_skin(const Search *s, Vec3 p)
{
    Vec3 q = mould_pose_out(&s->from, p);
    return solid_bvh_nearest(s->other->bvh, q, SOLID_NO_TRIANGLE).distance;
}

static double
distance_to_prop(const Search *s, Vec3 p)
{
    Vec3 q = mould_pose_out(s->pose, p);
    return vec3_length(vec3_sub(q, mould_prop_nearest(s->prop, q)));
}

static double
distance_to_walls(const Search *s, Vec3 p)
{
    return mould_walls_distance(s->walls, mould_pose_out(s->pose, p), NULL);
}

// From a's axes to b's.
static MouldPose
pose_between(const MouldPose *a, const MouldPose *b)
{
    Vec3 shift = mould_pose_back(b, vec3(a->x, a->y, 0));
    MouldPose p = {shift.x, shift.y, a->turn - b->turn, 0, 0};
    p.cos = a->cos * b->cos + a->sin * b->sin;
    p.sin = a->sin * b->cos - a->cos * b->sin;
    return p;
}

// Both ends to and fro between the skins, from `p` on a's, all in b's axes.
static double
settle_bodies(const MouldBody *a, const MouldBody *b, const MouldPose *from, Vec3 *p, Vec3 *q)
{
    SolidNearest on_b = {.triangle = SOLID_NO_TRIANGLE}, on_a = on_b;
    double distance = INFINITY;
    for (int i = 0; i < MOST_STEPS; i++) {
        on_b = solid_bvh_nearest(b->bvh, *p, on_b.triangle);
        Vec3 back = mould_pose_back(from, on_b.point);
        on_a = solid_bvh_nearest(a->bvh, back, on_a.triangle);
        *q = on_b.point;
        gboolean settled = !(on_a.distance < distance * (1 - SETTLED));
        distance = on_a.distance;
        *p = mould_pose_out(from, on_a.point);
        if (settled)
            break;
    }
    return distance;
}

double
mould_gap_bodies(const MouldBody *a, const MouldPose *at_a, const MouldBody *b,
                 const MouldPose *at_b, Vec3 *on_a, Vec3 *on_b)
{
    Search s = {
        .body = a, .distance = distance_in_field, .other = b, .slack = 0.5 * b->field->cell};
    s.from = pose_between(at_a, at_b);
    search(&s, INFINITY);
    if (s.best > b->margin - b->field->cell) {
        s.distance = distance_to_skin;
        // A saving of less than a thousandth so far off is not worth looking for.
        double d = distance_to_skin(&s, s.at);
        s.slack = 1e-3 * d;
        search(&s, d);
    }
    Vec3 p = mould_pose_out(&s.from, s.at), q = p;
    // A point of a well inside b, or so near that only the skins can tell.
    double d = s.best < -b->field->cell ? 0 : settle_bodies(a, b, &s.from, &p, &q);
    *on_a = mould_pose_out(at_b, p);
    *on_b = mould_pose_out(at_b, q);
    return s.best < 0 ? 0 : d;
}

double
mould_gap_prop(const MouldBody *a, const MouldPose *at_a, const MouldProp *prop, Vec3 *on_a,
               Vec3 *on_prop)
{
    Search s = {.body = a, .distance = distance_to_prop, .pose = at_a, .prop = prop};
    search(&s, INFINITY);
    SolidNearest on_skin = {.triangle = SOLID_NO_TRIANGLE, .point = s.at};
    Vec3 p = mould_pose_out(at_a, s.at), q = mould_prop_nearest(prop, p);
    // A shape wholly inside the body touches no skin.
    s.other = a;
    s.from = (MouldPose){.cos = 1};
    Vec3 middle = vec3(prop->x, prop->y, (prop->low + prop->high) / 2);
    gboolean inside = distance_in_field(&s, mould_pose_back(at_a, middle)) < 0;
    double distance = inside ? 0 : s.best;
    for (int i = 0; i < MOST_STEPS && distance > 0; i++) {
        on_skin = solid_bvh_nearest(a->bvh, mould_pose_back(at_a, q), on_skin.triangle);
        if (!(on_skin.distance < distance))
            break;
        p = mould_pose_out(at_a, on_skin.point);
        q = mould_prop_nearest(prop, p);
        double next = vec3_length(vec3_sub(p, q));
        gboolean settled = next > distance * (1 - SETTLED);
        distance = fmin(next, distance);
        if (settled)
            break;
    }
    *on_a = p;
    *on_prop = q;
    return distance;
}

double
mould_gap_walls(const MouldBody *a, const MouldPose *at_a, const MouldWalls *walls, Vec3 *on_a,
                Vec3 *on_wall)
{
    Search s = {.body = a, .distance = distance_to_walls, .pose = at_a, .walls = walls};
    search(&s, INFINITY);
    *on_a = mould_pose_out(at_a, s.at);
    return mould_walls_distance(walls, *on_a, on_wall);
}

void
mould_gap_box(const MouldBody *a, const MouldPose *at_a, Vec3 *low, Vec3 *high)
{
    double hx = (a->max.x - a->min.x) / 2, hy = (a->max.y - a->min.y) / 2;
    Vec3 middle = mould_pose_out(at_a, vec3_scale(vec3_add(a->min, a->max), 0.5));
    double x = fabs(at_a->cos) * hx + fabs(at_a->sin) * hy;
    double y = fabs(at_a->sin) * hx + fabs(at_a->cos) * hy;
    *low = vec3(middle.x - x, middle.y - y, a->min.z);
    *high = vec3(middle.x + x, middle.y + y, a->max.z);
}
