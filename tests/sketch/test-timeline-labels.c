// SPDX-License-Identifier: GPL-3.0-or-later
// What is drawn, measured: no two labels meet, nothing leaves its row, the life of a mould is lit
// up whole, pages hold everything.
#include "check.h"
#include "sample.h"
#include "sketch/brush.h"

typedef struct {
    double x0, y0, x1, y1;
    const char *text;
} Box;

static GArray *
measure_texts(const Scene *scene)
{
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    PaintView plain = {.scale_x = 1, .scale_y = 1, .y_down = TRUE};
    GArray *boxes = g_array_new(FALSE, FALSE, sizeof(Box));
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        BrushText text;
        if (shape->kind != SHAPE_TEXT)
            continue;
        g_assert_true(brush_text_place(layout, &plain, theme_get(THEME_LIGHT), 1.0, shape, &text));
        // Of the height of a line a third is above and below the letters.
        Box box = {text.x + text.left, text.y - text.height * 0.33, text.x + text.left + text.width,
                   text.y + text.height * 0.33, shape->text};
        g_array_append_val(boxes, box);
    }
    return boxes;
}

static void
check_texts(const Scene *scene, double width)
{
    g_autoptr(GArray) boxes = measure_texts(scene);
    for (guint i = 0; i < boxes->len; i++) {
        const Box *a = &g_array_index(boxes, Box, i);
        if (a->x0 < -0.5 || a->x1 > width + 0.5)
            g_error("\"%s\" leaves the drawing: %.1f to %.1f of %.1f", a->text, a->x0, a->x1,
                    width);
        for (guint k = 0; k < i; k++) {
            const Box *b = &g_array_index(boxes, Box, k);
            if (a->x0 < b->x1 - 0.5 && b->x0 < a->x1 - 0.5 && a->y0 < b->y1 && b->y0 < a->y1)
                g_error("\"%s\" (%.1f, %.1f) and \"%s\" (%.1f, %.1f) meet", a->text, a->x0, a->y0,
                        b->text, b->x0, b->y0);
        }
    }
}

// Leaders of setpoints go through no words of others.
static void
check_leaders(const Scene *scene)
{
    g_autoptr(GArray) boxes = measure_texts(scene);
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *line = scene_shape(scene, i);
        if (line->kind != SHAPE_PATH || line->role != ROLE_WARMUP || line->closed)
            continue;
        for (guint k = 0; k < boxes->len; k++) {
            const Box *b = &g_array_index(boxes, Box, k);
            if (line->points[0].x > b->x0 && line->points[0].x < b->x1 &&
                line->points[0].y < b->y1 && line->points[1].y > b->y0)
                g_error("a leader at %.1f goes through \"%s\"", line->points[0].x, b->text);
        }
    }
}

static void
check_look(const TimelineChart *chart, TimelineLook *look)
{
    TimelineFrame f = timeline_frame(chart, look);
    g_autoptr(Scene) scene = timeline_draw(chart, look);
    check_texts(scene, fmax(look->width, 1));
    check_leaders(scene);
    for (guint i = 0; i < chart->n_bars; i++) {
        SolidPoint min, max;
        if (!timeline_bar_box(chart, &f, i, &min, &max))
            continue;
        double top = f.rows + (chart->bars[i].row - f.first_row) * f.row_step;
        g_assert_cmpfloat(min.y, >=, top);
        g_assert_cmpfloat(max.y, <=, top + f.row_step);
        g_assert_cmpfloat(max.y, <=, f.bottom);
        g_assert_cmpfloat(min.x, >=, f.left);
        g_assert_cmpfloat(max.x, <=, f.right);
    }
}

