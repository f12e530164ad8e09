// SPDX-License-Identifier: GPL-3.0-or-later
// The one error domain. A message is built here so that it always says: file, place, what is
// wrong, and what to do.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define BASE_ERROR (base_error_quark())

typedef enum {
    BASE_ERROR_FILE,      // cannot be opened, read or written
    BASE_ERROR_FORMAT,    // is not what it claims to be, or is damaged
    BASE_ERROR_VALUE,     // a value that cannot be used
    BASE_ERROR_LIMIT,     // asks for more than we are willing to hold
    BASE_ERROR_VERSION,   // made by a newer program
    BASE_ERROR_CANCELLED, // stopped by the user
    BASE_ERROR_NOT_FOUND, // names something that is not there
    BASE_ERROR_CHANGED,   // is not what it was when it was read
} BaseError;

GQuark base_error_quark(void);

// Sets *error to "file: place: what; remedy". `file`, `place` and `remedy` may be NULL and are then
// left out. `what` is a whole clause without a final stop. Always returns FALSE, so that a reader
// can end with `return base_error_set(...)`.
gboolean base_error_set(GError **error, BaseError code, const char *file, const char *place,
                        const char *what, const char *remedy);

// The same with `what` made by printf.
gboolean base_error_setf(GError **error, BaseError code, const char *file, const char *place,
                         const char *remedy, const char *format, ...) G_GNUC_PRINTF(6, 7);

G_END_DECLS
