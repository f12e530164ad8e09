// SPDX-License-Identifier: GPL-3.0-or-later
// Broken meshes from `part`, `pull`, `plan` and `pattern`: each says what it found and what it did
// about it, or what to do.
#include "broken.h"
#include "run.h"

#include <string.h>

static void
write_book(Place *f, const char *more)
{
    g_autofree char *text = g_strdup_printf(
        "{\"format\": \"castbook\", \"version\": 1, \"shop\": {}, \"jobs\": [{\"id\": \"a\", "
        "\"mesh\": \"it.stl\", \"mesh_unit\": \"mm\", \"pull\": \"0,0,1\", \"cells\": \"32\", "
        "\"heat_cells\": \"4000\"%s}]}",
        more);
    run_write(f->folder, "it.castbook", text, -1);
}

static void
check_says(const Run *run, const char *words)
{
    if (!strstr(run->out, words))
        g_error("\"%s\" is not in: %s%s", words, run->out, run->err);
    g_assert_null(strstr(run->out, "nan"));
}

static const char *
get_note(JsonObject *figures, const char *id)
{
    JsonObject *figure = json_object_get_object_member(figures, id);
    return json_object_get_string_member_with_default(figure, "note", "");
}

// What can be cast: every command says so, and goes on; `volume` is the metal of the part (m3).
static void
check_mended(Place *f, SolidMesh *mesh, const char *words, double volume)
{
    run_write_mesh(f->folder, "it.stl", mesh);
    write_book(f, "");
    g_auto(Run) part = run_expect(f->folder, "part it.stl --unit mm", 0);
    check_says(&part, words);
    g_auto(Run) pull = run_expect(f->folder, "pull it.stl --unit mm --pull 0,0,1", 0);
    check_says(&pull, words);
    g_auto(Run) pull_json = run_expect(f->folder, "pull it.stl --unit mm --pull 0,0,1 --json", 0);
    check_says(&pull_json, words);
    g_auto(Run) plan = run_expect(f->folder, "plan it.castbook", 0);
    check_says(&plan, words);
    g_auto(Run) json = run_expect(f->folder, "plan it.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &json);
    g_assert_nonnull(strstr(get_note(figures, "part.closed"), words));
    check_close(run_value(figures, "part.volume"), volume, 0.005, "closed form");
    check_close(run_value(figures, "pattern.part_volume"), volume, 0.005, "closed form");
    g_auto(Run) pattern = run_expect(f->folder, "pattern it.castbook --to out --replace", 0);
    check_says(&pattern, words);
}

#define BOX (30 * 20 * 10e-9)

static void
test_overlap(Place *f, gconstpointer data)
{
    check_mended(f, broken_overlap(), "Shells overlap", 2 * BOX - 12 * 13 * 6e-9);
    check_mended(f, broken_nested(FALSE), "Shells overlap", BOX);
}

static void
test_crossing(Place *f, gconstpointer data)
{
    double r = 0.0237, h = 0.0113, inner = r * 4 / pow(1 + sqrt(5), 2);
    double star = 2.5 * (r * r * sin(4 * G_PI / 5) - inner * inner * sin(2 * G_PI / 5)) * h;
    check_mended(f, broken_star(r, h), "The skin crosses itself", star);
}

static void
test_hollow(Place *f, gconstpointer data)
{
    check_mended(f, broken_nested(TRUE), "1 enclosed hollow is cast solid", BOX - 12 * 8 * 4e-9);
}

static void
test_turned(Place *f, gconstpointer data)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.030, 0.020, 0.010);
    check_mended(f, solid_mesh_flipped(box), "have been turned over", BOX);
    check_mended(f, broken_inward(), "within skin that faces inwards", BOX + 12 * 8 * 4e-9);
}

