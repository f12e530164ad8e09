// SPDX-License-Identifier: GPL-3.0-or-later
// The command line as it is meant: from a mesh to a plan, the tables, the pictures, the demo; and
// how it asks to be used.
#include "run.h"

#include <glib/gstdio.h>
#include <string.h>

static void
set_up(Place *f, gconstpointer data)
{
    place_set_up(f, data);
    run_write_plate(f->folder);
}

static void
expect(Place *f, const char *line, int status)
{
    Run run = run_expect(f->folder, line, status);
    run_clear(&run);
}

static void
new_book(Place *f)
{
    expect(f, "new t.castbook --mesh plate.stl --unit mm --metal a356 --quantity 40 --pull 0,0,1",
           0);
    run_coarsen(f->folder, "t.castbook");
}

static gboolean
exists(Place *f, const char *name)
{
    g_autofree char *path = g_build_filename(f->folder, name, NULL);
    return g_file_test(path, G_FILE_TEST_EXISTS);
}

// Sheets for the shop: a PDF, not written over by accident.
static void
test_traveller(Place *f, gconstpointer data)
{
    new_book(f);
    expect(f, "traveller t.castbook --to t.pdf", 0);
    g_autofree char *path = g_build_filename(f->folder, "t.pdf", NULL);
    g_autofree char *bytes = NULL;
    gsize n = 0;
    g_assert_true(g_file_get_contents(path, &bytes, &n, NULL));
    g_assert_cmpmem(bytes, 5, "%PDF-", 5);
    run_refused(f->folder, "traveller t.castbook --to t.pdf", "is there already");
    run_refused(f->folder, "traveller t.castbook --to t.txt", "end the name in .pdf");
    run_refused(f->folder, "traveller t.castbook --job no --to u.pdf", "no");
    expect(f, "traveller t.castbook --to t.pdf --replace", 0);
    expect(f, "traveller t.castbook", 2);
}

static void
test_new_and_plan(Place *f, gconstpointer data)
{
    g_auto(Run) made = run_expect(
        f->folder, "new t.castbook --mesh plate.stl --unit mm --metal a356 --quantity 40", 0);
    g_assert_cmpstr(made.out, ==, "");
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &run);
    // 24-gon, closed form; the file holds single precision.
    double hole = 12 * sin(G_PI / 12) * 0.0092 * 0.0092 * 0.0057;
    check_close(run_value(figures, "part.volume"), 0.0617 * 0.0431 * 0.0123 - hole, 1e-6,
                "closed form");
    check_close(run_value(figures, "part.size.y"), 0.0431, 1e-6, "as made");
    check_close(run_value(figures, "part.closed"), 1, 1e-12, "as made");
    g_assert_cmpfloat(run_value(figures, "mould.cavities"), >=, 1);
    g_assert_cmpfloat(run_value(figures, "run.castings_to_start"), >=, 40);
    g_assert_cmpfloat(run_value(figures, "casting.volume"), >, run_value(figures, "part.volume"));
    g_auto(Run) text = run_expect(f->folder, "plan t.castbook", 0);
    g_assert_nonnull(strstr(text.out, "\nMould\n"));
    g_assert_null(strstr(text.out, "nan"));
    g_auto(Run) again = run_expect(f->folder, "plan t.castbook --json", 0);
    g_assert_cmpstr(again.out, ==, run.out); // the same bytes
}

static void
test_new_options(Place *f, gconstpointer data)
{
    expect(f,
           "new t.castbook --mesh plate.stl --unit in --metal za-12 --quantity 7 --allowance '1/16 "
           "in' --draft '2.5 deg' --pull 0,0,-1 --flask '500 mm,12 in,140 mm,120 mm'",
           0);
    g_autofree char *path = g_build_filename(f->folder, "t.castbook", NULL);
    g_autofree char *text = NULL;
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    static const char *const typed[] = {"\"1/16 in\"", "\"2.5 deg\"", "\"0,0,-1\"",   "\"12 in\"",
                                        "\"za-12\"",   "\"7\"",       "\"plate.stl\""};
    for (guint i = 0; i < G_N_ELEMENTS(typed); i++)
        g_assert_nonnull(strstr(text, typed[i]));
}

