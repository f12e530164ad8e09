// SPDX-License-Identifier: GPL-3.0-or-later
// Coarse to fine: all directions by small maps of heights, the best of them followed downhill by
// larger maps, and the ten that differ by the envelope on the same field, sampled along each pull.
#include "part/search.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "part/fill.h"
#include "part/height.h"
#include "part/pull.h"
#include "part/search-rank.h"
#include "part/turned.h"
#include "solid/bvh.h"

#define CELLS 64        // of the field, along the longest side
#define MOST_CELLS 1e6  // of the field, at that resolution
#define MOST_TURNED 3e6 // of the field seen along a pull, likewise
#define STRAIGHT 0.6    // of a piece's largest ball, that fits at its middle too
#define WALL 3          // cells through the middling wall
#define SPREAD 1000     // directions of the even spread
#define FACES 24        // flat faces asked about
#define COARSE 36       // pixels along the longest side for all directions
#define FINE 72         // for the best
#define STARTS 12       // followed downhill
#define FINALISTS 12    // judged by the envelope
#define APART 0.26      // rad; answers nearer than this are one
#define NEAR_START 0.12 // rad between places to start from
#define OWN 0.01        // of the part's volume, that a direction of the part's own may cost more

const SearchEffort search_effort = {.spread = SPREAD, .cells = CELLS};

typedef struct {
    SolidMesh *mesh; // in the search's own axes, where its box is small
    double axes[9];  // rows: the part's axes -> the search's
    const EnvelopeOptions *options;
    const SearchEffort *effort;
    SolidMeasure measure;
    SolidGrid *field;
    SolidBvh *bvh;
    double rough, longest; // m3, m
    gboolean stub;
    Progress *progress;
} Search;

typedef struct {
    HeightCost cost;
    DirectionKind kind;
    double moment; // of inertia about the pull, which symmetric pulls share
    guint index;
} Candidate;

static double
sum_added(const Candidate *c)
{
    return c->cost.drafted - c->cost.rough;
}

static double
find_depth(const Candidate *c)
{
    return fmax(c->cost.depth_cope, c->cost.depth_drag);
}

static Candidate
judge_way(const Search *s, Vec3 way, DirectionKind kind, double pixels, HeightWork *work)
{
    Candidate c = {.kind = kind};
    for (int i = 0; i < 3; i++)
        c.moment += s->measure.moments[i] * pow(vec3_dot(way, s->measure.axes[i]), 2);
    if (!progress_stopped(s->progress))
        c.cost = height_judge(s->field, s->options, s->rough, way, s->longest / pixels, work);
    return c;
}

static int
compare_added(gconstpointer a, gconstpointer b)
{
    const Candidate *c = a, *d = b;
    double x = sum_added(c), y = sum_added(d);
    return x != y ? (x < y ? -1 : 1) : (c->index < d->index ? -1 : c->index > d->index);
}

static gboolean
is_near(const Search *s, Vec3 a, Vec3 b, double angle)
{
    return direction_angle(a, b) < angle && (!s->stub || vec3_dot(a, b) > 0);
}

// Numbers that symmetric pulls share; what is so alike is one answer.
static gboolean
is_alike(const Search *s, const Candidate *a, const Candidate *b)
{
    double volume = 0.006 * s->measure.volume + 0.03 * fmin(sum_added(a), sum_added(b));
    double length = 0.02 * s->longest, area = 0.03 * b->cost.parting_area;
    return fabs(sum_added(a) - sum_added(b)) < volume &&
           fabs(find_depth(a) - find_depth(b)) < length &&
           fabs(a->cost.parting_area - b->cost.parting_area) < area &&
           fabs(a->moment - b->moment) < 0.01 * s->measure.moments[2];
}

