// SPDX-License-Identifier: GPL-3.0-or-later
// A row read at a glance: state icon and word, name, two or three figures, things to look at.
#include "window/step-row.h"

#include <glib/gi18n.h>

#include "figure/explain.h"
#include "window/figure-row.h"

struct _FwStepRow {
    GtkListBoxRow parent;
    GtkLabel *name, *word, *figures;
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

static char *
figure_words(const Step *step, const Plan *plan)
{
    UnitSet units = plan_units(plan);
    GString *out = g_string_new(NULL);
    for (guint i = 0; step->figures[i]; i++) {
        const Figure *figure = plan_figure(plan, step->figures[i]);
        if (!figure)
            continue;
        g_autofree char *value = explain_value(figure, &units);
        g_string_append_printf(out, "%s%s  %s", out->len ? "\n" : "", _(figure->spec->label),
                               value);
    }
    return g_string_free(out, FALSE);
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

void
fw_step_row_update(FwStepRow *self, const Plan *plan)
{
    if (!plan || !self->step->stages[0]) {
        show_state(self, FIGURE_PLAIN, 0);
        gtk_label_set_text(self->figures,
                           self->step->stages[0] ? "" : _("Units, sand, hours, rates"));
        return;
    }
    guint attention;
    FigureState state = steps_state(self->step, plan, &attention);
    show_state(self, state, attention);
    g_autofree char *words = figure_words(self->step, plan);
    gtk_label_set_text(self->figures, words);
    if (is_stale(self->step, plan))
        gtk_widget_add_css_class(GTK_WIDGET(self), "stale");
    else
        gtk_widget_remove_css_class(GTK_WIDGET(self), "stale");
    g_autofree char *name = g_strdup_printf("%s: %s", _(self->step->label),
                                            gtk_label_get_text(self->word));
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
}

static void
fw_step_row_class_init(FwStepRowClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/step-row.ui");
    gtk_widget_class_bind_template_child(widget, FwStepRow, name);
    gtk_widget_class_bind_template_child(widget, FwStepRow, word);
    gtk_widget_class_bind_template_child(widget, FwStepRow, figures);
    gtk_widget_class_bind_template_child(widget, FwStepRow, icon);
}

static void
fw_step_row_init(FwStepRow *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
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
