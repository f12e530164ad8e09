// SPDX-License-Identifier: GPL-3.0-or-later
// A session by list scheduling: whenever a pair of hands is free it takes the most pressing piece
// of work that can begin now, and time then moves on to the next thing that ends.
//
//   hands    |set up|ram 1|ram 2|charge|ram 3|....|pour 1 2|charge|shake 1|ram 4|...|close|
//   furnace         |warm up ........|charge|melt.....|pour|charge|melt ...
//   flask 1         |ram|............................|pour|cool .........|shake|ram ...
//
// Most pressing first: pour, charge, ram, shake out. Nothing is ever broken off, every choice goes
// by number, so the same shop gives the same session.
#include <math.h>

#include "session/session.h"

typedef enum {
    BOX_EMPTY,
    BOX_RAMMED, // from the start of ramming
    BOX_COOLING,
} BoxState;

typedef struct {
    BoxState state;
    int flask, load;
    double until; // COOLING: when it may be shaken out; EMPTY: when it is empty
} Box;

typedef struct {
    const SessionShop *shop;
    const SessionWay *way;
    int flasks, loads;
    double now;
    double *hand_free; // per pair of hands
    double *rammed_at; // per flask; INFINITY until its ramming has begun
    int *box_of;       // per flask
    Box *boxes;        // per box
    int next_ram;      // first flask not begun
    int load;          // the load charged next or in the furnace
    int first;         // its first flask
    gboolean charged;  // it is in the furnace
    double furnace_at; // when the furnace is ready: to be charged, or to be poured
    SessionPlan *session;
} Floor;

void
session_task_clear(gpointer data)
{
    SessionTask *task = data;
    g_free(task->label);
    g_free(task->key);
    g_free(task->after);
}

static int
get_load_size(const Floor *floor, int load)
{
    int rest = floor->flasks - (floor->loads - 1) * floor->way->size;
    int small = floor->way->small_first ? 0 : floor->loads - 1;
    return load == small ? rest : floor->way->size;
}

static double
get_heat_time(const Floor *floor)
{
    const SessionShop *shop = floor->shop;
    return shop->heat * get_load_size(floor, floor->load) / shop->flasks_per_load;
}

// Adds a task and books the hands. `who` -1: no hands.
static void
add_task(Floor *floor, TaskKind kind, int who, gboolean furnace, int load, int flask, double start,
         double end)
{
    SessionTask task = {.kind = kind,
                        .load = load,
                        .flask = flask,
                        .box = flask < 0 ? -1 : floor->box_of[flask],
                        .person = who >= 0,
                        .job = -1,
                        .furnace = furnace ? 0 : -1,
                        .start = start,
                        .end = end,
                        .who = who};
    g_array_append_val(floor->session->tasks, task);
    if (who >= 0) {
        floor->hand_free[who] = end;
        floor->session->person_time += end - start;
    }
    if (furnace)
        floor->session->furnace_time += end - start;
}

// When the last flask of the load is rammed; INFINITY while one has not been begun.
static double
find_load_rammed(const Floor *floor)
{
    double last = 0.0;
    int size = get_load_size(floor, floor->load);
    for (int i = 0; i < size; i++)
        last = MAX(last, floor->rammed_at[floor->first + i]);
    return last;
}

static int
count_empty(const Floor *floor)
{
    int empty = 0;
    for (int i = 0; i < floor->shop->boxes; i++)
        if (floor->boxes[i].state == BOX_EMPTY && floor->boxes[i].until <= floor->now)
            empty++;
    return empty;
}

// When the charge should go in: with patience so that metal does not wait for sand; INFINITY while
// too much of its ramming is not begun, which time will change.
static double
find_charge_time(const Floor *floor)
{
    if (floor->way->patience == 0)
        return floor->furnace_at;
    double melt = floor->shop->charge + get_heat_time(floor);
    double rammed = find_load_rammed(floor);
    if (isfinite(rammed))
        return floor->way->patience == 1 ? floor->furnace_at
                                         : MAX(floor->furnace_at, rammed - melt);
    int open = floor->first + get_load_size(floor, floor->load) - floor->next_ram;
    if (open > count_empty(floor))
        return INFINITY;
    if (floor->way->patience == 1)
        return open <= floor->shop->people ? floor->furnace_at : INFINITY;
    double rounds = ceil((double)open / floor->shop->people);
    return rounds * floor->shop->ram <= melt ? floor->furnace_at : INFINITY;
}

// TRUE if some other pair of hands is free at `time`.
static gboolean
has_other_hands(const Floor *floor, int who, double time)
{
    for (int i = 0; i < floor->shop->people; i++)
        if (i != who && floor->hand_free[i] <= time)
            return TRUE;
    return FALSE;
}

