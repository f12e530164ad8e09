// SPDX-License-Identifier: GPL-3.0-or-later
// Chills against hand calculation.
#include "check.h"
#include "feed/chill.h"

static void
test_modulus(void)
{
    // A wide plate 20 mm thick, chilled all over one side, which counts twice: a metre squared has
    // 0.02 m3, 2 m2 of surface and 1 m2 of chill, so V/A = 0.02/3.
    FeedChilled plate = {.modulus = 0.01, .area = 2, .chilled = 1, .factor = 2};
    check_close(feed_chilled_modulus(&plate), 0.02 / 3, 1e-12, "0.02 / (2 + 1)");
    plate.factor = 1;
    check_close(feed_chilled_modulus(&plate), 0.01, 1e-12, "counts as sand");
    plate.factor = 2;
    plate.chilled = 0;
    check_close(feed_chilled_modulus(&plate), 0.01, 1e-12, "no chill");
    // A cube of 40 mm, one of six faces chilled, three times: a^3 / (6 a2 + 2 a2) = a/8.
    FeedChilled cube = {.modulus = 0.04 / 6, .area = 6 * 0.0016, .chilled = 0.0016, .factor = 3};
    check_close(feed_chilled_modulus(&cube), 0.005, 1e-12, "a/8");
}

static void
test_temperature(void)
{
    // The cube gives 3 faces' worth of 8 to the chill: 64 cm3 of 1.2 GJ/m3 times 3/8 is 28.8 kJ,
    // into 16 cm2 by 30 mm of 3.9 MJ/(m3 K), 187.2 J/K: 153.846 K.
    FeedChilled cube = {.modulus = 0.04 / 6, .area = 6 * 0.0016, .chilled = 0.0016, .factor = 3};
    check_close(feed_chill_temperature(&cube, 1.2e9, 21, 3.9e6, 0.03), 21 + 153.8461538, 1e-9,
                "28.8 kJ / 187.2 J/K");
    // Twice as thick, half as much warmer.
    check_close(feed_chill_temperature(&cube, 1.2e9, 21, 3.9e6, 0.06), 21 + 153.8461538 / 2, 1e-9,
                "28.8 kJ / 374.4 J/K");
    g_assert_cmpint(isnan(feed_chill_temperature(&cube, NAN, 21, 3.9e6, 0.03)), !=, 0);
}

// A plate with two bosses of 12 mm, 15.4 mm apart, and a third bead beside them of 1.7 mm: a chill
// 20 mm thick is fitted to the bead but not to the bosses.
static void
test_room(void)
{
    g_autoptr(SolidGrid) g = solid_grid_new(81, 81, 41, 0.0005, vec3(-0.02, -0.02, -0.005));
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                double x = fabs(g->origin.x + i * g->cell), y = g->origin.y + j * g->cell;
                double z = g->origin.z + k * g->cell;
                double plate = fmax(z, -0.004 - z);
                double boss = fmax(fmax(z - 0.012, -z), 0.0077 - x);
                double bead = fmax(fmax(z - 0.0017, -z), y);
                g->value[solid_grid_index(g, i, j, k)] = (float)fmin(plate, fmin(boss, bead));
            }
    double room = feed_chill_room(g, vec3(0, 0, 0), 1, 0.05, 0.02);
    g_assert_cmpfloat(room, <=, 0.0154 + g->cell);
    g_assert_cmpfloat(room, >=, 0.0154 - 3 * g->cell);
    check_close(feed_chill_room(g, vec3(0, 0, 0), 1, 0.011, 0.02), 0.011, 1e-12, "as wished");
    check_close(feed_chill_room(g, vec3(0, 0, -0.004), -1, 0.05, 0.02), 0.05, 1e-12,
                "nothing stands under it");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/chill/modulus", test_modulus);
    g_test_add_func("/feed/chill/temperature", test_temperature);
    g_test_add_func("/feed/chill/room", test_room);
    return g_test_run();
}
