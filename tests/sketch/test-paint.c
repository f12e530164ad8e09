// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.h"
#include "sketch/paint.h"

static const double sizes[][2] = {{913, 617}, {331, 1203}, {1611, 207}, {64, 48}, {3, 2}};

static Scene *
make_drawing(void)
{
    Scene *scene = scene_new("drawing");
    scene_set_grain(scene, 2.31);
    scene_add_rectangle(scene, ROLE_SAND_COPE, 0, NULL, TRUE, TRUE, -115.5, -71.3, 231.0, 142.6);
    scene_add_circle(scene, ROLE_RISER, 1, "riser-1", TRUE, TRUE, 31.7, 12.9, 17.3);
    scene_add_dimension(scene, 2, NULL, (SolidPoint){-115.5, -71.3}, (SolidPoint){115.5, -71.3},
                        -21.5, "231");
    scene_add_text(scene, ROLE_TEXT, 3, NULL, -115.5, 83.1, 15, ALIGN_END,
                   "to the left of the box");
    return scene;
}

static Scene *
make_chart(void)
{
    Scene *scene = scene_new("chart");
    scene_set_axes(scene, TRUE, TRUE);
    scene_add_rectangle(scene, ROLE_MELT, 0, "task-1", TRUE, TRUE, 0, 3.5, 217.5, 9);
    Shape style = {.size = 11, .align = ALIGN_END, .pinned = TRUE};
    scene_add_styled_text(scene, ROLE_TEXT, 1, NULL, 0, 8, &style, "Furnace");
    return scene;
}

static void
test_round_trip(void)
{
    PaintView views[] = {{3.7, 3.7, -12.25, 41.5, 640, 480, FALSE},
                         {0.013, 211.0, 7.75, -3.5, 640, 480, TRUE}};
    for (guint i = 0; i < G_N_ELEMENTS(views); i++) {
        double dx, dy, x, y;
        paint_to_device(&views[i], views[i].x, views[i].y, &dx, &dy);
        check_close(dx, 0.0, 1e-12, "the corner is the origin");
        check_close(dy, 0.0, 1e-12, "the corner is the origin");
        paint_to_device(&views[i], 1.375, 2.625, &dx, &dy);
        paint_to_scene(&views[i], dx, dy, &x, &y);
        check_close(x, 1.375, 1e-12, "there and back");
        check_close(y, 2.625, 1e-12, "there and back");
    }
    double up, down;
    paint_to_device(&views[0], 0, 40, &up, &down);
    g_assert_cmpfloat(down, >, 0.0); // lower in the scene is lower on the surface
}

// What cairo says was inked lies on the page.
static void
check_ink(const Scene *scene, double width, double height)
{
    PaintView view = paint_fit(scene, width, height, 7.5);
    cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
    cairo_t *cr = cairo_create(surface);
    paint_scene(scene, &view, theme_get(THEME_LIGHT), 1.0, NULL, cr);
    g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
    cairo_destroy(cr);
    double x, y, w, h;
    cairo_recording_surface_ink_extents(surface, &x, &y, &w, &h);
    cairo_surface_destroy(surface);
    g_assert_cmpfloat(x, >=, 0.0);
    g_assert_cmpfloat(y, >=, 0.0);
    g_assert_cmpfloat(x + w, <=, width);
    g_assert_cmpfloat(y + h, <=, height);
}

static void
test_fit(void)
{
    g_autoptr(Scene) drawing = make_drawing();
    g_autoptr(Scene) chart = make_chart();
    for (guint i = 0; i < 3; i++) {
        check_ink(drawing, sizes[i][0], sizes[i][1]);
        check_ink(chart, sizes[i][0], sizes[i][1]);
    }
    PaintView view = paint_fit(drawing, 913, 617, 7.5);
    check_close(view.scale_x, view.scale_y, 1e-12, "one scale");
    view = paint_fit(chart, 913, 617, 7.5);
    // Across: the page less margins and the gutter; down: the page less margins and no text.
    check_close(view.scale_y, (617 - 15) / 9.0, 1e-9, "height over box");
    g_assert_cmpfloat(view.scale_x, <, (913 - 15) / 217.5);
    g_assert_cmpfloat(view.scale_x, >, (913 - 15 - 90) / 217.5);
}

