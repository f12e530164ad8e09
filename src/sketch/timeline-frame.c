// SPDX-License-Identifier: GPL-3.0-or-later
// Where the lanes of a timeline lie.
//
//   title                                               summary
//   prompts     0:00 Set 300 °C
//   curve    °C |      ___/-----\_/----\___
//   loads       |     [ Load 1 |1|2][ Load 2 ]
//   rows   Furn |[warm][ melt   ][ melt   ]            idle 12 %
//   axis         0:00   1:00   2:00   3:00
//   key         [S] Set up  [W] Warm up ...
//
// What is too much for the height is scrolled by whole rows.
#include <math.h>

#include "sketch/brush.h"
#include "sketch/timeline-kit.h"

#define MARGIN 8.0
#define LEAST_ROW 14.0
#define MOST_ROW 44.0
#define LEAST_CURVE 28.0
#define LEAST_NAME 12.0 // of the height of the curves, for each that is named
#define MOST_CURVE 200.0
#define LEAST_LOAD 15.0
#define MOST_LOAD 26.0
#define LEAST_PLOT 60.0 // device units across
#define MOST_LINES 5    // of prompts
#define REACH 3.0       // beyond a bar that is narrower than twice that

double
timeline_width(PangoLayout *layout, const char *text, double size, gboolean strong)
{
    SolidPoint origin = {0, 0};
    Shape shape = {.kind = SHAPE_TEXT,
                   .points = &origin,
                   .n_points = 1,
                   .size = size,
                   .strong = strong,
                   .text = (char *)text};
    PaintView plain = {.scale_x = 1, .scale_y = 1, .y_down = TRUE};
    BrushText placed;
    brush_text_place(layout, &plain, theme_get(THEME_LIGHT), 1.0, &shape, &placed);
    return placed.width;
}

// The widest label of the rows, and of the shares at their other end.
static void
find_gutters(TimelineDraft *d)
{
    static const double widest = 300.0;
    const TimelineChart *chart = d->chart;
    double left = timeline_width(d->layout, "1000 °C", TIMELINE_TEXT, FALSE);
    for (guint i = 0; i < chart->n_rows; i++) {
        const TimelineRow *row = &chart->rows[i];
        // The last of a kind has the longest number; furnaces have names.
        gboolean last = i + 1 == chart->n_rows || row[1].kind != row->kind;
        if (last || row->kind == TIMELINE_FURNACE)
            left = fmax(left, timeline_width(d->layout, row->label, TIMELINE_TEXT, FALSE));
    }
    g_autofree char *lane = timeline_lane_label(1, 2);
    left = fmax(left, timeline_width(d->layout, lane, TIMELINE_TEXT, FALSE));
    g_autofree char *idle = timeline_idle_words(1.0);
    double right = timeline_width(d->layout, idle, TIMELINE_TEXT - 1.0, FALSE);
    if (timeline_count_heated(chart) > 1)
        right = fmax(right, timeline_heat_label_width(chart, d->layout));
    left = fmin(left, widest);
    d->frame.left = MARGIN + left + 6.0;
    d->frame.right = fmax(d->frame.left + LEAST_PLOT, d->look->width - MARGIN - right - 6.0);
}

static void
find_scale(TimelineDraft *d)
{
    TimelineFrame *f = &d->frame;
    double least = timeline_least_scale(d->chart, f);
    f->scale = isfinite(d->look->scale) ? fmax(d->look->scale, least) : least;
    double shown = (f->right - f->left) / f->scale;
    double from = isfinite(d->look->from) ? d->look->from : 0.0;
    f->from = CLAMP(from, 0.0, fmax(0.0, d->chart->length - shown));
}

// Shares the height out among curve, loads and rows.
static void
find_lanes(TimelineDraft *d, double top, double bottom)
{
    TimelineFrame *f = &d->frame;
    guint n = d->chart->n_rows;
    f->n_load_lanes = timeline_load_lanes(d->chart);
    double free = fmax(0.0, bottom - top - 3.0 * TIMELINE_GAP);
    double names = LEAST_NAME * timeline_count_heated(d->chart);
    double curve = CLAMP(0.22 * free, fmax(LEAST_CURVE, fmin(names, 0.4 * free)), MOST_CURVE);
    f->load_step = CLAMP(0.1 * free / f->n_load_lanes, LEAST_LOAD, MOST_LOAD) + 2.0;
    f->curve_top = top;
    f->curve_bottom = floor(top + curve);
    f->loads = f->curve_bottom + TIMELINE_GAP;
    f->rows = floor(f->loads + f->n_load_lanes * f->load_step + TIMELINE_GAP);
    double room = fmax(LEAST_ROW, bottom - f->rows);
    f->row_step = floor(CLAMP(room / fmax(1.0, n), LEAST_ROW, MOST_ROW));
    f->row_height = f->row_step - (f->row_step > 18.0 ? 3.0 : 2.0);
    guint fit = (guint)fmax(1.0, floor(room / f->row_step));
    f->n_rows = MIN(fit, n);
    f->first_row = MIN(d->look->first_row, n - f->n_rows);
    f->bottom = f->rows + f->n_rows * f->row_step;
}

