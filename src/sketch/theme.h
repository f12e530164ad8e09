// SPDX-License-Identifier: GPL-3.0-or-later
// Roles to ink: one palette for light, one for dark, one for paper. Line kinds and weights follow
// ISO 128, dimensions ISO 129; cope and drag differ by hatch direction, never by colour alone.
#pragma once

#include "sketch/scene.h"

G_BEGIN_DECLS

typedef enum {
    THEME_LIGHT,
    THEME_DARK,
    THEME_PAPER
} ThemeKind;
typedef enum {
    HATCH_NONE,
    HATCH_RISING,
    HATCH_FALLING,
    HATCH_STIPPLE,
    HATCH_STIPPLE_COARSE,
    HATCH_FALLING_FINE,
    HATCH_STEEP,   // rising at 75 degrees
    HATCH_SHALLOW, // falling at 15 degrees
    HATCH_LEVEL,
    HATCH_UPRIGHT,
    HATCH_CROSSED, // rising and falling
} Hatch;

typedef struct {
    double ink[4], fill[4]; // rgba 0..1
    double width;           // device units
    const double *dash;     // device units; NULL: full line
    int n_dash;
    Hatch hatch;
} ThemeInk;

typedef struct {
    ThemeKind kind;
    ThemeInk role[ROLE_COUNT];
    double accent[4]; // what is pointed at or chosen
    const char *font; // family list
} Theme;

const Theme *theme_get(ThemeKind kind);

G_END_DECLS
