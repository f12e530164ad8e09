// SPDX-License-Identifier: GPL-3.0-or-later
// What the widgets that draw share: theme, words in place of a picture, pictures as textures, tips.
#pragma once

#include <cairo.h>
#include <gtk/gtk.h>

#include "sketch/paint.h"

G_BEGIN_DECLS

ThemeKind fw_drawing_theme(GtkWidget *widget); // light or dark, by the colour of its text

// Words in the middle of the widget, `margin` from its sides.
void fw_drawing_snapshot_words(GtkWidget *widget, GtkSnapshot *snapshot, const char *words,
                               int margin);

// The picture of an image surface (ARGB32), copied. In any thread.
GdkTexture *fw_drawing_texture(cairo_surface_t *surface);

// A scene painted on a ground of `width` by `height` device units, `scale` pixels to each.
GdkTexture *fw_drawing_paint(const Scene *scene, const PaintView *view, const Theme *theme,
                             int width, int height, int scale);

// A tip with a label and words about it. It does not wrap, so each clause ("; ") has its line. NULL
// as label: no tip.
void fw_drawing_set_tip(GtkWidget *widget, const char *label, const char *words);

G_END_DECLS
