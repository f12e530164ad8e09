// SPDX-License-Identifier: GPL-3.0-or-later
// The shape of every error message: file, place, what, what to do, in one line.
#include "base/error.h"

#include "check.h"

static void
test_full(void)
{
    GError *error = NULL;
    g_assert_false(base_error_set(&error, BASE_ERROR_FORMAT, "a.stl", "facet 12", "no normal",
                                  "export it again"));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_FORMAT);
    g_assert_cmpstr(error->message, ==, "a.stl: facet 12: no normal; export it again");
    check_error(error, BASE_ERROR_FORMAT, "facet 12");
    g_assert_null(error);
}

static void
test_parts_left_out(void)
{
    static const struct {
        const char *file, *place, *remedy, *message;
    } cases[] = {
        {NULL, NULL, NULL, "damaged"},
        {"b", NULL, NULL, "b: damaged"},
        {NULL, "line 3", NULL, "line 3: damaged"},
        {NULL, NULL, "try", "damaged; try"},
        {"b", NULL, "try", "b: damaged; try"},
        {"b", "line 3", NULL, "b: line 3: damaged"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GError) error = NULL;
        base_error_set(&error, BASE_ERROR_FILE, cases[i].file, cases[i].place, "damaged",
                       cases[i].remedy);
        g_assert_cmpstr(error->message, ==, cases[i].message);
    }
}

static void
test_printf(void)
{
    GError *error = NULL;
    g_assert_false(base_error_setf(&error, BASE_ERROR_LIMIT, "c.obj", NULL, "make it smaller",
                                   "%d triangles, %s", 7, "100 % too many"));
    g_assert_cmpstr(error->message, ==, "c.obj: 7 triangles, 100 % too many; make it smaller");
    check_error(error, BASE_ERROR_LIMIT, "7 triangles");
}

static void
test_nobody_asks(void)
{
    g_assert_false(base_error_set(NULL, BASE_ERROR_VALUE, NULL, NULL, "damaged", NULL));
    g_assert_false(base_error_setf(NULL, BASE_ERROR_VALUE, NULL, NULL, NULL, "%s", "damaged"));
}

// A percent sign in a file name is no format.
static void
test_percent_in_name(void)
{
    GError *error = NULL;
    base_error_setf(&error, BASE_ERROR_NOT_FOUND, "50%n%s.stl", "%d", "%s", "missing");
    g_assert_cmpstr(error->message, ==, "50%n%s.stl: %d: missing; %s");
    g_clear_error(&error);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/base/error/full", test_full);
    g_test_add_func("/base/error/parts-left-out", test_parts_left_out);
    g_test_add_func("/base/error/printf", test_printf);
    g_test_add_func("/base/error/nobody-asks", test_nobody_asks);
    g_test_add_func("/base/error/percent-in-name", test_percent_in_name);
    return g_test_run();
}
