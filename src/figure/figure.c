// SPDX-License-Identifier: GPL-3.0-or-later
// Figures and the lists they live in. Whether an unknown input makes a figure unknown, and whether
// a limit is kept, is decided here and nowhere else.
#include "figure/figure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

struct FigureList {
    GPtrArray *figures; // Figure *
    GHashTable *by_id;  // borrowed id -> Figure *
    GPtrArray *earlier; // FigureList *
};

static void
free_given_spec(const FigureSpec *spec)
{
    g_free((char *)spec->id);
    g_free((char *)spec->label);
    g_free((char *)spec->source);
    g_free((FigureSpec *)spec);
}

static void
free_figure(gpointer data)
{
    Figure *figure = data;
    if (figure->given)
        free_given_spec(figure->spec);
    for (guint i = 0; i < figure->n_inputs; i++)
        g_free(figure->inputs[i].id);
    g_free(figure->inputs);
    g_free(figure->text);
    g_free(figure->limit_id);
    g_free(figure->source);
    g_free(figure->note);
    g_free(figure->missing);
    g_free(figure);
}

static void
clear_list(gpointer data)
{
    FigureList *list = data;
    g_hash_table_unref(list->by_id);
    g_ptr_array_unref(list->figures);
    g_ptr_array_unref(list->earlier);
}

FigureList *
figure_list_new(void)
{
    FigureList *list = g_atomic_rc_box_new0(FigureList);
    list->figures = g_ptr_array_new_with_free_func(free_figure);
    list->by_id = g_hash_table_new(g_str_hash, g_str_equal);
    list->earlier = g_ptr_array_new_with_free_func((GDestroyNotify)figure_list_unref);
    return list;
}

FigureList *
figure_list_ref(FigureList *list)
{
    return g_atomic_rc_box_acquire(list);
}

void
figure_list_unref(FigureList *list)
{
    if (list)
        g_atomic_rc_box_release_full(list, clear_list);
}

void
figure_list_see(FigureList *list, FigureList *earlier)
{
    g_return_if_fail(list != earlier);
    g_ptr_array_add(list->earlier, figure_list_ref(earlier));
}

guint
figure_list_size(const FigureList *list)
{
    return list->figures->len;
}

const Figure *
figure_list_at(const FigureList *list, guint index)
{
    g_return_val_if_fail(index < list->figures->len, NULL);
    return g_ptr_array_index(list->figures, index);
}

const Figure *
figure_list_find(const FigureList *list, const char *id)
{
    const Figure *figure = g_hash_table_lookup(list->by_id, id);
    for (guint i = 0; !figure && i < list->earlier->len; i++)
        figure = figure_list_find(g_ptr_array_index(list->earlier, i), id);
    return figure;
}

double
figure_list_value(const FigureList *list, const char *id)
{
    const Figure *figure = figure_list_find(list, id);
    return figure ? figure->value : NAN;
}

// The list owns the figure.
static Figure *
append_figure(FigureList *list, Figure *figure)
{
    g_ptr_array_add(list->figures, figure);
    g_hash_table_insert(list->by_id, (gpointer)figure->spec->id, figure);
    return figure;
}

static Figure *
new_figure(const FigureSpec *spec)
{
    Figure *figure = g_new0(Figure, 1);
    figure->spec = spec;
    figure->value = NAN;
    figure->limit = NAN;
    figure->margin = NAN;
    figure->state = FIGURE_PLAIN;
    return figure;
}

void
figure_give(FigureList *list, const char *id, const char *label, QuantityKind kind, double value,
            const char *text, const char *source)
{
    if (g_hash_table_contains(list->by_id, id))
        return;
    FigureSpec *spec = g_new0(FigureSpec, 1);
    spec->id = g_strdup(id);
    spec->label = g_strdup(label);
    spec->kind = kind;
    spec->source = g_strdup(source);
    Figure *figure = new_figure(spec);
    figure->given = TRUE;
    figure->value = value;
    figure->text = g_strdup(text);
    if (!isfinite(value) && !text) {
        figure->state = FIGURE_UNKNOWN;
        figure->missing = g_strdup(id);
    }
    append_figure(list, figure);
}

