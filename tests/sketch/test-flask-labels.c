// SPDX-License-Identifier: GPL-3.0-or-later
// Words and dimensions of flasks that are crowded in different ways, as they are shown in a window
// of 1280 by 800. What lies where is asked of cairo, by points strewn over the words and lines.
#include "check.h"
#include "sample.h"
#include "sketch/brush.h"
#include "sketch/paint.h"

#define WIDE 660.0
#define HIGH 370.0
#define MARGIN 18.0
#define LETTERS 0.66 // of a line's height
#define VIEWS 5

typedef struct {
    const Scene *scene;
    PaintView view;
    cairo_surface_t *surface;
    cairo_t *cr;
} Shown;

typedef struct {
    BrushText text;
    const Shape *shape;
} Word;

static void
clear_shown(Shown *shown)
{
    cairo_destroy(shown->cr);
    cairo_surface_destroy(shown->surface);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Shown, clear_shown)

static Shown
show(const Scene *scene)
{
    Shown shown = {.scene = scene, .view = paint_fit(scene, WIDE, HIGH, MARGIN)};
    shown.surface = cairo_image_surface_create(CAIRO_FORMAT_A8, (int)WIDE, (int)HIGH);
    shown.cr = cairo_create(shown.surface);
    cairo_set_fill_rule(shown.cr, CAIRO_FILL_RULE_EVEN_ODD);
    return shown;
}

// One scene after another of a flask; in the sections the sprue is behind the plane.
static Scene *
draw(const SampleFlask *sample, guint view, const UnitSet *units)
{
    const MouldLayout *l = &sample->layout;
    const PatternResult *p = &sample->pattern;
    if (view < 3)
        return flask_half_scene(l, p, units, (FlaskHalf)view, NAN);
    return flask_cut_scene(l, p, units, view == 4, NAN);
}

static void
lay_path(const Shown *shown, const Shape *shape)
{
    double x, y;
    cairo_new_path(shown->cr);
    if (shape->kind == SHAPE_CIRCLE) {
        paint_to_device(&shown->view, shape->points[0].x, shape->points[0].y, &x, &y);
        cairo_arc(shown->cr, x, y, shape->radius * shown->view.scale_x, 0, 2 * G_PI);
        return;
    }
    for (guint run = 0; run < shape->n_runs; run++) {
        cairo_new_sub_path(shown->cr);
        for (guint i = shape->starts[run]; i < shape->starts[run + 1]; i++) {
            paint_to_device(&shown->view, shape->points[i].x, shape->points[i].y, &x, &y);
            cairo_line_to(shown->cr, x, y);
        }
        cairo_close_path(shown->cr);
    }
}

// What is painted last over the point, of what is filled.
static const Shape *
find_top(const Shown *shown, SolidPoint p)
{
    for (guint i = scene_shape_count(shown->scene); i-- > 0;) {
        const Shape *shape = scene_shape(shown->scene, i);
        if (!shape->filled || (shape->kind != SHAPE_PATH && shape->kind != SHAPE_CIRCLE))
            continue;
        lay_path(shown, shape);
        if (cairo_in_fill(shown->cr, p.x, p.y))
            return shape;
    }
    return NULL;
}

static gboolean
is_gating(const Shape *shape)
{
    return shape && shape->role == ROLE_GATING;
}

static void
place_dimension(const Shown *shown, const Shape *shape, BrushDimension *d)
{
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    brush_dimension_place(layout, &shown->view, theme_get(THEME_LIGHT),
                          brush_line_scale(shown->scene, &shown->view, 1.0),
                          brush_text_scale(shown->scene, &shown->view, 1.0), shape, d);
}

static GArray *
find_words(const Shown *shown)
{
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    double scale = brush_text_scale(shown->scene, &shown->view, 1.0);
    GArray *words = g_array_new(FALSE, FALSE, sizeof(Word));
    for (guint i = 0; i < scene_shape_count(shown->scene); i++) {
        Word word = {.shape = scene_shape(shown->scene, i)};
        BrushDimension d;
        if (!word.shape->text || !*word.shape->text)
            continue;
        if (word.shape->kind == SHAPE_DIMENSION) {
            place_dimension(shown, word.shape, &d);
            word.text = d.text;
        } else {
            brush_text_place(layout, &shown->view, theme_get(THEME_LIGHT), scale, word.shape,
                             &word.text);
        }
        g_array_append_val(words, word);
    }
    return words;
}

