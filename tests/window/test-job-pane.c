// SPDX-License-Identifier: GPL-3.0-or-later
// The job pane on the demo book: jobs chosen from its list, as often as one likes.
#include "check.h"
#include "stage-hand.h"
#include "window/job-pane.h"

// As a press on the entry does it.
static void
choose_entry(GtkWidget *pane, guint entry)
{
    GtkWidget *jobs = hand_find(pane, GTK_TYPE_DROP_DOWN, NULL, NULL);
    g_assert_nonnull(jobs);
    GtkWidget *button = hand_find(jobs, GTK_TYPE_TOGGLE_BUTTON, NULL, NULL);
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(button), TRUE);
    hand_turn(100);
    GtkWidget *list = hand_find(jobs, GTK_TYPE_LIST_VIEW, NULL, NULL);
    g_assert_nonnull(list);
    gtk_widget_activate_action(list, "list.select-item", "(ubb)", entry, FALSE, FALSE);
    gtk_widget_activate_action(list, "list.activate-item", "u", entry);
    hand_turn(100);
    g_assert_cmpuint(gtk_drop_down_get_selected(GTK_DROP_DOWN(jobs)), ==, entry);
}

static void
test_choose_jobs(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Desk) desk = desk_new(hand_tables());
    g_autofree char *demo = hand_demo();
    desk_open(desk, demo, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(book_job_count(desk_book(desk)), >=, 2);
    GtkWidget *window = gtk_window_new(), *pane = g_object_new(FW_TYPE_JOB_PANE, NULL);
    fw_job_pane_set_desk(FW_JOB_PANE(pane), desk);
    gtk_window_set_child(GTK_WINDOW(window), pane);
    gtk_window_present(GTK_WINDOW(window));
    gtk_test_widget_wait_for_draw(window);
    static const guint order[] = {1, 0, 1};
    for (guint i = 0; i < G_N_ELEMENTS(order); i++) {
        choose_entry(pane, order[i]);
        g_assert_cmpstr(desk_job(desk), ==, book_job_id(desk_book(desk), order[i]));
    }
    gtk_window_destroy(GTK_WINDOW(window));
    desk_stop(desk);
    hand_turn(200);
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/job-pane/choose-jobs", test_choose_jobs);
    return hand_run();
}
