// SPDX-License-Identifier: GPL-3.0-or-later
// The calendar of the demo book: planned once it can be seen, planned anew when the book changes,
// choosing a job by its session, and written to files.
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/calendar-view.h"

static FwCalendarView *
find_view(FwWindow *window)
{
    GtkWidget *view = hand_find(GTK_WIDGET(window), FW_TYPE_CALENDAR_VIEW, NULL, NULL);
    g_assert_nonnull(view);
    return FW_CALENDAR_VIEW(view);
}

static void
edit(Desk *desk, const char *path, const char *text)
{
    g_autoptr(GError) error = NULL;
    desk_edit_field(desk, path, text, &error);
    g_assert_no_error(error);
}

static guint32
day_of(const char *text)
{
    guint32 day = 0;
    g_assert_true(days_read_date(text, &day, NULL));
    return day;
}

static void
test_shown(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    FwCalendarView *view = find_view(window);
    // Not before it can be seen.
    g_assert_null(fw_calendar_view_batch(view, FALSE));
    g_assert_null(fw_calendar_view_trouble(view));
    fw_calendar_view_set_first(view, day_of("2026-11-25"));
    hand_show(window, "calendar");
    const BatchPlan *batch = fw_calendar_view_batch(view, FALSE);
    g_assert_nonnull(batch);
    g_assert_cmpuint(batch->n_jobs, ==, 3);
    g_assert_cmpuint(batch->sessions[0].day, ==, day_of("2026-11-28"));
    g_assert_nonnull(fw_sketch_view_scene(fw_calendar_view_sketch(view)));
    // The list has a row for each metal in stock and for everything to have on hand.
    GtkWidget *list = hand_find(GTK_WIDGET(view), GTK_TYPE_LIST_BOX, NULL, NULL);
    guint rows = 0;
    for (GtkWidget *row = gtk_widget_get_first_child(list); row;
         row = gtk_widget_get_next_sibling(row))
        rows++;
    g_assert_cmpuint(batch->n_shelves, ==, 2);
    g_assert_cmpuint(rows, ==, batch->n_shelves + batch->n_needs);
    // Pressing a session chooses its job.
    const BatchSession *last = &batch->sessions[batch->n_sessions - 1];
    g_autofree char *id = g_strdup_printf("session-%d", last->number);
    g_assert_cmpstr(desk_job(desk), ==, "treadle-bracket");
    g_signal_emit_by_name(fw_calendar_view_sketch(view), "part-chosen", id, NULL);
    g_assert_cmpstr(desk_job(desk), ==, batch->jobs[last->pours[0].job].id);
    hand_wait_settled(window);
    g_assert_true(fw_calendar_view_batch(view, FALSE) == batch); // no other days for that
    // Other days, another plan; and back again.
    edit(desk, "shop.days", "sun");
    g_assert_null(fw_calendar_view_batch(view, FALSE));
    hand_wait_settled(window);
    g_assert_cmpuint(fw_calendar_view_batch(view, FALSE)->sessions[0].day, ==,
                     day_of("2026-11-29"));
    // A job that cannot be planned is told of, and stops no other.
    g_autofree char *job = g_strdup(desk_job(desk));
    edit(desk, "job.mesh", "gone.stl");
    hand_wait_settled(window);
    batch = fw_calendar_view_batch(view, FALSE);
    g_assert_nonnull(batch);
    g_autofree char *left = g_strdup_printf("left-%s", job);
    g_assert_nonnull(scene_find_part(fw_sketch_view_scene(fw_calendar_view_sketch(view)), left));
    desk_choose_job(desk, "treadle-bracket");
    hand_wait_settled(window);
    g_signal_emit_by_name(fw_calendar_view_sketch(view), "part-chosen", left, NULL);
    g_assert_cmpstr(desk_job(desk), ==, job);
    desk_undo(desk);
    hand_wait_settled(window);
    edit(desk, "shop.days", "2020-01-04");
    hand_wait_settled(window);
    g_assert_null(fw_calendar_view_batch(view, FALSE));
    g_assert_nonnull(strstr(fw_calendar_view_trouble(view), "no day is free"));
    desk_undo(desk);
    hand_wait_settled(window);
    g_assert_null(fw_calendar_view_trouble(view));
    g_assert_nonnull(fw_calendar_view_batch(view, FALSE));
    gtk_window_destroy(GTK_WINDOW(window));
}

// Written though the view was never seen; a run in hand does not keep the window.
static void
test_written(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    FwCalendarView *view = find_view(window);
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "s.ics", NULL), *text = NULL;
    fw_calendar_view_set_first(view, day_of("2026-11-25"));
    fw_window_write_calendar(window, path);
    hand_turn(50);
    hand_wait_settled(window);
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    g_assert_nonnull(strstr(text, "DTSTART:20261128T090000\r\n"));
    g_assert_nonnull(strstr(text, "SUMMARY:Pour Treadle bracket"));
    // At once, since the days are planned; and with the file's ending refused.
    g_autofree char *rows = g_build_filename(folder, "s.csv", NULL);
    fw_window_write_calendar(window, rows);
    g_assert_true(g_file_test(rows, G_FILE_TEST_EXISTS));
    g_autofree char *other = g_build_filename(folder, "s.txt", NULL);
    fw_window_write_calendar(window, other);
    g_assert_false(g_file_test(other, G_FILE_TEST_EXISTS));
    edit(desk, "job.quantity", "61");
    hand_wait_plan(desk);
    fw_window_write_calendar(window, path);
    hand_turn(600);
    gtk_window_destroy(GTK_WINDOW(window));
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/calendar-view/shown", test_shown);
    g_test_add_func("/window/calendar-view/written", test_written);
    return hand_run();
}
