// SPDX-License-Identifier: GPL-3.0-or-later
// Saying why a pull costs what it does.
#include <glib/gi18n-lib.h>

#include "part/search.h"

#define NOTHING 0.003 // of the part's volume
#define HOLE 0.6      // share of a piece's skin against the part that makes it a hole

// Where a piece lies, to about a thirtieth of its own size: more digits would be the cells'.
static char *
place_words(double at, const SearchFill *f, const UnitSet *units)
{
    double step = pow(10, floor(log10(cbrt(f->volume) / 30)));
    return quantity_format(QUANTITY_LENGTH, round(at / step) * step, units);
}

static void
add_fill(GString *words, const SearchFill *f, const UnitSet *units)
{
    g_autofree char *x = place_words(f->middle.x, f, units);
    g_autofree char *y = place_words(f->middle.y, f, units);
    g_autofree char *z = place_words(f->middle.z, f, units);
    g_autofree char *volume = quantity_format(QUANTITY_VOLUME, f->volume, units);
    g_autofree char *across = quantity_format(QUANTITY_LENGTH, f->diameter, units);
    if (f->enclosed >= 1)
        g_string_append_printf(words, _("The enclosed hollow at %s, %s, %s fills: %s that stay."),
                               x, y, z, volume);
    else if (f->enclosed >= HOLE)
        g_string_append_printf(words,
                               _("The hole of about %s at %s, %s, %s fills: %s to drill out."),
                               across, x, y, z, volume);
    else
        g_string_append_printf(words, _("The hollow at %s, %s, %s fills: %s to cut away."), x, y, z,
                               volume);
}

char *
search_words(const SearchAnswer *a, double part_volume, const UnitSet *units)
{
    g_autoptr(GString) words = g_string_new(NULL);
    if (a->n_fills == 0) {
        if (a->undercut_volume > NOTHING * part_volume) {
            g_autofree char *volume = quantity_format(QUANTITY_VOLUME, a->undercut_volume, units);
            g_string_append_printf(words, _("Small undercuts fill: %s in all."), volume);
        } else {
            g_string_append(words, _("All of it draws."));
        }
    }
    for (guint i = 0; i < a->n_fills; i++) {
        if (i > 0)
            g_string_append_c(words, ' ');
        add_fill(words, &a->fills[i], units);
    }
    if (a->all_fills > a->n_fills) {
        guint more = a->all_fills - a->n_fills;
        g_string_append_c(words, ' ');
        g_string_append_printf(words,
                               g_dngettext(GETTEXT_PACKAGE, "%u smaller one fills too.",
                                           "%u smaller ones fill too.", more),
                               more);
    }
    if (a->draft_volume > NOTHING * part_volume) {
        g_autofree char *volume = quantity_format(QUANTITY_VOLUME, a->draft_volume, units);
        g_string_append_c(words, ' ');
        g_string_append_printf(words, _("Draft adds %s."), volume);
    }
    return g_string_free(g_steal_pointer(&words), FALSE);
}
