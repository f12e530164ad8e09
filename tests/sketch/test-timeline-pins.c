// SPDX-License-Identifier: GPL-3.0-or-later
// The text that holds moved tasks.
#include "check.h"
#include "sketch/timeline-pins.h"

static void
check_text(const char *old, const char *key, double seconds, const char *expected)
{
    UnitSet units = unit_set_default();
    g_autofree char *text = timeline_pin_text(old, key, seconds, &units);
    g_assert_cmpstr(text, ==, expected);
}

static void
test_write(void)
{
    check_text(NULL, "pour-12", 8100, "pour-12 2 h 15 min");
    check_text("", "melt-2", 0, "melt-2 0 min");
    check_text("melt-2 1 h 5 min", "pour-12", 8100, "melt-2 1 h 5 min; pour-12 2 h 15 min");
    // In its place, and others as they were typed, also what cannot be read.
    check_text(" melt-2   65 min ;pour-12 3 h; ??;", "melt-2", 4260,
               "melt-2 1 h 11 min; pour-12 3 h; ??");
    check_text("pour-1 1 h; pour-12 2 h; pour-1 3 h", "pour-1", 7380,
               "pour-1 2 h 3 min; pour-12 2 h");
    check_text("pour-1 1 h; pour-12 2 h", "pour-1", NAN, "pour-12 2 h");
    check_text("pour-1 1 h", "pour-1", NAN, "");
    check_text("pour-1 1 h", "pour", NAN, "pour-1 1 h"); // a key is a whole word
    check_text("pour-1", "pour-1", 600, "pour-1 10 min");
    check_text(NULL, "draw-3", -7, "draw-3 0 min");
}

// What is written reads back to the same second, in every shop.
static void
test_round_trip(void)
{
    static const double times[] = {1, 59, 61, 3599, 3601, 8117, 13865, 100000.5};
    for (guint i = 0; i < G_N_ELEMENTS(times); i++) {
        UnitSet units = unit_set_default();
        units.decimal_comma = i % 2;
        double back = NAN;
        g_autofree char *text = timeline_pin_text("x 1 min", "skim-7", times[i], &units);
        g_assert_true(timeline_pin_find(text, "skim-7", &units, &back));
        g_assert_cmpfloat(fabs(back - times[i]), <, 0.5);
    }
}

static void
test_find(void)
{
    UnitSet units = unit_set_default();
    double at = 4.5;
    g_assert_false(timeline_pin_find(NULL, "melt-1", &units, &at));
    g_assert_false(timeline_pin_find("melt-12 1 h", "melt-1", &units, &at));
    g_assert_false(timeline_pin_find("melt-1 soon", "melt-1", &units, &at));
    g_assert_false(timeline_pin_find("melt-1", "melt-1", &units, &at));
    check_close(at, 4.5, 0, "untouched");
    g_assert_true(timeline_pin_find("a 1 h;melt-1\t2 h 15 min", "melt-1", &units, &at));
    check_close(at, 8100, 1e-12, "2 h 15 min");
    g_assert_cmpuint(timeline_pin_count("a 1 h;; b 2 h ; "), ==, 2);
    g_assert_cmpuint(timeline_pin_count(NULL), ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/timeline-pins/write", test_write);
    g_test_add_func("/sketch/timeline-pins/round-trip", test_round_trip);
    g_test_add_func("/sketch/timeline-pins/find", test_find);
    return g_test_run();
}
