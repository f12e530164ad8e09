// SPDX-License-Identifier: GPL-3.0-or-later
// Sand that really stands round the cavities of a layout, written into the layout.
#pragma once

#include "mould/body.h"
#include "mould/layout.h"
#include "mould/space.h"

G_BEGIN_DECLS

// Measures with `body` at every cavity and fills the covers of `layout` with their places; keeps
// the body and the measurement in it. `before` (may be NULL) spares what has not moved since. NAN
// where there is nothing to measure to.
void mould_cover_measure(MouldLayout *layout, const MouldBody *body, const MouldSpace *before);

G_END_DECLS
