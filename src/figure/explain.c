// SPDX-License-Identifier: GPL-3.0-or-later
// A figure in words. The formula text is the very text a test evaluates; here its ids become
// labels, or the numbers they stood for.
#include "figure/explain.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "figure/source.h"

typedef char *(*NameText)(const FigureList *list, const char *id, gconstpointer data);

static gboolean
is_function(const char *name)
{
    static const char *const names[] = {"exp", "log", "sin",  "cos",   "tan", "abs",
                                        "min", "max", "ceil", "floor", NULL};
    return g_strv_contains(names, name);
}

// Appends the text of one name of a formula and returns where it ends.
static const char *
append_name(GString *out, const char *at, NameText text, const FigureList *list, gconstpointer data)
{
    const char *end = at;
    while (g_ascii_isalnum(*end) || *end == '_' || *end == '.')
        end++;
    g_autofree char *name = g_strndup(at, (gsize)(end - at));
    if (g_str_equal(name, "sqrt"))
        g_string_append(out, "√");
    else if (g_str_equal(name, "pi"))
        g_string_append(out, "π");
    else if (g_str_equal(name, "g"))
        g_string_append(out, "g");
    else if (is_function(name))
        g_string_append(out, name);
    else {
        g_autofree char *words = text(list, name, data);
        // A power is of all the words before it, and a minus must not follow another sign bare.
        gboolean whole = (*end == '^' && strchr(words, ' ')) || g_str_has_prefix(words, "−");
        g_string_append_printf(out, whole ? "(%s)" : "%s", words);
    }
    return end;
}

// The formula with proper signs, names put through `text`.
static char *
render_formula(const char *formula, NameText text, const FigureList *list, gconstpointer data)
{
    GString *out = g_string_new(NULL);
    for (const char *at = formula; *at;) {
        if (g_ascii_isalpha(*at)) {
            at = append_name(out, at, text, list, data);
            continue;
        }
        if (g_ascii_isdigit(*at)) { // a number whole, so that the e of 1e-3 is no name
            char *end;
            g_ascii_strtod(at, &end);
            g_string_append_len(out, at, end - at);
            at = end;
            continue;
        }
        if (g_str_has_prefix(at, "^2") && !g_ascii_isdigit(at[2]) && at[2] != '.') {
            g_string_append(out, "²");
            at += 2;
            continue;
        }
        if (*at == '*')
            g_string_append(out, "×");
        else if (*at == '/')
            g_string_append(out, "÷");
        else if (*at == '-')
            g_string_append(out, "−");
        else
            g_string_append_c(out, *at);
        at++;
    }
    return g_string_free(out, FALSE);
}

static char *
label_text(const FigureList *list, const char *id, gconstpointer data)
{
    const Figure *figure = figure_list_find(list, id);
    return g_strdup(figure ? _(figure->spec->label) : id);
}

typedef struct {
    const Figure *figure;
    const UnitSet *units;
} Numbers;

static char *
number_text(const FigureList *list, const char *id, gconstpointer data)
{
    const Numbers *numbers = data;
    const Figure *input = figure_list_find(list, id);
    QuantityKind kind = input ? input->spec->kind : QUANTITY_NUMBER;
    for (guint i = 0; i < numbers->figure->n_inputs; i++)
        if (g_str_equal(numbers->figure->inputs[i].id, id)) {
            double value = numbers->figure->inputs[i].value;
            return isfinite(value) ? quantity_format(kind, value, numbers->units)
                                   : g_strdup(_("unknown"));
        }
    return g_strdup(id);
}

char *
explain_formula(const FigureList *list, const Figure *figure)
{
    if (figure->spec->formula)
        return render_formula(figure->spec->formula, label_text, list, NULL);
    if (figure->spec->method)
        return g_strdup(_(figure->spec->method));
    return g_strdup(figure->given ? _("put in, not computed") : "");
}

char *
explain_numbers(const FigureList *list, const Figure *figure, const UnitSet *units)
{
    if (!figure->spec->formula)
        return NULL;
    Numbers numbers = {figure, units};
    return render_formula(figure->spec->formula, number_text, list, &numbers);
}

char *
explain_limit(const FigureList *list, const Figure *figure, const UnitSet *units)
{
    if (!isfinite(figure->limit))
        return NULL;
    QuantityKind kind = figure->spec->kind;
    g_autofree char *limit = quantity_format(kind, figure->limit, units);
    GString *out = g_string_new(NULL);
    if (figure->spec->limit_kind == FIGURE_AT_MOST)
        g_string_append_printf(out, _("at most %s"), limit);
    else
        g_string_append_printf(out, _("at least %s"), limit);
    const Figure *from = figure->limit_id ? figure_list_find(list, figure->limit_id) : NULL;
    if (from)
        g_string_append_printf(out, " (%s)", _(from->spec->label));
    if (isfinite(figure->margin) && figure->margin != 0) {
        QuantityKind gap = kind == QUANTITY_TEMPERATURE ? QUANTITY_TEMPERATURE_DIFFERENCE : kind;
        g_autofree char *margin = quantity_format(gap, fabs(figure->margin), units);
        if (figure_is_past(figure) && figure->spec->limit_kind == FIGURE_AT_LEAST)
            g_string_append_printf(out, _("; %s short of it"), margin);
        else if (figure_is_past(figure))
            g_string_append_printf(out, _("; %s beyond it"), margin);
        else
            g_string_append_printf(out, _("; %s to spare"), margin);
    }
    return g_string_free(out, FALSE);
}

char *
explain_value(const Figure *figure, const UnitSet *units)
{
    if (figure->state == FIGURE_UNKNOWN)
        return g_strdup(_("unknown"));
    if (figure->text)
        return g_strdup(figure->text);
    return quantity_format(figure->spec->kind, figure->value, units);
}

static void
append_line(GString *out, const char *head, const char *text)
{
    if (text && *text)
        g_string_append_printf(out, "  %s %s\n", head, text);
}

char *
explain_all(const FigureList *list, const Figure *figure, const UnitSet *units)
{
    GString *out = g_string_new(NULL);
    g_autofree char *value = explain_value(figure, units);
    g_string_append_printf(out, "%s: %s", _(figure->spec->label), value);
    const char *state = figure_state_word(figure->state);
    if (*state && figure->state != FIGURE_UNKNOWN)
        g_string_append_printf(out, " (%s)", state);
    g_string_append_c(out, '\n');
    g_autofree char *formula = explain_formula(list, figure);
    g_autofree char *numbers = explain_numbers(list, figure, units);
    g_autofree char *limit = explain_limit(list, figure, units);
    g_autofree char *source = source_text(figure_source(figure));
    append_line(out, "=", formula);
    append_line(out, "=", numbers);
    append_line(out, _("limit:"), limit);
    append_line(out, _("note:"), figure->note);
    const Figure *cause = figure->missing ? figure_list_find(list, figure->missing) : NULL;
    append_line(out, _("missing:"), cause ? _(cause->spec->label) : figure->missing);
    append_line(out, _("source:"), source);
    return g_string_free(out, FALSE);
}
