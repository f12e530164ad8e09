// SPDX-License-Identifier: GPL-3.0-or-later
// The list makes rows only for what is in sight, so a long session costs no more than a short one.
// Rows in sight read the book again after every change.
#include "window/result-page.h"

#include <glib/gi18n.h>

#include "live/log.h"
#include "live/node-kit.h"
#include "window/planned-mass.h"
#include "window/result-row.h"

struct _FwResultPage {
    GtkBox parent;
    GtkDropDown *session;
    GtkLabel *sums, *session_label;
    GtkStack *stack;
    GtkListView *list;
    Desk *desk;
    GtkStringList *sessions, *castings; // the words of the one, places in the other
    GArray *shown;                      // LiveCasting of the chosen session
    Book *book;                         // what they are borrowed from
    GHashTable *rows;                   // GtkListItem in sight
    FwPlannedMass *planned;
    gboolean setting;
};

G_DEFINE_FINAL_TYPE(FwResultPage, fw_result_page, GTK_TYPE_BOX)

static void
show_row(FwResultPage *self, GtkListItem *item)
{
    guint place = gtk_list_item_get_position(item);
    if (!self->shown || place >= self->shown->len)
        return;
    const LiveCasting *casting = &g_array_index(self->shown, LiveCasting, place);
    fw_result_row_set(FW_RESULT_ROW(gtk_list_item_get_child(item)), casting,
                      fw_planned_mass_find(self->planned, casting->job));
}

static void
on_row_set_up_cb(GtkSignalListItemFactory *factory, GtkListItem *item, FwResultPage *self)
{
    gtk_list_item_set_activatable(item, FALSE);
    gtk_list_item_set_selectable(item, FALSE);
    gtk_list_item_set_child(item, fw_result_row_new(self->desk));
}

static void
on_row_bound_cb(GtkSignalListItemFactory *factory, GtkListItem *item, FwResultPage *self)
{
    g_hash_table_add(self->rows, item);
    show_row(self, item);
}

static void
on_row_unbound_cb(GtkSignalListItemFactory *factory, GtkListItem *item, FwResultPage *self)
{
    g_hash_table_remove(self->rows, item);
}

// "3 good, 1 scrap, 4 to judge" of the castings of a job. Free.
static char *
sum_up(const GArray *castings, const char *job)
{
    guint good = 0, scrap = 0, n = 0;
    for (guint i = 0; i < castings->len; i++) {
        const LiveCasting *casting = &g_array_index(castings, LiveCasting, i);
        if (g_strcmp0(casting->job, job) != 0)
            continue;
        n++;
        good += casting->judged && casting->good;
        scrap += casting->judged && !casting->good;
    }
    return g_strdup_printf(_("%u good, %u scrap, %u to judge"), good, scrap, n - good - scrap);
}

// Jobs of the session, each once, in the order poured; NULL for castings that name none.
static GPtrArray *
list_jobs(const GArray *castings)
{
    GPtrArray *jobs = g_ptr_array_new();
    for (guint i = 0; i < castings->len; i++) {
        const char *job = g_array_index(castings, LiveCasting, i).job;
        guint k = 0;
        while (k < jobs->len && g_strcmp0(jobs->pdata[k], job) != 0)
            k++;
        if (k == jobs->len)
            g_ptr_array_add(jobs, (gpointer)job);
    }
    return jobs;
}

// Of a session of several jobs, of each.
static void
show_sums(FwResultPage *self)
{
    g_autoptr(GPtrArray) jobs = list_jobs(self->shown);
    g_autoptr(GString) words = g_string_new(NULL);
    for (guint i = 0; i < jobs->len; i++) {
        const char *job = jobs->pdata[i];
        const char *name = job ? book_job_name(self->book, job) : _("no job");
        g_autofree char *sum = sum_up(self->shown, job);
        if (jobs->len == 1)
            g_string_append(words, sum);
        else
            g_string_append_printf(words, "%s%s: %s", i > 0 ? "; " : "", name ? name : job, sum);
    }
    gtk_label_set_text(self->sums, words->str);
    gtk_widget_set_tooltip_text(GTK_WIDGET(self->sums), jobs->len > 1 ? words->str : NULL);
}

// Keeps the number of places right, and with it the rows that are in sight.
static void
resize_list(FwResultPage *self)
{
    guint have = g_list_model_get_n_items(G_LIST_MODEL(self->castings)), want = self->shown->len;
    if (have > want)
        gtk_string_list_splice(self->castings, want, have - want, NULL);
    for (; have < want; have++)
        gtk_string_list_append(self->castings, "");
}

static void
show_castings(FwResultPage *self)
{
    guint chosen = gtk_drop_down_get_selected(self->session);
    g_clear_pointer(&self->shown, g_array_unref);
    self->shown = self->book && chosen != GTK_INVALID_LIST_POSITION
                      ? live_log_castings(self->book, chosen)
                      : g_array_new(FALSE, FALSE, sizeof(LiveCasting));
    resize_list(self);
    GHashTableIter iter;
    gpointer item;
    g_hash_table_iter_init(&iter, self->rows);
    while (g_hash_table_iter_next(&iter, &item, NULL))
        show_row(self, item);
    show_sums(self);
    gtk_stack_set_visible_child_name(self->stack, self->shown->len > 0 ? "list" : "empty");
}

