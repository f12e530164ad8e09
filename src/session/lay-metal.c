// SPDX-License-Identifier: GPL-3.0-or-later
// The metal's side of laying out: when a load is charged, when it is poured, and when hands wait
// for either.
#include <math.h>

#include "session/lay-state.h"

// When the mould is shut: the end of its last step, or with the rest of its steps following from
// now; INFINITY when it is not begun, and when `strict` and nobody is at it.
static double
find_shut(const Lay *lay, const LayMould *mould, gboolean strict)
{
    if (mould->step == 0)
        return INFINITY;
    if (mould->step < LAY_STEPS && strict && mould->until <= lay->now)
        return INFINITY;
    double at = mould->step < LAY_STEPS ? MAX(mould->until, lay->now) : mould->until;
    for (int i = mould->step; i < LAY_STEPS; i++)
        at += lay->floor->kinds[mould->kind].ram[i];
    return at;
}

// The first mould of the load not poured from its `from`th on; the end of the load if there is
// none. On a real day they need not be poured in order.
static int
find_unpoured(const Lay *lay, const LayLoad *load, int from)
{
    while (from < load->n && isfinite(lay->moulds[load->first + from].cooled))
        from++;
    return from;
}

static double
find_load_shut(const Lay *lay, const LayLoad *load, gboolean strict)
{
    double last = 0.0;
    for (int i = find_unpoured(lay, load, 0); i < load->n && isfinite(last);
         i = find_unpoured(lay, load, i + 1))
        last = MAX(last, find_shut(lay, &lay->moulds[load->first + i], strict));
    return last;
}

static gboolean
is_load_shut(const Lay *lay, const LayLoad *load)
{
    for (int i = find_unpoured(lay, load, 0); i < load->n; i = find_unpoured(lay, load, i + 1)) {
        const LayMould *mould = &lay->moulds[load->first + i];
        if (mould->step < LAY_STEPS || mould->until > lay->now)
            return FALSE;
    }
    return TRUE;
}

static gboolean
is_load_begun(const Lay *lay, const LayLoad *load)
{
    for (int i = 0; i < load->n; i++)
        if (lay->moulds[load->first + i].step == 0)
            return FALSE;
    return TRUE;
}

// First load not charged that the furnace may hold, or -1.
static int
find_next_load(const Lay *lay, int furnace)
{
    int first = -1;
    for (int i = lay->first_load; i < lay->n_loads; i++) {
        if (lay->loads[i].furnace >= 0 || !(lay->loads[i].suits & (1u << furnace)))
            continue;
        if (!lay->way->begun_first || is_load_begun(lay, &lay->loads[i]))
            return i;
        first = first < 0 ? i : first;
    }
    return first;
}

typedef struct {
    int moulds; // of the load and those before it, not begun
    double ram; // hands they take
} OpenMoulds;

static int
count_empty(const Lay *lay, int kind)
{
    int empty = 0;
    for (int i = 0; i < lay->floor->boxes[kind]; i++)
        empty += lay->boxes[kind][i] <= lay->now;
    return empty;
}

// FALSE if there is not an empty box for each: on a large day that shows long before all of them
// are looked at.
static gboolean
count_open(const Lay *lay, const LayLoad *load, OpenMoulds *open)
{
    int empty[SESSION_MOST_BOX_KINDS], first = load->first;
    for (int k = 0; k < lay->floor->n_boxes; k++) {
        empty[k] = count_empty(lay, k);
        if (lay->first_mould[k] >= 0)
            first = MIN(first, lay->first_mould[k]);
    }
    *open = (OpenMoulds){0};
    for (int i = first; i < load->first + load->n; i++) {
        const LayMould *mould = &lay->moulds[i];
        if (mould->step > 0)
            continue;
        const SessionMould *kind = &lay->floor->kinds[mould->kind];
        if (--empty[kind->box] < 0)
            return FALSE;
        open->moulds++;
        open->ram += session_mould_ram(kind);
    }
    return TRUE;
}

double
lay_find_charge_time(const Lay *lay, int furnace, gboolean strict)
{
    const SessionFloor *floor = lay->floor;
    int next = find_next_load(lay, furnace);
    double ready = lay->furnaces[furnace].ready;
    if (next < 0)
        return INFINITY;
    ready = MAX(ready, session_floor_pin(floor, TASK_CHARGE, next + 1));
    ready = MAX(ready, session_floor_pin(floor, TASK_MELT, next + 1) - floor->charge);
    if (lay->way->patience == 0)
        return ready;
    const LayLoad *load = &lay->loads[next];
    if (lay->way->patience == 3)
        return MAX(ready, find_load_shut(lay, load, TRUE));
    double melt = floor->charge + session_load_melt(floor, &lay->what[next], furnace);
    if (isfinite(find_load_shut(lay, load, FALSE))) {
        double shut = find_load_shut(lay, load, strict);
        return lay->way->patience == 1 ? ready : MAX(ready, shut - melt);
    }
    OpenMoulds open;
    if (!count_open(lay, load, &open) || open.moulds == 0)
        return INFINITY;
    double sand = lay_find_sand(lay, load->first + load->n);
    if (!isfinite(sand))
        return INFINITY;
    if (lay->way->patience == 1)
        return open.moulds <= floor->people ? MAX(ready, sand) : INFINITY;
    double ram = ceil((double)open.moulds / floor->people) * (open.ram / open.moulds);
    if (ram > melt)
        return INFINITY;
    return sand > lay->now ? MAX(ready, sand + ram - melt) : ready;
}

