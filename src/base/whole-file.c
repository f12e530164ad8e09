// SPDX-License-Identifier: GPL-3.0-or-later
// Writing a file that is never seen half made.
#include "base/whole-file.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

gboolean
whole_file_may(const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(path != NULL, FALSE);
    if (replace ||
        !(g_file_test(path, G_FILE_TEST_EXISTS) || g_file_test(path, G_FILE_TEST_IS_SYMLINK)))
        return TRUE;
    return base_error_set(error, BASE_ERROR_FILE, path, NULL, _("is there already"),
                          _("choose another name, or say that it may be replaced"));
}

gboolean
whole_file_write(const char *path, const void *data, gsize length, gboolean replace, GError **error)
{
    g_return_val_if_fail(path != NULL && (data != NULL || length == 0), FALSE);
    if (!whole_file_may(path, replace, error))
        return FALSE;
    g_autoptr(GError) reason = NULL;
    if (!g_file_set_contents_full(path, data, (gssize)length, G_FILE_SET_CONTENTS_CONSISTENT, 0666,
                                  &reason))
        return base_error_set(error, BASE_ERROR_FILE, path, NULL, reason->message,
                              _("choose a folder that can be written"));
    return TRUE;
}
