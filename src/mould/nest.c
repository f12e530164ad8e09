// SPDX-License-Identifier: GPL-3.0-or-later
// How many outlines fit: rows first, then one more and one more.
#include "mould/nest.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "mould/nest-relax.h"
#include "mould/polygon.h"
#include "mould/stance.h"

#define STARTS 32
#define AT_ONCE 8 // starts of a batch
#define KICKS 5   // times the worst piece is put elsewhere
#define ROUNDS 600
#define SPARE 2e-3    // of the size, aimed at beyond the sand asked for
#define ROW_ANGLES 12 // of half a turn, for rows when any angle may be taken

void
mould_nest_result_free(MouldNestResult *result)
{
    if (!result)
        return;
    g_array_unref(result->spots);
    g_free(result);
}

static guint
kind_of(const MouldNestTask *task, guint i)
{
    guint all = task->share[0] + task->share[1];
    return all == 0 || i % all < task->share[0] ? 0 : 1;
}

static SolidOutline *
placed(const SolidOutline *outline, const MouldNestSpot *spot)
{
    SolidOutline *o = mould_stance_turned(outline, spot->turn);
    for (guint i = 0; i < o->n_points; i++) {
        o->points[i].x += spot->x;
        o->points[i].y += spot->y;
    }
    return o;
}

static gboolean
holds_inside(const MouldNestTask *t, const SolidOutline *o, double slack)
{
    for (guint i = 0; i < o->n_points; i++) {
        SolidPoint p = o->points[i];
        double out = t->round ? hypot(p.x, p.y) - t->length / 2
                              : fmax(fabs(p.x) - t->length / 2, fabs(p.y) - t->width / 2);
        if (out > slack)
            return FALSE;
    }
    return TRUE;
}

static gboolean
has_inside(const SolidOutline *o, SolidPoint p)
{
    gboolean inside = FALSE;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a = o->points[i];
            SolidPoint b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
            if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
                inside = !inside;
        }
    return inside;
}

static gboolean
are_apart(const SolidOutline *a, const SolidOutline *b, double least)
{
    SolidPoint p, q;
    // An outline may be of several parts.
    for (guint i = 0; i < a->n_loops; i++)
        if (has_inside(b, a->points[a->starts[i]]))
            return FALSE;
    for (guint i = 0; i < b->n_loops; i++)
        if (has_inside(a, b->points[b->starts[i]]))
            return FALSE;
    for (guint i = 0; i < a->n_loops; i++)
        for (guint j = 0; j < b->n_loops; j++) {
            guint from_a = a->starts[i], from_b = b->starts[j];
            double d = mould_polygon_distance(a->points + from_a, a->starts[i + 1] - from_a,
                                              b->points + from_b, b->starts[j + 1] - from_b, &p,
                                              &q);
            if (d < least)
                return FALSE;
        }
    return TRUE;
}

gboolean
mould_nest_holds(const MouldNestTask *t, const MouldNestSpot *spots, guint n, double slack)
{
    g_return_val_if_fail(t != NULL && (spots != NULL || n == 0), FALSE);
    g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func(
        (GDestroyNotify)(void (*)(void))solid_outline_unref);
    double reach = 0;
    for (int k = 0; k < MOULD_NEST_KINDS; k++)
        for (guint i = 0; t->outlines[k] && i < t->outlines[k]->n_points; i++)
            reach = fmax(reach, hypot(t->outlines[k]->points[i].x, t->outlines[k]->points[i].y));
    for (guint i = 0; i < n; i++)
        g_ptr_array_add(all, placed(t->outlines[spots[i].kind], &spots[i]));
    for (guint i = 0; i < n; i++) {
        if (!spots[i].locked && !holds_inside(t, all->pdata[i], slack))
            return FALSE;
        for (guint k = 0; !spots[i].locked && k < t->n_obstacles; k++)
            if (!are_apart(all->pdata[i], t->obstacles[k], t->clearance - slack))
                return FALSE;
        for (guint j = 0; j < i; j++) {
            double d = hypot(spots[i].x - spots[j].x, spots[i].y - spots[j].y);
            if ((spots[i].locked && spots[j].locked) || d > 2 * reach + t->clearance)
                continue;
            if (!are_apart(all->pdata[i], all->pdata[j], t->clearance - slack))
                return FALSE;
        }
    }
    return TRUE;
}

