// SPDX-License-Identifier: GPL-3.0-or-later
// The setpoints to turn the furnace to, and lines for their words above the curve such that no two
// words meet and no leader goes through words:
//
//   0:20  Set 300 °C and hold 45 min
//   |          1:36  Set 500 °C and hold 45 min
//   |          |              2:43  Set 720 °C and charge
#include <math.h>

#include "sketch/timeline-kit.h"

#define APART 8.0       // device units between words in a line
#define LEAST_ROOM 46.0 // below which words say nothing

static void
clear_set(gpointer data)
{
    g_free(((TimelineSet *)data)->text);
}

static void
add_set(GArray *sets, double at, double temperature, const char *prompt)
{
    TimelineSet set = {.at = at, .temperature = temperature, .prompt = prompt};
    if (!prompt || !isfinite(at) || !isfinite(temperature))
        return;
    g_autofree char *clock = timeline_clock(at);
    set.text = g_strdup_printf("%s\u2002%s", clock, prompt);
    g_array_append_val(sets, set);
}

// The warm-up's own steps, for a curve that carries no prompts.
static void
add_warmup(const TimelineChart *chart, GArray *sets)
{
    double at = 0.0;
    for (guint i = 0; i < chart->session->n_tasks; i++) {
        if (chart->session->tasks[i].kind == TASK_WARM_UP) {
            at = chart->session->tasks[i].start;
            break;
        }
    }
    for (guint i = 0; chart->melt && i < chart->melt->n_warmup; i++) {
        const MeltStep *step = &chart->melt->warmup[i];
        add_set(sets, at, step->setpoint, step->prompt);
        at += step->ramp + step->hold;
    }
}

static gint
compare_sets(gconstpointer a, gconstpointer b)
{
    const TimelineSet *p = a, *q = b;
    return (p->at > q->at) - (p->at < q->at);
}

GArray *
timeline_sets(const TimelineChart *chart)
{
    GArray *sets = g_array_new(FALSE, FALSE, sizeof(TimelineSet));
    g_array_set_clear_func(sets, clear_set);
    for (guint i = 0; i < chart->session->n_curve; i++) {
        const SessionFurnacePoint *point = &chart->session->curve[i];
        add_set(sets, point->at, point->temperature, point->prompt);
    }
    if (sets->len == 0)
        add_warmup(chart, sets);
    g_array_sort(sets, compare_sets);
    return sets;
}

static void
find_extent(const TimelineSet *set, const TimelineFrame *frame, double *from, double *to)
{
    double x = timeline_x(frame, set->at);
    *from = set->leftwards ? x - set->room : x;
    *to = set->leftwards ? x : x + set->room;
}

// May the words of set `i`, which have room, stand where they are beside those to the right?
static gboolean
stands_free(const GArray *sets, const TimelineFrame *frame, guint i)
{
    const TimelineSet *set = &g_array_index(sets, TimelineSet, i);
    double from, to, x = timeline_x(frame, set->at);
    find_extent(set, frame, &from, &to);
    if (from < frame->left || to > frame->width)
        return FALSE;
    for (guint k = i + 1; k < sets->len; k++) {
        const TimelineSet *other = &g_array_index(sets, TimelineSet, k);
        double ox = timeline_x(frame, other->at), other_from, other_to;
        if (other->room <= 0.0)
            continue;
        find_extent(other, frame, &other_from, &other_to);
        if (other->level == set->level && from < other_to + APART && other_from < to + APART)
            return FALSE;
        if (other->level < set->level && ox > from - 2.0 && ox < to + 2.0)
            return FALSE; // its leader comes down through these words
        if (other->level > set->level && x > other_from - 2.0 && x < other_to + 2.0)
            return FALSE; // and this one's through those
    }
    return TRUE;
}

// The lowest line in which the words of set `i` stand free; else shortened to the room there is.
// Words to the left of their leader are in the way of leaders from above, unless they are `high`.
static void
place_set(GArray *sets, const TimelineFrame *frame, guint i, double width, guint most,
          gboolean high)
{
    TimelineSet *set = &g_array_index(sets, TimelineSet, i);
    for (double room = width; room >= LEAST_ROOM; room *= 0.8) {
        for (int leftwards = 0; leftwards < 2; leftwards++) {
            for (guint step = 0; step < most; step++) {
                set->room = room;
                set->level = leftwards && high ? step : most - 1 - step;
                set->leftwards = leftwards;
                if (stands_free(sets, frame, i))
                    return;
            }
        }
    }
    set->room = 0.0;
}

// From the right to the left. How much of the words is lost.
static double
arrange(GArray *sets, const TimelineFrame *frame, const double *widths, guint most, gboolean high)
{
    double lost = 0.0;
    for (guint i = 0; i < sets->len; i++)
        g_array_index(sets, TimelineSet, i).room = 0.0;
    for (guint i = sets->len; i > 0; i--) {
        const TimelineSet *set = &g_array_index(sets, TimelineSet, i - 1);
        double x = timeline_x(frame, set->at);
        if (x < frame->left - 0.5 || x > frame->right + 0.5)
            continue;
        place_set(sets, frame, i - 1, widths[i - 1], most, high);
        lost += widths[i - 1] - set->room;
    }
    return lost;
}

guint
timeline_arrange_sets(GArray *sets, const TimelineFrame *frame, PangoLayout *layout, guint most)
{
    guint top = most;
    g_autofree double *widths = g_new(double, sets->len + 1);
    for (guint i = 0; i < sets->len; i++)
        widths[i] = timeline_width(layout, g_array_index(sets, TimelineSet, i).text, TIMELINE_TEXT,
                                   FALSE) +
                    8.0;
    double lost = arrange(sets, frame, widths, most, FALSE);
    if (lost > 0.0 && arrange(sets, frame, widths, most, TRUE) >= lost)
        arrange(sets, frame, widths, most, FALSE);
    for (guint i = 0; i < sets->len; i++) {
        const TimelineSet *set = &g_array_index(sets, TimelineSet, i);
        if (set->room > 0.0)
            top = MIN(top, set->level);
    }
    for (guint i = 0; i < sets->len; i++) {
        TimelineSet *set = &g_array_index(sets, TimelineSet, i);
        set->level = set->room > 0.0 ? set->level - top : 0;
    }
    return most - top;
}
