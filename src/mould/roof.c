// SPDX-License-Identifier: GPL-3.0-or-later
// Roofs: heights from the casting's field, with cylinder and bar laid over them.
#include "mould/roof.h"

#include <math.h>

#define RINGS 24
#define SPOKES 48

static MouldRoof *
make_roof(int nx, int ny, double cell, SolidPoint origin)
{
    MouldRoof *roof = g_new(MouldRoof, 1);
    *roof = (MouldRoof){nx, ny, cell, origin, g_new(double, (gsize)nx *ny)};
    for (gsize c = 0; c < (gsize)nx * ny; c++)
        roof->height[c] = NAN;
    return roof;
}

void
mould_roof_free(MouldRoof *roof)
{
    if (!roof)
        return;
    g_free(roof->height);
    g_free(roof);
}

MouldRoof *
mould_roof_new(const SolidGrid *g, double scale)
{
    MouldRoof *roof = make_roof(g->nx, g->ny, g->cell * scale,
                                (SolidPoint){g->origin.x * scale, g->origin.y * scale});
    gsize layer = (gsize)g->nx * g->ny;
    for (gsize c = 0; c < layer; c++) {
        double above = 1;
        for (int k = g->nz - 1; k >= 0; k--) {
            double here = g->value[(gsize)k * layer + c];
            if (here < 0) {
                double up = k + 1 < g->nz ? here / (here - above) : 0.5;
                double z = scale * (g->origin.z + (k + up) * g->cell);
                // Metal that ends at the parting may end a little under it on the grid.
                roof->height[c] = z > -roof->cell ? MAX(z, 0) : NAN;
                break;
            }
            above = here;
        }
    }
    return roof;
}

SolidPoint
mould_roof_into(const MouldCavity *cavity, double x, double y)
{
    double c = cos(cavity->turn), s = sin(cavity->turn), dx = x - cavity->x, dy = y - cavity->y;
    return (SolidPoint){c * dx + s * dy, -s * dx + c * dy};
}

SolidPoint
mould_roof_out(const MouldCavity *cavity, double x, double y)
{
    double c = cos(cavity->turn), s = sin(cavity->turn);
    return (SolidPoint){cavity->x + c * x - s * y, cavity->y + s * x + c * y};
}

// A copy with `margin` more cells all round.
static MouldRoof *
copy_wider(const MouldRoof *roof, int margin)
{
    SolidPoint origin = {roof->origin.x - margin * roof->cell,
                         roof->origin.y - margin * roof->cell};
    MouldRoof *wide = make_roof(roof->nx + 2 * margin, roof->ny + 2 * margin, roof->cell, origin);
    for (int j = 0; j < roof->ny; j++)
        for (int i = 0; i < roof->nx; i++)
            wide->height[(gsize)(j + margin) * wide->nx + i + margin] =
                roof->height[(gsize)j * roof->nx + i];
    return wide;
}

static double
distance_to_line(SolidPoint p, SolidPoint a, SolidPoint b)
{
    double dx = b.x - a.x, dy = b.y - a.y, d2 = dx * dx + dy * dy;
    double t = d2 > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / d2, 0, 1) : 0;
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

MouldRoof *
mould_roof_with_riser(const MouldRoof *roof, const MouldLayout *l, guint index)
{
    const MouldCavity *cavity = &l->cavities[index];
    const MouldRiser *r = mould_layout_riser(l, index);
    if (!mould_layout_has_riser(l, index))
        return copy_wider(roof, 0);
    SolidPoint riser = mould_roof_into(cavity, cavity->riser_x, cavity->riser_y);
    const MouldNeck *joint = mould_layout_neck(l, index);
    SolidPoint neck = mould_roof_into(cavity, cavity->neck_x, cavity->neck_y);
    double left = roof->origin.x, right = left + (roof->nx - 1) * roof->cell;
    double low = roof->origin.y, high = low + (roof->ny - 1) * roof->cell;
    double out = MAX(MAX(left - riser.x, riser.x - right), MAX(low - riser.y, riser.y - high));
    out = CLAMP(out + r->diameter / 2 + 2 * roof->cell, 0, 1);
    MouldRoof *wide = copy_wider(roof, (int)MIN(ceil(out / roof->cell), 2000));
    for (int j = 0; j < wide->ny; j++)
        for (int i = 0; i < wide->nx; i++) {
            SolidPoint p = {wide->origin.x + i * wide->cell, wide->origin.y + j * wide->cell};
            double *height = &wide->height[(gsize)j * wide->nx + i],
                   here = isnan(*height) ? -1 : *height;
            if (distance_to_line(p, riser, neck) <= MAX(joint->width / 2, 0.75 * wide->cell))
                here = MAX(here, MAX(joint->up, 0));
            if (hypot(p.x - riser.x, p.y - riser.y) <= r->diameter / 2)
                here = MAX(here, r->base + r->height);
            if (here >= 0)
                *height = here;
        }
    return wide;
}

