// SPDX-License-Identifier: GPL-3.0-or-later
// What no session of a floor can pass: as if hands, furnaces, boxes, benches, cooling places and
// sand each worked without ever waiting for another. Whole moulds and whole loads, so that a load
// half empty is paid for; a crucible is filled by mass, which is never too little.
#include <math.h>

#include "session/mip.h"
#include "session/pack.h"
#include "session/pattern.h"

typedef struct {
    const SessionFloor *floor;
    SessionMip *mip;
    SessionAlike alike[SESSION_MOST_FURNACES];
    int n_alike;
    int moulds[SESSION_MOST_FURNACES][SESSION_MOST_KINDS]; // columns; 0: not allowed
    int loads[SESSION_MOST_FURNACES][SESSION_MOST_METALS]; // columns; 0: not allowed
} Limits;

// Whole turns in a time; rounding of a session that just holds one more is let pass.
static double
count_turns(double time, double turn)
{
    return floor(MAX(time, 0.0) / turn + 1e-9);
}

static int
round_down(double moulds)
{
    return (int)floor(moulds + 1e-6);
}

// The last moment at which metal or moulds are worked on.
static double
get_open_until(const SessionFloor *floor)
{
    return MIN(floor->hours - floor->closing, floor->light_to);
}

static void
add_columns(Limits *l, gboolean by_worth)
{
    const SessionFloor *floor = l->floor;
    for (int a = 0; a < l->n_alike; a++) {
        const SessionFurnace *furnace = &floor->furnaces[l->alike[a].furnace];
        for (int m = 0; m < floor->n_metals; m++)
            if (furnace->holds[m] > 0.0)
                l->loads[a][m] = session_mip_column(l->mip, 0, SESSION_MOST_FLASKS, 0.0, TRUE);
        for (int k = 0; k < floor->n_kinds; k++) {
            const SessionMould *mould = &floor->kinds[k];
            int most = CLAMP(mould->wanted, 0, SESSION_MOST_FLASKS);
            if (mould->kg <= furnace->holds[mould->metal] * (1.0 + 1e-9))
                l->moulds[a][k] = session_mip_column(l->mip, 0.0, most,
                                                     by_worth ? mould->worth : 1.0, TRUE);
        }
    }
}

// Loads pay for charging and skimming and hold so much; a group's time is what its furnaces have.
static void
add_furnaces(Limits *l)
{
    const SessionFloor *floor = l->floor;
    for (int a = 0; a < l->n_alike; a++) {
        const SessionFurnace *furnace = &floor->furnaces[l->alike[a].furnace];
        double open = get_open_until(floor) - floor->set_up - furnace->warm_up;
        int time = session_mip_row(l->mip, -INFINITY, MAX(open, 0.0) * l->alike[a].n);
        for (int m = 0; m < floor->n_metals; m++) {
            if (l->loads[a][m] == 0)
                continue;
            int mass = session_mip_row(l->mip, -INFINITY, 0.0);
            session_mip_set(l->mip, mass, l->loads[a][m], -furnace->holds[m] * (1.0 + 1e-9));
            session_mip_set(l->mip, time, l->loads[a][m], floor->charge + floor->skim);
            for (int k = 0; k < floor->n_kinds; k++) {
                const SessionMould *mould = &floor->kinds[k];
                if (mould->metal != m || l->moulds[a][k] == 0)
                    continue;
                session_mip_set(l->mip, mass, l->moulds[a][k], mould->kg);
                session_mip_set(l->mip, time, l->moulds[a][k],
                                mould->kg * furnace->melt[m] + mould->pour);
            }
        }
    }
}

// A row over moulds: `get` says what each takes.
static int
add_row(Limits *l, double most, double (*get)(const SessionMould *mould), int box)
{
    int row = session_mip_row(l->mip, -INFINITY, MAX(most, 0.0));
    for (int a = 0; a < l->n_alike; a++)
        for (int k = 0; k < l->floor->n_kinds; k++)
            if (l->moulds[a][k] > 0 && (box < 0 || l->floor->kinds[k].box == box))
                session_mip_set(l->mip, row, l->moulds[a][k], get(&l->floor->kinds[k]));
    return row;
}

static double
get_one(const SessionMould *mould)
{
    return 1.0;
}

static double
get_turn(const SessionMould *mould)
{
    return session_mould_work(mould) + mould->cool + mould->shake_out;
}

static double
get_bench(const SessionMould *mould)
{
    return mould->ram[0] + mould->ram[1] + mould->ram[2];
}

static double
get_place(const SessionMould *mould)
{
    return mould->cool + mould->shake_out;
}

static double
get_sand(const SessionMould *mould)
{
    return mould->sand;
}

