// SPDX-License-Identifier: GPL-3.0-or-later
// Builds every error message the core returns, so that all of them read alike.
#include "base/error.h"

G_DEFINE_QUARK(flaskwright_error, base_error)

gboolean
base_error_set(GError **error, BaseError code, const char *file, const char *place,
               const char *what, const char *remedy)
{
    g_return_val_if_fail(what != NULL, FALSE);
    g_autoptr(GString) text = g_string_new(NULL);
    if (file)
        g_string_append_printf(text, "%s: ", file);
    if (place)
        g_string_append_printf(text, "%s: ", place);
    g_string_append(text, what);
    if (remedy)
        g_string_append_printf(text, "; %s", remedy);
    g_set_error_literal(error, BASE_ERROR, code, text->str);
    return FALSE;
}

gboolean
base_error_setf(GError **error, BaseError code, const char *file, const char *place,
                const char *remedy, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *what = g_strdup_vprintf(format, args);
    va_end(args);
    return base_error_set(error, code, file, place, what, remedy);
}
