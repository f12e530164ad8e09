// SPDX-License-Identifier: GPL-3.0-or-later
// The stages feed, mould and freeze after one another on castings made by code: formulas agree with
// values, sizes with hand calculation, checks fail with words, unknowns spread.
#include <string.h>

#include "check.h"
#include "run.h"

static const char *const ids[] = {"mould.cavities",
                                  "mould.sand_cover.wall",
                                  "mould.sand_cover.top",
                                  "mould.metal_volume",
                                  "mould.sand_cover.bottom",
                                  "mould.sand_cover.between",
                                  "mould.metal_mass",
                                  "mould.yield",
                                  "mould.fill_time",
                                  "mould.effective_head",
                                  "mould.channel_modulus",
                                  "mould.channel_wait",
                                  "mould.gate_time",
                                  "mould.mass_time",
                                  "mould.slow_time",
                                  "mould.wall_time",
                                  "mould.choke_area",
                                  "mould.sprue_top_area",
                                  "mould.gate_velocity",
                                  "mould.lift_force",
                                  "mould.weight_to_add",
                                  "mould.mismatch",
                                  "mould.sand_mass",
                                  "mould.fill_time_rule",
                                  "mould.prime_time",
                                  "mould.gate_spread",
                                  "mould.fill_spread",
                                  "mould.pour_rate",
                                  "mould.pour_rate_mean",
                                  "mould.gate_velocity_last",
                                  "mould.gate_velocity_start",
                                  "mould.runner_full",
                                  "mould.choke_place",
                                  "feed.riser_count",
                                  "feed.riser_diameter",
                                  "feed.riser_height",
                                  "feed.casting_time",
                                  "feed.riser_time",
                                  "feed.simulated_time",
                                  "feed.hot_spots",
                                  "feed.niyama_min",
                                  "feed.shakeout_time"};

#define SMALL_PLATE 0.0613, 0.0417, 0.0094

static void
test_plate(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(SMALL_PLATE);
    Run r = run_stages(mesh, 0.004, "");
    for (gsize i = 0; i < G_N_ELEMENTS(ids); i++) {
        const Figure *f = get(&r, ids[i]);
        g_test_message("%s = %g %s %s", ids[i], f->value, figure_state_word(f->state),
                       f->note ? f->note : "");
        if (!g_str_equal(ids[i], "feed.niyama_min"))
            g_assert_cmpint(f->state, !=, FIGURE_UNKNOWN);
        if (!g_str_equal(ids[i], "feed.riser_time"))
            g_assert_cmpint(f->state, !=, FIGURE_FAILS);
    }
    check_figures(r.feeds);
    check_figures(r.moulds);
    check_figures(r.freezes);
    // In a cope 90 mm deep far more sand is over a plate than is asked for: wasted, and no failure.
    const Figure *over = get(&r, "mould.sand_over");
    double above = 90e-3 - get(&r, "mould.height_above")->value;
    check_close(over->value, above - get(&r, "mould.sand_asked.top")->value, 1e-9,
                "cope less plate less the sand asked for");
    g_assert_cmpfloat(over->value, >, 50e-3);
    g_assert_cmpint(over->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(over->note, "would do"));
    // An even plate wants no riser.
    g_assert_cmpfloat(get(&r, "feed.riser_count")->value, ==, 0);
    g_assert_cmpint(get(&r, "feed.hot_spots")->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(get(&r, "feed.hot_spots")->note, "even wall"));
    check_close(get(&r, "feed.inscribed")->value, 0.0047, 0.09, "half the plate, to a cell");
    g_assert_cmpuint(r.mould->n_cavities, >=, 4);
    g_assert_cmpfloat(r.mould->metal_mass, >, r.mould->castings_mass);
    // Each cavity ends up holding the cold casting: no yield above one.
    g_assert_cmpfloat(get(&r, "mould.yield")->value, <, 1);
    double solid = get(&r, "mould.castings_mass")->value,
           rest = get(&r, "mould.gating_volume")->value;
    check_close(r.mould->metal_mass, solid + rest * get(&r, "mould.pour_density")->value, 1e-9,
                "castings and gating");
    g_assert_cmpint(get(&r, "mould.channel_wait")->state, ==, FIGURE_HOLDS);
    check_close(get(&r, "mould.mismatch")->value, 0.25e-3 * sqrt(2), 1e-12, "cornerwise");
    // 90 mm of cope, 20 of basin, gate at the parting.
    double c = 0.0094 * 1.013, p = 0.0054 * 1.013;
    if (fabs(figure_list_value(r.moulds, "job.contraction") - 0.013) < 1e-9)
        check_close(get(&r, "mould.effective_head")->value, 0.11 - p * p / (2 * c), 1e-9,
                    "h - p^2/(2c)");
    // The two answers tell the same story.
    double ratio = r.freeze->simulated_time / r.freeze->casting_time;
    g_test_message("heat flow over rule: %g", ratio);
    g_assert_cmpfloat(ratio, >, 0.6);
    g_assert_cmpfloat(ratio, <, 1.6);
    clear_run(&r);
}

