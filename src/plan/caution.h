// SPDX-License-Identifier: GPL-3.0-or-later
// Sentences of caution that belong with any plan for molten metal.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

// The general ones, that of chills when there are `chills` in the mould, then those of the metal
// and of the crucible kind (either may be NULL). NULL-terminated, translated; free with g_strfreev.
char **caution_list(const TableRow *metal, const TableRow *crucible_kind, gboolean chills);

G_END_DECLS
