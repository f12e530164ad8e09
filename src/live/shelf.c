// SPDX-License-Identifier: GPL-3.0-or-later
// Lots beside their words.
#include "live/shelf.h"

#include <math.h>
#include <string.h>

#include "book/field.h"
#include "melt/makeup.h"

#define POUND 0.45359237 // kg, exactly

struct LiveShelf {
    GArray *lots;     // of Lot
    GPtrArray *words; // char *, of each
    UnitSet units;
};

void
live_shelf_free(LiveShelf *shelf)
{
    if (!shelf)
        return;
    g_array_unref(shelf->lots);
    g_ptr_array_unref(shelf->words);
    g_free(shelf);
}

LiveShelf *
live_shelf_new(const char *text, const UnitSet *units)
{
    g_return_val_if_fail(text != NULL && units != NULL, NULL);
    GArray *lots = lots_read(text, units, NULL, NULL);
    if (!lots)
        return NULL;
    LiveShelf *shelf = g_new0(LiveShelf, 1);
    shelf->lots = lots;
    shelf->words = g_ptr_array_new_with_free_func(g_free);
    shelf->units = *units;
    g_auto(GStrv) each = g_strsplit(text, ";", -1);
    for (char **one = each; *one; one++)
        if (*g_strstrip(*one))
            g_ptr_array_add(shelf->words, g_strdup(*one));
    return shelf;
}

// "12.345 kg", to the gram; pounds to the hundredth. Files never follow the locale.
static char *
write_mass(double mass, const UnitSet *units)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(digits, sizeof digits, units->pounds ? "%.2f" : "%.3f",
                    units->pounds ? mass / POUND : mass);
    for (gsize n = strlen(digits); n > 1 && digits[n - 1] == '0'; n--)
        digits[n - 1] = '\0';
    if (g_str_has_suffix(digits, "."))
        digits[strlen(digits) - 1] = '\0';
    return g_strdup_printf("%s %s", digits, units->pounds ? "lb" : "kg");
}

static void
set_mass(LiveShelf *shelf, guint index, double mass)
{
    Lot *lot = &g_array_index(shelf->lots, Lot, index);
    g_autofree char *written = write_mass(mass, &shelf->units);
    gboolean clean = lot->state == LOT_CLEAN;
    lot->mass = mass;
    g_free(shelf->words->pdata[index]);
    shelf->words->pdata[index] = g_strdup_printf("%s %s %s%s%s", written, lot->metal,
                                                 lots_form_word(lot->form), clean ? "" : " ",
                                                 clean ? "" : lots_state_word(lot->state));
}

double
live_shelf_take(LiveShelf *shelf, const char *metal, double mass, double returns_share,
                gboolean any)
{
    g_return_val_if_fail(shelf != NULL && metal != NULL && isfinite(mass), NAN);
    g_autofree double *before = g_new0(double, shelf->lots->len + 1);
    for (guint i = 0; i < shelf->lots->len; i++)
        before[i] = g_array_index(shelf->lots, Lot, i).mass;
    const double most[MAKEUP_COUNT] = {
        [MAKEUP_RETURNS] = returns_share, [MAKEUP_CASTINGS] = 1, [MAKEUP_INGOT] = 1};
    MakeupDraw draw = melt_draw(shelf->lots, metal, any, mass, most);
    for (guint i = 0; i < shelf->lots->len; i++) {
        double now = g_array_index(shelf->lots, Lot, i).mass;
        if (now != before[i])
            set_mass(shelf, i, now);
    }
    return draw.lacking;
}

void
live_shelf_give(LiveShelf *shelf, const char *metal, double mass)
{
    g_return_if_fail(shelf != NULL && metal != NULL && isfinite(mass));
    if (!(mass > 0))
        return;
    for (guint i = 0; i < shelf->lots->len; i++) {
        const Lot *lot = &g_array_index(shelf->lots, Lot, i);
        if (strcmp(lot->metal, metal) != 0 || lot->form != LOT_RETURNS || lot->state != LOT_CLEAN)
            continue;
        set_mass(shelf, i, lot->mass + mass);
        return;
    }
    Lot lot = {mass, g_strdup(metal), LOT_RETURNS, LOT_CLEAN};
    g_array_append_val(shelf->lots, lot);
    g_ptr_array_add(shelf->words, NULL);
    set_mass(shelf, shelf->lots->len - 1, mass);
}

char *
live_shelf_text(const LiveShelf *shelf)
{
    g_return_val_if_fail(shelf != NULL, NULL);
    // What is written as nothing is nothing.
    double least = shelf->units.pounds ? 0.005 * POUND : 0.0005;
    g_autoptr(GString) text = g_string_new(NULL);
    guint n = 0;
    for (guint i = 0; i < shelf->lots->len; i++) {
        if (g_array_index(shelf->lots, Lot, i).mass < least)
            continue;
        g_string_append_printf(text, "%s%s", n++ > 0 ? "; " : "", (char *)shelf->words->pdata[i]);
    }
    if (n > LOTS_MOST || text->len > field_find("shop.stock")->max)
        return NULL;
    return g_string_free(g_steal_pointer(&text), FALSE);
}
