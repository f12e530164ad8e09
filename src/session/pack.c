// SPDX-License-Identifier: GPL-3.0-or-later
// Packing moulds into loads: directly, by patterns, or by first fit. See pack.h.
#include "session/pack.h"

#include <math.h>
#include <string.h>

#include "base/error.h"
#include "session/mip.h"
#include "session/pattern.h"

// Between packings that end alike the one with fewer loads: as if each took a second more.
#define LOAD_COST 1.0

void
session_packing_free(SessionPacking *packing)
{
    if (!packing)
        return;
    g_array_unref(packing->loads);
    g_free(packing);
}

static SessionPacking *
new_packing(SessionPackHow how)
{
    SessionPacking *packing = g_new0(SessionPacking, 1);
    packing->loads = g_array_new(FALSE, FALSE, sizeof(SessionLoad));
    packing->how = how;
    return packing;
}

// Furnace time of one mould, and of a load apart from its moulds.
static double
get_mould_time(const SessionFloor *floor, int kind, int furnace)
{
    const SessionMould *mould = &floor->kinds[kind];
    return mould->kg * floor->furnaces[furnace].melt[mould->metal] + mould->pour;
}

static double
get_load_time(const SessionFloor *floor)
{
    return floor->charge + floor->skim;
}

static gboolean
fits_somewhere(const SessionFloor *floor, const SessionLoad *load, int most)
{
    return session_load_moulds(floor, load) <= most && session_load_is_possible(floor, load);
}

int
session_pack_largest(const SessionFloor *floor)
{
    int largest = 0;
    for (int kind = 0; kind < floor->n_kinds; kind++) {
        SessionLoad load = {.metal = floor->kinds[kind].metal};
        // The kind with least metal alone, then with what still goes in beside it.
        while (load.count[kind] < SESSION_MOST_FLASKS) {
            load.count[kind]++;
            if (!session_load_is_possible(floor, &load)) {
                load.count[kind]--;
                break;
            }
        }
        for (int other = 0; other < floor->n_kinds; other++) {
            while (other != kind && floor->kinds[other].metal == load.metal) {
                load.count[other]++;
                if (session_load_is_possible(floor, &load))
                    continue;
                load.count[other]--;
                break;
            }
        }
        largest = MAX(largest, session_load_moulds(floor, &load));
    }
    return largest;
}

// First fit, largest first: each mould into the first load that takes it.
static SessionPacking *
pack_first_fit(const SessionFloor *floor, const int *counts, int most)
{
    g_autoptr(SessionPacking) packing = new_packing(SESSION_PACK_FIRST_FIT);
    int order[SESSION_MOST_KINDS];
    for (int i = 0; i < floor->n_kinds; i++) {
        int j = i;
        for (; j > 0 && floor->kinds[order[j - 1]].kg < floor->kinds[i].kg; j--)
            order[j] = order[j - 1];
        order[j] = i;
    }
    for (int i = 0; i < floor->n_kinds; i++) {
        int kind = order[i];
        guint from = 0; // a load that did not take this kind takes no more of it later
        for (int left = counts[kind]; left > 0; left--) {
            gboolean placed = FALSE;
            for (; from < packing->loads->len && !placed; from += !placed) {
                SessionLoad *load = &g_array_index(packing->loads, SessionLoad, from);
                if (load->metal != floor->kinds[kind].metal)
                    continue;
                load->count[kind]++;
                placed = fits_somewhere(floor, load, most);
                load->count[kind] -= !placed;
            }
            if (placed)
                continue;
            SessionLoad load = {.metal = floor->kinds[kind].metal};
            load.count[kind] = 1;
            if (!fits_somewhere(floor, &load, most))
                return NULL;
            g_array_append_val(packing->loads, load);
            from = packing->loads->len - 1;
        }
    }
    return g_steal_pointer(&packing);
}

