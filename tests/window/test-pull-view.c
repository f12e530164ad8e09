// SPDX-License-Identifier: GPL-3.0-or-later
// The pull view on the demo book: it is drawn once it can be seen, turns by its keys' actions,
// lists the pulls of a search with their pictures, and choosing one is one step of undo; areas are
// listed and marked.
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/pull-areas.h"
#include "window/pull-row.h"
#include "window/pull-view.h"

static FwWindow *
open_window(Desk *desk)
{
    FwWindow *window = hand_open(desk, NULL);
    hand_show(window, "pull");
    return window;
}

// With a pull of the job's own and a draft for which nothing has been searched.
static FwWindow *
open_unsearched(Desk *desk)
{
    FwWindow *window = open_window(desk);
    g_assert_true(desk_edit_field(desk, "job.pull", "0,0,-1", NULL));
    g_assert_true(desk_edit_field(desk, "job.draft", "1.85 deg", NULL));
    hand_wait_settled(window);
    return window;
}

static FwPullView *
find_view(FwWindow *window)
{
    GtkWidget *view = hand_find(GTK_WIDGET(window), FW_TYPE_PULL_VIEW, NULL, NULL);
    g_assert_nonnull(view);
    return FW_PULL_VIEW(view);
}

static void
wait_search(FwPullView *view)
{
    for (int i = 0; i < 2400 && fw_pull_view_is_searching(view); i++)
        hand_turn(50);
    g_assert_false(fw_pull_view_is_searching(view));
}

static void
test_turns(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwShadeView *shade = fw_pull_view_shade(find_view(window));
    g_assert_true(gtk_widget_get_mapped(GTK_WIDGET(shade)));
    g_assert_true(gtk_widget_get_focusable(GTK_WIDGET(shade)));
    gtk_test_accessible_assert_role(shade, GTK_ACCESSIBLE_ROLE_IMG);
    gtk_test_accessible_assert_property(shade, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                        "The part along its pull");
    double turn, tilt, turn2, tilt2;
    fw_shade_view_get_angles(shade, &turn, &tilt);
    gtk_widget_activate_action(GTK_WIDGET(shade), "shade.turn", "(ii)", 1, -1);
    fw_shade_view_get_angles(shade, &turn2, &tilt2);
    g_assert_cmpfloat(turn2, !=, turn);
    g_assert_cmpfloat(tilt2, >, tilt);
    // Many turns asked for at once: the newest is shown in the end.
    for (int i = 0; i < 40; i++)
        fw_shade_view_turn(shade, 0.05, 0.1);
    fw_shade_view_get_angles(shade, &turn2, &tilt2);
    check_close(tilt2, G_PI / 2, 1e-12, "no higher than straight above");
    hand_turn(50);
    hand_wait_settled(window);
    g_assert_true(fw_shade_view_is_settled(shade));
    gtk_widget_activate_action(GTK_WIDGET(shade), "shade.reset", NULL);
    fw_shade_view_get_angles(shade, &turn2, &tilt2);
    check_close(turn2, turn, 1e-12, "as it was first seen");
    check_close(tilt2, tilt, 1e-12, "as it was first seen");
    gtk_window_destroy(GTK_WINDOW(window));
}

static const char *
pull_of(Desk *desk)
{
    return node_text(node_get(book_root(desk_book(desk)), "/jobs/0/pull"));
}

static void
test_chooses(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_unsearched(desk);
    FwPullView *view = find_view(window);
    g_assert_false(fw_pull_view_choose(view, 0)); // nothing was searched yet
    g_autofree char *before = g_strdup(pull_of(desk));
    fw_pull_view_search(view);
    g_assert_true(fw_pull_view_is_searching(view));
    fw_pull_view_search(view); // a second press does no harm
    wait_search(view);
    guint n = fw_pull_view_answers(view);
    g_assert_cmpuint(n, >=, 2);
    g_assert_nonnull(hand_find(GTK_WIDGET(view), GTK_TYPE_LIST_BOX_ROW, NULL, NULL));
    g_assert_true(fw_pull_view_choose(view, n - 1));
    g_autofree char *chosen = g_strdup(pull_of(desk));
    g_assert_cmpstr(chosen, !=, before);
    double typed[3];
    g_assert_true(field_vector(chosen, typed, NULL));
    hand_wait_settled(window);
    Vec3 pull = plan_pattern(desk_plan(desk))->pull;
    check_close(vec3_dot(pull, vec3_unit(vec3(typed[0], typed[1], typed[2]))), 1, 1e-9,
                "the pull chosen");
    g_assert_cmpuint(fw_pull_view_answers(view), ==, n); // still the answers of this part
    g_assert_true(desk_can_undo(desk));
    gtk_widget_activate_action(GTK_WIDGET(window), "win.undo", NULL);
    g_assert_cmpstr(pull_of(desk), ==, before);
    hand_wait_settled(window);
    // Another draft asks another question: the old answers go.
    g_assert_true(desk_edit_field(desk, "job.draft", "3.385 deg", NULL));
    hand_wait_settled(window);
    g_assert_cmpuint(fw_pull_view_answers(view), ==, 0);
    gtk_window_destroy(GTK_WINDOW(window));
}

