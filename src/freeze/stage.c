// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "freeze": the quick answer by Chvorinov's rule and the slow one by heat flow, side by side.
//
// The rule and the heat flow count the same heat: the mass of the cooled casting (solid density,
// since a fed casting is filled up to it), its latent heat and its superheat. The rule holds the
// mould's face midway between liquidus and solidus.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/field.h"
#include "feed/constant.h"
#include "feed/distance.h"
#include "feed/need.h"
#include "feed/riser.h"
#include "freeze/domain.h"
#include "freeze/freeze.h"
#include "freeze/heat.h"
#include "freeze/hotspot.h"
#include "freeze/shakeout.h"

// One or two seconds' work on a small machine.
// Cells of the heaviest section's modulus that are enough.
#define FINE_ENOUGH 6.0
// A place counts as a hot spot when it stays liquid alone for this share of the freezing time.
#define HOT_SPOT_SHARE 0.05
// A place has to be fed when its local modulus is this share of the highest.
#define HEAVY 0.9

const char *const freeze_reads[] = {"job.pouring_temperature",
                                    "job.feed_distance",
                                    "job.shake_out_temperature",
                                    "job.heat_cells",
                                    "shop.ambient",
                                    "metal.solidus",
                                    "metal.liquidus",
                                    "metal.density_solid",
                                    "metal.cp_solid",
                                    "metal.cp_liquid",
                                    "metal.latent_heat",
                                    "metal.conductivity_solid",
                                    "metal.conductivity_liquid",
                                    "sandkind.conductivity",
                                    "sandkind.density",
                                    "sandkind.specific_heat",
                                    NULL};

static const char *const from_earlier[] = {
    "feed.section_modulus", "feed.riser_diameter",   "feed.riser_count",
    "feed.riser_volume",    "feed.evenness",         "casting.volume",
    "casting.modulus",      "feed.hot_spot_modulus", NULL};

static const FigureSpec spec_constant = {
    "feed.chvorinov",
    N_("Chvorinov's constant"),
    QUANTITY_CHVORINOV,
    "pi / 4 * (metal.density_solid * (metal.latent_heat + metal.cp_liquid * "
    "(job.pouring_temperature - metal.liquidus)) / ((metal.solidus + metal.liquidus) / 2 - "
    "shop.ambient))^2 / (sandkind.conductivity * sandkind.density * sandkind.specific_heat)",
    NULL,
    "adams-taylor-1957+poirier-geiger"};
static const FigureSpec spec_casting = {"feed.casting_time",
                                        N_("Casting solid after"),
                                        QUANTITY_TIME,
                                        "feed.chvorinov * feed.section_modulus^2",
                                        NULL,
                                        "chvorinov-1940"};
static const FigureSpec spec_riser = {"feed.riser_time",
                                      N_("Riser solid after"),
                                      QUANTITY_TIME,
                                      "feed.chvorinov * (feed.riser_diameter / 6)^2",
                                      NULL,
                                      "chvorinov-1940",
                                      FIGURE_AT_LEAST,
                                      0.1};
// A riser that is open or stands on the casting.
static const FigureSpec spec_riser_drawn = {"feed.riser_time",
                                            N_("Riser solid after"),
                                            QUANTITY_TIME,
                                            "feed.chvorinov * feed.riser_drawn_modulus^2",
                                            NULL,
                                            "chvorinov-1940",
                                            FIGURE_AT_LEAST,
                                            0.1};
static const FigureSpec spec_casting_chilled = {"feed.casting_time",
                                                N_("Casting solid after"),
                                                QUANTITY_TIME,
                                                "feed.chvorinov * feed.chilled_modulus^2",
                                                NULL,
                                                "chvorinov-1940"};
static const FigureSpec spec_distance = {
    "feed.distance",
    N_("Feed distance"),
    QUANTITY_LENGTH,
    NULL,
    N_("Shortest way through metal from where the riser joins the casting to the farthest place "
       "at least nine tenths as heavy as the heaviest, on the cells of the modulus map; steps to "
       "neighbours make it up to 8 % too long."),
    "geometry",
    FIGURE_AT_MOST,
    0.1,
    TRUE};
static const FigureSpec spec_distance_limit = {"feed.distance_limit",
                                               N_("Feed distance of the riser"),
                                               QUANTITY_LENGTH,
                                               "job.feed_distance * 2 * casting.modulus",
                                               NULL,
                                               "common-practice"};
