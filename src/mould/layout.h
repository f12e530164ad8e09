// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "mould": the flask with its cavities, sprue, runner, gates, risers and index tabs.
// Flask axes: x along the length, y along the width, origin at the middle; z up from the parting.
//
// A riser is a cylinder in the cope, blind or open at the cope's top. One beside the casting stands
// on the parting (z = 0) at the side nearest to the hot spot or to the place a person gave; the
// gate goes into it where it can (a hot riser), else into the casting (a cold one, which fills
// last). One on the casting stands on it at `riser.base` and has no neck. A neck of rectangular
// section through the parting joins it to the casting, on the line from the riser's middle to where
// MouldCavity says, and reaches no higher and no lower than the casting does there; its lower half
// runs on under the riser to its middle and opens into its foot. Runners are square and hang below
// the parting in the drag, gates lie above it in the cope; `gates_in_drag` tells that both are the
// other way round, for a casting without a hot riser that lies in the drag. A gate's line starts on
// the runner's middle line and ends at the riser or the casting.
#pragma once

#include "book/placement.h"
#include "feed/feed.h"
#include "mould/filling.h"
#include "mould/guest.h"
#include "part/pattern.h"

G_BEGIN_DECLS

typedef struct {
    double x, y;             // m, middle of the cavity's box
    double turn;             // rad, about z
    double riser_x, riser_y; // m; NAN without a riser
    double neck_x, neck_y;   // m; where the neck, or without a riser the gate, meets the casting
    double mismatch;         // m, the most the index lets its halves be out of register
    gboolean guest;          // it is of the other job that shares the flask
} MouldCavity;

typedef struct {
    double x1, y1, x2, y2; // m, centre line
    double width, depth;   // m
} MouldChannel;

typedef struct {
    double x, y;          // m
    double length, width; // m, along x and y; width 0: a round pin, `length` across
} MouldTab;

typedef enum {
    MOULD_VENT_PEAK,         // over a high point of the casting
    MOULD_VENT_RISER,        // over a blind riser
    MOULD_VENT_FAR_FROM_GATE // where the metal comes last
} MouldVentKind;

// A hole pricked through the cope down to near the cavity.
typedef struct {
    MouldVentKind kind;
    guint cavity;
    double x, y, z;  // m, z the height of the metal there
    double depth;    // m of sand over it
    double diameter; // m
} MouldVent;

// Section of a riser's neck and the height of the casting where it joins, m.
typedef struct {
    double width, up, down;          // reach over and under the parting
    double joint_above, joint_below; // of the casting, as moulded
    double joint_width;              // of the casting across the neck; INFINITY: not known
} MouldNeck;

// The riser of a cavity; all 0 without.
typedef struct {
    double diameter, height; // m
    double base;             // m, its foot over the parting; 0 beside the casting
    gboolean on_top, open;   // stands on the casting; reaches the cope's top
} MouldRiser;

