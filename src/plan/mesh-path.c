// SPDX-License-Identifier: GPL-3.0-or-later
// Mesh paths that survive when a book is saved somewhere else.
#include "plan/mesh-path.h"

#include <string.h>

char *
mesh_path_stored(const char *mesh_path, const char *folder)
{
    g_autofree char *whole = g_canonicalize_filename(mesh_path, NULL);
    gsize n = folder ? strlen(folder) : 0;
    if (n > 0 && folder[n - 1] == G_DIR_SEPARATOR)
        n--; // the root folder
    if (folder && *folder && strncmp(whole, folder, n) == 0 && whole[n] == G_DIR_SEPARATOR)
        return g_strdup(whole + n + 1);
    return g_steal_pointer(&whole);
}

Book *
mesh_path_rebase(const Book *book, const char *folder)
{
    if (g_strcmp0(book_folder(book), folder) == 0)
        return book_ref(book);
    g_autoptr(Node) root = node_ref(book_root(book));
    g_autoptr(Node) jobs = node_member(root, "jobs") ? node_ref(node_member(root, "jobs")) : NULL;
    for (guint i = 0; i < node_size(jobs); i++) {
        g_autofree char *whole = book_mesh_path(book, book_job_id(book, i));
        if (!whole)
            continue;
        g_autofree char *stored = mesh_path_stored(whole, folder);
        g_autoptr(Node) text = node_new_text(stored);
        g_autoptr(Node) job = node_with_member(node_at(jobs, i), "mesh", text);
        Node *changed = node_with_item(jobs, i, job);
        node_unref(jobs);
        jobs = changed;
    }
    if (jobs) {
        Node *changed = node_with_member(root, "jobs", jobs);
        node_unref(root);
        root = changed;
    }
    return book_new(root, folder);
}
