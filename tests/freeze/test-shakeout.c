// SPDX-License-Identifier: GPL-3.0-or-later
// Cooling to shake-out against the closed form for a well-mixed body on a half-space.
#include "check.h"
#include "freeze/shakeout.h"

static FreezeMaterials
materials(void)
{
    return (FreezeMaterials){2680, 963, 1180, 425000, 557, 613, 150, 90, 1600, 1170, 0.52, 720, 20};
}

static void
test_closed_form(void)
{
    // No latent heat to speak of: (T - T0)/(Ti - T0) = exp(h^2 t) erfc(h sqrt t), h = e/(rho c d).
    FreezeMaterials m = materials();
    m.latent = 1;
    m.cp_liquid = m.cp_solid;
    m.solidus = m.liquidus = 613;
    m.conductivity_solid = m.conductivity_liquid = 2000;
    double depth = 0.0047, e = sqrt(0.52 * 1600 * 1170), h = e / (2680 * 963 * depth);
    for (int i = 0; i < 3; i++) {
        double time = 31.7 * pow(3.3, i);
        double end = 20 + 700 * exp(h * h * time) * erfc(h * sqrt(time));
        check_close(freeze_shakeout_time(&m, depth, end, NULL, NULL), time, 0.02,
                    "Carslaw and Jaeger, perfect conductor on a half-space");
    }
}

static void
test_scale(void)
{
    // All in one dimension goes with the square of the size.
    FreezeMaterials m = materials();
    double small = freeze_shakeout_time(&m, 0.0031, 250, NULL, NULL);
    double large = freeze_shakeout_time(&m, 3 * 0.0031, 250, NULL, NULL);
    check_close(large, 9 * small, 1e-6, "similar in x^2/t");
    g_assert_cmpfloat(freeze_shakeout_time(&m, 0.0031, 400, NULL, NULL), <, small);
}

static void
test_errors(void)
{
    FreezeMaterials m = materials();
    g_autoptr(GError) error = NULL;
    g_assert_true(isnan(freeze_shakeout_time(&m, 0.0031, 20, NULL, &error)));
    check_error(error, BASE_ERROR_VALUE, "colder than the sand");
    g_assert_true(isnan(freeze_shakeout_time(&m, 0.3, 21, NULL, &error)));
    check_error(error, BASE_ERROR_VALUE, "four weeks");
    m.latent = NAN;
    g_assert_true(isnan(freeze_shakeout_time(&m, 0.0031, 250, NULL, &error)));
    check_error(error, BASE_ERROR_VALUE, "property");
    m = materials();
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_true(isnan(freeze_shakeout_time(&m, 0.0031, 250, progress, &error)));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/freeze/shakeout/closed-form", test_closed_form);
    g_test_add_func("/freeze/shakeout/scale", test_scale);
    g_test_add_func("/freeze/shakeout/errors", test_errors);
    return g_test_run();
}
