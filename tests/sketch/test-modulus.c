// SPDX-License-Identifier: GPL-3.0-or-later
// The lines of equal modulus of a block: their values are written, its place is numbered.
#include <string.h>

#include "check.h"
#include "sample.h"
#include "sketch/modulus.h"

// A block 61.3 by 41.7 by 23.1 mm, 10.1 mm of it under the parting.
static void
make_block(PatternResult *pattern, FeedResult *feed)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) box = check_mesh_box(0.0613, 0.0417, 0.0231);
    const double identity[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    SolidMesh *mesh = solid_mesh_transformed(box, identity, vec3(-0.03065, -0.02085, -0.0101));
    SolidGrid *casting = solid_grid_distance(mesh, 1e-3, 2e-3, 2e-3, NULL, &error);
    *pattern = (PatternResult){.mesh = mesh,
                               .casting = casting,
                               .shadow = solid_section_shadow(casting, 0),
                               .height_cope = 0.013,
                               .height_drag = 0.0101,
                               .volume = 0.0613 * 0.0417 * 0.0231,
                               .min = {-0.03065, -0.02085, -0.0101},
                               .max = {0.03065, 0.02085, 0.013}};
    feed->map = feed_modulus_map(casting, 0.01155, NULL, &error);
    g_assert_no_error(error);
    feed->n_spots = feed_modulus_spots(feed->map, feed->spots);
}

static void
clear_block(PatternResult *pattern, FeedResult *feed)
{
    solid_mesh_unref(pattern->mesh);
    solid_grid_unref(pattern->casting);
    solid_outline_unref(pattern->shadow);
    solid_grid_unref(feed->map);
}

static void
test_block(void)
{
    PatternResult pattern;
    FeedResult feed = {.risers = 1,
                       .on_top = TRUE,
                       .diameter = 0.0301,
                       .height = 0.0301,
                       .modulus = 0.00602,
                       .base = 0.013,
                       .chill = {.face = -0.0101, .width = 0.0152, .thickness = 0.0052}};
    CastingPlane plane = {1, 0};
    UnitSet units = {0};
    make_block(&pattern, &feed);
    SolidGrid *map = g_steal_pointer(&feed.map);
    g_assert_null(modulus_scene(&pattern, &feed, NULL, &plane, &units));
    feed.map = map;
    g_assert_cmpuint(feed.n_spots, ==, 1);
    g_autoptr(Scene) scene = modulus_scene(&pattern, &feed, NULL, &plane, &units);
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
    clear_block(&pattern, &feed);
}

// Where the first cavity has it, turned back into the casting's axes and cold: at 90 degrees the
// flask's +y is the casting's +x.
static void
test_beside(void)
{
    PatternResult pattern;
    FeedResult feed = {.risers = 1, .diameter = 0.0302, .height = 0.0302, .modulus = 0.005033};
    make_block(&pattern, &feed);
    MouldCavity cavity = {.x = 0.11,
                          .y = -0.02,
                          .turn = G_PI / 2,
                          .riser_x = 0.11 - 0.004,
                          .riser_y = -0.02 + 0.0525,
                          .neck_x = 0.11,
                          .neck_y = -0.02 + 0.031};
    MouldLayout layout = {.cavities = &cavity,
                          .n_cavities = 1,
                          .growth = 1.02,
                          .riser = {.diameter = 0.0302, .height = 0.0302},
                          .neck = {.width = 0.012, .up = 0.004, .down = 0.003}};
    CastingPlane along = {1, 0.004 / 1.02}, off = {1, -0.0201}, level = {2, 0.002};
    UnitSet units = {0};
    g_autoptr(Scene) scene = modulus_scene(&pattern, &feed, &layout, &along, &units);
    g_assert_cmpstr(scene_find_part(scene, "riser")->figure, ==, "feed.riser_drawn_modulus");
    g_assert_nonnull(strstr(scene_find_part(scene, "riser")->description, "5 mm"));
    g_assert_nonnull(sample_find_text(scene, "R"));
    SolidPoint casting_min, casting_max, min, max;
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "casting"), &casting_min,
                     &casting_max);
    // The neck comes first, from the riser's middle on; then the riser, 30.2 mm hot.
    double middle = (casting_min.x + casting_max.x) / 2 + 52.5 / 1.02;
    const Shape *riser = NULL;
    for (guint i = 0; i < scene_shape_count(scene); i++)
        if (g_strcmp0(scene_shape(scene, i)->part, "riser") == 0 &&
            scene_shape(scene, i)->role == ROLE_RISER)
            riser = scene_shape(scene, i);
    g_assert_nonnull(riser);
    sample_shape_box(riser, &min, &max);
    check_close(max.x - min.x, 30.2 / 1.02, 1e-6, "cold");
    check_close((min.x + max.x) / 2, middle, 1e-3, "turned back");
    check_close(min.y - casting_min.y, 10.1, 1e-3, "its foot on the parting");
    SolidPoint low, high; // of the sheet, 167 grains wide; the column begins at 101
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_DIMENSION, NULL), &low, &high);
    g_assert_cmpfloat(max.x, <, low.x + 101.0 / 167.0 * (high.x - low.x));
    // A plane that misses it shows hidden edges.
    g_autoptr(Scene) behind = modulus_scene(&pattern, &feed, &layout, &off, &units);
    g_assert_null(sample_find_shape(behind, SHAPE_PATH, ROLE_RISER, "riser"));
    g_assert_nonnull(sample_find_shape(behind, SHAPE_PATH, ROLE_HIDDEN, "riser"));
    // A level one cuts it and its neck.
    g_autoptr(Scene) above = modulus_scene(&pattern, &feed, &layout, &level, &units);
    const Shape *disc = sample_find_shape(above, SHAPE_CIRCLE, ROLE_RISER, "riser");
    g_assert_nonnull(disc);
    // Nowhere without a layout, but its modulus is told.
    g_autoptr(Scene) nowhere = modulus_scene(&pattern, &feed, NULL, &along, &units);
    g_assert_null(sample_find_shape(nowhere, SHAPE_PATH, ROLE_RISER, "riser"));
    g_assert_nonnull(scene_find_part(nowhere, "riser"));
    clear_block(&pattern, &feed);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/modulus/block", test_block);
    g_test_add_func("/sketch/modulus/beside", test_beside);
    return g_test_run();
}
