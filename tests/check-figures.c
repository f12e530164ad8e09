// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a figure explains itself: its formula gives its value, its source can be looked up.
#include <string.h>

#include "check.h"
#include "figure/formula.h"
#include "figure/source.h"

static double
recorded_value(const char *id, gpointer data)
{
    const Figure *figure = data;
    for (guint i = 0; i < figure->n_inputs; i++)
        if (g_str_equal(figure->inputs[i].id, id))
            return figure->inputs[i].value;
    return NAN;
}

static void
check_formula(const Figure *figure)
{
    const char *id = figure->spec->id, *formula = figure->spec->formula;
    g_autoptr(GError) error = NULL;
    if (figure->state == FIGURE_UNKNOWN && figure->n_inputs == 0)
        return; // unknown from the start
    g_auto(GStrv) ids = formula_ids(formula, &error);
    g_assert_no_error(error);
    g_autoptr(GHashTable) named = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; ids[i]; i++)
        g_hash_table_add(named, ids[i]);
    for (guint i = 0; i < figure->n_inputs; i++)
        if (!g_hash_table_contains(named, figure->inputs[i].id))
            g_error("%s: its formula \"%s\" does not use its input %s", id, formula,
                    figure->inputs[i].id);
    for (guint i = 0; ids[i]; i++) {
        gboolean found = FALSE;
        for (guint j = 0; j < figure->n_inputs; j++)
            found = found || g_str_equal(figure->inputs[j].id, ids[i]);
        if (!found)
            g_error("%s: %s of its formula \"%s\" is no input", id, ids[i], formula);
    }
    if (figure->state == FIGURE_UNKNOWN)
        return;
    double value = NAN;
    if (!formula_evaluate(formula, recorded_value, (gpointer)figure, &value, &error))
        g_error("%s: %s", id, error->message);
    g_autofree char *what = g_strdup_printf("%s = %s", id, formula);
    check_close_at(what, figure->value, value, 1e-9, "its own formula", __FILE__, __LINE__);
}

void
check_figure_source(const Figure *figure)
{
    const char *id = figure_source(figure);
    g_assert_nonnull(id);
    g_assert_cmpstr(id, !=, "");
    if (strchr(id, ' '))
        return;
    g_auto(GStrv) parts = g_strsplit(id, "+", -1);
    for (guint i = 0; parts[i]; i++)
        if (!g_strv_contains(source_ids(), parts[i]))
            g_error("%s: no source \"%s\"", figure->spec->id, parts[i]);
}

// What asks for attention says what to do about it.
static void
check_note(const Figure *figure)
{
    if ((figure->state == FIGURE_FAILS || figure->state == FIGURE_CLOSE) && !figure->note)
        g_error("%s: %s without a note", figure->spec->id, figure_state_word(figure->state));
}

void
check_figure(const Figure *figure)
{
    g_assert_cmpstr(figure->spec->label, !=, NULL);
    if (!figure->spec->formula && !figure->spec->method)
        g_error("%s has neither formula nor method", figure->spec->id);
    check_figure_source(figure);
    if (figure->spec->formula)
        check_formula(figure);
    if (figure->state == FIGURE_UNKNOWN)
        g_assert_cmpstr(figure->missing, !=, NULL);
    else if (!figure->text)
        g_assert_true(isfinite(figure->value));
    check_note(figure);
}

void
check_figures(const FigureList *figures)
{
    for (guint i = 0; i < figure_list_size(figures); i++)
        if (!figure_list_at(figures, i)->given)
            check_figure(figure_list_at(figures, i));
}
