// SPDX-License-Identifier: GPL-3.0-or-later
// How long the flow of a mould takes: one solve of a network of twelve and of many gates, from
// nothing and from its last solution, and a whole stepped filling. Prints times, asserts nothing.
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "check.h"
#include "mould/flow.h"

#define MOST_GATES 64
#define ROUNDS 100

static int
compare(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

// Of this thread alone, so that a busy machine does not count.
static double
seconds_used(void)
{
    struct timespec now;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void
print_times(const char *what, double *seconds, guint n)
{
    qsort(seconds, n, sizeof(double), compare);
    printf("  %-28s p50 %8.1f us   p95 %8.1f us\n", what, 1e6 * seconds[n / 2],
           1e6 * seconds[n * 95 / 100]);
}

static void
make(MouldLayout *l, MouldChannel *gates, guint n, MouldChannel *runners)
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
                       .n_gates = n,
                       .n_cavities = n,
                       .runners = runners,
                       .n_runners = 2,
                       .metal_volume = 5e-5 * n};
    runners[0] = (MouldChannel){0.013, 0, 0.4, 0, 0.0151, 0.0151};
    runners[1] = (MouldChannel){-0.013, 0, -0.4, 0, 0.0151, 0.0151};
    for (int i = 0; i < (int)n; i++) {
        double x = (i / 2 - (n / 2 - 1) / 2.0) * 0.061;
        gates[i] = (MouldChannel){x, 0, x, i % 2 ? -0.04 : 0.042, 0.02, 0.0041};
    }
}

static void
bench(guint n)
{
    MouldLayout layout;
    MouldChannel gates[MOST_GATES], runners[2];
    double cold[ROUNDS], warm[ROUNDS], whole[ROUNDS];
    guint steps = 0, newton = 0;
    double start;
    make(&layout, gates, n, runners);
    g_autoptr(MouldLevel) prism = mould_level_prism(3.1e-3, -0.004, 0.006);
    g_autoptr(MouldLevel) level = mould_level_with_post(prism, 5e-4, 0, 0.03);
    g_autoptr(GError) error = NULL;
    for (guint i = 0; i < ROUNDS; i++) {
        g_autoptr(MouldFlow) flow = mould_flow_build(&layout, level, NULL);
        start = seconds_used();
        mould_network_solve(flow->network, &error);
        cold[i] = seconds_used() - start;
        newton = mould_network_steps(flow->network);
        mould_network_set_head(flow->network, flow->gates[i % n].outlet, 0.003);
        start = seconds_used();
        mould_network_solve(flow->network, &error);
        warm[i] = seconds_used() - start;
        g_assert_no_error(error);
        start = seconds_used();
        g_autoptr(MouldFlow) fresh = mould_flow_build(&layout, level, NULL);
        g_autoptr(MouldFilling) filling = mould_filling_run(fresh, NULL, &error);
        whole[i] = seconds_used() - start;
        g_assert_no_error(error);
        steps = filling->steps;
    }
    printf("%u gates: %u Newton steps, %u steps of a filling\n", n, newton, steps);
    print_times("one solve, from nothing", cold, ROUNDS);
    print_times("one solve, one level changed", warm, ROUNDS);
    print_times("a whole filling", whole, ROUNDS);
}

int
main(void)
{
    bench(12);
    bench(MOST_GATES);
    return 0;
}
