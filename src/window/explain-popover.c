// SPDX-License-Identifier: GPL-3.0-or-later
// The popover walks from a figure to its inputs and back; a field leads to its form row.
#include "window/explain-popover.h"

#include <glib/gi18n.h>

#include "book/field.h"
#include "figure/explain.h"
#include "figure/source.h"

struct _FwExplainPopover {
    GtkPopover parent;
    GtkLabel *title, *value, *state, *formula, *numbers, *limit, *note, *source;
    GtkWidget *numbers_head, *limit_head, *note_head, *inputs_head;
    GtkBox *inputs;
    GtkButton *back;
    const Plan *plan;
    GPtrArray *trail; // ids opened on the way here
};

G_DEFINE_FINAL_TYPE(FwExplainPopover, fw_explain_popover, GTK_TYPE_POPOVER)

static guint field_wanted_signal;

static void show_top(FwExplainPopover *self);

static void
set_line(GtkLabel *label, GtkWidget *head, const char *text)
{
    gboolean any = text && *text;
    gtk_label_set_text(label, any ? text : "");
    gtk_widget_set_visible(GTK_WIDGET(label), any);
    if (head)
        gtk_widget_set_visible(head, any);
}

static void
on_input_clicked_cb(GtkButton *button, FwExplainPopover *self)
{
    const char *id = g_object_get_data(G_OBJECT(button), "figure-id");
    if (field_find(id)) {
        g_autofree char *path = g_strdup(id);
        gtk_popover_popdown(GTK_POPOVER(self));
        g_signal_emit(self, field_wanted_signal, 0, path);
        return;
    }
    g_ptr_array_add(self->trail, g_strdup(id));
    show_top(self);
}

static void
add_input(FwExplainPopover *self, const char *id)
{
    const Figure *input = plan_figure(self->plan, id);
    if (!input)
        return;
    UnitSet units = plan_units(self->plan);
    g_autofree char *value = explain_value(input, &units);
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
    GtkWidget *label = gtk_label_new(_(input->spec->label));
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_widget_set_hexpand(label, TRUE);
    GtkWidget *number = gtk_label_new(value);
    gtk_widget_add_css_class(number, "numeric");
    gtk_box_append(GTK_BOX(box), label);
    gtk_box_append(GTK_BOX(box), number);
    GtkWidget *button = gtk_button_new();
    gtk_widget_add_css_class(button, "flat");
    gtk_button_set_child(GTK_BUTTON(button), box);
    g_object_set_data_full(G_OBJECT(button), "figure-id", g_strdup(id), g_free);
    g_signal_connect(button, "clicked", G_CALLBACK(on_input_clicked_cb), self);
    g_autofree char *name = g_strdup_printf("%s: %s", _(input->spec->label), value);
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    gtk_box_append(self->inputs, button);
}

static void
show_inputs(FwExplainPopover *self, const Figure *figure)
{
    GtkWidget *child;
    while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->inputs))))
        gtk_box_remove(self->inputs, child);
    for (guint i = 0; i < figure->n_inputs; i++)
        add_input(self, figure->inputs[i].id);
    gtk_widget_set_visible(self->inputs_head, figure->n_inputs > 0);
}

static void
show_figure(FwExplainPopover *self, const Figure *figure)
{
    const FigureList *list = plan_figures(self->plan);
    UnitSet units = plan_units(self->plan);
    g_autofree char *value = explain_value(figure, &units);
    g_autofree char *formula = explain_formula(list, figure);
    g_autofree char *numbers = explain_numbers(list, figure, &units);
    g_autofree char *limit = explain_limit(list, figure, &units);
    g_autofree char *source = source_text(figure_source(figure));
    g_autofree char *missing = NULL;
    if (figure->state == FIGURE_UNKNOWN && figure->missing) {
        const Figure *cause = plan_figure(self->plan, figure->missing);
        missing = g_strdup_printf(_("Needs: %s."), cause ? _(cause->spec->label) : figure->missing);
    }
    g_autofree char *note = NULL;
    if (missing && figure->note)
        note = g_strdup_printf("%s %s", missing, figure->note);
    gtk_label_set_text(self->title, _(figure->spec->label));
    gtk_label_set_text(self->value, value);
    gtk_label_set_text(self->state,
                       figure->state == FIGURE_UNKNOWN ? "" : figure_state_word(figure->state));
    set_line(self->formula, NULL, formula);
    set_line(self->numbers, self->numbers_head, numbers);
    set_line(self->limit, self->limit_head, limit);
    set_line(self->note, self->note_head, note ? note : missing ? missing : figure->note);
    set_line(self->source, NULL, source);
    show_inputs(self, figure);
    gtk_widget_set_visible(GTK_WIDGET(self->back), self->trail->len > 1);
}

static void
show_top(FwExplainPopover *self)
{
    const char *id = g_ptr_array_index(self->trail, self->trail->len - 1);
    const Figure *figure = self->plan ? plan_figure(self->plan, id) : NULL;
    if (figure)
        show_figure(self, figure);
}

static void
on_back_clicked_cb(FwExplainPopover *self)
{
    if (self->trail->len > 1)
        g_ptr_array_set_size(self->trail, (int)self->trail->len - 1);
    show_top(self);
}

void
fw_explain_popover_show(FwExplainPopover *self, const Plan *plan, const char *figure_id)
{
    if (!plan || !plan_figure(plan, figure_id))
        return;
    plan_ref(plan);
    plan_unref(self->plan);
    self->plan = plan;
    g_ptr_array_set_size(self->trail, 0);
    g_ptr_array_add(self->trail, g_strdup(figure_id));
    show_top(self);
    gtk_popover_popup(GTK_POPOVER(self));
}

static void
fw_explain_popover_finalize(GObject *object)
{
    FwExplainPopover *self = FW_EXPLAIN_POPOVER(object);
    plan_unref(self->plan);
    g_ptr_array_unref(self->trail);
    G_OBJECT_CLASS(fw_explain_popover_parent_class)->finalize(object);
}

static void
fw_explain_popover_class_init(FwExplainPopoverClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_explain_popover_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    field_wanted_signal = g_signal_new("field-wanted", FW_TYPE_EXPLAIN_POPOVER, G_SIGNAL_RUN_LAST,
                                       0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
    gtk_widget_class_set_template_from_resource(
        widget, "/org/flaskwright/Flaskwright/ui/explain-popover.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwExplainPopover, name)
    BIND(title);
    BIND(value);
    BIND(state);
    BIND(formula);
    BIND(numbers);
    BIND(limit);
    BIND(note);
    BIND(source);
    BIND(numbers_head);
    BIND(limit_head);
    BIND(note_head);
    BIND(inputs_head);
    BIND(inputs);
    BIND(back);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_back_clicked_cb);
}

static void
fw_explain_popover_init(FwExplainPopover *self)
{
    self->trail = g_ptr_array_new_with_free_func(g_free);
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
fw_explain_popover_new(void)
{
    return g_object_new(FW_TYPE_EXPLAIN_POPOVER, NULL);
}
