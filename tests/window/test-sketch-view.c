// SPDX-License-Identifier: GPL-3.0-or-later
// The drawing widget: its things are focusable children with names, and Enter chooses one.
#include "check.h"
#include "stage-hand.h"
#include "window/scene-part.h"
#include "window/sketch-view.h"

static Scene *
make_scene(void)
{
    Scene *scene = scene_new("Two blocks");
    scene_add_part(scene, "left", "Left block", "23.85 mm wide", "mould.cavities");
    scene_add_part(scene, "right", "Right block", NULL, NULL);
    scene_add_rectangle(scene, ROLE_METAL, 1, "left", TRUE, TRUE, 0, 0, 23.85, 40);
    scene_add_rectangle(scene, ROLE_METAL, 1, "right", TRUE, TRUE, 60, 0, 20, 40);
    return scene;
}

static void
on_chosen_cb(FwSketchView *view, const char *part, const char *figure, char **told)
{
    g_free(*told);
    *told = g_strdup_printf("%s/%s", part, figure ? figure : "none");
}

static gboolean
is_part(GtkWidget *widget, gconstpointer id)
{
    return g_str_equal(fw_scene_part_get_id(FW_SCENE_PART(widget)), id);
}

static void
test_parts(void)
{
    g_autoptr(Scene) scene = make_scene();
    GtkWidget *window = gtk_window_new();
    GtkWidget *view = fw_sketch_view_new();
    gtk_window_set_default_size(GTK_WINDOW(window), 400, 300);
    gtk_window_set_child(GTK_WINDOW(window), view);
    fw_sketch_view_set_scene(FW_SKETCH_VIEW(view), scene, NULL);
    gtk_window_present(GTK_WINDOW(window));
    gtk_test_widget_wait_for_draw(window);
    GtkWidget *left = hand_find(view, FW_TYPE_SCENE_PART, is_part, "left");
    g_assert_nonnull(left);
    gtk_test_accessible_assert_role(left, GTK_ACCESSIBLE_ROLE_BUTTON);
    gtk_test_accessible_assert_property(left, GTK_ACCESSIBLE_PROPERTY_LABEL, "Left block");
    g_assert_true(gtk_widget_get_focusable(left));
    g_autofree char *told = NULL;
    g_signal_connect(view, "part-chosen", G_CALLBACK(on_chosen_cb), &told);
    gtk_widget_activate_action(left, "part.choose", NULL);
    g_assert_cmpstr(told, ==, "left/mould.cavities");
    // Arrows go from thing to thing and stop at the last.
    gtk_widget_grab_focus(left);
    GtkWidget *right = hand_find(view, FW_TYPE_SCENE_PART, is_part, "right");
    gtk_widget_activate_action(left, "part.step", "i", 1);
    g_assert_true(gtk_root_get_focus(GTK_ROOT(window)) == right);
    gtk_widget_activate_action(right, "part.step", "i", 1);
    g_assert_true(gtk_root_get_focus(GTK_ROOT(window)) == right);
    gtk_widget_activate_action(right, "part.step", "i", G_MININT);
    g_assert_true(gtk_root_get_focus(GTK_ROOT(window)) == left);
    GdkRectangle where;
    g_assert_true(fw_sketch_view_locate(FW_SKETCH_VIEW(view), "right", &where));
    g_assert_cmpint(where.width, >, 0);
    g_assert_false(fw_sketch_view_locate(FW_SKETCH_VIEW(view), "nothing", &where));
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_words_and_zoom(void)
{
    g_autoptr(Scene) scene = make_scene();
    GtkWidget *window = gtk_window_new();
    GtkWidget *view = fw_sketch_view_new();
    gtk_window_set_default_size(GTK_WINDOW(window), 400, 300);
    gtk_window_set_child(GTK_WINDOW(window), view);
    fw_sketch_view_set_scene(FW_SKETCH_VIEW(view), NULL, "Nothing yet");
    gtk_window_present(GTK_WINDOW(window));
    gtk_test_widget_wait_for_draw(window);
    g_assert_null(hand_find(view, FW_TYPE_SCENE_PART, NULL, NULL));
    fw_sketch_view_zoom(FW_SKETCH_VIEW(view), 2); // nothing to zoom: no harm
    fw_sketch_view_set_scene(FW_SKETCH_VIEW(view), scene, NULL);
    gtk_test_widget_wait_for_draw(window);
    GdkRectangle small, large;
    fw_sketch_view_locate(FW_SKETCH_VIEW(view), "left", &small);
    fw_sketch_view_zoom(FW_SKETCH_VIEW(view), 1.5);
    gtk_test_widget_wait_for_draw(window);
    fw_sketch_view_locate(FW_SKETCH_VIEW(view), "left", &large);
    g_assert_cmpint(large.height, >, small.height);
    gtk_window_destroy(GTK_WINDOW(window));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/sketch-view/parts", test_parts);
    g_test_add_func("/window/sketch-view/words-and-zoom", test_words_and_zoom);
    return hand_run();
}
