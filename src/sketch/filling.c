// SPDX-License-Identifier: GPL-3.0-or-later
// The filling as a chart: speed through the gates against time, with the limit. Each line has its
// own dashes and its words at the end, so that it is told without colour.
//
//   speed  flow
//    0.5 |- - - - - - - - - - - - limit
//        |  ______________
//        | /              |____ gates 1, 4
//        |/               |
//        +---------------------- time
#include "sketch/filling.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

// mm; a millimetre is the grain
#define LEFT 36.0
#define WIDE 82.0
#define LOW 15.0
#define HIGH 52.0
#define WORDS 35.0 // right of the chart
#define TOP 18.0   // over it
#define LINE 4.2   // from one line of words to the next
#define TEXT_SIZE 11.0
#define TITLE_SIZE 15.0

#define ALIKE 0.02 // of the fastest
#define OVER 0.05  // of the fastest; below it a gate no longer runs
#define MOST_TICKS 6

enum {
    ORDER_SHEET,
    ORDER_GRID,
    ORDER_LIMIT,
    ORDER_CURVE,
    ORDER_TEXT
};

typedef struct {
    GArray *gates;    // guint, from 0
    double *speed;    // m/s, one a time
    double peak, at;  // m/s; s, when
    double end, last; // s until which it runs; m/s then
    double words_y;   // mm
} Line;

typedef struct {
    Scene *scene;
    const MouldFilling *filling;
    const UnitSet *units;
    double until, most; // s, m/s: ends of the axes
    double limit;
    double area; // m2, of each gate; NAN when they differ
    GPtrArray *lines;
} Draft;

static void
free_line(gpointer data)
{
    Line *line = data;
    g_array_unref(line->gates);
    g_free(line->speed);
    g_free(line);
}

static double
gate_area(const MouldLayout *l, guint gate)
{
    return l->gates[gate].width * l->gates[gate].depth;
}

static double
place_time(const Draft *d, double time)
{
    return LEFT + WIDE * CLAMP(time / d->until, 0, 1);
}

static double
place_speed(const Draft *d, double speed)
{
    return LOW + HIGH * CLAMP(speed / d->most, 0, 1);
}

static void
put_words(Draft *d, SceneRole role, double x, double y, ShapeAlign align, const char *part,
          const char *text)
{
    Shape style = {.size = TEXT_SIZE, .align = align, .halo = TRUE};
    scene_add_styled_text(d->scene, role, ORDER_TEXT, part, x, y, &style, text);
}

static double *
speeds_of(const MouldFilling *f, guint gate, double area)
{
    double *speed = g_new(double, f->n_times);
    for (guint i = 0; i < f->n_times; i++)
        speed[i] = f->flows[(gsize)i * f->n_gates + gate] / area;
    return speed;
}

static gboolean
is_alike(const double *a, const double *b, guint n, double most)
{
    for (guint i = 0; i < n; i++)
        if (fabs(a[i] - b[i]) > ALIKE * most)
            return FALSE;
    return TRUE;
}

static void
find_marks(const MouldFilling *f, Line *line)
{
    for (guint i = 0; i < f->n_times; i++)
        if (line->speed[i] > line->peak) {
            line->peak = line->speed[i];
            line->at = f->times[i];
        }
    for (guint i = 0; i < f->n_times; i++)
        if (line->speed[i] > OVER * line->peak) {
            line->end = f->times[i];
            line->last = line->speed[i];
        }
}

static void
gather_lines(Draft *d, const MouldLayout *l)
{
    const MouldFilling *f = d->filling;
    double most = 0;
    for (guint g = 0; g < f->n_gates; g++)
        for (guint i = 0; i < f->n_times; i++)
            most = fmax(most, f->flows[(gsize)i * f->n_gates + g] / gate_area(l, g));
    for (guint g = 0; g < f->n_gates; g++) {
        g_autofree double *speed = speeds_of(f, g, gate_area(l, g));
        Line *line = NULL;
        for (guint k = 0; k < d->lines->len && !line; k++) {
            Line *other = d->lines->pdata[k];
            line = is_alike(speed, other->speed, f->n_times, most) ? other : NULL;
        }
        if (!line) {
            line = g_new0(Line, 1);
            line->gates = g_array_new(FALSE, FALSE, sizeof(guint));
            line->speed = g_steal_pointer(&speed);
            find_marks(f, line);
            g_ptr_array_add(d->lines, line);
        }
        g_array_append_val(line->gates, g);
    }
    d->most = 1.12 * fmax(most, isnan(d->limit) ? 0 : d->limit);
}

