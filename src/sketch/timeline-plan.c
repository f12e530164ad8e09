// SPDX-License-Identifier: GPL-3.0-or-later
// The timeline of a plan's session.
#include "base/error.h"
#include "book/edit.h"
#include "sketch/timeline-kit.h"

#include <math.h>

TimelineChart *
sketch_timeline_chart(const Plan *plan, GError **error)
{
    g_return_val_if_fail(plan != NULL, NULL);
    const SessionResult *session = plan_session(plan);
    if (session) {
        UnitSet units = plan_units(plan);
        return timeline_chart_new(session, plan_melt(plan), &units);
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

char *
sketch_timeline_pins(const Plan *plan)
{
    const Field *field = field_find("job.pins");
    if (!field)
        return NULL;
    return edit_field_text(plan_book(plan), plan_job(plan), field);
}

Scene *
sketch_timeline_scene(const Plan *plan, GError **error)
{
    g_autoptr(TimelineChart) chart = sketch_timeline_chart(plan, error);
    if (!chart)
        return NULL;
    g_autofree char *pins = sketch_timeline_pins(plan);
    TimelineLook look = {.now = NAN, .title = TRUE, .parts = TRUE, .pins = pins};
    timeline_whole_size(chart, &look.width, &look.height);
    return timeline_draw(chart, &look);
}
