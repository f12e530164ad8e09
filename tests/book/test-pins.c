// SPDX-License-Identifier: GPL-3.0-or-later
// Pins by hand: read and refused.
#include "book/field.h"
#include "book/pins.h"
#include "check.h"

static void
test_read(void)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) pins = pins_read(" pour-3  4 h 10 min;close 450;; ram-drag-12 0,5 h; pour-3 "
                                       "4 h 11 min ;",
                                       &units, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(pins->len, ==, 3);
    const Pin *pin = (const Pin *)(gpointer)pins->data;
    g_assert_cmpstr(pin[0].key, ==, "pour-3");
    check_close(pin[0].at, 4 * 3600 + 11 * 60, 1e-12, "the later one counts");
    g_assert_cmpstr(pin[1].key, ==, "close");
    check_close(pin[1].at, 450 * 60, 1e-12, "minutes");
    g_assert_cmpstr(pin[2].key, ==, "ram-drag-12");
    check_close(pin[2].at, 1800, 1e-12, "half an hour");
    g_autoptr(GArray) none = pins_read("  ", &units, &error);
    g_assert_cmpuint(none->len, ==, 0);
}

static void
test_refused(void)
{
    UnitSet units = unit_set_default();
    static const char *const texts[][2] = {{"pour-3", "pour-3"},
                                           {"4 h", "\"4\""},
                                           {"Pour-3 4 h", "Pour-3"},
                                           {"pour-3 soon", "pour-3"},
                                           {"close 1 h; pour-3 -4 h", "pour-3"},
                                           {"close 49 h", "two days"},
                                           {"pour-3 4 kg", "pour-3"}};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_autoptr(GError) error = NULL;
        g_assert_null(pins_read(texts[i][0], &units, &error));
        check_error(error, BASE_ERROR_VALUE, texts[i][1]);
        g_assert_false(
            field_check(field_find("job.pins"), texts[i][0], &units, NULL, NULL, &error));
        check_error(error, BASE_ERROR_VALUE, texts[i][1]);
    }
    g_autoptr(GString) many = g_string_new(NULL);
    for (int i = 0; i <= PINS_MOST; i++)
        g_string_append_printf(many, "pour-%d 1 h;", i + 1);
    g_autoptr(GError) error = NULL;
    g_assert_null(pins_read(many->str, &units, &error));
    check_error(error, BASE_ERROR_LIMIT, "200");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/pins/read", test_read);
    g_test_add_func("/book/pins/refused", test_refused);
    return g_test_run();
}
