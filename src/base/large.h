// SPDX-License-Identifier: GPL-3.0-or-later
// Room for arrays of many megabytes. Fresh memory costs a fault for every page of it, which for a
// quick pass over a large array is a good part of the time; large pages cost few.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// As g_malloc() and g_malloc0(), freed by g_free(); small requests are the same. Never NULL: ends
// the program where there is no memory.
gpointer large_new(gsize bytes);
gpointer large_new0(gsize bytes);

G_END_DECLS
