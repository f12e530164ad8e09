// SPDX-License-Identifier: GPL-3.0-or-later
// A scene to a file: PNG, SVG or PDF by the ending.
#pragma once

#include "sketch/paint.h"

G_BEGIN_DECLS

// Page of `width` x `height` px (PNG) or points (SVG, PDF), fitted. Atomic; an existing file is
// replaced only if `replace`.
gboolean export_scene(const Scene *scene, ThemeKind theme, double width, double height,
                      const char *path, gboolean replace, GError **error);

// Several drawings, each laid out in device units for a page less EXPORT_MARGIN on every side and
// shown just so: a PDF of as many pages; PNG and SVG hold one, and take the first.
#define EXPORT_MARGIN 18.0
gboolean export_pages(Scene *const *pages, guint n, ThemeKind theme, double width, double height,
                      const char *path, gboolean replace, GError **error);

G_END_DECLS
