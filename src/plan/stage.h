// SPDX-License-Identifier: GPL-3.0-or-later
// The table of stages in their fixed order: what each reads, what it needs from earlier ones, and
// its function. A stage's key is the digest of exactly those.
#pragma once

#include "base/progress.h"
#include "book/inputs.h"
#include "figure/figure.h"

G_BEGIN_DECLS

typedef enum {
    STAGE_LEARN,
    STAGE_PART,
    STAGE_PULL,
    STAGE_PATTERN,
    STAGE_FEED,
    STAGE_MOULD,
    STAGE_BOARD,
    STAGE_FREEZE,
    STAGE_MELT,
    STAGE_STOCK,
    STAGE_SESSION,
    STAGE_COST,
    STAGE_COUNT
} StageId;

typedef struct {
    const char *job_id;
    const Inputs *inputs;
    gpointer results[STAGE_COUNT];  // earlier results, NULL where there is none
    FigureList *figures;            // to fill
    const struct MouldGuest *guest; // of stage "mould": what shares the flask, or why not
    const char *trouble;
    gboolean no_heat_flow; // of stage "freeze": by rule alone
    Progress *progress;
} StageCall;

typedef struct {
    StageId id;
    const char *name;  // "mould"
    const char *label; // N_("Mould")
    const char *const *reads;
    guint after;   // bit set of StageId: whose results and figures it reads
    guint needs;   // bit set: without a result of these it is not run, its figures are unknown
    gboolean slow; // waits until a gesture has ended
    gpointer (*run)(StageCall *call, GError **error);
    gpointer (*ref)(gconstpointer result);
    void (*unref)(gconstpointer result);
    const char *(*digest)(gconstpointer result); // content of a result; NULL: that of its key
} Stage;

const Stage *stage_at(StageId id);

// The figures every Plan has, whatever happens; what a stage did not make is added as unknown.
typedef struct {
    StageId stage;
    FigureSpec spec;
} StageFigure;
guint stage_figure_count(void);
const StageFigure *stage_figure_at(guint index);

G_END_DECLS
