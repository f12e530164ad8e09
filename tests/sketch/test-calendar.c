// SPDX-License-Identifier: GPL-3.0-or-later
// The calendar sheet of batches made by hand: every session and due day is there, in its week and
// under its weekday.
#include "sketch/calendar.h"

#include <string.h>

#include "check.h"
#include "sketch/paint.h"

static BatchPour pours[] = {{0, 5, 20, 15.0, 3, 1}, {1, 2, 14, 3.5, 1, 1}, {1, 7, 49, 9.1, 4, 0}};

static guint32
day_of(const char *text)
{
    guint32 day = 0;
    g_assert_true(days_read_date(text, &day, NULL));
    return day;
}

static BatchPlan
make_batch(BatchJob *jobs, BatchSession *sessions)
{
    jobs[0] = (BatchJob){.id = (char *)"bracket",
                         .name = (char *)"Bracket <&> \"long\"",
                         .due = day_of("2026-12-12"),
                         .done = day_of("2026-12-19"),
                         .alone = day_of("2026-12-19"),
                         .late = 7};
    jobs[1] = (BatchJob){.id = (char *)"pawl",
                         .name = (char *)"Pawl",
                         .due = day_of("2027-03-03"),
                         .done = day_of("2027-01-31"),
                         .alone = day_of("2027-01-31"),
                         .late = -31};
    sessions[0] = (BatchSession){.number = 4,
                                 .day = day_of("2026-12-19"),
                                 .from = 540,
                                 .to = 1013,
                                 .hours_end = 1020,
                                 .pours = pours,
                                 .n_pours = 2,
                                 .loads = 3,
                                 .shared = 1,
                                 .held = "sand",
                                 .held_why = (char *)"Sand would bring more."};
    sessions[1] = sessions[0];
    sessions[1].number = 5;
    sessions[1].day = day_of("2027-01-31");
    sessions[1].pours = pours + 2;
    sessions[1].n_pours = 1;
    sessions[1].loads = 4;
    sessions[1].shared = 0;
    sessions[1].held = BATCH_HELD_NOTHING;
    sessions[1].held_why = NULL;
    return (BatchPlan){.first = day_of("2026-12-01"),
                       .units = unit_set_default(),
                       .jobs = jobs,
                       .n_jobs = 2,
                       .sessions = sessions,
                       .n_sessions = 2,
                       .latest = 7};
}

static guint
count_texts(const Scene *scene, const char *words)
{
    guint n = 0;
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        n += shape->kind == SHAPE_TEXT && strstr(shape->text, words);
    }
    return n;
}

static gboolean
has_text(const Scene *scene, const char *words)
{
    return count_texts(scene, words) > 0;
}

static void
test_sheet(void)
{
    BatchJob jobs[2];
    BatchSession sessions[2];
    BatchPlan batch = make_batch(jobs, sessions);
    g_autoptr(Scene) scene = sketch_calendar_scene(&batch);
    static const char *const parts[] = {"session-4", "session-5", "due-bracket", "due-pawl"};
    for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
        g_assert_nonnull(scene_find_part(scene, parts[i]));
    static const char *const texts[] = {"2 sessions",
                                        "ends 2027-01-31",
                                        "1 job late",
                                        "Dec 2026",
                                        "Jan 2027",
                                        "Mar 2027",
                                        "49 × Pawl",
                                        "14 × Pawl",
                                        "Bracket <&>",
                                        "late: Bracket",
                                        "5 weeks without",
                                        "4 weeks without",
                                        "3 loads, 1 shared · held back by the sand",
                                        "4 loads · pours all that is left"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_test_message("%s", texts[i]);
        g_assert_true(has_text(scene, texts[i]));
    }
    // 19 December 2026 is a Saturday, 31 January 2027 a Sunday: that one stands to the right and
    // lower.
    const ScenePart *first = scene_find_part(scene, "session-4");
    const ScenePart *second = scene_find_part(scene, "session-5");
    g_assert_cmpfloat(second->min.x, >, first->max.x);
    g_assert_cmpfloat(second->min.y, >, first->max.y);
    g_assert_nonnull(strstr(first->description, "09:00 to 16:53"));
    g_assert_nonnull(strstr(first->description, "Pawl: 2 flasks, 14 castings"));
    g_assert_nonnull(strstr(first->description, "by the sand. Sand would bring more."));
    const ScenePart *due = scene_find_part(scene, "due-bracket");
    g_assert_nonnull(strstr(due->description, "7 days late"));
    g_assert_cmpfloat(due->max.y, <=, first->min.y + 1);
}

