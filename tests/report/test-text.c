// SPDX-License-Identifier: GPL-3.0-or-later
// The plan as text: every stage, aligned, complete, and fit for a person.
#include "../plan/make.h"

#include <string.h>

#include "report/text.h"

static Plan *
plan_mesh(Bare *f, SolidMesh *mesh, const char *lengths)
{
    g_autofree char *path = make_mesh_file(f->folder, "part.stl", mesh);
    g_autoptr(Book) plain = make_book(path, f->tables);
    g_autoptr(Book) large = make_changed(plain, "crucible.rating", "31 kg", f->tables);
    g_autoptr(Book) book = make_changed(large, "shop.lengths", lengths, f->tables);
    return make_plan(book, "part", f->tables, NULL);
}

static const char *
find_line(char **lines, const char *start)
{
    for (guint i = 0; lines[i]; i++)
        if (g_str_has_prefix(lines[i], start))
            return lines[i];
    g_error("no line starts with \"%s\"", start);
}

// A figure's line. Labels are no keys, so it is looked for in its stage only.
static const char *
find_figure(char **lines, const Figure *figure)
{
    g_autofree char *start = g_strdup_printf("  %s  ", figure->spec->label);
    return find_line(lines, start);
}

// Every number ends in the same column: the character there is no space, the next one is.
static void
check_column(const char *line, glong *column, const Figure *figure, const UnitSet *units)
{
    g_autofree char *number = NULL, *unit = NULL;
    quantity_format_parts(figure->spec->kind, figure->value, units, &number, &unit);
    g_autofree char *tail = g_strdup_printf(" %s", number);
    if (*column == 0) {
        const char *at = strstr(line, tail);
        g_assert_nonnull(at);
        *column = g_utf8_pointer_to_offset(line, at + strlen(tail));
    }
    g_test_message("%s", line);
    g_assert_cmpint(g_utf8_strlen(line, -1), >=, *column);
    const char *end = g_utf8_offset_to_pointer(line, *column);
    g_assert_true(*end == ' ' || *end == '\0');
    g_assert_true((gsize)(end - line) > strlen(tail) &&
                  strncmp(end - strlen(tail), tail, strlen(tail)) == 0);
}

static void
check_text(const Plan *plan)
{
    UnitSet units = plan_units(plan);
    g_autofree char *text = report_text(plan);
    g_assert_true(g_utf8_validate(text, -1, NULL));
    g_assert_null(strstr(text, "nan"));
    g_assert_null(strstr(text, "(null)"));
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    g_assert_true(g_str_has_prefix(lines[0], "Part, "));
    for (guint i = 0; i < plan_stage_count(plan); i++)
        g_assert_true(g_strv_contains((const char *const *)lines, plan_stage_info(plan, i).label));
    glong column = 0;
    for (guint i = 0; i < plan_figure_count(plan); i++) {
        const Figure *figure = plan_figure_at(plan, i);
        const char *line = find_figure(lines, figure);
        if (figure->state == FIGURE_UNKNOWN)
            g_assert_nonnull(strstr(line, "  unknown: "));
        else if (!figure->text)
            check_column(line, &column, figure, &units);
        if (figure->state == FIGURE_FAILS)
            g_assert_nonnull(strstr(line, " fails "));
    }
    for (guint i = 0; lines[i]; i++)
        g_assert_false(g_str_has_suffix(lines[i], " "));
    g_assert_true(g_strv_contains((const char *const *)lines, "Cautions"));
}

static void
test_whole(Bare *f, gconstpointer data)
{
    g_autoptr(Plan) plan = plan_mesh(f, make_plate(), "mm");
    check_text(plan);
    // Every piece to print has its line, with its number behind its kind.
    g_autofree char *text = report_text(plan);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    const BoardResult *boards = plan_board(plan);
    g_assert_cmpuint(boards->n_pieces, >, 4);
    for (guint i = 0; i < boards->n_pieces; i++) {
        const BoardPiece *piece = &boards->pieces[i];
        g_autofree char *start = g_strdup_printf("    %s ", piece->name);
        g_autofree char *count = g_strdup_printf(" %u × ", piece->count);
        const char *line = find_line(lines, start);
        g_assert_nonnull(strstr(line, board_kind_label(piece->kind)));
        g_assert_nonnull(strstr(line, count));
    }
}

static void
test_inches(Bare *f, gconstpointer data)
{
    g_autoptr(Plan) plan = plan_mesh(f, make_plate(), "in");
    check_text(plan);
    g_autofree char *text = report_text(plan);
    char *notes = strstr(text, "\nLook at");
    if (notes)
        *notes = '\0';
    g_assert_null(strstr(text, " mm"));
}

static void
test_open_mesh(Bare *f, gconstpointer data)
{
    g_autoptr(Plan) plan = plan_mesh(f, make_open_box(), "mm");
    check_text(plan);
    g_autofree char *text = report_text(plan);
    g_assert_nonnull(strstr(text, "\nLook at\n"));
}

static void
test_no_file(Bare *f, gconstpointer data)
{
    g_autofree char *path = g_build_filename(f->folder, "gone.stl", NULL);
    g_autoptr(Book) book = make_book(path, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    check_text(plan);
    g_autofree char *text = report_text(plan);
    g_assert_nonnull(strstr(text, "gone.stl"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/report/text/" name, Bare, NULL, bare_set_up, function, bare_tear_down)
    ADD("whole", test_whole);
    ADD("inches", test_inches);
    ADD("open-mesh", test_open_mesh);
    ADD("no-file", test_no_file);
    return g_test_run();
}
