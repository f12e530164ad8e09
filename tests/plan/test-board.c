// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of the patterns to print against what is printed: the meshes made with the printer's
// finest detail are measured, and their files' bytes counted.
#include "make.h"

#include "board/board.h"
#include "book/inputs.h"
#include "solid/measure.h"

typedef struct {
    Tables *tables;
    char *folder, *mesh;
    Book *book;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    f->mesh = make_mesh_file(f->folder, "plate.stl", make_plate());
    g_autoptr(Book) plain = make_book(f->mesh, f->tables);
    g_autoptr(Book) infill = make_changed(plain, "printer.fill", "23 %", f->tables);
    f->book = make_changed(infill, "printer.rate", "0.71 cm3/min", f->tables);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    book_unref(f->book);
    tables_free(f->tables);
    g_free(f->folder);
    g_free(f->mesh);
}

static double
value_of(const Plan *plan, const char *id)
{
    const Figure *figure = plan_figure(plan, id);
    g_assert_nonnull(figure);
    g_assert_cmpint(figure->state, !=, FIGURE_UNKNOWN);
    return figure->value;
}

static BoardResult *
print_all(const Fixture *f, const Book *book, const Plan *plan)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Inputs) inputs = inputs_resolve(book, "part", f->tables, NULL, board_reads);
    BoardOptions options;
    g_assert_true(board_options(inputs, &options, &error));
    BoardResult *printed = board_make(&options, plan_pattern(plan), plan_mould(plan), NULL, &error);
    g_assert_no_error(error);
    return printed;
}

static void
check_printed(const Fixture *f, const Book *book)
{
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    g_autoptr(BoardResult) printed = print_all(f, book, plan);
    double volume[BOARD_PIECE_KINDS] = {0}, all = 0, shell = 0, most = 0;
    guint count = 0;
    g_assert_nonnull(plan_board(plan));
    g_assert_cmpuint(plan_board(plan)->n_pieces, ==, printed->n_pieces);
    for (guint i = 0; i < printed->n_pieces; i++) {
        const BoardPiece *piece = &printed->pieces[i];
        SolidMeasure m = solid_measure(piece->mesh);
        g_assert_cmpstr(plan_board(plan)->pieces[i].name, ==, piece->name);
        g_assert_cmpuint(plan_board(plan)->pieces[i].count, ==, piece->count);
        volume[piece->kind] += piece->count * m.volume;
        all += piece->count * m.volume;
        shell += piece->count * fmin(m.volume, m.area * 0.0012);
        most = fmax(most, 84 + 50.0 * piece->mesh->n_triangles);
        count += piece->count;
    }
    g_assert_cmpfloat(value_of(plan, "board.pieces"), ==, count);
    check_close(value_of(plan, "board.pattern_volume"), volume[BOARD_PIECE_PATTERN], 0.005,
                "measure of the meshes");
    check_close(value_of(plan, "board.plate_volume"), volume[BOARD_PIECE_BOARD], 0.005,
                "measure of the meshes");
    check_close(value_of(plan, "board.gating_volume"),
                volume[BOARD_PIECE_RUNNER] + volume[BOARD_PIECE_SPRUE] + volume[BOARD_PIECE_BASIN],
                0.005, "measure of the meshes");
    check_close(value_of(plan, "board.volume"), all, 0.005, "measure of the meshes");
    double filament = shell + 0.23 * (all - shell);
    check_close(value_of(plan, "board.filament_mass"), 1240 * filament, 0.005,
                "1.2 mm of shell, 23 % of the rest");
    check_close(value_of(plan, "board.print_time"), filament / (0.71e-6 / 60), 0.005,
                "0.71 cm3 a minute");
    check_close(plan_board(plan)->mass, value_of(plan, "board.filament_mass"), 1e-9,
                "sum of the pieces");
    g_assert_cmpfloat(value_of(plan, "board.file_size") * 1e6, >=, most);
    g_assert_cmpint(plan_figure(plan, "board.file_size")->state, ==, FIGURE_HOLDS);
    g_assert_cmpint(plan_figure(plan, "board.bed_share")->state, ==, FIGURE_HOLDS);
    g_assert_cmpint(plan_figure(plan, "board.thinnest")->state, ==, FIGURE_HOLDS);
}

static void
test_printed(Fixture *f, gconstpointer data)
{
    check_printed(f, f->book);
}

static void
test_small_bed(Fixture *f, gconstpointer data)
{
    g_autoptr(Book) narrow = make_changed(f->book, "printer.bed_x", "131 mm", f->tables);
    g_autoptr(Book) small = make_changed(narrow, "printer.bed_y", "117 mm", f->tables);
    check_printed(f, small);
}

// However fine the printer, the figure keeps to the limit and says why.
static void
test_fine(Fixture *f, gconstpointer data)
{
    g_autoptr(Book) thick = make_changed(f->book, "job.allowance", "7 mm", f->tables);
    g_autoptr(Book) fine = make_changed(thick, "printer.detail", "0.1 mm", f->tables);
    g_autoptr(Plan) plan = make_plan(fine, "part", f->tables, NULL);
    const Figure *size = plan_figure(plan, "board.file_size");
    g_assert_cmpint(size->state, ==, FIGURE_HOLDS);
    check_close(size->value, 84e-6 + 50e-6 * 390000, 1e-12, "a binary STL of the most facets");
    g_assert_nonnull(size->note);
    g_autoptr(Book) coarse = make_changed(f->book, "printer.detail", "4.9 mm", f->tables);
    g_autoptr(Plan) rough = make_plan(coarse, "part", f->tables, NULL);
    check_close(plan_figure(rough, "board.thinnest")->limit, 0.0098, 1e-9, "two facets");
}

// A flask the casting does not fit: no list, and every figure says what is missing.
static void
test_no_cavity(Fixture *f, gconstpointer data)
{
    g_autoptr(Book) low = make_changed(f->book, "flask.length", "71 mm", f->tables);
    g_autoptr(Plan) plan = make_plan(low, "part", f->tables, NULL);
    g_assert_cmpuint(plan_mould(plan)->n_cavities, ==, 0);
    g_assert_null(plan_board(plan));
    const FigureList *list = plan_stage_figures(plan, "board");
    guint unknown = 0;
    for (guint i = 0; i < figure_list_size(list); i++) {
        const Figure *figure = figure_list_at(list, i);
        if (figure->given)
            continue;
        g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
        g_assert_cmpstr(figure->missing, ==, "mould.cavities");
        unknown++;
    }
    g_assert_cmpuint(unknown, >=, 14);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/plan/board/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("printed", test_printed);
    ADD("small-bed", test_small_bed);
    ADD("fine", test_fine);
    ADD("no-cavity", test_no_cavity);
    return g_test_run();
}