static void
test_new_bare(Place *f, gconstpointer data)
{
    expect(f, "new bare.castbook", 0);
    g_assert_true(exists(f, "bare.castbook"));
    run_refused(f->folder, "plan bare.castbook", "has no job");
}

// An existing file stays unless one says otherwise.
static void
test_replace(Place *f, gconstpointer data)
{
    new_book(f);
    run_refused(f->folder, "new t.castbook", "t.castbook");
    expect(f, "new t.castbook --replace", 0);
    run_refused(f->folder, "plan t.castbook", "has no job");
    run_write(f->folder, "x.svg", "mine", -1);
    expect(f, "new t.castbook --replace --mesh plate.stl", 0);
    run_coarsen(f->folder, "t.castbook");
    run_refused(f->folder, "sketch t.castbook --to x.svg", "x.svg");
    expect(f, "sketch t.castbook --to x.svg --replace", 0);
}

static void
test_explain(Place *f, gconstpointer data)
{
    new_book(f);
    g_auto(Run) run = run_expect(f->folder, "plan t.castbook --explain mould.choke_area", 0);
    g_assert_true(g_str_has_prefix(run.out, "Choke area: "));
    g_assert_nonnull(strstr(run.out, "√"));
    expect(f, "plan t.castbook --explain mould.nothing", 2);
    expect(f, "plan t.castbook --job plate", 0);
    run_refused(f->folder, "plan t.castbook --job other", "its jobs are: plate");
}

static void
test_part(Place *f, gconstpointer data)
{
    g_auto(Run) run = run_expect(f->folder, "part plate.stl --unit mm", 0);
    g_assert_nonnull(strstr(run.out, "61.7"));
    g_assert_nonnull(strstr(run.out, "31.2 cm³"));
    g_auto(Run) inches = run_expect(f->folder, "part plate.stl --unit in", 0);
    g_assert_cmpstr(inches.out, !=, run.out);
    g_auto(Run) unsaid = run_expect(f->folder, "part plate.stl", 0);
    g_assert_nonnull(strstr(unsaid.out, "--unit"));
}

static void
test_metals(Place *f, gconstpointer data)
{
    g_auto(Run) all = run_expect(f->folder, "metals", 0);
    g_assert_nonnull(strstr(all.out, "a356  "));
    g_assert_nonnull(strstr(all.out, "za-12  "));
    g_auto(Run) one = run_expect(f->folder, "metals za-12", 0);
    g_assert_null(strstr(one.out, "a356  "));
    g_assert_nonnull(strstr(one.out, "published"));
    expect(f, "metals unobtainium", 2);
}

static void
check_picture(Place *f, const char *name, const char *start)
{
    g_autofree char *path = g_build_filename(f->folder, name, NULL);
    g_autofree char *bytes = NULL;
    gsize length = 0;
    g_assert_true(g_file_get_contents(path, &bytes, &length, NULL));
    g_assert_cmpuint(length, >, 1000);
    g_assert_nonnull(g_strstr_len(bytes, MIN(length, 200), start));
}

