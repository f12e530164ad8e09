// SPDX-License-Identifier: GPL-3.0-or-later
// What the files of the timeline share. Private to sketch/.
#pragma once

#include <pango/pangocairo.h>

#include "sketch/timeline.h"

G_BEGIN_DECLS

// Sizes in device units.
#define TIMELINE_TEXT 11.0
#define TIMELINE_LINE 14.0 // height of a line of text
#define TIMELINE_GAP 4.0

typedef enum {
    TIMELINE_ORDER_BAND,
    TIMELINE_ORDER_GRID,
    TIMELINE_ORDER_AREA,
    TIMELINE_ORDER_WAIT,
    TIMELINE_ORDER_BLOCK,
    TIMELINE_ORDER_CELL,
    TIMELINE_ORDER_CURVE,
    TIMELINE_ORDER_TEXT,
    TIMELINE_ORDER_OVER,
} TimelineOrder;

// A setpoint and where its words stand.
typedef struct {
    double at, temperature; // s, deg C
    const char *prompt;
    char *text;
    guint level; // line above the curve, from the top
    gboolean leftwards;
    double room; // width of its words; 0: there is no room for them
} TimelineSet;

typedef struct {
    Scene *scene;
    const TimelineChart *chart;
    const TimelineLook *look;
    TimelineFrame frame;
    PangoLayout *layout;
    GArray *sets; // TimelineSet
} TimelineDraft;

// timeline-frame.c
double timeline_width(PangoLayout *layout, const char *text, double size, gboolean strong);
TimelineFrame timeline_place(TimelineDraft *draft);
// Everything but the scene, which stays NULL.
void timeline_draft_init(TimelineDraft *draft, const TimelineChart *chart,
                         const TimelineLook *look);
void timeline_draft_clear(TimelineDraft *draft);
double timeline_row_y(const TimelineFrame *frame, guint row); // top of its bars
// timeline-links.c
void timeline_chart_link(TimelineChart *chart);
// timeline-set.c
GArray *timeline_sets(const TimelineChart *chart);
// Puts the words of those in sight into at most `most` lines; how many lines that takes.
guint timeline_arrange_sets(GArray *sets, const TimelineFrame *frame, PangoLayout *layout,
                            guint most);
// timeline-curve.c
void timeline_curve(TimelineDraft *draft);
// timeline-heat.c
double timeline_highest_temperature(const TimelineChart *chart); // deg C, above 0
double timeline_temperature_y(const TimelineFrame *frame, double celsius, double highest);
guint timeline_count_heated(const TimelineChart *chart);            // furnaces that have a curve
char *timeline_heat_label(const TimelineChart *chart, int furnace); // "2 large". Free
double timeline_heat_label_width(const TimelineChart *chart, PangoLayout *layout);
// The curve of every furnace, each named at its right end where there are several.
void timeline_heats(TimelineDraft *draft);
// Among more than can be told apart, the one of `furnace` in full; for the overlay.
void timeline_light_heat(Scene *scene, const TimelineChart *chart, const TimelineFrame *frame,
                         int furnace);
// timeline-load.c
void timeline_chart_load(TimelineChart *chart);
char *timeline_lane_label(guint lane, guint n_lanes); // free
guint timeline_load_lanes(const TimelineChart *chart);
void timeline_loads(TimelineDraft *draft);
// Where the cell of a pour lies in its load. FALSE when not in sight.
gboolean timeline_cell_box(const TimelineChart *chart, const TimelineFrame *frame, guint task,
                           SolidPoint *min, SolidPoint *max);
// timeline-key.c
guint timeline_key_lines(const TimelineDraft *draft); // how many lines it takes
void timeline_draw_key(TimelineDraft *draft);
// timeline-axis.c
void timeline_axis(TimelineDraft *draft);
char *timeline_idle_words(double share); // "idle 38 %". Free
// timeline.c
void timeline_mark_pin(TimelineDraft *draft, const char *part, double x, double y); // tip below
// timeline-words.c
SceneRole timeline_role(TaskKind kind);
const char *timeline_letter(TaskKind kind); // of one kind of task, where its name has no room
const char *timeline_kind_name(TaskKind kind);
char *timeline_kind_label(const SessionTask *task); // "Pour 12". Free
char *timeline_code(const SessionTask *task);       // letter and number: "P12". Free

void timeline_text(TimelineDraft *draft, SceneRole role, const char *part, double x, double y,
                   double size, ShapeAlign align, const char *text);
// The same on hatching.
void timeline_rimmed_text(TimelineDraft *draft, SceneRole role, const char *part, double x,
                          double y, double size, ShapeAlign align, const char *text);

G_END_DECLS