// TRUE if some other pair of hands is free at `time`.
static gboolean
has_other_hands(const Lay *lay, int who, double time)
{
    for (int i = 0; i < lay->floor->people; i++)
        if (i != who && lay->hands[i] <= time)
            return TRUE;
    return FALSE;
}

gboolean
lay_is_awaited(const Lay *lay, int who, double duration)
{
    if (lay->to_pour == 0 || lay->way->foresight == 0)
        return FALSE;
    for (int i = 0; i < lay->floor->n_furnaces; i++) {
        const LayFurnace *furnace = &lay->furnaces[i];
        double due = INFINITY;
        if (furnace->load >= 0) {
            const LayLoad *load = &lay->loads[furnace->load];
            due = MAX(load->molten, find_load_shut(lay, load, TRUE));
        } else if (lay->way->foresight > 1) {
            due = lay_find_charge_time(lay, i, TRUE);
        }
        if (due > lay->now && due < lay->now + duration && !has_other_hands(lay, who, due))
            return TRUE;
    }
    return FALSE;
}

double
lay_find_pour_pin(const Lay *lay, int load)
{
    const LayLoad *l = &lay->loads[load];
    if (lay->floor->n_pins == 0)
        return 0.0;
    double at = session_floor_pin(lay->floor, TASK_SKIM, load + 1);
    double offset = l->skimmed ? 0.0 : lay->floor->skim;
    for (int i = find_unpoured(lay, l, 0); i < l->n; i = find_unpoured(lay, l, i + 1)) {
        double pin = session_floor_pin(lay->floor, TASK_POUR, l->first + i + 1);
        at = MAX(at, pin - offset);
        offset += lay->floor->kinds[lay->moulds[l->first + i].kind].pour;
    }
    return at;
}

static double
find_pour_time(const Lay *lay, const LayLoad *load)
{
    double time = load->skimmed ? 0.0 : lay->floor->skim;
    for (int i = find_unpoured(lay, load, 0); i < load->n; i = find_unpoured(lay, load, i + 1))
        time += lay->floor->kinds[lay->moulds[load->first + i].kind].pour;
    return time;
}

// The load that is poured first of two that are skimmed.
static gboolean
goes_first(const Lay *lay, int load, int other)
{
    double a = lay->loads[load].molten, b = lay->loads[other].molten;
    return a < b || (a == b && load < other);
}

// Places free for a load: those that loads before it, skimmed before the rest was planned again,
// are about to take are not.
static int
count_places(const Lay *lay, int load)
{
    int free = 0;
    for (int i = 0; i < lay->n_places; i++)
        free += lay->places[i] <= lay->now;
    for (int i = 0; i < lay->floor->n_furnaces; i++) {
        int other = lay->furnaces[i].load;
        if (other >= 0 && other != load && lay->loads[other].skimmed &&
            (!lay->loads[load].skimmed || goes_first(lay, other, load)))
            free -= lay->loads[other].n - lay->loads[other].poured;
    }
    return free;
}

// Who skimmed a load pours it, unless those hands have turned to something else.
static gboolean
is_left_to_skimmer(const Lay *lay, const LayLoad *load, int who)
{
    return load->skimmed && load->who != who && load->who >= 0 && load->who < lay->floor->people &&
           lay->hands[load->who] <= lay->now;
}

static gboolean
may_pour(const Lay *lay, int load, int who)
{
    const LayLoad *l = &lay->loads[load];
    double start = MAX(l->molten, l->skimmed ? l->ready : 0.0);
    if (MAX(start, lay_find_pour_pin(lay, load)) > lay->now || !is_load_shut(lay, l) ||
        is_left_to_skimmer(lay, l, who))
        return FALSE;
    if (lay->n_places < lay->n_moulds && count_places(lay, load) < l->n - l->poured)
        return FALSE;
    return lay_is_light(lay, lay->now, lay->now + find_pour_time(lay, l));
}

gboolean
lay_try_pour(Lay *lay, int who)
{
    int best = -1;
    for (int i = 0; i < lay->floor->n_furnaces; i++) {
        int load = lay->furnaces[i].load;
        if (load >= 0 && may_pour(lay, load, who) &&
            (best < 0 || lay->loads[load].molten < lay->loads[best].molten))
            best = load;
    }
    if (best < 0)
        return FALSE;
    LayLoad *load = &lay->loads[best];
    double at = lay->now;
    if (!load->skimmed) {
        lay_begin_skim(lay, best, who, at, at + lay->floor->skim);
        at += lay->floor->skim;
    }
    for (int i = find_unpoured(lay, load, 0); i < load->n; i = find_unpoured(lay, load, i + 1)) {
        int mould = load->first + i;
        double end = at + lay->floor->kinds[lay->moulds[mould].kind].pour;
        lay_begin_pour(lay, mould, who, at, end);
        at = end;
    }
    return TRUE;
}

gboolean
lay_try_charge(Lay *lay, int who)
{
    for (int i = 0; i < lay->floor->n_furnaces; i++) {
        if (lay->furnaces[i].load >= 0 || lay->furnaces[i].ready > lay->now ||
            lay_find_charge_time(lay, i, FALSE) > lay->now)
            continue;
        double end = lay->now + lay->floor->charge;
        if (!lay_is_light(lay, lay->now, end))
            continue;
        int load = find_next_load(lay, i);
        double molten = end + session_load_melt(lay->floor, &lay->what[load], i);
        lay_begin_charge(lay, i, load, who, lay->now, end, molten);
        return TRUE;
    }
    return FALSE;
}
