// SPDX-License-Identifier: GPL-3.0-or-later
// The scale of time below the rows, the end of the hours given, and the line of now.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"

#define LEAST_TICK 46.0 // device units between times
#define MARGIN 4.0      // that words keep from the sides
#define MOST_SIGNS 2

typedef struct {
    double from, to; // device units
} Span;

static double
choose_tick(const TimelineFrame *f)
{
    static const double minutes[] = {1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440};
    for (guint i = 0; i < G_N_ELEMENTS(minutes); i++)
        if (minutes[i] * 60.0 * f->scale >= LEAST_TICK)
            return minutes[i] * 60.0;
    return ceil(LEAST_TICK / f->scale / 86400.0) * 86400.0;
}

// A line through curve and rows with its words below, which come before the times of the scale.
static void
draw_sign(TimelineDraft *d, SceneRole role, double at, const char *words, Span *taken, guint *n)
{
    const TimelineFrame *f = &d->frame;
    double x = timeline_x(f, at);
    if (!isfinite(at) || at < 0.0 || x < f->left - 0.5 || x > f->right + 0.5)
        return;
    SolidPoint line[] = {{x, f->curve_top - 2.0}, {x, f->bottom}};
    scene_add_line(d->scene, role, TIMELINE_ORDER_CURVE, NULL, line, 2);
    g_autofree char *clock = timeline_clock(at);
    g_autofree char *text = g_strdup_printf("%s %s", words, clock);
    double half = timeline_width(d->layout, text, TIMELINE_TEXT, FALSE) / 2.0;
    double middle = CLAMP(x, MARGIN + half, fmax(MARGIN + half, f->width - MARGIN - half));
    Span span = {middle - half - 4.0, middle + half + 4.0};
    for (guint i = 0; i < *n; i++)
        if (span.from < taken[i].to && span.to > taken[i].from)
            return;
    taken[(*n)++] = span;
    timeline_text(d, role, NULL, middle, f->axis, TIMELINE_TEXT, ALIGN_MIDDLE, text);
}

static void
draw_more_rows(TimelineDraft *d, Span *taken, guint *n)
{
    const TimelineFrame *f = &d->frame;
    guint hidden = d->chart->n_rows - f->n_rows;
    if (hidden == 0)
        return;
    g_autofree char *text = g_strdup_printf(_("rows %u–%u of %u"), f->first_row + 1,
                                            f->first_row + f->n_rows, d->chart->n_rows);
    double width = timeline_width(d->layout, text, TIMELINE_TEXT - 1.0, FALSE);
    taken[(*n)++] = (Span){0.0, MARGIN + width + 6.0};
    timeline_text(d, ROLE_DIMENSION, NULL, MARGIN, f->axis, TIMELINE_TEXT - 1.0, ALIGN_START, text);
}

static void
draw_ticks(TimelineDraft *d, const Span *taken, guint n)
{
    const TimelineFrame *f = &d->frame;
    double tick = choose_tick(f), last = timeline_at(f, f->right);
    for (double at = ceil(f->from / tick - 1e-9) * tick; at <= last + 1e-6; at += tick) {
        double x = timeline_x(f, at);
        SolidPoint line[] = {{x, f->curve_top - 2.0}, {x, f->bottom}};
        scene_add_line(d->scene, ROLE_GRID, TIMELINE_ORDER_GRID, NULL, line, 2);
        g_autofree char *text = timeline_clock(at);
        double half = timeline_width(d->layout, text, TIMELINE_TEXT, FALSE) / 2.0 + 2.0;
        gboolean free = x + half <= f->width;
        for (guint i = 0; i < n; i++)
            free &= x - half >= taken[i].to || x + half <= taken[i].from;
        if (free)
            timeline_text(d, ROLE_DIMENSION, NULL, x, f->axis, TIMELINE_TEXT, ALIGN_MIDDLE, text);
    }
}

char *
timeline_idle_words(double share)
{
    // TRANSLATORS: the share of a session in which a furnace or a person has nothing to do
    return g_strdup_printf(_("idle %.0f %%"), share * 100.0);
}

void
timeline_axis(TimelineDraft *d)
{
    Span taken[MOST_SIGNS + 1];
    guint n = 0;
    draw_more_rows(d, taken, &n);
    draw_sign(d, ROLE_NOW, d->look->now, _("Now"), taken, &n);
    draw_sign(d, ROLE_HIDDEN, d->chart->session->hours, _("Hours end"), taken, &n);
    draw_ticks(d, taken, n);
}
