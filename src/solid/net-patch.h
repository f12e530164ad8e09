// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces of surface in a cube of eight cell middles. Inside solid/ only.
//
// Corners: bit 0 is x, bit 1 y, bit 2 z. Edge 4 a + (u | v << 1) runs along axis a at place u, v
// (0 or 1) on the axes after it in turn. Face 2 a + s lies across axis a at its low or high end.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define NET_NO_PATCH 255

typedef struct {
    guint8 n;      // pieces
    guint8 of[12]; // which of them crosses an edge; NET_NO_PATCH for an edge not crossed
} NetPatch;

typedef struct {
    NetPatch patch[256];   // by the corners in the region
    guint8 ambiguous[256]; // faces with two corners in at opposite ends: a bit each
    guint8 joined[256];    // those of them whose two lines belong to one piece
} NetPatches;

void net_patches_init(NetPatches *all);

// On a face in doubt corners in the region stay apart, but on those in `turned` corners outside do.
NetPatch net_patch(int corners, int turned);

G_END_DECLS
