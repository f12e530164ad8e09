// SPDX-License-Identifier: GPL-3.0-or-later
// The linear program of the strip bound, with the stances that still cover too little added round
// after round.
//
// Everything is grown by half the sand: outlines and well, which then only may not overlap, and the
// flask.
// The flask is cut into thin rows, and a number of rows share a worth: the same for a row and its
// mirror image, since an arrangement turned by half a turn is one too. An outline at one of the
// angles covers of each row at least what its section in the middle of the row does, when it is
// first made smaller by half a row and by as far as any point moves to the next angle. What it
// covers of the worth changes evenly between places a row apart, so whole rows are enough.
#include <glpk.h>
#include <math.h>
#include <string.h>

#include "mould/bound.h"
#include "mould/stance.h"
#include "solid/outline.h"

#define ANGLES 120 // of half a turn
#define ROWS 160   // of the flask, each way
#define WORTHS 12  // different ones, each way
#define ROUNDS 40
#define WELL_SIDES 48
#define GROWN_ROWS 800
#define SIMPLER 2e-3 // of the size, by which the outline may lose detail; it is made that much less
#define CLOSE 1e-3   // of what an outline must cover, not worth another round

typedef struct {
    double low, high;
} Span;

// What the outline covers of rows, at one angle.
typedef struct {
    int n;        // rows; 0: nothing of it is left
    double *area; // m2, each
} Profile;

typedef struct {
    double step, area[ROWS]; // m, m2 of the flask
} Side;

typedef struct {
    Side side[2]; // rows along the length, and along the width
    Profile profile[2][ANGLES];
    Profile well[2];          // n 0 without
    double worth[2 * WORTHS]; // of a square metre
    double total[2 * WORTHS]; // m2 of the flask that have it
} Strips;

static int
worth_of(int row)
{
    int from_edge = MIN(row, ROWS - 1 - row);
    return MIN(WORTHS - 1, from_edge * 2 * WORTHS / ROWS);
}

static int
compare_spans(const void *a, const void *b)
{
    const Span *p = a, *q = b;
    return (p->low > q->low) - (p->low < q->low);
}

static double
measure_spans(Span *spans, int n)
{
    double sum = 0, end = -INFINITY;
    qsort(spans, (gsize)n, sizeof *spans, compare_spans);
    for (int i = 0; i < n; i++) {
        sum += fmax(0, spans[i].high - fmax(end, spans[i].low));
        end = fmax(end, spans[i].high);
    }
    return sum;
}

static int
compare_doubles(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

// Length of the line at height y in the outline grown by `r`, which may be negative. `spans` has
// room for two, `at` for one for each point.
static double
cut_outline(const SolidOutline *o, double y, double r, Span *spans, double *at)
{
    int n = 0, crossings = 0;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a = o->points[i];
            SolidPoint b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
            if ((a.y > y) != (b.y > y))
                at[crossings++] = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
            if (fmin(a.y, b.y) - fabs(r) > y || fmax(a.y, b.y) + fabs(r) < y)
                continue;
            double low = mould_stance_least_at(a, b, y, fabs(r));
            double high = -mould_stance_least_at((SolidPoint){-a.x, a.y}, (SolidPoint){-b.x, b.y},
                                                 y, fabs(r));
            if (low <= high)
                spans[n++] = (Span){low, high};
        }
    double skin = r < 0 ? measure_spans(spans, n) : 0;
    qsort(at, (gsize)crossings, sizeof *at, compare_doubles);
    for (int i = 0; i + 1 < crossings; i += 2)
        spans[n++] = (Span){at[i], at[i + 1]};
    return fmax(0, measure_spans(spans, n) - skin);
}

static Profile
profile_of(const SolidOutline *outline, double turn, double r, double step)
{
    g_autoptr(SolidOutline) o = mould_stance_turned(outline, turn);
    SolidPoint min, max;
    solid_outline_box(o, &min, &max);
    double reach = fmax(0, r);
    int first = (int)floor((min.y - reach) / step), last = (int)floor((max.y + reach) / step);
    Profile p = {0, g_new0(double, last - first + 1)};
    g_autofree Span *spans = g_new(Span, 2 * o->n_points);
    g_autofree double *at = g_new(double, o->n_points);
    int used = -1;
    for (int row = first; row <= last; row++) {
        double area = step * cut_outline(o, (row + 0.5) * step, r - step / 2, spans, at);
        if (used < 0 && !(area > 0))
            continue; // rows before the first that it covers
        p.area[++used] = area;
        p.n = area > 0 ? used + 1 : p.n;
    }
    return p;
}

