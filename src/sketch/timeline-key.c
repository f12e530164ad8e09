// SPDX-License-Identifier: GPL-3.0-or-later
// The key below a timeline: hatch, letter and name of every kind of task there is, so that colour
// is never needed to tell them apart.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"
#include "sketch/timeline-pins.h"

#define SWATCH 17.0
#define HEIGHT 10.0
#define APART 10.0
#define SIZE (TIMELINE_TEXT - 1.0)
#define MARGIN 8.0
#define N_KINDS (TASK_CLOSE + 1)

// The kinds that are in the session, in the order of the work.
static guint
list_kinds(const TimelineChart *chart, TaskKind *kinds)
{
    gboolean seen[N_KINDS] = {FALSE};
    guint n = 0;
    for (guint i = 0; i < chart->session->n_tasks; i++)
        if (chart->first_bar[i] != G_MAXUINT)
            seen[chart->session->tasks[i].kind] = TRUE;
    for (guint i = 0; i < N_KINDS; i++)
        if (seen[i])
            kinds[n++] = (TaskKind)i;
    return n;
}

// Goes through the entries: places them, and draws them when there is a scene. The lines it took.
static guint
walk_entries(const TimelineDraft *d)
{
    TimelineDraft *draw = (TimelineDraft *)d;
    TaskKind kinds[N_KINDS];
    guint n = list_kinds(d->chart, kinds), lines = 1;
    gboolean waits = d->chart->n_waits > 0, moved = timeline_pin_count(d->look->pins) > 0;
    double x = MARGIN;
    for (guint i = 0; i < n + waits + moved; i++) {
        gboolean wait = i == n && waits;
        const char *name = i < n  ? timeline_kind_name(kinds[i])
                           : wait ? _("Waits")
                                  : _("Moved by hand");
        double width = SWATCH + 4.0 + timeline_width(d->layout, name, SIZE, FALSE);
        if (x > MARGIN && x + width > d->look->width - MARGIN) {
            x = MARGIN;
            lines++;
        }
        double y = d->frame.key + (lines - 1) * TIMELINE_LINE;
        if (d->scene && i < n) {
            scene_add_rectangle(d->scene, timeline_role(kinds[i]), TIMELINE_ORDER_BLOCK, NULL, TRUE,
                                TRUE, x, y - HEIGHT / 2.0, SWATCH, HEIGHT);
            timeline_rimmed_text(draw, ROLE_TEXT, NULL, x + SWATCH / 2.0, y, SIZE, ALIGN_MIDDLE,
                                 timeline_letter(kinds[i]));
        } else if (d->scene && !wait) {
            timeline_mark_pin(draw, NULL, x + SWATCH / 2.0, y - 3.0);
        } else if (d->scene) {
            SolidPoint line[] = {{x, y}, {x + SWATCH, y}};
            scene_add_line(d->scene, ROLE_WAIT, TIMELINE_ORDER_WAIT, NULL, line, 2);
        }
        if (d->scene)
            timeline_text(draw, ROLE_DIMENSION, NULL, x + SWATCH + 4.0, y, SIZE, ALIGN_START, name);
        x += width + APART;
    }
    return n + waits + moved > 0 ? lines : 0;
}

guint
timeline_key_lines(const TimelineDraft *d)
{
    TimelineDraft bare = *d;
    bare.scene = NULL;
    return walk_entries(&bare);
}

void
timeline_draw_key(TimelineDraft *d)
{
    g_return_if_fail(d->scene != NULL);
    walk_entries(d);
}
