// SPDX-License-Identifier: GPL-3.0-or-later
// What the page of the day shows, once a second at most, and only where it differs; and planning
// the rest again without holding up the window.
#include <glib/gi18n.h>
#include <math.h>

#include "live/clock.h"
#include "live/shift.h"
#include "live/task.h"
#include "window/live-page-private.h"

// While something is late the rest is planned again this often, s.
#define REPLAN_EVERY 30.0

// Large type: this share of the page's width and height, within limits in px.
#define SHARE_OF_WIDTH 14
#define SHARE_OF_HEIGHT 9
#define LEAST_SIZE 40
#define MOST_SIZE 220

// Planning runs on the lines as they stood, not on the page, which may be gone by then.
typedef struct {
    LiveSheet *sheet;
    LiveLines *lines;
    double settled_at, now;
    guint number;
    SessionResult *settled, *rest;
} Planning;

static void
free_planning(gpointer data)
{
    Planning *planning = data;
    live_sheet_free(planning->sheet);
    live_lines_free(planning->lines);
    session_result_unref(planning->settled);
    session_result_unref(planning->rest);
    g_free(planning);
}

static void
plan_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Planning *planning = data;
    g_autoptr(LiveDay) day = live_day_make(planning->sheet, planning->lines);
    planning->settled = live_replan(day, planning->settled_at, NULL, NULL);
    planning->rest = live_replan(day, planning->now, NULL, NULL);
    g_task_return_boolean(task, TRUE);
}

static void
on_planned_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwLivePage *self = FW_LIVE_PAGE(source);
    Planning *planning = g_task_get_task_data(G_TASK(result));
    if (planning->number != self->planning || !self->live || !planning->settled || !planning->rest)
        return;
    g_clear_pointer(&self->settled, session_result_unref);
    g_clear_pointer(&self->rest, session_result_unref);
    self->settled = g_steal_pointer(&planning->settled);
    self->rest = g_steal_pointer(&planning->rest);
    self->planned = planning->number;
    fw_live_page_show(self);
}

void
fw_live_page_replan(FwLivePage *self)
{
    const LiveLines *lines = live_journal_lines(live_journal(self->live));
    Planning *planning = g_new0(Planning, 1);
    planning->lines = g_new0(LiveLines, 1);
    planning->lines->nodes = g_ptr_array_new_with_free_func((GDestroyNotify)node_unref);
    planning->lines->faults = g_ptr_array_new();
    for (guint i = 0; i < lines->nodes->len; i++)
        g_ptr_array_add(planning->lines->nodes, node_ref(lines->nodes->pdata[i]));
    planning->sheet = live_sheet_read(lines->nodes->pdata[0], NULL, NULL);
    planning->now = live_elapsed(self->live);
    planning->settled_at = MIN(live_day(self->live)->noted, planning->now);
    planning->number = ++self->planning;
    self->planned_at = planning->now;
    g_autoptr(GTask) task = g_task_new(self, NULL, on_planned_cb, NULL);
    g_task_set_task_data(task, planning, free_planning);
    g_task_run_in_thread(task, plan_in_thread);
}

static void
set_text(GtkLabel *label, const char *text)
{
    if (g_strcmp0(gtk_label_get_text(label), text) != 0)
        gtk_label_set_text(label, text);
}

static void
set_hint(GtkEntry *entry, const char *text)
{
    if (g_strcmp0(gtk_entry_get_placeholder_text(entry), text) != 0)
        gtk_entry_set_placeholder_text(entry, text);
}

static void
set_class(gpointer widget, const char *name, gboolean on)
{
    if (on)
        gtk_widget_add_css_class(GTK_WIDGET(widget), name);
    else
        gtk_widget_remove_css_class(GTK_WIDGET(widget), name);
}

static void
set_large(GtkLabel *label, int size)
{
    g_autoptr(PangoAttrList) list = pango_attr_list_new();
    pango_attr_list_insert(list, pango_attr_size_new_absolute(size * PANGO_SCALE));
    gtk_label_set_attributes(label, list);
}

