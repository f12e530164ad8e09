// SPDX-License-Identifier: GPL-3.0-or-later
// What is to be done next, by whom, until when, and what to beware of.
#pragma once

#include "live/day.h"

G_BEGIN_DECLS

// Metal poured this much below the pouring temperature is spoken of, K: a hand-held pyrometer reads
// no closer. Common practice, no source.
#define LIVE_COLD_BY 5.0

typedef enum {
    LIVE_WAIT, // not yet
    LIVE_NOW,
    LIVE_LATE
} LivePhase;

typedef struct {
    const LiveTask *task;
    gboolean begins;    // the next tick begins it; else it ends it
    double from, until; // s from the start: to be begun, to be done
    double behind;      // s later than when the day was started; below 0: earlier
} LiveAction;

// Everything still to be ticked. Of hands (`furnace` FALSE): what is under way first, then by time;
// of furnaces: by the time they are ready. `settled` is the day planned again when the last line
// was noted, by which a person is early or late; `rest` as of now, by which later things move. The
// first of each pair of hands goes by `settled`, the others by `rest`. Free with g_array_unref.
GArray *live_actions(const LiveDay *day, const SessionResult *settled, const SessionResult *rest,
                     gboolean furnace);

LivePhase live_action_phase(const LiveAction *action, double now);
// "in 12:40", "now, 3:05 left", "late by 2:10", "ready in 4:00": for large type. Free.
char *live_action_countdown(const LiveAction *action, double now);

// What to turn to, and when: of each furnace the last setpoint prompt of the past minute, to which
// the earlier ones led up, or where there is none the very next of them all. Those of several
// furnaces are joined, and *at is the latest. NULL: none. Free.
char *live_next_prompt(const SessionResult *rest, double now, double *at);

// What is wrong with the temperature a task was done at, in a sentence: too cold to fill the mould,
// colder than planned, or hotter than is good. NULL: nothing, or it is not known. Free.
char *live_heat_warning(const LiveSheet *sheet, const LiveTask *task, const UnitSet *units);

// Sentences on what is wrong now: metal molten too long, poured too cold or too hot, the day
// outrunning its hours. Array of char *, free with g_ptr_array_unref.
GPtrArray *live_warnings(const LiveDay *day, const SessionResult *rest, double now,
                         const UnitSet *units);

// The task whose temperature or mass is noted next: the pour or charge done last. NULL: none.
const LiveTask *live_last_weighed(const LiveDay *day);

G_END_DECLS