static void
test_odd_sizes(void)
{
    Scene *scenes[] = {make_drawing(), make_chart(), scene_new("empty")};
    for (guint s = 0; s < G_N_ELEMENTS(scenes); s++) {
        for (guint i = 0; i < G_N_ELEMENTS(sizes); i++) {
            PaintView view = paint_fit(scenes[s], sizes[i][0], sizes[i][1], 18);
            g_assert_cmpfloat(view.scale_x, >, 0.0);
            g_assert_cmpfloat(view.scale_y, >, 0.0);
            cairo_surface_t *surface = cairo_image_surface_create(
                CAIRO_FORMAT_ARGB32, (int)sizes[i][0], (int)sizes[i][1]);
            cairo_t *cr = cairo_create(surface);
            for (double zoom = 1.0; zoom < 2e4; zoom *= 37.0) {
                PaintView near = view;
                near.scale_x *= zoom;
                near.scale_y *= zoom;
                paint_scene(scenes[s], &near, theme_get(THEME_DARK), 1.0, NULL, cr);
                paint_scene(scenes[s], &near, theme_get(THEME_DARK), 1.0, "riser-1", cr);
            }
            g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
            cairo_destroy(cr);
            cairo_surface_destroy(surface);
        }
        scene_unref(scenes[s]);
    }
}

static void
test_only(void)
{
    g_autoptr(Scene) scene = make_drawing();
    PaintView view = paint_fit(scene, 800, 600, 10);
    cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
    cairo_t *cr = cairo_create(surface);
    paint_scene(scene, &view, theme_get(THEME_LIGHT), 1.0, "riser-1", cr);
    cairo_destroy(cr);
    double x, y, w, h, dx, dy;
    cairo_recording_surface_ink_extents(surface, &x, &y, &w, &h);
    cairo_surface_destroy(surface);
    paint_to_device(&view, 31.7 - 17.3, 12.9 + 17.3, &dx, &dy);
    g_assert_cmpfloat(fabs(x - dx), <, 3.0);
    g_assert_cmpfloat(fabs(y - dy), <, 3.0);
    g_assert_cmpfloat(fabs(w - 2 * 17.3 * view.scale_x), <, 6.0);
}

// A hole stays open: nothing is painted in it, by fill or by hatching.
static void
test_hole(void)
{
    SolidPoint points[] = {{0.01, 0.01}, {0.09, 0.01}, {0.09, 0.07}, {0.01, 0.07},
                           {0.04, 0.03}, {0.04, 0.05}, {0.07, 0.05}, {0.07, 0.03}};
    guint starts[] = {0, 4, 8};
    SolidOutline outline = {points, 8, starts, 2};
    g_autoptr(Scene) scene = scene_new("hole");
    scene_add_outline(scene, ROLE_METAL, 0, NULL, TRUE, TRUE, &outline, 0, 0, 0);
    PaintView view = {2.0, 2.0, 0, 80, 200, 160, FALSE};
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 200, 160);
    cairo_t *cr = cairo_create(surface);
    paint_scene(scene, &view, theme_get(THEME_LIGHT), 1.0, NULL, cr);
    cairo_destroy(cr);
    cairo_surface_flush(surface);
    const guint32 *pixels = (const guint32 *)(const void *)cairo_image_surface_get_data(surface);
    int stride = cairo_image_surface_get_stride(surface) / 4;
    for (int y = 64; y <= 96; y += 4)
        for (int x = 84; x <= 136; x += 4)
            g_assert_cmphex(pixels[y * stride + x], ==, 0);
    g_assert_cmphex(pixels[80 * stride + 50] >> 24, ==, 0xff); // metal beside it
    cairo_surface_destroy(surface);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/paint/round-trip", test_round_trip);
    g_test_add_func("/sketch/paint/fit", test_fit);
    g_test_add_func("/sketch/paint/odd-sizes", test_odd_sizes);
    g_test_add_func("/sketch/paint/hole", test_hole);
    g_test_add_func("/sketch/paint/only", test_only);
    return g_test_run();
}