// A point of a word: `s` from its first letter to its last, `t` from the top to the bottom.
static SolidPoint
point_of(const BrushText *text, double s, double t)
{
    double along = text->left + s * text->width, across = (t - 0.5) * LETTERS * text->height;
    double c = cos(text->turn), q = sin(text->turn);
    return (SolidPoint){text->x + c * along - q * across, text->y + q * along + c * across};
}

static gboolean
is_on(const BrushText *text, SolidPoint p)
{
    double dx = p.x - text->x, dy = p.y - text->y, c = cos(text->turn), s = sin(text->turn);
    double along = c * dx + s * dy - text->left, across = c * dy - s * dx;
    return along > 0 && along < text->width && fabs(across) < LETTERS * text->height / 2;
}

static void
check_words(const Shown *shown, const char *where)
{
    g_autoptr(GArray) words = find_words(shown);
    for (guint i = 0; i < words->len; i++) {
        const Word *word = &g_array_index(words, Word, i);
        for (int k = 0; k < 11 * 5; k++) {
            SolidPoint p = point_of(&word->text, k % 11 / 10.0, k / 11 / 4.0);
            if (is_gating(find_top(shown, p)))
                g_error("%s: \"%s\" lies on gating", where, word->shape->text);
            for (guint n = 0; n < words->len; n++)
                if (n != i && is_on(&g_array_index(words, Word, n).text, p))
                    g_error("%s: \"%s\" lies on another text", where, word->shape->text);
        }
    }
}

// No point of a dimension's line lies on a gate, a runner or the sprue.
static void
check_lines(const Shown *shown, const char *where)
{
    for (guint i = 0; i < scene_shape_count(shown->scene); i++) {
        const Shape *shape = scene_shape(shown->scene, i);
        BrushDimension d;
        if (shape->kind != SHAPE_DIMENSION)
            continue;
        place_dimension(shown, shape, &d);
        for (int k = 1; k < 60; k++) {
            double t = k / 60.0;
            SolidPoint p = {d.line_a.x + t * (d.line_b.x - d.line_a.x),
                            d.line_a.y + t * (d.line_b.y - d.line_a.y)};
            if (is_gating(find_top(shown, p)))
                g_error("%s: the dimension of %s runs through gating", where, shape->part);
        }
    }
}

// A cavity's number lies on its casting clear of the edge, or is led there.
static void
check_numbers(const Shown *shown, guint n_cavities, gboolean led)
{
    for (guint i = 1; i <= n_cavities; i++) {
        g_autofree char *id = g_strdup_printf("cavity-%u", i);
        g_autofree char *number = g_strdup_printf("%u", i);
        g_autoptr(GArray) words = find_words(shown);
        const Shape *metal = sample_find_shape(shown->scene, SHAPE_PATH, ROLE_METAL, id);
        g_assert_nonnull(metal);
        gboolean line = sample_find_shape(shown->scene, SHAPE_PATH, ROLE_DIMENSION, id) != NULL;
        g_assert_cmpint(line, ==, led);
        for (guint n = 0; n < words->len; n++) {
            const Word *word = &g_array_index(words, Word, n);
            if (g_strcmp0(word->shape->part, id) != 0 || !g_str_equal(word->shape->text, number))
                continue;
            lay_path(shown, metal);
            for (int k = 0; k < 25; k++) {
                SolidPoint p = point_of(&word->text, k % 5 / 4.0, k / 5 / 4.0);
                g_assert_cmpint(!cairo_in_fill(shown->cr, p.x, p.y), ==, led);
            }
        }
    }
}

static void
check_all(const SampleFlask *sample, const UnitSet *units, const char *name)
{
    for (guint view = 0; view < VIEWS; view++) {
        g_autofree char *where = g_strdup_printf("%s, view %u", name, view);
        g_autoptr(Scene) scene = draw(sample, view, units);
        g_auto(Shown) shown = show(scene);
        check_words(&shown, where);
        if (view < 3)
            check_lines(&shown, where);
    }
}

// A runner up between two cavities with a gate to each: the straight way from one to the other
// leads through, above the runner's end there is room.
static void
put_runner_between(SampleFlask *s)
{
    s->runners[0] = (MouldChannel){0, 0.0085, 0, 0.0785, 0.0115, 0.0095};
    s->runners[1] = (MouldChannel){0, -0.0085, 0, -0.0215, 0.0115, 0.0095};
    s->gates[0] = (MouldChannel){0, 0.0575, -0.0345, 0.0575, 0.0235, 0.0042};
    s->gates[1] = (MouldChannel){0, 0.0575, 0.0311, 0.0575, 0.0235, 0.0042};
    s->layout.n_gates = 2;
    s->cavities[0].riser_x = s->cavities[1].riser_x = NAN;
    s->layout.riser.diameter = 0;
}

