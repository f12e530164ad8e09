// SPDX-License-Identifier: GPL-3.0-or-later
// A line of words, a button that ends the mark, and the rows.
#include "window/pull-areas.h"

#include <glib/gi18n.h>

struct _FwPullAreas {
    GtkBox parent;
    GtkLabel *words;
    GtkWidget *clear;
    GtkListBox *list;
    guint all, chosen;
};

G_DEFINE_FINAL_TYPE(FwPullAreas, fw_pull_areas, GTK_TYPE_BOX)

static guint chosen_signal;

guint
fw_pull_areas_count(FwPullAreas *self)
{
    return self->all;
}

static void
add_line(GtkWidget *box, const char *text, const char *style)
{
    GtkWidget *label = gtk_label_new(text);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
    gtk_widget_add_css_class(label, style);
    gtk_box_append(GTK_BOX(box), label);
}

static void
add_row(FwPullAreas *self, const PullModel *model, guint i, const UnitSet *units)
{
    const Area *area = &model->areas->areas[i];
    g_autofree char *title = area_title(area);
    g_autofree char *facts = area_facts(area, model->low, model->high, 0, units);
    g_autofree char *numbered = g_strdup_printf("%u.  %s", i + 1, title);
    GtkWidget *row = gtk_list_box_row_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 1);
    add_line(box, numbered, "step-name");
    add_line(box, facts, "step-figures");
    gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), box);
    gtk_widget_add_css_class(row, "step-row");
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL, numbered,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, facts, -1);
    gtk_list_box_append(self->list, row);
}

static char *
sum_words(const PullModel *model, const UnitSet *units)
{
    const AreaList *areas = model->areas;
    if (areas->n == 0)
        return g_strdup(_("All faces draw with the wanted draft."));
    double rest = 0;
    for (guint i = PULL_MODEL_AREAS; i < areas->n; i++)
        rest += areas->areas[i].area;
    if (areas->n <= PULL_MODEL_AREAS)
        return g_strdup(
            _("Faces without the wanted draft, and hidden ones. Choose one to see it."));
    g_autofree char *text = quantity_format(QUANTITY_AREA, rest, units);
    return g_strdup_printf(_("The %u largest areas without the wanted draft; %u smaller ones are "
                             "%s in all. Choose one to see it."),
                           (guint)PULL_MODEL_AREAS, areas->n - PULL_MODEL_AREAS, text);
}

void
fw_pull_areas_show(FwPullAreas *self, const PullModel *model, const char *words)
{
    fw_pull_areas_choose(self, 0);
    GtkWidget *row;
    while ((row = gtk_widget_get_first_child(GTK_WIDGET(self->list))))
        gtk_list_box_remove(self->list, row);
    self->all = model ? model->areas->n : 0;
    if (!model) {
        gtk_label_set_text(self->words, words);
        return;
    }
    UnitSet units = plan_units(model->plan);
    for (guint i = 0; i < MIN(self->all, PULL_MODEL_AREAS); i++)
        add_row(self, model, i, &units);
    g_autofree char *sum = sum_words(model, &units);
    gtk_label_set_text(self->words, sum);
}

void
fw_pull_areas_choose(FwPullAreas *self, guint chosen)
{
    gtk_list_box_select_row(
        self->list, chosen ? gtk_list_box_get_row_at_index(self->list, (int)chosen - 1) : NULL);
}

static void
on_row_selected_cb(GtkListBox *list, GtkListBoxRow *row, FwPullAreas *self)
{
    guint chosen = row ? 1 + (guint)gtk_list_box_row_get_index(row) : 0;
    if (chosen == self->chosen)
        return;
    self->chosen = chosen;
    gtk_widget_set_visible(self->clear, chosen != 0);
    g_signal_emit(self, chosen_signal, 0, chosen);
}

static void
on_clear_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    FwPullAreas *self = FW_PULL_AREAS(widget);
    GtkListBoxRow *row = gtk_list_box_get_selected_row(self->list);
    if (row && gtk_widget_is_focus(self->clear)) // which goes
        gtk_widget_grab_focus(GTK_WIDGET(row));
    fw_pull_areas_choose(self, 0);
}

static void
fw_pull_areas_class_init(FwPullAreasClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    chosen_signal = g_signal_new("chosen", FW_TYPE_PULL_AREAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
    gtk_widget_class_install_action(widget, "areas.clear", NULL, on_clear_cb);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "areas.clear", NULL);
}

static void
fw_pull_areas_init(FwPullAreas *self)
{
    gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
    gtk_box_set_spacing(GTK_BOX(self), 6);
    self->words = GTK_LABEL(gtk_label_new(NULL));
    gtk_label_set_wrap(self->words, TRUE);
    gtk_label_set_xalign(self->words, 0);
    gtk_widget_add_css_class(GTK_WIDGET(self->words), "hint");
    self->clear = gtk_button_new_with_label(_("Mark none"));
    gtk_actionable_set_action_name(GTK_ACTIONABLE(self->clear), "areas.clear");
    gtk_widget_set_visible(self->clear, FALSE);
    self->list = GTK_LIST_BOX(gtk_list_box_new());
    gtk_list_box_set_selection_mode(self->list, GTK_SELECTION_SINGLE);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("Areas without the wanted draft, the largest first"), -1);
    g_signal_connect(self->list, "row-selected", G_CALLBACK(on_row_selected_cb), self);
    GtkWidget *scrolled = gtk_scrolled_window_new();
    gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scrolled), GTK_POLICY_NEVER,
                                   GTK_POLICY_AUTOMATIC);
    gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scrolled), GTK_WIDGET(self->list));
    gtk_widget_set_vexpand(scrolled, TRUE);
    gtk_box_append(GTK_BOX(self), GTK_WIDGET(self->words));
    gtk_box_append(GTK_BOX(self), scrolled);
    gtk_box_append(GTK_BOX(self), self->clear);
}

GtkWidget *
fw_pull_areas_new(void)
{
    return g_object_new(FW_TYPE_PULL_AREAS, NULL);
}
