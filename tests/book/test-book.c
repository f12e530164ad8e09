// SPDX-License-Identifier: GPL-3.0-or-later
// The Book's own look-ups: jobs, ids, meshes, sections, units.
#include "book/book.h"

#include "book/store.h"
#include "check.h"

static const char text[] =
    "{\"format\":\"castbook\",\"version\":1,"
    "\"shop\":{\"lengths\":\"in\",\"masses\":\"lb\",\"temperatures\":\"F\",\"currency\":\"CHF\","
    "\"flasks\":[{\"id\":\"small\"},{\"id\":\"big\",\"length\":\"14\"}]},"
    "\"jobs\":[{\"id\":\"a\",\"mesh\":\"parts/a.stl\"},"
    "{\"id\":\"b\",\"name\":\"Bracket\",\"mesh\":\"/abs/b.stl\",\"flask\":\"big\"},"
    "{\"id\":\"c\",\"flask\":\"lost\"}]}";

static Book *
parse(const char *folder)
{
    g_autoptr(GError) error = NULL;
    Book *book = store_parse(text, -1, "test", folder, NULL, &error);
    g_assert_no_error(error);
    return book;
}

static void
test_jobs(void)
{
    g_autoptr(Book) book = parse("/home/shop");
    g_assert_cmpuint(book_job_count(book), ==, 3);
    g_assert_cmpstr(book_job_id(book, 1), ==, "b");
    g_assert_null(book_job_id(book, 3));
    g_assert_cmpstr(book_job_name(book, "b"), ==, "Bracket");
    g_assert_cmpstr(book_job_name(book, "a"), ==, "a");
    g_assert_null(book_job_name(book, "x"));
    g_assert_true(book_has_job(book, "c"));
    g_assert_false(book_has_job(book, NULL));
    g_autofree char *place = book_job_place(book, "c");
    g_assert_cmpstr(place, ==, "/jobs/2");
    g_assert_null(book_job_place(book, "x"));
}

static void
test_mesh_path(void)
{
    g_autoptr(Book) book = parse("/home/shop");
    g_autofree char *a = book_mesh_path(book, "a");
    g_autofree char *b = book_mesh_path(book, "b");
    g_assert_cmpstr(a, ==, "/home/shop/parts/a.stl");
    g_assert_cmpstr(b, ==, "/abs/b.stl");
    g_assert_null(book_mesh_path(book, "c"));
    g_autoptr(Book) moved = book_with_folder(book, "/elsewhere");
    g_autofree char *there = book_mesh_path(moved, "a");
    g_assert_cmpstr(there, ==, "/elsewhere/parts/a.stl");
    g_assert_cmpstr(book_folder(moved), ==, "/elsewhere");
    g_assert_true(book_root(moved) == book_root(book));
}

static void
test_new_id(void)
{
    g_autoptr(Book) book = parse(NULL);
    static const char *const cases[][2] = {
        {"Treadle bracket", "treadle-bracket"},
        {"  Öse / 3\" ", "ose-3"},
        {"a", "a-2"},
        {"", "job"},
        {"B!!", "b-2"},
        {"漢字", "job"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *id = book_new_job_id(book, cases[i][0]);
        g_assert_cmpstr(id, ==, cases[i][1]);
    }
}

static void
test_sections(void)
{
    g_autoptr(Book) book = parse(NULL);
    g_autofree char *place = NULL;
    GError *error = NULL;
    g_assert_nonnull(book_section(book, "b", "flask", &place, &error));
    g_assert_cmpstr(place, ==, "/shop/flasks/1");
    g_clear_pointer(&place, g_free);
    g_assert_cmpstr(book_entry_id(book, "a", "flask"), ==, "small");
    g_assert_cmpstr(book_entry_id(book, NULL, "flask"), ==, "small");
    g_assert_null(book_entry_id(book, "a", "furnace"));
    g_assert_null(book_section(book, "a", "furnace", &place, &error));
    g_assert_cmpstr(place, ==, "/shop/furnaces/0");
    g_clear_pointer(&place, g_free);
    g_assert_null(book_section(book, NULL, "job", &place, &error));
    g_assert_null(place);
    g_assert_no_error(error);
    g_assert_null(book_section(book, "c", "flask", &place, &error));
    g_assert_null(place);
    check_error(error, BASE_ERROR_NOT_FOUND, "no flask \"lost\"; choose one of small, big");
}

static void
test_units(void)
{
    g_autoptr(Book) book = parse(NULL);
    UnitSet units = book_units(book);
    g_assert_true(units.inches && units.pounds && units.fahrenheit);
    g_assert_cmpstr(units.currency, ==, "CHF");
    g_autoptr(Book) ready = book_new_ready();
    units = book_units(ready);
    g_assert_false(units.inches || units.pounds || units.fahrenheit);
    g_assert_cmpstr(units.currency, ==, "EUR");
}

// The ready book passes the reader, and comes back the same.
static void
test_ready(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = book_new_ready();
    g_autofree char *first = store_text(book);
    g_autoptr(Book) again = store_parse(first, -1, "ready", NULL, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(node_equal(book_root(book), book_root(again)));
    g_assert_cmpuint(book_job_count(book), ==, 0);
    g_assert_nonnull(book_entry_id(book, NULL, "crucible"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/book/jobs", test_jobs);
    g_test_add_func("/book/book/mesh-path", test_mesh_path);
    g_test_add_func("/book/book/new-id", test_new_id);
    g_test_add_func("/book/book/sections", test_sections);
    g_test_add_func("/book/book/units", test_units);
    g_test_add_func("/book/book/ready", test_ready);
    return g_test_run();
}
