// SPDX-License-Identifier: GPL-3.0-or-later
// Charge make-up. Shares are those of a full crucible, and a smaller charge takes the same: so the
// loss does not depend on the charge that depends on the loss.
#include "melt/makeup.h"

#include <math.h>
#include <string.h>

double
melt_extra_loss(LotForm form, LotState state)
{
    static const double forms[LOT_FORM_COUNT] = {
        [LOT_INGOT] = 0.0, [LOT_CASTINGS] = 0.005, [LOT_RETURNS] = 0.01, [LOT_CHIPS] = 0.08};
    static const double states[LOT_STATE_COUNT] = {
        [LOT_CLEAN] = 0.0,   [LOT_OILY] = 0.02,    [LOT_PAINTED] = 0.02,
        [LOT_COATED] = 0.01, [LOT_UNKNOWN] = 0.02, [LOT_MIXED] = 0.02};
    g_return_val_if_fail(form < LOT_FORM_COUNT && state < LOT_STATE_COUNT, NAN);
    return forms[form] + states[state];
}

static MakeupGroup
group_of(LotForm form)
{
    if (form == LOT_INGOT)
        return MAKEUP_INGOT;
    return form == LOT_CASTINGS ? MAKEUP_CASTINGS : MAKEUP_RETURNS;
}

// Lots that may go in, each with the place it has in the list, which settles ties.
typedef struct {
    const Lot *lot;
    double loss;
    guint place;
} Candidate;

static int
compare_candidates(gconstpointer a, gconstpointer b)
{
    const Candidate *x = a, *y = b;
    if (x->loss != y->loss)
        return x->loss < y->loss ? -1 : 1;
    return x->place < y->place ? -1 : x->place > y->place;
}

static GArray *
find_candidates(const GArray *lots, const char *metal, gboolean any, Makeup *makeup)
{
    GArray *found = g_array_new(FALSE, FALSE, sizeof(Candidate));
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index(lots, Lot, i);
        if (g_strcmp0(lot->metal, metal) != 0) {
            makeup->other_metal++;
            continue;
        }
        if (lot->state != LOT_CLEAN && !any) {
            makeup->dirty_left++;
            continue;
        }
        Candidate one = {lot, melt_extra_loss(lot->form, lot->state), i};
        makeup->stock[group_of(lot->form)] += lot->mass;
        g_array_append_val(found, one);
    }
    g_array_sort(found, compare_candidates);
    return found;
}

// Takes up to `wanted` kg of the group. The loss of what is taken, kg; what the stock lacks is
// clean ingot and loses nothing more.
static double
take_group(const GArray *candidates, MakeupGroup group, double wanted, Makeup *makeup)
{
    double lost = 0;
    for (guint i = 0; i < candidates->len; i++) {
        const Candidate *one = &g_array_index(candidates, Candidate, i);
        if (group_of(one->lot->form) != group || !(wanted > 0))
            continue;
        double taken = fmin(wanted, one->lot->mass);
        wanted -= taken;
        lost += taken * one->loss;
        makeup->dirty_taken += one->lot->state != LOT_CLEAN ? 1 : 0;
    }
    return lost;
}

Makeup
melt_makeup(const GArray *lots, const char *metal, gboolean any, double full, double returns_share)
{
    Makeup makeup = {.extra_loss = NAN, .share = {NAN, NAN, NAN}};
    g_return_val_if_fail(lots != NULL, makeup);
    g_autoptr(GArray) candidates = find_candidates(lots, metal, any, &makeup);
    if (!(full > 0) || isnan(returns_share))
        return makeup;
    double *share = makeup.share;
    share[MAKEUP_RETURNS] = fmin(returns_share, makeup.stock[MAKEUP_RETURNS] / full);
    share[MAKEUP_CASTINGS] = fmin(1 - share[MAKEUP_RETURNS], makeup.stock[MAKEUP_CASTINGS] / full);
    share[MAKEUP_INGOT] = 1 - share[MAKEUP_RETURNS] - share[MAKEUP_CASTINGS];
    double lost = 0;
    for (int group = 0; group < MAKEUP_COUNT; group++)
        lost += take_group(candidates, (MakeupGroup)group, share[group] * full, &makeup);
    makeup.extra_loss = lost / full;
    return makeup;
}

void
melt_chargeable(const GArray *lots, const char *metal, gboolean any, double stock[MAKEUP_COUNT])
{
    g_return_if_fail(lots != NULL);
    Makeup makeup = {0};
    g_array_unref(find_candidates(lots, metal, any, &makeup));
    memcpy(stock, makeup.stock, sizeof makeup.stock);
}

MakeupDraw
melt_draw(GArray *lots, const char *metal, gboolean any, double mass,
          const double most[MAKEUP_COUNT])
{
    MakeupDraw draw = {.lacking = NAN};
    Makeup makeup = {0};
    g_return_val_if_fail(lots != NULL && isfinite(mass), draw);
    g_autoptr(GArray) candidates = find_candidates(lots, metal, any, &makeup);
    draw.lacking = mass;
    for (int group = 0; group < MAKEUP_COUNT; group++) {
        double share = isnan(most[group]) ? 0 : CLAMP(most[group], 0, 1);
        double wanted = fmin(share * mass, draw.lacking);
        for (guint i = 0; i < candidates->len && wanted > 0; i++) {
            guint place = g_array_index(candidates, Candidate, i).place;
            Lot *lot = &g_array_index(lots, Lot, place);
            if (group_of(lot->form) != (MakeupGroup)group)
                continue;
            double part = fmin(wanted, lot->mass);
            lot->mass -= part;
            wanted -= part;
            draw.taken[group] += part;
        }
        draw.lacking = fmax(0, draw.lacking - draw.taken[group]);
    }
    return draw;
}
