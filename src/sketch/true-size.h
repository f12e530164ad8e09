// SPDX-License-Identifier: GPL-3.0-or-later
// A scene to a file in true size: a millimetre of it is a millimetre of paper.
#pragma once

#include "sketch/scene.h"

G_BEGIN_DECLS

// One page of a drawing laid on several, mm.
typedef struct {
    double width, height; // of the sheet
    double margin;        // left blank at every edge, since printers cannot reach it
    double overlap;       // shown by neighbours both, to glue them together
} TrueSizeSheet;

// A4 upright, 10 mm margin, 10 mm overlap.
extern const TrueSizeSheet true_size_a4;

// How many sheets across and down hold `width` by `height` mm. FALSE when the sheet is too small to
// hold anything, or more than 400 sheets would be needed.
gboolean true_size_sheets(const TrueSizeSheet *sheet, double width, double height, guint *across,
                          guint *down);

// By the ending: .svg on one page of its own size, .pdf on as many sheets as it needs, with marks
// to join them and a square of 50 mm to check the printer by, .dxf as lines and circles (DXF R12,
// ASCII, unit mm, one layer a kind of thing). `sheet` NULL: A4, upright or
// lying as takes fewer. Atomic; an existing file is
// replaced only if `replace`.
gboolean true_size_export(const Scene *scene, const TrueSizeSheet *sheet, const char *path,
                          gboolean replace, GError **error);

G_END_DECLS
