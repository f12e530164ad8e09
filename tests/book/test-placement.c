// SPDX-License-Identifier: GPL-3.0-or-later
// Placements by hand: read, written, refused.
#include "book/field.h"
#include "book/placement.h"
#include "check.h"

static void
test_read(void)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) spots = placement_read(
        " -82,5 mm, 40.25 mm, 90 deg; 3 1/4 in, -2, 15 locked ;; 7 mm, 8 mm", &units, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(spots->len, ==, 3);
    const PlacementSpot *s = (const PlacementSpot *)spots->data;
    check_close(s[0].x, -0.0825, 1e-12, "mm");
    check_close(s[0].y, 0.04025, 1e-12, "mm");
    check_close(s[0].turn, G_PI / 2, 1e-12, "deg");
    g_assert_false(s[0].locked);
    check_close(s[1].x, 3.25 * 0.0254, 1e-12, "in");
    check_close(s[1].y, -0.002, 1e-12, "the shop's unit");
    check_close(s[1].turn, G_PI / 12, 1e-12, "deg");
    g_assert_true(s[1].locked);
    check_close(s[2].turn, 0, 1e-12, "left out");
    g_autoptr(GArray) none = placement_read("  ", &units, &error);
    g_assert_cmpuint(none->len, ==, 0);
}

static void
test_write(void)
{
    const PlacementSpot spots[2] = {{-0.0825, 0.1037217, 0.3141592654, TRUE},
                                    {0, 0.013, -7, FALSE}};
    UnitSet units = unit_set_default();
    g_autofree char *text = placement_write(spots, 2, &units);
    g_assert_cmpstr(text, ==, "-82.5 mm, 103.722 mm, 18 deg locked; 0 mm, 13 mm, -401.07 deg");
    for (int inches = 0; inches < 2; inches++) {
        units.inches = inches;
        units.decimal_comma = inches;
        g_autofree char *again = placement_write(spots, 2, &units);
        g_autoptr(GArray) read = placement_read(again, &units, NULL);
        g_assert_cmpuint(read->len, ==, 2);
        for (guint i = 0; i < 2; i++) {
            const PlacementSpot *s = &g_array_index(read, PlacementSpot, i);
            g_assert_cmpfloat(fabs(s->x - spots[i].x), <, 1e-6);
            g_assert_cmpfloat(fabs(s->y - spots[i].y), <, 1e-6);
            g_assert_cmpfloat(fabs(s->turn - spots[i].turn), <, 2e-5);
            g_assert_cmpint(s->locked, ==, spots[i].locked);
        }
    }
}

static void
test_rest(void)
{
    UnitSet units = unit_set_default();
    const char *text = "-82.5 mm, 40 mm, 90 deg locked; 13 mm, 7 mm; rest   auto";
    g_assert_true(placement_rest(text));
    g_assert_false(placement_rest("-82 mm, 40 mm, 90 deg locked; 13 mm, 7 mm"));
    g_assert_false(placement_rest(""));
    g_assert_true(placement_rest("rest auto"));
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) spots = placement_read(text, &units, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(spots->len, ==, 2);
    g_assert_nonnull(placement_locked_at(spots, -0.0825, 0.04));
    g_assert_null(placement_locked_at(spots, 0.013, 0.007)); // it is not locked
    g_assert_null(placement_locked_at(spots, -0.0825, 0.0401));
    g_autofree char *again = placement_write_rest((PlacementSpot *)(gpointer)spots->data, 2,
                                                  &units);
    g_assert_cmpstr(again, ==, "-82.5 mm, 40 mm, 90 deg locked; 13 mm, 7 mm, 0 deg; rest auto");
    g_autofree char *none = placement_write_rest(NULL, 0, &units);
    g_assert_cmpstr(none, ==, "rest auto");
    g_assert_null(placement_read("rest by hand", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "cavity 1");
    error = NULL;
}

static void
test_refuse(void)
{
    UnitSet units = unit_set_default();
    GError *error = NULL;
    g_assert_null(placement_read("1 mm, 2 mm; 7 mm", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "cavity 2");
    g_assert_null(placement_read("1 mm, 2 mm, 3 deg, 4 mm", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "x, y and turn");
    g_assert_null(placement_read("1 mm, up, 3 deg", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "cavity 1");
    g_assert_null(placement_read("1 mm, 2 kg", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "cavity 1");
    g_assert_null(placement_read("1 mm, 20000 m", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "too far");
    g_autoptr(GString) many = g_string_new(NULL);
    for (int i = 0; i <= PLACEMENT_MOST; i++)
        g_string_append(many, "1 mm, 2 mm; ");
    g_assert_null(placement_read(many->str, &units, &error));
    check_error(error, BASE_ERROR_LIMIT, "more than 200");
    const Field *field = field_find("job.placement");
    g_assert_true(field_check(field, "1 mm, 2 mm, 3 deg locked", &units, NULL, NULL, NULL));
    g_assert_false(field_check(field, "here and there", &units, NULL, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "cavity 1");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/placement/read", test_read);
    g_test_add_func("/book/placement/write", test_write);
    g_test_add_func("/book/placement/rest", test_rest);
    g_test_add_func("/book/placement/refuse", test_refuse);
    return g_test_run();
}
