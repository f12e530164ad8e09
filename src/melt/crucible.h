// SPDX-License-Identifier: GPL-3.0-or-later
// Which metal may go into which crucible.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

// Counts the rules that `metal` in a crucible of `kind` breaks, where `bound` is the family it has
// melted before as the person wrote it, or NULL, or several with a space between; says each in
// *words, one sentence after another, together with what is only advice and, from `tables` (may be
// NULL), which kinds would do. Free *words. Rules after makers' guides: a kind bears certain
// metals, and a crucible serves one family.
guint melt_crucible_rules(const TableRow *kind, const TableRow *metal, const char *bound,
                          const Tables *tables, char **words);

// How a crucible of `kind` bears `flux`, a word of the field job.flux: 0 well, 1 sparingly, 2 not
// at all.
guint melt_crucible_flux(const TableRow *kind, const char *flux);

G_END_DECLS
