// SPDX-License-Identifier: GPL-3.0-or-later
// What the plan and the section of a flask have in common: the draft in hand, words about its
// parts, title, legend and scale bar. Private to sketch/.
#pragma once

#include "sketch/flask.h"

G_BEGIN_DECLS

#define FLASK_MM 1000.0

// Paint order of the flask views, from the bottom to the top.
typedef enum {
    FLASK_ORDER_WALL,
    FLASK_ORDER_SAND,
    FLASK_ORDER_TAB,
    FLASK_ORDER_BEYOND, // gating behind the plane of a section
    FLASK_ORDER_HIDDEN, // its edges
    FLASK_ORDER_GATING,
    FLASK_ORDER_GATE,
    FLASK_ORDER_CAVITY,
    FLASK_ORDER_SPRUE, // and risers, which may stand on the casting
    FLASK_ORDER_PART,
    FLASK_ORDER_LINE,
    FLASK_ORDER_DIMENSION,
    FLASK_ORDER_TEXT,
} FlaskOrder;

typedef struct LabelField LabelField;

typedef struct {
    Scene *scene;
    const MouldLayout *layout;
    const PatternResult *pattern;
    const UnitSet *units;
    double grain;                   // mm; see FlaskExtent
    gboolean beside;                // the key stands beside the drawing, not below
    double wall;                    // mm, thickness the flask's wall is drawn with
    double half_length, half_width; // mm
    const FlaskMarks *marks;        // of a plan view; NULL in the others
    const FlaskOutlines *outlines;  // as drawn; NULL: the pattern's own are used
    double growth;                  // of the casting in hand; 0: the layout's
    LabelField *field;              // between flask_labels_start and flask_labels_end
    gboolean hurried;               // there: no time for more than the first places
} FlaskDraft;

// A casting's outlines at the cavity's size, with no more points than the drawing shows.
struct FlaskOutlines {
    SolidOutline *shadow;
    SolidOutline *part[3]; // the finished part from above, and its sections at two heights
    FlaskOutlines *guest;  // of the other job that shares the flask, or NULL
};

typedef enum {
    FLASK_KEY_PATCH,
    FLASK_KEY_LINE,
    FLASK_KEY_VENT, // a vent as it is seen from above
} FlaskKeyKind;

typedef struct {
    SceneRole role;
    FlaskKeyKind kind;
    const char *word;
} FlaskLegend;

// What a drawing takes: a flask of `width` by `height` (m), and round it, in grains, what holds its
// dimensions, letters and heading. From this follow the grain, such that all text has its full size
// in the sketch of a window of 1280 by 800, and where the key stands: beside or below, whichever
// leaves the flask larger there.
typedef struct {
    double width, height; // m
    double across, down;  // grains
} FlaskExtent;

// Of a plan view.
FlaskExtent flask_plan_extent(const MouldLayout *layout);

void flask_draft_start(FlaskDraft *draft, const MouldLayout *layout, const PatternResult *pattern,
                       const UnitSet *units, const FlaskExtent *extent, const char *title);

// A length in shop units, to a tenth of a millimetre; with or without the unit. Free.
char *flask_length(const FlaskDraft *draft, double metres);
char *flask_length_number(const FlaskDraft *draft, double metres);

// The casting of cavity `i`, its own or the guest's, in hand from now on: its growth counts.
const PatternResult *flask_take_cavity(FlaskDraft *draft, guint i);

// Box of cavity `i` in flask axes, m, of the turned outline. FALSE without an outline.
gboolean flask_cavity_box(const FlaskDraft *draft, guint i, SolidPoint *min, SolidPoint *max);

// Half the inside of the flask, m, along the plane y = `at`: of a round one half the chord.
double flask_half_chord(const MouldLayout *layout, double at);

// Of either job.
gboolean flask_has_risers(const MouldLayout *layout);
gboolean flask_has_chill(const MouldLayout *layout);
// Chills "chill-1" ..: those a plane along the length at `at` (m) cuts, or those of a half in plan.
void flask_draw_chills_cut(FlaskDraft *draft, double at);
void flask_draw_chills_plan(FlaskDraft *draft, FlaskHalf half);
// The neck of riser `i` as a channel from the riser's middle straight to the casting and a little
// into it, over which the casting is painted; FALSE when there is none or the riser stands on the
// casting.
gboolean flask_neck(const FlaskDraft *draft, guint i, MouldChannel *neck);

// Covers as dimensions: the least to the wall and between cavities, all that fall short, and those
// of the cavity that is being moved.
void flask_covers(FlaskDraft *draft);

// A vent as it is seen from above: a circle of `radius` (mm) with a cross.
void flask_vent_mark(FlaskDraft *draft, const char *part, double x, double y, double radius);

// What a cold casting's lengths are multiplied by to get the cavity's.
double flask_growth(const FlaskDraft *draft);

// A casting's outline at the cavity's size, with no more points than the drawing shows; takes and
// frees `outline`, NULL is harmless.
SolidOutline *flask_plain(const FlaskDraft *draft, SolidOutline *outline);

// Dimension between two points in mm, with the length between them as text.
void flask_dimension(FlaskDraft *draft, const char *part, double x1, double y1, double x2,
                     double y2, double offset);
void flask_text(FlaskDraft *draft, SceneRole role, double x, double y, double size,
                ShapeAlign align, gboolean strong, gboolean halo, const char *part,
                const char *text);

// Words inside the flask, once everything else is drawn, at places where they cover neither each
// other nor an outline; where there is no room, at the end of a leader. Points in mm.
// The inside of the flask reaches from `min` to `max`.
void flask_labels_start(FlaskDraft *draft, SolidPoint min, SolidPoint max);
void flask_labels_end(FlaskDraft *draft);
// A word for something round.
void flask_label_word(FlaskDraft *draft, double x, double y, double radius, const char *word);
// The number of cavity `i` on `part`, near `home` or (NULL) its middle; in a plan with its guest's
// name below it and room for a padlock beside it. Where it stands goes to `at`, unless that is
// NULL. FALSE when the part is not drawn.
gboolean flask_label_number(FlaskDraft *draft, guint i, const char *part, const SolidPoint *home,
                            SolidPoint *at);
// A dimension between two points that are shown; its line may be moved aside.
void flask_label_gap(FlaskDraft *draft, SceneRole role, const char *part, SolidPoint from,
                     SolidPoint to, const char *text);
// Is there a casting, a riser or, when that is meant, gating at the point or just beside it?
gboolean flask_label_shown(const FlaskDraft *draft, SolidPoint p, gboolean gating);

// Title and the line below it, left at (x, y) mm, growing upwards.
void flask_heading(FlaskDraft *draft, double x, double y, const char *title, const char *below);
// Where the key may stand, mm: below y from left to right, or from (x, top) downwards.
typedef struct {
    double left, right, y;
    double x, top;
} FlaskKeyPlace;
// Scale bar and those entries of the legend whose role is drawn; after everything else.
void flask_key(FlaskDraft *draft, const FlaskKeyPlace *place, const FlaskLegend *legend,
               guint n_legend);

// Adds a part with words for every id of the flask that has a shape.
void flask_describe(FlaskDraft *draft);

G_END_DECLS