// Every direction of the list, both ways with a stub. Fixed order whatever the threads.
static GArray *
judge_all(const Search *s, const GArray *list)
{
    guint ways = s->stub ? 2 : 1, n = list->len * ways;
    GArray *all = g_array_sized_new(FALSE, TRUE, sizeof(Candidate), n);
    g_array_set_size(all, n);
#pragma omp parallel
    {
        HeightWork *work = height_work_new();
#pragma omp for schedule(dynamic, 8)
        for (guint i = 0; i < n; i++) {
            const Direction *d = &g_array_index(list, Direction, i / ways);
            Candidate c = judge_way(s, vec3_scale(d->way, i % ways ? -1 : 1), d->kind, COARSE,
                                    work);
            c.index = i;
            g_array_index(all, Candidate, i) = c;
        }
        height_work_free(work);
    }
    return all;
}

// The best that lie apart, from a sorted array.
static GArray *
pick_apart(const Search *s, const GArray *sorted, double angle, guint most)
{
    GArray *out = g_array_new(FALSE, FALSE, sizeof(Candidate));
    for (guint i = 0; i < sorted->len && out->len < most; i++) {
        const Candidate *c = &g_array_index(sorted, Candidate, i);
        gboolean fresh = TRUE;
        for (guint k = 0; k < out->len && fresh; k++)
            fresh = !is_near(s, c->cost.pull, g_array_index(out, Candidate, k).cost.pull, angle);
        if (fresh)
            g_array_append_vals(out, c, 1);
    }
    return out;
}

// Steps to the side as long as they help, then smaller ones.
static Candidate
follow_down(const Search *s, Candidate start, guint *judged, HeightWork *work)
{
    Candidate best = judge_way(s, start.cost.pull, start.kind, FINE, work);
    for (double step = 0.05; step > 0.01; step /= 2)
        for (int moves = 0; moves < 2; moves++) {
            double r[9];
            Candidate next = best;
            pull_rotation(best.cost.pull, r);
            for (int way = 0; way < 4; way++) {
                Vec3 side = way < 2 ? vec3(r[0], r[1], r[2]) : vec3(r[3], r[4], r[5]);
                Vec3 to = vec3_add(best.cost.pull, vec3_scale(side, way % 2 ? step : -step));
                Candidate c = judge_way(s, vec3_unit(to), DIRECTION_SPREAD, FINE, work);
                ++*judged;
                if (sum_added(&c) < sum_added(&next) - 1e-3 * s->measure.volume)
                    next = c;
            }
            if (sum_added(&next) >= sum_added(&best))
                break;
            best = next;
        }
    return best;
}

// What was found by following the best starts, and the part's own directions again by fine maps.
static GArray *
improve_best(const Search *s, const GArray *sorted, guint *judged)
{
    g_autoptr(GArray) starts = pick_apart(s, sorted, NEAR_START, STARTS);
    GArray *out = g_array_new(FALSE, TRUE, sizeof(Candidate));
    guint n_starts = starts->len;
    for (guint i = 0; i < sorted->len; i++)
        if (g_array_index(sorted, Candidate, i).kind != DIRECTION_SPREAD)
            g_array_append_vals(starts, &g_array_index(sorted, Candidate, i), 1);
    g_array_set_size(out, starts->len);
    g_autofree guint *counts = g_new0(guint, starts->len + 1);
#pragma omp parallel
    {
        HeightWork *work = height_work_new();
#pragma omp for schedule(dynamic, 1)
        for (guint i = 0; i < starts->len; i++) {
            Candidate c = g_array_index(starts, Candidate, i);
            c = i < n_starts ? follow_down(s, c, &counts[i], work)
                             : judge_way(s, c.cost.pull, c.kind, FINE, work);
            c.index = i;
            g_array_index(out, Candidate, i) = c;
        }
        height_work_free(work);
    }
    for (guint i = 0; i < starts->len; i++)
        *judged += counts[i];
    return out;
}

