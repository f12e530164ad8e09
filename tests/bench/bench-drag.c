// SPDX-License-Identifier: GPL-3.0-or-later
// A frame of a drag in the flask's plan view: one of twelve cavities of a part of a hundred
// thousand triangles moved, gates, runner and sand anew, drawn and painted as the window does it,
// beside the painting of a drawing that has nothing in it. Prints times, asserts nothing.
#include <cairo.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "book/edit.h"
#include "bumpy.h"
#include "check.h"
#include "mould/layout.h"
#include "plan/plan.h"
#include "sketch/flask.h"
#include "sketch/paint-live.h"
#include "solid/write.h"

#define FRAMES 121
#define CAVITIES 12
#define WIDTH 690 // of the drawing in a window of 1280 by 800
#define HEIGHT 400
#define FRAME 16.0 // ms

static int
compare_times(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

static double
tell(const char *what, double *ms)
{
    qsort(ms, FRAMES, sizeof *ms, compare_times);
    printf("  %-28s p50 %7.3f ms   p95 %7.3f ms\n", what, ms[FRAMES / 2], ms[FRAMES * 95 / 100]);
    return ms[FRAMES / 2];
}

static double
ms_since(gint64 start)
{
    return 1e-3 * (double)(g_get_monotonic_time() - start);
}

static Book *
edit_to(Book *book, const char *path, const char *text, const Tables *tables)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Edit) edit = edit_field(book, "bumpy", field_find(path), text, tables, &error);
    g_assert_no_error(error);
    Book *next = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    book_unref(book);
    return next;
}

// The plan of a flask with twelve of them, put there by hand.
static Plan *
make_plan(const Tables *tables, guint triangles)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "bumpy.stl", NULL);
    g_autoptr(SolidMesh) mesh = bumpy_sphere(triangles, 0.02);
    solid_write_stl(mesh, path, TRUE, &error);
    g_assert_no_error(error);
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Node) node = edit_job_node("bumpy", "Bumpy", path, NULL, "mm", "a356", "40");
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, "Add job");
    Book *book = edit_apply(ready, edit, &error);
    g_assert_no_error(error);
    g_autoptr(GString) spots = g_string_new(NULL);
    for (int i = 0; i < CAVITIES; i++)
        g_string_append_printf(spots, "%s%d mm, %d mm, %d deg", i ? "; " : "", -200 + 80 * (i / 2),
                               i % 2 ? 60 : -60, i % 2 ? 0 : 180);
    book = edit_to(book, "flask.length", "560 mm", tables);
    book = edit_to(book, "flask.width", "300 mm", tables);
    book = edit_to(book, "job.placement", spots->str, tables);
    Plan *plan = plan_make(book, "bumpy", tables, NULL, NULL, &error);
    g_assert_no_error(error);
    book_unref(book);
    check_folder_remove(folder);
    return plan;
}

static void
paint(PaintLive *kept, Scene *scene, const PaintView *view)
{
    cairo_surface_destroy(
        paint_live_image(kept, scene, view, theme_get(THEME_LIGHT), WIDTH, HEIGHT, 1));
}

int
main(int argc, char **argv)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    g_assert_no_error(error);
    g_autoptr(Plan) plan = make_plan(tables, argc > 1 ? (guint)atoi(argv[1]) : 100000);
    const MouldLayout *placed = plan_mould(plan);
    const PatternResult *pattern = plan_pattern(plan);
    if (!placed || placed->n_cavities != CAVITIES || !pattern) {
        fprintf(stderr, "the part could not be placed\n");
        return 1;
    }
    UnitSet units = plan_units(plan);
    g_autoptr(FlaskOutlines) outlines = flask_outlines_new(placed, pattern, FLASK_BOTH);
    FlaskMarks marks = {.along = NAN, .across = NAN, .outlines = outlines, .in_motion = TRUE};
    PlacementSpot spots[CAVITIES];
    for (guint i = 0; i < CAVITIES; i++)
        spots[i] = (PlacementSpot){placed->cavities[i].x, placed->cavities[i].y,
                                   placed->cavities[i].turn, FALSE};
    g_autoptr(MouldLayout) now = mould_layout_moved(placed, spots, CAVITIES, NAN, NAN);
    g_autoptr(Scene) empty = scene_new("Nothing");
    g_autoptr(PaintLive) kept = paint_live_new();
    g_autoptr(PaintLive) bare = paint_live_new();
    PaintView view = {0};
    guint shapes = 0, all = 0;
    double layout[FRAMES], scene[FRAMES], painted[FRAMES], whole[FRAMES], nothing[FRAMES];
    for (int i = 0; i < FRAMES; i++) {
        guint k = (guint)i / 20 % CAVITIES; // a drag stays with one for a while
        spots[k].x += i % 2 ? 0.0013 : -0.001;
        spots[k].y += i % 3 ? 0.0004 : -0.0008;
        marks.moving = k + 1;
        gint64 start = g_get_monotonic_time();
        MouldLayout *next = mould_layout_moved(now, spots, CAVITIES, NAN, NAN);
        layout[i] = ms_since(start);
        g_autoptr(Scene) live = flask_marked_scene(next, pattern, &units, FLASK_BOTH, &marks);
        scene[i] = ms_since(start) - layout[i];
        if (i == 0) // while something is moved the view stays
            view = paint_fit(live, WIDTH, HEIGHT, 18);
        double before = ms_since(start);
        paint(kept, live, &view);
        shapes = MAX(shapes, paint_live_painted(kept));
        all = scene_shape_count(live);
        painted[i] = ms_since(start) - before;
        if (i % 20 == 19) { // the next drag
            g_clear_pointer(&kept, paint_live_free);
            kept = paint_live_new();
        }
        whole[i] = layout[i] + scene[i] + painted[i];
        start = g_get_monotonic_time();
        paint(bare, empty, &view);
        nothing[i] = ms_since(start);
        mould_layout_unref(now);
        now = next;
    }
    printf("drag of one of %d, %u triangles, outline of %u points\n", CAVITIES,
           plan_part(plan)->mesh->n_triangles, pattern->shadow->n_points);
    tell("layout, gates, sand", layout);
    tell("scene", scene);
    tell("paint", painted);
    double middle = tell("the frame", whole);
    tell("a drawing of nothing", nothing);
    printf("  shapes painted in a frame: at most %u of %u\n", shapes, all);
    printf("  the frame against %.0f ms: %s\n", FRAME, middle <= FRAME ? "within" : "over");
    return 0;
}
