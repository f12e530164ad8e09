// SPDX-License-Identifier: GPL-3.0-or-later
// The list made with coarse facets tells what will be printed: the same pieces, cut at the same
// places, of the same volume. And parts of one piece meet where it was cut.
#include <glib/gstdio.h>

#include "bench.h"
#include "rays.h"

#include "board/pieces.h"
#include "solid/measure.h"
#include "solid/write.h"

// Volumes of what is whole agree within half a percent; a part's, by where between two coarse cells
// the cut can be.
static void
check_same_pieces(const BoardResult *list, const BoardResult *printed, gboolean same_dowels)
{
    double volume[2][BOARD_PIECE_KINDS] = {{0}};
    g_assert_cmpuint(list->n_pieces, ==, printed->n_pieces);
    g_assert_cmpuint(list->count, ==, printed->count);
    for (guint i = 0; i < list->n_pieces; i++) {
        const BoardPiece *a = &list->pieces[i], *b = &printed->pieces[i];
        g_assert_cmpstr(a->name, ==, b->name);
        g_assert_cmpint(a->kind, ==, b->kind);
        g_assert_cmpuint(a->count, ==, b->count);
        if (same_dowels)
            g_assert_cmpuint(a->n_dowels, ==, b->n_dowels);
        for (guint d = 0; d < a->n_dowels && same_dowels; d++) {
            check_close(a->dowels[d].x - b->dowels[d].x, 0, 1e-9, "the list's dowels");
            check_close(a->dowels[d].y - b->dowels[d].y, 0, 1e-9, "the list's dowels");
        }
        volume[0][a->kind] += a->count * a->volume;
        volume[1][b->kind] += b->count * solid_measure(b->mesh).volume;
        // Board tiles are cut beside the dowels.
        double loose = a->cell + (same_dowels ? 1e-9 : 0.005);
        g_assert_cmpfloat(fabs(a->size.x - b->size.x), <=, loose);
        g_assert_cmpfloat(fabs(a->size.y - b->size.y), <=, loose);
        g_assert_cmpfloat(fabs(a->size.z - b->size.z), <=, loose);
    }
    for (int kind = 0; kind < BOARD_PIECE_KINDS; kind++)
        check_close(volume[0][kind], volume[1][kind], 0.005, "measure of what is printed");
    check_close(list->mass, printed->mass, 0.005, "filament of what is printed");
    check_close(list->shell, printed->shell, 0.01, "shells of what is printed");
}

static void
test_same_pieces(Bench *f, gconstpointer data)
{
    BoardOptions fine = bench_options(), coarse = fine;
    static const double beds[][3] = {{0.3, 0.3, 0.3}, {0.125, 0.1, 0.05}, {0.061, 0.047, 0.033}};
    fine.detail = coarse.detail = 0.00047;
    coarse.most_cells = BOARD_FEW_CELLS;
    for (guint i = 0; i < G_N_ELEMENTS(beds); i++) {
        fine.bed = coarse.bed = vec3(beds[i][0], beds[i][1], beds[i][2]);
        g_autoptr(BoardResult) list = bench_make(&coarse, f->pattern, f->full);
        g_autoptr(BoardResult) printed = bench_make(&fine, f->pattern, f->full);
        g_assert_cmpfloat(list->detail, >, 1.5 * printed->detail);
        if (i > 0)
            g_assert_cmpuint(list->n_pieces, >, 8);
        // In the smallest pieces there is hardly room for dowels, and they may have to move.
        check_same_pieces(list, printed, i < 2);
    }
}

// All that is printed for one bare cavity: the enlarged casting, and two boards.
static void
test_whole(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->bare);
    const MouldLayout *l = f->bare;
    double board = (l->length + 2 * o.rim) * (l->width + 2 * o.rim) * o.thickness;
    double casting = pow(1 + o.contraction, 3) * solid_measure(f->pattern->mesh).volume;
    check_close(r->volume, 2 * board + casting, 0.005, "closed form, and the casting's own mesh");
}

// The mesh of a piece where it stands, in flask axes.
static SolidMesh *
stand(const BoardPiece *piece)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    SolidMesh *mesh = solid_mesh_transformed(piece->mesh, same, vec3(0, 0, 0));
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        mesh->vertices[i] = board_point(piece, 0, mesh->vertices[i]);
    return mesh;
}

