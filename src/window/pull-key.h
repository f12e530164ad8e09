// SPDX-License-Identifier: GPL-3.0-or-later
// The key to the shaded part: a sample of each class, and how much of the skin it is.
#pragma once

#include <gtk/gtk.h>

#include "units/quantity.h"

G_BEGIN_DECLS

#define FW_TYPE_PULL_KEY (fw_pull_key_get_type())
G_DECLARE_FINAL_TYPE(FwPullKey, fw_pull_key, FW, PULL_KEY, GtkBox)

// Areas of the whole skin, of what has too little draft, and of what is hidden, m2. Returns the
// same in one sentence, for who cannot see it; free with g_free.
char *fw_pull_key_set(FwPullKey *key, double all, double low, double hidden, const UnitSet *units);

G_END_DECLS
