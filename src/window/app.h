// SPDX-License-Identifier: GPL-3.0-or-later
// The application: tables, desk, one window.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_APP (fw_app_get_type())
G_DECLARE_FINAL_TYPE(FwApp, fw_app, FW, APP, GtkApplication)

FwApp *fw_app_new(void);
// What main() returns: 1 if --open-and-close or --picture failed.
int fw_app_exit_code(FwApp *app);

G_END_DECLS
