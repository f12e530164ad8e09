// SPDX-License-Identifier: GPL-3.0-or-later
// Mesh paths: short below the book's folder, whole elsewhere, and still right after a move.
#include "check.h"

#include "book/edit.h"
#include "plan/mesh-path.h"

static void
check_stored(const char *mesh, const char *folder, const char *expected)
{
    g_autofree char *stored = mesh_path_stored(mesh, folder);
    g_assert_cmpstr(stored, ==, expected);
}

static void
test_stored(void)
{
    check_stored("/shop/books/hanger.stl", "/shop/books", "hanger.stl");
    check_stored("/shop/books/parts/hanger.stl", "/shop/books", "parts/hanger.stl");
    check_stored("/shop/hanger.stl", "/shop/books", "/shop/hanger.stl");
    check_stored("/shop/books2/hanger.stl", "/shop/books", "/shop/books2/hanger.stl");
    check_stored("/shop/books/../hanger.stl", "/shop/books", "/shop/hanger.stl");
    check_stored("/shop/./books//hanger.stl", "/shop/books", "hanger.stl");
    check_stored("/shop/books/hanger.stl", NULL, "/shop/books/hanger.stl");
    check_stored("/hanger.stl", "/", "hanger.stl");
    check_stored("/shop/books/öse ü.stl", "/shop/books", "öse ü.stl");
}

static void
test_stored_from_here(void)
{
    g_autofree char *here = g_get_current_dir();
    check_stored("hanger.stl", here, "hanger.stl");
    g_autofree char *whole = g_build_filename(here, "hanger.stl", NULL);
    check_stored("hanger.stl", "/somewhere/else", whole);
}

static Book *
add_job(const Book *book, const char *id, const char *mesh)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = edit_job_node(id, id, mesh, NULL, "mm", "a356", "7");
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, "Add job");
    Book *with = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    return with;
}

static const char *
stored_of(const Book *book, guint index)
{
    g_autofree char *place = g_strdup_printf("/jobs/%u/mesh", index);
    return node_text(node_get(book_root(book), place));
}

static void
check_whole(const Book *book, const char *job, const char *expected)
{
    g_autofree char *whole = book_mesh_path(book, job);
    g_assert_cmpstr(whole, ==, expected);
}

static void
test_rebase(void)
{
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Book) placed = book_with_folder(ready, "/shop/books");
    g_autoptr(Book) one = add_job(placed, "beside", "hanger.stl");
    g_autoptr(Book) two = add_job(one, "far", "/parts/pawl.stl");
    g_autoptr(Book) three = add_job(two, "none", NULL);
    g_autoptr(Book) book = add_job(three, "below", "parts/bracket.stl");

    g_autoptr(Book) away = mesh_path_rebase(book, "/parts");
    g_assert_cmpstr(book_folder(away), ==, "/parts");
    g_assert_cmpstr(stored_of(away, 0), ==, "/shop/books/hanger.stl");
    g_assert_cmpstr(stored_of(away, 1), ==, "pawl.stl");
    g_assert_cmpstr(stored_of(away, 2), ==, NULL);
    check_whole(away, "beside", "/shop/books/hanger.stl");
    check_whole(away, "far", "/parts/pawl.stl");
    check_whole(away, "none", NULL);
    check_whole(away, "below", "/shop/books/parts/bracket.stl");

    g_autoptr(Book) up = mesh_path_rebase(book, "/shop");
    g_assert_cmpstr(stored_of(up, 0), ==, "books/hanger.stl");
    g_assert_cmpstr(stored_of(up, 3), ==, "books/parts/bracket.stl");

    g_autoptr(Book) back = mesh_path_rebase(away, "/shop/books");
    g_assert_true(node_equal(book_root(back), book_root(book)));
}

static void
test_rebase_nowhere(void)
{
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Book) book = add_job(ready, "far", "/parts/pawl.stl");
    g_autoptr(Book) same = mesh_path_rebase(book, NULL);
    g_assert_true(same == book);
    g_autoptr(Book) placed = mesh_path_rebase(book, "/parts");
    check_whole(placed, "far", "/parts/pawl.stl");
    g_autoptr(Book) lost = mesh_path_rebase(placed, NULL);
    check_whole(lost, "far", "/parts/pawl.stl");
}

// A book without a list of jobs is moved as it is.
static void
test_rebase_without_jobs(void)
{
    g_autoptr(Node) root = node_new_object();
    g_autoptr(Book) book = book_new(root, "/shop");
    g_autoptr(Book) moved = mesh_path_rebase(book, "/parts");
    g_assert_cmpstr(book_folder(moved), ==, "/parts");
    g_assert_true(node_equal(book_root(moved), root));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/plan/mesh-path/stored", test_stored);
    g_test_add_func("/plan/mesh-path/stored-from-here", test_stored_from_here);
    g_test_add_func("/plan/mesh-path/rebase", test_rebase);
    g_test_add_func("/plan/mesh-path/rebase-nowhere", test_rebase_nowhere);
    g_test_add_func("/plan/mesh-path/rebase-without-jobs", test_rebase_without_jobs);
    return g_test_run();
}
