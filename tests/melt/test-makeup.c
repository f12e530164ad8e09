// SPDX-License-Identifier: GPL-3.0-or-later
// Charge make-up on small stocks worked by hand.
#include "melt/makeup.h"

#include <math.h>

#include "check.h"

static Makeup
make(const char *stock, gboolean any, double full, double most)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) lots = lots_read(stock, &units, NULL, &error);
    g_assert_no_error(error);
    return melt_makeup(lots, "a356", any, full, most);
}

static void
test_loss(void)
{
    check_close(melt_extra_loss(LOT_INGOT, LOT_CLEAN), 0, 1e-15, "common practice, no source");
    for (int form = 0; form < LOT_FORM_COUNT; form++)
        for (int state = LOT_OILY; state < LOT_STATE_COUNT; state++)
            g_assert_cmpfloat(melt_extra_loss((LotForm)form, (LotState)state), >,
                              melt_extra_loss((LotForm)form, LOT_CLEAN));
    g_assert_cmpfloat(melt_extra_loss(LOT_CHIPS, LOT_CLEAN), >,
                      melt_extra_loss(LOT_RETURNS, LOT_CLEAN));
}

// 5 kg full, at most 40 % returns: 1.3 of returns, 0.7 of chips, 0.9 of castings, the rest ingot.
static void
test_usual(void)
{
    Makeup m = make(
        "4 kg a356 ingot; 3 kg a356 chips; 0.9 kg a356 castings; 1.3 kg a356 returns; 6 "
        "kg 319 returns; 2 kg a356 returns painted",
        FALSE, 5, 0.4);
    check_close(m.stock[MAKEUP_RETURNS], 4.3, 1e-12, "by hand");
    check_close(m.share[MAKEUP_RETURNS], 0.4, 1e-12, "by hand");
    check_close(m.share[MAKEUP_CASTINGS], 0.18, 1e-12, "by hand");
    check_close(m.share[MAKEUP_INGOT], 0.42, 1e-12, "by hand");
    check_close(m.extra_loss, (1.3 * 0.01 + 0.7 * 0.08 + 0.9 * 0.005) / 5, 1e-12, "by hand");
    g_assert_cmpuint(m.dirty_left, ==, 1);
    g_assert_cmpuint(m.dirty_taken, ==, 0);
    g_assert_cmpuint(m.other_metal, ==, 1);
}

// Cleanest first, and the dirty ones only as far as they are needed.
static void
test_any(void)
{
    static const char stock[] = "2 kg a356 returns painted; 1.3 kg a356 returns; 3 kg a356 ingot "
                                "coated";
    Makeup m = make(stock, TRUE, 5, 0.5);
    check_close(m.extra_loss, (1.3 * 0.01 + 1.2 * 0.03 + 2.5 * 0.01) / 5, 1e-12, "by hand");
    g_assert_cmpuint(m.dirty_taken, ==, 2);
    m = make(stock, TRUE, 2.4, 0.5);
    check_close(m.extra_loss, (1.2 * 0.01 + 1.2 * 0.01) / 2.4, 1e-12, "by hand");
    g_assert_cmpuint(m.dirty_taken, ==, 1);
}

static void
test_ends(void)
{
    Makeup m = make("9 kg a356 castings", FALSE, 5, 0.5);
    check_close(m.share[MAKEUP_CASTINGS], 1, 1e-12, "nothing but castings");
    check_close(m.share[MAKEUP_INGOT], 0, 1e-12, "nothing left");
    m = make("9 kg a356 returns", FALSE, 5, 1);
    check_close(m.share[MAKEUP_RETURNS], 1, 1e-12, "allowed to");
    m = make("9 kg a356 returns", FALSE, 5, 0);
    check_close(m.share[MAKEUP_INGOT], 1, 1e-12, "all bought");
    check_close(m.extra_loss, 0, 1e-15, "clean ingot");
    m = make("", FALSE, 5, 0.5);
    check_close(m.share[MAKEUP_INGOT], 1, 1e-12, "all bought");
    m = make("9 kg a356 returns", FALSE, NAN, 0.5);
    g_assert_true(isnan(m.extra_loss) && isnan(m.share[MAKEUP_INGOT]));
    check_close(m.stock[MAKEUP_RETURNS], 9, 1e-12, "as listed");
    m = make("9 kg a356 returns", FALSE, 5, NAN);
    g_assert_true(isnan(m.extra_loss));
}

// The make-up of 5 kg in test_usual(), taken out of the lots: 1.3 of returns, then 0.7 of chips;
// all castings; 2.1 of ingot. A second one finds 2.3 of chips and 1.9 of ingot.
static void
test_draw(void)
{
    UnitSet units = unit_set_default();
    g_autoptr(GArray) lots = lots_read("4 kg a356 ingot; 3 kg a356 chips; 0.9 kg a356 castings; "
                                       "1.3 kg a356 returns; 6 kg 319 returns; 2 kg a356 returns "
                                       "painted",
                                       &units, NULL, NULL);
    const double most[MAKEUP_COUNT] = {
        [MAKEUP_RETURNS] = 0.4, [MAKEUP_CASTINGS] = 1, [MAKEUP_INGOT] = 1};
    MakeupDraw first = melt_draw(lots, "a356", FALSE, 5, most);
    check_close(first.taken[MAKEUP_RETURNS], 2, 1e-12, "by hand");
    check_close(first.taken[MAKEUP_CASTINGS], 0.9, 1e-12, "by hand");
    check_close(first.taken[MAKEUP_INGOT], 2.1, 1e-12, "by hand");
    check_close(first.lacking, 0, 1e-12, "by hand");
    static const double left[] = {1.9, 2.3, 0, 0, 6, 2};
    for (guint i = 0; i < G_N_ELEMENTS(left); i++)
        check_close(g_array_index(lots, Lot, i).mass, left[i], 1e-12, "by hand");
    MakeupDraw second = melt_draw(lots, "a356", FALSE, 5, most);
    check_close(second.taken[MAKEUP_RETURNS], 2, 1e-12, "by hand");
    check_close(second.taken[MAKEUP_INGOT], 1.9, 1e-12, "by hand");
    check_close(second.lacking, 1.1, 1e-12, "by hand");
    // No more ingot than its share, though there is more.
    const double little[MAKEUP_COUNT] = {[MAKEUP_INGOT] = 0.25};
    g_autoptr(GArray) ingot = lots_read("9 kg a356 ingot; 3 kg a356 returns", &units, NULL, NULL);
    MakeupDraw quarter = melt_draw(ingot, "a356", FALSE, 5, little);
    check_close(quarter.taken[MAKEUP_INGOT], 1.25, 1e-12, "by hand");
    check_close(quarter.lacking, 3.75, 1e-12, "by hand");
    double stock[MAKEUP_COUNT];
    melt_chargeable(lots, "a356", FALSE, stock);
    check_close(stock[MAKEUP_RETURNS], 0.3, 1e-12, "by hand");
    melt_chargeable(lots, "a356", TRUE, stock);
    check_close(stock[MAKEUP_RETURNS], 2.3, 1e-12, "the painted too");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/melt/makeup/loss", test_loss);
    g_test_add_func("/melt/makeup/usual", test_usual);
    g_test_add_func("/melt/makeup/any", test_any);
    g_test_add_func("/melt/makeup/ends", test_ends);
    g_test_add_func("/melt/makeup/draw", test_draw);
    return g_test_run();
}
