// SPDX-License-Identifier: GPL-3.0-or-later
// Melting energy against published heat contents and efficiencies; hydrogen against the table.
#include "melt/heat.h"

#include "check.h"
#include "metal/enthalpy.h"

// Aluminium from 20 to 720 C, 1144 kJ/kg over the efficiency, in kWh/kg.
static void
test_energy_per_kilogram(void)
{
    static const struct {
        double efficiency, kwh;
    } rows[] = {{0.10, 3.18}, {0.20, 1.59}, {0.30, 1.06}, {0.50, 0.64}, {0.70, 0.45}};
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    g_assert_no_error(error);
    const TableRow *al = tables_find(tables, TABLE_METALS, "al-pure");
    double heat = enthalpy_between(al, 20, 720);
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        double into = melt_power_into_metal(5000, 0, rows[i].efficiency);
        double time = melt_heat_time(heat, into);
        double kwh = melt_wall_energy(5000, 0, time, time) / 3.6e6;
        // 1 % for the heat content, half a unit of the last digit printed.
        check_close(kwh, rows[i].kwh, 0.01 + 0.005 / rows[i].kwh, "NASA TM-4513, 720 C");
    }
}

static void
test_time(void)
{
    // 3 kW, 800 W lost, 35 % of the rest: 770 W. 1.15 MJ take 24.9 min.
    check_close(melt_power_into_metal(3000, 800, 0.35), 770, 1e-12, "by hand");
    check_close(melt_heat_time(1.15e6, 770), 1493.506493506, 1e-11, "by hand");
    g_assert_true(isnan(melt_heat_time(1.15e6, melt_power_into_metal(800, 800, 0.35))));
    g_assert_true(isnan(melt_heat_time(1.15e6, melt_power_into_metal(700, 800, 0.35))));
    g_assert_true(isnan(melt_heat_time(1.15e6, NAN)));
    // 1493.5 s at 3 kW and 660 s more at 800 W.
    check_close(melt_wall_energy(3000, 800, 1493.5, 2153.5), 4480500 + 528000, 1e-12, "by hand");
}

static void
test_hydrogen(void)
{
    check_close(melt_hydrogen(700), 0.882, 6e-4, "Talbot and Anyalebechi 1988");
    check_close(melt_hydrogen(750), 1.205, 6e-4, "Talbot and Anyalebechi 1988");
    check_close(melt_hydrogen(800), 1.600, 6e-4, "Talbot and Anyalebechi 1988");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/melt/heat/energy-per-kilogram", test_energy_per_kilogram);
    g_test_add_func("/melt/heat/time", test_time);
    g_test_add_func("/melt/heat/hydrogen", test_hydrogen);
    return g_test_run();
}