static void
make_unknown(Figure *figure, const char *missing)
{
    figure->state = FIGURE_UNKNOWN;
    figure->value = NAN;
    g_clear_pointer(&figure->text, g_free);
    if (!figure->missing)
        figure->missing = g_strdup(missing);
}

// Takes the ids up to NULL; an unknown input makes the figure unknown, and what *that* input misses
// is what the person is told.
static void
take_inputs(FigureList *list, Figure *figure, va_list ids)
{
    GArray *inputs = g_array_new(FALSE, FALSE, sizeof(FigureInput));
    const char *id;
    while ((id = va_arg(ids, const char *))) {
        const Figure *input = figure_list_find(list, id);
        if (!input)
            g_critical("figure %s: no input called %s", figure->spec->id, id);
        FigureInput entry = {g_strdup(id), input ? input->value : NAN};
        g_array_append_val(inputs, entry);
        if (!input || input->state == FIGURE_UNKNOWN)
            make_unknown(figure, input && input->missing ? input->missing : id);
    }
    figure->n_inputs = inputs->len;
    figure->inputs = (FigureInput *)(gpointer)g_array_free(inputs, FALSE);
}

Figure *
figure_add(FigureList *list, const FigureSpec *spec, double value, ...)
{
    Figure *figure = new_figure(spec);
    figure->value = value;
    va_list ids;
    va_start(ids, value);
    take_inputs(list, figure, ids);
    va_end(ids);
    if (figure->state != FIGURE_UNKNOWN && !isfinite(value))
        make_unknown(figure, spec->id);
    return append_figure(list, figure);
}

Figure *
figure_add_text(FigureList *list, const FigureSpec *spec, const char *text, ...)
{
    Figure *figure = new_figure(spec);
    figure->text = g_strdup(text);
    va_list ids;
    va_start(ids, text);
    take_inputs(list, figure, ids);
    va_end(ids);
    if (figure->state != FIGURE_UNKNOWN && !text)
        make_unknown(figure, spec->id);
    return append_figure(list, figure);
}

Figure *
figure_add_unknown(FigureList *list, const FigureSpec *spec, const char *missing)
{
    Figure *figure = new_figure(spec);
    const Figure *cause = figure_list_find(list, missing);
    make_unknown(figure, cause && cause->missing ? cause->missing : missing);
    return append_figure(list, figure);
}

void
figure_limit(Figure *figure, double limit, const char *limit_id)
{
    g_return_if_fail(figure->spec->limit_kind != FIGURE_NO_LIMIT);
    figure->limit = limit;
    g_free(figure->limit_id);
    figure->limit_id = g_strdup(limit_id);
    if (figure->state == FIGURE_UNKNOWN)
        return;
    if (!isfinite(limit)) {
        figure->limit = NAN;
        return;
    }
    double sign = figure->spec->limit_kind == FIGURE_AT_MOST ? 1 : -1;
    figure->margin = sign * (limit - figure->value);
    if (figure_is_past(figure))
        figure->state = figure->spec->advises ? FIGURE_CLOSE : FIGURE_FAILS;
    else if (figure->spec->near > 0 && figure->margin < figure->spec->near * fabs(limit))
        figure->state = FIGURE_CLOSE;
    else
        figure->state = FIGURE_HOLDS;
}

gboolean
figure_is_past(const Figure *figure)
{
    // Rounding in the last digits must not turn "exactly at the limit" into a failure.
    return figure->margin < -1e-9 * fmax(fabs(figure->limit), fabs(figure->value));
}

void
figure_set_source(Figure *figure, const char *source)
{
    g_free(figure->source);
    figure->source = g_strdup(source);
}

void
figure_set_note(Figure *figure, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_free(figure->note);
    figure->note = g_strdup_vprintf(format, args);
    va_end(args);
}

const char *
figure_state_word(FigureState state)
{
    switch (state) {
    case FIGURE_UNKNOWN:
        return _("unknown");
    case FIGURE_HOLDS:
        return _("holds");
    case FIGURE_CLOSE:
        return _("close");
    case FIGURE_FAILS:
        return _("fails");
    case FIGURE_PLAIN:
    default:
        return "";
    }
}

const char *
figure_source(const Figure *figure)
{
    return figure->source ? figure->source : figure->spec->source;
}
