// SPDX-License-Identifier: GPL-3.0-or-later
// Follows the desk: the list of jobs, how far the batch is, and every step's state.
#include "window/job-pane.h"

#include <glib/gi18n.h>
#include <math.h>

#include "book/inputs.h"
#include "window/batch-bar.h"
#include "window/choice.h"
#include "window/step-row.h"

struct _FwJobPane {
    GtkBox parent;
    GtkDropDown *jobs;
    GtkLabel *batch;
    FwBatchBar *bar;
    GtkListBox *steps;
    Desk *desk;
    gboolean updating;
};

G_DEFINE_FINAL_TYPE(FwJobPane, fw_job_pane, GTK_TYPE_BOX)

static guint step_chosen_signal;

static gboolean
has_same_names(GtkDropDown *jobs, GtkStringList *names)
{
    GListModel *old = gtk_drop_down_get_model(jobs);
    guint n = g_list_model_get_n_items(G_LIST_MODEL(names));
    if (!old || g_list_model_get_n_items(old) != n)
        return FALSE;
    for (guint i = 0; i < n; i++)
        if (!g_str_equal(gtk_string_list_get_string(GTK_STRING_LIST(old), i),
                         gtk_string_list_get_string(names, i)))
            return FALSE;
    return TRUE;
}

// The names stay where they did not change: when a job was just chosen from the list, its popup
// still works with them.
static void
update_jobs(FwJobPane *self)
{
    const Book *book = desk_book(self->desk);
    g_autoptr(GtkStringList) names = gtk_string_list_new(NULL);
    guint chosen = GTK_INVALID_LIST_POSITION;
    for (guint i = 0; book && i < book_job_count(book); i++) {
        const char *id = book_job_id(book, i), *name = book_job_name(book, id);
        gtk_string_list_append(names, name && *name ? name : id);
        if (g_strcmp0(id, desk_job(self->desk)) == 0)
            chosen = i;
    }
    self->updating = TRUE;
    if (!has_same_names(self->jobs, names))
        gtk_drop_down_set_model(self->jobs, G_LIST_MODEL(names));
    gtk_drop_down_set_selected(self->jobs, chosen);
    self->updating = FALSE;
}

// How many good parts the job wants; NAN if that cannot be read.
static double
wanted_parts(FwJobPane *self)
{
    static const char *const reads[] = {"job.quantity", NULL};
    const Book *book = desk_book(self->desk);
    if (!book || !desk_job(self->desk))
        return NAN;
    g_autoptr(Inputs) inputs = inputs_resolve(book, desk_job(self->desk), desk_tables(self->desk),
                                              NULL, reads);
    return inputs_number(inputs, "job.quantity");
}

// Good castings against those wanted: a bar of castings, with the numbers beside it.
static void
update_batch(FwJobPane *self)
{
    const Plan *plan = desk_plan(self->desk);
    double good = plan ? figure_list_value(plan_figures(plan), "learn.good") : NAN;
    double poured = plan ? figure_list_value(plan_figures(plan), "learn.poured") : NAN;
    double wanted = wanted_parts(self);
    if (!isfinite(good) || !isfinite(poured) || !isfinite(wanted)) {
        gtk_label_set_text(self->batch, "");
        gtk_widget_set_visible(GTK_WIDGET(self->bar), FALSE);
        return;
    }
    g_autofree char *text = g_strdup_printf(_("%.0f good of %.0f poured; %.0f wanted"), good,
                                            poured, wanted);
    gtk_label_set_text(self->batch, text);
    fw_batch_bar_set(self->bar, good, poured - good, wanted, text);
    gtk_widget_set_visible(GTK_WIDGET(self->bar), TRUE);
}

static void
on_book_changed_cb(FwJobPane *self)
{
    update_jobs(self);
}

static void
on_plan_changed_cb(FwJobPane *self)
{
    const Plan *plan = desk_plan(self->desk);
    for (guint i = 0; i < steps_count(); i++)
        fw_step_row_update(FW_STEP_ROW(gtk_list_box_get_row_at_index(self->steps, (int)i)), plan);
    update_batch(self);
}

static void
on_job_selected_cb(FwJobPane *self)
{
    const Book *book = self->desk ? desk_book(self->desk) : NULL;
    guint selected = gtk_drop_down_get_selected(self->jobs);
    if (!self->updating && book && selected < book_job_count(book)) {
        g_autofree char *id = g_strdup(book_job_id(book, selected));
        desk_choose_job(self->desk, id);
    }
}

