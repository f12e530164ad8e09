// SPDX-License-Identifier: GPL-3.0-or-later
// `plan`: the whole plan for one job, as text or JSON.
#include <glib/gi18n-lib.h>
#include <stdio.h>

#include "book/store.h"
#include "cli/cli.h"
#include "figure/explain.h"
#include "report/json.h"
#include "report/text.h"

static gboolean
any_check_fails(const Plan *plan)
{
    for (guint i = 0; i < plan_figure_count(plan); i++)
        if (plan_figure_at(plan, i)->state == FIGURE_FAILS)
            return TRUE;
    return FALSE;
}

static int
explain_one(const Plan *plan, const char *id)
{
    const Figure *figure = plan_figure(plan, id);
    if (!figure)
        return cli_usage(_("plan: no figure called \"%s\"; plan --json lists them"), id);
    UnitSet units = plan_units(plan);
    g_autofree char *text = explain_all(plan_figures(plan), figure, &units);
    g_print("%s", text);
    for (guint i = 0; i < figure->n_inputs; i++) {
        const Figure *input = plan_figure(plan, figure->inputs[i].id);
        g_autofree char *value = input ? explain_value(input, &units) : NULL;
        g_print("    %-28s %s\n", figure->inputs[i].id, value ? value : "–");
    }
    return CLI_DONE;
}

static void
print_findings(const PartResult *part)
{
    if (!part->findings[0])
        return;
    g_print("\n%s\n", _("The part's mesh"));
    for (char **one = part->findings; *one; one++)
        g_print("  %s\n", *one);
}

static void
print_other_jobs(const Book *book, const char *job)
{
    for (guint i = 0; i < book_job_count(book); i++)
        if (!g_str_equal(book_job_id(book, i), job))
            g_print(_("Another job of this book: --job %s\n"), book_job_id(book, i));
}

int
cli_plan(int argc, char **argv)
{
    g_autofree char *asked = NULL, *explain = NULL;
    gboolean json = FALSE, strict = FALSE, finished;
    const GOptionEntry entries[] = {
        {"job", 'j', 0, G_OPTION_ARG_STRING, &asked, N_("Which job; the first otherwise"), "ID"},
        {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("Print every figure as JSON, in SI"), NULL},
        {"explain", 0, 0, G_OPTION_ARG_STRING, &explain,
         N_("Explain one figure instead, by its id"), "FIGURE"},
        {"strict", 0, 0, G_OPTION_ARG_NONE, &strict, N_("Exit with 3 when a check fails"), NULL},
        {NULL}};
    int code = cli_options("plan", entries, &argc, &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    g_autoptr(Book) book = store_read(argv[1], tables, &error);
    const char *job = book ? cli_job(book, argv[1], asked, &error) : NULL;
    g_autoptr(Plan) plan = job ? plan_make(book, job, tables, NULL, NULL, &error) : NULL;
    if (!plan)
        return cli_fail(error);
    if (explain)
        return explain_one(plan, explain);
    gboolean usable = cli_usable(plan, argv[1], &error);
    gboolean has_part = plan_part(plan) != NULL;
    if (has_part && json) {
        g_autofree char *text = report_json(plan);
        printf("%s\n", text); // not g_print(), which would write it in the charset of the locale
    } else if (has_part) {
        g_autofree char *text = report_text(plan);
        g_print("%s", text);
        print_findings(plan_part(plan));
        print_other_jobs(book, job);
    }
    if (!usable)
        return cli_fail(error);
    return strict && any_check_fails(plan) ? CLI_CHECK_FAILS : CLI_DONE;
}
