// SPDX-License-Identifier: GPL-3.0-or-later
// Looks through the orders in which jobs can take their days, where a session pours one job and
// days hold different numbers of flasks. Private to calendar/.
#pragma once

#include "calendar/batch.h"

G_BEGIN_DECLS

// What is searched: `holds[day * n + job]` flasks of a job on a day.
typedef struct {
    const CalendarJob *jobs;
    guint n;
    const CalendarDay *days;
    guint n_days;
    const int *holds;
} CalendarTable;

typedef enum {
    SEARCH_FOUND,
    SEARCH_NONE,    // there is no such plan
    SEARCH_TOO_BIG, // given up
    SEARCH_STOPPED, // with an error
} SearchEnd;

// Looks for a plan in which no job with a due day is more than `late` days late. `takes`, one a
// day, gets the job the day pours, or -1; written only when found.
SearchEnd calendar_search(const CalendarTable *table, int late, int *takes, Progress *progress,
                          GError **error);

G_END_DECLS
