// SPDX-License-Identifier: GPL-3.0-or-later
// Distance in a layer. The line of sign change is a chain of straight pieces whose points lie
// between neighbouring cells, to a share of a cell. Each cell near a point is offered it; passes
// over the rows hand points on to neighbours, each keeping the nearest offered; in the end the
// distance is taken to the two pieces that meet in the nearest point.
#include "part/planar.h"

#include <math.h>

#include "solid/share.h"

#define NONE G_MAXUINT32

// In cells: how long a wall is followed from a corner, how far it may bend, how far off the corner
// may lie.
#define STRETCH 1.6
#define STRAIGHT 0.05
#define FURTHEST 2.0
#define MOST_STEPS 6
#define COS_TURN 0.87 // of the least angle the line turns by

typedef struct {
    float x, y; // cells
    guint32 next[2];
} Point;

struct PlanarWork {
    int nx, ny;
    double cell;      // m
    GArray *points;   // Point
    guint32 *edge;    // point on the edge from a cell towards +x (2n) and +y (2n + 1)
    guint32 *nearest; // per cell, a point
    float *d2;        // to it, cells squared
};

PlanarWork *
planar_work_new(int nx, int ny)
{
    PlanarWork *work = g_new0(PlanarWork, 1);
    gsize n = (gsize)nx * ny;
    work->nx = nx;
    work->ny = ny;
    work->points = g_array_new(FALSE, FALSE, sizeof(Point));
    work->edge = g_new(guint32, 2 * n);
    work->nearest = g_new(guint32, n);
    work->d2 = g_new(float, n);
    return work;
}

void
planar_work_free(PlanarWork *work)
{
    if (!work)
        return;
    g_array_unref(work->points);
    g_free(work->edge);
    g_free(work->nearest);
    g_free(work->d2);
    g_free(work);
}

static void
offer_point(PlanarWork *w, int i, int j, guint32 point)
{
    const Point *p = &g_array_index(w->points, Point, point);
    gsize at = (gsize)j * w->nx + i;
    float dx = p->x - (float)i, dy = p->y - (float)j, d2 = dx * dx + dy * dy;
    if (d2 < w->d2[at]) {
        w->d2[at] = d2;
        w->nearest[at] = point;
    }
}

// Where between two neighbours along an axis, of which the first is the `at`-th of its line.
static float
find_share(const PlanarWork *w, const float *value, gsize a, gsize b, int at, int way)
{
    gssize step = (gssize)(b - a);
    int after = (way ? w->ny : w->nx) - 1 - at;
    gboolean in = value[a] <= 0;
    ShareLine line = in ? solid_share_line(value + a, step, at, after, w->cell)
                        : solid_share_line(value + b, -step, after - 1, at + 1, w->cell);
    ShareSide side;
    double share = solid_share(&line, &side);
    return (float)(in ? share : 1 - share);
}

static void
add_point(PlanarWork *w, const float *value, int i, int j, int way)
{
    gsize a = (gsize)j * w->nx + i, b = a + (way ? (gsize)w->nx : 1);
    w->edge[2 * a + way] = NONE;
    if ((value[a] <= 0) == (value[b] <= 0))
        return;
    float t = find_share(w, value, a, b, way ? j : i, way);
    Point p = {(float)i + (way ? 0 : t), (float)j + (way ? t : 0), {NONE, NONE}};
    guint32 index = w->points->len;
    w->edge[2 * a + way] = index;
    g_array_append_val(w->points, p);
    for (int y = MAX(j - 2, 0); y <= MIN(j + 2 + way, w->ny - 1); y++)
        for (int x = MAX(i - 2, 0); x <= MIN(i + 2 + !way, w->nx - 1); x++)
            offer_point(w, x, y, index);
}

static void
join_points(PlanarWork *w, guint32 a, guint32 b)
{
    Point *p = &g_array_index(w->points, Point, a), *q = &g_array_index(w->points, Point, b);
    p->next[p->next[0] == NONE ? 0 : 1] = b;
    q->next[q->next[0] == NONE ? 0 : 1] = a;
}

