// SPDX-License-Identifier: GPL-3.0-or-later
// What the command line cannot use: one line that says why, status 1, and no file made or touched.
// And what it can use though much is wrong with it.
#include "run.h"

#include <glib/gstdio.h>
#include <string.h>

static void
expect(Place *f, const char *line, int status)
{
    Run run = run_expect(f->folder, line, status);
    run_clear(&run);
}

// A mesh that cannot be used is refused alike by `part`, by `new`, and by `plan` of a book that
// names it.
static void
check_bad_mesh(Place *f, const char *name, const char *words)
{
    g_autofree char *part = g_strdup_printf("part %s --unit mm", name);
    g_autofree char *new = g_strdup_printf("new n.castbook --mesh %s --unit mm", name);
    g_autofree char *book = g_strdup_printf(
        "{\"format\": \"castbook\", \"version\": 1, \"shop\": {}, \"jobs\": [{\"id\": \"a\", "
        "\"mesh\": \"%s\", \"mesh_unit\": \"mm\"}]}",
        name);
    run_write(f->folder, "names-it.castbook", book, -1);
    run_refused(f->folder, part, words);
    run_refused(f->folder, part, name);
    run_refused(f->folder, new, words);
    run_refused(f->folder, "plan names-it.castbook", words);
    run_refused(f->folder, "plan names-it.castbook --json", name);
    run_refused(f->folder, "sketch names-it.castbook --to x.svg", "");
    run_refused(f->folder, "pattern names-it.castbook --to new", "");
}

static void
test_missing_mesh(Place *f, gconstpointer data)
{
    check_bad_mesh(f, "gone.stl", "gone.stl");
    g_autofree char *folder = g_build_filename(f->folder, "folder.stl", NULL);
    g_mkdir(folder, 0700);
    expect(f, "part folder.stl", 1);
    expect(f, "new n.castbook --mesh folder.stl", 1);
}

static GByteArray *
read_plate(Place *f)
{
    run_write_plate(f->folder);
    g_autofree char *path = g_build_filename(f->folder, "plate.stl", NULL);
    char *bytes = NULL;
    gsize length = 0;
    g_assert_true(g_file_get_contents(path, &bytes, &length, NULL));
    return g_byte_array_new_take((guchar *)bytes, length);
}

static void
test_damaged_stl(Place *f, gconstpointer data)
{
    g_autoptr(GByteArray) stl = read_plate(f);
    run_write(f->folder, "cut.stl", stl->data, stl->len - 31);
    check_bad_mesh(f, "cut.stl", "cut.stl");
    run_write(f->folder, "head.stl", stl->data, 83);
    check_bad_mesh(f, "head.stl", "head.stl");
    guint32 many = GUINT32_TO_LE(4000000000u);
    memcpy(stl->data + 80, &many, 4);
    run_write(f->folder, "lies.stl", stl->data, stl->len);
    check_bad_mesh(f, "lies.stl", "lies.stl");
    guint32 few = GUINT32_TO_LE(3);
    memcpy(stl->data + 80, &few, 4);
    run_write(f->folder, "few.stl", stl->data, stl->len);
    check_bad_mesh(f, "few.stl", "few.stl");
    guint32 none = 0;
    memcpy(stl->data + 80, &none, 4);
    run_write(f->folder, "none.stl", stl->data, 84);
    check_bad_mesh(f, "none.stl", "none.stl");
    run_write(f->folder, "empty.stl", "", 0);
    check_bad_mesh(f, "empty.stl", "empty.stl");
}

static void
test_not_numbers(Place *f, gconstpointer data)
{
    g_autoptr(GByteArray) stl = read_plate(f);
    static const float bad[] = {NAN, INFINITY, -INFINITY, 3.4e38f};
    for (guint i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autofree guchar *copy = g_memdup2(stl->data, stl->len);
        memcpy(copy + 84 + 50 * 7 + 16, &bad[i], 4);
        run_write(f->folder, "odd.stl", copy, stl->len);
        check_bad_mesh(f, "odd.stl", "odd.stl");
    }
}

