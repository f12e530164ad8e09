// SPDX-License-Identifier: GPL-3.0-or-later
// Signs, exact distances, volume and surface on a grid, against closed forms and brute force.
#include "check.h"
#include "solid/bvh.h"
#include "solid/edt.h"
#include "solid/grid.h"
#include "solid/net.h"
#include "solid/triangle.h"

#include <string.h>

#define MM 1e-3

static Vec3
get_middle(const SolidGrid *g, int i, int j, int k)
{
    return vec3(g->origin.x + i * g->cell, g->origin.y + j * g->cell, g->origin.z + k * g->cell);
}

// Signed distance of the box from the origin to (x,y,z): closed form.
static double
measure_box(Vec3 p, Vec3 size)
{
    Vec3 half = vec3_scale(size, 0.5);
    double x = fabs(p.x - half.x) - half.x, y = fabs(p.y - half.y) - half.y;
    double z = fabs(p.z - half.z) - half.z;
    double out = sqrt(pow(fmax(x, 0), 2) + pow(fmax(y, 0), 2) + pow(fmax(z, 0), 2));
    return out + fmin(fmax(x, fmax(y, z)), 0);
}

static void
test_box(void)
{
    Vec3 size = vec3(23.7 * MM, 11.3 * MM, 31.9 * MM);
    g_autoptr(SolidMesh) mesh = check_mesh_box(size.x, size.y, size.z);
    double band = 4.1 * MM, worst = 0, worst_far = 0;
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) g = solid_grid_distance(mesh, 0.83 * MM, 9 * MM, band, NULL, &error);
    g_assert_no_error(error);
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                double expected = measure_box(get_middle(g, i, j, k), size);
                double value = g->value[solid_grid_index(g, i, j, k)];
                g_assert_cmpint(value < 0, ==, expected < 0);
                if (fabs(expected) <= band)
                    worst = fmax(worst, fabs(value - expected));
                else {
                    g_assert_cmpfloat(fabs(value), >=, band * (1 - 1e-6));
                    worst_far = fmax(worst_far, fabs(value - expected));
                }
            }
    check_close(worst, 0, 1e-8, "closed form of a box, single precision");
    check_close(worst_far, 0, 0.1 * MM, "beyond the band, a tenth of a cell or so");
}

// The distance to a turned ball's facets lies between those to its inner and outer sphere.
static void
test_sphere(void)
{
    double radius = 17.3 * MM;
    g_autoptr(SolidMesh) ball = check_mesh_sphere(radius, 96, 192);
    g_autoptr(SolidMesh) mesh = check_mesh_turned(ball);
    Vec3 middle = vec3(0.0131, -0.0273, 0.0057);
    double sag = radius * (1 - cos(G_PI / 96)) * 1.6;
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) g = solid_grid_distance(mesh, 0.9 * MM, 4 * MM, 3 * MM, NULL, &error);
    g_assert_no_error(error);
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                double d = vec3_length(vec3_sub(get_middle(g, i, j, k), middle)) - radius;
                double value = g->value[solid_grid_index(g, i, j, k)];
                double far = fabs(d) > 3 * MM ? 0.5 * MM : 0; // about half a cell beyond the band
                g_assert_cmpfloat(value, >=, d - 1e-8 - far);
                g_assert_cmpfloat(value, <=, d + sag + far);
            }
    double volume = 4 * G_PI * pow(radius, 3) / 3, area = 4 * G_PI * radius * radius;
    check_close(solid_grid_volume(g, 0), volume, 0.003, "4/3 pi r^3");
    check_close(solid_grid_area(g, 0), area, 0.004, "4 pi r^2");
    check_close(solid_grid_volume(g, 1.3 * MM), 4 * G_PI * pow(radius + 1.3 * MM, 3) / 3, 0.003,
                "level set of a ball is a ball");
}

static double
measure_area(const SolidMesh *mesh, double *volume)
{
    double area = 0;
    *volume = 0;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        Vec3 a = mesh->vertices[mesh->triangles[t][0]], b = mesh->vertices[mesh->triangles[t][1]];
        Vec3 c = mesh->vertices[mesh->triangles[t][2]];
        area += 0.5 * vec3_length(vec3_cross(vec3_sub(b, a), vec3_sub(c, a)));
        *volume += vec3_dot(a, vec3_cross(b, c)) / 6;
    }
    return area;
}

