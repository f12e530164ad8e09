// SPDX-License-Identifier: GPL-3.0-or-later
// Patterns to print: for cope and drag a board with index tabs, and on it, held by dowels, a half
// pattern for each cavity (with its neck, riser and gate), the runners with the well, and the sprue
// as a loose pin.
//
//        ___            ___              cope board as printed: z up, away from the board, is up in
//   +---/   \---[ ]---/   \---+          the cope, so flask axes and board axes are the same
//   +-------------------------+
//
// The drag is rammed upside down: its board is turned over about the flask's length, so board
// (x, y, z) is flask (x, -y, -z). The cope board carries raised tabs, which leave sockets in the
// cope's sand; the drag board has pockets, which leave tabs of sand on the drag.
#pragma once

#include "book/inputs.h"
#include "mould/layout.h"

G_BEGIN_DECLS

typedef enum {
    BOARD_COPE,
    BOARD_DRAG
} BoardSide;

typedef enum {
    BOARD_PIECE_BOARD,   // a board, or a part of one
    BOARD_PIECE_PATTERN, // half a casting with what hangs on it
    BOARD_PIECE_RUNNER,
    BOARD_PIECE_SPRUE, // printed with its wide end down; stands turned over on the cope board
    BOARD_PIECE_TAB,   // a loose plug or socket, left in the sand
} BoardKind;

// Where a piece stands, in its board's axes: first turned over about x if `over`, then by `turn`
// (rad) about z, then moved.
typedef struct {
    double x, y, z; // m
    double turn;
    gboolean over;
} BoardPlace;

typedef struct {
    char *name; // of its file: "cope-pattern-2"
    BoardKind kind;
    BoardSide side;
    SolidMesh *mesh; // as printed, its foot at z = 0; closed, outward; m
    BoardPlace *places;
    guint count;          // of places: so many are to be printed
    double volume;        // m3, of one
    double mass;          // kg of filament, of one
    Vec3 size;            // m
    SolidPoint dowels[2]; // holes in its foot towards the board, in its own axes
    guint n_dowels;
} BoardPiece;

typedef struct {
    double thickness, rim;    // m
    Vec3 bed;                 // m
    double detail;            // m, cell of the patterns
    double dowel, dowel_play; // m, diameter, and how much wider a hole is
    double filament_density;  // kg/m3
    double fill;              // share of the volume that is filament
    double draft;             // rad, of riser, runner and gates
    double contraction;
} BoardOptions;

typedef struct {
    BoardPiece *pieces;
    guint n_pieces;
    guint count;         // of all to be printed
    double volume, mass; // of all, m3, kg
    double tab_depth;    // m, of a tab of sand; 0 without tabs
    double tab_taper;    // tangent
    double detail;       // m, the cell the half patterns were made with
    char **notes;        // what the caster must know; NULL-terminated
} BoardResult;

BoardResult *board_result_ref(const BoardResult *result);
void board_result_unref(const BoardResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(BoardResult, board_result_unref)

// Inputs the options come from. FALSE with an error naming the first that is unknown.
extern const char *const board_reads[];
gboolean board_options(const Inputs *inputs, BoardOptions *options, GError **error);

// NULL with an error: stopped, no cavity in the layout, or pieces that do not go on the board.
BoardResult *board_make(const BoardOptions *options, const PatternResult *pattern,
                        const MouldLayout *layout, Progress *progress, GError **error);

// A point of a piece as printed, in flask axes, when it stands in its place.
Vec3 board_point(const BoardPiece *piece, guint place, Vec3 point);

G_END_DECLS
