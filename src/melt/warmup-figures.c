// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the warm-up, once a session, with the crucible empty.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "melt/parts.h"
#include "melt/warmup.h"

static const FigureSpec spec_holds = {
    .id = "melt.warmup_holds",
    .label = N_("Holds in the warm-up"),
    .kind = QUANTITY_COUNT,
    .method = N_("holds of the crucible kind between shop and pouring temperature"),
    .source = "common-practice",
};

static const FigureSpec spec_tempers = {
    .id = "melt.warmup_tempering",
    .label = N_("Further holds, as the crucible is new"),
    .kind = QUANTITY_COUNT,
    .method = N_("one, if the crucible has had no firing and its kind wants it"),
    .source = "new-graphite-crucible",
};

static const FigureSpec spec_held = {
    .id = "melt.warmup_held",
    .label = N_("Held in the warm-up"),
    .kind = QUANTITY_TIME,
    .formula = "melt.warmup_holds * cruciblekind.warmup_hold + melt.warmup_tempering * "
               "cruciblekind.temper_hold",
    .source = "definition",
};

static const FigureSpec spec_time = {
    .id = "melt.warmup_time",
    .label = N_("Warm-up"),
    .kind = QUANTITY_TIME,
    .formula = "max(0, job.pouring_temperature - shop.ambient) / furnace.warm_up_rate + "
               "melt.warmup_held",
    .source = "definition",
};

static const FigureSpec spec_energy = {
    .id = "melt.warmup_energy",
    .label = N_("Energy from the wall, warm-up"),
    .kind = QUANTITY_ENERGY,
    .formula = "furnace.power * (melt.warmup_time - melt.warmup_held) + furnace.standing_loss * "
               "melt.warmup_held",
    .source = "common-practice",
};

static const FigureSpec spec_steps = {
    .id = "melt.warmup_steps",
    .label = N_("Warm-up steps"),
    .kind = QUANTITY_TEXT,
    .method = N_("the holds of the crucible kind, told as what to set on the controller"),
    .source = "common-practice",
};

static void
add_steps(MeltCall *call, const MeltWarmup *warmup)
{
    UnitSet units = inputs_units(call->inputs);
    MeltResult *result = call->result;
    result->warmup = melt_warmup_steps(warmup, &units, &result->n_warmup);
    if (!result->warmup) {
        figure_add_unknown(call->figures, &spec_steps, "melt.warmup_time");
        return;
    }
    g_autoptr(GString) text = g_string_new(NULL);
    for (guint i = 0; i < result->n_warmup; i++)
        g_string_append_printf(text, "%s%s", i ? "; " : "", result->warmup[i].prompt);
    figure_add_text(call->figures, &spec_steps, text->str, "melt.warmup_time", NULL);
}

// Time held, s.
static double
add_holds(MeltCall *call, const MeltWarmup *warmup)
{
    guint holds = melt_warmup_holds(warmup), tempers = melt_warmup_tempers(warmup);
    double held = holds * warmup->hold;
    figure_add(call->figures, &spec_holds, holds, "cruciblekind.warmup_1", "cruciblekind.warmup_2",
               "shop.ambient", "job.pouring_temperature", NULL);
    figure_add(call->figures, &spec_tempers, tempers, "crucible.firings", "cruciblekind.temper_at",
               "shop.ambient", "job.pouring_temperature", NULL);
    held += tempers * inputs_number(call->inputs, "cruciblekind.temper_hold");
    figure_add(call->figures, &spec_held, held, "melt.warmup_holds", "cruciblekind.warmup_hold",
               "melt.warmup_tempering", "cruciblekind.temper_hold", NULL);
    return held;
}

void
melt_add_warmup(MeltCall *call)
{
    const Inputs *in = call->inputs;
    MeltWarmup warmup = {
        .ambient = inputs_number(in, "shop.ambient"),
        .hold_at = {inputs_number(in, "cruciblekind.warmup_1"),
                    inputs_number(in, "cruciblekind.warmup_2")},
        .hold = inputs_number(in, "cruciblekind.warmup_hold"),
        .setpoint = inputs_number(in, "job.pouring_temperature"),
        .rate = inputs_number(in, "furnace.warm_up_rate"),
        .temper_at = inputs_number(in, "cruciblekind.temper_at"),
    };
    // New is what somebody says is new: no firings noted anywhere may as well be no notes. A kind
    // that says nothing of tempering is warmed up new as it is later.
    gboolean blank = inputs_is_blank(in, "crucible.firings");
    gboolean unfired = inputs_number(in, "crucible.firings") < 1;
    if (unfired && !blank && isfinite(warmup.temper_at))
        warmup.temper = inputs_number(in, "cruciblekind.temper_hold");
    double held = add_holds(call, &warmup);
    call->result->warmup_time = melt_warmup_time(&warmup);
    Figure *figure = figure_add(call->figures, &spec_time, call->result->warmup_time,
                                "job.pouring_temperature", "shop.ambient", "furnace.warm_up_rate",
                                "melt.warmup_held", NULL);
    if (unfired && blank)
        figure_set_note(figure,
                        _("No firing is noted. If this crucible is new, put in 0: it is held "
                          "longer then, to be tempered."));
    else if (unfired)
        figure_set_note(figure,
                        _("First firing of this crucible, so it is held longer; later "
                          "sessions start sooner. Warm it up empty; better still, let it "
                          "cool slowly in the closed furnace then, and charge it on another "
                          "day."));
    call->result->warmup_energy = inputs_number(in, "furnace.power") *
                                      (call->result->warmup_time - held) +
                                  inputs_number(in, "furnace.standing_loss") * held;
    figure = figure_add(call->figures, &spec_energy, call->result->warmup_energy, "furnace.power",
                        "melt.warmup_time", "melt.warmup_held", "furnace.standing_loss", NULL);
    figure_set_note(figure, _("An upper bound: full power while it climbs, and while it holds the "
                              "loss of the fully hot furnace."));
    add_steps(call, &warmup);
}
