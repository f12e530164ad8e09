// SPDX-License-Identifier: GPL-3.0-or-later
// A button with a list in a popover, made when it is opened. A correction is a tick with a time of
// its own, so it is kept, planned on from and taken back like any other.
#include "window/live-past.h"

#include <glib/gi18n.h>
#include <math.h>

#include "live/clock.h"
#include "live/task.h"
#include "window/notice.h"

struct _FwLivePast {
    GtkBox parent;
    GtkMenuButton *button;
    GtkListBox *list;
    GtkLabel *trouble;
    Live *live;
    GPtrArray *entries; // GtkEntry, while they are in the list
};

G_DEFINE_FINAL_TYPE(FwLivePast, fw_live_past, GTK_TYPE_BOX)

static guint changed_signal;

// What an entry corrects hangs on it: the task's key, and whether it is its beginning.
#define KEY "task-key"
#define BEGIN "task-begin"

// The time as the journal has it; "" when the task is not ticked any more. Free.
static char *
read_time(FwLivePast *self, GtkWidget *entry)
{
    const LiveTask *task = live_day_find(live_day(self->live),
                                         g_object_get_data(G_OBJECT(entry), KEY));
    double at = g_object_get_data(G_OBJECT(entry), BEGIN) ? task->start : task->end;
    return task->state == LIVE_OVER && isfinite(at)
               ? live_clock_time(live_sheet(self->live)->start + at)
               : g_strdup("");
}

static void
show_trouble(FwLivePast *self, GtkWidget *entry, const GError *error)
{
    if (error)
        gtk_widget_add_css_class(entry, "error");
    else
        gtk_widget_remove_css_class(entry, "error");
    gtk_accessible_update_state(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_STATE_INVALID,
                                error ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
                                -1);
    g_autofree char *words = error ? fw_notice_sentences(error->message) : g_strdup("");
    gtk_label_set_text(self->trouble, words);
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), error != NULL);
}

static void
correct(FwLivePast *self, GtkWidget *entry)
{
    g_autoptr(GError) error = NULL;
    const char *text = gtk_editable_get_text(GTK_EDITABLE(entry));
    g_autofree char *key = g_strdup(g_object_get_data(G_OBJECT(entry), KEY));
    gboolean begin = g_object_get_data(G_OBJECT(entry), BEGIN) != NULL;
    double at = NAN;
    if (!self->live)
        return;
    g_autofree char *before = read_time(self, entry);
    if (g_str_equal(text, before)) {
        show_trouble(self, entry, NULL);
        return;
    }
    gboolean good = live_clock_read(text, live_clock_now(), &at, &error) &&
                    (begin ? live_begin(self->live, key, at, &error)
                           : live_done(self->live, key, at, &error));
    show_trouble(self, entry, error);
    if (good)
        g_signal_emit(self, changed_signal, 0);
}

static void
on_entered_cb(GtkWidget *entry, FwLivePast *self)
{
    correct(self, entry);
}

static void
on_left_cb(GtkEventControllerFocus *focus, FwLivePast *self)
{
    correct(self, gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(focus)));
}

