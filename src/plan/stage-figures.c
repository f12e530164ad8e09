// SPDX-License-Identifier: GPL-3.0-or-later
// The figures every Plan has. A stage that cannot run leaves them unknown, with the reason, so that
// a reader of the plan never has to ask whether a figure exists.
#include <glib/gi18n-lib.h>

#include "plan/stage.h"

#define ROW(stage_, id_, label_, kind_)                                                            \
    {                                                                                              \
        STAGE_##stage_,                                                                            \
        {                                                                                          \
            .id = id_, .label = label_, .kind = QUANTITY_##kind_, .source = "not-computed",        \
            .method = N_("not computed: something it needs is missing")                            \
        }                                                                                          \
    }

static const StageFigure figures[] = {
    ROW(PART, "part.volume", N_("Volume of the part"), VOLUME),
    ROW(PART, "part.area", N_("Surface of the part"), AREA),
    ROW(PART, "part.size.x", N_("Length along x"), LENGTH),
    ROW(PART, "part.size.y", N_("Length along y"), LENGTH),
    ROW(PART, "part.size.z", N_("Length along z"), LENGTH),
    ROW(PART, "part.closed", N_("Closed skin"), COUNT),
    ROW(PART, "part.overlap_volume", N_("In more than one shell"), VOLUME),
    ROW(PART, "part.min_wall", N_("Thinnest wall of the part"), LENGTH),
    ROW(PULL, "pattern.pull.x", N_("Pull direction, x"), NUMBER),
    ROW(PULL, "pattern.pull.y", N_("Pull direction, y"), NUMBER),
    ROW(PULL, "pattern.pull.z", N_("Pull direction, z"), NUMBER),
    ROW(PATTERN, "pattern.parting_height", N_("Parting above the lowest metal"), LENGTH),
    ROW(PATTERN, "pattern.contraction", N_("Pattern larger by"), RATIO),
    ROW(PATTERN, "pattern.undercut_volume", N_("Undercuts and holes filled"), VOLUME),
    ROW(PATTERN, "pattern.draft_volume", N_("Draft added"), VOLUME),
    ROW(PATTERN, "pattern.allowance_volume", N_("Allowance added"), VOLUME),
    ROW(PATTERN, "pattern.peg_slenderness", N_("Most slender sand peg"), NUMBER),
    ROW(PATTERN, "pattern.skin_outside", N_("Skin of the part the casting misses"), RATIO),
    ROW(PATTERN, "pattern.depth_of_draw", N_("Depth of draw"), LENGTH),
    ROW(PATTERN, "casting.volume", N_("Volume of the rough casting"), VOLUME),
    ROW(PATTERN, "casting.mass", N_("Mass of the rough casting"), MASS),
    ROW(PATTERN, "casting.area", N_("Surface of the rough casting"), AREA),
    ROW(PATTERN, "casting.modulus", N_("Modulus of the rough casting"), LENGTH),
    ROW(MOULD, "mould.cavities", N_("Cavities in a flask"), COUNT),
    ROW(MOULD, "mould.sand_cover.wall", N_("Sand to the wall"), LENGTH),
    ROW(MOULD, "mould.sand_cover.top", N_("Sand above"), LENGTH),
    ROW(MOULD, "mould.sand_cover.bottom", N_("Sand below"), LENGTH),
    ROW(MOULD, "mould.sand_cover.between", N_("Sand between"), LENGTH),
    ROW(MOULD, "mould.metal_volume", N_("Metal volume of a flask"), VOLUME),
    ROW(MOULD, "mould.metal_mass", N_("Metal of a flask"), MASS),
    ROW(MOULD, "mould.yield", N_("Yield"), RATIO),
    ROW(MOULD, "mould.fill_time", N_("Filling time"), TIME),
    ROW(MOULD, "mould.effective_head", N_("Effective head"), LENGTH),
    ROW(MOULD, "mould.choke_area", N_("Choke area"), AREA),
    ROW(MOULD, "mould.sprue_top_area", N_("Sprue area at the top"), AREA),
    ROW(MOULD, "mould.gate_velocity", N_("Speed at the gates"), VELOCITY),
    ROW(MOULD, "mould.lift_force", N_("Lift on the cope"), FORCE),
    ROW(MOULD, "mould.weight_to_add", N_("Weight to add"), MASS),
    ROW(MOULD, "mould.mismatch", N_("Mismatch the tabs allow"), LENGTH),
    ROW(MOULD, "mould.sand_mass", N_("Sand of a flask"), MASS),
    ROW(BOARD, "board.pieces", N_("Pieces to print"), COUNT),
    ROW(BOARD, "board.volume", N_("Volume of all pieces"), VOLUME),
    ROW(BOARD, "board.filament_mass", N_("Filament"), MASS),
    ROW(BOARD, "board.print_time", N_("Printing time"), TIME),
    ROW(BOARD, "board.bed_share", N_("Largest piece on the bed"), RATIO),
    ROW(BOARD, "board.thinnest", N_("Thinnest wall of the pattern"), LENGTH),
    ROW(BOARD, "board.file_size", N_("Largest file, at most, MB"), NUMBER),
    ROW(FEED, "feed.riser_count", N_("Risers a casting"), COUNT),
    ROW(FEED, "feed.riser_diameter", N_("Riser diameter"), LENGTH),
    ROW(FEED, "feed.riser_height", N_("Riser height"), LENGTH),
    ROW(FREEZE, "feed.casting_time", N_("Casting solid after"), TIME),
    ROW(FREEZE, "feed.riser_time", N_("Riser solid after"), TIME),
    ROW(FREEZE, "feed.simulated_time", N_("Casting solid after, by heat flow"), TIME),
    ROW(FREEZE, "feed.hot_spots", N_("Hot spots in the casting"), COUNT),
    ROW(FREEZE, "feed.niyama_min", N_("Least Niyama value"), NIYAMA),
    ROW(FREEZE, "feed.shakeout_time", N_("Shake-out after"), TIME),
    ROW(MELT, "melt.charge_mass", N_("Charge"), MASS),
    ROW(MELT, "melt.working_mass", N_("Crucible holds"), MASS),
    ROW(MELT, "melt.flasks_per_load", N_("Flasks a load"), COUNT),
    ROW(MELT, "melt.heat", N_("Heat into the metal"), ENERGY),
    ROW(MELT, "melt.heat_time", N_("Melting time"), TIME),
    ROW(MELT, "melt.cycle_time", N_("Melt cycle"), TIME),
    ROW(MELT, "melt.warmup_time", N_("Warm-up"), TIME),
    ROW(MELT, "melt.crucible_firings_left", N_("Firings left, at most"), COUNT),
    ROW(SESSION, "run.loads_per_session", N_("Loads a session"), COUNT),
    ROW(SESSION, "run.flasks_per_session", N_("Flasks a session"), COUNT),
    ROW(SESSION, "run.castings_per_session", N_("Castings a session"), COUNT),
    ROW(SESSION, "run.castings_to_start", N_("Castings to start"), COUNT),
    ROW(SESSION, "run.sessions", N_("Sessions for the batch"), COUNT),
    ROW(SESSION, "run.good_rate", N_("Good-casting rate"), RATIO),
    ROW(SESSION, "run.confidence", N_("Chance of enough good ones"), RATIO),
    ROW(SESSION, "run.bottleneck", N_("Held back by"), TEXT),
    ROW(STOCK, "stock.min", N_("Least stock in the worst case"), LENGTH),
    ROW(STOCK, "stock.max", N_("Most stock"), LENGTH),
    ROW(STOCK, "stock.chip_volume", N_("Chips from one casting"), VOLUME),
    ROW(STOCK, "stock.machining_time", N_("Machining one casting"), TIME),
    ROW(COST, "cost.metal", N_("Metal, a part"), MONEY),
    ROW(COST, "cost.energy", N_("Energy, a part"), MONEY),
    ROW(COST, "cost.crucible", N_("Crucible, a part"), MONEY),
    ROW(COST, "cost.sand", N_("Sand, a part"), MONEY),
    ROW(COST, "cost.labour", N_("Labour, a part"), MONEY),
    ROW(COST, "cost.per_good_part", N_("Cost of a good part, cast"), MONEY),
    ROW(COST, "cost.from_bar", N_("Cost of a part cut from bar"), MONEY),
    ROW(COST, "cost.bought_in", N_("Cost of a part bought in"), MONEY),
};

guint
stage_figure_count(void)
{
    return G_N_ELEMENTS(figures);
}

const StageFigure *
stage_figure_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(figures), NULL);
    return &figures[index];
}
