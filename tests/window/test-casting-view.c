// SPDX-License-Identifier: GPL-3.0-or-later
// The casting's section on the demo book: drawn once it can be seen; the plane moves by keys, by
// typing and by choosing a way, stays within the casting, and is nothing in the book.
#include "check.h"
#include "stage-hand.h"
#include "window/casting-view.h"

static FwWindow *
open_window(Desk *desk)
{
    FwWindow *window = hand_open(desk, NULL);
    hand_show(window, "casting");
    return window;
}

static FwCastingView *
find_view(FwWindow *window)
{
    GtkWidget *view = hand_find(GTK_WIDGET(window), FW_TYPE_CASTING_VIEW, NULL, NULL);
    g_assert_nonnull(view);
    return FW_CASTING_VIEW(view);
}

static gboolean
has_label(GtkWidget *widget, gconstpointer data)
{
    return g_strcmp0(gtk_button_get_label(GTK_BUTTON(widget)), data) == 0;
}

static void
step(FwCastingView *view, int by, double expected)
{
    gtk_widget_activate_action(GTK_WIDGET(view), "casting.step", "i", by);
    hand_turn(50);
    check_close(fw_casting_view_plane(view).at, expected, 1e-9, "a millimetre a step");
}

static void
test_moves(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwCastingView *view = find_view(window);
    GdkRectangle line, moved;
    g_assert_true(fw_sketch_view_locate(fw_casting_view_sketch(view), "plane", &line));
    g_assert_cmpint(fw_casting_view_plane(view).axis, ==, 1);
    step(view, 1, 1e-3);
    step(view, -10, -9e-3);
    g_assert_true(fw_sketch_view_locate(fw_casting_view_sketch(view), "plane", &moved));
    g_assert_cmpint(moved.y, >, line.y); // before the middle is lower in the picture
    g_assert_cmpint(moved.x, ==, line.x);
    // Kept within the casting.
    double low, high;
    casting_range(plan_pattern(desk_plan(desk)), 1, &low, &high);
    step(view, 100000, high - 1e-6);
    step(view, -100000, low + 1e-6);
    g_assert_false(desk_is_dirty(desk));
    g_assert_false(desk_can_undo(desk));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_ways(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwCastingView *view = find_view(window);
    step(view, 3, 3e-3);
    GtkWidget *level = hand_find(GTK_WIDGET(view), GTK_TYPE_TOGGLE_BUTTON, has_label, "Level");
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(level), TRUE);
    hand_turn(50);
    g_assert_cmpint(fw_casting_view_plane(view).axis, ==, 2);
    step(view, -2, -2e-3);
    GtkWidget *along = hand_find(GTK_WIDGET(view), GTK_TYPE_TOGGLE_BUTTON, has_label, "Along");
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(along), TRUE);
    hand_turn(50);
    check_close(fw_casting_view_plane(view).at, 3e-3, 1e-9, "where it was cut this way last");
    g_autoptr(GError) error = NULL;
    g_autoptr(Scene) scene = fw_casting_view_scene(view, &error);
    g_assert_no_error(error);
    g_assert_nonnull(scene_find_part(scene, "depth-cope"));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_typed(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwCastingView *view = find_view(window);
    GtkWidget *entry = hand_find(GTK_WIDGET(view), GTK_TYPE_ENTRY, NULL, NULL);
    gtk_editable_set_text(GTK_EDITABLE(entry), "1/4 in");
    g_signal_emit_by_name(entry, "activate");
    hand_turn(50);
    check_close(fw_casting_view_plane(view).at, 6.35e-3, 1e-9, "25.4 mm to the inch");
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(entry)), ==, "6.35 mm");
    gtk_editable_set_text(GTK_EDITABLE(entry), "middle");
    g_signal_emit_by_name(entry, "activate");
    hand_turn(50);
    g_assert_true(gtk_widget_has_css_class(entry, "error"));
    check_close(fw_casting_view_plane(view).at, 6.35e-3, 1e-9, "left alone");
    step(view, -1, 5.35e-3);
    g_assert_false(gtk_widget_has_css_class(entry, "error"));
    // Another job, another casting: the plane stays where it is or within it.
    desk_choose_job(desk, "pawl");
    hand_wait_settled(window);
    double low, high;
    casting_range(plan_pattern(desk_plan(desk)), 1, &low, &high);
    CastingPlane plane = fw_casting_view_plane(view);
    g_assert_cmpfloat(plane.at, >=, low);
    g_assert_cmpfloat(plane.at, <=, high);
    gtk_window_destroy(GTK_WINDOW(window));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/casting-view/moves", test_moves);
    g_test_add_func("/window/casting-view/ways", test_ways);
    g_test_add_func("/window/casting-view/typed", test_typed);
    return hand_run();
}
