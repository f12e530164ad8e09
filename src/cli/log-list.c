// SPDX-License-Identifier: GPL-3.0-or-later
// The log in words and as JSON: sessions with their castings, and the tasks of a day with keys.
#include "cli/log-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>

#include "book/log-members.h"
#include "book/store.h"
#include "live/clock.h"
#include "live/log.h"
#include "live/next.h"
#include "live/node-kit.h"
#include "live/shift.h"
#include "live/task.h"

// `several`: the session poured more than one job.
static void
print_casting(const Book *book, const LiveCasting *casting, gboolean several)
{
    const LogCause *cause = log_cause_find(casting->cause);
    const char *state = !casting->judged ? _("not judged") : casting->good ? _("good") : _("scrap");
    const char *job = several && casting->job ? book_job_name(book, casting->job) : NULL;
    g_print(_("    flask %u, casting %u"), casting->flask + 1, casting->casting + 1);
    if (several && casting->job)
        g_print(", %s", job ? job : casting->job);
    g_print(": %s", state);
    if (cause)
        g_print(", %s", _(cause->label));
    if (casting->why && *casting->why)
        g_print(" (%s)", casting->why);
    if (casting->mass && *casting->mass)
        g_print(", %s", casting->mass);
    g_print("\n");
}

static void
print_session(const Book *book, guint index)
{
    const Node *session = node_at(node_get(book_root(book), "/log/sessions"), index);
    const char *date = live_get_text(session, "date"), *from = live_get_text(session, "started");
    const char *to = live_get_text(session, "ended");
    g_autoptr(GArray) castings = live_log_castings(book, index);
    guint judged = 0, good = 0;
    gboolean several = FALSE;
    for (guint i = 0; i < castings->len; i++) {
        const LiveCasting *casting = &g_array_index(castings, LiveCasting, i);
        judged += casting->judged;
        good += casting->good;
        several = several ||
                  g_strcmp0(casting->job, g_array_index(castings, LiveCasting, 0).job) != 0;
    }
    g_print(_("Session %u: %s, %s to %s; %u castings, %u judged, %u good\n"), index + 1,
            date ? date : _("no date"), from ? from : "?", to ? to : "?", castings->len, judged,
            good);
    for (guint i = 0; i < castings->len; i++)
        print_casting(book, &g_array_index(castings, LiveCasting, i), several);
}

static const char *
state_word(LiveState state)
{
    static const char *const states[] = {N_("to do"), N_("begun"), N_("done")};
    return _(states[state]);
}

static void
print_values(const LiveTask *task)
{
    if (task->temperature_text)
        g_print(", %s", task->temperature_text);
    if (task->mass_text)
        g_print(", %s", task->mass_text);
    g_print("\n");
}

void
cli_log_print_tick(const Book *book, const Live *live, const char *key)
{
    const LiveTask *task = live_day_find(live_day(live), key);
    g_return_if_fail(task != NULL);
    UnitSet units = book_units(book);
    g_autofree char *warning = live_heat_warning(live_sheet(live), task, &units);
    g_print("%s: %s", task->task->label, state_word(task->state));
    print_values(task);
    if (warning)
        g_print("%s\n", warning);
}

static void
print_task(const Live *live, const LiveTask *task)
{
    double start = live_sheet(live)->start;
    g_autofree char *planned = live_clock_time(start + task->task->start);
    g_autofree char *ended = live_clock_time(start + task->end);
    if (!live_task_is_ticked(task->task))
        return;
    g_print("  %-14s %s  %-36s %s", task->task->key, planned, task->task->label,
            state_word(task->state));
    if (task->state == LIVE_OVER)
        g_print(" %s", ended);
    print_values(task);
}

// What the first pair of hands does next, and what is wrong.
static void
print_next(const Book *book, const Live *live)
{
    const LiveDay *day = live_day(live);
    double now = live_elapsed(live);
    UnitSet units = book_units(book);
    g_autoptr(SessionResult) settled = live_replan(day, day->noted, NULL, NULL);
    g_autoptr(SessionResult) rest = live_replan(day, now, NULL, NULL);
    if (!settled || !rest)
        return;
    g_autoptr(GArray) actions = live_actions(day, settled, rest, FALSE);
    if (actions->len > 0) {
        const LiveAction *next = &g_array_index(actions, LiveAction, 0);
        g_autofree char *countdown = live_action_countdown(next, now);
        g_print(_("Next: %s (%s), %s\n"), next->task->task->label, next->task->task->key,
                countdown);
        const char *caution = live_task_caution(next->task->task->kind);
        if (caution)
            g_print("      %s\n", caution);
    }
    g_autoptr(GPtrArray) warnings = live_warnings(day, rest, now, &units);
    for (guint i = 0; i < warnings->len; i++)
        g_print("%s\n", (char *)warnings->pdata[i]);
}

