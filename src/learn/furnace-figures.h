// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the furnace as the log shows it. Internal to learn/.
#pragma once

#include "book/inputs.h"
#include "learn/tally.h"

G_BEGIN_DECLS

// TRUE when the field of this path may hold `value`.
gboolean learn_fits_field(const char *path, double value);

// Adds the figures and teaches furnace.efficiency and, where the log tells it and the person has
// typed none, furnace.standing_loss.
void learn_add_furnace(const Inputs *inputs, const LearnTally *tally, Learned *learned,
                       FigureList *figures);

G_END_DECLS
