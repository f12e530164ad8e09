// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.h"
#include "sample.h"
#include "sketch/flask-cut.h"
#include "sketch/paint.h"

static SampleFlask sample;

static void
test_cut(void)
{
    sample_flask_fill(&sample);
    const double turns[] = {0.0, G_PI, -G_PI / 2.0, 0.55, 2.9, 0.55 + 6.0 * G_PI};
    for (guint i = 0; i < G_N_ELEMENTS(turns); i++) {
        MouldCavity cavity = {0.0125, -0.0575, turns[i], NAN, NAN};
        g_auto(FlaskCut) cut = flask_cut(&sample.pattern, &cavity, 1.0, -0.0575);
        g_assert_nonnull(cut.casting);
        g_assert_nonnull(cut.part);
        SolidPoint min, max;
        // A chord through the middle of a rectangle turned by t: the lesser of l/|cos t|, w/|sin
        // t|.
        double c = fabs(cos(turns[i])) + 1e-12, s = fabs(sin(turns[i])) + 1e-12;
        solid_outline_box(cut.casting, &min, &max);
        check_close(max.x - min.x, fmin(SAMPLE_LONG / c, SAMPLE_WIDE / s), 0.012,
                    "chord of a rectangle");
        check_close(min.y, -SAMPLE_DOWN, 0.02, "down to the bottom");
        check_close(max.y, SAMPLE_UP, 0.02, "up to the top");
        solid_outline_box(cut.part, &min, &max);
        double l = SAMPLE_LONG - 2 * SAMPLE_STOCK, w = SAMPLE_WIDE - 2 * SAMPLE_STOCK;
        check_close(max.x - min.x, fmin(l / c, w / s), 1e-6, "chord of a rectangle");
        check_close(max.y, SAMPLE_UP - SAMPLE_STOCK, 1e-9, "less the stock");
    }
    // Half a millimetre inside the wall and outside it.
    MouldCavity cavity = {0.0, 0.0, 0.0, NAN, NAN};
    g_auto(FlaskCut) in = flask_cut(&sample.pattern, &cavity, 1.0, SAMPLE_WIDE / 2.0 - 0.0005);
    g_assert_nonnull(in.casting);
    g_assert_null(in.part);
    g_auto(FlaskCut) out = flask_cut(&sample.pattern, &cavity, 1.0, SAMPLE_WIDE / 2.0 + 0.0005);
    g_assert_null(out.casting);
    cavity.turn = NAN;
    g_auto(FlaskCut) odd = flask_cut(&sample.pattern, &cavity, 1.0, 0.0);
    g_assert_null(odd.casting);
    sample_flask_clear(&sample);
}

static Scene *
draw(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    return flask_section_scene(&sample.layout, &sample.pattern, &units);
}

static void
test_scene(void)
{
    g_autoptr(Scene) scene = draw();
    SolidPoint min, max;
    const Shape *shape = sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-1");
    sample_shape_box(shape, &min, &max);
    check_close(min.x, -71 - 37, 3e-3, "middle less half");
    check_close(max.y, 16, 0.02, "height in the cope");
    g_assert_nonnull(sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-2"));
    g_assert_null(sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-3")); // another row
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_SAND_COPE, "flask");
    sample_shape_box(shape, &min, &max);
    check_close(max.y, 76.5, 1e-12, "cope");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_SAND_DRAG, "flask");
    sample_shape_box(shape, &min, &max);
    check_close(min.y, -61.5, 1e-12, "drag");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_GATING, "sprue");
    sample_shape_box(shape, &min, &max);
    check_close(max.y, 76.5, 1e-12, "to the top of the cope");
    check_close(max.x - min.x, 17.1, 1e-12, "widest at the top");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_GATING, "well");
    sample_shape_box(shape, &min, &max);
    check_close(min.y, -18.7, 1e-12, "into the drag");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_GATING, "runner-1");
    sample_shape_box(shape, &min, &max);
    check_close(min.y, -9.5, 1e-12, "in the drag");
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_GATING, "gate-1");
    sample_shape_box(shape, &min, &max);
    check_close(max.y, 4.2, 1e-12, "in the cope");
    check_close(max.x - min.x, 13.5, 1e-12, "seen end on");
    g_assert_false(shape->stroked); // behind the plane
    g_assert_nonnull(sample_find_text(scene, "COPE"));
    g_assert_nonnull(sample_find_text(scene, "DRAG"));
    shape = sample_find_shape(scene, SHAPE_PATH, ROLE_PARTING, NULL);
    check_close(shape->points[0].y, 0.0, 0.0, "on the parting");
    sample_flask_clear(&sample);
}

