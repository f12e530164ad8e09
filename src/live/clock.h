// SPDX-License-Identifier: GPL-3.0-or-later
// What time it is, and how a time is written and read. A moment is a double: seconds of UTC since
// 1970. Only what a person sees or types is local time, so a day that crosses midnight or the
// change to summer time needs no special case.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Now, by the system's clock or the one set.
double live_clock_now(void);
// Sets another clock, for tests; NULL: the system's again.
void live_clock_set(double (*clock)(gpointer data), gpointer data);

// "14:05" and "2026-11-25", local; "?" for what is no moment. Free.
char *live_clock_time(double at);
char *live_clock_date(double at);
// "2026-11-25T14:05:07Z", for files. Free.
char *live_clock_utc(double at);

// Reads "14:05" or "14:05:30", local: the last such moment that is not after `now`, so that what
// was noted before midnight can be entered after it. Where the clock stands still for an hour in
// autumn the later of the two is meant. A time the clock leaps over in spring is refused.
gboolean live_clock_read(const char *text, double now, double *at, GError **error);

// A span for a countdown: "0:07", "12:40", "1:02:09"; the sign is left to the words round it. Free.
char *live_clock_span(double seconds);

G_END_DECLS