static void
test_other_formats(Place *f, gconstpointer data)
{
    run_write(f->folder, "far.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n", -1);
    check_bad_mesh(f, "far.obj", "9");
    run_write(f->folder, "back.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 -7\n", -1);
    check_bad_mesh(f, "back.obj", "back.obj");
    run_write(f->folder, "zero.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 0 1 2\n", -1);
    check_bad_mesh(f, "zero.obj", "zero.obj");
    run_write(f->folder, "huge.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 99999999999999999999\n", -1);
    check_bad_mesh(f, "huge.obj", "huge.obj");
    run_write(f->folder, "text.3mf", "this is no archive", -1);
    check_bad_mesh(f, "text.3mf", "text.3mf");
    static const char zip[] = "PK\3\4\24\0\0\0\10\0garbage and more of it";
    run_write(f->folder, "zip.3mf", zip, sizeof zip - 1);
    check_bad_mesh(f, "zip.3mf", "zip.3mf");
    run_write(f->folder, "lies.ply",
              "ply\nformat binary_little_endian 1.0\nelement vertex 4000000000\nproperty float x\n"
              "property float y\nproperty float z\nelement face 1\n"
              "property list uchar int vertex_indices\nend_header\n",
              -1);
    check_bad_mesh(f, "lies.ply", "lies.ply");
    run_write(f->folder, "words.stl", "solid nothing\nfacet fell off\nendsolid\n", -1);
    check_bad_mesh(f, "words.stl", "words.stl");
    run_write(f->folder, "noise.xyz", "\1\2\3 nothing known", -1);
    check_bad_mesh(f, "noise.xyz", "noise.xyz");
}

static void
check_bad_book(Place *f, const char *text, gssize length, const char *words)
{
    run_write(f->folder, "bad.castbook", text, length);
    run_refused(f->folder, "plan bad.castbook", words);
    run_refused(f->folder, "plan bad.castbook --json", "bad.castbook");
    run_refused(f->folder, "sketch bad.castbook --to x.svg", "bad.castbook");
    run_refused(f->folder, "pattern bad.castbook --to new", "bad.castbook");
}

#define BOOK "{\"format\": \"castbook\", \"version\": 1, "

static void
test_bad_books(Place *f, gconstpointer data)
{
    run_refused(f->folder, "plan gone.castbook", "gone.castbook");
    check_bad_book(f, "", 0, "bad.castbook");
    check_bad_book(f, "[]", -1, "bad.castbook");
    check_bad_book(f, "{}", -1, "bad.castbook");
    check_bad_book(f, BOOK "\"jobs\": [", -1, "line");
    check_bad_book(f, BOOK "\"jobs\": {}}", -1, "jobs");
    check_bad_book(f, BOOK "\"jobs\": [7]}", -1, "jobs[0]");
    check_bad_book(f, BOOK "\"shop\": []}", -1, "shop");
    check_bad_book(f, BOOK "\"shop\": {\"flasks\": [{\"id\": \"a\", \"length\": []}]}}", -1,
                   "shop.flasks[0].length");
    check_bad_book(f, BOOK "\"shop\": {\"hours\": \"long\"}}", -1, "shop.hours");
    check_bad_book(f, BOOK "\"jobs\": [{\"id\": \"a\", \"quantity\": \"0\"}]}", -1, "quantity");
    check_bad_book(f, BOOK "\"jobs\": [{\"id\": \"a\", \"quantity\": -3}]}", -1, "quantity");
    check_bad_book(f, BOOK "\"jobs\": [{\"id\": \"a\", \"allowance\": \"3 kg\"}]}", -1,
                   "allowance");
    check_bad_book(f, BOOK "\"jobs\": [{\"id\": \"a\"}, {\"id\": \"a\"}]}", -1, "twice");
    check_bad_book(f, "{\"format\": \"castbook\", \"version\": 999}", -1, "999");
    check_bad_book(f, "{\"format\": \"castbook\", \"version\": \"one\"}", -1, "version");
    check_bad_book(f, "{\"format\": \"castbook\", \"version\": 1.5}", -1, "version");
    check_bad_book(f, BOOK "\"shop\": {\"name\": \"\xff\xfe\"}}", -1, "bad.castbook");
    check_bad_book(f, "\0\0\0\0", 4, "bad.castbook");
}

static void
test_deep(Place *f, gconstpointer data)
{
    g_autofree char *open = g_strnfill(100000, '[');
    g_autofree char *text = g_strdup_printf(BOOK "\"other\": %s", open);
    check_bad_book(f, text, -1, "bad.castbook");
    g_autoptr(GString) objects = g_string_new(BOOK);
    for (int i = 0; i < 50000; i++)
        g_string_append(objects, "\"a\": {");
    check_bad_book(f, objects->str, -1, "bad.castbook");
}

