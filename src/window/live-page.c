// SPDX-License-Identifier: GPL-3.0-or-later
// Ticks go to the journal before anything on the page changes; the page only shows what is kept.
#include <glib/gi18n.h>
#include <math.h>

#include "base/error.h"
#include "live/log.h"
#include "window/live-page-private.h"
#include "window/notice.h"

G_DEFINE_FINAL_TYPE(FwLivePage, fw_live_page, GTK_TYPE_BOX)

static guint changed_signal, finished_signal;

const Live *
fw_live_page_live(FwLivePage *self)
{
    return self->live;
}

static void
show_trouble(FwLivePage *self, const char *words)
{
    g_autofree char *sentences = words ? fw_notice_sentences(words) : g_strdup("");
    gtk_label_set_text(self->trouble, sentences);
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), words != NULL);
}

// After every attempt to note something: what was kept is shown and planned on from, what failed is
// said.
static gboolean
take_note(FwLivePage *self, gboolean good, GError *error)
{
    show_trouble(self, good ? NULL : error->message);
    g_clear_error(&error);
    if (!good)
        return FALSE;
    if (self->live) { // a day finished and saved is left by then
        fw_live_page_replan(self);
        fw_live_page_show(self);
    }
    g_signal_emit(self, changed_signal, 0);
    return TRUE;
}

void
fw_live_page_tick(FwLivePage *self)
{
    GError *error = NULL;
    if (!self->live || !self->next)
        return;
    g_autofree char *key = g_strdup(self->next);
    gboolean good = self->next_begins ? live_begin(self->live, key, NAN, &error)
                                      : live_done(self->live, key, NAN, &error);
    take_note(self, good, error);
}

gboolean
fw_live_page_can_undo(FwLivePage *self)
{
    return self->live && live_day(self->live)->ticks > 0;
}

void
fw_live_page_undo(FwLivePage *self)
{
    GError *error = NULL;
    if (!self->live)
        return;
    if (live_day(self->live)->finished &&
        live_log_find(desk_book(self->desk), live_sheet(self->live)->id) >= 0)
        show_trouble(self, _("The day is in the book's log. Take that back first: go back to the "
                             "plan and undo there."));
    else
        take_note(self, live_undo(self->live, &error), error);
}

static void
on_tick_clicked_cb(FwLivePage *self)
{
    fw_live_page_tick(self);
}

static void
on_undo_clicked_cb(FwLivePage *self)
{
    fw_live_page_undo(self);
}

static void
on_corrected_cb(FwLivePage *self)
{
    take_note(self, TRUE, NULL);
}

static void
on_furnace_ticked_cb(GtkButton *button, FwLivePage *self)
{
    GError *error = NULL;
    const char *next = NULL;
    for (guint i = 0; i < self->furnace_rows->len; i++) {
        const LiveFurnace *furnace = &g_array_index(self->furnace_rows, LiveFurnace, i);
        next = furnace->tick == button ? furnace->next : next;
    }
    if (!self->live || !next)
        return;
    g_autofree char *key = g_strdup(next);
    take_note(self, live_done(self->live, key, NAN, &error), error);
}

// TRUE when there was nothing in the entry, or what there was is kept.
static gboolean
note_entry(FwLivePage *self, GtkEntry *entry, gboolean mass)
{
    GError *error = NULL;
    const char *text = gtk_editable_get_text(GTK_EDITABLE(entry));
    UnitSet units = book_units(desk_book(self->desk));
    if (!self->live || !self->noted || !*text || !gtk_widget_get_visible(GTK_WIDGET(entry)))
        return TRUE;
    g_autofree char *key = g_strdup(self->noted);
    gboolean good = mass ? live_note_mass(self->live, key, text, &units, &error)
                         : live_note_temperature(self->live, key, text, &units, &error);
    if (good)
        gtk_widget_remove_css_class(GTK_WIDGET(entry), "error");
    else
        gtk_widget_add_css_class(GTK_WIDGET(entry), "error");
    if (good)
        gtk_editable_set_text(GTK_EDITABLE(entry), "");
    return take_note(self, good, error);
}

// Back to the large button, so that the next key ticks.
static void
on_note_clicked_cb(FwLivePage *self)
{
    if (note_entry(self, self->temperature, FALSE) && note_entry(self, self->mass, TRUE))
        fw_live_page_focus(self);
}

