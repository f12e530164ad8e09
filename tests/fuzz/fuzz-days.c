// SPDX-License-Identifier: GPL-3.0-or-later
// The shop's free days as people type them. Whatever is read gives days in order that do not
// overlap; whatever is refused says where.
#include "calendar/days.h"
#include "corpus.h"

#include <string.h>

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *raw = g_strndup((const char *)data, size);
    g_autofree char *text = g_utf8_make_valid(raw, -1);
    g_autoptr(GArray) rules = days_read(text, &error);
    g_assert_cmpint(rules != NULL, ==, error == NULL);
    if (!rules) {
        g_assert_null(strchr(error->message, '\n'));
        return 0;
    }
    // 27 February 2028: a leap day is near.
    g_autoptr(GArray) days = calendar_days_list(rules, 1200, 900, 740404, 60);
    gint64 before = 0;
    for (guint i = 0; i < days->len; i++) {
        const CalendarDay *day = &g_array_index(days, CalendarDay, i);
        g_assert_cmpuint(day->day, >=, 740404);
        g_assert_cmpint(day->from, <, day->to);
        g_assert_cmpint(day->day * 1440ll + day->from, >=, before);
        before = day->day * 1440ll + day->to;
        guint32 again = 0;
        g_autofree char *date = days_write_date(day->day);
        g_assert_true(days_read_date(date, &again, NULL));
        g_assert_cmpuint(again, ==, day->day);
    }
    return 0;
}

void
fuzz_corpus(GPtrArray *corpus)
{
    static const char *const texts[] = {
        "sat",
        "sat; sun 9:00-16:00; not 2026-12-26; also 2026-11-30 13:00-19:00",
        "Monday to friday 18:00-24:00; not wed, 2028-02-29 to 2028-03-02",
        "not 2026-12-24 to 2027-01-02; fri-mon",
        ";; sat ; ",
        "sun 0:00-0:01",
    };
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
        fuzz_corpus_text(corpus, texts[i]);
}