// How many of the rows' pictures are there.
static guint
count_pictures(GtkWidget *root)
{
    guint n = GTK_IS_PICTURE(root) && gtk_picture_get_paintable(GTK_PICTURE(root)) &&
              gtk_widget_get_ancestor(root, GTK_TYPE_LIST_BOX_ROW);
    for (GtkWidget *child = gtk_widget_get_first_child(root); child;
         child = gtk_widget_get_next_sibling(child))
        n += count_pictures(child);
    return n;
}

// Two answers made by hand: along z and along x. The rest of a search is not needed for a list.
static SearchResult
make_answers(void)
{
    SearchResult r = {.directions = 2, .n = 2, .part_volume = 69.7e-6, .cell = 1e-3};
    r.answers[0] = (SearchAnswer){.pull = {0, 0, -1},
                                  .kind = DIRECTION_FILE_AXIS,
                                  .added = 5.47e-6,
                                  .allowance_volume = 5.1e-6,
                                  .fillet_volume = 0.37e-6,
                                  .depth_cope = 7.81e-3,
                                  .depth_drag = 44.16e-3};
    r.answers[1] = r.answers[0];
    r.answers[1].pull = vec3(1, 0, 0);
    return r;
}

// Answers from outside are as good as those of a search; their rows get pictures, also when the
// list is made again, and say only what is not nothing.
static void
test_given_answers(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_unsearched(desk);
    FwPullView *view = find_view(window);
    fw_pull_view_set_answers(view, NULL);
    g_assert_cmpuint(fw_pull_view_answers(view), ==, 0);
    SearchResult given = make_answers();
    fw_pull_view_set_answers(view, &given);
    g_assert_cmpuint(fw_pull_view_answers(view), ==, 2);
    hand_wait_settled(window);
    g_assert_cmpuint(count_pictures(GTK_WIDGET(view)), ==, 2);
    GtkWidget *row = hand_find(GTK_WIDGET(view), GTK_TYPE_LIST_BOX_ROW, NULL, NULL);
    gtk_test_accessible_assert_property(row, GTK_ACCESSIBLE_PROPERTY_LABEL, "1.  along −z");
    g_assert_nonnull(hand_find(row, GTK_TYPE_LABEL, hand_label_has, "fillets"));
    g_assert_null(hand_find(row, GTK_TYPE_LABEL, hand_label_has, "undercut 0"));
    g_assert_null(hand_find(row, GTK_TYPE_LABEL, hand_label_has, "closed holes"));
    // The same again changes nothing: the row stays.
    gpointer kept = row;
    g_object_add_weak_pointer(G_OBJECT(row), &kept);
    fw_pull_view_set_answers(view, &given);
    g_assert_nonnull(kept);
    // Nor does another pull of the job.
    g_autofree char *before = g_strdup(pull_of(desk));
    g_assert_true(fw_pull_view_choose(view, 1));
    hand_wait_settled(window);
    g_assert_nonnull(kept);
    g_assert_cmpstr(pull_of(desk), ==, "1,0,0");
    gtk_widget_activate_action(GTK_WIDGET(window), "win.undo", NULL);
    hand_wait_settled(window);
    g_assert_cmpstr(pull_of(desk), ==, before);
    gtk_widget_activate_action(GTK_WIDGET(window), "win.redo", NULL);
    hand_wait_settled(window);
    g_assert_cmpstr(pull_of(desk), ==, "1,0,0");
    check_close(plan_pattern(desk_plan(desk))->pull.x, 1, 1e-9, "done again");
    g_assert_nonnull(kept);
    g_object_remove_weak_pointer(G_OBJECT(row), &kept);
    given.answers[1].pull = vec3(0, 1, 0);
    fw_pull_view_set_answers(view, &given);
    hand_wait_settled(window);
    g_assert_cmpuint(count_pictures(GTK_WIDGET(view)), ==, 2);
    // Of another draft they are no answers.
    g_assert_true(desk_edit_field(desk, "job.draft", "3.385 deg", NULL));
    hand_wait_settled(window);
    g_assert_cmpuint(fw_pull_view_answers(view), ==, 0);
    gtk_window_destroy(GTK_WINDOW(window));
}

