// SPDX-License-Identifier: GPL-3.0-or-later
// A piece's field cut to the printer's bed, with holes for dowels: in its foot, towards the board,
// and across every cut. Inside board/ only.
#pragma once

#include "board/draw.h"
#include "solid/grid.h"
#include "solid/section.h"

G_BEGIN_DECLS

#define BOARD_MOST_DOWELS 2

#define CUT_MOST 64 // pieces along one axis

// A dowel's hole across a cut.
typedef struct {
    int axis, cut;
    Vec3 a, b;
} CutJoint;

typedef struct {
    SolidPoint dowels[BOARD_MOST_DOWELS];
    guint n_dowels;
} CutFoot;

// How a piece was cut and where its dowels are, in the field's axes, m: so that the same piece made
// with other cells is cut the same way.
typedef struct {
    char *name;
    int counts[3];
    double cuts[3][CUT_MOST]; // planes before pieces 1, 2, ...
    GArray *joints;           // CutJoint
    GArray *feet;             // CutFoot, one a part
} CutRecord;

CutRecord *cut_record_new(const char *name);
void cut_record_free(CutRecord *record);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CutRecord, cut_record_free)

typedef struct {
    Vec3 bed;               // m
    double detail;          // m, finest cell a piece may be made with
    double radius;          // of dowel holes, m
    double length;          // of a dowel hole, at most, m
    gboolean foot;          // with holes in the foot
    const GArray *bores;    // BoardHole, holes that are there anyway; or NULL
    const CutRecord *guide; // cuts and dowels go there if they can; or NULL
} CutOptions;

// One part, in the axes of the field but for z, which starts at its own foot.
typedef struct {
    SolidMesh *mesh;
    double z;                             // of its foot in the field's axes, m
    SolidPoint dowels[BOARD_MOST_DOWELS]; // holes in its foot, when that lies on the board
    guint n_dowels;
    guint joints; // holes across cuts
} CutPart;

void cut_part_free(CutPart *part);

// How many pieces each side of a box is cut into so that all fit the bed, lying either way. With
// cuts that cannot be anywhere, what is cut leaves the share `room` of the bed free.
void cut_counts(Vec3 size, Vec3 bed, double room, int counts[3]);

// Triangles the skin of a field will have.
guint64 cut_triangles(const SolidGrid *field);

// The parts of a mended field as CutPart; changes the field, and fills the new `record`. NULL with
// an error when stopped.
GPtrArray *cut_field(SolidGrid *field, const CutOptions *options, CutRecord *record,
                     Progress *progress, GError **error);

G_END_DECLS
