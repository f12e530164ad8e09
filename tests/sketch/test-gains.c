// SPDX-License-Identifier: GPL-3.0-or-later
// The bars of what more would bring: as long as the numbers say, each with words and a number, and
// what holds the session back told by words.
#include "sketch/gains.h"

#include <string.h>

#include "check.h"
#include "sample.h"
#include "sketch/view.h"

static const Shape *
find_bar(const Scene *scene, const char *part)
{
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->kind == SHAPE_PATH && g_strcmp0(shape->part, part) == 0)
            return shape;
    }
    return NULL;
}

static double
get_length(const Shape *bar)
{
    double low = INFINITY, high = -INFINITY;
    for (guint i = 0; i < bar->n_points; i++) {
        low = MIN(low, bar->points[i].x);
        high = MAX(high, bar->points[i].x);
    }
    return high - low;
}

static void
test_bars(void)
{
    SketchGains gains = {
        .now = 24,
        .gain = {[SESSION_MORE_FLASK] = 6, [SESSION_MORE_HOUR] = 9, [SESSION_MORE_FURNACE] = 1},
        .which = SESSION_MORE_HOUR,
        .note = "One more hour would bring 3 more flasks a session."};
    g_autoptr(Scene) scene = gains_scene(&gains);
    g_assert_cmpuint(scene_part_count(scene), ==, SESSION_MORE_COUNT);
    double most = get_length(find_bar(scene, "more-hour"));
    check_close(get_length(find_bar(scene, "more-flask")) / most, 6.0 / 9, 1e-12, "six of nine");
    check_close(get_length(find_bar(scene, "more-furnace")) / most, 1.0 / 9, 1e-12, "one of nine");
    g_assert_null(find_bar(scene, "more-person"));
    const ScenePart *hour = scene_find_part(scene, "more-hour");
    g_assert_cmpstr(hour->label, ==, "One more hour");
    g_assert_nonnull(strstr(hour->description, "+9 castings, 33 in all"));
    g_assert_nonnull(strstr(hour->description, "the most of all"));
    g_assert_cmpstr(hour->figure, ==, "run.gain_hour");
    g_assert_cmpstr(scene_find_part(scene, "more-flask")->description, ==,
                    "+6 castings, 30 in all");
    g_assert_cmpstr(scene_find_part(scene, "more-furnace")->description, ==,
                    "+1 casting, 25 in all");
    g_assert_cmpstr(scene_find_part(scene, "more-person")->description, ==, "nothing more");
    g_assert_nonnull(sample_find_text(scene, "Now 24 castings a session; one change at a time."));
    g_assert_nonnull(sample_find_text(scene, gains.note));
}

// Nothing helps: no bar, and every row says so.
static void
test_nothing(void)
{
    SketchGains gains = {.now = 0, .which = SESSION_MORE_COUNT};
    g_autoptr(Scene) scene = gains_scene(&gains);
    for (guint i = 0; i < scene_part_count(scene); i++) {
        const ScenePart *part = scene_part(scene, i);
        g_assert_null(find_bar(scene, part->id));
        g_assert_cmpstr(part->description, ==, "nothing more");
    }
    g_assert_true(sketch_is_view("gains"));
    g_assert_false(sketch_view_has_size("gains"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/gains/bars", test_bars);
    g_test_add_func("/sketch/gains/nothing", test_nothing);
    return g_test_run();
}
