// SPDX-License-Identifier: GPL-3.0-or-later
// A desk in a folder of its own with a mesh, and the signals heard from it.
#pragma once

#include "make.h"

#include "plan/desk.h"

G_BEGIN_DECLS

typedef struct {
    Tables *tables;
    Desk *desk;
    char *folder, *mesh;
    guint books, plans, busy; // signals heard
} DeskKit;

void kit_set_up(DeskKit *f, gconstpointer data);
// Also checks that nothing else holds the desk, and clears the drafts.
void kit_tear_down(DeskKit *f, gconstpointer data);
// Another desk in place of one that was finalised.
void kit_new_desk(DeskKit *f);

// A book with the plate as its one job, quick to plan.
void kit_start(DeskKit *f);
void kit_edit(DeskKit *f, const char *path, const char *text); // must go through
void kit_wait(DeskKit *f);                                     // until the desk is idle
const char *kit_text(DeskKit *f, const char *place);           // of the book; NULL if absent
// The plan on the desk is that of its book and job from nothing.
void kit_check_plan(DeskKit *f);

G_END_DECLS
