// SPDX-License-Identifier: GPL-3.0-or-later
// One picture of a shaded part, made in a thread.
#pragma once

#include <gdk/gdk.h>

#include "sketch/shade.h"

G_BEGIN_DECLS

typedef struct {
    ShadeModel *model;
    ShadeView view;
    Progress *progress;
    guint number;        // the caller's
    GdkTexture *texture; // NULL: stopped, or it could not be made
    gint64 took;         // us
} ShadeDrawing;

// `drawn` is called on the main thread with `source`.
void fw_shade_drawing_start(const ShadeModel *model, const ShadeView *view, guint number,
                            Progress *progress, gpointer source, GAsyncReadyCallback drawn);
const ShadeDrawing *fw_shade_drawing_done(GAsyncResult *result); // borrowed from the result

G_END_DECLS