// Errors fall with the square of the cell.
static void
test_converges(void)
{
    double r = 10 * MM, volume = 4 * G_PI * r * r * r / 3, area = 4 * G_PI * r * r;
    double cells[2] = {r / 8.13, r / 16.26}, bound[2] = {0.009, 0.0023};
    for (int n = 0; n < 2; n++) {
        int side = (int)ceil(2.6 * r / cells[n]);
        Vec3 origin = vec3(-1.31 * r, -1.29 * r, -1.3 * r);
        g_autoptr(SolidGrid) g = solid_grid_new(side, side, side, cells[n], origin);
        for (int k = 0; k < side; k++)
            for (int j = 0; j < side; j++)
                for (int i = 0; i < side; i++)
                    g->value[solid_grid_index(g, i, j, k)] = (float)(vec3_length(
                                                                         get_middle(g, i, j, k)) -
                                                                     r);
        check_close(solid_grid_volume(g, 0), volume, bound[n], "4/3 pi r^3");
        check_close(solid_grid_area(g, 0), area, bound[n], "4 pi r^2");
        g_autoptr(SolidMesh) net = solid_net(g, NULL, NULL, NULL);
        double net_volume, net_area = measure_area(net, &net_volume);
        check_close(net_volume, volume, 0.0004, "4/3 pi r^3");
        check_close(net_area, area, bound[n] / 5, "4 pi r^2");
    }
}

// Every edge of a net is walked once each way.
static void
test_net_closed(void)
{
    g_autoptr(SolidMesh) torus = check_mesh_torus(12.7 * MM, 4.4 * MM, 48, 24);
    g_autoptr(SolidMesh) mesh = check_mesh_turned(torus);
    g_autoptr(SolidGrid) g = solid_grid_distance(mesh, 1.1 * MM, 3 * MM, 2 * MM, NULL, NULL);
    g_autoptr(SolidMesh) net = solid_net(g, NULL, NULL, NULL);
    g_autoptr(GHashTable) edges = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    for (guint32 t = 0; t < net->n_triangles; t++)
        for (int c = 0; c < 3; c++) {
            guint64 a = net->triangles[t][c], b = net->triangles[t][(c + 1) % 3];
            guint64 *key = g_new(guint64, 1);
            *key = a << 32 | b;
            g_assert_true(g_hash_table_add(edges, key));
        }
    GHashTableIter iter;
    gpointer key;
    g_hash_table_iter_init(&iter, edges);
    while (g_hash_table_iter_next(&iter, &key, NULL)) {
        guint64 back = *(guint64 *)key << 32 | *(guint64 *)key >> 32;
        g_assert_true(g_hash_table_contains(edges, &back));
    }
    double volume;
    measure_area(net, &volume);
    check_close(volume, 2 * G_PI * G_PI * 12.7 * 4.4 * 4.4 * 1e-9, 0.03, "2 pi^2 R r^2");
}

static void
test_edt(void)
{
    g_autoptr(SolidGrid) shape = solid_grid_new(19, 13, 17, 0.7 * MM, vec3(0, 0, 0));
    g_autofree guint8 *set = g_new0(guint8, 19 * 13 * 17);
    g_autoptr(GRand) rand = g_rand_new_with_seed(71);
    for (int n = 0; n < 23; n++)
        set[g_rand_int_range(rand, 0, 19 * 13 * 17)] = 1;
    g_autoptr(SolidGrid) d = solid_grid_edt(set, shape, NULL, NULL);
    for (int at = 0; at < 19 * 13 * 17; at++) {
        int best = G_MAXINT;
        for (int s = 0; s < 19 * 13 * 17; s++) {
            int x = at % 19 - s % 19, y = at / 19 % 13 - s / 19 % 13, z = at / 247 - s / 247;
            if (set[s])
                best = MIN(best, x * x + y * y + z * z);
        }
        check_close(d->value[at], 0.7 * MM * sqrt(best), 1e-6, "brute force");
    }
    memset(set, 0, 19 * 13 * 17);
    g_autoptr(SolidGrid) none = solid_grid_edt(set, shape, NULL, NULL);
    g_assert_cmpfloat(none->value[100], ==, G_MAXFLOAT);
}

