// SPDX-License-Identifier: GPL-3.0-or-later
// Cavities moved by hand in the window: what the mouse and the keys call, and what the book holds
// afterwards.
#include <math.h>

#include "check.h"
#include "stage-hand.h"
#include "window/placing-values.h"
#include "window/ruler.h"
#include "window/scene-part.h"
#include "window/window-private.h"

static char *
placement(Desk *desk)
{
    return edit_field_text(desk_book(desk), desk_job(desk), field_find("job.placement"));
}

static GArray *
spots(Desk *desk)
{
    g_autofree char *text = placement(desk);
    g_autoptr(GError) error = NULL;
    g_assert_nonnull(text);
    UnitSet units = book_units(desk_book(desk));
    GArray *read = placement_read(text, &units, &error);
    g_assert_no_error(error);
    return read;
}

static PlacementSpot
spot(Desk *desk, guint index)
{
    g_autoptr(GArray) all = spots(desk);
    g_assert_cmpuint(index, <, all->len);
    return g_array_index(all, PlacementSpot, index);
}

// The middle of a thing in the sketch, and device units to a metre.
static double
find(FwWindow *window, const char *id, double *x, double *y)
{
    GdkRectangle where;
    SolidPoint place;
    double scale;
    g_assert_true(fw_sketch_view_locate(window->sketch, id, &where));
    *x = where.x + where.width / 2.0;
    *y = where.y + where.height / 2.0;
    g_assert_true(fw_sketch_view_to_scene(window->sketch, *x, *y, &place, &scale));
    return scale * 1000;
}

