// SPDX-License-Identifier: GPL-3.0-or-later
// The lanes of the timeline and what its parts share. Private to sketch/.
#pragma once

#include "sketch/timeline.h"

G_BEGIN_DECLS

// Heights are in units of which the whole drawing has some 150; y points down.
#define LANE_TITLE 4.0 // middle of the title
#define LANE_SET 14.0  // middle of the first line of setpoints
#define LANE_SET_STEP 8.0
#define LANE_SET_LEVELS 2
#define LANE_CURVE_TOP 28.0
#define LANE_CURVE_BOTTOM 60.0
#define LANE_LOAD 63.0
#define LANE_LOAD_HEIGHT 15.0
#define LANE_ROWS 82.0
#define LANE_ROW_STEP 11.0
#define LANE_ROW_HEIGHT 9.0

#define TIMELINE_TEXT 10.0

typedef enum {
    TIMELINE_ORDER_BAND,
    TIMELINE_ORDER_GRID,
    TIMELINE_ORDER_AREA,
    TIMELINE_ORDER_BLOCK,
    TIMELINE_ORDER_CELL,
    TIMELINE_ORDER_CURVE,
    TIMELINE_ORDER_TEXT,
    TIMELINE_ORDER_GUTTER,
} TimelineOrder;

typedef struct {
    Scene *scene;
    const SessionResult *session;
    const MeltResult *melt;
    const UnitSet *units;
    double length; // min, of the whole drawing
} TimelineDraft;

char *timeline_clock(double seconds); // "1:05". Free.
void timeline_text(TimelineDraft *draft, SceneRole role, const char *part, double x, double y,
                   double size, ShapeAlign align, double room_x, double room_y, const char *text);
// A text in the gutter left of x = 0.
void timeline_gutter(TimelineDraft *draft, SceneRole role, double y, double room_y,
                     const char *text);
void timeline_curve(TimelineDraft *draft); // the temperature lane

G_END_DECLS
