// SPDX-License-Identifier: GPL-3.0-or-later
// The plain shop as a floor: one furnace, one kind of mould, one kind of box. A mould stands for
// one kilogram, so that a load's kilograms are its moulds.
#include <math.h>

#include "session/session.h"

gboolean
session_shop_is_usable(const SessionShop *shop)
{
    g_return_val_if_fail(shop, FALSE);
    const double times[] = {shop->hours,      shop->set_up,    shop->closing,   shop->warm_up,
                            shop->charge,     shop->heat,      shop->ram,       shop->skim,
                            shop->pour,       shop->cool,      shop->shake_out, shop->sand,
                            shop->sand_ready, shop->sand_rest, shop->light_from};
    for (guint i = 0; i < G_N_ELEMENTS(times); i++)
        if (!(isfinite(times[i]) && times[i] >= 0.0))
            return FALSE;
    return shop->people >= 1 && shop->people <= SESSION_MOST_PEOPLE && shop->boxes >= 1 &&
           shop->flasks_per_load >= 1;
}

SessionFloor
session_shop_floor(const SessionShop *shop)
{
    SessionFloor floor;
    session_floor_init(&floor);
    floor.hours = shop->hours;
    floor.set_up = shop->set_up;
    floor.closing = shop->closing;
    floor.charge = shop->charge;
    floor.skim = shop->skim;
    floor.people = shop->people;
    floor.benches = shop->benches > 0 ? shop->benches : shop->people;
    floor.places = shop->places > 0 ? shop->places : floor.places;
    floor.sand_ready = shop->sand_ready > 0.0 ? shop->sand_ready : INFINITY;
    floor.sand_rest = shop->sand_rest;
    floor.light_from = shop->light_from;
    floor.light_to = shop->light_to > 0.0 ? shop->light_to : INFINITY;
    floor.pins = shop->pins;
    floor.n_pins = shop->n_pins;
    floor.n_furnaces = floor.n_metals = floor.n_boxes = floor.n_kinds = 1;
    floor.furnaces[0] = (SessionFurnace){.warm_up = shop->warm_up,
                                         .holds = {shop->flasks_per_load},
                                         .melt = {shop->heat / shop->flasks_per_load}};
    floor.boxes[0] = shop->boxes;
    const double usual[4] = {SESSION_SHARE_DRAG, SESSION_SHARE_COPE, SESSION_SHARE_DRAW,
                             SESSION_SHARE_SHUT};
    SessionMould *mould = &floor.kinds[0];
    *mould = (SessionMould){.kg = 1.0,
                            .sand = shop->sand,
                            .pour = shop->pour,
                            .cool = shop->cool,
                            .shake_out = shop->shake_out,
                            .worth = 1.0,
                            .wanted = SESSION_MOST_FLASKS};
    double shares = shop->share[0] + shop->share[1] + shop->share[2] + shop->share[3];
    for (int i = 0; i < 4; i++)
        mould->ram[i] = shop->ram * (shares > 0.0 ? shop->share[i] / shares : usual[i]);
    return floor;
}

SessionPlan *
session_plan_of(const SessionShop *shop, int flasks, gboolean labels, Progress *progress,
                GError **error)
{
    g_return_val_if_fail(session_shop_is_usable(shop) && flasks > 0, NULL);
    SessionFloor floor = session_shop_floor(shop);
    int counts[SESSION_MOST_KINDS] = {flasks};
    return session_floor_plan(&floor, counts, SESSION_CALM, labels, progress, error);
}

gboolean
session_plan_most(const SessionShop *shop, int *flasks, Progress *progress, GError **error)
{
    g_return_val_if_fail(session_shop_is_usable(shop) && flasks, FALSE);
    SessionFloor floor = session_shop_floor(shop);
    SessionMost most;
    if (!session_floor_most(&floor, &most, progress, error))
        return FALSE;
    *flasks = most.moulds;
    return TRUE;
}

int
session_plan_bound(const SessionShop *shop)
{
    g_return_val_if_fail(session_shop_is_usable(shop), 0);
    SessionFloor floor = session_shop_floor(shop);
    SessionBound bound = {0};
    return session_bound(&floor, &bound, NULL, NULL) ? bound.moulds : 0;
}
