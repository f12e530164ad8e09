// SPDX-License-Identifier: GPL-3.0-or-later
// The planned mass of a casting of any job of the book, not only of the one whose plan is shown:
// worked out off the main thread, once, and again only when jobs or shop have changed.
#pragma once

#include <gio/gio.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_PLANNED_MASS (fw_planned_mass_get_type())
G_DECLARE_FINAL_TYPE(FwPlannedMass, fw_planned_mass, FW, PLANNED_MASS, GObject)

// Signal: "changed" when a mass asked for is there.
FwPlannedMass *fw_planned_mass_new(Desk *desk);
// kg; NAN while it is not known. Asking starts the work.
double fw_planned_mass_find(FwPlannedMass *masses, const char *job_id);

G_END_DECLS
