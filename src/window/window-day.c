// SPDX-License-Identifier: GPL-3.0-or-later
// The commands of the day: start it or go on with it, look at the results, back to the plan; and
// offering to go on with a day when its book is opened.
#include <glib/gi18n.h>

#include "live/clock.h"
#include "live/journal.h"
#include "window/window-private.h"

static gboolean
shows(FwWindow *self, const char *page)
{
    return g_strcmp0(gtk_stack_get_visible_child_name(self->pages), page) == 0;
}

gboolean
fw_window_shows_day(FwWindow *self)
{
    return shows(self, "day");
}

static void
show_page(FwWindow *self, const char *page)
{
    g_free(self->own_page);
    self->own_page = g_strdup(page);
    fw_window_update_page(self);
    fw_window_update_commands(self);
}

// A day of `day`, else of the job in hand; or the one that is going on.
static gboolean
open_day(FwWindow *self, const PlanDay *day)
{
    g_autoptr(GError) error = NULL;
    if (!fw_live_page_open(self->live, day, &error)) {
        fw_notice_show(self->notice, error->message, NULL, NULL);
        return FALSE;
    }
    fw_notice_hide(self->notice);
    show_page(self, "day");
    fw_live_page_focus(self->live);
    return TRUE;
}

static gboolean
is_going_on(FwWindow *self)
{
    return desk_book(self->desk) &&
           (fw_live_page_live(self->live) || live_journal_exists(desk_path(self->desk)));
}

static gboolean
has_choice(FwWindow *self)
{
    return batch_open_jobs(desk_book(self->desk), desk_tables(self->desk)) > 1;
}

static void
on_start_day_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    if (is_going_on(self) || !has_choice(self)) {
        open_day(self, NULL);
        return;
    }
    show_page(self, "start");
    fw_live_start_ask(self->start);
}

static void
on_one_wanted_cb(FwWindow *self)
{
    open_day(self, NULL);
}

static void
on_all_wanted_cb(FwWindow *self, gconstpointer day)
{
    const BatchPlan *batch = fw_calendar_view_batch(self->calendar, FALSE);
    if (!open_day(self, day) || !batch || batch->n_sessions == 0 ||
        batch->sessions[0].day == batch->first)
        return;
    g_autofree char *date = days_write_date(batch->sessions[0].day);
    g_autofree char *words = g_strdup_printf(_("Nothing is planned for today: this is the session "
                                               "of %s."),
                                             date);
    fw_notice_show(self->notice, words, NULL, NULL);
}

static void
on_results_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    show_page(data, "results");
}

static void
on_back_to_plan_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    show_page(data, NULL);
}

// Why no day can be started; NULL: one can.
static const char *
find_obstacle(FwWindow *self)
{
    const Plan *plan = desk_plan(self->desk);
    const SessionResult *session = plan ? plan_session(plan) : NULL;
    if (!desk_book(self->desk))
        return _("There is no book whose day could be started");
    if (is_going_on(self))
        return NULL;
    if (desk_is_busy(self->desk))
        return _("The plan is still being worked out; the day can be started when it is there");
    if ((!session || session->n_tasks == 0) && !has_choice(self))
        return _("The plan has no session to work by: look at the step Session for what is "
                 "missing");
    return NULL;
}

// The way to the day says whether there is one, and what is in it.
void
fw_window_update_day_command(FwWindow *self)
{
    gboolean there = is_going_on(self);
    const char *obstacle = find_obstacle(self);
    fw_window_enable(self, "start-day", obstacle == NULL);
    gtk_button_set_label(self->day, there ? _("Today") : _("Start the day"));
    gtk_widget_set_tooltip_text(GTK_WIDGET(self->day),
                                obstacle ? obstacle
                                : there  ? _("Go on with the day (Ctrl+T)")
                                         : _("Work through the session, tick by tick (Ctrl+T)"));
}

static void
on_day_changed_cb(FwWindow *self)
{
    if (!fw_live_page_live(self->live) && shows(self, "day"))
        show_page(self, NULL);
    fw_window_update_commands(self);
}

static void
on_day_finished_cb(FwWindow *self)
{
    fw_window_say(self, desk_is_dirty(self->desk) ? _("The day is in the log; save the book")
                                                  : _("The day is in the log and saved"));
    if (fw_live_page_told(self->live))
        fw_notice_show(self->notice, fw_live_page_told(self->live), NULL, NULL);
    fw_result_page_show_last(self->results);
    show_page(self, "results");
}

// What a journal found says of itself.
void
fw_window_offer_day(FwWindow *self)
{
    const char *path = desk_path(self->desk);
    g_autoptr(GError) error = NULL;
    if (fw_live_page_live(self->live) || !live_journal_exists(path))
        return;
    g_autoptr(Live) live = live_look(path, &error);
    if (!live) {
        fw_notice_show(self->notice, error->message, NULL, NULL);
        return;
    }
    g_autofree char *date = live_clock_date(live_sheet(live)->start);
    g_autofree char *time = live_clock_time(live_sheet(live)->start);
    guint ticks = live_day(live)->ticks;
    g_autofree char *words = g_strdup_printf(
        ngettext("A day of this book is going on, started %s at %s. Its tick is kept.",
                 "A day of this book is going on, started %s at %s. All its %u ticks are kept.",
                 ticks),
        date, time, ticks);
    fw_notice_show(self->notice, words, _("Go on with the day"), "win.start-day");
}

// A day belongs to its book: another book in the window leaves it, a book saved elsewhere takes it
// along.
void
fw_window_update_day(FwWindow *self)
{
    const Live *live = fw_live_page_live(self->live);
    g_autofree char *path = live_journal_path(desk_path(self->desk));
    if (live && !self->saving &&
        g_strcmp0(live_journal_file(live_journal((Live *)live)), path) != 0)
        fw_live_page_leave(self->live);
    fw_live_page_settle(self->live);
}

void
fw_window_add_day(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "start-day", .activate = on_start_day_cb},
        {.name = "results", .activate = on_results_cb},
        {.name = "back-to-plan", .activate = on_back_to_plan_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
}

void
fw_window_start_days(FwWindow *self)
{
    fw_live_page_set_desk(self->live, self->desk);
    fw_result_page_set_desk(self->results, self->desk);
    fw_live_start_set_desk(self->start, self->desk, self->calendar);
    g_signal_connect_object(self->start, "one", G_CALLBACK(on_one_wanted_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(self->start, "all", G_CALLBACK(on_all_wanted_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(self->live, "changed", G_CALLBACK(on_day_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(self->live, "finished", G_CALLBACK(on_day_finished_cb), self,
                            G_CONNECT_SWAPPED);
}
