// SPDX-License-Identifier: GPL-3.0-or-later
// The tiny grammar of formula texts:  + - * / ^  ( )  numbers  ids  and the functions
// sqrt exp log sin cos tan min max ceil floor abs. `pi` and `g` (9.80665 m/s2) are constants.
// An id is letters, digits, '_' and '.', starting with a letter.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Gives the value of an id, or NAN.
typedef double (*FormulaLookup)(const char *id, gpointer data);

// Evaluates `text`. FALSE with BASE_ERROR_FORMAT (place in the text) if it does not parse, or
// BASE_ERROR_NOT_FOUND if the look-up gave NAN for an id.
gboolean formula_evaluate(const char *text, FormulaLookup lookup, gpointer data, double *value,
                          GError **error);

// The ids a formula names, in order, each once. Free with g_strfreev. NULL and error if malformed.
char **formula_ids(const char *text, GError **error);

G_END_DECLS