// 100 MB: refused by its size, before it is read.
static void
test_big(Place *f, gconstpointer data)
{
    g_autofree char *path = g_build_filename(f->folder, "big.castbook", NULL);
    FILE *file = g_fopen(path, "wb");
    g_assert_nonnull(file);
    g_autofree char *brackets = g_strnfill(1 << 20, '[');
    for (int i = 0; i < 100; i++)
        g_assert_cmpuint(fwrite(brackets, 1, 1 << 20, file), ==, 1 << 20);
    fclose(file);
    expect(f, "plan big.castbook", 1);
    g_unlink(path);
}

static void
test_bad_options(Place *f, gconstpointer data)
{
    run_write_plate(f->folder);
    static const char *const lines[][2] = {
        {"--quantity 0", "--quantity"},
        {"--quantity -4", "--quantity"},
        {"--quantity many", "--quantity"},
        {"--quantity 1e99", "--quantity"},
        {"--quantity nan", "--quantity"},
        {"--metal unobtainium", "--metal"},
        {"--allowance '3 kg'", "--allowance"},
        {"--allowance '-1 mm'", "--allowance"},
        {"--allowance '1 km'", "--allowance"},
        {"--draft '89 deg'", "--draft"},
        {"--pull 0,0,0", "--pull"},
        {"--pull 1,2", "--pull"},
        {"--pull up", "--pull"},
        {"--unit furlong", "--unit"},
        {"--flask 1,2,3", "--flask"},
        {"--flask 300mm,220mm,90mm,long", "--flask"},
        {"--flask 300mm,-220mm,90mm,90mm", "--flask"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(lines); i++) {
        g_autofree char *line = g_strdup_printf("new n.castbook --mesh plate.stl %s", lines[i][0]);
        run_refused(f->folder, line, lines[i][1]);
    }
    run_refused(f->folder, "new no/such/n.castbook --mesh plate.stl", "n.castbook");
}

// The plan is printed as far as it goes; the one line says what flask would do.
static void
test_too_large(Place *f, gconstpointer data)
{
    run_write_mesh(f->folder, "beam.stl", check_mesh_box(1.37, 0.21, 0.083));
    expect(f, "new t.castbook --mesh beam.stl --unit mm --metal a356", 0);
    run_coarsen(f->folder, "t.castbook");
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook --json", 1);
    g_assert_nonnull(strstr(run.err, "flask"));
    g_assert_nonnull(strstr(run.err, "mm"));
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &run);
    check_close(run_value(figures, "part.volume"), 1.37 * 0.21 * 0.083, 1e-6, "closed form");
    check_close(run_value(figures, "mould.cavities"), 0, 1e-12, "none fits");
    g_assert_cmpstr(run_state(figures, "mould.cavities"), ==, "fails");
    g_auto(Run) text = run_expect(f->folder, "plan t.castbook", 1);
    g_assert_nonnull(strstr(text.out, "\nMould\n"));
}

// What is made by a plan is refused as the plan is; the casting needs no flask.
static void
test_none_fits(Place *f, gconstpointer data)
{
    static const char *const none[] = {
        "sketch t.castbook --to x.svg", "sketch t.castbook --view timeline --to x.svg",
        "pattern t.castbook --to new", "traveller t.castbook --to x.pdf"};
    run_write_mesh(f->folder, "beam.stl", check_mesh_box(1.37, 0.21, 0.083));
    run_write(f->folder, "t.castbook",
              BOOK "\"jobs\": [{\"id\": \"a\", \"mesh\": \"beam.stl\", \"mesh_unit\": \"mm\", "
                   "\"pull\": \"0,0,1\", \"cells\": \"24\"}]}",
              -1);
    for (guint i = 0; i < G_N_ELEMENTS(none); i++)
        run_refused(f->folder, none[i], "t.castbook: a: A casting");
    expect(f, "sketch t.castbook --view casting --to casting.svg", 0);
}

// As a book edited by hand may be: the job's flask is not in the shop.
static void
test_no_such_flask(Place *f, gconstpointer data)
{
    run_write_plate(f->folder);
    run_write(f->folder, "t.castbook",
              BOOK
              "\"shop\": {\"flasks\": [{\"id\": \"large\"}]}, \"jobs\": [{\"id\": \"a\", \"mesh\": "
              "\"plate.stl\", \"flask\": \"larger\", \"cells\": \"24\"}]}",
              -1);
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook", 1);
    g_assert_nonnull(strstr(run.err, "larger"));
    g_assert_nonnull(strstr(run.out, "\nMould\n"));
}