void
fw_live_page_fit(FwLivePage *self)
{
    int size = MIN(gtk_widget_get_width(GTK_WIDGET(self)) / SHARE_OF_WIDTH,
                   gtk_widget_get_height(GTK_WIDGET(self)) / SHARE_OF_HEIGHT);
    size = CLAMP(size, LEAST_SIZE, MOST_SIZE);
    if (size == self->size || !gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    self->size = size;
    set_large(self->action, size);
    set_large(self->countdown, size);
    set_large(self->who, MAX(size / 3, 16));
    set_large(self->tick_words, MAX(size / 2, 20));
}

static void
beep(FwLivePage *self)
{
    if (gtk_check_button_get_active(self->sound))
        gdk_display_beep(gtk_widget_get_display(GTK_WIDGET(self)));
}

static void
show_started(FwLivePage *self)
{
    const LiveSheet *sheet = live_sheet(self->live);
    g_autofree char *start = live_clock_time(sheet->start);
    g_autofree char *now = live_clock_time(live_clock_now());
    g_autofree char *end = live_clock_time(sheet->start + self->rest->length);
    UnitSet units = book_units(desk_book(self->desk));
    double behind = 60 * round((self->rest->length - sheet->session->length) / 60);
    g_autofree char *span = quantity_format(QUANTITY_TIME, fabs(behind), &units);
    g_autofree char *late = behind > 0   ? g_strdup_printf(_("%s later than planned"), span)
                            : behind < 0 ? g_strdup_printf(_("%s earlier than planned"), span)
                                         : g_strdup(_("as planned"));
    g_autofree char *words = g_strdup_printf(_("%s  –  started %s, ends about %s, %s"), now, start,
                                             end, late);
    set_text(self->started, words);
}

static const LiveAction *
find_next(FwLivePage *self, GArray *actions)
{
    guint chosen = gtk_drop_down_get_selected(self->hands);
    for (guint i = 0; i < actions->len; i++) {
        const LiveAction *action = &g_array_index(actions, LiveAction, i);
        if (chosen == 0 || chosen == GTK_INVALID_LIST_POSITION ||
            action->task->who == (int)chosen - 1)
            return action;
    }
    return NULL;
}

static void
take_key(char **to, const LiveAction *action)
{
    g_free(*to);
    *to = g_strdup(action ? action->task->task->key : NULL);
}

static void
show_nothing_next(FwLivePage *self)
{
    gboolean finished = live_day(self->live)->finished;
    set_text(self->who, "");
    set_text(self->action, finished ? _("The day is finished") : _("All is done"));
    set_text(self->countdown, "");
    set_text(self->caution, finished ? _("It is in the book's log. Save the book to keep it there.")
                                     : _("Finish the day to put it into the log."));
    set_text(self->tick_words, _("Nothing to tick"));
    set_class(self->countdown, "late", FALSE);
    gtk_widget_set_sensitive(GTK_WIDGET(self->tick), FALSE);
}

static void
show_next(FwLivePage *self, const LiveAction *next, double now)
{
    take_key(&self->next, next);
    if (!next) {
        show_nothing_next(self);
        return;
    }
    const LiveTask *task = next->task;
    const char *caution = live_task_caution(task->task->kind);
    LivePhase phase = live_action_phase(next, now);
    g_autofree char *countdown = live_action_countdown(next, now);
    g_autofree char *who = live_sheet(self->live)->session->people > 1
                               ? g_strdup_printf(_("Next, hands %d"), task->who + 1)
                               : g_strdup(_("Next"));
    g_autofree char *tick = g_strdup_printf(next->begins ? _("Begin: %s") : _("Done: %s"),
                                            task->task->label);
    set_text(self->who, task->state == LIVE_RUNNING ? _("Under way") : who);
    set_text(self->action, task->task->label);
    set_text(self->countdown, countdown);
    g_autofree char *whole = caution ? g_strdup_printf(_("%s Local codes come first."), caution)
                                     : g_strdup("");
    set_text(self->caution, whole);
    set_text(self->tick_words, tick);
    set_class(self->countdown, "late", phase == LIVE_LATE);
    gtk_widget_set_sensitive(GTK_WIDGET(self->tick), TRUE);
    if (phase != self->phase && phase != LIVE_WAIT)
        beep(self);
    // What has just fallen behind pushes the rest on.
    if ((phase == LIVE_LATE || phase != self->phase) &&
        (phase != self->phase || now - self->planned_at > REPLAN_EVERY))
        fw_live_page_replan(self);
    self->phase = phase;
    self->next_begins = next->begins;
}

// What is next in a furnace; NULL: nothing more.
static const LiveAction *
find_in_furnace(GArray *actions, int furnace)
{
    for (guint i = 0; i < actions->len; i++) {
        const LiveAction *action = &g_array_index(actions, LiveAction, i);
        if (MAX(0, action->task->task->furnace) == furnace)
            return action;
    }
    return NULL;
}

static void
show_furnace(FwLivePage *self, int number, const LiveAction *next, double now)
{
    LiveFurnace *furnace = &g_array_index(self->furnace_rows, LiveFurnace, (guint)number);
    gboolean running = next && next->task->state == LIVE_RUNNING;
    const char *own = session_furnace_name(live_sheet(self->live)->session, number);
    g_autofree char *name = own ? g_strdup(own)
                            : self->furnace_rows->len > 1
                                ? g_strdup_printf(_("Furnace %d"), number + 1)
                                : g_strdup(_("Furnace"));
    g_autofree char *countdown = next ? live_action_countdown(next, now) : NULL;
    g_autofree char *words = next ? g_strdup_printf(_("%s: %s, %s"), name, next->task->task->label,
                                                    countdown)
                                  : g_strdup_printf(_("%s: nothing more today"), name);
    take_key(&furnace->next, running ? next : NULL);
    set_text(furnace->words, words);
    set_class(furnace->words, "late", running && live_action_phase(next, now) == LIVE_LATE);
    gtk_widget_set_visible(GTK_WIDGET(furnace->tick), running);
    gtk_button_set_label(furnace->tick,
                         running && next->task->task->kind == TASK_MELT ? _("Molten") : _("Ready"));
}

// Where there are several furnaces a prompt names its own.
static void
show_prompt(FwLivePage *self, double now)
{
    double at = 0;
    g_autofree char *prompt = live_next_prompt(self->rest, now, &at);
    g_autofree char *time = live_clock_time(live_sheet(self->live)->start + at);
    g_autofree char *span = live_clock_span(ceil(at - now));
    g_autofree char *line = !prompt     ? g_strdup("")
                            : at <= now ? g_strdup_printf(_("Now: %s"), prompt)
                                        : g_strdup_printf(_("%s (in %s): %s"), time, span, prompt);
    set_text(self->prompt, line);
    set_class(self->prompt, "due", prompt && at <= now);
    if (prompt && at <= now && at > self->beeped) {
        self->beeped = at;
        beep(self);
    }
}

static void
show_upcoming(FwLivePage *self, GArray *actions)
{
    guint row = 0;
    for (guint i = 0; i < actions->len && row < LIVE_UPCOMING; i++) {
        const LiveAction *action = &g_array_index(actions, LiveAction, i);
        if (g_strcmp0(action->task->task->key, self->next) == 0)
            continue;
        gboolean many = live_sheet(self->live)->session->people > 1;
        long behind = lround(action->behind / 60);
        g_autofree char *time = live_clock_time(live_sheet(self->live)->start + action->from);
        g_autofree char *what = many ? g_strdup_printf(_("%s, hands %d"), action->task->task->label,
                                                       action->task->who + 1)
                                     : g_strdup(action->task->task->label);
        g_autofree char *late = behind > 0   ? g_strdup_printf(_("%ld min late"), behind)
                                : behind < 0 ? g_strdup_printf(_("%ld min early"), -behind)
                                             : g_strdup(_("on time"));
        set_text(self->rows[row][0], time);
        set_text(self->rows[row][1], what);
        set_text(self->rows[row][2], late);
        row++;
    }
    for (; row < LIVE_UPCOMING; row++)
        for (int column = 0; column < 3; column++)
            set_text(self->rows[row][column], "");
}

static void
show_noting(FwLivePage *self)
{
    const LiveTask *task = live_last_weighed(live_day(self->live));
    UnitSet units = book_units(desk_book(self->desk));
    gtk_widget_set_visible(self->noting, task != NULL && !live_day(self->live)->finished);
    if (!task)
        return;
    gboolean pour = task->task->kind == TASK_POUR;
    const LiveJob *job = live_sheet_job(live_sheet(self->live), task->task);
    double planned = pour && job
                         ? job->mould_mass
                         : live_sheet_load(live_sheet(self->live), task->task->load).charge_mass;
    g_autofree char *time = live_clock_time(live_sheet(self->live)->start + task->end);
    g_autofree char *mass = quantity_format(QUANTITY_MASS, planned, &units);
    g_autofree char *heat = quantity_format(QUANTITY_TEMPERATURE,
                                            job ? job->pouring_temperature : NAN, &units);
    g_autoptr(GString) words = g_string_new(NULL);
    g_string_append_printf(words, _("%s, done %s"), task->task->label, time);
    if (task->temperature_text)
        g_string_append_printf(words, ", %s", task->temperature_text);
    if (task->mass_text)
        g_string_append_printf(words, ", %s", task->mass_text);
    set_text(self->note_words, words->str);
    gtk_widget_set_visible(GTK_WIDGET(self->temperature), pour);
    gtk_widget_set_visible(GTK_WIDGET(self->temperature_label), pour);
    set_hint(self->temperature, job && isfinite(job->pouring_temperature) ? heat : NULL);
    set_hint(self->mass, isfinite(planned) ? mass : NULL);
    g_free(self->noted);
    self->noted = g_strdup(task->task->key);
}

static void
show_warnings(FwLivePage *self, double now)
{
    UnitSet units = book_units(desk_book(self->desk));
    g_autoptr(GPtrArray) warnings = live_warnings(live_day(self->live), self->rest, now, &units);
    gboolean any = warnings->len > 0;
    g_ptr_array_add(warnings, NULL);
    g_autofree char *words = g_strjoinv("\n", (char **)warnings->pdata);
    set_text(self->warnings, words);
    gtk_widget_set_visible(GTK_WIDGET(self->warnings), any);
}

void
fw_live_page_show(FwLivePage *self)
{
    if (!self->live || !desk_book(self->desk))
        return;
    const LiveDay *day = live_day(self->live);
    double now = live_elapsed(self->live);
    if (!self->rest) { // nothing was planned again yet
        self->settled = session_result_ref(live_sheet(self->live)->session);
        self->rest = session_result_ref(self->settled);
    }
    g_autoptr(GArray) hands = live_actions(day, self->settled, self->rest, FALSE);
    g_autoptr(GArray) furnaces = live_actions(day, self->settled, self->rest, TRUE);
    show_next(self, find_next(self, hands), now);
    show_started(self);
    for (guint i = 0; i < self->furnace_rows->len; i++)
        show_furnace(self, (int)i, find_in_furnace(furnaces, (int)i), now);
    show_prompt(self, now);
    show_upcoming(self, hands);
    show_noting(self);
    show_warnings(self, now);
    fw_live_past_set(self->past, self->live);
    gtk_widget_set_sensitive(GTK_WIDGET(self->undo), fw_live_page_can_undo(self));
    g_autofree char *tip = day->last ? g_strdup_printf(_("Take back: %s"), day->last) : NULL;
    if (g_strcmp0(tip, gtk_widget_get_tooltip_text(GTK_WIDGET(self->undo))) != 0)
        gtk_widget_set_tooltip_text(GTK_WIDGET(self->undo), tip);
}
