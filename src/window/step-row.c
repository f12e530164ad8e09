// SPDX-License-Identifier: GPL-3.0-or-later
// A row read at a glance: state icon and word, name, two or three figures, things to look at.
#include "window/step-row.h"

#include <glib/gi18n.h>

#include "figure/explain.h"
#include "window/figure-row.h"

#define MOST_FIGURES 3

struct _FwStepRow {
    GtkListBoxRow parent;
    GtkLabel *name, *word, *hint;
    GtkLabel *labels[MOST_FIGURES], *values[MOST_FIGURES];
    GtkGrid *grid;
    GtkImage *icon;
    const Step *step;
};

G_DEFINE_FINAL_TYPE(FwStepRow, fw_step_row, GTK_TYPE_LIST_BOX_ROW)

const Step *
fw_step_row_get_step(FwStepRow *self)
{
    return self->step;
}

static gboolean
is_stale(const Step *step, const Plan *plan)
{
    for (guint s = 0; step->stages[s]; s++)
        for (guint i = 0; i < plan_stage_count(plan); i++) {
            PlanStageInfo info = plan_stage_info(plan, i);
            if (info.stale && g_str_equal(info.id, step->stages[s]))
                return TRUE;
        }
    return FALSE;
}

// Fills the grid: label at the left, value at the right, one figure a line.
static void
show_figures(FwStepRow *self, const Plan *plan, GString *words)
{
    UnitSet units = plan_units(plan);
    for (guint i = 0; i < MOST_FIGURES; i++) {
        const StepFigure *wanted = &self->step->figures[i];
        const Figure *figure = wanted->id ? plan_figure(plan, wanted->id) : NULL;
        gtk_widget_set_visible(GTK_WIDGET(self->labels[i]), figure != NULL);
        gtk_widget_set_visible(GTK_WIDGET(self->values[i]), figure != NULL);
        if (!figure)
            continue;
        g_autofree char *value = explain_value(figure, &units);
        gtk_label_set_text(self->labels[i], _(wanted->label));
        gtk_label_set_text(self->values[i], figure->state == FIGURE_UNKNOWN ? "–" : value);
        g_string_append_printf(words, "%s%s %s", words->len ? "; " : "", _(wanted->label), value);
    }
}

static void
show_state(FwStepRow *self, FigureState state, guint attention)
{
    static const FigureState all[] = {FIGURE_UNKNOWN, FIGURE_HOLDS, FIGURE_CLOSE, FIGURE_FAILS};
    for (guint i = 0; i < G_N_ELEMENTS(all); i++)
        gtk_widget_remove_css_class(GTK_WIDGET(self), fw_state_class(all[i]));
    const char *class = fw_state_class(state);
    if (class)
        gtk_widget_add_css_class(GTK_WIDGET(self), class);
    gtk_image_set_from_icon_name(self->icon, fw_state_icon(state));
    g_autofree char *word = NULL;
    if (attention > 0)
        word = g_strdup_printf(ngettext("%s, %u to look at", "%s, %u to look at", attention),
                               figure_state_word(state), attention);
    gtk_label_set_text(self->word, word ? word : figure_state_word(state));
}

// A step whose stages have not been reached in this run has nothing to say yet.
static gboolean
is_reached(const Step *step, const Plan *plan)
{
    for (guint s = 0; step->stages[s]; s++)
        if (!plan_stage_figures(plan, step->stages[s]))
            return FALSE;
    return TRUE;
}

static void
show_stale(FwStepRow *self, gboolean stale)
{
    if (stale)
        gtk_widget_add_css_class(GTK_WIDGET(self), "stale");
    else
        gtk_widget_remove_css_class(GTK_WIDGET(self), "stale");
}

void
fw_step_row_update(FwStepRow *self, const Plan *plan)
{
    gboolean settings = !self->step->stages[0];
    gboolean reached = plan && !settings && is_reached(self->step, plan);
    gtk_widget_set_visible(GTK_WIDGET(self->grid), reached);
    gtk_widget_set_visible(GTK_WIDGET(self->hint), settings);
    show_stale(self, plan && is_stale(self->step, plan));
    if (!reached) {
        show_state(self, FIGURE_PLAIN, 0);
        gtk_label_set_text(self->word, settings ? "" : plan ? "…" : "");
        return;
    }
    guint attention;
    FigureState state = steps_state(self->step, plan, &attention);
    show_state(self, state, attention);
    g_autoptr(GString) words = g_string_new(NULL);
    show_figures(self, plan, words);
    g_autofree char *name = g_strdup_printf("%s: %s", _(self->step->label),
                                            gtk_label_get_text(self->word));
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
}

static void
fw_step_row_class_init(FwStepRowClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/step-row.ui");
    gtk_widget_class_bind_template_child(widget, FwStepRow, name);
    gtk_widget_class_bind_template_child(widget, FwStepRow, word);
    gtk_widget_class_bind_template_child(widget, FwStepRow, hint);
    gtk_widget_class_bind_template_child(widget, FwStepRow, grid);
    gtk_widget_class_bind_template_child(widget, FwStepRow, icon);
}

static GtkLabel *
add_label(FwStepRow *self, int column, int row)
{
    GtkWidget *label = gtk_label_new(NULL);
    gtk_widget_add_css_class(label, "numeric");
    gtk_widget_add_css_class(label, "step-figures");
    gtk_label_set_xalign(GTK_LABEL(label), column == 0 ? 0 : 1);
    gtk_label_set_ellipsize(GTK_LABEL(label),
                            column == 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
    gtk_widget_set_hexpand(label, column == 0);
    gtk_grid_attach(self->grid, label, column, row, 1, 1);
    return GTK_LABEL(label);
}

static void
fw_step_row_init(FwStepRow *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
    for (int i = 0; i < MOST_FIGURES; i++) {
        self->labels[i] = add_label(self, 0, i);
        self->values[i] = add_label(self, 1, i);
    }
}

GtkWidget *
fw_step_row_new(const Step *step)
{
    FwStepRow *self = g_object_new(FW_TYPE_STEP_ROW, NULL);
    self->step = step;
    gtk_label_set_text(self->name, _(step->label));
    fw_step_row_update(self, NULL);
    return GTK_WIDGET(self);
}
