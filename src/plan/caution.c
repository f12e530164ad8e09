// SPDX-License-Identifier: GPL-3.0-or-later
// The usual cautions round molten metal. They follow the safety pages of The Aluminum Association
// (moisture, scrap) and of the HSE (moulds, tools, floors, clothing), in our own words, and give
// way to local codes and licensed practice.
#include "plan/caution.h"

#include <glib/gi18n-lib.h>

static const char *const general[] = {
    N_("This plan is arithmetic, not permission: local codes, the makers' instructions and "
       "licensed "
       "practice come first."),
    N_("Water under molten metal bursts into steam and throws it. Charge, tools, ladles, moulds "
       "and "
       "floor must be dry and warm; damp, painted, closed or unknown scrap stays out of the "
       "crucible."),
    N_("Scrap nobody can name may carry lead, cadmium plating, beryllium or magnesium: the fume of "
       "the first three poisons, magnesium burns and water feeds its fire. It is not melted; a "
       "spark, a file and a magnet tell less than a bill of sale."),
    N_("Wear a face shield over glasses, dry leather or aluminised gloves, apron and spats, and "
       "nothing that melts. Keep others back and the way out clear."),
    N_("Melt and pour over dry sand, never over bare concrete: it holds water and can burst under "
       "a "
       "spill."),
    N_("Oil-bonded sand smokes when it is poured, and silica dust harms the lungs: ventilate, and "
       "wear a fitted respirator when ramming and shaking out."),
    N_("A flask of sand and a full crucible are heavy. Lift with a second person or a hoist, with "
       "tongs that fit."),
};

static const char of_chills[] = N_(
    "A cold or damp chill gathers water, and metal over water bursts: warm every chill and dry it, "
    "free of rust and oil, put it in last and pour soon after the mould is closed.");

char **
caution_list(const TableRow *metal, const TableRow *crucible_kind, gboolean chills)
{
    g_autoptr(GPtrArray) list = g_ptr_array_new();
    for (guint i = 0; i < G_N_ELEMENTS(general); i++)
        g_ptr_array_add(list, g_strdup(_(general[i])));
    if (chills)
        g_ptr_array_add(list, g_strdup(_(of_chills)));
    const TableRow *rows[] = {metal, crucible_kind};
    for (guint r = 0; r < G_N_ELEMENTS(rows); r++) {
        const char *const *own = rows[r] ? table_row_cautions(rows[r]) : NULL;
        for (guint i = 0; own && own[i]; i++)
            g_ptr_array_add(list, g_strdup(_(own[i])));
    }
    g_ptr_array_add(list, NULL);
    return (char **)g_ptr_array_free(g_steal_pointer(&list), FALSE);
}
