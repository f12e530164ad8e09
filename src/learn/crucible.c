// SPDX-License-Identifier: GPL-3.0-or-later
// A crucible's past: every session that names it is a cold start, every load of it a melt, and the
// metal of the loads is what it is bound to.
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
        const Node *session = node_at(sessions, i);
        if (g_strcmp0(node_text(node_member(session, "crucible")), id) != 0)
            continue;
        const Node *loads = node_member(session, "loads");
        found.starts++;
        found.melts += node_size(loads);
        for (guint k = 0; k < node_size(loads); k++)
            note_family(families, node_at(loads, k), tables);
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