// Time of the furnaces shared evenly, each load in the quickest that takes it: what first fit
// promises; and the same with no more loads than the metal fills: no packing does better.
static void
rate_first_fit(const SessionFloor *floor, const int *counts, SessionPacking *packing)
{
    double time = 0.0, loads = 0.0;
    for (int metal = 0; metal < floor->n_metals; metal++) {
        double kg = 0.0, holds = 0.0;
        for (int f = 0; f < floor->n_furnaces; f++)
            holds = MAX(holds, floor->furnaces[f].holds[metal]);
        for (int kind = 0; kind < floor->n_kinds; kind++) {
            if (floor->kinds[kind].metal != metal)
                continue;
            double best = INFINITY;
            for (int f = 0; f < floor->n_furnaces; f++)
                if (floor->furnaces[f].holds[metal] >= floor->kinds[kind].kg)
                    best = MIN(best, get_mould_time(floor, kind, f));
            kg += counts[kind] * floor->kinds[kind].kg;
            time += counts[kind] > 0 ? counts[kind] * best : 0.0;
        }
        loads += kg > 0.0 ? ceil(kg / holds - 1e-9) : 0.0;
    }
    packing->bound = (time + loads * get_load_time(floor)) / floor->n_furnaces;
    packing->time = (time + packing->loads->len * get_load_time(floor)) / floor->n_furnaces;
}

// One kind and crucibles alike: as many full loads as there are, and one with the rest.
static SessionPacking *
pack_direct(const SessionFloor *floor, int kind, int count, int most, const SessionAlike *alike)
{
    SessionPacking *packing = new_packing(SESSION_PACK_DIRECT);
    SessionLoad full = {.metal = floor->kinds[kind].metal};
    while (full.count[kind] < count) {
        full.count[kind]++;
        if (fits_somewhere(floor, &full, most))
            continue;
        full.count[kind]--;
        break;
    }
    if (full.count[kind] == 0) {
        session_packing_free(packing);
        return NULL;
    }
    for (int left = count; left > 0; left -= full.count[kind]) {
        SessionLoad load = full;
        load.count[kind] = MIN(full.count[kind], left);
        g_array_append_val(packing->loads, load);
    }
    packing->time = packing->bound = (packing->loads->len * get_load_time(floor) +
                                      count * get_mould_time(floor, kind, alike[0].furnace)) /
                                     alike[0].n;
    return packing;
}

typedef struct {
    const SessionFloor *floor;
    const int *counts;
    const GArray *patterns;
    const SessionAlike *alike;
    int n_alike;
    SessionMip *mip;
    int time;                                              // column
    int pattern;                                           // column of the first
    int moulds[SESSION_MOST_FURNACES][SESSION_MOST_KINDS]; // columns; 0: none
} Programme;

// Columns: the time, loads by pattern, moulds by group of furnaces. Rows: no group is at work
// longer than the time; no more moulds of a kind than the loads have room for; all moulds poured.
static void
write_programme(Programme *p)
{
    const SessionFloor *floor = p->floor;
    p->time = session_mip_column(p->mip, 0.0, INFINITY, 1.0, FALSE);
    int rows[SESSION_MOST_FURNACES];
    for (int a = 0; a < p->n_alike; a++) {
        rows[a] = session_mip_row(p->mip, -INFINITY, 0.0);
        session_mip_set(p->mip, rows[a], p->time, -p->alike[a].n);
    }
    p->pattern = p->time + 1;
    for (guint i = 0; i < p->patterns->len; i++) {
        const SessionPattern *pattern = &g_array_index(p->patterns, SessionPattern, i);
        int column = session_mip_column(p->mip, 0.0, SESSION_MOST_FLASKS, LOAD_COST, TRUE);
        session_mip_set(p->mip, rows[pattern->alike], column, get_load_time(floor));
    }
    for (int kind = 0; kind < floor->n_kinds; kind++) {
        int all = p->counts[kind] > 0 ? session_mip_row(p->mip, p->counts[kind], p->counts[kind])
                                      : 0;
        for (int a = 0; a < p->n_alike && all; a++) {
            int column = session_mip_column(p->mip, 0.0, p->counts[kind], 0.0, TRUE);
            int room = session_mip_row(p->mip, -INFINITY, 0.0);
            p->moulds[a][kind] = column;
            session_mip_set(p->mip, all, column, 1.0);
            session_mip_set(p->mip, room, column, 1.0);
            session_mip_set(p->mip, rows[a], column,
                            get_mould_time(floor, kind, p->alike[a].furnace));
            for (guint i = 0; i < p->patterns->len; i++) {
                const SessionPattern *pattern = &g_array_index(p->patterns, SessionPattern, i);
                if (pattern->alike == a && pattern->load.count[kind] > 0)
                    session_mip_set(p->mip, room, p->pattern + (int)i, -pattern->load.count[kind]);
            }
        }
    }
}

