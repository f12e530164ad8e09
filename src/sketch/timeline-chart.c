// SPDX-License-Identifier: GPL-3.0-or-later
// Rows and bars of a session, and the way from bar to bar.
#include "sketch/timeline-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"

#define MOST_ROWS 2000 // of a kind: more are not drawn

gboolean
timeline_is_drawn(const SessionTask *task)
{
    return isfinite(task->start) && isfinite(task->end) && task->end > task->start;
}

static double
find_length(const SessionResult *session)
{
    double length = isfinite(session->length) ? session->length : 0.0;
    // Flasks may be left to cool overnight; the chart ends with the session all the same.
    for (guint i = 0; i < session->n_tasks; i++)
        if (timeline_is_drawn(&session->tasks[i]) && session->tasks[i].kind != TASK_COOL)
            length = fmax(length, session->tasks[i].end);
    for (guint i = 0; i < session->n_curve; i++)
        if (isfinite(session->curve[i].at))
            length = fmax(length, session->curve[i].at);
    return length > 0.0 ? length : 3600.0;
}

static char *
label_furnace(const SessionResult *session, int index, int count)
{
    const char *name = session_furnace_name(session, index);
    if (count == 1)
        return g_strdup(_("Furnace"));
    // TRANSLATORS: number and name of a furnace
    return name ? g_strdup_printf(_("Furnace %d, %s"), index + 1, name)
                : g_strdup_printf(_("Furnace %d"), index + 1);
}

static void
add_row(GArray *rows, const SessionResult *session, TimelineRowKind kind, int index, int count)
{
    TimelineRow row = {.kind = kind, .index = index};
    if (kind == TIMELINE_FURNACE)
        row.label = label_furnace(session, index, count);
    else if (kind == TIMELINE_PERSON)
        row.label = count == 1 ? g_strdup(_("Person")) : g_strdup_printf(_("Person %d"), index + 1);
    else
        row.label = g_strdup_printf(_("Flask %d"), index + 1);
    g_array_append_val(rows, row);
}

static void
make_rows(TimelineChart *chart, int counts[3])
{
    const SessionResult *session = chart->session;
    counts[TIMELINE_FURNACE] = MAX(1, session->furnaces);
    counts[TIMELINE_PERSON] = MAX(1, session->people);
    counts[TIMELINE_BOX] = MAX(0, session->boxes);
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        counts[TIMELINE_FURNACE] = MAX(counts[TIMELINE_FURNACE], MIN(task->furnace, MOST_ROWS) + 1);
        counts[TIMELINE_PERSON] = MAX(counts[TIMELINE_PERSON], MIN(task->who, MOST_ROWS) + 1);
        counts[TIMELINE_BOX] = MAX(counts[TIMELINE_BOX], MIN(task->box, MOST_ROWS) + 1);
    }
    g_autoptr(GArray) rows = g_array_new(FALSE, FALSE, sizeof(TimelineRow));
    for (int kind = 0; kind < 3; kind++) {
        counts[kind] = MIN(counts[kind], MOST_ROWS);
        for (int i = 0; i < counts[kind]; i++)
            add_row(rows, session, (TimelineRowKind)kind, i, counts[kind]);
    }
    chart->n_rows = rows->len;
    chart->rows = (TimelineRow *)(gpointer)g_array_free(g_steal_pointer(&rows), FALSE);
}

// Which row of a kind a task takes; -1: none.
static int
find_index(const SessionTask *task, TimelineRowKind kind)
{
    switch (kind) {
    case TIMELINE_FURNACE:
        return task->furnace;
    case TIMELINE_PERSON:
        return task->person ? MAX(task->who, 0) : -1;
    case TIMELINE_BOX:
        return task->box;
    }
    return -1;
}

static gint
compare_bars(gconstpointer a, gconstpointer b)
{
    const TimelineBar *p = a, *q = b;
    if (p->row != q->row)
        return p->row < q->row ? -1 : 1;
    if (p->start != q->start)
        return p->start < q->start ? -1 : 1;
    return (p->task > q->task) - (p->task < q->task);
}

static void
make_bars(TimelineChart *chart, const int counts[3])
{
    const SessionResult *session = chart->session;
    g_autoptr(GArray) bars = g_array_new(FALSE, FALSE, sizeof(TimelineBar));
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        int first = 0;
        for (int kind = 0; timeline_is_drawn(task) && kind < 3; first += counts[kind++]) {
            int index = find_index(task, (TimelineRowKind)kind);
            if (index < 0 || index >= counts[kind])
                continue;
            TimelineBar bar = {i, (guint)(first + index), fmax(task->start, 0.0),
                               fmin(task->end, chart->length)};
            if (bar.end > bar.start)
                g_array_append_val(bars, bar);
        }
    }
    g_array_sort(bars, compare_bars);
    chart->n_bars = bars->len;
    chart->bars = (TimelineBar *)(gpointer)g_array_free(g_steal_pointer(&bars), FALSE);
    chart->first_bar = g_new(guint, session->n_tasks + 1);
    for (guint i = 0; i < session->n_tasks; i++)
        chart->first_bar[i] = G_MAXUINT;
    static const int rank[] = {[TIMELINE_FURNACE] = 0, [TIMELINE_PERSON] = 1, [TIMELINE_BOX] = 2};
    for (guint i = 0; i < chart->n_bars; i++) {
        TimelineRow *row = &chart->rows[chart->bars[i].row];
        if (row->n_bars++ == 0)
            row->first_bar = i;
        guint *first = &chart->first_bar[chart->bars[i].task];
        if (*first == G_MAXUINT ||
            rank[row->kind] > rank[chart->rows[chart->bars[*first].row].kind])
            *first = i;
    }
}

