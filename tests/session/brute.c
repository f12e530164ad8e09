// SPDX-License-Identifier: GPL-3.0-or-later
// Breadth first over time: from every state of the floor at one moment, whatever idle hands may
// begin, then everything goes on by one unit. No order of work is left out and no time is skipped.
#include "brute.h"

#include <math.h>
#include <string.h>

#define MOULDS 4
#define PEOPLE 3
#define FURNACES 2
#define KINDS 2

// Of a mould: 0 not begun; 1 to 4 at that step; 11 to 14 with that step done; then:
enum {
    POURING = 20, // its load is being tapped
    COOLING,
    COOL,
    SHAKING,
    GONE
};
// Of a furnace:
enum {
    WARMING,
    READY,
    MELTING,
    MOLTEN,
    TAPPING
};

typedef struct {
    guint8 busy[PEOPLE];
    struct {
        guint8 kind, stage, left;
    } moulds[MOULDS];
    struct {
        guint8 stage, left, held, count[KINDS];
    } furnaces[FURNACES];
} State;

typedef struct {
    const SessionFloor *floor;
    const int *counts;
    double unit;
    int n;
    GHashTable *seen, *next; // states at this moment, and at the one after
} Brute;

static guint8
get_units(const Brute *b, double time)
{
    return (guint8)lround(time / b->unit);
}

static gint
compare_bytes(gconstpointer a, gconstpointer b)
{
    return memcmp(a, b, 3);
}

// Hands are alike and so are moulds of a kind.
static void
make_plain(const Brute *b, State *state)
{
    for (int i = 1; i < b->floor->people; i++)
        for (int j = i; j > 0 && state->busy[j - 1] > state->busy[j]; j--) {
            guint8 busy = state->busy[j];
            state->busy[j] = state->busy[j - 1];
            state->busy[j - 1] = busy;
        }
    qsort(state->moulds, (gsize)b->n, 3, compare_bytes);
}

static guint
hash_state(gconstpointer key)
{
    const guint8 *bytes = key;
    guint hash = 5381;
    for (guint i = 0; i < sizeof(State); i++)
        hash = hash * 33 + bytes[i];
    return hash;
}

static gboolean
equal_states(gconstpointer a, gconstpointer b)
{
    return memcmp(a, b, sizeof(State)) == 0;
}

static gboolean
is_done(const Brute *b, const State *state)
{
    for (int i = 0; i < b->n; i++)
        if (state->moulds[i].stage < COOLING)
            return FALSE;
    return TRUE;
}

// FALSE when metal is held too long.
static gboolean
go_on(const Brute *b, State *state)
{
    for (int i = 0; i < b->floor->people; i++)
        state->busy[i] -= state->busy[i] > 0;
    for (int i = 0; i < b->n; i++) {
        if (state->moulds[i].left == 0 || --state->moulds[i].left > 0)
            continue;
        guint8 *stage = &state->moulds[i].stage;
        if (*stage <= 4) {
            *stage += 10;
        } else if (*stage == POURING) {
            *stage = COOLING;
            state->moulds[i].left = get_units(b, b->floor->kinds[state->moulds[i].kind].cool);
        } else {
            *stage = *stage == COOLING ? COOL : GONE;
        }
    }
    for (int f = 0; f < b->floor->n_furnaces; f++) {
        if (state->furnaces[f].stage == MOLTEN) {
            state->furnaces[f].held++;
            if (b->n > 1 && state->furnaces[f].held * b->unit > SESSION_MOST_HELD + 1e-6)
                return FALSE;
        }
        if (state->furnaces[f].left == 0 || --state->furnaces[f].left > 0)
            continue;
        guint8 *stage = &state->furnaces[f].stage;
        *stage = *stage == MELTING ? MOLTEN : READY;
        if (*stage == READY)
            memset(state->furnaces[f].count, 0, KINDS);
        state->furnaces[f].held = 0;
    }
    return TRUE;
}

static void explore(Brute *b, const State *state);

static void
explore_with(Brute *b, State state, int hands, double time)
{
    state.busy[hands] = get_units(b, time);
    explore(b, &state);
}

static int
count_in(const Brute *b, const State *state, int box, int from, int to)
{
    int n = 0;
    for (int i = 0; i < b->n; i++) {
        int stage = state->moulds[i].stage;
        gboolean here = box < 0 || b->floor->kinds[state->moulds[i].kind].box == box;
        n += here && stage >= from && stage <= to;
    }
    return n;
}

static void
try_steps(Brute *b, const State *state, int hands)
{
    for (int i = 0; i < b->n; i++) {
        int stage = state->moulds[i].stage, kind = state->moulds[i].kind;
        int step = stage == 0 ? 0 : stage - 10;
        if (!(stage == 0 || (stage > 10 && stage < 14)))
            continue;
        if (stage == 0) {
            int box = b->floor->kinds[kind].box;
            int on_bench = count_in(b, state, -1, 1, 3) + count_in(b, state, -1, 11, 12);
            if (count_in(b, state, box, 1, SHAKING) >= b->floor->boxes[box] ||
                on_bench >= b->floor->benches)
                continue;
        }
        State next = *state;
        double time = b->floor->kinds[kind].ram[step];
        next.moulds[i].stage = (guint8)(step + 1);
        next.moulds[i].left = get_units(b, time);
        explore_with(b, next, hands, time);
    }
}