static void
test_riser(void)
{
    // A stout cylinder: the ball inside is far larger than the modulus.
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_stages(mesh, 0.01, "");
    g_assert_cmpint(r.feed->risers, ==, 1);
    check_figures(r.feeds);
    check_figures(r.moulds);
    check_figures(r.freezes);
    g_assert_cmpfloat(r.feed->diameter, >=, 6 * 1.2 * r.feed->casting_modulus * (1 - 1e-9));
    g_assert_cmpfloat(r.freeze->riser_time, >=, 1.43 * r.freeze->casting_time);
    g_assert_cmpuint(r.mould->n_cavities, >=, 1);
    for (guint i = 0; i < r.mould->n_cavities; i++)
        g_assert_false(isnan(r.mould->cavities[i].riser_x));
    g_test_message("casting %g s, heat flow %g s, spots %d, Niyama %g, riser %g mm",
                   r.freeze->casting_time, r.freeze->simulated_time, r.freeze->hot_spots,
                   r.freeze->niyama_min, 1e3 * r.feed->diameter);
    g_assert_cmpint(get(&r, "feed.simulated_riser_time")->state, ==, FIGURE_HOLDS);
    g_assert_cmpfloat(r.freeze->simulated_riser_time, >, r.freeze->simulated_time);
    g_assert_cmpint(get(&r, "feed.hot_spots")->state, ==, FIGURE_HOLDS);
    g_assert_null(get(&r, "feed.hot_spots")->note);
    // Heat flow sees the riser too, in the casting's own axes.
    g_assert_nonnull(r.freeze->solid_times);
    clear_run(&r);
    Run none = run_stages(mesh, 0.01, ",\"riser\":\"none\"");
    g_assert_cmpint(none.feed->risers, ==, 0);
    g_assert_cmpint(none.freeze->hot_spots, ==, 1);
    g_assert_cmpint(get(&none, "feed.hot_spots")->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(get(&none, "feed.hot_spots")->note, "expect a hollow"));
    clear_run(&none);
}

