// SPDX-License-Identifier: GPL-3.0-or-later
// Comparing with a named source, and checking the shape of error messages.
#include "check.h"

#include <glib/gstdio.h>
#include <string.h>

void
check_close_at(const char *what, double value, double expected, double relative, const char *source,
               const char *file, int line)
{
    double allowed = expected == 0.0 ? relative : relative * fabs(expected);
    if (fabs(value - expected) <= allowed)
        return;
    g_autofree char *text = g_strdup_printf("%s is %.10g, not %.10g within %g (%s)", what, value,
                                            expected, relative, source);
    g_assertion_message(G_LOG_DOMAIN, file, line, G_STRFUNC, text);
}

void
check_error_at(GError **error, BaseError code, const char *words, const char *file, int line)
{
    g_autofree char *text = NULL;
    if (!*error)
        text = g_strdup_printf("no error, expected one with \"%s\"", words);
    else if (!g_error_matches(*error, BASE_ERROR, code))
        text = g_strdup_printf("wrong kind of error: %s", (*error)->message);
    else if (strchr((*error)->message, '\n'))
        text = g_strdup_printf("more than one line: %s", (*error)->message);
    else if (!strstr((*error)->message, words))
        text = g_strdup_printf("\"%s\" lacks \"%s\"", (*error)->message, words);
    if (text)
        g_assertion_message(G_LOG_DOMAIN, file, line, G_STRFUNC, text);
    g_clear_error(error);
}

char *
check_folder(void)
{
    g_autoptr(GError) error = NULL;
    char *folder = g_dir_make_tmp("flaskwright-test-XXXXXX", &error);
    g_assert_no_error(error);
    return folder;
}

void
check_folder_remove(const char *folder)
{
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    const char *name;
    while (dir && (name = g_dir_read_name(dir))) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        if (g_file_test(path, G_FILE_TEST_IS_DIR) && !g_file_test(path, G_FILE_TEST_IS_SYMLINK))
            check_folder_remove(path);
        else
            g_unlink(path);
    }
    g_rmdir(folder);
}
