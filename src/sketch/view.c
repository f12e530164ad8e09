// SPDX-License-Identifier: GPL-3.0-or-later
// From a view's name to its scene.
#include "sketch/view.h"

#include <math.h>

#include "sketch/filling.h"
#include "sketch/flask.h"
#include "sketch/gains.h"
#include "sketch/modulus.h"

gboolean
sketch_is_view(const char *view)
{
    g_return_val_if_fail(view != NULL, FALSE);
    return g_str_equal(view, "modulus") || g_str_equal(view, "filling") ||
           g_str_equal(view, "gains") || g_strv_contains(sketch_flask_views(), view);
}

gboolean
sketch_view_has_size(const char *view)
{
    g_return_val_if_fail(view != NULL, FALSE);
    return !g_str_equal(view, "filling") && !g_str_equal(view, "gains") &&
           !g_str_equal(view, "timeline");
}

Scene *
sketch_view_scene(const Plan *plan, const char *view, double along, double across, GError **error)
{
    g_return_val_if_fail(plan != NULL && view != NULL, NULL);
    if (g_str_equal(view, "filling"))
        return sketch_filling_scene(plan, error);
    if (g_str_equal(view, "gains"))
        return sketch_gains_scene(plan, error);
    if (!g_str_equal(view, "modulus"))
        return sketch_flask_scene_cut(plan, view, along, across, error);
    CastingPlane plane = {casting_cut_axis("along"), NAN};
    return sketch_modulus_scene(plan, &plane, error);
}
