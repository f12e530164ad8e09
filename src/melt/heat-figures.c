// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of melting one load: heat into the metal, time, the whole cycle, energy from the wall.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "melt/heat.h"
#include "melt/parts.h"
#include "metal/enthalpy.h"

#define CONTENT                                                                                    \
    .id = "melt.heat_content", .label = N_("Heat to melt one kilogram"),                           \
    .kind = QUANTITY_HEAT_CONTENT

static const FigureSpec spec_content_plain = {
    CONTENT,
    .formula = "metal.cp_solid * (metal.solidus - shop.ambient) + metal.latent_heat + "
               "(metal.cp_solid + metal.cp_liquid) / 2 * (metal.liquidus - metal.solidus) + "
               "metal.cp_liquid * (job.pouring_temperature - metal.liquidus)",
    .source = "table",
};

static const FigureSpec spec_content_shomate = {
    CONTENT,
    .method = N_("heat content at the pouring temperature less that at shop temperature, by the "
                 "Shomate equations of solid and liquid"),
    .source = "nist-webbook-shomate",
};

static const FigureSpec spec_heat = {
    .id = "melt.heat",
    .label = N_("Heat into the metal"),
    .kind = QUANTITY_ENERGY,
    .formula = "melt.charge_mass * melt.heat_content",
    .source = "definition",
};

static const FigureSpec spec_power = {
    .id = "melt.power_into_metal",
    .label = N_("Power into the metal"),
    .kind = QUANTITY_POWER,
    .formula = "(furnace.power - furnace.standing_loss) * furnace.efficiency",
    .source = "definition",
    .limit_kind = FIGURE_AT_LEAST,
};

static const FigureSpec spec_heat_time = {
    .id = "melt.heat_time",
    .label = N_("Melting time"),
    .kind = QUANTITY_TIME,
    .formula = "melt.heat / melt.power_into_metal",
    .source = "definition",
};

static const FigureSpec spec_time_error = {
    .id = "melt.heat_time_error",
    .label = N_("Melting time, give or take"),
    .kind = QUANTITY_TIME,
    .formula = "melt.heat_time * learn.furnace_efficiency_error / furnace.efficiency",
    .source = "measured",
};

static const FigureSpec spec_cycle = {
    .id = "melt.cycle_time",
    .label = N_("Melt cycle"),
    .kind = QUANTITY_TIME,
    .formula = "people.charge_time + melt.heat_time + people.skim_time + "
               "people.pour_time * melt.flasks_per_load",
    .source = "definition",
};

static const FigureSpec spec_energy = {
    .id = "melt.energy",
    .label = N_("Energy from the wall, one load"),
    .kind = QUANTITY_ENERGY,
    .formula = "furnace.power * melt.heat_time + "
               "furnace.standing_loss * (melt.cycle_time - melt.heat_time)",
    .source = "definition",
};

static const FigureSpec spec_energy_per_mass = {
    .id = "melt.energy_per_mass",
    .label = N_("Energy from the wall per mass of charge"),
    .kind = QUANTITY_HEAT_CONTENT,
    .formula = "melt.energy / melt.charge_mass",
    .source = "definition",
};

// Less than this into the metal is no melting furnace.
#define LEAST_POWER 1.0 // W

static double
add_content(MeltCall *call)
{
    const Inputs *in = call->inputs;
    const TableRow *metal = inputs_row(in, "metal");
    double ambient = inputs_number(in, "shop.ambient");
    double pouring = inputs_number(in, "job.pouring_temperature");
    if (!metal) {
        figure_add_unknown(call->figures, &spec_content_plain, "job.metal");
        return NAN;
    }
    double content = enthalpy_between(metal, ambient, pouring);
    if (table_row_text(metal, "enthalpy_model")) {
        figure_add(call->figures, &spec_content_shomate, content, "shop.ambient",
                   "job.pouring_temperature", NULL);
    } else if (pouring < table_row_value(metal, "liquidus")) {
        // The formula stands for metal that is melted right through.
        figure_add_unknown(call->figures, &spec_content_plain, "job.pouring_temperature");
        return NAN;
    } else {
        Figure *figure = figure_add(call->figures, &spec_content_plain, content, "metal.cp_solid",
                                    "metal.solidus", "shop.ambient", "metal.latent_heat",
                                    "metal.cp_liquid", "metal.liquidus", "job.pouring_temperature",
                                    NULL);
        static const char *const keys[] = {"cp_solid", "cp_liquid", "latent_heat", NULL};
        melt_take_sources(figure, metal, keys);
        // Of all that goes in, the latent heat is known worst, and its note says how badly.
        const TableValue *latent = table_row_find(metal, "latent_heat");
        if (latent && latent->note)
            figure_set_note(figure, "%s", latent->note);
    }
    return content;
}

