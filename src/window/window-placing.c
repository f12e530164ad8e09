// SPDX-License-Identifier: GPL-3.0-or-later
// The window's commands for what is placed by hand, for the planes of the sections and for
// measuring: actions, the menu beside a cavity, and which of them can be used.
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "sketch/flask.h"
#include "sketch/view.h"
#include "window/actions.h"
#include "window/placing-values.h"
#include "window/window-private.h"

#define CUT_STEP 1e-3 // m, of a key
#define CUT_STEP_INCH 1.27e-3

static const struct {
    const char *action; // without "win."
    const char *what;   // for fw_placing_do
} commands[] = {{"turn-cavity", "turn"},     {"turn-cavity-back", "turn-back"},
                {"mirror-cavity", "mirror"}, {"copy-cavity", "copy"},
                {"delete-cavity", "delete"}, {"lock-cavity", "lock"},
                {"align-row", "align-row"},  {"align-column", "align-column"},
                {"place-again", "again"},    {"place-rest", "rest"}};

static void
on_command_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    const char *name = g_action_get_name(G_ACTION(action));
    for (guint i = 0; i < G_N_ELEMENTS(commands); i++)
        if (g_str_equal(name, commands[i].action))
            fw_placing_do(FW_WINDOW(data)->placing, commands[i].what);
}

static void
on_nudge_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const char *way = g_variant_get_string(parameter, NULL);
    double step = fw_placing_units(self->placing).inches ? CUT_STEP_INCH : CUT_STEP;
    double right = g_str_equal(way, "right") - g_str_equal(way, "left");
    double up = g_str_equal(way, "up") - g_str_equal(way, "down");
    fw_placing_nudge(self->placing, step * right, step * up);
}

// Popovers.

static void
place_popover(FwWindow *self, GtkWidget *popover, GdkRectangle where)
{
    graphene_rect_t bounds;
    gtk_widget_set_parent(popover, GTK_WIDGET(self));
    if (gtk_widget_compute_bounds(GTK_WIDGET(self->sketch), GTK_WIDGET(self), &bounds)) {
        where.x += (int)bounds.origin.x;
        where.y += (int)bounds.origin.y;
    }
    gtk_popover_set_pointing_to(GTK_POPOVER(popover), &where);
}

static gboolean
on_closed_idle_cb(gpointer data)
{
    GtkWidget *popover = data;
    if (gtk_widget_get_parent(popover))
        gtk_widget_unparent(popover);
    g_object_unref(popover);
    return G_SOURCE_REMOVE;
}

// What was chosen in it is still to be done, and the keyboard goes back to the cavity.
static void
on_closed_cb(GtkWidget *popover, FwWindow *self)
{
    const char *part = fw_placing_part(self->placing);
    if (self->beside == popover)
        self->beside = NULL;
    if (part)
        fw_sketch_view_focus_part(self->sketch, part);
    g_idle_add(on_closed_idle_cb, g_object_ref(popover));
}

// Rows of a menu get their final height only once it is shown.
static gboolean
on_shown_idle_cb(gpointer data)
{
    GtkWidget *popover = data;
    if (gtk_widget_get_mapped(popover))
        gtk_popover_present(GTK_POPOVER(popover));
    g_object_unref(popover);
    return G_SOURCE_REMOVE;
}

static void
show_beside(FwWindow *self, GtkWidget *popover, GdkRectangle where)
{
    if (self->beside)
        gtk_popover_popdown(GTK_POPOVER(self->beside));
    self->beside = popover;
    place_popover(self, popover, where);
    g_signal_connect(popover, "closed", G_CALLBACK(on_closed_cb), self);
    gtk_popover_popup(GTK_POPOVER(popover));
    g_idle_add(on_shown_idle_cb, g_object_ref(popover));
}

static void
on_values_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const char *part = fw_placing_part(self->placing);
    GdkRectangle where;
    if (part && fw_placing_is_shown(self->placing) &&
        fw_sketch_view_locate(self->sketch, part, &where))
        show_beside(self, fw_placing_values_new(self->placing), where);
}

static void
on_explain_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const char *id = fw_placing_part(self->placing);
    Scene *scene = fw_sketch_view_scene(self->sketch);
    const ScenePart *part = id && scene ? scene_find_part(scene, id) : NULL;
    GdkRectangle where;
    if (part && part->figure && fw_sketch_view_locate(self->sketch, id, &where))
        fw_window_explain(self, part->figure, GTK_WIDGET(self->sketch), &where);
}

