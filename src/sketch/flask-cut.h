// SPDX-License-Identifier: GPL-3.0-or-later
// Where the plane of a section cuts a cavity and the part in it. Private to sketch/.
#pragma once

#include "sketch/flask-kit.h"

G_BEGIN_DECLS

typedef struct {
    SolidOutline *casting, *part; // (x from the cavity's middle, z), m; NULL: not cut
} FlaskCut;

// The cut of the plane y = `at` (m, flask axes) through a cavity placed as `cavity` says, which is
// `growth` times as large as the cold casting; the outlines have the cold casting's size.
FlaskCut flask_cut(const PatternResult *pattern, const MouldCavity *cavity, double growth,
                   double at);
void flask_cut_clear(FlaskCut *cut);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(FlaskCut, flask_cut_clear)

G_END_DECLS
