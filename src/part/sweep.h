// SPDX-License-Identifier: GPL-3.0-or-later
// The sweeps behind the drawable envelope: layers of planar distance, carried from each end towards
// the parting and widened by the draft on the way. Inside part/ only.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

typedef struct {
    SolidGrid *rough;   // 3D: part, allowance and stub; <= 0 in the metal
    SolidGrid *section; // planar distance of each layer of `rough`
    float **reach[2];   // [0] upwards, [1] downwards; per layer NULL, or how far (m) beyond the
                        // layer the metal next to the nearest place of the outline ends
    int first, last;    // layers with metal; first > last when there is none
    double low, high;   // z of the lowest and highest metal, m
} SweepBody;

void sweep_body_clear(SweepBody *body);

// Fills section, first, last, low and high from body->rough.
gboolean sweep_sections(SweepBody *body, Progress *progress, GError **error);

// The parting height (z, m) that needs least metal at this draft: cumulative area swept from the
// top and from the bottom gives every height at once; among equals the one nearest to the middle.
// Heights above `highest` are not considered.
double sweep_best_parting(const SweepBody *body, double tangent, double highest,
                          Progress *progress);

// An envelope: its layers' planar distance and what is needed to place its surface between layers.
typedef struct {
    const SweepBody *body;
    SolidGrid *layers; // planar distance, <= 0 in the metal
    double tangent;    // of the draft
    double parting;    // z, m
    int below;         // highest layer of the drag, -1 when there is none
} SweepEnvelope;

void sweep_envelope_clear(SweepEnvelope *envelope);
gboolean sweep_envelope(const SweepBody *body, double tangent, double parting,
                        SweepEnvelope *envelope, Progress *progress, GError **error);

// A closed mesh over the body as it is, and over its envelope.
SolidMesh *sweep_body_mesh(const SweepBody *body, Progress *progress, GError **error);
SolidMesh *sweep_envelope_mesh(const SweepEnvelope *envelope, Progress *progress, GError **error);

G_END_DECLS