// The pieces in the square whose lower corner is (i,j).
static void
join_square(PlanarWork *w, const float *value, int i, int j)
{
    gsize a = (gsize)j * w->nx + i, up = a + (gsize)w->nx;
    guint32 side[4] = {w->edge[2 * a], w->edge[2 * (a + 1) + 1], w->edge[2 * up],
                       w->edge[2 * a + 1]};
    int found[4], n = 0;
    for (int s = 0; s < 4; s++)
        if (side[s] != NONE)
            found[n++] = s;
    if (n == 2) {
        join_points(w, side[found[0]], side[found[1]]);
    } else if (n == 4) {
        float middle = value[a] + value[a + 1] + value[up] + value[up + 1];
        // Either the corners (i,j) and (i+1,j+1) are cut off, or the other two.
        gboolean cut_first = (value[a] <= 0) != (middle <= 0);
        join_points(w, side[0], side[cut_first ? 3 : 1]);
        join_points(w, side[2], side[cut_first ? 1 : 3]);
    }
}

static void
find_points(PlanarWork *w, const float *value)
{
    g_array_set_size(w->points, 0);
    for (gsize n = 0; n < (gsize)w->nx * w->ny; n++) {
        w->nearest[n] = NONE;
        w->d2[n] = INFINITY;
        w->edge[2 * n] = w->edge[2 * n + 1] = NONE;
    }
    for (int j = 0; j < w->ny; j++)
        for (int i = 0; i < w->nx; i++) {
            if (i + 1 < w->nx)
                add_point(w, value, i, j, 0);
            if (j + 1 < w->ny)
                add_point(w, value, i, j, 1);
        }
    if (w->points->len == 0)
        return;
    for (int j = 0; j + 1 < w->ny; j++)
        for (int i = 0; i + 1 < w->nx; i++)
            join_square(w, value, i, j);
}

// The straight stretch of line that ends in point `at`, coming from the side of `from` on: a unit
// vector along it towards `at`. FALSE if it is bent or soon ends.
static gboolean
find_straight(const PlanarWork *w, guint32 at, guint32 not_by, double way[2])
{
    const Point *points = (const Point *)(gpointer)w->points->data, *p = &points[at];
    double x[MOST_STEPS], y[MOST_STEPS], length = 0;
    guint32 before = not_by, here = at;
    int n = 0;
    while (n < MOST_STEPS && length < STRETCH) {
        guint32 next = points[here].next[points[here].next[0] == before ? 1 : 0];
        if (next == NONE || next == at)
            return FALSE;
        before = here;
        here = next;
        x[n] = (double)p->x - points[here].x;
        y[n] = (double)p->y - points[here].y;
        length = hypot(x[n], y[n]);
        n++;
    }
    if (length < STRETCH)
        return FALSE;
    way[0] = x[n - 1] / length;
    way[1] = y[n - 1] / length;
    for (int i = 0; i + 1 < n; i++)
        if (fabs(x[i] * way[1] - y[i] * way[0]) > STRAIGHT)
            return FALSE;
    return TRUE;
}

// Where the straight stretches on both sides of the piece from p to q, carried on, meet.
static gboolean
find_corner(const PlanarWork *w, guint32 p, guint32 q, double *x, double *y)
{
    const Point *points = (const Point *)(gpointer)w->points->data;
    double u[2], v[2];
    if (!find_straight(w, p, q, u) || !find_straight(w, q, p, v))
        return FALSE;
    double dx = (double)points[q].x - points[p].x, dy = (double)points[q].y - points[p].y;
    double turn = u[0] * v[1] - u[1] * v[0], back = u[0] * v[0] + u[1] * v[1];
    if (-back > COS_TURN || fabs(turn) < 1e-3)
        return FALSE;
    double s = (dx * v[1] - dy * v[0]) / turn, r = (dx * u[1] - dy * u[0]) / turn;
    if (!(s > 0 && r > 0 && s < FURTHEST && r < FURTHEST))
        return FALSE;
    *x = (double)points[p].x + s * u[0];
    *y = (double)points[p].y + s * u[1];
    return TRUE;
}

static void
replace_next(Point *point, guint32 old, guint32 new)
{
    point->next[point->next[0] == old ? 0 : 1] = new;
}

static void
offer_about(PlanarWork *w, guint32 point)
{
    const Point *p = &g_array_index(w->points, Point, point);
    int i = (int)floorf(p->x), j = (int)floorf(p->y);
    for (int y = MAX(j - 2, 0); y <= MIN(j + 3, w->ny - 1); y++)
        for (int x = MAX(i - 2, 0); x <= MIN(i + 3, w->nx - 1); x++)
            offer_point(w, x, y, point);
}

