// SPDX-License-Identifier: GPL-3.0-or-later
// Journal first, state after: what is shown as ticked is on the disk.
#include "live/live.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "live/clock.h"
#include "live/task.h"

struct Live {
    LiveJournal *journal;
    LiveSheet *sheet;
    LiveDay *day;
};

static Live *
make_live(LiveJournal *journal, LiveSheet *sheet)
{
    Live *live = g_new0(Live, 1);
    live->journal = journal;
    live->sheet = sheet;
    live->day = live_day_make(sheet, live_journal_lines(journal));
    return live;
}

Live *
live_start_sheet(LiveSheet *sheet, const char *book_path, GError **error)
{
    g_return_val_if_fail(sheet != NULL, NULL);
    g_autoptr(LiveSheet) taken = sheet;
    g_autofree char *path = live_journal_path(book_path);
    g_autoptr(Node) first = live_sheet_node(sheet);
    g_autoptr(LiveJournal) journal = live_journal_start(path, first, error);
    return journal ? make_live(g_steal_pointer(&journal), g_steal_pointer(&taken)) : NULL;
}

Live *
live_start(const Plan *plan, const char *book_path, GError **error)
{
    g_return_val_if_fail(plan != NULL, NULL);
    LiveSheet *sheet = live_sheet_new(plan, book_path, live_clock_now(), error);
    return sheet ? live_start_sheet(sheet, book_path, error) : NULL;
}

Live *
live_start_day(const PlanDay *day, const char *book_path, GError **error)
{
    g_return_val_if_fail(day != NULL, NULL);
    LiveSheet *sheet = live_sheet_of_day(day, book_path, live_clock_now(), error);
    return sheet ? live_start_sheet(sheet, book_path, error) : NULL;
}

static Live *
read_live(const char *book_path, gboolean hold, GError **error)
{
    g_autofree char *path = live_journal_path(book_path);
    g_autoptr(LiveJournal) journal = hold ? live_journal_open(path, error)
                                          : live_journal_look(path, error);
    if (!journal)
        return NULL;
    const LiveLines *lines = live_journal_lines(journal);
    g_autoptr(LiveSheet) sheet = live_sheet_read(lines->nodes->pdata[0], path, error);
    return sheet ? make_live(g_steal_pointer(&journal), g_steal_pointer(&sheet)) : NULL;
}

Live *
live_resume(const char *book_path, GError **error)
{
    return read_live(book_path, TRUE, error);
}

Live *
live_look(const char *book_path, GError **error)
{
    return read_live(book_path, FALSE, error);
}

void
live_free(Live *live)
{
    if (!live)
        return;
    live_day_free(live->day);
    live_sheet_free(live->sheet);
    live_journal_close(live->journal);
    g_free(live);
}

const LiveSheet *
live_sheet(const Live *live)
{
    g_return_val_if_fail(live != NULL, NULL);
    return live->sheet;
}

const LiveDay *
live_day(const Live *live)
{
    g_return_val_if_fail(live != NULL, NULL);
    return live->day;
}

LiveJournal *
live_journal(Live *live)
{
    g_return_val_if_fail(live != NULL, NULL);
    return live->journal;
}

double
live_elapsed(const Live *live)
{
    g_return_val_if_fail(live != NULL, 0);
    return live_clock_now() - live->sheet->start;
}

static gboolean
add_tick(Live *live, LiveTick *tick, GError **error)
{
    tick->written = live_clock_now();
    if (isnan(tick->at))
        tick->at = tick->written;
    g_autoptr(Node) node = live_tick_node(tick);
    if (!live_journal_add(live->journal, node, error))
        return FALSE;
    live_day_free(live->day);
    live->day = live_day_make(live->sheet, live_journal_lines(live->journal));
    return TRUE;
}

static gboolean
refuse(const char *place, const char *what, const char *remedy, GError **error)
{
    return base_error_set(error, BASE_ERROR_VALUE, NULL, place, what, remedy);
}