static const FigureSpec spec_simulated = {
    "feed.simulated_time",
    N_("Casting solid after, by heat flow"),
    QUANTITY_TIME,
    NULL,
    N_("Transient heat flow in casting, riser and sand by the enthalpy method on cubic cells, from "
       "a full mould at pouring temperature, sand without end beyond the box: the last cell of the "
       "casting to reach the solidus. No resistance between metal and sand, no flow of liquid."),
    "carslaw-jaeger"};
static const FigureSpec spec_simulated_riser = {
    "feed.simulated_riser_time",
    N_("Riser solid after, by heat flow"),
    QUANTITY_TIME,
    NULL,
    N_("The last cell of riser and neck to reach the solidus, from the same heat flow."),
    "carslaw-jaeger",
    FIGURE_AT_LEAST,
    0.1};
static const FigureSpec spec_spots = {
    "feed.hot_spots",
    N_("Hot spots in the casting"),
    QUANTITY_COUNT,
    NULL,
    N_("Places of the casting that stay liquid, cut off from any that freezes later, for more than "
       "a twentieth of the freezing time. Without a riser the last place of all counts too."),
    "campbell-castings",
    FIGURE_AT_MOST,
    0,
    TRUE};
static const FigureSpec spec_niyama = {
    "feed.niyama_min",
    N_("Least Niyama value"),
    QUANTITY_NIYAMA,
    NULL,
    N_("Temperature gradient over the root of the cooling rate near the end of freezing, least of "
       "all cells inside the casting. It ranks places and ways of feeding of one casting; no limit "
       "holds for all alloys."),
    "niyama-1982"};
static const FigureSpec spec_shakeout = {
    "feed.shakeout_time",
    N_("Shake-out after"),
    QUANTITY_TIME,
    NULL,
    N_("Heat flow in one dimension from a plate with the modulus of the heaviest section into "
       "thick "
       "sand, until it is all below the shake-out temperature. A round casting is quicker, a flask "
       "whose sand is warmed through is slower."),
    "carslaw-jaeger"};

static void
clear_result(gpointer data)
{
    FreezeResult *result = data;
    solid_grid_unref(result->solid_times);
}

FreezeResult *
freeze_result_ref(const FreezeResult *result)
{
    return g_atomic_rc_box_acquire((gpointer)result);
}

void
freeze_result_unref(const FreezeResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((gpointer)result, clear_result);
}

static FeedCooling
cooling_of(const Inputs *inputs)
{
    double solidus = inputs_number(inputs, "metal.solidus");
    double liquidus = inputs_number(inputs, "metal.liquidus");
    double superheat = inputs_number(inputs, "job.pouring_temperature") - liquidus;
    return (FeedCooling){.density = inputs_number(inputs, "metal.density_solid"),
                         .heat = inputs_number(inputs, "metal.latent_heat") +
                                 inputs_number(inputs, "metal.cp_liquid") * superheat,
                         .face = (solidus + liquidus) / 2,
                         .ambient = inputs_number(inputs, "shop.ambient"),
                         .conductivity = inputs_number(inputs, "sandkind.conductivity"),
                         .sand_density = inputs_number(inputs, "sandkind.density"),
                         .sand_specific = inputs_number(inputs, "sandkind.specific_heat")};
}

// A riser has to outlast what it feeds.
static void
limit_riser(Figure *figure, double casting, const char *casting_id)
{
    figure_limit(figure, casting, casting_id);
    g_autofree char *margin = field_words("job.riser_margin");
    if (figure->state == FIGURE_FAILS)
        figure_set_note(figure,
                        _("The riser is solid before the casting and cannot feed the last of it: "
                          "a larger riser, with %s, or a chill on the heavy section."),
                        margin);
    else if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure,
                        _("The riser outlasts the casting only just. Where the casting has to be "
                          "sound: a larger riser, with %s, or a chill on the heavy section."),
                        margin);
}

