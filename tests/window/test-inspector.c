// SPDX-License-Identifier: GPL-3.0-or-later
// The form of a step: folded by topic and remembered, searched by words, and a field that is asked
// for is unfolded, in sight and has the focus.
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/figure-row.h"
#include "window/input-group.h"
#include "window/inspector.h"

typedef struct {
    Desk *desk;
    GtkWidget *window, *inspector, *search;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->desk = desk_new(hand_tables());
    f->window = fw_window_new(NULL, f->desk);
    g_autofree char *demo = hand_demo();
    g_assert_true(fw_window_open(FW_WINDOW(f->window), demo));
    gtk_window_present(GTK_WINDOW(f->window));
    fw_window_choose_step(FW_WINDOW(f->window), "mould");
    f->inspector = hand_find(f->window, FW_TYPE_INSPECTOR, NULL, NULL);
    f->search = hand_find(f->inspector, GTK_TYPE_SEARCH_ENTRY, NULL, NULL);
    gtk_test_widget_wait_for_draw(f->window);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    gtk_window_destroy(GTK_WINDOW(f->window));
    hand_turn(100);
    g_object_unref(f->desk);
}

static gboolean
is_group(GtkWidget *widget, gconstpointer id)
{
    const FieldGroup *topic = fw_input_group_get_topic(FW_INPUT_GROUP(widget));
    return topic && g_str_equal(topic->id, id);
}

static GtkWidget *
group(Fixture *f, const char *id)
{
    return hand_find(f->inspector, FW_TYPE_INPUT_GROUP, is_group, id);
}

static GtkExpander *
heading(Fixture *f, const char *id)
{
    return GTK_EXPANDER(hand_find(group(f, id), GTK_TYPE_EXPANDER, NULL, NULL));
}

static GtkWidget *
row(Fixture *f, const char *id, const char *path)
{
    return GTK_WIDGET(fw_input_group_find(FW_INPUT_GROUP(group(f, id)), path));
}

static void
test_folding_is_remembered(Fixture *f, gconstpointer data)
{
    g_assert_true(gtk_expander_get_expanded(heading(f, "cavities")));
    g_assert_false(gtk_expander_get_expanded(heading(f, "gating")));
    gtk_expander_set_expanded(heading(f, "cavities"), FALSE);
    gtk_expander_set_expanded(heading(f, "gating"), TRUE);
    fw_window_choose_step(FW_WINDOW(f->window), "part");
    g_assert_null(group(f, "gating"));
    fw_window_choose_step(FW_WINDOW(f->window), "mould");
    g_assert_false(gtk_expander_get_expanded(heading(f, "cavities")));
    g_assert_true(gtk_expander_get_expanded(heading(f, "gating")));
}

// Folded, a heading says how many inputs have a value of their own; a screen reader hears it too.
static void
test_count_of_set(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    gtk_test_accessible_assert_property(heading(f, "chills"), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                        "Chills");
    desk_edit_field(f->desk, "job.chills", "iron", &error);
    desk_edit_field(f->desk, "job.chill_width", "19 mm", &error);
    g_assert_no_error(error);
    gtk_test_accessible_assert_property(heading(f, "chills"), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                        "Chills, 2 set");
    gtk_expander_set_expanded(heading(f, "chills"), TRUE);
    gtk_test_accessible_assert_property(heading(f, "chills"), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                        "Chills");
}

static void
search(Fixture *f, const char *words)
{
    gtk_editable_set_text(GTK_EDITABLE(f->search), words);
    hand_turn(400); // the entry waits until the typing rests
}

static void
test_search(Fixture *f, gconstpointer data)
{
    search(f, "wid gate");
    g_assert_true(gtk_widget_get_visible(row(f, "gating", "job.gate_width")));
    g_assert_false(gtk_widget_get_visible(row(f, "gating", "job.gate_depth")));
    g_assert_true(gtk_expander_get_expanded(heading(f, "gating")));
    g_assert_false(gtk_widget_get_visible(group(f, "cavities")));
    search(f, "chills"); // all of a topic by its name
    g_assert_true(gtk_widget_get_visible(row(f, "chills", "job.chill_factor")));
    g_assert_false(gtk_widget_get_visible(group(f, "gating")));
    g_signal_emit_by_name(f->search, "stop-search"); // Esc
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(f->search)), ==, "");
    g_assert_true(gtk_widget_get_visible(row(f, "gating", "job.gate_depth")));
    g_assert_true(gtk_widget_get_visible(group(f, "cavities")));
    g_assert_false(gtk_expander_get_expanded(heading(f, "gating"))); // as it was left
    g_assert_false(gtk_expander_get_expanded(heading(f, "chills")));
}