// A corner of the outline lies within a square, between its points on the square's sides, and is
// given a point of its own. All are found before any is put in.
static void
sharpen_corners(PlanarWork *w)
{
    guint32 n = w->points->len;
    g_autoptr(GArray) corners = g_array_new(FALSE, FALSE, sizeof(Point));
    for (guint32 p = 0; p < n; p++)
        for (int side = 0; side < 2; side++) {
            guint32 q = g_array_index(w->points, Point, p).next[side];
            double x, y;
            if (q == NONE || q < p || !find_corner(w, p, q, &x, &y))
                continue;
            Point corner = {(float)x, (float)y, {p, q}};
            g_array_append_val(corners, corner);
        }
    for (guint32 c = 0; c < corners->len; c++) {
        Point corner = g_array_index(corners, Point, c);
        guint32 index = w->points->len;
        g_array_append_val(w->points, corner);
        replace_next(&g_array_index(w->points, Point, corner.next[0]), corner.next[1], index);
        replace_next(&g_array_index(w->points, Point, corner.next[1]), corner.next[0], index);
        offer_about(w, index);
    }
}

static void
take_from(PlanarWork *w, int i, int j, int from_i, int from_j)
{
    if (from_i < 0 || from_i >= w->nx || from_j < 0 || from_j >= w->ny)
        return;
    guint32 point = w->nearest[(gsize)from_j * w->nx + from_i];
    if (point != NONE)
        offer_point(w, i, j, point);
}

// One row takes from the row before it, then from its own neighbours both ways.
static void
pass_row(PlanarWork *w, int j, int before)
{
    for (int i = 0; i < w->nx; i++) {
        for (int d = -1; d <= 1; d++)
            take_from(w, i, j, i + d, before);
        take_from(w, i, j, i - 1, j);
    }
    for (int i = w->nx - 2; i >= 0; i--)
        take_from(w, i, j, i + 1, j);
}

// The nearest place (x,y in cells) of the two pieces that meet in a point; the distance in cells.
static double
find_foot(const PlanarWork *w, int i, int j, guint32 point, double *x, double *y)
{
    const Point *p = &g_array_index(w->points, Point, point);
    double px = i - (double)p->x, py = j - (double)p->y, best = px * px + py * py;
    *x = (double)p->x;
    *y = (double)p->y;
    for (int s = 0; s < 2; s++) {
        if (p->next[s] == NONE)
            continue;
        const Point *q = &g_array_index(w->points, Point, p->next[s]);
        double dx = (double)q->x - p->x, dy = (double)q->y - p->y, n = dx * dx + dy * dy;
        double t = n > 0 ? CLAMP((px * dx + py * dy) / n, 0.0, 1.0) : 0;
        double ex = px - t * dx, ey = py - t * dy;
        if (ex * ex + ey * ey < best) {
            best = ex * ex + ey * ey;
            *x = (double)p->x + t * dx;
            *y = (double)p->y + t * dy;
        }
    }
    return sqrt(best);
}

gboolean
planar_inward(const PlanarWork *w, int i, int j, gboolean inside, double steps, int *x, int *y)
{
    if (w->points->len == 0)
        return FALSE;
    double fx, fy, d = find_foot(w, i, j, w->nearest[(gsize)j * w->nx + i], &fx, &fy);
    double way = d > 1e-6 ? (inside ? steps : -steps) / d : 0;
    *x = (int)floor(fx + way * (i - fx) + 0.5);
    *y = (int)floor(fy + way * (j - fy) + 0.5);
    return *x >= 0 && *x < w->nx && *y >= 0 && *y < w->ny;
}

void
planar_distance(const float *value, int nx, int ny, double cell, double far, float *out,
                PlanarWork *w)
{
    g_return_if_fail(w->nx == nx && w->ny == ny);
    w->cell = cell;
    find_points(w, value);
    sharpen_corners(w);
    gsize n = (gsize)nx * ny;
    if (w->points->len == 0) {
        for (gsize at = 0; at < n; at++)
            out[at] = (float)(value[at] <= 0 ? -far : far);
        return;
    }
    for (int j = 0; j < ny; j++)
        pass_row(w, j, j - 1);
    for (int j = ny - 1; j >= 0; j--)
        pass_row(w, j, j + 1);
    for (int j = 0; j < ny; j++)
        for (int i = 0; i < nx; i++) {
            gsize at = (gsize)j * nx + i;
            double x, y, d = cell * find_foot(w, i, j, w->nearest[at], &x, &y);
            out[at] = (float)(value[at] <= 0 ? -d : d);
        }
}