// "1-3, 5".
static char *
list_numbers(const GArray *gates)
{
    GString *text = g_string_new(NULL);
    for (guint i = 0; i < gates->len;) {
        guint first = g_array_index(gates, guint, i), last = first;
        for (i++; i < gates->len && g_array_index(gates, guint, i) == last + 1; i++)
            last++;
        g_string_append_printf(text, "%s%u", text->len ? ", " : "", first + 1);
        if (last > first)
            g_string_append_printf(text, "%s%u", last > first + 1 ? "\u2013" : ", ", last + 1);
    }
    return g_string_free(text, FALSE);
}

// A step that gives few, even numbers; `unit` is one of the shop's units in SI.
static double
choose_step(double most, double unit)
{
    static const double steps[] = {1, 2, 5};
    double ten = pow(10, floor(log10(most / unit / MOST_TICKS)));
    for (; ten < 1e12; ten *= 10)
        for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
            if (most / unit / (steps[i] * ten) <= MOST_TICKS)
                return steps[i] * ten * unit;
    return most;
}

static double
unit_of(QuantityKind kind, const UnitSet *units)
{
    double unit = 1;
    return quantity_parse(kind, "1", units, &unit, NULL) && unit > 0 ? unit : 1;
}

static void
draw_axes(Draft *d)
{
    double step = choose_step(d->most, unit_of(QUANTITY_VELOCITY, d->units));
    for (int i = 0; i * step <= d->most; i++) {
        double y = place_speed(d, i * step);
        const SolidPoint line[2] = {{LEFT, y}, {LEFT + WIDE, y}};
        scene_add_line(d->scene, ROLE_GRID, ORDER_GRID, NULL, line, 2);
        g_autofree char *speed = quantity_format(QUANTITY_VELOCITY, i * step, d->units);
        g_autofree char *flow = quantity_format(QUANTITY_FLOW, i * step * d->area, d->units);
        gboolean both = !isnan(d->area);
        put_words(d, ROLE_DIMENSION, LEFT - (both ? 18.0 : 1.5), y, ALIGN_END, NULL, speed);
        if (both)
            put_words(d, ROLE_DIMENSION, LEFT - 1.5, y, ALIGN_END, NULL, flow);
    }
    step = choose_step(d->until, 1);
    for (int i = 0; i * step <= d->until * (1 + 1e-9); i++) {
        double x = place_time(d, i * step);
        const SolidPoint tick[2] = {{x, LOW}, {x, LOW - 1.2}};
        scene_add_line(d->scene, ROLE_DIMENSION, ORDER_GRID, NULL, tick, 2);
        g_autofree char *time = i == 0 ? g_strdup("0")
                                       : quantity_format(QUANTITY_TIME, i * step, d->units);
        put_words(d, ROLE_DIMENSION, x, LOW - 3.6, ALIGN_MIDDLE, NULL, time);
    }
    const SolidPoint frame[3] = {{LEFT, LOW + HIGH}, {LEFT, LOW}, {LEFT + WIDE, LOW}};
    scene_add_line(d->scene, ROLE_VISIBLE, ORDER_GRID, NULL, frame, 3);
    double head = LOW + HIGH + LINE;
    put_words(d, ROLE_TEXT, LEFT - (isnan(d->area) ? 1.5 : 18.0), head, ALIGN_END, NULL,
              _("Speed"));
    if (!isnan(d->area))
        put_words(d, ROLE_TEXT, LEFT - 1.5, head, ALIGN_END, NULL, _("Flow"));
    put_words(d, ROLE_TEXT, LEFT + WIDE / 2, LOW - 3.6 - LINE, ALIGN_MIDDLE, NULL,
              _("Time since pouring began"));
}

