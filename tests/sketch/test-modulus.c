// SPDX-License-Identifier: GPL-3.0-or-later
// The lines of equal modulus of a block: their values are written, its place is numbered.
#include "check.h"
#include "sample.h"
#include "sketch/modulus.h"

static void
test_block(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) box = check_mesh_box(0.0613, 0.0417, 0.0231);
    const double identity[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh)
                  mesh = solid_mesh_transformed(box, identity, vec3(-0.03065, -0.02085, -0.0101));
    g_autoptr(SolidGrid) casting = solid_grid_distance(mesh, 1e-3, 2e-3, 2e-3, NULL, &error);
    g_autoptr(SolidOutline) shadow = solid_section_shadow(casting, 0);
    PatternResult pattern = {.mesh = mesh,
                             .casting = casting,
                             .shadow = shadow,
                             .height_cope = 0.013,
                             .height_drag = 0.0101,
                             .volume = 0.0613 * 0.0417 * 0.0231,
                             .min = {-0.03065, -0.02085, -0.0101},
                             .max = {0.03065, 0.02085, 0.013}};
    FeedResult feed = {.risers = 1,
                       .on_top = TRUE,
                       .diameter = 0.0301,
                       .height = 0.0301,
                       .base = 0.013,
                       .chill = {.face = -0.0101, .width = 0.0152, .thickness = 0.0052}};
    CastingPlane plane = {1, 0};
    UnitSet units = {0};
    g_assert_null(modulus_scene(&pattern, &feed, &plane, 1, &units));
    g_autoptr(SolidGrid) map = feed_modulus_map(casting, 0.01155, NULL, &error);
    g_assert_no_error(error);
    feed.map = map;
    feed.n_spots = feed_modulus_spots(map, feed.spots);
    g_assert_cmpuint(feed.n_spots, ==, 1);
    g_autoptr(Scene) scene = modulus_scene(&pattern, &feed, &plane, 1, &units);
    g_assert_nonnull(scene_find_part(scene, "modulus-1"));
    g_assert_cmpstr(scene_find_part(scene, "chill")->figure, ==, "feed.chilled_modulus");
    SolidPoint min, max;
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_RISER, "riser"), &min, &max);
    check_close(max.x - min.x, 30.1, 1e-6, "the riser's width, mm");
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_FLASK, "chill"), &min, &max);
    check_close(max.y - min.y, 5.2, 1e-6, "the chill's thickness, mm");
    // Every line is told by its number.
    guint lines = 0;
    for (guint i = 0; i < scene_shape_count(scene); i++)
        lines += scene_shape(scene, i)->role == ROLE_CURVE;
    g_assert_cmpuint(lines, >, 0);
    g_assert_nonnull(sample_find_text(scene, "1"));
    g_assert_true(sample_find_text(scene, "5") || sample_find_text(scene, "6") ||
                  sample_find_text(scene, "7"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/modulus/block", test_block);
    return g_test_run();
}
