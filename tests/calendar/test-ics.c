// SPDX-License-Identifier: GPL-3.0-or-later
// Calendar files: read by libical's own checker of what RFC 5545 restricts, and line by line by a
// small reader written from the RFC, where python3 is there. And the names of sessions.
#include "calendar/ics.h"

#include <libical/ical.h>
#include <string.h>
#include <sys/wait.h>

#include "calendar/uid.h"
#include "check.h"

static guint32
julian(int year, int month, int day)
{
    g_autoptr(GDate) date = g_date_new_dmy((GDateDay)day, (GDateMonth)month, (GDateYear)year);
    return g_date_get_julian(date);
}

// What tests/calendar/check-ics.py says of the bytes; NULL where there is no python3. Free.
static char *
read_by_rules(const char *text)
{
    g_autofree char *python = g_find_program_in_path("python3");
    if (!python)
        return NULL;
    const char *source = g_getenv("FW_SOURCE_DIR");
    g_autofree char *script = g_build_filename(source ? source : ".", "tests", "calendar",
                                               "check-ics.py", NULL);
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "t.ics", NULL);
    g_autoptr(GError) error = NULL;
    g_file_set_contents(path, text, -1, &error);
    g_assert_no_error(error);
    const char *argv[] = {python, "-X", "utf8", script, path, NULL};
    char *out = NULL;
    g_autofree char *err = NULL;
    int status;
    g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, &err, &status,
                 &error);
    g_assert_no_error(error);
    if (*err)
        g_test_message("%s", err);
    g_assert_cmpint(status, ==, 0);
    check_folder_remove(folder);
    return out;
}

static CalendarEvent
event_of(const char *uid, guint32 day, int from, int to, const char *summary,
         const char *description, const char *category)
{
    return (CalendarEvent){.uid = g_strdup(uid),
                           .day = day,
                           .from = from,
                           .to = to,
                           .summary = g_strdup(summary),
                           .description = g_strdup(description),
                           .category = g_strdup(category)};
}

static void
check_restrictions(const char *text)
{
    icalcomponent *calendar = icalparser_parse_string(text);
    g_assert_nonnull(calendar);
    g_assert_cmpint(icalrestriction_check(calendar), ==, 1);
    g_assert_cmpint(icalcomponent_count_errors(calendar), ==, 0);
    icalcomponent_free(calendar);
}

#define LONG "Straße, Größe; \\n no line end \"quoted\" — Überfang 🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂🜂"

