// SPDX-License-Identifier: GPL-3.0-or-later
// Lines to state. First the lines taken back are struck out, then the rest is laid over the tasks
// in order; a later line on the same task wins, since it is a correction.
#include "live/day.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "live/node-kit.h"
#include "live/task.h"

static const char *const words[] = {
    [LIVE_BEGIN] = "begin",  [LIVE_DONE] = "done", [LIVE_TEMPERATURE] = "temperature",
    [LIVE_MASS] = "mass",    [LIVE_NOTE] = "note", [LIVE_UNDO] = "undo",
    [LIVE_FINISH] = "finish"};

Node *
live_tick_node(const LiveTick *tick)
{
    g_return_val_if_fail(tick != NULL && (guint)tick->what < G_N_ELEMENTS(words), NULL);
    Node *node = node_new_object();
    live_put_text(&node, "do", words[tick->what]);
    live_put_text(&node, "key", tick->key);
    live_put_number(&node, "at", tick->at);
    live_put_number(&node, "written", tick->written);
    if (tick->who >= 0)
        live_put_number(&node, "who", tick->who);
    live_put_number(&node, "value", tick->value);
    live_put_text(&node, "text", tick->text);
    return node;
}

// A line of any file; FALSE for what is no tick.
static gboolean
read_tick(const Node *node, LiveTick *tick)
{
    const char *word = live_get_text(node, "do");
    guint what = 0;
    while (what < G_N_ELEMENTS(words) && g_strcmp0(word, words[what]) != 0)
        what++;
    if (what == G_N_ELEMENTS(words))
        return FALSE;
    *tick = (LiveTick){
        .what = (LiveWhat)what,
        .at = live_get_number(node, "at", NAN),
        .key = live_get_text(node, "key"),
        .who = live_get_int(node, "who", 0, 1000, -1),
        .value = live_get_number(node, "value", NAN),
        .text = live_get_text(node, "text"),
    };
    tick->written = live_get_number(node, "written", tick->at);
    gboolean keyed = what <= LIVE_MASS, valued = what == LIVE_TEMPERATURE || what == LIVE_MASS;
    return fabs(tick->at) < 1e11 && fabs(tick->written) < 1e11 && (tick->key || !keyed) &&
           (!isnan(tick->value) || !valued) && (tick->text || what != LIVE_NOTE);
}

// The ticks in force; lines that are none are spoken of.
static GArray *
gather_ticks(LiveDay *day, const LiveLines *lines)
{
    GArray *ticks = g_array_new(FALSE, TRUE, sizeof(LiveTick));
    for (guint i = 1; i < lines->nodes->len; i++) {
        LiveTick tick;
        if (!read_tick(lines->nodes->pdata[i], &tick))
            g_ptr_array_add(day->strange,
                            g_strdup_printf(_("entry %u of the journal is not understood"), i + 1));
        else if (tick.what != LIVE_UNDO)
            g_array_append_val(ticks, tick);
        else if (ticks->len > 0)
            g_array_set_size(ticks, ticks->len - 1);
    }
    return ticks;
}

static int
find_task(const LiveDay *day, GHashTable *places, const char *key)
{
    gpointer place = NULL;
    return key && g_hash_table_lookup_extended(places, key, NULL, &place) ? GPOINTER_TO_INT(place)
                                                                          : -1;
}

static void
set_text(char **to, const char *text)
{
    g_free(*to);
    *to = g_strdup(text);
}

static gboolean
is_of_load(const SessionTask *task)
{
    return task->kind == TASK_CHARGE || task->kind == TASK_MELT || task->kind == TASK_SKIM ||
           task->kind == TASK_POUR;
}

// Whether one of the two must have ended before the other began: the same hands, furnace, mould or
// load.
static gboolean
is_bound(const LiveTask *a, const LiveTask *b)
{
    return (a->task->person && b->task->person && a->who == b->who) ||
           (a->task->furnace >= 0 && a->task->furnace == b->task->furnace) ||
           (a->task->flask >= 0 && a->task->flask == b->task->flask) ||
           (is_of_load(a->task) && is_of_load(b->task) && a->task->load == b->task->load);
}

// Did `other` end before `task`? Of two noted for the same moment, as clocks without seconds do,
// the one planned first.
static gboolean
ended_before(const LiveTask *other, const LiveTask *task)
{
    return other->end != task->end ? other->end < task->end : other < task;
}