// A runner longer than the bed: where it is cut, what is metal on one side is so on the other, and
// in the middle of the cut there are holes that go on from one part into the other.
static void
test_cut_meets(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    o.bed = vec3(0.067, 0.067, 0.3);
    g_autoptr(BoardResult) cut = bench_make(&o, f->pattern, f->full);
    g_autoptr(SolidMesh) one = stand(bench_find(cut, "runner-1"));
    g_autoptr(SolidMesh) two = stand(bench_find(cut, "runner-2"));
    SolidMeasure a = solid_measure(one), b = solid_measure(two);
    // Turned over, the part that is first in its board's axes has the greater y.
    double y = a.min.y;
    check_close(y, b.max.y, 1e-6, "one cut");
    const double near = 0.0004;
    guint metal = 0, empty = 0, holes = 0;
    GRand *random = g_rand_new_with_seed(90);
    for (int i = 0; i < 6000; i++) {
        Vec3 p = vec3(g_rand_double_range(random, a.min.x, a.max.x), y,
                      g_rand_double_range(random, a.min.z, a.max.z));
        gboolean in_one = rays_inside(one, vec3(p.x, y + near, p.z));
        gboolean in_two = rays_inside(two, vec3(p.x, y - near, p.z));
        metal += in_one && in_two;
        empty += !in_one && !in_two;
        // Deeper than the dowels go nothing is drilled: a hole is where that is metal.
        double deep = 2.5 * o.dowel + 0.001;
        if (!in_one && !in_two && rays_inside(one, vec3(p.x, y + deep, p.z)) &&
            rays_inside(two, vec3(p.x, y - deep, p.z)))
            holes++;
    }
    g_rand_free(random);
    g_test_message("%u metal, %u empty, of these %u in holes", metal, empty, holes);
    g_assert_cmpuint(metal + empty, >, 5880); // but for what is nearer to an edge than `near`
    double share = (double)holes / 6000 * (a.max.x - a.min.x) * (a.max.z - a.min.z);
    double r = (o.dowel + o.dowel_play) / 2;
    g_assert_cmpfloat(share, >, 0.8 * G_PI * r * r);
    g_assert_cmpfloat(share, <, 2.2 * G_PI * r * r);
}

// A casting of 100 mm at the default detail: its file is under 20 MB, and no larger than the list
// has said.
static void
test_hundred(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(PatternResult)
                  pattern = bench_pattern(check_mesh_sphere(0.0493, 48, 96), 0.0011, 0.02, 48);
    g_autoptr(MouldLayout) layout = bench_bare(pattern);
    BoardOptions o = bench_options(), coarse = o;
    o.detail = coarse.detail = 0.0005;
    coarse.most_cells = BOARD_FEW_CELLS;
    g_autoptr(BoardResult) list = bench_make(&coarse, pattern, layout);
    g_autoptr(BoardResult) printed = bench_make(&o, pattern, layout);
    check_same_pieces(list, printed, TRUE);
    g_assert_cmpfloat(printed->detail, ==, 0.0005);
    g_autofree char *folder = check_folder();
    for (guint i = 0; i < printed->n_pieces; i++) {
        const BoardPiece *piece = &printed->pieces[i];
        g_autofree char *path = g_build_filename(folder, piece->name, NULL);
        GStatBuf file;
        g_assert_true(solid_write_stl(piece->mesh, path, FALSE, &error));
        g_assert_cmpint(g_stat(path, &file), ==, 0);
        g_test_message("%s: %.2f MB", piece->name, file.st_size / 1e6);
        g_assert_cmpfloat(file.st_size, <, 20e6);
        g_assert_cmpfloat(file.st_size, <=, 84 + 50 * board_facets(&list->pieces[i], &coarse));
        rays_check_closed(piece->mesh, piece->name);
    }
    check_folder_remove(folder);
}

static void
test_bed_share(void)
{
    check_close(board_bed_share(vec3(0.11, 0.19, 0.03), vec3(0.22, 0.2, 0.25)), 0.19 / 0.22, 1e-12,
                "turned, the long side along the bed");
    check_close(board_bed_share(vec3(0.21, 0.13, 0.03), vec3(0.22, 0.2, 0.25)), 0.21 / 0.22, 1e-12,
                "as it is");
    check_close(board_bed_share(vec3(0.05, 0.04, 0.3), vec3(0.22, 0.2, 0.25)), 1.2, 1e-12,
                "too high");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/board/list/" name, Bench, NULL, bench_set_up, function, bench_tear_down)
    ADD("same-pieces", test_same_pieces);
    ADD("whole", test_whole);
    ADD("cut-meets", test_cut_meets);
    g_test_add_func("/board/list/hundred", test_hundred);
    g_test_add_func("/board/list/bed-share", test_bed_share);
    return g_test_run();
}
