// SPDX-License-Identifier: GPL-3.0-or-later
// How the castings of a session turned out, a row each.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_RESULT_PAGE (fw_result_page_get_type())
G_DECLARE_FINAL_TYPE(FwResultPage, fw_result_page, FW, RESULT_PAGE, GtkBox)

void fw_result_page_set_desk(FwResultPage *page, Desk *desk);
// Chooses the last session of the log.
void fw_result_page_show_last(FwResultPage *page);

G_END_DECLS
