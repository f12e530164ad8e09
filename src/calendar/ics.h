// SPDX-License-Identifier: GPL-3.0-or-later
// Sessions as a calendar file, iCalendar of RFC 5545, through libical. Times are written without a
// zone ("floating", section 3.3.5, form 1): a session begins when the clock on the shop's wall says
// so, wherever the file is read and whatever summer time does.
#pragma once

#include "calendar/days.h"

G_BEGIN_DECLS

typedef struct {
    char *uid;
    guint32 day;       // Julian
    int from, to;      // min after midnight of that day
    char *summary;     // not empty
    char *description; // lines end with \n; may be empty
    char *category;    // or NULL
} CalendarEvent;

void calendar_event_clear(CalendarEvent *event);

typedef struct {
    const char *name; // of the whole calendar
    guint32 stamp;    // Julian: the day the plan is of, midnight UTC of it is each event's DTSTAMP
    int alarm;        // min before each session that the calendar reminds of it; -1: it does not
} CalendarHead;

// The bytes of the file: CRLF at line ends, lines folded. Characters no calendar may hold (section
// 3.1, CONTROL) are left out. NULL with BASE_ERROR_VALUE when a text is not UTF-8. Free.
char *calendar_ics(const CalendarHead *head, const CalendarEvent *events, guint n, GError **error);

G_END_DECLS