static void
test_drag(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    const MouldLayout *before = plan_mould(desk_plan(desk));
    guint n = before->n_cavities;
    g_assert_cmpuint(n, >, 1);
    MouldCavity first = before->cavities[0], second = before->cavities[1];
    double x, y, scale = find(window, "cavity-1", &x, &y);
    g_assert_true(fw_placing_begin(window->placing, x + 4, y + 15));
    g_assert_cmpuint(fw_placing_chosen(window->placing), ==, 1);
    fw_placing_move(window->placing, 23, -11, TRUE);
    hand_turn(100);
    g_assert_true(fw_placing_is_moving(window->placing));
    g_assert_null(placement(desk)); // nothing is written while it is held
    fw_placing_end(window->placing);
    g_assert_true(fw_placing_is_waiting(window->placing));
    PlacementSpot moved = spot(desk, 0), other = spot(desk, 1);
    // Within what a drag is rounded to, a tenth of a millimetre.
    g_assert_cmpfloat(fabs(moved.x - first.x - 23 / scale), <, 0.6e-4);
    g_assert_cmpfloat(fabs(moved.y - first.y - 11 / scale), <, 0.6e-4);
    g_assert_cmpfloat(fabs(other.x - second.x), <, 1e-6);
    hand_wait_settled(window);
    g_assert_false(fw_placing_is_waiting(window->placing));
    g_assert_cmpfloat(fabs(plan_mould(desk_plan(desk))->cavities[0].x - moved.x), <, 1e-9);
    g_assert_true(desk_can_undo(desk));
    desk_undo(desk);
    g_assert_null(placement(desk));
    g_assert_false(desk_can_undo(desk));
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_drag_dropped(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    double x, y;
    find(window, "cavity-2", &x, &y);
    g_assert_true(fw_placing_begin(window->placing, x + 4, y + 15));
    fw_placing_move(window->placing, 1, 1, TRUE); // not yet a drag
    fw_placing_end(window->placing);
    g_assert_false(desk_can_undo(desk));
    g_assert_true(fw_placing_begin(window->placing, x + 4, y + 15));
    fw_placing_move(window->placing, 17, 1, TRUE);
    hand_turn(60);
    fw_placing_cancel(window->placing);
    g_assert_false(desk_can_undo(desk));
    g_assert_false(fw_placing_begin(window->placing, 2, 2));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_sprue(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    double x, y, was = plan_mould(desk_plan(desk))->sprue_x;
    double scale = find(window, "sprue", &x, &y);
    g_assert_true(fw_placing_begin(window->placing, x, y));
    g_assert_true(fw_placing_has_sprue(window->placing));
    fw_placing_move(window->placing, 9, 0, TRUE);
    fw_placing_end(window->placing);
    hand_wait_settled(window);
    g_assert_cmpfloat(fabs(plan_mould(desk_plan(desk))->sprue_x - was - 9 / scale), <, 1e-4);
    desk_undo(desk); // one step
    g_assert_false(desk_can_undo(desk));
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_keys(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    GActionGroup *actions = G_ACTION_GROUP(window);
    MouldCavity first = plan_mould(desk_plan(desk))->cavities[0];
    MouldChannel gate = plan_mould(desk_plan(desk))->gates[0];
    guint n = plan_mould(desk_plan(desk))->n_cavities;
    g_assert_false(g_action_group_get_action_enabled(actions, "turn-cavity"));
    fw_placing_choose(window->placing, 1);
    g_assert_true(g_action_group_get_action_enabled(actions, "turn-cavity"));
    g_assert_cmpstr(fw_sketch_view_focused(window->sketch), ==, "cavity-1");
    // Nudges in quick succession are one step.
    fw_placing_nudge(window->placing, 1e-3, 0);
    fw_placing_nudge(window->placing, 0, -1e-2);
    fw_placing_settle(window->placing);
    g_assert_cmpfloat(fabs(spot(desk, 0).x - first.x - 1e-3), <, 1e-6);
    g_assert_cmpfloat(fabs(spot(desk, 0).y - first.y + 1e-2), <, 1e-6);
    desk_undo(desk);
    g_assert_false(desk_can_undo(desk));
    hand_wait_settled(window);
    g_action_group_activate_action(actions, "turn-cavity", NULL);
    double turned = remainder(spot(desk, 0).turn / (G_PI / 12), 1);
    g_assert_cmpfloat(fabs(turned), <, 1e-3); // a whole number of 15 degrees
    g_action_group_activate_action(actions, "undo", NULL);
    hand_wait_settled(window);
    g_action_group_activate_action(actions, "mirror-cavity", NULL);
    g_assert_cmpfloat(fabs(spot(desk, 0).x - (2 * gate.x1 - first.x)), <, 1e-6);
    g_assert_cmpfloat(fabs(spot(desk, 0).y - (2 * gate.y1 - first.y)), <, 1e-6);
    g_action_group_activate_action(actions, "undo", NULL);
    hand_wait_settled(window);
    g_action_group_activate_action(actions, "copy-cavity", NULL);
    g_assert_cmpuint(fw_placing_chosen(window->placing), ==, n + 1);
    hand_wait_settled(window);
    g_assert_cmpuint(plan_mould(desk_plan(desk))->n_cavities, ==, n + 1);
    g_autofree char *copied = g_strdup_printf("cavity-%u", n + 1);
    g_assert_cmpstr(fw_sketch_view_focused(window->sketch), ==, copied);
    g_action_group_activate_action(actions, "delete-cavity", NULL);
    g_autoptr(GArray) left = spots(desk);
    g_assert_cmpuint(left->len, ==, n);
    hand_wait_settled(window);
    g_action_group_activate_action(actions, "place-again", NULL);
    g_assert_null(placement(desk));
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_lock(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    GActionGroup *actions = G_ACTION_GROUP(window);
    fw_placing_choose(window->placing, 2);
    g_action_group_activate_action(actions, "lock-cavity", NULL);
    g_assert_true(spot(desk, 1).locked);
    hand_wait_settled(window);
    g_assert_true(fw_placing_is_locked(window->placing, 2));
    const ScenePart *part = scene_find_part(fw_sketch_view_scene(window->sketch), "cavity-2");
    g_assert_nonnull(strstr(part->description, "locked"));
    g_autofree char *before = placement(desk);
    fw_placing_nudge(window->placing, 1e-3, 0);
    g_assert_nonnull(strstr(gtk_label_get_text(window->status), "locked"));
    g_action_group_activate_action(actions, "delete-cavity", NULL);
    double x, y;
    find(window, "cavity-2", &x, &y);
    g_assert_true(fw_placing_begin(window->placing, x + 4, y + 15));
    fw_placing_move(window->placing, 20, 20, FALSE);
    fw_placing_end(window->placing);
    g_autofree char *after = placement(desk);
    g_assert_cmpstr(before, ==, after);
    g_action_group_activate_action(actions, "lock-cavity", NULL);
    g_assert_false(spot(desk, 1).locked);
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

// One locked, another taken away: the rest is placed round the locked one, in one step to undo.
static void
test_rest(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    GActionGroup *actions = G_ACTION_GROUP(window);
    guint n = plan_mould(desk_plan(desk))->n_cavities;
    fw_placing_choose(window->placing, 1);
    g_action_group_activate_action(actions, "place-rest", NULL);
    g_assert_nonnull(strstr(gtk_label_get_text(window->status), "Lock"));
    g_assert_null(placement(desk));
    fw_placing_nudge(window->placing, 0, 1e-3);
    fw_placing_settle(window->placing);
    g_action_group_activate_action(actions, "lock-cavity", NULL);
    hand_wait_settled(window);
    fw_placing_choose(window->placing, 2);
    g_action_group_activate_action(actions, "delete-cavity", NULL);
    hand_wait_settled(window);
    g_autofree char *before = placement(desk);
    PlacementSpot locked = spot(desk, 0);
    g_action_group_activate_action(actions, "place-rest", NULL);
    g_autofree char *after = placement(desk);
    g_assert_true(placement_rest(after));
    hand_wait_settled(window);
    hand_turn(50);
    const MouldLayout *l = plan_mould(desk_plan(desk));
    g_assert_cmpuint(l->n_cavities, >=, n - 1);
    g_assert_cmpuint(l->gates_missing, ==, 0);
    guint where = l->n_cavities;
    for (guint i = 0; i < l->n_cavities; i++)
        if (l->cavities[i].x == locked.x && l->cavities[i].y == locked.y)
            where = i;
    g_assert_cmpuint(where, <, l->n_cavities);
    g_assert_cmpfloat(l->cavities[where].turn, ==, locked.turn);
    g_assert_cmpint(plan_figure(desk_plan(desk), "mould.sand_cover.between")->state, !=,
                    FIGURE_FAILS);
    g_assert_cmpint(plan_figure(desk_plan(desk), "mould.sand_cover.runner")->state, !=,
                    FIGURE_FAILS);
    g_assert_true(fw_placing_is_locked(window->placing, where + 1));
    // Another moved by hand: all stand where they are from now on, the locked one still locked.
    guint other = where == 0 ? 2 : 1;
    fw_placing_choose(window->placing, other);
    fw_placing_nudge(window->placing, 1e-4, 0);
    fw_placing_settle(window->placing);
    g_autofree char *moved = placement(desk);
    g_assert_false(placement_rest(moved));
    g_assert_true(spot(desk, where).locked);
    g_action_group_activate_action(actions, "undo", NULL);
    g_action_group_activate_action(actions, "undo", NULL);
    g_autofree char *undone = placement(desk);
    g_assert_cmpstr(undone, ==, before);
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
enter(FwWindow *window, guint index, const char *text)
{
    static const char *const names[] = {"x", "y", "turn"};
    GtkWidget *values = window->beside;
    g_assert_true(FW_IS_PLACING_VALUES(values));
    GtkWidget *entry = GTK_WIDGET(
        gtk_widget_get_template_child(values, FW_TYPE_PLACING_VALUES, names[index]));
    gtk_editable_set_text(GTK_EDITABLE(entry), text);
    g_signal_emit_by_name(entry, "activate");
}

static void
test_values(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    MouldCavity first = plan_mould(desk_plan(desk))->cavities[0];
    fw_placing_choose(window->placing, 1);
    g_action_group_activate_action(G_ACTION_GROUP(window), "cavity-values", NULL);
    hand_turn(50);
    enter(window, 0, "middle");
    GtkWidget *entry = GTK_WIDGET(
        gtk_widget_get_template_child(window->beside, FW_TYPE_PLACING_VALUES, "x"));
    g_assert_true(gtk_widget_has_css_class(entry, "error"));
    g_assert_null(placement(desk));
    enter(window, 0, "50 m");
    g_assert_true(gtk_widget_has_css_class(entry, "error"));
    enter(window, 0, "-3 1/4 in");
    // 25.4 mm to the inch; what was not touched stays as it was, not as it was shown.
    g_assert_cmpfloat(fabs(spot(desk, 0).x + 3.25 * 0.0254), <, 1e-7);
    g_assert_cmpfloat(fabs(spot(desk, 0).y - first.y), <, 1e-6);
    hand_wait_settled(window);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_cut(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = hand_open(desk, NULL);
    double at = plan_mould(desk_plan(desk))->cavities[0].y, x, y;
    double scale = find(window, "cut-section", &x, &y);
    // The box of the mark reaches from one side of the flask to the other; take its left end.
    GdkRectangle where;
    fw_sketch_view_locate(window->sketch, "cut-section", &where);
    g_assert_true(fw_placing_begin(window->placing, where.x + 4, y));
    fw_placing_move(window->placing, 0, -21, TRUE);
    fw_placing_end(window->placing);
    hand_wait_settled(window);
    g_assert_cmpfloat(fabs(window->cut_along - at - 21 / scale), <, 1e-4);
    g_assert_false(desk_is_dirty(desk));
    hand_show(window, "section");
    double before = window->cut_along;
    g_action_group_activate_action(G_ACTION_GROUP(window), "move-cut",
                                   g_variant_new_string("far-back"));
    hand_wait_settled(window);
    check_close(window->cut_along, before - 0.01, 1e-9, "ten steps of a millimetre");
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
on_said_cb(FwRuler *ruler, const char *words, char **told)
{
    g_free(*told);
    *told = g_strdup(words);
}

static void
test_ruler(void)
{
    g_autoptr(Scene) scene = scene_new("A block");
    scene_add_part(scene, "block", "Block", NULL, NULL);
    scene_add_rectangle(scene, ROLE_METAL, 1, "block", TRUE, TRUE, 0, 0, 23.85, 40);
    GtkWidget *window = gtk_window_new(), *view = fw_sketch_view_new();
    gtk_window_set_default_size(GTK_WINDOW(window), 400, 300);
    gtk_window_set_child(GTK_WINDOW(window), view);
    fw_sketch_view_set_scene(FW_SKETCH_VIEW(view), scene, NULL);
    gtk_window_present(GTK_WINDOW(window));
    gtk_test_widget_wait_for_draw(window);
    g_autoptr(FwRuler) ruler = fw_ruler_new(FW_SKETCH_VIEW(view));
    g_autofree char *told = NULL;
    g_signal_connect(ruler, "said", G_CALLBACK(on_said_cb), &told);
    GdkRectangle box;
    fw_sketch_view_locate(FW_SKETCH_VIEW(view), "block", &box);
    g_assert_false(fw_ruler_begin(ruler, box.x, box.y)); // not in use
    fw_ruler_set_active(ruler, TRUE);
    // Three units off both corners: it snaps. From the upper left to the lower right one.
    g_assert_true(fw_ruler_begin(ruler, box.x - 3, box.y + 2));
    fw_ruler_move(ruler, box.width + 5, box.height - 4);
    g_assert_nonnull(strstr(told, "46.57 mm")); // the hypotenuse of 23.85 and 40
    g_assert_nonnull(strstr(told, "23.85 mm along"));
    gtk_window_destroy(GTK_WINDOW(window));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/placing/drag", test_drag);
    g_test_add_func("/window/placing/drag-dropped", test_drag_dropped);
    g_test_add_func("/window/placing/sprue", test_sprue);
    g_test_add_func("/window/placing/keys", test_keys);
    g_test_add_func("/window/placing/lock", test_lock);
    g_test_add_func("/window/placing/rest", test_rest);
    g_test_add_func("/window/placing/values", test_values);
    g_test_add_func("/window/placing/cut", test_cut);
    g_test_add_func("/window/placing/ruler", test_ruler);
    return hand_run();
}