// On the casting: the foot does not cool, the riser stands over the heavy end, and nothing of it is
// counted in the way of the rows.
static void
test_top_riser(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_stages(mesh, 0.01, ",\"riser_kind\":\"top\",\"riser_margin\":\"1.6\"");
    g_assert_true(r.feed->on_top && !r.feed->open);
    check_figures(r.feeds);
    check_figures(r.moulds);
    check_figures(r.freezes);
    check_close(get(&r, "feed.riser_by_modulus")->value, 5 * 1.6 * r.feed->casting_modulus, 1e-9,
                "M = D/5");
    check_close(r.feed->base, 0.0286 * 1.013, 0.01, "its upper face, hot");
    g_assert_cmpfloat(hypot(r.feed->x, r.feed->y), <, 1e-3);
    g_assert_cmpfloat(r.feed->neck, ==, 0);
    // Wider than the cylinder it stands on: a warning in words, and no failure.
    g_assert_cmpfloat(r.feed->seat, <, 1);
    g_assert_cmpint(get(&r, "feed.riser_seat")->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(get(&r, "feed.riser_seat")->note, "wider than what it stands on"));
    // (8 M)³ of a riser as high as wide, over a casting of modulus V / A.
    const Figure *over = get(&r, "feed.riser_over_casting");
    double side = 5 * 1.6 * r.feed->casting_modulus;
    check_close(over->value, G_PI / 4 * side * side * side / get(&r, "casting.volume")->value, 1e-6,
                "closed form");
    g_assert_cmpint(over->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(over->note, "heavier"));
    g_assert_nonnull(strstr(over->note, "(job.chills)"));
    g_assert_null(strstr(over->note, "(job.riser_kind)"));
    // So most of the metal comes back, in risers.
    const Figure *yield = get(&r, "mould.yield");
    double light = get(&r, "mould.pour_density")->value / 2680; // A356, liquid to solid
    g_assert_cmpfloat(yield->value, <, 1 / (1 + over->value * light));
    g_assert_cmpint(yield->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(yield->note, "risers"));
    g_assert_cmpuint(r.mould->n_cavities, >=, 1);
    g_assert_true(r.mould->riser.on_top);
    for (guint i = 0; i < r.mould->n_cavities; i++)
        check_close(r.mould->cavities[i].riser_x - r.mould->cavities[i].x, 0, 1e-3, "over it");
    double metal = r.mould->n_cavities * (get(&r, "mould.cavity_volume")->value + r.feed->volume) +
                   get(&r, "mould.gating_volume")->value;
    check_close(r.mould->metal_volume, metal, 1e-9, "castings, risers and gating");
    g_assert_cmpfloat(get(&r, "mould.gating_volume")->value, >, 0);
    check_close(r.mould->cover_top, r.mould->cope - r.feed->base - r.feed->height, 1e-9,
                "sand over the riser");
    g_assert_cmpfloat(r.freeze->simulated_riser_time, >, r.freeze->simulated_time);
    g_assert_cmpint(get(&r, "feed.distance")->state, ==, FIGURE_HOLDS);
    clear_run(&r);
}

static void
test_open_riser(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_some(mesh, 0.01, ",\"riser_kind\":\"top\",\"riser_end\":\"open\"", FALSE);
    check_figures(r.feeds);
    check_figures(r.moulds);
    check_figures(r.freezes);
    check_close(r.feed->base + r.feed->height, r.mould->cope, 1e-9, "up to the cope's top");
    // The volume rule decides: 14 % of it are 6.5 % of casting and riser; V = pi/4 D2 H.
    check_close(G_PI / 4 * r.feed->diameter * r.feed->diameter * r.feed->height, r.feed->volume,
                1e-9, "a cylinder");
    g_assert_cmpfloat(r.feed->modulus, >=, 1.2 * r.feed->casting_modulus * (1 - 1e-9));
    check_close(r.mould->cover_top, r.mould->cope - 0.0286 * 1.013, 0.01, "over the casting only");
    g_assert_nonnull(strstr(get(&r, "mould.sand_cover.top")->note, "stop pouring"));
    double open = get(&r, "mould.projected_area")->value;
    guint n = r.mould->n_cavities;
    clear_run(&r);
    Run blind = run_some(mesh, 0.01, ",\"riser_kind\":\"top\"", FALSE);
    g_assert_cmpuint(blind.mould->n_cavities, ==, n);
    g_assert_cmpfloat(open, <, get(&blind, "mould.projected_area")->value);
    clear_run(&blind);
    // Beside the casting, from the parting up.
    Run side = run_some(mesh, 0.01, ",\"riser_end\":\"open\"", FALSE);
    check_figures(side.feeds);
    check_close(side.feed->height, 0.09, 1e-9, "the cope's depth");
    g_assert_cmpfloat(side.feed->neck, >, 0);
    clear_run(&side);
    // A cope that is too shallow for one: 3 V/A of this drum is half the cope's depth and more.
    g_autoptr(SolidMesh) drum = check_mesh_cylinder(0.0613, 0.0817, 48);
    Run low = run_some(drum, 0.02, ",\"riser_end\":\"open\",\"riser_margin\":\"3\"", FALSE);
    g_assert_nonnull(strstr(get(&low, "feed.riser_by_modulus")->note, "too shallow"));
    g_assert_cmpint(get(&low, "feed.riser_diameter")->state, ==, FIGURE_UNKNOWN);
    g_assert_null(low.mould);
    clear_run(&low);
}

