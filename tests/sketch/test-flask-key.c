// SPDX-License-Identifier: GPL-3.0-or-later
// Drawings of a flask as they are shown in a window of 1280 by 800: text of full size whatever the
// flask's shape, the key where it leaves the flask larger, and no words on others.
#include "check.h"
#include "sample.h"
#include "sketch/brush.h"
#include "sketch/paint.h"

// The sketch of such a window, and its margin.
#define WIDE 660.0
#define HIGH 370.0
#define MARGIN 18.0

static const UnitSet units = {0};

typedef struct {
    double length, width, cope, drag; // m
    gboolean round;
    gboolean beside; // in plan
} FlaskShape;

// A long flask would be smaller with the key beside it.
static const FlaskShape shapes[] = {{0.2635, 0.2155, 0.0765, 0.0615, FALSE, TRUE},
                                    {0.411, 0.307, 0.103, 0.091, FALSE, TRUE},
                                    {0.281, 0.281, 0.083, 0.083, TRUE, TRUE},
                                    {0.153, 0.517, 0.117, 0.113, FALSE, TRUE},
                                    {0.823, 0.203, 0.061, 0.053, FALSE, FALSE}};

static Scene *
draw(const SampleFlask *sample, guint view)
{
    const MouldLayout *l = &sample->layout;
    const PatternResult *p = &sample->pattern;
    return view == 0   ? flask_plan_scene(l, p, &units)
           : view == 1 ? flask_section_scene(l, p, &units)
           : view == 2 ? flask_cut_scene(l, p, &units, TRUE, NAN)
           : view == 3 ? flask_end_scene(l, p, &units)
                       : flask_stack_scene(l, p, &units);
}

static void
set_shape(SampleFlask *sample, const FlaskShape *shape)
{
    sample_flask_fill(sample);
    sample->layout.length = shape->length;
    sample->layout.width = shape->width;
    sample->layout.cope = sample->layout.sprue_height = shape->cope;
    sample->layout.drag = shape->drag;
    sample->layout.round = shape->round;
}

static void
test_size(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(shapes); i++) {
        for (guint view = 0; view < 5; view++) {
            SampleFlask sample;
            set_shape(&sample, &shapes[i]);
            g_autoptr(Scene) scene = draw(&sample, view);
            PaintView fit = paint_fit(scene, WIDE, HIGH, MARGIN);
            double scale = brush_text_scale(scene, &fit, 1.0);
            g_test_message("shape %u, view %u: text at %.2f of its size", i, view, scale);
            g_assert_cmpfloat(scale, >=, 0.95);
            sample_flask_clear(&sample);
        }
    }
}

// The word of the first entry stands right of the flask, or under it.
static void
test_place(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(shapes); i++) {
        SampleFlask sample;
        set_shape(&sample, &shapes[i]);
        g_autoptr(Scene) scene = draw(&sample, 0);
        const Shape *word = sample_find_text(scene, "Rough casting");
        double half = 1000 * shapes[i].length / 2;
        double low = -1000 * (shapes[i].round ? shapes[i].length : shapes[i].width) / 2;
        g_assert_true((word->points[0].x > half) == shapes[i].beside);
        g_assert_true((word->points[0].y < low) == !shapes[i].beside);
        sample_flask_clear(&sample);
    }
}

typedef struct {
    double x0, y0, x1, y1;
    const char *text;
} Box;

// Boxes of all texts, upright or turned by a right angle; a third of a line is above and below the
// letters.
static GArray *
measure_texts(const Scene *scene, const PaintView *view)
{
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    const Theme *theme = theme_get(THEME_LIGHT);
    double scale = brush_text_scale(scene, view, 1.0), unit = brush_line_scale(scene, view, 1.0);
    GArray *boxes = g_array_new(FALSE, FALSE, sizeof(Box));
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        BrushDimension d;
        BrushText *text = &d.text;
        if (shape->kind == SHAPE_DIMENSION)
            brush_dimension_place(layout, view, theme, unit, scale, shape, &d);
        else if (shape->kind != SHAPE_TEXT ||
                 !brush_text_place(layout, view, theme, scale, shape, text))
            continue;
        double c = fabs(cos(text->turn)), s = fabs(sin(text->turn)), high = 0.66 * text->height;
        double x = text->x + (text->left + text->width / 2) * c, y = text->y;
        double half_x = (text->width * c + high * s) / 2, half_y = (text->width * s + high * c) / 2;
        Box box = {x - half_x, y - half_y, x + half_x, y + half_y, shape->text};
        g_array_append_val(boxes, box);
    }
    return boxes;
}

static void
check_apart(const SampleFlask *sample)
{
    for (guint view = 0; view < 5; view++) {
        g_autoptr(Scene) scene = draw(sample, view);
        PaintView fit = paint_fit(scene, WIDE, HIGH, MARGIN);
        g_autoptr(GArray) boxes = measure_texts(scene, &fit);
        for (guint i = 0; i < boxes->len; i++) {
            const Box *a = &g_array_index(boxes, Box, i);
            g_assert_cmpfloat(a->x0, >=, 0);
            g_assert_cmpfloat(a->x1, <=, WIDE);
            g_assert_cmpfloat(a->y0, >=, 0);
            g_assert_cmpfloat(a->y1, <=, HIGH);
            for (guint k = 0; k < i; k++) {
                const Box *b = &g_array_index(boxes, Box, k);
                if (a->x0 < b->x1 && b->x0 < a->x1 && a->y0 < b->y1 && b->y0 < a->y1)
                    g_error("view %u: \"%s\" and \"%s\" meet", view, a->text, b->text);
            }
        }
    }
}

// Without a cavity the planes of the sections go through the middle, where the dimensions are.
static void
test_apart(void)
{
    SampleFlask sample;
    sample_flask_fill(&sample);
    check_apart(&sample);
    sample.layout.n_cavities = 0;
    check_apart(&sample);
    sample_flask_clear(&sample);
}

// What is not drawn is not in the key: no gating without a cavity, no vents in the drag.
static void
test_entries(void)
{
    SampleFlask sample;
    sample_flask_fill(&sample);
    MouldVent vent = {.x = 0.03, .y = 0.04, .z = 0.02, .diameter = 0.0025, .cavity = 0};
    sample.layout.vents = &vent;
    sample.layout.n_vents = 1;
    g_autoptr(Scene)
                  cope = flask_half_scene(&sample.layout, &sample.pattern, &units, FLASK_COPE, NAN);
    g_autoptr(Scene)
                  drag = flask_half_scene(&sample.layout, &sample.pattern, &units, FLASK_DRAG, NAN);
    g_assert_nonnull(sample_find_text(cope, "Vent"));
    g_assert_nonnull(scene_find_part(cope, "vent-1"));
    g_assert_null(sample_find_text(drag, "Vent"));
    g_assert_null(scene_find_part(drag, "vent-1"));
    g_assert_nonnull(sample_find_text(drag, "Rough casting"));
    g_autoptr(Scene) none = flask_plan_scene(&sample.layout, NULL, &units);
    g_assert_null(sample_find_text(none, "Rough casting"));
    g_assert_nonnull(sample_find_text(none, "Sprue, runner, gates"));
    sample_flask_clear(&sample);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/flask-key/size", test_size);
    g_test_add_func("/sketch/flask-key/place", test_place);
    g_test_add_func("/sketch/flask-key/apart", test_apart);
    g_test_add_func("/sketch/flask-key/entries", test_entries);
    return g_test_run();
}
