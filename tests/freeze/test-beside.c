// SPDX-License-Identifier: GPL-3.0-or-later
// A riser beside a casting with one heavy end, through the stages: it stands there, the heat flow
// sees it there, and the way metal has to be fed is counted from there.
#include "check.h"
#include "run.h"

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
    check_formulas(r.feeds);
    check_formulas(r.moulds);
    check_formulas(r.freezes);
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
    check_formulas(far.feeds);
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
    check_formulas(r.moulds);
    g_assert_cmpuint(r.mould->n_cavities, >=, 1);
    g_assert_cmpuint(mould_layout_cold(r.mould), ==, r.mould->n_cavities);
    g_assert_nonnull(g_strrstr(get(&r, "mould.risers_cold")->note, "through the casting"));
    g_assert_false(isnan(get(&r, "mould.fill_time")->value));
    clear_run(&r);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    g_test_add_func("/freeze/beside/heavy-end", test_heavy_end);
    g_test_add_func("/freeze/beside/cold", test_cold);
    int failed = g_test_run();
    tables_free(tables);
    return failed;
}