static void
test_riser_put(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_some(mesh, 0.01,
                     ",\"riser_kind\":\"top\",\"riser_x\":\"7 mm\",\"riser_y\":\"-3 mm\"", FALSE);
    check_figures(r.feeds);
    double growth = 1 + figure_list_value(r.feeds, "job.contraction");
    check_close(r.feed->x, 0.007 * growth, 1e-9, "where it was put");
    check_close(r.feed->y, -0.003 * growth, 1e-9, "where it was put");
    for (guint i = 0; i < r.mould->n_cavities; i++) {
        const MouldCavity *c = &r.mould->cavities[i];
        double dx = c->riser_x - c->x, dy = c->riser_y - c->y;
        check_close(cos(c->turn) * dx + sin(c->turn) * dy, r.feed->x, 1e-9, "turned with it");
        check_close(cos(c->turn) * dy - sin(c->turn) * dx, r.feed->y, 1e-9, "turned with it");
    }
    clear_run(&r);
    Run off = run_some(mesh, 0.01, ",\"riser_kind\":\"top\",\"riser_x\":\"40 mm\"", FALSE);
    g_assert_cmpint(get(&off, "feed.riser_seat")->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(get(&off, "feed.riser_seat")->note, "no casting"));
    clear_run(&off);
}

// The neck feeds what the chill leaves to be fed, and is held against that: as thick as it is asked
// for it has a tenth to spare.
static void
test_chilled_neck(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_some(mesh, 0.01, ",\"chills\":\"iron\",\"chill_factor\":\"3\",\"riser\":\"always\"",
                     FALSE);
    check_figures(r.moulds);
    double fed = get(&r, "feed.chilled_modulus")->value;
    const Figure *neck = get(&r, "mould.neck_modulus");
    g_assert_cmpfloat(fed, <, 0.9 * r.feed->casting_modulus); // the chill counts
    check_close(r.feed->fed_modulus, fed, 1e-12, "handed on");
    check_close(neck->value, 1.1 * fed, 1e-9, "4 * 1.1 M across: M = d / 4");
    check_close(neck->limit, fed, 1e-12, "of the chilled section");
    g_assert_cmpstr(neck->limit_id, ==, "feed.chilled_modulus");
    g_assert_cmpint(neck->state, !=, FIGURE_FAILS);
    clear_run(&r);
    Run bare = run_some(mesh, 0.01, ",\"riser\":\"always\"", FALSE);
    g_assert_cmpstr(get(&bare, "mould.neck_modulus")->limit_id, ==, "feed.section_modulus");
    check_close(bare.feed->fed_modulus, bare.feed->casting_modulus, 1e-12, "without a chill");
    clear_run(&bare);
}

// A chill that counts enough leaves nothing for a riser to do.
static void
test_chill(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run bare = run_some(mesh, 0.01, "", FALSE);
    Run iron = run_some(
        mesh, 0.01, ",\"chills\":\"iron\",\"chill_width\":\"20 mm\",\"chill_factor\":\"3\"", FALSE);
    check_figures(iron.feeds);
    check_figures(iron.moulds);
    check_figures(iron.freezes);
    double section = bare.feed->casting_modulus, area = get(&iron, "feed.section_area")->value;
    check_close(get(&iron, "feed.chilled_modulus")->value, section * area / (area + 2 * 4e-4), 1e-9,
                "V / (A + 2 A_chill)");
    g_assert_cmpfloat(iron.feed->diameter, <=, bare.feed->diameter);
    check_close(iron.feed->chill.face, -0.01 * 1.013, 0.01, "under the casting");
    g_assert_nonnull(strstr(get(&iron, "feed.chill_temperature")->note, "dry"));
    clear_run(&iron);
    Run much = run_some(mesh, 0.01, ",\"chills\":\"aluminium\",\"chill_factor\":\"9\"", FALSE);
    g_assert_cmpint(much.feed->risers, ==, 0);
    g_assert_nonnull(strstr(get(&much, "feed.riser_count")->note, "spares"));
    clear_run(&much);
    Run thin = run_some(mesh, 0.01,
                        ",\"chills\":\"aluminium\",\"chill_thickness\":\"1 mm\","
                        "\"chill_half\":\"cope\"",
                        FALSE);
    g_assert_cmpint(get(&thin, "feed.chill_temperature")->state, ==, FIGURE_FAILS);
    g_assert_true(thin.feed->chill.in_cope);
    clear_run(&thin);
    clear_run(&bare);
}

