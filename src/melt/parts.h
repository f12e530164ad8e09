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
    double flask_metal; // kg, figure mould.metal_mass; NAN when unknown
} MeltCall;

// Gives `figure` the sources of these values of `row`, each once, in place of "the table".
void melt_take_sources(Figure *figure, const TableRow *row, const char *const *keys);

// In this order: each builds on the figures of those before.
void melt_add_crucible(MeltCall *call); // what it holds, which metal it bears, firings left
void melt_add_load(MeltCall *call);     // flasks a load, reserve, charge
void melt_add_heat(MeltCall *call);     // heat, melting time, cycle, energy
void melt_add_warmup(MeltCall *call);   // steps from cold to the setpoint

G_END_DECLS
