// SPDX-License-Identifier: GPL-3.0-or-later
// Maps of heights by walking down the distance field, which says how far one may go without
// meeting metal; tapers as an upper envelope of cones handed from neighbour to neighbour.
#include "part/height.h"

#include "part/pull.h"

#define LOST (-1e30F)   // no metal over this place
#define SKEW 0.55357436 // rad; turns the maps so that straight edges do not run along their rows

struct HeightWork {
    gsize room;
    float *top, *bottom; // heights; of the bottom, upside down
    float *drafted[2];   // the same, widened
    guint32 *from;       // which place a cone stands on
};

HeightWork *
height_work_new(void)
{
    return g_new0(HeightWork, 1);
}

static void
clear_work(HeightWork *w)
{
    g_free(w->top);
    g_free(w->bottom);
    g_free(w->drafted[0]);
    g_free(w->drafted[1]);
    g_free(w->from);
}

void
height_work_free(HeightWork *work)
{
    if (!work)
        return;
    clear_work(work);
    g_free(work);
}

static void
make_room(HeightWork *w, gsize n)
{
    if (n <= w->room)
        return;
    clear_work(w);
    w->room = n;
    w->top = g_new(float, n);
    w->bottom = g_new(float, n);
    w->drafted[0] = g_new(float, n);
    w->drafted[1] = g_new(float, n);
    w->from = g_new(guint32, n);
}

// A line through the field in cells: from + s * way, s in metres.
typedef struct {
    double from[3], way[3];
    double enter, leave; // where it is inside the grid
} Line;

static gboolean
clip_line(const SolidGrid *g, Line *line)
{
    int n[3] = {g->nx, g->ny, g->nz};
    line->enter = -INFINITY;
    line->leave = INFINITY;
    for (int a = 0; a < 3; a++) {
        double p = line->from[a], w = line->way[a], most = n[a] - 1.000001;
        if (fabs(w) * g->cell < 1e-9) {
            if (p < 0 || p > most)
                return FALSE;
            continue;
        }
        double s = -p / w, t = (most - p) / w;
        line->enter = fmax(line->enter, fmin(s, t));
        line->leave = fmin(line->leave, fmax(s, t));
    }
    return line->enter < line->leave;
}

static inline double
sample_field(const SolidGrid *g, const Line *line, double s)
{
    double x = line->from[0] + s * line->way[0], y = line->from[1] + s * line->way[1];
    double z = line->from[2] + s * line->way[2];
    int i = CLAMP((int)x, 0, g->nx - 2), j = CLAMP((int)y, 0, g->ny - 2);
    int k = CLAMP((int)z, 0, g->nz - 2);
    float u = (float)(x - i), v = (float)(y - j), w = (float)(z - k);
    gsize dj = (gsize)g->nx, dk = dj * (gsize)g->ny;
    const float *p = g->value + solid_grid_index(g, i, j, k), *q = p + dk;
    float a = p[0] + u * (p[1] - p[0]), b = p[dj] + u * (p[dj + 1] - p[dj]);
    float c = q[0] + u * (q[1] - q[0]), d = q[dj] + u * (q[dj + 1] - q[dj]);
    float low = a + v * (b - a), high = c + v * (d - c);
    return (double)(low + w * (high - low));
}

// First place along the line, from `s` by `sense`, where the field falls to `level`; NAN for none.
static double
walk_line(const SolidGrid *g, const Line *line, double level, double s, double end, int sense)
{
    double before = INFINITY, last = s, least = 0.4 * g->cell;
    while (sense * (end - s) >= 0) {
        double d = sample_field(g, line, s) - level;
        if (d <= 0)
            return isinf(before) ? s : last + (s - last) * before / (before - d);
        before = d;
        last = s;
        // Far off, the field may say a little too much.
        double step = d > 3 * g->cell ? d - 1.5 * g->cell : 0.95 * d;
        s += sense * fmax(step, least);
    }
    return NAN;
}

// The plane the maps lie in.
typedef struct {
    Vec3 x, y, z, start; // axes; place of the first pixel at height 0
    int nx, ny;
    double pixel, low, high; // heights the metal can have
} View;

