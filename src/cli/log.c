// SPDX-License-Identifier: GPL-3.0-or-later
// `log`: lists what was poured; starts a day, ticks it, takes ticks back, finishes it into the
// book's log; and notes how each casting turned out. Ticks go to the day's journal, so the book is
// written only by finish and result, whole or not at all.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/store.h"
#include "cli/cli.h"
#include "cli/log-list.h"
#include "live/clock.h"
#include "live/live.h"
#include "live/log.h"
#include "plan/batch.h"

typedef struct {
    const char *file, *verb, *word; // BOOK DO WORD; the last two may be NULL
    char *job, *at, *temperature, *mass, *cause;
    int session, flask, casting; // from 1; 0: not given
    gboolean json, begin, all;
    Book *book;
    Tables *tables;
    UnitSet units;
} Call;

static void
clear_call(Call *call)
{
    g_free(call->job);
    g_free(call->at);
    g_free(call->temperature);
    g_free(call->mass);
    g_free(call->cause);
    book_unref(call->book);
    tables_free(call->tables);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Call, clear_call)

static void
say_file(const Call *call, GError **error)
{
    g_prefix_error(error, "%s: ", call->file);
}

static gboolean
list_log(Call *call, GError **error)
{
    g_autoptr(Live) live = NULL;
    if (live_journal_exists(call->file)) {
        live = live_look(call->file, error);
        if (!live)
            return FALSE;
    }
    if (call->json)
        cli_log_print_json(call->book, live, call->file);
    else
        cli_log_print(call->book, live);
    return TRUE;
}

// The day of one job.
static Live *
start_job(Call *call, const char *path, GError **error)
{
    const char *job = cli_job(call->book, call->file, call->job, error);
    g_autoptr(Plan) plan = job ? plan_make(call->book, job, call->tables, NULL, NULL, error) : NULL;
    return plan ? live_start(plan, path, error) : NULL;
}

// What the calendar pours next: today or, where nothing is planned for it, in advance.
static Live *
start_all(Call *call, const char *path, GError **error)
{
    guint32 today = batch_today();
    g_autoptr(BatchPlan)
                  batch = batch_plan_make(call->book, NULL, call->tables, NULL, today, NULL, error);
    g_autoptr(PlanDay) day = batch ? batch_plan_next_day(batch, call->tables, NULL, error) : NULL;
    if (!day) {
        say_file(call, error);
        return NULL;
    }
    if (batch->sessions[0].day != today) {
        g_autofree char *date = days_write_date(batch->sessions[0].day);
        g_print(_("Nothing is planned for today: this is the session of %s.\n"), date);
    }
    return live_start_day(day, path, error);
}

static gboolean
start_day(Call *call, GError **error)
{
    g_autofree char *whole = g_canonicalize_filename(call->file, NULL);
    g_autoptr(Live) live = call->all ? start_all(call, whole, error)
                                     : start_job(call, whole, error);
    if (!live)
        return FALSE;
    cli_log_print(call->book, live);
    return TRUE;
}

static gboolean
note_values(Call *call, Live *live, GError **error)
{
    return (!call->temperature ||
            live_note_temperature(live, call->word, call->temperature, &call->units, error)) &&
           (!call->mass || live_note_mass(live, call->word, call->mass, &call->units, error));
}

// A value that is refused must not leave half of what was asked.
static gboolean
check_values(const Call *call, const Live *live, GError **error)
{
    const struct {
        const char *text, *option;
        LiveWhat what;
    } values[] = {{call->temperature, "--temperature: ", LIVE_TEMPERATURE},
                  {call->mass, "--mass: ", LIVE_MASS}};
    for (guint i = 0; i < G_N_ELEMENTS(values); i++)
        if (values[i].text && !live_check_value(live, values[i].what, call->word, values[i].text,
                                                &call->units, error)) {
            g_prefix_error(error, "%s", values[i].option);
            return FALSE;
        }
    return TRUE;
}

// Of a task that is done values alone may be given.
static gboolean
tick_or_note(Call *call, Live *live, double at, GError **error)
{
    const LiveTask *task = live_day_find(live_day(live), call->word);
    gboolean only_values = task && task->state == LIVE_OVER && !call->at && !call->begin &&
                           (call->temperature || call->mass);
    if (!check_values(call, live, error))
        return FALSE;
    if (!only_values && !(call->begin ? live_begin(live, call->word, at, error)
                                      : live_done(live, call->word, at, error)))
        return FALSE;
    return note_values(call, live, error);
}

