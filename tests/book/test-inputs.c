// SPDX-License-Identifier: GPL-3.0-or-later
// Resolving: typed, learned, default, table; sources; rows; log; mesh; what is asked undeclared.
#include "book/inputs.h"

#include <glib/gstdio.h>

#include "book/edit.h"
#include "book/store.h"
#include "check.h"

static Tables *tables;

static const char *const paths[] = {"job.allowance",
                                    "job.contraction",
                                    "job.quantity",
                                    "job.flask",
                                    "job.good_rate",
                                    "job.riser",
                                    "flask.length",
                                    "people.ram_time",
                                    "metal.liquidus",
                                    "cruciblekind.*",
                                    "crucible.fill",
                                    "ratingmetal.density_solid",
                                    "log",
                                    "mesh",
                                    "jobs",
                                    "shop.currency",
                                    NULL};

static Book *
parse(const char *shop, const char *job, const char *folder)
{
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{%s},\"jobs\":[{\"id\":"
        "\"a\"%s}],\"log\":{\"sessions\":[{},{}]}}",
        shop, job);
    g_autoptr(GError) error = NULL;
    Book *book = store_parse(text, -1, "test", folder, tables, &error);
    g_assert_no_error(error);
    return book;
}

static void
test_defaults(void)
{
    g_autoptr(Book) book = parse("", "", NULL);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, paths);
    const TableRow *metal = tables_find(tables, TABLE_METALS, "a356");
    const TableValue *contraction = table_row_find(metal, "contraction");
    check_close(inputs_number(inputs, "job.allowance"), 0.003, 1e-15, "field table");
    g_assert_cmpstr(inputs_text(inputs, "job.allowance"), ==, "3 mm");
    g_assert_cmpstr(inputs_source(inputs, "job.allowance"), ==, "common-practice");
    g_assert_true(inputs_is_blank(inputs, "job.allowance"));
    check_close(inputs_number(inputs, "job.contraction"), contraction->value, 0, "table row");
    g_assert_cmpstr(inputs_source(inputs, "job.contraction"), ==, contraction->source);
    g_assert_true(isnan(inputs_number(inputs, "job.good_rate")));
    g_assert_null(inputs_text(inputs, "job.flask"));
    check_close(inputs_number(inputs, "flask.length"), 0.3, 1e-15, "field table");
    check_close(inputs_number(inputs, "metal.liquidus"), table_row_value(metal, "liquidus"), 0,
                "table row");
    check_close(inputs_number(inputs, "cruciblekind.fill"), inputs_number(inputs, "crucible.fill"),
                0, "the default of one is the other");
    g_assert_cmpstr(table_row_id(inputs_row(inputs, "cruciblekind")), ==, "clay-graphite");
    const TableRow *rating = tables_find(tables, TABLE_METALS,
                                         field_find("crucible.rating_metal")->fallback);
    check_close(inputs_number(inputs, "ratingmetal.density_solid"),
                table_row_value(rating, "density_solid"), 0, "table row");
    g_assert_cmpuint(node_size(node_member(inputs_log(inputs), "sessions")), ==, 2);
    check_close(inputs_number(inputs, "jobs"), 1, 0, "counted");
    g_assert_cmpstr(inputs_text(inputs, "shop.currency"), ==, "EUR");
}

static void
test_typed(void)
{
    g_autoptr(Book) book = parse(
        "\"lengths\":\"in\",\"flasks\":[{\"id\":\"s\"},{\"id\":\"b\",\"length\":\"14\"}],"
        "\"crucibles\":[{\"id\":\"c\",\"rating_metal\":\"a356\"}]",
        ",\"allowance\":\"3/32\",\"flask\":\"b\",\"metal\":\"za-12\",\"quantity\":24", NULL);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, paths);
    check_close(inputs_number(inputs, "job.allowance"), 0.00238125, 1e-12, "3/32 of 25.4 mm");
    g_assert_cmpstr(inputs_text(inputs, "job.allowance"), ==, "3/32");
    g_assert_cmpstr(inputs_source(inputs, "job.allowance"), ==, "user");
    g_assert_false(inputs_is_blank(inputs, "job.allowance"));
    check_close(inputs_number(inputs, "flask.length"), 0.3556, 1e-12, "14 in");
    check_close(inputs_number(inputs, "job.quantity"), 24, 0, "a bare JSON number");
    g_assert_true(inputs_units(inputs).inches);
    g_autoptr(Inputs) other = inputs_resolve(book, NULL, tables, NULL, paths);
    check_close(inputs_number(other, "flask.length"), 0.3, 1e-12, "first flask, blank");
    check_close(inputs_number(other, "job.allowance"), 0.003, 1e-15, "no job: the default");
}

