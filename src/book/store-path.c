// SPDX-License-Identifier: GPL-3.0-or-later
// Where drafts are kept: in the user's own data folder, never beside or over the book. A draft's
// name is a hash of the book's path, so every book has one of its own.
#include <string.h>

#include "book/store.h"

char *
store_draft_path(const char *path)
{
    g_autofree char *folder = g_build_filename(g_get_user_data_dir(), "flaskwright", "drafts",
                                               NULL);
    g_mkdir_with_parents(folder, 0700);
    if (!path)
        return g_build_filename(folder, "unsaved.castbook", NULL);
    g_autofree char *whole = g_canonicalize_filename(path, NULL);
    g_autofree char *hash = g_compute_checksum_for_string(G_CHECKSUM_SHA256, whole, -1);
    g_autofree char *name = g_strdup_printf("%s.castbook", hash);
    return g_build_filename(folder, name, NULL);
}
