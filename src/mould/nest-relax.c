// SPDX-License-Identifier: GPL-3.0-or-later
// Pressing overlapping outlines apart: each point of one outline that lies nearer to another than
// the sand allows pushes both with the depth it lies too near. Motion with inertia that is stopped
// when it goes uphill (the fast inertial relaxation engine, Bitzek and others, Physical Review
// Letters 97, 2006).
#include "mould/nest-relax.h"

#include <math.h>

#define STIFF 6.0      // of all points of an outline together
#define FIRST_STEP 0.1 // of a unit of time: size is the unit of length, mass 1
#define MOST_STEP 0.6
#define STUCK_AFTER 60 // rounds in which less than this share of the overlaps goes
#define STUCK 0.9

typedef struct {
    double x, y, turn; // forces, and the same of velocities
} Push;

typedef struct {
    const NestScene *scene;
    MouldNestSpot *spots;
    guint n;
    gboolean turns;
    Push *force, *speed;
    double *depth; // sum of squares, each piece
} Relax;

static void
push_piece(Relax *r, guint i, SolidPoint arm, double fx, double fy)
{
    r->force[i].x += fx;
    r->force[i].y += fy;
    r->force[i].turn += (arm.x * fy - arm.y * fx) / r->scene->size;
}

// Points of piece i against a shape at (x, y, c, s); `other` is its piece, or -1.
static void
press_points(Relax *r, guint i, const NestShape *on, double x, double y, double c, double s,
             int other)
{
    const NestScene *scene = r->scene;
    const MouldNestSpot *a = &r->spots[i];
    const NestShape *shape = scene->kinds[a->kind];
    double ca = cos(a->turn), sa = sin(a->turn), stiff = STIFF / shape->n_points;
    for (guint k = 0; k < shape->n_points; k++) {
        SolidPoint p = shape->points[k], slope;
        SolidPoint arm = {ca * p.x - sa * p.y, sa * p.x + ca * p.y};
        double dx = a->x + arm.x - x, dy = a->y + arm.y - y, distance;
        SolidPoint there = {c * dx + s * dy, c * dy - s * dx};
        if (!nest_shape_distance(on, there, &distance, &slope) || distance >= scene->apart)
            continue;
        double deep = (scene->apart - distance) / scene->size;
        double fx = stiff * deep * (c * slope.x - s * slope.y);
        double fy = stiff * deep * (s * slope.x + c * slope.y);
        r->depth[i] += deep * deep * stiff;
        push_piece(r, i, arm, fx, fy);
        if (other < 0)
            continue;
        r->depth[other] += deep * deep * stiff;
        push_piece(r, (guint)other, (SolidPoint){dx, dy}, -fx, -fy);
    }
}

// Points of an obstacle against a piece.
static void
press_obstacle(Relax *r, guint i, const NestShape *obstacle)
{
    const NestScene *scene = r->scene;
    const MouldNestSpot *a = &r->spots[i];
    const NestShape *shape = scene->kinds[a->kind];
    double c = cos(a->turn), s = sin(a->turn), stiff = STIFF / obstacle->n_points;
    for (guint k = 0; k < obstacle->n_points; k++) {
        double dx = obstacle->points[k].x - a->x, dy = obstacle->points[k].y - a->y, distance;
        SolidPoint there = {c * dx + s * dy, c * dy - s * dx}, slope;
        if (!nest_shape_distance(shape, there, &distance, &slope) || distance >= scene->apart)
            continue;
        double deep = (scene->apart - distance) / scene->size;
        double fx = -stiff * deep * (c * slope.x - s * slope.y);
        double fy = -stiff * deep * (s * slope.x + c * slope.y);
        r->depth[i] += deep * deep * stiff;
        push_piece(r, i, (SolidPoint){dx, dy}, fx, fy);
    }
}

static void
press_container(Relax *r, guint i)
{
    const NestScene *scene = r->scene;
    const MouldNestTask *t = scene->task;
    const MouldNestSpot *a = &r->spots[i];
    const NestShape *shape = scene->kinds[a->kind];
    double c = cos(a->turn), s = sin(a->turn), stiff = 2 * STIFF / shape->n_points;
    double spare = scene->apart - t->clearance; // the same little more as between
    for (guint k = 0; k < shape->n_points; k++) {
        SolidPoint p = shape->points[k], arm = {c * p.x - s * p.y, s * p.x + c * p.y};
        double x = a->x + arm.x, y = a->y + arm.y, ox, oy;
        if (t->round) {
            double d = hypot(x, y), out = d - (t->length / 2 - spare);
            if (out <= 0)
                continue;
            ox = x / d * out;
            oy = y / d * out;
        } else {
            ox = copysign(fmax(0, fabs(x) - (t->length / 2 - spare)), x);
            oy = copysign(fmax(0, fabs(y) - (t->width / 2 - spare)), y);
        }
        if (ox == 0 && oy == 0)
            continue;
        ox /= scene->size;
        oy /= scene->size;
        r->depth[i] += stiff * (ox * ox + oy * oy);
        push_piece(r, i, arm, -stiff * ox, -stiff * oy);
    }
}

