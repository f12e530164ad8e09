// SPDX-License-Identifier: GPL-3.0-or-later
// Vents from the roof of each cavity. Cavities that lie alike to their gate and riser share them.
#include "mould/vents.h"

#include <math.h>

#include "mould/peak.h"

#define ALIKE 1e-6       // m
#define SEARCH 0.005     // m; a far corner is vented at the highest place within it
#define MOST_VENTS 12    // of a cavity; a roof with more humps than that is rough, not vented
#define RAISE_CELLS 0.5  // cells; a hump is no lower than the raster can show
#define FLAT_CELLS 0.125 // cells; a flat top may be so uneven

// How a cavity lies to what feeds it, in its own axes.
typedef struct {
    SolidPoint gate, riser, neck;
    double gate_width;
    const MouldRiser *post; // of the layout
} Feeding;

double
mould_vent_diameter(double depth, double wire)
{
    double step = 0.0005, wide = step * ceil(depth / MOULD_VENT_SLENDER / step - 1e-9);
    return MAX(wire, wide);
}

static Feeding
feeding_of(const MouldLayout *l, guint i)
{
    const MouldCavity *c = &l->cavities[i];
    Feeding f = {{NAN, NAN}, {NAN, NAN}, {NAN, NAN}, 0, mould_layout_riser(l, i)};
    if (mould_layout_has_riser(l, i)) {
        f.riser = mould_roof_into(c, c->riser_x, c->riser_y);
        f.neck = mould_roof_into(c, c->neck_x, c->neck_y);
    }
    if (i < l->n_gates) {
        f.gate = mould_roof_into(c, l->gates[i].x2, l->gates[i].y2);
        f.gate_width = l->gates[i].width;
    }
    return f;
}

static gboolean
is_alike(SolidPoint a, SolidPoint b)
{
    return (isnan(a.x) && isnan(b.x)) || hypot(a.x - b.x, a.y - b.y) < ALIKE;
}

static gboolean
is_clear(const GArray *vents, double x, double y)
{
    for (guint i = 0; i < vents->len; i++) {
        const MouldVent *v = &g_array_index(vents, MouldVent, i);
        if (hypot(v->x - x, v->y - y) < MOULD_VENT_NEAR)
            return FALSE;
    }
    return TRUE;
}

static void
add_vent(GArray *vents, MouldVentKind kind, double x, double y, double z)
{
    MouldVent vent = {.kind = kind, .x = x, .y = y, .z = z};
    if (vents->len < MOST_VENTS)
        g_array_append_val(vents, vent);
}

static void
add_peaks(const MouldRoof *roof, const Feeding *f, GArray *vents)
{
    double least = MAX(MOULD_VENT_RISE, RAISE_CELLS * roof->cell);
    g_autoptr(GArray) peaks = mould_peaks(roof->height, roof->nx, roof->ny, 0, least,
                                          FLAT_CELLS * roof->cell);
    for (guint k = 0; k < peaks->len; k++) {
        const MouldPeak *p = &g_array_index(peaks, MouldPeak, k);
        double x = roof->origin.x + p->i * roof->cell, y = roof->origin.y + p->j * roof->cell;
        if (!(p->value >= least))
            continue;
        double riser = f->post->base + f->post->height;
        gboolean in_riser = hypot(x - f->riser.x, y - f->riser.y) <= f->post->diameter / 2 &&
                            p->value <= riser + least;
        // An open riser lets the air out itself.
        if (in_riser && !f->post->open)
            add_vent(vents, MOULD_VENT_RISER, f->riser.x, f->riser.y, riser);
        else if (!in_riser)
            add_vent(vents, MOULD_VENT_PEAK, x, y, p->value);
    }
}

