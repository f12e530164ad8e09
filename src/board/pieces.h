// SPDX-License-Identifier: GPL-3.0-or-later
// The makers of the pieces, and what they share. Inside board/ only.
#pragma once

#include "board/board.h"
#include "board/cut.h"

G_BEGIN_DECLS

typedef struct {
    const BoardOptions *options;
    const PatternResult *pattern;
    const MouldLayout *layout;
    const GPtrArray *guide; // CutRecord of the same pieces made with coarse facets, or NULL
    GPtrArray *records;     // CutRecord, one a piece before it is cut
    GArray *pieces;         // BoardPiece
    GPtrArray *notes;
    double detail; // coarsest cell used so far
    Progress *progress;
} BoardWork;

#define BOARD_MOST_TRIANGLES 390000    // a binary STL of them stays under 20 MB
#define BOARD_MOST_BEFORE_THIN 1500000 // before flat places are thinned, for memory

#define BOARD_MOST_CELLS 24e6 // that memory bears
// Some fifty cells along each side of a casting: volumes within half a percent, in a fraction of a
// second.
#define BOARD_FEW_CELLS 120e3

// Cell, m, for a grid over a box of this size: the printer's detail, or what keeps to the most
// cells.
double board_cell(const BoardWork *work, Vec3 size);

// Adds what `field` is cut into, standing with the field's origin at each of `n` places. `bores`,
// of BoardHole in the field's axes or NULL, are drilled besides the holes for dowels in a foot on
// the board.
gboolean board_add_parts(BoardWork *work, SolidGrid *field, const char *name, BoardKind kind,
                         BoardSide side, const BoardPlace *places, guint n, const GArray *bores,
                         GError **error);

// A piece with this mesh; both arrays and the mesh are taken over or copied.
BoardPiece *board_add_piece(BoardWork *work, const char *name, BoardKind kind, BoardSide side,
                            SolidMesh *mesh, const BoardPlace *places, guint n);

// A grid standing on z = 0 whose cells cover the box and a margin, all far from metal.
SolidGrid *board_field_new(Vec3 low, Vec3 high, double cell, GError **error);

gboolean board_add_cavities(BoardWork *work, GError **error); // half patterns
gboolean board_add_gating(BoardWork *work, GError **error);   // runners, sprue, basin
gboolean board_add_tabs(BoardWork *work, GError **error);     // loose plugs and sockets, if asked
// Boards, with holes for all pieces added so far.
gboolean board_add_plates(BoardWork *work, GError **error);

// How much of the bed or of the print height a piece of this size takes, lying the better way
// round; above 1 it does not fit.
double board_bed_share(Vec3 size, Vec3 bed);

// Triangles a piece of the coarse list will have at most when it is made with facets of the
// printer's detail.
double board_facets(const BoardPiece *piece, const BoardOptions *options);

// Depth of the pockets, m, and taper of the tabs; 0 without tabs.
double board_tab_depth(const BoardOptions *options, const MouldLayout *layout);
double board_tab_taper(const BoardOptions *options, const MouldLayout *layout);
// A tab's narrow side, m.
double board_tab_across(const MouldTab *tab);
#define BOARD_TAB_ROOM 0.0005 // m, a tab's socket is this much deeper than the tab

G_END_DECLS