static void
test_learned(void)
{
    g_autoptr(Learned) learned = learned_new();
    learned_set(learned, "people.ram_time", 1, "first");
    learned_set(learned, "people.ram_time", 1623, "measured in this shop: 6 flasks");
    g_assert_cmpuint(learned_size(learned), ==, 1);
    g_autoptr(Book) blank = parse("", "", NULL);
    g_autoptr(Book) typed = parse("\"people\":{\"ram_time\":\"22 min\"}", "", NULL);
    g_autoptr(Inputs) a = inputs_resolve(blank, "a", tables, learned, paths);
    g_autoptr(Inputs) b = inputs_resolve(typed, "a", tables, learned, paths);
    check_close(inputs_number(a, "people.ram_time"), 1623, 0, "learned");
    g_assert_cmpstr(inputs_source(a, "people.ram_time"), ==, "measured in this shop: 6 flasks");
    g_assert_true(inputs_is_blank(a, "people.ram_time"));
    check_close(inputs_number(b, "people.ram_time"), 1320, 1e-12, "typed comes first");
    g_assert_null(learned_find(NULL, "people.ram_time"));
}

// A book in hand may hold what no file is read with: the input is unknown and says why.
static void
test_unreadable(void)
{
    g_autoptr(Book) book = parse("\"flasks\":[{\"id\":\"s\"}]", "", NULL);
    g_autoptr(Node) job = edit_job_node("a", NULL, NULL, NULL, NULL, "mud", "0");
    g_autoptr(Node) lost = node_new_text("lost");
    g_autoptr(Node) with_flask = node_with_member(job, "flask", lost);
    g_autoptr(Node) jobs = node_with_item(node_get(book_root(book), "/jobs"), 0, with_flask);
    g_autoptr(Node) root = node_with_member(book_root(book), "jobs", jobs);
    g_autoptr(Book) broken = book_new(root, NULL);
    static const char *const more[] = {"job.quantity",  "job.flask", "flask.length",
                                       "job.metal",     "metal.*",   "job.contraction",
                                       "job.allowance", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(broken, "a", tables, NULL, more);
    g_assert_cmpstr(inputs_error(inputs, "job.quantity"), ==, "\"0\" is below 1; give 1 or more");
    g_assert_true(isnan(inputs_number(inputs, "job.quantity")));
    g_assert_nonnull(inputs_error(inputs, "job.flask"));
    g_assert_nonnull(inputs_error(inputs, "flask.length"));
    g_assert_true(isnan(inputs_number(inputs, "flask.length")));
    g_assert_nonnull(inputs_error(inputs, "job.metal"));
    g_assert_null(inputs_row(inputs, "metal"));
    g_assert_true(isnan(inputs_number(inputs, "metal.liquidus")));
    g_assert_true(isnan(inputs_number(inputs, "job.contraction")));
    g_assert_null(inputs_error(inputs, "job.allowance"));
    g_autoptr(FigureList) list = figure_list_new();
    inputs_give(inputs, list);
    g_assert_cmpint(figure_list_find(list, "metal.liquidus")->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpint(figure_list_find(list, "job.metal")->state, ==, FIGURE_UNKNOWN);
}

static void
test_mesh(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *mesh = g_build_filename(folder, "part.stl", NULL);
    static const char *const only[] = {"mesh", NULL};
    g_autoptr(Book) none = parse("", "", folder);
    g_assert_nonnull(none);
    g_autoptr(Inputs) nothing = inputs_resolve(none, "a", tables, NULL, only);
    g_assert_cmpstr(inputs_error(nothing, "mesh"), ==,
                    "the job names no mesh; choose the mesh of the finished part");
    g_assert_null(inputs_mesh_path(nothing));
    g_autoptr(Book) book = parse("", ",\"mesh\":\"part.stl\"", folder);
    g_autoptr(Inputs) missing = inputs_resolve(book, "a", tables, NULL, only);
    g_assert_true(g_str_has_prefix(inputs_error(missing, "mesh"), mesh));
    g_assert_cmpstr(inputs_mesh_path(missing), ==, mesh);
    g_assert_null(inputs_mesh_sha256(missing));
    g_assert_true(g_file_set_contents(mesh, "abc", 3, NULL));
    g_autoptr(Inputs) there = inputs_resolve(book, "a", tables, NULL, only);
    g_assert_null(inputs_error(there, "mesh"));
    g_assert_cmpstr(inputs_mesh_sha256(there), ==, // FIPS 180-4, the digest of "abc"
                    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    g_assert_cmpstr(inputs_digest(missing), !=, inputs_digest(there));
    g_assert_true(g_file_set_contents(mesh, "abd", 3, NULL)); // same size, perhaps same second
    g_autoptr(Inputs) changed = inputs_resolve(book, "a", tables, NULL, only);
    g_assert_cmpstr(inputs_digest(changed), !=, inputs_digest(there));
    check_folder_remove(folder);
}

static void
test_give(void)
{
    g_autoptr(Book) book = parse("", ",\"allowance\":\"2.385 mm\"", NULL);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, paths);
    g_autoptr(FigureList) list = figure_list_new();
    inputs_give(inputs, list);
    const Figure *allowance = figure_list_find(list, "job.allowance");
    g_assert_true(allowance->given);
    check_close(allowance->value, 0.002385, 1e-12, "as typed");
    g_assert_cmpstr(figure_source(allowance), ==, "user");
    g_assert_cmpstr(figure_list_find(list, "job.riser")->text, ==, "auto");
    g_assert_cmpint(figure_list_find(list, "job.good_rate")->state, ==, FIGURE_UNKNOWN);
    g_assert_nonnull(figure_list_find(list, "metal.liquidus"));
    g_assert_nonnull(figure_list_find(list, "cruciblekind.fill"));
    g_assert_cmpstr(figure_list_find(list, "log")->text, ==, "2 sessions");
}

static void
test_undeclared(void)
{
    static const char *const only[] = {"job.draft", "metal.liquidus", NULL};
    g_autoptr(Book) book = parse("", "", NULL);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, only);
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*\"job.allowance\" without*");
    g_assert_true(isnan(inputs_number(inputs, "job.allowance")));
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*\"metal.solidus\" without*");
    g_assert_true(isnan(inputs_number(inputs, "metal.solidus")));
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*row \"metal.*\"*");
    g_assert_null(inputs_row(inputs, "metal"));
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*\"mesh\" without*");
    g_assert_null(inputs_mesh_path(inputs));
    g_test_assert_expected_messages();
    static const char *const unknown[] = {"job.nothing", NULL};
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*is called \"job.nothing\"*");
    g_autoptr(Inputs) none = inputs_resolve(book, "a", tables, NULL, unknown);
    g_assert_nonnull(none);
    g_test_assert_expected_messages();
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    g_test_add_func("/book/inputs/defaults", test_defaults);
    g_test_add_func("/book/inputs/typed", test_typed);
    g_test_add_func("/book/inputs/learned", test_learned);
    g_test_add_func("/book/inputs/unreadable", test_unreadable);
    g_test_add_func("/book/inputs/mesh", test_mesh);
    g_test_add_func("/book/inputs/give", test_give);
    g_test_add_func("/book/inputs/undeclared", test_undeclared);
    return g_test_run();
}