// Of each group of near or symmetric directions the best, or one of the part's own that is almost
// as good.
static GArray *
pick_different(const Search *s, GArray *sorted, guint most)
{
    GArray *out = g_array_new(FALSE, FALSE, sizeof(Candidate));
    for (guint i = 0; i < sorted->len && out->len < most; i++) {
        Candidate c = g_array_index(sorted, Candidate, i);
        gboolean fresh = TRUE;
        for (guint k = 0; k < out->len && fresh; k++) {
            const Candidate *d = &g_array_index(out, Candidate, k);
            fresh = !is_near(s, c.cost.pull, d->cost.pull, APART) && !is_alike(s, &c, d);
        }
        if (!fresh)
            continue;
        for (guint k = i; k < sorted->len; k++) {
            const Candidate *d = &g_array_index(sorted, Candidate, k);
            if (sum_added(d) > sum_added(&c) + OWN * s->measure.volume)
                break;
            const Candidate *first = &g_array_index(sorted, Candidate, i);
            if (d->kind < c.kind &&
                (is_near(s, d->cost.pull, first->cost.pull, APART) || is_alike(s, d, first)))
                c = *d;
        }
        g_array_append_val(out, c);
    }
    return out;
}

static SearchAnswer
make_answer(const Candidate *c, const SolidMeasure *measure)
{
    const HeightCost *h = &c->cost;
    return (SearchAnswer){.pull = h->pull,
                          .kind = c->kind,
                          .parting = h->parting,
                          .added = fmax(0, h->drafted - measure->volume),
                          .allowance_volume = fmax(0, h->rough - measure->volume),
                          .undercut_volume = fmax(0, h->drawn - h->rough),
                          .draft_volume = fmax(0, h->drafted - h->drawn),
                          .depth_cope = h->depth_cope,
                          .depth_drag = h->depth_drag,
                          .parting_area = h->parting_area};
}

static Vec3
turn_back(const double r[9], Vec3 q)
{
    return vec3(r[0] * q.x + r[3] * q.y + r[6] * q.z, r[1] * q.x + r[4] * q.y + r[7] * q.z,
                r[2] * q.x + r[5] * q.y + r[8] * q.z);
}

// The ball that fits at `at`, m: its middle is sought within the cell, since the widest place of a
// narrow hole lies between the cells.
static double
widest_near(const Search *s, Vec3 at, double cell)
{
    double best = solid_bvh_nearest(s->bvh, at, SOLID_NO_TRIANGLE).distance;
    Vec3 start = at;
    for (double step = cell / 4; step > cell / 100; step /= 2)
        for (int way = 0; way < 6; way++) {
            double by = way % 2 ? step : -step;
            Vec3 to = vec3_add(
                at, vec3(way / 2 == 0 ? by : 0, way / 2 == 1 ? by : 0, way / 2 == 2 ? by : 0));
            double d = solid_bvh_nearest(s->bvh, to, SOLID_NO_TRIANGLE).distance;
            if (d > best && vec3_length(vec3_sub(to, start)) < cell) {
                best = d;
                at = to;
                way = -1;
            }
        }
    return 2 * best;
}

static void
turn_fills(const Search *s, SearchAnswer *a, const double r[9], double cell)
{
    for (guint i = 0; i < a->n_fills; i++) {
        SearchFill *f = &a->fills[i];
        f->middle = turn_back(r, f->middle);
        f->widest = turn_back(r, f->widest);
        // With an allowance a piece bulges out of its hole, where balls are larger: the middle
        // tells the hole, unless the piece is bent about it.
        if (solid_grid_sample(s->field, f->middle) > STRAIGHT * f->diameter / 2)
            f->widest = f->middle;
        f->diameter = widest_near(s, f->widest, cell);
    }
}

// The same pull the other way, so that the heavier half lies in the drag.
static void
turn_answer(SearchAnswer *a)
{
    a->pull = vec3(0.0 - a->pull.x, 0.0 - a->pull.y, 0.0 - a->pull.z);
    a->parting = -a->parting;
    double depth = a->depth_cope;
    a->depth_cope = a->depth_drag;
    a->depth_drag = depth;
}

