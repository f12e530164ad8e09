// SPDX-License-Identifier: GPL-3.0-or-later
// A day becomes a session of the log. Only what was ticked is in it.
#include "live/log.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "live/clock.h"
#include "live/node-kit.h"
#include "live/supply.h"

static const Node *
find_sessions(const Book *book)
{
    return node_get(book_root(book), "/log/sessions");
}

guint
live_log_sessions(const Book *book)
{
    g_return_val_if_fail(book != NULL, 0);
    return node_size(find_sessions(book));
}

int
live_log_find(const Book *book, const char *day_id)
{
    g_return_val_if_fail(book != NULL && day_id != NULL, -1);
    const Node *sessions = find_sessions(book);
    for (guint i = 0; i < node_size(sessions); i++)
        if (g_strcmp0(live_get_text(node_at(sessions, i), "day"), day_id) == 0)
            return (int)i;
    return -1;
}

// "38.5 min"; files never follow the locale.
static void
put_minutes(Node **node, const char *name, double seconds)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    if (!(seconds > 0))
        return;
    g_ascii_formatd(digits, sizeof digits, "%.1f", seconds / 60);
    g_autofree char *text = g_strdup_printf("%s min", digits);
    live_put_text(node, name, text);
}

static const LiveTask *
find_task(const LiveDay *day, TaskKind kind, int load)
{
    for (guint i = 0; i < day->n_tasks; i++)
        if (day->tasks[i].task->kind == kind && day->tasks[i].task->load == load)
            return &day->tasks[i];
    return NULL;
}

// Of the furnace a load is melted in; the first of all when no load is given.
static const LiveTask *
find_warm_up(const LiveDay *day, int load)
{
    const LiveTask *charge = load >= 0 ? find_task(day, TASK_CHARGE, load) : NULL;
    for (guint i = 0; i < day->n_tasks; i++) {
        const SessionTask *task = day->tasks[i].task;
        if (task->kind == TASK_WARM_UP && (!charge || task->furnace == charge->task->furnace))
            return &day->tasks[i];
    }
    return NULL;
}

static double
find_length(const LiveTask *task)
{
    return task && task->state == LIVE_OVER && task->timed ? task->end - task->start : NAN;
}

// How long the mould of a pour took by hand, all its steps; NAN unless each was timed.
static double
find_ram_time(const LiveDay *day, const LiveTask *pour)
{
    double sum = 0;
    for (guint i = 0; i < day->n_tasks; i++) {
        const SessionTask *task = day->tasks[i].task;
        if (task->flask == pour->task->flask && task->job == pour->task->job &&
            (task->kind == TASK_RAM || task->kind == TASK_RAM_DRAG || task->kind == TASK_RAM_COPE ||
             task->kind == TASK_DRAW || task->kind == TASK_SHUT))
            sum += find_length(&day->tasks[i]);
    }
    return sum > 0 ? sum : NAN;
}

static Node *
make_flask(const LiveDay *day, const LiveTask *pour)
{
    const LiveJob *job = live_sheet_job(day->sheet, pour->task);
    Node *node = node_new_object();
    live_put_text(&node, "flask", job ? job->flask : NULL);
    live_put_text(&node, "job", job ? job->id : NULL);
    put_minutes(&node, "ram_time", find_ram_time(day, pour));
    live_put_text(&node, "pour_temperature", pour->temperature_text);
    live_put_text(&node, "poured_mass", pour->mass_text);
    g_autoptr(GPtrArray) castings = g_ptr_array_new();
    for (guint i = 0; job && i < job->cavities; i++)
        g_ptr_array_add(castings, node_new_object());
    for (guint i = 0; job && i < job->guests; i++) {
        Node *guest = node_new_object();
        live_put_text(&guest, "job", job->guest);
        g_ptr_array_add(castings, guest);
    }
    live_put(&node, "castings", live_list(castings));
    return node;
}

static int
compare_pours(gconstpointer a, gconstpointer b)
{
    const LiveTask *x = *(LiveTask *const *)a, *y = *(LiveTask *const *)b;
    return x->end != y->end ? (x->end < y->end ? -1 : 1) : (x > y) - (x < y);
}

static GPtrArray *
list_pours(const LiveDay *day, int load)
{
    GPtrArray *pours = g_ptr_array_new();
    for (guint i = 0; i < day->n_tasks; i++)
        if (day->tasks[i].task->kind == TASK_POUR && day->tasks[i].task->load == load &&
            day->tasks[i].state == LIVE_OVER)
            g_ptr_array_add(pours, &day->tasks[i]);
    g_ptr_array_sort(pours, compare_pours);
    return pours;
}

// Whether anything of it was charged or poured.
static gboolean
is_used(const LiveDay *day, int load)
{
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *task = &day->tasks[i];
        if (task->task->load == load && task->state == LIVE_OVER &&
            (task->task->kind == TASK_CHARGE || task->task->kind == TASK_POUR))
            return TRUE;
    }
    return FALSE;
}