static void
test_sketch(Place *f, gconstpointer data)
{
    static const char *const views[] = {"plan",    "section", "casting",
                                        "filling", "gains",   "timeline"};
    static const char *const kinds[][2] = {{"svg", "<svg"}, {"png", "PNG"}, {"pdf", "%PDF"}};
    new_book(f);
    for (guint i = 0; i < G_N_ELEMENTS(views); i++)
        for (guint k = 0; k < G_N_ELEMENTS(kinds); k++) {
            g_autofree char *name = g_strdup_printf("%s.%s", views[i], kinds[k][0]);
            g_autofree char *line = g_strdup_printf("sketch t.castbook --view %s --to %s", views[i],
                                                    name);
            expect(f, line, 0);
            check_picture(f, name, kinds[k][1]);
        }
    expect(f, "sketch t.castbook --view drag-board --to lines.dxf", 0);
    check_picture(f, "lines.dxf", "SECTION");
    expect(f, "sketch t.castbook --view cope-board --to sheets.pdf", 0);
    check_picture(f, "sheets.pdf", "%PDF");
    expect(f, "sketch t.castbook --view section --true-size --to section-1-1.svg", 0);
    check_picture(f, "section-1-1.svg", "<svg");
    run_refused(f->folder, "sketch t.castbook --view timeline --true-size --to x.svg", "timeline");
    run_refused(f->folder, "sketch t.castbook --view filling --to x.dxf", "filling");
    run_refused(f->folder, "sketch t.castbook --to x.gif", ".svg");
    run_refused(f->folder, "sketch t.castbook --to no/such/x.svg", "x.svg");
    // The plate is 12.3 mm high and 43.1 mm wide, and what is added does not make it 80.
    expect(f, "sketch t.castbook --view casting --cut level --at 0.05in --to b.svg", 0);
    run_refused(f->folder, "sketch t.castbook --view casting --at 40 --to x.svg", "does not meet");
    run_refused(f->folder, "sketch t.castbook --view casting --at 4kg --to x.svg", "--at");
    expect(f, "sketch t.castbook --view casting --cut askew --to x.svg", 2);
    expect(f, "sketch t.castbook --view plan --cut level --to x.svg", 2);
    expect(f, "sketch t.castbook --at 3 --to x.svg", 2);
    expect(f, "sketch t.castbook --view other --to x.svg", 2);
    expect(f, "sketch t.castbook", 2);
    g_assert_false(exists(f, "x.svg"));
}

// Each piece in the list has its file, and the files are meshes of closed skins.
static void
test_pattern(Place *f, gconstpointer data)
{
    new_book(f);
    g_auto(Run) stl = run_expect(f->folder, "pattern t.castbook --to printed", 0);
    g_auto(Run) threemf = run_expect(f->folder, "pattern t.castbook --to printed --format 3mf", 0);
    g_assert_cmpstr(stl.out, ==, threemf.out);
    static const char *const names[] = {"drag-pattern", "runner", "sprue-pin", "basin-plug"};
    for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
        g_assert_nonnull(strstr(stl.out, names[i]));
        g_autofree char *one = g_strdup_printf("part printed/%s.stl --unit mm", names[i]);
        g_autofree char *two = g_strdup_printf("part printed/%s.3mf", names[i]);
        g_auto(Run) a = run_expect(f->folder, one, 0);
        g_auto(Run) b = run_expect(f->folder, two, 0);
        g_assert_nonnull(strstr(a.out, "  closed"));
        g_assert_nonnull(strstr(b.out, "  closed"));
        // What either says of the volume is the same.
        const char *volume = strstr(a.out, "Volume");
        g_assert_nonnull(volume);
        g_autofree char *line = g_strndup(volume, strcspn(volume, "\n"));
        g_assert_nonnull(strstr(b.out, line));
    }
    run_refused(f->folder, "pattern t.castbook --to printed", ".stl");
    run_refused(f->folder, "pattern t.castbook --to printed --format 3mf", "already there");
    expect(f, "pattern t.castbook --to printed --replace", 0);
    run_refused(f->folder, "pattern t.castbook --to plate.stl", "plate.stl");
    run_refused(f->folder, "pattern t.castbook --to other --job none", "its jobs are: plate");
    expect(f, "pattern t.castbook", 2);
    expect(f, "pattern t.castbook --to other --format obj", 2);
    g_assert_false(exists(f, "other"));
}

// A small bed gives more pieces; a board too thin for anything still gives boards.
static void
test_pattern_bed(Place *f, gconstpointer data)
{
    static const char book[] =
        "{\"format\": \"castbook\", \"version\": 1, \"shop\": {\"printer\": {\"bed_x\": \"120 mm\","
        " \"bed_y\": \"100 mm\", \"detail\": \"0.8 mm\"}}, \"jobs\": [{\"id\": \"a\", \"mesh\": "
        "\"plate.stl\", \"mesh_unit\": \"mm\", \"board_thickness\": \"4 mm\"}]}";
    run_write(f->folder, "bed.castbook", book, -1);
    g_auto(Run) run = run_expect(f->folder, "pattern bed.castbook --to bed", 0);
    g_assert_nonnull(strstr(run.out, "cope-board-9"));
    g_assert_true(exists(f, "bed/drag-board-9.stl"));
}

