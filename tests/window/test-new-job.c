// SPDX-License-Identifier: GPL-3.0-or-later
// A job from a mesh: what was found is shown before it is added, nonsense stays with its reason,
// and a mesh that cannot be read adds nothing.
#include <string.h>

#include "check.h"
#include "solid/write.h"
#include "stage-hand.h"
#include "window/new-job.h"

typedef struct {
    Desk *desk;
    GtkWidget *window, *add;
    char *folder, *mesh;
} Fixture;

static gboolean
is_add(GtkWidget *widget, gconstpointer data)
{
    return gtk_widget_has_css_class(widget, "suggested-action");
}

static void
show(Fixture *f, const char *path)
{
    f->window = fw_new_job_new(f->desk, TRUE, path);
    gtk_window_present(GTK_WINDOW(f->window));
    f->add = hand_find(f->window, GTK_TYPE_BUTTON, is_add, NULL);
}

static void
set_up(Fixture *f, gconstpointer data)
{
    f->desk = desk_new(hand_tables());
    f->folder = check_folder();
    f->mesh = g_build_filename(f->folder, "block.stl", NULL);
    g_autoptr(SolidMesh) box = check_mesh_box(0.0523, 0.0385, 0.0147);
    g_autoptr(GError) error = NULL;
    solid_write_stl(box, f->mesh, FALSE, &error);
    g_assert_no_error(error);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    if (f->window)
        gtk_window_destroy(GTK_WINDOW(f->window));
    hand_turn(50);
    g_object_unref(f->desk);
    check_folder_remove(f->folder);
    g_free(f->folder);
    g_free(f->mesh);
}

static void
wait_sensitive(Fixture *f)
{
    for (int i = 0; i < 200 && !gtk_widget_get_sensitive(f->add); i++)
        hand_turn(25);
    g_assert_true(gtk_widget_get_sensitive(f->add));
}

static gboolean
label_has(GtkWidget *widget, gconstpointer words)
{
    return gtk_widget_get_visible(widget) && strstr(gtk_label_get_text(GTK_LABEL(widget)), words);
}

static void
test_adds(Fixture *f, gconstpointer data)
{
    show(f, f->mesh);
    g_assert_false(gtk_widget_get_sensitive(f->add));
    wait_sensitive(f);
    g_assert_nonnull(hand_find(f->window, GTK_TYPE_LABEL, label_has, "52.3"));
    GtkWidget *quantity = hand_find(f->window, GTK_TYPE_ENTRY, NULL, NULL);
    gtk_editable_set_text(GTK_EDITABLE(quantity), "23");
    f->window = NULL; // it closes itself
    g_signal_emit_by_name(f->add, "clicked");
    const Book *book = desk_book(f->desk);
    g_assert_nonnull(book);
    g_assert_cmpuint(book_job_count(book), ==, 1);
    g_assert_cmpstr(desk_job(f->desk), ==, "block");
    hand_wait_plan(f->desk);
    const Plan *plan = desk_plan(f->desk);
    check_close(plan_figure(plan, "part.volume")->value, 0.0523 * 0.0385 * 0.0147, 1e-6, "a box");
    check_close(plan_figure(plan, "job.quantity")->value, 23, 1e-12, "as typed");
}

static gboolean
is_unit(GtkWidget *widget, gconstpointer data)
{
    GListModel *names = gtk_drop_down_get_model(GTK_DROP_DOWN(widget));
    return GTK_IS_STRING_LIST(names) &&
           g_str_equal(gtk_string_list_get_string(GTK_STRING_LIST(names), 0), "mm");
}

// 52.3 in the file: as millimetres a part for the bench, as metres one for no small shop.
static void
test_doubtful_unit(Fixture *f, gconstpointer data)
{
    const char *doubt = "is the unit right?";
    show(f, f->mesh);
    wait_sensitive(f);
    g_assert_null(hand_find(f->window, GTK_TYPE_LABEL, label_has, doubt));
    GtkWidget *unit = hand_find(f->window, GTK_TYPE_DROP_DOWN, is_unit, NULL);
    gtk_drop_down_set_selected(GTK_DROP_DOWN(unit), 2);
    wait_sensitive(f);
    g_assert_nonnull(hand_find(f->window, GTK_TYPE_LABEL, label_has, "52.3 m ×"));
    g_assert_nonnull(hand_find(f->window, GTK_TYPE_LABEL, label_has, doubt));
}

static void
test_bad_quantity(Fixture *f, gconstpointer data)
{
    show(f, f->mesh);
    wait_sensitive(f);
    GtkWidget *quantity = hand_find(f->window, GTK_TYPE_ENTRY, NULL, NULL);
    gtk_editable_set_text(GTK_EDITABLE(quantity), "none");
    g_signal_emit_by_name(f->add, "clicked");
    g_assert_true(gtk_widget_has_css_class(quantity, "error"));
    g_assert_null(desk_book(f->desk));
}

static void
test_torn_mesh(Fixture *f, gconstpointer data)
{
    g_autofree char *bytes = NULL;
    gsize length;
    g_file_get_contents(f->mesh, &bytes, &length, NULL);
    g_file_set_contents(f->mesh, bytes, (gssize)length - 13, NULL);
    show(f, f->mesh);
    for (int i = 0; i < 200 && !hand_find(f->window, GTK_TYPE_LABEL, label_has, "block.stl:"); i++)
        hand_turn(25);
    g_assert_nonnull(hand_find(f->window, GTK_TYPE_LABEL, label_has, "block.stl:"));
    g_assert_false(gtk_widget_get_sensitive(f->add));
}

static void
test_closed_while_reading(Fixture *f, gconstpointer data)
{
    show(f, f->mesh);
    gtk_window_destroy(GTK_WINDOW(f->window));
    f->window = NULL;
    hand_turn(300);
    g_assert_null(desk_book(f->desk));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
#define ADD(name, function)                                                                        \
    g_test_add("/window/new-job/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("adds", test_adds);
    ADD("doubtful-unit", test_doubtful_unit);
    ADD("bad-quantity", test_bad_quantity);
    ADD("torn-mesh", test_torn_mesh);
    ADD("closed-while-reading", test_closed_while_reading);
    return hand_run();
}
