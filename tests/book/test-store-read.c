// SPDX-License-Identifier: GPL-3.0-or-later
// Reading books: round trips byte for byte, and every book that must be refused, with its place.
#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>
#include <unistd.h>

#include "book/store.h"
#include "check.h"

#define HEAD "\"format\":\"castbook\",\"version\":1"

static Tables *tables;

static Book *
parse(const char *text, GError **error)
{
    return store_parse(text, -1, "x.castbook", NULL, tables, error);
}

static const char odd[] = "{\n"
                          "  \"comment\": \"kept \\u0007 \\\"here\\\"\",\n"
                          "  \"version\": 1,\n"
                          "  \"format\": \"castbook\",\n"
                          "  \"later\": [\n"
                          "    12345678901234567890123,\n"
                          "    1.500,\n"
                          "    -0,\n"
                          "    1E400,\n"
                          "    {},\n"
                          "    []\n"
                          "  ],\n"
                          "  \"jobs\": [\n"
                          "    {\n"
                          "      \"unknown\": null,\n"
                          "      \"id\": \"a\",\n"
                          "      \"allowance\": \"3/4 in\",\n"
                          "      \"quantity\": 24,\n"
                          "      \"Draft\": \"é €\"\n"
                          "    }\n"
                          "  ]\n"
                          "}\n";

static void
test_round_trip(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = parse(odd, &error);
    g_assert_no_error(error);
    g_autofree char *text = store_text(book);
    g_assert_cmpstr(text, ==, odd);
}

