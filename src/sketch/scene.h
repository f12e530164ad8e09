// SPDX-License-Identifier: GPL-3.0-or-later
// A drawing as data: shapes in millimetres (timelines: minutes across), each with a role, the id of
// the thing it belongs to, and words about it. Painted by sketch/paint.h, read by tests.
#pragma once

#include <glib.h>

#include "solid/section.h"

G_BEGIN_DECLS

// What a shape stands for; sketch/theme.h turns it into ink, fill, hatch and line kind.
typedef enum {
    ROLE_PAPER,
    ROLE_FLASK,     // frame, cut
    ROLE_SAND_COPE, // sand, cut
    ROLE_SAND_DRAG,
    ROLE_METAL,  // casting, cut
    ROLE_GATING, // sprue, runner, gates, cut or in view
    ROLE_RISER,
    ROLE_PART,      // outline of the finished part inside the casting
    ROLE_PARTING,   // parting line
    ROLE_CENTRE,    // centre line
    ROLE_HIDDEN,    // hidden edge
    ROLE_VISIBLE,   // visible edge
    ROLE_TAB,       // index tab
    ROLE_DIMENSION, // dimension and extension lines, their text
    ROLE_TEXT,      // plain text
    ROLE_FAILS,     // where a check fails
    ROLE_GRID,      // light scale lines (timeline, charts)
    ROLE_CURVE,     // furnace temperature
    ROLE_WARMUP,
    ROLE_MELT,
    ROLE_POUR,
    ROLE_RAM,
    ROLE_COOL,
    ROLE_SHAKE_OUT,
    ROLE_SET_UP,
    ROLE_NOW,
    ROLE_CUT_PART,      // finished part, cut
    ROLE_CUT_ALLOWANCE, // metal added by each cause, cut; in the order of part/cause.h
    ROLE_CUT_WALL,
    ROLE_CUT_FILLET,
    ROLE_CUT_CLOSED,
    ROLE_CUT_UNDERCUT,
    ROLE_CUT_STUB,
    ROLE_CUT_DRAFT,
    ROLE_CUTTING,  // where a plane is cut: long-dashed dotted
    ROLE_RAM_COPE, // more kinds of task: ROLE_RAM is then the drag
    ROLE_DRAW,
    ROLE_SHUT,
    ROLE_CHARGE,
    ROLE_SKIM,
    ROLE_WAIT,    // something begun that only waits
    ROLE_TRACE,   // the life of one mould
    ROLE_NEEDS,   // what waits for what
    ROLE_CURVE_2, // temperatures of more furnaces, told apart by the kind of line
    ROLE_CURVE_3,
    ROLE_CURVE_N, // one of more than can be told apart
    ROLE_COUNT
} SceneRole;

typedef enum {
    SHAPE_PATH,
    SHAPE_CIRCLE,
    SHAPE_TEXT,
    SHAPE_DIMENSION
} ShapeKind;
typedef enum {
    ALIGN_START,
    ALIGN_MIDDLE,
    ALIGN_END
} ShapeAlign;

typedef struct {
    ShapeKind kind;
    SceneRole role;
    gboolean filled, stroked;
    char *part; // "cavity-2", "sprue"; NULL: belongs to nothing that can be chosen
    int order;  // painted from low to high, hit from high to low
    // path: loops or open lines
    SolidPoint *points; // mm
    guint n_points;
    guint *starts; // n_runs + 1
    guint n_runs;
    gboolean closed;
    // circle: points[0], radius. text: points[0], text, align, size (mm on paper or px at scale 1).
    double radius;
    char *text;
    ShapeAlign align;
    double size;
    double turn;           // rad, of a text, anticlockwise as seen
    gboolean strong;       // text in bold
    gboolean halo;         // text with a rim of paper, since it stands on hatching
    gboolean pinned;       // text kept in sight at the left edge when the view is scrolled
    double room_x, room_y; // scene units a text may take; shortened or left out beyond; 0: any
    // dimension: points[0] to points[1] with text, offset sideways by `radius`
} Shape;

// A thing that can be pointed at: what the screen reader and the hover say.
typedef struct {
    char *id;            // "cavity-2"
    char *label;         // "Cavity 2"
    char *description;   // "Sand to the wall 31 mm"
    char *figure;        // id of the figure that explains it, or NULL
    SolidPoint min, max; // box, mm
} ScenePart;

typedef struct Scene Scene;
Scene *scene_new(const char *title);
Scene *scene_ref(Scene *scene);
void scene_unref(Scene *scene);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Scene, scene_unref)

// Before any shape. Stretched: the axes are scaled apart, and a circle's radius is in device units.
void scene_set_axes(Scene *scene, gboolean y_down, gboolean stretch);
// The point to which hatching is tied; the origin otherwise. A chart that is laid out anew for
// every view ties it to its start, so that it goes along when the view is moved.
void scene_set_anchor(Scene *scene, SolidPoint anchor);
// The length (mm) that a drawing counts on taking at least SCENE_GRAIN_PX on the surface. In a
// smaller view all text shrinks with it, so that what was laid out apart stays apart; in a larger
// one it grows a little. 0: never.
#define SCENE_GRAIN_PX 4.0
void scene_set_grain(Scene *scene, double grain);
// Adders copy what they are given. Coordinates that are not finite are a caller's mistake, except
// in outlines, where such points are left out. A text stands with the middle of its height at y.
void scene_add_outline(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                       gboolean stroked, const SolidOutline *outline_m, double x_m, double y_m,
                       double turn); // metres in, turned and moved
void scene_add_rectangle(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                         gboolean stroked, double x, double y, double width, double height); // mm
void scene_add_polygon(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                       gboolean stroked, const SolidPoint *points_mm, guint n);
void scene_add_line(Scene *scene, SceneRole role, int order, const char *part,
                    const SolidPoint *points_mm, guint n);
void scene_add_circle(Scene *scene, SceneRole role, int order, const char *part, gboolean filled,
                      gboolean stroked, double x, double y, double radius);
void scene_add_text(Scene *scene, SceneRole role, int order, const char *part, double x, double y,
                    double size, ShapeAlign align, const char *text);
// The same with everything a text may have: `style` gives size, align, turn, strong, halo, pinned,
// room_x and room_y; the rest of it is not read.
void scene_add_styled_text(Scene *scene, SceneRole role, int order, const char *part, double x,
                           double y, const Shape *style, const char *text);
#define SCENE_DIMENSION_SIZE 11.0 // of a dimension's text
// From `from` to `to`, the line moved `offset` mm to the left of that direction.
void scene_add_dimension(Scene *scene, int order, const char *part, SolidPoint from, SolidPoint to,
                         double offset, const char *text);
// The same in another role, as ROLE_FAILS.
void scene_add_role_dimension(Scene *scene, SceneRole role, int order, const char *part,
                              SolidPoint from, SolidPoint to, double offset, const char *text);
void scene_add_part(Scene *scene, const char *id, const char *label, const char *description,
                    const char *figure);

guint scene_shape_count(const Scene *scene);
const Shape *scene_shape(const Scene *scene, guint index); // in paint order
guint scene_part_count(const Scene *scene);
const ScenePart *scene_part(const Scene *scene, guint index);
const ScenePart *scene_find_part(const Scene *scene, const char *id);
void scene_box(const Scene *scene, SolidPoint *min, SolidPoint *max);
const char *scene_title(const Scene *scene);
gboolean scene_y_down(const Scene *scene);
gboolean scene_stretches(const Scene *scene);
double scene_grain(const Scene *scene);
SolidPoint scene_anchor(const Scene *scene);

G_END_DECLS
