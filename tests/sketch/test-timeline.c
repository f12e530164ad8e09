// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.h"
#include "sample.h"
#include "sketch/paint.h"

static Scene *
draw(SampleSession *sample)
{
    UnitSet units = unit_set_default();
    sample_session_fill(sample);
    return timeline_scene(&sample->session, &sample->melt, &units);
}

static void
test_tasks(void)
{
    SampleSession sample;
    g_autoptr(Scene) scene = draw(&sample);
    SolidPoint min, max;
    const Shape *shape = sample_find_shape(scene, SHAPE_PATH, ROLE_RAM, "task-3");
    sample_shape_box(shape, &min, &max);
    check_close(min.x, 17.5, 1e-12, "minutes");
    check_close(max.x, 46.0, 1e-12, "minutes");
    // A pour takes furnace, person and box: three blocks, one above the other.
    int blocks = 0;
    double last = -INFINITY;
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        shape = scene_shape(scene, i);
        if (g_strcmp0(shape->part, "task-6") != 0 || shape->kind != SHAPE_PATH)
            continue;
        g_assert_cmpfloat(shape->points[0].y, >, last);
        last = shape->points[0].y;
        blocks++;
    }
    g_assert_cmpint(blocks, ==, 3);
    const ScenePart *part = scene_find_part(scene, "task-6");
    g_assert_cmpstr(part->label, ==, "Pour flask 1");
    g_assert_cmpstr(part->description, ==,
                    "2:43 to 2:47, 3 min 30 s; takes the person; takes the furnace; "
                    "takes flask 1");
    g_assert_true(scene_stretches(scene));
    g_assert_true(scene_y_down(scene));
}

// What cools overnight is cut off at the end of the session, and its words tell the truth.
static void
test_overnight(void)
{
    SampleSession sample;
    g_autoptr(Scene) scene = draw(&sample);
    SolidPoint min, max;
    scene_box(scene, &min, &max);
    check_close(min.x, 0.0, 1e-9, "from the start");
    check_close(max.x, 233.0, 1e-12, "to the session's end");
    const ScenePart *part = scene_find_part(scene, "task-10");
    g_assert_true(g_str_has_prefix(part->description, "3:33 to 15:00"));
}

static void
test_loads(void)
{
    SampleSession sample;
    g_autoptr(Scene) scene = draw(&sample);
    const ScenePart *load = scene_find_part(scene, "load-2");
    g_assert_cmpstr(load->label, ==, "Load 2");
    g_assert_cmpstr(load->description, ==, "2:47 to 3:33; fills 1 flask");
    g_assert_cmpstr(load->figure, ==, "melt.flasks_per_load");
    SolidPoint min, max, flask_min, flask_max;
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_MELT, "load-2"), &min, &max);
    check_close(min.x, 166.5, 1e-12, "from charging");
    check_close(max.x, 212.5, 1e-12, "to the last pour");
    // The flask lies in the load.
    const Shape *flask = sample_find_shape(scene, SHAPE_PATH, ROLE_POUR, "load-2");
    sample_shape_box(flask, &flask_min, &flask_max);
    g_assert_true(flask_min.x > min.x && flask_max.x < max.x);
    g_assert_true(flask_min.y > min.y && flask_max.y < max.y);
    g_assert_null(scene_find_part(scene, "load-3"));
}

static void
test_curve(void)
{
    SampleSession sample;
    g_autoptr(Scene) scene = draw(&sample);
    const Shape *curve = sample_find_shape(scene, SHAPE_PATH, ROLE_CURVE, NULL);
    g_assert_true(curve->filled);
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->kind == SHAPE_PATH && shape->role == ROLE_CURVE && shape->stroked)
            curve = shape;
    }
    g_assert_cmpuint(curve->n_points, ==, SAMPLE_CURVE);
    check_close(curve->points[3].x, 121.0, 1e-12, "minutes");
    // Heights go with the temperatures.
    double per_kelvin = (curve->points[1].y - curve->points[3].y) / (780.0 - 300.0);
    check_close((curve->points[4].y - curve->points[3].y) / per_kelvin, 780.0 - 741.0, 1e-9,
                "linear");
    g_assert_nonnull(sample_find_text(scene, "\u20020:18\u2002Set 300"));
    g_assert_nonnull(sample_find_text(scene, "\u20021:15\u2002Set 780"));
    g_assert_nonnull(sample_find_text(scene, "200 \u00b0C"));
    // Near the end there is more room on the left.
    const Shape *last = sample_find_text(scene, "3:29\u2002Pour two\u2002");
    g_assert_nonnull(last);
    g_assert_cmpint(last->align, ==, ALIGN_END);
    g_assert_null(sample_find_text(scene, "\u20020:18\u2002Step one"));
}

