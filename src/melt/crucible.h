// SPDX-License-Identifier: GPL-3.0-or-later
// Which metal may go into which crucible.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

// Counts the rules that `metal` in a crucible of `kind` breaks, where `bound` is the family it has
// melted before as the person wrote it, or NULL; says each in *words, one sentence after another,
// together with what is only advice. Free *words. Rules after makers' guides: a kind bears certain
// metals, and a crucible serves one family.
guint melt_crucible_rules(const TableRow *kind, const TableRow *metal, const char *bound,
                          char **words);

G_END_DECLS