static void
append_action(GMenu *menu, const char *name)
{
    for (guint i = 0; i < actions_count(); i++) {
        const ActionRow *row = actions_at(i);
        if (!g_str_equal(row->name, name))
            continue;
        g_autoptr(GMenuItem) item = g_menu_item_new(_(row->label), name);
        if (row->accel)
            g_menu_item_set_attribute(item, "accel", "s", row->accel);
        g_menu_append_item(menu, item);
    }
}

static GMenuModel *
make_menu(gboolean cavity)
{
    static const char *const sections[][5] = {
        {"win.cavity-values", "win.explain-part"},
        {"win.turn-cavity", "win.turn-cavity-back", "win.mirror-cavity"},
        {"win.copy-cavity", "win.delete-cavity", "win.lock-cavity"},
        {"win.align-row", "win.align-column"},
        {"win.place-rest", "win.place-again"}};
    GMenu *menu = g_menu_new();
    for (guint i = 0; i < G_N_ELEMENTS(sections); i++) {
        gboolean of_all = i == 0 || i + 1 == G_N_ELEMENTS(sections);
        if (!cavity && !of_all)
            continue;
        g_autoptr(GMenu) section = g_menu_new();
        for (guint k = 0; sections[i][k]; k++)
            append_action(section, sections[i][k]);
        g_menu_append_section(menu, NULL, G_MENU_MODEL(section));
    }
    return G_MENU_MODEL(menu);
}

static void
on_menu_wanted_cb(FwPlacing *placing, double x, double y, FwWindow *self)
{
    g_autoptr(GMenuModel) model = make_menu(fw_placing_chosen(placing) > 0);
    GtkWidget *menu = gtk_popover_menu_new_from_model(model);
    gtk_popover_set_has_arrow(GTK_POPOVER(menu), FALSE);
    gtk_widget_set_halign(menu, GTK_ALIGN_START);
    GtkWidget *inside = gtk_popover_get_child(GTK_POPOVER(menu));
    if (GTK_IS_SCROLLED_WINDOW(inside)) // it is short enough to be seen whole
        gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(inside), GTK_POLICY_NEVER,
                                       GTK_POLICY_NEVER);
    show_beside(self, menu, (GdkRectangle){(int)x, (int)y, 1, 1});
}

// Planes of the sections.

static void
set_cut(FwWindow *self, gboolean across, double at)
{
    *(across ? &self->cut_across : &self->cut_along) = at;
    fw_window_update_views(self);
}

static void
on_cut_moved_cb(FwPlacing *placing, gboolean across, double at, FwWindow *self)
{
    set_cut(self, across, at);
}

static void
on_move_cut_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    const Plan *plan = desk_plan(self->desk);
    const MouldLayout *l = plan ? plan_mould(plan) : NULL;
    const char *way = g_variant_get_string(parameter, NULL);
    gboolean across = g_str_equal(self->view, "across");
    if (!l || l->n_cavities == 0 || !sketch_flask_is_cut(self->view))
        return;
    UnitSet units = plan_units(plan);
    double step = (units.inches ? CUT_STEP_INCH : CUT_STEP) *
                  (g_str_has_suffix(way, "back") ? -1 : 1) *
                  (g_str_has_prefix(way, "far") ? 10 : 1);
    double at = across ? self->cut_across : self->cut_along, half = across ? l->length : l->width;
    if (!isfinite(at))
        at = across ? l->cavities[0].x : l->cavities[0].y;
    at = CLAMP(at + step, -half / 2, half / 2);
    double even = units.inches ? 2.54e-5 : 1e-5;
    g_autofree char *place = quantity_format(QUANTITY_LENGTH, round(at / even) * even + 0.0,
                                             &units);
    g_autofree char *words = g_strdup_printf(
        across ? _("Cut at %s along the flask") : _("Cut at %s across the flask"), place);
    fw_window_say(self, words);
    set_cut(self, across, at);
}

// Measuring.