static void
check_sizes(const TimelineChart *chart)
{
    static const struct {
        double width, height, zoom, from, now;
    } looks[] = {{640, 275, 0, 0, NAN},      {640, 275, 3.7, 9000, 13507},
                 {1087, 758, 0, 0, 13500},   {1500, 420, 1.9, 3333, NAN},
                 {420, 200, 0, 0, 600},      {1010, 310, 23, 12345, 12400},
                 {640, 275, 60, 20000, NAN}, {2400, 1500, 0, 0, 30000}};
    for (guint i = 0; i < G_N_ELEMENTS(looks); i++)
        for (int title = 0; title < 2; title++) {
            TimelineLook look = {.width = looks[i].width,
                                 .height = looks[i].height,
                                 .from = looks[i].from,
                                 .now = looks[i].now,
                                 .title = title,
                                 .first_row = i};
            TimelineFrame f = timeline_frame(chart, &look);
            look.scale = looks[i].zoom * timeline_least_scale(chart, &f);
            check_look(chart, &look);
        }
}

static void
test_apart(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) small = timeline_chart_new(&sample.session, &sample.melt, &units);
    check_sizes(small);
    static const int shops[][5] = {{23, 3, 2, 3, 7}, {5, 5, 1, 1, 5}, {61, 4, 3, 5, 24}};
    for (guint i = 0; i < G_N_ELEMENTS(shops); i++) {
        const int *s = shops[i];
        SessionResult *session = sample_long(s[0], s[1], s[2], s[3], s[4]);
        {
            g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
            check_sizes(chart);
        }
        sample_long_free(session);
    }
}

static void
test_zoom(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, &sample.melt, &units);
    TimelineLook look = {.width = 800, .height = 300, .now = NAN};
    TimelineFrame f = timeline_frame(chart, &look);
    check_close(timeline_x(&f, 0), f.left, 1e-12, "the whole session");
    check_close(timeline_x(&f, chart->length), f.right, 1e-12, "the whole session");
    check_close(timeline_at(&f, timeline_x(&f, 4321)), 4321, 1e-12, "there and back");
    look.from = 1e9; // never beyond the end
    look.scale = 2 * f.scale;
    f = timeline_frame(chart, &look);
    check_close(timeline_x(&f, chart->length), f.right, 1e-9, "the end");
    look.from = -50;
    look.scale = NAN;
    f = timeline_frame(chart, &look);
    check_close(timeline_x(&f, 0), f.left, 1e-12, "the start");
    // Rows that do not fit are counted, and scrolled to no further than the last.
    look.height = 200;
    look.first_row = 4000;
    f = timeline_frame(chart, &look);
    g_assert_cmpuint(f.first_row + f.n_rows, ==, chart->n_rows);
}

// The overlay rings exactly the tasks of the chosen mould, and joins them in their order.
static void
test_life(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(11, 2, 1, 2, 4);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    TimelineLook look = {.width = 1400, .height = 500, .now = NAN};
    TimelineFrame f = timeline_frame(chart, &look);
    for (int flask = 0; flask < 11; flask++) {
        g_autoptr(GArray) life = timeline_life(chart, flask);
        TimelineFocus focus = {
            g_array_index(life, guint, 4), G_MAXUINT, G_MAXUINT, G_MAXUINT, 0, G_MAXUINT};
        g_autoptr(Scene) scene = timeline_overlay(chart, &f, &focus);
        guint joints = 0;
        for (guint i = 0; i < session->n_tasks; i++) {
            g_autofree char *id = g_strdup_printf("task-%u", i + 1);
            gboolean lit = sample_find_shape(scene, SHAPE_PATH, ROLE_TRACE, id) != NULL;
            g_assert_cmpint(lit, ==, session->tasks[i].flask == flask);
        }
        for (guint i = 0; i < scene_shape_count(scene); i++) {
            const Shape *shape = scene_shape(scene, i);
            if (g_strcmp0(shape->part, "life") != 0)
                continue;
            const SessionTask *a = &session->tasks[g_array_index(life, guint, joints)];
            const SessionTask *b = &session->tasks[g_array_index(life, guint, joints + 1)];
            check_close(timeline_at(&f, shape->points[0].x), a->end, 1e-9, "end of one");
            check_close(timeline_at(&f, shape->points[1].x), b->start, 1e-9, "start of the next");
            joints++;
        }
        g_assert_cmpuint(joints, ==, life->len - 1);
    }
    sample_long_free(session);
}

