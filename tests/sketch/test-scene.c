// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.h"
#include "sketch/scene.h"

static void
test_order(void)
{
    g_autoptr(Scene) scene = scene_new("Odd");
    scene_add_circle(scene, ROLE_METAL, 7, "b", TRUE, TRUE, 1.5, 2.5, 0.75);
    scene_add_circle(scene, ROLE_GATING, -3, "a", TRUE, TRUE, 1.5, 2.5, 0.75);
    scene_add_circle(scene, ROLE_RISER, 7, "c", TRUE, TRUE, 1.5, 2.5, 0.75);
    scene_add_circle(scene, ROLE_TAB, 0, NULL, TRUE, TRUE, 1.5, 2.5, 0.75);
    static const SceneRole expected[] = {ROLE_GATING, ROLE_TAB, ROLE_METAL, ROLE_RISER};
    g_assert_cmpuint(scene_shape_count(scene), ==, G_N_ELEMENTS(expected));
    for (guint i = 0; i < G_N_ELEMENTS(expected); i++)
        g_assert_cmpint(scene_shape(scene, i)->role, ==, expected[i]);
    g_assert_cmpstr(scene_title(scene), ==, "Odd");
}

static void
test_boxes(void)
{
    g_autoptr(Scene) scene = scene_new(NULL);
    SolidPoint min, max;
    scene_box(scene, &min, &max);
    check_close(max.x - min.x, 0.0, 0.0, "an empty scene has no size");
    scene_add_rectangle(scene, ROLE_METAL, 1, "late", TRUE, TRUE, -3.25, 1.5, 2.5, 4.125);
    scene_add_part(scene, "late", "Late", "added after its shape", "mould.yield");
    scene_add_part(scene, "early", "Early", NULL, NULL);
    scene_add_circle(scene, ROLE_RISER, 2, "early", TRUE, FALSE, 7.375, -2.25, 1.625);
    const ScenePart *late = scene_find_part(scene, "late");
    const ScenePart *early = scene_find_part(scene, "early");
    g_assert_nonnull(late);
    g_assert_nonnull(early);
    check_close(late->min.x, -3.25, 1e-12, "rectangle");
    check_close(late->max.y, 5.625, 1e-12, "rectangle");
    check_close(early->min.x, 5.75, 1e-12, "circle less radius");
    check_close(early->max.y, -0.625, 1e-12, "circle and radius");
    g_assert_cmpstr(late->figure, ==, "mould.yield");
    g_assert_cmpstr(early->description, ==, "");
    scene_box(scene, &min, &max);
    check_close(min.x, -3.25, 1e-12, "union");
    check_close(min.y, -3.875, 1e-12, "union");
    check_close(max.x, 9.0, 1e-12, "union");
    check_close(max.y, 5.625, 1e-12, "union");
    g_assert_null(scene_find_part(scene, "none"));
    g_assert_null(scene_find_part(scene, NULL));
}

static void
test_outline(void)
{
    SolidPoint points[] = {{0.01, 0.02},   {0.03, 0.02},   {NAN, 0.01},   {0.03, 0.05},
                           {0.011, 0.021}, {0.012, 0.022}, {0.012, 0.021}};
    guint starts[] = {0, 4, 7};
    SolidOutline outline = {points, 7, starts, 2};
    g_autoptr(Scene) scene = scene_new("t");
    double turn = 0.7853981633974483 * 2.0 / 3.0; // 30 degrees
    scene_add_outline(scene, ROLE_METAL, 1, "c", TRUE, TRUE, &outline, 0.1, -0.2, turn);
    const Shape *shape = scene_shape(scene, 0);
    g_assert_cmpuint(shape->n_points, ==, 6);
    g_assert_cmpuint(shape->n_runs, ==, 2);
    g_assert_cmpuint(shape->starts[1], ==, 3);
    g_assert_cmpuint(shape->starts[2], ==, 6);
    g_assert_true(shape->closed);
    // cos 30 = sqrt(3)/2, sin 30 = 1/2
    double c = sqrt(3.0) / 2.0;
    check_close(shape->points[0].x, 100 + c * 10 - 10, 1e-12, "rotation by 30 degrees");
    check_close(shape->points[0].y, -200 + 5 + c * 20, 1e-12, "rotation by 30 degrees");
    check_close(shape->points[2].x, 100 + c * 30 - 25, 1e-12, "rotation by 30 degrees");
    scene_add_outline(scene, ROLE_METAL, 1, "c", TRUE, TRUE, NULL, 0, 0, 0);
    g_assert_cmpuint(scene_shape_count(scene), ==, 1);
}

static void
test_dimension_box(void)
{
    g_autoptr(Scene) scene = scene_new("t");
    scene_add_dimension(scene, 1, NULL, (SolidPoint){1, 2}, (SolidPoint){11, 2}, 3.5, "10");
    SolidPoint min, max;
    scene_box(scene, &min, &max);
    check_close(max.y, 5.5, 1e-12, "left of a line to the right is up");
    scene_add_dimension(scene, 1, NULL, (SolidPoint){1, 2}, (SolidPoint){1, 9}, 3.5, "7");
    scene_box(scene, &min, &max);
    check_close(min.x, -2.5, 1e-12, "left of a line upwards is left");
}

static void
test_text_style(void)
{
    g_autoptr(Scene) scene = scene_new("t");
    Shape style = {.size = 9.5,
                   .align = ALIGN_END,
                   .turn = 0.3,
                   .strong = TRUE,
                   .room_x = 4.5,
                   .room_y = 2.5,
                   .pinned = TRUE};
    scene_add_styled_text(scene, ROLE_TEXT, 3, "x", 1.25, 2.75, &style, "Words");
    const Shape *shape = scene_shape(scene, 0);
    g_assert_cmpint(shape->kind, ==, SHAPE_TEXT);
    g_assert_cmpstr(shape->text, ==, "Words");
    check_close(shape->size, 9.5, 0.0, "given");
    check_close(shape->room_x, 4.5, 0.0, "given");
    g_assert_cmpint(shape->align, ==, ALIGN_END);
    g_assert_true(shape->strong && shape->pinned && !shape->halo);
    g_autoptr(Scene) same = scene_ref(scene);
    g_assert_true(same == scene);
}

static void
test_mistakes(void)
{
    g_autoptr(Scene) scene = scene_new("t");
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*isfinite*");
    scene_add_circle(scene, ROLE_METAL, 0, NULL, TRUE, TRUE, NAN, 0, 1);
    g_test_assert_expected_messages();
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*points_are_finite*");
    scene_add_rectangle(scene, ROLE_METAL, 0, NULL, TRUE, TRUE, 0, INFINITY, 1, 1);
    g_test_assert_expected_messages();
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*find_part*");
    scene_add_part(scene, "a", "A", "", NULL);
    scene_add_part(scene, "a", "A", "", NULL);
    g_test_assert_expected_messages();
    g_assert_cmpuint(scene_shape_count(scene), ==, 0);
    g_assert_cmpuint(scene_part_count(scene), ==, 1);
    scene_unref(NULL);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/scene/order", test_order);
    g_test_add_func("/sketch/scene/boxes", test_boxes);
    g_test_add_func("/sketch/scene/outline", test_outline);
    g_test_add_func("/sketch/scene/dimension-box", test_dimension_box);
    g_test_add_func("/sketch/scene/text-style", test_text_style);
    g_test_add_func("/sketch/scene/mistakes", test_mistakes);
    return g_test_run();
}
