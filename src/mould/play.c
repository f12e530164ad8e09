// SPDX-License-Identifier: GPL-3.0-or-later
// For a given turn the slides left are a rectangle (tabs) or an intersection of discs (pins), and
// the bounds of both are linear in the turn. A movement's length is convex, so its greatest value
// lies in a corner; the least clearance that closes is convex in the turn, so it is found by
// narrowing.
#include "mould/play.h"

#include <math.h>

#define STEPS 64
#define GOLDEN 0.6180339887498949
#define NARROW 70
#define HAIR 1e-12

static gboolean
is_round(const MouldTab *tab)
{
    return !(tab->width > 0);
}

static void
half_sides(const MouldTab *tab, double *a, double *b)
{
    *a = tab->length / 2;
    *b = is_round(tab) ? tab->length / 2 : tab->width / 2;
}

// Box of all tabs' corners.
static void
find_reach(const MouldTab *tabs, guint n, SolidPoint *low, SolidPoint *high)
{
    *low = (SolidPoint){INFINITY, INFINITY};
    *high = (SolidPoint){-INFINITY, -INFINITY};
    for (guint i = 0; i < n; i++) {
        double a, b;
        half_sides(&tabs[i], &a, &b);
        *low = (SolidPoint){MIN(low->x, tabs[i].x - a), MIN(low->y, tabs[i].y - b)};
        *high = (SolidPoint){MAX(high->x, tabs[i].x + a), MAX(high->y, tabs[i].y + b)};
    }
}

// Least circle about up to four points: through two or three of them.
static double
least_circle(const SolidPoint *p, guint n, SolidPoint *middle)
{
    double best = n > 0 ? INFINITY : 0;
    *middle = n > 0 ? p[0] : (SolidPoint){0, 0};
    for (guint i = 0; i < n; i++)
        for (guint j = i; j < n; j++)
            for (guint k = j; k < n; k++) {
                SolidPoint m = {(p[i].x + p[j].x) / 2, (p[i].y + p[j].y) / 2};
                if (k != j && j != i) {
                    double bx = p[j].x - p[i].x, by = p[j].y - p[i].y;
                    double cx = p[k].x - p[i].x, cy = p[k].y - p[i].y;
                    double d = 2 * (bx * cy - by * cx), b2 = bx * bx + by * by;
                    double c2 = cx * cx + cy * cy;
                    if (d == 0)
                        continue;
                    m = (SolidPoint){p[i].x + (cy * b2 - by * c2) / d,
                                     p[i].y + (bx * c2 - cx * b2) / d};
                }
                double radius = 0;
                for (guint q = 0; q < n; q++)
                    radius = MAX(radius, hypot(p[q].x - m.x, p[q].y - m.y));
                if (radius < best) {
                    best = radius;
                    *middle = m;
                }
            }
    return best;
}

double
mould_play_turn(const MouldTab *tabs, guint n, double clearance)
{
    g_return_val_if_fail(n >= 1 && n <= 4, 0);
    if (is_round(&tabs[0])) {
        SolidPoint p[4], middle;
        for (guint i = 0; i < n; i++)
            p[i] = (SolidPoint){tabs[i].x, tabs[i].y};
        return clearance / least_circle(p, n, &middle);
    }
    SolidPoint low, high;
    find_reach(tabs, n, &low, &high);
    return 2 * clearance / MAX(high.x - low.x, high.y - low.y);
}

static double
farthest_in_box(const MouldTab *tabs, guint n, double c, double a, SolidPoint p)
{
    SolidPoint low, high;
    find_reach(tabs, n, &low, &high);
    if (a < 0) {
        SolidPoint swap = low;
        low = high;
        high = swap;
    }
    // Where rounding leaves the bounds crossed by a hair, the one slide there is.
    double x[2] = {a * high.y - c, a * low.y + c}, y[2] = {-a * low.x - c, -a * high.x + c};
    double most = 0;
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++)
            most = MAX(most, hypot(x[i] - a * p.y, y[j] + a * p.x));
    return most;
}

static gboolean
in_discs(const SolidPoint *e, guint n, double radius, SolidPoint t)
{
    for (guint i = 0; i < n; i++)
        if (hypot(t.x - e[i].x, t.y - e[i].y) > radius + HAIR)
            return FALSE;
    return TRUE;
}