static void
add_rule(FigureList *figures, const FeedCooling *cooling, const FeedResult *feed)
{
    double constant = feed_constant(cooling);
    gboolean chilled = figure_list_find(figures, "feed.chilled_modulus") != NULL;
    const char *section_id = chilled ? "feed.chilled_modulus" : "feed.section_modulus";
    double section = figure_list_value(figures, section_id);
    gboolean drawn = feed && (feed->open || feed->on_top);
    double diameter = figure_list_value(figures, "feed.riser_diameter");
    double riser = drawn ? figure_list_value(figures, "feed.riser_drawn_modulus") : diameter / 6;
    figure_add(figures, &spec_constant, constant, "metal.density_solid", "metal.latent_heat",
               "metal.cp_liquid", "job.pouring_temperature", "metal.liquidus", "metal.solidus",
               "shop.ambient", "sandkind.conductivity", "sandkind.density",
               "sandkind.specific_heat", NULL);
    double casting = feed_time(constant, section);
    figure_add(figures, chilled ? &spec_casting_chilled : &spec_casting, casting, "feed.chvorinov",
               section_id, NULL);
    Figure *figure = figure_add(figures, drawn ? &spec_riser_drawn : &spec_riser,
                                feed_time(constant, riser), "feed.chvorinov",
                                drawn ? "feed.riser_drawn_modulus" : "feed.riser_diameter", NULL);
    if (figure_list_value(figures, "feed.riser_count") > 0)
        limit_riser(figure, casting, "feed.casting_time");
    else if (figure->state != FIGURE_UNKNOWN)
        figure_set_note(figure, _("There is no riser."));
}

// How far the riser feeds. There is no reliable rule for every alloy, so too far is a warning and
// fails nothing. FALSE when stopped.
static gboolean
add_distance(const Inputs *inputs, FigureList *figures, const FeedResult *feed,
             const MouldLayout *layout, Progress *progress, GError **error)
{
    Vec3 joint;
    if (!feed || feed->n_spots == 0 || !(layout && mould_layout_joint(layout, &joint)))
        return TRUE;
    double modulus = figure_list_value(figures, "casting.modulus");
    double heavy = HEAVY * feed->spots[0].modulus;
    double far = feed_distance(feed->map, joint, heavy, NULL, progress, error);
    if (far < 0)
        return FALSE;
    double walls = inputs_number(inputs, "job.feed_distance");
    figure_add(figures, &spec_distance_limit, walls * 2 * modulus, "job.feed_distance",
               "casting.modulus", NULL);
    Figure *f = figure_add(figures, &spec_distance, far, "feed.hot_spot_modulus",
                           "feed.riser_count", NULL);
    figure_limit(f, walls * 2 * modulus, "feed.distance_limit");
    if (figure_is_past(f))
        figure_set_note(f, _("A heavy place lies farther from the riser than it feeds by this "
                             "rule, which is a caution rather than a limit: see whether the heat "
                             "flow finds hot spots, put the riser nearer, or chill the far "
                             "place."));
    else if (f->state == FIGURE_CLOSE)
        figure_set_note(f, _("A heavy place lies nearly as far from the riser as it feeds by this "
                             "rule: see whether the heat flow finds hot spots."));
    return TRUE;
}

static FreezeMaterials
materials_of(const Inputs *inputs)
{
    return (FreezeMaterials){
        .density = inputs_number(inputs, "metal.density_solid"),
        .cp_solid = inputs_number(inputs, "metal.cp_solid"),
        .cp_liquid = inputs_number(inputs, "metal.cp_liquid"),
        .latent = inputs_number(inputs, "metal.latent_heat"),
        .solidus = inputs_number(inputs, "metal.solidus"),
        .liquidus = inputs_number(inputs, "metal.liquidus"),
        .conductivity_solid = inputs_number(inputs, "metal.conductivity_solid"),
        .conductivity_liquid = inputs_number(inputs, "metal.conductivity_liquid"),
        .sand_density = inputs_number(inputs, "sandkind.density"),
        .sand_specific = inputs_number(inputs, "sandkind.specific_heat"),
        .sand_conductivity = inputs_number(inputs, "sandkind.conductivity"),
        .pour = inputs_number(inputs, "job.pouring_temperature"),
        .ambient = inputs_number(inputs, "shop.ambient")};
}

// FALSE when stopped.
static gboolean
add_shakeout(const Inputs *inputs, FigureList *figures, Progress *progress, GError **error)
{
    FreezeMaterials m = materials_of(inputs);
    double section = figure_list_value(figures, "feed.section_modulus");
    double end = inputs_number(inputs, "job.shake_out_temperature"), time = NAN;
    g_autoptr(GError) trouble = NULL;
    if (isfinite(section) && isfinite(end))
        time = freeze_shakeout_time(&m, section, end, progress, &trouble);
    if (g_error_matches(trouble, BASE_ERROR, BASE_ERROR_CANCELLED)) {
        g_propagate_error(error, g_steal_pointer(&trouble));
        return FALSE;
    }
    if (trouble) {
        Figure *none = figure_add_unknown(figures, &spec_shakeout, "feed.section_modulus");
        figure_set_note(none, "%s", trouble->message);
        return TRUE;
    }
    figure_add(figures, &spec_shakeout, time, "feed.section_modulus", "job.shake_out_temperature",
               "job.pouring_temperature", "metal.solidus", "metal.latent_heat", "metal.cp_solid",
               "shop.ambient", "sandkind.conductivity", "sandkind.density",
               "sandkind.specific_heat", NULL);
    return TRUE;
}

