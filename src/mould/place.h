// SPDX-License-Identifier: GPL-3.0-or-later
// Where cavities, risers, runner and sprue go in a flask, and how large the gating is. Both hang
// together: the gating's size decides where a cavity may stand, the runner's length decides the
// metal, and the metal decides the gating's size. So a way of arranging is solved by repeating
// until the metal no longer changes.
//
//            +----------------------------------+     u along the runner, v across it
//            |  [ cavity ]        [ cavity ]    |     rows at one side of the runner or at both
//            |      ()                ()        |     () riser between gate and cavity
//            |   ===+=======(S)=======+===      |     S sprue, over its well
//            |      ()                ()        |
//            |  [ cavity ]        [ cavity ]    |
//            +----------------------------------+
#pragma once

#include "mould/layout.h"
#include "mould/stance.h"

G_BEGIN_DECLS

// Ways a casting may stand: the first four are quarter turns.
#define MOULD_STANCES 48
#define MOULD_QUARTERS 4

// A riser that has its place at each casting, in the casting's own axes about the middle of its
// plan, m: it stands on the casting, or beside it with a neck (mould/beside.h).
typedef struct {
    double diameter, height; // 0 without
    double x, y, base;
    gboolean beside;
    double joint_x, joint_y; // where the neck joins
    double within;           // of one on the casting: from its rim to the casting's outline
} MouldOwnRiser;

// What gates lead into.
typedef enum {
    MOULD_ENTER_BY_STANCE, // as the ways a casting may stand have it
    MOULD_ENTER_RISERS,    // some of them at least
    MOULD_ENTER_CASTINGS
} MouldEnter;

// All that decides the layout, as plain numbers: SI, sizes of the hot cavity (the pattern's).
typedef struct {
    double length, width, cope, drag;               // m, inside of the flask
    double cover_wall, cover_between, cover_runner; // the last to the sprue too
    // of these, what is asked for, without what rows add for risers that reach out over castings
    double asked_wall, asked_between, asked_runner;
    double basin_height;
    double above, below; // height of the cavity in cope and drag
    double box_x, box_y; // cavity's plan box, in the casting's own axes
    // Where gate or neck meets the cavity that is fed from -v, from the box's middle; and the
    // height of the cavity there. As drawn, turned a quarter, and then as each of `stances` from
    // the third on stands.
    double attach_u[MOULD_STANCES], attach_v[MOULD_STANCES];
    double joint_above[MOULD_STANCES], joint_below[MOULD_STANCES];
    double joint_width[MOULD_STANCES];  // and how wide, across the neck; 0: no limit
    MouldStance stances[MOULD_STANCES]; // reach and pitch
    int n_stances;                      // 0: as drawn and turned a quarter, by the box alone
    gboolean by_hand;                   // cavities stand where a person put them
    gboolean sprue_put;                 // so does the sprue: anywhere along the runner
    gboolean round;                     // a round flask of diameter `length`
    double wall_draft;                  // rad, the flask's walls lean in upwards
    double wall;                        // thinnest wall
    double cavity_volume;               // m3
    double cavity_mass;                 // kg, of the cold casting: what a cavity takes in the end
    // 0 without a riser between gate and casting, wherever the gate is: where no outline tells of a
    // better place. The neck (its diameter) also of an own riser beside the casting.
    double riser_diameter, riser_height, neck;
    MouldOwnRiser own;
    gboolean riser_open; // either of them
    FeedChill chill;
    int most;       // cavities at most; 0: as many as fit
    double density; // kg/m3, as poured
    double discharge;
    double head, mean_head; // m
    double fill_time;       // s, wished; NAN: found here
    double wall_time;       // s
    double pour_factor;     // s/kg^(1/3)
    double runner_ratio, gate_ratio;
    double velocity_limit; // m/s at the gate; NAN for none known
    double gate_share;     // of the limit the gates are drawn for; 0: MOULD_GATE_SHARE
    // Sizes a person fixed; 0: found here. A choke's area also fixes the filling time.
    double choke, gate_width, gate_depth, runner;
    gboolean stepped; // runners narrow after every place where gates turn off
    MouldEnter gates_enter;
} MouldWish;

// One way to arrange: the runner along the flask's length (axis 0) or width (1), the casting as
// drawn (0), turned a quarter (1) or as another stance against the runner, rows at one side or two,
// and columns.
typedef struct {
    int axis, quarter, rows, columns;
} MouldWay;

// Sizes of the gating for a way.
typedef struct {
    double volume;                  // m3, all metal of the flask
    double mass;                    // kg, cavities by the casting's mass, the rest as poured
    double fill_time;               // s
    double slow_time;               // s, the most: through the least choke
    double mass_time;               // s, by the pouring factor
    double gate_time;               // s, the least the gates allow; NAN without a velocity limit
    double choke;                   // m2
    double peak_flow;               // m3/s, at the start, under the full head
    double gate_most;               // m2, all gates as large as castings or risers bear
    double gate_wait;               // m2, all gates when square and able to wait
    double gate_area;               // m2, all gates
    double gate_width, gate_depth;  // of one
    double sprue_top, sprue_bottom; // diameters
    double well, well_depth;
    double basin;                                // diameter
    double gate_share, runner_ratio, gate_ratio; // as drawn for
    gboolean gates_in_drag;
    int arms;                   // runners
    double runner, runner_area; // side of one square runner; m2 of all
    double channel;             // m, least area over outline of choke, one runner, one gate
} MouldPour;

