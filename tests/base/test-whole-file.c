// SPDX-License-Identifier: GPL-3.0-or-later
// A file is there whole or not at all, and nothing is written over unasked.
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "base/whole-file.h"
#include "check.h"

static void
check_holds(const char *path, const char *expected)
{
    g_autofree char *text = NULL;
    gsize n = 0;
    g_assert_true(g_file_get_contents(path, &text, &n, NULL));
    g_assert_cmpmem(text, n, expected, strlen(expected));
}

static void
test_write(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a", NULL);
    g_autoptr(GError) error = NULL;
    g_assert_true(whole_file_write(path, "one", 3, FALSE, &error));
    check_holds(path, "one");
    g_assert_false(whole_file_write(path, "two", 3, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "is there already; choose another name");
    check_holds(path, "one");
    g_assert_true(whole_file_write(path, "three", 5, TRUE, &error));
    check_holds(path, "three");
    g_assert_true(whole_file_write(path, NULL, 0, TRUE, &error));
    check_holds(path, "");
    check_folder_remove(folder);
}

static void
test_names(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *link = g_build_filename(folder, "link", NULL);
    g_autofree char *inside = g_build_filename(folder, "no", "such", NULL);
    g_autoptr(GError) error = NULL;
    g_assert_cmpint(symlink("nowhere", link), ==, 0);
    g_assert_false(whole_file_may(link, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "is there already");
    g_assert_true(whole_file_may(link, TRUE, &error));
    g_assert_true(whole_file_may(inside, FALSE, &error));
    g_assert_false(whole_file_write(inside, "x", 1, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "choose a folder that can be written");
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/base/whole-file/write", test_write);
    g_test_add_func("/base/whole-file/names", test_names);
    return g_test_run();
}
