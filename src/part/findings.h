// SPDX-License-Identifier: GPL-3.0-or-later
// What is odd about a part's mesh, and what was done about it, in words.
#pragma once

#include "base/progress.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/overlap.h"
#include "units/quantity.h"

G_BEGIN_DECLS

typedef struct {
    SolidMesh *mesh; // outward; the mesh given, or the same turned over
    SolidCheck check;
    SolidMeasure measure; // its volume counts what lies in several shells once
    SolidOverlap overlap; // zeros for an open mesh
    gboolean turned;      // the faces looked inwards
    gboolean solid;       // closed, and holds something
} PartFindings;

void part_findings_clear(PartFindings *findings);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(PartFindings, part_findings_clear)

// Checks and measures a welded mesh, and turns it outwards. FALSE with an error when stopped.
gboolean part_find(const SolidMesh *mesh, PartFindings *findings, Progress *progress,
                   GError **error);

// One sentence for each thing found that is not as it should be, with what was done about it or
// what to do; none for a sound mesh. Free with g_strfreev.
char **part_findings_words(const PartFindings *findings, const UnitSet *units);

// An error for a mesh that bounds no solid; file may be NULL. FALSE, always.
gboolean part_findings_refuse(const PartFindings *findings, const char *file, GError **error);

G_END_DECLS
