// SPDX-License-Identifier: GPL-3.0-or-later
// Hatching, read back from the SVG it makes: lines at 45 degrees, inside the outline, whose lengths
// times their spacing give the outline's area; dots inside it, one to a cell of the spacing.
#include <cairo-svg.h>
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "sketch/brush.h"

// A ring that is neither convex nor straight, with a square hole.
static SolidPoint points[] = {{40, 30},  {260, 55},  {330, 180}, {210, 150}, {190, 290},
                              {60, 250}, {100, 100}, {100, 140}, {140, 140}, {140, 100}};
static guint starts[] = {0, 6, 10};

typedef struct {
    GArray *from, *to; // SolidPoint
} Pieces;

static BrushPath
make_path(double dx, double dy)
{
    static SolidPoint moved[G_N_ELEMENTS(points)];
    BrushPath path = {.points = moved,
                      .starts = starts,
                      .n_runs = 2,
                      .closed = TRUE,
                      .min = {40 + dx, 30 + dy},
                      .max = {330 + dx, 290 + dy}};
    for (guint i = 0; i < G_N_ELEMENTS(points); i++)
        moved[i] = (SolidPoint){points[i].x + dx, points[i].y + dy};
    return path;
}

static double
shoelace(guint run)
{
    double sum = 0.0;
    for (guint i = starts[run], j = starts[run + 1] - 1; i < starts[run + 1]; j = i++)
        sum += points[j].x * points[i].y - points[i].x * points[j].y;
    return fabs(sum) / 2.0;
}

static cairo_status_t
take_bytes(void *closure, const unsigned char *data, unsigned int length)
{
    g_string_append_len(closure, (const char *)data, length);
    return CAIRO_STATUS_SUCCESS;
}

static void
on_element_started_cb(GMarkupParseContext *context, const char *name, const char **keys,
                      const char **values, gpointer data, GError **error)
{
    Pieces *pieces = data;
    if (!g_str_equal(name, "path"))
        return;
    for (guint i = 0; keys[i]; i++) {
        if (!g_str_equal(keys[i], "d"))
            continue;
        SolidPoint from = {0, 0}, to;
        g_auto(GStrv) words = g_strsplit_set(values[i], " ", -1);
        for (guint k = 0; words[k]; k++) {
            if (!g_str_equal(words[k], "M") && !g_str_equal(words[k], "L"))
                continue;
            to = (SolidPoint){g_ascii_strtod(words[k + 1], NULL),
                              g_ascii_strtod(words[k + 2], NULL)};
            if (g_str_equal(words[k], "L")) {
                g_array_append_val(pieces->from, from);
                g_array_append_val(pieces->to, to);
            }
            from = to;
        }
    }
}

static Pieces
draw(Hatch hatch, double dx, double dy, double scale)
{
    g_autoptr(Scene) scene = scene_new("hatch");
    g_autoptr(GString) text = g_string_new(NULL);
    cairo_surface_t *surface = cairo_svg_surface_create_for_stream(take_bytes, text, 400, 400);
    cairo_t *cr = cairo_create(surface);
    PaintView view = {scale, scale, -dx / scale, dy / scale, 400, 400, FALSE};
    Brush brush = {.scene = scene,
                   .view = &view,
                   .theme = theme_get(THEME_LIGHT),
                   .unit = 1.0,
                   .text_unit = 1.0,
                   .cr = cr,
                   .x1 = 400,
                   .y1 = 400};
    BrushPath path = make_path(dx, dy);
    const double ink[4] = {0, 0, 0, 1};
    brush_hatch(&brush, &path, hatch, ink);
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    cairo_surface_destroy(surface);

    Pieces pieces = {g_array_new(FALSE, FALSE, sizeof(SolidPoint)),
                     g_array_new(FALSE, FALSE, sizeof(SolidPoint))};
    GMarkupParser parser = {.start_element = on_element_started_cb};
    g_autoptr(GMarkupParseContext) context = g_markup_parse_context_new(&parser, 0, &pieces, NULL);
    g_autoptr(GError) error = NULL;
    g_markup_parse_context_parse(context, text->str, (gssize)text->len, &error);
    g_assert_no_error(error);
    return pieces;
}

static void
free_pieces(Pieces *pieces)
{
    g_array_unref(pieces->from);
    g_array_unref(pieces->to);
}