static void
on_temperature_entered_cb(FwLivePage *self)
{
    if (note_entry(self, self->temperature, FALSE))
        gtk_widget_grab_focus(GTK_WIDGET(self->mass));
}

static void
on_mass_entered_cb(FwLivePage *self)
{
    on_note_clicked_cb(self);
}

static void
on_words_entered_cb(FwLivePage *self)
{
    GError *error = NULL;
    if (self->live &&
        take_note(self,
                  live_note(self->live, gtk_editable_get_text(GTK_EDITABLE(self->words)), &error),
                  error)) {
        gtk_editable_set_text(GTK_EDITABLE(self->words), "");
        fw_live_page_focus(self);
    }
}

static void
on_hands_chosen_cb(FwLivePage *self)
{
    if (self->live)
        fw_live_page_show(self);
}

void
fw_live_page_focus(FwLivePage *self)
{
    gtk_widget_grab_focus(GTK_WIDGET(self->tick));
}

// A book that had no unsaved change is saved at once, so that the day is safe in it; else the
// journal stays until the person saves.
gboolean
fw_live_page_finish(FwLivePage *self)
{
    GError *error = NULL;
    if (!self->live)
        return FALSE;
    gboolean clean = desk_path(self->desk) && !desk_is_dirty(self->desk);
    gboolean good = live_day(self->live)->finished || live_finish(self->live, &error);
    g_autoptr(Edit) edit = good ? live_log_edit(desk_book(self->desk), live_day(self->live)) : NULL;
    g_free(self->told);
    self->told = edit ? live_log_told(desk_book(self->desk), live_day(self->live)) : NULL;
    if (good && edit)
        good = desk_edit(self->desk, edit, &error);
    if (good && clean)
        good = desk_save(self->desk, &error);
    if (!take_note(self, good, error))
        return FALSE;
    fw_live_page_settle(self);
    g_signal_emit(self, finished_signal, 0);
    return TRUE;
}

const char *
fw_live_page_told(FwLivePage *self)
{
    g_return_val_if_fail(FW_IS_LIVE_PAGE(self), NULL);
    return self->told;
}

static void
on_finish_clicked_cb(FwLivePage *self)
{
    fw_live_page_finish(self);
}

void
fw_live_page_settle(FwLivePage *self)
{
    if (!self->live || !live_day(self->live)->finished || !desk_path(self->desk) ||
        desk_is_dirty(self->desk) ||
        live_log_find(desk_book(self->desk), live_sheet(self->live)->id) < 0)
        return;
    g_autoptr(GError) error = NULL;
    if (live_journal_put_aside(live_journal(self->live), live_sheet(self->live)->id, &error))
        fw_live_page_leave(self);
    else
        show_trouble(self, error->message);
}

static gboolean
on_second_cb(gpointer data)
{
    fw_live_page_show(data);
    return G_SOURCE_CONTINUE;
}

// The clock runs only while somebody can see it.
static void
run_clock(FwLivePage *self)
{
    gboolean run = self->live && gtk_widget_get_mapped(GTK_WIDGET(self));
    if (run && !self->timer)
        self->timer = g_timeout_add_seconds(1, on_second_cb, self);
    if (!run)
        g_clear_handle_id(&self->timer, g_source_remove);
}

void
fw_live_page_leave(FwLivePage *self)
{
    fw_live_past_set(self->past, NULL);
    g_clear_pointer(&self->live, live_free);
    g_clear_pointer(&self->settled, session_result_unref);
    g_clear_pointer(&self->rest, session_result_unref);
    g_clear_pointer(&self->next, g_free);
    g_clear_pointer(&self->noted, g_free);
    self->planning++;
    run_clock(self);
    g_signal_emit(self, changed_signal, 0);
}

static void
clear_furnace(gpointer data)
{
    g_free(((LiveFurnace *)data)->next);
}

