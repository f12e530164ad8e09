// SPDX-License-Identifier: GPL-3.0-or-later
// A crucible's past: every session in which it was used is a cold start, every load melted in it a
// melt, and the metal of the loads is what it is bound to. A load that names no crucible was melted
// in the session's.
#include "learn/crucible.h"

static void
note_family(GPtrArray *families, const Node *load, const Tables *tables)
{
    const char *metal = node_text(node_member(load, "metal"));
    const TableRow *row = metal && tables ? tables_find(tables, TABLE_METALS, metal) : NULL;
    const char *family = row ? table_row_family(row) : NULL;
    if (family && !g_ptr_array_find_with_equal_func(families, family, g_str_equal, NULL))
        g_ptr_array_add(families, (gpointer)family);
}

LearnCrucible
learn_crucible_read(const Node *log, const char *id, const Tables *tables)
{
    LearnCrucible found = {0};
    g_autoptr(GPtrArray) families = g_ptr_array_new();
    const Node *sessions = node_member(log, "sessions");
    for (guint i = 0; id && i < node_size(sessions); i++) {
        const Node *session = node_at(sessions, i), *loads = node_member(session, "loads");
        const char *usual = node_text(node_member(session, "crucible"));
        gboolean used = g_strcmp0(usual, id) == 0;
        for (guint k = 0; k < node_size(loads); k++) {
            const char *own = node_text(node_member(node_at(loads, k), "crucible"));
            if (g_strcmp0(own ? own : usual, id) != 0)
                continue;
            used = TRUE;
            found.melts++;
            note_family(families, node_at(loads, k), tables);
        }
        found.starts += used ? 1 : 0;
    }
    g_ptr_array_add(families, NULL);
    found.families = g_strjoinv(" ", (char **)families->pdata);
    return found;
}

void
learn_crucible_clear(LearnCrucible *crucible)
{
    g_clear_pointer(&crucible->families, g_free);
}
