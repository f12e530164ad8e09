// SPDX-License-Identifier: GPL-3.0-or-later
// A bar with words, one or two remedies and a way to close it.
#include "window/notice.h"

struct _FwNotice {
    GtkBox parent;
    GtkWidget *bar;
    GtkLabel *words;
    GtkButton *remedy, *other;
    char *action, *other_action;
};

G_DEFINE_FINAL_TYPE(FwNotice, fw_notice, GTK_TYPE_BOX)

void
fw_notice_hide(FwNotice *self)
{
    gtk_widget_set_visible(self->bar, FALSE);
}

void
fw_notice_show(FwNotice *self, const char *words, const char *button, const char *action)
{
    gtk_label_set_text(self->words, words);
    gtk_widget_set_visible(GTK_WIDGET(self->remedy), button != NULL);
    gtk_widget_set_visible(GTK_WIDGET(self->other), FALSE);
    if (button)
        gtk_button_set_label(self->remedy, button);
    g_free(self->action);
    self->action = g_strdup(action);
    gtk_widget_set_visible(self->bar, TRUE);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

void
fw_notice_add_remedy(FwNotice *self, const char *button, const char *action)
{
    gtk_button_set_label(self->other, button);
    gtk_widget_set_visible(GTK_WIDGET(self->other), TRUE);
    g_free(self->other_action);
    self->other_action = g_strdup(action);
}

static void
on_remedy_clicked_cb(FwNotice *self, GtkButton *button)
{
    // A copy: what it does may show another notice.
    g_autofree char *action = g_strdup(button == self->other ? self->other_action : self->action);
    fw_notice_hide(self);
    if (action)
        gtk_widget_activate_action(GTK_WIDGET(self), action, NULL);
}

static void
on_close_clicked_cb(FwNotice *self)
{
    fw_notice_hide(self);
}

static void
fw_notice_finalize(GObject *object)
{
    g_free(FW_NOTICE(object)->action);
    g_free(FW_NOTICE(object)->other_action);
    G_OBJECT_CLASS(fw_notice_parent_class)->finalize(object);
}

static void
fw_notice_class_init(FwNoticeClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_notice_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/notice.ui");
    gtk_widget_class_bind_template_child(widget, FwNotice, bar);
    gtk_widget_class_bind_template_child(widget, FwNotice, words);
    gtk_widget_class_bind_template_child(widget, FwNotice, remedy);
    gtk_widget_class_bind_template_child(widget, FwNotice, other);
    gtk_widget_class_bind_template_callback(widget, on_remedy_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_close_clicked_cb);
}

static void
fw_notice_init(FwNotice *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}