// What cannot: `plan` goes as far as it can and its check fails; the others refuse.
static void
check_refused(Place *f, SolidMesh *mesh, const char *words, const char *remedy)
{
    run_write_mesh(f->folder, "it.stl", mesh);
    write_book(f, "");
    g_auto(Run) part = run_expect(f->folder, "part it.stl --unit mm", 0);
    check_says(&part, words);
    run_refused(f->folder, "pull it.stl --unit mm", remedy);
    run_refused(f->folder, "pull it.stl --unit mm --pull 0,0,1", words);
    g_auto(Run) plan = run_expect(f->folder, "plan it.castbook --strict", 3);
    check_says(&plan, words);
    run_refused(f->folder, "pattern it.castbook --to out", words);
}

static void
test_refused(Place *f, gconstpointer data)
{
    check_refused(f, broken_open(), "3 open edges", "mend the mesh");
    check_refused(f, broken_doubled(), "doubled triangle", "mend the mesh");
    check_refused(f, broken_edge(), "more than two triangles", "mend the mesh");
    check_refused(f, broken_sheet(), "holds nothing", "thickness");
}

// A wall that the cells lose fails a check, and one that the allowance thickens does not.
static void
test_thin(Place *f, gconstpointer data)
{
    run_write_mesh(f->folder, "it.stl", broken_thin_cup());
    write_book(f, ", \"allowance\": \"0 mm\"");
    g_auto(Run) plan = run_expect(f->folder, "plan it.castbook --strict", 3);
    check_says(&plan, "lose thin places");
    g_auto(Run) pattern = run_expect(f->folder, "pattern it.castbook --to out", 0);
    check_says(&pattern, "lose thin places");
    write_book(f, "");
    g_auto(Run) json = run_expect(f->folder, "plan it.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &json);
    check_close(run_value(figures, "part.min_wall"), 0.05e-3, 0.02, "as made");
    g_assert_cmpstr(run_state(figures, "pattern.skin_outside"), ==, "holds");
    run_write_mesh(f->folder, "it.stl", check_mesh_box(0.040, 0.030, 0.00005));
    g_auto(Run) foil = run_expect(f->folder, "plan it.castbook --json", 0);
    g_autoptr(JsonParser) other = json_parser_new();
    figures = run_figures(other, &foil);
    check_close(run_value(figures, "casting.min_wall"), 6.05e-3, 1e-3, "allowance on both faces");
}

// A tall narrow hole stays a hole only if its sand would stand.
static void
test_peg(Place *f, gconstpointer data)
{
    run_write_mesh(f->folder, "it.stl",
                   check_mesh_blind_plate(0.050, 0.044, 0.024, 0.0046, 0.019, 48));
    write_book(f, ", \"allowance\": \"0 mm\"");
    g_auto(Run) plan = run_expect(f->folder, "plan it.castbook --strict", 3);
    check_says(&plan, "likely to break off or wash away");
    write_book(f, ", \"allowance\": \"0 mm\", \"close_holes\": \"10 mm\"");
    g_auto(Run) closed = run_expect(f->folder, "plan it.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    JsonObject *figures = run_figures(parser, &closed);
    double area = 24 * sin(2 * G_PI / 48) * 0.0046 * 0.0046;
    check_close(run_value(figures, "pattern.closed_volume"), area * 0.019, 0.05, "the hole");
    check_close(run_value(figures, "pattern.peg_slenderness"), 0, 0, "none");
    g_assert_cmpstr(get_note(figures, "pattern.closed_volume"), ==, "To be drilled.");
    g_auto(Run) text = run_expect(f->folder, "plan it.castbook", 0);
    check_says(&text, "to be drilled");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/cli/broken/" name, Place, NULL, place_set_up, function, place_tear_down)
    ADD("overlap", test_overlap);
    ADD("crossing", test_crossing);
    ADD("hollow", test_hollow);
    ADD("turned", test_turned);
    ADD("refused", test_refused);
    ADD("thin", test_thin);
    ADD("peg", test_peg);
    return g_test_run();
}
