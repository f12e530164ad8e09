// SPDX-License-Identifier: GPL-3.0-or-later
// Exact distances alone, without the nearest cell: squares of whole numbers, which floats hold up
// to 2^24, one axis after another in strips of sixteen lines. Where all is near, each place looks
// at its neighbours, further and further off until they can offer nothing; where it is far, the
// lower envelope of parabolas along each line is sooner done. Both give the same whole numbers.
#include "base/error.h"
#include "solid/edt.h"
#include "solid/four.h"

#define WIDE 16     // lines of a strip
#define PATIENCE 24 // neighbours on either side, on average, before the envelope is taken
#define NONE 1e30F  // nothing set so far
#define EXACT (1 << 24)

typedef struct {
    int n;           // places along the lines
    float *in, *out; // [ q * WIDE + line ]
    double *inverse; // 1 / (2 i)
    int *winner;     // positions of the parabolas of an envelope
    int *from;       // first place where each of them is lowest
    Progress *progress;
} Strip;

static void
strip_init(Strip *s, int n, Progress *progress)
{
    *s = (Strip){.n = n, .progress = progress};
    s->in = g_new(float, (gsize)n *WIDE);
    s->out = g_new(float, (gsize)n *WIDE);
    s->inverse = g_new(double, n);
    s->winner = g_new(int, n);
    s->from = g_new(int, n);
    for (int i = 0; i < n; i++)
        s->inverse[i] = i > 0 ? 0.5 / i : 0;
}

static void
strip_clear(Strip *s)
{
    g_free(s->in);
    g_free(s->out);
    g_free(s->inverse);
    g_free(s->winner);
    g_free(s->from);
}

static inline void
look_at(Four best[4], const float *row, Four way2)
{
    for (int c = 0; c < 4; c++)
        best[c] = four_least(best[c], four_add(four_load(row + 4 * c), way2));
}

// The least offers for place q, and how many neighbours it took.
static int
look_around(const Strip *s, int q)
{
    Four best[4];
    int way = 1, last = MAX(q, s->n - 1 - q);
    for (int c = 0; c < 4; c++)
        best[c] = four_load(s->in + (gsize)q * WIDE + 4 * c);
    for (; way <= last; way++) {
        Four way2 = four_all((float)way * (float)way);
        if (way % 2) { // seldom enough to cost little
            Four most = four_most(four_most(best[0], best[1]), four_most(best[2], best[3]));
            if (four_at_most(most, way2) == 15)
                break;
        }
        if (way <= q)
            look_at(best, s->in + (gsize)(q - way) * WIDE, way2);
        if (way < s->n - q)
            look_at(best, s->in + (gsize)(q + way) * WIDE, way2);
    }
    for (int c = 0; c < 4; c++)
        four_store(s->out + (gsize)q * WIDE + 4 * c, best[c]);
    return way;
}

// FALSE when it would take too long.
static gboolean
run_near(const Strip *s)
{
    int left = PATIENCE * s->n;
    for (int q = 0; q < s->n && left >= 0; q++)
        left -= look_around(s, q);
    return left >= 0;
}

// First place at which the parabola at q is lower than the one at p < q, or n if it is beyond. Half
// more than a whole number over a whole number is never near another whole number.
static int
find_takeover(const Strip *s, int line, int p, int q)
{
    double hp = (double)s->in[(gsize)p * WIDE + line], hq = (double)s->in[(gsize)q * WIDE + line];
    double at = ((double)q * q + hq - (double)p * p - hp + 0.5) * s->inverse[q - p];
    return at < 0 ? 0 : at < s->n ? (int)at + 1 : s->n;
}

static void
run_line(const Strip *s, int line)
{
    int top = -1;
    for (int q = 0; q < s->n; q++) {
        int start = 0;
        if (s->in[(gsize)q * WIDE + line] >= NONE)
            continue;
        while (top >= 0) {
            start = find_takeover(s, line, s->winner[top], q);
            if (start > s->from[top])
                break;
            top--;
        }
        if (top < 0)
            start = 0;
        if (start >= s->n)
            continue;
        s->winner[++top] = q;
        s->from[top] = start;
    }
    for (int q = s->n - 1; q >= 0; q--) {
        int p = top >= 0 ? s->winner[top] : 0;
        float way = (float)(q - p);
        s->out[(gsize)q * WIDE + line] = top >= 0 ? s->in[(gsize)p * WIDE + line] + way * way
                                                  : NONE;
        if (top >= 0 && s->from[top] == q)
            top--;
    }
}

static void
run_strip(const Strip *s)
{
    gsize n = (gsize)s->n * WIDE, none = 0;
    for (gsize at = 0; at < n; at += 4)
        none += four_at_most(four_all(NONE), four_load(s->in + at)) != 0;
    if (none <= n / 16 && run_near(s))
        return;
    for (int line = 0; line < WIDE; line++)
        run_line(s, line);
}

