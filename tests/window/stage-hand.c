// SPDX-License-Identifier: GPL-3.0-or-later
// Finding widgets, and letting the main loop turn until a plan is there.
#include "stage-hand.h"

#include <glib/gstdio.h>
#include <string.h>

#include "check.h"

static Tables *tables;
static char *folder;

void
hand_init(int *argc, char ***argv)
{
    folder = check_folder();
    g_setenv("XDG_DATA_HOME", folder, TRUE);
    g_setenv("XDG_CONFIG_HOME", folder, TRUE);
    if (!g_getenv("DISPLAY") && !g_getenv("WAYLAND_DISPLAY")) {
        g_print("1..0 # SKIP no display\n");
        exit(0);
    }
    gtk_test_init(argc, argv, NULL);
    g_autoptr(GError) error = NULL;
    tables = tables_load(&error);
    g_assert_no_error(error);
}

int
hand_run(void)
{
    int code = g_test_run();
    tables_free(tables);
    check_folder_remove(folder);
    g_free(folder);
    return code;
}

const Tables *
hand_tables(void)
{
    return tables;
}

// Copies the demo, to be planned in few cells: no test here looks at what they tell.
static void
copy_demo(const char *to)
{
    static const char *const names[] = {"loom-hardware.castbook", "pawl.stl", "treadle-bracket.stl",
                                        "pulley-hanger.stl"};
    g_assert_cmpint(g_mkdir(to, 0700), ==, 0);
    for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autofree char *source = g_build_filename(g_getenv("FW_SOURCE_DIR"), "data", "demo",
                                                   names[i], NULL);
        g_autofree char *target = g_build_filename(to, names[i], NULL);
        g_autofree char *bytes = NULL;
        gsize length = 0;
        g_assert_true(g_file_get_contents(source, &bytes, &length, NULL));
        if (i == 0) {
            g_auto(GStrv) parts = g_strsplit(bytes, "\"mesh\":", -1);
            g_assert_cmpuint(g_strv_length(parts), >=, 2);
            g_free(bytes);
            bytes = g_strjoinv("\"cells\": \"32\", \"heat_cells\": \"4000\", \"mesh\":", parts);
            length = strlen(bytes);
        }
        g_assert_true(g_file_set_contents(target, bytes, (gssize)length, NULL));
    }
}

char *
hand_demo(void)
{
    g_autofree char *demo = g_build_filename(folder, "demo", NULL);
    if (!g_file_test(demo, G_FILE_TEST_IS_DIR))
        copy_demo(demo);
    return g_build_filename(demo, "loom-hardware.castbook", NULL);
}

static gboolean
on_time_up_cb(gpointer data)
{
    *(gboolean *)data = TRUE;
    return G_SOURCE_REMOVE;
}

void
hand_turn(guint milliseconds)
{
    gboolean up = FALSE;
    g_timeout_add(milliseconds, on_time_up_cb, &up);
    while (!up)
        g_main_context_iteration(NULL, TRUE);
}

void
hand_wait_plan(Desk *desk)
{
    for (int i = 0; i < 1200 && (desk_is_busy(desk) || !desk_plan(desk)); i++)
        hand_turn(50);
    g_assert_false(desk_is_busy(desk));
    g_assert_nonnull(desk_plan(desk));
}

void
hand_wait_settled(FwWindow *window)
{
    hand_wait_plan(fw_window_get_desk(window));
    for (int i = 0; i < 600 && !fw_window_is_settled(window); i++)
        hand_turn(50);
    g_assert_true(fw_window_is_settled(window));
}

FwWindow *
hand_open(Desk *desk, const char *path)
{
    g_autofree char *demo = hand_demo();
    FwWindow *window = FW_WINDOW(fw_window_new(NULL, desk));
    gtk_window_present(GTK_WINDOW(window));
    g_assert_true(fw_window_open(window, path ? path : demo));
    hand_wait_settled(window);
    hand_turn(50);
    return window;
}

void
hand_close(FwWindow *window)
{
    gpointer left = window;
    g_object_add_weak_pointer(G_OBJECT(window), &left);
    gtk_window_destroy(GTK_WINDOW(window));
    hand_turn(200);
    g_assert_null(left);
}

void
hand_show(FwWindow *window, const char *view)
{
    g_action_group_change_action_state(G_ACTION_GROUP(window), "view", g_variant_new_string(view));
    hand_turn(50);
    hand_wait_settled(window);
}

gboolean
hand_label_has(GtkWidget *label, gconstpointer words)
{
    return strstr(gtk_label_get_text(GTK_LABEL(label)), words) != NULL;
}

GtkWidget *
hand_find(GtkWidget *root, GType type, HandFits fits, gconstpointer data)
{
    if (G_TYPE_CHECK_INSTANCE_TYPE(root, type) && (!fits || fits(root, data)))
        return root;
    for (GtkWidget *child = gtk_widget_get_first_child(root); child;
         child = gtk_widget_get_next_sibling(child)) {
        GtkWidget *found = hand_find(child, type, fits, data);
        if (found)
            return found;
    }
    return NULL;
}
