// SPDX-License-Identifier: GPL-3.0-or-later
// The best session of a floor, and the same for the plain case: one kind of mould, one furnace.
#pragma once

#include "session/lay.h"
#include "session/pack.h"

G_BEGIN_DECLS

// What makes one session better than another that also keeps hours, light and metal.
typedef enum {
    SESSION_CALM, // fewest loads, then least holding of molten metal, then the earliest last pour
    SESSION_SOON, // the earliest last pour, then fewest loads
} SessionGoal;

// Lays out `counts` moulds of each kind in the best of a fixed set of ways (size and order of
// loads, whether a charge waits for its moulds, whether hands wait for the metal), and when they
// are few also by trying every order (session/exact.h), which then is proved. When nothing keeps
// hours, light and metal: the shortest, with within FALSE. Labels, keys and precedences are made
// only if `labels`. NULL when stopped, or with BASE_ERROR_VALUE when a mould fits no load or sand
// never suffices.
SessionPlan *session_floor_plan(const SessionFloor *floor, const int *counts, SessionGoal goal,
                                gboolean labels, Progress *progress, GError **error);

typedef struct {
    int counts[SESSION_MOST_KINDS];
    int moulds;
    double worth;
    SessionBound bound; // nothing does better than this
    gboolean proved;    // and nothing does better than what was found
} SessionMost;

// The moulds, of those wanted, that are worth most and can be poured within the hours; none when
// not even one can. Moulds poured last may be left to cool and are shaken out before the next
// session, outside its hours. FALSE only when stopped.
gboolean session_floor_most(const SessionFloor *floor, SessionMost *most, Progress *progress,
                            GError **error);

// What a plain session has and how long things take. All times in s.
typedef struct {
    double hours;                // from unlocking to locking
    double set_up, closing;      // before the furnace is switched on; after the last pour
    double warm_up;              // furnace, from switching on to the first charge
    double charge;               // person and furnace
    double heat;                 // furnace, to melt a whole load; a smaller load melts in its share
    double ram;                  // person, a flask: the whole
    double skim, pour;           // person and furnace: once a load, and each flask
    double cool;                 // flask, from the end of pouring to shake-out
    double shake_out;            // person, a flask
    int people, boxes;           // pairs of hands; physical flasks
    int flasks_per_load;         // the most one charge fills
    int benches;                 // moulding benches; 0: one for each pair of hands
    int places;                  // cooling places; 0: as many as are asked for
    double share[4];             // of ramming: drag, cope, draw, shut; all 0: SESSION_SHARE_*
    double sand;                 // kg in a flask
    double sand_ready;           // kg; 0: never short
    double sand_rest;            // from the end of shake-out until it is ready again
    double light_from, light_to; // light_to 0: no limit at the end
    const SessionPin *pins;      // borrowed
    guint n_pins;
} SessionShop;

// How the time for one mould divides: the drag with its bottom board and parting, the cope with
// sprue and vents, drawing and mending, closing and weighting. Common practice, no source.
#define SESSION_SHARE_DRAG 0.35
#define SESSION_SHARE_COPE 0.40
#define SESSION_SHARE_DRAW 0.15
#define SESSION_SHARE_SHUT 0.10

// TRUE when every time is finite and not negative and every count at least 1.
gboolean session_shop_is_usable(const SessionShop *shop);
// The floor of it: one kind, each mould worth 1, as many wanted as a session may have.
SessionFloor session_shop_floor(const SessionShop *shop);

// As session_floor_plan(), SESSION_CALM.
SessionPlan *session_plan_of(const SessionShop *shop, int flasks, gboolean labels,
                             Progress *progress, GError **error);
// The most flasks that can be poured within the hours; 0 when not even one can. FALSE only when
// stopped.
gboolean session_plan_most(const SessionShop *shop, int *flasks, Progress *progress,
                           GError **error);
// No schedule can pour more than this.
int session_plan_bound(const SessionShop *shop);

G_END_DECLS