// A locale with a decimal comma: an installed one, else one made for the moment below `folder`.
static gboolean
use_comma_locale(const char *folder)
{
    static const char *const names[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8"};
    for (guint i = 0; i < G_N_ELEMENTS(names); i++)
        if (setlocale(LC_ALL, names[i]))
            return TRUE;
    g_autofree char *path = g_build_filename(folder, "de_DE.UTF-8", NULL);
    const char *arguments[] = {"localedef", "-i", "de_DE", "-f", "UTF-8", path, NULL};
    g_spawn_sync(NULL, (char **)arguments, NULL,
                 G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                 NULL, NULL, NULL, NULL, NULL, NULL);
    g_setenv("LOCPATH", folder, TRUE);
    return setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
}

static void
test_locale(void)
{
    g_autofree char *folder = check_folder();
    if (use_comma_locale(folder)) {
        g_autofree char *comma = g_strdup_printf("%.1f", 0.5);
        g_assert_cmpstr(comma, ==, "0,5");
        test_round_trip();
        g_autoptr(Node) number = node_new_number(2.385);
        g_autofree char *text = node_number_text(number);
        g_assert_cmpstr(text, ==, "2.385");
        g_autoptr(Node) read = node_new_number_text("2.385");
        check_close(node_number(read), 2.385, 0, "the digits");
    } else {
        g_test_skip("no locale with a decimal comma can be had");
    }
    setlocale(LC_ALL, "C");
    g_unsetenv("LOCPATH");
    check_folder_remove(folder);
}

static void
test_refused(void)
{
    static const struct {
        const char *text, *words;
        BaseError code;
    } cases[] = {
        {"[]", "x.castbook: holds JSON, but not the object", BASE_ERROR_FORMAT},
        {"{\"version\":1}", "format: is missing", BASE_ERROR_FORMAT},
        {"{\"format\":\"else\",\"version\":1}", "format: is not \"castbook\"", BASE_ERROR_FORMAT},
        {"{\"format\":\"castbook\"}", "version: is not a whole number", BASE_ERROR_FORMAT},
        {"{\"format\":\"castbook\",\"version\":\"1\"}", "version: is not", BASE_ERROR_FORMAT},
        {"{\"format\":\"castbook\",\"version\":0}", "version: is not", BASE_ERROR_FORMAT},
        {"{\"format\":\"castbook\",\"version\":1.5}", "version: is not", BASE_ERROR_FORMAT},
        {"{\"format\":\"castbook\",\"version\":2}", "version: 2 is newer than 1",
         BASE_ERROR_VERSION},
        {"{\"format\":\"castbook\",\"version\":1e300,\"jobs\":4}", "is newer", BASE_ERROR_VERSION},
        {"{" HEAD ",\"jobs\":4}", "jobs: is not a list; write it as [ ... ]", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[3]}", "jobs[0]: is not an object", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[{}]}", "jobs[0]: has no \"id\"", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[{\"id\":7}]}", "jobs[0]: has no \"id\"", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\"},{\"id\":\"a\"}]}", "jobs[1]: the id \"a\" is there",
         BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"allowance\":{}}]}",
         "jobs[0].allowance: holds an object", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"allowance\":2}]}",
         "jobs[0].allowance: holds a number", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"quantity\":\"0\"}]}",
         "x.castbook: jobs[0].quantity: \"0\" is below 1; give 1 or more", BASE_ERROR_VALUE},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"quantity\":0}]}", "jobs[0].quantity: \"0\" is below",
         BASE_ERROR_VALUE},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"quantity\":1e999}]}",
         "jobs[0].quantity: ", BASE_ERROR_VALUE},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"quantity\":2.5}]}",
         "jobs[0].quantity: ", BASE_ERROR_VALUE},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"draft\":\"2 kg\"}]}",
         "jobs[0].draft: ", BASE_ERROR_VALUE},
        {"{" HEAD ",\"jobs\":[{\"id\":\"a\",\"metal\":\"mud\"}]}", "jobs[0].metal: there is no",
         BASE_ERROR_VALUE},
        {"{" HEAD ",\"shop\":[]}", "shop: is not an object", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"shop\":{\"sand\":1}}", "shop.sand: is not an object", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"shop\":{\"lengths\":\"ell\"}}", "shop.lengths: \"ell\" is not one",
         BASE_ERROR_VALUE},
        {"{" HEAD ",\"shop\":{\"flasks\":{}}}", "shop.flasks: is not a list", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"shop\":{\"flasks\":[{\"id\":\"f\",\"length\":\"9 m\"}]}}",
         "shop.flasks[0].length: \"9 m\" is above", BASE_ERROR_VALUE},
        {"{" HEAD ",\"shop\":{\"people\":{\"rate\":\"-1 /h\"}}}",
         "shop.people.rate: ", BASE_ERROR_VALUE},
        {"{" HEAD ",\"log\":[]}", "log: is not an object", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":{}}}", "log.sessions: is not a list", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"date\":\"2026-02-30\"}]}}",
         "log.sessions[0].date: is not a date", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"started\":\"24:00\"}]}}",
         "log.sessions[0].started: is not a time of day", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"notes\":4}]}}",
         "log.sessions[0].notes: is not a text", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"loads\":[{\"charge\":3}]}]}}",
         "log.sessions[0].loads[0].charge: is not a text", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"loads\":[{\"charge\":\"3 mm\"}]}]}}",
         "log.sessions[0].loads[0].charge: ", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"loads\":[{\"charge\":\"-3 kg\"}]}]}}",
         "log.sessions[0].loads[0].charge: ", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"loads\":[{\"flasks\":[{\"castings\":[{\"good\":1}]}]"
         "}]}]}}",
         "log.sessions[0].loads[0].flasks[0].castings[0].good: is neither", BASE_ERROR_FORMAT},
        {"{" HEAD ",\"log\":{\"sessions\":[{\"loads\":[{\"flasks\":[4]}]}]}}",
         "log.sessions[0].loads[0].flasks[0]: is not an object", BASE_ERROR_FORMAT},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        GError *error = NULL;
        g_assert_null(parse(cases[i].text, &error));
        check_error(error, cases[i].code, cases[i].words);
    }
}

static void
test_limits(void)
{
    GError *error = NULL;
    g_autoptr(GString) jobs = g_string_new("{" HEAD ",\"jobs\":[{\"id\":\"0\"}");
    for (int i = 1; i <= STORE_MAX_JOBS; i++)
        g_string_append_printf(jobs, ",{\"id\":\"%d\"}", i);
    g_string_append(jobs, "]}");
    g_assert_null(parse(jobs->str, &error));
    check_error(error, BASE_ERROR_LIMIT, "jobs: holds 1001 jobs, more than the 1000");
    g_autofree char *brackets = g_strnfill(STORE_MAX_BYTES + 1, '[');
    g_assert_null(parse(brackets, &error));
    check_error(error, BASE_ERROR_LIMIT, "larger than 16 MB");
    brackets[STORE_MAX_BYTES] = '\0';
    g_assert_null(parse(brackets, &error));
    check_error(error, BASE_ERROR_LIMIT, "line 1, column 33: lists and objects lie deeper than 32");
}