static GPtrArray *
list_faults(const Live *live)
{
    GPtrArray *faults = g_ptr_array_new();
    const GPtrArray *lists[] = {live_journal_lines(live_journal((Live *)live))->faults,
                                live_day(live)->strange};
    for (guint l = 0; l < G_N_ELEMENTS(lists); l++)
        for (guint i = 0; i < lists[l]->len; i++)
            g_ptr_array_add(faults, lists[l]->pdata[i]);
    return faults;
}

void
cli_log_print(const Book *book, const Live *live)
{
    for (guint i = 0; i < live_log_sessions(book); i++)
        print_session(book, i);
    if (live_log_sessions(book) == 0)
        g_print("%s\n", _("No session is logged yet."));
    if (!live)
        return;
    g_autofree char *date = live_clock_date(live_sheet(live)->start);
    g_autofree char *time = live_clock_time(live_sheet(live)->start);
    g_print(_("A day is going on, started %s at %s. Planned times:\n"), date, time);
    for (guint i = 0; i < live_day(live)->n_tasks; i++)
        print_task(live, &live_day(live)->tasks[i]);
    print_next(book, live);
    g_autoptr(GPtrArray) faults = list_faults(live);
    for (guint i = 0; i < faults->len; i++)
        g_print(_("Journal: %s\n"), (char *)faults->pdata[i]);
}

static Node *
make_casting(const LiveCasting *casting)
{
    Node *node = node_new_object();
    live_put_number(&node, "flask", casting->flask + 1);
    live_put_number(&node, "casting", casting->casting + 1);
    live_put_text(&node, "job", casting->job);
    live_put(&node, "good", casting->judged ? node_new_bool(casting->good) : node_new_null());
    live_put_text(&node, "cause", casting->cause);
    live_put_text(&node, "why", casting->why);
    live_put_text(&node, "mass", casting->mass);
    return node;
}

static Node *
make_session(const Book *book, guint index)
{
    static const char *const members[] = {"date",     "started", "ended", "furnace",
                                          "crucible", "warmup",  "notes", "day"};
    const Node *session = node_at(node_get(book_root(book), "/log/sessions"), index);
    g_autoptr(GArray) castings = live_log_castings(book, index);
    g_autoptr(GPtrArray) list = g_ptr_array_new();
    Node *node = node_new_object();
    live_put_number(&node, "session", index + 1);
    for (guint i = 0; i < G_N_ELEMENTS(members); i++)
        live_put_text(&node, members[i], live_get_text(session, members[i]));
    for (guint i = 0; i < castings->len; i++)
        g_ptr_array_add(list, make_casting(&g_array_index(castings, LiveCasting, i)));
    live_put(&node, "castings", live_list(list));
    return node;
}

static Node *
make_task(const LiveDay *day, const LiveTask *task)
{
    const LiveJob *job = task->task->flask >= 0 ? live_sheet_job(day->sheet, task->task) : NULL;
    static const char *const states[] = {"to do", "begun", "done"};
    Node *node = node_new_object();
    live_put_text(&node, "key", task->task->key);
    live_put_text(&node, "label", task->task->label);
    live_put_text(&node, "job", job ? job->id : NULL);
    live_put_text(&node, "state", states[task->state]);
    live_put_number(&node, "planned_start", task->task->start);
    live_put_number(&node, "planned_end", task->task->end);
    live_put_number(&node, "start", task->start);
    live_put_number(&node, "end", task->end);
    live_put_number(&node, "temperature", task->temperature);
    live_put_number(&node, "mass", task->mass);
    return node;
}

static Node *
make_day(const Live *live)
{
    const LiveDay *day = live_day(live);
    g_autofree char *started = live_clock_utc(day->sheet->start);
    g_autoptr(GPtrArray) tasks = g_ptr_array_new(), faults = g_ptr_array_new();
    g_autoptr(GPtrArray) words = list_faults(live);
    Node *node = node_new_object();
    live_put_text(&node, "id", day->sheet->id);
    live_put_text(&node, "started", started);
    live_put(&node, "finished", node_new_bool(day->finished));
    for (guint i = 0; i < day->n_tasks; i++)
        g_ptr_array_add(tasks, make_task(day, &day->tasks[i]));
    live_put(&node, "tasks", live_list(tasks));
    for (guint i = 0; i < words->len; i++)
        g_ptr_array_add(faults, node_new_text(words->pdata[i]));
    live_put(&node, "faults", live_list(faults));
    return node;
}

void
cli_log_print_json(const Book *book, const Live *live, const char *file)
{
    g_autoptr(GPtrArray) sessions = g_ptr_array_new();
    Node *node = node_new_object();
    live_put_text(&node, "book", file);
    for (guint i = 0; i < live_log_sessions(book); i++)
        g_ptr_array_add(sessions, make_session(book, i));
    live_put(&node, "sessions", live_list(sessions));
    live_put(&node, "day", live ? make_day(live) : node_new_null());
    g_autofree char *text = store_line(node);
    printf("%s\n", text); // not g_print(), which would write it in the charset of the locale
    node_unref(node);
}
