// SPDX-License-Identifier: GPL-3.0-or-later
#include <string.h>

#include "check.h"
#include "sample.h"
#include "sketch/paint.h"

static SampleFlask sample;
static Scene *
draw(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    return flask_plan_scene(&sample.layout, &sample.pattern, &units);
}

static void
test_cavities(void)
{
    g_autoptr(Scene) scene = draw();
    SolidPoint min, max;
    const Shape *shape = sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-1");
    sample_shape_box(shape, &min, &max);
    double tolerance = 2e-3; // corners of a grid are cut by less than a tenth of a cell
    check_close(min.x, -71 - 37, tolerance, "middle less half the casting");
    check_close(max.y, 63 + 23, tolerance, "middle and half the casting");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_PART, "cavity-1");
    sample_shape_box(shape, &min, &max);
    check_close(max.x, -71 + 37 - 2, tolerance, "the part inside");
    // A turned rectangle's box: |l cos| + |w sin|; its corners are cut by the grid.
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-3");
    sample_shape_box(shape, &min, &max);
    double wide = 74 * cos(SAMPLE_TURN) + 46 * sin(SAMPLE_TURN);
    double high = 74 * sin(SAMPLE_TURN) + 46 * cos(SAMPLE_TURN);
    check_close(max.x - min.x, wide, 0.015, "box of a turned rectangle");
    check_close(max.y - min.y, high, 0.015, "box of a turned rectangle");
    check_close((max.x + min.x) / 2.0, 12.5, 1e-3, "stays on its middle");
    check_close((max.y + min.y) / 2.0, -57.5, 1e-3, "stays on its middle");
    sample_flask_clear(&sample);
}

// A cavity is the pattern's size: larger than the cold casting by the contraction.
static void
test_growth(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    sample.layout.growth = 1.017;
    g_autoptr(Scene) scene = flask_plan_scene(&sample.layout, &sample.pattern, &units);
    SolidPoint min, max;
    const Shape *shape = sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-1");
    sample_shape_box(shape, &min, &max);
    check_close(max.x - min.x, 74 * 1.017, 2e-3, "casting's length with its contraction");
    check_close((max.x + min.x) / 2.0, -71, 1e-3, "about its middle");
    sample_flask_clear(&sample);
}

static void
test_gating(void)
{
    g_autoptr(Scene) scene = draw();
    SolidPoint min, max;
    const Shape *shape = sample_find_shape(scene, SHAPE_CIRCLE, ROLE_GATING, "sprue");
    check_close(shape->radius, 17.1 / 2.0, 1e-12, "half the sprue's top");
    shape = sample_find_shape(scene, SHAPE_CIRCLE, ROLE_GATING, "well");
    check_close(shape->radius, 22.3 / 2.0, 1e-12, "half the well");
    shape = sample_find_shape(scene, SHAPE_CIRCLE, ROLE_RISER, "riser-2");
    check_close(shape->points[0].x, 67.5, 1e-12, "where the layout says");
    check_close(shape->radius, 20.7 / 2.0, 1e-12, "half the riser");
    g_assert_null(sample_find_shape(scene, SHAPE_CIRCLE, ROLE_RISER, "riser-3"));
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_GATING, "gate-3");
    sample_shape_box(shape, &min, &max);
    check_close(max.x - min.x, 13.5, 1e-12, "across the channel");
    check_close(min.y, -31.5, 1e-12, "to its end");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_TAB, "tab-2");
    sample_shape_box(shape, &min, &max);
    check_close(min.x, -121.5 - 6.25, 1e-12, "middle less half");
    check_close(max.y, -92.5 + 4.25, 1e-12, "middle and half");
    sample_flask_clear(&sample);
}

