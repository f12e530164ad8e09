// SPDX-License-Identifier: GPL-3.0-or-later
// Pins are told apart by their first word. A time is written as a person would, if that reads back
// to the same second.
#include "sketch/timeline-pins.h"

#include <math.h>
#include <string.h>

// The pins of `text`, without blanks around them and without empty ones.
static GStrv
split_pins(const char *text)
{
    g_auto(GStrv) raw = g_strsplit(text ? text : "", ";", -1);
    g_autoptr(GStrvBuilder) pins = g_strv_builder_new();
    for (guint i = 0; raw[i]; i++)
        if (*g_strstrip(raw[i]))
            g_strv_builder_add(pins, raw[i]);
    return g_strv_builder_end(pins);
}

static gboolean
pin_is_of(const char *pin, const char *key)
{
    gsize n = strlen(key);
    return strncmp(pin, key, n) == 0 && (pin[n] == '\0' || g_ascii_isspace(pin[n]));
}

static char *
write_time(double seconds, const UnitSet *units)
{
    UnitSet plain = *units;
    plain.decimal_comma = FALSE; // the book's text is the same everywhere
    double back;
    g_autofree char *text = quantity_format(QUANTITY_TIME, seconds, &plain);
    if (quantity_parse(QUANTITY_TIME, text, &plain, &back, NULL) && fabs(back - seconds) < 0.5)
        return g_steal_pointer(&text);
    return quantity_format_exact(QUANTITY_TIME, seconds, &plain);
}

char *
timeline_pin_text(const char *old, const char *key, double seconds, const UnitSet *units)
{
    g_return_val_if_fail(key != NULL && *key && units != NULL, NULL);
    g_auto(GStrv) pins = split_pins(old);
    g_autofree char *time = isfinite(seconds) ? write_time(fmax(0.0, seconds), units) : NULL;
    g_autofree char *pin = time ? g_strdup_printf("%s %s", key, time) : NULL;
    g_autoptr(GStrvBuilder) all = g_strv_builder_new();
    gboolean written = FALSE;
    for (guint i = 0; pins[i]; i++) {
        gboolean same = pin_is_of(pins[i], key);
        if (!same)
            g_strv_builder_add(all, pins[i]);
        else if (pin && !written)
            g_strv_builder_add(all, pin);
        written |= same;
    }
    if (pin && !written)
        g_strv_builder_add(all, pin);
    g_auto(GStrv) list = g_strv_builder_end(all);
    return g_strjoinv("; ", list);
}

gboolean
timeline_pin_find(const char *text, const char *key, const UnitSet *units, double *seconds)
{
    g_return_val_if_fail(key != NULL && units != NULL && seconds != NULL, FALSE);
    g_auto(GStrv) pins = split_pins(text);
    for (guint i = 0; pins[i]; i++)
        if (pin_is_of(pins[i], key))
            return quantity_parse(QUANTITY_TIME, pins[i] + strlen(key), units, seconds, NULL);
    return FALSE;
}

guint
timeline_pin_count(const char *text)
{
    g_auto(GStrv) pins = split_pins(text);
    return g_strv_length(pins);
}
