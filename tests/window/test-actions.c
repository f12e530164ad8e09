// SPDX-License-Identifier: GPL-3.0-or-later
// Every row of the action table is an action the window has, and every key stands in the shortcuts
// window.
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/actions.h"

static void
test_rows_exist(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    GtkWidget *window = fw_window_new(NULL, desk);
    for (guint i = 0; i < actions_count(); i++) {
        const char *name = actions_at(i)->name + strlen("win.");
        g_autofree char *plain = g_strndup(name, strcspn(name, ":"));
        g_assert_nonnull(g_action_map_lookup_action(G_ACTION_MAP(window), plain));
    }
    gtk_window_destroy(GTK_WINDOW(window));
}

static gboolean
has_accel(GtkWidget *widget, gconstpointer accel)
{
    g_autofree char *own = NULL;
    g_object_get(widget, "accelerator", &own, NULL);
    return g_strcmp0(own, accel) == 0;
}

static void
test_shortcuts_window(void)
{
    GtkWidget *window = actions_shortcuts_window();
    for (guint i = 0; i < actions_count(); i++)
        if (actions_at(i)->accel)
            g_assert_nonnull(
                hand_find(window, GTK_TYPE_SHORTCUTS_SHORTCUT, has_accel, actions_at(i)->accel));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_accels_are_keys_and_differ(void)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < actions_count(); i++) {
        const char *accel = actions_at(i)->accel;
        guint key;
        GdkModifierType modifiers;
        if (!accel)
            continue;
        g_assert_true(gtk_accelerator_parse(accel, &key, &modifiers));
        g_assert_true(g_hash_table_add(seen, (gpointer)accel));
    }
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/actions/rows-exist", test_rows_exist);
    g_test_add_func("/window/actions/shortcuts-window", test_shortcuts_window);
    g_test_add_func("/window/actions/accels", test_accels_are_keys_and_differ);
    return hand_run();
}