// Columns and rows of equal outlines at one angle, every second row set off by half; those that lie
// free of all else are kept.
static GArray *
fill_rows(const MouldNestTask *t, double turn, gboolean half_turned, gboolean offset)
{
    GArray *spots = g_array_new(FALSE, FALSE, sizeof(MouldNestSpot));
    if (t->n_locked > 0)
        g_array_append_vals(spots, t->locked, t->n_locked);
    g_autoptr(SolidOutline) a = mould_stance_turned(t->outlines[0], turn);
    g_autoptr(SolidOutline) b = mould_stance_turned(t->outlines[0], turn + half_turned * G_PI);
    double there = mould_stance_shift(a, b, t->clearance);
    double back = mould_stance_shift(b, a, t->clearance), pitch = there + back;
    if (half_turned) // neighbours but one must be apart too
        pitch = fmax(pitch, mould_stance_shift(a, a, t->clearance));
    // The same across, with rows side by side, or set off by half a pitch.
    double rise = 0;
    g_autoptr(SolidOutline) upright = mould_stance_turned(a, -G_PI / 2);
    g_autoptr(SolidOutline) turned = mould_stance_turned(b, -G_PI / 2);
    const SolidOutline *both[2] = {upright, turned};
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++)
            for (int k = -2; k <= 2; k++) {
                double aside = (k + (offset ? 0.5 : 0)) * pitch + (i - j) * there;
                MouldNestSpot spot = {.y = aside};
                g_autoptr(SolidOutline) moved = placed(both[j], &spot);
                rise = fmax(rise, mould_stance_shift(both[i], moved, t->clearance));
            }
    if (!(pitch > 0 && rise > 0))
        return spots;
    SolidPoint min, max, min_b, max_b;
    solid_outline_box(a, &min, &max);
    solid_outline_box(b, &min_b, &max_b);
    double low = fmin(min.y, min_b.y), high = fmax(max.y, max_b.y);
    double room = t->round ? t->length : t->width;
    int rows = (int)CLAMP(1 + floor((room - (high - low)) / rise + 1e-9), 0, MOULD_NEST_MOST);
    int columns = (int)CLAMP(2 + ceil(t->length / pitch), 0, MOULD_NEST_MOST);
    for (int row = 0; row < rows; row++)
        for (int c = 0; c < 2 * columns && spots->len < MOULD_NEST_MOST; c++) {
            double y = -((rows - 1) * rise + high + low) / 2 + row * rise;
            double x = (c / 2) * pitch + (c % 2) * there + (offset && row % 2 ? pitch / 2 : 0);
            // From the left edge; in a circle about the middle.
            x += t->round ? -(columns / 2) * pitch : -t->length / 2 - min.x;
            MouldNestSpot spot = {x, y, turn + (c % 2) * half_turned * G_PI, 0, FALSE};
            g_array_append_val(spots, spot);
            MouldNestSpot last[2] = {spot};
            gboolean free = mould_nest_holds(t, last, 1, 1e-9);
            for (guint i = 0; free && i < t->n_locked; i++) {
                last[1] = t->locked[i];
                last[1].locked = TRUE;
                free = mould_nest_holds(t, last, 2, 1e-9);
            }
            if (!free)
                g_array_set_size(spots, spots->len - 1);
        }
    return spots;
}

