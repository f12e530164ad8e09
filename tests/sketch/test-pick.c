// SPDX-License-Identifier: GPL-3.0-or-later
// Picking, against cairo's own answer to what a path covers.
#include <cairo.h>

#include "check.h"
#include "sketch/paint.h"

#define POLYGONS 7
#define CORNERS 9

static SolidPoint polygons[POLYGONS][CORNERS];
static int orders[POLYGONS];

static Scene *
make_scene(GRand *rand)
{
    Scene *scene = scene_new("pick");
    for (int i = 0; i < POLYGONS; i++) {
        g_autofree char *id = g_strdup_printf("p%d", i);
        double x = g_rand_double_range(rand, -50, 50), y = g_rand_double_range(rand, -40, 40);
        for (int k = 0; k < CORNERS; k++) {
            double turn = 2 * G_PI * k / CORNERS, radius = g_rand_double_range(rand, 8, 47);
            polygons[i][k] = (SolidPoint){x + radius * cos(turn), y + radius * sin(turn)};
        }
        orders[i] = g_rand_int_range(rand, 0, 4);
        scene_add_part(scene, id, id, NULL, NULL);
        scene_add_polygon(scene, ROLE_METAL, orders[i], id, TRUE, TRUE, polygons[i], CORNERS);
    }
    return scene;
}

// The one painted last of those that cairo says hold the point; `edge` when a line is too close for
// the two to be compared.
static int
ask_cairo(cairo_t *cr, const PaintView *view, double dx, double dy, gboolean *edge)
{
    int top = -1;
    *edge = FALSE;
    for (int i = 0; i < POLYGONS; i++) {
        cairo_new_path(cr);
        for (int k = 0; k < CORNERS; k++) {
            double x, y;
            paint_to_device(view, polygons[i][k].x, polygons[i][k].y, &x, &y);
            cairo_line_to(cr, x, y);
        }
        cairo_close_path(cr);
        cairo_set_line_width(cr, 4.0);
        if (cairo_in_stroke(cr, dx, dy))
            *edge = TRUE;
        if (cairo_in_fill(cr, dx, dy) && (top < 0 || orders[i] >= orders[top]))
            top = i;
    }
    return top;
}

static void
test_against_cairo(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(20477);
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_A8, 10, 10);
    cairo_t *cr = cairo_create(surface);
    int compared = 0;
    for (int round = 0; round < 6; round++) {
        g_autoptr(Scene) scene = make_scene(rand);
        PaintView view = paint_fit(scene, 611, 433, 9);
        for (int i = 0; i < 300; i++) {
            double dx = g_rand_double_range(rand, 0, 611), dy = g_rand_double_range(rand, 0, 433);
            gboolean edge;
            int expected = ask_cairo(cr, &view, dx, dy, &edge);
            const ScenePart *part = paint_pick(scene, &view, dx, dy, 0.0);
            if (edge)
                continue;
            g_autofree char *id = expected < 0 ? NULL : g_strdup_printf("p%d", expected);
            g_assert_cmpstr(part ? part->id : NULL, ==, id);
            compared++;
        }
    }
    g_assert_cmpint(compared, >, 1000);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
}

static Scene *
make_plain(void)
{
    Scene *scene = scene_new("plain");
    scene_add_part(scene, "wide", "Wide", NULL, NULL);
    scene_add_part(scene, "line", "Line", NULL, NULL);
    scene_add_part(scene, "word", "Word", NULL, NULL);
    scene_add_part(scene, "gauge", "Gauge", NULL, NULL);
    scene_add_part(scene, "frame", "Frame", NULL, NULL);
    scene_add_rectangle(scene, ROLE_METAL, 1, "wide", TRUE, TRUE, 0, 0, 100, 60);
    scene_add_rectangle(scene, ROLE_SAND_COPE, 2, NULL, TRUE, TRUE, 60, 0, 40, 60);
    SolidPoint ends[] = {{10, 30}, {50, 30}};
    scene_add_line(scene, ROLE_CENTRE, 3, "line", ends, 2);
    scene_add_text(scene, ROLE_TEXT, 4, "word", 140, 30, 12, ALIGN_START, "Runner");
    scene_add_dimension(scene, 4, "gauge", (SolidPoint){0, 0}, (SolidPoint){100, 0}, -20, "100");
    scene_add_rectangle(scene, ROLE_VISIBLE, 5, "frame", FALSE, TRUE, 120, 40, 60, 20);
    return scene;
}

static const char *
pick(const Scene *scene, const PaintView *view, double x, double y, double reach)
{
    double dx, dy;
    paint_to_device(view, x, y, &dx, &dy);
    const ScenePart *part = paint_pick(scene, view, dx, dy, reach);
    return part ? part->id : NULL;
}

static void
test_kinds(void)
{
    g_autoptr(Scene) scene = make_plain();
    PaintView view = {2.5, 2.5, -20, 90, 600, 400, FALSE};
    g_assert_cmpstr(pick(scene, &view, 20, 10, 0), ==, "wide");
    g_assert_cmpstr(pick(scene, &view, 30, 30, 0), ==, "line");
    // Exactly on something comes before near something above it.
    g_assert_cmpstr(pick(scene, &view, 30, 32, 8), ==, "wide");
    // A filled shape of nothing hides what is below it, but not what is near and above.
    g_assert_null(pick(scene, &view, 80, 30, 0));
    g_assert_cmpstr(pick(scene, &view, 61, 30, 0), ==, NULL);
    g_assert_cmpstr(pick(scene, &view, 103, 30, 8), ==, "wide");
    g_assert_null(pick(scene, &view, 105, 30, 8));
    // Text, to its end and not beyond.
    g_assert_cmpstr(pick(scene, &view, 141, 30, 0), ==, "word");
    g_assert_null(pick(scene, &view, 139, 30, 0));
    g_assert_null(pick(scene, &view, 175, 30, 0));
    // The line of a dimension, and its text above.
    g_assert_cmpstr(pick(scene, &view, 20, -20, 0), ==, "gauge");
    g_assert_cmpstr(pick(scene, &view, 50, -17, 0), ==, "gauge");
    g_assert_null(pick(scene, &view, 20, -14, 0));
    // Not filled: only the edge.
    g_assert_null(pick(scene, &view, 150, 50, 0));
    g_assert_cmpstr(pick(scene, &view, 150, 60, 0), ==, "frame");
}

static void
test_chart(void)
{
    g_autoptr(Scene) scene = scene_new("chart");
    scene_set_axes(scene, TRUE, TRUE);
    scene_add_part(scene, "task-1", "Melt", NULL, NULL);
    scene_add_rectangle(scene, ROLE_MELT, 0, "task-1", TRUE, TRUE, 35.5, 20.5, 91.5, 9);
    PaintView view = paint_fit(scene, 700, 90, 5);
    g_assert_cmpstr(pick(scene, &view, 77.7, 25, 0), ==, "task-1");
    g_assert_null(pick(scene, &view, 20, 25, 0));
    double dx, dy;
    paint_to_device(&view, 80, 20.5, &dx, &dy);
    check_close(dy, 5.0, 1e-9, "top of the page less the margin, y down");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/pick/against-cairo", test_against_cairo);
    g_test_add_func("/sketch/pick/kinds", test_kinds);
    g_test_add_func("/sketch/pick/chart", test_chart);
    return g_test_run();
}