// Bars of a row may overlap on a lived day; what two take is not counted twice. A box is taken also
// while its mould waits.
static void
measure_idle(TimelineChart *chart)
{
    for (guint r = 0; r < chart->n_rows; r++) {
        TimelineRow *row = &chart->rows[r];
        double busy = 0.0, until = 0.0;
        for (guint i = row->first_bar; i < row->first_bar + row->n_bars; i++) {
            busy += fmax(0.0, chart->bars[i].end - fmax(chart->bars[i].start, until));
            until = fmax(until, chart->bars[i].end);
        }
        for (guint i = 0; row->kind == TIMELINE_BOX && i < chart->n_waits; i++)
            if (chart->waits[i].row == r)
                busy += chart->waits[i].end - chart->waits[i].start;
        row->idle = CLAMP(1.0 - busy / chart->length, 0.0, 1.0);
    }
}

// In the row of a box what waits is the mould between two tasks on it, in that of a furnace the
// metal between melting and the skim or pour of the same load.
static gboolean
waits_between(const TimelineChart *chart, const TimelineBar *a, const TimelineBar *b)
{
    const SessionTask *before = &chart->session->tasks[a->task];
    const SessionTask *after = &chart->session->tasks[b->task];
    if (chart->rows[a->row].kind == TIMELINE_BOX)
        return before->flask >= 0 && before->flask == after->flask;
    return chart->rows[a->row].kind == TIMELINE_FURNACE && before->kind == TASK_MELT &&
           before->load == after->load;
}

static void
make_waits(TimelineChart *chart)
{
    g_autoptr(GArray) waits = g_array_new(FALSE, FALSE, sizeof(TimelineWait));
    for (guint i = 1; i < chart->n_bars; i++) {
        const TimelineBar *a = &chart->bars[i - 1], *b = &chart->bars[i];
        TimelineWait wait = {b->row, b->task, a->end, b->start};
        // Under a second nothing waits: the times are rounded.
        if (a->row == b->row && b->start - a->end >= 1.0 && waits_between(chart, a, b))
            g_array_append_val(waits, wait);
    }
    chart->n_waits = waits->len;
    chart->waits = (TimelineWait *)(gpointer)g_array_free(g_steal_pointer(&waits), FALSE);
}

TimelineChart *
timeline_chart_new(const SessionResult *session, const MeltResult *melt, const UnitSet *units)
{
    g_return_val_if_fail(session != NULL && units != NULL, NULL);
    TimelineChart *chart = g_new0(TimelineChart, 1);
    int counts[3];
    chart->session = session;
    chart->melt = melt;
    chart->units = *units;
    chart->length = find_length(session);
    make_rows(chart, counts);
    make_bars(chart, counts);
    make_waits(chart);
    measure_idle(chart);
    timeline_chart_load(chart);
    timeline_chart_link(chart);
    return chart;
}

void
timeline_chart_free(TimelineChart *chart)
{
    if (!chart)
        return;
    for (guint i = 0; i < chart->n_rows; i++)
        g_free(chart->rows[i].label);
    g_free(chart->rows);
    g_free(chart->bars);
    g_free(chart->waits);
    g_free(chart->loads);
    g_free(chart->pour_place);
    g_free(chart->first_bar);
    g_free(chart->needs_start);
    g_free(chart->needs);
    g_free(chart->users_start);
    g_free(chart->users);
    g_free(chart);
}

guint
timeline_bar_near(const TimelineChart *chart, guint row, double at)
{
    g_return_val_if_fail(row < chart->n_rows, G_MAXUINT);
    guint best = G_MAXUINT;
    double least = INFINITY;
    const TimelineRow *r = &chart->rows[row];
    for (guint i = r->first_bar; i < r->first_bar + r->n_bars; i++) {
        double away = fmax(0.0, fmax(chart->bars[i].start - at, at - chart->bars[i].end));
        if (away < least) {
            least = away;
            best = i;
        }
    }
    return best;
}

guint
timeline_step_along(const TimelineChart *chart, guint bar, int by)
{
    g_return_val_if_fail(bar < chart->n_bars, bar);
    const TimelineRow *row = &chart->rows[chart->bars[bar].row];
    gint64 to = CLAMP((gint64)bar + by, row->first_bar, (gint64)row->first_bar + row->n_bars - 1);
    return (guint)to;
}

guint
timeline_step_across(const TimelineChart *chart, guint bar, int by)
{
    g_return_val_if_fail(bar < chart->n_bars, bar);
    double middle = (chart->bars[bar].start + chart->bars[bar].end) / 2.0;
    gint64 row = (gint64)chart->bars[bar].row + by;
    for (; row >= 0 && row < chart->n_rows; row += by)
        if (chart->rows[row].n_bars > 0)
            return timeline_bar_near(chart, (guint)row, middle);
    return bar;
}
