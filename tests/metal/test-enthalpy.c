// SPDX-License-Identifier: GPL-3.0-or-later
// Heat content against the NASA and NIST functions, densities against Assael's equation.
#include "metal/enthalpy.h"

#include "check.h"
#include "metal/row.h"

static Tables *tables;

static const TableRow *
get_metal(const char *id)
{
    const TableRow *row = tables_find(tables, TABLE_METALS, id);
    g_assert_nonnull(row);
    return row;
}

// H(T) - H(298.15 K, solid) of aluminium in kJ/kg, T in K: NASA's seven coefficients, an equation
// of another form and origin, and the Shomate values worked out apart from this program.
static void
test_aluminium_heat_content(void)
{
    static const struct {
        double kelvin, nasa, shomate;
    } rows[] = {{500, 192.57, 192.20},      {700, 400.10, 399.15},      {900, 630.86, 626.02},
                {933.45, 672.57, 666.47},   {933.51, 1069.16, 1063.41}, {1023.15, 1174.71, 1168.96},
                {1073.15, 1233.54, 1227.80}};
    const TableRow *al = get_metal("al-pure");
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        double heat = enthalpy_between(al, 25.0, rows[i].kelvin - 273.15) / 1e3;
        check_close(heat, rows[i].nasa, 0.01, "NASA TM-4513, evaluated with 30 digits");
        check_close(heat, rows[i].shomate, 1.5e-4, "NIST Shomate, evaluated with 30 digits");
    }
    // From 20 to 700, 720 and 750 C.
    check_close(enthalpy_between(al, 20, 700), 1120.3e3, 0.01, "NASA TM-4513");
    check_close(enthalpy_between(al, 20, 720), 1143.9e3, 0.01, "NASA TM-4513");
    check_close(enthalpy_between(al, 20, 750) / 3.6e6, 0.32755, 0.01, "NASA TM-4513, kWh/kg");
}

static void
test_aluminium_fusion_and_cp(void)
{
    const TableRow *al = get_metal("al-pure");
    // Just below and above the melting point; the heat in 2e-6 K is nothing.
    double fusion = enthalpy_between(al, 660.32 - 1e-6, 660.32 + 1e-6);
    check_close(fusion, 396567, 0.002, "NASA TM-4513, 10700.0 J/mol at 933.61 K");
    check_close(fusion, 396932, 5e-4, "NIST Shomate, 10709.8 J/mol at 933.45 K");
    double cp = enthalpy_between(al, 25.0 - 0.05, 25.0 + 0.05) / 0.1;
    check_close(cp, 896.9, 0.001, "NASA TM-4513 at 298.15 K");
    check_close(cp, 897.1, 1e-4, "NIST Shomate at 298.15 K");
    check_close(enthalpy_between(al, 700.0, 701.0), 1176.7, 1e-4, "NASA TM-4513, liquid");
    check_close(table_row_value(al, "cp_solid"), cp, 1e-4, "the row beside the equation");
    check_close(table_row_value(al, "latent_heat"), fusion, 5e-4, "the row beside the equation");
}

static void
test_copper(void)
{
    const TableRow *cu = get_metal("copper");
    double cp = enthalpy_between(cu, 24.5, 25.5);
    check_close(cp, 385.08, 1e-4, "NIST Shomate at 298.15 K");
    double fusion = enthalpy_between(cu, 1084.62 - 1e-6, 1084.62 + 1e-6);
    check_close(fusion, 208.7e3, 1e-6, "latent heat of the row");
    check_close(enthalpy_between(cu, 1100, 1150) / 50, 32.84450 / 63.546e-3, 1e-9,
                "NIST Shomate, liquid, constant");
    // Simpson's rule on cp(T) written out here, solid from 20 to 1000 C.
    double sum = 0;
    const int n = 400;
    for (int i = 0; i <= n; i++) {
        double t = (293.15 + 980.0 * i / n) / 1000;
        double value = 17.72891 + 28.09870 * t - 31.25289 * t * t + 13.97243 * t * t * t +
                       0.068611 / (t * t);
        sum += value * (i == 0 || i == n ? 1 : i % 2 ? 4 : 2);
    }
    check_close(enthalpy_between(cu, 20, 1000), sum * (980.0 / n / 3) / 63.546e-3, 1e-8,
                "Simpson's rule on the published cp");
}

static void
test_alloy(void)
{
    const TableRow *a356 = get_metal("a356");
    // By hand: 963 to the solidus at 557, 425 kJ/kg and the mean of 963 and 1194 over 56 K, 1194
    // above 613.
    double hand = 963.0 * (557 - 21.5) + 425e3 + (963.0 + 1194.0) / 2 * 56 + 1194.0 * (724.3 - 613);
    check_close(enthalpy_between(a356, 21.5, 724.3), hand, 1e-12, "by hand");
    check_close(enthalpy_between(a356, 724.3, 21.5), -hand, 1e-12, "by hand, given off");
    // A path cut anywhere sums to the whole.
    static const double cuts[] = {-12.5, 333.3, 557.0, 571.77, 612.9, 613.0, 900.1};
    for (guint i = 0; i < G_N_ELEMENTS(cuts); i++)
        check_close(enthalpy_between(a356, 21.5, cuts[i]) + enthalpy_between(a356, cuts[i], 724.3),
                    hand, 1e-12, "heat content is a function of state");
    // An Al-Si alloy needs about what pure aluminium does.
    check_close(enthalpy_between(a356, 20, 720), enthalpy_between(get_metal("al-pure"), 20, 720),
                0.06, "NASA TM-4513 for the pure metal");
}

