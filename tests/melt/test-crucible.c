// SPDX-License-Identifier: GPL-3.0-or-later
// Which metal may go into which crucible, and the words about it.
#include "melt/crucible.h"

#include <string.h>

#include "check.h"

static Tables *tables;

static void
check_rules(const char *kind, const char *metal, const char *bound, guint expected,
            const char *words)
{
    g_autofree char *said = NULL;
    guint broken = melt_crucible_rules(tables_find(tables, TABLE_CRUCIBLE_KINDS, kind),
                                       tables_find(tables, TABLE_METALS, metal), bound, tables,
                                       &said);
    g_assert_cmpuint(broken, ==, expected);
    if (words)
        g_assert_nonnull(strstr(said, words));
    else
        g_assert_cmpstr(said, ==, "");
}

static void
test_bound(void)
{
    check_rules("clay-graphite", "a356", "aluminium", 0, NULL);
    check_rules("clay-graphite", "413", "  Aluminum ", 0, NULL);
    check_rules("graphite", "silicon-bronze", "COPPER", 0, NULL);
    check_rules("clay-graphite", "a356", "zinc", 1, "bound to zinc");
    check_rules("clay-graphite", "za-12", "aluminium", 1, "of the zinc family");
    check_rules("graphite", "silver", "gold", 1, "bound to gold");
}

static void
test_not_bound_yet(void)
{
    check_rules("clay-graphite", "a356", NULL, 0, "Not bound yet");
    check_rules("clay-graphite", "a356", "   ", 0, "keep it for aluminium");
}

static void
test_kind(void)
{
    check_rules("ceramic", "a356", "aluminium", 1, "attacks silica-rich ceramics");
    check_rules("ceramic", "gold", "gold", 0, NULL);
    check_rules("ceramic", "za-12", "gold", 2, "bound to gold");
    check_rules("ceramic", "413", NULL, 1,
                "take one of: Graphite, Clay-bonded graphite, Silicon carbide.");
    check_rules("clay-graphite", "413", "aluminium copper", 1, "bound to aluminium copper");
}

// Without tables there are no names to give.
static void
test_no_tables(void)
{
    g_autofree char *said = NULL;
    guint broken = melt_crucible_rules(tables_find(tables, TABLE_CRUCIBLE_KINDS, "ceramic"),
                                       tables_find(tables, TABLE_METALS, "413"), NULL, NULL, &said);
    g_assert_cmpuint(broken, ==, 1);
    g_assert_nonnull(strstr(said, "take one of another kind."));
}

static void
test_flux(void)
{
    static const struct {
        const char *kind, *flux;
        guint grade;
    } cases[] = {{"graphite", "borax", 2},        {"graphite", "chloride", 1},
                 {"clay-graphite", "borax", 2},   {"clay-graphite", "none", 0},
                 {"silicon-carbide", "borax", 2}, {"silicon-carbide", "fluoride", 1},
                 {"ceramic", "borax", 1},         {"ceramic", "fluoride", 2}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        const TableRow *kind = tables_find(tables, TABLE_CRUCIBLE_KINDS, cases[i].kind);
        g_test_message("%s with %s", cases[i].kind, cases[i].flux);
        g_assert_cmpuint(melt_crucible_flux(kind, cases[i].flux), ==, cases[i].grade);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    tables = tables_load(&error);
    g_assert_no_error(error);
    g_test_add_func("/melt/crucible/bound", test_bound);
    g_test_add_func("/melt/crucible/not-bound", test_not_bound_yet);
    g_test_add_func("/melt/crucible/kind", test_kind);
    g_test_add_func("/melt/crucible/no-tables", test_no_tables);
    g_test_add_func("/melt/crucible/flux", test_flux);
    int status = g_test_run();
    tables_free(tables);
    return status;
}
