// SPDX-License-Identifier: GPL-3.0-or-later
// Moments and their local names. The zone is asked anew each time: a laptop may be carried or set
// during the day, and the zone's rules are cached by GLib.
#include "live/clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

static double (*own_clock)(gpointer) = NULL;
static gpointer own_data = NULL;

double
live_clock_now(void)
{
    return own_clock ? own_clock(own_data) : (double)g_get_real_time() / 1e6;
}

void
live_clock_set(double (*clock)(gpointer data), gpointer data)
{
    own_clock = clock;
    own_data = data;
}

// NULL for what is no moment or outside the calendar. A minute shown is one begun.
static GDateTime *
find_local(double at)
{
    return isfinite(at) && fabs(at) < 1e11 ? g_date_time_new_from_unix_local((gint64)floor(at))
                                           : NULL;
}

static char *
write_local(double at, const char *format)
{
    g_autoptr(GDateTime) local = find_local(at);
    return local ? g_date_time_format(local, format) : g_strdup("?");
}

char *
live_clock_time(double at)
{
    return write_local(at, "%H:%M");
}

char *
live_clock_date(double at)
{
    return write_local(at, "%Y-%m-%d");
}

char *
live_clock_utc(double at)
{
    g_autoptr(GDateTime) local = find_local(at);
    g_autoptr(GDateTime) utc = local ? g_date_time_to_utc(local) : NULL;
    return utc ? g_date_time_format(utc, "%Y-%m-%dT%H:%M:%SZ") : g_strdup("?");
}

// Two digits at `text`; -1 if they are none.
static int
read_pair(const char *text)
{
    if (!g_ascii_isdigit(text[0]) || !g_ascii_isdigit(text[1]))
        return -1;
    return (text[0] - '0') * 10 + text[1] - '0';
}

// Hours, minutes, seconds of "9:05", "14:05" or "14:05:30".
static gboolean
scan_clock(const char *text, int clock[3])
{
    g_autofree char *padded = text[0] && text[1] == ':' ? g_strconcat("0", text, NULL)
                                                        : g_strdup(text);
    gsize length = strlen(padded);
    if ((length != 5 && length != 8) || padded[2] != ':' || (length == 8 && padded[5] != ':'))
        return FALSE;
    clock[0] = read_pair(padded);
    clock[1] = read_pair(padded + 3);
    clock[2] = length == 8 ? read_pair(padded + 6) : 0;
    return clock[0] >= 0 && clock[0] < 24 && clock[1] >= 0 && clock[1] < 60 && clock[2] >= 0 &&
           clock[2] < 60;
}

static gboolean
shows_clock(double at, const int clock[3])
{
    g_autoptr(GDateTime) local = find_local(at);
    return local && g_date_time_get_hour(local) == clock[0] &&
           g_date_time_get_minute(local) == clock[1] && g_date_time_get_second(local) == clock[2];
}

// The moment of the clock on the day of `day`, the later where there are two; NAN where the clock
// leaps over it.
static double
find_moment(GDateTime *day, const int clock[3])
{
    g_autoptr(GDateTime) made = g_date_time_new_local(
        g_date_time_get_year(day), g_date_time_get_month(day), g_date_time_get_day_of_month(day),
        clock[0], clock[1], clock[2]);
    if (!made)
        return NAN;
    double at = (double)g_date_time_to_unix(made);
    // Zones change by an hour, a few by half of one.
    for (double shift = 3600; shift >= -3600; shift -= 1800)
        if (shows_clock(at + shift, clock))
            return at + shift;
    return NAN;
}

gboolean
live_clock_read(const char *text, double now, double *at, GError **error)
{
    g_return_val_if_fail(text != NULL && at != NULL, FALSE);
    int clock[3];
    g_autofree char *plain = g_strstrip(g_strdup(text));
    if (!scan_clock(plain, clock))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, _("write it like 14:05"),
                               _("\"%s\" is not a time of day"), text);
    g_autoptr(GDateTime) today = find_local(now);
    g_return_val_if_fail(today != NULL, FALSE);
    for (int back = 0; back < 2; back++) {
        g_autoptr(GDateTime) day = g_date_time_add_days(today, -back);
        double found = find_moment(day, clock);
        if (found > now && shows_clock(found - 3600, clock))
            found -= 3600; // the first of two, the second is still to come
        if (found <= now) {
            *at = found;
            return TRUE;
        }
        if (isnan(found))
            return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL,
                                   _("the clock was put forward; give a time it showed"),
                                   _("there was no %s that day"), plain);
    }
    return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, _("look at the clock"),
                           _("%s is still to come"), plain);
}

char *
live_clock_span(double seconds)
{
    long s = isfinite(seconds) ? lround(fmin(fabs(seconds), 1e8)) : 0;
    if (s >= 3600)
        return g_strdup_printf("%ld:%02ld:%02ld", s / 3600, s / 60 % 60, s % 60);
    return g_strdup_printf("%ld:%02ld", s / 60, s % 60);
}
