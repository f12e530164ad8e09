// SPDX-License-Identifier: GPL-3.0-or-later
// Set, insert and remove at places: what changes, what is shared, and every place that is refused.
#include "book/edit.h"

#include "book/store.h"
#include "check.h"

static const char text[] = "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"name\":\"S\","
                           "\"flasks\":[{\"id\":\"f\",\"length\":\"300 mm\"}]},"
                           "\"jobs\":[{\"id\":\"a\"},{\"id\":\"b\"}],\"extra\":{\"kept\":[1.50]}}";

static Book *
parse(void)
{
    g_autoptr(GError) error = NULL;
    Book *book = store_parse(text, -1, "test", "/folder", NULL, &error);
    g_assert_no_error(error);
    return book;
}

static Book *
apply(const Book *book, Edit *edit, GError **error)
{
    Book *changed = edit_apply(book, edit, error);
    edit_free(edit);
    return changed;
}

static const Node *
get(const Book *book, const char *place)
{
    return node_get(book_root(book), place);
}

static void
test_set(void)
{
    g_autoptr(Book) book = parse();
    g_autoptr(Node) value = node_new_text("238.5 mm");
    g_autoptr(Node) nothing = node_new_null();
    g_autoptr(Book) set = apply(book, edit_set("/shop/flasks/0/length", value, "Change length"),
                                NULL);
    g_assert_cmpstr(node_text(get(set, "/shop/flasks/0/length")), ==, "238.5 mm");
    g_assert_cmpstr(node_text(get(book, "/shop/flasks/0/length")), ==, "300 mm");
    g_assert_cmpstr(book_folder(set), ==, "/folder");
    g_assert_true(get(set, "/jobs") == get(book, "/jobs"));
    g_assert_true(get(set, "/extra") == get(book, "/extra"));
    g_autoptr(Book) cleared = apply(
        set, edit_set("/shop/flasks/0/length", nothing, "Change length"), NULL);
    g_assert_null(get(cleared, "/shop/flasks/0/length"));
    g_autoptr(Book) made = apply(book, edit_set("/shop/sand/kind", value, "x"), NULL);
    g_assert_cmpstr(node_text(get(made, "/shop/sand/kind")), ==, "238.5 mm");
    g_autoptr(Book) same = apply(book, edit_set("/shop/sand/kind", nothing, "x"), NULL);
    g_assert_true(node_equal(book_root(same), book_root(book)));
}

static void
test_insert_remove(void)
{
    g_autoptr(Book) book = parse();
    g_autoptr(Node) session = node_new_object();
    g_autoptr(Node) job = edit_job_node("c", NULL, "c.stl", NULL, "mm", "a356", "24");
    g_autoptr(Book) end = apply(book, edit_insert("/jobs/-", job, "Add job"), NULL);
    g_autoptr(Book) first = apply(book, edit_insert("/jobs/0", job, "Add job"), NULL);
    g_assert_cmpstr(book_job_id(end, 2), ==, "c");
    g_assert_cmpstr(book_job_id(first, 0), ==, "c");
    g_assert_cmpstr(book_job_id(first, 2), ==, "b");
    g_assert_null(get(end, "/jobs/2/name"));
    g_assert_cmpstr(node_text(get(end, "/jobs/2/quantity")), ==, "24");
    g_autoptr(Book) removed = apply(first, edit_remove("/jobs/1", "Remove job"), NULL);
    g_assert_cmpuint(book_job_count(removed), ==, 2);
    g_assert_cmpstr(book_job_id(removed, 1), ==, "b");
    g_autoptr(Book) logged = apply(book, edit_insert("/log/sessions/-", session, "Log"), NULL);
    g_assert_cmpuint(node_size(get(logged, "/log/sessions")), ==, 1);
    g_autoptr(Book) without = apply(book, edit_remove("/extra", "x"), NULL);
    g_assert_null(get(without, "/extra"));
}

static void
test_root(void)
{
    g_autoptr(Book) book = parse();
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Book) set = apply(book, edit_set("", book_root(ready), "x"), NULL);
    g_assert_true(book_root(set) == book_root(ready));
    g_assert_cmpstr(book_folder(set), ==, "/folder");
}

static void
test_refused(void)
{
    g_autoptr(Book) book = parse();
    g_autoptr(Node) value = node_new_text("x");
    Edit *edits[] = {
        edit_set("/jobs/2/name", value, "x"),
        edit_set("/jobs/2", value, "x"),
        edit_set("/jobs/x/name", value, "x"),
        edit_set("/shop/name/deeper", value, "x"),
        edit_insert("/jobs/3", value, "x"),
        edit_insert("/shop/name", value, "x"),
        edit_remove("/jobs/2", "x"),
        edit_remove("/shop/nothing", "x"),
        edit_remove("/shop/sand/kind", "x"),
        edit_remove("", "x"),
        edit_insert("/jobs/-/more", value, "x"),
        edit_set("", value, "x"),
    };
    for (guint i = 0; i < G_N_ELEMENTS(edits); i++) {
        GError *error = NULL;
        g_assert_null(apply(book, edits[i], &error));
        check_error(error, BASE_ERROR_NOT_FOUND, "no such place");
    }
}

// What no file would be read with, no edit makes.
static void
test_spoilt(void)
{
    static const struct {
        const char *place, *text, *words;
    } cases[] = {
        {"/jobs/1/quantity", "0", "jobs[1].quantity: \"0\" is below 1"},
        {"/jobs/1/id", "a", "jobs[1]: the id \"a\" is there twice"},
        {"/jobs/0/id", "", "jobs[0]: has no \"id\""},
        {"/jobs", "a", "jobs: is not a list"},
        {"/shop/flasks/0/length", "9 m", "shop.flasks[0].length: \"9 m\" is above"},
        {"/shop", "a", "shop: is not an object"},
        {"/log/sessions", "a", "log.sessions: is not a list"},
        {"/format", "a", "format: is not"},
        {"/version", "1", "version: is not"},
    };
    g_autoptr(Book) book = parse();
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        GError *error = NULL;
        g_autoptr(Node) value = node_new_text(cases[i].text);
        g_assert_null(apply(book, edit_set(cases[i].place, value, "x"), &error));
        g_assert_nonnull(error);
        check_error(error, error->code, cases[i].words);
    }
    GError *error = NULL;
    g_autoptr(Node) job = edit_job_node("b", NULL, NULL, NULL, NULL, NULL, NULL);
    g_assert_null(apply(book, edit_insert("/jobs/-", job, "x"), &error));
    check_error(error, BASE_ERROR_FORMAT, "jobs[2]: the id \"b\" is there twice");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/edit/set", test_set);
    g_test_add_func("/book/edit/insert-remove", test_insert_remove);
    g_test_add_func("/book/edit/root", test_root);
    g_test_add_func("/book/edit/refused", test_refused);
    g_test_add_func("/book/edit/spoilt", test_spoilt);
    return g_test_run();
}
