// SPDX-License-Identifier: GPL-3.0-or-later
// The full search for the pull: how soon a part of a hundred thousand triangles has its first
// ranking and all of it, and how that grows with triangles, directions and resolution. Growth is by
// processor time, which a busy machine disturbs less. Nothing is asserted.
#include "bumpy.h"
#include "part/search.h"
#include "timing.h"

#define RUNS 3

typedef struct {
    Moment start;
    Timing first, all;
} Watch;

static void
note_first(const SearchResult *first, gpointer data)
{
    Watch *watch = data;
    timing_add(&watch->first, watch->start);
}

static Watch
time_search(const SolidMesh *mesh, const SearchEffort *effort, SearchResult *result)
{
    const EnvelopeOptions o = {.draft = 0.035, .allowance = 0.002};
    Watch watch = {.start = {0, 0}};
    for (int run = 0; run < RUNS; run++) {
        g_autoptr(GError) error = NULL;
        watch.start = timing_now();
        if (!search_pulls_with(mesh, &o, effort, result, note_first, &watch, NULL, &error))
            g_error("%s", error->message);
        timing_add(&watch.all, watch.start);
    }
    return watch;
}

static void
print_growth(const char *what, double size, double size_before, const Watch *now,
             const Watch *before)
{
    double time[2][2] = {
        {timing_least(before->first.processor, RUNS), timing_least(before->all.processor, RUNS)},
        {timing_least(now->first.processor, RUNS), timing_least(now->all.processor, RUNS)}};
    g_print("    %s times %.2f: first times %.2f (exponent %.2f), all times %.2f (exponent %.2f)\n",
            what, size / size_before, time[1][0] / time[0][0],
            timing_growth(time[1][0], time[0][0], size, size_before), time[1][1] / time[0][1],
            timing_growth(time[1][1], time[0][1], size, size_before));
}

static Watch
run_one(const SolidMesh *mesh, const SearchEffort *effort)
{
    SearchResult result;
    Watch watch = time_search(mesh, effort, &result);
    g_print("  %u triangles, %u spread, %u cells: %u directions\n", mesh->n_triangles,
            effort->spread, effort->cells, result.directions);
    timing_print("first ranking", &watch.first);
    timing_print("all", &watch.all);
    return watch;
}

static void
bench_triangles(void)
{
    static const guint sizes[] = {10000, 100000, 1000000};
    Watch before = {.start = {0, 0}};
    g_print("Search for the pull, by triangles\n");
    for (guint i = 0; i < G_N_ELEMENTS(sizes); i++) {
        g_autoptr(SolidMesh) mesh = bumpy_sphere(sizes[i], 0.05);
        Watch now = run_one(mesh, &search_effort);
        if (sizes[i] == 100000) {
            timing_aim("first ranking, middle of the runs,", timing_median(now.first.wall, RUNS),
                       1);
            timing_aim("first ranking, best run,", timing_least(now.first.wall, RUNS), 1);
            timing_aim("all, middle of the runs,", timing_median(now.all.wall, RUNS), 6);
            timing_aim("first ranking, processor time shared by two,",
                       0.5 * timing_least(now.first.processor, RUNS), 1);
            timing_aim("all, processor time shared by two,",
                       0.5 * timing_least(now.all.processor, RUNS), 6);
        }
        if (i > 0)
            print_growth("triangles", sizes[i], sizes[i - 1], &now, &before);
        before = now;
    }
}

static void
bench_effort(const char *what, gsize offset, const guint *values, guint n)
{
    g_autoptr(SolidMesh) mesh = bumpy_sphere(100000, 0.05);
    Watch before = {.start = {0, 0}};
    g_print("Search for the pull, by %s\n", what);
    for (guint i = 0; i < n; i++) {
        SearchEffort effort = search_effort;
        G_STRUCT_MEMBER(guint, &effort, offset) = values[i];
        Watch now = run_one(mesh, &effort);
        if (i > 0)
            print_growth(what, values[i], values[i - 1], &now, &before);
        before = now;
    }
}

int
main(void)
{
    static const guint spreads[] = {250, 500, 1000, 2000}, cells[] = {32, 48, 64, 96};
    bench_triangles();
    bench_effort("directions", G_STRUCT_OFFSET(SearchEffort, spread), spreads, 4);
    bench_effort("cells", G_STRUCT_OFFSET(SearchEffort, cells), cells, 4);
    return 0;
}
