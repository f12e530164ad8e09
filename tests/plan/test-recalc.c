// SPDX-License-Identifier: GPL-3.0-or-later
// Changes each input, one at a time, and compares the plan made with what the cache holds to one
// made from nothing. A stage that reads a field it has not declared is found here. Two programs
// share the fields, every other one each, since it is much work: RECALC_FIRST is 0 or 1.
#include "make.h"

#ifdef _OPENMP
#include <omp.h>
#endif
#include <string.h>

#include "book/edit.h"
#include "part/pull-stage.h"
#include "plan/cache.h"

typedef struct {
    Tables *tables;
    Cache *cache;
    char *folder, *mesh, *other_mesh;
    Book *book;
    char *dump; // of the plan of `book`
} Bench;

// A part that needs a riser and a shop that has a choice of everything, so that every field
// matters: fields that do nothing in a plan would not be tested by changing them.
// Searching for the pull in every plan is most of the work: `pull` gives one, or is
// blank.
static void
set_up(Bench *bench, const char *pull)
{
    bench->tables = tables_load(NULL);
    bench->cache = cache_new(4000);
    bench->folder = check_folder();
    bench->mesh = make_mesh_file(bench->folder, "plate.stl", make_plate());
    bench->other_mesh = make_mesh_file(bench->folder, "cup.stl",
                                       check_mesh_frustum(0.0213, 0.0171, 0.0262, 16));
    g_autoptr(Book) plain = make_book(bench->mesh, bench->tables);
    g_autoptr(Book)
                  flasks = make_with_entry(plain, "/shop/flasks/-", "flask-2", "length", "260 mm");
    g_autoptr(Book) furnaces = make_with_entry(flasks, "/shop/furnaces/-", "furnace-2", "power",
                                               "4.1 kW");
    g_autoptr(Book) entries = make_with_entry(furnaces, "/shop/crucibles/-", "crucible-2", "rating",
                                              "43 kg");
    g_autoptr(Book) large = make_changed(entries, "crucible.rating", "31 kg", bench->tables);
    g_autoptr(Book) stub = make_changed(large, "job.stub_diameter", "9 mm", bench->tables);
    g_autoptr(Book) tall = make_changed(stub, "job.stub_height", "5 mm", bench->tables);
    g_autoptr(Book) cavities = make_changed(tall, "job.cavities", "2", bench->tables);
    g_autoptr(Book) coarse = make_changed(cavities, "job.heat_cells", "2500", bench->tables);
    g_autoptr(Book) fed = make_changed(coarse, "job.riser", "always", bench->tables);
    g_autoptr(Book) blunt = make_changed(fed, "printer.detail", "1.7 mm", bench->tables);
    g_autoptr(Book) pulled = make_changed(blunt, "job.pull", pull, bench->tables);
    bench->book = make_with_other(pulled, bench->other_mesh, bench->tables);
    g_autoptr(Plan) plan = make_plan(bench->book, "part", bench->tables, bench->cache);
    bench->dump = make_dump(plan);
}

static void
tear_down(Bench *bench)
{
    check_folder_remove(bench->folder);
    cache_unref(bench->cache);
    book_unref(bench->book);
    tables_free(bench->tables);
    g_free(bench->folder);
    g_free(bench->mesh);
    g_free(bench->other_mesh);
    g_free(bench->dump);
}

