// SPDX-License-Identifier: GPL-3.0-or-later
// One pull of the ranked list: its picture and what it costs in words.
#pragma once

#include <gtk/gtk.h>

#include "part/search.h"

G_BEGIN_DECLS

// A GtkListBoxRow. `number` from 1.
GtkWidget *fw_pull_row_new(const SearchAnswer *answer, guint number, double part_volume,
                           const UnitSet *units);
void fw_pull_row_set_chosen(GtkWidget *row, gboolean chosen); // it is the job's pull
GtkPicture *fw_pull_row_picture(GtkWidget *row);              // empty at first
// "1,0,0": as the field job.pull is written; read back it is the same way to a millionth. Free.
char *fw_pull_row_field(Vec3 pull);

G_END_DECLS
