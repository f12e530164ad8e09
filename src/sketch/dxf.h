// SPDX-License-Identifier: GPL-3.0-or-later
// A scene as a DXF R12 ASCII text.
#pragma once

#include "sketch/scene.h"

G_BEGIN_DECLS

// LINE, POLYLINE, CIRCLE and TEXT entities, coordinates in the scene's millimetres, y up; a layer
// for each kind of thing ("cavity", "gate", "flask", ...), "words" for texts and "centre" for what
// belongs to nothing. Group codes as in the published DXF reference (from memory): 0 entity, 8
// layer, 10/20 point, 40 radius or text height, 66 vertices follow, 70 closed.
char *dxf_write(const Scene *scene);

G_END_DECLS