static void
test_no_riser_is_enough(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_stages(mesh, 0.01, ",\"feed_share\":\"3 %\"");
    g_assert_cmpint(get(&r, "feed.usable_share")->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(get(&r, "feed.usable_share")->note, "(job.feed_share)"));
    const Figure *f = get(&r, "feed.riser_by_volume");
    g_assert_cmpint(f->state, ==, FIGURE_UNKNOWN);
    g_assert_nonnull(strstr(f->note, "however large"));
    g_assert_cmpint(get(&r, "feed.riser_diameter")->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpint(get(&r, "mould.metal_mass")->state, ==, FIGURE_UNKNOWN);
    g_assert_null(r.mould);
    clear_run(&r);
}

static void
test_too_large(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.31, 0.0417, 0.0094);
    Run r = run_stages(mesh, 0.004, "");
    const Figure *f = get(&r, "mould.cavities");
    g_assert_cmpint(f->state, ==, FIGURE_FAILS);
    g_assert_cmpfloat(f->value, ==, 0);
    g_assert_nonnull(strstr(f->note, "310 mm by 42 mm"));
    g_assert_cmpuint(r.mould->n_cavities, ==, 0);
    g_assert_cmpint(get(&r, "mould.metal_mass")->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpstr(get(&r, "mould.metal_mass")->missing, ==, "mould.cavities");
    g_assert_cmpint(get(&r, "mould.sand_mass")->state, ==, FIGURE_UNKNOWN);
    check_figures(r.moulds);
    clear_run(&r);
}

static void
test_too_deep(void)
{
    // 134 mm stand above the parting: more than the cope and the basin hold.
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0317, 0.0213, 0.1413);
    Run r = run_some(mesh, 0.007, ",\"riser\":\"none\"", FALSE);
    const Figure *f = get(&r, "mould.cavities");
    g_assert_cmpint(f->state, ==, FIGURE_FAILS);
    // 136.05 mm, hot, and half as much sand over them; 7.09 mm and 30 mm of sand below.
    g_assert_nonnull(strstr(f->note, "a cope 205 mm and a drag 38 mm deep"));
    const char *const later[] = {"mould.castings_mass", "mould.fill_time", "mould.choke_area",
                                 "mould.channel_wait", "mould.sand_mass"};
    for (gsize i = 0; i < G_N_ELEMENTS(later); i++)
        g_assert_cmpstr(get(&r, later[i])->missing, ==, "mould.cavities");
    g_assert_cmpint(get(&r, "mould.sand_cover.top")->state, ==, FIGURE_FAILS);
    clear_run(&r);
    // The wrong unit: metres for millimetres would be coarse cells and a flask as large as a hall.
    g_autoptr(SolidMesh) hall = check_mesh_box(2.13, 0.0413, 0.0217);
    Run wrong = run_some(hall, 0.007, ",\"fill_time\":\"3 s\"", FALSE);
    g_assert_nonnull(strstr(get(&wrong, "mould.cavities")->note, "unit"));
    g_assert_cmpstr(get(&wrong, "mould.fill_time")->missing, ==, "mould.cavities");
    clear_run(&wrong);
}

static void
test_tall(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0413, 0.0417, 0.0814);
    Run r = run_stages(mesh, 0.004, ",\"riser\":\"none\"");
    const Figure *f = get(&r, "mould.sand_cover.top");
    g_assert_cmpint(f->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(f->note, "would do"));
    clear_run(&r);
}

