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
                                       tables_find(tables, TABLE_METALS, metal), bound, &said);
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
    int status = g_test_run();
    tables_free(tables);
    return status;
}
