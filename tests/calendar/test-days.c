// SPDX-License-Identifier: GPL-3.0-or-later
// The words for free days, good and bad; and the days they give, against a day-by-day count made
// with GLib's calendar and by hand.
#include "calendar/days.h"

#include <string.h>

#include "check.h"

static guint32
day_of(const char *text)
{
    guint32 day = 0;
    g_autoptr(GError) error = NULL;
    days_read_date(text, &day, &error);
    g_assert_no_error(error);
    return day;
}

// The first days as "2026-11-28 09:00-17:00, ...".
static char *
list_days(const char *text, const char *first, int start, int length, guint most)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) rules = days_read(text, &error);
    g_assert_no_error(error);
    g_autoptr(GArray) days = calendar_days_list(rules, start, length, day_of(first), most);
    g_autoptr(GString) out = g_string_new(NULL);
    for (guint i = 0; i < days->len; i++) {
        const CalendarDay *day = &g_array_index(days, CalendarDay, i);
        g_autofree char *date = days_write_date(day->day);
        g_autofree char *from = days_write_clock(day->from);
        g_autofree char *to = days_write_clock(day->to);
        g_string_append_printf(out, "%s%s %s-%s", i ? ", " : "", date, from, to);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

typedef struct {
    const char *text, *first, *days;
} GoodCase;

// By hand, from a printed calendar: 28 November 2026 is a Saturday.
static const GoodCase good[] = {
    {"sat", "2026-11-25", "2026-11-28 09:10-16:40, 2026-12-05 09:10-16:40, 2026-12-12 09:10-16:40"},
    {"sat", "2026-11-28", "2026-11-28 09:10-16:40, 2026-12-05 09:10-16:40, 2026-12-12 09:10-16:40"},
    {"Saturday; SUN 9:00-16:00", "2026-11-28",
     "2026-11-28 09:10-16:40, 2026-11-29 09:00-16:00, 2026-12-05 09:10-16:40"},
    {"sat; sun 9:00-16:00; not 2026-11-29; also 2026-11-30 13:00-19:00", "2026-11-26",
     "2026-11-28 09:10-16:40, 2026-11-30 13:00-19:00, 2026-12-05 09:10-16:40"},
    {" sat ;; not 2026-12-05 to 2027-01-02 ; 2026-12-29 ;", "2026-12-01",
     "2026-12-29 09:10-16:40, 2027-01-09 09:10-16:40, 2027-01-16 09:10-16:40"},
    {"sun-tue", "2026-12-30",
     "2027-01-03 09:10-16:40, 2027-01-04 09:10-16:40, 2027-01-05 "
     "09:10-16:40"},
    {"mon to fri 18:00-24:00; not wed", "2026-12-01",
     "2026-12-01 18:00-00:00, 2026-12-03 18:00-00:00, 2026-12-04 18:00-00:00"},
    {"not sat; sat 7:05-8:00", "2026-11-28",
     "2026-11-28 07:05-08:00, 2026-12-05 07:05-08:00, 2026-12-12 07:05-08:00"},
    {"2028-02-29, 2028-03-01; 2028-02-28", "2026-01-01",
     "2028-02-28 09:10-16:40, 2028-02-29 09:10-16:40, 2028-03-01 09:10-16:40"},
    {"2027-12-31 to 2028-01-02", "2026-11-25",
     "2027-12-31 09:10-16:40, 2028-01-01 09:10-16:40, 2028-01-02 09:10-16:40"},
    {"2026-12-05 6:00-7:00; sat", "2026-12-01",
     "2026-12-05 06:00-07:00, 2026-12-12 09:10-16:40, 2026-12-19 09:10-16:40"},
    {"not sat", "2026-12-01", ""},
    {"2020-01-01", "2026-12-01", ""},
    {"2199-12-31", "2026-12-01", ""}, // beyond the horizon
};

static void
test_good(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(good); i++) {
        g_test_message("%s", good[i].text);
        g_autofree char *days = list_days(good[i].text, good[i].first, 9 * 60 + 10, 450, 3);
        g_assert_cmpstr(days, ==, good[i].days);
    }
}

typedef struct {
    const char *text, *place, *what;
} BadCase;

static const BadCase bad[] = {
    {"sat; sunn", "character 6", "\"sunn\" is neither"},
    {"saturdays", "character 1", "neither"},
    {"sat 9:00", "character 9", "end of the hours is missing"},
    {"sat 9:00-", "character 10", "ends too soon"},
    {"sat 9.00-16.00", "character 5", "not a time"},
    {"sat 16:00-9:00", "character 5", "end before they begin"},
    {"sat 9:00-9:00", "character 5", "end before they begin"},
    {"sat 9:00-24:01", "character 10", "not a time"},
    {"sat 24:00-24:00", "character 5", "not a time"},
    {"sat 9:61-16:00", "character 5", "not a time"},
    {"not sat 9:00-16:00", "character 9", "has no hours"},
    {"2027-02-29", "character 1", "not a day there is"},
    {"2100-02-29", "character 1", "not a day there is"}, // a century that is no leap year
    {"2026-13-01", "character 1", "not a day there is"},
    {"2026-00-10", "character 1", "not a day there is"},
    {"26-11-28", "character 1", "not a date"},
    {"2026-1-2", "character 1", "not a date"},
    {"28.11.2026", "character 1", "not a date"},
    {"1899-12-31", "character 1", "too far"},
    {"2200-01-01", "character 1", "too far"},
    {"2026-12-31 to 2026-12-30", "character 1", "end before they begin"},
    {"sat, ", "character 6", "ends too soon"},
    {"sat sun", "character 5", "not a time"},
    {"mon-", "character 5", "too soon"},
    {"mon-2026-12-01", "character 5", "not a weekday"},
    {"mon to fri 18:00-24:00, not wed", "character 23", "not expected"},
    {"not", "character 4", "too soon"},
    {"also 9:00-16:00", "character 6", "not a date"},
    {"sat 9:00-16:00 sun", "character 16", "not expected"},
    {"Größe", "character 1", "\"Größe\" is neither"},
    {"sat; Samstag", "character 6", "\"Samstag\" is neither"},
    {"2026-12-01-2026-12-05", "character 11", "not a time"},
    {"sat\n", "character 4", "line break"},
};

