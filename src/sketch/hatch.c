// SPDX-License-Identifier: GPL-3.0-or-later
// Section hatching, lines at any angle, and the stipple of sand. Lines and dots are anchored to the
// drawing, not to the surface, and their spacing goes in steps of the square root of two: between
// two steps they grow with the drawing, so that zooming and panning never make them crawl. Lines
// are cut to the outline by even-odd crossings, which is exact on every surface and needs no clip.
#include <math.h>

#include "sketch/brush.h"

#define LINE_SPACING 6.0  // device units, least; up to 1.41 times that
#define CLOSE_SPACING 3.6 // likewise, for narrow places
#define DEGREE (G_PI / 180.0)
#define FINE_SPACING 8.0    // dots, cope
#define COARSE_SPACING 12.0 // dots, drag
#define MOST_LINES 6000
#define MOST_CELLS 2000 // to a side

typedef struct {
    gint64 line;
    double x; // along the line
} Crossing;

// The spacing in device units, and its step number (which seeds the dots).
static double
choose_spacing(const Brush *brush, double least, int *step)
{
    *step = 0;
    if (scene_stretches(brush->scene))
        return least * brush->unit;
    double scale = fabs(brush->view->scale_x);
    *step = (int)ceil(2.0 * log2(least * brush->unit / scale) - 1e-9);
    return scale * exp2(*step / 2.0);
}

static int
compare_crossings(const void *a, const void *b)
{
    const Crossing *p = a, *q = b;
    if (p->line != q->line)
        return p->line < q->line ? -1 : 1;
    return p->x < q->x ? -1 : p->x > q->x;
}

// A family of lines: across = x s + y c = origin + line * step; along a line, x c - y s.
typedef struct {
    double c, s, origin, step;
    gint64 first, last;
} Lines;

// Where the lines cross one edge.
static void
cross_edge(GArray *crossings, SolidPoint a, SolidPoint b, const Lines *l)
{
    double fa = (a.x * l->s + a.y * l->c - l->origin) / l->step;
    double fb = (b.x * l->s + b.y * l->c - l->origin) / l->step;
    if (fa > fb) {
        double f = fa;
        fa = fb;
        fb = f;
        SolidPoint p = a;
        a = b;
        b = p;
    }
    gint64 from = (gint64)ceil(CLAMP(fa, (double)l->first, (double)l->last + 1.0));
    gint64 to = (gint64)ceil(CLAMP(fb, (double)l->first, (double)l->last + 1.0)); // half-open
    double along_a = a.x * l->c - a.y * l->s, along_b = b.x * l->c - b.y * l->s;
    for (gint64 line = from; line < to; line++) {
        double t = (line - fa) / (fb - fa);
        Crossing crossing = {line, along_a + t * (along_b - along_a)};
        g_array_append_val(crossings, crossing);
    }
}

// How far along the lines the surface reaches.
static void
find_reach(const Brush *brush, const Lines *l, double *low, double *high)
{
    double x[2] = {brush->x0, brush->x1}, y[2] = {brush->y0, brush->y1};
    *low = INFINITY;
    *high = -INFINITY;
    for (int i = 0; i < 4; i++) {
        double along = x[i / 2] * l->c - y[i % 2] * l->s;
        *low = fmin(*low, along);
        *high = fmax(*high, along);
    }
}

static void
stroke_crossings(const Brush *brush, const GArray *crossings, const Lines *l)
{
    const Crossing *c = (const Crossing *)(const void *)crossings->data;
    int pieces = 0;
    double low, high;
    find_reach(brush, l, &low, &high);
    for (guint i = 0; i + 1 < crossings->len; i += 2) {
        double across = l->origin + c[i].line * l->step;
        double from = fmax(c[i].x, low - l->step), to = fmin(c[i + 1].x, high + l->step);
        if (to <= from)
            continue;
        cairo_move_to(brush->cr, from * l->c + across * l->s, across * l->c - from * l->s);
        cairo_line_to(brush->cr, to * l->c + across * l->s, across * l->c - to * l->s);
        if (++pieces % BRUSH_CHUNK == 0)
            cairo_stroke(brush->cr);
    }
    cairo_stroke(brush->cr);
}

// Lines that rise by `angle` (rad, from -90 to 90 degrees, as seen), at least `least` apart. The
// path is turned so that the lines lie level, and cut there.
static void
hatch_lines(const Brush *brush, const BrushPath *path, double angle, double least,
            const double ink[4])
{
    int level;
    double step = choose_spacing(brush, least, &level);
    // On the surface y grows downwards: a line keeps x sin + y cos.
    Lines lines = {.c = cos(angle), .s = sin(angle), .step = step};
    double ox, oy, low = INFINITY, high = -INFINITY;
    SolidPoint anchor = scene_anchor(brush->scene);
    paint_to_device(brush->view, anchor.x, anchor.y, &ox, &oy);
    lines.origin = ox * lines.s + oy * lines.c;
    double x[2] = {fmax(path->min.x, brush->x0), fmin(path->max.x, brush->x1)};
    double y[2] = {fmax(path->min.y, brush->y0), fmin(path->max.y, brush->y1)};
    for (int i = 0; i < 4; i++) {
        double across = x[i / 2] * lines.s + y[i % 2] * lines.c;
        low = fmin(low, across);
        high = fmax(high, across);
    }
    if (!(x[1] > x[0]) || !(y[1] > y[0]) || (high - low) / step > MOST_LINES)
        return;
    lines.first = (gint64)floor((low - lines.origin) / step);
    lines.last = (gint64)ceil((high - lines.origin) / step);
    g_autoptr(GArray) crossings = g_array_new(FALSE, FALSE, sizeof(Crossing));
    for (guint run = 0; run < path->n_runs; run++) {
        guint begin = path->starts[run], end = path->starts[run + 1];
        for (guint i = begin, j = end - 1; i < end; j = i++)
            cross_edge(crossings, path->points[j], path->points[i], &lines);
    }
    g_array_sort(crossings, compare_crossings);
    cairo_set_source_rgba(brush->cr, ink[0], ink[1], ink[2], ink[3] * 0.62);
    cairo_set_line_width(brush->cr, 0.75 * brush->unit);
    cairo_set_line_cap(brush->cr, CAIRO_LINE_CAP_BUTT);
    stroke_crossings(brush, crossings, &lines);
}

