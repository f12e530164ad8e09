// SPDX-License-Identifier: GPL-3.0-or-later
// A name for a session that stays the same each time the calendar is written, so that a calendar
// that knows the session moves it instead of adding another.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// A UUID made from a name (version 5 of RFC 9562, section 5.5: SHA-1 of a namespace of our own and
// the name), for session `number` of the book called `book`. Nothing of the machine, the person or
// the time goes in, as RFC 7986, section 5.3, asks. Free.
char *calendar_uid(const char *book, int number);

G_END_DECLS
