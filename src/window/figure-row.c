// SPDX-License-Identifier: GPL-3.0-or-later
// A row of the inspector's list of figures. Values keep their place: label left, value right, state
// icon and word behind it.
#include "window/figure-row.h"

#include <glib/gi18n.h>

#include "figure/explain.h"

struct _FwFigureRow {
    GtkButton parent;
    GtkLabel *label, *value, *word;
    GtkImage *icon;
    char *id;
};

G_DEFINE_FINAL_TYPE(FwFigureRow, fw_figure_row, GTK_TYPE_BUTTON)

const char *
fw_state_icon(FigureState state)
{
    static const char *const names[] = {"fw-unknown-symbolic", NULL, "fw-holds-symbolic",
                                        "fw-close-symbolic", "fw-fails-symbolic"};
    return names[state];
}

const char *
fw_state_class(FigureState state)
{
    static const char *const names[] = {"unknown", NULL, "holds", "close", "fails"};
    return names[state];
}

const char *
fw_figure_row_get_id(FwFigureRow *row)
{
    return row->id;
}

static void
set_state(FwFigureRow *self, FigureState state)
{
    static const FigureState all[] = {FIGURE_UNKNOWN, FIGURE_HOLDS, FIGURE_CLOSE, FIGURE_FAILS};
    for (guint i = 0; i < G_N_ELEMENTS(all); i++)
        gtk_widget_remove_css_class(GTK_WIDGET(self), fw_state_class(all[i]));
    const char *class = fw_state_class(state);
    if (class)
        gtk_widget_add_css_class(GTK_WIDGET(self), class);
    gtk_image_set_from_icon_name(self->icon, fw_state_icon(state));
    gtk_widget_set_visible(GTK_WIDGET(self->icon), class != NULL);
    gtk_label_set_text(self->word, state == FIGURE_UNKNOWN ? "" : figure_state_word(state));
    gtk_widget_set_visible(GTK_WIDGET(self->word), state > FIGURE_PLAIN);
}

void
fw_figure_row_update(FwFigureRow *self, const Plan *plan, gboolean stale)
{
    const Figure *figure = plan ? plan_figure(plan, self->id) : NULL;
    if (!figure) {
        gtk_label_set_text(self->value, "–");
        return;
    }
    UnitSet units = plan_units(plan);
    g_autofree char *value = explain_value(figure, &units);
    gtk_label_set_text(self->label, _(figure->spec->label));
    gtk_label_set_text(self->value, value);
    set_state(self, figure->state);
    if (stale)
        gtk_widget_add_css_class(GTK_WIDGET(self), "stale");
    else
        gtk_widget_remove_css_class(GTK_WIDGET(self), "stale");
    g_autofree char *name = g_strdup_printf("%s: %s %s", _(figure->spec->label), value,
                                            figure_state_word(figure->state));
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _("Explains the figure"),
                                   -1);
}

static void
fw_figure_row_finalize(GObject *object)
{
    g_free(FW_FIGURE_ROW(object)->id);
    G_OBJECT_CLASS(fw_figure_row_parent_class)->finalize(object);
}

static void
fw_figure_row_class_init(FwFigureRowClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_figure_row_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/figure-row.ui");
    gtk_widget_class_bind_template_child(widget, FwFigureRow, label);
    gtk_widget_class_bind_template_child(widget, FwFigureRow, value);
    gtk_widget_class_bind_template_child(widget, FwFigureRow, word);
    gtk_widget_class_bind_template_child(widget, FwFigureRow, icon);
}

static void
fw_figure_row_init(FwFigureRow *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
fw_figure_row_new(const char *figure_id)
{
    FwFigureRow *self = g_object_new(FW_TYPE_FIGURE_ROW, NULL);
    self->id = g_strdup(figure_id);
    return GTK_WIDGET(self);
}