double
mould_bound_grown(const SolidOutline *outline, double reach)
{
    g_return_val_if_fail(outline != NULL && reach >= 0, NAN);
    SolidPoint min, max;
    if (outline->n_points < 3)
        return 0;
    solid_outline_box(outline, &min, &max);
    Profile p = profile_of(outline, 0, reach, (max.y - min.y + 2 * reach) / GROWN_ROWS);
    double sum = 0;
    for (int i = 0; i < p.n; i++)
        sum += p.area[i];
    g_free(p.area);
    return sum;
}

// A polygon within the disc, about the origin.
static SolidOutline *
make_disc(double radius)
{
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    guint first = 0;
    for (int i = 0; i < WELL_SIDES; i++) {
        double way = 2 * G_PI * i / WELL_SIDES;
        SolidPoint p = {radius * cos(way), radius * sin(way)};
        g_array_append_val(points, p);
    }
    g_array_append_val(starts, first);
    return solid_outline_take(points, starts);
}

static void
make_side(const MouldBoundTask *t, gboolean across, Side *side)
{
    double wide = (across ? t->length : t->width) + t->clearance;
    double along = (across ? t->width : t->length) + t->clearance, radius = wide / 2;
    side->step = wide / ROWS;
    for (int i = 0; i < ROWS; i++) {
        side->area[i] = along * side->step;
        if (!t->round)
            continue;
        // Of a disc: the area of its part below a line, at both ends of the row.
        double area[2];
        for (int k = 0; k < 2; k++) {
            double s = CLAMP(2.0 * (i + k) / ROWS - 1, -1, 1);
            area[k] = radius * radius * (s * sqrt(1 - s * s) + asin(s));
        }
        side->area[i] = area[1] - area[0];
    }
}

static Strips *
strips_new(const MouldBoundTask *t)
{
    Strips *s = g_new0(Strips, 1);
    SolidPoint min, max;
    double far = 0;
    solid_outline_box(t->outline, &min, &max);
    double simpler = SIMPLER * fmax(max.x - min.x, max.y - min.y);
    g_autoptr(SolidOutline) o = solid_outline_simplified(t->outline, simpler);
    for (guint i = 0; i < o->n_points; i++) {
        o->points[i].x -= (min.x + max.x) / 2;
        o->points[i].y -= (min.y + max.y) / 2;
        far = fmax(far, hypot(o->points[i].x, o->points[i].y));
    }
    // A simpler outline may lie that far outside the true one; then the next angle.
    double r = t->clearance / 2 - simpler - 2 * (far + simpler) * sin(G_PI / ANGLES / 4);
    for (int k = 0; k < 2; k++) {
        make_side(t, k, &s->side[k]);
#pragma omp parallel for schedule(dynamic)
        for (int i = 0; i < ANGLES; i++)
            s->profile[k][i] = profile_of(o, (G_PI * i) / ANGLES + k * G_PI / 2, r,
                                          s->side[k].step);
        if (t->well > 0) {
            g_autoptr(SolidOutline) well = make_disc(t->well / 2);
            s->well[k] = profile_of(well, 0, t->clearance / 2, s->side[k].step);
        }
        for (int i = 0; i < ROWS; i++)
            s->total[k * WORTHS + worth_of(i)] += s->side[k].area[i];
    }
    return s;
}

static void
strips_free(Strips *s)
{
    for (int k = 0; k < 2; k++) {
        for (int i = 0; i < ANGLES; i++)
            g_free(s->profile[k][i].area);
        g_free(s->well[k].area);
    }
    g_free(s);
}