// When the first mould of a kind can have been poured: a furnace warmed up, it alone melted for, or
// rammed from the first light.
static double
find_first_poured(const SessionFloor *floor, const SessionMould *mould)
{
    double first = INFINITY, tap = floor->skim + mould->pour;
    for (int f = 0; f < floor->n_furnaces; f++) {
        const SessionFurnace *furnace = &floor->furnaces[f];
        if (mould->kg > furnace->holds[mould->metal] * (1.0 + 1e-9))
            continue;
        double charge = MAX(floor->set_up + furnace->warm_up, floor->light_from);
        double melt = floor->charge + mould->kg * furnace->melt[mould->metal];
        first = MIN(first, charge + melt + tap);
    }
    return MAX(first, floor->light_from + session_mould_ram(mould) + tap);
}

// When the first box can have been emptied.
static double
find_first_emptied(const SessionFloor *floor)
{
    double first = INFINITY;
    for (int k = 0; k < floor->n_kinds; k++)
        first = MIN(first,
                    find_first_poured(floor, &floor->kinds[k]) + get_place(&floor->kinds[k]));
    return first;
}

// Work there can be for hands until then: each box rammed once, and what the furnaces ask.
static double
find_work_before(const SessionFloor *floor, double first)
{
    double work = 0.0;
    for (int box = 0; box < floor->n_boxes; box++) {
        double ram = 0.0;
        for (int k = 0; k < floor->n_kinds; k++)
            if (floor->kinds[k].box == box)
                ram = MAX(ram, session_mould_ram(&floor->kinds[k]));
        work += floor->boxes[box] * ram;
    }
    for (int f = 0; f < floor->n_furnaces; f++)
        work += MAX(first - floor->set_up - floor->furnaces[f].warm_up, 0.0);
    return work;
}

// Time of all hands for work on the floor. Until the first box is empty again there may not be
// enough of it for all.
static double
find_open_hands(const SessionFloor *floor)
{
    double until = get_open_until(floor), from = floor->light_from;
    double open = floor->people * (until - from) - MAX(floor->set_up - from, 0.0);
    double first = find_first_emptied(floor);
    if (from > 0.0 || !(first < until))
        return open;
    return MIN(open, floor->people * (until - first) + find_work_before(floor, first));
}

// All but a box's worth of moulds are shaken out within the session, which takes hands too.
static void
add_hands(Limits *l)
{
    const SessionFloor *floor = l->floor;
    double open = find_open_hands(floor);
    int row = add_row(l, open, session_mould_work, -1);
    for (int a = 0; a < l->n_alike; a++)
        for (int m = 0; m < floor->n_metals; m++)
            if (l->loads[a][m] > 0)
                session_mip_set(l->mip, row, l->loads[a][m], floor->charge + floor->skim);
    for (int box = 0; box < floor->n_boxes; box++) {
        double least = INFINITY;
        for (int k = 0; k < floor->n_kinds; k++)
            if (floor->kinds[k].box == box)
                least = MIN(least, floor->kinds[k].shake_out);
        if (!isfinite(least) || least == 0.0)
            continue;
        int shaken = session_mip_column(l->mip, 0.0, INFINITY, 0.0, FALSE);
        int emptied = add_row(l, floor->boxes[box], get_one, box);
        session_mip_set(l->mip, emptied, shaken, -1.0);
        session_mip_set(l->mip, row, shaken, least);
    }
}

// The first mould in each box waits for the furnace, however early it is rammed; the last needs no
// cooling in time. Between the first pour and the last there is room for the rest: the places of
// all but the last, the work of all but the first.
static void
add_boxes(Limits *l)
{
    const SessionFloor *floor = l->floor;
    for (int box = 0; box < floor->n_boxes; box++) {
        double first = INFINITY, place[2] = {INFINITY, 0.0}, work[2] = {INFINITY, 0.0};
        for (int k = 0; k < floor->n_kinds; k++) {
            const SessionMould *mould = &floor->kinds[k];
            if (mould->box != box)
                continue;
            first = MIN(first, find_first_poured(floor, mould));
            place[0] = MIN(place[0], get_place(mould));
            place[1] = MAX(place[1], get_place(mould));
            work[0] = MIN(work[0], session_mould_work(mould));
            work[1] = MAX(work[1], session_mould_work(mould));
        }
        double open = get_open_until(floor) - first;
        if (!isfinite(first)) // none is to be poured
            continue;
        add_row(l, open < 0.0 ? 0.0 : floor->boxes[box] * (open + place[1] + work[1]), get_turn,
                box);
        double turn = place[0] + work[0];
        if (turn > 0.0)
            add_row(l, open < 0.0 ? 0.0 : floor->boxes[box] * (1.0 + count_turns(open, turn)),
                    get_one, box);
    }
}

