// SPDX-License-Identifier: GPL-3.0-or-later
// Saving: new and over an old file, links and permissions, and a disk that fails at every call.
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "book/store-hook.h"
#include "book/store.h"
#include "check.h"

static int calls, failing_call, failing_code;
static const char *failed;

static int
fail_nth(const char *call)
{
    if (calls++ != failing_call)
        return 0;
    failed = call;
    return failing_code;
}

// A book of several writes.
static Book *
make_book(const char *name)
{
    g_autofree char *notes = g_strnfill(11000, 'n');
    g_autofree char *text = g_strdup_printf("{\"format\":\"castbook\",\"version\":1,\"shop\":{"
                                            "\"name\":\"%s\"},\"notes\":\"%s\"}",
                                            name, notes);
    g_autoptr(GError) error = NULL;
    Book *book = store_parse(text, -1, "made", NULL, NULL, &error);
    g_assert_no_error(error);
    return book;
}

static void
assert_file(const char *path, const char *wanted)
{
    g_autofree char *text = NULL;
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    g_assert_cmpstr(text, ==, wanted);
}

static guint
count_files(const char *folder)
{
    guint n = 0;
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    while (g_dir_read_name(dir))
        n++;
    return n;
}

static void
test_write(void)
{
    GError *error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.castbook", NULL);
    g_autoptr(Book) one = make_book("one");
    g_autoptr(Book) two = make_book("two");
    g_autofree char *text_one = store_text(one), *text_two = store_text(two);
    g_assert_true(store_write(one, path, FALSE, &error));
    assert_file(path, text_one);
    g_assert_false(store_write(two, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "is there already");
    assert_file(path, text_one);
    g_assert_true(store_write(two, path, TRUE, &error));
    assert_file(path, text_two);
    g_autoptr(Book) back = store_read(path, NULL, &error);
    g_assert_true(node_equal(book_root(back), book_root(two)));
    g_assert_cmpuint(count_files(folder), ==, 1);
    g_assert_false(store_write(two, folder, TRUE, &error));
    check_error(error, BASE_ERROR_FILE, "is a folder");
    g_autofree char *nowhere = g_build_filename(folder, "no", "b.castbook", NULL);
    g_assert_false(store_write(two, nowhere, TRUE, &error));
    check_error(error, BASE_ERROR_FILE, "cannot be saved: No such file");
    check_folder_remove(folder);
}

static void
test_mode_and_links(void)
{
    struct stat info;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "real.castbook", NULL);
    g_autofree char *link = g_build_filename(folder, "link.castbook", NULL);
    g_autofree char *dangling = g_build_filename(folder, "dangling.castbook", NULL);
    g_autofree char *later = g_build_filename(folder, "later.castbook", NULL);
    g_autoptr(Book) one = make_book("one");
    g_autoptr(Book) two = make_book("two");
    g_autofree char *text_two = store_text(two);
    g_assert_true(store_write(one, path, FALSE, NULL));
    g_assert_cmpint(g_chmod(path, 0640), ==, 0);
    g_assert_cmpint(symlink("real.castbook", link), ==, 0);
    g_assert_cmpint(symlink(later, dangling), ==, 0);
    g_assert_true(store_write(two, link, TRUE, NULL));
    assert_file(path, text_two);
    g_assert_true(g_file_test(link, G_FILE_TEST_IS_SYMLINK));
    g_assert_cmpint(g_stat(path, &info), ==, 0);
    g_assert_cmpint(info.st_mode & 07777, ==, 0640);
    g_assert_true(store_write(two, dangling, FALSE, NULL));
    assert_file(later, text_two);
    g_assert_true(g_file_test(dangling, G_FILE_TEST_IS_SYMLINK));
    check_folder_remove(folder);
}

// For every n the n-th call fails: the old file is whole, nothing is left lying about.
static void
test_failing_calls(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.castbook", NULL);
    g_autoptr(Book) one = make_book("one");
    g_autoptr(Book) two = make_book("two");
    g_autofree char *text_one = store_text(one), *text_two = store_text(two);
    gboolean saved = FALSE;
    guint writes = 0;
    g_assert_true(store_write(one, path, FALSE, NULL));
    for (failing_call = 0; !saved; failing_call++) {
        GError *error = NULL;
        calls = 0;
        failed = NULL;
        failing_code = failing_call % 2 ? EIO : ENOSPC;
        store_fail_hook = fail_nth;
        saved = store_write(two, path, TRUE, &error);
        store_fail_hook = NULL;
        g_assert_cmpint(saved, ==, failed == NULL);
        if (saved)
            break;
        gboolean after = strcmp(failed, "folder") == 0;
        writes += strcmp(failed, "write") == 0;
        check_error(error, BASE_ERROR_FILE, after ? "did not confirm" : "cannot be saved");
        assert_file(path, after ? text_two : text_one);
        g_assert_cmpuint(count_files(folder), ==, 1);
    }
    g_assert_cmpuint(writes, ==, 3); // 11 kB in pieces of 4
    assert_file(path, text_two);
    check_folder_remove(folder);
}

// A first save that fails leaves no file at all.
static void
test_failing_first(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.castbook", NULL);
    g_autoptr(Book) one = make_book("one");
    for (failing_call = 0; failing_call < 7; failing_call++) {
        calls = 0;
        failing_code = ENOSPC;
        store_fail_hook = fail_nth;
        g_assert_false(store_write(one, path, FALSE, NULL));
        store_fail_hook = NULL;
        g_assert_cmpuint(count_files(folder), ==, 0);
    }
    check_folder_remove(folder);
}

// What could not be read again is not written.
static void
test_too_big(void)
{
    GError *error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.castbook", NULL);
    g_autofree char *notes = g_strnfill(STORE_MAX_BYTES, 'n');
    g_autoptr(Node) text = node_new_text(notes);
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Node) root = node_with_member(book_root(ready), "notes", text);
    g_autoptr(Book) book = book_new(root, NULL);
    g_assert_false(store_write(book, path, FALSE, &error));
    check_error(error, BASE_ERROR_LIMIT, "larger than 16 MB");
    g_assert_cmpuint(count_files(folder), ==, 0);
    check_folder_remove(folder);
}

// Nothing may be written there: the words say so and do not send anybody looking for room.
static void
test_read_only(void)
{
    GError *error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.castbook", NULL);
    g_autoptr(Book) one = make_book("one");
    g_autofree char *text = store_text(one);
    g_assert_true(store_write(one, path, FALSE, NULL));
    static const int codes[] = {EACCES, EPERM, EROFS};
    for (guint i = 0; i < 2 * G_N_ELEMENTS(codes); i++) {
        calls = 0;
        failing_call = (int)i % 2; // the file itself, then its folder
        failing_code = codes[i / 2];
        store_fail_hook = fail_nth;
        g_assert_false(store_write(one, path, TRUE, &error));
        store_fail_hook = NULL;
        check_error(error, BASE_ERROR_FILE, "save it in another folder");
        assert_file(path, text);
    }
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/store-write/write", test_write);
    g_test_add_func("/book/store-write/mode-and-links", test_mode_and_links);
    g_test_add_func("/book/store-write/failing-calls", test_failing_calls);
    g_test_add_func("/book/store-write/failing-first", test_failing_first);
    g_test_add_func("/book/store-write/too-big", test_too_big);
    g_test_add_func("/book/store-write/read-only", test_read_only);
    return g_test_run();
}
