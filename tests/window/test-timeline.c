// SPDX-License-Identifier: GPL-3.0-or-later
// The session timeline in the window: choosing, keys, dragging and what the book holds afterwards,
// undo, printing.
#include <glib/gstdio.h>
#include <math.h>

#include "check.h"
#include "sketch/timeline-pins.h"
#include "stage-hand.h"
#include "window/scene-part.h"
#include "window/timeline-view-private.h"
#include "window/window-private.h"

static char *last_said;

static void
on_said_cb(FwTimelineView *view, const char *words, gpointer data)
{
    g_free(last_said);
    last_said = g_strdup(words);
}

static FwWindow *
open_window(Desk *desk)
{
    FwWindow *window = hand_open(desk, NULL);
    g_signal_connect(window->timeline, "said", G_CALLBACK(on_said_cb), NULL);
    return window;
}

static char *
pins(Desk *desk)
{
    return edit_field_text(desk_book(desk), desk_job(desk), field_find("job.pins"));
}

static guint
find(FwWindow *window, const char *key)
{
    guint task = timeline_find_key(fw_timeline_view_chart(window->timeline), key);
    g_assert_cmpuint(task, !=, G_MAXUINT);
    return task;
}

static const SessionTask *
task_of(FwWindow *window, const char *key)
{
    return &fw_timeline_view_chart(window->timeline)->session->tasks[find(window, key)];
}

static void
middle(FwWindow *window, const char *key, double *x, double *y)
{
    SolidPoint min, max;
    const TimelineChart *chart = fw_timeline_view_chart(window->timeline);
    g_assert_true(timeline_bar_box(chart, fw_timeline_view_frame(window->timeline),
                                   chart->first_bar[find(window, key)], &min, &max));
    *x = (min.x + max.x) / 2;
    *y = (min.y + max.y) / 2;
}

static gboolean
press(FwTimelineView *view, guint key, GdkModifierType state)
{
    g_autoptr(GListModel) all = gtk_widget_observe_controllers(GTK_WIDGET(view));
    gboolean handled = FALSE;
    for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
        g_autoptr(GtkEventController) controller = g_list_model_get_item(all, i);
        if (GTK_IS_EVENT_CONTROLLER_KEY(controller))
            g_signal_emit_by_name(controller, "key-pressed", key, 0, state, &handled);
    }
    return handled;
}

static void
test_drag(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    double x, y, was = task_of(window, "shut-5")->start;
    middle(window, "shut-5", &x, &y);
    double scale = fw_timeline_view_frame(view)->scale;
    g_assert_true(fw_timeline_view_begin(view, x, y));
    g_assert_cmpuint(fw_timeline_view_chosen(view), ==, find(window, "shut-5"));
    fw_timeline_view_move(view, x + 17 * 60 * scale, y + 3);
    hand_turn(60);
    g_autofree char *none = pins(desk);
    g_assert_null(none); // nothing is written while it is held
    fw_timeline_view_end(view);
    hand_wait_settled(window);
    UnitSet units = plan_units(desk_plan(desk));
    g_autofree char *text = pins(desk);
    double at = NAN;
    g_assert_true(timeline_pin_find(text, "shut-5", &units, &at));
    g_assert_cmpfloat(fabs(at - was - 17 * 60), <=, 31); // whole minutes
    g_assert_cmpfloat(task_of(window, "shut-5")->start, >=, at - 1e-6);
    g_assert_true(fw_timeline_view_is_pinned(view, find(window, "shut-5")));
    g_assert_nonnull(strstr(last_said, "begins at"));
    // One step to undo, and the plan is as it was.
    desk_undo(desk);
    g_assert_false(desk_can_undo(desk));
    hand_wait_settled(window);
    check_close(task_of(window, "shut-5")->start, was, 1e-9, "before");
    g_assert_cmpuint(fw_timeline_view_chosen(view), ==, find(window, "shut-5"));
    gtk_window_destroy(GTK_WINDOW(window));
}