// The farthest from q within discs of one radius: across from q on one of them, or where two cross.
static double
farthest_in_discs(const MouldTab *tabs, guint n, double c, double a, SolidPoint p)
{
    SolidPoint e[4], q = {a * p.y, -a * p.x};
    double most = -1;
    for (guint i = 0; i < n; i++)
        e[i] = (SolidPoint){a * tabs[i].y, -a * tabs[i].x};
    for (guint i = 0; i < n; i++) {
        double dx = e[i].x - q.x, dy = e[i].y - q.y, d = hypot(dx, dy);
        SolidPoint t = {e[i].x + c * (d > 0 ? dx / d : 1), e[i].y + c * (d > 0 ? dy / d : 0)};
        if (in_discs(e, n, c, t))
            most = MAX(most, hypot(t.x - q.x, t.y - q.y));
        for (guint j = i + 1; j < n; j++) {
            dx = e[j].x - e[i].x;
            dy = e[j].y - e[i].y;
            d = hypot(dx, dy);
            if (!(d > 0) || d > 2 * c + HAIR)
                continue;
            double h = sqrt(MAX(0, c * c - d * d / 4)) / d;
            for (int side = -1; side <= 1; side += 2) {
                t = (SolidPoint){(e[i].x + e[j].x) / 2 - side * h * dy,
                                 (e[i].y + e[j].y) / 2 + side * h * dx};
                if (in_discs(e, n, c, t))
                    most = MAX(most, hypot(t.x - q.x, t.y - q.y));
            }
        }
    }
    return most;
}

static double
shift_of_pins(const MouldTab *tabs, guint n, double c, SolidPoint p)
{
    double turn = mould_play_turn(tabs, n, c), most = -1, best = 0, step = 2 * turn / STEPS;
    for (int i = 0; i <= STEPS; i++) {
        double a = -turn + i * step, here = farthest_in_discs(tabs, n, c, a, p);
        if (here > most) {
            most = here;
            best = a;
        }
    }
    double low = MAX(best - step, -turn), high = MIN(best + step, turn);
    for (int i = 0; i < NARROW; i++) {
        double a = high - GOLDEN * (high - low), b = low + GOLDEN * (high - low);
        double fa = farthest_in_discs(tabs, n, c, a, p), fb = farthest_in_discs(tabs, n, c, b, p);
        most = MAX(most, MAX(fa, fb));
        if (fa > fb)
            high = b;
        else
            low = a;
    }
    return most;
}

double
mould_play_shift(const MouldTab *tabs, guint n, double clearance, double x, double y)
{
    g_return_val_if_fail(n >= 1 && n <= 4, 0);
    SolidPoint p = {x, y};
    if (!(clearance > 0))
        return 0;
    if (is_round(&tabs[0]))
        return shift_of_pins(tabs, n, clearance, p);
    double turn = mould_play_turn(tabs, n, clearance), most = 0;
    for (int i = -1; i <= 1; i++)
        most = MAX(most, farthest_in_box(tabs, n, clearance, i * turn, p));
    return most;
}

static int
compare_points(gconstpointer a, gconstpointer b)
{
    const SolidPoint *p = a, *q = b;
    if (p->x != q->x)
        return p->x < q->x ? -1 : 1;
    return p->y < q->y ? -1 : p->y > q->y;
}

guint
mould_play_hull(const SolidPoint *points, guint n, SolidPoint *hull)
{
    g_autofree SolidPoint *p = g_memdup2(points, n * sizeof *points);
    guint count = 0;
    qsort(p, n, sizeof *p, compare_points);
    // Lower half from the left, then the upper from the right.
    for (int half = 0; half < 2; half++) {
        guint start = count;
        for (guint k = 0; k < n; k++) {
            SolidPoint q = p[half ? n - 1 - k : k];
            while (count >= start + 2) {
                SolidPoint a = hull[count - 2], b = hull[count - 1];
                if ((b.x - a.x) * (q.y - a.y) - (b.y - a.y) * (q.x - a.x) > 0)
                    break;
                count--;
            }
            if (count < n)
                hull[count++] = q;
        }
        if (count > start + 1)
            count--; // the end is the other half's start
    }
    return count;
}

double
mould_play_shift_most(const MouldTab *tabs, guint n, double clearance, const SolidPoint *points,
                      guint n_points)
{
    double most = 0;
    for (guint i = 0; i < n_points; i++)
        most = MAX(most, mould_play_shift(tabs, n, clearance, points[i].x, points[i].y));
    return most;
}

// One bound: offset d along an axis of a corner whose movement by turning is a times w; s of play
// more than the clearance.
typedef struct {
    double d, w, s;
} Bound;

