// SPDX-License-Identifier: GPL-3.0-or-later
// The version of a file. There has been one version so far; a step from an older to the next would
// stand here, one function each, applied in order.
#include <glib.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/book.h"
#include "book/check.h"

gboolean
version_check(const Node *root, const char *name, GError **error)
{
    if (node_kind(root) != NODE_OBJECT)
        return base_error_set(error, BASE_ERROR_FORMAT, name, NULL,
                              _("holds JSON, but not the object a book is"),
                              _("choose a .castbook file"));
    const char *format = node_text(node_member(root, "format"));
    if (g_strcmp0(format, "castbook") != 0)
        return base_error_set(error, BASE_ERROR_FORMAT, name, "format",
                              format ? _("is not \"castbook\"")
                                     : _("is missing, so this is not a book"),
                              _("choose a .castbook file"));
    double version = node_number(node_member(root, "version"));
    if (!(version >= 1 && version == floor(version)))
        return base_error_set(error, BASE_ERROR_FORMAT, name, "version",
                              _("is not a whole number from 1"),
                              _("take an earlier copy of the file"));
    if (version > BOOK_VERSION)
        return base_error_setf(error, BASE_ERROR_VERSION, name, "version",
                               _("open it with a newer Flaskwright; the file stays as it is"),
                               _("%.0f is newer than %d, the newest this program reads"), version,
                               BOOK_VERSION);
    return TRUE;
}