// Runs until all is solid. FALSE when stopped, or when the metal does not freeze in a hundred times
// the time the rule gives.
static gboolean
run_heat(FreezeHeat *heat, double expected, Progress *progress, GError **error)
{
    progress_set_words(progress, _("Heat flow"));
    gsize all = freeze_heat_liquid(heat);
    while (freeze_heat_liquid(heat) > 0) {
        if (!freeze_heat_step(heat, INFINITY, progress, error))
            return FALSE;
        progress_set_fraction(progress, 1 - (double)freeze_heat_liquid(heat) / all);
        if (freeze_heat_time(heat) > 100 * expected)
            return base_error_set(error, BASE_ERROR_VALUE, NULL, "heat flow",
                                  "the metal does not freeze", "check solidus and sand");
    }
    return TRUE;
}

static SolidGrid *
times_grid(const FreezeDomain *domain, const double *times)
{
    SolidGrid *grid = solid_grid_new(domain->nx, domain->ny, domain->nz, domain->cell,
                                     domain->origin);
    gsize n = (gsize)domain->nx * domain->ny * domain->nz;
    for (gsize c = 0; grid && c < n; c++)
        grid->value[c] = (float)times[c];
    return grid;
}

// Reads the answers off a finished run.
static void
read_heat(const FreezeDomain *domain, const FreezeHeat *heat, FreezeResult *result)
{
    const double *times = freeze_heat_solid_times(heat), *niyama = freeze_heat_niyama(heat);
    gsize n = (gsize)domain->nx * domain->ny * domain->nz;
    result->simulated_time = 0;
    for (gsize c = 0; c < n; c++) {
        if (domain->riser[c]) {
            result->simulated_riser_time = fmax(result->simulated_riser_time, times[c]);
            continue;
        }
        if (times[c] > result->simulated_time)
            result->simulated_time = times[c];
        if (!isnan(niyama[c]) && !(niyama[c] >= result->niyama_min))
            result->niyama_min = niyama[c];
    }
    g_autoptr(GArray) spots = freeze_hot_spots(times, domain->nx, domain->ny, domain->nz,
                                               HOT_SPOT_SHARE);
    result->hot_spots = 0;
    for (guint i = 0; i < spots->len; i++)
        result->hot_spots += !domain->riser[g_array_index(spots, FreezeSpot, i).cell];
    result->solid_times = times_grid(domain, times);
}

// A hot spot is advice, not arithmetic: it never fails a plan. Without a riser there is always a
// last place; in an even wall its shrinkage is spread thin.
static void
add_spots(FigureList *figures, int spots)
{
    Figure *figure = figure_add(figures, &spec_spots, spots, "feed.simulated_time",
                                "feed.riser_count", "feed.evenness", NULL);
    gboolean fed = figure_list_value(figures, "feed.riser_count") > 0;
    figure_limit(figure, 0, NULL);
    if (!figure_is_past(figure))
        return;
    if (fed)
        figure_set_note(figure, _("A place of the casting freezes after its way to the riser has "
                                  "closed: expect a hollow there, or chill it."));
    else if (!feed_is_uneven(figure_list_value(figures, "feed.evenness")))
        figure_set_note(figure, _("The last metal to freeze lies inside the casting and no riser "
                                  "feeds it: in an even wall expect fine pores rather than a "
                                  "hollow; set Risers to always where that matters."));
    else
        figure_set_note(figure, _("The last metal to freeze lies inside the casting and no riser "
                                  "feeds it: expect a hollow there; set Risers to always, or chill "
                                  "it."));
}

