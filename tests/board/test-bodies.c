// SPDX-License-Identifier: GPL-3.0-or-later
// What does not hang together is printed as pieces of its own.
#include <string.h>

#include "bench.h"

#include "board/bodies.h"
#include "solid/check.h"

#define CELL 0.0011

// Boxes of cells with corners `at` and sides `size`.
static SolidGrid *
make_boxes(const int (*at)[3], const int (*size)[3], guint n)
{
    SolidGrid *g = solid_grid_new(31, 23, 17, CELL, vec3(0, 0, 0));
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                const int p[3] = {i, j, k};
                gboolean in_any = FALSE;
                for (guint b = 0; b < n; b++) {
                    gboolean in = TRUE;
                    for (int a = 0; a < 3; a++)
                        in = in && p[a] >= at[b][a] && p[a] < at[b][a] + size[b][a];
                    in_any = in_any || in;
                }
                g->value[solid_grid_index(g, i, j, k)] = (float)(in_any ? -CELL / 2 : CELL / 2);
            }
    return g;
}

static guint
count_metal(const SolidGrid *g)
{
    guint n = 0;
    for (int i = 0; i < g->nx * g->ny * g->nz; i++)
        n += g->value[i] <= 0;
    return n;
}

static void
test_boxes(void)
{
    // The third touches the first along an edge only, the fourth is one with the second, the last
    // is a crumb.
    static const int at[5][3] = {{2, 2, 0}, {15, 3, 0}, {7, 8, 0}, {19, 8, 3}, {28, 20, 9}};
    static const int size[5][3] = {{5, 6, 9}, {6, 6, 6}, {4, 5, 7}, {9, 10, 2}, {2, 3, 4}};
    g_autoptr(SolidGrid) all = make_boxes(at, size, 5);
    g_autoptr(BoardBodies) bodies = board_bodies_new(all);
    g_assert_cmpuint(board_bodies_count(bodies), ==, 3);
    const guint cells[3] = {5 * 6 * 9, 6 * 6 * 6 + 9 * 10 * 2 - 2 * 1 * 2, 4 * 5 * 7};
    for (guint i = 0; i < 3; i++) {
        g_autoptr(SolidGrid) body = board_bodies_get(bodies, i);
        g_assert_cmpuint(count_metal(body), ==, cells[i]);
    }
    // One body is handed back as it is, its crumb too.
    g_autoptr(SolidGrid) one = make_boxes(at, size, 1);
    g_autoptr(BoardBodies) same = board_bodies_new(one);
    g_assert_cmpuint(board_bodies_count(same), ==, 1);
    g_autoptr(SolidGrid) whole = board_bodies_get(same, 0);
    g_assert_true(whole == one);
}

// A riser whose neck lies in the drag alone: over the parting it stands by itself.
static void
test_riser(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) joined = bench_make(&o, f->pattern, f->full);
    f->full->neck.down += f->full->neck.up;
    f->full->neck.up = 0;
    g_autoptr(BoardResult) loose = bench_make(&o, f->pattern, f->full);
    const BoardPiece *casting = bench_find(loose, "cope-pattern");
    const BoardPiece *riser = bench_find(loose, "cope-pattern-body-2");
    g_assert_cmpuint(riser->count, ==, casting->count);
    g_assert_cmpfloat(casting->volume + riser->volume, <,
                      bench_find(joined, "cope-pattern")->volume);
    if (casting->volume < riser->volume) { // whichever is the larger
        const BoardPiece *other = riser;
        riser = casting;
        casting = other;
    }
    // The riser's cylinder with its gate, by hand.
    double r = f->full->riser.diameter / 2;
    g_assert_cmpfloat(riser->volume, >, 0.9 * G_PI * r * r * f->full->riser.height);
    // One body each, by the way their triangles hang together.
    g_assert_cmpuint(solid_check(casting->mesh).shells, ==, 1);
    g_assert_cmpuint(solid_check(riser->mesh).shells, ==, 1);
    gboolean said = FALSE;
    for (char **note = loose->notes; *note; note++)
        said = said || strstr(*note, "2 bodies") != NULL;
    g_assert_true(said);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/board/bodies/boxes", test_boxes);
    g_test_add("/board/bodies/riser", Bench, NULL, bench_set_up, test_riser, bench_tear_down);
    return g_test_run();
}
