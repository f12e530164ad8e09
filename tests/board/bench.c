// SPDX-License-Identifier: GPL-3.0-or-later
// Castings and flasks for the tests of board/.
#include "bench.h"

#include <string.h>

#include "mould/build.h"
#include "mould/tabs.h"

// Upright walls over a plan of unit squares, each with its own height: heights[j][i] in the same
// unit, 0 for none.
static void
add_quad(GArray *corners, Vec3 a, Vec3 b, Vec3 c, Vec3 d)
{
    Vec3 six[6] = {a, b, c, a, c, d};
    g_array_append_vals(corners, six, 6);
}

// A tower of unit cubes; faces between cubes are left out.
static SolidMesh *
make_cubes(const int *heights, int nx, int ny, int nz, double unit)
{
    g_autoptr(GArray) corners = g_array_new(FALSE, FALSE, sizeof(Vec3));
#define FULL(i, j, k)                                                                              \
    ((i) >= 0 && (j) >= 0 && (k) >= 0 && (i) < nx && (j) < ny && (k) < heights[(j)*nx + (i)])
    for (int k = 0; k < nz; k++)
        for (int j = 0; j < ny; j++)
            for (int i = 0; i < nx; i++) {
                if (!FULL(i, j, k))
                    continue;
                Vec3 v[8];
                for (int c = 0; c < 8; c++)
                    v[c] = vec3((i + (c & 1)) * unit, (j + ((c >> 1) & 1)) * unit,
                                (k + (c >> 2)) * unit);
                if (!FULL(i - 1, j, k))
                    add_quad(corners, v[0], v[4], v[6], v[2]);
                if (!FULL(i + 1, j, k))
                    add_quad(corners, v[1], v[3], v[7], v[5]);
                if (!FULL(i, j - 1, k))
                    add_quad(corners, v[0], v[1], v[5], v[4]);
                if (!FULL(i, j + 1, k))
                    add_quad(corners, v[2], v[6], v[7], v[3]);
                if (!FULL(i, j, k - 1))
                    add_quad(corners, v[0], v[2], v[3], v[1]);
                if (!FULL(i, j, k + 1))
                    add_quad(corners, v[4], v[5], v[7], v[6]);
            }
#undef FULL
    g_autoptr(SolidMesh) loose = solid_mesh_new(corners->len, corners->len / 3);
    memcpy(loose->vertices, corners->data, corners->len * sizeof(Vec3));
    for (guint32 t = 0; t < loose->n_triangles; t++)
        for (guint32 c = 0; c < 3; c++)
            loose->triangles[t][c] = 3 * t + c;
    return solid_mesh_weld(loose);
}

SolidMesh *
bench_bracket(void)
{
    static const int heights[4 * 6] = {
        2, 2, 2, 2, 2, 2, //
        2, 2, 0, 0, 0, 3, //
        4, 2, 0, 0, 0, 0, //
        4, 4, 0, 0, 0, 0, //
    };
    return make_cubes(heights, 6, 4, 4, 0.0091);
}

PatternResult *
bench_pattern(SolidMesh *mesh, double allowance, double draft, int cells)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(FigureList) figures = figure_list_new();
    figure_give(figures, "mesh", "mesh", QUANTITY_TEXT, NAN, "made by code", "user");
    g_autoptr(PartResult) part = part_measure(mesh, figures, NULL, &error);
    g_assert_no_error(error);
    solid_mesh_unref(mesh);
    EnvelopeOptions o = {.allowance = allowance, .draft = draft, .cells = cells};
    EnvelopeResult e = {0};
    Vec3 up = vec3(0, 0, 1);
    PatternResult *pattern = pattern_make(part, &o, up, &e, NULL, &error);
    g_assert_no_error(error);
    envelope_result_clear(&e);
    return pattern;
}

MouldLayout *
bench_bare(const PatternResult *pattern)
{
    MouldLayout *l = mould_layout_new();
    l->length = 0.214;
    l->width = 0.163;
    l->cope = l->drag = 0.08;
    l->n_cavities = 1;
    l->cavities = g_new0(MouldCavity, 1);
    l->cavities[0] = (MouldCavity){0.031, -0.017, 1.5707963267948966, NAN, NAN, 0.031, -0.04};
    MouldTabWish tabs = {.length = l->length,
                         .width = l->width,
                         .cover = 0.025,
                         .count = 4,
                         .size = NAN,
                         .inset = NAN,
                         .shift = NAN};
    l->n_tabs = mould_tabs_place(&tabs, l->tabs);
    l->tab_clearance = 0.00025;
    return l;
}

MouldLayout *
bench_full(const PatternResult *pattern)
{
    MouldLayout *l = bench_bare(pattern);
    double edge = -0.017 - (pattern->max.x - pattern->min.x) / 2; // a quarter turn: x lies along y
    l->cavities[0].riser_x = l->cavities[0].neck_x = 0.025;
    l->cavities[0].neck_y = edge;
    l->cavities[0].riser_y = edge - 0.017;
    l->riser.diameter = 0.022;
    l->riser.height = 0.043;
    l->neck.width = 0.009;
    l->neck.up = l->neck.down = 0.0045;
    l->n_gates = 1;
    l->gates = g_new0(MouldChannel, 1);
    l->gates[0] = (MouldChannel){-0.02, edge - 0.017, 0.025 - 0.011, edge - 0.017, 0.012, 0.006};
    l->n_runners = 1;
    l->runners = g_new0(MouldChannel, 1);
    l->runners[0] = (MouldChannel){-0.02, 0.003, -0.02, -0.064, 0.010, 0.010};
    l->sprue_x = -0.02;
    l->sprue_y = 0.013;
    l->sprue_top_diameter = 0.016;
    l->sprue_bottom_diameter = 0.011;
    l->sprue_height = 0.08;
    l->basin_diameter = 0.040;
    l->basin_height = 0.017;
    l->well_diameter = 0.020;
    l->well_depth = 0.015;
    return l;
}

BoardOptions
bench_options(void)
{
    return (BoardOptions){.thickness = 0.0093,
                          .rim = 0.0185,
                          .bed = {0.3, 0.3, 0.3},
                          .detail = 0.0006,
                          .dowel = 0.003,
                          .dowel_play = 0.0002,
                          .filament_density = 1240,
                          .shell = 0.0011,
                          .fill = 0.37,
                          .most_cells = 24e6,
                          .draft = 0.035,
                          .contraction = 0.0131};
}

BoardResult *
bench_make(const BoardOptions *options, const PatternResult *pattern, const MouldLayout *layout)
{
    g_autoptr(GError) error = NULL;
    BoardResult *result = board_make(options, pattern, layout, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(result);
    return result;
}

const BoardPiece *
bench_find(const BoardResult *result, const char *name)
{
    for (guint i = 0; i < result->n_pieces; i++)
        if (g_str_equal(result->pieces[i].name, name))
            return &result->pieces[i];
    g_error("there is no piece %s", name);
}

void
bench_set_up(Bench *bench, gconstpointer data)
{
    bench->pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 60);
    bench->bare = bench_bare(bench->pattern);
    bench->full = bench_full(bench->pattern);
}

void
bench_tear_down(Bench *bench, gconstpointer data)
{
    pattern_result_unref(bench->pattern);
    mould_layout_unref(bench->bare);
    mould_layout_unref(bench->full);
}