static void
list_sessions(FwResultPage *self)
{
    guint n = self->book ? live_log_sessions(self->book) : 0;
    guint chosen = gtk_drop_down_get_selected(self->session);
    const Node *list = self->book ? node_get(book_root(self->book), "/log/sessions") : NULL;
    guint have = g_list_model_get_n_items(G_LIST_MODEL(self->sessions));
    self->setting = TRUE;
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < n; i++) {
        const char *date = live_get_text(node_at(list, i), "date");
        const char *from = live_get_text(node_at(list, i), "started");
        g_ptr_array_add(names, g_strdup_printf(_("%u: %s %s"), i + 1, date ? date : _("no date"),
                                               from ? from : ""));
    }
    g_ptr_array_add(names, NULL);
    gboolean same = have == n;
    for (guint i = 0; same && i < n; i++)
        same = g_str_equal(gtk_string_list_get_string(self->sessions, i), names->pdata[i]);
    if (!same) {
        gtk_string_list_splice(self->sessions, 0, have, (const char *const *)names->pdata);
        gtk_drop_down_set_selected(self->session, n == 0       ? GTK_INVALID_LIST_POSITION
                                                  : n > have   ? n - 1
                                                  : chosen < n ? chosen
                                                               : n - 1);
    }
    gtk_widget_set_visible(GTK_WIDGET(self->session), n > 0);
    gtk_widget_set_visible(GTK_WIDGET(self->session_label), n > 0);
    self->setting = FALSE;
}

static void
on_book_changed_cb(FwResultPage *self)
{
    const Book *book = desk_book(self->desk);
    g_clear_pointer(&self->shown, g_array_unref); // borrowed from the book before
    g_clear_pointer(&self->book, book_unref);
    self->book = book ? book_ref(book) : NULL;
    list_sessions(self);
    show_castings(self);
}

static void
on_session_chosen_cb(FwResultPage *self)
{
    if (!self->setting && self->desk)
        show_castings(self);
}

void
fw_result_page_show_last(FwResultPage *self)
{
    guint n = g_list_model_get_n_items(G_LIST_MODEL(self->sessions));
    if (n > 0)
        gtk_drop_down_set_selected(self->session, n - 1);
}

void
fw_result_page_set_desk(FwResultPage *self, Desk *desk)
{
    g_set_object(&self->desk, desk);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_book_changed_cb), self,
                            G_CONNECT_SWAPPED);
    self->planned = fw_planned_mass_new(desk);
    g_signal_connect_object(self->planned, "changed", G_CALLBACK(show_castings), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(show_castings), self,
                            G_CONNECT_SWAPPED);
    on_book_changed_cb(self);
}

static void
fw_result_page_dispose(GObject *object)
{
    FwResultPage *self = FW_RESULT_PAGE(object);
    if (self->list)
        gtk_list_view_set_model(self->list, NULL);
    self->list = NULL;
    if (self->planned) // a thread may hold on to it
        g_object_run_dispose(G_OBJECT(self->planned));
    g_clear_object(&self->planned);
    g_clear_object(&self->castings);
    g_clear_object(&self->sessions);
    g_clear_pointer(&self->rows, g_hash_table_unref);
    g_clear_pointer(&self->shown, g_array_unref);
    g_clear_pointer(&self->book, book_unref);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_result_page_parent_class)->dispose(object);
}

static void
fw_result_page_class_init(FwResultPageClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    G_OBJECT_CLASS(klass)->dispose = fw_result_page_dispose;
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/result-page.ui");
    gtk_widget_class_bind_template_child(widget, FwResultPage, session);
    gtk_widget_class_bind_template_child(widget, FwResultPage, session_label);
    gtk_widget_class_bind_template_child(widget, FwResultPage, sums);
    gtk_widget_class_bind_template_child(widget, FwResultPage, stack);
    gtk_widget_class_bind_template_child(widget, FwResultPage, list);
    gtk_widget_class_bind_template_callback(widget, on_session_chosen_cb);
}

static void
fw_result_page_init(FwResultPage *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
    self->rows = g_hash_table_new(NULL, NULL);
    self->sessions = gtk_string_list_new(NULL);
    self->castings = gtk_string_list_new(NULL);
    gtk_drop_down_set_model(self->session, G_LIST_MODEL(self->sessions));
    g_autoptr(GtkListItemFactory) factory = gtk_signal_list_item_factory_new();
    g_signal_connect(factory, "setup", G_CALLBACK(on_row_set_up_cb), self);
    g_signal_connect(factory, "bind", G_CALLBACK(on_row_bound_cb), self);
    g_signal_connect(factory, "unbind", G_CALLBACK(on_row_unbound_cb), self);
    gtk_list_view_set_factory(self->list, factory);
    g_autoptr(GtkNoSelection)
                  model = gtk_no_selection_new(g_object_ref(G_LIST_MODEL(self->castings)));
    gtk_list_view_set_model(self->list, GTK_SELECTION_MODEL(model));
}
