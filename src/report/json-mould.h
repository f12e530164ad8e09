// SPDX-License-Identifier: GPL-3.0-or-later
// What a mould has several of, as lists for programs. Private to report/.
#pragma once

#include <json-glib/json-glib.h>

#include "mould/layout.h"

G_BEGIN_DECLS

// Adds the members "cavities" and "vents" to the object that is open; empty lists for NULL.
void report_json_mould(JsonBuilder *builder, const MouldLayout *layout);

G_END_DECLS