static double
press_all(Relax *r)
{
    const NestScene *scene = r->scene;
    double sum = 0;
    for (guint i = 0; i < r->n; i++) {
        r->force[i] = (Push){0};
        r->depth[i] = 0;
    }
    for (guint i = 0; i < r->n; i++) {
        const MouldNestSpot *a = &r->spots[i];
        double ra = scene->kinds[a->kind]->radius;
        if (!a->locked)
            press_container(r, i);
        for (guint k = 0; !a->locked && k < scene->task->n_obstacles; k++) {
            press_points(r, i, scene->obstacles[k], 0, 0, 1, 0, -1);
            press_obstacle(r, i, scene->obstacles[k]);
        }
        for (guint j = i + 1; j < r->n; j++) {
            const MouldNestSpot *b = &r->spots[j];
            double reach = ra + scene->kinds[b->kind]->radius + scene->apart;
            if ((a->locked && b->locked) || hypot(a->x - b->x, a->y - b->y) >= reach)
                continue;
            press_points(r, i, scene->kinds[b->kind], b->x, b->y, cos(b->turn), sin(b->turn),
                         (int)j);
            press_points(r, j, scene->kinds[a->kind], a->x, a->y, cos(a->turn), sin(a->turn),
                         (int)i);
        }
    }
    for (guint i = 0; i < r->n; i++)
        sum += r->depth[i];
    return sum;
}

// One step of all that may move; FALSE when it went uphill and was stopped.
static gboolean
step_all(Relax *r, double step, double mix)
{
    double power = 0, force2 = 0, speed2 = 0;
    for (guint i = 0; i < r->n; i++) {
        Push *f = &r->force[i], *v = &r->speed[i];
        if (r->spots[i].locked)
            *f = (Push){0};
        if (!r->turns)
            f->turn = 0;
        v->x += step * f->x;
        v->y += step * f->y;
        v->turn += step * f->turn;
        power += f->x * v->x + f->y * v->y + f->turn * v->turn;
        force2 += f->x * f->x + f->y * f->y + f->turn * f->turn;
        speed2 += v->x * v->x + v->y * v->y + v->turn * v->turn;
    }
    double share = power > 0 && force2 > 0 ? mix * sqrt(speed2 / force2) : 0;
    for (guint i = 0; i < r->n; i++) {
        Push *f = &r->force[i], *v = &r->speed[i];
        if (power > 0)
            *v = (Push){(1 - mix) * v->x + share * f->x, (1 - mix) * v->y + share * f->y,
                        (1 - mix) * v->turn + share * f->turn};
        else
            *v = (Push){0};
        MouldNestSpot *spot = &r->spots[i];
        spot->x += step * v->x * r->scene->size;
        spot->y += step * v->y * r->scene->size;
        spot->turn += step * v->turn;
    }
    return power > 0;
}

double
nest_relax(const NestScene *scene, MouldNestSpot *spots, guint n, int rounds, gboolean turns,
           guint *worst, const Progress *progress)
{
    Relax r = {scene, spots, n, turns, NULL, NULL, NULL};
    r.force = g_new0(Push, n);
    r.speed = g_new0(Push, n);
    r.depth = g_new0(double, n);
    double step = FIRST_STEP, mix = 0.1, left = INFINITY, before = INFINITY;
    int downhill = 0;
    for (int round = 0; round < rounds && !progress_stopped(progress); round++) {
        left = press_all(&r);
        if (left < NEST_FREE)
            break;
        if (round % STUCK_AFTER == STUCK_AFTER - 1) {
            if (left > STUCK * before)
                break;
            before = left;
        }
        if (step_all(&r, step, mix)) {
            if (++downhill > 5) {
                step = fmin(MOST_STEP, 1.1 * step);
                mix *= 0.99;
            }
        } else {
            downhill = 0;
            step *= 0.5;
            mix = 0.1;
        }
    }
    *worst = 0;
    for (guint i = 0; i < n; i++)
        if (!spots[i].locked && (spots[*worst].locked || r.depth[i] > r.depth[*worst]))
            *worst = i;
    g_free(r.force);
    g_free(r.speed);
    g_free(r.depth);
    return left;
}
