// SPDX-License-Identifier: GPL-3.0-or-later
// Editing by field: place, check, clearing; and that turning the shop's units changes no value.
#include <glib/gstdio.h>

#include "book/edit.h"
#include "book/inputs.h"
#include "book/store.h"
#include "check.h"

static Tables *tables;

static const char text[] =
    "{\"format\":\"castbook\",\"version\":1,\"shop\":{"
    "\"ambient\":\"21.5\","
    "\"flasks\":[{\"id\":\"small\"},{\"id\":\"big\",\"length\":\"355\",\"width\":\"9 3/4 in\"}]},"
    "\"jobs\":[{\"id\":\"a\",\"allowance\":\"1,75\",\"heel\":\"0.35\",\"bought_in\":\"31\"},"
    "{\"id\":\"b\",\"flask\":\"big\",\"quantity\":7}],"
    "\"log\":{\"sessions\":[{\"loads\":[{\"charge\":\"3.1\",\"melt_time\":\"48\","
    "\"flasks\":[{\"ram_time\":\"28 min\"}]}]}]}}";

static Book *
parse(const char *folder)
{
    g_autoptr(GError) error = NULL;
    Book *book = store_parse(text, -1, "test", folder, tables, &error);
    g_assert_no_error(error);
    return book;
}

static Book *
set_field(const Book *book, const char *job, const char *path, const char *typed, GError **error)
{
    g_autoptr(Edit) edit = edit_field(book, job, field_find(path), typed, tables, error);
    return edit ? edit_apply(book, edit, error) : NULL;
}

static void
test_places(void)
{
    g_autoptr(Book) book = parse(NULL);
    static const char *const cases[][3] = {
        {"a", "flask.length", "/shop/flasks/0/length"},
        {"b", "flask.length", "/shop/flasks/1/length"},
        {NULL, "sand.kind", "/shop/sand/kind"},
        {NULL, "shop.hours", "/shop/hours"},
        {"b", "job.draft", "/jobs/1/draft"},
        {"b", "furnace.power", "/shop/furnaces/0/power"},
        {NULL, "job.draft", NULL},
        {"x", "job.draft", NULL},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *place = edit_field_place(book, cases[i][0], field_find(cases[i][1]));
        g_assert_cmpstr(place, ==, cases[i][2]);
    }
    g_autofree char *length = edit_field_text(book, "b", field_find("flask.length"));
    g_autofree char *count = edit_field_text(book, "b", field_find("job.quantity"));
    g_assert_cmpstr(length, ==, "355");
    g_assert_cmpstr(count, ==, "7");
    g_assert_null(edit_field_text(book, "a", field_find("flask.length")));
    g_assert_null(edit_field_text(book, NULL, field_find("job.quantity")));
}

static void
test_set_and_clear(void)
{
    g_autoptr(Book) book = parse(NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) set = set_field(book, "b", "flask.length", " 14 1/2 in ", &error);
    g_assert_no_error(error);
    g_autofree char *typed = edit_field_text(set, "b", field_find("flask.length"));
    g_assert_cmpstr(typed, ==, "14 1/2 in");
    g_autoptr(Book) cleared = set_field(set, "b", "flask.length", "  ", &error);
    g_assert_null(edit_field_text(cleared, "b", field_find("flask.length")));
    g_autoptr(Book) first = set_field(book, "a", "furnace.power", "2.4 kW", &error);
    g_assert_no_error(error);
    g_assert_cmpstr(book_entry_id(first, "a", "furnace"), ==, "furnace-1");
    g_autofree char *power = edit_field_text(first, "a", field_find("furnace.power"));
    g_assert_cmpstr(power, ==, "2.4 kW");
    g_autoptr(Edit) edit = edit_field(book, "a", field_find("job.draft"), "3", tables, &error);
    g_assert_cmpstr(edit->label, ==, "Change draft");
    g_autoptr(Book) none = set_field(book, "a", "furnace.power", "", &error);
    g_assert_no_error(error);
    g_assert_true(node_equal(book_root(none), book_root(book)));
}