// The neck goes straight to the casting and just into it.
static void
test_neck(void)
{
    g_autoptr(Scene) scene = draw();
    SolidPoint min, max;
    const Shape *neck = sample_find_shape(scene, SHAPE_PATH, ROLE_RISER, "riser-1");
    sample_shape_box(neck, &min, &max);
    check_close(max.x - min.x, 9.1, 1e-9, "across the neck");
    check_close(min.y, 21.5, 1e-9, "from the riser's middle");
    check_close(max.y, 63 - 23 + 0.15 * 9.1, 2e-3, "to the casting's edge and a little in");
    // A riser over the casting has none.
    sample_flask_clear(&sample);
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    sample.cavities[0].riser_y = sample.cavities[0].neck_y = sample.cavities[0].y;
    g_autoptr(Scene) over = flask_plan_scene(&sample.layout, &sample.pattern, &units);
    g_assert_null(sample_find_shape(over, SHAPE_PATH, ROLE_RISER, "riser-1"));
    g_assert_nonnull(sample_find_shape(over, SHAPE_CIRCLE, ROLE_RISER, "riser-1"));
    sample_flask_clear(&sample);
}

static void
test_dimensions(void)
{
    g_autoptr(Scene) scene = draw();
    static const char *const texts[] = {"263.5", "215.5", "64.5"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        const Shape *shape = sample_find_text(scene, texts[i]);
        g_assert_nonnull(shape);
        g_assert_cmpint(shape->kind, ==, SHAPE_DIMENSION);
        double length = hypot(shape->points[1].x - shape->points[0].x,
                              shape->points[1].y - shape->points[0].y);
        check_close(length, g_ascii_strtod(texts[i], NULL), 1e-12, "what it says is what it spans");
    }
    const Shape *wall = sample_find_shape(scene, SHAPE_DIMENSION, ROLE_DIMENSION, "cover-wall");
    check_close(g_ascii_strtod(wall->text, NULL), 23.75, 3e-3, "to a tenth of a millimetre");
    g_assert_nonnull(sample_find_text(scene, "50 mm"));
    g_assert_nonnull(sample_find_text(scene, "Lengths in millimetres."));
    sample_flask_clear(&sample);
}

