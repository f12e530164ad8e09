// SPDX-License-Identifier: GPL-3.0-or-later
// `pattern`: the pieces to print for a job, one file each, and a list of them.
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "base/error.h"
#include "board/board.h"
#include "book/store.h"
#include "cli/cli.h"
#include "report/pieces.h"
#include "solid/write.h"

// Why a plan has no patterns: the first stage that says so.
static BoardResult *
fail_plan(const Plan *plan, const char *file, GError **error)
{
    const char *why = NULL;
    for (guint i = 0; i < plan_stage_count(plan) && !why; i++)
        why = plan_stage_info(plan, i).error;
    const Figure *closed = plan_figure(plan, "part.closed");
    if (!why && closed && closed->state == FIGURE_FAILS) {
        base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                       closed->note ? closed->note : _("the part is no closed solid"), NULL);
        return NULL;
    }
    base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                   why ? why : _("the plan has no casting in a flask"),
                   why ? NULL : _("see flaskwright-cli plan for what is missing"));
    return NULL;
}

// What is odd about the part and what was done about it, and what its pattern cannot hold.
static char **
find_words(const Plan *plan)
{
    g_autoptr(GStrvBuilder) all = g_strv_builder_new();
    g_strv_builder_addv(all, (const char **)plan_part(plan)->findings);
    static const char *const ids[] = {"pattern.skin_outside", "pattern.peg_slenderness"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++) {
        const Figure *figure = plan_figure(plan, ids[i]);
        if (figure && figure->state == FIGURE_FAILS && figure->note)
            g_strv_builder_add(all, figure->note);
    }
    return g_strv_builder_end(all);
}

static BoardResult *
make_boards(const Book *book, const char *job, const Tables *tables, const char *file,
            char ***found, GError **error)
{
    g_autoptr(Plan) plan = plan_make_mould(book, job, tables, NULL, error);
    if (!plan)
        return NULL;
    if (!plan_pattern(plan) || !plan_mould(plan))
        return fail_plan(plan, file, error);
    g_autoptr(Inputs) inputs = inputs_resolve(book, job, tables, NULL, board_reads);
    BoardOptions options;
    if (!board_options(inputs, &options, error))
        return NULL;
    *found = find_words(plan);
    return board_make(&options, plan_pattern(plan), plan_mould(plan), NULL, error);
}

static char *
path_of(const BoardPiece *piece, const char *folder, const char *format)
{
    g_autofree char *base = g_strdup_printf("%s.%s", piece->name, format);
    return g_build_filename(folder, base, NULL);
}

// Everything that would stop the writing is looked at before the first file.
static gboolean
check_folder(const BoardResult *boards, const char *folder, const char *format, gboolean replace,
             GError **error)
{
    if (g_mkdir_with_parents(folder, 0777) != 0)
        return base_error_set(error, BASE_ERROR_FILE, folder, NULL, _("the folder cannot be made"),
                              _("choose another"));
    for (guint i = 0; i < boards->n_pieces && !replace; i++) {
        g_autofree char *path = path_of(&boards->pieces[i], folder, format);
        if (g_file_test(path, G_FILE_TEST_EXISTS))
            return base_error_set(error, BASE_ERROR_FILE, path, NULL,
                                  _("the file is already there"),
                                  _("choose another folder, or overwrite with --replace"));
    }
    return TRUE;
}

static gboolean
write_pieces(const BoardResult *boards, const char *folder, const char *format, gboolean replace,
             GError **error)
{
    if (!check_folder(boards, folder, format, replace, error))
        return FALSE;
    for (guint i = 0; i < boards->n_pieces; i++) {
        const BoardPiece *piece = &boards->pieces[i];
        g_autofree char *path = path_of(piece, folder, format);
        gboolean ok = g_str_equal(format, "3mf")
                          ? solid_write_3mf(piece->mesh, piece->name, path, replace, error)
                          : solid_write_stl(piece->mesh, path, replace, error);
        if (!ok)
            return FALSE;
    }
    return TRUE;
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
    if (!format)
        format = g_strdup("stl");
    if (!g_str_equal(format, "stl") && !g_str_equal(format, "3mf"))
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
    if (!boards || !write_pieces(boards, to, format, replace, &error))
        return cli_fail(error);
    UnitSet units = book_units(book);
    for (char **one = found; *one; one++)
        g_print("%s\n", *one);
    print_list(boards, &units);
    return CLI_DONE;
}
