// SPDX-License-Identifier: GPL-3.0-or-later
// Built anew when another step is chosen; afterwards only the rows' contents change.
#include "window/inspector.h"

#include <glib/gi18n.h>

#include "window/figure-row.h"
#include "window/input-form.h"
#include "window/pieces-page.h"
#include "window/steps.h"

struct _FwInspector {
    GtkBox parent;
    GtkLabel *title, *trouble;
    GtkEditable *search;
    FwInputForm *form;
    GtkBox *figures, *cautions;
    GtkLabel *figures_head;
    GtkWidget *caution_place;
    GtkStack *pages;
    GtkWidget *switcher;
    GtkStackPage *pieces_page;
    FwPiecesPage *pieces;
    Desk *desk;
    const Step *step;
    char *shown; // the ids of the figures shown, joined; rebuilt when it changes
};

G_DEFINE_FINAL_TYPE(FwInspector, fw_inspector, GTK_TYPE_BOX)

static guint figure_chosen_signal;

static void
empty_box(GtkBox *box)
{
    GtkWidget *child;
    while ((child = gtk_widget_get_first_child(GTK_WIDGET(box))))
        gtk_box_remove(box, child);
}

static void
on_figure_clicked_cb(FwFigureRow *row, FwInspector *self)
{
    g_signal_emit(self, figure_chosen_signal, 0, fw_figure_row_get_id(row), row);
}

static void
on_piece_figure_chosen_cb(FwPiecesPage *page, const char *id, GtkWidget *row, FwInspector *self)
{
    g_signal_emit(self, figure_chosen_signal, 0, id, row);
}

// Calls `each` for every computed figure of the step's stages.
static void
collect_figures(FwInspector *self, const Plan *plan, GPtrArray *ids)
{
    for (guint s = 0; self->step->stages[s]; s++) {
        const FigureList *list = plan_stage_figures(plan, self->step->stages[s]);
        for (guint i = 0; list && i < figure_list_size(list); i++) {
            const Figure *figure = figure_list_at(list, i);
            if (!figure->given)
                g_ptr_array_add(ids, (gpointer)figure->spec->id);
        }
    }
    g_ptr_array_add(ids, NULL);
}

static gboolean
stage_is_stale(const Plan *plan, const char *stage)
{
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        if (g_str_equal(info.id, stage))
            return info.stale;
    }
    return FALSE;
}

// Hides figures that are not called so.
static void
filter_figures(FwInspector *self)
{
    g_autofree char *words = g_strstrip(g_strdup(gtk_editable_get_text(self->search)));
    guint shown = 0, all = 0;
    for (GtkWidget *row = gtk_widget_get_first_child(GTK_WIDGET(self->figures)); row;
         row = gtk_widget_get_next_sibling(row), all++) {
        const Figure *figure = plan_figure(desk_plan(self->desk),
                                           fw_figure_row_get_id(FW_FIGURE_ROW(row)));
        gboolean fits = !*words ||
                        (figure && g_str_match_string(words, _(figure->spec->label), TRUE));
        gtk_widget_set_visible(row, fits);
        shown += fits;
    }
    gtk_label_set_text(self->figures_head, shown ? _("Press a figure to have it explained.")
                                                 : _("No figure of this step is called so."));
    gtk_widget_set_visible(GTK_WIDGET(self->figures_head), all > 0);
}

static void
update_figures(FwInspector *self)
{
    const Plan *plan = desk_plan(self->desk);
    g_autoptr(GPtrArray) ids = g_ptr_array_new();
    if (plan && self->step)
        collect_figures(self, plan, ids);
    else
        g_ptr_array_add(ids, NULL);
    g_autofree char *shown = g_strjoinv(" ", (char **)ids->pdata);
    if (g_strcmp0(shown, self->shown) != 0) {
        empty_box(self->figures);
        for (guint i = 0; ids->pdata[i]; i++) {
            GtkWidget *row = fw_figure_row_new(ids->pdata[i]);
            g_signal_connect(row, "clicked", G_CALLBACK(on_figure_clicked_cb), self);
            gtk_box_append(self->figures, row);
        }
        g_free(self->shown);
        self->shown = g_steal_pointer(&shown);
    }
    gboolean stale = FALSE;
    for (guint s = 0; plan && self->step && self->step->stages[s]; s++)
        stale = stale || stage_is_stale(plan, self->step->stages[s]);
    for (GtkWidget *row = gtk_widget_get_first_child(GTK_WIDGET(self->figures)); row;
         row = gtk_widget_get_next_sibling(row))
        fw_figure_row_update(FW_FIGURE_ROW(row), plan, stale);
    filter_figures(self);
}

static void
update_trouble(FwInspector *self)
{
    const Plan *plan = desk_plan(self->desk);
    const char *trouble = NULL;
    for (guint s = 0; plan && self->step && self->step->stages[s]; s++)
        for (guint i = 0; i < plan_stage_count(plan); i++) {
            PlanStageInfo info = plan_stage_info(plan, i);
            if (g_str_equal(info.id, self->step->stages[s]) && info.error)
                trouble = info.error;
        }
    gtk_label_set_text(self->trouble, trouble ? trouble : "");
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), trouble != NULL);
}

