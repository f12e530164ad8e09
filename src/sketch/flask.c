// SPDX-License-Identifier: GPL-3.0-or-later
// The views of the flask by name.
#include "sketch/flask.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

static const char *const views[] = {"plan",   "cope", "drag",  "section",
                                    "across", "end",  "stack", NULL};

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

gboolean
sketch_flask_is_cut(const char *view)
{
    return strcmp(view, "section") == 0 || strcmp(view, "across") == 0;
}

static Scene *
make_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
           const char *view, double at)
{
    if (sketch_flask_is_cut(view))
        return flask_cut_scene(layout, pattern, units, view[0] == 'a', at);
    if (strcmp(view, "end") == 0)
        return flask_end_scene(layout, pattern, units);
    if (strcmp(view, "stack") == 0)
        return flask_stack_scene(layout, pattern, units);
    FlaskHalf half = strcmp(view, "cope") == 0   ? FLASK_COPE
                     : strcmp(view, "drag") == 0 ? FLASK_DRAG
                                                 : FLASK_BOTH;
    return flask_half_scene(layout, pattern, units, half, at);
}

Scene *
sketch_flask_scene(const Plan *plan, const char *view, GError **error)
{
    return sketch_flask_scene_at(plan, view, NAN, error);
}

Scene *
sketch_flask_scene_at(const Plan *plan, const char *view, double at, GError **error)
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
    return make_scene(layout, plan_pattern(plan), &units, view, at);
}