// Jobs without an end say so: in the head, at their due day and in a line of their own each.
static void
test_left(void)
{
    BatchJob jobs[2];
    BatchSession sessions[2];
    BatchPlan batch = make_batch(jobs, sessions);
    jobs[0].why = (char *)"no room on 2 free days for 3 of its 8 flasks; give more";
    jobs[0].flasks = 8;
    jobs[0].left = 3;
    jobs[0].done = 0;
    jobs[0].late = G_MININT;
    jobs[1].why = (char *)"gone.stl: no such file; choose another";
    jobs[1].due = 0;
    g_autoptr(Scene) scene = sketch_calendar_scene(&batch);
    static const char *const texts[] = {"2 jobs left out or not finished", "not done: Bracket",
                                        "is not finished: no room on 2",
                                        "Pawl is left out: gone.stl"};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_test_message("%s", texts[i]);
        g_assert_true(has_text(scene, texts[i]));
    }
    g_assert_false(has_text(scene, "every due day"));
    g_assert_false(has_text(scene, "Pawl due"));
    const ScenePart *first = scene_find_part(scene, "left-bracket");
    const ScenePart *second = scene_find_part(scene, "left-pawl");
    g_assert_cmpfloat(first->min.y, >, scene_find_part(scene, "session-5")->max.y - 1);
    g_assert_cmpfloat(second->min.y, >, first->min.y);
    g_assert_nonnull(strstr(scene_find_part(scene, "due-bracket")->description, "no room"));
}

static void
test_empty(void)
{
    BatchPlan batch = {.first = 739001, .units = unit_set_default(), .latest = G_MININT};
    g_autoptr(Scene) scene = sketch_calendar_scene(&batch);
    g_assert_true(has_text(scene, "nothing is left to cast"));
    SolidPoint min, max;
    scene_box(scene, &min, &max);
    g_assert_true(isfinite(min.x) && isfinite(max.y));
}

// So many weeks that not all are drawn.
static void
test_long(void)
{
    BatchJob jobs[2];
    BatchSession two[2];
    BatchPlan batch = make_batch(jobs, two);
    g_autofree BatchSession *sessions = g_new0(BatchSession, 300);
    for (guint i = 0; i < 300; i++) {
        sessions[i] = two[0];
        sessions[i].number = (int)i + 1;
        sessions[i].day = two[0].day + 7 * i;
        sessions[i].n_pours = 1 + i % 2;
    }
    batch.sessions = sessions;
    batch.n_sessions = 300;
    g_autoptr(Scene) scene = sketch_calendar_scene(&batch);
    g_assert_true(has_text(scene, "more weeks"));
    // Rows have no line for it, so it stands in a block that has the day for itself.
    g_assert_cmpuint(count_texts(scene, "held back by the sand"), ==,
                     (count_texts(scene, "20 ×") + 1) / 2);
    g_assert_nonnull(
        strstr(scene_find_part(scene, "session-2")->description, "held back by the sand"));
    g_assert_nonnull(scene_find_part(scene, "session-100"));
    g_assert_null(scene_find_part(scene, "session-300"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/calendar/sheet", test_sheet);
    g_test_add_func("/sketch/calendar/left", test_left);
    g_test_add_func("/sketch/calendar/empty", test_empty);
    g_test_add_func("/sketch/calendar/long", test_long);
    return g_test_run();
}