static double
add_power(MeltCall *call)
{
    const Inputs *in = call->inputs;
    double power = melt_power_into_metal(inputs_number(in, "furnace.power"),
                                         inputs_number(in, "furnace.standing_loss"),
                                         inputs_number(in, "furnace.efficiency"));
    Figure *figure = figure_add(call->figures, &spec_power, power, "furnace.power",
                                "furnace.standing_loss", "furnace.efficiency", NULL);
    figure_limit(figure, LEAST_POWER, NULL);
    if (figure->state == FIGURE_FAILS)
        figure_set_note(figure, _("The standing loss takes all the furnace draws, so it would "
                                  "never melt: check both, or take a stronger furnace."));
    else if (inputs_is_blank(in, "furnace.efficiency") &&
             g_strcmp0(inputs_source(in, "furnace.efficiency"), "common-practice") == 0)
        figure_set_note(figure, _("The share that reaches the metal is a default; a few melts in "
                                  "the log make it your own."));
    return power;
}

// Where the efficiency is the one the log taught, its standard error is handed on to the time.
static void
add_time_error(MeltCall *call)
{
    double share = inputs_number(call->inputs, "furnace.efficiency");
    double error = figure_list_value(call->figures, "learn.furnace_efficiency_error");
    if (!inputs_is_blank(call->inputs, "furnace.efficiency") || isnan(error) ||
        share != figure_list_value(call->figures, "learn.furnace_efficiency"))
        return;
    Figure *figure = figure_add(call->figures, &spec_time_error,
                                call->result->heat_time * error / share, "melt.heat_time",
                                "learn.furnace_efficiency_error", "furnace.efficiency", NULL);
    figure_set_note(figure,
                    _("One standard error of the efficiency fitted to the log: two melts in "
                      "three end within it, other things being equal."));
}

void
melt_add_heat(MeltCall *call)
{
    const Inputs *in = call->inputs;
    MeltResult *result = call->result;
    result->heat = result->charge_mass * add_content(call);
    figure_add(call->figures, &spec_heat, result->heat, "melt.charge_mass", "melt.heat_content",
               NULL);
    double power = add_power(call);
    result->heat_time = melt_heat_time(result->heat, power);
    if (power < LEAST_POWER) {
        result->heat_time = NAN;
        figure_add_unknown(call->figures, &spec_heat_time, "melt.power_into_metal");
    } else {
        figure_add(call->figures, &spec_heat_time, result->heat_time, "melt.heat",
                   "melt.power_into_metal", NULL);
        add_time_error(call);
    }
    result->cycle_time = inputs_number(in, "people.charge_time") + result->heat_time +
                         inputs_number(in, "people.skim_time") +
                         inputs_number(in, "people.pour_time") * result->flasks_per_load;
    figure_add(call->figures, &spec_cycle, result->cycle_time, "people.charge_time",
               "melt.heat_time", "people.skim_time", "people.pour_time", "melt.flasks_per_load",
               NULL);
    result->energy = melt_wall_energy(inputs_number(in, "furnace.power"),
                                      inputs_number(in, "furnace.standing_loss"), result->heat_time,
                                      result->cycle_time);
    figure_add(call->figures, &spec_energy, result->energy, "furnace.power", "melt.heat_time",
               "furnace.standing_loss", "melt.cycle_time", NULL);
    figure_add(call->figures, &spec_energy_per_mass, result->energy / result->charge_mass,
               "melt.energy", "melt.charge_mass", NULL);
}
