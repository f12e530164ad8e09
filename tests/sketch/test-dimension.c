// SPDX-License-Identifier: GPL-3.0-or-later
// Where the lines, arrows and texts of a dimension go (ISO 129-1).
#include "check.h"
#include "sketch/brush.h"

static BrushDimension
place(SolidPoint from, SolidPoint to, double offset, const char *text, const PaintView *view)
{
    g_autoptr(Scene) scene = scene_new("d");
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    scene_add_dimension(scene, 0, NULL, from, to, offset, text);
    BrushDimension d;
    brush_dimension_place(layout, view, theme_get(THEME_LIGHT), 1.0, 1.0, scene_shape(scene, 0),
                          &d);
    return d;
}

static const PaintView view = {4.0, 4.0, 0, 100, 800, 400, FALSE};

static void
test_level(void)
{
    BrushDimension d = place((SolidPoint){10, 20}, (SolidPoint){41.5, 20}, -7.25, "31.5", &view);
    check_close(d.length, 126.0, 1e-12, "31.5 mm at 4 units");
    check_close(d.offset, 29.0, 1e-12, "7.25 mm at 4 units");
    // To the right of the direction is down on the page.
    check_close(d.line_a.x, 40.0, 1e-12, "below the first point");
    check_close(d.line_a.y, 320.0 + 29.0, 1e-12, "below the first point");
    check_close(d.line_b.x, 166.0, 1e-12, "below the second point");
    g_assert_false(d.arrows_outside);
    g_assert_false(d.text_outside);
    check_close(d.text.turn, 0.0, 1e-12, "along the line");
    check_close(d.text.x, 103.0, 1e-12, "over the middle");
    g_assert_cmpfloat(d.text.y + d.text.height / 2.0, <, d.line_a.y); // above the line
}

// Whichever way it is measured, it reads from below or from the right.
static void
test_readable(void)
{
    const double turns[] = {0, 25, 89, 90, 91, 155, 180, 205, 269, 270, 271, 335};
    for (guint i = 0; i < G_N_ELEMENTS(turns); i++) {
        double turn = turns[i] * G_PI / 180.0;
        SolidPoint from = {60, 40};
        SolidPoint to = {60 + 37.5 * cos(turn), 40 + 37.5 * sin(turn)};
        BrushDimension d = place(from, to, 5.5, "37.5", &view);
        // Turned anticlockwise up to a right angle (reading from the right), clockwise short of it.
        g_assert_cmpfloat(d.text.turn, >=, -G_PI / 2.0 - 0.002);
        g_assert_cmpfloat(d.text.turn, <, G_PI / 2.0 - 0.0009);
        // Along the line, and off it by half its height and the lift.
        double wanted = fabs(sin(d.text.turn + turn));
        g_assert_cmpfloat(wanted, <, 1e-9);
        double middle_x = (d.line_a.x + d.line_b.x) / 2.0;
        double middle_y = (d.line_a.y + d.line_b.y) / 2.0;
        double off = hypot(d.text.x - middle_x, d.text.y - middle_y);
        check_close(off, d.text.height / 2.0 + 1.0, 1e-9, "above the line");
    }
}

static void
test_short(void)
{
    BrushDimension d = place((SolidPoint){10, 20}, (SolidPoint){14.25, 20}, 3, "4.25", &view);
    g_assert_true(d.arrows_outside);
    g_assert_false(d.text_outside); // 17 units hold most of it
    d = place((SolidPoint){10, 20}, (SolidPoint){10.75, 20}, 3, "0.75", &view);
    g_assert_true(d.text_outside);
    g_assert_cmpfloat(d.text.x + d.text.left, >, d.line_b.x);
    d = place((SolidPoint){10, 20}, (SolidPoint){10, 20}, 3, "0", &view);
    check_close(d.length, 0.0, 0.0, "no length");
    g_assert_true(isfinite(d.text.x) && isfinite(d.text.y));
}

static void
test_paint(void)
{
    g_autoptr(Scene) scene = scene_new("d");
    scene_add_dimension(scene, 0, NULL, (SolidPoint){10, 20}, (SolidPoint){41.5, 20}, -7.25,
                        "31.5");
    scene_add_dimension(scene, 0, NULL, (SolidPoint){5, 5}, (SolidPoint){5, 5}, 9, "0");
    cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
    cairo_t *cr = cairo_create(surface);
    paint_scene(scene, &view, theme_get(THEME_PAPER), 1.0, NULL, cr);
    double x, y, w, h;
    cairo_recording_surface_ink_extents(surface, &x, &y, &w, &h);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    // From just off the points to a little past the line; the one of no length leaves no ink.
    g_assert_cmpfloat(y, >, 320.0);
    g_assert_cmpfloat(y, <, 324.0);
    g_assert_cmpfloat(y + h, >, 349.0);
    g_assert_cmpfloat(y + h, <, 357.0);
    g_assert_cmpfloat(fabs(x - 40.0), <, 2.0);
    g_assert_cmpfloat(fabs(x + w - 166.0), <, 2.0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/dimension/level", test_level);
    g_test_add_func("/sketch/dimension/readable", test_readable);
    g_test_add_func("/sketch/dimension/short", test_short);
    g_test_add_func("/sketch/dimension/paint", test_paint);
    return g_test_run();
}
