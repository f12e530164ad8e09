// SPDX-License-Identifier: GPL-3.0-or-later
// Tapers over maps of heights, as an upper envelope of cones handed from neighbour to neighbour,
// and the parting that costs least.
#include "part/height.h"

#include <string.h>

#include "part/height-map.h"

#define LOST HEIGHT_LOST

struct HeightWork {
    gsize room;
    float *top, *bottom; // heights; of the bottom, upside down
    float *drafted[2];   // the same, widened
    float *peak;         // height of the cone that is highest over a place
    guint32 *from;       // which place it stands on: row << 16 | column
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
    g_free(w->peak);
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
    w->peak = g_new(float, n);
    w->from = g_new(guint32, n);
}

// The stub stands on the highest metal, over the middle of the shadow weighed by thickness.
static void
add_stub(const HeightView *v, const EnvelopeOptions *o, HeightWork *w)
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
// place that has some, so a cone has fallen by half a slope at least wherever it is not at home.
static inline void
offer_cone(const HeightView *v, float slope, HeightWork *w, float *out, int i, int j, gsize nb)
{
    gsize at = (gsize)j * v->nx + i;
    float peak = w->peak[nb];
    if (peak - 0.5F * slope <= out[at])
        return;
    guint32 from = w->from[nb];
    float dx = (float)(i - (int)(from & 0xFFFF)), dy = (float)(j - (int)(from >> 16));
    float t = peak - slope * (sqrtf(dx * dx + dy * dy) - 0.5F);
    if (t > out[at]) {
        out[at] = t;
        w->peak[at] = peak;
        w->from[at] = from;
    }
}

// Row j from the row before it and from the places before and after in it.
static void
widen_row(const HeightView *v, float slope, HeightWork *w, float *out, int j, int before)
{
    gsize row = (gsize)j * v->nx, last = (gsize)before * v->nx;
    gboolean inside = before >= 0 && before < v->ny;
    for (int i = 0; i < v->nx; i++) {
        for (int d = MAX(i - 1, 0); inside && d <= MIN(i + 1, v->nx - 1); d++)
            offer_cone(v, slope, w, out, i, j, last + d);
        if (i > 0)
            offer_cone(v, slope, w, out, i, j, row + i - 1);
    }
    for (int i = v->nx - 2; i >= 0; i--)
        offer_cone(v, slope, w, out, i, j, row + i + 1);
}

static void
widen_map(const HeightView *v, const float *own, double tangent, HeightWork *w, float *out)
{
    gsize n = (gsize)v->nx * v->ny;
    memcpy(out, own, n * sizeof *out);
    if (!(tangent > 0))
        return;
    memcpy(w->peak, own, n * sizeof *out);
    for (int j = 0; j < v->ny; j++)
        for (int i = 0; i < v->nx; i++)
            w->from[(gsize)j * v->nx + i] = (guint32)j << 16 | (guint32)i;
    float slope = (float)(v->pixel / tangent);
    for (int j = 0; j < v->ny; j++)
        widen_row(v, slope, w, out, j, j - 1);
    for (int j = v->ny - 1; j >= 0; j--)
        widen_row(v, slope, w, out, j, j + 1);
}

// Of n places, those whose cope reaches above h less those whose drag reaches below it.
static int
balance_places(const float *top, const float *bottom, gsize n, float h)
{
    int balance = 0;
#pragma omp simd reduction(+ : balance)
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
    for (gsize at = 0; at < n; at++) {
        double above = (double)top[at] - h, below = h + (double)bottom[at];
        sum += (above > 0 ? above : 0) + (below > 0 ? below : 0);
    }
    return sum;
}

HeightCost
height_judge(const SolidGrid *field, const EnvelopeOptions *o, double rough, Vec3 pull,
             double pixel, HeightWork *w)
{
    HeightView v = height_view(field, o, pull, pixel);
    gsize n = (gsize)v.nx * v.ny, places = 0;
    make_room(w, n);
    height_map_draw(field, &v, o->allowance, w->top, w->bottom);
    HeightCost cost = {.pull = v.z, .rough = rough};
    double low = INFINITY, high = -INFINITY, most;
    for (gsize at = 0; at < n; at++)
        if (w->top[at] > LOST) {
            low = MIN(low, -(double)w->bottom[at]);
            high = MAX(high, (double)w->top[at]);
        }
    if (!(low < high))
        return cost;
    most = high;
    if (o->stub_diameter > 0 && o->stub_height > 0) {
        add_stub(&v, o, w);
        high += o->stub_height;
    }
    height_map_crop(&v, (int)((high - low) * tan(o->draft) / pixel) + 2, w->top, w->bottom);
    n = (gsize)v.nx * v.ny;
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
