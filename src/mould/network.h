// SPDX-License-Identifier: GPL-3.0-or-later
// Steady flow in a network of channels between places of known and unknown head, of any topology.
//
// A head is pressure over rho g plus height, plus the head of velocity where metal moves (m). A
// link loses (K + f L/D) v^2/(2 g), f by mould_friction(). Flow and heads are found together: each
// Newton step solves a symmetric system for the heads and then keeps every node's balance exactly
// (E. Todini and S. Pilati, A gradient method for the analysis of pipe networks, 1988; from
// memory); steps that overshoot are shortened along the convex content of the network.
//
// Not thread-safe: one network belongs to one thread.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct MouldNetwork MouldNetwork;

typedef struct {
    guint from, to;   // nodes
    double area;      // m2, of the velocity that K and friction count
    double diameter;  // m, hydraulic: four areas over outline
    double length;    // m
    double roughness; // m
    double loss;      // K
    gboolean one_way; // shuts rather than flow from `to` back to `from`
    // A branching, with the link that brings the metal there (-1: none), of velocity w. What turns
    // off loses `side` w^2/(2 g) beside its own K: it feels only the pressure in the channel that
    // passes by. What goes on with velocity v loses `through` (w - v)^2/(2 g).
    int before;
    double side, through;
} MouldLink;

// `gravity` m/s2, `viscosity` kinematic, m2/s.
MouldNetwork *mould_network_new(double gravity, double viscosity);
void mould_network_free(MouldNetwork *network); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldNetwork, mould_network_free)

// A place whose head is given, m; or one whose head is found, where `inflow` m3/s come from
// outside. Return the node's number.
guint mould_network_add_head(MouldNetwork *network, double head);
guint mould_network_add_junction(MouldNetwork *network, double inflow);
// A link between nodes that exist. Returns its number.
guint mould_network_add_link(MouldNetwork *network, const MouldLink *link);

void mould_network_set_head(MouldNetwork *network, guint node, double head); // of a given head
void mould_network_set_shut(MouldNetwork *network, guint link, gboolean shut);

// Finds flows and heads to 1e-10 of the greatest difference of head. Starts from the last solution.
// FALSE with an error when a node has no way to a given head, a size is not usable, or the flow
// does not settle.
gboolean mould_network_solve(MouldNetwork *network, GError **error);

// After solving. Flow in m3/s, counted from `from` to `to`; velocity in m/s, without sign.
double mould_network_flow(const MouldNetwork *network, guint link);
double mould_network_velocity(const MouldNetwork *network, guint link);
double mould_network_head(const MouldNetwork *network, guint node);
// Head lost along a link, m, and flow that leaves a node beyond what comes in, m3/s (rounding).
double mould_network_lost(const MouldNetwork *network, guint link);
double mould_network_imbalance(const MouldNetwork *network, guint node);
guint mould_network_steps(const MouldNetwork *network); // Newton steps of the last solve

G_END_DECLS