// Moulds not in any load yet, of a kind.
static int
count_free(const Brute *b, const State *state, int kind)
{
    int n = 0;
    for (int i = 0; i < b->n; i++)
        n += state->moulds[i].kind == kind && state->moulds[i].stage < POURING;
    for (int f = 0; f < b->floor->n_furnaces; f++)
        if (state->furnaces[f].stage == MELTING || state->furnaces[f].stage == MOLTEN)
            n -= state->furnaces[f].count[kind];
    return n;
}

static void
try_charge(Brute *b, const State *state, int hands, int f)
{
    const SessionFloor *floor = b->floor;
    for (int x = 0; x <= count_free(b, state, 0); x++) {
        for (int y = 0; y <= (floor->n_kinds > 1 ? count_free(b, state, 1) : 0); y++) {
            SessionLoad load = {.metal = floor->kinds[x > 0 ? 0 : 1].metal, .count = {x, y}};
            if (x + y == 0 || (x > 0 && y > 0 && floor->kinds[0].metal != floor->kinds[1].metal) ||
                !session_load_suits(floor, &load, f) || !session_load_is_possible(floor, &load))
                continue;
            State next = *state;
            next.furnaces[f].stage = MELTING;
            next.furnaces[f].left = get_units(b,
                                              floor->charge + session_load_melt(floor, &load, f));
            next.furnaces[f].count[0] = (guint8)x;
            next.furnaces[f].count[1] = (guint8)y;
            explore_with(b, next, hands, floor->charge);
        }
    }
}

static void
try_tap(Brute *b, const State *state, int hands, int f)
{
    const SessionFloor *floor = b->floor;
    State next = *state;
    double time = floor->skim;
    int moulds = 0;
    for (int kind = 0; kind < floor->n_kinds; kind++) {
        int missing = state->furnaces[f].count[kind];
        for (int i = 0; i < b->n && missing > 0; i++) {
            if (next.moulds[i].kind != kind || next.moulds[i].stage != 14)
                continue;
            time += floor->kinds[kind].pour;
            next.moulds[i].stage = POURING;
            next.moulds[i].left = get_units(b, time);
            missing--;
            moulds++;
        }
        if (missing > 0)
            return;
    }
    if (count_in(b, state, -1, POURING, SHAKING) + moulds > floor->places)
        return;
    next.furnaces[f].stage = TAPPING;
    next.furnaces[f].left = get_units(b, time);
    explore_with(b, next, hands, time);
}

static void
explore(Brute *b, const State *state)
{
    State plain = *state;
    make_plain(b, &plain);
    if (g_hash_table_contains(b->seen, &plain))
        return;
    g_hash_table_add(b->seen, g_memdup2(&plain, sizeof plain));
    State later = plain;
    if (go_on(b, &later)) {
        make_plain(b, &later);
        if (!g_hash_table_contains(b->next, &later))
            g_hash_table_add(b->next, g_memdup2(&later, sizeof later));
    }
    int hands = -1;
    for (int i = 0; i < b->floor->people; i++)
        if (plain.busy[i] == 0)
            hands = i;
    if (hands < 0)
        return;
    try_steps(b, &plain, hands);
    for (int f = 0; f < b->floor->n_furnaces; f++) {
        if (plain.furnaces[f].stage == READY)
            try_charge(b, &plain, hands, f);
        if (plain.furnaces[f].stage == MOLTEN)
            try_tap(b, &plain, hands, f);
    }
    for (int i = 0; i < b->n; i++) {
        if (plain.moulds[i].stage != COOL)
            continue;
        State next = plain;
        double time = b->floor->kinds[plain.moulds[i].kind].shake_out;
        next.moulds[i].stage = SHAKING;
        next.moulds[i].left = get_units(b, time);
        explore_with(b, next, hands, time);
    }
}

static GHashTable *
new_states(void)
{
    return g_hash_table_new_full(hash_state, equal_states, g_free, NULL);
}

int
brute_last_pour(const SessionFloor *floor, const int *counts, double unit, int most)
{
    Brute b = {.floor = floor, .counts = counts, .unit = unit, .next = new_states()};
    State *first = g_new0(State, 1);
    for (int k = 0; k < floor->n_kinds; k++)
        for (int i = 0; i < counts[k]; i++)
            first->moulds[b.n++].kind = (guint8)k;
    g_assert_cmpint(b.n, <=, MOULDS);
    first->busy[0] = get_units(&b, floor->set_up);
    for (int f = 0; f < floor->n_furnaces; f++) {
        first->furnaces[f].left = get_units(&b, floor->set_up + floor->furnaces[f].warm_up);
        first->furnaces[f].stage = first->furnaces[f].left > 0 ? WARMING : READY;
    }
    make_plain(&b, first);
    g_hash_table_add(b.next, first);
    int found = -1;
    for (int time = 0; time <= most && found < 0 && g_hash_table_size(b.next) > 0; time++) {
        GHashTable *now = b.next;
        b.next = new_states();
        b.seen = new_states();
        GHashTableIter iter;
        gpointer state;
        g_hash_table_iter_init(&iter, now);
        while (g_hash_table_iter_next(&iter, &state, NULL)) {
            if (is_done(&b, state))
                found = time;
            else if (found < 0)
                explore(&b, state);
        }
        g_hash_table_unref(now);
        g_hash_table_unref(b.seen);
    }
    g_hash_table_unref(b.next);
    return found;
}