static gboolean
judge_finally(const Search *s, SearchAnswer *a, gboolean may_turn, GError **error)
{
    double r[9];
    EnvelopeResult e = {0};
    pull_rotation(a->pull, r);
    double most = MOST_TURNED * pow(s->effort->cells / (double)CELLS, 3);
    g_autoptr(SolidGrid) turned = turned_field(s->mesh, s->field, s->bvh, s->options, r, most,
                                               s->progress, error);
    if (!turned || !envelope_make(turned, s->options, NAN, &e, s->progress, error))
        return FALSE;
    a->parting = e.parting;
    a->allowance_volume = fmax(0, e.allowance_volume);
    a->stub_volume = fmax(0, e.stub_volume);
    a->undercut_volume = fmax(0, e.undercut_volume);
    a->draft_volume = fmax(0, e.draft_volume);
    a->wall_volume = fmax(0, e.wall_volume);
    a->fillet_volume = fmax(0, e.fillet_volume);
    a->closed_volume = fmax(0, e.closed_volume);
    a->added = a->allowance_volume + a->stub_volume + a->undercut_volume + a->draft_volume +
               a->wall_volume + a->fillet_volume + a->closed_volume;
    a->depth_cope = e.depth_cope;
    a->depth_drag = e.depth_drag;
    double least = fmax(0.002 * s->measure.volume, 20 * pow(turned->cell, 3));
    fill_find(turned, s->options->allowance, e.parting, least, a);
    turn_fills(s, a, r, turned->cell);
    if (may_turn && !s->stub && e.cope_volume > 0.5005 * e.volume)
        turn_answer(a);
    envelope_result_clear(&e);
    return TRUE;
}

static void
keep_answers(const Search *s, const GArray *candidates, guint judged, SearchResult *r)
{
    *r = (SearchResult){
        .directions = judged, .part_volume = s->measure.volume, .cell = s->field->cell};
    r->n = MIN(candidates->len, SEARCH_MOST);
    for (guint i = 0; i < r->n; i++)
        r->answers[i] = make_answer(&g_array_index(candidates, Candidate, i), &s->measure);
    search_rank(r, s->field->cell);
}

static gboolean
judge_finalists(const Search *s, const GArray *finalists, guint judged, SearchResult *result,
                GError **error)
{
    guint n = finalists->len;
    g_autofree SearchAnswer *answers = g_new0(SearchAnswer, MAX(n, 1));
    GError *errors[FINALISTS] = {NULL};
#pragma omp parallel for schedule(dynamic, 1)
    for (guint i = 0; i < n; i++) {
        answers[i] = make_answer(&g_array_index(finalists, Candidate, i), &s->measure);
        judge_finally(s, &answers[i], TRUE, &errors[i]);
    }
    for (guint i = 0; i < n; i++)
        if (errors[i] && error && !*error)
            g_propagate_error(error, errors[i]);
        else
            g_clear_error(&errors[i]);
    if (error && *error)
        return FALSE;
    SearchResult r = {
        .directions = judged + n, .part_volume = s->measure.volume, .cell = s->field->cell};
    search_sort(answers, n);
    r.n = MIN(n, SEARCH_MOST);
    memcpy(r.answers, answers, r.n * sizeof *answers);
    search_rank(&r, s->field->cell);
    *result = r;
    return TRUE;
}

// Twice volume over surface is a sheet's thickness, and near that of any wall. Shells that overlap
// count double in both.
static double
find_wall(const Search *s)
{
    return 2 * s->measure.volume / s->measure.area + 2 * s->options->allowance;
}

// Size along the principal axes, so that a part turned in its file has the same cells: a share of
// the longest side, finer for a thin part, coarser if its box would have too many.
static double
choose_cell(Search *s)
{
    double low[3] = {INFINITY, INFINITY, INFINITY}, high[3] = {-INFINITY, -INFINITY, -INFINITY};
    double grow = 2 * s->options->allowance, longest = 0, shortest = INFINITY;
    for (guint32 i = 0; i < s->mesh->n_vertices; i++)
        for (int a = 0; a < 3; a++) {
            double at = vec3_dot(s->mesh->vertices[i], s->measure.axes[a]);
            low[a] = fmin(low[a], at);
            high[a] = fmax(high[a], at);
        }
    for (int a = 0; a < 3; a++) {
        longest = fmax(longest, high[a] - low[a] + grow);
        shortest = fmin(shortest, high[a] - low[a] + grow);
    }
    s->longest = longest;
    Vec3 size = vec3_sub(s->measure.max, s->measure.min);
    double cell = fmin(longest / s->effort->cells, fmin(shortest / 4, find_wall(s) / WALL));
    double wide = grow + 5 * cell;
    double most = MOST_CELLS * pow(s->effort->cells / (double)CELLS, 3);
    while ((size.x + wide) / cell * (size.y + wide) / cell * (size.z + wide) / cell > most)
        cell *= 1.05;
    return cell;
}