static Node *
make_load(const LiveDay *day, int load, gboolean named)
{
    const LiveTask *charge = find_task(day, TASK_CHARGE, load);
    g_autoptr(GPtrArray) pours = list_pours(day, load);
    LiveLoad known = live_sheet_load(day->sheet, load);
    Node *node = node_new_object();
    live_put_text(&node, "metal", known.metal);
    live_put_text(&node, "furnace", named ? known.furnace : NULL);
    live_put_text(&node, "crucible", named ? known.crucible : NULL);
    live_put_text(&node, "charge", charge ? charge->mass_text : NULL);
    put_minutes(&node, "melt_time", find_length(find_task(day, TASK_MELT, load)));
    g_autoptr(GPtrArray) flasks = g_ptr_array_new();
    for (guint i = 0; i < pours->len; i++)
        g_ptr_array_add(flasks, make_flask(day, pours->pdata[i]));
    live_put(&node, "flasks", live_list(flasks));
    return node;
}

static double
find_end(const LiveDay *day)
{
    double end = day->finished ? day->finished_at : 0;
    for (guint i = 0; i < day->n_tasks && !day->finished; i++)
        if (day->tasks[i].state == LIVE_OVER)
            end = MAX(end, day->tasks[i].end);
    return end;
}

// Loads of the day, whether used or not.
static int
count_loads(const LiveDay *day)
{
    int loads = 0;
    for (guint i = 0; i < day->n_tasks; i++)
        loads = MAX(loads, day->tasks[i].task->load + 1);
    return loads;
}

// Furnace and crucible of the session where all its loads were melted in the same, with the time
// the furnace took to warm up. FALSE when they differ: then each load names its own.
static gboolean
put_furnace(Node **node, const LiveDay *day)
{
    const LiveSheet *sheet = day->sheet;
    LiveLoad same = {.furnace = sheet->furnace, .crucible = sheet->crucible};
    int n = count_loads(day), first = -1;
    for (int load = 0; load < n; load++) {
        LiveLoad one = live_sheet_load(sheet, load);
        if (!is_used(day, load))
            continue;
        if (first >= 0 && (g_strcmp0(one.furnace, same.furnace) != 0 ||
                           g_strcmp0(one.crucible, same.crucible) != 0))
            return FALSE;
        same = one;
        first = first < 0 ? load : first;
    }
    live_put_text(node, "furnace", same.furnace);
    live_put_text(node, "crucible", same.crucible);
    put_minutes(node, "warmup", find_length(find_warm_up(day, first)));
    return TRUE;
}

Node *
live_log_session(const LiveDay *day)
{
    g_return_val_if_fail(day != NULL, NULL);
    const LiveSheet *sheet = day->sheet;
    Node *node = node_new_object();
    g_autofree char *date = live_clock_date(sheet->start);
    g_autofree char *started = live_clock_time(sheet->start);
    g_autofree char *ended = live_clock_time(sheet->start + find_end(day));
    live_put_text(&node, "date", date);
    live_put_text(&node, "started", started);
    live_put_text(&node, "ended", ended);
    gboolean same = put_furnace(&node, day);
    int loads = count_loads(day);
    g_autoptr(GPtrArray) list = g_ptr_array_new();
    for (int load = 0; load < loads; load++)
        if (is_used(day, load))
            g_ptr_array_add(list, make_load(day, load, !same));
    live_put(&node, "loads", live_list(list));
    if (day->notes->len > 0) {
        g_autoptr(GPtrArray) words = g_ptr_array_copy(day->notes, NULL, NULL);
        g_ptr_array_set_free_func(words, NULL);
        g_ptr_array_add(words, NULL);
        g_autofree char *notes = g_strjoinv("\n", (char **)words->pdata);
        live_put_text(&node, "notes", notes);
    }
    live_put_text(&node, "day", sheet->id);
    return node;
}

// The session with a line more in its notes.
static Node *
add_note(Node *session, const char *words)
{
    const char *before = live_get_text(session, "notes");
    g_autofree char *notes = before ? g_strdup_printf("%s\n%s", before, words) : g_strdup(words);
    live_put_text(&session, "notes", notes);
    return session;
}

// Takes `book` over; NULL stays NULL.
static Book *
change_book(Book *book, const LiveChange *change)
{
    g_autoptr(Book) before = book;
    if (!before)
        return NULL;
    g_autoptr(Node) value = *change->text ? node_new_text(change->text) : node_new_null();
    g_autoptr(Edit) edit = edit_set(change->place, value, NULL);
    return edit_apply(before, edit, NULL);
}

Edit *
live_log_edit(const Book *book, const LiveDay *day)
{
    g_return_val_if_fail(book != NULL && day != NULL, NULL);
    if (live_log_find(book, day->sheet->id) >= 0)
        return NULL;
    g_auto(LiveSupply) supply = live_supply_of(book, day);
    g_autoptr(Node) session = live_log_session(day);
    if (supply.words)
        session = add_note(g_steal_pointer(&session), supply.words);
    Edit *edit = edit_insert("/log/sessions/-", session, _("Log the day"));
    if (supply.changes->len == 0)
        return edit;
    // Several places at once are an edit of the whole, so that one step takes all of it back. The
    // day is logged even where the rest cannot be.
    Book *logged = edit_apply(book, edit, NULL);
    for (guint i = 0; i < supply.changes->len; i++)
        logged = change_book(logged, &g_array_index(supply.changes, LiveChange, i));
    g_autoptr(Book) whole = logged;
    if (!whole)
        return edit;
    edit_free(edit);
    return edit_set("", book_root(whole), _("Log the day"));
}

char *
live_log_told(const Book *book, const LiveDay *day)
{
    g_return_val_if_fail(book != NULL && day != NULL, NULL);
    LiveSupply supply = live_supply_of(book, day);
    char *words = g_steal_pointer(&supply.words);
    live_supply_clear(&supply);
    return words;
}