static void
test_refused(void)
{
    g_autoptr(Book) book = parse(NULL);
    GError *error = NULL;
    g_assert_null(set_field(book, "a", "job.quantity", "0", &error));
    check_error(error, BASE_ERROR_VALUE, "\"0\" is below 1");
    g_assert_null(set_field(book, "a", "job.flask", "lost", &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no flask \"lost\"");
    g_assert_null(set_field(book, NULL, "job.draft", "2", &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no job");
    g_assert_null(set_field(book, "x", "job.draft", "2", &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no job \"x\"");
    g_assert_null(set_field(book, "a", "job.name", "\xff", &error));
    check_error(error, BASE_ERROR_VALUE, "not UTF-8");
}

static void
test_mesh_hash(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *mesh = g_build_filename(folder, "part.stl", NULL);
    g_assert_true(g_file_set_contents(mesh, "abc", 3, NULL));
    g_autoptr(Book) book = parse(folder);
    g_autoptr(Book) set = set_field(book, "a", "job.mesh", "part.stl", NULL);
    g_assert_cmpstr(node_text(node_get(book_root(set), "/jobs/0/mesh_sha256")), ==,
                    // FIPS 180-4, the digest of "abc"
                    "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    g_autoptr(Book) lost = set_field(set, "a", "job.mesh", "lost.stl", NULL);
    g_assert_cmpstr(node_text(node_get(book_root(lost), "/jobs/0/mesh")), ==, "lost.stl");
    g_assert_null(node_get(book_root(lost), "/jobs/0/mesh_sha256"));
    g_autoptr(Book) cleared = set_field(set, "a", "job.mesh", "", NULL);
    g_assert_null(node_get(book_root(cleared), "/jobs/0/mesh"));
    check_folder_remove(folder);
}

// Every number of the book means the same before and after.
static void
test_units(void)
{
    static const char *const paths[] = {"shop.ambient", "flask.length",  "flask.width",
                                        "flask.count",  "job.allowance", "job.heel",
                                        "job.quantity", "job.bought_in", NULL};
    static const char *const turns[][2] = {
        {"shop.lengths", "in"}, {"shop.masses", "lb"}, {"shop.temperatures", "F"}};
    g_autoptr(Book) book = parse(NULL);
    g_autoptr(Book) turned = book_ref(book);
    for (guint i = 0; i < G_N_ELEMENTS(turns); i++) {
        g_autoptr(Book) before = g_steal_pointer(&turned);
        turned = set_field(before, NULL, turns[i][0], turns[i][1], NULL);
        g_assert_nonnull(turned);
    }
    g_assert_true(book_units(turned).inches && book_units(turned).pounds);
    const char *const jobs[] = {"a", "b"};
    for (guint j = 0; j < G_N_ELEMENTS(jobs); j++) {
        g_autoptr(Inputs) a = inputs_resolve(book, jobs[j], tables, NULL, paths);
        g_autoptr(Inputs) b = inputs_resolve(turned, jobs[j], tables, NULL, paths);
        for (guint i = 0; paths[i]; i++) {
            g_assert_null(inputs_error(b, paths[i]));
            if (isfinite(inputs_number(a, paths[i])))
                check_close(inputs_number(b, paths[i]), inputs_number(a, paths[i]), 1e-15,
                            paths[i]);
        }
    }
    const Node *root = book_root(turned);
    g_assert_cmpstr(node_text(node_get(root, "/shop/flasks/1/length")), ==, "355 mm");
    g_assert_cmpstr(node_text(node_get(root, "/shop/flasks/1/width")), ==, "9 3/4 in");
    g_assert_cmpstr(node_text(node_get(root, "/log/sessions/0/loads/0/charge")), ==, "3.1 kg");
    g_assert_cmpstr(node_text(node_get(root, "/log/sessions/0/loads/0/melt_time")), ==, "48");
    g_assert_true(node_get(root, "/log/sessions/0/loads/0/flasks") ==
                  node_get(book_root(book), "/log/sessions/0/loads/0/flasks"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    g_test_add_func("/book/edit-field/places", test_places);
    g_test_add_func("/book/edit-field/set-and-clear", test_set_and_clear);
    g_test_add_func("/book/edit-field/refused", test_refused);
    g_test_add_func("/book/edit-field/mesh-hash", test_mesh_hash);
    g_test_add_func("/book/edit-field/units", test_units);
    return g_test_run();
}
