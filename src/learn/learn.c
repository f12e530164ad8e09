// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "learn": counts good castings and takes from the log what a shop knows better than any
// table: how well its furnace heats, how long its people ram. A learned value fills a field only
// while the person leaves it blank, and only if the field's own range allows it.
#include "learn/learn.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "learn/statistics.h"
#include "learn/tally.h"
#include "metal/enthalpy.h"

const char *const learn_reads[] = {"log",
                                   "job.furnace",
                                   "job.metal",
                                   "job.pouring_temperature",
                                   "shop.ambient",
                                   "furnace.power",
                                   "furnace.standing_loss",
                                   "metal.*",
                                   NULL};

static const FigureSpec spec_sessions = {
    .id = "learn.sessions",
    .label = N_("Sessions poured"),
    .kind = QUANTITY_COUNT,
    .method = N_("Sessions of the log in which castings of this job were judged."),
    .source = "measured",
};

static const FigureSpec spec_poured = {
    .id = "learn.poured",
    .label = N_("Castings judged"),
    .kind = QUANTITY_COUNT,
    .method = N_("Castings of this job in the log that are marked good or scrapped."),
    .source = "measured",
};

static const FigureSpec spec_good = {
    .id = "learn.good",
    .label = N_("Good castings"),
    .kind = QUANTITY_COUNT,
    .method = N_("Castings of this job in the log that are marked good."),
    .source = "measured",
};

static const FigureSpec spec_loads = {
    .id = "learn.loads",
    .label = N_("Loads timed"),
    .kind = QUANTITY_COUNT,
    .method = N_("Loads of this metal from this furnace with charge and melting time noted."),
    .source = "measured",
};

static const FigureSpec spec_efficiency = {
    .id = "learn.furnace_efficiency",
    .label = N_("Furnace efficiency, measured"),
    .kind = QUANTITY_RATIO,
    .method = N_("Mean over the timed loads of charge × heat content to the pouring temperature "
                 "÷ (melting time × (furnace power − standing loss))."),
    .source = "measured",
};

static const FigureSpec spec_flasks = {
    .id = "learn.flasks",
    .label = N_("Flasks timed"),
    .kind = QUANTITY_COUNT,
    .method = N_("Flasks in the log with their ramming time noted."),
    .source = "measured",
};

static const FigureSpec spec_ram_time = {
    .id = "learn.ram_time",
    .label = N_("Ramming a flask, measured"),
    .kind = QUANTITY_TIME,
    .method = N_("Median of the ramming times in the log."),
    .source = "measured",
};

// One spec a cause, in the order of book/log-members.h.
#define SCRAP(id_, label_)                                                                         \
    {                                                                                              \
        .id = "learn.scrap_" id_, .label = label_, .kind = QUANTITY_COUNT, .source = "measured",   \
        .method = N_("Castings of this job in the log that are marked scrapped for this cause.")   \
    }

static const FigureSpec spec_scrap[] = {
    SCRAP("misrun", N_("Scrap: misrun")),     SCRAP("shrinkage", N_("Scrap: shrinkage")),
    SCRAP("gas", N_("Scrap: gas")),           SCRAP("sand", N_("Scrap: sand inclusion")),
    SCRAP("mismatch", N_("Scrap: mismatch")), SCRAP("short_pour", N_("Scrap: short pour")),
    SCRAP("drop", N_("Scrap: drop")),         SCRAP("other", N_("Scrap: other")),
};

static const FigureSpec spec_unnamed = {
    .id = "learn.scrap_unnamed",
    .label = N_("Scrap without a cause"),
    .kind = QUANTITY_COUNT,
    .method = N_("Castings of this job in the log that are marked scrapped and have no cause."),
    .source = "measured",
};

static const FigureSpec spec_weighed = {
    .id = "learn.weighed",
    .label = N_("Castings weighed"),
    .kind = QUANTITY_COUNT,
    .method = N_("Good castings of this job in the log with their mass noted."),
    .source = "measured",
};

static const FigureSpec spec_mass = {
    .id = "learn.casting_mass",
    .label = N_("Mass of a casting, weighed"),
    .kind = QUANTITY_MASS,
    .method = N_("Mean mass of the good castings of this job that were weighed."),
    .source = "measured",
};

static void
clear_result(gpointer data)
{
    learned_unref(((LearnResult *)data)->learned);
}

LearnResult *
learn_result_ref(const LearnResult *result)
{
    g_return_val_if_fail(result != NULL, NULL);
    return g_atomic_rc_box_acquire((LearnResult *)result);
}

