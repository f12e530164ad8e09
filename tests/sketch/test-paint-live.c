// SPDX-License-Identifier: GPL-3.0-or-later
// What is painted live, with most of it kept from before, is the picture that painting it whole
// gives.
#include <string.h>

#include "check.h"
#include "sketch/paint-live.h"

#define WIDTH 231
#define HEIGHT 154

static Scene *
make_scene(double x, gboolean lid)
{
    Scene *scene = scene_new("Blocks");
    scene_add_rectangle(scene, ROLE_SAND_DRAG, 0, NULL, TRUE, TRUE, 0, 0, 97, 61);
    scene_add_rectangle(scene, ROLE_METAL, 2, "still", TRUE, TRUE, 7, 9, 18, 13);
    scene_add_rectangle(scene, ROLE_METAL, 2, "moved", TRUE, TRUE, x, 31, 17, 14);
    scene_add_circle(scene, ROLE_GATING, 3, "over", TRUE, TRUE, 63, 36, 8.5);
    scene_add_text(scene, ROLE_TEXT, 4, "still", 16, 15, 11, ALIGN_MIDDLE, "1");
    scene_add_text(scene, ROLE_TEXT, 4, "moved", x + 8, 38, 11, ALIGN_MIDDLE, "2");
    // Twice the same, and gone in the next.
    for (int i = 0; i < 2; i++)
        scene_add_circle(scene, ROLE_VISIBLE, 3, NULL, FALSE, TRUE, 84, 12, 5);
    if (lid)
        scene_add_circle(scene, ROLE_FAILS, 5, NULL, FALSE, TRUE, 84, 30, 4);
    return scene;
}

static cairo_surface_t *
paint_whole(const Scene *scene, const PaintView *view, int scale)
{
    cairo_surface_t *image = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, WIDTH * scale,
                                                        HEIGHT * scale);
    cairo_t *cr = cairo_create(image);
    cairo_scale(cr, scale, scale);
    paint_scene(scene, view, theme_get(THEME_LIGHT), 1, NULL, cr);
    cairo_destroy(cr);
    return image;
}

static void
check_same(PaintLive *live, const Scene *scene, const PaintView *view, int scale)
{
    cairo_surface_t *got = paint_live_image(live, scene, view, theme_get(THEME_LIGHT), WIDTH,
                                            HEIGHT, scale);
    cairo_surface_t *want = paint_whole(scene, view, scale);
    cairo_surface_flush(got);
    cairo_surface_flush(want);
    gsize size = (gsize)cairo_image_surface_get_stride(want) * HEIGHT * (gsize)scale;
    g_assert_cmpmem(cairo_image_surface_get_data(got), size, cairo_image_surface_get_data(want),
                    size);
    cairo_surface_destroy(got);
    cairo_surface_destroy(want);
}

static void
test_same_picture(void)
{
    g_autoptr(PaintLive) live = paint_live_new();
    g_autoptr(Scene) first = make_scene(33, TRUE);
    PaintView view = paint_fit(first, WIDTH, HEIGHT, 8);
    check_same(live, first, &view, 1);
    g_assert_cmpuint(paint_live_painted(live), ==, 0);
    // Past the still ones, and under the circle, which is then painted over it again.
    for (int i = 1; i < 12; i++) {
        g_autoptr(Scene) next = make_scene(33 + 2.7 * i, i < 4);
        check_same(live, next, &view, 1);
        g_assert_cmpuint(paint_live_painted(live), >, 0);
        g_assert_cmpuint(paint_live_painted(live), <, scene_shape_count(next));
    }
    // Another scale and another view: all anew.
    check_same(live, first, &view, 2);
    g_assert_cmpuint(paint_live_painted(live), ==, 0);
    view.x += 3.1;
    check_same(live, first, &view, 2);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/paint-live/same-picture", test_same_picture);
    return g_test_run();
}
