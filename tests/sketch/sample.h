// SPDX-License-Identifier: GPL-3.0-or-later
// Results made by hand for the tests of the drawings: a flat box casting with a thinner part in it,
// two placed and one turned by an odd angle, and a session with two loads.
#pragma once

#include "sketch/flask.h"
#include "sketch/timeline.h"

G_BEGIN_DECLS

// The casting: 74 by 46 mm, from -10 to +16 mm about the parting; the part 2 mm smaller all round.
#define SAMPLE_LONG 0.074
#define SAMPLE_WIDE 0.046
#define SAMPLE_UP 0.016
#define SAMPLE_DOWN 0.010
#define SAMPLE_STOCK 0.002
#define SAMPLE_TURN 0.55 // rad, of cavity 3

typedef struct {
    MouldLayout layout;
    PatternResult pattern;
    MouldCavity cavities[3];
    MouldChannel runners[2], gates[3];
} SampleFlask;

void sample_flask_fill(SampleFlask *sample);
void sample_flask_clear(SampleFlask *sample);

#define SAMPLE_TASKS 11
#define SAMPLE_CURVE 7
typedef struct {
    SessionResult session;
    MeltResult melt;
    SessionTask tasks[SAMPLE_TASKS];
    SessionFurnacePoint curve[SAMPLE_CURVE];
    MeltStep steps[2];
} SampleSession;

void sample_session_fill(SampleSession *sample);

// A long session with every kind of task, its needs told: `moulds` in loads of `load` poured from
// `furnaces` by `people` in `boxes`. Free with sample_long_free.
SessionResult *sample_long(int moulds, int load, int furnaces, int people, int boxes);
void sample_long_free(SessionResult *session);

// The first text shape that is exactly `text`, or NULL.
const Shape *sample_find_text(const Scene *scene, const char *text);
// The first shape of a kind and role that belongs to `part` (NULL: to nothing), or NULL.
const Shape *sample_find_shape(const Scene *scene, ShapeKind kind, SceneRole role,
                               const char *part);
// Box of a shape's points.
void sample_shape_box(const Shape *shape, SolidPoint *min, SolidPoint *max);

G_END_DECLS
