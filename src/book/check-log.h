// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the log of a book can be read.
#pragma once

#include "book/node.h"
#include "units/quantity.h"

G_BEGIN_DECLS

// `log` may be NULL. FALSE with one line that names the place ("log.sessions[0].loads[1].charge").
gboolean check_log(const Node *log, const char *name, const UnitSet *units, GError **error);

G_END_DECLS
