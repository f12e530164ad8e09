// SPDX-License-Identifier: GPL-3.0-or-later
// The calendar's first session is the day of all jobs. While the page can be seen and that was
// chosen, the answer is waited for; whoever leaves the page has changed their mind.
#include "window/live-start.h"

#include <glib/gi18n.h>

#include "window/notice.h"

struct _FwLiveStart {
    GtkBox parent;
    GtkButton *one, *all;
    GtkLabel *one_words, *one_hint, *all_hint, *waiting, *trouble;
    Desk *desk;
    FwCalendarView *calendar;
    gboolean wanted; // the day of all jobs, when it is planned
    guint asked;     // how often it was: an earlier answer counts no more
};

G_DEFINE_FINAL_TYPE(FwLiveStart, fw_live_start, GTK_TYPE_BOX)

static guint one_signal, all_signal;

typedef struct {
    const BatchPlan *batch;
    const Tables *tables;
    GApplication *app; // keeps the tables
    guint asked;
} Work;

static void
free_work(gpointer data)
{
    Work *work = data;
    batch_plan_unref(work->batch);
    g_clear_object(&work->app);
    g_free(work);
}

static void
work_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    const Work *work = data;
    GError *error = NULL;
    PlanDay *day = batch_plan_next_day(work->batch, work->tables, NULL, &error);
    if (day)
        g_task_return_pointer(task, day, (GDestroyNotify)plan_day_unref);
    else
        g_task_return_error(task, error);
}

static void
show_waiting(FwLiveStart *self, gboolean wanted, const char *trouble)
{
    self->wanted = wanted;
    gtk_widget_set_visible(GTK_WIDGET(self->waiting), wanted);
    g_autofree char *words = trouble ? fw_notice_sentences(trouble) : g_strdup("");
    gtk_label_set_text(self->trouble, words);
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), trouble != NULL);
    gtk_widget_set_sensitive(GTK_WIDGET(self->all), !wanted);
}

static void take_batch(FwLiveStart *self, const BatchPlan *batch);

// Waits for the calendar of the book as it is now; "made" tells when it is there.
static void
wait_for_batch(FwLiveStart *self)
{
    const BatchPlan *batch = fw_calendar_view_batch(self->calendar, TRUE);
    show_waiting(self, TRUE, NULL);
    if (batch)
        take_batch(self, batch);
}

static void
on_worked_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwLiveStart *self = FW_LIVE_START(source);
    const Work *work = g_task_get_task_data(G_TASK(result));
    g_autoptr(GError) error = NULL;
    g_autoptr(PlanDay) day = g_task_propagate_pointer(G_TASK(result), &error);
    if (!self->wanted || work->asked != self->asked)
        return;
    if (work->batch != fw_calendar_view_batch(self->calendar, FALSE)) {
        wait_for_batch(self); // the book has changed meanwhile
        return;
    }
    show_waiting(self, FALSE, error ? error->message : NULL);
    if (day)
        g_signal_emit(self, all_signal, 0, day);
}

static void
take_batch(FwLiveStart *self, const BatchPlan *batch)
{
    Work *work = g_new0(Work, 1);
    work->batch = batch_plan_ref(batch);
    work->tables = desk_tables(self->desk);
    work->asked = ++self->asked;
    g_set_object(&work->app, g_application_get_default());
    g_autoptr(GTask) task = g_task_new(self, NULL, on_worked_cb, NULL);
    g_task_set_task_data(task, work, free_work);
    g_task_run_in_thread(task, work_in_thread);
}

// "Pawl, 3 moulds; Bracket, 1 mould". Free.
static char *
list_pours(const BatchPlan *batch)
{
    g_autoptr(GString) words = g_string_new(NULL);
    const BatchSession *session = &batch->sessions[0];
    for (guint i = 0; i < session->n_pours; i++) {
        const BatchPour *pour = &session->pours[i];
        g_string_append(words, i > 0 ? "; " : "");
        g_string_append_printf(words,
                               ngettext("%s, %d mould", "%s, %d moulds", (gulong)pour->flasks),
                               batch->jobs[pour->job].name, pour->flasks);
    }
    return g_string_free(g_steal_pointer(&words), FALSE);
}

static void
show_all(FwLiveStart *self, const BatchPlan *batch)
{
    g_autofree char *pours = batch && batch->n_sessions > 0 ? list_pours(batch) : NULL;
    gtk_label_set_text(self->all_hint,
                       pours ? pours : _("What the calendar pours next, moulds of several jobs"));
}

