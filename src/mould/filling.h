// SPDX-License-Identifier: GPL-3.0-or-later
// The filling of a mould, step by step: while the cavities rise, each instant is a steady flow in
// the network of sprue, runners and gates. A gate pours freely until its cavity stands over it;
// then it works against the level. The basin is kept full. Sprue and runners fill first: the sprue
// at the flow of the start, the runners at what the sprue gives with nothing behind it.
#pragma once

#include "base/progress.h"
#include "mould/level.h"
#include "mould/network.h"

G_BEGIN_DECLS

typedef struct {
    guint link, outlet; // of the network: the gate, and the given head behind it
    guint cavity;
    double height; // m, middle of the gate
    double area;   // m2
} MouldGate;

// A part of a runner that ends where gates turn off.
typedef struct {
    guint link, node;
    double area, top; // m2; m, the channel's highest line
} MouldReach;

// Network and cavities of a mould, made for one filling.
typedef struct {
    MouldNetwork *network;
    guint sprue;          // link
    double gravity, head; // m, of the basin
    double sprue_loss;    // K of the sprue with nothing behind it
    double sprue_area;    // m2, that K counts
    double sprue_volume;  // m3, of basin and sprue
    double runner_volume; // m3, of all else but the cavities
    double runner_height; // m, what the sprue pours against while the runners fill
    MouldGate *gates;
    guint n_gates;
    MouldReach *reaches;
    guint n_reaches;
    const MouldLevel *level;   // of every cavity; borrowed
    const MouldLevel **levels; // of each where they differ, else NULL; borrowed
    guint n_cavities;
} MouldFlow;

MouldFlow *mould_flow_new(void);
const MouldLevel *mould_flow_level(const MouldFlow *flow, guint cavity);
void mould_flow_free(MouldFlow *flow); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldFlow, mould_flow_free)

// Metal in the runners needs time to speed up, about l v/(g h): a surge that a nearly full cavity
// sees when others close is not waited for. Up to this share of a cavity speeds count (common
// practice, no source).
#define MOULD_SURGE 0.9

typedef struct {
    guint n_gates, n_cavities, n_times;
    double *times;                // s from the start of pouring, n_times
    double *flows;                // m3/s, n_times rows of n_gates
    double *cavity_time;          // s, when each is full; NAN if never
    double *gate_peak;            // m/s
    double time;                  // s, all full; NAN if one never is
    double prime_time;            // s, until metal reaches the gates
    double poured;                // m3
    double start_flow, mean_flow; // m3/s, at the first metal in the cavities, and over the whole
    double gate_velocity;         // m/s, the greatest of any gate until its cavity lacks a tenth
    double gate_velocity_last;    // the greatest at any time
    double gate_velocity_start;   // the greatest when cavities begin to fill
    guint fastest;                // gate
    double fastest_time;          // s, when
    double gate_spread;           // largest over smallest flow of a gate when cavities begin, less
                                  // one; 999 at most
    double fill_spread;           // last over first cavity's time since metal reached the gates,
                                  // less one
    double runner_full;           // m, least pressure head over the runner's top; NAN without one
    double lost[3];               // m, mean over the metal: sprue, runners, gates
    guint steps;
} MouldFilling;

void mould_filling_free(MouldFilling *filling); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldFilling, mould_filling_free)

// Fills the mould. NULL with an error when the network cannot be solved. A cavity that stands as
// high as the metal can rise is never full: its times are NAN. `progress` may be NULL; when it is
// stopped the result is NULL with BASE_ERROR_CANCELLED.
MouldFilling *mould_filling_run(MouldFlow *flow, const Progress *progress, GError **error);

G_END_DECLS
