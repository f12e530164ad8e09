// SPDX-License-Identifier: GPL-3.0-or-later
// Cells at 256 a side beside VTK and scipy, where they are installed: the exact distance transform,
// the net over a region, and which cells a mesh of a million triangles holds. Both sides get the
// same bytes by turns in the same run, and their results are compared. Times are printed and never
// asserted; the program fails only when results differ.
#include <glib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "bumpy.h"
#include "check.h"
#include "peer.h"
#include "solid/bvh.h"
#include "solid/grid.h"
#include "solid/net.h"

#define N 256
#define CELLS ((gsize)N * N * N)
#define CELL 0.00045 // m
#define RUNS 3

static gboolean differs;

static void
say_agreement(const char *what, gboolean agree)
{
    g_print("  %s: %s\n", what, agree ? "agree" : "DIFFER");
    differs |= !agree;
}

static SolidGrid *
make_shape(void)
{
    double start = -0.5 * (N - 1) * CELL;
    return solid_grid_new(N, N, N, CELL, vec3(start, start, start));
}

static char *
save(const Peer *peer, const char *name, gconstpointer data, gsize size)
{
    g_autofree char *path = peer_path(peer, name);
    g_autoptr(GError) error = NULL;
    g_file_set_contents(path, data, (gssize)size, &error);
    g_assert_no_error(error);
    return g_steal_pointer(&path);
}

static void
compare_distances(const SolidGrid *ours, const char *path, const char *who)
{
    g_autofree float *theirs = peer_read(path, CELLS * sizeof *theirs);
    double most = 0;
    for (gsize at = 0; theirs && at < CELLS; at++) {
        double a = ours->value[at] / CELL, b = (double)theirs[at];
        most = fmax(most, fabs(a - b) / fmax(1, b));
    }
    g_autofree char *what = g_strdup_printf("distances and %s's, at most %.1e apart", who, most);
    say_agreement(what, theirs && most <= 1e-5);
}

// Every 7919th cell set: distances of all sizes, no plane to be lucky with.
static void
bench_transform(Peer *peer)
{
    static const struct {
        const char *name, *request;
        double aim;
    } others[2] = {{"VTK exact (Saito)", "edt-vtk", 3}, {"scipy", "edt-scipy", 15}};
    g_autoptr(SolidGrid) shape = make_shape();
    g_autofree guint8 *set = g_new0(guint8, CELLS);
    for (gsize at = 0; at < CELLS; at += 7919)
        set[at] = 1;
    g_print("Distance transform, %d^3\n", N);
    g_autofree char *in = peer ? save(peer, "marks", set, CELLS) : NULL;
    g_autoptr(SolidGrid) last = NULL;
    Timing ours = {0}, theirs[2] = {{0}, {0}};
    for (int run = 0; run < RUNS; run++) {
        g_clear_pointer(&last, solid_grid_unref);
        Moment start = timing_now();
        last = solid_grid_edt(set, shape, NULL, NULL);
        timing_add(&ours, start);
        for (int o = 0; peer && o < 2; o++) {
            g_autofree char *out = peer_path(peer, others[o].request);
            g_autofree char *request = g_strdup_printf("%s %s %s %d", others[o].request, in, out,
                                                       N);
            if (peer_run(peer, request, &theirs[o]) && run == 0)
                compare_distances(last, out, others[o].name);
        }
    }
    timing_print("ours", &ours);
    for (int o = 0; o < 2; o++)
        if (theirs[o].n > 0) {
            timing_print(others[o].name, &theirs[o]);
            timing_compare(others[o].name, &ours, &theirs[o], others[o].aim);
        }
}

static int
compare_edges(const void *a, const void *b)
{
    const guint64 *x = a, *y = b;
    return *x < *y ? -1 : *x > *y;
}

// Edges of one triangle, and edges of more than two.
static void
count_edges(const char *who, const guint32 *corners, gsize n_triangles, gsize *open, gsize *many)
{
    gsize n = 3 * n_triangles;
    g_autofree guint64 *edges = g_new(guint64, n + 1);
    for (gsize e = 0; e < n; e++) {
        guint32 a = corners[e], b = corners[e % 3 == 2 ? e - 2 : e + 1];
        edges[e] = (guint64)MIN(a, b) << 32 | MAX(a, b);
    }
    qsort(edges, n, sizeof *edges, compare_edges);
    *open = *many = 0;
    for (gsize a = 0, b; a < n; a = b) {
        for (b = a; b < n && edges[b] == edges[a];)
            b++;
        *open += b - a == 1;
        *many += b - a > 2;
    }
    g_print("  %s: %" G_GSIZE_FORMAT " triangles, %" G_GSIZE_FORMAT " open edges, %" G_GSIZE_FORMAT
            " of more than two\n",
            who, n_triangles, *open, *many);
}

static void
count_theirs(const char *path)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *data = NULL;
    gsize size, open, many;
    if (g_file_get_contents(path, &data, &size, &error))
        count_edges("VTK", (const guint32 *)(gpointer)data, size / 12, &open, &many);
}