// What was done last, before `task` ended, of all that it is bound to; NULL: nothing.
static const LiveTask *
find_before(const LiveDay *day, const LiveTask *task)
{
    const LiveTask *best = NULL;
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *other = &day->tasks[i];
        if (other != task && other->state == LIVE_OVER && is_bound(other, task) &&
            ended_before(other, task) && (!best || ended_before(best, other)))
            best = other;
    }
    return best;
}

// What sets a furnace going: a melt its charge, a warm-up the setting up. NULL: not done, or no
// task of a furnace.
static const LiveTask *
find_trigger(const LiveDay *day, const LiveTask *task)
{
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *other = &day->tasks[i];
        gboolean charge = task->task->kind == TASK_MELT && other->task->kind == TASK_CHARGE &&
                          other->task->load == task->task->load;
        gboolean set_up = task->task->kind == TASK_WARM_UP && other->task->kind == TASK_SET_UP;
        if ((charge || set_up) && other->state == LIVE_OVER && other->end <= task->end)
            return other;
    }
    return NULL;
}

// Steps of one mould by the same hands, one right after the other, are timed by their ends.
static gboolean
follows_at_once(const LiveTask *before, const LiveTask *task)
{
    return before && before->task->person && task->task->person && before->who == task->who &&
           before->task->flask >= 0 && before->task->flask == task->task->flask &&
           task->task->kind != TASK_SHAKE_OUT && task->task->kind != TASK_POUR;
}

// A task whose beginning nobody ticked: a furnace's began with its trigger, the next step of a
// mould with the end of the one before; any other took as long as planned, or as there was time
// for.
static void
imply_start(const LiveDay *day, LiveTask *task)
{
    const LiveTask *before = find_before(day, task), *trigger = find_trigger(day, task);
    double floor = before ? before->end : 0;
    double planned = task->end - (task->task->end - task->task->start);
    task->timed = trigger || follows_at_once(before, task);
    if (trigger)
        task->start = trigger->end;
    else
        task->start = MIN(task->timed ? floor : MAX(floor, planned), task->end);
}

static void
apply_tick(LiveDay *day, LiveTask *task, const LiveTick *tick)
{
    double at = tick->at - day->sheet->start;
    if (tick->who >= 0)
        task->who = tick->who;
    switch (tick->what) {
    case LIVE_BEGIN:
        task->start = at;
        task->begun = task->timed = TRUE;
        if (task->state == LIVE_OVER && at <= task->end)
            break; // a correction of what is done
        task->end = NAN;
        task->state = LIVE_RUNNING;
        break;
    case LIVE_DONE:
        task->end = at;
        task->begun = task->begun && task->start <= at;
        task->state = LIVE_OVER;
        break;
    case LIVE_TEMPERATURE:
        task->temperature = tick->value;
        set_text(&task->temperature_text, tick->text);
        break;
    default:
        task->mass = tick->value;
        set_text(&task->mass_text, tick->text);
    }
}

static char *
describe(const LiveDay *day, const LiveTick *tick, const LiveTask *task)
{
    const char *label = task ? task->task->label : tick->key ? tick->key : "";
    switch (tick->what) {
    case LIVE_BEGIN:
        return g_strdup_printf(_("%s: begun"), label);
    case LIVE_DONE:
        return g_strdup_printf(_("%s: done"), label);
    case LIVE_TEMPERATURE:
    case LIVE_MASS:
        return g_strdup_printf("%s: %s", label, tick->text ? tick->text : "");
    case LIVE_NOTE:
        return g_strdup_printf(_("Note: %s"), tick->text);
    default:
        return g_strdup(_("Day finished"));
    }
}

static void
apply_ticks(LiveDay *day, GArray *ticks, GHashTable *places)
{
    for (guint i = 0; i < ticks->len; i++) {
        const LiveTick *tick = &g_array_index(ticks, LiveTick, i);
        int place = find_task(day, places, tick->key);
        day->noted = MAX(day->noted, tick->written - day->sheet->start);
        if (i + 1 == ticks->len)
            day->last = describe(day, tick, place >= 0 ? &day->tasks[place] : NULL);
        if (tick->what == LIVE_NOTE) {
            g_ptr_array_add(day->notes, g_strdup(tick->text));
        } else if (tick->what == LIVE_FINISH) {
            day->finished = TRUE;
            day->finished_at = tick->at - day->sheet->start;
        } else if (place >= 0) {
            apply_tick(day, &day->tasks[place], tick);
        } else {
            g_ptr_array_add(
                day->strange,
                g_strdup_printf(_("the plan of the day has no task \"%s\""), tick->key));
        }
    }
}