static void
add_entry(FwLivePast *self, GtkBox *row, const LiveTask *task, gboolean begin)
{
    GtkWidget *label = gtk_label_new(begin ? _("begun") : _("done"));
    GtkWidget *entry = gtk_entry_new();
    GtkEventController *focus = gtk_event_controller_focus_new();
    g_object_set_data_full(G_OBJECT(entry), KEY, g_strdup(task->task->key), g_free);
    g_object_set_data(G_OBJECT(entry), BEGIN, GINT_TO_POINTER(begin));
    gtk_editable_set_width_chars(GTK_EDITABLE(entry), 6);
    gtk_editable_set_max_width_chars(GTK_EDITABLE(entry), 8);
    g_autofree char *time = read_time(self, entry);
    gtk_editable_set_text(GTK_EDITABLE(entry), time);
    g_autofree char *name = g_strdup_printf(begin ? _("%s: begun at") : _("%s: done at"),
                                            task->task->label);
    gtk_accessible_update_property(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    g_signal_connect(entry, "activate", G_CALLBACK(on_entered_cb), self);
    g_signal_connect(focus, "leave", G_CALLBACK(on_left_cb), self);
    gtk_widget_add_controller(entry, focus);
    gtk_box_append(row, label);
    gtk_box_append(row, entry);
    g_ptr_array_add(self->entries, entry);
}

static void
add_row(FwLivePast *self, const LiveTask *task)
{
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
    GtkWidget *label = gtk_label_new(task->task->label);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_widget_set_hexpand(label, TRUE);
    gtk_box_append(GTK_BOX(row), label);
    if (task->begun)
        add_entry(self, GTK_BOX(row), task, TRUE);
    add_entry(self, GTK_BOX(row), task, FALSE);
    gtk_list_box_append(self->list, row);
    GtkWidget *holder = gtk_widget_get_parent(row);
    gtk_list_box_row_set_activatable(GTK_LIST_BOX_ROW(holder), FALSE);
    gtk_widget_set_focusable(holder, FALSE);
}

static void
clear_rows(FwLivePast *self)
{
    g_ptr_array_set_size(self->entries, 0);
    for (GtkWidget *row; (row = gtk_widget_get_first_child(GTK_WIDGET(self->list)));)
        gtk_list_box_remove(self->list, row);
}

static int
compare_ends(gconstpointer a, gconstpointer b)
{
    const LiveTask *x = *(LiveTask *const *)a, *y = *(LiveTask *const *)b;
    return x->end != y->end ? (x->end < y->end ? 1 : -1) : (x < y) - (x > y);
}

static void
on_opened_cb(FwLivePast *self)
{
    g_autoptr(GPtrArray) done = g_ptr_array_new();
    clear_rows(self);
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), FALSE);
    if (!self->live)
        return;
    const LiveDay *day = live_day(self->live);
    for (guint i = 0; i < day->n_tasks; i++)
        if (day->tasks[i].state == LIVE_OVER)
            g_ptr_array_add(done, &day->tasks[i]);
    g_ptr_array_sort(done, compare_ends);
    for (guint i = 0; i < done->len; i++)
        add_row(self, done->pdata[i]);
}

// Rows keep their places; only what a tick or an undo changed is written anew, and not what is just
// being typed.
static void
show_times(FwLivePast *self)
{
    for (guint i = 0; i < self->entries->len; i++) {
        GtkWidget *entry = self->entries->pdata[i];
        g_autofree char *time = read_time(self, entry);
        gboolean typing = gtk_widget_has_css_class(entry, "error") ||
                          (gtk_widget_get_state_flags(entry) & GTK_STATE_FLAG_FOCUS_WITHIN);
        if (!typing && g_strcmp0(gtk_editable_get_text(GTK_EDITABLE(entry)), time) != 0)
            gtk_editable_set_text(GTK_EDITABLE(entry), time);
        gtk_widget_set_sensitive(entry, *time != '\0');
    }
}

void
fw_live_past_set(FwLivePast *self, Live *live)
{
    gboolean any = FALSE;
    if (live != self->live) {
        self->live = NULL; // entries that lose the focus now correct nothing
        clear_rows(self);
    }
    self->live = live;
    for (guint i = 0; live && i < live_day(live)->n_tasks; i++)
        any = any || live_day(live)->tasks[i].state == LIVE_OVER;
    gtk_widget_set_sensitive(GTK_WIDGET(self->button), any && !live_day(live)->finished);
    if (live)
        show_times(self);
}

static void
fw_live_past_dispose(GObject *object)
{
    FW_LIVE_PAST(object)->live = NULL;
    G_OBJECT_CLASS(fw_live_past_parent_class)->dispose(object);
}

static void
fw_live_past_finalize(GObject *object)
{
    g_ptr_array_unref(FW_LIVE_PAST(object)->entries);
    G_OBJECT_CLASS(fw_live_past_parent_class)->finalize(object);
}

static void
fw_live_past_class_init(FwLivePastClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    G_OBJECT_CLASS(klass)->dispose = fw_live_past_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_live_past_finalize;
    changed_signal = g_signal_new("changed", G_TYPE_FROM_CLASS(klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/live-past.ui");
    gtk_widget_class_bind_template_child(widget, FwLivePast, button);
    gtk_widget_class_bind_template_child(widget, FwLivePast, list);
    gtk_widget_class_bind_template_child(widget, FwLivePast, trouble);
    gtk_widget_class_bind_template_callback(widget, on_opened_cb);
}

static void
fw_live_past_init(FwLivePast *self)
{
    self->entries = g_ptr_array_new();
    gtk_widget_init_template(GTK_WIDGET(self));
}
