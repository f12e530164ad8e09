// SPDX-License-Identifier: GPL-3.0-or-later
// From the day to the book's log, and how each casting turned out.
#pragma once

#include "book/edit.h"
#include "live/day.h"

G_BEGIN_DECLS

// The session of a day as the log has it: date, times, loads charged or poured with what was noted,
// their flasks, and castings not judged yet. Nothing planned is written as if it had been measured.
// Text for a person, with units; times to a tenth of a minute.
Node *live_log_session(const LiveDay *day);
// The edit that appends it; NULL if the book has this day already. It also takes the charges off
// the metal in stock, puts the returns on it and counts the firings of the crucibles, where those
// fields are not blank, and writes into the notes of the session what was changed.
Edit *live_log_edit(const Book *book, const LiveDay *day);
// What that edit will change beside the log, or could not, in words; NULL: nothing. Free.
char *live_log_told(const Book *book, const LiveDay *day);
// The place of the session made from a day, from 0; -1 if the book has none.
int live_log_find(const Book *book, const char *day_id);

guint live_log_sessions(const Book *book);

// One casting of the log. Numbers count from 0: flasks over all loads of the session.
typedef struct {
    guint session, load, flask, casting; // `flask` over the session; `in_load` within its load
    guint in_load;
    const char *job;  // ids, borrowed from the book; NULL: not noted
    gboolean guest;   // the flask is another job's, which shares it
    const char *kind; // of flask
    gboolean judged, good;
    const char *cause, *why, *mass; // texts as noted, NULL: none
} LiveCasting;
// Every casting of a session, in order. Free with g_array_unref.
GArray *live_log_castings(const Book *book, guint session);

// How a casting turned out: `cause` (book/log-members.h) only for scrap, `mass` as typed; NULL or
// "" leaves what is noted. `judge` FALSE notes the mass alone. What else is noted stays.
// BASE_ERROR_NOT_FOUND names what the log does not have, BASE_ERROR_VALUE what cannot be read.
typedef struct {
    gboolean judge, good;
    const char *cause, *mass;
} LiveVerdict;
Edit *live_log_verdict(const Book *book, guint session, guint flask, guint casting,
                       const LiveVerdict *verdict, GError **error);
// Takes the judgement back; the mass stays.
Edit *live_log_unjudge(const Book *book, guint session, guint flask, guint casting, GError **error);

G_END_DECLS
