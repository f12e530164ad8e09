// SPDX-License-Identifier: GPL-3.0-or-later
// A batch as text, as JSON, as a calendar file and as rows for a spreadsheet.
#pragma once

#include "plan/batch.h"

G_BEGIN_DECLS

// For a terminal. Free.
char *report_batch_text(const BatchPlan *batch);

// For programs: SI, dates and times as ISO 8601 writes them. Free.
char *report_batch_json(const BatchPlan *batch);

// A calendar file, one event a session. `book` is the book's name, from which the sessions have
// theirs; `alarm` min before each, -1 for none. Free; NULL with an error for names that are not
// UTF-8.
char *report_batch_ics(const BatchPlan *batch, const char *book, int alarm, GError **error);

// One row a job of a session, or one row a thing to have on hand. Masses in kg. Free.
char *report_batch_csv(const BatchPlan *batch);
char *report_batch_needs_csv(const BatchPlan *batch);

// Can a batch be written to `path`, by its ending and by what is there? To be asked before the work
// is done. Messages as of report_batch_write().
gboolean report_batch_check(const char *path, gboolean needs, gboolean replace, GError **error);

// Writes a calendar or the sessions as rows by the ending of `path` (.ics, .csv), or with `needs`
// what to have on hand (.csv only). The book's name comes from the name of its file, `book_path`,
// or is the shop's when that is NULL. Atomic; an existing file is replaced only if `replace`.
gboolean report_batch_write(const BatchPlan *batch, const char *book_path, int alarm,
                            gboolean needs, const char *path, gboolean replace, GError **error);

// "Sat 2026-11-28". Free.
char *report_batch_day(guint32 day);
// The name of a crucible of the book, or its id where it has none. Borrowed.
const char *report_batch_crucible(const BatchPlan *batch, const char *id);
// "Aluminium A356: buy 3.4 kg of ingot; charge it with 6.1 kg of returns · 20 EUR". Free.
char *report_batch_need(const BatchPlan *batch, const CalendarNeed *need);
// "8 flasks, 16 castings, 4 loads". Free.
char *report_batch_pour(const BatchPlan *batch, const BatchPour *pour);
// "2 loads · held back by the sand. Sand for one more flask would bring ..." Free.
char *report_batch_session(const BatchSession *session);
// "Aluminium A356: 24 kg of ingot; after the last session 2.1 kg of returns". Free.
char *report_batch_shelf(const BatchPlan *batch, const CalendarShelf *shelf);
// "ends Sat 2026-12-19, due Sat 2026-12-12: 7 days late; ...", "nothing left to cast", "left out:
// ...". Free.
char *report_batch_end(const BatchJob *job);

G_END_DECLS