// By cairo, which is asked about a slightly wider outline: numbers in an SVG are
// rounded, and a dot may lie half over the edge, which is drawn over it.
static void
check_inside(const SolidPoint *at, guint n, double slack)
{
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 4, 4);
    cairo_t *cr = cairo_create(surface);
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    for (guint run = 0; run < 2; run++) {
        cairo_new_sub_path(cr);
        for (guint i = starts[run]; i < starts[run + 1]; i++)
            cairo_line_to(cr, points[i].x, points[i].y);
        cairo_close_path(cr);
    }
    cairo_set_line_width(cr, 2.0 * slack);
    for (guint i = 0; i < n; i++)
        g_assert_true(cairo_in_fill(cr, at[i].x, at[i].y) || cairo_in_stroke(cr, at[i].x, at[i].y));
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

static void
check_lines(Hatch hatch, double slope)
{
    double scale = 1.375;
    Pieces pieces = draw(hatch, 0, 0, scale);
    // Steps of the square root of two above the least, device units.
    double spacing = scale;
    double least = hatch == HATCH_STEEP || hatch == HATCH_LEVEL ? 3.6 : 6.0;
    while (spacing < least)
        spacing *= G_SQRT2;
    double sum = 0.0;
    g_assert_cmpuint(pieces.from->len, >, 30);
    for (guint i = 0; i < pieces.from->len; i++) {
        SolidPoint a = g_array_index(pieces.from, SolidPoint, i);
        SolidPoint b = g_array_index(pieces.to, SolidPoint, i);
        SolidPoint along[3] = {a, b, {(a.x + b.x) / 2.0, (a.y + b.y) / 2.0}};
        sum += hypot(b.x - a.x, b.y - a.y);
        g_assert_cmpfloat(fabs((b.y - a.y) - slope * (b.x - a.x)) / hypot(1, slope), <, 0.01);
        check_inside(along, 3, 0.05);
        double line = (a.y - slope * a.x) / hypot(1, slope) / spacing;
        g_assert_cmpfloat(fabs(line - round(line)), <, 0.01); // anchored to the drawing's origin
    }
    check_close(sum * spacing, shoelace(0) - shoelace(1), 0.02, "Cavalieri, by strips");
    free_pieces(&pieces);
}

static void
test_lines(void)
{
    check_lines(HATCH_RISING, -1.0);
    check_lines(HATCH_FALLING, 1.0);
    check_lines(HATCH_STEEP, -tan(75 * G_PI / 180));
    check_lines(HATCH_SHALLOW, tan(15 * G_PI / 180));
    check_lines(HATCH_LEVEL, 0.0);
}

// The first corner of each dot's square.
static GArray *
list_dots(const Pieces *pieces)
{
    GArray *dots = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    for (guint i = 0; i + 2 < pieces->from->len; i += 3)
        g_array_append_val(dots, g_array_index(pieces->from, SolidPoint, i));
    return dots;
}

static void
test_dots(void)
{
    Pieces fine = draw(HATCH_STIPPLE, 0, 0, 1.375);
    Pieces coarse = draw(HATCH_STIPPLE_COARSE, 0, 0, 1.375);
    Pieces again = draw(HATCH_STIPPLE, 0, 0, 1.375);
    Pieces panned = draw(HATCH_STIPPLE, 13, 7, 1.375);
    g_autoptr(GArray) dots = list_dots(&fine), few = list_dots(&coarse);
    g_autoptr(GArray) same = list_dots(&again), moved = list_dots(&panned);
    check_inside((SolidPoint *)(void *)dots->data, dots->len, 0.7);
    double spacing = 1.375;
    while (spacing < 8.0)
        spacing *= G_SQRT2;
    check_close(dots->len * spacing * spacing, shoelace(0) - shoelace(1), 0.08, "one to a cell");
    g_assert_cmpuint(few->len, <, dots->len * 7 / 10);
    // The same picture twice, and the same dots when only the view has moved.
    g_assert_cmpuint(same->len, ==, dots->len);
    g_assert_cmpuint(moved->len, ==, dots->len);
    for (guint i = 0; i < dots->len; i++) {
        SolidPoint a = g_array_index(dots, SolidPoint, i), b = g_array_index(same, SolidPoint, i);
        SolidPoint c = g_array_index(moved, SolidPoint, i);
        g_assert_cmpfloat(hypot(a.x - b.x, a.y - b.y), ==, 0.0);
        g_assert_cmpfloat(hypot(a.x + 13 - c.x, a.y + 7 - c.y), <, 0.02);
    }
    free_pieces(&fine);
    free_pieces(&coarse);
    free_pieces(&again);
    free_pieces(&panned);
}

static void
test_none(void)
{
    Pieces none = draw(HATCH_NONE, 0, 0, 1.375);
    g_assert_cmpuint(none.from->len, ==, 0);
    free_pieces(&none);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/hatch/lines", test_lines);
    g_test_add_func("/sketch/hatch/dots", test_dots);
    g_test_add_func("/sketch/hatch/none", test_none);
    return g_test_run();
}
