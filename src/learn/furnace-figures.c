// SPDX-License-Identifier: GPL-3.0-or-later
// Efficiency and standing loss fitted to the logged melts. What is taught has to be a pair: an
// efficiency belongs to the standing loss it was fitted with. A loss the person typed is therefore
// kept and the efficiency fitted to it alone, as it is when the melts cannot tell the two apart.
#include "learn/furnace-figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const FigureSpec spec_loads = {
    .id = "learn.loads",
    .label = N_("Loads timed"),
    .kind = QUANTITY_COUNT,
    .method = N_("Loads of this metal from this furnace with charge and melting time noted."),
    .source = "measured",
};

#define EFFICIENCY                                                                                 \
    .id = "learn.furnace_efficiency", .label = N_("Furnace efficiency, measured"),                 \
    .kind = QUANTITY_RATIO, .source = "measured"
#define EFFICIENCY_ERROR                                                                           \
    .id = "learn.furnace_efficiency_error",                                                        \
    .label = N_("Standard error of the furnace efficiency"), .kind = QUANTITY_RATIO,               \
    .source = "measured"

static const FigureSpec spec_efficiency = {
    EFFICIENCY,
    .method = N_(
        "Least squares over the timed loads, with the standing loss given: energy − "
        "standing loss × melting time = charge × heat content to the pouring temperature ÷ "
        "efficiency. Energy is the meter's while it melted, else power × time."),
};
static const FigureSpec spec_error = {
    EFFICIENCY_ERROR,
    .method = N_("Standard error of the slope of that line; it takes two loads."),
};

static const FigureSpec spec_efficiency_both = {
    EFFICIENCY,
    .method = N_("Least squares over the loads with energy noted, two unknowns: energy = charge × "
                 "heat content to the pouring temperature ÷ efficiency + standing loss × melting "
                 "time."),
};
static const FigureSpec spec_error_both = {
    EFFICIENCY_ERROR,
    .method = N_("Standard error from the covariance of that fit."),
};

static const FigureSpec spec_loss = {
    .id = "learn.standing_loss",
    .label = N_("Standing loss, measured"),
    .kind = QUANTITY_POWER,
    .method = N_("Least squares over the loads with energy noted, two unknowns: energy = charge × "
                 "heat content to the pouring temperature ÷ efficiency + standing loss × melting "
                 "time. Told only by four loads or more in which time and charge are not in step, "
                 "and if its standard error is no more than half of it."),
    .source = "measured",
};

static const FigureSpec spec_loss_error = {
    .id = "learn.standing_loss_error",
    .label = N_("Standard error of the standing loss"),
    .kind = QUANTITY_POWER,
    .method = N_("Standard error from the covariance of that fit."),
    .source = "measured",
};

gboolean
learn_fits_field(const char *path, double value)
{
    const Field *field = field_find(path);
    return field && isfinite(value) && !(value < field->min) && !(value > field->max);
}

static Figure *
add_measured(FigureList *figures, const FigureSpec *spec, double value)
{
    if (isnan(value))
        return figure_add_unknown(figures, spec, "log");
    return figure_add(figures, spec, value, "log", "furnace.power", "furnace.standing_loss",
                      "shop.ambient", "job.pouring_temperature", NULL);
}

static void
note_left_out(Figure *figure, guint n)
{
    if (n > 0)
        figure_set_note(figure,
                        ngettext("%u load is left out: it took in more heat than the furnace gave",
                                 "%u loads are left out: they took in more heat than the furnace "
                                 "gave",
                                 n),
                        n);
}

static void
teach(Learned *learned, const LearnFit *fit, gboolean both)
{
    g_autofree char *source = g_strdup_printf(
        ngettext("measured in this shop: %u load", "measured in this shop: %u loads", fit->used),
        fit->used);
    if (!learn_fits_field("furnace.efficiency", fit->efficiency))
        return;
    if (both && !learn_fits_field("furnace.standing_loss", fit->standing_loss))
        return;
    learned_set(learned, "furnace.efficiency", fit->efficiency, source);
    if (both)
        learned_set(learned, "furnace.standing_loss", fit->standing_loss, source);
}

void
learn_add_furnace(const Inputs *inputs, const LearnTally *tally, Learned *learned,
                  FigureList *figures)
{
    const LearnCycle *cycles = (const LearnCycle *)tally->cycles->data;
    guint n = tally->cycles->len;
    LearnFit one, both = {.standing_loss = NAN, .standing_loss_error = NAN};
    gboolean told = learn_fit_both(cycles, n, inputs_number(inputs, "furnace.power"), &both);
    gboolean free_loss = inputs_is_blank(inputs, "furnace.standing_loss");
    learn_fit_efficiency(cycles, n, inputs_number(inputs, "furnace.standing_loss"), &one);
    gboolean pair = told && free_loss;
    const LearnFit *fit = pair ? &both : &one;
    figure_add(figures, &spec_loads, n, "log", "job.metal", "job.furnace", NULL);
    Figure *figure = add_measured(figures, pair ? &spec_efficiency_both : &spec_efficiency,
                                  fit->efficiency);
    note_left_out(figure, fit->left_out);
    add_measured(figures, pair ? &spec_error_both : &spec_error, fit->efficiency_error);
    figure = add_measured(figures, &spec_loss, both.standing_loss);
    if (told && !free_loss)
        figure_set_note(figure, _("Not used: a standing loss of your own is typed in, and the "
                                  "efficiency above goes with that."));
    else if (!told && n > 0)
        figure_set_note(figure, _("These loads cannot tell the standing loss from the efficiency: "
                                  "note the energy of loads of different size, some left to stand; "
                                  "until then the loss given is kept."));
    add_measured(figures, &spec_loss_error, both.standing_loss_error);
    teach(learned, fit, pair);
}