static GArray *
best_rows(const MouldNestTask *t)
{
    g_autoptr(GArray) best = g_array_new(FALSE, FALSE, sizeof(MouldNestSpot));
    if (t->n_locked > 0)
        g_array_append_vals(best, t->locked, t->n_locked);
    if (t->share[1] > 0)
        return g_steal_pointer(&best);
    int angles = t->angles == 0 ? 2 * ROW_ANGLES : t->angles;
    for (int i = 0; i < angles; i++)
        for (int how = 0; how < 4; how++) {
            gboolean half = how & 1;
            if (half && angles % 2)
                continue;
            g_autoptr(GArray) spots = fill_rows(t, 2 * G_PI * i / angles, half, how >> 1);
            if (spots->len <= best->len ||
                !mould_nest_holds(t, (MouldNestSpot *)spots->data, spots->len, 1e-9))
                continue;
            g_array_unref(best);
            best = g_steal_pointer(&spots);
        }
    if (t->most > 0 && best->len > MAX(t->most, t->n_locked))
        g_array_set_size(best, MAX(t->most, t->n_locked));
    return g_steal_pointer(&best);
}

static void
scatter(const MouldNestTask *t, GRand *rand, MouldNestSpot *spot)
{
    double length = t->length, width = t->round ? t->length : t->width;
    do {
        spot->x = g_rand_double_range(rand, -0.5, 0.5) * length;
        spot->y = g_rand_double_range(rand, -0.5, 0.5) * width;
    } while (t->round && hypot(spot->x, spot->y) > length / 2);
    int angles = t->angles;
    spot->turn = angles == 0 ? g_rand_double_range(rand, 0, 2 * G_PI)
                             : 2 * G_PI * g_rand_int_range(rand, 0, angles) / angles;
}

// One start: scattered, or what is known with one more.
static gboolean
try_start(const NestScene *scene, const GArray *known, guint n, guint start, MouldNestSpot *spots,
          const Progress *progress)
{
    const MouldNestTask *t = scene->task;
    g_autoptr(GRand) rand = g_rand_new_with_seed(1000003 * n + start);
    guint keep = start % 4 == 0 ? known->len : t->n_locked;
    for (guint i = 0; i < n; i++) {
        spots[i] = (MouldNestSpot){.kind = kind_of(t, i - t->n_locked)};
        if (i < keep)
            spots[i] = g_array_index(known, MouldNestSpot, i);
        else
            scatter(t, rand, &spots[i]);
    }
    for (int kick = 0; kick <= KICKS; kick++) {
        guint worst;
        double left = nest_relax(scene, spots, n, ROUNDS, t->angles == 0, &worst, progress);
        if (left < NEST_FREE || mould_nest_holds(t, spots, n, 1e-9))
            return mould_nest_holds(t, spots, n, 1e-9);
        if (progress_stopped(progress))
            return FALSE;
        scatter(t, rand, &spots[worst]);
    }
    return FALSE;
}

// TRUE when `n` were placed; then `known` holds them.
static gboolean
try_number(const NestScene *scene, GArray *known, guint n, const Progress *progress)
{
    guint starts = scene->task->starts > 0 ? scene->task->starts : STARTS;
    g_autofree MouldNestSpot *spots = g_new(MouldNestSpot, (gsize)AT_ONCE * n);
    for (guint first = 0; first < starts; first += AT_ONCE) {
        gboolean good[AT_ONCE] = {FALSE};
        int count = (int)MIN(AT_ONCE, starts - first);
#pragma omp parallel for schedule(dynamic)
        for (int i = 0; i < count; i++)
            good[i] = try_start(scene, known, n, first + (guint)i, spots + (gsize)i * n, progress);
        for (int i = 0; i < count && !progress_stopped(progress); i++) {
            if (!good[i])
                continue;
            g_array_set_size(known, 0);
            g_array_append_vals(known, spots + (gsize)i * n, n);
            return TRUE;
        }
        if (progress_stopped(progress))
            return FALSE;
    }
    return FALSE;
}

