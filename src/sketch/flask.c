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

gboolean
sketch_flask_is_plan(const char *view, FlaskHalf *half)
{
    *half = strcmp(view, "cope") == 0   ? FLASK_COPE
            : strcmp(view, "drag") == 0 ? FLASK_DRAG
                                        : FLASK_BOTH;
    return *half != FLASK_BOTH || strcmp(view, "plan") == 0;
}

// Which cavities are locked, as many as the layout has; NULL for none.
static gboolean *
find_locked(const Plan *plan, const MouldLayout *l, const UnitSet *units)
{
    const Figure *given = plan_figure(plan, "job.placement");
    g_autoptr(GArray) spots = NULL;
    if (given && given->state != FIGURE_UNKNOWN && given->text)
        spots = placement_read(given->text, units, NULL);
    if (!spots || spots->len == 0)
        return NULL;
    gboolean *locked = g_new0(gboolean, MAX(l->n_cavities, 1));
    for (guint i = 0; i < l->n_cavities; i++)
        locked[i] = placement_locked_at(spots, l->cavities[i].x, l->cavities[i].y) != NULL;
    return locked;
}

static Scene *
make_scene(const Plan *plan, const char *view, double along, double across)
{
    const MouldLayout *layout = plan_mould(plan);
    const PatternResult *pattern = plan_pattern(plan);
    UnitSet units = plan_units(plan);
    FlaskHalf half;
    if (sketch_flask_is_cut(view))
        return flask_cut_scene(layout, pattern, &units, view[0] == 'a',
                               view[0] == 'a' ? across : along);
    if (strcmp(view, "end") == 0)
        return flask_end_scene(layout, pattern, &units);
    if (!sketch_flask_is_plan(view, &half))
        return flask_stack_scene(layout, pattern, &units);
    g_autofree gboolean *locked = find_locked(plan, layout, &units);
    FlaskMarks marks = {.along = along, .across = across, .locked = locked};
    return flask_marked_scene(layout, pattern, &units, half, &marks);
}

Scene *
sketch_flask_scene(const Plan *plan, const char *view, GError **error)
{
    return sketch_flask_scene_cut(plan, view, NAN, NAN, error);
}

Scene *
sketch_flask_scene_at(const Plan *plan, const char *view, double at, GError **error)
{
    g_return_val_if_fail(view != NULL, NULL);
    gboolean across = strcmp(view, "across") == 0;
    return sketch_flask_scene_cut(plan, view, across ? NAN : at, across ? at : NAN, error);
}

Scene *
sketch_flask_scene_cut(const Plan *plan, const char *view, double along, double across,
                       GError **error)
{
    g_return_val_if_fail(plan != NULL && view != NULL, NULL);
    if (!g_strv_contains(views, view)) {
        g_autofree char *names = g_strjoinv(", ", (char **)views);
        base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, NULL,
                        "there is no view \"%s\" of the flask; choose one of: %s", view, names);
        return NULL;
    }
    if (plan_mould(plan))
        return make_scene(plan, view, along, across);
    say_why(plan, error);
    return NULL;
}