// TRUE if hands that begin `duration` of work now would be missed at the furnace.
static gboolean
is_awaited(const Floor *floor, int who, double duration)
{
    if (floor->load >= floor->loads || floor->way->foresight == 0)
        return FALSE;
    double due;
    if (floor->charged)
        due = MAX(floor->furnace_at, find_load_rammed(floor));
    else if (floor->way->foresight > 1)
        due = find_charge_time(floor);
    else
        return FALSE;
    return due > floor->now && due < floor->now + duration && !has_other_hands(floor, who, due);
}

static gboolean
try_pour(Floor *floor, int who)
{
    const SessionShop *shop = floor->shop;
    if (floor->load >= floor->loads || !floor->charged || floor->furnace_at > floor->now ||
        find_load_rammed(floor) > floor->now)
        return FALSE;
    double held = floor->now - floor->furnace_at;
    floor->session->held += held;
    floor->session->longest_held = MAX(floor->session->longest_held, held);
    int size = get_load_size(floor, floor->load);
    double start = floor->now;
    for (int i = 0; i < size; i++) {
        int flask = floor->first + i;
        double end = start + shop->pour + (i == 0 ? shop->skim : 0.0);
        add_task(floor, TASK_POUR, who, TRUE, floor->load, flask, start, end);
        add_task(floor, TASK_COOL, -1, FALSE, floor->load, flask, end, end + shop->cool);
        Box *box = &floor->boxes[floor->box_of[flask]];
        box->state = BOX_COOLING;
        box->until = end + shop->cool;
        start = end;
    }
    floor->session->last_pour = start;
    floor->first += size;
    floor->load++;
    floor->charged = FALSE;
    floor->furnace_at = start;
    return TRUE;
}

static gboolean
try_charge(Floor *floor, int who)
{
    if (floor->load >= floor->loads || floor->charged || floor->furnace_at > floor->now ||
        find_charge_time(floor) > floor->now)
        return FALSE;
    double end = floor->now + floor->shop->charge;
    double molten = end + get_heat_time(floor);
    add_task(floor, TASK_CHARGE, who, TRUE, floor->load, -1, floor->now, end);
    add_task(floor, TASK_MELT, -1, TRUE, floor->load, -1, end, molten);
    floor->charged = TRUE;
    floor->furnace_at = molten;
    return TRUE;
}

static int
find_load_of(const Floor *floor, int flask)
{
    int load = floor->load, first = floor->first;
    while (flask >= first + get_load_size(floor, load))
        first += get_load_size(floor, load++);
    return load;
}

static gboolean
try_ram(Floor *floor, int who)
{
    if (floor->next_ram >= floor->flasks || is_awaited(floor, who, floor->shop->ram))
        return FALSE;
    for (int i = 0; i < floor->shop->boxes; i++) {
        Box *box = &floor->boxes[i];
        if (box->state != BOX_EMPTY || box->until > floor->now)
            continue;
        int flask = floor->next_ram++;
        int load = find_load_of(floor, flask);
        double end = floor->now + floor->shop->ram;
        floor->box_of[flask] = i;
        floor->rammed_at[flask] = end;
        *box = (Box){.state = BOX_RAMMED, .flask = flask, .load = load, .until = end};
        add_task(floor, TASK_RAM, who, FALSE, load, flask, floor->now, end);
        return TRUE;
    }
    return FALSE;
}

static gboolean
try_shake_out(Floor *floor, int who)
{
    const SessionShop *shop = floor->shop;
    double end = floor->now + shop->shake_out;
    gboolean needed = floor->next_ram < floor->flasks;
    if ((!needed && end > shop->hours - shop->closing) || is_awaited(floor, who, shop->shake_out))
        return FALSE;
    Box *best = NULL;
    for (int i = 0; i < shop->boxes; i++) {
        Box *box = &floor->boxes[i];
        if (box->state == BOX_COOLING && box->until <= floor->now &&
            (!best || box->until < best->until))
            best = box;
    }
    if (!best)
        return FALSE;
    add_task(floor, TASK_SHAKE_OUT, who, FALSE, best->load, best->flask, floor->now, end);
    *best = (Box){.state = BOX_EMPTY, .flask = -1, .until = end};
    return TRUE;
}

// Gives work to every free pair of hands. What one begins can call for another, so it goes round
// until nobody finds anything.
static void
dispatch(Floor *floor)
{
    gboolean found = TRUE;
    while (found) {
        found = FALSE;
        for (int who = 0; who < floor->shop->people; who++)
            if (floor->hand_free[who] <= floor->now &&
                (try_pour(floor, who) || try_charge(floor, who) || try_ram(floor, who) ||
                 try_shake_out(floor, who)))
                found = TRUE;
    }
}

static void
consider(const Floor *floor, double time, double *next)
{
    if (time > floor->now && time < *next)
        *next = time;
}