// A well-mixed number from a cell's place (the finalizing steps of a multiply-and-shift hash).
static guint32
mix_cell(int i, int j, int step)
{
    guint32 h = (guint32)i * 0x9e3779b1u ^ (guint32)j * 0x85ebca77u ^ (guint32)step * 0xc2b2ae3du;
    h ^= h >> 15;
    h *= 0x2c1b3c6du;
    h ^= h >> 12;
    h *= 0x297a2d39u;
    return h ^ (h >> 15);
}

static gboolean
path_is_rectangle(const BrushPath *path)
{
    if (path->n_runs != 1 || path->starts[1] != 4)
        return FALSE;
    for (guint i = 0; i < 4; i++) {
        SolidPoint p = path->points[i];
        if ((p.x != path->min.x && p.x != path->max.x) ||
            (p.y != path->min.y && p.y != path->max.y))
            return FALSE;
    }
    return TRUE;
}

// One dot in each cell of a grid, shifted and sized by the cell's place.
static void
hatch_dots(const Brush *brush, const BrushPath *path, gboolean coarse, const double ink[4])
{
    int step;
    double spacing = choose_spacing(brush, coarse ? COARSE_SPACING : FINE_SPACING, &step);
    double dot = (coarse ? 1.7 : 1.05) * brush->unit;
    double x0 = fmax(path->min.x, brush->x0), x1 = fmin(path->max.x, brush->x1);
    double y0 = fmax(path->min.y, brush->y0), y1 = fmin(path->max.y, brush->y1);
    if (!(x1 > x0) || !(y1 > y0) || (x1 - x0) / spacing > MOST_CELLS ||
        (y1 - y0) / spacing > MOST_CELLS)
        return;
    double ox, oy;
    SolidPoint anchor = scene_anchor(brush->scene);
    paint_to_device(brush->view, anchor.x, anchor.y, &ox, &oy);
    gboolean plain = path_is_rectangle(path);
    int pieces = 0;
    cairo_set_source_rgba(brush->cr, ink[0], ink[1], ink[2], ink[3] * 0.8);
    for (int j = (int)floor((y0 - oy) / spacing); j <= (int)floor((y1 - oy) / spacing); j++) {
        for (int i = (int)floor((x0 - ox) / spacing); i <= (int)floor((x1 - ox) / spacing); i++) {
            guint32 h = mix_cell(i, j, step * 2 + coarse);
            double size = dot * (0.75 + 0.5 * (h >> 22 & 0xff) / 255.0);
            double x = ox + (i + 0.1 + 0.8 * (h & 0x7ff) / 2047.0) * spacing;
            double y = oy + (j + 0.1 + 0.8 * (h >> 11 & 0x7ff) / 2047.0) * spacing;
            if (x - size < path->min.x || x + size > path->max.x || y - size < path->min.y ||
                y + size > path->max.y || (!plain && !brush_path_contains(path, x, y)))
                continue;
            cairo_rectangle(brush->cr, x - size / 2.0, y - size / 2.0, size, size);
            if (++pieces % BRUSH_CHUNK == 0)
                cairo_fill(brush->cr);
        }
    }
    cairo_fill(brush->cr);
}

// Fills a closed path with hatching in `ink`; the path itself is left alone.
void
brush_hatch(const Brush *brush, const BrushPath *path, Hatch hatch, const double ink[4])
{
    cairo_new_path(brush->cr);
    switch (hatch) {
    case HATCH_NONE:
        return;
    case HATCH_STIPPLE:
    case HATCH_STIPPLE_COARSE:
        hatch_dots(brush, path, hatch == HATCH_STIPPLE_COARSE, ink);
        return;
    case HATCH_CROSSED:
        hatch_lines(brush, path, 45.0 * DEGREE, LINE_SPACING, ink);
        hatch_lines(brush, path, -45.0 * DEGREE, LINE_SPACING, ink);
        return;
    case HATCH_RISING:
        hatch_lines(brush, path, 45.0 * DEGREE, LINE_SPACING, ink);
        return;
    case HATCH_FALLING:
        hatch_lines(brush, path, -45.0 * DEGREE, LINE_SPACING, ink);
        return;
    case HATCH_FALLING_FINE:
        hatch_lines(brush, path, -45.0 * DEGREE, CLOSE_SPACING, ink);
        return;
    case HATCH_STEEP:
        hatch_lines(brush, path, 75.0 * DEGREE, CLOSE_SPACING, ink);
        return;
    case HATCH_SHALLOW:
        hatch_lines(brush, path, -15.0 * DEGREE, LINE_SPACING, ink);
        return;
    case HATCH_LEVEL:
        hatch_lines(brush, path, 0.0, CLOSE_SPACING, ink);
        return;
    case HATCH_UPRIGHT:
        hatch_lines(brush, path, 90.0 * DEGREE, LINE_SPACING, ink);
        return;
    }
}
