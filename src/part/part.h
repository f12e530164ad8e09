// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "part": the finished part as it comes from the file.
#pragma once

#include "book/inputs.h"
#include "figure/figure.h"
#include "solid/check.h"
#include "solid/grid.h"
#include "solid/measure.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    SolidMesh *mesh; // welded, outward; in the file's axes, m
    SolidCheck check;
    gboolean solid;       // closed, and holds something: only then can it be cast
    SolidMeasure measure; // what lies in several shells counts once in the volume
    char **findings;      // what is odd about the mesh and what was done about it, sentences
    double min_wall;      // m, NAN when unknown
    char *digest;         // of the mesh
} PartResult;

PartResult *part_result_ref(const PartResult *result);
void part_result_unref(const PartResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PartResult, part_result_unref)

// Reads "mesh". Figures part.*. An open mesh, or one that holds
// nothing, gives a result whose volume figures are unknown.
// NULL with an error only when there is no usable mesh at all.
extern const char *const part_reads[];
PartResult *part_stage(const Inputs *inputs, FigureList *figures, Progress *progress,
                       GError **error);

// The stage from a mesh in hand (welded, m); `figures` must hold the given "mesh". NULL with an
// error when stopped.
PartResult *part_measure(const SolidMesh *mesh, FigureList *figures, Progress *progress,
                         GError **error);

G_END_DECLS