static double
measure_box(const SolidMeasure *m)
{
    Vec3 size = vec3_sub(m->max, m->min);
    return size.x * size.y * size.z;
}

// A part that lies askew in its file is turned to its principal axes, so that boxes of cells round
// it are small and the same whichever way it lies.
static void
choose_axes(Search *s, const SolidMesh *mesh)
{
    const double file[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    s->measure = solid_measure(mesh);
    memcpy(s->axes, file, sizeof file);
    const Vec3 *a = s->measure.axes;
    double own[9] = {a[0].x, a[0].y, a[0].z, a[1].x, a[1].y, a[1].z, a[2].x, a[2].y, a[2].z};
    g_autoptr(SolidMesh) turned = solid_mesh_transformed(mesh, own, vec3(0, 0, 0));
    SolidMeasure measure = solid_measure(turned);
    s->mesh = solid_mesh_ref(mesh);
    if (measure_box(&measure) < 0.9 * measure_box(&s->measure)) {
        solid_mesh_unref(s->mesh);
        s->mesh = g_steal_pointer(&turned);
        s->measure = measure;
        memcpy(s->axes, own, sizeof own);
    }
}

static Vec3
turn_in(const Search *s, Vec3 v)
{
    const double *r = s->axes;
    return vec3(r[0] * v.x + r[1] * v.y + r[2] * v.z, r[3] * v.x + r[4] * v.y + r[5] * v.z,
                r[6] * v.x + r[7] * v.y + r[8] * v.z);
}

static Vec3
turn_out(const Search *s, Vec3 v)
{
    const double *r = s->axes;
    return vec3(r[0] * v.x + r[3] * v.y + r[6] * v.z, r[1] * v.x + r[4] * v.y + r[7] * v.z,
                r[2] * v.x + r[5] * v.y + r[8] * v.z);
}

// To the part's axes.
static void
turn_result(const Search *s, SearchResult *r)
{
    for (guint i = 0; i < r->n; i++) {
        SearchAnswer *a = &r->answers[i];
        a->pull = turn_out(s, a->pull);
        for (guint f = 0; f < a->n_fills; f++) {
            a->fills[f].middle = turn_out(s, a->fills[f].middle);
            a->fills[f].widest = turn_out(s, a->fills[f].widest);
        }
    }
}

static void
clear_search(Search *s)
{
    solid_mesh_unref(s->mesh);
    solid_grid_unref(s->field);
    solid_bvh_free(s->bvh);
}

static gboolean
start_search(Search *s, EnvelopeOptions *o, GError **error)
{
    o->quick = TRUE;
    o->cells = (int)s->effort->cells;
    s->options = o;
    s->stub = o->stub_diameter > 0 && o->stub_height > 0;
    double cell = choose_cell(s), reach = envelope_reach(o, cell) + 0.5 * cell;
    if (find_wall(s) < cell)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                              _("the walls are thinner than the cells a part of this size has"),
                              _("give the part more thickness, or an allowance"));
    progress_set_words(s->progress, _("Measuring distances"));
    s->field = solid_grid_distance(s->mesh, cell, reach, reach, s->progress, error);
    if (!s->field)
        return FALSE;
    s->bvh = solid_bvh_new(s->mesh);
    s->rough = solid_grid_volume(s->field, o->allowance);
    // The mesh's own volume is exact unless shells overlap, where the cells know better.
    double part = solid_grid_volume(s->field, 0);
    if (fabs(part - s->measure.volume) > 0.02 * s->measure.volume)
        s->measure.volume = part;
    progress_set_fraction(s->progress, 0.2);
    return progress_check(s->progress, error);
}