// With no pull given the plan has searched, and what it found is listed.
static void
test_blank(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwPullView *view = find_view(window);
    g_assert_true(desk_edit_field(desk, "job.pull", "", NULL));
    hand_wait_settled(window);
    g_assert_false(fw_pull_view_is_searching(view));
    g_assert_cmpuint(fw_pull_view_answers(view), >=, 2);
    g_assert_cmpuint(count_pictures(GTK_WIDGET(view)), ==, fw_pull_view_answers(view));
    gtk_window_destroy(GTK_WINDOW(window));
}

// Choosing an area marks it and turns the part; another pull has other areas and none marked.
static void
test_areas(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_window(desk);
    FwPullView *view = find_view(window);
    FwShadeView *shade = fw_pull_view_shade(view);
    guint n = fw_pull_view_areas(view);
    g_assert_cmpuint(n, >=, 2);
    GtkWidget *areas = hand_find(GTK_WIDGET(view), FW_TYPE_PULL_AREAS, NULL, NULL);
    GtkWidget *row = hand_find(areas, GTK_TYPE_LIST_BOX_ROW, NULL, NULL);
    g_assert_nonnull(row);
    g_assert_true(gtk_widget_get_focusable(row));
    double turn[3], tilt[3];
    fw_shade_view_get_angles(shade, &turn[0], &tilt[0]);
    for (guint i = 1; i <= 2; i++) {
        fw_pull_view_mark(view, n + 1 - i);
        g_assert_cmpuint(fw_shade_view_get_marked(shade), ==, n + 1 - i);
        fw_shade_view_get_angles(shade, &turn[i], &tilt[i]);
        hand_turn(20);
        hand_wait_settled(window);
    }
    g_assert_true(turn[1] != turn[0] || tilt[1] != tilt[0]);
    g_assert_true(turn[2] != turn[1] || tilt[2] != tilt[1]);
    gtk_widget_activate_action(areas, "areas.clear", NULL);
    g_assert_cmpuint(fw_shade_view_get_marked(shade), ==, 0);
    fw_pull_view_mark(view, 1);
    g_assert_cmpuint(fw_shade_view_get_marked(shade), ==, 1);
    g_assert_true(desk_edit_field(desk, "job.pull", "0,1,0", NULL));
    hand_wait_settled(window);
    g_assert_cmpuint(fw_shade_view_get_marked(shade), ==, 0);
    // With no draft wanted only what is hidden is left.
    g_assert_true(desk_edit_field(desk, "job.draft", "0 deg", NULL));
    guint more = fw_pull_view_areas(view);
    hand_wait_settled(window);
    g_assert_cmpuint(fw_pull_view_areas(view), <, more);
    gtk_window_destroy(GTK_WINDOW(window));
}

static void
test_stops(void)
{
    g_autoptr(Desk) desk = desk_new(hand_tables());
    FwWindow *window = open_unsearched(desk);
    FwPullView *view = find_view(window);
    fw_pull_view_search(view);
    fw_pull_view_stop(view);
    wait_search(view);
    g_assert_cmpuint(fw_pull_view_answers(view), ==, 0);
    // Stopped when the first answers are there, they stay.
    fw_pull_view_search(view);
    for (int i = 0; i < 2400 && fw_pull_view_answers(view) == 0; i++)
        hand_turn(10);
    fw_pull_view_stop(view);
    wait_search(view);
    g_assert_cmpuint(fw_pull_view_answers(view), >, 0);
    // A window closed in the middle of a search takes it along.
    fw_pull_view_search(view);
    gpointer gone = view;
    g_object_add_weak_pointer(G_OBJECT(view), &gone);
    gtk_window_destroy(GTK_WINDOW(window));
    for (int i = 0; i < 400 && gone; i++)
        hand_turn(50);
    g_assert_null(gone);
}

static void
test_field_words(void)
{
    double back[3];
    g_autofree char *axis = fw_pull_row_field(vec3(0, -1e-17, 1));
    g_assert_cmpstr(axis, ==, "0,0,1");
    Vec3 odd = vec3_unit(vec3(0.2385, -0.7113, 0.4197));
    g_autofree char *text = fw_pull_row_field(odd);
    g_assert_true(field_vector(text, back, NULL));
    check_close(back[0], odd.x, 1e-6, "read back");
    check_close(back[1], odd.y, 1e-6, "read back");
    check_close(back[2], odd.z, 1e-6, "read back");
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/pull-view/field-words", test_field_words);
    g_test_add_func("/window/pull-view/turns", test_turns);
    g_test_add_func("/window/pull-view/given-answers", test_given_answers);
    g_test_add_func("/window/pull-view/blank", test_blank);
    g_test_add_func("/window/pull-view/areas", test_areas);
    g_test_add_func("/window/pull-view/chooses", test_chooses);
    g_test_add_func("/window/pull-view/stops", test_stops);
    return hand_run();
}
