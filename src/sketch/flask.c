// SPDX-License-Identifier: GPL-3.0-or-later
// The views of the flask by name.
#include "sketch/flask.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

static const char *const views[] = {"plan", "section", NULL};

const char *const *
sketch_flask_views(void)
{
    return views;
}

// Why a plan has no mould: the message of the first stage that failed.
static void
say_why(const Plan *plan, GError **error)
{
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo stage = plan_stage_info(plan, i);
        if (stage.error) {
            base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan), stage.error, NULL);
            return;
        }
    }
    base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan),
                   "there is no mould to draw yet", "look at the figures marked unknown");
}

Scene *
sketch_flask_scene(const Plan *plan, const char *view, GError **error)
{
    g_return_val_if_fail(plan != NULL && view != NULL, NULL);
    if (!g_strv_contains(views, view)) {
        g_autofree char *names = g_strjoinv(", ", (char **)views);
        base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, NULL,
                        "there is no view \"%s\" of the flask; choose one of: %s", view, names);
        return NULL;
    }
    const MouldLayout *layout = plan_mould(plan);
    if (!layout) {
        say_why(plan, error);
        return NULL;
    }
    UnitSet units = plan_units(plan);
    if (strcmp(view, "section") == 0)
        return flask_section_scene(layout, plan_pattern(plan), &units);
    return flask_plan_scene(layout, plan_pattern(plan), &units);
}
