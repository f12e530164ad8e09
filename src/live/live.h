// SPDX-License-Identifier: GPL-3.0-or-later
// A day in hand: its journal, sheet and state together. What window and command line work with.
#pragma once

#include "live/day.h"
#include "live/journal.h"

G_BEGIN_DECLS

typedef struct Live Live;

// Starts the day of a book now; go on with one after a restart. See live/journal.h for errors.
Live *live_start(const Plan *plan, const char *book_path, GError **error);
Live *live_start_day(const PlanDay *day, const char *book_path, GError **error); // of all jobs
Live *live_start_sheet(LiveSheet *sheet, const char *book_path, GError **error); // takes it over
Live *live_resume(const char *book_path, GError **error);
// Only to look, also while another window or program ticks.
Live *live_look(const char *book_path, GError **error);
void live_free(Live *live); // lets go of the journal, which stays; NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Live, live_free)

const LiveSheet *live_sheet(const Live *live);
const LiveDay *live_day(const Live *live); // until the next change
LiveJournal *live_journal(Live *live);
double live_elapsed(const Live *live); // s from the start to now

// Each adds one line; TRUE when it is on the disk. `at` (UTC, s) NAN: now. What cannot be true is
// refused with BASE_ERROR_VALUE: a key the plan does not have, a time to come or long before the
// start, a task begun or done that is done (unless `at` corrects it), a number that cannot be read.
gboolean live_begin(Live *live, const char *key, double at, GError **error);
gboolean live_done(Live *live, const char *key, double at, GError **error);
// `text` as typed: "735", "1355 F"; "1.2 kg". Of a pour, the mass also of a charge. Refused is also
// a temperature at which the metal is solid.
gboolean live_note_temperature(Live *live, const char *key, const char *text, const UnitSet *units,
                               GError **error);
gboolean live_note_mass(Live *live, const char *key, const char *text, const UnitSet *units,
                        GError **error);
// Whether one of these (LIVE_TEMPERATURE, LIVE_MASS) would be taken.
gboolean live_check_value(const Live *live, LiveWhat what, const char *key, const char *text,
                          const UnitSet *units, GError **error);
gboolean live_note(Live *live, const char *text, GError **error);
gboolean live_undo(Live *live, GError **error); // BASE_ERROR_NOT_FOUND: nothing to take back
gboolean live_finish(Live *live, GError **error);

G_END_DECLS
