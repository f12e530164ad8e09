// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces as files: one a piece, all or none; existing files, folders in the way, a stop. And
// what a piece that was cut says of it.
#include "board/files.h"

#include <glib/gstdio.h>
#include <string.h>

#include "bench.h"

typedef struct {
    PatternResult *pattern;
    MouldLayout *bare;
    BoardResult *boards;
    char *folder;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 60);
    f->bare = bench_bare(f->pattern);
    BoardOptions options = bench_options();
    options.bed = vec3(0.131, 0.117, 0.15); // smaller than the flask of 214 by 163 mm
    f->boards = bench_make(&options, f->pattern, f->bare);
    f->folder = check_folder();
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    board_result_unref(f->boards);
    mould_layout_unref(f->bare);
    pattern_result_unref(f->pattern);
    check_folder_remove(f->folder);
    g_free(f->folder);
}

// All entries, hidden ones too.
static guint
count_entries(const char *folder)
{
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    guint n = 0;
    while (dir && g_dir_read_name(dir))
        n++;
    return n;
}

static void
test_writes_all(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Progress) progress = progress_new();
    g_autofree char *deep = g_build_filename(f->folder, "new", "folder", NULL);
    g_assert_true(board_files_write(f->boards, deep, BOARD_STL, FALSE, progress, &error));
    g_assert_no_error(error);
    check_close(progress_get_fraction(progress), 1, 1e-6, "all is written");
    g_assert_cmpuint(count_entries(deep), ==, f->boards->n_pieces);
    for (guint i = 0; i < f->boards->n_pieces; i++) {
        g_autofree char *base = g_strdup_printf("%s.stl", f->boards->pieces[i].name);
        g_autofree char *path = g_build_filename(deep, base, NULL);
        GStatBuf state;
        g_assert_cmpint(g_stat(path, &state), ==, 0);
        g_assert_cmpint(state.st_size, ==,
                        84 + 50 * (goffset)f->boards->pieces[i].mesh->n_triangles);
    }
    g_assert_true(board_files_write(f->boards, deep, BOARD_3MF, FALSE, NULL, &error));
    g_assert_no_error(error);
    g_assert_cmpuint(count_entries(deep), ==, 2 * f->boards->n_pieces);
}

static void
test_existing(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    const BoardPiece *last = &f->boards->pieces[f->boards->n_pieces - 1];
    g_autofree char *base = g_strdup_printf("%s.stl", last->name), *kept = NULL;
    g_autofree char *mine = g_build_filename(f->folder, base, NULL);
    g_file_set_contents(mine, "mine", -1, NULL);
    g_auto(GStrv) there = board_files_there(f->boards, f->folder, BOARD_STL);
    g_assert_cmpuint(g_strv_length(there), ==, 1);
    g_assert_cmpstr(there[0], ==, mine);
    g_auto(GStrv) others = board_files_there(f->boards, f->folder, BOARD_3MF);
    g_assert_cmpuint(g_strv_length(others), ==, 0);
    g_assert_false(board_files_write(f->boards, f->folder, BOARD_STL, FALSE, NULL, &error));
    g_assert_nonnull(strstr(error->message, mine));
    check_error(error, BASE_ERROR_FILE, "already there");
    g_assert_cmpuint(count_entries(f->folder), ==, 1);
    g_file_get_contents(mine, &kept, NULL, NULL);
    g_assert_cmpstr(kept, ==, "mine");
    g_assert_true(board_files_write(f->boards, f->folder, BOARD_STL, TRUE, NULL, &error));
    g_assert_no_error(error);
    g_assert_cmpuint(count_entries(f->folder), ==, f->boards->n_pieces);
}

static void
test_refuses(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *base = g_strdup_printf("%s.3mf", f->boards->pieces[0].name);
    g_autofree char *way = g_build_filename(f->folder, base, NULL);
    g_autofree char *file = g_build_filename(f->folder, "file", NULL);
    g_mkdir(way, 0777);
    g_assert_false(board_files_write(f->boards, f->folder, BOARD_3MF, TRUE, NULL, &error));
    check_error(error, BASE_ERROR_FILE, "a folder stands where");
    g_file_set_contents(file, "no folder", -1, NULL);
    g_assert_false(board_files_write(f->boards, file, BOARD_3MF, TRUE, NULL, &error));
    check_error(error, BASE_ERROR_FILE, "the folder cannot be made");
    g_assert_cmpuint(count_entries(f->folder), ==, 2);
}

static void
test_stop(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_false(board_files_write(f->boards, f->folder, BOARD_STL, FALSE, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_assert_cmpuint(count_entries(f->folder), ==, 0);
}

// A piece that cannot be written: the message names the file asked for, and nothing is left.
static void
test_bad_piece(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    BoardPiece *last = &f->boards->pieces[f->boards->n_pieces - 1];
    g_autofree char *base = g_strdup_printf("%s.stl", last->name);
    g_autofree char *path = g_build_filename(f->folder, base, NULL);
    last->mesh->vertices[0].x = NAN;
    g_assert_false(board_files_write(f->boards, f->folder, BOARD_STL, FALSE, NULL, &error));
    g_assert_true(g_str_has_prefix(error->message, path));
    check_error(error, BASE_ERROR_VALUE, "not a number");
    g_assert_cmpuint(count_entries(f->folder), ==, 0);
}

// The boards are 214 and 163 mm and their rims, on a bed of 131 by 117 mm.
static void
test_cut_words(Fixture *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    int nx = (int)ceil((0.214 + 2 * o.rim) / 0.131), ny = (int)ceil((0.163 + 2 * o.rim) / 0.117);
    g_autofree char *along = g_strdup_printf("(%d along x, %d along y)", nx, ny);
    guint seen = 0;
    for (guint i = 0; i < f->boards->n_pieces; i++) {
        const BoardPiece *piece = &f->boards->pieces[i];
        g_autofree char *words = board_piece_cut(piece);
        if (piece->kind != BOARD_PIECE_BOARD || piece->side != BOARD_DRAG)
            continue;
        seen++;
        g_autofree char *part = g_strdup_printf("Part %u of %d", seen, nx * ny);
        g_assert_nonnull(words);
        g_assert_nonnull(strstr(words, part));
        g_assert_nonnull(strstr(words, along));
        g_assert_nonnull(strstr(words, piece->joints > 0 ? "Dowels" : "Glue"));
    }
    g_assert_cmpuint(seen, ==, nx * ny);
    BoardOptions large = bench_options();
    large.bed = vec3(0.51, 0.52, 0.53);
    g_autoptr(BoardResult) whole = bench_make(&large, f->pattern, f->bare);
    for (guint i = 0; i < whole->n_pieces; i++)
        g_assert_null(board_piece_cut(&whole->pieces[i]));
}

static void
test_formats(void)
{
    BoardFormat format = BOARD_STL;
    g_assert_true(board_format_find("3mf", &format));
    g_assert_cmpint(format, ==, BOARD_3MF);
    g_assert_cmpstr(board_format_suffix(format), ==, "3mf");
    g_assert_false(board_format_find("obj", &format));
    g_assert_false(board_format_find(NULL, &format));
    g_assert_cmpint(format, ==, BOARD_3MF);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/board/files/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("writes-all", test_writes_all);
    ADD("existing", test_existing);
    ADD("refuses", test_refuses);
    ADD("stop", test_stop);
    ADD("bad-piece", test_bad_piece);
    ADD("cut-words", test_cut_words);
    g_test_add_func("/board/files/formats", test_formats);
    return g_test_run();
}