static void
add_simulated(const Inputs *inputs, FigureList *figures, const FreezeResult *result,
              const FreezeDomain *domain)
{
    Figure *figure;
    if (!result || isnan(result->simulated_time)) {
        figure_add_unknown(figures, &spec_simulated, "feed.casting_time");
        figure_add_unknown(figures, &spec_spots, "feed.casting_time");
        figure_add_unknown(figures, &spec_niyama, "feed.casting_time");
        return;
    }
    figure = figure_add(figures, &spec_simulated, result->simulated_time, "feed.chvorinov",
                        "casting.volume", "metal.conductivity_solid", "metal.conductivity_liquid",
                        "job.heat_cells", NULL);
    UnitSet units = inputs_units(inputs);
    g_autofree char *cell = quantity_format(QUANTITY_LENGTH, domain->cell, &units);
    figure_set_note(figure, _("%d by %d by %d cells of %s."), domain->nx, domain->ny, domain->nz,
                    cell);
    if (domain->chill)
        figure_set_note(figure,
                        _("%d by %d by %d cells of %s. The chill touches the casting without a "
                          "gap, so a true one chills a little less."),
                        domain->nx, domain->ny, domain->nz, cell);
    if (!isnan(result->simulated_riser_time)) {
        figure = figure_add(figures, &spec_simulated_riser, result->simulated_riser_time,
                            "feed.chvorinov", "feed.riser_volume", NULL);
        limit_riser(figure, result->simulated_time, "feed.simulated_time");
    }
    add_spots(figures, result->hot_spots);
    figure = figure_add(figures, &spec_niyama, result->niyama_min, "feed.simulated_time", NULL);
    if (isnan(result->niyama_min))
        figure_set_note(figure, _("The walls are too thin for these cells to show a gradient."));
}

// Heat flow for the casting. NULL with an error only when stopped; NULL without one when a property
// is missing.
static FreezeDomain *
simulate(const Inputs *inputs, const PatternResult *pattern, const MouldLayout *layout,
         const FigureList *figures, FreezeResult *result, Progress *progress, GError **error)
{
    double section = figure_list_value(figures, "feed.section_modulus");
    FreezeMaterials m = materials_of(inputs);
    double expected = MAX(result->casting_time, result->riser_time);
    double cells = inputs_number(inputs, "job.heat_cells");
    if (!(result->casting_time > 0) || !isfinite(expected) || isnan(cells))
        return NULL;
    // Cold sand held this far away draws 2 exp(-2.2^2) = 1.6 % more heat at the very end.
    double sand = 2.2 * sqrt(m.sand_conductivity / (m.sand_density * m.sand_specific) * expected);
    g_autoptr(FreezeDomain) domain = freeze_domain_new(pattern, layout, sand, section / FINE_ENOUGH,
                                                       (gsize)cells, progress, error);
    if (!domain)
        return NULL;
    double edge[6];
    for (int i = 0; i < 6; i++)
        edge[i] = m.ambient;
    g_autoptr(GError) trouble = NULL;
    g_autoptr(FreezeHeat) heat = freeze_heat_new(domain->nx, domain->ny, domain->nz, domain->cell,
                                                 domain->share, &m, edge, &trouble);
    if (!heat)
        return NULL;
    if (domain->chill) {
        FreezeChill chill = {layout->chill.capacity, layout->chill.conductivity};
        if (!freeze_heat_set_chill(heat, domain->chill, &chill, &trouble))
            return NULL;
    }
    if (!run_heat(heat, expected, progress, &trouble)) {
        if (g_error_matches(trouble, BASE_ERROR, BASE_ERROR_CANCELLED))
            g_propagate_error(error, g_steal_pointer(&trouble));
        return NULL;
    }
    read_heat(domain, heat, result);
    return g_steal_pointer(&domain);
}

FreezeResult *
freeze_stage(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
             const MouldLayout *layout, FigureList *figures, Progress *progress, GError **error)
{
    inputs_give(inputs, figures);
    feed_need(figures, freeze_reads);
    feed_need(figures, from_earlier);
    FeedCooling cooling = cooling_of(inputs);
    add_rule(figures, &cooling, feed);
    if (!add_distance(inputs, figures, feed, layout, progress, error))
        return NULL;
    g_autoptr(FreezeResult) result = g_atomic_rc_box_new0(FreezeResult);
    result->casting_time = figure_list_value(figures, "feed.casting_time");
    result->riser_time = figure_list_value(figures, "feed.riser_time");
    result->simulated_time = result->simulated_riser_time = result->niyama_min = NAN;
    g_autoptr(FreezeDomain) domain = NULL;
    if (pattern && pattern->casting) {
        GError *stopped = NULL;
        domain = simulate(inputs, pattern, layout, figures, result, progress, &stopped);
        if (stopped) {
            g_propagate_error(error, stopped);
            return NULL;
        }
    }
    add_simulated(inputs, figures, domain ? result : NULL, domain);
    if (!add_shakeout(inputs, figures, progress, error))
        return NULL;
    result->shakeout_time = figure_list_value(figures, "feed.shakeout_time");
    if (!pattern)
        return NULL;
    return g_steal_pointer(&result);
}
