// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's free days as text of one line: "sat; sun 9:00-16:00; not 2026-12-26". What there is to
// read:
//
//   days  = item { ";" item }
//   item  = [ "not" | "also" ] when { "," when } [ clock "-" clock ]
//   when  = weekday [ ( "-" | "to" ) weekday ] | date [ "to" date ]
//
// A weekday is English, whole or its first three letters; a date is ISO 8601's calendar date,
// 2026-11-28; a clock is 9:00 or 09:00, and 24:00 as an end. "also" is for the reader only. Without
// a clock the shop's usual hours are meant. Where two items speak of a day, dates beat weekdays,
// and of the same kind the later one holds.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define DAYS_MOST 400 // items
#define DAYS_FIRST_YEAR 1900
#define DAYS_LAST_YEAR 2199

typedef struct {
    gboolean closed;     // "not"
    guint weekdays;      // bit 1 << GDateWeekday each; 0: dates
    guint32 first, last; // Julian days as GDate counts them, both included
    int from, to;        // min after midnight; -1: the shop's usual hours
} DaysRule;

// An array of DaysRule in the order written. NULL with a message that names the place in the text.
GArray *days_read(const char *text, GError **error);

// "2026-11-28" to its Julian day, for years DAYS_FIRST_YEAR to DAYS_LAST_YEAR. FALSE with a message
// else.
gboolean days_read_date(const char *text, guint32 *day, GError **error);
// "9:00" or "09:00" to minutes after midnight, 23:59 at most. FALSE with a message else.
gboolean days_read_clock(const char *text, int *minutes, GError **error);

char *days_write_date(guint32 day);  // "2026-11-28". Free.
char *days_write_clock(int minutes); // "09:00", of a day and beyond: "25:30" gives "01:30". Free.

G_END_DECLS