static const LiveTask *
find_task(const Live *live, const char *key, GError **error)
{
    const LiveTask *task = live_day_find(live->day, key);
    if (!task)
        refuse(key, _("the plan of the day has no such task"),
               _("the tasks are listed with their keys by: flaskwright-cli log BOOK"), error);
    return task;
}

static gboolean
check_time(const Live *live, const char *key, double at, GError **error)
{
    if (isnan(at))
        return TRUE;
    g_autofree char *start = live_clock_time(live->sheet->start);
    if (at < live->sheet->start)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, key, _("look at the clock"),
                               _("the day was started at %s, and that time was before or is still "
                                 "to come"),
                               start);
    if (at > live_clock_now() + 1)
        return refuse(key, _("that time is still to come"), _("look at the clock"), error);
    return TRUE;
}

static gboolean
tick_task(Live *live, LiveWhat what, const char *key, double at, GError **error)
{
    const LiveTask *task = find_task(live, key, error);
    if (!task || !check_time(live, key, at, error))
        return FALSE;
    if (!live_task_is_ticked(task->task))
        return refuse(key, _("cooling ends by the clock"), _("tick the shake-out"), error);
    if (live->day->finished)
        return refuse(key, _("the day is finished"), _("take that back first"), error);
    if (task->state == LIVE_OVER && isnan(at)) {
        g_autofree char *when = live_clock_time(live->sheet->start + task->end);
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, key,
                               _("take it back, or correct it by giving a time"),
                               _("is done already, at %s"), when);
    }
    if (what == LIVE_BEGIN && task->state == LIVE_OVER && at > live->sheet->start + task->end)
        return refuse(key, _("cannot be begun after it was done"), _("give an earlier time"),
                      error);
    if (task->state == LIVE_RUNNING && what == LIVE_BEGIN && isnan(at))
        return refuse(key, _("is begun already"), _("tick it as done"), error);
    if (what == LIVE_DONE && !isnan(at) && task->begun && at < live->sheet->start + task->start)
        return refuse(key, _("cannot be done before it was begun"), _("give a later time"), error);
    LiveTick tick = {.what = what, .at = at, .key = key, .who = -1, .value = NAN};
    return add_tick(live, &tick, error);
}

gboolean
live_begin(Live *live, const char *key, double at, GError **error)
{
    g_return_val_if_fail(live != NULL && key != NULL, FALSE);
    return tick_task(live, LIVE_BEGIN, key, at, error);
}

gboolean
live_done(Live *live, const char *key, double at, GError **error)
{
    g_return_val_if_fail(live != NULL && key != NULL, FALSE);
    return tick_task(live, LIVE_DONE, key, at, error);
}

// A number as typed with the shop's unit after it if it has none of its own.
static char *
add_unit(QuantityKind kind, const char *text, const UnitSet *units)
{
    g_autofree char *plain = g_strstrip(g_strdup(text));
    gsize length = strlen(plain);
    gboolean bare = length > 0 && g_ascii_isdigit(plain[length - 1]);
    return bare ? g_strdup_printf("%s %s", plain, quantity_shop_unit(kind, units))
                : g_steal_pointer(&plain);
}

static gboolean
check_mass(const char *key, double value, GError **error)
{
    return (value > 0 && value <= 1e5) ||
           refuse(key, _("that is no mass of metal"), _("give it with its unit: 1.2 kg"), error);
}

// Below the solidus there is nothing to pour: a wrong unit, or a slip.
static gboolean
check_temperature(const Live *live, const LiveTask *task, double value, const UnitSet *units,
                  GError **error)
{
    const LiveJob *job = live_sheet_job(live->sheet, task->task);
    if (!(value > 0 && value < 2500))
        return refuse(task->task->key, _("that is no temperature of molten metal"),
                      _("give it with its unit: 735 C"), error);
    if (!job || !(value < job->solidus))
        return TRUE;
    g_autofree char *given = quantity_format(QUANTITY_TEMPERATURE, value, units);
    g_autofree char *solidus = quantity_format(QUANTITY_TEMPERATURE, job->solidus, units);
    return base_error_setf(error, BASE_ERROR_VALUE, NULL, task->task->key,
                           _("give what the pyrometer showed, with its unit: 735 C"),
                           _("at %s its metal is solid (it begins to melt at %s)"), given, solidus);
}