static void
bench_net(Peer *peer, const char *title, const SolidGrid *field, double aim)
{
    g_print("Net over a region, %d^3: %s\n", field->nx, title);
    gsize cells = (gsize)field->nx * field->ny * field->nz;
    g_autofree char *in = peer ? save(peer, title, field->value, cells * sizeof(float)) : NULL;
    g_autofree char *out = peer ? peer_path(peer, "net-vtk") : NULL;
    Timing ours = {0}, theirs = {0};
    for (int run = 0; run < 5; run++) {
        gsize open, many;
        Moment start = timing_now();
        g_autoptr(SolidMesh) mesh = solid_net(field, NULL, NULL, NULL);
        timing_add(&ours, start);
        if (run == 0) {
            count_edges("ours", mesh->triangles[0], mesh->n_triangles, &open, &many);
            say_agreement("closed and manifold, and every edge of two triangles",
                          open == 0 && many == 0);
        }
        g_autofree char *request = g_strdup_printf("net-vtk %s %s %d", in, out, field->nx);
        if (peer && peer_run(peer, request, &theirs) && run == 0)
            count_theirs(out);
    }
    timing_print("ours", &ours);
    if (theirs.n > 0) {
        timing_print("VTK flying edges", &theirs);
        timing_compare("VTK flying edges", &ours, &theirs, aim);
    }
}

static void
bench_nets(Peer *peer)
{
    g_autoptr(SolidMesh) mesh = bumpy_sphere(100000, 0.05);
    g_autoptr(SolidGrid) shape = make_shape();
    g_autofree guint8 *inside = solid_grid_inside(mesh, shape, NULL, NULL);
    g_autoptr(SolidGrid) field = solid_grid_distance_as(mesh, inside, shape, 2 * CELL, NULL, NULL);
    bench_net(peer, "bumpy-sphere", field, 1 / 1.5);
    // Every case a cube can have, beside every other: no surface anybody has, so without an aim.
    g_autoptr(SolidGrid) noise = solid_grid_new(64, 64, 64, CELL, vec3(0, 0, 0));
    g_autoptr(GRand) rand = g_rand_new_with_seed(20117);
    for (int k = 0; k < 64; k++)
        for (int j = 0; j < 64; j++)
            for (int i = 0; i < 64; i++) {
                gboolean edge = MIN(i, MIN(j, k)) < 2 || MAX(i, MAX(j, k)) > 61;
                double value = g_rand_double_range(rand, -1, 1);
                noise->value[solid_grid_index(noise, i, j, k)] = edge ? 1 : (float)value;
            }
    bench_net(peer, "noise", noise, 0);
}

// Cells on which the sides differ must lie within a cell of the surface.
static void
compare_voxels(const SolidMesh *mesh, const SolidGrid *g, const guint8 *ours, const char *path)
{
    g_autofree guint8 *theirs = peer_read(path, CELLS);
    g_autoptr(SolidBvh) bvh = solid_bvh_new(mesh);
    gsize other = 0, far = 0;
    for (gsize at = 0; theirs && at < CELLS; at++)
        if (!ours[at] != !theirs[at]) {
            Vec3 p = vec3(g->origin.x + CELL * (double)(at % N),
                          g->origin.y + CELL * (double)(at / N % N),
                          g->origin.z + CELL * (double)(at / ((gsize)N * N)));
            other++;
            far += solid_bvh_nearest(bvh, p, SOLID_NO_TRIANGLE).distance > CELL;
        }
    g_autofree char *what = g_strdup_printf("cells and VTK's, but for %" G_GSIZE_FORMAT
                                            " within a cell of the surface and %" G_GSIZE_FORMAT
                                            " beyond",
                                            other - far, far);
    say_agreement(what, theirs && far == 0);
}

static void
bench_voxels(Peer *peer)
{
    g_autoptr(SolidMesh) mesh = bumpy_sphere(1000000, 0.05);
    g_autoptr(SolidGrid) shape = make_shape();
    Timing ours = {0}, theirs = {0};
    g_print("Cells of a mesh of %u triangles, %d^3\n", mesh->n_triangles, N);
    g_autofree Vec3 *corners = g_new(Vec3, 3 * (gsize)mesh->n_triangles);
    for (gsize c = 0; c < 3 * (gsize)mesh->n_triangles; c++)
        corners[c] = mesh->vertices[mesh->triangles[c / 3][c % 3]];
    gsize size = 3 * (gsize)mesh->n_triangles * sizeof(Vec3);
    g_autofree char *in = peer ? save(peer, "mesh", corners, size) : NULL;
    g_autofree char *out = peer ? peer_path(peer, "voxels-vtk") : NULL;
    for (int run = 0; run < RUNS; run++) {
        char cell[G_ASCII_DTOSTR_BUF_SIZE], origin[G_ASCII_DTOSTR_BUF_SIZE];
        g_ascii_dtostr(cell, sizeof cell, CELL);
        g_ascii_dtostr(origin, sizeof origin, shape->origin.x);
        Moment start = timing_now();
        g_autofree guint8 *inside = solid_grid_inside(mesh, shape, NULL, NULL);
        timing_add(&ours, start);
        g_autofree char *request = g_strdup_printf("voxels-vtk %s %s %d %s %s", in, out, N, cell,
                                                   origin);
        if (peer && peer_run(peer, request, &theirs) && run == 0)
            compare_voxels(mesh, shape, inside, out);
    }
    timing_print("ours", &ours);
    if (theirs.n > 0) {
        timing_print("VTK stencil", &theirs);
        timing_compare("VTK stencil", &ours, &theirs, 20);
    }
}

int
main(void)
{
    g_autoptr(Peer) peer = peer_start();
    bench_transform(peer);
    bench_nets(peer);
    bench_voxels(peer);
    return differs ? 1 : 0;
}
