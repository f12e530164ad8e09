// SPDX-License-Identifier: GPL-3.0-or-later
// Texts shortened to their room, kept in sight, and shrunk with a small view.
#include <string.h>

#include "check.h"
#include "sketch/brush.h"

static gboolean
place(const Shape *style, const PaintView *view, double unit, BrushText *text, gboolean *shortened)
{
    g_autoptr(Scene) scene = scene_new("t");
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    scene_add_styled_text(scene, ROLE_TEXT, 0, NULL, 12.5, 7.25, style, "Shake out flask 11");
    gboolean shown = brush_text_place(layout, view, theme_get(THEME_LIGHT), unit,
                                      scene_shape(scene, 0), text);
    *shortened = pango_layout_is_ellipsized(layout);
    return shown;
}

static const PaintView view = {3.0, 2.0, 0, 0, 900, 300, TRUE};

static void
test_room(void)
{
    BrushText text, whole;
    gboolean shortened;
    Shape style = {.size = 10, .align = ALIGN_MIDDLE};
    g_assert_true(place(&style, &view, 1.0, &whole, &shortened));
    g_assert_false(shortened);
    check_close(whole.left, -whole.width / 2.0, 1e-12, "middle");
    style.room_x = (whole.width + 1.0) / 3.0;
    g_assert_true(place(&style, &view, 1.0, &text, &shortened));
    g_assert_false(shortened);
    style.room_x = (whole.width - 8.0) / 3.0;
    g_assert_true(place(&style, &view, 1.0, &text, &shortened));
    g_assert_true(shortened);
    g_assert_cmpfloat(text.width, <=, whole.width - 8.0);
    style.room_x = 40.0 / 3.0; // too little to be worth reading
    g_assert_false(place(&style, &view, 1.0, &text, &shortened));
    style.room_x = 0;
    style.room_y = 4.9; // 9.8 units for a size of 10
    g_assert_false(place(&style, &view, 1.0, &text, &shortened));
    style.room_y = 5.1;
    g_assert_true(place(&style, &view, 1.0, &text, &shortened));
    g_assert_false(place(&style, &view, 1.3, &text, &shortened));
}

static void
test_pinned(void)
{
    BrushText text;
    gboolean shortened;
    Shape style = {.size = 10, .align = ALIGN_END, .pinned = TRUE};
    PaintView scrolled = view;
    scrolled.x = -60.0; // anchor at 217.5, room for the text before it
    g_assert_true(place(&style, &scrolled, 1.0, &text, &shortened));
    check_close(text.x, 217.5, 1e-12, "where it belongs");
    g_assert_cmpfloat(text.left + text.width, <, 0.0);
    scrolled.x = 200.0; // the anchor is out of sight on the left
    g_assert_true(place(&style, &scrolled, 1.0, &text, &shortened));
    check_close(text.x + text.left, 6.0, 1e-12, "at the left edge");
}

static void
test_scale(void)
{
    g_autoptr(Scene) scene = scene_new("t");
    PaintView any = {1.7, 1.7, 0, 0, 100, 100, FALSE};
    check_close(brush_text_scale(scene, &any, 1.0), 1.0, 0.0, "no grain, no shrinking");
    scene_set_grain(scene, 2.5);
    any.scale_x = any.scale_y = SCENE_GRAIN_PX / 2.5;
    check_close(brush_text_scale(scene, &any, 1.0), 1.0, 1e-12, "as laid out");
    any.scale_x = any.scale_y *= 0.375;
    check_close(brush_text_scale(scene, &any, 1.0), 0.375, 1e-12, "in proportion");
    check_close(brush_text_scale(scene, &any, 0.75), 0.5, 1e-12, "of the unit");
    check_close(brush_line_scale(scene, &any, 1.0), 0.55, 1e-12, "lines shrink less");
    any.scale_x = any.scale_y = 40.0;
    check_close(brush_text_scale(scene, &any, 1.0), 1.25, 1e-12, "grows by a quarter at most");
    check_close(brush_line_scale(scene, &any, 1.0), 1.0, 1e-12, "lines never grow");
}

static void
test_contains(void)
{
    BrushText text = {
        .x = 50, .y = 80, .turn = -G_PI / 2.0, .left = -20, .width = 40, .height = 12};
    g_assert_true(brush_text_contains(&text, 50, 62, 0)); // turned: along the page's height
    g_assert_false(brush_text_contains(&text, 50, 59, 0));
    g_assert_true(brush_text_contains(&text, 50, 59, 2));
    g_assert_true(brush_text_contains(&text, 55.5, 80, 0));
    g_assert_false(brush_text_contains(&text, 57, 80, 0));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/text/room", test_room);
    g_test_add_func("/sketch/text/pinned", test_pinned);
    g_test_add_func("/sketch/text/scale", test_scale);
    g_test_add_func("/sketch/text/contains", test_contains);
    return g_test_run();
}
