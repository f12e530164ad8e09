// SPDX-License-Identifier: GPL-3.0-or-later
// Asks every day in turn which rule speaks for it.
#include "calendar/days.h"

// The rule that holds on a day, or NULL: the last of those by date, else the last by weekday.
static const DaysRule *
find_rule(const GArray *rules, guint32 day)
{
    GDate date;
    g_date_clear(&date, 1);
    g_date_set_julian(&date, day);
    guint bit = 1u << g_date_get_weekday(&date);
    const DaysRule *by_weekday = NULL;
    for (guint i = rules->len; i-- > 0;) {
        const DaysRule *rule = &g_array_index(rules, DaysRule, i);
        if (rule->weekdays == 0 && rule->first <= day && day <= rule->last)
            return rule;
        if (!by_weekday && (rule->weekdays & bit))
            by_weekday = rule;
    }
    return by_weekday;
}

GArray *
calendar_days_list(const GArray *rules, int start, int length, guint32 first, guint most)
{
    g_return_val_if_fail(rules != NULL && g_date_valid_julian(first), NULL);
    GArray *days = g_array_new(FALSE, FALSE, sizeof(CalendarDay));
    guint32 end_day = first; // of the last one found, with its minute
    int end_minute = 0;
    for (guint32 day = first; day < first + CALENDAR_HORIZON && days->len < most; day++) {
        const DaysRule *rule = find_rule(rules, day);
        if (!rule || rule->closed)
            continue;
        CalendarDay found = {.day = day,
                             .from = rule->from >= 0 ? rule->from : start,
                             .to = rule->from >= 0 ? rule->to : start + length};
        if (days->len > 0 && (gint64)(day - end_day) * 1440 + found.from < end_minute)
            continue;
        end_day = day;
        end_minute = found.to;
        g_array_append_val(days, found);
    }
    return days;
}