// Texts for fields that have no default to start from, or where another value says more.
static const char *
chosen_text(const Bench *bench, const char *path)
{
    static const char *const texts[][2] = {
        {"job.good_rate", "83 %"},
        {"job.cavities", "1"},
        {"job.placement", "7 mm, 61 mm, 10 deg"},
        {"job.pins", "pour-1 6 h 11 min"},
        {"shop.benches", "1"},
        {"shop.cooling_places", "3"},
        {"shop.sand_ready", "231 kg"},
        {"shop.sand_rest", "2 h 11 min"},
        {"shop.light_from", "8:50"},
        {"shop.light_to", "16:50"},
        {"sand.cover_wall", "23 mm"},
        {"sand.cover_between", "17 mm"},
        {"sand.cover_runner", "13 mm"},
        {"sand.cover_top", "27 mm"},
        {"sand.cover_bottom", "31 mm"},
        {"job.sprue_x", "4 mm"},
        {"job.sprue_y", "-6 mm"},
        {"job.fill_time", "5.3 s"},
        {"job.riser_x", "3 mm"},
        {"job.riser_y", "-2 mm"},
        {"job.chill_width", "11 mm"},
        {"job.choke_area", "83 mm2"},
        {"job.gate_width", "17.3 mm"},
        {"job.gate_depth", "3.7 mm"},
        {"job.runner_width", "19.1 mm"},
        {"job.bar_price", "9.1 /kg"},
        {"job.bought_in", "31.7"},
        {"job.pull", "0,0,-1"},
        {"job.flask", "flask-2"},
        {"job.shares_with", "other"},
        {"job.share_count", "1"},
        {"job.furnace", "furnace-2"},
        {"job.crucible", "crucible-2"},
        {"shop.stock", "1.3 kg a356 returns; 2 kg a356 ingot"},
        {"crucible.family", "zinc"},
        {"crucible.kind", "silicon-carbide"},
        {"job.metal", "za-12"},
        {"crucible.rating_metal", "copper"},
        {"job.cells", "26"},
        {"job.riser", "none"},
        {"shop.days", "sat; sun 9:10-15:00"},
        {"shop.start", "8:10"},
        {"job.due", "2026-12-19"},
        {"flask.tab_size", "9.3 mm"},
        {"flask.tab_inset", "11.7 mm"},
        {"flask.tab_shift", "7.1 mm"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++)
        if (g_str_equal(texts[i][0], path))
            return texts[i][1];
    return g_str_equal(path, "job.mesh") ? bench->other_mesh : NULL;
}

static const char *
other_row(const Bench *bench, const Field *field, const char *now)
{
    TableName name = g_str_equal(field->choices, "metals")  ? TABLE_METALS
                     : g_str_equal(field->choices, "sands") ? TABLE_SANDS
                                                            : TABLE_CRUCIBLE_KINDS;
    for (guint i = 0; i < tables_size(bench->tables, name); i++) {
        const char *id = table_row_id(tables_at(bench->tables, name, i));
        if (g_strcmp0(id, now) != 0)
            return id;
    }
    return NULL;
}

// The first choice that is not the one now. Free.
static char *
other_choice(const Field *field, const char *now)
{
    g_auto(GStrv) choices = g_strsplit(field->choices, "/", -1);
    for (guint i = 0; choices[i]; i++) {
        char *equal = strchr(choices[i], '=');
        if (equal)
            *equal = '\0';
        if (g_strcmp0(choices[i], now) != 0)
            return g_strdup(choices[i]);
    }
    return NULL;
}

// A number a little off the one now, within the field's range. Free.
static char *
other_number(const Bench *bench, const Field *field, double now)
{
    UnitSet units = book_units(bench->book);
    gboolean whole = field->kind == QUANTITY_COUNT;
    double up = now == 0 ? (whole ? 3 : 0.0021) : now * 1.037;
    if (whole && now != 0)
        up = now + 1;
    if (up > field->max)
        up = whole ? now - 1 : now * 0.953;
    return quantity_format_exact(field->kind, up, &units);
}

// Another text than the one in force for `field`, or NULL if there is none. Free.
static char *
other_text(const Bench *bench, const Field *field)
{
    const char *paths[] = {field->path, NULL};
    const char *chosen = chosen_text(bench, field->path);
    if (chosen)
        return g_strdup(chosen);
    g_autoptr(Inputs) inputs = inputs_resolve(bench->book, "part", bench->tables, NULL, paths);
    const char *now = inputs_text(inputs, field->path);
    switch (field->type) {
    case FIELD_QUANTITY:
        return other_number(bench, field, inputs_number(inputs, field->path));
    case FIELD_CHOICE:
        return other_choice(field, now);
    case FIELD_ROW:
        return g_strdup(other_row(bench, field, now));
    case FIELD_WORDS:
        return g_strdup("Other");
    default:
        return NULL;
    }
}

static guint
count_reused(const Plan *plan)
{
    guint count = 0;
    for (guint i = 0; i < plan_stage_count(plan); i++)
        count += plan_stage_info(plan, i).reused;
    return count;
}

static void
test_nothing_changed(Bench *bench)
{
    g_autoptr(Plan) again = make_plan(bench->book, "part", bench->tables, bench->cache);
    g_autofree char *dump = make_dump(again);
    g_assert_cmpuint(count_reused(again), ==, STAGE_COUNT);
    check_same_dump(bench->dump, dump, "the same book with a warm cache");
}

// Names, and words shown beside numbers: no stage reads them. Nor does one read the days, of which
// the batch over all jobs is made (test-batch.c changes those).
static gboolean
is_read_by_none(const char *path)
{
    static const char *const paths[] = {
        "shop.days",         "shop.mix",      "job.due",  "shop.name",    "furnace.name",
        "crucible.name",     "flask.name",    "job.name", "shop.lengths", "shop.masses",
        "shop.temperatures", "shop.currency", NULL};
    return g_strv_contains(paths, path);
}

static void
test_field(Bench *bench, const Field *field)
{
    g_autofree char *text = other_text(bench, field);
    g_test_message("%s = %s", field->path, text);
    g_assert_nonnull(text);
    g_autoptr(Book) book = make_changed(bench->book, field->path, text, bench->tables);
    g_assert_false(node_equal(book_root(book), book_root(bench->book)));
    g_autoptr(Plan) warm = make_plan(book, "part", bench->tables, bench->cache);
    guint reused = count_reused(warm);
    if (!is_read_by_none(field->path))
        g_assert_cmpuint(reused, <, STAGE_COUNT); // some stage reads it
    g_autoptr(Plan) cold = make_plan(book, "part", bench->tables, NULL);
    g_autofree char *a = make_dump(warm);
    g_autofree char *b = make_dump(cold);
    check_same_dump(a, b, field->path);

    g_autoptr(Plan) undone = make_plan(bench->book, "part", bench->tables, bench->cache);
    g_autofree char *c = make_dump(undone);
    g_assert_cmpuint(count_reused(undone), ==, STAGE_COUNT);
    check_same_dump(bench->dump, c, "undone");
}

// The file changes and the book does not.
static void
test_mesh_rewritten(Bench *bench)
{
    g_autofree char *again = make_mesh_file(bench->folder, "plate.stl",
                                            check_mesh_box(0.0517, 0.0331, 0.0153));
    g_assert_cmpstr(again, ==, bench->mesh);
    g_autoptr(Plan) warm = make_plan(bench->book, "part", bench->tables, bench->cache);
    check_close(plan_figure(warm, "part.volume")->value, 0.0517 * 0.0331 * 0.0153, 1e-6, "box");
    g_autoptr(Plan) cold = make_plan(bench->book, "part", bench->tables, NULL);
    g_autofree char *a = make_dump(warm);
    g_autofree char *b = make_dump(cold);
    check_same_dump(a, b, "the mesh file rewritten");
}

static void
test_recalc(void)
{
#ifdef _OPENMP
    omp_set_num_threads(1); // many small plans: starting threads would take longer than they do
#endif
    Bench bench;
    set_up(&bench, "0,0,1");
    test_nothing_changed(&bench);
    for (guint i = RECALC_FIRST; i < field_count(); i += 2)
        test_field(&bench, field_at(i));
    test_mesh_rewritten(&bench);
    tear_down(&bench);
}

// What the search reads, where it searches.
static void
test_searched(void)
{
#ifdef _OPENMP
    omp_set_num_threads(1);
#endif
    Bench bench;
    set_up(&bench, "");
    for (guint i = RECALC_FIRST; pull_reads[i] && (i == 0 || pull_reads[i - 1]); i += 2)
        test_field(&bench, field_find(pull_reads[i]));
    tear_down(&bench);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/plan/recalc", test_recalc);
    g_test_add_func("/plan/recalc-searched", test_searched);
    return g_test_run();
}
