// SPDX-License-Identifier: GPL-3.0-or-later
// What the pull view shows of one plan, worked out in a thread: the shaded part, its areas that do
// not draw as wanted, and from where each of them is seen.
#pragma once

#include <gio/gio.h>

#include "part/area.h"
#include "plan/plan.h"
#include "sketch/shade.h"

G_BEGIN_DECLS

#define PULL_MODEL_AREAS 60 // as many are listed

// Immutable, reference-counted.
typedef struct {
    Plan *plan;
    ShadeModel *shade;
    AreaList *areas; // NULL: the part is not closed, or there is no pattern
    Vec3 low, high;  // box of the part in mould axes, m
} PullModel;

const PullModel *fw_pull_model_ref(const PullModel *model);
void fw_pull_model_unref(const PullModel *model); // NULL is harmless

// `plan` has a part. `made` is called on the main thread with `source` and `data`.
void fw_pull_model_make(const Plan *plan, gpointer source, GAsyncReadyCallback made, gpointer data);
const PullModel *fw_pull_model_made(GAsyncResult *result); // borrowed from the result

// From where the areas of a model that has some are best seen, seen from `liked` if that is as
// good: the way to the eye for each of the first PULL_MODEL_AREAS. Stopped by `progress`.
void fw_pull_model_look(const PullModel *model, Vec3 liked, Progress *progress, gpointer source,
                        GAsyncReadyCallback looked);
// The model and its ways, borrowed from the result; NULL when stopped.
const Vec3 *fw_pull_model_looked(GAsyncResult *result, const PullModel **model);

G_END_DECLS