static void
test_file(void)
{
    CalendarEvent events[] = {
        event_of("one-1", julian(2026, 11, 28), 540, 1013, "Pour: plate, 8 of 12",
                 "First line\nsecond; with, all \\ marks\n" LONG "\n" LONG, "Casting"),
        event_of("two-2", julian(2026, 12, 31), 1320, 1470, "Über Nacht", "", NULL),
        event_of("three-3", julian(2028, 2, 29), 0, 1, LONG,
                 "bell \a\x01 escape \033[1m del \x7f tab\t.", NULL),
    };
    CalendarHead head = {"Loom; hardware, all", julian(2026, 11, 25), 765};
    g_autoptr(GError) error = NULL;
    g_autofree char *text = calendar_ics(&head, events, G_N_ELEMENTS(events), &error);
    g_assert_no_error(error);
    check_restrictions(text);
    g_assert_true(g_str_has_prefix(text, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:"));
    g_autofree char *again = calendar_ics(&head, events, G_N_ELEMENTS(events), &error);
    g_assert_cmpstr(text, ==, again);
    g_autofree char *read = read_by_rules(text);
    if (!read)
        g_test_skip("no python3");
    static const char *const lines[] = {
        "event one-1 2026-11-28T09:00:00 2026-11-28T16:53:00 20261125T000000Z\n",
        "event two-2 2026-12-31T22:00:00 2027-01-01T00:30:00 20261125T000000Z\n",
        "event three-3 2028-02-29T00:00:00 2028-02-29T00:01:00 20261125T000000Z\n",
        "alarm -PT12H45M\n",
        "summary 'Pour: plate, 8 of 12'\n",
        "summary 'Über Nacht'\n",
        "categories 'Casting'\n",
        "no line end \"quoted\" — Überfang 🜂🜂",
        "description 'First line\\nsecond; with, all \\\\ marks\\nStraße, Größe; ",
        "description 'bell  escape [1m del  tab\\t.'\n",
    };
    for (guint i = 0; read && i < G_N_ELEMENTS(lines); i++) {
        g_test_message("wanted: %s", lines[i]);
        g_assert_nonnull(strstr(read, lines[i]));
    }
    for (guint i = 0; i < G_N_ELEMENTS(events); i++)
        calendar_event_clear(&events[i]);
}

// Names of every length, so that folds fall on every place of characters of two to four octets.
static void
test_folds(void)
{
    for (guint shift = 0; shift < 9; shift++) {
        CalendarEvent events[12];
        for (guint i = 0; i < G_N_ELEMENTS(events); i++) {
            g_autofree char *filler = g_strnfill(shift * 12 + i, 'x');
            events[i] = (CalendarEvent){.uid = g_strdup_printf("e-%u", i),
                                        .day = julian(2026, 11, 28) + i,
                                        .from = 540,
                                        .to = 600,
                                        .summary = g_strconcat(filler, "é漢🜂,;\\é漢🜂", LONG, NULL),
                                        .description = g_strconcat(filler, "\n\n", LONG, NULL)};
        }
        CalendarHead head = {"t", julian(2026, 11, 25), -1};
        g_autofree char *text = calendar_ics(&head, events, G_N_ELEMENTS(events), NULL);
        g_assert_null(strstr(text, "VALARM"));
        check_restrictions(text);
        g_autofree char *read = read_by_rules(text);
        for (guint i = 0; i < G_N_ELEMENTS(events); i++) {
            g_autofree char *filler = g_strnfill(shift * 12 + i, 'x');
            g_autofree char *wanted = g_strconcat("summary '", filler, "é漢🜂,;\\\\é漢🜂", NULL);
            if (read)
                g_assert_nonnull(strstr(read, wanted));
            calendar_event_clear(&events[i]);
        }
    }
}

static void
test_refused(void)
{
    CalendarEvent event = event_of("one", julian(2026, 11, 28), 540, 600, "bad \xff", "", NULL);
    CalendarHead head = {"t", julian(2026, 11, 25), -1};
    g_autoptr(GError) error = NULL;
    g_assert_null(calendar_ics(&head, &event, 1, &error));
    check_error(error, BASE_ERROR_VALUE, "UTF-8");
    g_free(event.summary);
    event.summary = g_strdup("good");
    head.name = "\xc3";
    g_assert_null(calendar_ics(&head, &event, 1, &error));
    check_error(error, BASE_ERROR_VALUE, "UTF-8");
    head.name = "none";
    g_autofree char *empty = calendar_ics(&head, NULL, 0, &error);
    g_assert_true(g_str_has_suffix(empty, "END:VCALENDAR\r\n"));
    calendar_event_clear(&event);
}

// Made by Python's uuid.uuid5() in the namespace uuid5(NAMESPACE_DNS, "flaskwright.org").
static void
test_uid(void)
{
    static const struct {
        const char *book;
        int number;
        const char *uid;
    } cases[] = {
        {"loom-hardware", 1, "34fc67c1-3d54-5d67-8b3c-adc12b01fe2a"},
        {"loom-hardware", 12, "8e43fee7-8793-58ff-8bc3-94ae46396140"},
        {"Größe", 7, "819b7ee1-ab3d-5d38-8a88-e951feda620b"},
        {"", 0, "4eab77e5-0c24-5f0b-9ca6-401e6a0229eb"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *uid = calendar_uid(cases[i].book, cases[i].number);
        g_assert_cmpstr(uid, ==, cases[i].uid);
        g_assert_true(g_uuid_string_is_valid(uid));
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/calendar/ics/file", test_file);
    g_test_add_func("/calendar/ics/folds", test_folds);
    g_test_add_func("/calendar/ics/refused", test_refused);
    g_test_add_func("/calendar/ics/uid", test_uid);
    return g_test_run();
}