static void
test_needs_and_ghost(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    TimelineLook look = {.width = 900, .height = 300, .now = NAN};
    TimelineFrame f = timeline_frame(chart, &look);
    TimelineFocus focus = {G_MAXUINT, G_MAXUINT, 5, G_MAXUINT, 0, G_MAXUINT};
    g_autoptr(Scene) hover = timeline_overlay(chart, &f, &focus);
    static const char *const lines[] = {"need-5-6", "need-3-6", "need-6-7", "need-6-8"};
    for (guint i = 0; i < G_N_ELEMENTS(lines); i++)
        g_assert_nonnull(sample_find_shape(hover, SHAPE_PATH, ROLE_NEEDS, lines[i]));
    g_assert_null(sample_find_shape(hover, SHAPE_PATH, ROLE_NEEDS, "need-4-9"));
    focus.held = 5;
    focus.at = 170 * 60;
    g_autoptr(Scene) held = timeline_overlay(chart, &f, &focus);
    g_assert_nonnull(sample_find_text(held, "2:50"));
    SolidPoint min, max;
    sample_shape_box(sample_find_shape(held, SHAPE_PATH, ROLE_POUR, "ghost"), &min, &max);
    check_close(timeline_at(&f, min.x), 170 * 60, 1e-9, "where it is put");
    check_close(timeline_at(&f, max.x), 173.5 * 60, 1e-9, "as long as it is");
    g_assert_null(sample_find_shape(held, SHAPE_PATH, ROLE_FAILS, "ghost"));
    focus.limit = 4;
    g_autoptr(Scene) stopped = timeline_overlay(chart, &f, &focus);
    g_assert_nonnull(sample_find_shape(stopped, SHAPE_PATH, ROLE_FAILS, "ghost"));
}

// Moved tasks bear a mark.
static void
test_marks(void)
{
    SampleSession sample;
    UnitSet units = unit_set_default();
    sample_session_fill(&sample);
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    TimelineLook look = {.width = 900,
                         .height = 300,
                         .now = NAN,
                         .parts = TRUE,
                         .pins = "melt-2 2 h 50 min; nothing 3 h;"};
    g_autoptr(Scene) scene = timeline_draw(chart, &look);
    g_assert_nonnull(sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "task-8"));
    g_assert_null(sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "task-5"));
    g_assert_nonnull(
        strstr(scene_find_part(scene, "task-8")->description, "moved by hand: not before 2:50"));
}

static void
test_pages(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(61, 4, 3, 5, 40);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    double width = 1087, height = 758;
    guint n = timeline_page_count(chart, width, height);
    g_assert_cmpuint(n, >, 1);
    gboolean *seen = g_new0(gboolean, session->n_tasks);
    for (guint page = 0; page < n; page++) {
        g_autoptr(Scene) scene = timeline_page(chart, width, height, page, NULL);
        check_texts(scene, width);
        for (guint i = 0; i < scene_shape_count(scene); i++) {
            const Shape *shape = scene_shape(scene, i);
            guint task;
            if (shape->part && sscanf(shape->part, "task-%u", &task) == 1)
                seen[task - 1] = TRUE;
        }
        g_autofree char *title = g_strdup_printf("Session, page %u of %u", page + 1, n);
        g_assert_nonnull(sample_find_text(scene, title));
        g_assert_nonnull(sample_find_text(scene, "Ram drag")); // the key
    }
    for (guint i = 0; i < session->n_tasks; i++)
        g_assert_true(seen[i]);
    g_free(seen);
    // On one page everything is there, which is then as large as it takes.
    timeline_whole_size(chart, &width, &height);
    TimelineLook look = {.width = width, .height = height, .now = NAN};
    TimelineFrame f = timeline_frame(chart, &look);
    g_assert_cmpuint(f.n_rows, ==, chart->n_rows);
    g_assert_cmpfloat(f.end, <=, height + 1);
    sample_long_free(session);
}

