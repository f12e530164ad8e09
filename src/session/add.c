// SPDX-License-Identifier: GPL-3.0-or-later
// Adding figures from their formula alone, so that formula, inputs and value cannot disagree.
#include "session/add.h"

#include <math.h>

#include "figure/formula.h"

static double
look_up(const char *id, gpointer data)
{
    return figure_list_value(data, id);
}

static const char *
find_absent(const FigureList *list, const char *const *ids)
{
    for (guint i = 0; ids[i]; i++)
        if (!figure_list_find(list, ids[i]))
            return ids[i];
    return NULL;
}

Figure *
session_add_method(FigureList *list, const FigureSpec *spec, double value, const char *const *ids)
{
    const char *in[SESSION_MOST_INPUTS] = {NULL};
    guint n = g_strv_length((char **)ids);
    g_return_val_if_fail(n <= SESSION_MOST_INPUTS, NULL);
    const char *absent = find_absent(list, ids);
    if (absent)
        return figure_add_unknown(list, spec, absent);
    for (guint i = 0; i < n; i++)
        in[i] = ids[i];
    // The first NULL ends the inputs; the rest only fill the call.
    return figure_add(list, spec, value, in[0], in[1], in[2], in[3], in[4], in[5], in[6], in[7],
                      in[8], in[9], in[10], in[11], in[12], in[13], in[14], in[15], in[16], in[17],
                      in[18], in[19], in[20], in[21], in[22], in[23], NULL);
}

Figure *
session_add_formula(FigureList *list, const FigureSpec *spec)
{
    g_return_val_if_fail(spec->formula, NULL);
    g_auto(GStrv) ids = formula_ids(spec->formula, NULL);
    g_return_val_if_fail(ids, NULL);
    double value = NAN;
    formula_evaluate(spec->formula, look_up, list, &value, NULL);
    return session_add_method(list, spec, value, (const char *const *)ids);
}

const char *
session_find_missing(const FigureList *list, const char *const *ids)
{
    for (guint i = 0; ids[i]; i++) {
        const Figure *figure = figure_list_find(list, ids[i]);
        if (!figure || (!figure->text && isnan(figure->value)))
            return ids[i];
    }
    return NULL;
}