static gboolean
tick_task(Call *call, GError **error)
{
    double at = NAN;
    if (call->at && !live_clock_read(call->at, live_clock_now(), &at, error)) {
        g_prefix_error(error, "--at: ");
        return FALSE;
    }
    g_autoptr(Live) live = live_resume(call->file, error);
    if (!live)
        return FALSE;
    if (!tick_or_note(call, live, at, error)) {
        say_file(call, error);
        return FALSE;
    }
    cli_log_print_tick(call->book, live, call->word);
    return TRUE;
}

static gboolean
note_words(Call *call, GError **error)
{
    g_autoptr(Live) live = live_resume(call->file, error);
    if (!live || !live_note(live, call->word, error))
        return FALSE;
    g_print("%s\n", live_day(live)->last);
    return TRUE;
}

static gboolean
undo_tick(Call *call, GError **error)
{
    g_autoptr(Live) live = live_resume(call->file, error);
    g_autofree char *last = live ? g_strdup(live_day(live)->last) : NULL;
    if (!live)
        return FALSE;
    if (live_log_find(call->book, live_sheet(live)->id) >= 0)
        return base_error_set(error, BASE_ERROR_VALUE, call->file, NULL,
                              _("the day is in the log already"), _("say finish to end it"));
    if (!live_undo(live, error)) {
        say_file(call, error);
        return FALSE;
    }
    g_print(_("Taken back: %s\n"), last);
    return TRUE;
}

static gboolean
save_edit(Call *call, const Edit *edit, GError **error)
{
    g_autoptr(Book) next = edit_apply(call->book, edit, error);
    return next && store_write(next, call->file, TRUE, error);
}

// The journal goes only when the book that holds the day is on the disk; killed in between, finish
// can be said again.
static gboolean
finish_day(Call *call, GError **error)
{
    g_autoptr(Live) live = live_resume(call->file, error);
    if (!live || (!live_day(live)->finished && !live_finish(live, error)))
        return FALSE;
    g_autoptr(Edit) edit = live_log_edit(call->book, live_day(live));
    g_autofree char *told = edit ? live_log_told(call->book, live_day(live)) : NULL;
    if (edit && !save_edit(call, edit, error))
        return FALSE;
    guint session = live_log_sessions(call->book) + (edit ? 1 : 0);
    if (!live_journal_put_aside(live_journal(live), live_sheet(live)->id, error))
        return FALSE;
    g_print(_("The day is session %u of the log.\n"), session);
    if (told)
        g_print("%s\n", told);
    return TRUE;
}

static gboolean
discard_day(Call *call, GError **error)
{
    g_autoptr(Live) live = live_resume(call->file, error);
    if (!live || !live_journal_put_aside(live_journal(live), live_sheet(live)->id, error))
        return FALSE;
    g_print(_("The day is not logged; its journal is kept as %s\n"),
            live_journal_file(live_journal(live)));
    return TRUE;
}

static gboolean
note_result(Call *call, GError **error)
{
    guint sessions = live_log_sessions(call->book);
    guint session = call->session > 0 ? (guint)call->session : MAX(sessions, 1);
    LiveVerdict verdict = {.judge = call->word != NULL,
                           .good = g_strcmp0(call->word, "good") == 0,
                           .cause = call->cause,
                           .mass = call->mass};
    g_autoptr(Edit) edit = live_log_verdict(call->book, session - 1, (guint)call->flask - 1,
                                            (guint)call->casting - 1, &verdict, error);
    if (!edit) {
        say_file(call, error);
        return FALSE;
    }
    return save_edit(call, edit, error);
}

static const struct {
    const char *name;
    gboolean word; // takes one
    gboolean (*run)(Call *call, GError **error);
} verbs[] = {{"list", FALSE, list_log},       {"start", FALSE, start_day},
             {"tick", TRUE, tick_task},       {"note", TRUE, note_words},
             {"undo", FALSE, undo_tick},      {"finish", FALSE, finish_day},
             {"discard", FALSE, discard_day}, {"result", TRUE, note_result}};

