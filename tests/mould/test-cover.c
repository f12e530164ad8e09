// SPDX-License-Identifier: GPL-3.0-or-later
// The sand that is asked for, by the depth of the cavity or as a person set it.
#include "book/store.h"
#include "check.h"
#include "mould/figures.h"

static Tables *tables;

static const char *const ids[5] = {MOULD_LEAST_WALL, MOULD_LEAST_BETWEEN, MOULD_LEAST_RUNNER,
                                   MOULD_LEAST_TOP, MOULD_LEAST_BOTTOM};

// `sand` holds members of shop.sand. Heights in m; NAN: unknown.
static FigureList *
ask(const char *sand, double above, double below)
{
    g_autofree char *text = g_strdup_printf("{\"format\":\"castbook\",\"version\":1,\"shop\":{"
                                            "\"sand\":{%s}},\"jobs\":[{\"id\":\"j\"}]}",
                                            sand);
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = store_parse(text, -1, "cover.castbook", NULL, tables, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "j", tables, NULL, mould_reads);
    FigureList *list = figure_list_new();
    inputs_give(inputs, list);
    figure_give(list, "mould.height_above", "", QUANTITY_LENGTH, above, NULL, "geometry");
    figure_give(list, "mould.height_below", "", QUANTITY_LENGTH, below, NULL, "geometry");
    mould_figures_covers(inputs, list);
    return list;
}

static void
check_sands(FigureList *list, const double mm[5])
{
    for (int i = 0; i < 5; i++)
        check_close(figure_list_value(list, ids[i]), mm[i] / 1000, 1e-12, ids[i]);
    check_figures(list);
    figure_list_unref(list);
}

// Common practice, no source; the numbers by hand.
static void
test_by_depth(void)
{
    check_sands(ask("", 0.0043, 0.0171), (const double[5]){25, 20, 20, 30, 30});
    check_sands(ask("", 0.0713, 0.0171), (const double[5]){35.65, 28.52, 28.52, 35.65, 30});
    check_sands(ask("", 0, 0.0909), (const double[5]){45.45, 36.36, 36.36, 30, 45.45});
}

static void
test_given(void)
{
    check_sands(
        ask("\"cover_wall\":\"31mm\",\"cover_between\":\"17mm\",\"cover_top\":\"22mm\"", 0, 0.0909),
        (const double[5]){31, 17, 17, 22, 45.45});
    check_sands(ask("\"cover_runner\":\"9mm\",\"cover_bottom\":\"12mm\"", 0, 0.0909),
                (const double[5]){45.45, 36.36, 9, 30, 12});
}

static void
test_unknown(void)
{
    FigureList *list = ask("\"cover_wall\":\"31mm\"", NAN, NAN);
    check_close(figure_list_value(list, MOULD_LEAST_WALL), 0.031, 1e-12, "as set");
    for (int i = 1; i < 5; i++)
        g_assert_true(isnan(figure_list_value(list, ids[i])));
    figure_list_unref(list);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    g_test_add_func("/mould/cover/by-depth", test_by_depth);
    g_test_add_func("/mould/cover/given", test_given);
    g_test_add_func("/mould/cover/unknown", test_unknown);
    int result = g_test_run();
    tables_free(tables);
    return result;
}
