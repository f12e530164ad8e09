// SPDX-License-Identifier: GPL-3.0-or-later
// Where numbers come from: citations by id, from data/sources.json.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// The citation for a source id ("assael-2006"), or for one of the fixed words "common-practice",
// "geometry", "measured" (in this shop), "user", "definition". An id not known comes back as it is.
// Several ids may be joined by '+'. Free with g_free.
char *source_text(const char *id);

// "published", "common practice", "from memory", "measured", "user", "derived": how sure.
const char *source_confidence(const char *id);

// All ids in order. Static, NULL-terminated.
const char *const *source_ids(void);

G_END_DECLS
