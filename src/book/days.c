// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the shop's free days word by word; each reader leaves the place where it stopped.
#include "book/days.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

#define LONGEST 16000 // bytes

typedef struct {
    const char *text, *at;
} Reader;

static const char *const weekdays[] = {"monday", "tuesday",  "wednesday", "thursday",
                                       "friday", "saturday", "sunday"};

// FALSE, with the place of `at` in characters from 1.
static gboolean
refuse(const Reader *reader, const char *at, const char *remedy, const char *what, GError **error)
{
    g_autofree char *place = g_strdup_printf(_("at character %ld"),
                                             g_utf8_pointer_to_offset(reader->text, at) + 1);
    return base_error_set(error, BASE_ERROR_VALUE, NULL, place, what, remedy);
}

static gboolean
refuse_word(const Reader *reader, const char *at, const char *remedy, const char *what,
            GError **error)
{
    const char *end = *at ? g_utf8_next_char(at) : at;
    if (end == at)
        return refuse(reader, at, remedy, _("it ends too soon"), error);
    if (g_unichar_iscntrl(g_utf8_get_char(at)))
        return refuse(reader, at, remedy, _("a line break or control character stands here"),
                      error);
    while (*end && !strchr(" ;,", *end) && !g_unichar_iscntrl(g_utf8_get_char(end)))
        end = g_utf8_next_char(end);
    g_autofree char *word = g_strndup(at, (gsize)(end - at));
    g_autofree char *said = g_strdup_printf("\"%s\" %s", word, what);
    return refuse(reader, at, remedy, said, error);
}

static void
skip_blanks(Reader *reader)
{
    while (*reader->at == ' ' || *reader->at == '\t')
        reader->at++;
}

static gsize
count_letters(const char *at)
{
    gsize n = 0;
    while (g_ascii_isalpha(at[n]))
        n++;
    return n;
}

static gsize
count_digits(const char *at)
{
    gsize n = 0;
    while (g_ascii_isdigit(at[n]))
        n++;
    return n;
}

static gboolean
take_word(Reader *reader, const char *word)
{
    gsize n = count_letters(reader->at);
    if (n != strlen(word) || g_ascii_strncasecmp(reader->at, word, n) != 0)
        return FALSE;
    reader->at += n;
    return TRUE;
}

static gboolean
take_mark(Reader *reader, char mark)
{
    skip_blanks(reader);
    if (*reader->at != mark)
        return FALSE;
    reader->at++;
    skip_blanks(reader);
    return TRUE;
}

// "fri" or "Friday": 1 for Monday to 7; 0 for none, and nothing is taken.
static int
take_weekday(Reader *reader)
{
    gsize n = count_letters(reader->at);
    for (int i = 0; i < 7; i++)
        if ((n == 3 || n == strlen(weekdays[i])) &&
            g_ascii_strncasecmp(reader->at, weekdays[i], n) == 0) {
            reader->at += n;
            return i + 1;
        }
    return 0;
}

static gboolean
take_date(Reader *reader, guint32 *day, GError **error)
{
    const char *at = reader->at;
    gboolean shaped = count_digits(at) == 4 && at[4] == '-' && count_digits(at + 5) == 2 &&
                      at[7] == '-' && count_digits(at + 8) == 2;
    if (!shaped)
        return refuse_word(reader, at, _("write it like 2026-11-28"), _("is not a date"), error);
    int year = (int)strtol(at, NULL, 10), month = (int)strtol(at + 5, NULL, 10);
    int number = (int)strtol(at + 8, NULL, 10);
    if (year < DAYS_FIRST_YEAR || year > DAYS_LAST_YEAR)
        return refuse_word(reader, at, _("give a year from 1900 to 2199"),
                           _("is too far from today"), error);
    if (month < 1 || number < 1 ||
        !g_date_valid_dmy((GDateDay)number, (GDateMonth)month, (GDateYear)year))
        return refuse_word(reader, at, _("look at a calendar"), _("is not a day there is"), error);
    GDate date;
    g_date_clear(&date, 1);
    g_date_set_dmy(&date, (GDateDay)number, (GDateMonth)month, (GDateYear)year);
    *day = g_date_get_julian(&date);
    reader->at += 10;
    return TRUE;
}

static gboolean
take_clock(Reader *reader, int latest, const char *example, int *minutes, GError **error)
{
    const char *at = reader->at;
    gsize n = count_digits(at);
    if (n < 1 || n > 2 || at[n] != ':' || count_digits(at + n + 1) != 2)
        return refuse_word(reader, at, example, _("is not a time of day"), error);
    int hour = (int)strtol(at, NULL, 10), minute = (int)strtol(at + n + 1, NULL, 10);
    if (minute > 59 || hour * 60 + minute > latest)
        return refuse_word(reader, at,
                           latest < 1440 ? _("give a time from 0:00 to 23:59")
                                         : _("give a time from 0:00 to 24:00"),
                           _("is not a time of day"), error);
    *minutes = hour * 60 + minute;
    reader->at += n + 3;
    return TRUE;
}

static gboolean
take_to(Reader *reader, gboolean dash)
{
    skip_blanks(reader);
    gboolean taken = take_word(reader, "to") || (dash && take_mark(reader, '-'));
    skip_blanks(reader);
    return taken;
}

static gboolean
take_weekdays(Reader *reader, int first, DaysRule *rule, GError **error)
{
    int last = first;
    if (take_to(reader, TRUE) && (last = take_weekday(reader)) == 0)
        return refuse_word(reader, reader->at, _("give a weekday, such as fri"),
                           _("is not a weekday"), error);
    for (int i = first;; i = i % 7 + 1) {
        rule->weekdays |= 1u << i;
        if (i == last)
            return TRUE;
    }
}

