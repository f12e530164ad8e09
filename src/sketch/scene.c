// SPDX-License-Identifier: GPL-3.0-or-later
// The drawing as data. Shapes are kept sorted by order while they are added, and the boxes of the
// scene and of its parts grow with them, so that a finished scene is only ever read.
#include "sketch/scene.h"

#include <math.h>
#include <string.h>

#define M_TO_MM 1000.0

struct Scene {
    char *title;
    gboolean y_down, stretch;
    double grain;
    GPtrArray *shapes; // Shape, by order; equal orders as added
    GPtrArray *parts;  // ScenePart
    GHashTable *by_id; // the same by their ids
    SolidPoint anchor;
    SolidPoint min, max;
};

static void
free_shape(gpointer data)
{
    Shape *shape = data;
    g_free(shape->part);
    g_free(shape->points);
    g_free(shape->starts);
    g_free(shape->text);
    g_free(shape);
}

static void
free_part(gpointer data)
{
    ScenePart *part = data;
    g_free(part->id);
    g_free(part->label);
    g_free(part->description);
    g_free(part->figure);
    g_free(part);
}

static void
clear_scene(gpointer data)
{
    Scene *scene = data;
    g_free(scene->title);
    g_ptr_array_unref(scene->shapes);
    g_hash_table_unref(scene->by_id);
    g_ptr_array_unref(scene->parts);
}

static void
empty_box(SolidPoint *min, SolidPoint *max)
{
    *min = (SolidPoint){INFINITY, INFINITY};
    *max = (SolidPoint){-INFINITY, -INFINITY};
}

static void
grow_box(SolidPoint *min, SolidPoint *max, double x, double y)
{
    min->x = fmin(min->x, x);
    min->y = fmin(min->y, y);
    max->x = fmax(max->x, x);
    max->y = fmax(max->y, y);
}

// Texts count as their anchor: how far they reach is known only when they are painted.
static void
grow_box_by_shape(const Scene *scene, SolidPoint *min, SolidPoint *max, const Shape *shape)
{
    double reach = shape->kind == SHAPE_CIRCLE && !scene->stretch ? shape->radius : 0.0;
    for (guint i = 0; i < shape->n_points; i++) {
        grow_box(min, max, shape->points[i].x - reach, shape->points[i].y - reach);
        grow_box(min, max, shape->points[i].x + reach, shape->points[i].y + reach);
    }
    if (shape->kind != SHAPE_DIMENSION)
        return;
    double dx = shape->points[1].x - shape->points[0].x;
    double dy = shape->points[1].y - shape->points[0].y;
    double length = hypot(dx, dy);
    if (length <= 0.0)
        return;
    double ox = -dy / length * shape->radius, oy = dx / length * shape->radius;
    for (guint i = 0; i < 2; i++)
        grow_box(min, max, shape->points[i].x + ox, shape->points[i].y + oy);
}

static ScenePart *
find_part(const Scene *scene, const char *id)
{
    return id ? g_hash_table_lookup(scene->by_id, id) : NULL;
}

static Shape *
make_shape(ShapeKind kind, SceneRole role, int order, const char *part, gboolean filled,
           gboolean stroked)
{
    Shape *shape = g_new0(Shape, 1);
    shape->kind = kind;
    shape->role = role;
    shape->order = order;
    shape->part = g_strdup(part);
    shape->filled = filled;
    shape->stroked = stroked;
    return shape;
}

// Takes the shape. It goes after all shapes of the same or a lower order.
static void
take_shape(Scene *scene, Shape *shape)
{
    guint low = 0, high = scene->shapes->len;
    while (low < high) {
        guint middle = (low + high) / 2;
        const Shape *other = g_ptr_array_index(scene->shapes, middle);
        if (other->order <= shape->order)
            low = middle + 1;
        else
            high = middle;
    }
    g_ptr_array_insert(scene->shapes, (int)low, shape);
    grow_box_by_shape(scene, &scene->min, &scene->max, shape);
    ScenePart *part = find_part(scene, shape->part);
    if (part)
        grow_box_by_shape(scene, &part->min, &part->max, shape);
}

static void
take_points(Shape *shape, SolidPoint *points, guint n)
{
    shape->points = points;
    shape->n_points = n;
    shape->starts = g_new0(guint, 2);
    shape->starts[1] = n;
    shape->n_runs = 1;
}

