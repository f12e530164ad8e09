// SPDX-License-Identifier: GPL-3.0-or-later
// `session`: the batch over days, as words, JSON, a calendar file or rows.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>

#include "base/error.h"
#include "book/store.h"
#include "cli/cli.h"
#include "figure/explain.h"
#include "report/batch.h"

// One alarm is not set earlier than this before a session, s.
#define MOST_ALARM (366 * 86400.0)

typedef struct {
    char **jobs;
    char *from, *to, *list, *alarm, *explain;
    gboolean json, strict, replace;
} Options;

static gboolean
any_check_fails(const BatchPlan *batch)
{
    for (guint i = 0; i < figure_list_size(batch->figures); i++)
        if (figure_list_at(batch->figures, i)->state == FIGURE_FAILS)
            return TRUE;
    return FALSE;
}

static gboolean
lists_needs(const Options *options)
{
    return options->list && g_str_equal(options->list, "needs");
}

static gboolean
read_from(const char *text, guint32 *day, GError **error)
{
    g_autoptr(GError) own = NULL;
    *day = batch_today();
    if (!text || days_read_date(text, day, &own))
        return TRUE;
    g_propagate_prefixed_error(error, g_steal_pointer(&own), "--from: ");
    return FALSE;
}

// Minutes, or -1 without an alarm.
static gboolean
read_alarm(const Book *book, const char *text, int *minutes, GError **error)
{
    UnitSet units = book_units(book);
    g_autoptr(GError) own = NULL;
    double seconds = 0;
    *minutes = -1;
    if (!text)
        return TRUE;
    if (!quantity_parse(QUANTITY_TIME, text, &units, &seconds, &own)) {
        g_propagate_prefixed_error(error, g_steal_pointer(&own), "--alarm: ");
        return FALSE;
    }
    if (!(seconds >= 0 && seconds <= MOST_ALARM))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "--alarm",
                               _("give a time from 0 to a year"), _("\"%s\" is out of range"),
                               text);
    *minutes = (int)floor(seconds / 60.0 + 0.5);
    return TRUE;
}

// A message of the batch names the job or the field; the book's name goes before it.
static BatchPlan *
make_batch(const Book *book, const char *file, const Options *options, const Tables *tables,
           guint32 first, GError **error)
{
    g_autoptr(GError) own = NULL;
    BatchPlan *batch = batch_plan_make(book, (const char *const *)options->jobs, tables, NULL,
                                       first, NULL, &own);
    if (!batch)
        g_propagate_prefixed_error(error, g_steal_pointer(&own), "%s: ", file);
    return batch;
}

static int
explain_one(const BatchPlan *batch, const char *id)
{
    const Figure *figure = figure_list_find(batch->figures, id);
    if (!figure)
        return cli_usage(_("session: no figure called \"%s\"; session --json lists them"), id);
    g_autofree char *text = explain_all(batch->figures, figure, &batch->units);
    g_print("%s", text);
    return CLI_DONE;
}

// A job that is not planned to its end stops no other, so it is told beside them.
static void
tell_left(const BatchPlan *batch, const char *file)
{
    for (guint i = 0; i < batch->n_jobs; i++) {
        const BatchJob *job = &batch->jobs[i];
        if (!job->why)
            continue;
        g_autofree char *end = report_batch_end(job);
        g_printerr("flaskwright-cli: %s: %s: %s\n", file, job->id, end);
    }
}

static gboolean
give(const BatchPlan *batch, const char *file, const Options *options, int alarm, GError **error)
{
    if (options->to)
        return report_batch_write(batch, file, alarm, lists_needs(options), options->to,
                                  options->replace, error);
    g_autofree char *text = options->json ? report_batch_json(batch) : report_batch_text(batch);
    if (options->json)
        printf("%s\n", text); // not g_print(), which would write it in the charset of the locale
    else
        g_print("%s", text);
    return TRUE;
}

// What can be seen to be wrong before the work is done.
static gboolean
check_early(const Book *book, const Options *options, int *alarm, GError **error)
{
    return read_alarm(book, options->alarm, alarm, error) &&
           (!options->to ||
            report_batch_check(options->to, lists_needs(options), options->replace, error));
}

static int
run(const char *file, const Options *options)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    guint32 first;
    int alarm;
    g_autoptr(Book) book = read_from(options->from, &first, &error)
                               ? store_read(file, tables, &error)
                               : NULL;
    gboolean sound = book && check_early(book, options, &alarm, &error);
    g_autoptr(BatchPlan) batch = sound ? make_batch(book, file, options, tables, first, &error)
                                       : NULL;
    if (batch)
        tell_left(batch, file);
    if (batch && options->explain)
        return explain_one(batch, options->explain);
    if (!batch || !give(batch, file, options, alarm, &error))
        return cli_fail(error);
    return options->strict && any_check_fails(batch) ? CLI_CHECK_FAILS : CLI_DONE;
}

static int
check_usage(const Options *options)
{
    if (options->list && !g_str_equal(options->list, "needs") &&
        !g_str_equal(options->list, "sessions"))
        return cli_usage(_("session: no list called \"%s\"; use sessions or needs"), options->list);
    if (options->list && !options->to)
        return cli_usage("%s", _("session: --list goes with --to FILE.csv"));
    if (options->alarm && !(options->to && g_str_has_suffix(options->to, ".ics")))
        return cli_usage("%s", _("session: --alarm goes with --to FILE.ics"));
    if ((options->json && options->to) || (options->explain && (options->json || options->to)))
        return cli_usage("%s", _("session: choose between --json, --explain and --to"));
    return CLI_DONE;
}

int
cli_session(int argc, char **argv)
{
    Options o = {0};
    gboolean finished;
    const GOptionEntry entries[] = {
        {"job", 'j', 0, G_OPTION_ARG_STRING_ARRAY, &o.jobs,
         N_("Only this job; may be given again; all jobs otherwise"), "ID"},
        {"from", 0, 0, G_OPTION_ARG_STRING, &o.from,
         N_("The first day there can be a session; today otherwise"), "DATE"},
        {"to", 'o', 0, G_OPTION_ARG_FILENAME, &o.to,
         N_("File to write: .ics for calendars, .csv for spreadsheets"), "FILE"},
        {"list", 0, 0, G_OPTION_ARG_STRING, &o.list,
         N_("What a .csv lists: sessions (the default) or needs"), "WHAT"},
        {"alarm", 0, 0, G_OPTION_ARG_STRING, &o.alarm,
         N_("Have the calendar remind of each session so long before it"), "TIME"},
        {"json", 0, 0, G_OPTION_ARG_NONE, &o.json, N_("Print it as JSON, in SI"), NULL},
        {"explain", 0, 0, G_OPTION_ARG_STRING, &o.explain,
         N_("Explain one figure instead, by its id"), "FIGURE"},
        {"replace", 0, 0, G_OPTION_ARG_NONE, &o.replace, N_("Overwrite the file if it exists"),
         NULL},
        {"strict", 0, 0, G_OPTION_ARG_NONE, &o.strict,
         N_("Exit with 3 when a job is late, left out or not finished"), NULL},
        {NULL}};
    int code = cli_options("session", entries, &argc, &argv, 1, 1, &finished);
    if (code == CLI_DONE && !finished)
        code = check_usage(&o);
    if (code == CLI_DONE && !finished)
        code = run(argv[1], &o);
    g_strfreev(o.jobs);
    g_free(o.from);
    g_free(o.to);
    g_free(o.list);
    g_free(o.alarm);
    g_free(o.explain);
    return code;
}
