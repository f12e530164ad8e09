// SPDX-License-Identifier: GPL-3.0-or-later
// Patterns to print: for cope and drag a board with index tabs, and on it, held by dowels, a half
// pattern for each cavity (with its neck, riser and gate), the runners with the well, the sprue as
// a loose pin, the plug of the basin, which stands on the pin, and for an open riser a loose pin of
// its own, which stands on its half pattern.
//
// Stage "board" makes them with few, coarse facets: the list of pieces with its volumes, in a
// fraction of a second. What is printed is made anew by the same code with facets of the printer's
// finest detail.
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
    BOARD_PIECE_BASIN, // printed with its wide end down; stands turned over on the sprue
    BOARD_PIECE_RISER, // of an open riser, as the sprue; stands turned over on the half pattern
    BOARD_PIECE_TAB,   // a loose plug or socket, left in the sand
    BOARD_PIECE_KINDS
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
    double volume, area;  // m3, m2, of one
    double shell;         // m3 of it that is printed solid, within the shell's thickness
    double mass;          // kg of filament, of one
    Vec3 size;            // m
    double cell;          // m, of the facets; 0 for a board, whose skin is exact
    SolidPoint dowels[2]; // holes in its foot towards the board, in its own axes
    guint n_dowels;
    guint part, parts; // this is part 1, 2, ... of so many; 1 of 1 if it is whole
    int cut[3];        // so many of them along x, y and z
    guint joints;      // holes for dowels across the cuts
} BoardPiece;

typedef struct {
    double thickness, rim;    // m
    Vec3 bed;                 // m
    double detail;            // m, cell of the patterns
    double dowel, dowel_play; // m, diameter, and how much wider a hole is
    double filament_density;  // kg/m3
    double shell;             // m, thickness printed solid under every surface
    double fill;              // share of the inside that is filament
    double draft;             // rad, of riser, runner and gates
    double contraction;
    double most_cells; // of a piece's grid: facets get coarser than `detail` to keep to it
} BoardOptions;

typedef struct {
    BoardPiece *pieces;
    guint n_pieces;
    guint count;         // of all to be printed
    double volume, mass; // of all, m3, kg
    double shell;        // m3 of all that is printed solid
    double tab_depth;    // m, of a tab of sand; 0 without tabs
    double tab_taper;    // tangent
    double detail;       // m, the cell the half patterns were made with
    char **notes;        // what the caster must know; NULL-terminated
} BoardResult;

BoardResult *board_result_ref(const BoardResult *result);
void board_result_unref(const BoardResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(BoardResult, board_result_unref)

// Inputs the options come from, and what the stage needs besides. FALSE with an error naming the
// first that is unknown.
extern const char *const board_reads[];
gboolean board_options(const Inputs *inputs, BoardOptions *options, GError **error);

// Figures board.*. The result's meshes are coarse. No cavity in the layout: NULL without an error,
// figures unknown. NULL with an error when stopped or when the pieces do not go on a board.
BoardResult *board_stage(const Inputs *inputs, const PatternResult *pattern,
                         const MouldLayout *layout, FigureList *figures, Progress *progress,
                         GError **error);

// NULL with an error: stopped, no cavity in the layout, or pieces that do not go on the board.
BoardResult *board_make(const BoardOptions *options, const PatternResult *pattern,
                        const MouldLayout *layout, Progress *progress, GError **error);

// A point of a piece as printed, in flask axes, when it stands in its place.
Vec3 board_point(const BoardPiece *piece, guint place, Vec3 point);

// "board", "pattern", "runner", "sprue", "basin", "riser", "tab"; static.
const char *board_kind_id(BoardKind kind);
// The same as words to show; static, translated.
const char *board_kind_label(BoardKind kind);
// Why and how a piece is cut, in words; NULL if it is whole. Free.
char *board_piece_cut(const BoardPiece *piece);

G_END_DECLS