TimelineFrame
timeline_place(TimelineDraft *d)
{
    TimelineFrame *f = &d->frame;
    *f = (TimelineFrame){.width = d->look->width, .height = d->look->height};
    find_gutters(d);
    find_scale(d);
    double top = MARGIN / 2.0;
    double heading = d->look->title ? 1.5 * TIMELINE_LINE : TIMELINE_LINE;
    f->title = top + heading / 2.0;
    top += heading + TIMELINE_GAP / 2.0;
    double keys = timeline_key_lines(d) * TIMELINE_LINE;
    double bottom = f->height - MARGIN / 2.0 - keys - TIMELINE_LINE - TIMELINE_GAP;
    guint heated = timeline_count_heated(d->chart);
    double lines = MOST_LINES + (heated > 1 ? 2.0 * heated : 0.0);
    guint most = (guint)CLAMP((bottom - top) / 50.0, 1.0, lines);
    f->sets = top + TIMELINE_LINE / 2.0;
    f->set_step = TIMELINE_LINE;
    f->set_levels = timeline_arrange_sets(d->sets, f, d->layout, most);
    find_lanes(d, floor(top + f->set_levels * f->set_step + TIMELINE_GAP), bottom);
    f->axis = f->bottom + TIMELINE_GAP / 2.0 + TIMELINE_LINE / 2.0;
    f->key = f->axis + TIMELINE_LINE + TIMELINE_GAP;
    f->end = f->key + keys + TIMELINE_GAP;
    return *f;
}

void
timeline_draft_init(TimelineDraft *d, const TimelineChart *chart, const TimelineLook *look)
{
    *d = (TimelineDraft){.chart = chart, .look = look, .layout = brush_text_layout(NULL)};
    d->sets = timeline_sets(chart);
    timeline_place(d);
}

void
timeline_draft_clear(TimelineDraft *draft)
{
    g_clear_object(&draft->layout);
    g_clear_pointer(&draft->sets, g_array_unref);
}

TimelineFrame
timeline_frame(const TimelineChart *chart, const TimelineLook *look)
{
    TimelineDraft draft;
    timeline_draft_init(&draft, chart, look);
    TimelineFrame frame = draft.frame;
    timeline_draft_clear(&draft);
    return frame;
}

double
timeline_x(const TimelineFrame *frame, double seconds)
{
    return frame->left + (seconds - frame->from) * frame->scale;
}

double
timeline_at(const TimelineFrame *frame, double x)
{
    return frame->from + (x - frame->left) / frame->scale;
}

double
timeline_least_scale(const TimelineChart *chart, const TimelineFrame *frame)
{
    return (frame->right - frame->left) / chart->length;
}

double
timeline_row_y(const TimelineFrame *frame, guint row)
{
    return frame->rows + ((double)row - frame->first_row) * frame->row_step + 1.0;
}

gboolean
timeline_bar_box(const TimelineChart *chart, const TimelineFrame *frame, guint bar, SolidPoint *min,
                 SolidPoint *max)
{
    if (bar >= chart->n_bars)
        return FALSE;
    const TimelineBar *b = &chart->bars[bar];
    double x0 = timeline_x(frame, b->start), x1 = timeline_x(frame, b->end);
    if (b->row < frame->first_row || b->row >= frame->first_row + frame->n_rows ||
        x1 < frame->left || x0 > frame->right)
        return FALSE;
    double y = timeline_row_y(frame, b->row);
    *min = (SolidPoint){fmax(x0, frame->left), y};
    *max = (SolidPoint){fmin(x1, frame->right), y + frame->row_height};
    return TRUE;
}

guint
timeline_pick(const TimelineChart *chart, const TimelineFrame *frame, double x, double y)
{
    double row = floor((y - frame->rows) / frame->row_step);
    guint best = G_MAXUINT;
    double least = REACH;
    if (x >= frame->left && x <= frame->right && y >= frame->loads && y < frame->rows)
        for (guint i = 0; i < chart->session->n_tasks; i++) {
            SolidPoint min, max;
            if (timeline_cell_box(chart, frame, i, &min, &max) && x >= min.x && x <= max.x &&
                y >= min.y && y <= max.y)
                return chart->first_bar[i];
        }
    if (!(row >= 0.0 && row < frame->n_rows) || x < frame->left - REACH || x > frame->right + REACH)
        return G_MAXUINT;
    const TimelineRow *r = &chart->rows[frame->first_row + (guint)row];
    for (guint i = r->first_bar; i < r->first_bar + r->n_bars; i++) {
        double x0 = timeline_x(frame, chart->bars[i].start);
        double x1 = timeline_x(frame, chart->bars[i].end);
        double away = fmax(0.0, fmax(x0 - x, x - x1));
        if (away < least || (away == 0.0 && least == 0.0)) {
            least = away; // of two that meet here, the later
            best = i;
        }
    }
    return best;
}