// The next moment at which anything can change; INFINITY at the end.
static double
find_next(const Floor *floor)
{
    double next = INFINITY;
    for (int i = 0; i < floor->shop->people; i++)
        consider(floor, floor->hand_free[i], &next);
    for (int i = 0; i < floor->shop->boxes; i++)
        if (floor->boxes[i].state != BOX_RAMMED)
            consider(floor, floor->boxes[i].until, &next);
    if (floor->load < floor->loads) {
        consider(floor, floor->furnace_at, &next);
        if (!floor->charged)
            consider(floor, find_charge_time(floor), &next);
    }
    return next;
}

static gint
compare_tasks(gconstpointer a, gconstpointer b)
{
    const SessionTask *x = a, *y = b;
    if (x->start != y->start)
        return x->start < y->start ? -1 : 1;
    if (x->kind != y->kind)
        return x->kind < y->kind ? -1 : 1;
    return (x->flask > y->flask) - (x->flask < y->flask);
}

static gboolean
keeps_metal(const Floor *floor)
{
    return floor->flasks == 1 || floor->session->longest_held <= SESSION_MOST_HELD;
}

static void
finish(Floor *floor)
{
    const SessionShop *shop = floor->shop;
    SessionPlan *session = floor->session;
    double last = session->last_pour;
    for (int i = 0; i < shop->people; i++)
        last = MAX(last, floor->hand_free[i]);
    double length = last + shop->closing;
    if (fabs(length - shop->hours) < 1e-6) // rounding of a session that fills its hours
        length = shop->hours;
    add_task(floor, TASK_CLOSE, 0, FALSE, -1, -1, last, length);
    session->length = length;
    session->within = length <= shop->hours && keeps_metal(floor);
    session->loads = floor->loads;
    session->flasks = floor->flasks;
    for (int i = 0; i < shop->boxes; i++)
        if (floor->boxes[i].state == BOX_COOLING)
            session->left_to_cool++;
    g_array_sort(session->tasks, compare_tasks);
}

static void
open_floor(Floor *floor)
{
    const SessionShop *shop = floor->shop;
    floor->hand_free = g_new0(double, shop->people);
    floor->rammed_at = g_new(double, floor->flasks);
    floor->box_of = g_new(int, floor->flasks);
    floor->boxes = g_new0(Box, shop->boxes);
    for (int i = 0; i < floor->flasks; i++)
        floor->rammed_at[i] = INFINITY;
    floor->session = g_new0(SessionPlan, 1);
    floor->session->tasks = g_array_new(FALSE, FALSE, sizeof(SessionTask));
    g_array_set_clear_func(floor->session->tasks, session_task_clear);
    add_task(floor, TASK_SET_UP, 0, FALSE, -1, -1, 0.0, shop->set_up);
    floor->furnace_at = shop->set_up + shop->warm_up;
    add_task(floor, TASK_WARM_UP, -1, TRUE, -1, -1, shop->set_up, floor->furnace_at);
}

static void
close_floor(Floor *floor)
{
    g_free(floor->hand_free);
    g_free(floor->rammed_at);
    g_free(floor->box_of);
    g_free(floor->boxes);
}

void
session_plan_free(SessionPlan *session)
{
    if (!session)
        return;
    g_array_unref(session->tasks);
    g_free(session);
}

gboolean
session_shop_is_usable(const SessionShop *shop)
{
    g_return_val_if_fail(shop, FALSE);
    const double times[] = {shop->hours,  shop->set_up, shop->closing,  shop->warm_up,
                            shop->charge, shop->heat,   shop->ram,      shop->skim,
                            shop->pour,   shop->cool,   shop->shake_out};
    for (guint i = 0; i < G_N_ELEMENTS(times); i++)
        if (!(isfinite(times[i]) && times[i] >= 0.0))
            return FALSE;
    return shop->people >= 1 && shop->boxes >= 1 && shop->flasks_per_load >= 1;
}

SessionPlan *
session_schedule_lay(const SessionShop *shop, int flasks, const SessionWay *way, gboolean give_up)
{
    g_return_val_if_fail(session_shop_is_usable(shop) && flasks > 0 && way && way->size > 0, NULL);
    if (way->size > shop->flasks_per_load || way->size > shop->boxes)
        return NULL;
    Floor floor = {
        .shop = shop, .way = way, .flasks = flasks, .loads = (flasks + way->size - 1) / way->size};
    open_floor(&floor);
    gboolean lost = FALSE;
    while (isfinite(floor.now) && !lost) {
        dispatch(&floor);
        floor.now = find_next(&floor);
        gboolean late = floor.load < floor.loads && floor.now > shop->hours - shop->closing;
        lost = give_up && (late || !keeps_metal(&floor));
    }
    // Every load was poured unless given up: a load never needs more boxes than there are.
    lost = lost || floor.load < floor.loads;
    if (!lost)
        finish(&floor);
    close_floor(&floor);
    if (lost || (give_up && !floor.session->within))
        g_clear_pointer(&floor.session, session_plan_free);
    return floor.session;
}