// What it needs holds it back, and a sentence says what that is.
static void
test_limit(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    const TimelineChart *chart = fw_timeline_view_chart(view);
    double x, y;
    middle(window, "melt-2", &x, &y);
    g_assert_true(fw_timeline_view_begin(view, x, y));
    fw_timeline_view_move(view, x - 200, y);
    g_assert_nonnull(strstr(last_said, "waits for"));
    guint last;
    timeline_earliest(chart, find(window, "melt-2"), &last);
    g_autofree char *label = timeline_task_label(chart, last);
    g_assert_nonnull(strstr(last_said, label));
    fw_timeline_view_end(view);
    hand_turn(20);
    g_autofree char *none = pins(desk);
    g_assert_null(none); // it begins as early as it can
    g_assert_false(desk_can_undo(desk));
    // Dropped, and not moved at all.
    g_assert_true(fw_timeline_view_begin(view, x, y));
    fw_timeline_view_move(view, x + 50, y);
    fw_timeline_view_cancel(view);
    fw_timeline_view_end(view);
    g_assert_true(fw_timeline_view_begin(view, x, y));
    fw_timeline_view_move(view, x + 1, y);
    fw_timeline_view_end(view);
    g_assert_false(desk_can_undo(desk));
    g_assert_false(fw_timeline_view_begin(view, 1, 1));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_keys(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    GActionGroup *actions = G_ACTION_GROUP(window);
    g_assert_false(g_action_group_get_action_enabled(actions, "nudge-task"));
    g_assert_true(press(view, GDK_KEY_Home, 0));
    const TimelineChart *chart = fw_timeline_view_chart(view);
    guint first = fw_timeline_view_chosen(view);
    g_assert_cmpint(chart->session->tasks[first].kind, ==, TASK_WARM_UP);
    g_assert_true(press(view, GDK_KEY_Right, 0));
    g_assert_cmpint(chart->session->tasks[fw_timeline_view_chosen(view)].kind, ==, TASK_CHARGE);
    g_assert_true(press(view, GDK_KEY_Down, 0));
    g_assert_true(press(view, GDK_KEY_End, 0));
    g_assert_cmpint(chart->session->tasks[fw_timeline_view_chosen(view)].kind, ==, TASK_CLOSE);
    // The keyboard's focus is on a child that names the task.
    GtkWidget *focus = gtk_root_get_focus(GTK_ROOT(window));
    g_assert_true(FW_IS_SCENE_PART(focus));
    gtk_test_accessible_assert_role(focus, GTK_ACCESSIBLE_ROLE_BUTTON);
    gtk_test_accessible_assert_property(focus, GTK_ACCESSIBLE_PROPERTY_LABEL, "Close");
    // Five minutes later, and free again.
    g_assert_true(fw_timeline_view_focus_task(view, find(window, "close")));
    double was = task_of(window, "shake-out-2")->start;
    fw_timeline_view_choose(view, find(window, "shake-out-2"));
    g_assert_true(g_action_group_get_action_enabled(actions, "nudge-task"));
    g_assert_false(g_action_group_get_action_enabled(actions, "free-task"));
    g_assert_true(press(view, GDK_KEY_Right, GDK_CONTROL_MASK));
    hand_wait_settled(window);
    g_assert_cmpfloat(task_of(window, "shake-out-2")->start, >=, was + 270);
    g_assert_true(g_action_group_get_action_enabled(actions, "free-task"));
    g_assert_true(g_action_group_get_action_enabled(actions, "free-tasks"));
    g_assert_true(press(view, GDK_KEY_Delete, 0));
    hand_wait_settled(window);
    g_autofree char *none = pins(desk);
    g_assert_null(none);
    check_close(task_of(window, "shake-out-2")->start, was, 1e-9, "before");
    g_assert_false(g_action_group_get_action_enabled(actions, "free-tasks"));
    g_action_group_activate_action(actions, "nudge-task", g_variant_new_string("later"));
    hand_wait_settled(window);
    g_action_group_activate_action(actions, "free-tasks", NULL);
    hand_wait_settled(window);
    g_autofree char *again = pins(desk);
    g_assert_null(again);
    // Other keys are not ours.
    g_assert_false(press(view, GDK_KEY_x, 0));
    g_assert_true(press(view, GDK_KEY_Page_Down, 0));
    gtk_window_destroy(GTK_WINDOW(window));
}

// A computation that is stopped leaves nothing held.
static void
test_stopped(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    double x, y;
    middle(window, "melt-2", &x, &y);
    fw_timeline_view_choose(view, find(window, "melt-2"));
    fw_timeline_view_nudge(view, 2100);
    desk_stop(desk);
    hand_wait_plan(desk);
    hand_turn(50);
    g_assert_true(fw_timeline_view_begin(view, x, y));
    fw_timeline_view_cancel(view);
    desk_undo(desk);
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

// The first time in sight, once it is `until` or after a while.
static double
wait_at_edge(FwTimelineView *view, double until)
{
    const TimelineFrame *f = fw_timeline_view_frame(view);
    for (int i = 0; i < 200 && f->from != until; i++)
        hand_turn(20);
    return f->from;
}

// Dragged to the edge of what is shown, a task is taken on to what is not, as far as the session
// goes and back.
static void
test_edge(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    const TimelineChart *chart = fw_timeline_view_chart(view);
    const TimelineFrame *f = fw_timeline_view_frame(view);
    fw_timeline_view_zoom(view, 4);
    fw_timeline_view_focus_task(view, find(window, "shut-5"));
    hand_turn(60);
    double x, y, shown = (f->right - f->left) / f->scale, last = chart->length - shown;
    double from = f->from;
    middle(window, "shut-5", &x, &y);
    g_assert_true(fw_timeline_view_begin(view, x, y));
    // In the middle nothing moves.
    fw_timeline_view_move(view, (f->left + f->right) / 2, y);
    hand_turn(100);
    g_assert_cmpfloat(f->from, ==, from);
    // At the edge it goes to the end and stops there, with the task at the pointer.
    fw_timeline_view_move(view, f->right - 1, y);
    hand_turn(100);
    g_assert_cmpfloat(f->from, >, from);
    g_assert_cmpfloat(f->from, <, last);
    check_close(wait_at_edge(view, last), last, 1e-12, "the session's end");
    hand_turn(60);
    g_assert_cmpuint(view->edge_tick, ==, 0);
    g_assert_cmpfloat(fabs(view->focus.at + view->grab - timeline_at(f, f->right - 1)), <=, 30);
    // And back to the beginning, where what it needs holds it.
    fw_timeline_view_move(view, f->left + 1, y);
    check_close(wait_at_edge(view, 0), 0, 0, "the session's beginning");
    g_assert_nonnull(strstr(last_said, "waits for"));
    // Let go of in the middle of moving, it moves no more.
    fw_timeline_view_move(view, f->right + 100, y);
    hand_turn(100);
    fw_timeline_view_cancel(view);
    from = f->from;
    g_assert_cmpfloat(from, >, 0);
    hand_turn(100);
    g_assert_cmpfloat(f->from, ==, from);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_zoom(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    const TimelineFrame *f = fw_timeline_view_frame(view);
    double scale = f->scale, middle_x = (f->left + f->right) / 2, at = timeline_at(f, middle_x);
    fw_timeline_view_zoom(view, 3);
    hand_turn(30);
    check_close(f->scale, 3 * scale, 1e-9, "three times");
    check_close(timeline_at(f, middle_x), at, 1e-9, "the middle stays");
    // What is chosen comes into sight.
    GdkRectangle where;
    g_assert_false(fw_timeline_view_locate(view, find(window, "set-up"), &where));
    g_assert_true(fw_timeline_view_focus_task(view, find(window, "set-up")));
    g_assert_true(fw_timeline_view_locate(view, find(window, "set-up"), &where));
    fw_timeline_view_zoom(view, 1e-6);
    check_close(f->scale, scale, 1e-9, "never less than the whole");
    fw_timeline_view_zoom(view, 2);
    fw_timeline_view_fit(view);
    check_close(f->scale, scale, 1e-9, "the whole");
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
on_explained_cb(FwTimelineView *view, const char *part, const char *figure, char **told)
{
    g_free(*told);
    *told = g_strdup_printf("%s/%s", part, figure);
}

static void
test_explain(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwTimelineView *view = window->timeline;
    g_autofree char *told = NULL;
    g_signal_connect(view, "task-explained", G_CALLBACK(on_explained_cb), &told);
    g_assert_true(fw_timeline_view_focus_task(view, find(window, "melt-1")));
    GtkWidget *focus = gtk_root_get_focus(GTK_ROOT(window));
    gtk_widget_activate_action(focus, "part.choose", NULL);
    g_autofree char *expected = g_strdup_printf("task-%u/melt.cycle_time",
                                                find(window, "melt-1") + 1);
    g_assert_cmpstr(told, ==, expected);
    g_assert_nonnull(window->explain);
    // Every kind of task is explained by a figure there is.
    const TimelineChart *chart = fw_timeline_view_chart(view);
    for (guint i = 0; i < chart->session->n_tasks; i++)
        g_assert_nonnull(plan_figure(desk_plan(desk), timeline_task_figure(chart, i)));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_print(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "timeline.pdf", NULL), *bytes = NULL;
    g_autoptr(GError) error = NULL;
    gsize length;
    g_assert_true(fw_timeline_view_print(window->timeline, NULL, path, &error));
    g_assert_no_error(error);
    g_assert_true(g_file_get_contents(path, &bytes, &length, NULL));
    g_assert_cmpuint(length, >, 2000);
    g_assert_true(g_str_has_prefix(bytes, "%PDF"));
    check_folder_remove(folder);
    gtk_window_destroy(GTK_WINDOW(window));
}

// A session by itself, as on a day that is lived: shown, with its line of now, and not moved.
static void
test_session(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    const Plan *plan = desk_plan(desk);
    UnitSet units = plan_units(plan);
    GtkWidget *other = gtk_window_new(), *view = fw_timeline_view_new();
    gtk_window_set_default_size(GTK_WINDOW(other), 700, 300);
    gtk_window_set_child(GTK_WINDOW(other), view);
    fw_timeline_view_set_session(FW_TIMELINE_VIEW(view), plan_session(plan), plan_melt(plan),
                                 &units, 7777);
    gtk_window_present(GTK_WINDOW(other));
    gtk_test_widget_wait_for_draw(other);
    g_assert_cmpuint(fw_timeline_view_chart(FW_TIMELINE_VIEW(view))->n_bars, >, 0);
    const TimelineFrame *f = fw_timeline_view_frame(FW_TIMELINE_VIEW(view));
    g_assert_false(fw_timeline_view_begin(FW_TIMELINE_VIEW(view), f->left + 40, f->rows + 4));
    fw_timeline_view_set_now(FW_TIMELINE_VIEW(view), 9000);
    fw_timeline_view_choose(FW_TIMELINE_VIEW(view), 3);
    fw_timeline_view_nudge(FW_TIMELINE_VIEW(view), 300);
    fw_timeline_view_unpin(FW_TIMELINE_VIEW(view));
    fw_timeline_view_unpin_all(FW_TIMELINE_VIEW(view));
    fw_timeline_view_set_plan(FW_TIMELINE_VIEW(view), NULL, "Nothing yet");
    g_assert_null(fw_timeline_view_chart(FW_TIMELINE_VIEW(view)));
    fw_timeline_view_zoom(FW_TIMELINE_VIEW(view), 2);
    g_assert_false(press(FW_TIMELINE_VIEW(view), GDK_KEY_Right, 0));
    hand_turn(30);
    gtk_window_destroy(GTK_WINDOW(other));
    gtk_window_destroy(GTK_WINDOW(window));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/timeline/drag", test_drag);
    g_test_add_func("/window/timeline/limit", test_limit);
    g_test_add_func("/window/timeline/keys", test_keys);
    g_test_add_func("/window/timeline/stopped", test_stopped);
    g_test_add_func("/window/timeline/edge", test_edge);
    g_test_add_func("/window/timeline/zoom", test_zoom);
    g_test_add_func("/window/timeline/explain", test_explain);
    g_test_add_func("/window/timeline/print", test_print);
    g_test_add_func("/window/timeline/session", test_session);
    return hand_run();
}