// The loads of one pattern, filled with the moulds its group still has to pour.
static void
read_pattern(const Programme *p, const SessionPattern *pattern, int n,
             int left[SESSION_MOST_FURNACES][SESSION_MOST_KINDS], GArray *loads)
{
    for (int i = 0; i < n; i++) {
        SessionLoad load = {.metal = pattern->load.metal};
        for (int kind = 0; kind < p->floor->n_kinds; kind++) {
            int *rest = &left[pattern->alike][kind];
            load.count[kind] = MIN(pattern->load.count[kind], *rest);
            *rest -= load.count[kind];
        }
        if (session_load_moulds(p->floor, &load) > 0)
            g_array_append_val(loads, load);
    }
}

static void
read_programme(const Programme *p, SessionPacking *packing)
{
    int left[SESSION_MOST_FURNACES][SESSION_MOST_KINDS];
    memset(left, 0, sizeof left);
    for (int a = 0; a < p->n_alike; a++)
        for (int kind = 0; kind < p->floor->n_kinds; kind++)
            if (p->moulds[a][kind] > 0)
                left[a][kind] = (int)lround(session_mip_value(p->mip, p->moulds[a][kind]));
    double loads = 0.0;
    for (guint i = 0; i < p->patterns->len; i++) {
        const SessionPattern *pattern = &g_array_index(p->patterns, SessionPattern, i);
        int n = (int)lround(session_mip_value(p->mip, p->pattern + (int)i));
        loads += n;
        read_pattern(p, pattern, n, left, packing->loads);
    }
    packing->time = session_mip_objective(p->mip) - loads * LOAD_COST;
    packing->bound = MIN(session_mip_bound(p->mip) - loads * LOAD_COST, packing->time);
}

// NULL without an answer: *cancelled says whether for being stopped.
static SessionPacking *
pack_patterns(const SessionFloor *floor, const int *counts, int most, const SessionAlike *alike,
              int n_alike, const Progress *progress, gboolean *cancelled)
{
    g_autoptr(GArray) patterns = session_patterns(floor, alike, n_alike, counts, most);
    if (!patterns)
        return NULL;
    g_autoptr(SessionMip) mip = session_mip_new(FALSE);
    Programme programme = {.floor = floor,
                           .counts = counts,
                           .patterns = patterns,
                           .alike = alike,
                           .n_alike = n_alike,
                           .mip = mip};
    write_programme(&programme);
    SessionMipEnd end = session_mip_solve(mip, progress);
    *cancelled = end == SESSION_MIP_CANCELLED;
    if (end != SESSION_MIP_BEST && end != SESSION_MIP_STOPPED)
        return NULL;
    SessionPacking *packing = new_packing(end == SESSION_MIP_BEST ? SESSION_PACK_PATTERNS
                                                                  : SESSION_PACK_STOPPED);
    read_programme(&programme, packing);
    return packing;
}

static gboolean
refuse(GError **error)
{
    return base_error_set(error, BASE_ERROR_VALUE, NULL, "packing",
                          "a mould fits no load of this shop",
                          "look at crucibles, flasks, cooling places and sand");
}

SessionPacking *
session_pack(const SessionFloor *floor, const int *counts, int most, Progress *progress,
             GError **error)
{
    g_return_val_if_fail(floor && counts && most > 0, NULL);
    if (!progress_check(progress, error))
        return NULL;
    SessionAlike alike[SESSION_MOST_FURNACES] = {{0}};
    int n_alike = session_alike(floor, alike), n_kinds = 0, kind = 0;
    for (int i = 0; i < floor->n_kinds; i++) {
        kind = counts[i] > 0 ? i : kind;
        n_kinds += counts[i] > 0;
    }
    SessionPacking *packing = NULL;
    gboolean cancelled = FALSE;
    if (n_kinds == 1 && n_alike == 1) {
        packing = pack_direct(floor, kind, counts[kind], most, alike);
    } else {
        packing = pack_patterns(floor, counts, most, alike, n_alike, progress, &cancelled);
        if (cancelled) {
            progress_check(progress, error);
            return NULL;
        }
        if (!packing && (packing = pack_first_fit(floor, counts, most)))
            rate_first_fit(floor, counts, packing);
    }
    if (!packing)
        refuse(error);
    return packing;
}
