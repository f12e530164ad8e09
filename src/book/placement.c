// SPDX-License-Identifier: GPL-3.0-or-later
// Reading and writing where cavities were placed by hand.
#include "book/placement.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

#define FAR_OUT 10.0 // m, nothing is placed further away

static gboolean
refuse(guint number, const char *what, const char *remedy, GError **error)
{
    g_autofree char *place = g_strdup_printf(_("cavity %u"), number);
    return base_error_set(error, BASE_ERROR_VALUE, NULL, place, what, remedy);
}

// "rest auto", whatever the space between.
static gboolean
is_rest(const char *text)
{
    g_autofree char *copy = g_strstrip(g_strdup(text));
    if (!g_str_has_prefix(copy, "rest"))
        return FALSE;
    const char *after = copy + strlen("rest"), *word = after;
    while (g_ascii_isspace(*word))
        word++;
    return word > after && strcmp(word, "auto") == 0;
}

gboolean
placement_rest(const char *text)
{
    g_return_val_if_fail(text != NULL, FALSE);
    g_auto(GStrv) each = g_strsplit(text, ";", PLACEMENT_MOST + 3);
    for (char **one = each; *one; one++)
        if (is_rest(*one))
            return TRUE;
    return FALSE;
}

// Parts at commas that end a number: those before a space or at the end.
static GPtrArray *
split_numbers(char *text)
{
    GPtrArray *parts = g_ptr_array_new();
    char *from = text;
    for (char *p = text; *p; p++) {
        if (*p != ',' || (p[1] && !g_ascii_isspace(p[1])))
            continue;
        *p = '\0';
        g_ptr_array_add(parts, g_strstrip(from));
        from = p + 1;
    }
    g_ptr_array_add(parts, g_strstrip(from));
    return parts;
}

// Cuts a word off the end.
static gboolean
take_word(char *text, const char *end)
{
    gsize n = strlen(text), word = strlen(end);
    if (n < word || strcmp(text + n - word, end) != 0)
        return FALSE;
    text[n - word] = '\0';
    g_strchomp(text);
    if (g_str_has_suffix(text, ","))
        text[strlen(text) - 1] = '\0';
    return TRUE;
}

static gboolean
read_spot(const char *text, const UnitSet *units, guint number, PlacementSpot *spot, GError **error)
{
    g_autofree char *copy = g_strstrip(g_strdup(text));
    PlacementSpot s = {.locked = take_word(copy, "locked")};
    s.guest = take_word(copy, "guest");
    g_autoptr(GPtrArray) parts = split_numbers(copy);
    if (parts->len < 2 || parts->len > 3)
        return refuse(number, _("is not x, y and turn"),
                      _("write it as \"-82 mm, 40 mm, 90 deg\", with a space after each comma"),
                      error);
    double *const values[3] = {&s.x, &s.y, &s.turn};
    for (guint i = 0; i < parts->len; i++) {
        g_autoptr(GError) wrong = NULL;
        QuantityKind kind = i < 2 ? QUANTITY_LENGTH : QUANTITY_ANGLE;
        if (!quantity_parse(kind, parts->pdata[i], units, values[i], &wrong))
            return refuse(number, wrong->message, NULL, error);
    }
    if (!(fabs(s.x) <= FAR_OUT && fabs(s.y) <= FAR_OUT && fabs(s.turn) <= 1000))
        return refuse(number, _("lies too far out"), _("measure from the middle of the flask"),
                      error);
    *spot = s;
    return TRUE;
}

GArray *
placement_read(const char *text, const UnitSet *units, GError **error)
{
    g_return_val_if_fail(text != NULL && units != NULL, NULL);
    g_autoptr(GArray) spots = g_array_new(FALSE, FALSE, sizeof(PlacementSpot));
    guint hosts = 0;
    g_auto(GStrv) each = g_strsplit(text, ";", PLACEMENT_MOST + 3);
    for (char **one = each; *one; one++) {
        if (!*g_strstrip(*one) || is_rest(*one))
            continue;
        PlacementSpot spot;
        if (spots->len >= PLACEMENT_MOST) {
            base_error_setf(error, BASE_ERROR_LIMIT, NULL, NULL, _("leave some out"),
                            _("more than %d cavities"), PLACEMENT_MOST);
            return NULL;
        }
        if (!read_spot(*one, units, spots->len + 1, &spot, error))
            return NULL;
        if (spot.guest)
            g_array_append_val(spots, spot);
        else
            g_array_insert_val(spots, hosts++, spot);
    }
    return g_steal_pointer(&spots);
}

const PlacementSpot *
placement_locked_at(const GArray *spots, double x, double y)
{
    g_return_val_if_fail(spots != NULL, NULL);
    for (guint i = 0; i < spots->len; i++) {
        const PlacementSpot *s = &g_array_index(spots, PlacementSpot, i);
        if (s->locked && fabs(s->x - x) < 1e-6 && fabs(s->y - y) < 1e-6)
            return s;
    }
    return NULL;
}

// Digits without zeros at the end, whatever the locale.
static void
append_number(GString *out, double value, const char *format)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(digits, sizeof digits, format, value);
    char *end = digits + strlen(digits);
    while (end > digits && end[-1] == '0')
        *--end = '\0';
    if (end > digits && end[-1] == '.')
        *--end = '\0';
    g_string_append(out, strcmp(digits, "-0") == 0 ? "0" : digits);
}

char *
placement_write(const PlacementSpot *spots, guint n, const UnitSet *units)
{
    g_return_val_if_fail((spots != NULL || n == 0) && units != NULL, NULL);
    const char *unit = units->inches ? " in" : " mm", *format = units->inches ? "%.5f" : "%.3f";
    double length = units->inches ? 0.0254 : 1e-3;
    GString *out = g_string_new(NULL);
    for (guint i = 0; i < n; i++) {
        g_string_append(out, i > 0 ? "; " : "");
        append_number(out, spots[i].x / length, format);
        g_string_append_printf(out, "%s, ", unit);
        append_number(out, spots[i].y / length, format);
        g_string_append_printf(out, "%s, ", unit);
        append_number(out, spots[i].turn * 180 / G_PI, "%.3f");
        g_string_append(out, " deg");
        g_string_append(out, spots[i].guest ? " guest" : "");
        g_string_append(out, spots[i].locked ? " locked" : "");
    }
    return g_string_free(out, FALSE);
}

char *
placement_write_rest(const PlacementSpot *spots, guint n, const UnitSet *units)
{
    g_autofree char *text = placement_write(spots, n, units);
    return text ? g_strconcat(text, n > 0 ? "; " : "", "rest auto", NULL) : NULL;
}
