// SPDX-License-Identifier: GPL-3.0-or-later
// Cope, drag, across, end and stack: where things must be follows from the sample's own sizes.
#include "check.h"
#include "mould/body.h"
#include "mould/fixed.h"
#include "sample.h"
#include "sketch/flask-turn.h"

static SampleFlask sample;
static const UnitSet units = {0};

static void
set_up(void)
{
    sample_flask_fill(&sample);
}

// A quarter turn and what it does to a point: (x, y) lies at (y, -x).
static void
test_turned(void)
{
    set_up();
    g_auto(FlaskTurned) t = flask_turned(&sample.layout);
    check_close(t.layout.length, sample.layout.width, 0, "turned");
    check_close(t.layout.width, sample.layout.length, 0, "turned");
    for (guint i = 0; i < 3; i++) {
        check_close(t.layout.cavities[i].x, sample.cavities[i].y, 0, "turned");
        check_close(t.layout.cavities[i].y, -sample.cavities[i].x, 0, "turned");
        check_close(t.layout.gates[i].y2, -sample.gates[i].x2, 0, "turned");
        g_assert_true(sample.layout.cavities == sample.cavities); // the first is left as it is
    }
    sample_flask_clear(&sample);
}

static void
test_halves(void)
{
    set_up();
    g_autoptr(Scene)
                  cope = flask_half_scene(&sample.layout, &sample.pattern, &units, FLASK_COPE, NAN);
    g_autoptr(Scene)
                  drag = flask_half_scene(&sample.layout, &sample.pattern, &units, FLASK_DRAG, NAN);
    g_assert_nonnull(sample_find_shape(cope, SHAPE_PATH, ROLE_SAND_COPE, "flask"));
    g_assert_null(sample_find_shape(cope, SHAPE_PATH, ROLE_SAND_DRAG, "flask"));
    g_assert_nonnull(sample_find_shape(cope, SHAPE_PATH, ROLE_GATING, "gate-1"));
    g_assert_null(sample_find_shape(cope, SHAPE_PATH, ROLE_GATING, "runner-1"));
    g_assert_null(sample_find_shape(cope, SHAPE_CIRCLE, ROLE_GATING, "well"));
    g_assert_nonnull(sample_find_shape(drag, SHAPE_PATH, ROLE_GATING, "runner-1"));
    g_assert_null(sample_find_shape(drag, SHAPE_PATH, ROLE_GATING, "gate-1"));
    g_assert_null(sample_find_shape(drag, SHAPE_CIRCLE, ROLE_GATING, "sprue"));
    g_assert_null(sample_find_shape(drag, SHAPE_CIRCLE, ROLE_RISER, "riser-1"));
    for (int i = 1; i <= 3; i++) {
        g_autofree char *id = g_strdup_printf("cavity-%d", i);
        g_assert_nonnull(sample_find_shape(cope, SHAPE_PATH, ROLE_METAL, id));
        g_assert_nonnull(sample_find_shape(drag, SHAPE_PATH, ROLE_METAL, id));
    }
    sample_flask_clear(&sample);
}

// Gates in the drag lie there in its plan, and the runners in the cope.
static void
test_gates_in_drag(void)
{
    set_up();
    sample.layout.gates_in_drag = TRUE;
    g_autoptr(Scene)
                  cope = flask_half_scene(&sample.layout, &sample.pattern, &units, FLASK_COPE, NAN);
    g_assert_nonnull(sample_find_shape(cope, SHAPE_PATH, ROLE_GATING, "runner-1"));
    g_assert_null(sample_find_shape(cope, SHAPE_PATH, ROLE_GATING, "gate-1"));
    sample_flask_clear(&sample);
}

static const char *
description(const Scene *scene, const char *id)
{
    const ScenePart *part = scene_find_part(scene, id);
    g_assert_nonnull(part);
    return part->description;
}