// Only the chosen step is a stop of the Tab key: the list is one stop, not nine.
static void
rove_focus(FwJobPane *self, GtkListBoxRow *chosen)
{
    for (int i = 0; i < (int)steps_count(); i++) {
        GtkListBoxRow *row = gtk_list_box_get_row_at_index(self->steps, i);
        gtk_widget_set_focusable(GTK_WIDGET(row), row == chosen);
    }
}

// Moves the choice by keys, since rows that are no Tab stop are none for the list's own keys.
static gboolean
on_step_key_pressed_cb(GtkEventControllerKey *controller, guint key, guint code,
                       GdkModifierType state, FwJobPane *self)
{
    GtkListBoxRow *row = gtk_list_box_get_selected_row(self->steps);
    int last = (int)steps_count() - 1, at = row ? gtk_list_box_row_get_index(row) : 0, to = at;
    if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
        return GDK_EVENT_PROPAGATE;
    if (key == GDK_KEY_Down || key == GDK_KEY_KP_Down)
        to = at + 1;
    else if (key == GDK_KEY_Up || key == GDK_KEY_KP_Up)
        to = at - 1;
    else if (key == GDK_KEY_Home)
        to = 0;
    else if (key == GDK_KEY_End)
        to = last;
    else
        return GDK_EVENT_PROPAGATE;
    row = gtk_list_box_get_row_at_index(self->steps, CLAMP(to, 0, last));
    gtk_list_box_select_row(self->steps, row);
    gtk_widget_grab_focus(GTK_WIDGET(row));
    return GDK_EVENT_STOP;
}

static void
on_step_selected_cb(GtkListBox *list, GtkListBoxRow *row, FwJobPane *self)
{
    if (!row)
        return;
    rove_focus(self, row);
    g_signal_emit(self, step_chosen_signal, 0, fw_step_row_get_step(FW_STEP_ROW(row))->id);
}

void
fw_job_pane_choose_step(FwJobPane *self, const char *step_id)
{
    for (guint i = 0; i < steps_count(); i++)
        if (g_str_equal(steps_at(i)->id, step_id))
            gtk_list_box_select_row(self->steps,
                                    gtk_list_box_get_row_at_index(self->steps, (int)i));
}

void
fw_job_pane_set_desk(FwJobPane *self, Desk *desk)
{
    self->desk = g_object_ref(desk);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_book_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(on_plan_changed_cb), self,
                            G_CONNECT_SWAPPED);
    update_jobs(self);
    on_plan_changed_cb(self);
}

static void
fw_job_pane_dispose(GObject *object)
{
    g_clear_object(&FW_JOB_PANE(object)->desk);
    G_OBJECT_CLASS(fw_job_pane_parent_class)->dispose(object);
}

static void
fw_job_pane_class_init(FwJobPaneClass *klass)
{
    g_type_ensure(FW_TYPE_BATCH_BAR);
    G_OBJECT_CLASS(klass)->dispose = fw_job_pane_dispose;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    step_chosen_signal = g_signal_new("step-chosen", FW_TYPE_JOB_PANE, G_SIGNAL_RUN_LAST, 0, NULL,
                                      NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/job-pane.ui");
    gtk_widget_class_bind_template_child(widget, FwJobPane, jobs);
    gtk_widget_class_bind_template_child(widget, FwJobPane, batch);
    gtk_widget_class_bind_template_child(widget, FwJobPane, bar);
    gtk_widget_class_bind_template_child(widget, FwJobPane, steps);
    gtk_widget_class_bind_template_callback(widget, on_job_selected_cb);
    gtk_widget_class_bind_template_callback(widget, on_step_selected_cb);
}

static void
fw_job_pane_init(FwJobPane *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
    fw_choice_set_label(GTK_WIDGET(self->jobs), _("Job"));
    for (guint i = 0; i < steps_count(); i++)
        gtk_list_box_append(self->steps, fw_step_row_new(steps_at(i)));
    GtkEventController *keys = gtk_event_controller_key_new();
    gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
    g_signal_connect(keys, "key-pressed", G_CALLBACK(on_step_key_pressed_cb), self);
    gtk_widget_add_controller(GTK_WIDGET(self->steps), keys);
}
