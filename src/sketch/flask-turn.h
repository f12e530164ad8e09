// SPDX-License-Identifier: GPL-3.0-or-later
// A layout turned a quarter, so that what draws it lengthwise draws it across. Private to sketch/.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

// A shallow copy with arrays of its own.
typedef struct {
    MouldLayout layout;
} FlaskTurned;

// Turned by a quarter clockwise as seen from above: what lay at (x, y) lies at (y, -x), so that
// looking along the flask from the end at -x one sees +y on the right hand.
FlaskTurned flask_turned(const MouldLayout *layout);
void flask_turned_clear(FlaskTurned *turned);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(FlaskTurned, flask_turned_clear)

G_END_DECLS