static void
test_bad(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(GArray) rules = days_read(bad[i].text, &error);
        g_test_message("%s: %s", bad[i].text, error ? error->message : "taken");
        g_assert_null(rules);
        g_assert_nonnull(strstr(error->message, bad[i].what));
        check_error(error, BASE_ERROR_VALUE, bad[i].place);
    }
    g_autoptr(GError) error = NULL;
    g_autofree char *longer = g_strnfill(16001, ' ');
    g_assert_null(days_read(longer, &error));
    g_clear_error(&error);
    g_autoptr(GString) many = g_string_new("sat");
    for (int i = 0; i < DAYS_MOST; i++)
        g_string_append(many, "; sat");
    g_assert_null(days_read(many->str, &error));
    check_error(error, BASE_ERROR_VALUE, "more days");
}

static void
test_dates(void)
{
    static const char *const refused[] = {"",           "2026-11-28 ", " 2026-11-28",
                                          "2026-11-31", "2026-11-28x", "20261128",
                                          "tomorrow",   "2026-W48-6"};
    for (guint i = 0; i < G_N_ELEMENTS(refused); i++) {
        guint32 day = 77;
        g_autoptr(GError) error = NULL;
        g_assert_false(days_read_date(refused[i], &day, &error));
        g_assert_nonnull(error);
        g_assert_cmpuint(day, ==, 77);
    }
    // Every day of four centuries there and back; GLib's own count of days.
    GDate date;
    g_date_clear(&date, 1);
    g_date_set_dmy(&date, 1, G_DATE_JANUARY, DAYS_FIRST_YEAR);
    for (; g_date_get_year(&date) <= DAYS_LAST_YEAR; g_date_add_days(&date, 1)) {
        char text[16];
        g_date_strftime(text, sizeof text, "%Y-%m-%d", &date);
        g_assert_cmpuint(day_of(text), ==, g_date_get_julian(&date));
        g_autofree char *written = days_write_date(g_date_get_julian(&date));
        g_assert_cmpstr(written, ==, text);
    }
}

static void
test_clock(void)
{
    static const struct {
        const char *text;
        int minutes; // -1: refused
    } cases[] = {{"9:00", 540},  {"09:00", 540}, {"0:00", 0}, {"23:59", 1439}, {"24:00", -1},
                 {"9:0", -1},    {"9", -1},      {"", -1},    {"09:00 ", -1},  {"9:60", -1},
                 {"009:00", -1}, {"9am", -1},    {":30", -1}, {"-1:30", -1}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        int minutes = -1;
        g_autoptr(GError) error = NULL;
        gboolean read = days_read_clock(cases[i].text, &minutes, &error);
        g_test_message("%s", cases[i].text);
        g_assert_cmpint(minutes, ==, cases[i].minutes);
        g_assert_cmpint(read, ==, cases[i].minutes >= 0);
        g_assert_cmpint(error != NULL, ==, !read);
    }
}

// Ten years of weekends, against GLib's own weekday of each date.
static void
test_weekdays(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) rules = days_read("fri-sun", &error);
    guint32 first = day_of("2023-12-27");
    g_autoptr(GArray) days = calendar_days_list(rules, 600, 60, first, CALENDAR_MOST_DAYS);
    guint found = 0;
    for (guint32 day = first; found < days->len; day++) {
        g_autoptr(GDate) date = g_date_new_julian(day);
        GDateWeekday weekday = g_date_get_weekday(date);
        if (weekday == G_DATE_FRIDAY || weekday == G_DATE_SATURDAY || weekday == G_DATE_SUNDAY)
            g_assert_cmpuint(g_array_index(days, CalendarDay, found++).day, ==, day);
    }
    g_assert_cmpuint(found, ==, CALENDAR_MOST_DAYS);
}

// A session over midnight takes the start of the next day with it.
static void
test_overlap(void)
{
    g_autofree char *nights = list_days("mon-sun", "2026-12-30", 22 * 60, 25 * 60, 3);
    g_assert_cmpstr(nights, ==,
                    "2026-12-30 22:00-23:00, 2027-01-01 22:00-23:00, 2027-01-03 22:00-23:00");
    g_autofree char *touch = list_days("mon-sun", "2026-12-30", 22 * 60, 24 * 60, 2);
    g_assert_cmpstr(touch, ==, "2026-12-30 22:00-22:00, 2026-12-31 22:00-22:00");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/calendar/days/good", test_good);
    g_test_add_func("/calendar/days/bad", test_bad);
    g_test_add_func("/calendar/days/dates", test_dates);
    g_test_add_func("/calendar/days/clock", test_clock);
    g_test_add_func("/calendar/days/weekdays", test_weekdays);
    g_test_add_func("/calendar/days/overlap", test_overlap);
    return g_test_run();
}