static gboolean
take_dates(Reader *reader, DaysRule *rule, GError **error)
{
    const char *start = reader->at;
    if (!take_date(reader, &rule->first, error))
        return FALSE;
    rule->last = rule->first;
    if (!take_to(reader, FALSE))
        return TRUE;
    if (!take_date(reader, &rule->last, error))
        return FALSE;
    if (rule->last < rule->first)
        return refuse(reader, start, _("give the earlier date first"),
                      _("the days end before they begin"), error);
    return TRUE;
}

// One weekday, date or stretch of them.
static gboolean
take_when(Reader *reader, DaysRule *rule, GError **error)
{
    int weekday = take_weekday(reader);
    if (weekday)
        return take_weekdays(reader, weekday, rule, error);
    if (g_ascii_isdigit(*reader->at))
        return take_dates(reader, rule, error);
    return refuse_word(reader, reader->at,
                       _("write days like \"sat; sun 9:00-16:00; not 2026-12-26\""),
                       _("is neither a weekday nor a date"), error);
}

static gboolean
take_hours(Reader *reader, const DaysRule *rule, int *from, int *to, GError **error)
{
    skip_blanks(reader);
    if (!*reader->at || *reader->at == ';')
        return TRUE;
    const char *start = reader->at, *example = _("write it like 9:00-16:30");
    if (!take_clock(reader, 23 * 60 + 59, example, from, error))
        return FALSE;
    if (!take_mark(reader, '-'))
        return refuse(reader, reader->at, _("write both, like 9:00-16:30"),
                      _("the end of the hours is missing"), error);
    if (!take_clock(reader, 24 * 60, example, to, error))
        return FALSE;
    if (*to <= *from)
        return refuse(reader, start, _("give hours of one day, the earlier first"),
                      _("the hours end before they begin"), error);
    if (rule->closed)
        return refuse(reader, start, _("leave the hours out"),
                      _("a day that is not free has no hours"), error);
    return TRUE;
}

static gboolean
take_item(Reader *reader, GArray *rules, GError **error)
{
    guint first = rules->len;
    int from = -1, to = -1;
    gboolean closed = take_word(reader, "not");
    if (!closed)
        take_word(reader, "also");
    skip_blanks(reader);
    do {
        DaysRule rule = {.closed = closed, .from = -1, .to = -1};
        if (!take_when(reader, &rule, error))
            return FALSE;
        g_array_append_val(rules, rule);
    } while (take_mark(reader, ','));
    if (!take_hours(reader, &g_array_index(rules, DaysRule, first), &from, &to, error))
        return FALSE;
    for (guint i = first; i < rules->len; i++) {
        g_array_index(rules, DaysRule, i).from = from;
        g_array_index(rules, DaysRule, i).to = to;
    }
    skip_blanks(reader);
    if (*reader->at && *reader->at != ';')
        return refuse_word(reader, reader->at, _("put a semicolon between items"),
                           _("was not expected here"), error);
    if (rules->len > DAYS_MOST)
        return refuse(reader, reader->at, _("use stretches such as 2026-12-24 to 2027-01-02"),
                      _("these are more days than are taken"), error);
    return TRUE;
}

GArray *
days_read(const char *text, GError **error)
{
    g_return_val_if_fail(text != NULL, NULL);
    Reader reader = {text, text};
    g_autoptr(GArray) rules = g_array_new(FALSE, TRUE, sizeof(DaysRule));
    if (!g_utf8_validate(text, -1, NULL) || strlen(text) > LONGEST) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                       _("the days are not text, or far too long"),
                       _("write days like \"sat; sun 9:00-16:00; not 2026-12-26\""));
        return NULL;
    }
    for (;;) {
        while (take_mark(&reader, ';'))
            ;
        if (!*reader.at)
            return g_steal_pointer(&rules);
        if (!take_item(&reader, rules, error))
            return NULL;
    }
}

gboolean
days_read_date(const char *text, guint32 *day, GError **error)
{
    g_return_val_if_fail(text != NULL && day != NULL, FALSE);
    Reader reader = {text, text};
    guint32 found = 0;
    if (!take_date(&reader, &found, error))
        return FALSE;
    if (*reader.at)
        return refuse_word(&reader, reader.at, _("write it like 2026-11-28"), _("follows the date"),
                           error);
    *day = found;
    return TRUE;
}

gboolean
days_read_clock(const char *text, int *minutes, GError **error)
{
    g_return_val_if_fail(text != NULL && minutes != NULL, FALSE);
    Reader reader = {text, text};
    int found = 0;
    if (!take_clock(&reader, 23 * 60 + 59, _("write it like 09:00"), &found, error))
        return FALSE;
    if (*reader.at)
        return refuse_word(&reader, reader.at, _("write it like 09:00"), _("follows the time"),
                           error);
    *minutes = found;
    return TRUE;
}

char *
days_write_date(guint32 day)
{
    g_return_val_if_fail(g_date_valid_julian(day), NULL);
    GDate date;
    g_date_clear(&date, 1);
    g_date_set_julian(&date, day);
    return g_strdup_printf("%04d-%02d-%02d", g_date_get_year(&date), g_date_get_month(&date),
                           g_date_get_day(&date));
}

char *
days_write_clock(int minutes)
{
    int of_day = ((minutes % 1440) + 1440) % 1440;
    return g_strdup_printf("%02d:%02d", of_day / 60, of_day % 60);
}
