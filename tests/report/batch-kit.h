// SPDX-License-Identifier: GPL-3.0-or-later
// Books whose jobs come to several sessions, and batches of them.
#pragma once

#include "../plan/make.h"

#include "book/edit.h"
#include "plan/batch.h"

G_BEGIN_DECLS

typedef struct {
    Tables *tables;
    char *folder;
    Book *one, *two; // with one job, with two that come to several sessions each
    Book *mixed;     // the same two, in the same sessions
    Cache *cache;
} BatchKit;

void kit_set_up(BatchKit *f, gconstpointer data);
void kit_tear_down(BatchKit *f, gconstpointer data);

guint32 kit_day_of(const char *text);
Book *kit_apply(const Book *book, Edit *edit); // takes the edit
Book *kit_change(const BatchKit *f, const Book *book, const char *job, const char *path,
                 const char *text);
BatchPlan *kit_batch(const BatchKit *f, const Book *book, const char *first); // of all jobs
double kit_value(const BatchPlan *batch, const char *id);

// All flasks a session pours.
int kit_flasks(const BatchSession *session);

G_END_DECLS
