// SPDX-License-Identifier: GPL-3.0-or-later
// Local time in a zone with summer time given by its rule (POSIX), so no zone data are needed:
// Central European time, forward on the last Sunday of March at 2:00, back on that of October at
// 3:00. Moments were converted with date(1).
#include "live/clock.h"

#include <string.h>

#include "check.h"

static double
read_at(const char *text, double now)
{
    double at = NAN;
    g_autoptr(GError) error = NULL;
    g_assert_true(live_clock_read(text, now, &at, &error));
    g_assert_no_error(error);
    return at;
}

static void
refuse(const char *text, double now, const char *words)
{
    double at = 7;
    g_autoptr(GError) error = NULL;
    g_assert_false(live_clock_read(text, now, &at, &error));
    check_error(error, BASE_ERROR_VALUE, words);
    g_assert_cmpfloat(at, ==, 7);
}

// 1764061427 is 2025-11-25T09:03:47Z, 10:03:47 in the zone.
static void
test_plain(void)
{
    g_autofree char *time = live_clock_time(1764061427);
    g_autofree char *date = live_clock_date(1764061427);
    g_autofree char *utc = live_clock_utc(1764061427.9);
    g_assert_cmpstr(time, ==, "10:03");
    g_assert_cmpstr(date, ==, "2025-11-25");
    g_assert_cmpstr(utc, ==, "2025-11-25T09:03:47Z");
    check_close(read_at("10:03", 1764061427), 1764061427 - 47, 0, "seconds dropped");
    check_close(read_at(" 9:58:30 ", 1764061427), 1764061427 - 317, 0, "by hand");
    check_close(read_at("10:03:48", 1764061427), 1764061427 + 1 - 86400, 0, "that of yesterday");
}

// What is not yet today was yesterday.
static void
test_midnight(void)
{
    double now = 1764025380; // 2025-11-25T00:03 in the zone
    check_close(read_at("23:51", now), now - 720, 0, "by hand");
    check_close(read_at("00:01", now), now - 120, 0, "by hand");
    g_autofree char *date = live_clock_date(read_at("23:51", now));
    g_assert_cmpstr(date, ==, "2025-11-24");
}

// 2025-10-26: 02:30 is there twice, at 00:30Z and 01:30Z.
static void
test_autumn(void)
{
    double first = 1761438600, second = first + 3600;
    check_close(read_at("02:30", second + 600), second, 0, "the later of two");
    check_close(read_at("02:30", second - 600), first, 0, "the second is still to come");
    check_close(read_at("01:59", second), first - 1860, 0, "before the change");
    check_close(read_at("03:05", second + 2400), second + 2100, 0, "after it");
}

// 2026-03-29: no 02:30. At 01:10Z it is 03:10.
static void
test_spring(void)
{
    double now = 1774746600; // 01:10Z
    refuse("02:30", now, "no 02:30");
    check_close(read_at("01:50", now), now - 1200, 0, "before the leap");
    check_close(read_at("03:05", now), now - 300, 0, "after it");
}

static void
test_leap_day(void)
{
    double now = 1835391840; // 2028-02-29T00:04 in the zone
    g_autofree char *date = live_clock_date(now);
    g_autofree char *before = live_clock_date(read_at("23:55", now));
    g_assert_cmpstr(date, ==, "2028-02-29");
    g_assert_cmpstr(before, ==, "2028-02-28");
}

static void
test_nonsense(void)
{
    static const char *const texts[] = {"",      "9",     "24:00", "12:60",    "12:3",    "1:2:3",
                                        "ab:cd", "12.30", "-1:00", "12:30:60", "12:30 pm"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++)
        refuse(texts[i], 1764061427, "14:05");
    g_autofree char *none = live_clock_time(NAN);
    g_autofree char *far = live_clock_date(1e300);
    g_assert_cmpstr(none, ==, "?");
    g_assert_cmpstr(far, ==, "?");
}

static void
test_span(void)
{
    static const struct {
        double s;
        const char *text;
    } cases[] = {{0, "0:00"},    {7.4, "0:07"},      {59.5, "1:00"},
                 {760, "12:40"}, {-61, "1:01"},      {3729, "1:02:09"},
                 {NAN, "0:00"},  {INFINITY, "0:00"}, {36000, "10:00:00"}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = live_clock_span(cases[i].s);
        g_assert_cmpstr(text, ==, cases[i].text);
    }
}

int
main(int argc, char **argv)
{
    g_setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3", TRUE);
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/live/clock/plain", test_plain);
    g_test_add_func("/live/clock/midnight", test_midnight);
    g_test_add_func("/live/clock/autumn", test_autumn);
    g_test_add_func("/live/clock/spring", test_spring);
    g_test_add_func("/live/clock/leap-day", test_leap_day);
    g_test_add_func("/live/clock/nonsense", test_nonsense);
    g_test_add_func("/live/clock/span", test_span);
    return g_test_run();
}