static void
test_plain(void)
{
    UnitSet units = unit_set_default();
    SampleFlask sample;
    sample_flask_fill(&sample);
    check_all(&sample, &units, "plain");
    units.inches = TRUE;
    check_all(&sample, &units, "inches");
    g_autoptr(Scene) scene = draw(&sample, 0, &units);
    g_auto(Shown) shown = show(scene);
    check_numbers(&shown, 3, FALSE);
    sample_flask_clear(&sample);
}

// The line is moved aside, its ends stay those of the least sand.
static void
test_runner_between(void)
{
    UnitSet units = unit_set_default();
    SampleFlask sample;
    sample_flask_fill(&sample);
    put_runner_between(&sample);
    check_all(&sample, &units, "runner between");
    g_autoptr(Scene) scene = draw(&sample, 0, &units);
    const Shape *gap = sample_find_shape(scene, SHAPE_DIMENSION, ROLE_DIMENSION, "cover-between");
    g_assert_nonnull(gap);
    check_close(gap->points[0].x, -34, 1e-9, "of the layout");
    check_close(gap->points[1].x, 30.5, 1e-9, "of the layout");
    check_close(gap->points[0].y, 63, 1e-9, "of the layout");
    g_assert_cmpfloat(63 + gap->radius, >, 78.5); // beyond the runner's end
    sample_flask_clear(&sample);
}

// Gates on all sides but one leave the sprue's word only that one, or a leader.
static void
test_sprue(void)
{
    UnitSet units = unit_set_default();
    for (guint open = 0; open <= 4; open++) {
        SampleFlask sample;
        MouldChannel gates[4];
        guint n = 0;
        sample_flask_fill(&sample);
        for (guint side = 0; side < 4; side++) {
            double x = round(cos(side * G_PI / 2)), y = round(sin(side * G_PI / 2));
            if (side != open)
                gates[n++] = (MouldChannel){0.012 * x, 0.012 * y, 0.04 * x, 0.04 * y, 0.026, 0.004};
        }
        sample.layout.gates = gates;
        sample.layout.n_gates = n;
        sample.layout.n_runners = 0;
        sample.layout.n_cavities = 0;
        check_all(&sample, &units, "gates about the sprue");
        g_autoptr(Scene) scene = draw(&sample, 0, &units);
        gboolean led = sample_find_shape(scene, SHAPE_PATH, ROLE_DIMENSION, NULL) != NULL;
        g_assert_cmpint(led, ==, open == 4);
        sample_flask_clear(&sample);
    }
}

// A casting smaller than its number: the number stands beside it.
static void
test_small(void)
{
    UnitSet units = unit_set_default();
    SampleFlask sample;
    sample_flask_fill(&sample);
    sample.layout.growth = 0.14;
    sample.layout.riser.diameter = 0;
    check_all(&sample, &units, "small castings");
    g_autoptr(Scene) scene = draw(&sample, 0, &units);
    g_auto(Shown) shown = show(scene);
    check_numbers(&shown, 3, TRUE);
    sample_flask_clear(&sample);
}

// A half's plan leaves out what is measured from a riser that stands in the other half.
static void
test_other_half(void)
{
    UnitSet units = unit_set_default();
    SampleFlask sample;
    sample_flask_fill(&sample);
    sample.layout.cover_between_from = (Vec3){-0.071 + 0.0207 / 2, 0.0215, 0.02};
    sample.layout.cover_between_to = (Vec3){0.0675 - 0.0207 / 2, 0.0205, 0.02};
    sample.layout.cover_between = 0.1178;
    for (guint view = 0; view < 3; view++) {
        g_autoptr(Scene) scene = draw(&sample, view, &units);
        g_assert_cmpint(scene_find_part(scene, "cover-between") != NULL, ==, view != FLASK_DRAG);
        g_assert_nonnull(scene_find_part(scene, "cover-wall"));
    }
    sample_flask_clear(&sample);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/flask-labels/plain", test_plain);
    g_test_add_func("/sketch/flask-labels/runner-between", test_runner_between);
    g_test_add_func("/sketch/flask-labels/sprue", test_sprue);
    g_test_add_func("/sketch/flask-labels/small", test_small);
    g_test_add_func("/sketch/flask-labels/other-half", test_other_half);
    return g_test_run();
}