// The code to return, or CLI_DONE: what makes no sense whatever the book holds.
static int
check_usage(const Call *call, guint verb)
{
    gboolean result = g_str_equal(verbs[verb].name, "result");
    gboolean tick = g_str_equal(verbs[verb].name, "tick");
    if (call->word && !verbs[verb].word)
        return cli_usage(_("log: %s takes no more words"), verbs[verb].name);
    if (!call->word && verbs[verb].word && !result)
        return cli_usage(_("log: %s wants a word more; see flaskwright-cli log --help"),
                         verbs[verb].name);
    if (result && (call->flask < 1 || call->casting < 1 || call->session < 0))
        return cli_usage("%s", _("log: result wants --flask and --casting, counted from 1"));
    if (result && call->word && !g_str_equal(call->word, "good") &&
        !g_str_equal(call->word, "scrap"))
        return cli_usage(_("log: a casting is good or scrap, not \"%s\""), call->word);
    if (result && !call->word && !call->mass)
        return cli_usage("%s", _("log: result wants good or scrap, or --mass"));
    if (!result && (call->flask || call->casting || call->session || call->cause))
        return cli_usage("%s",
                         _("log: --session, --flask, --casting and --cause belong to result"));
    if (!tick && (call->at || call->begin || call->temperature || (call->mass && !result)))
        return cli_usage("%s", _("log: --at, --begin, --temperature and --mass belong to tick"));
    gboolean start = g_str_equal(verbs[verb].name, "start");
    if (call->all && (!start || call->job))
        return cli_usage("%s", _("log: --all belongs to start and goes without --job"));
    return CLI_DONE;
}

static int
run_verb(Call *call)
{
    guint verb = 0;
    while (verb < G_N_ELEMENTS(verbs) && !g_str_equal(verbs[verb].name, call->verb))
        verb++;
    if (verb == G_N_ELEMENTS(verbs))
        return cli_usage(
            _("log: \"%s\" is none of start, tick, note, undo, finish, discard, result "
              "and list"),
            call->verb);
    int code = check_usage(call, verb);
    if (code != CLI_DONE)
        return code;
    g_autoptr(GError) error = NULL;
    call->tables = tables_load(&error);
    call->book = call->tables ? store_read(call->file, call->tables, &error) : NULL;
    if (!call->book)
        return cli_fail(error);
    call->units = book_units(call->book);
    return verbs[verb].run(call, &error) ? CLI_DONE : cli_fail(error);
}

int
cli_log(int argc, char **argv)
{
    g_auto(Call) call = {0};
    gboolean finished;
    const GOptionEntry entries[] = {
        {"json", 0, 0, G_OPTION_ARG_NONE, &call.json, N_("List as JSON"), NULL},
        {"job", 'j', 0, G_OPTION_ARG_STRING, &call.job, N_("start: the day of which job"), "ID"},
        {"all", 'a', 0, G_OPTION_ARG_NONE, &call.all,
         N_("start: the day of all jobs, as the calendar has it"), NULL},
        {"at", 0, 0, G_OPTION_ARG_STRING, &call.at, N_("tick: when it was, by the clock"), "14:05"},
        {"begin", 0, 0, G_OPTION_ARG_NONE, &call.begin, N_("tick: it was begun, not done"), NULL},
        {"temperature", 0, 0, G_OPTION_ARG_STRING, &call.temperature,
         N_("tick: of the metal when poured"), "735C"},
        {"mass", 0, 0, G_OPTION_ARG_STRING, &call.mass,
         N_("tick: poured or charged; result: weighed"), "1.2kg"},
        {"session", 0, 0, G_OPTION_ARG_INT, &call.session,
         N_("result: which session, from 1; the last otherwise"), "N"},
        {"flask", 0, 0, G_OPTION_ARG_INT, &call.flask, N_("result: which flask of it, from 1"),
         "N"},
        {"casting", 0, 0, G_OPTION_ARG_INT, &call.casting,
         N_("result: which casting of the flask, from 1"), "N"},
        {"cause", 0, 0, G_OPTION_ARG_STRING, &call.cause,
         N_("result: misrun, shrinkage, gas, sand, mismatch, short-pour, drop or other"), "CAUSE"},
        {NULL}};
    int code = cli_options("log", entries, &argc, &argv, 1, 3, &finished);
    if (code != CLI_DONE || finished)
        return code;
    call.file = argv[1];
    call.verb = argc > 2 ? argv[2] : "list";
    call.word = argc > 3 ? argv[3] : NULL;
    return run_verb(&call);
}
