// SPDX-License-Identifier: GPL-3.0-or-later
// Citations by id: known, joined, unknown; and every source id used as a field's default.
#include "figure/source.h"

#include <string.h>

#include "check.h"

static void
check_text(const char *id, const char *words)
{
    g_autofree char *text = source_text(id);
    if (!strstr(text, words))
        g_error("%s gives \"%s\", which lacks \"%s\"", id, text, words);
}

static void
test_fixed_words(void)
{
    check_text("common-practice", "common practice, no source");
    check_text("starting-value", "put in your own");
    check_text("measured", "this shop");
    static const char *const words[] = {
        "common-practice", "starting-value", "table", "geometry", "measured", "user", "definition"};
    for (guint i = 0; i < G_N_ELEMENTS(words); i++) {
        g_autofree char *text = source_text(words[i]);
        g_assert_cmpstr(text, !=, words[i]);
    }
}

static void
test_citations(void)
{
    check_text("assael-2006", "35 (2006) 285");
    check_text("wlodawer-1966", "Directional Solidification");
    g_assert_cmpstr(source_confidence("assael-2006"), ==, "from memory");
    g_assert_cmpstr(source_confidence("substech-356"), ==, "published");
    g_assert_cmpstr(source_confidence("common-practice"), ==, "common practice");
    g_assert_cmpstr(source_confidence("measured"), ==, "measured");
    g_assert_cmpstr(source_confidence("user"), ==, "user");
    g_assert_cmpstr(source_confidence("geometry"), ==, "derived");
}

static void
test_joined_and_unknown(void)
{
    check_text("assael-2006+geometry", "285");
    check_text("assael-2006+geometry", "; geometry of the shape");
    g_assert_cmpstr(source_confidence("substech-356+assael-2006"), ==, "from memory");
    g_assert_cmpstr(source_confidence("geometry+substech-356"), ==, "published");
    const char *learned = "measured in this shop: 14 of 16 good";
    g_autofree char *same = source_text(learned);
    g_assert_cmpstr(same, ==, learned);
    g_assert_cmpstr(source_confidence(learned), ==, "measured");
    g_autofree char *half = source_text("geometry+hearsay");
    g_assert_cmpstr(half, ==, "geometry+hearsay");
    g_autofree char *empty = source_text("");
    g_assert_cmpstr(empty, ==, "");
}

static void
test_every_id(void)
{
    static const char *const order[] = {"common practice", "from memory", "user", "measured",
                                        "published",       "derived",     NULL};
    const char *const *ids = source_ids();
    g_assert_cmpuint(g_strv_length((char **)ids), >, 50);
    for (guint i = 0; ids[i]; i++) {
        g_autofree char *text = source_text(ids[i]);
        g_assert_cmpstr(text, !=, ids[i]);
        g_assert_null(strpbrk(ids[i], "+ \n"));
        g_assert_null(strchr(text, '\n'));
        g_assert_true(g_strv_contains(order, source_confidence(ids[i])));
        // A citation that owns to memory is not called published.
        if (strstr(text, "from memory"))
            g_assert_cmpstr(source_confidence(ids[i]), !=, "published");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/figure/source/fixed-words", test_fixed_words);
    g_test_add_func("/figure/source/citations", test_citations);
    g_test_add_func("/figure/source/joined", test_joined_and_unknown);
    g_test_add_func("/figure/source/every-id", test_every_id);
    return g_test_run();
}
