// SPDX-License-Identifier: GPL-3.0-or-later
// The text scanner: numbers against the C library, integers, words and lines.
#include <string.h>

#include "check.h"
#include "solid/scan.h"

static SolidWord
make_word(const char *text)
{
    return (SolidWord){text, strlen(text)};
}

static guint64
get_bits(double value)
{
    guint64 bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static void
check_number(const char *text)
{
    double value = 12345;
    g_assert_true(solid_word_number(make_word(text), &value));
    // To the last bit, the sign of zero included.
    g_assert_cmphex(get_bits(value), ==, get_bits(g_ascii_strtod(text, NULL)));
}

static void
test_numbers(void)
{
    static const char *const texts[] = {
        "0",
        "-0",
        "+1.5",
        "1.",
        ".5",
        "-.25e1",
        "1e22",
        "1e23",
        "1e-22",
        "1e-23",
        "9007199254740992",
        "9007199254740993",
        "123456789012345678",
        "12345678901234567890123",
        "0.1",
        "3.141592653589793",
        "2.2250738585072014e-308",
        "4.9e-324",
        "1e-400",
        "1e400",
        "1.7976931348623157e308",
        "000000000000000000000000000000001.25",
        "1.250000000000000000000",
        "0.000000000000000000000000000000000000000000000000000000000000000000000000001",
        "8.5070591730234616e+37",
        "-1.0000000000000002",
        "1e0000000000000000000000000000000000001",
        "5e-1000000000000"};
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
        check_number(texts[i]);
}

static void
test_random_numbers(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(4711);
    for (int i = 0; i < 100000; i++) {
        char text[64], format[] = "%.17g";
        guint64 bits = ((guint64)g_rand_int(rand) << 32) | g_rand_int(rand);
        double value;
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value))
            continue;
        if (i % 2)
            value = g_rand_double_range(rand, -1000, 1000);
        format[3] = (char)('0' + i % 8);
        check_number(g_ascii_formatd(text, sizeof text, i % 3 ? format : "%.6f", value));
    }
}

// Half way between two neighbours, and one digit to each side, where rounding is hardest.
static void
test_half_way(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(815);
    for (int i = 0; i < 20000; i++) {
        guint64 odd = (G_GUINT64_CONSTANT(1) << 53) + 1 +
                      2 * (guint64)g_rand_int(rand) * (guint64)g_rand_int_range(rand, 1, 1000000);
        for (int off = -1; off <= 1; off++) {
            g_autofree char *whole = g_strdup_printf("%" G_GUINT64_FORMAT, odd + (guint64)off);
            g_autofree char *tenths = g_strdup_printf("%se-1", whole);
            g_autofree char *longer = g_strdup_printf("%s.0", whole);
            check_number(whole);
            check_number(tenths);
            check_number(longer);
        }
    }
}

static void
test_not_numbers(void)
{
    static const char *const texts[] = {"",    "-",     "+",    ".",     "e5",  "1e",   "1e+",
                                        "1,5", "1.2.3", "0x10", "inf",   "nan", "-inf", "infinity",
                                        "1f",  "--1",   "1 ",   "1e5.5", "1d5"};
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++) {
        double value = 7;
        g_assert_false(solid_word_number(make_word(texts[i]), &value));
        check_close(value, 7, 0, "untouched on failure");
    }
}

static void
test_integers(void)
{
    gint64 value = 5;
    g_assert_true(solid_word_integer(make_word("-0012"), &value));
    g_assert_cmpint(value, ==, -12);
    g_assert_true(solid_word_integer(make_word("+7"), &value));
    g_assert_cmpint(value, ==, 7);
    g_assert_true(solid_word_integer(make_word("999999999999999999"), &value));
    g_assert_cmpint(value, ==, 999999999999999999);
    static const char *const bad[] = {"", "-", "1.0", "1e3", "9999999999999999999", "a", "0x1"};
    for (gsize i = 0; i < G_N_ELEMENTS(bad); i++)
        g_assert_false(solid_word_integer(make_word(bad[i]), &value));
}

static void
test_lines(void)
{
    const char *text = "one two\rthree\r\n\n  four \\\n five\nsix\\seven";
    SolidScan scan;
    SolidWord word;
    solid_scan_init(&scan, (const guchar *)text, strlen(text));
    g_assert_true(solid_scan_word(&scan, &word) && solid_word_is(word, "ONE"));
    g_assert_true(solid_scan_word_in_line(&scan, &word) && solid_word_is(word, "two"));
    g_assert_false(solid_scan_word_in_line(&scan, &word));
    g_assert_true(solid_scan_word(&scan, &word) && solid_word_is(word, "three"));
    g_assert_cmpuint(scan.line, ==, 2);
    g_assert_true(solid_scan_word(&scan, &word) && solid_word_is(word, "four"));
    g_assert_cmpuint(scan.line, ==, 4);
    g_assert_true(solid_scan_word_in_line(&scan, &word) && solid_word_is(word, "five"));
    g_assert_cmpuint(scan.line, ==, 5);
    solid_scan_skip_line(&scan);
    g_assert_true(solid_scan_word_in_line(&scan, &word));
    g_autofree char *quoted = solid_word_quoted(word);
    g_assert_cmpstr(quoted, ==, "\"six\\seven\"");
    g_assert_false(solid_scan_word(&scan, &word));
}

static void
test_printable(void)
{
    g_autofree char *plain = solid_text_printable("a\nb\tc\xff\xc3\xbc.stl");
    g_assert_cmpstr(plain, ==, "a?b?c\xEF\xBF\xBD\xc3\xbc.stl");
    g_autofree char *quoted = solid_word_quoted(make_word("abcdefghijklmnopqrstuvwxyz"));
    g_assert_cmpstr(quoted, ==, "\"abcdefghijklmnopqrstuvwx...\"");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/scan/numbers", test_numbers);
    g_test_add_func("/solid/scan/random-numbers", test_random_numbers);
    g_test_add_func("/solid/scan/half-way", test_half_way);
    g_test_add_func("/solid/scan/not-numbers", test_not_numbers);
    g_test_add_func("/solid/scan/integers", test_integers);
    g_test_add_func("/solid/scan/lines", test_lines);
    g_test_add_func("/solid/scan/printable", test_printable);
    return g_test_run();
}