static void
on_made_cb(FwCalendarView *view, FwLiveStart *self)
{
    const BatchPlan *batch = fw_calendar_view_batch(view, FALSE);
    show_all(self, batch);
    if (!self->wanted)
        return;
    if (batch)
        take_batch(self, batch);
    else if (fw_calendar_view_trouble(view))
        show_waiting(self, FALSE, fw_calendar_view_trouble(view));
    else
        wait_for_batch(self);
}

static void
show_one(FwLiveStart *self)
{
    const Plan *plan = desk_plan(self->desk);
    const SessionResult *session = plan ? plan_session(plan) : NULL;
    const char *name = desk_job(self->desk)
                           ? book_job_name(desk_book(self->desk), desk_job(self->desk))
                           : NULL;
    gboolean there = session && session->n_tasks > 0 && !desk_is_busy(self->desk);
    UnitSet units = book_units(desk_book(self->desk));
    g_autofree char *words = g_strdup_printf(_("This job: %s"), name ? name : "");
    gulong flasks = there ? (gulong)session->flasks : 0;
    gulong castings = there ? (gulong)session->castings : 0;
    g_autofree char *length = quantity_format(QUANTITY_TIME, there ? session->length : 0, &units);
    g_autofree char *moulds = g_strdup_printf(ngettext("%lu mould", "%lu moulds", flasks), flasks);
    g_autofree char *all = g_strdup_printf(ngettext("%lu casting", "%lu castings", castings),
                                           castings);
    g_autofree char *hint =
        there ? g_strdup_printf(_("%s, %s, %s"), moulds, all, length)
              : g_strdup(desk_is_busy(self->desk)
                             ? _("Its plan is still being worked out")
                             : _("Its plan has no session to work by: look at the step Session"));
    gtk_label_set_text(self->one_words, words);
    gtk_label_set_text(self->one_hint, hint);
    gtk_widget_set_sensitive(GTK_WIDGET(self->one), there);
}

static void
on_desk_changed_cb(FwLiveStart *self)
{
    if (!desk_book(self->desk) || !gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    show_one(self);
    show_all(self, fw_calendar_view_batch(self->calendar, FALSE));
}

void
fw_live_start_ask(FwLiveStart *self)
{
    show_waiting(self, FALSE, NULL);
    show_one(self);
    show_all(self, fw_calendar_view_batch(self->calendar, FALSE));
    gboolean one = gtk_widget_get_sensitive(GTK_WIDGET(self->one));
    gtk_widget_grab_focus(GTK_WIDGET(one ? self->one : self->all));
}

static void
on_one_clicked_cb(FwLiveStart *self)
{
    g_signal_emit(self, one_signal, 0);
}

static void
on_all_clicked_cb(FwLiveStart *self)
{
    wait_for_batch(self);
}

static void
fw_live_start_unmap(GtkWidget *widget)
{
    FW_LIVE_START(widget)->wanted = FALSE;
    GTK_WIDGET_CLASS(fw_live_start_parent_class)->unmap(widget);
}

static void
fw_live_start_dispose(GObject *object)
{
    g_clear_object(&FW_LIVE_START(object)->desk);
    G_OBJECT_CLASS(fw_live_start_parent_class)->dispose(object);
}

static void
fw_live_start_class_init(FwLiveStartClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    G_OBJECT_CLASS(klass)->dispose = fw_live_start_dispose;
    widget->unmap = fw_live_start_unmap;
    one_signal = g_signal_new("one", G_TYPE_FROM_CLASS(klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                              NULL, G_TYPE_NONE, 0);
    all_signal = g_signal_new("all", G_TYPE_FROM_CLASS(klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                              NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/live-start.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwLiveStart, name)
    BIND(one);
    BIND(all);
    BIND(one_words);
    BIND(one_hint);
    BIND(all_hint);
    BIND(waiting);
    BIND(trouble);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_one_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_all_clicked_cb);
}

static void
fw_live_start_init(FwLiveStart *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}

void
fw_live_start_set_desk(FwLiveStart *self, Desk *desk, FwCalendarView *calendar)
{
    g_return_if_fail(self->desk == NULL);
    self->desk = g_object_ref(desk);
    self->calendar = calendar; // of the same window
    g_signal_connect_object(calendar, "made", G_CALLBACK(on_made_cb), self, 0);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(on_desk_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "busy-changed", G_CALLBACK(on_desk_changed_cb), self,
                            G_CONNECT_SWAPPED);
}
