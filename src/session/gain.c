// SPDX-License-Identifier: GPL-3.0-or-later
// One more of each thing, one at a time.
#include "session/gain.h"

// The kind of box with most moulds for each box.
static int
find_busiest_box(const SessionFloor *floor, const int *counts)
{
    int best = 0;
    double most = -1.0;
    for (int box = 0; box < floor->n_boxes; box++) {
        double moulds = 0.0;
        for (int k = 0; k < floor->n_kinds; k++)
            moulds += floor->kinds[k].box == box ? counts[k] : 0;
        double each = moulds / MAX(floor->boxes[box], 1);
        if (each <= most)
            continue;
        most = each;
        best = box;
    }
    return best;
}

static void
enlarge_crucibles(SessionFloor *floor)
{
    for (int f = 0; f < floor->n_furnaces; f++) {
        for (int m = 0; m < floor->n_metals; m++) {
            double heaviest = 0.0;
            for (int k = 0; k < floor->n_kinds; k++)
                if (floor->kinds[k].metal == m)
                    heaviest = MAX(heaviest, floor->kinds[k].kg);
            if (floor->furnaces[f].holds[m] > 0.0)
                floor->furnaces[f].holds[m] += heaviest;
        }
    }
}

static double
find_most_sand(const SessionFloor *floor)
{
    double most = 0.0;
    for (int k = 0; k < floor->n_kinds; k++)
        most = MAX(most, floor->kinds[k].sand);
    return most;
}

SessionFloor
session_floor_richer(const SessionFloor *floor, const int *counts, SessionMore more)
{
    SessionFloor richer = *floor;
    switch (more) {
    case SESSION_MORE_FLASK:
        richer.boxes[find_busiest_box(floor, counts)]++;
        break;
    case SESSION_MORE_SAND:
        richer.sand_ready += find_most_sand(floor);
        break;
    case SESSION_MORE_HOUR:
        richer.hours += 3600.0;
        break;
    case SESSION_MORE_LIGHT:
        session_light_extend(floor->hours, floor->closing, &richer.light_from, &richer.light_to);
        break;
    case SESSION_MORE_CRUCIBLE:
        enlarge_crucibles(&richer);
        break;
    case SESSION_MORE_PERSON:
        richer.benches += floor->benches == floor->people;
        richer.people += floor->people < SESSION_MOST_PEOPLE;
        break;
    case SESSION_MORE_FURNACE:
        for (int f = 0; f < richer.n_furnaces; f++)
            for (int m = 0; m < richer.n_metals; m++)
                richer.furnaces[f].melt[m] *= 0.5;
        break;
    case SESSION_MORE_COUNT:
        break;
    }
    return richer;
}

gboolean
session_gains_find(const SessionFloor *floor, const SessionMost *now, SessionGains *gains,
                   Progress *progress, GError **error)
{
    g_return_val_if_fail(floor && now && gains, FALSE);
    SessionGains found = {.which = session_light_is_short(floor) ? SESSION_MORE_LIGHT
                                                                 : SESSION_MORE_HOUR};
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        SessionFloor richer = session_floor_richer(floor, now->counts, i);
        SessionMost most;
        found.asked[i] = session_more_is_asked(floor, i);
        if (!found.asked[i])
            continue;
        richer.n_pins = 0;
        if (!session_floor_most(&richer, &most, progress, error))
            return FALSE;
        found.gain[i] = MAX(most.worth - now->worth, 0.0);
    }
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        if (found.gain[i] > found.gain[found.which] + 1e-9)
            found.which = i;
    *gains = found;
    return TRUE;
}
