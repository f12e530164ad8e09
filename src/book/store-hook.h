// SPDX-License-Identifier: GPL-3.0-or-later
// Lets tests break the disk: asked before every system call of a save.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Gets the name of the call ("access", "open", "write", "sync", "close", "rename", "folder");
// returns 0 to let it happen, or the errno it shall fail with. NULL, as it is in the program, lets
// all happen.
extern int (*store_fail_hook)(const char *call);

// TRUE, with errno set, when a test has the call fail.
gboolean store_call_fails(const char *call);

G_END_DECLS