static View
make_view(const SolidGrid *g, const EnvelopeOptions *o, Vec3 pull, double pixel)
{
    double r[9], size[3] = {(g->nx - 1) * g->cell, (g->ny - 1) * g->cell, (g->nz - 1) * g->cell};
    pull_rotation(pull, r);
    Vec3 x = vec3(r[0], r[1], r[2]), y = vec3(r[3], r[4], r[5]);
    View v = {.z = vec3(r[6], r[7], r[8]), .pixel = pixel};
    v.x = vec3_add(vec3_scale(x, cos(SKEW)), vec3_scale(y, sin(SKEW)));
    v.y = vec3_cross(v.z, v.x);
    Vec3 middle = vec3_add(g->origin, vec3(size[0] / 2, size[1] / 2, size[2] / 2));
    double half[3];
    const Vec3 *axes[3] = {&v.x, &v.y, &v.z};
    for (int a = 0; a < 3; a++)
        half[a] = 0.5 * (fabs(axes[a]->x) * size[0] + fabs(axes[a]->y) * size[1] +
                         fabs(axes[a]->z) * size[2]);
    double stub = o->stub_diameter > 0 ? o->stub_height : 0;
    double wide = (2 * half[2] + stub) * tan(o->draft) + pixel;
    v.nx = (int)ceil(2 * (half[0] + wide) / pixel) + 1;
    v.ny = (int)ceil(2 * (half[1] + wide) / pixel) + 1;
    double height = vec3_dot(middle, v.z);
    v.low = height - half[2];
    v.high = height + half[2];
    v.start = vec3_sub(middle, vec3_scale(v.z, height));
    v.start = vec3_sub(v.start, vec3_scale(v.x, 0.5 * (v.nx - 1) * pixel));
    v.start = vec3_sub(v.start, vec3_scale(v.y, 0.5 * (v.ny - 1) * pixel));
    return v;
}

static void
draw_maps(const SolidGrid *g, const View *v, double level, HeightWork *w)
{
    for (int j = 0; j < v->ny; j++)
        for (int i = 0; i < v->nx; i++) {
            gsize at = (gsize)j * v->nx + i;
            Vec3 p = vec3_add(
                v->start, vec3_add(vec3_scale(v->x, i * v->pixel), vec3_scale(v->y, j * v->pixel)));
            Vec3 q = vec3_scale(vec3_sub(p, g->origin), 1 / g->cell);
            Line line = {
                {q.x, q.y, q.z}, {v->z.x / g->cell, v->z.y / g->cell, v->z.z / g->cell}, 0, 0};
            w->top[at] = w->bottom[at] = LOST;
            if (!clip_line(g, &line))
                continue;
            double high = walk_line(g, &line, level, line.leave, line.enter, -1);
            if (isnan(high))
                continue;
            double low = walk_line(g, &line, level, line.enter, high, 1);
            w->top[at] = (float)high;
            w->bottom[at] = (float)-(isnan(low) ? high : low);
        }
}

// The stub stands on the highest metal, over the middle of the shadow weighed by thickness.
static void
add_stub(const View *v, const EnvelopeOptions *o, HeightWork *w)
{
    double sum = 0, x = 0, y = 0, r = o->stub_diameter / 2 / v->pixel;
    float high = LOST;
    for (int j = 0; j < v->ny; j++)
        for (int i = 0; i < v->nx; i++) {
            gsize at = (gsize)j * v->nx + i;
            if (w->top[at] <= LOST)
                continue;
            double thick = (double)w->top[at] + (double)w->bottom[at];
            sum += thick;
            x += thick * i;
            y += thick * j;
            high = fmaxf(high, w->top[at]);
        }
    if (!(sum > 0))
        return;
    for (int j = 0; j < v->ny; j++)
        for (int i = 0; i < v->nx; i++)
            if (hypot(i - x / sum, j - y / sum) <= r) {
                gsize at = (gsize)j * v->nx + i;
                w->top[at] = high + (float)o->stub_height;
                if (w->bottom[at] <= LOST)
                    w->bottom[at] = -high;
            }
}

// Taken from a neighbour's cone: the metal's edge lies on average half a pixel beyond the last
// place that has some.
static inline void
offer_cone(const View *v, const float *own, float slope, HeightWork *w, float *out, int i, int j,
           int fi, int fj)
{
    if (fi < 0 || fi >= v->nx || fj < 0 || fj >= v->ny)
        return;
    guint32 from = w->from[(gsize)fj * v->nx + fi];
    if (own[from] <= LOST)
        return;
    float dx = (float)(i - (int)(from % (guint32)v->nx));
    float dy = (float)(j - (int)(from / (guint32)v->nx));
    float t = own[from] - slope * fmaxf(0, sqrtf(dx * dx + dy * dy) - 0.5F);
    gsize at = (gsize)j * v->nx + i;
    if (t > out[at]) {
        out[at] = t;
        w->from[at] = from;
    }
}