typedef struct {
    double length, width, cope, drag; // m, inside of the flask
    MouldCavity *cavities;            // guests last
    guint n_cavities, n_guests;
    const struct MouldGuest *guest; // of the other job that shares the flask, or NULL
    double sprue_x, sprue_y;
    double sprue_top_diameter, sprue_bottom_diameter, sprue_height; // m
    double well_diameter, well_depth;
    double basin_height; // m above the cope's top
    double basin_diameter;
    double growth; // cavity over cold casting, 1 + contraction; 0 counts as 1
    MouldChannel *runners;
    guint n_runners;
    MouldChannel *gates; // one per cavity, same order
    guint n_gates;
    gboolean gates_in_drag;
    // how this job's cavities are fed, and how guests are; a chill in the cavity's own axes
    MouldRiser riser, guest_riser;
    MouldNeck neck, guest_neck; // all 0 without
    FeedChill chill, guest_chill;
    MouldTab tabs[4];
    guint n_tabs;
    double tab_clearance; // m
    double tab_draft;     // rad; 0 counts as 5 degrees
    gboolean tabs_loose;  // plugs and sockets of their own, set into the sand
    MouldVent *vents;
    guint n_vents;
    gboolean round;    // a round flask: length and width are both its diameter
    double wall_draft; // rad, the flask's walls lean in upwards; sizes are those at the parting
    // sand cover, m, least of all cavities, with where (flask axes) for the drawing; runner and
    // sprue NAN without
    double cover_wall, cover_between, cover_top, cover_bottom, cover_sprue, cover_runner;
    Vec3 cover_wall_from, cover_wall_to, cover_between_from, cover_between_to;
    Vec3 cover_sprue_from, cover_sprue_to, cover_runner_from, cover_runner_to;
    struct MouldBody *body;       // of the cavities; NULL when none was made
    struct MouldBody *guest_body; // of guests
    struct MouldSpace *space;     // every cover of every cavity (mould/space.h); NULL likewise
    struct MouldFixed *fixed;     // what stays while cavities are moved by hand (mould/fixed.h)
    int axis;                     // the runner lies along the length (0) or the width (1)
    gboolean by_hand;             // cavities stand where a person put them
    double disc_radius;           // m, of the largest disc in a cavity seen along the pull
    double cavity_room;           // m2, of a cavity with its riser and half the sand all round
    double least_well;            // m, mould_bound_well() of as many cavities as there are
    double strips_bound;          // cavities at most by mould_bound_strips(); NAN: not looked at
    // gates that do not reach their cavity, run through another one, or lie over the sprue's well;
    // and the last of these
    guint gates_missing, gates_at_well;
    double metal_volume;   // m3, everything poured into one flask
    double metal_mass;     // kg
    double castings_mass;  // kg
    double fill_time;      // s
    MouldFilling *filling; // step by step; NULL when it could not be found
} MouldLayout;

MouldLayout *mould_layout_ref(const MouldLayout *layout);
void mould_layout_unref(const MouldLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldLayout, mould_layout_unref)

// What a cavity is cast from, and how much larger it is than the cold casting: the layout's own or
// the guest's. `pattern` is the layout's own.
const PatternResult *mould_layout_pattern(const MouldLayout *layout, guint cavity,
                                          const PatternResult *pattern);
double mould_layout_growth(const MouldLayout *layout, guint cavity);
// How it is fed.
const MouldRiser *mould_layout_riser(const MouldLayout *layout, guint cavity);
const MouldNeck *mould_layout_neck(const MouldLayout *layout, guint cavity);
const FeedChill *mould_layout_chill(const MouldLayout *layout, guint cavity);

// Has a cavity a riser that stands somewhere?
gboolean mould_layout_has_riser(const MouldLayout *layout, guint cavity);

// Highest metal or chill under sand, m over the parting: of castings that reach up to `above`, and
// of blind risers. The lowest, m under it, of castings that reach down to `below`. Of both jobs.
double mould_layout_high(const MouldLayout *layout, double above);
double mould_layout_low(const MouldLayout *layout, double below);
// The same of guests alone, with their own castings; 0 without.
double mould_layout_guest_high(const MouldLayout *layout);
double mould_layout_guest_low(const MouldLayout *layout);
// How far a chill reaches from the parting, m; 0 when it lies in the other half or is none.
double mould_chill_reach(const FeedChill *chill, gboolean in_cope);

// Where the riser of the first cavity joins its casting, m, in the cold casting's axes. FALSE
// without a riser, or when that cavity is a guest.
gboolean mould_layout_joint(const MouldLayout *layout, Vec3 *joint);

// Risers beside a casting whose gate goes past them into the casting.
guint mould_layout_cold(const MouldLayout *layout);

// Figures mould.*. No cavity fits: a layout with n_cavities 0 and a failing check that says so.
extern const char *const mould_reads[];
// `guest` is the casting of another job that shares the flask, `trouble` why that cannot be; both
// NULL when the flask is not shared.
MouldLayout *mould_stage(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
                         const MouldGuest *guest, const char *trouble, FigureList *figures,
                         Progress *progress, GError **error);

// The same flask with its cavities at `spots` and the sprue at a point (NAN: found here), gates and
// runners drawn anew, gating sized for the metal, and the sand measured of what has moved: all
// within a frame of a screen, from any thread. The runner takes the axis the stage would give it:
// the better of both for cavities placed by hand, that of the rows while only the sprue moves.
// Nothing is refused: what is wrong shows in covers and gates_missing. NULL for a layout that was
// never placed (n_cavities 0 of too little known).
MouldLayout *mould_layout_moved(const MouldLayout *layout, const PlacementSpot *spots, guint n,
                                double sprue_x, double sprue_y);

G_END_DECLS