// The highest cell within SEARCH of a cell, the nearest of equal ones.
static SolidPoint
find_highest(const MouldRoof *roof, int i, int j, double *height)
{
    int reach = (int)ceil(SEARCH / roof->cell);
    double nearest = INFINITY;
    SolidPoint best = {NAN, NAN};
    *height = -1;
    for (int v = MAX(j - reach, 0); v <= MIN(j + reach, roof->ny - 1); v++)
        for (int u = MAX(i - reach, 0); u <= MIN(i + reach, roof->nx - 1); u++) {
            double d = roof->cell * hypot(u - i, v - j), h = roof->height[(gsize)v * roof->nx + u];
            double even = FLAT_CELLS * roof->cell;
            if (isnan(h) || d > SEARCH || h < *height - even ||
                (h < *height + even && d >= nearest))
                continue;
            *height = h;
            nearest = d;
            best = (SolidPoint){roof->origin.x + u * roof->cell, roof->origin.y + v * roof->cell};
        }
    return best;
}

static void
add_far(const MouldRoof *roof, const Feeding *f, GArray *vents)
{
    if (isnan(f->gate.x))
        return;
    g_autofree double *distance = mould_roof_distance(roof, f->gate.x, f->gate.y,
                                                      f->gate_width / 2 + 1.5 * roof->cell);
    g_autoptr(GArray) peaks = mould_peaks(distance, roof->nx, roof->ny, 0, MOULD_VENT_CORNER, 0);
    for (guint k = 0; k < peaks->len; k++) {
        const MouldPeak *p = &g_array_index(peaks, MouldPeak, k);
        const MouldPeak *farthest = &g_array_index(peaks, MouldPeak, 0);
        double height;
        SolidPoint at = find_highest(roof, p->i, p->j, &height);
        if (p->value < MAX(MOULD_VENT_FAR, farthest->value / 2) || height < MOULD_VENT_RISE)
            continue;
        if (is_clear(vents, at.x, at.y) &&
            !(hypot(at.x - f->riser.x, at.y - f->riser.y) < f->post->diameter / 2 + SEARCH))
            add_vent(vents, MOULD_VENT_FAR_FROM_GATE, at.x, at.y, height);
    }
}

// Of the cavities of one casting, added to `all`.
static void
find_vents(const MouldLayout *l, const SolidGrid *casting, double scale, double wire,
           gboolean guest, GArray *all)
{
    g_autoptr(MouldRoof) plain = mould_roof_new(casting, scale);
    g_autoptr(GArray) own = g_array_new(FALSE, FALSE, sizeof(MouldVent));
    Feeding last = {{NAN, NAN}, {NAN, NAN}, {NAN, NAN}, -1, NULL};
    gboolean first = TRUE;
    for (guint i = 0; i < l->n_cavities; i++) {
        if (l->cavities[i].guest != guest)
            continue;
        Feeding f = feeding_of(l, i);
        if (first || !is_alike(f.gate, last.gate) || !is_alike(f.riser, last.riser) ||
            !is_alike(f.neck, last.neck)) {
            g_autoptr(MouldRoof) roof = mould_roof_with_riser(plain, l, i);
            g_array_set_size(own, 0);
            add_peaks(roof, &f, own);
            add_far(roof, &f, own);
            last = f;
            first = FALSE;
        }
        for (guint k = 0; k < own->len; k++) {
            MouldVent vent = g_array_index(own, MouldVent, k);
            SolidPoint at = mould_roof_out(&l->cavities[i], vent.x, vent.y);
            vent.x = at.x;
            vent.y = at.y;
            vent.cavity = i;
            vent.depth = l->cope - vent.z;
            vent.diameter = mould_vent_diameter(vent.depth, wire);
            g_array_append_val(all, vent);
        }
    }
}

void
mould_vents_find(MouldLayout *l, const SolidGrid *casting, double scale, double wire)
{
    g_return_if_fail(l != NULL && casting != NULL);
    g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(MouldVent));
    find_vents(l, casting, scale, wire, FALSE, all);
    if (l->n_guests > 0 && l->guest && l->guest->pattern->casting)
        find_vents(l, l->guest->pattern->casting, l->guest->growth, wire, TRUE, all);
    g_free(l->vents);
    l->n_vents = all->len;
    l->vents = (MouldVent *)(gpointer)g_array_free(g_steal_pointer(&all), FALSE);
}