static void
on_measure_changed_cb(GSimpleAction *action, GVariant *state, gpointer data)
{
    FwWindow *self = data;
    gboolean active = g_variant_get_boolean(state);
    g_simple_action_set_state(action, state);
    UnitSet units = fw_placing_units(self->placing);
    fw_ruler_set_units(self->ruler, &units);
    fw_ruler_set_active(self->ruler, active);
    fw_placing_set_resting(self->placing, active);
    gtk_widget_set_cursor_from_name(GTK_WIDGET(self->sketch), active ? "crosshair" : NULL);
    fw_window_say(self, active ? _("Press and drag to measure; U ends it") : "");
}

static void
on_said_cb(GObject *object, const char *words, FwWindow *self)
{
    fw_window_say(self, words);
}

static gboolean
on_command_wanted_cb(FwPlacing *placing, const char *detailed, FwWindow *self)
{
    g_autofree char *name = NULL;
    g_autoptr(GVariant) target = NULL;
    if (!g_action_parse_detailed_name(detailed + strlen("win."), &name, &target, NULL) ||
        !g_action_group_get_action_enabled(G_ACTION_GROUP(self), name))
        return FALSE;
    g_action_group_activate_action(G_ACTION_GROUP(self), name, target);
    return TRUE;
}

void
fw_window_update_placing(FwWindow *self)
{
    if (!self->placing)
        return;
    gboolean flask = !fw_window_shows_pull(self) && !fw_window_shows_casting(self);
    const Plan *plan = desk_plan(self->desk);
    gboolean drawn = flask && plan && plan_mould(plan);
    gboolean shown = flask && fw_placing_is_shown(self->placing);
    gboolean cavity = shown && fw_placing_chosen(self->placing) > 0;
    gboolean any = shown && fw_placing_part(self->placing);
    for (guint i = 0; i < G_N_ELEMENTS(commands); i++)
        fw_window_enable(self, commands[i].action, cavity);
    fw_window_enable(self, "place-rest", shown);
    fw_window_enable(self, "place-again", drawn && fw_placing_by_hand(self->placing));
    fw_window_enable(self, "cavity-values", any);
    fw_window_enable(self, "explain-part", any);
    fw_window_enable(self, "nudge", any);
    fw_window_enable(self, "move-cut", drawn && sketch_flask_is_cut(self->view));
    fw_window_enable(self, "measure", drawn && sketch_view_has_size(self->view));
}

void
fw_window_add_placing(FwWindow *self)
{
    const GActionEntry others[] = {
        {.name = "nudge", .parameter_type = "s", .activate = on_nudge_cb},
        {.name = "cavity-values", .activate = on_values_cb},
        {.name = "explain-part", .activate = on_explain_cb},
        {.name = "move-cut", .parameter_type = "s", .activate = on_move_cut_cb},
        {.name = "measure", .state = "false", .change_state = on_measure_changed_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), others, G_N_ELEMENTS(others), self);
    for (guint i = 0; i < G_N_ELEMENTS(commands); i++) {
        const GActionEntry entry = {.name = commands[i].action, .activate = on_command_cb};
        g_action_map_add_action_entries(G_ACTION_MAP(self), &entry, 1, self);
    }
}

void
fw_window_start_placing(FwWindow *self)
{
    self->ruler = fw_ruler_new(self->sketch);
    self->placing = fw_placing_new(self->desk, self->sketch);
    fw_placing_set_view(self->placing, self->view, self->cut_along, self->cut_across);
    g_signal_connect_object(self->ruler, "said", G_CALLBACK(on_said_cb), self, 0);
    g_signal_connect_object(self->placing, "said", G_CALLBACK(on_said_cb), self, 0);
    g_signal_connect_object(self->placing, "cut", G_CALLBACK(on_cut_moved_cb), self, 0);
    g_signal_connect_object(self->placing, "menu", G_CALLBACK(on_menu_wanted_cb), self, 0);
    g_signal_connect_object(self->placing, "command", G_CALLBACK(on_command_wanted_cb), self, 0);
    g_signal_connect_object(self->placing, "changed", G_CALLBACK(fw_window_update_placing), self,
                            G_CONNECT_SWAPPED);
}

void
fw_window_stop_placing(FwWindow *self)
{
    if (self->beside)
        gtk_widget_unparent(self->beside);
    self->beside = NULL;
    g_clear_object(&self->placing);
    g_clear_object(&self->ruler);
}
