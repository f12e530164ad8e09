// SPDX-License-Identifier: GPL-3.0-or-later
// Painting one scene after another while something in it is moved: what stays the same is painted
// once and kept as an image, so that a frame costs what has changed.
#pragma once

#include "sketch/paint.h"

G_BEGIN_DECLS

typedef struct PaintLive PaintLive;

PaintLive *paint_live_new(void);
void paint_live_free(PaintLive *live); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PaintLive, paint_live_free)

// The same picture as of paint_scene on a new image of width * scale by height * scale pixels.
// Everything is painted anew when view, theme or size differ from the time before. The caller
// destroys the image.
cairo_surface_t *paint_live_image(PaintLive *live, const Scene *scene, const PaintView *view,
                                  const Theme *theme, int width, int height, int scale);

// How many shapes the last image was painted with besides what was kept, for tests and timings.
guint paint_live_painted(const PaintLive *live);

G_END_DECLS
