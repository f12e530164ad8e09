// SPDX-License-Identifier: GPL-3.0-or-later
// Hands sessions to libical, which escapes and folds.
#include "calendar/ics.h"

#include <glib/gi18n-lib.h>
#include <libical/ical.h>

#include "base/error.h"

void
calendar_event_clear(CalendarEvent *event)
{
    g_clear_pointer(&event->uid, g_free);
    g_clear_pointer(&event->summary, g_free);
    g_clear_pointer(&event->description, g_free);
    g_clear_pointer(&event->category, g_free);
}

static struct icaltimetype
time_of(guint32 day, int minutes)
{
    GDate date;
    g_date_clear(&date, 1);
    g_date_set_julian(&date, day + (guint32)(minutes / 1440));
    struct icaltimetype time = icaltime_null_time();
    time.year = g_date_get_year(&date);
    time.month = (int)g_date_get_month(&date);
    time.day = g_date_get_day(&date);
    time.hour = minutes % 1440 / 60;
    time.minute = minutes % 60;
    return time;
}

// Without control characters except line ends. Free; NULL for text that is not UTF-8.
static char *
clean_text(const char *text)
{
    if (!g_utf8_validate(text, -1, NULL))
        return NULL;
    g_autoptr(GString) out = g_string_new(NULL);
    for (const char *p = text; *p; p = g_utf8_next_char(p)) {
        gunichar c = g_utf8_get_char(p);
        if (c == '\n' || c == '\t' || !g_unichar_iscntrl(c))
            g_string_append_unichar(out, c);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static gboolean
add_text(icalcomponent *component, icalproperty_kind kind, const char *text, GError **error)
{
    g_autofree char *clean = clean_text(text);
    // Readers take an empty value for a mistake.
    if (clean && !*clean)
        return TRUE;
    if (!clean)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, _("a text is not UTF-8"),
                              _("type it again"));
    icalproperty *property = icalproperty_new(kind);
    // The property takes the value over.
    icalproperty_set_value(property, icalvalue_new_text(clean));
    icalcomponent_add_property(component, property);
    return TRUE;
}

static void
add_alarm(icalcomponent *component, int minutes, const char *summary)
{
    struct icaltriggertype trigger = icaltriggertype_from_int(-60 * minutes);
    g_autofree char *clean = clean_text(summary);
    icalcomponent_add_component(
        component,
        icalcomponent_vanew(ICAL_VALARM_COMPONENT, icalproperty_new_action(ICAL_ACTION_DISPLAY),
                            icalproperty_new_trigger(trigger), icalproperty_new_description(clean),
                            (void *)0));
}

static gboolean
add_event(icalcomponent *calendar, const CalendarHead *head, const CalendarEvent *event,
          GError **error)
{
    icalcomponent *component = icalcomponent_new(ICAL_VEVENT_COMPONENT);
    icalcomponent_add_component(calendar, component);
    struct icaltimetype stamp = time_of(head->stamp, 0);
    stamp.zone = icaltimezone_get_utc_timezone();
    if (!add_text(component, ICAL_UID_PROPERTY, event->uid, error))
        return FALSE;
    icalcomponent_add_property(component, icalproperty_new_dtstamp(stamp));
    icalcomponent_add_property(component,
                               icalproperty_new_dtstart(time_of(event->day, event->from)));
    icalcomponent_add_property(component, icalproperty_new_dtend(time_of(event->day, event->to)));
    if (!add_text(component, ICAL_SUMMARY_PROPERTY, event->summary, error) ||
        !add_text(component, ICAL_DESCRIPTION_PROPERTY, event->description, error) ||
        (event->category && !add_text(component, ICAL_CATEGORIES_PROPERTY, event->category, error)))
        return FALSE;
    if (head->alarm >= 0)
        add_alarm(component, head->alarm, event->summary);
    return TRUE;
}

static char *
write_calendar(icalcomponent *calendar)
{
    char *text = icalcomponent_as_ical_string_r(calendar);
    char *own = g_strdup(text);
    icalmemory_free_buffer(text);
    return own;
}

char *
calendar_ics(const CalendarHead *head, const CalendarEvent *events, guint n, GError **error)
{
    g_return_val_if_fail(head && (events || n == 0), NULL);
    icalcomponent *calendar = icalcomponent_new(ICAL_VCALENDAR_COMPONENT);
    icalcomponent_add_property(calendar, icalproperty_new_version("2.0"));
    icalcomponent_add_property(calendar, icalproperty_new_prodid("-//Flaskwright//Sessions//EN"));
    gboolean ok = add_text(calendar, ICAL_NAME_PROPERTY, head->name, error);
    for (guint i = 0; i < n && ok; i++)
        ok = add_event(calendar, head, &events[i], error);
    char *text = ok ? write_calendar(calendar) : NULL;
    icalcomponent_free(calendar);
    return text;
}
