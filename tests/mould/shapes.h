// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines that more than one test of the mould places.
#pragma once

#include "solid/outline.h"

SolidOutline *shapes_outline(const SolidPoint *points, guint n); // of one loop
SolidOutline *shapes_disc(double radius);                        // a polygon of 64 sides within it
