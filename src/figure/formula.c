// SPDX-License-Identifier: GPL-3.0-or-later
// A small recursive-descent reader of formula texts that computes as it goes. It serves two ends:
// tests evaluate every formula shown to a person, and explain.c lists the ids in it.
//
//   sum     = product { (+|-) product }
//   product = power { (*|/) power }
//   power   = [-] atom [ ^ power ]
//   atom    = number | id | function ( sum { , sum } ) | ( sum )
#include "figure/formula.h"

#include <math.h>
#include <string.h>

#include "base/error.h"

#define MAX_DEPTH 64

typedef struct {
    const char *start, *at;
    FormulaLookup lookup;
    gpointer data;
    GPtrArray *ids; // collects instead of looking up, when not NULL
    int depth;
    GError **error;
} Reader;

static gboolean read_sum(Reader *r, double *value);

static gboolean
fail_at(Reader *r, const char *what)
{
    g_autofree char *place = g_strdup_printf("formula \"%s\", character %d", r->start,
                                             (int)(r->at - r->start) + 1);
    return base_error_set(r->error, BASE_ERROR_FORMAT, NULL, place, what, NULL);
}

static void
skip_space(Reader *r)
{
    while (*r->at == ' ' || *r->at == '\n')
        r->at++;
}

static gboolean
take(Reader *r, char c)
{
    skip_space(r);
    if (*r->at != c)
        return FALSE;
    r->at++;
    return TRUE;
}

static gboolean
apply_function(Reader *r, const char *name, const double *args, int n, double *value)
{
    static const struct {
        const char *name;
        double (*f)(double);
    } table[] = {{"sqrt", sqrt}, {"exp", exp},  {"log", log},   {"sin", sin},    {"cos", cos},
                 {"tan", tan},   {"abs", fabs}, {"ceil", ceil}, {"floor", floor}};
    for (guint i = 0; n == 1 && i < G_N_ELEMENTS(table); i++)
        if (g_str_equal(name, table[i].name)) {
            *value = table[i].f(args[0]);
            return TRUE;
        }
    gboolean min = g_str_equal(name, "min"), max = g_str_equal(name, "max");
    if (n < 1 || (!min && !max))
        return fail_at(r, "no such function, or a wrong number of arguments");
    *value = args[0];
    for (int i = 1; i < n; i++)
        *value = min ? fmin(*value, args[i]) : fmax(*value, args[i]);
    return TRUE;
}

static gboolean
read_call(Reader *r, const char *name, double *value)
{
    double args[8];
    int n = 0;
    do {
        if (n == (int)G_N_ELEMENTS(args))
            return fail_at(r, "too many arguments");
        if (!read_sum(r, &args[n++]))
            return FALSE;
    } while (take(r, ','));
    if (!take(r, ')'))
        return fail_at(r, "a closing bracket is missing");
    return apply_function(r, name, args, n, value);
}

static gboolean
read_name(Reader *r, double *value)
{
    const char *from = r->at;
    while (g_ascii_isalnum(*r->at) || *r->at == '_' || *r->at == '.')
        r->at++;
    g_autofree char *name = g_strndup(from, (gsize)(r->at - from));
    if (take(r, '('))
        return read_call(r, name, value);
    if (g_str_equal(name, "pi"))
        *value = G_PI;
    else if (g_str_equal(name, "g"))
        *value = 9.80665;
    else if (r->ids) {
        *value = 1;
        if (!g_ptr_array_find_with_equal_func(r->ids, name, g_str_equal, NULL))
            g_ptr_array_add(r->ids, g_steal_pointer(&name));
    } else {
        *value = r->lookup(name, r->data);
        if (isnan(*value))
            return base_error_setf(r->error, BASE_ERROR_NOT_FOUND, NULL, NULL, NULL,
                                   "formula \"%s\": %s has no value", r->start, name);
    }
    return TRUE;
}

static gboolean
read_atom(Reader *r, double *value)
{
    skip_space(r);
    if (g_ascii_isdigit(*r->at)) {
        char *end;
        *value = g_ascii_strtod(r->at, &end);
        r->at = end;
        return TRUE;
    }
    if (g_ascii_isalpha(*r->at))
        return read_name(r, value);
    if (take(r, '(')) {
        if (!read_sum(r, value))
            return FALSE;
        return take(r, ')') || fail_at(r, "a closing bracket is missing");
    }
    return fail_at(r, "a number, a name or a bracket is missing");
}

static gboolean
read_power(Reader *r, double *value)
{
    if (++r->depth > MAX_DEPTH)
        return fail_at(r, "nested too deeply");
    gboolean ok;
    if (take(r, '-')) {
        ok = read_power(r, value);
        *value = -*value;
    } else {
        ok = read_atom(r, value);
        if (ok && take(r, '^')) {
            double exponent;
            ok = read_power(r, &exponent);
            if (ok)
                *value = pow(*value, exponent);
        }
    }
    r->depth--;
    return ok;
}

static gboolean
read_product(Reader *r, double *value)
{
    if (!read_power(r, value))
        return FALSE;
    for (;;) {
        double next;
        if (take(r, '*')) {
            if (!read_power(r, &next))
                return FALSE;
            *value *= next;
        } else if (take(r, '/')) {
            if (!read_power(r, &next))
                return FALSE;
            *value /= next;
        } else
            return TRUE;
    }
}

static gboolean
read_sum(Reader *r, double *value)
{
    *value = NAN;
    if (!read_product(r, value))
        return FALSE;
    for (;;) {
        double next;
        if (take(r, '+')) {
            if (!read_product(r, &next))
                return FALSE;
            *value += next;
        } else if (take(r, '-')) {
            if (!read_product(r, &next))
                return FALSE;
            *value -= next;
        } else
            return TRUE;
    }
}

static gboolean
read_all(Reader *r, double *value)
{
    if (!read_sum(r, value))
        return FALSE;
    skip_space(r);
    return *r->at == '\0' || fail_at(r, "something is left over");
}

gboolean
formula_evaluate(const char *text, FormulaLookup lookup, gpointer data, double *value,
                 GError **error)
{
    Reader reader = {text, text, lookup, data, NULL, 0, error};
    double result;
    if (!read_all(&reader, &result))
        return FALSE;
    *value = result;
    return TRUE;
}

char **
formula_ids(const char *text, GError **error)
{
    g_autoptr(GPtrArray) ids = g_ptr_array_new_with_free_func(g_free);
    Reader reader = {text, text, NULL, NULL, ids, 0, error};
    double ignored;
    if (!read_all(&reader, &ignored))
        return NULL;
    g_ptr_array_add(ids, NULL);
    g_ptr_array_set_free_func(ids, NULL);
    return (char **)g_ptr_array_free(g_steal_pointer(&ids), FALSE);
}
