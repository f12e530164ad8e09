// SPDX-License-Identifier: GPL-3.0-or-later
// Risers beside a casting with one heavy end, chills, and the weight on the cope, through the
// stages: covers, heat flow and feed distance count from where they are.
#include "check.h"
#include "run.h"

#include <string.h>

#define LONG 0.0917
#define WIDE 0.0713

// Thin at x = 0, five times as thick at its other end.
static SolidMesh *
make_wedge(void)
{
    SolidMesh *mesh = check_mesh_box(LONG, WIDE, 0.0263);
    for (guint i = 0; i < mesh->n_vertices; i++)
        if (mesh->vertices[i].x < LONG / 2 && mesh->vertices[i].z > 0.01)
            mesh->vertices[i].z = 0.0053;
    return mesh;
}

static void
test_heavy_end(void)
{
    g_autoptr(SolidMesh) mesh = make_wedge();
    Run r = run_stages(mesh, 0.002, ",\"riser\":\"always\"");
    check_figures(r.feeds);
    check_figures(r.moulds);
    check_figures(r.freezes);
    g_assert_cmpfloat(r.feed->x, >, LONG / 4);
    g_assert_cmpuint(r.mould->n_cavities, >=, 1);
    Vec3 joint;
    g_assert_true(mould_layout_joint(r.mould, &joint));
    check_close(joint.x, LONG / 2, 0.01, "at the heavy end");
    g_assert_cmpuint(mould_layout_cold(r.mould), ==, 0);
    g_assert_cmpfloat(get(&r, "mould.risers_cold")->value, ==, 0);
    check_close(get(&r, "mould.neck_length")->value, 0.5 * r.feed->neck, 1e-6,
                "half as long as wide");
    g_assert_cmpfloat(r.mould->neck.joint_above, >, 0.015);
    double metal = r.mould->n_cavities * (get(&r, "mould.cavity_volume")->value + r.feed->volume);
    g_assert_cmpfloat(r.mould->metal_volume, >, metal);
    // Fed from the heavy end the heavy places are near; from the thin one as far as it is long.
    double near = get(&r, "feed.distance")->value;
    g_assert_cmpfloat(near, <, LONG / 2);
    g_assert_cmpfloat(r.freeze->simulated_riser_time, >, r.freeze->simulated_time);
    clear_run(&r);
    Run far = run_stages(mesh, 0.002,
                         ",\"riser\":\"always\",\"riser_x\":\"-50 mm\",\"riser_y\":\"0\"");
    check_figures(far.feeds);
    g_assert_true(mould_layout_joint(far.mould, &joint));
    check_close(joint.x, -LONG / 2, 0.01, "where it was put");
    g_assert_cmpfloat(get(&far, "feed.distance")->value, >, LONG / 2);
    g_assert_cmpint(far.freeze->hot_spots, >=, 1);
    clear_run(&far);
}

// Where it may not be turned the gate goes into the casting, and the figures say so.
static void
test_cold(void)
{
    g_autoptr(SolidMesh) mesh = make_wedge();
    Run r = run_some(mesh, 0.002,
                     ",\"riser\":\"always\",\"turning\":\"none\",\"riser_x\":\"0\","
                     "\"riser_y\":\"40 mm\"",
                     FALSE);
    check_figures(r.moulds);
    g_assert_cmpuint(r.mould->n_cavities, >=, 1);
    g_assert_cmpuint(mould_layout_cold(r.mould), ==, r.mould->n_cavities);
    g_assert_nonnull(g_strrstr(get(&r, "mould.risers_cold")->note, "through the casting"));
    g_assert_false(isnan(get(&r, "mould.fill_time")->value));
    clear_run(&r);
}