static void
list_furnaces(FwLivePage *self)
{
    int furnaces = MAX(1, live_sheet(self->live)->session->furnaces);
    for (guint i = 0; i < self->furnace_rows->len; i++)
        gtk_box_remove(self->furnaces, g_array_index(self->furnace_rows, LiveFurnace, i).row);
    g_array_set_size(self->furnace_rows, 0);
    gtk_label_set_yalign(self->prompt, furnaces > 1 ? 0.0f : 0.5f); // beside the first
    for (int i = 0; i < furnaces; i++) {
        LiveFurnace furnace = {.row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12),
                               .words = GTK_LABEL(gtk_label_new(NULL)),
                               .tick = GTK_BUTTON(gtk_button_new())};
        gtk_label_set_ellipsize(furnace.words, PANGO_ELLIPSIZE_END);
        gtk_widget_add_css_class(GTK_WIDGET(furnace.words), "numeric");
        g_signal_connect(furnace.tick, "clicked", G_CALLBACK(on_furnace_ticked_cb), self);
        gtk_box_append(GTK_BOX(furnace.row), GTK_WIDGET(furnace.words));
        gtk_box_append(GTK_BOX(furnace.row), GTK_WIDGET(furnace.tick));
        gtk_box_append(self->furnaces, furnace.row);
        g_array_append_val(self->furnace_rows, furnace);
    }
}

static void
list_hands(FwLivePage *self)
{
    int people = live_sheet(self->live)->session->people;
    g_autoptr(GtkStringList) names = gtk_string_list_new(NULL);
    gtk_string_list_append(names, _("All hands"));
    for (int i = 0; i < people; i++) {
        g_autofree char *name = g_strdup_printf(_("Hands %d"), i + 1);
        gtk_string_list_append(names, name);
    }
    gtk_drop_down_set_model(self->hands, G_LIST_MODEL(names));
    gtk_widget_set_visible(GTK_WIDGET(self->hands), people > 1);
}

static Live *
start_day(FwLivePage *self, const PlanDay *day, GError **error)
{
    const Plan *plan = desk_plan(self->desk);
    if (day)
        return live_start_day(day, desk_path(self->desk), error);
    if (!plan || desk_is_busy(self->desk)) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, _("the plan is still being worked out"),
                       _("wait until it is there, and start the day then"));
        return NULL;
    }
    return live_start(plan, desk_path(self->desk), error);
}

// Books that were never saved share one place for their day.
static gboolean
check_book(FwLivePage *self, const Live *live, GError **error)
{
    const LiveSheet *sheet = live_sheet(live);
    for (guint i = 0; i < sheet->n_jobs; i++)
        if (!book_has_job(desk_book(self->desk), sheet->jobs[i].id))
            return base_error_setf(error, BASE_ERROR_VALUE, NULL, _("day"),
                                   _("save this book under a name of its own, then start the day"),
                                   _("a day is going on that is not of this book: it pours \"%s\""),
                                   sheet->jobs[i].name);
    return TRUE;
}

// What could not be read of the journal is said, not passed over.
static void
show_faults(FwLivePage *self)
{
    g_autoptr(GString) faults = g_string_new(NULL);
    const LiveLines *lines = live_journal_lines(live_journal(self->live));
    for (guint i = 0; i < lines->faults->len; i++)
        g_string_append_printf(faults, _("Journal: %s. "), (char *)lines->faults->pdata[i]);
    for (guint i = 0; i < live_day(self->live)->strange->len; i++)
        g_string_append_printf(faults, _("Journal: %s. "),
                               (char *)live_day(self->live)->strange->pdata[i]);
    show_trouble(self, faults->len > 0 ? faults->str : NULL);
}

gboolean
fw_live_page_open(FwLivePage *self, const PlanDay *day, GError **error)
{
    if (self->live)
        return TRUE;
    const char *path = desk_path(self->desk);
    g_autoptr(Live) live = live_journal_exists(path) ? live_resume(path, error)
                                                     : start_day(self, day, error);
    if (!live || !check_book(self, live, error))
        return FALSE;
    self->live = g_steal_pointer(&live);
    self->phase = LIVE_WAIT;
    self->beeped = live_elapsed(self->live);
    list_hands(self);
    list_furnaces(self);
    show_faults(self);
    fw_live_page_replan(self);
    fw_live_page_show(self);
    run_clock(self);
    g_signal_emit(self, changed_signal, 0);
    return TRUE;
}

void
fw_live_page_follow(FwLivePage *self, const char *book_path)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = live_journal_path(book_path);
    if (self->live && !live_journal_move(live_journal(self->live), path, &error))
        show_trouble(self, error->message);
}

static gboolean
on_fit_idle_cb(gpointer data)
{
    fw_live_page_fit(data);
    g_object_unref(data);
    return G_SOURCE_REMOVE;
}

static void
fw_live_page_map(GtkWidget *widget)
{
    GTK_WIDGET_CLASS(fw_live_page_parent_class)->map(widget);
    g_idle_add(on_fit_idle_cb, g_object_ref(widget));
    run_clock(FW_LIVE_PAGE(widget));
    if (FW_LIVE_PAGE(widget)->live)
        fw_live_page_show(FW_LIVE_PAGE(widget));
}

