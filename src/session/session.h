// SPDX-License-Identifier: GPL-3.0-or-later
// One session laid out over one furnace, the people and the flasks. Numbers in, tasks out; knows no
// book and makes no figures.
#pragma once

#include "session/schedule.h"

G_BEGIN_DECLS

// More flasks in a session than this are not planned; it bounds the time a book can ask for.
#define SESSION_MOST_FLASKS 600

// Metal is not left molten longer than this for want of a flask or of hands, s: it takes up gas and
// burns power. Common practice, no source. A session of one flask is exempt.
#define SESSION_MOST_HELD 1800.0

// What a session has and how long things take. All times in s.
typedef struct {
    double hours;           // from unlocking to locking
    double set_up, closing; // before the furnace is switched on; after the last pour
    double warm_up;         // furnace, from switching on to the first charge
    double charge;          // person and furnace
    double heat;            // furnace, to melt a whole load; a smaller load melts in its share
    double ram;             // person, a flask
    double skim, pour;      // person and furnace: once a load, and each flask
    double cool;            // flask, from the end of pouring to shake-out
    double shake_out;       // person, a flask
    int people, boxes;      // pairs of hands; physical flasks
    int flasks_per_load;    // the most one charge fills
} SessionShop;

// A session laid out. The tasks are as in SessionResult, in order of start.
typedef struct {
    GArray *tasks; // of SessionTask; their labels are freed with it
    int loads, flasks;
    int left_to_cool;    // flasks still closed at the end, shaken out before the next session
    double length;       // s, to the end of closing
    double last_pour;    // s
    double held;         // s, molten metal waiting for its flasks, all loads
    double longest_held; // s, the load that waits longest
    double person_time;  // s, all hands
    double furnace_time; // s, warming, charging, melting, pouring
    gboolean within;     // ends within the hours and holds no metal too long
} SessionPlan;

void session_plan_free(SessionPlan *session); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionPlan, session_plan_free)

// One way of laying a session out.
typedef struct {
    int size;             // flasks in a full load
    gboolean small_first; // the load that is not full comes first, else last
    int patience;         // 0: charged at once; 1: just before its last flasks are begun; 2: so
                          // that they will be rammed when it is molten
    int foresight;        // 0: hands take what is at hand; 1: they wait for a pour that falls
                          // within the next piece of work; 2: for a charge too
} SessionWay;

// TRUE when every time is finite and not negative and every count at least 1.
gboolean session_shop_is_usable(const SessionShop *shop);

// Lays out `flasks` flasks in one way. With `give_up` the answer is NULL as soon as the hours are
// seen not to do; also NULL if way->size is more than a load or the boxes hold.
SessionPlan *session_schedule_lay(const SessionShop *shop, int flasks, const SessionWay *way,
                                  gboolean give_up);

// Lays out exactly `flasks` flasks, in the best of a fixed set of ways (size of load, whether a
// charge waits for its flasks, whether hands wait for the metal): fewest loads among those that end
// within the hours and hold no metal too long, then least holding of molten metal, then the
// earliest last pour. When none ends within the hours: the shortest, with within FALSE. Labels are
// made only if `labels`. NULL only when stopped.
SessionPlan *session_plan_of(const SessionShop *shop, int flasks, gboolean labels,
                             Progress *progress, GError **error);

// The most flasks that can be poured within the hours; `flasks` 0 when not even one can. Flasks
// poured last may be left to cool and are shaken out before the next session, outside its hours.
// FALSE only when stopped.
gboolean session_plan_most(const SessionShop *shop, int *flasks, Progress *progress,
                           GError **error);

// No schedule can pour more than this: the furnace alone, the hands alone and the flasks alone.
int session_plan_bound(const SessionShop *shop);

G_END_DECLS
