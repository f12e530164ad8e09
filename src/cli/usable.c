// SPDX-License-Identifier: GPL-3.0-or-later
// When a plan is of no use: no usable mesh, or a part that the flask does not hold. Every command
// that works from one refuses it alike.
#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "cli/cli.h"

gboolean
cli_usable(const Plan *plan, const char *file, GError **error)
{
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        // Without patterns to print a plan is still of use.
        if (info.error && !g_str_equal(info.id, "board"))
            return base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan), info.error, NULL);
    }
    const Figure *cavities = plan_figure(plan, "mould.cavities");
    if (cavities && cavities->state == FIGURE_FAILS)
        return base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                              cavities->note ? cavities->note : _("no cavity fits the flask"),
                              NULL);
    static const char *const covers[] = {"mould.sand_cover.top", "mould.sand_cover.bottom"};
    for (guint i = 0; i < G_N_ELEMENTS(covers); i++) {
        const Figure *cover = plan_figure(plan, covers[i]);
        if (cover && cover->value < 0)
            return base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                                  _("the casting stands out of the flask"), cover->note);
    }
    return TRUE;
}