static void
widen_map(const View *v, const float *own, double tangent, HeightWork *w, float *out)
{
    gsize n = (gsize)v->nx * v->ny;
    for (gsize at = 0; at < n; at++) {
        out[at] = own[at];
        w->from[at] = (guint32)at;
    }
    if (!(tangent > 0))
        return;
    float slope = (float)(v->pixel / tangent);
    for (int way = 1; way >= -1; way -= 2)
        for (int s = 0; s < v->ny; s++) {
            int j = way > 0 ? s : v->ny - 1 - s;
            for (int i = 0; i < v->nx; i++) {
                for (int d = -1; d <= 1; d++)
                    offer_cone(v, own, slope, w, out, i, j, i + d, j - way);
                offer_cone(v, own, slope, w, out, i, j, i - 1, j);
            }
            for (int i = v->nx - 2; i >= 0; i--)
                offer_cone(v, own, slope, w, out, i, j, i + 1, j);
        }
}

// Of n places, those whose cope reaches above h less those whose drag reaches below it.
static int
balance_places(const float *top, const float *bottom, gsize n, float h)
{
    int balance = 0;
    for (gsize at = 0; at < n; at++)
        balance += (bottom[at] > -h) - (top[at] > h);
    return balance;
}

// The cost of a parting at h falls with h as long as more places reach above h than below.
static double
find_parting(const float *top, const float *bottom, gsize n, double low, double high, double most)
{
    double ends[2];
    for (int side = 0; side < 2; side++) {
        double a = low, b = high;
        for (int step = 0; step < 20; step++) {
            double h = 0.5 * (a + b);
            int balance = balance_places(top, bottom, n, (float)h);
            if (balance < 0 || (side && balance == 0))
                a = h;
            else
                b = h;
        }
        ends[side] = 0.5 * (a + b);
    }
    double middle = 0.5 * (low + high);
    return fmin(most, CLAMP(middle, fmin(ends[0], ends[1]), fmax(ends[0], ends[1])));
}

static double
sum_body(const float *top, const float *bottom, gsize n, double h)
{
    double sum = 0;
    for (gsize at = 0; at < n; at++)
        sum += fmax(0, (double)top[at] - h) + fmax(0, h + (double)bottom[at]);
    return sum;
}

HeightCost
height_judge(const SolidGrid *field, const EnvelopeOptions *o, double rough, Vec3 pull,
             double pixel, HeightWork *w)
{
    View v = make_view(field, o, pull, pixel);
    gsize n = (gsize)v.nx * v.ny, places = 0;
    make_room(w, n);
    draw_maps(field, &v, o->allowance, w);
    HeightCost cost = {.pull = v.z, .rough = rough};
    double low = INFINITY, high = -INFINITY, most;
    for (gsize at = 0; at < n; at++)
        if (w->top[at] > LOST) {
            low = fmin(low, -(double)w->bottom[at]);
            high = fmax(high, (double)w->top[at]);
        }
    if (!(low < high))
        return cost;
    most = high;
    if (o->stub_diameter > 0 && o->stub_height > 0) {
        add_stub(&v, o, w);
        high += o->stub_height;
    }
    widen_map(&v, w->top, tan(o->draft), w, w->drafted[0]);
    widen_map(&v, w->bottom, tan(o->draft), w, w->drafted[1]);
    double h = find_parting(w->drafted[0], w->drafted[1], n, low, high, most);
    for (gsize at = 0; at < n; at++)
        places += (double)w->drafted[0][at] > h || -(double)w->drafted[1][at] < h;
    double area = pixel * pixel;
    cost.parting = h;
    cost.drawn = area * sum_body(w->top, w->bottom, n, h);
    cost.drafted = area * sum_body(w->drafted[0], w->drafted[1], n, h);
    cost.depth_cope = fmax(0, high - h);
    cost.depth_drag = fmax(0, h - low);
    cost.parting_area = area * (double)places;
    return cost;
}