static void
update_cautions(FwInspector *self)
{
    const Plan *plan = desk_plan(self->desk);
    gboolean wanted = plan && self->step && self->step->cautions;
    gtk_widget_set_visible(self->caution_place, wanted);
    empty_box(self->cautions);
    for (const char *const *caution = wanted ? plan_cautions(plan) : NULL; caution && *caution;
         caution++) {
        GtkWidget *label = gtk_label_new(*caution);
        gtk_label_set_wrap(GTK_LABEL(label), TRUE);
        gtk_label_set_xalign(GTK_LABEL(label), 0);
        gtk_widget_add_css_class(label, "caution");
        gtk_box_append(self->cautions, label);
    }
}

static void
on_changed_cb(FwInspector *self)
{
    fw_input_form_update(self->form);
    update_figures(self);
    update_trouble(self);
}

static void
on_plan_changed_cb(FwInspector *self)
{
    on_changed_cb(self);
    update_cautions(self);
    fw_pieces_page_show(self->pieces, desk_plan(self->desk), desk_is_busy(self->desk));
}

static void
on_search_changed_cb(FwInspector *self)
{
    if (!self->step)
        return;
    fw_input_form_filter(self->form, gtk_editable_get_text(self->search));
    filter_figures(self);
}

static void
clear_search(FwInspector *self)
{
    if (!*gtk_editable_get_text(self->search))
        return;
    gtk_editable_set_text(self->search, "");
    on_search_changed_cb(self); // the entry itself waits a little
}

static void
on_search_stopped_cb(FwInspector *self)
{
    clear_search(self);
    fw_inspector_focus_page(self);
}

// The pieces to print are few and are not searched.
static void
on_page_changed_cb(FwInspector *self)
{
    gboolean pieces = g_strcmp0(gtk_stack_get_visible_child_name(self->pages), "pieces") == 0;
    gtk_widget_set_visible(GTK_WIDGET(self->search), !pieces);
}

void
fw_inspector_find(FwInspector *self)
{
    if (!gtk_widget_get_visible(GTK_WIDGET(self->search)))
        fw_inspector_show_page(self, "inputs");
    gtk_widget_grab_focus(GTK_WIDGET(self->search));
}

void
fw_inspector_show_step(FwInspector *self, const char *step_id)
{
    if (self->step && g_str_equal(self->step->id, step_id))
        return;
    self->step = steps_find(step_id);
    gtk_label_set_text(self->title, _(self->step->label));
    gtk_widget_set_visible(self->switcher, self->step->stages[0] != NULL);
    if (!self->step->stages[0])
        fw_inspector_show_page(self, "inputs");
    gboolean printed = g_str_equal(step_id, "pattern");
    if (!printed && g_strcmp0(gtk_stack_get_visible_child_name(self->pages), "pieces") == 0)
        fw_inspector_show_page(self, "figures");
    gtk_stack_page_set_visible(self->pieces_page, printed);
    fw_input_form_show_step(self->form, self->step->id);
    g_clear_pointer(&self->shown, g_free);
    empty_box(self->figures);
    on_plan_changed_cb(self);
}

void
fw_inspector_show_page(FwInspector *self, const char *page)
{
    gtk_stack_set_visible_child_name(self->pages, page);
}

gboolean
fw_inspector_is_settled(FwInspector *self)
{
    return fw_pieces_page_is_settled(self->pieces);
}

void
fw_inspector_focus_page(FwInspector *self)
{
    gtk_widget_child_focus(gtk_stack_get_visible_child(self->pages), GTK_DIR_TAB_FORWARD);
}

void
fw_inspector_focus_field(FwInspector *self, const char *path)
{
    fw_inspector_show_page(self, "inputs");
    clear_search(self); // it might hide the row
    fw_input_form_focus(self->form, path);
}

void
fw_inspector_set_desk(FwInspector *self, Desk *desk)
{
    self->desk = g_object_ref(desk);
    fw_input_form_set_desk(self->form, desk);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(on_plan_changed_cb), self,
                            G_CONNECT_SWAPPED);
}

static void
fw_inspector_dispose(GObject *object)
{
    g_clear_object(&FW_INSPECTOR(object)->desk);
    G_OBJECT_CLASS(fw_inspector_parent_class)->dispose(object);
}

static void
fw_inspector_finalize(GObject *object)
{
    g_free(FW_INSPECTOR(object)->shown);
    G_OBJECT_CLASS(fw_inspector_parent_class)->finalize(object);
}

static void
fw_inspector_class_init(FwInspectorClass *klass)
{
    g_type_ensure(FW_TYPE_INPUT_FORM);
    g_type_ensure(FW_TYPE_PIECES_PAGE);
    G_OBJECT_CLASS(klass)->dispose = fw_inspector_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_inspector_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    figure_chosen_signal = g_signal_new("figure-chosen", FW_TYPE_INSPECTOR, G_SIGNAL_RUN_LAST, 0,
                                        NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                        GTK_TYPE_WIDGET);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/inspector.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwInspector, name)
    BIND(title);
    BIND(trouble);
    BIND(search);
    BIND(form);
    BIND(figures);
    BIND(cautions);
    BIND(figures_head);
    BIND(caution_place);
    BIND(pages);
    BIND(switcher);
    BIND(pieces_page);
    BIND(pieces);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_piece_figure_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_search_changed_cb);
    gtk_widget_class_bind_template_callback(widget, on_search_stopped_cb);
    gtk_widget_class_bind_template_callback(widget, on_page_changed_cb);
}

static void
fw_inspector_init(FwInspector *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}
