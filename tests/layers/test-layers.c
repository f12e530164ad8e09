// SPDX-License-Identifier: GPL-3.0-or-later
// The order of the folders of src/: a file includes only its own folder and those before it, and
// only window/ knows GTK.
#include "check.h"

#include <string.h>

static const char *const order[] = {"base",   "units",  "figure",  "metal",    "book",  "learn",
                                    "solid",  "part",   "feed",    "mould",    "board", "freeze",
                                    "melt",   "stock",  "session", "calendar", "plan",  "live",
                                    "sketch", "report", "cli",     "window",   NULL};

static int
place_of(const char *folder)
{
    for (int i = 0; order[i]; i++)
        if (g_str_equal(order[i], folder))
            return i;
    return -1;
}

// What `line` includes, or NULL. Free.
static char *
included_by(const char *line)
{
    while (*line == ' ' || *line == '\t')
        line++;
    if (*line != '#')
        return NULL;
    line++;
    while (*line == ' ' || *line == '\t')
        line++;
    if (!g_str_has_prefix(line, "include"))
        return NULL;
    const char *start = strpbrk(line, "\"<");
    const char *end = start ? strpbrk(start + 1, "\">") : NULL;
    return end ? g_strndup(start + 1, (gsize)(end - start - 1)) : NULL;
}

// Says, free with g_free, what is wrong with a file of `folder` including `what`; NULL: nothing.
static char *
find_fault(const char *folder, const char *what)
{
    static const char *const toolkit[] = {"gtk/", "gdk/", "gsk/", "adwaita"};
    gboolean window = g_str_equal(folder, "window");
    for (guint i = 0; i < G_N_ELEMENTS(toolkit); i++)
        if (g_str_has_prefix(what, toolkit[i]))
            return window ? NULL : g_strdup("only window/ knows GTK");
    g_auto(GStrv) parts = g_strsplit(what, "/", 2);
    int there = parts[1] ? place_of(parts[0]) : -1;
    if (there > place_of(folder))
        return g_strdup_printf("%s/ comes after %s/", parts[0], folder);
    if (window && g_str_equal(parts[0], "cli") && parts[1])
        return g_strdup("the window knows nothing of the command line");
    return NULL;
}

static guint
check_file(const char *folder, const char *path)
{
    g_autofree char *text = NULL;
    g_autoptr(GError) error = NULL;
    g_file_get_contents(path, &text, NULL, &error);
    g_assert_no_error(error);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    guint faults = 0;
    for (guint i = 0; lines[i]; i++) {
        g_autofree char *what = included_by(lines[i]);
        g_autofree char *fault = what ? find_fault(folder, what) : NULL;
        if (!fault)
            continue;
        g_test_message("%s:%u: includes \"%s\", but %s", path, i + 1, what, fault);
        faults++;
    }
    return faults;
}

static guint
check_sources(const char *folder, const char *path, guint *files)
{
    guint faults = 0;
    g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
    const char *name;
    while (dir && (name = g_dir_read_name(dir))) {
        g_autofree char *file = g_build_filename(path, name, NULL);
        if (g_file_test(file, G_FILE_TEST_IS_DIR))
            faults += check_sources(folder, file, files);
        else if (g_str_has_suffix(name, ".c") || g_str_has_suffix(name, ".h")) {
            faults += check_file(folder, file);
            (*files)++;
        }
    }
    return faults;
}

// The test is only worth something if it finds faults.
static void
test_finds_faults(void)
{
    static const struct {
        const char *folder, *line;
        gboolean fault;
    } cases[] = {
        {"book", "#include \"plan/plan.h\"", TRUE},
        {"plan", "#include \"book/book.h\"", FALSE},
        {"plan", "#include \"plan/cache.h\"", FALSE},
        {"base", "#include <gtk/gtk.h>", TRUE},
        {"sketch", "  #  include <gdk/gdkkeysyms.h>", TRUE},
        {"cli", "#include <gtk/gtk.h>", TRUE},
        {"window", "#include <gtk/gtk.h>", FALSE},
        {"window", "#include \"cli/cli.h\"", TRUE},
        {"mould", "#include \"feed/feed.h\"", FALSE},
        {"feed", "#include \"mould/layout.h\"", TRUE},
        {"report", "#include <json-glib/json-glib.h>", FALSE},
        {"part", "#include \"part.h\"", FALSE},
        {"part", "// #include \"window/window.h\"", FALSE},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *what = included_by(cases[i].line);
        g_autofree char *fault = what ? find_fault(cases[i].folder, what) : NULL;
        g_test_message("%s: %s", cases[i].folder, cases[i].line);
        g_assert_cmpint(fault != NULL, ==, cases[i].fault);
    }
}

static void
test_order(void)
{
    const char *root = g_getenv("FW_SOURCE_DIR");
    g_assert_nonnull(root);
    g_autofree char *source = g_build_filename(root, "src", NULL);
    g_autoptr(GDir) dir = g_dir_open(source, 0, NULL);
    g_assert_nonnull(dir);
    guint faults = 0, files = 0;
    const char *name;
    while ((name = g_dir_read_name(dir))) {
        g_autofree char *path = g_build_filename(source, name, NULL);
        if (!g_file_test(path, G_FILE_TEST_IS_DIR))
            continue;
        g_test_message("folder %s has a place in the order", name);
        g_assert_cmpint(place_of(name), >=, 0);
        faults += check_sources(name, path, &files);
    }
    g_assert_cmpuint(files, >, 100);
    g_assert_cmpuint(faults, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/layers/finds-faults", test_finds_faults);
    g_test_add_func("/layers/order", test_order);
    return g_test_run();
}
