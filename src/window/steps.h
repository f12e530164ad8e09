// SPDX-License-Identifier: GPL-3.0-or-later
// The steps of a job in the order of the trade: what each shows in the job pane and the inspector.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

typedef struct {
    const char *id;
    const char *label; // N_(...), short
} StepFigure;

typedef struct {
    const char *id;        // also Field.step
    const char *label;     // N_("Mould")
    const char *stages[4]; // names of the stages whose figures it lists, NULL-terminated
    StepFigure figures[4]; // the two or three that matter, ended by an id of NULL
    gboolean cautions;     // molten metal or sand: show the cautions
} Step;

guint steps_count(void);
const Step *steps_at(guint index);
const Step *steps_find(const char *id);                               // NULL if there is none
const Step *steps_of_figure(const Plan *plan, const char *figure_id); // where a figure is listed

// The worst state among the step's checks; FIGURE_UNKNOWN if a figure that matters is unknown,
// FIGURE_PLAIN while there is nothing to say. `attention` gets the number of failing or close
// checks.
FigureState steps_state(const Step *step, const Plan *plan, guint *attention);

G_END_DECLS