typedef struct {
    MouldPour pour;
    double need_u, need_v; // inside of the least flask, along and across the runner
    MouldNeck neck;
    double pitch;             // between columns
    double middle;            // u of the columns' middle
    double sprue;             // u of the sprue
    double runner_v;          // v of the runner
    double riser_v, cavity_v; // of riser and cavity middle, from the runner
    gboolean fits;
} MouldPlace;

// Usable share of the gate velocity limit the gates are drawn for, and the least choke that can be
// cut in sand and stays open: 8 mm across (common practice).
#define MOULD_GATE_SHARE 0.9
#define MOULD_LEAST_CHOKE 5e-5
// A gate is drawn to wait this many times the filling time before it stops running.
#define MOULD_GATE_WAIT 1.2
// A gate is at most this share as wide as the side it enters.
#define MOULD_GATE_SIDE 0.8
// m; keeps a neck half as high as its round fellow from being without end wide.
#define MOULD_NECK_SPARE 1e-6
// The sprue's taper is drawn for at least this much metal over its mouth.
#define MOULD_LEAST_BASIN 0.005

// Sizes of the gating when the flask takes `volume` and there are `n` gates on `arms` runners.
// A casting that stands too low over the parting is met from the drag, but for gates into risers.
MouldPour mould_pour_sizes(const MouldWish *wish, double volume, int n, int arms, double side);

// The same with gates so narrow that two of them, `apart` (m) from middle to middle along the
// runner, have the well between them. *clear FALSE: even the narrowest do not, and these are
// theirs.
MouldPour mould_pour_clear(const MouldWish *wish, double volume, int n, int arms, double side,
                           double apart, gboolean *clear);
// m from middle to middle that two gates take with the well between them.
double mould_pour_room(const MouldPour *pour);

// Does a gate of these sizes meet a casting that would be poured as `own`, or the riser beside it,
// in the half where the gates lie?
gboolean mould_pour_meets(const MouldWish *own, gboolean riser, const MouldPour *pour);

// What a wall takes of the flask at the parting, m: sand, and its lean up to where cavities end, or
// to the top of a riser that stands on a casting further in.
double mould_place_share(const MouldWish *wish);

// Section of the neck that has the modulus of a round one of diameter `wish->neck`, within the
// height of the casting where it joins; half over the parting if the casting allows. Flat ones grow
// wider, at most as wide as the riser.
MouldNeck mould_place_neck(const MouldWish *wish, int quarter);
// The same within heights (m) of the casting over and under the parting, and its width.
MouldNeck mould_place_neck_within(const MouldWish *wish, double above, double below, double width);
// Metal, m3, of a neck `length` from the rim of a riser of `radius` (m) to the casting: its lower
// half runs on under the riser to its middle, so that it opens into the riser's foot.
double mould_neck_volume(const MouldNeck *neck, double length, double radius);
// Does the neck of a riser in the gate come out as heavy as it is asked for, or nearly, on a
// casting turned so (rad) against the runner? TRUE without such a riser, and where it is not known
// how high the casting is on that side.
gboolean mould_place_has_neck(const MouldWish *wish, double turn);

// Solves one way. Where `fits` is FALSE need_u and need_v say what would do.
MouldPlace mould_place_solve(const MouldWish *wish, const MouldWay *way);

// Does the casting stay inside cope and drag? Sand over and under it is another question.
gboolean mould_place_is_deep_enough(const MouldWish *wish);

// The way that holds most cavities; among equals the more balanced, then the one with least metal.
// FALSE when none fits: *way and *place are then the single cavity that misses by least.
gboolean mould_place_search(const MouldWish *wish, MouldWay *way, MouldPlace *place);

// The own riser as a stance needs it; radius 0 when there is none beside the casting.
MouldBeside mould_place_beside(const MouldWish *wish);

// From u, v along and across the runner to flask axes.
SolidPoint mould_place_point(const MouldWay *way, double u, double v);

// How the casting is turned against the runner, rad.
double mould_place_turn(const MouldWish *wish, int quarter);
// The way of standing whose turn is the nearest to `turn`.
int mould_place_nearest(const MouldWish *wish, double turn);

// Where a line from -v along v meets `outline` (turned by `quarter`) first, from the box's middle
// (`outline` is centred). Prefers the middle; goes to the foremost point when the middle lies far
// back or is empty.
void mould_place_attach(const SolidOutline *outline, double scale, int quarter, double *u,
                        double *v);

G_END_DECLS
