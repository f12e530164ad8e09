// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines are kept as they are painted, in the order of painting, since what is painted over is in
// nobody's way. A box pays for the length of each outline it would cover and for the ground it
// stands on, a line for each outline it crosses.
#include "sketch/label-field.h"

#include <math.h>

#define OUTSIDE 400.0   // for each part of a box outside the drawing
#define APART 3.0       // device units between texts, that they are not read as one
#define ON_TEXT 1000.0  // for a box on another
#define OVER_TEXT 150.0 // for a line through a text
#define ON_LINE 2.5     // for each device unit of a dimension line below a box
#define CROSSING 4.0    // device units of covered outline that one crossing weighs as much as
#define LINE_CROSSING 5.0
#define STRIP                                                                                      \
    2.0 // device units to either side of a line, where another beside it is mistaken for it
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
    [ROLE_HIDDEN] = {1.0, 0.0}, [ROLE_PART] = {0.5, 0.0},      [ROLE_CENTRE] = {0.25, 0.0},
};

typedef struct {
    BrushPath path;
    SceneRole role;
    gboolean filled, stroked;
    const char *part; // the scene's
} Obstacle;

typedef struct {
    SolidPoint a, b;
} Line;

struct LabelField {
    PaintView view;
    PangoLayout *layout;
    SolidPoint min, max; // device units
    GArray *obstacles;   // Obstacle, in the order of painting
    GArray *boxes;       // LabelBox
    GArray *lines;       // Line
};

static void
clear_obstacle(gpointer obstacle)
{
    brush_path_clear(&((Obstacle *)obstacle)->path);
}

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
        Obstacle o = {.role = shape->role,
                      .filled = shape->filled,
                      .stroked = shape->stroked,
                      .part = shape->part};
        if (brush_path(scene, &field->view, shape, &o.path))
            g_array_append_val(field->obstacles, o);
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
    field->obstacles = g_array_new(FALSE, FALSE, sizeof(Obstacle));
    g_array_set_clear_func(field->obstacles, clear_obstacle);
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
    g_array_unref(field->obstacles);
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

static const Obstacle *
get_obstacle(const LabelField *field, guint i)
{
    return &g_array_index(field->obstacles, Obstacle, i);
}

// What of the obstacles from `first` on is painted over the point.
static const Obstacle *
find_cover(const LabelField *field, guint first, SolidPoint p)
{
    for (guint i = field->obstacles->len; i-- > first;) {
        const Obstacle *o = get_obstacle(field, i);
        if (o->filled && brush_path_contains(&o->path, p.x, p.y))
            return o;
    }
    return NULL;
}

SceneRole
label_field_at(const LabelField *field, SolidPoint p, const char **part)
{
    const Obstacle *o = find_cover(field, 0, p);
    *part = o ? o->part : NULL;
    return o ? o->role : ROLE_PAPER;
}

gboolean
label_field_has(const LabelField *field, SolidPoint p, SceneRole role)
{
    for (guint i = 0; i < field->obstacles->len; i++) {
        const Obstacle *o = get_obstacle(field, i);
        if (o->role == role && o->filled && brush_path_contains(&o->path, p.x, p.y))
            return TRUE;
    }
    return FALSE;
}

double
label_field_clearance(const LabelField *field, SolidPoint p, const char *part)
{
    double least = INFINITY;
    for (guint i = 0; i < field->obstacles->len; i++) {
        const Obstacle *o = get_obstacle(field, i);
        if (o->filled && g_strcmp0(o->part, part) == 0)
            least = fmin(least, brush_path_distance(&o->path, p.x, p.y));
    }
    return least;
}

gboolean
label_field_extent(const LabelField *field, const char *part, SolidPoint *min, SolidPoint *max)
{
    *min = (SolidPoint){INFINITY, INFINITY};
    *max = (SolidPoint){-INFINITY, -INFINITY};
    for (guint i = 0; i < field->obstacles->len; i++) {
        const Obstacle *o = get_obstacle(field, i);
        if (!o->filled || g_strcmp0(o->part, part) != 0)
            continue;
        *min = (SolidPoint){fmin(min->x, o->path.min.x), fmin(min->y, o->path.min.y)};
        *max = (SolidPoint){fmax(max->x, o->path.max.x), fmax(max->y, o->path.max.y)};
    }
    return min->x <= max->x;
}

// Calls back for each edge of an outline that comes near a box from `min` to `max`.
typedef double (*EdgeCost)(const LabelField *field, guint obstacle, SolidPoint a, SolidPoint b,
                           gconstpointer data);