// Every piece takes its area and half the sand all round, by the Brunn-Minkowski inequality at
// least (sqrt(A) + r sqrt(pi))^2; none of it reaches further out than half the sand.
static guint
bound_by_area(const NestScene *scene)
{
    const MouldNestTask *t = scene->task;
    double c = t->clearance, a = t->length + c, b = t->width + c;
    double room = t->round ? G_PI / 4 * a * a : a * b, used = 0;
    guint n = 0;
    while (n <= MOULD_NEST_MOST) {
        double one = sqrt(scene->kinds[kind_of(t, n)]->area) + c / 2 * sqrt(G_PI);
        used += one * one;
        if (used > room * (1 + 1e-9))
            break;
        n++;
    }
    return n;
}

static gboolean
check_task(const MouldNestTask *t, GError **error)
{
    gboolean sizes = t->length > 0 && (t->round || t->width > 0) && t->clearance >= 0 &&
                     isfinite(t->length + t->clearance + (t->round ? 0 : t->width));
    gboolean kinds = t->outlines[0] && t->outlines[0]->n_points > 2 &&
                     (t->share[1] == 0 || (t->outlines[1] && t->outlines[1]->n_points > 2));
    if (sizes && kinds && t->angles >= 0 && t->n_locked <= MOULD_NEST_MOST)
        return TRUE;
    return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                          _("the flask has no room, or the casting no outline"),
                          _("give sizes above nothing"));
}

static NestScene *
scene_new(const MouldNestTask *t)
{
    NestScene *scene = g_new0(NestScene, 1);
    scene->task = t;
    for (int k = 0; k < MOULD_NEST_KINDS; k++)
        if (t->outlines[k]) {
            for (guint i = 0; i < t->outlines[k]->n_points; i++)
                scene->size = fmax(scene->size,
                                   hypot(t->outlines[k]->points[i].x, t->outlines[k]->points[i].y));
        }
    double reach = t->clearance + 4 * SPARE * scene->size;
    for (int k = 0; k < MOULD_NEST_KINDS; k++)
        if (t->outlines[k])
            scene->kinds[k] = nest_shape_new(t->outlines[k], reach);
    scene->obstacles = g_new0(NestShape *, MAX(1, t->n_obstacles));
    for (guint i = 0; i < t->n_obstacles; i++)
        scene->obstacles[i] = nest_shape_new(t->obstacles[i], reach);
    scene->apart = t->clearance + SPARE * scene->size;
    return scene;
}

static void
scene_free(NestScene *scene)
{
    for (int k = 0; k < MOULD_NEST_KINDS; k++)
        nest_shape_free(scene->kinds[k]);
    for (guint i = 0; i < scene->task->n_obstacles; i++)
        nest_shape_free(scene->obstacles[i]);
    g_free(scene->obstacles);
    g_free(scene);
}

MouldNestResult *
mould_nest(const MouldNestTask *task, Progress *progress, GError **error)
{
    g_return_val_if_fail(task != NULL, NULL);
    if (!check_task(task, error) || !progress_check(progress, error))
        return NULL;
    NestScene *scene = scene_new(task);
    guint bound = bound_by_area(scene);
    guint most = MIN(MOULD_NEST_MOST, MAX(bound, task->n_locked));
    if (task->most > 0)
        most = MIN(most, MAX(task->most, task->n_locked));
    GArray *spots = best_rows(task);
    while (spots->len < most && try_number(scene, spots, spots->len + 1, progress))
        progress_set_fraction(progress, (double)spots->len / most);
    scene_free(scene);
    if (!progress_check(progress, error)) {
        g_array_unref(spots);
        return NULL;
    }
    MouldNestResult *result = g_new0(MouldNestResult, 1);
    result->bound = bound;
    result->quality = bound > 0 ? (double)spots->len / bound : 0;
    result->spots = spots;
    return result;
}