// The row at which a profile covers least, and how much; INFINITY where it does not fit.
static double
find_least(const Strips *s, int k, const Profile *p, int *at)
{
    double least = INFINITY;
    for (int row = 0; row + p->n <= ROWS; row++) {
        double sum = 0;
        for (int i = 0; i < p->n; i++)
            sum += p->area[i] * s->worth[k * WORTHS + worth_of(row + i)];
        if (sum < least) {
            least = sum;
            *at = row;
        }
    }
    return least;
}

// Worth of all strips without what the well takes of them; less than nothing where it has no room.
static double
sum_worth(const Strips *s)
{
    double all = 0;
    int at;
    for (int i = 0; i < 2 * WORTHS; i++)
        all += s->worth[i] * s->total[i];
    for (int k = 0; k < 2; k++)
        all -= find_least(s, k, &s->well[k], &at);
    return all;
}

typedef struct {
    double covered; // m2 worth
    int row[2];
} Least;

// The least any stance covers; each angle's in `least`. INFINITY when none fits.
static double
judge(const Strips *s, Least *least)
{
    double all = INFINITY;
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < ANGLES; i++) {
        least[i].covered = 0;
        for (int k = 0; k < 2; k++)
            least[i].covered += find_least(s, k, &s->profile[k][i], &least[i].row[k]);
    }
    for (int i = 0; i < ANGLES; i++)
        all = fmin(all, least[i].covered);
    return all;
}

static void
add_stance(glp_prob *lp, const Strips *s, int angle, const Least *least)
{
    int index[2 * WORTHS + 1], row = glp_add_rows(lp, 1);
    double value[2 * WORTHS + 1] = {0};
    for (int k = 0; k < 2; k++) {
        const Profile *p = &s->profile[k][angle];
        for (int i = 0; i < p->n; i++)
            value[1 + k * WORTHS + worth_of(least->row[k] + i)] += p->area[i];
    }
    // Of the whole flask, so that numbers are near 1.
    for (int i = 1; i <= 2 * WORTHS; i++) {
        index[i] = i;
        value[i] /= s->total[i - 1];
    }
    glp_set_row_bnds(lp, row, GLP_LO, 1, 0);
    glp_set_mat_row(lp, row, 2 * WORTHS, index, value);
}

static gboolean
solve(glp_prob *lp, Strips *s)
{
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.meth = GLP_DUALP;
    if (glp_simplex(lp, &how) != 0 || glp_get_status(lp) != GLP_OPT)
        return FALSE;
    for (int i = 0; i < 2 * WORTHS; i++)
        s->worth[i] = fmax(0, glp_get_col_prim(lp, i + 1)) / s->total[i];
    return TRUE;
}

static glp_prob *
make_program(void)
{
    glp_prob *lp = glp_create_prob();
    glp_set_obj_dir(lp, GLP_MIN);
    glp_add_cols(lp, 2 * WORTHS);
    for (int i = 1; i <= 2 * WORTHS; i++) {
        glp_set_col_bnds(lp, i, GLP_LO, 0, 0);
        glp_set_obj_coef(lp, i, 1);
    }
    return lp;
}

double
mould_bound_strips(const MouldBoundTask *t, guint enough, const Progress *progress)
{
    g_return_val_if_fail(t != NULL && t->outline != NULL, NAN);
    if (!(t->length >= 0 && t->width >= 0) || t->outline->n_points < 3)
        return 0;
    Strips *s = strips_new(t);
    glp_prob *lp = make_program();
    Least least[ANGLES];
    double best = INFINITY;
    for (int i = 0; i < 2 * WORTHS; i++)
        s->worth[i] = 1;
    for (int round = 0; round < ROUNDS && !progress_stopped(progress); round++) {
        double covered = judge(s, least);
        best = fmin(best, isinf(covered) ? 0 : fmax(0, sum_worth(s) / covered));
        if (floor(best * (1 + 1e-9) + 1e-9) <= enough || (round > 0 && covered > 1 - CLOSE))
            break;
        for (int i = 0; i < ANGLES; i++)
            if (round == 0 ? isfinite(least[i].covered) : least[i].covered < 1 - CLOSE / 2)
                add_stance(lp, s, i, &least[i]);
        if (!solve(lp, s))
            break;
    }
    glp_delete_prob(lp);
    glp_free_env();
    strips_free(s);
    return progress_stopped(progress) ? NAN : best;
}