// A curve without prompts takes those of the warm-up, from where the warm-up starts.
static void
test_steps(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    units.fahrenheit = TRUE;
    sample_session_fill(&sample);
    for (guint i = 0; i < SAMPLE_CURVE; i++)
        sample.curve[i].prompt = NULL;
    g_autoptr(Scene) scene = timeline_scene(&sample.session, &sample.melt, &units);
    g_assert_nonnull(sample_find_text(scene, "\u20020:18\u2002Step one"));
    g_assert_nonnull(sample_find_text(scene, "\u20021:15\u2002Step two")); // 17.5 + 57.5 min
    g_assert_nonnull(sample_find_text(scene, "500 \u00b0F"));
    g_autoptr(Scene) bare = timeline_scene(&sample.session, NULL, &units);
    g_assert_cmpuint(scene_shape_count(bare), <, scene_shape_count(scene));
}

static void
test_words(void)
{
    SampleSession sample;
    g_autoptr(Scene) scene = draw(&sample);
    static const char *const texts[] = {"Session", "Furnace", "Person", "Flask 1",  "Flask 2",
                                        "Loads",   "0:00",    "3:00",   "Hours end"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++)
        g_assert_nonnull(sample_find_text(scene, texts[i]));
    g_assert_nonnull(sample_find_text(
        scene, "2 loads \u00b7 2 flasks \u00b7 6 castings \u00b7 held back by the crucible"));
    g_assert_null(sample_find_text(scene, "Flask 3"));
    sample.tasks[2].who = 1; // a second pair of hands
    UnitSet units = unit_set_default();
    g_autoptr(Scene) two = timeline_scene(&sample.session, NULL, &units);
    g_assert_nonnull(sample_find_text(two, "Person 2"));
    g_assert_null(sample_find_text(two, "Person"));
}

static void
test_gaps(void)
{
    UnitSet units = unit_set_default();
    SessionResult empty = {.bottleneck = NULL};
    g_autoptr(Scene) nothing = timeline_scene(&empty, NULL, &units);
    g_assert_cmpuint(scene_part_count(nothing), ==, 0);
    SampleSession sample;
    sample_session_fill(&sample);
    sample.tasks[0].end = NAN;
    sample.tasks[1].end = sample.tasks[1].start;
    sample.tasks[3].box = 4000;
    sample.tasks[4].label = NULL;
    sample.curve[2].temperature = NAN;
    sample.session.length = NAN;
    sample.session.hours = NAN;
    g_autoptr(Scene) odd = timeline_scene(&sample.session, &sample.melt, &units);
    g_assert_null(scene_find_part(odd, "task-1"));
    g_assert_null(scene_find_part(odd, "task-2"));
    g_assert_nonnull(scene_find_part(odd, "task-5"));
}

static void
test_pick(void)
{
    SampleSession sample;
    g_autoptr(Scene) scene = draw(&sample);
    PaintView view = paint_fit(scene, 1000, 330, 18);
    for (guint i = 0; i < scene_part_count(scene); i++) {
        const ScenePart *part = scene_part(scene, i);
        for (guint k = 0; k < scene_shape_count(scene); k++) {
            const Shape *shape = scene_shape(scene, k);
            if (g_strcmp0(shape->part, part->id) != 0 || shape->kind != SHAPE_PATH)
                continue;
            SolidPoint min, max;
            double dx, dy;
            sample_shape_box(shape, &min, &max);
            paint_to_device(&view, (min.x + max.x) / 2.0, max.y - 1.0, &dx, &dy);
            const ScenePart *hit = paint_pick(scene, &view, dx, dy, 0.0);
            g_assert_cmpstr(hit ? hit->id : NULL, ==, part->id);
        }
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/timeline/tasks", test_tasks);
    g_test_add_func("/sketch/timeline/overnight", test_overnight);
    g_test_add_func("/sketch/timeline/loads", test_loads);
    g_test_add_func("/sketch/timeline/curve", test_curve);
    g_test_add_func("/sketch/timeline/steps", test_steps);
    g_test_add_func("/sketch/timeline/words", test_words);
    g_test_add_func("/sketch/timeline/gaps", test_gaps);
    g_test_add_func("/sketch/timeline/pick", test_pick);
    return g_test_run();
}
