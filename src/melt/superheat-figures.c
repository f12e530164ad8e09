// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of how hot the metal is poured: hot enough to run, no hotter, since gas and dross grow
// with heat; and what fumes.
#include <glib/gi18n-lib.h>

#include "melt/heat.h"
#include "melt/parts.h"

// Superheat below this leaves little time between furnace and mould.
#define LEAST_SUPERHEAT 20.0 // K

static const FigureSpec spec_superheat = {
    .id = "melt.superheat",
    .label = N_("Superheat"),
    .kind = QUANTITY_TEMPERATURE_DIFFERENCE,
    .formula = "job.pouring_temperature - metal.liquidus",
    .source = "definition",
    .limit_kind = FIGURE_AT_LEAST,
    .near = 0.5,
};

static const FigureSpec spec_hydrogen = {
    .id = "melt.hydrogen",
    .label = N_("Hydrogen the melt can hold, cm³ in 100 g"),
    .kind = QUANTITY_NUMBER,
    .formula = "10 ^ (2.720 - 2700 / (job.pouring_temperature + 273.15))",
    .source = "talbot-1988",
};

static const FigureSpec spec_gas = {
    .id = "melt.gas_superheat",
    .label = N_("Superheat, against gas and dross"),
    .kind = QUANTITY_TEMPERATURE_DIFFERENCE,
    .formula = "job.pouring_temperature - metal.liquidus",
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST,
    .near = 0.1,
};

static const FigureSpec spec_coolest = {
    .id = "melt.pour_from",
    .label = N_("Pour no cooler than"),
    .kind = QUANTITY_TEMPERATURE,
    .formula = "metal.liquidus + 20",
    .source = "common-practice",
};

static const FigureSpec spec_hottest = {
    .id = "melt.pour_to",
    .label = N_("Pour no hotter than"),
    .kind = QUANTITY_TEMPERATURE,
    .formula = "metal.liquidus + job.superheat_most",
    .source = "definition",
};

static const FigureSpec spec_step = {
    .id = "melt.hydrogen_step",
    .label = N_("More hydrogen for 10 K more"),
    .kind = QUANTITY_RATIO,
    .formula = "10 ^ (2700 / (job.pouring_temperature + 273.15) - 2700 / "
               "(job.pouring_temperature + 283.15)) - 1",
    .source = "talbot-1988",
};

static const FigureSpec spec_fume = {
    .id = "melt.fume",
    .label = N_("Harmful fume"),
    .kind = QUANTITY_TEXT,
    .method = N_("what the metal gives off, from the table of metals"),
    .source = "table",
};

static void
add_range(MeltCall *call, double pouring)
{
    double liquidus = inputs_number(call->inputs, "metal.liquidus");
    double most = inputs_number(call->inputs, "job.superheat_most");
    double superheat = pouring - liquidus;
    Figure *figure = figure_add(call->figures, &spec_superheat, superheat,
                                "job.pouring_temperature", "metal.liquidus", NULL);
    figure_limit(figure, LEAST_SUPERHEAT, NULL);
    if (figure->state == FIGURE_FAILS || figure->state == FIGURE_CLOSE)
        figure_set_note(figure, _("Metal this cool may freeze on its way through the mould; the "
                                  "limit is common practice."));
    figure = figure_add(call->figures, &spec_gas, superheat, "job.pouring_temperature",
                        "metal.liquidus", NULL);
    figure_limit(figure, most, "job.superheat_most");
    if (figure->state == FIGURE_FAILS || figure->state == FIGURE_CLOSE)
        figure_set_note(figure,
                        _("Hotter metal takes up more gas, which comes out as pores, makes "
                          "more dross, eats crucible and tools and coarsens the grain. Pour "
                          "as cool as the thinnest section lets you, and do not let it "
                          "stand."));
    figure_add(call->figures, &spec_coolest, liquidus + LEAST_SUPERHEAT, "metal.liquidus", NULL);
    figure_add(call->figures, &spec_hottest, liquidus + most, "metal.liquidus",
               "job.superheat_most", NULL);
}

// Only for aluminium is the solubility known to us.
static void
add_hydrogen(MeltCall *call, double pouring)
{
    Figure *figure = figure_add(call->figures, &spec_hydrogen, melt_hydrogen(pouring),
                                "job.pouring_temperature", NULL);
    figure_set_note(figure,
                    _("At one atmosphere of hydrogen, for pure aluminium, measured from 670 "
                      "to 850 °C. It nearly doubles from 700 to 800 °C: the reason not to "
                      "overheat. Damp charge, tools and flux are where it comes from."));
    figure_add(call->figures, &spec_step, melt_hydrogen_step(pouring, 10) - 1,
               "job.pouring_temperature", NULL);
}

// "zinc lead" is "zinc, lead".
static void
add_fume(MeltCall *call, const TableRow *metal)
{
    const char *fume = table_row_text(metal, "fume");
    if (!fume)
        return;
    g_auto(GStrv) words = g_strsplit(fume, " ", -1);
    g_autofree char *text = g_strjoinv(", ", words);
    Figure *figure = figure_add_text(call->figures, &spec_fume, text, "job.metal", NULL);
    figure_set_note(figure, _("Melt and pour under extraction or outdoors with the wind at your "
                              "back, no hotter than need be, and keep within the exposure limits "
                              "of your local rules."));
}

void
melt_add_superheat(MeltCall *call)
{
    double pouring = inputs_number(call->inputs, "job.pouring_temperature");
    const TableRow *metal = inputs_row(call->inputs, "metal");
    call->result->pouring_temperature = pouring;
    add_range(call, pouring);
    if (metal && g_str_equal(table_row_family(metal), "aluminium"))
        add_hydrogen(call, pouring);
    if (metal)
        add_fume(call, metal);
}
