// SPDX-License-Identifier: GPL-3.0-or-later
// One set of actions and keys for sketch, timeline and shaded part.
#include "window/view-commands.h"

static void
add_keys(GtkWidgetClass *widget, const FwViewCommands *c)
{
    static const struct {
        guint key;
        int right, down;
    } moves[] = {
        {GDK_KEY_Left, -1, 0}, {GDK_KEY_Right, 1, 0}, {GDK_KEY_Up, 0, -1}, {GDK_KEY_Down, 0, 1}};
    static const guint in[] = {GDK_KEY_plus, GDK_KEY_equal, GDK_KEY_KP_Add};
    static const guint out[] = {GDK_KEY_minus, GDK_KEY_KP_Subtract};
    static const guint all[] = {GDK_KEY_0, GDK_KEY_KP_0};
    for (guint i = 0; i < G_N_ELEMENTS(moves); i++)
        gtk_widget_class_add_binding_action(widget, moves[i].key, 0, c->move, "(ii)",
                                            moves[i].right, moves[i].down);
    for (guint i = 0; i < G_N_ELEMENTS(in); i++)
        gtk_widget_class_add_binding_action(widget, in[i], 0, c->zoom, "d", 1.25);
    for (guint i = 0; i < G_N_ELEMENTS(out); i++)
        gtk_widget_class_add_binding_action(widget, out[i], 0, c->zoom, "d", 0.8);
    for (guint i = 0; i < G_N_ELEMENTS(all); i++)
        gtk_widget_class_add_binding_action(widget, all[i], 0, c->fit, NULL);
}

void
fw_view_commands_install(GtkWidgetClass *widget, GtkAccessibleRole role,
                         const FwViewCommands *commands)
{
    gtk_widget_class_set_accessible_role(widget, role);
    gtk_widget_class_set_css_name(widget, "sketch");
    gtk_widget_class_install_action(widget, commands->move, "(ii)", commands->on_move);
    gtk_widget_class_install_action(widget, commands->zoom, "d", commands->on_zoom);
    gtk_widget_class_install_action(widget, commands->fit, NULL, commands->on_fit);
    add_keys(widget, commands);
}

void
fw_view_commands_start(GtkWidget *widget)
{
    gtk_widget_set_focusable(widget, TRUE);
    gtk_widget_set_overflow(widget, GTK_OVERFLOW_HIDDEN);
}

gboolean
fw_view_commands_enters(GtkWidget *widget, GtkDirectionType direction)
{
    return (direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD) &&
           !gtk_widget_get_focus_child(widget) && !gtk_widget_is_focus(widget);
}