static double
sum_edges(const LabelField *field, SolidPoint min, SolidPoint max, EdgeCost cost,
          gconstpointer data)
{
    double sum = 0.0;
    for (guint k = 0; k < field->obstacles->len; k++) {
        const BrushPath *path = &get_obstacle(field, k)->path;
        if (!get_obstacle(field, k)->stroked || weights[get_obstacle(field, k)->role].edge == 0.0 ||
            path->min.x > max.x || path->max.x < min.x || path->min.y > max.y ||
            path->max.y < min.y)
            continue;
        for (guint run = 0; run < path->n_runs; run++) {
            guint first = path->starts[run], end = path->starts[run + 1];
            for (guint i = path->closed ? first : first + 1; i < end; i++) {
                SolidPoint a = path->points[i == first ? end - 1 : i - 1], b = path->points[i];
                if (fmin(a.x, b.x) <= max.x && fmax(a.x, b.x) >= min.x && fmin(a.y, b.y) <= max.y &&
                    fmax(a.y, b.y) >= min.y)
                    sum += cost(field, k, a, b, data);
            }
        }
    }
    return sum;
}

static double
cost_covered(const LabelField *field, guint obstacle, SolidPoint a, SolidPoint b,
             gconstpointer data)
{
    SolidPoint middle;
    double length = label_box_covers(data, a, b, &middle);
    if (length <= 0.0 || find_cover(field, obstacle + 1, middle))
        return 0.0;
    return length * weights[get_obstacle(field, obstacle)->role].edge;
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
        SceneRole role = label_field_at(field, p, &part);
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
label_field_box(const LabelField *field, const LabelBox *box, const char *own)
{
    SolidPoint corners[4], min = {INFINITY, INFINITY}, max = {-INFINITY, -INFINITY}, middle;
    label_box_corners(box, corners);
    for (int i = 0; i < 4; i++) {
        min = (SolidPoint){fmin(min.x, corners[i].x), fmin(min.y, corners[i].y)};
        max = (SolidPoint){fmax(max.x, corners[i].x), fmax(max.y, corners[i].y)};
    }
    double sum = cost_ground(field, box, corners, own);
    sum += sum_edges(field, min, max, cost_covered, box);
    for (guint i = 0; i < field->boxes->len; i++)
        if (label_box_meets(box, &g_array_index(field->boxes, LabelBox, i)))
            sum += ON_TEXT;
    for (guint i = 0; i < field->lines->len; i++) {
        const Line *line = &g_array_index(field->lines, Line, i);
        sum += ON_LINE * label_box_covers(box, line->a, line->b, &middle);
    }
    return sum;
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
cost_crossed(const LabelField *field, guint obstacle, SolidPoint a, SolidPoint b,
             gconstpointer data)
{
    const Line *line = data;
    SolidPoint at;
    if (!find_crossing(line->a, line->b, a, b, &at) || find_cover(field, obstacle + 1, at))
        return 0.0;
    return CROSSING * weights[get_obstacle(field, obstacle)->role].edge;
}

double
label_field_line(const LabelField *field, SolidPoint a, SolidPoint b)
{
    double length = hypot(b.x - a.x, b.y - a.y), sum = 0.0;
    if (length <= 2.0 * END_SPARE)
        return 0.0;
    SolidPoint spare = {(b.x - a.x) / length * END_SPARE, (b.y - a.y) / length * END_SPARE}, at;
    Line line = {{a.x + spare.x, a.y + spare.y}, {b.x - spare.x, b.y - spare.y}};
    SolidPoint min = {fmin(line.a.x, line.b.x), fmin(line.a.y, line.b.y)};
    SolidPoint max = {fmax(line.a.x, line.b.x), fmax(line.a.y, line.b.y)};
    sum += sum_edges(field, min, max, cost_crossed, &line);
    for (guint i = 0; i < field->boxes->len; i++)
        if (label_box_covers(&g_array_index(field->boxes, LabelBox, i), line.a, line.b, &at) > 0.0)
            sum += OVER_TEXT;
    for (guint i = 0; i < field->lines->len; i++) {
        const Line *other = &g_array_index(field->lines, Line, i);
        sum += find_crossing(line.a, line.b, other->a, other->b, &at) ? LINE_CROSSING : 0.0;
    }
    return sum;
}

// What it costs a line to run close beside others.
static double
cost_beside(const LabelField *field, SolidPoint a, SolidPoint b)
{
    LabelBox strip = {{(a.x + b.x) / 2.0, (a.y + b.y) / 2.0},
                      hypot(b.x - a.x, b.y - a.y) / 2.0 - END_SPARE,
                      STRIP,
                      atan2(b.y - a.y, b.x - a.x)};
    SolidPoint min = {fmin(a.x, b.x) - STRIP, fmin(a.y, b.y) - STRIP};
    SolidPoint max = {fmax(a.x, b.x) + STRIP, fmax(a.y, b.y) + STRIP};
    return strip.along > 0.0 ? BESIDE * sum_edges(field, min, max, cost_covered, &strip) : 0.0;
}

double
label_field_dimension_lines(const LabelField *field, const BrushDimension *d)
{
    SolidPoint a, b;
    brush_dimension_ends(d, 1.0, &a, &b);
    double sum = label_field_line(field, a, b) + cost_beside(field, a, b);
    if (d->offset > 0.0)
        sum += label_field_line(field, d->from, d->line_a) +
               label_field_line(field, d->to, d->line_b);
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