// A line of dashes: lengths drawn and left out by turns, mm. Their own role has no dashes.
static void
draw_dashed(Draft *d, const char *part, const SolidPoint *p, guint n, const double *dashes)
{
    g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    int which = 0;
    double left = dashes[0];
    g_array_append_val(run, p[0]);
    for (guint i = 1; i < n; i++) {
        SolidPoint from = p[i - 1];
        double length = hypot(p[i].x - from.x, p[i].y - from.y);
        while (length > left && left > 0) {
            SolidPoint at = {from.x + (p[i].x - from.x) * left / length,
                             from.y + (p[i].y - from.y) * left / length};
            g_array_append_val(run, at);
            if (which % 2 == 0)
                scene_add_line(d->scene, ROLE_CURVE, ORDER_CURVE, part,
                               (SolidPoint *)(gpointer)run->data, run->len);
            g_array_set_size(run, 0);
            g_array_append_val(run, at);
            length -= left;
            from = at;
            which = (which + 1) % 4;
            left = dashes[which];
        }
        g_array_append_val(run, p[i]);
        left -= length;
    }
    if (which % 2 == 0 && run->len > 1)
        scene_add_line(d->scene, ROLE_CURVE, ORDER_CURVE, part, (SolidPoint *)(gpointer)run->data,
                       run->len);
}

// Points nearer to one another than the drawing shows are left out.
static GArray *
trace(const Draft *d, const Line *line)
{
    const MouldFilling *f = d->filling;
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    for (guint i = 0; i < f->n_times; i++) {
        SolidPoint p = {place_time(d, f->times[i]), place_speed(d, line->speed[i])};
        if (points->len > 0 && i + 1 < f->n_times) {
            SolidPoint last = g_array_index(points, SolidPoint, points->len - 1);
            if (hypot(p.x - last.x, p.y - last.y) < 0.05)
                continue;
        }
        g_array_append_val(points, p);
    }
    return points;
}

static int
compare_ends(gconstpointer a, gconstpointer b)
{
    const Line *p = *(Line *const *)a, *q = *(Line *const *)b;
    return (p->last > q->last) - (p->last < q->last);
}

// Words to the right at the height where a line ends, pushed apart upwards and kept in the sheet.
static void
place_words(Draft *d)
{
    g_autoptr(GPtrArray) sorted = g_ptr_array_sized_new(d->lines->len);
    for (guint i = 0; i < d->lines->len; i++)
        g_ptr_array_add(sorted, d->lines->pdata[i]);
    g_ptr_array_sort(sorted, compare_ends);
    double low = LOW;
    for (guint i = 0; i < sorted->len; i++) {
        Line *line = sorted->pdata[i];
        line->words_y = fmax(low, place_speed(d, line->last));
        low = line->words_y + LINE;
    }
    double over = low - LINE - (LOW + HIGH + TOP - 2 * LINE);
    for (guint i = 0; i < sorted->len && over > 0; i++)
        ((Line *)sorted->pdata[i])->words_y -= over;
}

static void
draw_line(Draft *d, guint index)
{
    static const double dashes[][4] = {{0},
                                       {4, 1.6, 4, 1.6},
                                       {1.1, 1.1, 1.1, 1.1},
                                       {6, 1.3, 1.1, 1.3},
                                       {2.2, 2.2, 2.2, 2.2},
                                       {7, 2.5, 7, 2.5}};
    const Line *line = d->lines->pdata[index];
    g_autofree char *id = g_strdup_printf("gates-%u", index + 1);
    g_autoptr(GArray) points = trace(d, line);
    const SolidPoint *p = (SolidPoint *)(gpointer)points->data;
    const double *dash = dashes[index % G_N_ELEMENTS(dashes)];
    if (points->len > 1 && dash[0] > 0)
        draw_dashed(d, id, p, points->len, dash);
    else if (points->len > 1)
        scene_add_line(d->scene, ROLE_CURVE, ORDER_CURVE, id, p, points->len);
    g_autofree char *numbers = list_numbers(line->gates);
    g_autofree char *name = g_strdup_printf(line->gates->len > 1 ? _("Gates %s") : _("Gate %s"),
                                            numbers);
    double x = LEFT + WIDE + 3.0;
    const SolidPoint leader[3] = {{place_time(d, line->end), place_speed(d, line->last)},
                                  {x - 1.5, line->words_y},
                                  {x - 0.5, line->words_y}};
    scene_add_line(d->scene, ROLE_DIMENSION, ORDER_CURVE, NULL, leader, 3);
    Shape style = {
        .size = TEXT_SIZE, .align = ALIGN_START, .halo = TRUE, .room_x = WORDS - 3, .room_y = LINE};
    scene_add_styled_text(d->scene, ROLE_TEXT, ORDER_TEXT, id, x, line->words_y, &style, name);
    g_autofree char *peak = quantity_format(QUANTITY_VELOCITY, line->peak, d->units);
    g_autofree char *at = quantity_format(QUANTITY_TIME, line->at, d->units);
    g_autofree char *end = quantity_format(QUANTITY_TIME, line->end, d->units);
    g_autofree char *words = g_strdup_printf(_("Fastest %s at %s; runs until %s"), peak, at, end);
    scene_add_part(d->scene, id, name, words, "mould.gate_velocity");
}