static void
test_every_metal(void)
{
    for (guint i = 0; i < tables_size(tables, TABLE_METALS); i++) {
        const TableRow *row = tables_at(tables, TABLE_METALS, i);
        double last = 0;
        for (double to = 27.5; to < 1300; to += 27.5) {
            double heat = enthalpy_between(row, 0.0, to);
            g_assert_cmpfloat(heat, >, last);
            last = heat;
        }
        double pouring = table_row_value(row, "pouring_temperature");
        double density = density_of_liquid(row, pouring);
        g_assert_cmpfloat(density, <, table_row_value(row, "density_liquid"));
        g_assert_cmpfloat(density, >, 0.9 * table_row_value(row, "density_liquid"));
    }
}

static void
test_liquid_density(void)
{
    const TableRow *al = get_metal("al-pure");
    check_close(density_of_liquid(al, 660.32), 2377.23, 1e-6, "Assael 2006");
    check_close(density_of_liquid(al, 700), 2364.89, 2e-6, "Assael 2006");
    check_close(density_of_liquid(al, 720), 2358.67, 2e-6, "Assael 2006");
    check_close(density_of_liquid(al, 750), 2349.34, 2e-6, "Assael 2006");
    check_close(density_of_liquid(al, 800), 2333.79, 2e-6, "Assael 2006");
    g_assert_true(isnan(density_of_liquid(al, 600)));
    g_assert_true(isnan(density_of_liquid(al, NAN)));
}

static void
test_solid_fraction(void)
{
    const TableRow *a356 = get_metal("a356");
    check_close(solid_fraction(a356, 20), 1.0, 1e-15, "definition");
    check_close(solid_fraction(a356, 557), 1.0, 1e-15, "definition");
    check_close(solid_fraction(a356, 571), 0.75, 1e-12, "by hand: 42 of 56 K");
    check_close(solid_fraction(a356, 613), 0.0, 1e-15, "definition");
    const TableRow *al = get_metal("al-pure");
    check_close(solid_fraction(al, 660.32), 1.0, 1e-15, "definition");
    check_close(solid_fraction(al, 660.33), 0.0, 1e-15, "definition");
    g_assert_true(isnan(solid_fraction(al, NAN)));
}

static void
test_missing_properties(void)
{
    static const char json[] =
        "{\"format\":1,\"rows\":[{\"id\":\"x\",\"name\":\"X\",\"family\":\"x\",\"cautions\":[],"
        "\"values\":{"
        "\"solidus\":{\"value\":503.5,\"unit\":\"C\",\"source\":\"user\",\"confidence\":"
        "\"from-memory\"},"
        "\"liquidus\":{\"value\":551.5,\"unit\":\"C\",\"source\":\"user\",\"confidence\":"
        "\"from-memory\"},"
        "\"density_solid\":{\"value\":2715,\"unit\":\"kg/m3\",\"source\":\"user\",\"confidence\":"
        "\"from-memory\"},"
        "\"density_liquid\":{\"value\":2415,\"unit\":\"kg/m3\",\"source\":\"user\",\"confidence\":"
        "\"from-memory\"},"
        "\"cp_solid\":{\"value\":911,\"unit\":\"J/kgK\",\"source\":\"user\",\"confidence\":"
        "\"from-memory\"}}}]}";
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) rows = table_rows_parse(TABLE_METALS, "x.json", json, -1, &error);
    g_assert_no_error(error);
    const TableRow *row = g_ptr_array_index(rows, 0);
    check_close(enthalpy_between(row, 17, 117), 91100, 1e-12, "by hand, within the solid");
    g_assert_true(isnan(enthalpy_between(row, 17, 600)));
    g_assert_true(isnan(enthalpy_between(row, 17, 530)));
    g_assert_true(isnan(enthalpy_between(row, NAN, 30)));
    g_assert_true(isnan(enthalpy_between(row, 17, INFINITY)));
    g_assert_true(isnan(enthalpy_between(row, -300, 17)));
    g_assert_true(isnan(density_of_liquid(row, 600))); // no slope
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    tables = tables_load(&error);
    g_assert_no_error(error);
    g_test_add_func("/metal/enthalpy/aluminium", test_aluminium_heat_content);
    g_test_add_func("/metal/enthalpy/fusion", test_aluminium_fusion_and_cp);
    g_test_add_func("/metal/enthalpy/copper", test_copper);
    g_test_add_func("/metal/enthalpy/alloy", test_alloy);
    g_test_add_func("/metal/enthalpy/every-metal", test_every_metal);
    g_test_add_func("/metal/enthalpy/liquid-density", test_liquid_density);
    g_test_add_func("/metal/enthalpy/solid-fraction", test_solid_fraction);
    g_test_add_func("/metal/enthalpy/missing", test_missing_properties);
    int status = g_test_run();
    tables_free(tables);
    return status;
}
