// SPDX-License-Identifier: GPL-3.0-or-later
// Crucible rules: the kind must bear the metal, and one crucible serves one metal family, as what
// has soaked into its wall comes out again in the next melt.
#include "melt/crucible.h"

#include <glib/gi18n-lib.h>
#include <string.h>

// Whether the text of `row` called `key`, words with spaces between, holds `word`.
static gboolean
has_word(const TableRow *row, const char *key, const char *word)
{
    const char *text = table_row_text(row, key);
    g_auto(GStrv) words = g_strsplit(text ? text : "", " ", -1);
    return g_strv_contains((const char *const *)words, word);
}

// The names of the kinds that bear `family`; "" when there are none.
static char *
list_kinds(const Tables *tables, const char *family)
{
    GString *text = g_string_new(NULL);
    for (guint i = 0; tables && i < tables_size(tables, TABLE_CRUCIBLE_KINDS); i++) {
        const TableRow *row = tables_at(tables, TABLE_CRUCIBLE_KINDS, i);
        if (has_word(row, "families", family))
            g_string_append_printf(text, "%s%s", text->len ? ", " : "", table_row_name(row));
    }
    return g_string_free(text, FALSE);
}

// "  Aluminum " is aluminium; other words are only folded.
static char *
fold_family(const char *text)
{
    g_autofree char *copy = g_strdup(text);
    char *folded = g_utf8_casefold(g_strstrip(copy), -1);
    if (g_str_equal(folded, "aluminum")) {
        g_free(folded);
        return g_strdup("aluminium");
    }
    return folded;
}

static void
say(GString *text, const char *sentence)
{
    if (text->len)
        g_string_append_c(text, ' ');
    g_string_append(text, sentence);
}

static guint
check_bound(const TableRow *metal, const char *bound, GString *text)
{
    const char *family = table_row_family(metal);
    g_autofree char *folded = fold_family(bound ? bound : "");
    g_autofree char *sentence = NULL;
    if (!*folded) {
        sentence = g_strdup_printf(_("Not bound yet: once %s has been melted in it, keep it for "
                                     "%s, and mark it."),
                                   table_row_name(metal), family);
        say(text, sentence);
        return 0;
    }
    if (g_str_equal(folded, family))
        return 0;
    sentence = g_strdup_printf(_("It is bound to %s and this metal is of the %s family; take "
                                 "another crucible, one family each."),
                               folded, family);
    say(text, sentence);
    return 1;
}

guint
melt_crucible_rules(const TableRow *kind, const TableRow *metal, const char *bound,
                    const Tables *tables, char **words)
{
    g_return_val_if_fail(kind && metal && words, 0);
    g_autoptr(GString) text = g_string_new(NULL);
    guint broken = 0;
    if (!has_word(kind, "families", table_row_family(metal))) {
        const TableValue *families = table_row_find(kind, "families");
        g_autofree char *kinds = list_kinds(tables, table_row_family(metal));
        g_autofree char *sentence = g_strdup_printf(
            *kinds ? _("%s is not a crucible for %s; take one of: %s.")
                   : _("%s is not a crucible for %s; take one of another kind."),
            table_row_name(kind), table_row_name(metal), kinds);
        say(text, sentence);
        if (families && families->note)
            say(text, families->note);
        broken++;
    }
    broken += check_bound(metal, bound, text);
    *words = g_string_free(g_steal_pointer(&text), FALSE);
    return broken;
}

guint
melt_crucible_flux(const TableRow *kind, const char *flux)
{
    g_return_val_if_fail(kind && flux, 0);
    if (has_word(kind, "flux_refused", flux))
        return 2;
    return has_word(kind, "flux_sparing", flux) ? 1 : 0;
}