static void
test_dimensions(void)
{
    g_autoptr(Scene) scene = draw();
    g_assert_nonnull(sample_find_text(scene, "76.5"));
    g_assert_nonnull(sample_find_text(scene, "61.5"));
    g_assert_nonnull(sample_find_text(scene, "263.5"));
    const Shape *top = sample_find_shape(scene, SHAPE_DIMENSION, ROLE_DIMENSION, "cover-top");
    check_close(top->points[1].y - top->points[0].y, 76.5 - 35.5, 1e-6, "cope less riser");
    const Shape *bottom = sample_find_shape(scene, SHAPE_DIMENSION, ROLE_DIMENSION, "cover-bottom");
    check_close(bottom->points[0].y - bottom->points[1].y, 61.5 - 10, 0.005, "drag less casting");
    // The riser stands higher than the casting: there the sand is least.
    check_close(top->points[0].x, -71 + 0.3 * 20.7, 1e-6, "over the first riser, off its middle");
    const ScenePart *part = scene_find_part(scene, "cover-top");
    g_assert_cmpstr(part->figure, ==, "mould.sand_cover.top");
    g_assert_nonnull(scene_find_part(scene, "basin"));
    g_assert_null(scene_find_part(scene, "cavity-3"));
    sample_flask_clear(&sample);
}

// In the plane of the sprue it is cut, and its outline is a full line.
static void
test_cut_gating(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    sample.layout.sprue_y = 0.063;
    sample.cavities[0].riser_y = 0.0715;
    g_autoptr(Scene) scene = flask_section_scene(&sample.layout, &sample.pattern, &units);
    g_assert_true(sample_find_shape(scene, SHAPE_PATH, ROLE_GATING, "sprue")->stroked);
    g_assert_true(sample_find_shape(scene, SHAPE_PATH, ROLE_RISER, "riser-1")->stroked);
    g_assert_false(sample_find_shape(scene, SHAPE_PATH, ROLE_RISER, "riser-2")->stroked);
    sample_flask_clear(&sample);
}

static void
test_gaps(void)
{
    UnitSet units = unit_set_default();
    sample_flask_fill(&sample);
    sample.cavities[0].y = NAN;
    sample.layout.riser.diameter = NAN;
    sample.layout.runners[0].depth = NAN;
    g_autoptr(Scene) odd = flask_section_scene(&sample.layout, &sample.pattern, &units);
    g_assert_null(scene_find_part(odd, "cavity-1"));
    g_assert_null(scene_find_part(odd, "runner-1"));
    g_autoptr(Scene) bare = flask_section_scene(&sample.layout, NULL, &units);
    g_assert_null(scene_find_part(bare, "cover-top"));
    MouldLayout empty = {0};
    g_autoptr(Scene) nothing = flask_section_scene(&empty, NULL, &units);
    PaintView view = paint_fit(nothing, 300, 200, 10);
    g_assert_true(isfinite(view.scale_x) && view.scale_x > 0.0);
    sample_flask_clear(&sample);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/flask-section/cut", test_cut);
    g_test_add_func("/sketch/flask-section/scene", test_scene);
    g_test_add_func("/sketch/flask-section/dimensions", test_dimensions);
    g_test_add_func("/sketch/flask-section/cut-gating", test_cut_gating);
    g_test_add_func("/sketch/flask-section/gaps", test_gaps);
    return g_test_run();
}
