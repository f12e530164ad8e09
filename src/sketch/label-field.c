// SPDX-License-Identifier: GPL-3.0-or-later
// A box pays for the length of each outline it would cover and for the ground it stands on, a line
// for each outline it crosses. What is painted over is in nobody's way.
#include "sketch/label-field.h"

#include <math.h>

#define OUTSIDE 400.0   // for each part of a box outside the drawing
#define APART 5.0       // device units between texts, that they are not read as one
#define ON_TEXT 1000.0  // for a box on another
#define OVER_TEXT 150.0 // for a line through a text
#define ON_LINE 2.5     // for each device unit of a dimension line below a box
#define CROSSING 4.0    // device units of covered outline that one crossing weighs as much as
#define LINE_CROSSING 5.0
// Device units to either side of a line, where another beside it is mistaken for it.
#define STRIP 2.0
#define BESIDE 0.5     // of what it costs to cover such a line
#define LEFT_OWN 35.0  // for a box that should lie on its part and does not
#define END_SPARE 1.75 // device units at a line's ends that may touch what it points at

// What a role's outline costs for each unit covered, and its ground for a whole box on it.
static const struct {
    double edge, ground;
} weights[ROLE_COUNT] = {
    [ROLE_FLASK] = {3.0, 40.0}, [ROLE_METAL] = {3.0, 40.0},    [ROLE_GATING] = {3.0, 40.0},
    [ROLE_RISER] = {3.0, 40.0}, [ROLE_TAB] = {3.0, 40.0},      [ROLE_VISIBLE] = {3.0, 40.0},
    [ROLE_FAILS] = {2.5, 0.0},  [ROLE_DIMENSION] = {2.0, 0.0}, [ROLE_PARTING] = {1.5, 0.0},
    [ROLE_HIDDEN] = {1.0, 0.0}, [ROLE_PART] = {0.1, 0.0},      [ROLE_CENTRE] = {0.2, 0.0},
};

typedef struct {
    SolidPoint a, b;
} Line;

struct LabelField {
    PaintView view;
    PangoLayout *layout;
    SolidPoint min, max; // device units
    LabelInk *ink;
    GArray *boxes; // LabelBox
    GArray *lines; // Line
};

static void
take_shape(LabelField *field, const Scene *scene, const Shape *shape)
{
    double width, height;
    if (shape->kind == SHAPE_DIMENSION) {
        BrushDimension d;
        label_field_measure(field, shape->text, shape->size, shape->strong, &width, &height);
        label_field_dimension(field, shape, width, height, &d);
        label_field_take_dimension(field, &d);
    } else if (shape->kind == SHAPE_TEXT) {
        BrushText text;
        if (!brush_text_place(field->layout, &field->view, theme_get(THEME_LIGHT), 1.0, shape,
                              &text))
            return;
        LabelBox box = label_box_of(&text);
        label_field_take_box(field, &box);
    } else {
        label_ink_take(field->ink, scene, &field->view, shape);
    }
}

LabelField *
label_field_new(const Scene *scene, SolidPoint min, SolidPoint max)
{
    g_return_val_if_fail(scene_grain(scene) > 0.0, NULL);
    LabelField *field = g_new0(LabelField, 1);
    double scale = SCENE_GRAIN_PX / scene_grain(scene);
    field->view = (PaintView){.scale_x = scale, .scale_y = scale, .y_down = scene_y_down(scene)};
    field->layout = brush_text_layout(NULL);
    SolidPoint a, b;
    paint_to_device(&field->view, min.x, min.y, &a.x, &a.y);
    paint_to_device(&field->view, max.x, max.y, &b.x, &b.y);
    field->min = (SolidPoint){fmin(a.x, b.x), fmin(a.y, b.y)};
    field->max = (SolidPoint){fmax(a.x, b.x), fmax(a.y, b.y)};
    field->ink = label_ink_new();
    field->boxes = g_array_new(FALSE, FALSE, sizeof(LabelBox));
    field->lines = g_array_new(FALSE, FALSE, sizeof(Line));
    for (guint i = 0; i < scene_shape_count(scene); i++)
        take_shape(field, scene, scene_shape(scene, i));
    return field;
}

void
label_field_free(LabelField *field)
{
    if (!field)
        return;
    g_object_unref(field->layout);
    label_ink_free(field->ink);
    g_array_unref(field->boxes);
    g_array_unref(field->lines);
    g_free(field);
}

