// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of one load: how many flasks it fills, what is kept in reserve, what to weigh in.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "melt/charge.h"
#include "melt/parts.h"

static const FigureSpec spec_pourable = {
    .id = "melt.pourable",
    .label = N_("Metal for flasks, at most"),
    .kind = QUANTITY_MASS,
    .formula = "min((melt.working_mass * (1 - melt.loss) - job.heel) / (1 + job.reserve), "
               "melt.working_mass * (1 - melt.loss) - job.heel - job.reserve_least)",
    .source = "definition",
};

static const FigureSpec spec_one_flask = {
    .id = "melt.one_flask",
    .label = N_("Charge for one flask"),
    .kind = QUANTITY_MASS,
    .formula = "(mould.metal_mass + max(job.reserve * mould.metal_mass, job.reserve_least) + "
               "job.heel) / (1 - melt.loss)",
    .source = "definition",
};

static const FigureSpec spec_rating_needed = {
    .id = "melt.rating_needed",
    .label = N_("Rating that holds one flask"),
    .kind = QUANTITY_MASS,
    .formula = "melt.one_flask / (melt.metal_density * crucible.fill) * "
               "ratingmetal.density_liquid",
    .source = "definition",
};

static const FigureSpec spec_flasks = {
    .id = "melt.flasks_per_load",
    .label = N_("Flasks a load"),
    .kind = QUANTITY_COUNT,
    .formula = "max(0, min(floor(melt.pourable / mould.metal_mass), flask.count))",
    .source = "definition",
    .limit_kind = FIGURE_AT_LEAST,
};

static const FigureSpec spec_flask_metal = {
    .id = "melt.flask_metal",
    .label = N_("Metal into the flasks of a load"),
    .kind = QUANTITY_MASS,
    .formula = "melt.flasks_per_load * mould.metal_mass",
    .source = "definition",
};

static const FigureSpec spec_reserve = {
    .id = "melt.reserve",
    .label = N_("Reserve"),
    .kind = QUANTITY_MASS,
    .formula = "max(job.reserve * melt.flask_metal, job.reserve_least)",
    .source = "definition",
};

static const FigureSpec spec_charge = {
    .id = "melt.charge_mass",
    .label = N_("Charge"),
    .kind = QUANTITY_MASS,
    .formula = "(melt.flask_metal + melt.reserve + job.heel) / (1 - melt.loss)",
    .source = "definition",
};

// Rounded up to what a catalogue might list: whole kilograms, or tenths below one.
static double
round_rating(double mass)
{
    double step = mass < 1 ? 0.1 : 1;
    return ceil(mass / step - 1e-9) * step;
}

static void
note_what_would_fit(MeltCall *call, Figure *figure, double need, double rating)
{
    const TableRow *metal = inputs_row(call->inputs, "metal");
    const TableRow *rated = inputs_row(call->inputs, "ratingmetal");
    if (!metal || !rated || !isfinite(need) || !isfinite(rating))
        return;
    UnitSet units = inputs_units(call->inputs);
    double holds = call->result->working_mass;
    g_autofree char *need_text = quantity_format(QUANTITY_MASS, need, &units);
    g_autofree char *holds_text = quantity_format(QUANTITY_MASS, holds, &units);
    g_autofree char *rating_text = quantity_format(QUANTITY_MASS, round_rating(rating), &units);
    if (figure_list_value(call->figures, "mould.cavities") <= 1) {
        figure_set_note(figure,
                        _("One flask needs %s, and this crucible holds %s of %s; one rated %s (%s) "
                          "would do."),
                        need_text, holds_text, table_row_name(metal), rating_text,
                        table_row_name(rated));
        return;
    }
    g_autofree char *fewer = field_words("job.cavities");
    figure_set_note(figure,
                    _("One flask needs %s, and this crucible holds %s of %s; one rated %s (%s) "
                      "would do, or fewer cavities in a flask: %s."),
                    need_text, holds_text, table_row_name(metal), rating_text,
                    table_row_name(rated), fewer);
}

static void
add_flasks(MeltCall *call)
{
    const Inputs *in = call->inputs;
    double loss = call->loss, heel = inputs_number(in, "job.heel");
    double reserve = inputs_number(in, "job.reserve");
    double least = inputs_number(in, "job.reserve_least");
    double boxes = inputs_number(in, "flask.count");
    double pourable = melt_pourable(call->result->working_mass, loss, heel, reserve, least);
    figure_add(call->figures, &spec_pourable, pourable, "melt.working_mass", "melt.loss",
               "job.heel", "job.reserve", "job.reserve_least", NULL);
    double need = melt_charge(call->flask_metal, melt_reserve(call->flask_metal, reserve, least),
                              heel, loss);
    figure_add(call->figures, &spec_one_flask, need, "mould.metal_mass", "job.reserve",
               "job.reserve_least", "job.heel", "melt.loss", NULL);
    double rating = melt_rating_needed(need, figure_list_value(call->figures, "melt.metal_density"),
                                       inputs_number(in, "crucible.fill"),
                                       inputs_number(in, "ratingmetal.density_liquid"));
    figure_add(call->figures, &spec_rating_needed, rating, "melt.one_flask", "melt.metal_density",
               "crucible.fill", "ratingmetal.density_liquid", NULL);
    if (call->flask_metal <= 0) { // an empty mould
        figure_add_unknown(call->figures, &spec_flasks, "mould.metal_mass");
        return;
    }
    int flasks = melt_flasks(pourable, call->flask_metal, boxes);
    Figure *figure = figure_add(call->figures, &spec_flasks, flasks, "melt.pourable",
                                "mould.metal_mass", "flask.count", NULL);
    figure_limit(figure, 1, NULL);
    call->result->flasks_per_load = figure->state == FIGURE_UNKNOWN ? 0 : flasks;
    if (figure->state == FIGURE_FAILS)
        note_what_would_fit(call, figure, need, rating);
    else if (flasks == (int)boxes && pourable >= (boxes + 1) * call->flask_metal)
        figure_set_note(figure, _("The crucible would fill more; there are no more flasks."));
}

void
melt_add_load(MeltCall *call)
{
    add_flasks(call);
    if (call->result->flasks_per_load < 1) {
        // A charge for no flask is no charge; what hangs on it says that the flasks are missing.
        figure_add_unknown(call->figures, &spec_flask_metal, "melt.flasks_per_load");
        figure_add_unknown(call->figures, &spec_reserve, "melt.flasks_per_load");
        figure_add_unknown(call->figures, &spec_charge, "melt.flasks_per_load");
        return;
    }
    double poured = call->result->flasks_per_load * call->flask_metal;
    figure_add(call->figures, &spec_flask_metal, poured, "melt.flasks_per_load", "mould.metal_mass",
               NULL);
    double reserve = melt_reserve(poured, inputs_number(call->inputs, "job.reserve"),
                                  inputs_number(call->inputs, "job.reserve_least"));
    figure_add(call->figures, &spec_reserve, reserve, "job.reserve", "melt.flask_metal",
               "job.reserve_least", NULL);
    call->result->charge_mass = melt_charge(poured, reserve,
                                            inputs_number(call->inputs, "job.heel"), call->loss);
    figure_add(call->figures, &spec_charge, call->result->charge_mass, "melt.flask_metal",
               "melt.reserve", "job.heel", "melt.loss", NULL);
}