static void
test_own_fill_time(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(SMALL_PLATE);
    Run fast = run_stages(mesh, 0.004, ",\"fill_time\":\"1 s\",\"cavities\":\"2\"");
    g_assert_cmpfloat(get(&fast, "mould.fill_time_rule")->value, ==, 1);
    check_close(get(&fast, "mould.fill_time")->value, 1, 0.2, "the nozzle's coefficient");
    g_assert_cmpuint(fast.mould->n_cavities, ==, 2);
    check_figures(fast.moulds);
    clear_run(&fast);
    Run slow = run_stages(mesh, 0.004, ",\"fill_time\":\"1 min\"");
    g_assert_cmpint(get(&slow, "mould.fill_time")->state, ==, FIGURE_FAILS);
    check_figures(slow.moulds);
    clear_run(&slow);
}

static void
test_unknown_spreads(void)
{
    Run r = run_stages(NULL, 0, "");
    for (gsize i = 0; i < G_N_ELEMENTS(ids); i++)
        if (!g_str_equal(ids[i], "mould.mismatch") && !g_str_equal(ids[i], "mould.cavities"))
            g_assert_cmpint(get(&r, ids[i])->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpint(get(&r, "mould.cavities")->state, ==, FIGURE_UNKNOWN);
    g_assert_null(r.mould);
    clear_run(&r);
}

static void
test_every_metal(void)
{
    // Whatever a row of the table lacks, figures are unknown rather than wrong.
    g_autoptr(SolidMesh) mesh = check_mesh_box(SMALL_PLATE);
    for (guint i = 0; i < tables_size(tables, TABLE_METALS); i++) {
        const char *id = table_row_id(tables_at(tables, TABLE_METALS, i));
        g_autofree char *job = g_strdup_printf(",\"metal\":\"%s\"", id);
        Run r = run_some(mesh, 0.004, job, g_str_equal(id, "gold"));
        check_figures(r.feeds);
        check_figures(r.moulds);
        check_figures(r.freezes);
        g_test_message("%s: %g cavities, fill %g s of %g, velocity %g, freezes %g / %g s", id,
                       get(&r, "mould.cavities")->value, get(&r, "mould.fill_time")->value,
                       get(&r, "mould.wall_time")->value, get(&r, "mould.gate_velocity")->value,
                       get(&r, "feed.casting_time")->value, get(&r, "feed.simulated_time")->value);
        clear_run(&r);
    }
}

static void
test_same_bytes(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(SMALL_PLATE);
    Run a = run_stages(mesh, 0.004, ""), b = run_stages(mesh, 0.004, "");
    for (gsize i = 0; i < G_N_ELEMENTS(ids); i++) {
        double x = get(&a, ids[i])->value, y = get(&b, ids[i])->value;
        g_assert_cmpmem(&x, sizeof x, &y, sizeof y);
    }
    clear_run(&a);
    clear_run(&b);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    g_test_add_func("/freeze/stage/top-riser", test_top_riser);
    g_test_add_func("/freeze/stage/open-riser", test_open_riser);
    g_test_add_func("/freeze/stage/riser-put", test_riser_put);
    g_test_add_func("/freeze/stage/chill", test_chill);
    g_test_add_func("/freeze/stage/chilled-neck", test_chilled_neck);
    g_test_add_func("/freeze/stage/plate", test_plate);
    g_test_add_func("/freeze/stage/riser", test_riser);
    g_test_add_func("/freeze/stage/not-enough", test_no_riser_is_enough);
    g_test_add_func("/freeze/stage/too-large", test_too_large);
    g_test_add_func("/freeze/stage/too-deep", test_too_deep);
    g_test_add_func("/freeze/stage/tall", test_tall);
    g_test_add_func("/freeze/stage/fill-time", test_own_fill_time);
    g_test_add_func("/freeze/stage/unknown", test_unknown_spreads);
    g_test_add_func("/freeze/stage/metals", test_every_metal);
    g_test_add_func("/freeze/stage/same-bytes", test_same_bytes);
    int failed = g_test_run();
    tables_free(tables);
    return failed;
}
