// SPDX-License-Identifier: GPL-3.0-or-later
// A form row: what is typed reaches the book as typed, nonsense stays with its reason, leaving a
// field alone writes nothing.
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/field-row.h"

typedef struct {
    Desk *desk;
    GtkWidget *window, *row, *entry;
} Fixture;

static void
set_up(Fixture *f, gconstpointer path)
{
    f->desk = desk_new(hand_tables());
    g_autofree char *demo = hand_demo();
    g_autoptr(GError) error = NULL;
    desk_open(f->desk, demo, &error);
    g_assert_no_error(error);
    f->row = fw_field_row_new(f->desk, field_find(path));
    f->window = gtk_window_new();
    gtk_window_set_child(GTK_WINDOW(f->window), f->row);
    gtk_window_present(GTK_WINDOW(f->window));
    f->entry = hand_find(f->row, GTK_TYPE_ENTRY, NULL, NULL);
}

static void
tear_down(Fixture *f, gconstpointer path)
{
    gtk_window_destroy(GTK_WINDOW(f->window));
    g_object_unref(f->desk);
}

static char *
stored(Fixture *f)
{
    return edit_field_text(desk_book(f->desk), desk_job(f->desk),
                           fw_field_row_get_field(FW_FIELD_ROW(f->row)));
}

static void
type_text(Fixture *f, const char *text)
{
    gtk_editable_set_text(GTK_EDITABLE(f->entry), text);
    g_signal_emit_by_name(f->entry, "activate");
}

static void
test_as_typed(Fixture *f, gconstpointer data)
{
    type_text(f, "  1/16 in ");
    g_autofree char *text = stored(f);
    g_assert_cmpstr(text, ==, "1/16 in");
    g_assert_true(desk_can_undo(f->desk));
    g_assert_true(desk_is_dirty(f->desk));
}

static void
test_nonsense_stays(Fixture *f, gconstpointer data)
{
    g_autofree char *before = stored(f);
    type_text(f, "3 parsec");
    g_autofree char *after = stored(f);
    g_assert_cmpstr(after, ==, before);
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(f->entry)), ==, "3 parsec");
    g_assert_true(gtk_widget_has_css_class(f->entry, "error"));
    gtk_test_accessible_assert_state(f->entry, GTK_ACCESSIBLE_STATE_INVALID,
                                     GTK_ACCESSIBLE_INVALID_TRUE);
    type_text(f, "2.385 mm");
    g_assert_false(gtk_widget_has_css_class(f->entry, "error"));
}

static void
test_untouched_writes_nothing(Fixture *f, gconstpointer data)
{
    g_signal_emit_by_name(f->entry, "activate");
    g_assert_false(desk_is_dirty(f->desk));
    g_assert_false(desk_can_undo(f->desk));
}

// The entry keeps the focus, the edit is undone: the entry follows, and leaving it commits nothing.
static void
test_follows_undo(Fixture *f, gconstpointer data)
{
    g_autofree char *before = stored(f);
    gtk_widget_grab_focus(f->entry);
    type_text(f, "3.1 mm");
    fw_field_row_update(FW_FIELD_ROW(f->row));
    desk_undo(f->desk);
    fw_field_row_update(FW_FIELD_ROW(f->row));
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(f->entry)), ==, before);
    g_signal_emit_by_name(f->entry, "activate");
    g_autofree char *after = stored(f);
    g_assert_cmpstr(after, ==, before);
    // What is being typed stays.
    gtk_editable_set_text(GTK_EDITABLE(f->entry), "2.3");
    fw_field_row_update(FW_FIELD_ROW(f->row));
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(f->entry)), ==, "2.3");
}

static void
test_blank_takes_the_default(Fixture *f, gconstpointer data)
{
    type_text(f, "");
    hand_wait_plan(f->desk);
    fw_field_row_update(FW_FIELD_ROW(f->row));
    g_autofree char *text = stored(f);
    g_assert_null(text);
    const Figure *given = plan_figure(desk_plan(f->desk), "job.allowance");
    check_close(given->value, 0.003, 1e-12, "the field table's default");
    const char *hint = gtk_entry_get_placeholder_text(GTK_ENTRY(f->entry));
    g_assert_nonnull(strstr(hint, "3"));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
#define ADD(name, function)                                                                        \
    g_test_add("/window/field-row/" name, Fixture, "job.allowance", set_up, function, tear_down)
    ADD("as-typed", test_as_typed);
    ADD("nonsense-stays", test_nonsense_stays);
    ADD("untouched", test_untouched_writes_nothing);
    ADD("follows-undo", test_follows_undo);
    ADD("blank", test_blank_takes_the_default);
    return hand_run();
}
