// SPDX-License-Identifier: GPL-3.0-or-later
// How long the flow of a mould takes: one solve of a network of twelve gates, from nothing and from
// its last solution, and a whole stepped filling. Prints times, asserts nothing.
#include <stdio.h>
#include <stdlib.h>

#include "check.h"
#include "mould/flow.h"

#define GATES 12
#define ROUNDS 400

static int
compare(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

static void
print_times(const char *what, double *seconds, guint n)
{
    qsort(seconds, n, sizeof(double), compare);
    printf("  %-28s p50 %8.1f us   p95 %8.1f us\n", what, 1e6 * seconds[n / 2],
           1e6 * seconds[n * 95 / 100]);
}

static void
make(MouldLayout *l, MouldChannel *gates, MouldChannel *runners)
{
    *l = (MouldLayout){.cope = 0.09,
                       .basin_height = 0.02,
                       .sprue_top_diameter = 0.0181,
                       .sprue_bottom_diameter = 0.0119,
                       .sprue_height = 0.09,
                       .well_diameter = 0.0263,
                       .well_depth = 0.02,
                       .basin_diameter = 0.044,
                       .gates = gates,
                       .n_gates = GATES,
                       .n_cavities = GATES,
                       .runners = runners,
                       .n_runners = 2,
                       .metal_volume = 6e-4};
    runners[0] = (MouldChannel){0.013, 0, 0.2, 0, 0.0151, 0.0151};
    runners[1] = (MouldChannel){-0.013, 0, -0.2, 0, 0.0151, 0.0151};
    for (int i = 0; i < GATES; i++) {
        double x = (i / 2 - 2.5) * 0.061;
        gates[i] = (MouldChannel){x, 0, x, i % 2 ? -0.04 : 0.042, 0.02, 0.0041};
    }
}

int
main(void)
{
    MouldLayout layout;
    MouldChannel gates[GATES], runners[2];
    double cold[ROUNDS], warm[ROUNDS], whole[ROUNDS];
    guint steps = 0, newton = 0;
    make(&layout, gates, runners);
    g_autoptr(MouldLevel) prism = mould_level_prism(3.1e-3, -0.004, 0.006);
    g_autoptr(MouldLevel) level = mould_level_with_post(prism, 5e-4, 0, 0.03);
    g_autoptr(GTimer) timer = g_timer_new();
    g_autoptr(GError) error = NULL;
    for (guint i = 0; i < ROUNDS; i++) {
        g_autoptr(MouldFlow) flow = mould_flow_build(&layout, level);
        g_timer_start(timer);
        mould_network_solve(flow->network, &error);
        cold[i] = g_timer_elapsed(timer, NULL);
        newton = mould_network_steps(flow->network);
        mould_network_set_head(flow->network, flow->gates[i % GATES].outlet, 0.003);
        g_timer_start(timer);
        mould_network_solve(flow->network, &error);
        warm[i] = g_timer_elapsed(timer, NULL);
        g_assert_no_error(error);
        g_timer_start(timer);
        g_autoptr(MouldFlow) fresh = mould_flow_build(&layout, level);
        g_autoptr(MouldFilling) filling = mould_filling_run(fresh, &error);
        whole[i] = g_timer_elapsed(timer, NULL);
        g_assert_no_error(error);
        steps = filling->steps;
    }
    printf("Twelve gates: %u Newton steps, %u steps of a filling\n", newton, steps);
    print_times("one solve, from nothing", cold, ROUNDS);
    print_times("one solve, one level changed", warm, ROUNDS);
    print_times("a whole filling", whole, ROUNDS);
    return 0;
}