static void
draw_limit(Draft *d)
{
    if (isnan(d->limit))
        return;
    double y = place_speed(d, d->limit);
    const SolidPoint line[2] = {{LEFT, y}, {LEFT + WIDE, y}};
    scene_add_line(d->scene, ROLE_CUTTING, ORDER_LIMIT, "limit", line, 2);
    g_autofree char *speed = quantity_format(QUANTITY_VELOCITY, d->limit, d->units);
    g_autofree char *words = g_strdup_printf(_("limit %s"), speed);
    put_words(d, ROLE_TEXT, LEFT + WIDE - 1.0, y + 2.2, ALIGN_END, "limit", words);
    scene_add_part(d->scene, "limit", _("Fastest that metal may run at a gate"), speed,
                   "mould.gate_velocity");
}

// When metal comes to the gates, and when all is full.
static void
draw_times(Draft *d)
{
    const MouldFilling *f = d->filling;
    const double times[2] = {f->prime_time, f->time};
    const char *const words[2] = {_("metal at the gates"), _("full")};
    for (int i = 0; i < 2; i++) {
        if (!isfinite(times[i]))
            continue;
        double x = place_time(d, times[i]);
        const SolidPoint line[2] = {{x, LOW}, {x, LOW + HIGH + 1.5}};
        scene_add_line(d->scene, ROLE_HIDDEN, ORDER_GRID, NULL, line, 2);
        g_autofree char *time = quantity_format(QUANTITY_TIME, times[i], d->units);
        g_autofree char *text = g_strdup_printf("%s %s", words[i], time);
        put_words(d, ROLE_DIMENSION, i == 0 ? x : fmin(x, LEFT + WIDE), LOW + HIGH + LINE - 0.6,
                  i == 0 ? ALIGN_START : ALIGN_END, NULL, text);
    }
}

static double
common_area(const MouldLayout *l)
{
    double area = gate_area(l, 0);
    for (guint i = 1; i < l->n_gates; i++)
        if (fabs(gate_area(l, i) - area) > 1e-6 * area)
            return NAN;
    return area;
}

Scene *
filling_scene(const MouldLayout *layout, double limit, const UnitSet *units)
{
    g_return_val_if_fail(layout != NULL && units != NULL, NULL);
    const MouldFilling *f = layout->filling;
    if (!f || f->n_times < 2 || f->n_gates == 0 || f->n_gates > layout->n_gates)
        return NULL;
    Draft d = {.scene = scene_new(_("How the mould fills")),
               .filling = f,
               .units = units,
               .limit = limit,
               .until = fmax(f->times[f->n_times - 1], isfinite(f->time) ? f->time : 0),
               .area = common_area(layout),
               .lines = g_ptr_array_new_with_free_func(free_line)};
    scene_set_grain(d.scene, 1.0);
    double wide = LEFT + WIDE + WORDS, high = LOW + HIGH + TOP;
    scene_add_rectangle(d.scene, ROLE_DIMENSION, ORDER_SHEET, NULL, FALSE, TRUE, 0, 0, wide, high);
    Shape title = {.size = TITLE_SIZE, .strong = TRUE};
    scene_add_styled_text(d.scene, ROLE_TEXT, ORDER_TEXT, NULL, 3.0, high - 4.5, &title,
                          _("Speed of the metal through the gates"));
    gather_lines(&d, layout);
    if (d.until > 0 && d.most > 0) {
        draw_axes(&d);
        draw_limit(&d);
        draw_times(&d);
        place_words(&d);
        for (guint i = 0; i < d.lines->len; i++)
            draw_line(&d, i);
    }
    g_ptr_array_unref(d.lines);
    return d.scene;
}

Scene *
sketch_filling_scene(const Plan *plan, GError **error)
{
    g_return_val_if_fail(plan != NULL, NULL);
    const MouldLayout *layout = plan_mould(plan);
    const Figure *speed = plan_figure(plan, "mould.gate_velocity");
    UnitSet units = plan_units(plan);
    Scene *scene = layout ? filling_scene(layout, speed ? speed->limit : NAN, &units) : NULL;
    if (!scene)
        base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan),
                       _("there is no filling to draw"), _("look at the figures marked unknown"));
    return scene;
}
