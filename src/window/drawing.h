// SPDX-License-Identifier: GPL-3.0-or-later
// What the widgets that draw share: theme, words in place of a picture, pictures as textures, keys.
#pragma once

#include <cairo.h>
#include <gtk/gtk.h>

#include "sketch/theme.h"

G_BEGIN_DECLS

ThemeKind fw_drawing_theme(GtkWidget *widget); // light or dark, by the colour of its text

// Words in the middle of the widget, `margin` from its sides.
void fw_drawing_snapshot_words(GtkWidget *widget, GtkSnapshot *snapshot, const char *words,
                               int margin);

// The picture of an image surface (ARGB32), copied. In any thread.
GdkTexture *fw_drawing_texture(cairo_surface_t *surface);

// Arrows call `move` with (ii), to the right and down; plus and minus call `zoom` with a factor
// (d); 0 calls `fit`. Names of actions of the class.
void fw_drawing_add_keys(GtkWidgetClass *widget, const char *move, const char *zoom,
                         const char *fit);

G_END_DECLS