// Squares of ways along x to a set cell.
static void
run_row(const guint8 *set, int n, float *out)
{
    int last = -1;
    for (int i = 0; i < n; i++) {
        if (set[i])
            last = i;
        out[i] = last < 0 ? NONE : (float)(i - last) * (float)(i - last);
    }
    if (last < 0)
        return;
    for (int i = n - 1, next = -1; i >= 0; i--) {
        if (set[i])
            next = i;
        float way = (float)(next - i);
        if (next >= 0 && way * way < out[i])
            out[i] = way * way;
    }
}

static void
run_empty_or_row(const guint8 *set, int n, float *out)
{
    guint8 any = 0;
#pragma omp simd reduction(| : any)
    for (int i = 0; i < n; i++)
        any |= set[i];
    if (any)
        run_row(set, n, out);
    else
        for (int i = 0; i < n; i++)
            out[i] = NONE;
}

// Lines first .. first + n - 1 that follow one another in memory, along `stride`; the strip's other
// lines repeat the last.
static void
run_lines(const Strip *s, float *value, gsize stride, int n)
{
    for (int q = 0; q < s->n; q++)
        for (int line = 0; line < WIDE; line++)
            s->in[(gsize)q * WIDE + line] = value[(gsize)q * stride + MIN(line, n - 1)];
    run_strip(s);
    for (int q = 0; q < s->n; q++)
        for (int line = 0; line < n; line++)
            value[(gsize)q * stride + line] = s->out[(gsize)q * WIDE + line];
}

static void
take_roots(const SolidGrid *g, float *row)
{
    double cell = g->cell;
#pragma omp simd
    for (int i = 0; i < g->nx; i++)
        row[i] = row[i] >= NONE ? G_MAXFLOAT : (float)(cell * sqrt((double)row[i]));
}

static void
run_layer(const guint8 *set, SolidGrid *g, const Strip *s, int k)
{
    for (int j = 0; j < g->ny; j++) {
        gsize row = solid_grid_index(g, 0, j, k);
        run_empty_or_row(set + row, g->nx, g->value + row);
    }
    for (int i = 0; i < g->nx && !progress_stopped(s->progress); i += WIDE)
        run_lines(s, g->value + solid_grid_index(g, i, 0, k), (gsize)g->nx, MIN(WIDE, g->nx - i));
}

static void
run_wall(SolidGrid *g, const Strip *s, int j)
{
    for (int i = 0; i < g->nx && !progress_stopped(s->progress); i += WIDE)
        run_lines(s, g->value + solid_grid_index(g, i, j, 0), (gsize)g->nx * g->ny,
                  MIN(WIDE, g->nx - i));
    for (int k = 0; k < g->nz; k++)
        take_roots(g, g->value + solid_grid_index(g, 0, j, k));
}

static void
run_axes(const guint8 *set, SolidGrid *g, Progress *progress)
{
#pragma omp parallel
    {
        Strip s;
        strip_init(&s, g->ny, progress);
#pragma omp for schedule(dynamic, 4)
        for (int k = 0; k < g->nz; k++)
            run_layer(set, g, &s, k);
        strip_clear(&s);
        strip_init(&s, g->nz, progress);
#pragma omp for schedule(dynamic, 4)
        for (int j = 0; j < g->ny; j++)
            run_wall(g, &s, j);
        strip_clear(&s);
    }
}

// Of grids too long for floats.
static gboolean
measure_nearest(const guint8 *set, SolidGrid *g, Progress *progress, GError **error)
{
    g_autofree guint32 *near = solid_edt_nearest(set, g, progress, error);
    for (int k = 0; near && k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                gsize at = solid_grid_index(g, i, j, k);
                guint32 n = near[at];
                if (n == SOLID_NO_CELL) {
                    g->value[at] = G_MAXFLOAT;
                    continue;
                }
                double x = (double)(n % (guint32)g->nx) - i;
                double y = (double)(n / (guint32)g->nx % (guint32)g->ny) - j;
                double z = (double)(n / ((guint32)g->nx * (guint32)g->ny)) - k;
                g->value[at] = (float)(g->cell * sqrt(x * x + y * y + z * z));
            }
    return near != NULL;
}

SolidGrid *
solid_grid_edt(const guint8 *inside, const SolidGrid *g, Progress *progress, GError **error)
{
    g_autoptr(SolidGrid) out = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    if (!out) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the grid has too many cells",
                       "choose a coarser resolution");
        return NULL;
    }
    double longest = pow(g->nx, 2) + pow(g->ny, 2) + pow(g->nz, 2);
    if (longest >= EXACT) {
        if (!measure_nearest(inside, out, progress, error))
            return NULL;
    } else {
        run_axes(inside, out, progress);
    }
    if (!progress_check(progress, error))
        return NULL;
    return g_steal_pointer(&out);
}