double
mould_roof_at(const MouldRoof *roof, double x, double y)
{
    double i = floor((x - roof->origin.x) / roof->cell + 0.5);
    double j = floor((y - roof->origin.y) / roof->cell + 0.5);
    if (!(i >= 0 && j >= 0 && i < roof->nx && j < roof->ny))
        return NAN;
    return roof->height[(gsize)j * roof->nx + (gsize)i];
}

double
mould_roof_beside(const MouldRoof *roof, double x, double y, double diameter, double height)
{
    double sum = 0, all = G_PI / 4 * diameter * diameter;
    for (int ring = 0; ring < RINGS; ring++) {
        double r = diameter / 2 * sqrt((ring + 0.5) / RINGS); // rings of equal area
        for (int spoke = 0; spoke < SPOKES; spoke++) {
            double a = 2 * G_PI * (spoke + 0.5) / SPOKES;
            double under = mould_roof_at(roof, x + r * cos(a), y + r * sin(a));
            sum += MAX(0, height - (isnan(under) ? 0 : under));
        }
    }
    return all * sum / (RINGS * SPOKES);
}

typedef struct {
    double distance;
    guint32 cell;
} Step;

static gboolean
is_before(const Step *a, const Step *b)
{
    return a->distance < b->distance || (a->distance == b->distance && a->cell < b->cell);
}

static void
push(GArray *heap, Step step)
{
    g_array_append_val(heap, step);
    Step *s = (Step *)(gpointer)heap->data;
    guint at = heap->len - 1;
    for (; at > 0 && is_before(&step, &s[(at - 1) / 2]); at = (at - 1) / 2)
        s[at] = s[(at - 1) / 2];
    s[at] = step;
}

static Step
pop(GArray *heap)
{
    Step *s = (Step *)(gpointer)heap->data;
    Step first = s[0], last = s[heap->len - 1];
    guint at = 0, n = heap->len - 1;
    g_array_set_size(heap, n);
    while (2 * at + 1 < n) {
        guint child = 2 * at + 1;
        if (child + 1 < n && is_before(&s[child + 1], &s[child]))
            child++;
        if (!is_before(&s[child], &last))
            break;
        s[at] = s[child];
        at = child;
    }
    if (n > 0)
        s[at] = last;
    return first;
}

double *
mould_roof_distance(const MouldRoof *roof, double x, double y, double reach)
{
    static const int step[16][2] = {{1, 0},  {-1, 0},  {0, 1},  {0, -1}, {1, 1},  {1, -1},
                                    {-1, 1}, {-1, -1}, {2, 1},  {2, -1}, {-2, 1}, {-2, -1},
                                    {1, 2},  {1, -2},  {-1, 2}, {-1, -2}};
    gsize total = (gsize)roof->nx * roof->ny;
    double *distance = g_new(double, total);
    g_autoptr(GArray) heap = g_array_new(FALSE, FALSE, sizeof(Step));
    for (gsize c = 0; c < total; c++) {
        double dx = roof->origin.x + (double)(c % roof->nx) * roof->cell - x;
        double dy = roof->origin.y + (double)(c / roof->nx) * roof->cell - y;
        distance[c] = NAN;
        if (!isnan(roof->height[c]) && hypot(dx, dy) <= reach) {
            distance[c] = 0;
            push(heap, (Step){0, (guint32)c});
        }
    }
    while (heap->len > 0) {
        Step at = pop(heap);
        if (at.distance > distance[at.cell])
            continue;
        int i = (int)(at.cell % (guint32)roof->nx), j = (int)(at.cell / (guint32)roof->nx);
        for (int k = 0; k < 16; k++) {
            int u = i + step[k][0], v = j + step[k][1];
            if (u < 0 || v < 0 || u >= roof->nx || v >= roof->ny)
                continue;
            gsize other = (gsize)v * roof->nx + u;
            double to = at.distance + roof->cell * hypot(step[k][0], step[k][1]);
            if (isnan(roof->height[other]) || distance[other] <= to)
                continue;
            distance[other] = to;
            push(heap, (Step){to, (guint32)other});
        }
    }
    return distance;
}