static void
test_parts(void)
{
    g_autoptr(Scene) scene = draw();
    static const char *const wanted[][3] = {
        {"flask", "Flask", "mould.sand_mass"},
        {"cavity-1", "Cavity 1", "mould.sand_cover.wall"},
        {"cavity-3", "Cavity 3", "mould.sand_cover.wall"},
        {"sprue", "Sprue", "mould.sprue_top_area"},
        {"runner-2", "Runner 2", "mould.choke_area"},
        {"gate-1", "Gate of cavity 1", "mould.gate_velocity"},
        {"riser-1", "Riser of cavity 1", "feed.riser_diameter"},
        {"tab-2", "Index tab 2", "mould.mismatch"},
        {"cover-between", "Sand between cavities", "mould.sand_cover.between"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(wanted); i++) {
        const ScenePart *part = scene_find_part(scene, wanted[i][0]);
        g_assert_nonnull(part);
        g_assert_cmpstr(part->label, ==, wanted[i][1]);
        g_assert_cmpstr(part->figure, ==, wanted[i][2]);
        g_assert_cmpstr(part->description, !=, "");
        g_assert_cmpfloat(part->max.x, >, part->min.x);
    }
    // 131.75 - 108 along, 107.75 - 86 across: across is less.
    const ScenePart *first = scene_find_part(scene, "cavity-1");
    g_assert_true(g_str_has_prefix(first->description, "Sand to the wall "));
    check_close(g_ascii_strtod(first->description + strlen("Sand to the wall "), NULL), 21.75, 5e-3,
                "to a tenth of a millimetre");
    g_assert_null(scene_find_part(scene, "riser-3"));
    g_assert_null(scene_find_part(scene, "basin"));
    sample_flask_clear(&sample);
}

static void
test_inches(void)
{
    UnitSet units = unit_set_default();
    units.inches = TRUE;
    sample_flask_fill(&sample);
    g_autoptr(Scene) scene = flask_plan_scene(&sample.layout, &sample.pattern, &units);
    g_assert_nonnull(sample_find_text(scene, "10.374")); // 263.5 / 25.4 = 10.3740
    sample_flask_clear(&sample);
}

// Nothing, and things that are not known, draw as far as they go.
static void
test_gaps(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    sample.layout.n_cavities = 0;
    g_autoptr(Scene) none = flask_plan_scene(&sample.layout, NULL, &units);
    g_assert_nonnull(
        sample_find_text(none, "No cavity fits this flask with the sand cover asked for"));
    g_assert_null(scene_find_part(none, "cavity-1"));
    sample.layout.n_cavities = 3;
    sample.layout.sprue_x = NAN;
    sample.layout.sprue_top_diameter = NAN;
    sample.layout.gates[1].width = NAN;
    sample.cavities[1].x = NAN;
    sample.layout.cover_wall_from.x = NAN;
    g_autoptr(Scene) odd = flask_plan_scene(&sample.layout, &sample.pattern, &units);
    g_assert_null(scene_find_part(odd, "cavity-2"));
    g_assert_null(scene_find_part(odd, "sprue"));
    g_assert_null(scene_find_part(odd, "cover-wall"));
    g_assert_nonnull(scene_find_part(odd, "cavity-3"));
    MouldLayout empty = {0};
    g_autoptr(Scene) nothing = flask_plan_scene(&empty, NULL, &units);
    PaintView view = paint_fit(nothing, 300, 200, 10);
    g_assert_true(isfinite(view.scale_x) && view.scale_x > 0.0);
    sample_flask_clear(&sample);
}

static void
test_pick(void)
{
    g_autoptr(Scene) scene = draw();
    PaintView view = paint_fit(scene, 900, 640, 18);
    static const struct {
        double x, y;
        const char *id;
    } at[] = {{-90, 75, "cavity-1"}, {3, -70, "cavity-3"}, {45, 1, "runner-2"},
              {1, 5, "sprue"},       {0, 9.8, "well"},     {-71, 21, "riser-1"},
              {118, 80, "tab-1"},    {-20, -90, "flask"}};
    for (guint i = 0; i < G_N_ELEMENTS(at); i++) {
        double dx, dy;
        paint_to_device(&view, at[i].x, at[i].y, &dx, &dy);
        const ScenePart *part = paint_pick(scene, &view, dx, dy, 0.0);
        g_assert_cmpstr(part ? part->id : NULL, ==, at[i].id);
    }
    sample_flask_clear(&sample);
}

static void
test_vents_and_pins(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    MouldVent vents[2] = {{MOULD_VENT_PEAK, 0, -0.0613, 0.0713, 0.0231, 0.0534, 0.002},
                          {MOULD_VENT_RISER, 1, 0.0675, 0.0205, 0.0355, 0.041, 0.0075}};
    sample.layout.vents = vents;
    sample.layout.n_vents = 2;
    sample.layout.tabs[0].width = 0; // a pin
    g_autoptr(Scene) scene = flask_plan_scene(&sample.layout, &sample.pattern, &units);
    const Shape *shape = sample_find_shape(scene, SHAPE_CIRCLE, ROLE_DIMENSION, "vent-2");
    check_close(shape->points[0].x, 67.5, 1e-9, "over the riser");
    check_close(shape->radius, 3.75, 1e-9, "the wire's size");
    shape = sample_find_shape(scene, SHAPE_CIRCLE, ROLE_TAB, "tab-1");
    check_close(shape->radius, 6.25, 1e-9, "a pin as thick as it is long");
    const ScenePart *part = scene_find_part(scene, "vent-1");
    g_assert_nonnull(part);
    g_assert_nonnull(strstr(part->description, "high point of cavity 1"));
    g_assert_nonnull(strstr(part->description, "53.4 mm"));
    sample_flask_clear(&sample);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/flask-plan/cavities", test_cavities);
    g_test_add_func("/sketch/flask-plan/growth", test_growth);
    g_test_add_func("/sketch/flask-plan/gating", test_gating);
    g_test_add_func("/sketch/flask-plan/neck", test_neck);
    g_test_add_func("/sketch/flask-plan/dimensions", test_dimensions);
    g_test_add_func("/sketch/flask-plan/parts", test_parts);
    g_test_add_func("/sketch/flask-plan/vents", test_vents_and_pins);
    g_test_add_func("/sketch/flask-plan/inches", test_inches);
    g_test_add_func("/sketch/flask-plan/gaps", test_gaps);
    g_test_add_func("/sketch/flask-plan/pick", test_pick);
    return g_test_run();
}