static gboolean
read_value(const Live *live, LiveWhat what, const char *key, const char *text, const UnitSet *units,
           double *value, GError **error)
{
    QuantityKind kind = what == LIVE_MASS ? QUANTITY_MASS : QUANTITY_TEMPERATURE;
    const LiveTask *task = find_task(live, key, error);
    g_autoptr(GError) inner = NULL;
    if (!task)
        return FALSE;
    if (task->task->kind != TASK_POUR && (task->task->kind != TASK_CHARGE || what != LIVE_MASS))
        return refuse(key, _("has nothing to note but when it is done"),
                      _("note temperature and mass with a pour, the charged mass with a charge"),
                      error);
    if (!quantity_parse(kind, text, units, value, &inner))
        return refuse(key, inner->message, NULL, error);
    return what == LIVE_MASS ? check_mass(key, *value, error)
                             : check_temperature(live, task, *value, units, error);
}

gboolean
live_check_value(const Live *live, LiveWhat what, const char *key, const char *text,
                 const UnitSet *units, GError **error)
{
    double value = NAN;
    g_return_val_if_fail(live != NULL && key != NULL && text != NULL && units != NULL, FALSE);
    return read_value(live, what, key, text, units, &value, error);
}

static gboolean
note_value(Live *live, LiveWhat what, const char *key, const char *text, const UnitSet *units,
           GError **error)
{
    QuantityKind kind = what == LIVE_MASS ? QUANTITY_MASS : QUANTITY_TEMPERATURE;
    double value = NAN;
    if (!read_value(live, what, key, text, units, &value, error))
        return FALSE;
    g_autofree char *whole = add_unit(kind, text, units);
    LiveTick tick = {.what = what, .at = NAN, .key = key, .who = -1, .value = value, .text = whole};
    return add_tick(live, &tick, error);
}

gboolean
live_note_temperature(Live *live, const char *key, const char *text, const UnitSet *units,
                      GError **error)
{
    g_return_val_if_fail(live != NULL && key != NULL && text != NULL && units != NULL, FALSE);
    return note_value(live, LIVE_TEMPERATURE, key, text, units, error);
}

gboolean
live_note_mass(Live *live, const char *key, const char *text, const UnitSet *units, GError **error)
{
    g_return_val_if_fail(live != NULL && key != NULL && text != NULL && units != NULL, FALSE);
    return note_value(live, LIVE_MASS, key, text, units, error);
}

gboolean
live_note(Live *live, const char *text, GError **error)
{
    g_return_val_if_fail(live != NULL && text != NULL, FALSE);
    if (!*text || strlen(text) > 10000 || !g_utf8_validate(text, -1, NULL))
        return refuse("note", _("is empty, too long or not text"), _("say it in a sentence"),
                      error);
    LiveTick tick = {.what = LIVE_NOTE, .at = NAN, .who = -1, .value = NAN, .text = text};
    return add_tick(live, &tick, error);
}

gboolean
live_undo(Live *live, GError **error)
{
    g_return_val_if_fail(live != NULL, FALSE);
    if (live->day->ticks == 0)
        return base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("nothing was ticked yet"),
                              NULL);
    LiveTick tick = {.what = LIVE_UNDO, .at = NAN, .who = -1, .value = NAN};
    return add_tick(live, &tick, error);
}

gboolean
live_finish(Live *live, GError **error)
{
    g_return_val_if_fail(live != NULL, FALSE);
    if (live->day->finished)
        return refuse("finish", _("the day is finished"), NULL, error);
    LiveTick tick = {.what = LIVE_FINISH, .at = NAN, .who = -1, .value = NAN};
    return add_tick(live, &tick, error);
}
