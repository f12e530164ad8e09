// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "cost": what one good part costs, beside cutting it from bar and buying it in. Every number
// is its formula over the figures before it; the whole batch is borne by the good parts wanted.
// The heads are those foundries count: melt loss, energy, labour, consumables.
#include "session/cost.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "session/add.h"

const char *const cost_reads[] = {"job.quantity",
                                  "job.metal_price",
                                  "job.returns_value",
                                  "job.bar_price",
                                  "job.bought_in",
                                  "crucible.price",
                                  "cruciblekind.firings_min",
                                  "cruciblekind.firings_max",
                                  "rates.energy",
                                  "rates.machine",
                                  "people.rate",
                                  "people.count",
                                  "people.fettle_time",
                                  "people.shake_out_time",
                                  "sand.loss",
                                  "sand.price",
                                  "furnace.standing_loss",
                                  "machine.power",
                                  "machine.handling",
                                  "machine.cutting_share",
                                  "metal.density_solid",
                                  "metal.cutting_energy",
                                  NULL};

// In the order they are computed.
static const FigureSpec casting_specs[] = {
    {.id = "cost.poured_mass",
     .label = N_("Metal poured in the batch"),
     .kind = QUANTITY_MASS,
     .formula = "run.batch_flasks * mould.metal_mass",
     .source = "definition"},
    {.id = "cost.charged_mass",
     .label = N_("Metal charged for the batch"),
     .kind = QUANTITY_MASS,
     .formula = "cost.poured_mass / (1 - melt.loss)",
     .source = "definition"},
    {.id = "cost.returns_mass",
     .label = N_("Returns to remelt"),
     .kind = QUANTITY_MASS,
     .formula = "max(0, cost.poured_mass - job.quantity * casting.mass)",
     .source = "definition"},
    {.id = "cost.metal_used",
     .label = N_("Metal used up by the batch"),
     .kind = QUANTITY_MASS,
     .formula = "cost.charged_mass - cost.returns_mass",
     .source = "definition"},
    {.id = "cost.metal",
     .label = N_("Metal, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "(cost.charged_mass - cost.returns_mass * job.returns_value) * job.metal_price / "
                "job.quantity",
     .source = "definition"},
    {.id = "cost.batch_energy",
     .label = N_("Energy for the batch"),
     .kind = QUANTITY_ENERGY,
     .formula = "run.batch_flasks / melt.flasks_per_load * melt.energy + run.sessions * "
                "(melt.warmup_energy + furnace.standing_loss * run.metal_held)",
     .source = "definition"},
    {.id = "cost.energy",
     .label = N_("Energy, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "cost.batch_energy * rates.energy / job.quantity",
     .source = "definition"},
    {.id = "cost.crucible",
     .label = N_("Crucible, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "crucible.price * run.crucible_firings / ((cruciblekind.firings_min + "
                "cruciblekind.firings_max) / 2) / job.quantity",
     .source = "common-practice"},
    {.id = "cost.sand",
     .label = N_("Sand, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "run.batch_flasks * mould.sand_mass * sand.loss * sand.price / job.quantity",
     .source = "definition"},
    {.id = "cost.session_hours",
     .label = N_("Hours in sessions"),
     .kind = QUANTITY_TIME,
     .formula = "people.count * run.batch_time + run.sessions * run.left_to_cool * "
                "people.shake_out_time",
     .source = "definition"},
    {.id = "cost.labour_time",
     .label = N_("Hours of work for the batch"),
     .kind = QUANTITY_TIME,
     .formula = "cost.session_hours + run.castings_to_start * people.fettle_time + job.quantity * "
                "stock.machining_time",
     .source = "definition"},
    {.id = "cost.labour",
     .label = N_("Labour, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "cost.labour_time * people.rate / job.quantity",
     .source = "definition"},
    {.id = "cost.machine",
     .label = N_("Machine, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "stock.machining_time * rates.machine",
     .source = "definition"},
    {.id = "cost.per_good_part",
     .label = N_("Cost of a good part, cast"),
     .kind = QUANTITY_MONEY,
     .formula = "cost.metal + cost.energy + cost.crucible + cost.sand + cost.labour + "
                "cost.machine",
     .source = "definition"},
    {.id = "cost.batch",
     .label = N_("Cost of the batch"),
     .kind = QUANTITY_MONEY,
     .formula = "cost.per_good_part * job.quantity",
     .source = "definition"},
    // Of the log, but only here is the plan's mass known.
    {.id = "learn.mass_ratio",
     .label = N_("Weighed mass over planned"),
     .kind = QUANTITY_RATIO,
     .formula = "learn.casting_mass / casting.mass",
     .source = "measured"},
};

// Of flasks that another job shares this job bears its part, by the mass of the castings.
static const FigureSpec shared_specs[] = {
    {.id = "cost.poured_mass",
     .label = N_("Metal poured in the batch"),
     .kind = QUANTITY_MASS,
     .formula = "run.batch_flasks * mould.metal_mass * mould.host_share",
     .source = "definition"},
    {.id = "cost.batch_energy",
     .label = N_("Energy for the batch"),
     .kind = QUANTITY_ENERGY,
     .formula = "mould.host_share * (run.batch_flasks / melt.flasks_per_load * melt.energy + "
                "run.sessions * (melt.warmup_energy + furnace.standing_loss * run.metal_held))",
     .source = "definition"},
    {.id = "cost.crucible",
     .label = N_("Crucible, a part"),
     .kind = QUANTITY_MONEY,
     .formula =
         "mould.host_share * crucible.price * run.crucible_firings / ((cruciblekind.firings_min + "
         "cruciblekind.firings_max) / 2) / job.quantity",
     .source = "common-practice"},
    {.id = "cost.sand",
     .label = N_("Sand, a part"),
     .kind = QUANTITY_MONEY,
     .formula = "mould.host_share * run.batch_flasks * mould.sand_mass * sand.loss * sand.price / "
                "job.quantity",
     .source = "definition"},
    {.id = "cost.session_hours",
     .label = N_("Hours in sessions"),
     .kind = QUANTITY_TIME,
     .formula = "mould.host_share * (people.count * run.batch_time + run.sessions * "
                "run.left_to_cool * people.shake_out_time)",
     .source = "definition"},
};

// A new crucible is tempered once. Held, the furnace takes no more than its standing loss.
static const FigureSpec spec_energy_tempered = {
    .id = "cost.batch_energy",
    .label = N_("Energy for the batch"),
    .kind = QUANTITY_ENERGY,
    .formula = "run.batch_flasks / melt.flasks_per_load * melt.energy + run.sessions * "
               "(melt.warmup_energy + furnace.standing_loss * run.metal_held) - (run.sessions - 1) "
               "* furnace.standing_loss * (melt.warmup_time - run.later_warmup)",
    .source = "definition"};

static const FigureSpec spec_energy_shared_tempered = {
    .id = "cost.batch_energy",
    .label = N_("Energy for the batch"),
    .kind = QUANTITY_ENERGY,
    .formula = "mould.host_share * (run.batch_flasks / melt.flasks_per_load * melt.energy + "
               "run.sessions * (melt.warmup_energy + furnace.standing_loss * run.metal_held) - "
               "(run.sessions - 1) * furnace.standing_loss * (melt.warmup_time - "
               "run.later_warmup))",
    .source = "definition"};

static const FigureSpec *
spec_for(const FigureSpec *spec, const FigureList *figures)
{
    gboolean shared = !isnan(figure_list_value(figures, "mould.host_share"));
    if (figure_list_find(figures, "run.later_warmup") &&
        g_str_equal(spec->id, spec_energy_tempered.id))
        return shared ? &spec_energy_shared_tempered : &spec_energy_tempered;
    for (guint i = 0; shared && i < G_N_ELEMENTS(shared_specs); i++)
        if (strcmp(shared_specs[i].id, spec->id) == 0)
            return &shared_specs[i];
    return spec;
}

static const FigureSpec spec_bar_price_own = {.id = "cost.bar_price",
                                              .label = N_("Price of bar"),
                                              .kind = QUANTITY_MONEY_PER_MASS,
                                              .formula = "job.bar_price",
                                              .source = "user"};
static const FigureSpec spec_bar_price_metal = {.id = "cost.bar_price",
                                                .label = N_("Price of bar"),
                                                .kind = QUANTITY_MONEY_PER_MASS,
                                                .formula = "job.metal_price",
                                                .source = "starting-value"};

static const FigureSpec bar_specs[] = {
    {.id = "cost.bar_volume",
     .label = N_("Bar the part is cut from"),
     .kind = QUANTITY_VOLUME,
     .formula = "part.size.x * part.size.y * part.size.z",
     .source = "geometry"},
    {.id = "cost.bar_mass",
     .label = N_("Mass of the bar"),
     .kind = QUANTITY_MASS,
     .formula = "cost.bar_volume * metal.density_solid",
     .source = "definition"},
    {.id = "cost.bar_chips",
     .label = N_("Chips from the bar"),
     .kind = QUANTITY_VOLUME,
     .formula = "cost.bar_volume - part.volume",
     .source = "geometry"},
    {.id = "cost.removal_rate",
     .label = N_("Rate of cutting, with all pauses"),
     .kind = QUANTITY_REMOVAL_RATE,
     .formula = "machine.power * machine.cutting_share / metal.cutting_energy",
     .source = "definition"},
    {.id = "cost.bar_time",
     .label = N_("Time to cut it from bar"),
     .kind = QUANTITY_TIME,
     .formula = "cost.bar_chips / cost.removal_rate + machine.handling",
     .source = "definition"},
    {.id = "cost.from_bar",
     .label = N_("Cost of a part cut from bar"),
     .kind = QUANTITY_MONEY,
     .formula = "cost.bar_mass * cost.bar_price + cost.bar_time * (people.rate + rates.machine)",
     .source = "definition"},
    {.id = "cost.saved_over_bar",
     .label = N_("Saved on a part by casting it"),
     .kind = QUANTITY_MONEY,
     .formula = "cost.from_bar - cost.per_good_part",
     .source = "definition"},
    {.id = "cost.bought_in",
     .label = N_("Cost of a part bought in"),
     .kind = QUANTITY_MONEY,
     .formula = "job.bought_in",
     .source = "user"},
};

static void
add_bar_price(const Inputs *inputs, FigureList *figures)
{
    if (!isnan(inputs_number(inputs, "job.bar_price"))) {
        session_add_formula(figures, &spec_bar_price_own);
        return;
    }
    Figure *figure = session_add_formula(figures, &spec_bar_price_metal);
    figure_set_note(figure, "%s", _("No bar price given: the metal's price is taken."));
}

gboolean
cost_stage(const Inputs *inputs, const PartResult *part, const MouldLayout *layout,
           const MeltResult *melt, const StockResult *stock, const SessionResult *run,
           FigureList *figures, Progress *progress, GError **error)
{
    g_return_val_if_fail(inputs && figures, FALSE);
    if (!progress_check(progress, error))
        return FALSE;
    inputs_give(inputs, figures);
    for (guint i = 0; i < G_N_ELEMENTS(casting_specs); i++)
        session_add_formula(figures, spec_for(&casting_specs[i], figures));
    add_bar_price(inputs, figures);
    for (guint i = 0; i < G_N_ELEMENTS(bar_specs); i++)
        session_add_formula(figures, &bar_specs[i]);
    return TRUE;
}
