// SPDX-License-Identifier: GPL-3.0-or-later
// Read from the figures of the plan, so that learned values and defaults are what the plan used.
#include "window/pull-question.h"

static double
given(const Plan *plan, const char *path)
{
    const Figure *figure = plan_figure(plan, path);
    return figure ? figure->value : NAN;
}

// What the casting is to be like, as the plan's figures have it; FALSE while something is unknown.
static gboolean
read_options(const Plan *plan, EnvelopeOptions *o)
{
    *o = (EnvelopeOptions){.allowance = given(plan, "job.allowance"),
                           .draft = given(plan, "job.draft"),
                           .stub_diameter = given(plan, "job.stub_diameter"),
                           .stub_height = given(plan, "job.stub_height"),
                           .close_holes = given(plan, "job.close_holes"),
                           .fillet = given(plan, "job.fillet"),
                           .min_wall = given(plan, "job.min_wall")};
    double cells = given(plan, "job.cells");
    double all = o->allowance + o->draft + o->stub_diameter + o->stub_height + o->close_holes +
                 o->fillet + o->min_wall + cells;
    if (!isfinite(all))
        return FALSE;
    o->cells = (int)cells;
    return TRUE;
}

char *
fw_pull_question(const Plan *plan, EnvelopeOptions *o)
{
    const PartResult *part = plan ? plan_part(plan) : NULL;
    if (!part || !part->solid || !read_options(plan, o))
        return NULL;
    return g_strdup_printf("%s %a %a %a %a %a %a %a %d", part->digest, o->allowance, o->draft,
                           o->stub_diameter, o->stub_height, o->close_holes, o->fillet, o->min_wall,
                           o->cells);
}
