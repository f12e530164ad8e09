// SPDX-License-Identifier: GPL-3.0-or-later
// Reading pins.
#include "book/pins.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

#define LONGEST 172800.0 // s, as the hours of a session

static void
clear_pin(gpointer data)
{
    g_free(((Pin *)data)->key);
}

static gboolean
is_key(const char *word)
{
    return *word && strspn(word, "abcdefghijklmnopqrstuvwxyz0123456789-") == strlen(word);
}

static gboolean
read_pin(char *text, const UnitSet *units, Pin *pin, GError **error)
{
    const char *form = _("write it as \"pour-3 4 h 10 min\"");
    gsize n = strcspn(text, " \t");
    const char *rest = text[n] ? text + n + 1 : "";
    text[n] = '\0';
    g_autofree char *place = g_strdup_printf(_("pin \"%s\""), text);
    if (!is_key(text))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, place,
                              _("does not begin with the key of a piece of work"), form);
    g_autoptr(GError) wrong = NULL;
    double at = NAN;
    if (!quantity_parse(QUANTITY_TIME, rest, units, &at, &wrong))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, place, wrong->message, form);
    if (!(at >= 0.0 && at <= LONGEST))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, place,
                              _("lies before the session or more than two days after its start"),
                              _("give the time from the start of the session"));
    *pin = (Pin){.key = g_strdup(text), .at = at};
    return TRUE;
}

static void
keep_pin(GArray *pins, Pin pin)
{
    for (guint i = 0; i < pins->len; i++) {
        Pin *old = &g_array_index(pins, Pin, i);
        if (!g_str_equal(old->key, pin.key))
            continue;
        g_free(pin.key);
        old->at = pin.at;
        return;
    }
    g_array_append_val(pins, pin);
}

GArray *
pins_read(const char *text, const UnitSet *units, GError **error)
{
    g_return_val_if_fail(text != NULL && units != NULL, NULL);
    g_autoptr(GArray) pins = g_array_new(FALSE, FALSE, sizeof(Pin));
    g_array_set_clear_func(pins, clear_pin);
    g_auto(GStrv) each = g_strsplit(text, ";", PINS_MOST + 2);
    guint n = 0;
    for (char **one = each; *one; one++) {
        Pin pin;
        if (!*g_strstrip(*one))
            continue;
        if (++n > PINS_MOST) {
            base_error_setf(error, BASE_ERROR_LIMIT, NULL, NULL, _("leave some out"),
                            _("more than %d pins"), PINS_MOST);
            return NULL;
        }
        if (!read_pin(*one, units, &pin, error))
            return NULL;
        keep_pin(pins, pin);
    }
    return g_steal_pointer(&pins);
}
