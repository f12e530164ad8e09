// SPDX-License-Identifier: GPL-3.0-or-later
// Planning a casting day: 200 flasks of six jobs in two metals over three furnaces with four
// people, how the time grows with the flasks, how far from the bound the plans are, the plain
// session of one job, packing alone, and planning the rest again. Prints, asserts no times.
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "session/replan.h"
#include "session/result.h"
#include "session/session.h"
#include "timing.h"

#define KINDS 6
#define AIM 10.0 // s, for 200 flasks

static SessionFloor
make_floor(int moulds)
{
    static const double kg[KINDS] = {0.31, 0.47, 0.83, 0.29, 0.61, 1.13};
    static const double ram[KINDS] = {540, 610, 700, 480, 655, 820};
    SessionFloor floor;
    session_floor_init(&floor);
    floor.set_up = 1200;
    floor.closing = 1800;
    floor.charge = 300;
    floor.skim = 240;
    floor.people = 4;
    floor.benches = 4;
    floor.n_metals = 2;
    floor.n_boxes = 3;
    floor.boxes[0] = 14;
    floor.boxes[1] = 12;
    floor.boxes[2] = 9;
    floor.n_furnaces = 3;
    floor.furnaces[0] = (SessionFurnace){.warm_up = 6600, .holds = {4.1}, .melt = {310}};
    floor.furnaces[1] = (SessionFurnace){.warm_up = 5400, .holds = {3.3}, .melt = {360}};
    floor.furnaces[2] = (SessionFurnace){.warm_up = 8100, .holds = {0, 4.7}, .melt = {0, 420}};
    floor.n_kinds = KINDS;
    for (int k = 0; k < KINDS; k++) {
        floor.kinds[k] = (SessionMould){.job = k,
                                        .metal = k >= 4,
                                        .box = k % 3,
                                        .kg = kg[k],
                                        .pour = 40,
                                        .cool = 2700 + 300 * k,
                                        .shake_out = 240,
                                        .worth = 1.8 + 0.3 * k,
                                        .wanted = moulds / KINDS + 1};
        for (int i = 0; i < 4; i++)
            floor.kinds[k].ram[i] = ram[k] * (i == 0 ? 0.35 : i == 1 ? 0.4 : i == 2 ? 0.15 : 0.1);
    }
    // Hours that do not quite hold what is wanted.
    floor.hours = 12000 + moulds * 190.0;
    return floor;
}

static void
measure_day(int moulds, double *seconds)
{
    SessionFloor floor = make_floor(moulds);
    SessionMost most;
    Timing timing = {0};
    Moment start = timing_now();
    g_assert_true(session_floor_most(&floor, &most, NULL, NULL));
    g_autoptr(SessionPlan)
                  plan = session_floor_plan(&floor, most.counts, SESSION_CALM, TRUE, NULL, NULL);
    timing_add(&timing, start);
    *seconds = timing.processor[0];
    printf("  %3d wanted: %3d planned in %2d loads, bound %3d, worth %.1f of %.1f (gap %.1f %%), "
           "%.2f s processor, %.2f s clock\n",
           session_floor_wanted(&floor), most.moulds, plan->loads, most.bound.moulds, most.worth,
           most.bound.worth, 100 * (1 - most.worth / most.bound.worth), timing.processor[0],
           timing.wall[0]);
}

static void
measure_growth(void)
{
    static const int sizes[] = {25, 50, 100, 200, 400};
    double seconds[G_N_ELEMENTS(sizes)];
    printf("a day, six kinds, two metals, three furnaces, four people\n");
    for (guint i = 0; i < G_N_ELEMENTS(sizes); i++)
        measure_day(sizes[i], &seconds[i]);
    for (guint i = 1; i < G_N_ELEMENTS(sizes); i++)
        printf("  from %d to %d: exponent %.2f\n", sizes[i - 1], sizes[i],
               timing_growth(seconds[i], seconds[i - 1], sizes[i], sizes[i - 1]));
    timing_aim("200 flasks", seconds[3], AIM);
}

