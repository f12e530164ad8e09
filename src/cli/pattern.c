// SPDX-License-Identifier: GPL-3.0-or-later
// `pattern`: the pieces to print for a job, one file each, and a list of them.
#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "board/files.h"
#include "book/store.h"
#include "cli/cli.h"
#include "plan/patterns.h"
#include "report/pieces.h"

static BoardResult *
make_boards(const Book *book, const char *job, const Tables *tables, const char *file,
            char ***found, GError **error)
{
    g_autoptr(Plan) plan = plan_make_mould(book, job, tables, NULL, error);
    if (!plan || !cli_usable(plan, file, error))
        return NULL;
    BoardOptions options;
    if (!plan_pattern_options(plan, tables, file, &options, error))
        return NULL;
    *found = plan_pattern_words(plan);
    return board_make(&options, plan_pattern(plan), plan_mould(plan), NULL, error);
}

static gboolean
write_pieces(const BoardResult *boards, const char *folder, BoardFormat format, gboolean replace,
             GError **error)
{
    g_auto(GStrv) there = replace ? NULL : board_files_there(boards, folder, format);
    if (there && there[0])
        return base_error_set(error, BASE_ERROR_FILE, there[0], NULL,
                              _("the file is already there"),
                              _("choose another folder, or overwrite with --replace"));
    return board_files_write(boards, folder, format, replace, NULL, error);
}

static void
print_list(const BoardResult *boards, const UnitSet *units)
{
    g_autofree char *pieces = report_pieces(boards, units, 0);
    g_autofree char *detail = quantity_format(QUANTITY_LENGTH, boards->detail, units);
    g_print("%s", pieces);
    g_print(_("Triangles of the half patterns: about %s\n"), detail);
}

int
cli_pattern(int argc, char **argv)
{
    g_autofree char *asked = NULL, *to = NULL, *format = NULL;
    gboolean replace = FALSE, finished;
    const GOptionEntry entries[] = {
        {"job", 'j', 0, G_OPTION_ARG_STRING, &asked, N_("Which job; the first otherwise"), "ID"},
        {"to", 'o', 0, G_OPTION_ARG_FILENAME, &to, N_("Folder to write to; made if need be"),
         "FOLDER"},
        {"format", 0, 0, G_OPTION_ARG_STRING, &format, N_("stl or 3mf"), "FORMAT"},
        {"replace", 0, 0, G_OPTION_ARG_NONE, &replace, N_("Overwrite files that exist"), NULL},
        {NULL}};
    int code = cli_options("pattern", entries, &argc, &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    if (!to)
        return cli_usage("%s", _("pattern: say where to, with --to FOLDER"));
    BoardFormat kind = BOARD_STL;
    if (format && !board_format_find(format, &kind))
        return cli_usage(_("pattern: no format called \"%s\"; use stl or 3mf"), format);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    g_autoptr(Book) book = store_read(argv[1], tables, &error);
    const char *job = book ? cli_job(book, argv[1], asked, &error) : NULL;
    g_auto(GStrv) found = NULL;
    g_autoptr(BoardResult) boards = job ? make_boards(book, job, tables, argv[1], &found, &error)
                                        : NULL;
    if (!boards || !write_pieces(boards, to, kind, replace, &error))
        return cli_fail(error);
    UnitSet units = book_units(book);
    for (char **one = found; *one; one++)
        g_print("%s\n", *one);
    print_list(boards, &units);
    return CLI_DONE;
}