typedef struct {
    Bound x[8], y[8];
    guint n_corners, n_tabs;
    SolidPoint offset[4], at[4]; // of pins
    double slack[4];
    gboolean pins;
} Match;

static double
clearance_along(const Bound *bounds, guint n, double a)
{
    double up = -INFINITY, down = -INFINITY;
    for (guint i = 0; i < n; i++) {
        double moved = bounds[i].d + a * bounds[i].w;
        up = MAX(up, moved - bounds[i].s);
        down = MAX(down, -moved - bounds[i].s);
    }
    double slide = CLAMP((down - up) / 2, -MOULD_NOTICE, MOULD_NOTICE);
    return MAX(up + slide, down - slide);
}

static double
clearance_of_pins(const Match *m, double a)
{
    SolidPoint v[4], middle;
    for (guint i = 0; i < m->n_tabs; i++)
        v[i] = (SolidPoint){m->offset[i].x - a * m->at[i].y, m->offset[i].y + a * m->at[i].x};
    least_circle(v, m->n_tabs, &middle);
    SolidPoint slide = {CLAMP(-middle.x, -MOULD_NOTICE, MOULD_NOTICE),
                        CLAMP(-middle.y, -MOULD_NOTICE, MOULD_NOTICE)};
    double need = -INFINITY;
    for (guint i = 0; i < m->n_tabs; i++)
        need = MAX(need, hypot(v[i].x + slide.x, v[i].y + slide.y) - m->slack[i]);
    return need;
}

static double
clearance_at(const Match *m, double a)
{
    if (m->pins)
        return clearance_of_pins(m, a);
    return MAX(clearance_along(m->x, m->n_corners, a), clearance_along(m->y, m->n_corners, a));
}

static Match
match_tabs(const MouldTab *tabs, guint n, const MouldTurn *way, const guint *socket)
{
    Match m = {.pins = is_round(&tabs[0]), .n_tabs = n};
    for (guint i = 0; i < n; i++) {
        const MouldTab *from = &tabs[i], *to = &tabs[socket[i]];
        double x = way->xx * from->x + way->xy * from->y, y = way->yx * from->x + way->yy * from->y;
        double a, b, c, d;
        half_sides(from, &a, &b);
        half_sides(to, &c, &d);
        double half_x = way->xx ? a : b, half_y = way->xx ? b : a;
        m.offset[i] = (SolidPoint){x - to->x, y - to->y};
        m.at[i] = (SolidPoint){x, y};
        m.slack[i] = c - a;
        for (int side = -1; side <= 1; side += 2) {
            m.x[m.n_corners] = (Bound){x - to->x, -(y + side * half_y), c - half_x};
            m.y[m.n_corners++] = (Bound){y - to->y, x + side * half_x, d - half_y};
        }
    }
    return m;
}

static double
close_match(const Match *m, double most_turn)
{
    double low = -most_turn, high = most_turn;
    for (int i = 0; i < NARROW; i++) {
        double a = high - GOLDEN * (high - low), b = low + GOLDEN * (high - low);
        if (clearance_at(m, a) < clearance_at(m, b))
            high = b;
        else
            low = a;
    }
    return MIN(clearance_at(m, 0), clearance_at(m, (low + high) / 2));
}

// The n-th way to give `n_tabs` tabs a socket each; FALSE when two would share one.
static gboolean
assign(guint number, guint n_tabs, guint socket[4])
{
    guint used = 0;
    for (guint i = 0; i < n_tabs; i++, number /= n_tabs) {
        socket[i] = number % n_tabs;
        if (used & (1u << socket[i]))
            return FALSE;
        used |= 1u << socket[i];
    }
    return TRUE;
}

double
mould_play_closes(const MouldTab *tabs, guint n, const MouldTurn *way)
{
    g_return_val_if_fail(n >= 1 && n <= 4, INFINITY);
    SolidPoint low, high;
    find_reach(tabs, n, &low, &high);
    double reach = MAX(MAX(-low.x, high.x), MAX(-low.y, high.y)), least = INFINITY;
    guint ways = 1;
    for (guint i = 0; i < n; i++)
        ways *= n;
    for (guint number = 0; number < ways; number++) {
        guint socket[4];
        if (!assign(number, n, socket))
            continue;
        Match m = match_tabs(tabs, n, way, socket);
        least = MIN(least, close_match(&m, MOULD_NOTICE / reach));
    }
    return least;
}