// Small enough in plan, and higher than cope and drag.
static void
test_too_high(Place *f, gconstpointer data)
{
    run_write_mesh(f->folder, "cube.stl", check_mesh_box(0.0617, 0.0593, 0.0571));
    expect(f, "new t.castbook --mesh cube.stl --unit mm --flask 400mm,300mm,15mm,12mm", 0);
    run_coarsen(f->folder, "t.castbook");
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook", 1);
    g_assert_nonnull(strstr(run.err, "stands out of the flask"));
    g_assert_nonnull(strstr(run.err, "deep would do"));
    g_assert_nonnull(strstr(run.out, "\nMould\n"));
}

static void
test_open_mesh(Place *f, gconstpointer data)
{
    SolidMesh *box = check_mesh_box(0.0617, 0.0431, 0.0123);
    box->n_triangles--;
    run_write_mesh(f->folder, "open.stl", box);
    g_auto(Run) part = run_expect(f->folder, "part open.stl --unit mm", 0);
    g_assert_nonnull(strstr(part.out, "not closed"));
    expect(f, "new t.castbook --mesh open.stl --unit mm --metal a356 --quantity 3", 0);
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &run);
    g_assert_true(isnan(run_value(figures, "part.volume")));
    g_assert_cmpstr(run_state(figures, "part.volume"), ==, "unknown");
    g_assert_cmpfloat(run_value(figures, "part.area"), >, 0);
    g_assert_true(isnan(run_value(figures, "cost.per_good_part")));
    expect(f, "plan t.castbook --strict", 3); // part.closed fails
    run_refused(f->folder, "sketch t.castbook --to x.svg", "");
    run_refused(f->folder, "pattern t.castbook --to new", "not closed");
}

// One flask of it takes more metal than the crucible holds.
static void
test_too_heavy(Place *f, gconstpointer data)
{
    run_write_mesh(f->folder, "block.stl", check_mesh_box(0.111, 0.073, 0.049));
    expect(f,
           "new t.castbook --mesh block.stl --unit mm --metal za-12 --quantity 3 "
           "--flask 340mm,240mm,160mm,120mm",
           0);
    run_coarsen(f->folder, "t.castbook");
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &run);
    g_assert_cmpstr(run_state(figures, "melt.flasks_per_load"), ==, "fails");
    check_close(run_value(figures, "melt.flasks_per_load"), 0, 1e-12, "none");
    JsonObject *figure = json_object_get_object_member(figures, "melt.flasks_per_load");
    g_assert_nonnull(strstr(json_object_get_string_member(figure, "note"), "crucible"));
    g_assert_true(isnan(run_value(figures, "cost.per_good_part")));
    expect(f, "plan t.castbook --strict", 3);
}

// What is printed goes to a place that takes nothing.
static void
test_full(Place *f, gconstpointer data)
{
    if (!g_file_test("/dev/full", G_FILE_TEST_EXISTS)) {
        g_test_skip("no /dev/full");
        return;
    }
    g_autoptr(GError) error = NULL;
    g_autofree char *line = g_strdup_printf(
        "sh -c \"'%s/src/cli/flaskwright-cli' metals >/dev/full\"", g_getenv("FW_BUILD_DIR"));
    g_autofree char *err = NULL;
    int status = 0;
    g_assert_true(g_spawn_command_line_sync(line, NULL, &err, &status, &error));
    g_assert_cmpint(g_spawn_check_wait_status(status, &error), ==, FALSE);
    g_assert_error(error, G_SPAWN_EXIT_ERROR, 1);
    g_assert_nonnull(strstr(err, "could not be written"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/cli/refuses/" name, Place, NULL, place_set_up, function, place_tear_down)
    ADD("missing-mesh", test_missing_mesh);
    ADD("damaged-stl", test_damaged_stl);
    ADD("not-numbers", test_not_numbers);
    ADD("other-formats", test_other_formats);
    ADD("bad-books", test_bad_books);
    ADD("deep", test_deep);
    ADD("big", test_big);
    ADD("bad-options", test_bad_options);
    ADD("too-large", test_too_large);
    ADD("none-fits", test_none_fits);
    ADD("no-such-flask", test_no_such_flask);
    ADD("too-high", test_too_high);
    ADD("open-mesh", test_open_mesh);
    ADD("too-heavy", test_too_heavy);
    ADD("full", test_full);
    return g_test_run();
}