const PaintView *
label_field_view(const LabelField *field)
{
    return &field->view;
}

void
label_field_measure(const LabelField *field, const char *text, double size, gboolean strong,
                    double *width, double *height)
{
    SolidPoint anywhere = {0, 0};
    Shape plain = {.points = &anywhere,
                   .n_points = 1,
                   .text = (char *)text, // never written or freed
                   .size = size,
                   .strong = strong};
    BrushText placed;
    brush_text_place(field->layout, &field->view, theme_get(THEME_LIGHT), 1.0, &plain, &placed);
    *width = placed.width;
    *height = placed.height;
}

void
label_field_dimension(const LabelField *field, const Shape *shape, double width, double height,
                      BrushDimension *d)
{
    d->text.width = width;
    d->text.height = height;
    brush_dimension_lay_out(&field->view, 1.0, shape, d);
}

const LabelInk *
label_field_ink(const LabelField *field)
{
    return field->ink;
}

static double
cost_covered(const LabelInk *ink, guint i, SolidPoint a, SolidPoint b, gconstpointer box)
{
    SolidPoint middle;
    double weight = weights[label_ink_role(ink, i)].edge;
    double length = weight > 0.0 ? label_box_covers(box, a, b, &middle) : 0.0;
    return length > 0.0 && !label_ink_covered(ink, i, middle) ? weight * length : 0.0;
}

// The ground under the middle of a box and its corners.
static double
cost_ground(const LabelField *field, const LabelBox *box, const SolidPoint corners[4],
            const char *own)
{
    double sum = 0.0;
    for (int i = 0; i < 5; i++) {
        SolidPoint p = i < 4 ? corners[i] : box->middle;
        const char *part;
        SceneRole role = label_ink_at(field->ink, p, &part);
        if (own && g_strcmp0(part, own) != 0)
            sum += LEFT_OWN / 5.0;
        if (!own || g_strcmp0(part, own) != 0)
            sum += weights[role].ground / 5.0;
        if (p.x < field->min.x || p.x > field->max.x || p.y < field->min.y || p.y > field->max.y)
            sum += OUTSIDE / 5.0;
    }
    return sum;
}

double
label_field_box(const LabelField *field, const LabelBox *box, const char *own, double most)
{
    SolidPoint corners[4], min = {INFINITY, INFINITY}, max = {-INFINITY, -INFINITY}, middle;
    label_box_corners(box, corners);
    for (int i = 0; i < 4; i++) {
        min = (SolidPoint){fmin(min.x, corners[i].x), fmin(min.y, corners[i].y)};
        max = (SolidPoint){fmax(max.x, corners[i].x), fmax(max.y, corners[i].y)};
    }
    double sum = 0.0;
    for (guint i = 0; i < field->boxes->len; i++)
        if (label_box_meets(box, &g_array_index(field->boxes, LabelBox, i)))
            sum += ON_TEXT;
    for (guint i = 0; i < field->lines->len; i++) {
        const Line *line = &g_array_index(field->lines, Line, i);
        sum += ON_LINE * label_box_covers(box, line->a, line->b, &middle);
    }
    if (sum <= most)
        sum += label_ink_sum(field->ink, min, max, most - sum, cost_covered, box);
    return sum <= most ? sum + cost_ground(field, box, corners, own) : sum;
}

double
label_field_box_over(const LabelBox *box, const BrushDimension *d)
{
    SolidPoint a, b, middle;
    brush_dimension_ends(d, 1.0, &a, &b);
    return ON_LINE * (label_box_covers(box, a, b, &middle) +
                      label_box_covers(box, d->from, d->line_a, &middle) +
                      label_box_covers(box, d->to, d->line_b, &middle));
}

// Where two lines cross; FALSE when they do not.
static gboolean
find_crossing(SolidPoint a, SolidPoint b, SolidPoint c, SolidPoint d, SolidPoint *at)
{
    double ux = b.x - a.x, uy = b.y - a.y, vx = d.x - c.x, vy = d.y - c.y;
    double cross = ux * vy - uy * vx;
    if (cross == 0.0)
        return FALSE;
    double t = ((c.x - a.x) * vy - (c.y - a.y) * vx) / cross;
    double s = ((c.x - a.x) * uy - (c.y - a.y) * ux) / cross;
    *at = (SolidPoint){a.x + t * ux, a.y + t * uy};
    return t >= 0.0 && t <= 1.0 && s >= 0.0 && s < 1.0;
}

