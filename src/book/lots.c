// SPDX-License-Identifier: GPL-3.0-or-later
// Reading the lots of metal in stock. Words are taken from the end of a lot, as only the mass in
// front may itself hold spaces.
#include "book/lots.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

#define MOST_MASS 1e6 // kg

static const char *const forms[LOT_FORM_COUNT] = {"ingot", "castings", "returns", "chips"};
static const char *const states[LOT_STATE_COUNT] = {"clean",  "oily",    "painted",
                                                    "coated", "unknown", "mixed"};

const char *
lots_form_word(LotForm form)
{
    g_return_val_if_fail(form < LOT_FORM_COUNT, NULL);
    return forms[form];
}

const char *
lots_state_word(LotState state)
{
    g_return_val_if_fail(state < LOT_STATE_COUNT, NULL);
    return states[state];
}

static gboolean
refuse(guint number, const char *what, const char *remedy, GError **error)
{
    g_autofree char *place = g_strdup_printf(_("lot %u"), number);
    return base_error_set(error, BASE_ERROR_VALUE, NULL, place, what, remedy);
}

// The number of `word` among the words, or -1.
static int
find_word(const char *const *words, guint n, const char *word)
{
    for (guint i = 0; i < n; i++)
        if (strcmp(words[i], word) == 0)
            return (int)i;
    return -1;
}

// Cuts the last word off `text` and returns it, a part of `text`; NULL if it is the only
// one.
static char *
take_last(char *text)
{
    g_strchomp(text);
    char *space = strrchr(text, ' ');
    if (!space)
        return NULL;
    *space = '\0';
    return space + 1;
}

static gboolean
check_metal(const char *metal, const Tables *tables, guint number, GError **error)
{
    if (!tables || tables_find(tables, TABLE_METALS, metal))
        return TRUE;
    g_autoptr(GString) known = g_string_new(_("choose one of"));
    for (guint i = 0; i < tables_size(tables, TABLE_METALS); i++)
        g_string_append_printf(known, "%s %s", i > 0 ? "," : "",
                               table_row_id(tables_at(tables, TABLE_METALS, i)));
    g_autofree char *what = g_strdup_printf(_("there is no metal \"%s\""), metal);
    return refuse(number, what, known->str, error);
}

static gboolean
read_mass(const char *text, const UnitSet *units, guint number, double *mass, GError **error)
{
    g_autoptr(GError) wrong = NULL;
    if (!quantity_parse(QUANTITY_MASS, text, units, mass, &wrong))
        return refuse(number, wrong->message, NULL, error);
    if (!strpbrk(text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"))
        return refuse(number, _("the mass has no unit"), _("write it as \"12 kg\""), error);
    if (!(*mass > 0 && *mass <= MOST_MASS))
        return refuse(number, _("the mass is not one a shop can have"),
                      _("give more than nothing, or leave the lot out"), error);
    return TRUE;
}

static gboolean
read_lot(const char *text, const UnitSet *units, const Tables *tables, guint number, Lot *lot,
         GError **error)
{
    const char *remedy = _("write mass, metal, form (ingot, castings, returns, chips) and, unless "
                           "clean, its state (oily, painted, coated, unknown, mixed), as in "
                           "\"3 kg a356 castings oily\"");
    g_autofree char *rest = g_strdelimit(g_strstrip(g_strdup(text)), "\t", ' ');
    char *word = take_last(rest);
    int state = word ? find_word(states, LOT_STATE_COUNT, word) : -1;
    if (state >= 0)
        word = take_last(rest);
    int form = word ? find_word(forms, LOT_FORM_COUNT, word) : -1;
    const char *metal = form >= 0 ? take_last(rest) : NULL;
    double mass = NAN;
    if (!metal)
        return refuse(number, _("is not mass, metal and form"), remedy, error);
    if (!check_metal(metal, tables, number, error) || !read_mass(rest, units, number, &mass, error))
        return FALSE;
    *lot = (Lot){mass, g_strdup(metal), (LotForm)form, state >= 0 ? (LotState)state : LOT_CLEAN};
    return TRUE;
}

static void
clear_lot(gpointer data)
{
    g_free(((Lot *)data)->metal);
}

GArray *
lots_read(const char *text, const UnitSet *units, const Tables *tables, GError **error)
{
    g_return_val_if_fail(text != NULL && units != NULL, NULL);
    g_autoptr(GArray) lots = g_array_new(FALSE, FALSE, sizeof(Lot));
    g_array_set_clear_func(lots, clear_lot);
    g_auto(GStrv) each = g_strsplit(text, ";", LOTS_MOST + 2);
    for (char **one = each; *one; one++) {
        Lot lot;
        if (!*g_strstrip(*one))
            continue;
        if (lots->len >= LOTS_MOST) {
            base_error_setf(error, BASE_ERROR_LIMIT, NULL, NULL, _("put some together"),
                            _("more than %d lots"), LOTS_MOST);
            return NULL;
        }
        if (!read_lot(*one, units, tables, lots->len + 1, &lot, error))
            return NULL;
        g_array_append_val(lots, lot);
    }
    return g_steal_pointer(&lots);
}