// Locks, planes and covers that fall short are marked; outlines made before change nothing.
static void
test_marks(void)
{
    set_up();
    MouldWish wish = {.asked_wall = sample.layout.cover_wall + 0.0031,
                      .asked_between = sample.layout.cover_between - 0.0031};
    g_autoptr(MouldFixed)
                  fixed = mould_fixed_new(&wish, sample.pattern.shadow, sample.pattern.shadow);
    sample.layout.fixed = fixed;
    const gboolean locked[] = {FALSE, TRUE, FALSE};
    FlaskMarks marks = {.along = 0.0123, .across = -0.0456, .locked = locked};
    g_autoptr(Scene) scene = flask_marked_scene(&sample.layout, &sample.pattern, &units, FLASK_BOTH,
                                                &marks);
    g_assert_nonnull(sample_find_shape(scene, SHAPE_DIMENSION, ROLE_FAILS, "cover-wall"));
    g_assert_null(sample_find_shape(scene, SHAPE_DIMENSION, ROLE_DIMENSION, "cover-wall"));
    g_assert_nonnull(sample_find_shape(scene, SHAPE_DIMENSION, ROLE_DIMENSION, "cover-between"));
    g_assert_null(strstr(description(scene, "cavity-1"), "locked"));
    g_assert_nonnull(strstr(description(scene, "cavity-2"), "locked"));
    const Shape *along = sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "cut-section");
    const Shape *across = sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "cut-across");
    check_close(along->points[0].y, 12.3, 1e-9, "as given, in millimetres");
    check_close(across->points[0].x, -45.6, 1e-9, "as given, in millimetres");
    g_assert_nonnull(strstr(description(scene, "cut-section"), "12.3"));
    g_autoptr(FlaskOutlines)
                  outlines = flask_outlines_new(&sample.layout, &sample.pattern, FLASK_BOTH);
    marks.outlines = outlines;
    g_autoptr(Scene) again = flask_marked_scene(&sample.layout, &sample.pattern, &units, FLASK_BOTH,
                                                &marks);
    g_assert_cmpuint(scene_shape_count(again), ==, scene_shape_count(scene));
    for (guint i = 0; i < scene_shape_count(scene); i++)
        g_assert_cmpuint(scene_shape(again, i)->n_points, ==, scene_shape(scene, i)->n_points);
    sample.layout.fixed = NULL;
    sample_flask_clear(&sample);
}

static void
test_sand_words(void)
{
    MouldLayout layout = {.length = 0.4, .width = 0.3};
    MouldCavity cavity = {0.05, 0.02, G_PI / 2, NAN, NAN, 0, 0};
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.06, 0.04, 0.03);
    UnitSet metric = {0};
    g_autofree char *alone = flask_sand_words(&layout, &metric, -0.1512, 0.03);
    g_assert_cmpstr(alone, ==, "Sand at the parting: 48.8 mm to the wall");
    g_autoptr(MouldBody) body = mould_body_new(mesh, NULL, 0.0005, NULL, NULL);
    layout.body = body;
    layout.cavities = &cavity;
    layout.n_cavities = 1;
    // Turned by a quarter, the box reaches from 10 to 50 mm along the flask, 20 to 80 mm across.
    g_autofree char *beside = flask_sand_words(&layout, &metric, 0.0823, 0.03);
    g_assert_nonnull(strstr(beside, "117.7 mm to the wall")); // 0.2 - 0.0823
    g_assert_nonnull(strstr(beside, "about 32 mm to cavity 1"));
    g_assert_null(flask_sand_words(&layout, &metric, 0.03, 0.05));
    g_assert_null(flask_sand_words(&layout, &metric, 0.21, 0));
}

// Across the first cavity: its width stands where its y is, its heights are its own.
static void
test_across(void)
{
    set_up();
    double x = sample.cavities[0].x, y = sample.cavities[0].y;
    g_autoptr(Scene) scene = flask_cut_scene(&sample.layout, &sample.pattern, &units, TRUE, x);
    const Shape *shape = sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, "cavity-1");
    g_assert_nonnull(shape);
    SolidPoint min, max;
    sample_shape_box(shape, &min, &max);
    check_close((min.x + max.x) / 2, 1000 * y, 5e-3, "its middle");
    check_close(max.x - min.x, 1000 * SAMPLE_WIDE, 0.02, "its width");
    check_close(max.y, 1000 * SAMPLE_UP, 0.02, "its height");
    const Shape *sand = sample_find_shape(scene, SHAPE_PATH, ROLE_SAND_COPE, "flask");
    sample_shape_box(sand, &min, &max);
    check_close(max.x - min.x, 1000 * sample.layout.width, 1e-9, "across the flask");
    // Past the wall of the castings nothing is cut.
    g_autoptr(Scene) empty = flask_cut_scene(&sample.layout, &sample.pattern, &units, TRUE,
                                             sample.layout.length / 2 - 1e-3);
    g_assert_null(sample_find_shape(empty, SHAPE_PATH, ROLE_METAL, "cavity-1"));
    sample_flask_clear(&sample);
}

