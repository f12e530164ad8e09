// SPDX-License-Identifier: GPL-3.0-or-later
// The curves of several furnaces: told apart by the kind of line, named at their ends without one
// name on another, and of many the one looked at in full.
#include "check.h"
#include "sample.h"
#include "sketch/theme.h"

static UnitSet units;

// A session of so many furnaces, one curve for each: 10 min apart, 60 K apart.
static SessionResult *
make_session(int furnaces)
{
    SessionResult *session = sample_long(4 * furnaces, 2, furnaces, 2, 12);
    for (guint i = 0; i < session->n_curve; i++)
        g_free(session->curve[i].prompt);
    g_free(session->curve);
    session->n_curve = 3 * (guint)furnaces;
    session->curve = g_new0(SessionFurnacePoint, session->n_curve);
    for (guint i = 0; i < session->n_curve; i++) {
        guint furnace = i % (guint)furnaces, k = i / (guint)furnaces;
        session->curve[i] = (SessionFurnacePoint){
            .at = k == 2 ? session->length : 1200.0 + 600.0 * furnace + 5400.0 * k,
            .temperature = k == 0 ? 20.0 : 700.0 - 60.0 * furnace - (k == 2 ? 300.0 : 0.0),
            .furnace = (int)furnace};
    }
    return session;
}

static TimelineLook
look_of(double width, double height)
{
    return (TimelineLook){.width = width, .height = height, .now = NAN};
}

static guint
count_lines(const Scene *scene, SceneRole role)
{
    guint n = 0;
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        n += shape->kind == SHAPE_PATH && shape->role == role && shape->stroked;
    }
    return n;
}

static void
test_kinds(void)
{
    static const SceneRole roles[] = {ROLE_CURVE, ROLE_CURVE_2, ROLE_CURVE_3};
    SessionResult *session = make_session(3);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    TimelineLook look = look_of(1113, 717);
    TimelineFrame frame = timeline_frame(chart, &look);
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    for (guint i = 0; i < 3; i++) {
        g_assert_cmpuint(count_lines(scene, roles[i]), ==, 1);
        const Shape *line = sample_find_shape(scene, SHAPE_PATH, roles[i], NULL);
        g_assert_false(line->filled); // several grounds would hide one another
        g_assert_cmpuint(line->n_points, ==, 3);
        check_close(timeline_at(&frame, line->points[0].x), 1200 + 600.0 * i, 1e-9, "its own time");
        // Names stand at the ends, in the order of the curves.
        g_autofree char *number = g_strdup_printf("%u", i + 1);
        const Shape *name = NULL;
        for (guint k = 0; k < scene_shape_count(scene); k++) {
            const Shape *text = scene_shape(scene, k);
            if (text->kind == SHAPE_TEXT && text->points[0].x > frame.right &&
                g_str_equal(text->text, number))
                name = text;
        }
        g_assert_nonnull(name);
        g_assert_cmpfloat(fabs(name->points[0].y - line->points[2].y), <, 22);
    }
    for (ThemeKind kind = THEME_LIGHT; kind <= THEME_PAPER; kind++) {
        const Theme *theme = theme_get(kind);
        g_assert_cmpint(theme->role[ROLE_CURVE].n_dash, ==, 0);
        g_assert_cmpint(theme->role[ROLE_CURVE_2].n_dash, ==, 2);
        g_assert_cmpint(theme->role[ROLE_CURVE_3].n_dash, ==, 4);
    }
    // Three can be told apart, so looking at one changes nothing.
    TimelineFocus focus = {G_MAXUINT, G_MAXUINT, chart->bars[0].task, G_MAXUINT, 0, G_MAXUINT};
    g_autoptr(Scene) over = timeline_overlay(chart, &frame, &focus);
    g_assert_null(sample_find_shape(over, SHAPE_PATH, ROLE_CURVE, NULL));
    sample_long_free(session);
}

// No name on another, none outside the curves' height, at any size.
static void
test_names(void)
{
    static const double heights[] = {215, 331, 717, 1313};
    static const char *const words[] = {
        "old", "new", "a name far too long for the space beside it", "d", "e", "f", "g", "h", NULL};
    for (int furnaces = 2; furnaces <= 8; furnaces += 3) {
        SessionResult *session = make_session(furnaces);
        session->furnace_names = (char **)words;
        g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
        for (guint h = 0; h < G_N_ELEMENTS(heights); h++) {
            TimelineLook look = look_of(913, heights[h]);
            TimelineFrame frame = timeline_frame(chart, &look);
            g_autoptr(Scene) scene = timeline_draw(chart, &look);
            g_autoptr(GArray) ys = g_array_new(FALSE, FALSE, sizeof(double));
            for (guint k = 0; k < scene_shape_count(scene); k++) {
                const Shape *text = scene_shape(scene, k);
                if (text->kind != SHAPE_TEXT || text->points[0].x <= frame.right ||
                    text->points[0].y > frame.curve_bottom || text->points[0].y < frame.curve_top)
                    continue;
                g_assert_cmpfloat(text->room_x, <=, frame.width - text->points[0].x);
                for (guint i = 0; i < ys->len; i++)
                    g_assert_cmpfloat(fabs(g_array_index(ys, double, i) - text->points[0].y), >=,
                                      11 - 1e-9);
                g_array_append_val(ys, text->points[0].y);
            }
            g_test_message("%d furnaces, %g high: %u names", furnaces, heights[h], ys->len);
            g_assert_cmpuint(ys->len, <=, (guint)furnaces);
            if (heights[h] > 700)
                g_assert_cmpuint(ys->len, ==, (guint)furnaces);
        }
        g_assert_cmpstr(chart->rows[1].label, ==, "Furnace 2, new");
        sample_long_free(session);
    }
}

static void
test_many(void)
{
    SessionResult *session = make_session(5);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    TimelineLook look = look_of(1113, 717);
    TimelineFrame frame = timeline_frame(chart, &look);
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    g_assert_cmpuint(count_lines(scene, ROLE_CURVE_N), ==, 5);
    g_assert_cmpuint(count_lines(scene, ROLE_CURVE), ==, 0);
    for (guint i = 0; i < chart->n_bars; i++) {
        const SessionTask *task = &session->tasks[chart->bars[i].task];
        TimelineFocus focus = {G_MAXUINT, G_MAXUINT, chart->bars[i].task, G_MAXUINT, 0, G_MAXUINT};
        g_autoptr(Scene) over = timeline_overlay(chart, &frame, &focus);
        g_assert_cmpuint(count_lines(over, ROLE_CURVE), ==, task->furnace >= 0);
        if (task->furnace < 0)
            continue;
        const Shape *line = sample_find_shape(over, SHAPE_PATH, ROLE_CURVE, NULL);
        check_close(timeline_at(&frame, line->points[0].x), 1200 + 600.0 * task->furnace, 1e-9,
                    "that of its furnace");
        g_autofree char *number = g_strdup_printf("%d", task->furnace + 1);
        g_assert_true(sample_find_text(over, number)->strong);
    }
    sample_long_free(session);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    units = unit_set_default();
    g_test_add_func("/sketch/timeline-heat/kinds", test_kinds);
    g_test_add_func("/sketch/timeline-heat/names", test_names);
    g_test_add_func("/sketch/timeline-heat/many", test_many);
    return g_test_run();
}
