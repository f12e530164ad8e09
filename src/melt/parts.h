// SPDX-License-Identifier: GPL-3.0-or-later
// The parts the stage "melt" is put together from; each adds its figures and fills its share of the
// result. Internal to melt/.
#pragma once

#include "melt/melt.h"

G_BEGIN_DECLS

typedef struct {
    const Inputs *inputs;
    FigureList *figures;
    MeltResult *result;
    double flask_metal;    // kg, figure mould.metal_mass; NAN when unknown
    double loss;           // figure melt.loss
    gboolean listed_stock; // the shop says what metal it has
} MeltCall;

// Gives `figure` the sources of these values of `row`, each once, in place of "the table".
void melt_take_sources(Figure *figure, const TableRow *row, const char *const *keys);

// In this order: each builds on the figures of those before.
void melt_add_crucible(MeltCall *call);  // what it holds, which metal it bears, firings left
void melt_add_care(MeltCall *call);      // flux, cracks, what was left in it
void melt_add_superheat(MeltCall *call); // not too cold, not too hot: gas, dross, fume
void melt_add_stock(MeltCall *call);     // what a full crucible is made up from, and its loss
void melt_add_load(MeltCall *call);      // flasks a load, reserve, charge
void melt_add_makeup(MeltCall *call);    // what to weigh in of each for that charge
void melt_add_heat(MeltCall *call);      // heat, melting time, cycle, energy
void melt_add_warmup(MeltCall *call);    // steps from cold to the setpoint
void melt_add_closing(MeltCall *call);   // steps after the last pour

G_END_DECLS
