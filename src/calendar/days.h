// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's free days one after the other, by its own wall clock: no time zone is known or needed,
// and a change to summer time moves nothing.
#pragma once

#include "base/progress.h"
#include "book/days.h"

G_BEGIN_DECLS

// Free days are looked for over this many days, some 40 years; it bounds the time a book can ask
// for.
#define CALENDAR_HORIZON 14610
// More sessions than this are not planned.
#define CALENDAR_MOST_DAYS 1000

typedef struct {
    guint32 day;  // Julian, as GDate counts
    int from, to; // min after midnight of that day; `to` may be beyond the next midnight
} CalendarDay;

// The free days from `first` on, at most `most` of them: an array of CalendarDay. `start` (min
// after midnight) and `length` (min) are the shop's usual hours. A day whose hours begin before
// those of the one before have ended is left out. Empty when there is none within
// CALENDAR_HORIZON.
GArray *calendar_days_list(const GArray *rules, int start, int length, guint32 first, guint most);

G_END_DECLS
