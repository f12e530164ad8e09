// SPDX-License-Identifier: GPL-3.0-or-later
// The first sheet of a traveller: which job, what to look at before beginning, the batch.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "figure/explain.h"
#include "report/traveller-private.h"
#include "sketch/flask.h"

#define PLAN_HEIGHT 380.0 // points

void
traveller_pairs(const Traveller *t, const char *const *ids)
{
    for (; *ids; ids++) {
        const Figure *figure = plan_figure(t->plan, *ids);
        if (!figure)
            continue;
        g_autofree char *value = explain_value(figure, &t->units);
        sheet_pair(t->sheet, _(figure->spec->label), value);
    }
}

char *
traveller_value(const Traveller *t, const char *id)
{
    const Figure *figure = plan_figure(t->plan, id);
    return figure ? explain_value(figure, &t->units) : g_strdup(_("unknown"));
}

double
traveller_number(const Traveller *t, const char *id)
{
    return figure_list_value(plan_figures(t->plan), id);
}

gboolean
traveller_has(const Traveller *t, const char *stage, gconstpointer result)
{
    if (result)
        return TRUE;
    const char *why = NULL;
    for (guint i = 0; i < plan_stage_count(t->plan); i++) {
        PlanStageInfo info = plan_stage_info(t->plan, i);
        if (g_str_equal(info.id, stage))
            why = info.error;
    }
    sheet_words(t->sheet, why ? why : _("Nothing is known of this yet."));
    return FALSE;
}

// Checks that fail or are close, one a line, so that they are settled before sand is rammed.
static void
add_attention(const Traveller *t)
{
    guint found = 0;
    for (guint i = 0; i < plan_figure_count(t->plan); i++) {
        const Figure *figure = plan_figure_at(t->plan, i);
        if (figure->state != FIGURE_FAILS && figure->state != FIGURE_CLOSE)
            continue;
        if (found++ == 0)
            sheet_head(t->sheet, _("Look at this before beginning"));
        g_autofree char *value = explain_value(figure, &t->units);
        g_autofree char *limit = explain_limit(plan_figures(t->plan), figure, &t->units);
        g_autofree char *line = g_strdup_printf("%s: %s %s%s%s", figure_state_word(figure->state),
                                                _(figure->spec->label), value, limit ? ", " : "",
                                                limit ? limit : "");
        sheet_box(t->sheet, line, NULL);
        if (figure->note)
            sheet_words(t->sheet, figure->note); // what to do
    }
}

static void
add_job(const Traveller *t)
{
    static const char *const ids[] = {"job.quantity",
                                      "run.castings_to_start",
                                      "run.batch_flasks",
                                      "run.sessions",
                                      "run.flasks_per_session",
                                      "run.castings_per_session",
                                      "casting.mass",
                                      "mould.cavities",
                                      "mould.metal_mass",
                                      "feed.shakeout_time",
                                      NULL};
    const TableRow *metal = plan_metal(t->plan);
    sheet_pair(t->sheet, _("Metal"), metal ? table_row_name(metal) : _("not chosen"));
    traveller_pairs(t, ids);
    sheet_box(t->sheet, _("Begun"), _("on"));
    sheet_box(t->sheet, _("Finished"), _("on"));
}

// What the plan looks like, or why there is nothing to see.
static void
add_plan(const Traveller *t)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Scene) scene = sketch_flask_scene(t->plan, "plan", &error);
    if (scene)
        sheet_picture(t->sheet, scene, PLAN_HEIGHT);
    else
        sheet_words(t->sheet, error->message);
}

Sheet *
traveller_sheet(const Plan *plan)
{
    g_return_val_if_fail(plan != NULL, NULL);
    const char *name = book_job_name(plan_book(plan), plan_job(plan));
    g_autofree char *title = g_strdup_printf(_("Traveller: %s"), name);
    const char *const *cautions = plan_cautions(plan);
    Traveller t = {plan, plan_units(plan), sheet_new(title, cautions[0] ? cautions[0] : "")};
    add_job(&t);
    add_attention(&t);
    add_plan(&t);
    traveller_patterns(&t);
    traveller_mould(&t);
    traveller_melt(&t);
    traveller_day(&t);
    traveller_finish(&t);
    return t.sheet;
}