static gboolean
points_are_finite(const SolidPoint *points, guint n)
{
    for (guint i = 0; i < n; i++)
        if (!isfinite(points[i].x) || !isfinite(points[i].y))
            return FALSE;
    return TRUE;
}

// A scene with no shapes; y up, one scale for both axes.
Scene *
scene_new(const char *title)
{
    Scene *scene = g_atomic_rc_box_new0(Scene);
    scene->title = g_strdup(title ? title : "");
    scene->shapes = g_ptr_array_new_with_free_func(free_shape);
    scene->parts = g_ptr_array_new_with_free_func(free_part);
    scene->by_id = g_hash_table_new(g_str_hash, g_str_equal);
    empty_box(&scene->min, &scene->max);
    return scene;
}

Scene *
scene_ref(Scene *scene)
{
    return g_atomic_rc_box_acquire(scene);
}

void
scene_unref(Scene *scene)
{
    if (scene)
        g_atomic_rc_box_release_full(scene, clear_scene);
}

void
scene_set_axes(Scene *scene, gboolean y_down, gboolean stretch)
{
    scene->y_down = y_down;
    scene->stretch = stretch;
}

void
scene_set_anchor(Scene *scene, SolidPoint anchor)
{
    g_return_if_fail(isfinite(anchor.x) && isfinite(anchor.y));
    scene->anchor = anchor;
}

void
scene_set_grain(Scene *scene, double grain)
{
    scene->grain = grain;
}

void
scene_add_outline(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                  gboolean stroked, const SolidOutline *outline_m, double x_m, double y_m,
                  double turn)
{
    g_return_if_fail(isfinite(x_m) && isfinite(y_m) && isfinite(turn));
    if (!outline_m || outline_m->n_points == 0)
        return;
    double c = cos(turn), s = sin(turn);
    Shape *shape = make_shape(SHAPE_PATH, role, order, part, filled, stroked);
    shape->closed = TRUE;
    shape->points = g_new(SolidPoint, outline_m->n_points);
    shape->starts = g_new0(guint, outline_m->n_loops + 1);
    shape->n_runs = outline_m->n_loops;
    guint n = 0;
    for (guint loop = 0; loop < outline_m->n_loops; loop++) {
        shape->starts[loop] = n;
        for (guint i = outline_m->starts[loop]; i < outline_m->starts[loop + 1]; i++) {
            SolidPoint p = outline_m->points[i];
            if (!isfinite(p.x) || !isfinite(p.y))
                continue;
            shape->points[n++] = (SolidPoint){(x_m + c * p.x - s * p.y) * M_TO_MM,
                                              (y_m + s * p.x + c * p.y) * M_TO_MM};
        }
    }
    shape->starts[outline_m->n_loops] = n;
    shape->n_points = n;
    take_shape(scene, shape);
}

