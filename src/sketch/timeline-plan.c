// SPDX-License-Identifier: GPL-3.0-or-later
// The timeline of a plan's session.
#include "base/error.h"
#include "sketch/timeline.h"

Scene *
sketch_timeline_scene(const Plan *plan, GError **error)
{
    g_return_val_if_fail(plan != NULL, NULL);
    const SessionResult *session = plan_session(plan);
    if (session) {
        UnitSet units = plan_units(plan);
        return timeline_scene(session, plan_melt(plan), &units);
    }
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo stage = plan_stage_info(plan, i);
        if (stage.error) {
            base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan), stage.error, NULL);
            return NULL;
        }
    }
    base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan),
                   "there is no session to draw yet", "look at the figures marked unknown");
    return NULL;
}
