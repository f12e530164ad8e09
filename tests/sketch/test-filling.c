// SPDX-License-Identifier: GPL-3.0-or-later
// The chart of the filling: points lie where time and speed say, gates that run alike share a line,
// lines differ by their dashes, words at their ends lie apart, and the limit is drawn.
#include <string.h>

#include "check.h"
#include "sample.h"
#include "sketch/filling.h"
#include "sketch/view.h"

// Four instants, three gates of 40 mm2: the first two alike, the third slower and longer.
#define TIMES 4
static double times[TIMES] = {1.0, 2.0, 3.0, 4.0};
static double flows[TIMES * 3] = {16e-6, 16.1e-6, 12e-6, 16e-6, 16.1e-6, 12e-6,
                                  8e-6,  8e-6,    12e-6, 0,     0,       10e-6};
static MouldChannel gates[3] = {
    {0, 0, 0, 0.01, 0.01, 0.004}, {0, 0, 0, 0.01, 0.01, 0.004}, {0, 0, 0, 0.01, 0.01, 0.004}};
static MouldFilling filling = {.n_gates = 3,
                               .n_cavities = 3,
                               .n_times = TIMES,
                               .times = times,
                               .flows = flows,
                               .time = 4.0,
                               .prime_time = 1.0};
static const MouldLayout layout = {.gates = gates, .n_gates = 3, .filling = &filling};

static void
count_line(const Scene *scene, const char *part, guint *n, SolidPoint *min, SolidPoint *max)
{
    *n = 0;
    *min = (SolidPoint){INFINITY, INFINITY};
    *max = (SolidPoint){-INFINITY, -INFINITY};
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *s = scene_shape(scene, i);
        if (s->kind != SHAPE_PATH || g_strcmp0(s->part, part) != 0)
            continue;
        ++*n;
        SolidPoint a, b;
        sample_shape_box(s, &a, &b);
        *min = (SolidPoint){fmin(min->x, a.x), fmin(min->y, a.y)};
        *max = (SolidPoint){fmax(max->x, b.x), fmax(max->y, b.y)};
    }
}

static void
test_lines(void)
{
    UnitSet units = unit_set_default();
    g_autoptr(Scene) scene = filling_scene(&layout, 0.5, &units);
    // Both ends of the scales, by the ticks: 0 and 0.5 m/s, 0 and 4 s.
    const Shape *none = sample_find_text(scene, "0 m/s"),
                *half = sample_find_text(scene, "0.500 m/s");
    const Shape *start = sample_find_text(scene, "0"), *end = sample_find_text(scene, "4 s");
    g_assert_true(none && half && start && end);
    double up = (half->points[0].y - none->points[0].y) / 0.5;
    double along = (end->points[0].x - start->points[0].x) / 4;
    guint n[2];
    SolidPoint min[2], max[2];
    for (int i = 0; i < 2; i++)
        count_line(scene, i ? "gates-2" : "gates-1", &n[i], &min[i], &max[i]);
    // 16 cm3/s through 40 mm2 are 0.4 m/s.
    check_close(max[0].y - none->points[0].y, 0.4 * up, 1e-6, "flow over area");
    check_close(max[1].y - none->points[0].y, 0.3 * up, 1e-6, "flow over area");
    check_close(min[0].y, none->points[0].y, 1e-6, "it stops");
    check_close(min[0].x - start->points[0].x, along, 1e-6, "from 1 s");
    check_close(max[1].x - min[1].x, 3 * along, 1e-6, "to 4 s");
    // Told apart without colour: one whole line, one of many dashes, and words at their ends.
    g_assert_cmpuint(n[0], ==, 1);
    g_assert_cmpuint(n[1], >, 5);
    const Shape *first = sample_find_text(scene, "Gates 1, 2"),
                *second = sample_find_text(scene, "Gate 3");
    g_assert_true(first && second);
    g_assert_cmpfloat(fabs(first->points[0].y - second->points[0].y), >, 4);
    g_assert_cmpfloat(first->points[0].x, >, max[1].x);
    g_assert_nonnull(strstr(scene_find_part(scene, "gates-2")->description, "0.300 m/s"));
    // Flow beside the speed: 0.5 m/s are 20 cm3/s.
    g_assert_nonnull(sample_find_text(scene, "20 cm³/s") ? sample_find_text(scene, "20 cm³/s")
                                                         : sample_find_text(scene, "20.0 cm³/s"));
    const Shape *limit = sample_find_shape(scene, SHAPE_PATH, ROLE_CUTTING, "limit");
    check_close(limit->points[0].y, half->points[0].y, 1e-9, "at 0.5 m/s");
    g_assert_nonnull(sample_find_text(scene, "limit 0.500 m/s"));
}

static void
test_many_and_none(void)
{
    UnitSet units = unit_set_default();
    units.inches = TRUE;
    g_autoptr(Scene) scene = filling_scene(&layout, NAN, &units);
    g_assert_null(sample_find_shape(scene, SHAPE_PATH, ROLE_CUTTING, "limit"));
    MouldLayout empty = {.gates = gates, .n_gates = 3};
    g_assert_null(filling_scene(&empty, 0.5, &units));
    // Twelve gates that all differ, ending at the same place: words stay apart and on the sheet.
    enum {
        MANY = 12
    };
    double all[TIMES * MANY];
    MouldChannel channels[MANY];
    for (int g = 0; g < MANY; g++) {
        channels[g] = (MouldChannel){0, 0, 0, 0.01, 0.01, 0.004 + 1e-4 * g};
        for (int t = 0; t < TIMES; t++)
            all[t * MANY + g] = t + 1 == TIMES ? 4e-6 : (8 + g) * 1e-6;
    }
    MouldFilling many = filling;
    many.flows = all;
    many.n_gates = MANY;
    many.time = NAN;
    const MouldLayout wide = {.gates = channels, .n_gates = MANY, .filling = &many};
    g_autoptr(Scene) crowd = filling_scene(&wide, 0.5, &units);
    g_autoptr(GArray) heights = g_array_new(FALSE, FALSE, sizeof(double));
    SolidPoint min, max;
    scene_box(crowd, &min, &max);
    for (guint i = 0; i < scene_shape_count(crowd); i++) {
        const Shape *s = scene_shape(crowd, i);
        if (s->kind != SHAPE_TEXT || !s->part || !g_str_has_prefix(s->part, "gates-"))
            continue;
        for (guint k = 0; k < heights->len; k++)
            g_assert_cmpfloat(fabs(s->points[0].y - g_array_index(heights, double, k)), >, 4);
        g_array_append_val(heights, s->points[0].y);
        g_assert_cmpfloat(s->points[0].y, <, max.y - 2);
    }
    g_assert_cmpuint(heights->len, >, 8);
    g_assert_null(sample_find_text(crowd, "Flow"));
}

static void
test_names(void)
{
    g_assert_true(sketch_is_view("filling") && sketch_is_view("modulus") && sketch_is_view("drag"));
    g_assert_false(sketch_is_view("casting") || sketch_is_view(""));
    g_assert_false(sketch_view_has_size("filling"));
    g_assert_true(sketch_view_has_size("modulus"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/filling/lines", test_lines);
    g_test_add_func("/sketch/filling/many-and-none", test_many_and_none);
    g_test_add_func("/sketch/filling/names", test_names);
    return g_test_run();
}