// Sand serves once where none can be back in time. Else each mould holds its sand until it has
// rested, and that of the moulds made last may be back after the end; of one kind, sand for a mould
// is like a box that rests too.
static void
add_sand(Limits *l)
{
    const SessionFloor *floor = l->floor;
    double until = get_open_until(floor), longest = 0.0, rest = floor->sand_rest;
    if (!isfinite(floor->sand_ready))
        return;
    if (!(find_first_emptied(floor) + rest < until)) {
        add_row(l, floor->sand_ready * (1.0 + 1e-9), get_sand, -1);
        return;
    }
    for (int k = 0; k < floor->n_kinds; k++)
        longest = MAX(longest, get_place(&floor->kinds[k]));
    double open = until - floor->light_from + longest + rest;
    int row = session_mip_row(l->mip, -INFINITY, floor->sand_ready * open * (1.0 + 1e-9));
    for (int a = 0; a < l->n_alike; a++)
        for (int k = 0; k < floor->n_kinds; k++)
            if (l->moulds[a][k] > 0)
                session_mip_set(l->mip, row, l->moulds[a][k],
                                floor->kinds[k].sand * (get_turn(&floor->kinds[k]) + rest));
    const SessionMould *only = &floor->kinds[0];
    double turn = get_turn(only) + rest;
    if (floor->n_kinds == 1 && only->sand > 0.0 && turn > 0.0)
        add_row(l, count_turns(floor->sand_ready, only->sand) * count_turns(open, turn), get_one,
                -1);
}

static void
add_rest(Limits *l)
{
    const SessionFloor *floor = l->floor;
    double open = get_open_until(floor) - floor->light_from, longest = 0.0;
    for (int k = 0; k < floor->n_kinds; k++) {
        longest = MAX(longest, get_place(&floor->kinds[k]));
        int most = CLAMP(floor->kinds[k].wanted, 0, SESSION_MOST_FLASKS);
        int row = session_mip_row(l->mip, -INFINITY, most);
        for (int a = 0; a < l->n_alike; a++)
            if (l->moulds[a][k] > 0)
                session_mip_set(l->mip, row, l->moulds[a][k], 1.0);
    }
    add_row(l, SESSION_MOST_FLASKS, get_one, -1);
    if (floor->benches < SESSION_MOST_FLASKS)
        add_row(l, floor->benches * open, get_bench, -1);
    if (floor->places < SESSION_MOST_FLASKS)
        add_row(l, floor->places * (open + longest), get_place, -1);
    add_sand(l);
}

static SessionMipEnd
solve(Limits *l, gboolean by_worth, const Progress *progress)
{
    g_clear_pointer(&l->mip, session_mip_free);
    l->mip = session_mip_new(TRUE);
    add_columns(l, by_worth);
    add_furnaces(l);
    add_hands(l);
    add_boxes(l);
    add_rest(l);
    return session_mip_solve(l->mip, progress);
}

static void
read_counts(const Limits *l, SessionBound *bound)
{
    for (int k = 0; k < l->floor->n_kinds; k++)
        for (int a = 0; a < l->n_alike; a++)
            if (l->moulds[a][k] > 0)
                bound->counts[k] += (int)lround(session_mip_value(l->mip, l->moulds[a][k]));
}

gboolean
session_bound(const SessionFloor *floor, SessionBound *bound, Progress *progress, GError **error)
{
    g_return_val_if_fail(floor && bound, FALSE);
    Limits limits = {.floor = floor};
    SessionBound found = {.how = SESSION_PACK_PATTERNS};
    limits.n_alike = session_alike(floor, limits.alike);
    if (!progress_check(progress, error))
        return FALSE;
    SessionMipEnd end = solve(&limits, TRUE, progress);
    found.worth = session_mip_bound(limits.mip);
    double all = 0.0;
    for (int k = 0; k < floor->n_kinds; k++)
        all += CLAMP(floor->kinds[k].wanted, 0, SESSION_MOST_FLASKS) * floor->kinds[k].worth;
    found.worth = MIN(found.worth, all);
    if (end == SESSION_MIP_BEST || end == SESSION_MIP_STOPPED)
        read_counts(&limits, &found);
    if (end != SESSION_MIP_BEST)
        found.how = SESSION_PACK_STOPPED;
    SessionMipEnd second = end == SESSION_MIP_CANCELLED ? end : solve(&limits, FALSE, progress);
    double moulds = session_mip_bound(limits.mip);
    session_mip_free(limits.mip);
    if (second == SESSION_MIP_CANCELLED) {
        progress_check(progress, error);
        return FALSE;
    }
    found.moulds = isfinite(moulds) ? round_down(moulds) : SESSION_MOST_FLASKS;
    found.moulds = CLAMP(found.moulds, 0, session_floor_wanted(floor));
    *bound = found;
    return TRUE;
}