static void
test_end(void)
{
    set_up();
    g_autoptr(Scene) scene = flask_end_scene(&sample.layout, &sample.pattern, &units);
    const Shape *frame = sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "flask");
    SolidPoint min, max;
    sample_shape_box(frame, &min, &max);
    g_assert_cmpfloat(max.x - min.x, >, 1000 * sample.layout.width);
    check_close(max.y, 1000 * sample.layout.cope, 1e-9, "height of the cope");
    g_assert_nonnull(sample_find_shape(scene, SHAPE_PATH, ROLE_HIDDEN, "cavity-1"));
    g_assert_null(sample_find_shape(scene, SHAPE_PATH, ROLE_METAL, NULL));
    sample_flask_clear(&sample);
}

// Cut at the parting: nothing of the cope's half lies below it, nothing of the drag's above, and
// together they are the casting's section. Areas of rectangles.
static void
test_stack(void)
{
    set_up();
    g_autoptr(Scene) scene = flask_stack_scene(&sample.layout, &sample.pattern, &units);
    double area[2] = {0, 0}, lift = INFINITY;
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *s = scene_shape(scene, i);
        if (s->role != ROLE_METAL || g_strcmp0(s->part, "cavity-1") != 0)
            continue;
        double sum = 0;
        SolidPoint min, max;
        sample_shape_box(s, &min, &max);
        for (guint k = 0; k < s->n_points; k++) {
            SolidPoint a = s->points[k], b = s->points[(k + 1) % s->n_points];
            sum += 0.5 * (a.x * b.y - b.x * a.y);
        }
        gboolean cope = min.y > 1;
        g_assert_true(cope || max.y < 1e-9);
        area[cope] += fabs(sum);
        if (cope)
            lift = fmin(lift, min.y);
    }
    g_assert_cmpfloat(lift, <, 1000);
    check_close(area[1], 1e6 * SAMPLE_LONG * SAMPLE_UP, 0.03, "upper rectangle");
    check_close(area[0], 1e6 * SAMPLE_LONG * SAMPLE_DOWN, 0.03, "lower rectangle");
    g_assert_nonnull(sample_find_text(scene, "Bottom board"));
    sample_flask_clear(&sample);
}

// A round flask is a circle in plan, and its section is as long as the chord there.
static void
test_round(void)
{
    set_up();
    MouldLayout *l = &sample.layout;
    l->round = TRUE;
    l->width = l->length;
    g_autoptr(Scene) plan = flask_plan_scene(l, &sample.pattern, &units);
    const Shape *wall = sample_find_shape(plan, SHAPE_CIRCLE, ROLE_FLASK, "flask");
    g_assert_nonnull(wall);
    g_assert_cmpfloat(wall->radius, >, 500 * l->length);
    double at = 0.3 * l->length;
    g_autoptr(Scene) cut = flask_cut_scene(l, &sample.pattern, &units, FALSE, at);
    SolidPoint min, max;
    sample_shape_box(sample_find_shape(cut, SHAPE_PATH, ROLE_SAND_DRAG, "flask"), &min, &max);
    check_close(max.x - min.x, 1000 * l->length * 0.8, 1e-9, "3, 4, 5: the chord at 0.6 r");
    sample_flask_clear(&sample);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/flask-views/turned", test_turned);
    g_test_add_func("/sketch/flask-views/halves", test_halves);
    g_test_add_func("/sketch/flask-views/gates-in-drag", test_gates_in_drag);
    g_test_add_func("/sketch/flask-views/marks", test_marks);
    g_test_add_func("/sketch/flask-views/sand-words", test_sand_words);
    g_test_add_func("/sketch/flask-views/across", test_across);
    g_test_add_func("/sketch/flask-views/end", test_end);
    g_test_add_func("/sketch/flask-views/stack", test_stack);
    g_test_add_func("/sketch/flask-views/round", test_round);
    return g_test_run();
}