// Only when all ends are known, as one may have been corrected that others follow on.
static void
imply_starts(LiveDay *day)
{
    for (guint i = 0; i < day->n_tasks; i++)
        if (day->tasks[i].state == LIVE_OVER && !day->tasks[i].begun)
            imply_start(day, &day->tasks[i]);
}

// What goes on by itself: melting once charged, warming up once set up.
static void
run_furnaces(LiveDay *day)
{
    for (guint i = 0; i < day->n_tasks; i++) {
        LiveTask *task = &day->tasks[i];
        const LiveTask *trigger = NULL;
        if (task->state != LIVE_TO_DO || task->task->person)
            continue;
        task->end = INFINITY;
        trigger = find_trigger(day, task);
        task->end = NAN;
        if (!trigger)
            continue;
        task->start = trigger->end;
        task->timed = TRUE;
        task->state = LIVE_RUNNING;
    }
}

LiveDay *
live_day_make(const LiveSheet *sheet, const LiveLines *lines)
{
    g_return_val_if_fail(sheet != NULL && lines != NULL, NULL);
    LiveDay *day = g_new0(LiveDay, 1);
    g_autoptr(GHashTable) places = g_hash_table_new(g_str_hash, g_str_equal);
    day->sheet = sheet;
    day->notes = g_ptr_array_new_with_free_func(g_free);
    day->strange = g_ptr_array_new_with_free_func(g_free);
    day->n_tasks = sheet->session->n_tasks;
    day->tasks = g_new0(LiveTask, day->n_tasks);
    for (guint i = 0; i < day->n_tasks; i++) {
        const SessionTask *task = &sheet->session->tasks[i];
        day->tasks[i] = (LiveTask){.task = task, .who = task->who};
        day->tasks[i].start = day->tasks[i].end = NAN;
        day->tasks[i].temperature = day->tasks[i].mass = NAN;
        g_hash_table_insert(places, task->key, GINT_TO_POINTER(i));
    }
    g_autoptr(GArray) ticks = gather_ticks(day, lines);
    day->ticks = ticks->len;
    apply_ticks(day, ticks, places);
    imply_starts(day);
    run_furnaces(day);
    return day;
}

void
live_day_free(LiveDay *day)
{
    if (!day)
        return;
    for (guint i = 0; i < day->n_tasks; i++) {
        g_free(day->tasks[i].temperature_text);
        g_free(day->tasks[i].mass_text);
    }
    g_free(day->tasks);
    g_ptr_array_unref(day->notes);
    g_ptr_array_unref(day->strange);
    g_free(day->last);
    g_free(day);
}

const LiveTask *
live_day_find(const LiveDay *day, const char *key)
{
    g_return_val_if_fail(day != NULL && key != NULL, NULL);
    int place = live_sheet_find(day->sheet, key);
    return place >= 0 ? &day->tasks[place] : NULL;
}

static const LiveTask *
find_pour(const LiveDay *day, const SessionTask *task)
{
    for (guint i = 0; i < day->n_tasks; i++) {
        const SessionTask *other = day->tasks[i].task;
        if (other->kind == TASK_POUR && other->flask == task->flask && other->job == task->job)
            return &day->tasks[i];
    }
    return NULL;
}

GArray *
live_day_done(const LiveDay *day, double now)
{
    g_return_val_if_fail(day != NULL, NULL);
    GArray *done = g_array_new(FALSE, FALSE, sizeof(SessionDone));
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *task = &day->tasks[i];
        SessionDone one = {task->task->key, task->start, task->end, task->who};
        if (task->task->kind == TASK_COOL) {
            const LiveTask *pour = find_pour(day, task->task);
            if (!pour || pour->state != LIVE_OVER)
                continue;
            one.start = pour->end;
            one.end = pour->end + (task->task->end - task->task->start);
            if (one.end > now)
                one.end = NAN;
        } else if (task->state == LIVE_TO_DO) {
            continue;
        }
        g_array_append_val(done, one);
    }
    return done;
}
