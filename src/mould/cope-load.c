// SPDX-License-Identifier: GPL-3.0-or-later
// Area and volumes with their middles, by polygons laid over one another and by the grid.
#include "mould/cope-load.h"

#include <math.h>

#include "mould/roof.h"
#include "mould/union.h"

static double
disc(double diameter)
{
    return G_PI / 4 * diameter * diameter;
}

static double
channel_length(const MouldChannel *c)
{
    return hypot(c->x2 - c->x1, c->y2 - c->y1);
}

// Neck length outside the riser, by the layout's own points.
static double
neck_length(const MouldRiser *riser, const MouldCavity *c)
{
    return hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y) - riser->diameter / 2;
}

static void
add(MouldLoad *load, double amount, double x, double y)
{
    load->sum += amount;
    load->x += amount * x;
    load->y += amount * y;
}

// From moments to the middle.
static MouldLoad
finished(MouldLoad load)
{
    return (MouldLoad){load.sum, load.x / load.sum, load.y / load.sum};
}

MouldLoad
mould_cope_seen(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    g_return_val_if_fail(l != NULL && pattern != NULL, ((MouldLoad){NAN, NAN, NAN}));
    g_autoptr(MouldUnion) u = mould_union_new();
    const SolidOutline *outline = pattern->shadow ? pattern->shadow : pattern->parting_outline;
    g_autoptr(SolidOutline) simple = outline ? solid_outline_simplified(outline, 1e-5) : NULL;
    const SolidOutline *other = l->guest ? l->guest->pattern->shadow : NULL;
    g_autoptr(SolidOutline) guest = other ? solid_outline_simplified(other, 1e-5) : NULL;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const SolidOutline *own = c->guest ? guest : simple;
        if (own)
            mould_union_add_outline(u, own, c->guest ? mould_layout_growth(l, i) : scale, c);
        mould_union_add_disc(u, c->riser_x, c->riser_y, mould_layout_riser(l, i)->diameter);
        MouldChannel neck = {
            c->riser_x, c->riser_y, c->neck_x, c->neck_y, mould_layout_neck(l, i)->width, 0};
        if (!isnan(c->riser_x))
            mould_union_add_channel(u, &neck);
    }
    for (guint i = 0; i < l->n_gates; i++)
        mould_union_add_channel(u, &l->gates[i]);
    for (guint i = 0; i < l->n_runners; i++)
        mould_union_add_channel(u, &l->runners[i]);
    mould_union_add_disc(u, l->sprue_x, l->sprue_y,
                         MAX(l->well_diameter, l->sprue_bottom_diameter));
    MouldUnionArea all = mould_union_measure(u);
    MouldLoad seen = {0};
    add(&seen, all.area, all.centre.x, all.centre.y);
    add(&seen, -disc(l->sprue_bottom_diameter), l->sprue_x, l->sprue_y);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldRiser *r = mould_layout_riser(l, i);
        if (r->open && mould_layout_has_riser(l, i))
            add(&seen, -disc(r->diameter), l->cavities[i].riser_x, l->cavities[i].riser_y);
    }
    return finished(seen);
}

// The casting above z = 0 in its own axes, m3, with cells cut by the skin or by the plane in part.
static MouldLoad
casting_above(const PatternResult *pattern, double scale)
{
    const SolidGrid *grid = pattern->casting;
    MouldLoad sum = {0};
    if (!grid)
        return sum;
    double cell = grid->cell;
    for (int k = 0; k < grid->nz; k++) {
        double above = CLAMP((grid->origin.z + k * cell) / cell + 0.5, 0, 1);
        for (int j = 0; j < grid->ny && above > 0; j++)
            for (int i = 0; i < grid->nx; i++) {
                double value = grid->value[solid_grid_index(grid, i, j, k)];
                double share = above * CLAMP(0.5 - value / cell, 0, 1);
                if (share > 0)
                    add(&sum, share, grid->origin.x + i * cell, grid->origin.y + j * cell);
            }
    }
    double volume = scale * scale * scale * cell * cell * cell;
    return (MouldLoad){volume * sum.sum, volume * scale * sum.x, volume * scale * sum.y};
}

// A casting's part in the cope, moments in its own axes, at its cavity.
static void
add_casting(MouldLoad *load, const MouldLoad *above, const MouldCavity *c)
{
    double cs = cos(c->turn), sn = sin(c->turn);
    load->sum += above->sum;
    load->x += above->sum * c->x + cs * above->x - sn * above->y;
    load->y += above->sum * c->y + sn * above->x + cs * above->y;
}

// Of the layout's own casting and of a guest's.
static void
find_above(const MouldLayout *l, const PatternResult *pattern, double scale, MouldLoad above[2])
{
    above[0] = casting_above(pattern, scale);
    above[1] = l->n_guests > 0 ? casting_above(l->guest->pattern, l->guest->growth) : above[0];
}

MouldLoad
mould_cope_roofed(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    g_return_val_if_fail(l != NULL && pattern != NULL, ((MouldLoad){NAN, NAN, NAN}));
    MouldLoad sum = {0}, above[2];
    if (!pattern->casting)
        return sum;
    find_above(l, pattern, scale, above);
    g_autoptr(MouldRoof) roof = mould_roof_new(pattern->casting, scale);
    g_autoptr(MouldRoof) guest = l->n_guests > 0 && l->guest->pattern->casting
                                     ? mould_roof_new(l->guest->pattern->casting, l->guest->growth)
                                     : NULL;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        add_casting(&sum, &above[c->guest ? 1 : 0], c);
        const MouldRiser *r = mould_layout_riser(l, i);
        if (!mould_layout_has_riser(l, i))
            continue;
        // An open one has no roof, nor has what stands under it.
        SolidPoint at = mould_roof_into(c, c->riser_x, c->riser_y);
        double riser = r->open ? -disc(r->diameter) * r->base
                               : mould_roof_beside(c->guest && guest ? guest : roof, at.x, at.y,
                                                   r->diameter, r->base + r->height);
        add(&sum, riser, c->riser_x, c->riser_y);
    }
    return finished(sum);
}

MouldLoad
mould_cope_metal(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    g_return_val_if_fail(l != NULL && pattern != NULL, ((MouldLoad){NAN, NAN, NAN}));
    double top = l->sprue_top_diameter, bottom = l->sprue_bottom_diameter;
    MouldLoad sum = {0}, above[2];
    find_above(l, pattern, scale, above);
    add(&sum, G_PI / 12 * l->sprue_height * (top * top + top * bottom + bottom * bottom),
        l->sprue_x, l->sprue_y);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const MouldNeck *neck = mould_layout_neck(l, i);
        const MouldRiser *r = mould_layout_riser(l, i);
        add_casting(&sum, &above[c->guest ? 1 : 0], c);
        if (!mould_layout_has_riser(l, i))
            continue;
        add(&sum, disc(r->diameter) * r->height, c->riser_x, c->riser_y);
        add(&sum, neck->width * neck->up * neck_length(r, c), (c->riser_x + c->neck_x) / 2,
            (c->riser_y + c->neck_y) / 2);
    }
    const MouldChannel *c = l->gates_in_drag ? l->runners : l->gates;
    for (guint i = 0; i < (l->gates_in_drag ? l->n_runners : l->n_gates); i++)
        add(&sum, c[i].width * c[i].depth * channel_length(&c[i]), (c[i].x1 + c[i].x2) / 2,
            (c[i].y1 + c[i].y2) / 2);
    return finished(sum);
}
