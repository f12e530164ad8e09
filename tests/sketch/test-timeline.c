// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.h"
#include "sample.h"
#include "sketch/brush.h"
#include "sketch/paint.h"

static UnitSet units;

static TimelineChart *
chart_of(SampleSession *sample)
{
    units = unit_set_default();
    sample_session_fill(sample);
    return timeline_chart_new(&sample->session, &sample->melt, &units);
}

static TimelineLook
look_of(double width, double height)
{
    return (TimelineLook){.width = width, .height = height, .now = NAN, .parts = TRUE};
}

static void
test_tasks(void)
{
    SampleSession sample;
    g_autoptr(TimelineChart) chart = chart_of(&sample);
    TimelineLook look = look_of(911, 433);
    TimelineFrame frame = timeline_frame(chart, &look);
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    SolidPoint min, max;
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_RAM, "task-3"), &min, &max);
    check_close(timeline_at(&frame, min.x), 17.5 * 60, 1e-9, "minutes of the sample");
    check_close(timeline_at(&frame, max.x), 46.0 * 60, 1e-9, "minutes of the sample");
    // A pour takes furnace, person and box: three blocks, one above the other.
    int blocks = 0;
    double last = -INFINITY;
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
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
                    "takes flask 1; after Melt load 1, done at 2:43");
    g_assert_cmpstr(part->figure, ==, "mould.fill_time");
    g_assert_true(scene_stretches(scene));
    g_assert_true(scene_y_down(scene));
}

// What cools overnight is cut off at the end of the session, and its words tell the truth.
static void
test_overnight(void)
{
    SampleSession sample;
    g_autoptr(TimelineChart) chart = chart_of(&sample);
    g_autoptr(Scene) scene = timeline_scene(&sample.session, &sample.melt, &units, NAN);
    check_close(chart->length, 233 * 60, 1e-12, "to the session's end");
    const TimelineBar *bar = &chart->bars[chart->first_bar[9]];
    check_close(bar->end, 233 * 60, 1e-12, "to the session's end");
    const ScenePart *part = scene_find_part(scene, "task-10");
    g_assert_true(g_str_has_prefix(part->description, "3:33 to 15:00"));
}

static void
test_loads(void)
{
    SampleSession sample;
    g_autoptr(TimelineChart) chart = chart_of(&sample);
    TimelineLook look = look_of(911, 433);
    TimelineFrame frame = timeline_frame(chart, &look);
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    const ScenePart *load = scene_find_part(scene, "load-2");
    g_assert_cmpstr(load->label, ==, "Load 2");
    g_assert_cmpstr(load->description, ==, "2:47 to 3:33; fills 1 flask");
    g_assert_cmpstr(load->figure, ==, "melt.flasks_per_load");
    SolidPoint min, max, flask_min, flask_max;
    sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_MELT, "load-2"), &min, &max);
    check_close(timeline_at(&frame, min.x), 166.5 * 60, 1e-9, "from charging");
    check_close(timeline_at(&frame, max.x), 212.5 * 60, 1e-9, "to the last pour");
    // The flask lies in the load, and picking it finds its pour.
    const Shape *flask = sample_find_shape(scene, SHAPE_PATH, ROLE_POUR, "load-2");
    sample_shape_box(flask, &flask_min, &flask_max);
    g_assert_true(flask_min.x > min.x && flask_max.x < max.x);
    g_assert_true(flask_min.y > min.y && flask_max.y < max.y);
    guint bar = timeline_pick(chart, &frame, (flask_min.x + flask_max.x) / 2, flask_min.y + 2);
    g_assert_cmpuint(chart->bars[bar].task, ==, 8);
    g_assert_null(scene_find_part(scene, "load-3"));
}

static void
test_curve(void)
{
    SampleSession sample;
    g_autoptr(TimelineChart) chart = chart_of(&sample);
    TimelineLook look = look_of(1087, 758);
    TimelineFrame frame = timeline_frame(chart, &look);
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    const Shape *curve = sample_find_shape(scene, SHAPE_PATH, ROLE_CURVE, NULL);
    g_assert_true(curve->filled);
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->kind == SHAPE_PATH && shape->role == ROLE_CURVE && shape->stroked)
            curve = shape;
    }
    g_assert_cmpuint(curve->n_points, ==, SAMPLE_CURVE);
    check_close(timeline_at(&frame, curve->points[3].x), 121.0 * 60, 1e-9, "minutes");
    // Heights go with the temperatures.
    double per_kelvin = (curve->points[1].y - curve->points[3].y) / (780.0 - 300.0);
    check_close((curve->points[4].y - curve->points[3].y) / per_kelvin, 780.0 - 741.0, 1e-9,
                "linear");
    g_assert_nonnull(sample_find_text(scene, "0:18\u2002Set 300"));
    g_assert_nonnull(sample_find_text(scene, "1:15\u2002Set 780"));
    g_assert_nonnull(sample_find_text(scene, "200 \u00b0C"));
    g_assert_null(sample_find_text(scene, "0:18\u2002Step one"));
    // Zoomed in, the curve ends where the drawing does.
    look.scale = 0.3;
    look.from = 4000;
    frame = timeline_frame(chart, &look);
    g_autoptr(Scene) part = timeline_draw(chart, &look);
    for (guint i = 0; i < scene_shape_count(part); i++) {
        const Shape *shape = scene_shape(part, i);
        for (guint k = 0; shape->role == ROLE_CURVE && k < shape->n_points; k++) {
            g_assert_cmpfloat(shape->points[k].x, >=, frame.left - 1e-9);
            g_assert_cmpfloat(shape->points[k].x, <=, frame.right + 1e-9);
        }
    }
}

