// SPDX-License-Identifier: GPL-3.0-or-later
// Sand of a flask, by hand.
#include "check.h"
#include "mould/sand.h"

static void
test_by_hand(void)
{
    check_close(mould_sand_mass(0.3 * 0.2 * 0.16, 0.00057, 1550), 13.9965, 1e-12,
                "9.6 l less 0.57 l at 1.55 kg/l");
    check_close(mould_sand_boxes(13.9965, 4.7), 3, 1e-12, "2.98, whole ones");
    check_close(mould_sand_over(0.0553, 0.03), 0.0253, 1e-12, "what is more");
    g_assert_cmpfloat(mould_sand_over(0.023, 0.03), ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/sand/by-hand", test_by_hand);
    return g_test_run();
}