static double
cost_crossed(const LabelInk *ink, guint i, SolidPoint a, SolidPoint b, gconstpointer data)
{
    const Line *line = data;
    double weight = weights[label_ink_role(ink, i)].edge;
    SolidPoint at;
    if (weight == 0.0 || !find_crossing(line->a, line->b, a, b, &at))
        return 0.0;
    return label_ink_covered(ink, i, at) ? 0.0 : CROSSING * weight;
}

// What it costs a line to cross others.
static double
cost_crossing(const LabelField *field, SolidPoint a, SolidPoint b, double most)
{
    double length = hypot(b.x - a.x, b.y - a.y), sum = 0.0;
    if (length <= 2.0 * END_SPARE)
        return 0.0;
    SolidPoint spare = {(b.x - a.x) / length * END_SPARE, (b.y - a.y) / length * END_SPARE}, at;
    Line line = {{a.x + spare.x, a.y + spare.y}, {b.x - spare.x, b.y - spare.y}};
    SolidPoint min = {fmin(line.a.x, line.b.x), fmin(line.a.y, line.b.y)};
    SolidPoint max = {fmax(line.a.x, line.b.x), fmax(line.a.y, line.b.y)};
    for (guint i = 0; i < field->boxes->len; i++)
        if (label_box_covers(&g_array_index(field->boxes, LabelBox, i), line.a, line.b, &at) > 0.0)
            sum += OVER_TEXT;
    for (guint i = 0; i < field->lines->len; i++) {
        const Line *other = &g_array_index(field->lines, Line, i);
        sum += find_crossing(line.a, line.b, other->a, other->b, &at) ? LINE_CROSSING : 0.0;
    }
    if (sum <= most)
        sum += label_ink_sum(field->ink, min, max, most - sum, cost_crossed, &line);
    return sum;
}

// What it costs a line to run close beside others.
static double
cost_beside(const LabelField *field, SolidPoint a, SolidPoint b, double most)
{
    double length = hypot(b.x - a.x, b.y - a.y);
    if (length <= 2.0 * END_SPARE)
        return 0.0;
    LabelBox strip = {{(a.x + b.x) / 2.0, (a.y + b.y) / 2.0},
                      length / 2.0 - END_SPARE,
                      STRIP,
                      {(b.x - a.x) / length, (b.y - a.y) / length}};
    SolidPoint min = {fmin(a.x, b.x) - STRIP, fmin(a.y, b.y) - STRIP};
    SolidPoint max = {fmax(a.x, b.x) + STRIP, fmax(a.y, b.y) + STRIP};
    return BESIDE * label_ink_sum(field->ink, min, max, most / BESIDE, cost_covered, &strip);
}

double
label_field_line(const LabelField *field, SolidPoint a, SolidPoint b, double most)
{
    double sum = cost_crossing(field, a, b, most);
    return sum <= most ? sum + cost_beside(field, a, b, most - sum) : sum;
}

// Extension lines start along the outlines they come from, which is no harm.
double
label_field_dimension_lines(const LabelField *field, const BrushDimension *d, double most)
{
    SolidPoint a, b;
    brush_dimension_ends(d, 1.0, &a, &b);
    double sum = label_field_line(field, a, b, most);
    if (sum <= most && d->offset > 0.0)
        sum += cost_crossing(field, d->from, d->line_a, most - sum) +
               cost_crossing(field, d->to, d->line_b, most - sum);
    return sum;
}

void
label_field_take_box(LabelField *field, const LabelBox *box)
{
    LabelBox wide = *box;
    wide.along += APART;
    wide.across += APART;
    g_array_append_val(field->boxes, wide);
}

void
label_field_take_line(LabelField *field, SolidPoint a, SolidPoint b)
{
    Line line = {a, b};
    g_array_append_val(field->lines, line);
}

void
label_field_take_dimension(LabelField *field, const BrushDimension *d)
{
    SolidPoint a, b;
    brush_dimension_ends(d, 1.0, &a, &b);
    label_field_take_line(field, a, b);
    if (d->offset > 0.0) {
        label_field_take_line(field, d->from, d->line_a);
        label_field_take_line(field, d->to, d->line_b);
    }
    LabelBox box = label_box_of(&d->text);
    if (d->text.width > 0.0)
        label_field_take_box(field, &box);
}