void
learn_result_unref(const LearnResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((LearnResult *)result, clear_result);
}

static LearnFurnace
read_furnace(const Inputs *inputs)
{
    const TableRow *metal = inputs_row(inputs, "metal");
    double hot = inputs_number(inputs, "job.pouring_temperature");
    double cold = inputs_number(inputs, "shop.ambient");
    return (LearnFurnace){
        .furnace = inputs_text(inputs, "job.furnace"),
        .metal = inputs_text(inputs, "job.metal"),
        .heat_content = metal ? enthalpy_between(metal, cold, hot) : NAN,
        .power = inputs_number(inputs, "furnace.power"),
        .standing_loss = inputs_number(inputs, "furnace.standing_loss"),
    };
}

static gboolean
fits_field(const char *path, double value)
{
    const Field *field = field_find(path);
    return field && isfinite(value) && !(value < field->min) && !(value > field->max);
}

static void
learn_efficiencies(const LearnTally *tally, Learned *learned, FigureList *figures)
{
    guint n = tally->efficiencies->len;
    double share = learn_mean((double *)tally->efficiencies->data, n);
    Figure *figure = NULL;
    figure_add(figures, &spec_loads, n, "log", "job.metal", "job.furnace", NULL);
    if (n == 0)
        figure = figure_add_unknown(figures, &spec_efficiency, "log");
    else
        figure = figure_add(figures, &spec_efficiency, share, "log", "furnace.power",
                            "furnace.standing_loss", "shop.ambient", "job.pouring_temperature",
                            NULL);
    if (tally->impossible > 0)
        figure_set_note(figure,
                        ngettext("%u load is left out: it took in more heat than the furnace gave",
                                 "%u loads are left out: they took in more heat than the furnace "
                                 "gave",
                                 tally->impossible),
                        tally->impossible);
    if (!fits_field("furnace.efficiency", share))
        return;
    g_autofree char *source = g_strdup_printf(
        ngettext("measured in this shop: %u load", "measured in this shop: %u loads", n), n);
    learned_set(learned, "furnace.efficiency", share, source);
}

static void
learn_ram_times(const LearnTally *tally, Learned *learned, FigureList *figures)
{
    guint n = tally->ram_times->len;
    double time = learn_median((double *)tally->ram_times->data, n);
    figure_add(figures, &spec_flasks, n, "log", NULL);
    if (n == 0)
        figure_add_unknown(figures, &spec_ram_time, "log");
    else
        figure_add(figures, &spec_ram_time, time, "log", NULL);
    if (!fits_field("people.ram_time", time))
        return;
    g_autofree char *source = g_strdup_printf(
        ngettext("measured in this shop: %u flask", "measured in this shop: %u flasks", n), n);
    learned_set(learned, "people.ram_time", time, source);
}

static void
learn_causes(const LearnTally *tally, FigureList *figures)
{
    for (guint i = 0; i < G_N_ELEMENTS(spec_scrap); i++)
        figure_add(figures, &spec_scrap[i], tally->scrap[i], "log", NULL);
    figure_add(figures, &spec_unnamed, tally->unnamed, "log", NULL);
}

static void
learn_masses(const LearnTally *tally, FigureList *figures)
{
    guint n = tally->masses->len;
    figure_add(figures, &spec_weighed, n, "log", NULL);
    if (n == 0)
        figure_add_unknown(figures, &spec_mass, "log");
    else
        figure_add(figures, &spec_mass, learn_mean((double *)tally->masses->data, n), "log", NULL);
}

LearnResult *
learn_stage(const Inputs *inputs, const char *job_id, FigureList *figures, GError **error)
{
    g_return_val_if_fail(inputs != NULL && figures != NULL, NULL);
    UnitSet units = inputs_units(inputs);
    LearnFurnace furnace = read_furnace(inputs);
    g_autoptr(LearnTally) tally = learn_tally_new(inputs_log(inputs), job_id, &furnace, &units);
    inputs_give(inputs, figures);
    LearnResult *result = g_atomic_rc_box_new0(LearnResult);
    result->learned = learned_new();
    result->sessions = tally->sessions;
    result->poured = tally->poured;
    result->good = tally->good;
    figure_add(figures, &spec_sessions, tally->sessions, "log", NULL);
    figure_add(figures, &spec_poured, tally->poured, "log", NULL);
    figure_add(figures, &spec_good, tally->good, "log", NULL);
    learn_causes(tally, figures);
    learn_masses(tally, figures);
    learn_efficiencies(tally, result->learned, figures);
    learn_ram_times(tally, result->learned, figures);
    return result;
}
