// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.h"
#include "sketch/label-box.h"

static LabelBox
box_at(double x, double y, double along, double across, double turn)
{
    return (LabelBox){{x, y}, along, across, {cos(turn), sin(turn)}};
}

// The box of a text lies about its letters, turned with it.
static void
test_of(void)
{
    BrushText text = {.x = 31, .y = 17, .turn = 0.55, .left = -12.5, .width = 41, .height = 16};
    LabelBox box = label_box_of(&text);
    check_close(box.middle.x, 31 + 8 * cos(0.55), 1e-12, "(-12.5 + 28.5) / 2 along the text");
    check_close(box.middle.y, 17 + 8 * sin(0.55), 1e-12, "(-12.5 + 28.5) / 2 along the text");
    g_assert_cmpfloat(box.along, >, 20.5);
    g_assert_cmpfloat(box.across, <, 8);
    SolidPoint corners[4];
    label_box_corners(&box, corners);
    for (int i = 0; i < 4; i++)
        check_close(hypot(corners[i].x - box.middle.x, corners[i].y - box.middle.y),
                    hypot(box.along, box.across), 1e-12, "Pythagoras");
}

// A square stood on its corner reaches r * sqrt(2) along the axes and r * sqrt(2) / 2 at 45
// degrees.
static void
test_meets(void)
{
    LabelBox square = box_at(10, 20, 5, 5, G_PI / 4);
    static const struct {
        double x, y;
        gboolean meets;
    } at[] = {{10 + 5 * G_SQRT2 + 1.9, 20, TRUE},
              {10 + 5 * G_SQRT2 + 2.1, 20, FALSE},
              {10 + 3.4 + 2, 20 + 3.4 + 2, TRUE},
              {10 + 3.7 + 2, 20 + 3.7 + 2, FALSE},
              {10, 20, TRUE}};
    for (guint i = 0; i < G_N_ELEMENTS(at); i++) {
        LabelBox other = box_at(at[i].x, at[i].y, 2, 2, 0);
        g_assert_cmpint(label_box_meets(&square, &other), ==, at[i].meets);
        g_assert_cmpint(label_box_meets(&other, &square), ==, at[i].meets);
    }
}

// Lines through a box 14 by 6 at a slant of 0.3.
static void
test_covers(void)
{
    LabelBox box = box_at(3, -2, 7, 3, 0.3);
    SolidPoint middle, u = {cos(0.3), sin(0.3)};
    SolidPoint a = {3 - 50 * u.x, -2 - 50 * u.y}, b = {3 + 2 * u.x, -2 + 2 * u.y};
    check_close(label_box_covers(&box, a, b, &middle), 9, 1e-12,
                "from its edge at -7 to the end at 2");
    check_close(middle.x, 3 - 2.5 * u.x, 1e-12, "between -7 and 2");
    SolidPoint c = {3 - 50 * u.y, -2 + 50 * u.x}, d = {3 + 50 * u.y, -2 - 50 * u.x};
    check_close(label_box_covers(&box, c, d, &middle), 6, 1e-12, "across it");
    SolidPoint e = {a.x - 3.01 * u.y, a.y + 3.01 * u.x}, f = {b.x - 3.01 * u.y, b.y + 3.01 * u.x};
    check_close(label_box_covers(&box, e, f, &middle), 0, 0, "beside it");
    check_close(label_box_covers(&box, b, b, &middle), 0, 0, "no line");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/label-box/of", test_of);
    g_test_add_func("/sketch/label-box/meets", test_meets);
    g_test_add_func("/sketch/label-box/covers", test_covers);
    return g_test_run();
}
