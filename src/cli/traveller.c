// SPDX-License-Identifier: GPL-3.0-or-later
// `traveller`: the sheets that go with a job through the shop, as a PDF.
#include <glib/gi18n-lib.h>

#include "book/store.h"
#include "cli/cli.h"
#include "report/traveller.h"

static gboolean
write_sheets(const Book *book, const char *job, const char *file, const Tables *tables,
             const char *to, gboolean replace, GError **error)
{
    g_autoptr(Plan) plan = plan_make(book, job, tables, NULL, NULL, error);
    gboolean usable = plan && cli_usable(plan, file, error);
    g_autoptr(Sheet) sheet = usable ? traveller_sheet(plan) : NULL;
    return sheet && sheet_write(sheet, to, replace, error);
}

int
cli_traveller(int argc, char **argv)
{
    g_autofree char *asked = NULL, *to = NULL;
    gboolean replace = FALSE, finished;
    const GOptionEntry entries[] = {
        {"job", 'j', 0, G_OPTION_ARG_STRING, &asked, N_("Which job; the first otherwise"), "ID"},
        {"to", 'o', 0, G_OPTION_ARG_FILENAME, &to, N_("File to write: .pdf"), "FILE"},
        {"replace", 0, 0, G_OPTION_ARG_NONE, &replace, N_("Overwrite the file if it exists"), NULL},
        {NULL}};
    int code = cli_options("traveller", entries, &argc, &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    if (!to)
        return cli_usage("%s", _("traveller: say where to, with --to FILE"));
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    g_autoptr(Book) book = store_read(argv[1], tables, &error);
    const char *job = book ? cli_job(book, argv[1], asked, &error) : NULL;
    if (!job || !write_sheets(book, job, argv[1], tables, to, replace, &error))
        return cli_fail(error);
    return CLI_DONE;
}