static void
measure_pack(void)
{
    static const char *const how[] = {"direct", "patterns", "patterns, stopped", "first fit"};
    printf("packing alone\n");
    for (int moulds = 50; moulds <= 400; moulds *= 2) {
        SessionFloor floor = make_floor(moulds);
        int counts[SESSION_MOST_KINDS] = {0};
        for (int k = 0; k < KINDS; k++)
            counts[k] = moulds / KINDS;
        Timing timing = {0};
        g_autoptr(SessionPacking) packing = NULL;
        for (int i = 0; i < 5; i++) {
            Moment start = timing_now();
            g_clear_pointer(&packing, session_packing_free);
            packing = session_pack(&floor, counts, 100, NULL, NULL);
            timing_add(&timing, start);
        }
        printf("  %3d moulds: %2u loads, %.1f h of %.1f h at least, %s, %.4f s\n", moulds,
               packing->loads->len, packing->time / 3600, packing->bound / 3600, how[packing->how],
               timing_median(timing.processor, timing.n));
    }
}

static void
measure_plain(void)
{
    SessionShop shop = {.hours = 32400,
                        .set_up = 1200,
                        .closing = 1800,
                        .warm_up = 7140,
                        .charge = 300,
                        .heat = 2530,
                        .ram = 1800,
                        .skim = 240,
                        .pour = 60,
                        .cool = 3010,
                        .shake_out = 600,
                        .people = 1,
                        .boxes = 4,
                        .flasks_per_load = 2};
    Timing timing = {0};
    int flasks = 0;
    for (int i = 0; i < 5; i++) {
        Moment start = timing_now();
        g_assert_true(session_plan_most(&shop, &flasks, NULL, NULL));
        g_autoptr(SessionPlan) plan = session_plan_of(&shop, flasks, TRUE, NULL, NULL);
        timing_add(&timing, start);
        g_assert_cmpint(plan->flasks, ==, flasks);
    }
    printf("the plain session of one job: %d flasks, at most %d, %.4f s\n", flasks,
           session_plan_bound(&shop), timing_median(timing.processor, timing.n));
}

static void
measure_replan(void)
{
    SessionFloor floor = make_floor(200);
    int counts[SESSION_MOST_KINDS] = {0};
    for (int k = 0; k < KINDS; k++)
        counts[k] = 200 / KINDS;
    g_autoptr(SessionPlan)
                  plan = session_floor_plan(&floor, counts, SESSION_CALM, TRUE, NULL, NULL);
    g_autoptr(SessionResult) result = session_result_new();
    result->hours = floor.hours;
    result->people = floor.people;
    result->furnaces = floor.n_furnaces;
    result->benches = floor.benches;
    result->box_kinds = g_new0(int, 35);
    for (int kind = 0; kind < 3; kind++)
        for (int i = 0; i < floor.boxes[kind]; i++)
            result->box_kinds[result->boxes++] = kind;
    session_result_take(result, plan);
    g_autoptr(GArray) done = g_array_new(FALSE, FALSE, sizeof(SessionDone));
    double now = result->length / 2;
    for (guint i = 0; i < result->n_tasks; i++) {
        const SessionTask *task = &result->tasks[i];
        SessionDone one = {task->key, task->start, task->end <= now ? task->end : NAN, task->who};
        if (task->start <= now)
            g_array_append_val(done, one);
    }
    Timing timing = {0};
    Moment start = timing_now();
    g_autoptr(SessionResult) rest = session_replan(
        result, (const SessionDone *)(gpointer)done->data, done->len, now, NULL, NULL);
    timing_add(&timing, start);
    printf("the rest of %u tasks planned again at half time: %.3f s\n", rest->n_tasks,
           timing.processor[0]);
}

int
main(void)
{
    measure_growth();
    measure_pack();
    measure_plain();
    measure_replan();
    return 0;
}
