// SPDX-License-Identifier: GPL-3.0-or-later
// Listing the full loads of each crucible by counting down, kind by kind.
#include "session/pattern.h"

#include <string.h>

#define MOST_PATTERNS 1200
#define MOST_STEPS 100000

typedef struct {
    const SessionFloor *floor;
    const int *counts;
    int most, furnace, alike;
    int kinds[SESSION_MOST_KINDS], n_kinds; // of the metal
    SessionLoad load;
    GArray *patterns;
    int steps;
} Listing;

static gboolean
are_alike(const SessionFloor *floor, int a, int b)
{
    const SessionFurnace *x = &floor->furnaces[a], *y = &floor->furnaces[b];
    if (x->warm_up != y->warm_up)
        return FALSE;
    for (int i = 0; i < floor->n_metals; i++)
        if (x->holds[i] != y->holds[i] || x->melt[i] != y->melt[i])
            return FALSE;
    return TRUE;
}

int
session_alike(const SessionFloor *floor, SessionAlike alike[SESSION_MOST_FURNACES])
{
    int n = 0;
    for (int i = 0; i < floor->n_furnaces; i++) {
        int j = 0;
        while (j < n && !are_alike(floor, alike[j].furnace, i))
            j++;
        if (j == n)
            alike[n++] = (SessionAlike){.furnace = i};
        alike[j].n++;
    }
    return n;
}

static gboolean
does_go_in(const Listing *listing)
{
    return session_load_moulds(listing->floor, &listing->load) <= listing->most &&
           session_load_suits(listing->floor, &listing->load, listing->furnace) &&
           session_load_is_possible(listing->floor, &listing->load);
}

static gboolean
is_full(Listing *listing)
{
    for (int i = 0; i < listing->n_kinds; i++) {
        int kind = listing->kinds[i];
        if (listing->load.count[kind] >= listing->counts[kind])
            continue;
        listing->load.count[kind]++;
        gboolean more = does_go_in(listing);
        listing->load.count[kind]--;
        if (more)
            return FALSE;
    }
    return TRUE;
}

// FALSE when there are too many.
static gboolean
list_from(Listing *listing, int at)
{
    if (++listing->steps > MOST_STEPS)
        return FALSE;
    if (at == listing->n_kinds) {
        if (session_load_moulds(listing->floor, &listing->load) == 0 || !is_full(listing))
            return TRUE;
        SessionPattern pattern = {.load = listing->load, .alike = listing->alike};
        g_array_append_val(listing->patterns, pattern);
        return listing->patterns->len <= MOST_PATTERNS;
    }
    int kind = listing->kinds[at], most = 0;
    while (most < listing->counts[kind]) {
        listing->load.count[kind] = most + 1;
        if (!does_go_in(listing))
            break;
        most++;
    }
    // The last kind only as many as go in: fewer would not be full.
    int least = at == listing->n_kinds - 1 ? most : 0;
    gboolean good = TRUE;
    for (int n = most; n >= least && good; n--) {
        listing->load.count[kind] = n;
        good = list_from(listing, at + 1);
    }
    listing->load.count[kind] = 0;
    return good;
}

static gboolean
list_metal(Listing *listing, int metal)
{
    listing->n_kinds = 0;
    for (int i = 0; i < listing->floor->n_kinds; i++)
        if (listing->floor->kinds[i].metal == metal && listing->counts[i] > 0)
            listing->kinds[listing->n_kinds++] = i;
    memset(&listing->load, 0, sizeof listing->load);
    listing->load.metal = metal;
    return listing->n_kinds == 0 || list_from(listing, 0);
}

GArray *
session_patterns(const SessionFloor *floor, const SessionAlike *alike, int n_alike,
                 const int *counts, int most)
{
    GArray *patterns = g_array_new(FALSE, FALSE, sizeof(SessionPattern));
    Listing listing = {.floor = floor, .counts = counts, .most = most, .patterns = patterns};
    gboolean good = TRUE;
    for (int i = 0; i < n_alike && good; i++) {
        listing.furnace = alike[i].furnace;
        listing.alike = i;
        for (int metal = 0; metal < floor->n_metals && good; metal++)
            good = list_metal(&listing, metal);
    }
    if (!good)
        g_clear_pointer(&patterns, g_array_unref);
    return patterns;
}