// A chill under it: the casting is solid sooner, and sooner below than above; the sand under it is
// less by the chill.
static void
test_chilled(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0613, 0.0587, 0.0263);
    Run bare = run_stages(mesh, 0.013, ",\"riser\":\"none\"");
    Run iron = run_stages(mesh, 0.013,
                          ",\"riser\":\"none\",\"chills\":\"iron\",\"chill_width\":\"50 mm\","
                          "\"chill_thickness\":\"17 mm\"");
    check_figures(iron.moulds);
    check_figures(iron.freezes);
    g_assert_cmpfloat(iron.freeze->simulated_time, <, 0.9 * bare.freeze->simulated_time);
    const SolidGrid *t = iron.freeze->solid_times, *b = bare.freeze->solid_times;
    double low = solid_grid_sample(t, vec3(0, 0, -0.009)),
           high = solid_grid_sample(t, vec3(0, 0, 0.009));
    g_assert_cmpfloat(low, <, 0.8 * high);
    check_close(solid_grid_sample(b, vec3(0, 0, -0.009)), solid_grid_sample(b, vec3(0, 0, 0.009)),
                0.1, "bare, both sides alike");
    g_assert_cmpint(iron.freeze->hot_spots, <=, bare.freeze->hot_spots);
    check_close(get(&bare, "mould.sand_cover.bottom")->value -
                    get(&iron, "mould.sand_cover.bottom")->value,
                0.017, 0.01, "its thickness");
    check_close(iron.mould->cover_bottom, get(&iron, "mould.sand_cover.bottom")->value, 1e-9,
                "the layout's own");
    clear_run(&iron);
    Run over = run_some(mesh, 0.013,
                        ",\"riser\":\"none\",\"chills\":\"iron\",\"chill_half\":\"cope\","
                        "\"chill_thickness\":\"17 mm\"",
                        FALSE);
    check_figures(over.moulds);
    check_close(get(&bare, "mould.sand_cover.top")->value -
                    get(&over, "mould.sand_cover.top")->value,
                0.017, 0.01, "its thickness");
    clear_run(&over);
    clear_run(&bare);
}

// A large casting that stands aside lifts and tips the cope: the figures say how much to put on it
// and where, and what they say holds by the moments about the edge.
static void
test_weight(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.183, 0.121, 0.0127);
    Run r = run_some(mesh, 0.004,
                     ",\"riser\":\"none\",\"lift_factor\":\"5\",\"cavities\":\"1\","
                     "\"placement\":\"80 mm, 40 mm, 0 deg\"",
                     FALSE);
    check_figures(r.moulds);
    g_assert_cmpuint(r.mould->n_cavities, ==, 1);
    double lift = get(&r, "mould.lift_force")->value, at = get(&r, "mould.lift_x")->value;
    double cope = get(&r, "mould.cope_mass")->value * 9.80665,
           added = get(&r, "mould.weight_to_add")->value;
    double half[2] = {r.mould->length / 2, r.mould->width / 2};
    g_assert_cmpfloat(added, >, lift / 9.80665 - cope / 9.80665);
    g_assert_cmpfloat(at, >, 0.02);
    // About each far edge the lift just balances, or less.
    double y = get(&r, "mould.lift_y")->value, tightest = INFINITY;
    double cx = get(&r, "mould.cope_x")->value, cy = get(&r, "mould.cope_y")->value;
    double along = (cope * (half[0] + cx) + added * 9.80665 * half[0]) - lift * (half[0] + at);
    double across = (cope * (half[1] + cy) + added * 9.80665 * half[1]) - lift * (half[1] + y);
    tightest = fmin(along, across);
    g_assert_cmpfloat(fabs(tightest), <, 1e-9 * lift);
    g_assert_cmpfloat(get(&r, "mould.weight_x")->value, >, 0);
    g_assert_nonnull(g_strrstr(get(&r, "mould.weight_to_add")->note, "evenly"));
    g_assert_nonnull(g_strrstr(get(&r, "mould.lift_tipping")->note, "tip"));
    g_assert_cmpint(get(&r, "mould.hold_force")->state, ==, FIGURE_FAILS);
    clear_run(&r);
}

// Freezing time goes as the square of the modulus: a riser with 1.03 times that of the section
// outlasts it by 6 %, which is close, one with 1.2 times by 44 %.
static void
test_tight(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(0.0217, 0.0386, 48);
    Run r = run_some(mesh, 0.01, ",\"riser_margin\":\"1.03\"", FALSE);
    const Figure *f = get(&r, "feed.riser_time");
    check_close(f->value / f->limit, 1.03 * 1.03, 1e-9, "square of the modulus");
    g_assert_cmpint(f->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(f->note, "(job.riser_margin)"));
    clear_run(&r);
    Run ample = run_some(mesh, 0.01, ",\"riser_margin\":\"1.2\"", FALSE);
    g_assert_cmpint(get(&ample, "feed.riser_time")->state, ==, FIGURE_HOLDS);
    g_assert_null(get(&ample, "feed.riser_time")->note);
    clear_run(&ample);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    g_test_add_func("/freeze/feeding/heavy-end", test_heavy_end);
    g_test_add_func("/freeze/feeding/cold", test_cold);
    g_test_add_func("/freeze/feeding/chilled", test_chilled);
    g_test_add_func("/freeze/feeding/tight", test_tight);
    g_test_add_func("/freeze/feeding/weight", test_weight);
    int failed = g_test_run();
    tables_free(tables);
    return failed;
}