// A curve without prompts takes those of the warm-up, from where the warm-up starts.
static void
test_steps(void)
{
    SampleSession sample;
    sample_session_fill(&sample);
    units = unit_set_default();
    units.fahrenheit = TRUE;
    for (guint i = 0; i < SAMPLE_CURVE; i++)
        sample.curve[i].prompt = NULL;
    g_autoptr(Scene) scene = timeline_scene(&sample.session, &sample.melt, &units, NAN);
    g_assert_nonnull(sample_find_text(scene, "0:18\u2002Step one"));
    g_assert_nonnull(sample_find_text(scene, "1:15\u2002Step two")); // 17.5 + 57.5 min
    g_assert_nonnull(sample_find_text(scene, "500 \u00b0F"));
    g_autoptr(Scene) bare = timeline_scene(&sample.session, NULL, &units, NAN);
    g_assert_cmpuint(scene_shape_count(bare), <, scene_shape_count(scene));
}

static void
test_words(void)
{
    SampleSession sample;
    sample_session_fill(&sample);
    units = unit_set_default();
    g_autoptr(Scene) scene = timeline_scene(&sample.session, &sample.melt, &units, NAN);
    static const char *const texts[] = {
        "Session", "Furnace", "Person",         "Flask 1",   "Flask 2", "Loads",    "0:00",
        "3:00",    "Set up",  "Hours end 3:45", "Shake out", "Waits",   "idle 16 %"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        gboolean there = sample_find_text(scene, texts[i]) != NULL;
        if (g_str_equal(texts[i], "Shake out"))
            g_assert_false(there); // none in this session
        else if (!there)
            g_error("no \"%s\"", texts[i]);
    }
    g_assert_nonnull(sample_find_text(
        scene, "2 loads \u00b7 2 flasks \u00b7 6 castings \u00b7 held back by the crucible"));
    g_assert_null(sample_find_text(scene, "Flask 3"));
    g_assert_null(sample_find_shape(scene, SHAPE_PATH, ROLE_NOW, NULL));
    sample.tasks[2].who = 1; // a second pair of hands
    sample.session.people = 2;
    sample.tasks[7].furnace = 1;
    sample.session.furnaces = 2;
    g_autoptr(Scene) two = timeline_scene(&sample.session, NULL, &units, 7777);
    g_assert_nonnull(sample_find_text(two, "Person 2"));
    g_assert_nonnull(sample_find_text(two, "Furnace 2"));
    g_assert_nonnull(sample_find_text(two, "Loads 2"));
    g_assert_null(sample_find_text(two, "Person"));
    g_assert_nonnull(sample_find_text(two, "Now 2:10"));
    g_assert_nonnull(strstr(scene_find_part(two, "task-3")->description, "takes person 2"));
    g_assert_nonnull(strstr(scene_find_part(two, "task-8")->description, "takes furnace 2"));
}

static void
test_gaps(void)
{
    units = unit_set_default();
    SessionResult empty = {.bottleneck = NULL};
    g_autoptr(Scene) nothing = timeline_scene(&empty, NULL, &units, NAN);
    g_assert_cmpuint(scene_part_count(nothing), ==, 0);
    SampleSession sample;
    sample_session_fill(&sample);
    sample.tasks[0].end = NAN;
    sample.tasks[1].end = sample.tasks[1].start;
    sample.tasks[3].box = G_MAXINT;
    sample.tasks[4].label = NULL;
    sample.tasks[5].load = G_MAXINT;
    sample.tasks[8].load = -1;
    sample.curve[2].temperature = NAN;
    sample.session.length = NAN;
    sample.session.hours = NAN;
    g_autoptr(Scene) odd = timeline_scene(&sample.session, &sample.melt, &units, INFINITY);
    g_assert_null(scene_find_part(odd, "task-1"));
    g_assert_null(scene_find_part(odd, "task-2"));
    g_assert_cmpstr(scene_find_part(odd, "task-5")->label, ==, "Melt 1");
    // Places of no size are drawn in, too.
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    TimelineLook look = look_of(0, 0);
    g_autoptr(Scene) none = timeline_draw(chart, &look);
    g_assert_nonnull(none);
}

static void
test_pick(void)
{
    SampleSession sample;
    g_autoptr(TimelineChart) chart = chart_of(&sample);
    TimelineLook look = look_of(1000, 330);
    TimelineFrame frame = timeline_frame(chart, &look);
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    PaintView view = {1, 1, 0, 0, 1000, 330, TRUE};
    for (guint i = 0; i < chart->n_bars; i++) {
        SolidPoint min, max;
        g_assert_true(timeline_bar_box(chart, &frame, i, &min, &max));
        double x = (min.x + max.x) / 2.0, y = (min.y + max.y) / 2.0;
        g_assert_cmpuint(timeline_pick(chart, &frame, x, y), ==, i);
        // What is drawn is what is hit.
        g_autofree char *id = g_strdup_printf("task-%u", chart->bars[i].task + 1);
        const ScenePart *hit = paint_pick(scene, &view, x, y, 0.0);
        g_assert_cmpstr(hit ? hit->id : NULL, ==, id);
    }
    g_assert_cmpuint(timeline_pick(chart, &frame, 2, 2), ==, G_MAXUINT);
    g_assert_cmpuint(timeline_pick(chart, &frame, 500, 2000), ==, G_MAXUINT);
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
