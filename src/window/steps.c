// SPDX-License-Identifier: GPL-3.0-or-later
// The table of steps, and the state of a step from the states of its checks.
#include "window/steps.h"

#include <glib/gi18n.h>

static const Step steps[] = {
    {"part",
     N_("Part"),
     {"part", NULL},
     {{"part.volume", N_("Volume")}, {"part.min_wall", N_("Thinnest wall")}, {NULL, NULL}},
     FALSE},
    {"pattern",
     N_("Pattern"),
     {"pull", "pattern", "board", NULL},
     {{"casting.mass", N_("Rough casting")},
      {"pattern.undercut_volume", N_("Filled to draw")},
      {"board.print_time", N_("Printing time")},
      {NULL, NULL}},
     FALSE},
    {"mould",
     N_("Mould"),
     {"mould", "feed", NULL},
     {{"mould.cavities", N_("Cavities")},
      {"mould.metal_mass", N_("Metal in a flask")},
      {"mould.yield", N_("Yield")},
      {NULL, NULL}},
     FALSE},
    {"melt",
     N_("Melt"),
     {"melt", NULL},
     {{"melt.charge_mass", N_("Charge")},
      {"melt.flasks_per_load", N_("Flasks a load")},
      {"melt.heat_time", N_("Melting time")},
      {NULL, NULL}},
     TRUE},
    {"pour",
     N_("Pour"),
     {"session", NULL},
     {{"run.castings_per_session", N_("Castings a session")},
      {"run.sessions", N_("Sessions")},
      {"run.bottleneck", N_("Held back by")},
      {NULL, NULL}},
     TRUE},
    {"shake-out",
     N_("Shake-out"),
     {"freeze", NULL},
     {{"feed.simulated_time", N_("Solid after")},
      {"feed.shakeout_time", N_("Open after")},
      {NULL, NULL}},
     TRUE},
    {"machining",
     N_("Machining"),
     {"stock", NULL},
     {{"stock.min", N_("Least stock")}, {"stock.machining_time", N_("Time a part")}, {NULL, NULL}},
     FALSE},
    {"finished",
     N_("Finished"),
     {"cost", "learn", NULL},
     {{"cost.per_good_part", N_("A good part")},
      {"run.castings_to_start", N_("Castings to start")},
      {NULL, NULL}},
     FALSE},
    {"shop", N_("Shop"), {NULL}, {{NULL, NULL}}, FALSE},
};

guint
steps_count(void)
{
    return G_N_ELEMENTS(steps);
}

const Step *
steps_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(steps), NULL);
    return &steps[index];
}

const Step *
steps_find(const char *id)
{
    for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
        if (g_strcmp0(steps[i].id, id) == 0)
            return &steps[i];
    return NULL;
}

const Step *
steps_of_figure(const Plan *plan, const char *figure_id)
{
    for (guint i = 0; i < G_N_ELEMENTS(steps); i++)
        for (guint s = 0; steps[i].stages[s]; s++) {
            const FigureList *list = plan_stage_figures(plan, steps[i].stages[s]);
            for (guint f = 0; list && f < figure_list_size(list); f++) {
                const Figure *figure = figure_list_at(list, f);
                if (!figure->given && g_str_equal(figure->spec->id, figure_id))
                    return &steps[i];
            }
        }
    return NULL;
}

FigureState
steps_state(const Step *step, const Plan *plan, guint *attention)
{
    FigureState worst = FIGURE_PLAIN;
    *attention = 0;
    for (guint s = 0; step->stages[s]; s++) {
        const FigureList *list = plan_stage_figures(plan, step->stages[s]);
        for (guint f = 0; list && f < figure_list_size(list); f++) {
            FigureState state = figure_list_at(list, f)->state;
            if (figure_list_at(list, f)->given || state == FIGURE_UNKNOWN)
                continue;
            if (state == FIGURE_FAILS || state == FIGURE_CLOSE)
                (*attention)++;
            worst = MAX(worst, state);
        }
    }
    for (guint i = 0; step->figures[i].id && worst < FIGURE_CLOSE; i++) {
        const Figure *figure = plan_figure(plan, step->figures[i].id);
        if (!figure || figure->state == FIGURE_UNKNOWN)
            return FIGURE_UNKNOWN;
    }
    return worst == FIGURE_PLAIN ? FIGURE_HOLDS : worst;
}