static void
test_bvh(void)
{
    g_autoptr(SolidMesh) torus = check_mesh_torus(20 * MM, 7 * MM, 31, 17);
    g_autoptr(SolidBvh) bvh = solid_bvh_new(torus);
    g_autoptr(GRand) rand = g_rand_new_with_seed(5);
    for (int n = 0; n < 300; n++) {
        Vec3 p = vec3(g_rand_double_range(rand, -0.04, 0.04),
                      g_rand_double_range(rand, -0.04, 0.04),
                      g_rand_double_range(rand, -0.03, 0.03));
        double best = INFINITY;
        for (guint32 t = 0; t < torus->n_triangles; t++) {
            Vec3 v[3];
            for (int c = 0; c < 3; c++)
                v[c] = torus->vertices[torus->triangles[t][c]];
            best = fmin(best, solid_triangle_distance(p, v, NULL));
        }
        guint32 hint = n % 2 ? SOLID_NO_TRIANGLE : (guint32)g_rand_int_range(rand, 0, 1000);
        SolidNearest near = solid_bvh_nearest(bvh, p, hint);
        check_close(near.distance, best, 1e-12, "every triangle asked");
        check_close(vec3_length(vec3_sub(near.point, p)), best, 1e-12, "the foot is that far");
    }
    g_autoptr(SolidMesh) empty = solid_mesh_new(0, 0);
    g_autoptr(SolidBvh) none = solid_bvh_new(empty);
    g_assert_cmpuint(solid_bvh_nearest(none, vec3(0, 0, 0), 0).triangle, ==, SOLID_NO_TRIANGLE);
}

static void
test_ray(void)
{
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(0.06, 0.05, 0.0145, 0.013, 0.0122, 64);
    g_autoptr(SolidBvh) bvh = solid_bvh_new(plate);
    SolidNearest up = solid_bvh_ray(bvh, vec3(0.0011, 0.0023, -0.1), vec3(0, 0, 1), 0);
    check_close(up.distance, 0.1, 1e-12, "base");
    SolidNearest on = solid_bvh_ray(bvh, up.point, vec3(0, 0, 1), 1e-9);
    check_close(on.distance, 0.0023, 1e-9, "floor of the hole");
    SolidNearest slant = solid_bvh_ray(bvh, vec3(0.1, 0.021, 0.007), vec3(-0.8, 0, -0.6), 0);
    g_assert_cmpuint(slant.triangle, ==, SOLID_NO_TRIANGLE);
    g_assert_true(isinf(slant.distance));
    SolidNearest side = solid_bvh_ray(bvh, vec3(0.1, 0.021, 0.007), vec3(-1, 0, 0), 0);
    check_close(side.distance, 0.07, 1e-12, "side wall");
}

static void
test_triangle(void)
{
    Vec3 v[3] = {{0, 0, 0}, {4, 0, 0}, {0, 3, 0}};
    check_close(solid_triangle_distance(vec3(1, 1, 2.5), v, NULL), 2.5, 1e-14, "over the face");
    check_close(solid_triangle_distance(vec3(-3, -4, 0), v, NULL), 5, 1e-14, "corner");
    check_close(solid_triangle_distance(vec3(2, -1.5, 2), v, NULL), 2.5, 1e-14, "edge");
    check_close(solid_triangle_distance(vec3(4, 3, 0), v, NULL), 2.4, 1e-14, "slanted edge: 12/5");
    Vec3 flat[3] = {{1, 1, 1}, {3, 1, 1}, {2, 1, 1}}, point[3] = {{1, 1, 1}, {1, 1, 1}, {1, 1, 1}};
    check_close(solid_triangle_distance(vec3(2, 4, 5), flat, NULL), 5, 1e-14, "as a segment");
    check_close(solid_triangle_distance(vec3(1, 4, 5), point, NULL), 5, 1e-14, "as a point");
}

