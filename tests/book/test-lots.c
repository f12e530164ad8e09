// SPDX-License-Identifier: GPL-3.0-or-later
// The stock of metal as a person writes it, and what is said where it cannot be read.
#include "book/lots.h"

#include <string.h>

#include "book/field.h"
#include "book/inputs.h"
#include "check.h"

static Tables *tables;

static void
test_read(void)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) lots = lots_read(" 12 kg a356 ingot; 2 lb 3 oz  a356\treturns clean ;;"
                                       "380g 6061 chips oily; 1,5 kg za-12 castings unknown",
                                       &units, tables, &error);
    g_assert_no_error(error);
    static const struct {
        double mass;
        const char *metal;
        LotForm form;
        LotState state;
    } wanted[] = {{12, "a356", LOT_INGOT, LOT_CLEAN},
                  {2 * 0.45359237 + 3 * 0.028349523125, "a356", LOT_RETURNS, LOT_CLEAN},
                  {0.38, "6061", LOT_CHIPS, LOT_OILY},
                  {1.5, "za-12", LOT_CASTINGS, LOT_UNKNOWN}};
    g_assert_cmpuint(lots->len, ==, G_N_ELEMENTS(wanted));
    for (guint i = 0; i < lots->len; i++) {
        const Lot *lot = &g_array_index(lots, Lot, i);
        check_close(lot->mass, wanted[i].mass, 1e-12, "GNU units: lb, oz");
        g_assert_cmpstr(lot->metal, ==, wanted[i].metal);
        g_assert_cmpint(lot->form, ==, wanted[i].form);
        g_assert_cmpint(lot->state, ==, wanted[i].state);
    }
    g_autoptr(GArray) none = lots_read(" ; ", &units, tables, &error);
    g_assert_cmpuint(none->len, ==, 0);
    g_assert_cmpstr(lots_form_word(LOT_RETURNS), ==, "returns");
    g_assert_cmpstr(lots_state_word(LOT_MIXED), ==, "mixed");
}

static void
test_refuse(void)
{
    static const struct {
        const char *text, *words;
    } cases[] = {
        {"12 kg a356", "lot 1: is not mass, metal and form"},
        {"ingot", "lot 1: is not mass, metal and form"},
        {"a356 ingot", "lot 1: is not mass, metal and form"},
        {"oily", "lot 1: is not mass, metal and form"},
        {"12 kg a356 ingot; 3 kg unobtainium returns", "lot 2: there is no metal \"unobtainium\""},
        {"12 kg a356 ingot; 3 mm a356 returns", "lot 2: "},
        {"12 a356 ingot", "lot 1: the mass has no unit"},
        {"0 kg a356 ingot", "lot 1: the mass is not"},
        {"-2 kg a356 ingot", "lot 1: "},
        {"9e9 kg a356 ingot", "lot 1: the mass is not"},
        {"12 kg a356 ingot muddy", "lot 1: is not mass, metal and form"},
    };
    UnitSet units = unit_set_default();
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GError) error = NULL;
        g_test_message("%s", cases[i].text);
        g_assert_null(lots_read(cases[i].text, &units, tables, &error));
        g_assert_nonnull(error);
        g_test_message("%s", error->message);
        g_assert_true(g_str_has_prefix(error->message, cases[i].words));
    }
    g_autoptr(GString) many = g_string_new(NULL);
    for (int i = 0; i <= LOTS_MOST; i++)
        g_string_append(many, "1 g a356 ingot;");
    g_autoptr(GError) error = NULL;
    g_assert_null(lots_read(many->str, &units, tables, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_LIMIT);
    g_autoptr(GArray) unchecked = lots_read("1 kg unobtainium ingot", &units, NULL, NULL);
    g_assert_cmpuint(unchecked->len, ==, 1);
}

// The field refuses what cannot be read, so that no stage ever meets it.
static void
test_field(void)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    const Field *field = field_find("shop.stock");
    g_assert_true(field_check(field, "1 kg a356 ingot", &units, tables, NULL, &error));
    g_assert_no_error(error);
    g_assert_false(field_check(field, "1 kg a356", &units, tables, NULL, &error));
    g_assert_nonnull(strstr(error->message, "lot 1"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(Tables) loaded = tables_load(NULL);
    tables = loaded;
    g_test_add_func("/book/lots/read", test_read);
    g_test_add_func("/book/lots/refuse", test_refuse);
    g_test_add_func("/book/lots/field", test_field);
    return g_test_run();
}