static gboolean
run_search(const Search *s, SearchResult *result, SearchReport report, gpointer data,
           GError **error)
{
    const Vec3 file[3] = {turn_in(s, vec3(0, 0, 1)), turn_in(s, vec3(0, 1, 0)),
                          turn_in(s, vec3(1, 0, 0))};
    g_autoptr(GArray) list = direction_list(s->mesh, &s->measure, file, FACES, s->effort->spread);
    progress_set_words(s->progress, _("Trying every direction"));
    g_autoptr(GArray) all = judge_all(s, list);
    if (!progress_check(s->progress, error))
        return FALSE;
    guint judged = all->len;
    g_array_sort(all, compare_added);
    if (report) {
        SearchResult first;
        g_autoptr(GArray) different = pick_different(s, all, SEARCH_MOST);
        keep_answers(s, different, judged, &first);
        turn_result(s, &first);
        report(&first, data);
    }
    progress_set_fraction(s->progress, 0.4);
    progress_set_words(s->progress, _("Improving the best"));
    g_autoptr(GArray) fine = improve_best(s, all, &judged);
    if (!progress_check(s->progress, error))
        return FALSE;
    g_array_sort(fine, compare_added);
    g_autoptr(GArray) finalists = pick_different(s, fine, FINALISTS);
    progress_set_fraction(s->progress, 0.6);
    progress_set_words(s->progress, _("Filling out the best"));
    SearchResult found;
    if (!judge_finalists(s, finalists, judged, &found, error))
        return FALSE;
    turn_result(s, &found);
    *result = found;
    return TRUE;
}

gboolean
search_pulls(const SolidMesh *mesh, const EnvelopeOptions *options, SearchResult *result,
             SearchReport report, gpointer data, Progress *progress, GError **error)
{
    return search_pulls_with(mesh, options, &search_effort, result, report, data, progress, error);
}

gboolean
search_pulls_with(const SolidMesh *mesh, const EnvelopeOptions *options, const SearchEffort *effort,
                  SearchResult *result, SearchReport report, gpointer data, Progress *progress,
                  GError **error)
{
    g_return_val_if_fail(mesh != NULL && options != NULL && result != NULL, FALSE);
    g_return_val_if_fail(effort != NULL && effort->spread > 0 && effort->cells > 0, FALSE);
    Search s = {.progress = progress, .effort = effort};
    choose_axes(&s, mesh);
    EnvelopeOptions o = *options;
    GError *failed = NULL;
    gboolean ok = start_search(&s, &o, &failed) && run_search(&s, result, report, data, &failed);
    clear_search(&s);
    if (failed)
        g_propagate_error(error, failed);
    else
        progress_set_fraction(progress, 1);
    return ok;
}

gboolean
search_judge(const SolidMesh *mesh, const EnvelopeOptions *options, Vec3 pull, SearchResult *result,
             Progress *progress, GError **error)
{
    g_return_val_if_fail(vec3_length(pull) > 0, FALSE);
    Search s = {.progress = progress, .effort = &search_effort};
    choose_axes(&s, mesh);
    EnvelopeOptions o = *options;
    gboolean ok = start_search(&s, &o, error);
    if (ok) {
        g_autoptr(HeightWork) work = height_work_new();
        Candidate c = judge_way(&s, turn_in(&s, vec3_unit(pull)), DIRECTION_SPREAD, FINE, work);
        SearchAnswer answer = make_answer(&c, &s.measure);
        ok = judge_finally(&s, &answer, FALSE, error);
        if (ok) {
            *result = (SearchResult){
                .directions = 1, .n = 1, .part_volume = s.measure.volume, .cell = s.field->cell};
            result->answers[0] = answer;
            turn_result(&s, result);
        }
    }
    clear_search(&s);
    return ok;
}
