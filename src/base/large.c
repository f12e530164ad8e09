// SPDX-License-Identifier: GPL-3.0-or-later
// Asks the system for large pages where it has them; glib's g_free() is free().
#include "base/large.h"

#include <stdlib.h>
#include <string.h>
#ifdef __linux__
#include <sys/mman.h>
#endif

#define PAGE ((gsize)2 << 20)

gpointer
large_new(gsize bytes)
{
#if defined(__linux__) && defined(MADV_HUGEPAGE)
    if (bytes >= 2 * PAGE && bytes < G_MAXSIZE - PAGE) {
        gsize whole = (bytes + PAGE - 1) / PAGE * PAGE;
        gpointer room = aligned_alloc(PAGE, whole);
        if (room) {
            madvise(room, whole, MADV_HUGEPAGE); // no matter if it cannot
            return room;
        }
    }
#endif
    return g_malloc(bytes);
}

gpointer
large_new0(gsize bytes)
{
    gpointer room = large_new(bytes);
    return room ? memset(room, 0, bytes) : NULL;
}
