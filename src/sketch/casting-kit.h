// SPDX-License-Identifier: GPL-3.0-or-later
// What the pieces of the casting's sheet have in common. Private to sketch/.
#pragma once

#include "sketch/casting.h"

G_BEGIN_DECLS

#define CASTING_MM 1000.0

// Paint order, from the bottom to the top.
typedef enum {
    CASTING_ORDER_SHEET,
    CASTING_ORDER_BEYOND, // the plane
    CASTING_ORDER_METAL,  // causes, the outermost first
    CASTING_ORDER_LINE = CASTING_ORDER_METAL + CAUSE_COUNT,
    CASTING_ORDER_EDGE,
    CASTING_ORDER_PARTING,
    CASTING_ORDER_CUTTING,
    CASTING_ORDER_DIMENSION,
    CASTING_ORDER_TEXT,
} CastingOrder;

typedef struct {
    Scene *scene;
    const PatternResult *pattern;
    const CauseCut *cut;
    const UnitSet *units;
    CastingSheet sheet;
} CastingDraft;

// The sheet in grains.
#define CASTING_WIDTH 167.0
#define CASTING_HEIGHT 82.0
#define CASTING_COLUMN 101.0 // left edge of the right-hand column
#define CASTING_EDGE 164.0   // its right edge
// The place for the section, without its dimensions.
#define CASTING_LEFT 14.0
#define CASTING_RIGHT 81.0
#define CASTING_LOW 11.0
#define CASTING_HIGH 61.0
// The place for the small picture, without what the cutting line has outside.
#define CASTING_MAP_LEFT 111.0
#define CASTING_MAP_RIGHT 154.0
#define CASTING_MAP_LOW 54.0
#define CASTING_MAP_HIGH 71.0
#define CASTING_TABLE_TOP 43.5

// Id, words and figure of a cause, N_(…).
typedef struct {
    const char *id, *word, *figure;
    SceneRole role;
} CastingCause;
extern const CastingCause casting_causes[CAUSE_COUNT];

char *casting_length(const UnitSet *units, double metres); // to a tenth of a millimetre; free
char *casting_length_number(const UnitSet *units, double metres); // without the shop's unit
void casting_text(CastingDraft *draft, SceneRole role, double x, double y, double size,
                  ShapeAlign align, gboolean strong, const char *part, const char *text);
// A slim filled arrowhead with its tip at (x, y), pointing along (dx, dy), a unit vector.
void casting_arrow(CastingDraft *draft, SceneRole role, int order, const char *part, double x,
                   double y, double dx, double dy);

void casting_draw_map(CastingDraft *draft);
void casting_draw_table(CastingDraft *draft);
void casting_draw_section(CastingDraft *draft);

G_END_DECLS
