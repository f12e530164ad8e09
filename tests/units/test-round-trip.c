// SPDX-License-Identifier: GPL-3.0-or-later
// Thousands of values of every kind in every shop: exact texts read back to the same double within
// one last place, shown texts read back to what they show, and a comma locale changes nothing.
#include <glib/gstdio.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "units/unit-table.h"

#define SHOPS 16

static UnitSet
shop(guint bits)
{
    UnitSet units = {.inches = (bits & 1) != 0,
                     .pounds = (bits & 2) != 0,
                     .fahrenheit = (bits & 4) != 0,
                     .decimal_comma = (bits & 8) != 0};
    if (bits & 1)
        strcpy(units.currency, "EUR");
    return units;
}

// A value between 1e-7 and 1e7 of the bare unit, of either sign; every third is a round one.
static double
some_value(GRand *random, QuantityKind kind, const UnitSet *units)
{
    double size = pow(10.0, g_rand_double_range(random, -7.0, 7.0));
    double number = g_rand_double_range(random, 1.0, 10.0) * size;
    if (g_rand_int_range(random, 0, 3) == 0)
        number = g_rand_int_range(random, 1, 100000) / 1000.0;
    if (kind == QUANTITY_COUNT)
        return floor(number);
    if (g_rand_int_range(random, 0, 4) == 0)
        number = -number;
    const UnitsRung *rung = units_rung_bare(kind, units);
    return rung ? units_to_si(units_find(kind, rung->shown), number) : number;
}

static double
read_back(QuantityKind kind, const char *text, const UnitSet *units)
{
    g_autoptr(GError) error = NULL;
    double si = NAN;
    if (!quantity_parse(kind, text, units, &si, &error))
        g_error("kind %d \"%s\": %s", kind, text, error->message);
    return si;
}

// Seeded, so that the values are the same everywhere and in each locale.
static void
for_each_value(guint32 seed, guint each,
               void (*check)(QuantityKind, double, const UnitSet *, gpointer), gpointer data)
{
    g_autoptr(GRand) random = g_rand_new_with_seed(seed);
    for (guint bits = 0; bits < SHOPS; bits++) {
        UnitSet units = shop(bits);
        for (int kind = 0; kind < QUANTITY_TEXT; kind++)
            for (guint i = 0; i < each; i++)
                check(kind, some_value(random, kind, &units), &units, data);
    }
}

static void
check_exact(QuantityKind kind, double si, const UnitSet *units, gpointer data)
{
    g_autofree char *text = quantity_format_exact(kind, si, units);
    double back = read_back(kind, text, units);
    if (back != si && back != nextafter(si, INFINITY) && back != nextafter(si, -INFINITY))
        g_error("kind %d: %.17g became \"%s\" and %.17g", kind, si, text, back);
    ++*(guint *)data;
}

static void
test_exact(void)
{
    guint count = 0;
    for_each_value(20311u, 40, check_exact, &count);
    g_assert_cmpuint(count, ==, SHOPS * QUANTITY_TEXT * 40);
}

// Shown with three figures or more, so within half a unit of the third: 0.5 %; a time to half a
// minute. Where decimals are limited (lengths, money) the text must be readable, no more.
static void
check_shown(QuantityKind kind, double si, const UnitSet *units, gpointer data)
{
    UnitSet point = *units;
    point.decimal_comma = FALSE; // "0,750 in" is for reading by people only
    g_autofree char *text = quantity_format(kind, si, &point);
    double back = read_back(kind, text, &point);
    const UnitsRung *rung = units_rung_for(kind, si, &point);
    double allowed = INFINITY;
    if (kind == QUANTITY_TIME)
        allowed = MAX(30.0, 0.005 * fabs(si)) * (1.0 + 1e-9);
    else if (rung->most >= 9)
        allowed = 0.005001 * fabs(si);
    else if (rung->figures >= 3 && kind != QUANTITY_TEMPERATURE)
        allowed = MAX(0.005001 * fabs(si),
                      units_to_si(units_find(kind, rung->shown), 0.501 * pow(10, -rung->most)));
    if (!(fabs(back - si) <= allowed))
        g_error("kind %d: %.17g shown as \"%s\"", kind, si, text);
}

static void
test_shown(void)
{
    for_each_value(5303u, 200, check_shown, NULL);
}

static void
add_texts(QuantityKind kind, double si, const UnitSet *units, gpointer data)
{
    g_autofree char *text = quantity_format(kind, si, units);
    g_autofree char *exact = quantity_format_exact(kind, si, units);
    double back = read_back(kind, exact, units);
    g_string_append_printf(data, "%s|%s|%" G_GINT64_MODIFIER "x\n", text, exact,
                           *(guint64 *)memcpy(&(guint64){0}, &back, sizeof back));
}

// A comma locale, made for the occasion where the system has the means but not the locale.
static gboolean
enter_comma_locale(const char *folder)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "fr_FR.utf8"};
    for (guint i = 0; i < G_N_ELEMENTS(names); i++)
        if (setlocale(LC_ALL, names[i]))
            return TRUE;
    g_autofree char *program = g_find_program_in_path("localedef");
    g_autofree char *path = g_build_filename(folder, "de_DE.UTF-8", NULL);
    const char *argv[] = {program, "-i", "de_DE", "-f", "UTF-8", path, NULL};
    if (!program || !g_spawn_sync(NULL, (char **)argv, NULL,
                                  G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                                  NULL, NULL, NULL, NULL, NULL))
        return FALSE;
    g_setenv("LOCPATH", folder, TRUE);
    return setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
}

static void
test_comma_locale(void)
{
    g_autoptr(GString) before = g_string_new(NULL);
    g_autoptr(GString) after = g_string_new(NULL);
    g_autofree char *folder = check_folder();
    setlocale(LC_ALL, "C");
    for_each_value(77u, 3, add_texts, before);
    gboolean entered = enter_comma_locale(folder);
    if (entered) {
        g_assert_cmpstr(localeconv()->decimal_point, ==, ",");
        for_each_value(77u, 3, add_texts, after);
        setlocale(LC_ALL, "C");
        g_assert_cmpstr(before->str, ==, after->str);
    } else {
        g_test_skip("no locale with a decimal comma is installed");
    }
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/units/round-trip/exact", test_exact);
    g_test_add_func("/units/round-trip/shown", test_shown);
    g_test_add_func("/units/round-trip/comma-locale", test_comma_locale);
    return g_test_run();
}