static void
test_usage(Place *f, gconstpointer data)
{
    static const char *const lines[] = {
        "",
        "fly",
        "--fly",
        "plan",
        "plan a.castbook b.castbook",
        "plan --fly a.castbook",
        "part",
        "part plate.stl --unit furlong",
        "new",
        "new a.castbook b.castbook",
        "new a.castbook --quantity 40",
        "new a.castbook --quantity",
        "sketch",
        "pattern",
        "pattern a.castbook",
        "pattern --fly a.castbook --to a",
        "metals --fly",
    };
    for (guint i = 0; i < G_N_ELEMENTS(lines); i++)
        expect(f, lines[i], 2);
    g_assert_false(exists(f, "a.castbook"));
}

static void
test_help(Place *f, gconstpointer data)
{
    static const char *const lines[] = {
        "--help",        "-h",      "--version",     "part --help",   "plan --help",
        "new --help",    "plan -h", "sketch --help", "metals --help", "plan x --help",
        "pattern --help"};
    for (guint i = 0; i < G_N_ELEMENTS(lines); i++) {
        g_auto(Run) run = run_expect(f->folder, lines[i], 0);
        g_assert_cmpuint(strlen(run.out), >, 5);
    }
    g_auto(Run) run = run_expect(f->folder, "new --help", 0);
    static const char *const options[] = {"--mesh",      "--unit",  "--metal", "--quantity",
                                          "--allowance", "--draft", "--pull",  "--flask"};
    for (guint i = 0; i < G_N_ELEMENTS(options); i++)
        g_assert_nonnull(strstr(run.out, options[i]));
}

// Every job of every book beside the program plans.
static void
test_demo(Place *f, gconstpointer data)
{
    g_autofree char *folder = g_build_filename(g_getenv("FW_SOURCE_DIR"), "data", "demo", NULL);
    static const char *const jobs[] = {"treadle-bracket", "pulley-hanger", "pawl"};
    for (guint i = 0; i < G_N_ELEMENTS(jobs); i++) {
        g_autofree char *line = g_strdup_printf("plan loom-hardware.castbook --job %s --json",
                                                jobs[i]);
        g_auto(Run) run = run_expect(folder, line, 0);
        g_autoptr(JsonParser) parser = json_parser_new();
        JsonObject *figures = run_figures(parser, &run);
        g_assert_cmpfloat(run_value(figures, "run.sessions"), >=, 1);
        g_assert_cmpfloat(run_value(figures, "cost.per_good_part"), >, 0);
    }
}

// What programs read never follows the locale.
static void
test_locale(Place *f, gconstpointer data)
{
    static const char *const names[] = {"C", "C.UTF-8", "de_DE.UTF-8", "de_DE.ISO-8859-1"};
    g_autofree char *first = NULL;
    new_book(f);
    for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
        g_setenv("LC_ALL", names[i], TRUE); // one that is not installed counts as C
        g_auto(Run) run = run_expect(f->folder, "plan t.castbook --json", 0);
        g_assert_true(g_utf8_validate(run.out, -1, NULL));
        g_assert_nonnull(strstr(run.out, "°C"));
        if (!first)
            first = g_strdup(run.out);
        g_assert_cmpstr(run.out, ==, first);
        g_auto(Run) text = run_expect(f->folder, "plan t.castbook", 0);
        if (i < 2)
            g_assert_nonnull(strstr(text.out, "cm³"));
    }
    g_unsetenv("LC_ALL");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/cli/uses/" name, Place, NULL, set_up, function, place_tear_down)
    ADD("new-and-plan", test_new_and_plan);
    ADD("new-options", test_new_options);
    ADD("new-bare", test_new_bare);
    ADD("replace", test_replace);
    ADD("explain", test_explain);
    ADD("part", test_part);
    ADD("metals", test_metals);
    ADD("sketch", test_sketch);
    ADD("traveller", test_traveller);
    ADD("pattern", test_pattern);
    ADD("pattern-bed", test_pattern_bed);
    ADD("usage", test_usage);
    ADD("help", test_help);
    ADD("locale", test_locale);
    ADD("demo", test_demo);
    return g_test_run();
}
