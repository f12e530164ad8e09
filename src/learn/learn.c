// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "learn": counts good castings and takes from the log what a shop knows better than any
// table: how well its furnace heats, how long its people ram. A learned value fills a field only
// while the person leaves it blank, and only if the field's own range allows it.
#include "learn/learn.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "learn/crucible.h"
#include "learn/furnace-figures.h"
#include "learn/statistics.h"
#include "metal/enthalpy.h"

const char *const learn_reads[] = {"log",
                                   "job.furnace",
                                   "job.metal",
                                   "job.crucible",
                                   "crucible.counts",
                                   "tables",
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

static const FigureSpec spec_starts = {
    .id = "learn.crucible_starts",
    .label = N_("Cold starts of the crucible"),
    .kind = QUANTITY_COUNT,
    .method = N_("Sessions of the log in which this crucible was used."),
    .source = "measured",
};

static const FigureSpec spec_melts = {
    .id = "learn.crucible_melts",
    .label = N_("Melts of the crucible"),
    .kind = QUANTITY_COUNT,
    .method = N_("Loads of the log that were melted in this crucible."),
    .source = "measured",
};

static const FigureSpec spec_families = {
    .id = "learn.crucible_families",
    .label = N_("Metal families melted in the crucible"),
    .kind = QUANTITY_TEXT,
    .method = N_("Families of the metals of those loads; the first binds the crucible."),
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
    };
}

static void
learn_crucible(const Inputs *inputs, Learned *learned, FigureList *figures)
{
    LearnCrucible found = learn_crucible_read(
        inputs_log(inputs), inputs_text(inputs, "job.crucible"), inputs_tables(inputs));
    gboolean by_melt = g_strcmp0(inputs_text(inputs, "crucible.counts"), "melt") == 0;
    guint firings = by_melt ? found.melts : found.starts;
    figure_add(figures, &spec_starts, found.starts, "log", "job.crucible", NULL);
    figure_add(figures, &spec_melts, found.melts, "log", "job.crucible", NULL);
    if (*found.families)
        figure_add_text(figures, &spec_families, found.families, "log", "job.crucible", NULL);
    else
        figure_add_unknown(figures, &spec_families, "log");
    if (found.starts > 0) {
        g_autofree char *source = g_strdup_printf(ngettext("measured in this shop: %u session",
                                                           "measured in this shop: %u sessions",
                                                           found.starts),
                                                  found.starts);
        learned_set(learned, "crucible.firings", firings, source);
    }
    learn_crucible_clear(&found);
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
    if (!learn_fits_field("people.ram_time", time))
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
    double sum = 0;
    for (guint i = 0; i < n; i++)
        sum += g_array_index(tally->masses, double, i);
    figure_add(figures, &spec_weighed, n, "log", NULL);
    if (n == 0)
        figure_add_unknown(figures, &spec_mass, "log");
    else
        figure_add(figures, &spec_mass, sum / n, "log", NULL);
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
    learn_add_furnace(inputs, tally, result->learned, figures);
    learn_crucible(inputs, result->learned, figures);
    learn_ram_times(tally, result->learned, figures);
    return result;
}