static void
fw_live_page_unmap(GtkWidget *widget)
{
    GTK_WIDGET_CLASS(fw_live_page_parent_class)->unmap(widget);
    g_clear_handle_id(&FW_LIVE_PAGE(widget)->timer, g_source_remove);
}

// Type may not change while sizes are being given out.
static void
on_surface_laid_out_cb(FwLivePage *self)
{
    g_idle_add(on_fit_idle_cb, g_object_ref(self));
}

static void
fw_live_page_realize(GtkWidget *widget)
{
    GTK_WIDGET_CLASS(fw_live_page_parent_class)->realize(widget);
    g_signal_connect_object(gtk_native_get_surface(gtk_widget_get_native(widget)), "layout",
                            G_CALLBACK(on_surface_laid_out_cb), widget, G_CONNECT_SWAPPED);
}

static void
fw_live_page_dispose(GObject *object)
{
    FwLivePage *self = FW_LIVE_PAGE(object);
    g_clear_handle_id(&self->timer, g_source_remove);
    if (self->past)
        fw_live_past_set(self->past, NULL);
    g_clear_pointer(&self->live, live_free);
    g_clear_pointer(&self->settled, session_result_unref);
    g_clear_pointer(&self->rest, session_result_unref);
    g_clear_pointer(&self->next, g_free);
    g_clear_pointer(&self->noted, g_free);
    g_clear_pointer(&self->told, g_free);
    g_clear_pointer(&self->furnace_rows, g_array_unref);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_live_page_parent_class)->dispose(object);
}

static void
bind_children(GtkWidgetClass *widget)
{
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/live-page.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwLivePage, name)
    BIND(started);
    BIND(trouble);
    BIND(who);
    BIND(action);
    BIND(countdown);
    BIND(caution);
    BIND(tick);
    BIND(tick_words);
    BIND(undo);
    BIND(past);
    BIND(noting);
    BIND(note_words);
    BIND(temperature_label);
    BIND(temperature);
    BIND(mass_label);
    BIND(mass);
    BIND(furnaces);
    BIND(prompt);
    BIND(upcoming);
    BIND(warnings);
    BIND(words);
    BIND(finish);
    BIND(hands);
    BIND(sound);
#undef BIND
}

static void
fw_live_page_class_init(FwLivePageClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    g_type_ensure(FW_TYPE_LIVE_PAST);
    G_OBJECT_CLASS(klass)->dispose = fw_live_page_dispose;
    widget->map = fw_live_page_map;
    widget->unmap = fw_live_page_unmap;
    widget->realize = fw_live_page_realize;
    changed_signal = g_signal_new("changed", G_TYPE_FROM_CLASS(klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
    finished_signal = g_signal_new("finished", G_TYPE_FROM_CLASS(klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
    bind_children(widget);
    gtk_widget_class_bind_template_callback(widget, on_tick_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_undo_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_corrected_cb);
    gtk_widget_class_bind_template_callback(widget, on_note_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_temperature_entered_cb);
    gtk_widget_class_bind_template_callback(widget, on_mass_entered_cb);
    gtk_widget_class_bind_template_callback(widget, on_words_entered_cb);
    gtk_widget_class_bind_template_callback(widget, on_hands_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_finish_clicked_cb);
}

static void
fw_live_page_init(FwLivePage *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
    self->furnace_rows = g_array_new(FALSE, FALSE, sizeof(LiveFurnace));
    g_array_set_clear_func(self->furnace_rows, clear_furnace);
    for (int row = 0; row < LIVE_UPCOMING; row++)
        for (int column = 0; column < 3; column++) {
            GtkWidget *label = gtk_label_new(NULL);
            gtk_label_set_xalign(GTK_LABEL(label), 0);
            gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
            gtk_widget_set_hexpand(label, column == 1);
            gtk_widget_add_css_class(label, "live-row");
            gtk_widget_add_css_class(label, "numeric");
            gtk_grid_attach(self->upcoming, label, column, row, 1, 1);
            gtk_label_set_width_chars(GTK_LABEL(label), column == 0 ? 6 : -1);
            self->rows[row][column] = GTK_LABEL(label);
        }
}

void
fw_live_page_set_desk(FwLivePage *self, Desk *desk)
{
    g_set_object(&self->desk, desk);
}
