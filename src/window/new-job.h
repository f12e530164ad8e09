// SPDX-License-Identifier: GPL-3.0-or-later
// Asks for a mesh, its unit, a metal and a quantity, and adds the job to the desk's book.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_NEW_JOB (fw_new_job_get_type())
G_DECLARE_FINAL_TYPE(FwNewJob, fw_new_job, FW, NEW_JOB, GtkWindow)

// `new_book`: starts a new book with a ready shop first. `path` may name the mesh already.
GtkWidget *fw_new_job_new(Desk *desk, gboolean new_book, const char *path);

G_END_DECLS