static gboolean
label_has(GtkWidget *widget, gconstpointer words)
{
    return gtk_widget_get_visible(widget) &&
           strstr(gtk_label_get_text(GTK_LABEL(widget)), words) != NULL;
}

static void
test_search_finds_nothing(Fixture *f, gconstpointer data)
{
    search(f, "superheat");
    g_assert_nonnull(hand_find(f->inspector, GTK_TYPE_LABEL, label_has, "have it: Melt."));
    fw_window_choose_step(FW_WINDOW(f->window), "melt"); // the words stay
    g_assert_true(gtk_widget_get_visible(row(f, "melt", "job.superheat_most")));
    g_assert_false(gtk_widget_get_visible(row(f, "melt", "job.flux")));
    search(f, "no such thing");
    g_assert_nonnull(hand_find(f->inspector, GTK_TYPE_LABEL, label_has, "No input is called so"));
}

static gboolean
is_figure(GtkWidget *widget, gconstpointer id)
{
    return g_str_equal(fw_figure_row_get_id(FW_FIGURE_ROW(widget)), id);
}

static void
test_search_of_figures(Fixture *f, gconstpointer data)
{
    hand_wait_settled(FW_WINDOW(f->window));
    gtk_widget_activate_action(f->window, "win.inspect", "s", "figures");
    search(f, "choke");
    GtkWidget *choke = hand_find(f->inspector, FW_TYPE_FIGURE_ROW, is_figure, "mould.choke_area");
    GtkWidget *metal = hand_find(f->inspector, FW_TYPE_FIGURE_ROW, is_figure, "mould.metal_mass");
    g_assert_true(gtk_widget_get_visible(choke));
    g_assert_false(gtk_widget_get_visible(metal));
    search(f, "");
    g_assert_true(gtk_widget_get_visible(metal));
}

static gboolean
has_focus_in(Fixture *f, GtkWidget *row)
{
    GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(f->window));
    return focus && gtk_widget_is_ancestor(focus, row);
}

// A field far down in a folded group, hidden by a search: shown, in sight, with the focus.
static void
test_field_is_shown(Fixture *f, gconstpointer data)
{
    search(f, "flask");
    fw_inspector_focus_field(FW_INSPECTOR(f->inspector), "job.sprue_y");
    hand_turn(300);
    GtkWidget *wanted = row(f, "by-hand", "job.sprue_y");
    g_assert_true(gtk_expander_get_expanded(heading(f, "by-hand")));
    g_assert_true(has_focus_in(f, wanted));
    GtkWidget *form = gtk_widget_get_ancestor(wanted, GTK_TYPE_SCROLLED_WINDOW);
    graphene_rect_t place;
    g_assert_true(gtk_widget_compute_bounds(wanted, form, &place));
    g_assert_cmpfloat(place.origin.y, >=, 0);
    g_assert_cmpfloat(place.size.height, >, 0);
    g_assert_cmpfloat(place.origin.y + place.size.height, <=, gtk_widget_get_height(form));
}

static void
test_find_takes_the_focus(Fixture *f, gconstpointer data)
{
    fw_window_choose_step(FW_WINDOW(f->window), "pattern");
    gtk_widget_activate_action(f->window, "win.inspect", "s", "pieces");
    g_assert_false(gtk_widget_get_visible(f->search));
    gtk_widget_activate_action(f->window, "win.find", NULL);
    g_assert_true(gtk_widget_get_visible(f->search));
    g_assert_true(has_focus_in(f, f->search));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
#define ADD(name, function)                                                                        \
    g_test_add("/window/inspector/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("folding-is-remembered", test_folding_is_remembered);
    ADD("count-of-set", test_count_of_set);
    ADD("search", test_search);
    ADD("search-finds-nothing", test_search_finds_nothing);
    ADD("search-of-figures", test_search_of_figures);
    ADD("field-is-shown", test_field_is_shown);
    ADD("find-takes-the-focus", test_find_takes_the_focus);
    return hand_run();
}
