// SPDX-License-Identifier: GPL-3.0-or-later
// The one bar for trouble that concerns the whole document, with its remedy on a button.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_NOTICE (fw_notice_get_type())
G_DECLARE_FINAL_TYPE(FwNotice, fw_notice, FW, NOTICE, GtkBox)

// Shows words; with `button` a button that activates `action` ("win.restore-draft") and closes it.
void fw_notice_show(FwNotice *notice, const char *words, const char *button, const char *action);
// Another button beside the first of what is shown.
void fw_notice_add_remedy(FwNotice *notice, const char *button, const char *action);
void fw_notice_hide(FwNotice *notice);

// A message of the core, "file: place: what; what to do", as sentences for a person. Words that
// begin with a capital letter are sentences already. Free.
char *fw_notice_sentences(const char *message);

G_END_DECLS
