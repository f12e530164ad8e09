// SPDX-License-Identifier: GPL-3.0-or-later
// Which job is poured on which day. Knows jobs only as flasks to pour and a day they are due, and
// asks whoever knows the shop how much one session holds.
//
// The flasks of the job due first are put into the first day as far as they go, then those of the
// next job, and so on for every day. Where a session pours one job, and every day holds as much as
// any other, no order has a smaller greatest lateness (J. R. Jackson, Scheduling a production line
// to minimize maximum tardiness, 1955); where days differ, small cases are searched through.
#pragma once

#include "calendar/days.h"

G_BEGIN_DECLS

typedef struct {
    int flasks;  // to pour
    guint32 due; // Julian; 0: none
} CalendarJob;

typedef struct {
    int job, flasks;
} CalendarPour;

typedef struct {
    guint day;     // into the days given
    GArray *pours; // of CalendarPour, in order of job
} CalendarSession;

// Says in *most how many flasks of `job`, at most `left`, one session on day `day` can pour beside
// the flasks of all jobs (n of them) in `beside`, which it is known to pour. While days are filled
// they are asked in order, so that what a day does to those after it can be kept in mind: the day
// before pours what it was last said to. FALSE with an error only when stopped or broken.
typedef gboolean (*CalendarMost)(gpointer data, guint day, const int *beside, guint n, guint job,
                                 int left, int *most, Progress *progress, GError **error);

typedef enum {
    CALENDAR_UNPROVED, // another order may be better
    CALENDAR_BOUND,    // the job that is latest would be as late if it were poured alone, at once
    CALENDAR_SEARCHED, // every order was looked through
    CALENDAR_THEOREM,  // all days alike, one job a session: earliest due date first is best
} CalendarProof;

typedef struct {
    GArray *sessions; // of CalendarSession, by day; days on which nothing is poured have none
    guint n_jobs;
    guint32 *done;  // day of each job's last session; 0: there is nothing to pour, or not all is
    guint32 *alone; // the same were the job poured before all others; 0: never
    int *late;      // days after the due day, negative before; G_MININT without a due day or end
    int latest;     // greatest of them; G_MININT if none has a due day
    gboolean whole; // every flask has a day
    CalendarProof proof; // that no plan has a smaller `latest`
} CalendarBatch;

void calendar_batch_free(CalendarBatch *batch); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CalendarBatch, calendar_batch_free)

// What is known of the sessions, which lets better plans be found and proved.
typedef enum {
    CALENDAR_MIXED,  // a session can pour several jobs
    CALENDAR_SINGLE, // a session pours one job; days differ in what they hold
    CALENDAR_ALIKE,  // a session pours one job; every day holds as much of it as any other
} CalendarSessions;

// Lays the jobs out over `days` (of CalendarDay, in order). NULL with an error only when stopped or
// when `most` fails.
CalendarBatch *calendar_batch_make(const CalendarJob *jobs, guint n, const GArray *days,
                                   CalendarSessions kind, CalendarMost most, gpointer data,
                                   Progress *progress, GError **error);

G_END_DECLS