// Cell middles that fall exactly on edges and corners of the projection still get one answer.
static void
test_ties(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(8 * MM, 8 * MM, 8 * MM);
    g_autoptr(SolidGrid) shape = solid_grid_new(11, 11, 11, MM, vec3(-MM, -MM, -1.5 * MM));
    g_autofree guint8 *inside = solid_grid_inside(box, shape, NULL, NULL);
    int n = 0;
    for (int at = 0; at < 11 * 11 * 11; at++)
        n += inside[at];
    g_assert_cmpint(n, ==, 8 * 8 * 8);
}

static void
test_overlap(void)
{
    g_autoptr(SolidMesh) a = check_mesh_box(10 * MM, 10 * MM, 10 * MM);
    SolidMesh *both = solid_mesh_new(16, 24);
    for (guint32 i = 0; i < 8; i++) {
        both->vertices[i] = a->vertices[i];
        both->vertices[i + 8] = vec3_add(a->vertices[i], vec3(5 * MM, 0, 0));
    }
    for (guint32 t = 0; t < 12; t++)
        for (int c = 0; c < 3; c++) {
            both->triangles[t][c] = a->triangles[t][c];
            both->triangles[t + 12][c] = a->triangles[t][c] + 8;
        }
    g_autoptr(SolidGrid) shape = solid_grid_new(20, 12, 12, MM, vec3(-0.7 * MM, -MM / 2, -MM / 2));
    g_autofree guint8 *inside = solid_grid_inside(both, shape, NULL, NULL);
    int n = 0;
    for (int at = 0; at < 20 * 12 * 12; at++)
        n += inside[at];
    g_assert_cmpint(n, ==, 15 * 10 * 10);
    solid_mesh_unref(both);
}

static void
test_sample(void)
{
    g_autoptr(SolidGrid) g = solid_grid_new(4, 3, 5, 2.0, vec3(1, -1, 0.5));
    for (int k = 0; k < 5; k++)
        for (int j = 0; j < 3; j++)
            for (int i = 0; i < 4; i++) {
                Vec3 p = get_middle(g, i, j, k);
                g->value[solid_grid_index(g, i, j, k)] = (float)(2 * p.x - 3 * p.y + 0.5 * p.z);
            }
    check_close(solid_grid_sample(g, vec3(3.3, 0.7, 4.9)), 6.6 - 2.1 + 2.45, 1e-7, "a plane");
    check_close(solid_grid_sample(g, vec3(7, 3, 8.5)), 14 - 9 + 4.25, 1e-7, "last corner");
    check_close(solid_grid_sample(g, vec3(10, 3, 12.5)), 14 - 9 + 4.25 + 5, 1e-7, "3-4-5 outside");
    g_assert_null(solid_grid_new(1024, 1024, 1024, 1, vec3(0, 0, 0)));
}

static void
test_stopped(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.01, 0.02, 0.03);
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    g_assert_null(solid_grid_distance(box, 1e-3, 1e-3, 1e-3, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_clear_error(&error);
    g_assert_null(solid_grid_distance(box, 1e-5, 1e-3, 1e-3, NULL, &error));
    check_error(error, BASE_ERROR_LIMIT, "coarser");
    g_autoptr(SolidMesh) empty = solid_mesh_new(0, 0);
    g_assert_null(solid_grid_distance(empty, 1e-3, 1e-3, 1e-3, NULL, &error));
    check_error(error, BASE_ERROR_LIMIT, "no size");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/distance/box", test_box);
    g_test_add_func("/solid/distance/sphere", test_sphere);
    g_test_add_func("/solid/distance/converges", test_converges);
    g_test_add_func("/solid/distance/net-closed", test_net_closed);
    g_test_add_func("/solid/distance/edt", test_edt);
    g_test_add_func("/solid/distance/bvh", test_bvh);
    g_test_add_func("/solid/distance/ray", test_ray);
    g_test_add_func("/solid/distance/triangle", test_triangle);
    g_test_add_func("/solid/distance/ties", test_ties);
    g_test_add_func("/solid/distance/overlap", test_overlap);
    g_test_add_func("/solid/distance/sample", test_sample);
    g_test_add_func("/solid/distance/stopped", test_stopped);
    return g_test_run();
}
