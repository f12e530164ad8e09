// SPDX-License-Identifier: GPL-3.0-or-later
// The window on the demo, driven by its actions: plan there, edits undone and redone, explanations,
// bad files told in the notice bar, nothing left behind when it closes.
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/explain-popover.h"
#include "window/figure-row.h"
#include "window/notice.h"
#include "window/scene-part.h"
#include "window/sketch-view.h"
#include "window/steps.h"

typedef struct {
    Desk *desk;
    GtkWidget *window;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->desk = desk_new(hand_tables());
    f->window = GTK_WIDGET(hand_open(f->desk, NULL));
    gtk_test_widget_wait_for_draw(f->window);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    hand_close(FW_WINDOW(f->window));
    g_object_unref(f->desk);
}

static void
test_demo_is_planned(Fixture *f, gconstpointer data)
{
    const Plan *plan = desk_plan(f->desk);
    g_assert_cmpfloat(plan_figure(plan, "mould.cavities")->value, >=, 1);
    g_assert_nonnull(hand_find(f->window, FW_TYPE_SCENE_PART, NULL, NULL));
}

static void
test_undo_and_redo(Fixture *f, gconstpointer data)
{
    double before = plan_figure(desk_plan(f->desk), "casting.volume")->value;
    g_autoptr(GError) error = NULL;
    desk_edit_field(f->desk, "job.allowance", "3.1 mm", &error);
    g_assert_no_error(error);
    hand_wait_plan(f->desk);
    double thicker = plan_figure(desk_plan(f->desk), "casting.volume")->value;
    g_assert_cmpfloat(thicker, >, before);
    gtk_widget_activate_action(f->window, "win.undo", NULL);
    hand_wait_plan(f->desk);
    g_assert_cmpfloat(plan_figure(desk_plan(f->desk), "casting.volume")->value, ==, before);
    g_assert_false(desk_is_dirty(f->desk));
    gtk_widget_activate_action(f->window, "win.redo", NULL);
    hand_wait_plan(f->desk);
    g_assert_cmpfloat(plan_figure(desk_plan(f->desk), "casting.volume")->value, ==, thicker);
    gtk_widget_activate_action(f->window, "win.undo", NULL);
}

static gboolean
is_figure(GtkWidget *widget, gconstpointer id)
{
    return g_str_equal(fw_figure_row_get_id(FW_FIGURE_ROW(widget)), id);
}

static void
test_every_step_and_figure(Fixture *f, gconstpointer data)
{
    for (guint i = 0; i < steps_count(); i++) {
        fw_window_choose_step(FW_WINDOW(f->window), steps_at(i)->id);
        gtk_test_widget_wait_for_draw(f->window);
        for (guint k = 0; steps_at(i)->figures[k].id; k++) {
            const char *id = steps_at(i)->figures[k].id;
            const Step *home = steps_of_figure(desk_plan(f->desk), id);
            if (home == steps_at(i))
                g_assert_nonnull(hand_find(f->window, FW_TYPE_FIGURE_ROW, is_figure, id));
        }
    }
}

static void
test_explanation(Fixture *f, gconstpointer data)
{
    fw_window_choose_step(FW_WINDOW(f->window), "mould");
    GtkWidget *row = hand_find(f->window, FW_TYPE_FIGURE_ROW, is_figure, "mould.choke_area");
    g_assert_nonnull(row);
    g_signal_emit_by_name(row, "clicked");
    hand_turn(100);
    GtkWidget *popover = hand_find(f->window, FW_TYPE_EXPLAIN_POPOVER, NULL, NULL);
    g_assert_nonnull(popover);
    g_assert_true(gtk_widget_get_visible(popover));
    gtk_popover_popdown(GTK_POPOVER(popover));
    hand_turn(400);
    g_assert_null(hand_find(f->window, FW_TYPE_EXPLAIN_POPOVER, NULL, NULL));
}

static void
test_views(Fixture *f, gconstpointer data)
{
    gtk_widget_activate_action(f->window, "win.view", "s", "section");
    gtk_test_widget_wait_for_draw(f->window);
    g_autoptr(GVariant) state = g_action_group_get_action_state(G_ACTION_GROUP(f->window), "view");
    g_assert_cmpstr(g_variant_get_string(state, NULL), ==, "section");
    // Those that are not of the flask too: something is drawn, and what has no size is not
    // measured.
    const char *const others[] = {"modulus", "filling", "gains"};
    for (guint i = 0; i < G_N_ELEMENTS(others); i++) {
        gtk_widget_activate_action(f->window, "win.view", "s", others[i]);
        hand_wait_settled(FW_WINDOW(f->window));
        g_autoptr(GVariant)
                      now = g_action_group_get_action_state(G_ACTION_GROUP(f->window), "view");
        g_assert_cmpstr(g_variant_get_string(now, NULL), ==, others[i]);
        FwSketchView *sketch = FW_SKETCH_VIEW(
            hand_find(f->window, FW_TYPE_SKETCH_VIEW, NULL, NULL));
        const char *const parts[] = {"modulus-1", "gates-1", "more-flask"};
        g_assert_nonnull(scene_find_part(fw_sketch_view_scene(sketch), parts[i]));
        g_assert_cmpint(g_action_group_get_action_enabled(G_ACTION_GROUP(f->window), "measure"), ==,
                        i == 0);
    }
    g_assert_true(g_action_group_get_action_enabled(G_ACTION_GROUP(f->window), "export-boards"));
    gtk_widget_activate_action(f->window, "win.view", "s", "section");
    gtk_widget_activate_action(f->window, "win.zoom-in", NULL);
    gtk_widget_activate_action(f->window, "win.zoom-out", NULL);
    gtk_widget_activate_action(f->window, "win.fit", NULL);
    gtk_test_widget_wait_for_draw(f->window);
}

static gboolean
label_has(GtkWidget *widget, gconstpointer words)
{
    return strstr(gtk_label_get_text(GTK_LABEL(widget)), words) != NULL;
}

static void
test_bad_file_keeps_the_book(Fixture *f, gconstpointer data)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "torn.castbook", NULL);
    g_file_set_contents(path, "{\"format\": \"castbook\", \"version\": 1, \"jobs\": [", -1, NULL);
    g_assert_false(fw_window_open(FW_WINDOW(f->window), path));
    GtkWidget *notice = hand_find(f->window, FW_TYPE_NOTICE, NULL, NULL);
    g_assert_nonnull(hand_find(notice, GTK_TYPE_LABEL, label_has, "torn.castbook"));
    g_assert_nonnull(desk_book(f->desk));
    check_folder_remove(folder);
}

static void
test_other_job(Fixture *f, gconstpointer data)
{
    desk_choose_job(f->desk, "pulley-hanger");
    hand_wait_plan(f->desk);
    g_assert_cmpstr(plan_job(desk_plan(f->desk)), ==, "pulley-hanger");
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
#define ADD(name, function) g_test_add("/window/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("demo-is-planned", test_demo_is_planned);
    ADD("undo-and-redo", test_undo_and_redo);
    ADD("every-step", test_every_step_and_figure);
    ADD("explanation", test_explanation);
    ADD("views", test_views);
    ADD("bad-file", test_bad_file_keeps_the_book);
    ADD("other-job", test_other_job);
    return hand_run();
}
