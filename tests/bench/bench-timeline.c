// SPDX-License-Identifier: GPL-3.0-or-later
// A frame of the timeline of a session of two hundred flasks: laid out, drawn and painted anew as
// when it is panned or zoomed, and what is painted over it while the pointer goes from task to task
// or a task is dragged. The aim is a frame of 60 to the second. Prints times of the
// processor, asserts nothing.
#include <cairo.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "sample.h"
#include "sketch/paint.h"

#define FRAMES 61
#define WIDTH 1100 // of the drawing in a window of 1920 by 1080
#define HEIGHT 520
#define FRAME (1000.0 / 60.0) // ms

// Of the processor, which other work on the machine does not lengthen.
static double
cpu_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static int
compare_times(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

static void
tell(const char *what, double *ms)
{
    qsort(ms, FRAMES, sizeof *ms, compare_times);
    printf("  %-34s p50 %7.3f ms   p95 %7.3f ms   (frame %.1f ms)\n", what, ms[FRAMES / 2],
           ms[FRAMES * 95 / 100], FRAME);
}

static void
paint(const Scene *scene)
{
    PaintView view = {1, 1, 0, 0, WIDTH, HEIGHT, TRUE};
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
    cairo_t *cr = cairo_create(surface);
    paint_scene(scene, &view, theme_get(THEME_LIGHT), 1, NULL, cr);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

static void
time_still(const TimelineChart *chart, double zoom)
{
    double ms[FRAMES];
    TimelineLook look = {.width = WIDTH, .height = HEIGHT, .now = NAN};
    TimelineFrame whole = timeline_frame(chart, &look);
    look.scale = zoom * whole.scale;
    for (int i = 0; i < FRAMES; i++) {
        look.from = chart->length * i / FRAMES;
        double start = cpu_ms();
        g_autoptr(Scene) scene = timeline_draw(chart, &look);
        paint(scene);
        ms[i] = cpu_ms() - start;
    }
    g_autofree char *what = g_strdup_printf("panned, %g times as large", zoom);
    tell(what, ms);
}

static void
time_over(const TimelineChart *chart, gboolean held)
{
    double ms[FRAMES];
    TimelineLook look = {.width = WIDTH, .height = HEIGHT, .now = NAN};
    for (int i = 0; i < FRAMES; i++) {
        double start = cpu_ms();
        TimelineFrame frame = timeline_frame(chart, &look);
        guint bar = timeline_pick(chart, &frame, 100 + 10.3 * i, HEIGHT - 120);
        guint task = bar < chart->n_bars ? chart->bars[bar].task : (guint)i * 20;
        TimelineFocus focus = {500, 500, task, held ? task : G_MAXUINT, 3600.0 * i, G_MAXUINT};
        g_autoptr(Scene) scene = timeline_overlay(chart, &frame, &focus);
        paint(scene);
        ms[i] = cpu_ms() - start;
    }
    tell(held ? "a task dragged" : "pointer from task to task", ms);
}

int
main(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(200, 5, 2, 4, 40);
    double start = cpu_ms();
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    printf("timeline of 200 flasks, %u tasks, %u bars in %u rows, %d x %d\n", session->n_tasks,
           chart->n_bars, chart->n_rows, WIDTH, HEIGHT);
    printf("  %-34s     %7.3f ms\n", "sorted into rows, once a plan", cpu_ms() - start);
    time_still(chart, 1);
    time_still(chart, 4);
    time_still(chart, 30);
    time_over(chart, FALSE);
    time_over(chart, TRUE);
    sample_long_free(session);
    return 0;
}