// A file of a kind for every ending, the same bytes each time, and never over another unasked.
static void
test_files(void)
{
    UnitSet units = unit_set_default();
    SessionResult *session = sample_long(61, 4, 3, 5, 40);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, NULL, &units);
    g_autofree char *folder = check_folder();
    static const char *const names[] = {"a.pdf", "a.svg", "a.png"};
    static const char *const starts[] = {"%PDF", "<?xml", "\x89PNG"};
    for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autofree char *path = g_build_filename(folder, names[i], NULL);
        g_autofree char *first = NULL, *second = NULL;
        g_autoptr(GError) error = NULL;
        gsize n, m;
        g_assert_true(timeline_export(chart, NULL, path, FALSE, &error));
        g_assert_no_error(error);
        g_assert_true(g_file_get_contents(path, &first, &n, NULL));
        g_assert_true(g_str_has_prefix(first, starts[i]));
        g_assert_false(timeline_export(chart, NULL, path, FALSE, &error));
        check_error(error, BASE_ERROR_FILE, "is there already");
        g_assert_true(timeline_export(chart, NULL, path, TRUE, &error));
        g_assert_true(g_file_get_contents(path, &second, &m, NULL));
        g_assert_cmpmem(first, n, second, m);
    }
    g_autofree char *odd = g_build_filename(folder, "a.odd", NULL);
    g_autoptr(GError) error = NULL;
    g_assert_false(timeline_export(chart, NULL, odd, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "ending");
    check_folder_remove(folder);
    sample_long_free(session);
}

// The wider a bar, the more it says of its task, and never more than fits.
static void
test_lengths(void)
{
    static const char *const texts[] = {"M", "M1", "Melt 1", "Melt load 1"};
    SampleSession sample;
    sample_session_fill(&sample);
    UnitSet units = unit_set_default();
    g_autoptr(TimelineChart) chart = timeline_chart_new(&sample.session, NULL, &units);
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    PaintView plain = {.scale_x = 1, .scale_y = 1, .y_down = TRUE};
    guint said = 0;
    for (double width = 170; width < 900; width += 7) {
        TimelineLook look = {.width = width, .height = 300, .now = NAN};
        g_autoptr(Scene) scene = timeline_draw(chart, &look);
        const Shape *label = sample_find_shape(scene, SHAPE_TEXT, ROLE_TEXT, "task-5");
        SolidPoint min, max;
        BrushText text;
        if (!label)
            continue;
        while (said < G_N_ELEMENTS(texts) && !g_str_equal(label->text, texts[said]))
            said++;
        g_assert_cmpuint(said, <, G_N_ELEMENTS(texts)); // one of them, and never a shorter again
        sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_MELT, "task-5"), &min, &max);
        g_assert_true(brush_text_place(layout, &plain, theme_get(THEME_LIGHT), 1, label, &text));
        g_assert_cmpfloat(text.width, <=, max.x - min.x);
    }
    g_assert_cmpstr(texts[said], ==, "Melt load 1");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/timeline-labels/apart", test_apart);
    g_test_add_func("/sketch/timeline-labels/zoom", test_zoom);
    g_test_add_func("/sketch/timeline-labels/life", test_life);
    g_test_add_func("/sketch/timeline-labels/needs-and-ghost", test_needs_and_ghost);
    g_test_add_func("/sketch/timeline-labels/marks", test_marks);
    g_test_add_func("/sketch/timeline-labels/pages", test_pages);
    g_test_add_func("/sketch/timeline-labels/files", test_files);
    g_test_add_func("/sketch/timeline-labels/lengths", test_lengths);
    return g_test_run();
}