void
scene_add_rectangle(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                    gboolean stroked, double x, double y, double width, double height)
{
    SolidPoint corners[] = {{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};
    scene_add_polygon(scene, role, order, part, filled, stroked, corners, 4);
}

void
scene_add_polygon(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                  gboolean stroked, const SolidPoint *points_mm, guint n)
{
    g_return_if_fail(n > 0 && points_are_finite(points_mm, n));
    Shape *shape = make_shape(SHAPE_PATH, role, order, part, filled, stroked);
    shape->closed = TRUE;
    take_points(shape, g_memdup2(points_mm, n * sizeof *points_mm), n);
    take_shape(scene, shape);
}

void
scene_add_line(Scene *scene, SceneRole role, int order, const char *part,
               const SolidPoint *points_mm, guint n)
{
    g_return_if_fail(n > 0 && points_are_finite(points_mm, n));
    Shape *shape = make_shape(SHAPE_PATH, role, order, part, FALSE, TRUE);
    take_points(shape, g_memdup2(points_mm, n * sizeof *points_mm), n);
    take_shape(scene, shape);
}

void
scene_add_circle(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                 gboolean stroked, double x, double y, double radius)
{
    g_return_if_fail(isfinite(x) && isfinite(y) && isfinite(radius) && radius >= 0.0);
    Shape *shape = make_shape(SHAPE_CIRCLE, role, order, part, filled, stroked);
    shape->closed = TRUE;
    shape->radius = radius;
    SolidPoint middle = {x, y};
    take_points(shape, g_memdup2(&middle, sizeof middle), 1);
    take_shape(scene, shape);
}

void
scene_add_text(Scene *scene, SceneRole role, int order, const char *part, double x, double y,
               double size, ShapeAlign align, const char *text)
{
    Shape style = {.size = size, .align = align};
    scene_add_styled_text(scene, role, order, part, x, y, &style, text);
}

void
scene_add_styled_text(Scene *scene, SceneRole role, int order, const char *part, double x, double y,
                      const Shape *style, const char *text)
{
    g_return_if_fail(isfinite(x) && isfinite(y) && text != NULL);
    Shape *shape = make_shape(SHAPE_TEXT, role, order, part, TRUE, FALSE);
    shape->size = style->size;
    shape->align = style->align;
    shape->turn = style->turn;
    shape->strong = style->strong;
    shape->halo = style->halo;
    shape->pinned = style->pinned;
    shape->room_x = style->room_x;
    shape->room_y = style->room_y;
    shape->text = g_strdup(text);
    SolidPoint anchor = {x, y};
    take_points(shape, g_memdup2(&anchor, sizeof anchor), 1);
    take_shape(scene, shape);
}

void
scene_add_dimension(Scene *scene, int order, const char *part, SolidPoint from, SolidPoint to,
                    double offset, const char *text)
{
    scene_add_role_dimension(scene, ROLE_DIMENSION, order, part, from, to, offset, text);
}

void
scene_add_role_dimension(Scene *scene, SceneRole role, int order, const char *part, SolidPoint from,
                         SolidPoint to, double offset, const char *text)
{
    SolidPoint ends[] = {from, to};
    g_return_if_fail(points_are_finite(ends, 2) && isfinite(offset) && text != NULL);
    Shape *shape = make_shape(SHAPE_DIMENSION, role, order, part, FALSE, TRUE);
    shape->radius = offset;
    shape->size = SCENE_DIMENSION_SIZE;
    shape->align = ALIGN_MIDDLE;
    shape->halo = TRUE;
    shape->text = g_strdup(text);
    take_points(shape, g_memdup2(ends, sizeof ends), 2);
    take_shape(scene, shape);
}

// Words about the shapes with this id, which may come before or after. A second part with the same
// id is a caller's mistake.
void
scene_add_part(Scene *scene, const char *id, const char *label, const char *description,
               const char *figure)
{
    g_return_if_fail(id != NULL && find_part(scene, id) == NULL);
    ScenePart *part = g_new0(ScenePart, 1);
    part->id = g_strdup(id);
    part->label = g_strdup(label ? label : id);
    part->description = g_strdup(description ? description : "");
    part->figure = g_strdup(figure);
    empty_box(&part->min, &part->max);
    for (guint i = 0; i < scene->shapes->len; i++) {
        const Shape *shape = g_ptr_array_index(scene->shapes, i);
        if (g_strcmp0(shape->part, id) == 0)
            grow_box_by_shape(scene, &part->min, &part->max, shape);
    }
    g_ptr_array_add(scene->parts, part);
    g_hash_table_insert(scene->by_id, part->id, part);
}

guint
scene_shape_count(const Scene *scene)
{
    return scene->shapes->len;
}

const Shape *
scene_shape(const Scene *scene, guint index)
{
    g_return_val_if_fail(index < scene->shapes->len, NULL);
    return g_ptr_array_index(scene->shapes, index);
}

guint
scene_part_count(const Scene *scene)
{
    return scene->parts->len;
}

const ScenePart *
scene_part(const Scene *scene, guint index)
{
    g_return_val_if_fail(index < scene->parts->len, NULL);
    return g_ptr_array_index(scene->parts, index);
}

const ScenePart *
scene_find_part(const Scene *scene, const char *id)
{
    return find_part(scene, id);
}

// The box of all shapes, mm; a box of no size at the origin for an empty scene.
void
scene_box(const Scene *scene, SolidPoint *min, SolidPoint *max)
{
    gboolean empty = !(scene->min.x <= scene->max.x);
    *min = empty ? (SolidPoint){0, 0} : scene->min;
    *max = empty ? (SolidPoint){0, 0} : scene->max;
}

const char *
scene_title(const Scene *scene)
{
    return scene->title;
}

gboolean
scene_y_down(const Scene *scene)
{
    return scene->y_down;
}

gboolean
scene_stretches(const Scene *scene)
{
    return scene->stretch;
}

double
scene_grain(const Scene *scene)
{
    return scene->grain;
}

SolidPoint
scene_anchor(const Scene *scene)
{
    return scene->anchor;
}