static void
test_files(void)
{
    GError *error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.castbook", NULL);
    g_assert_null(store_read(path, tables, &error));
    check_error(error, BASE_ERROR_FILE, "a.castbook: No such file");
    g_assert_null(store_read(folder, tables, &error));
    check_error(error, BASE_ERROR_FILE, "is a folder");
    g_assert_null(store_read("/dev/zero", tables, &error)); // endless: bounded while reading
    check_error(error, BASE_ERROR_LIMIT, "larger than 16 MB");
    g_assert_true(g_file_set_contents(path, odd, -1, NULL));
    g_autoptr(Book) book = store_read(path, tables, &error);
    g_assert_no_error(error);
    g_assert_cmpstr(book_folder(book), ==, folder);
    g_assert_cmpint(truncate(path, 100 << 20), ==, 0); // 100 MB, never read
    g_assert_null(store_read(path, tables, &error));
    check_error(error, BASE_ERROR_LIMIT, "larger than 16 MB");
    check_folder_remove(folder);
}

// Cut at every length and with every byte broken once: an error or a book, never a crash.
static void
test_damaged(void)
{
    gsize size = strlen(odd);
    for (gsize n = 0; n < size - 1; n++) {
        GError *error = NULL;
        g_autoptr(Book) book = store_parse(odd, (gssize)n, "cut", NULL, tables, &error);
        if (n < size - 2)
            g_assert_null(book);
        g_clear_error(&error);
    }
    for (gsize i = 0; i < size; i++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *text = g_strdup(odd);
        text[i] ^= (char)(1 << (i % 8));
        g_autoptr(Book) book = store_parse(text, (gssize)size, "bit", NULL, tables, &error);
        g_assert_true((book == NULL) == (error != NULL));
        g_assert_true(!error || !strchr(error->message, '\n'));
    }
}

// Pieces of books in wild order, always the same ones: an error or a book that reads back.
static void
test_wild(void)
{
    static const char *const pieces[] = {
        "{",          "}",          "[",    "]",    ",",        ":",   "\"jobs\"",
        "\"id\"",     "\"a\"",      "1e9",  "-0",   "\"",       "\\u", "\"shop\"",
        "\"flasks\"", "\"length\"", "null", "true", "\"2 mm\"", " "};
    g_autoptr(GRand) random = g_rand_new_with_seed(2385);
    for (int i = 0; i < 4000; i++) {
        g_autoptr(GString) text = g_string_new("{" HEAD ",");
        for (int n = g_rand_int_range(random, 1, 30); n > 0; n--)
            g_string_append(text, pieces[g_rand_int_range(random, 0, G_N_ELEMENTS(pieces))]);
        g_string_append(text, "}");
        g_autoptr(GError) error = NULL;
        g_autoptr(Book) book = parse(text->str, &error);
        g_assert_true((book == NULL) == (error != NULL));
        g_autofree char *saved = book ? store_text(book) : NULL;
        g_autoptr(Book) again = saved ? parse(saved, NULL) : NULL;
        g_assert_true(!book || node_equal(book_root(book), book_root(again)));
    }
}

// The book in the package opens, and is saved as it reads.
static void
test_demo(void)
{
    g_autoptr(GError) error = NULL;
    const char *source = g_getenv("FW_SOURCE_DIR");
    g_autofree char *path = source ? g_build_filename(source, "data", "demo",
                                                      "loom-hardware.castbook", NULL)
                                   : NULL;
    if (!path || !g_file_test(path, G_FILE_TEST_EXISTS)) {
        g_test_skip("the demo book is not at hand");
        return;
    }
    g_autoptr(Book) book = store_read(path, tables, &error);
    g_assert_no_error(error);
    g_autofree char *first = store_text(book);
    g_autoptr(Book) again = parse(first, &error);
    g_assert_no_error(error);
    g_autofree char *second = store_text(again);
    g_assert_cmpstr(first, ==, second);
    g_assert_true(node_equal(book_root(book), book_root(again)));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    g_test_add_func("/book/store-read/round-trip", test_round_trip);
    g_test_add_func("/book/store-read/locale", test_locale);
    g_test_add_func("/book/store-read/refused", test_refused);
    g_test_add_func("/book/store-read/limits", test_limits);
    g_test_add_func("/book/store-read/files", test_files);
    g_test_add_func("/book/store-read/damaged", test_damaged);
    g_test_add_func("/book/store-read/wild", test_wild);
    g_test_add_func("/book/store-read/demo", test_demo);
    return g_test_run();
}
