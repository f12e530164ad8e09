// SPDX-License-Identifier: GPL-3.0-or-later
// Triangles over polygons with holes: their areas add up, and every loop edge is used once, every
// other edge twice.
#include "board/fill.h"
#include "check.h"

typedef struct {
    GArray *points; // SolidPoint
    GPtrArray *loops;
} Plane;

static Plane
plane_new(void)
{
    return (Plane){g_array_new(FALSE, FALSE, sizeof(SolidPoint)),
                   g_ptr_array_new_with_free_func((GDestroyNotify)g_array_unref)};
}

static void
plane_clear(Plane *plane)
{
    g_array_unref(plane->points);
    g_ptr_array_unref(plane->loops);
}

static double
loop_area(const Plane *plane, guint l)
{
    const GArray *loop = g_ptr_array_index(plane->loops, l);
    double sum = 0;
    for (guint i = 0; i < loop->len; i++) {
        SolidPoint a = g_array_index(plane->points, SolidPoint, g_array_index(loop, guint, i));
        SolidPoint b = g_array_index(plane->points, SolidPoint,
                                     g_array_index(loop, guint, (i + 1) % loop->len));
        sum += 0.5 * (a.x * b.y - b.x * a.y);
    }
    return sum;
}

static void
add_loop(Plane *plane, const SolidPoint *p, guint n)
{
    GArray *loop = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; i < n; i++) {
        guint index = plane->points->len;
        g_array_append_val(plane->points, p[i]);
        g_array_append_val(loop, index);
    }
    g_ptr_array_add(plane->loops, loop);
}

static void
add_round(Plane *plane, double x, double y, double r, guint n, int way)
{
    g_autofree SolidPoint *p = g_new(SolidPoint, n);
    for (guint i = 0; i < n; i++)
        p[i] = (SolidPoint){x + r * cos(2 * G_PI * i / n), y + way * r * sin(2 * G_PI * i / n)};
    add_loop(plane, p, n);
}

static gint64
edge_key(guint a, guint b)
{
    return ((gint64)a << 32) | b;
}

static void
check_fill(Plane *plane)
{
    g_autoptr(GArray) triangles = g_array_new(FALSE, FALSE, sizeof(guint));
    double area = 0, wanted = 0;
    guint corners = 0;
    for (guint l = 0; l < plane->loops->len; l++) {
        wanted += loop_area(plane, l);
        corners += ((GArray *)plane->loops->pdata[l])->len;
    }
    guint holes = plane->loops->len - 1;
    g_assert_true(
        board_fill((const SolidPoint *)(gpointer)plane->points->data, plane->loops, triangles));
    // Euler: n corners and h holes make n + 2h - 2 triangles.
    g_assert_cmpuint(triangles->len / 3, ==, corners + 2 * holes - 2);
    g_autoptr(GHashTable) edges = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    for (guint t = 0; t < triangles->len; t += 3) {
        const guint *v = &g_array_index(triangles, guint, t);
        SolidPoint p[3];
        for (int c = 0; c < 3; c++) {
            p[c] = g_array_index(plane->points, SolidPoint, v[c]);
            gint64 *key = g_new(gint64, 1);
            *key = edge_key(v[c], v[(c + 1) % 3]);
            g_assert_true(g_hash_table_add(edges, key)); // once each way
        }
        double twice = (p[1].x - p[0].x) * (p[2].y - p[0].y) -
                       (p[1].y - p[0].y) * (p[2].x - p[0].x);
        g_assert_cmpfloat(twice, >, 0);
        area += twice / 2;
    }
    check_close(area, wanted, 1e-12, "area of the loops");
    for (guint l = 0; l < plane->loops->len; l++) {
        const GArray *loop = g_ptr_array_index(plane->loops, l);
        for (guint i = 0; i < loop->len; i++) {
            guint a = g_array_index(loop, guint, i);
            guint b = g_array_index(loop, guint, (i + 1) % loop->len);
            gint64 there = edge_key(a, b), back = edge_key(b, a);
            g_assert_true(g_hash_table_contains(edges, &there));
            g_assert_false(g_hash_table_contains(edges, &back));
        }
    }
}

static void
test_plain(void)
{
    Plane plane = plane_new();
    const SolidPoint ell[6] = {{0, 0}, {3.1, 0}, {3.1, 1.2}, {0.9, 1.2}, {0.9, 2.7}, {0, 2.7}};
    add_loop(&plane, ell, 6);
    check_fill(&plane);
    plane_clear(&plane);
}

// Rows of holes, all in line with each other and with the outline's corners.
static void
test_holes_in_line(void)
{
    Plane plane = plane_new();
    const SolidPoint box[4] = {{-5, -3}, {5, -3}, {5, 3}, {-5, 3}};
    add_loop(&plane, box, 4);
    for (int j = -2; j <= 2; j++)
        for (int i = -4; i <= 4; i++)
            add_round(&plane, i, j, 0.3, (i + j) % 2 ? 24 : 4, -1);
    check_fill(&plane);
    plane_clear(&plane);
}

static void
test_random_holes(void)
{
    GRand *random = g_rand_new_with_seed(7);
    for (int round = 0; round < 40; round++) {
        Plane plane = plane_new();
        add_round(&plane, 0, 0, 10, 37, 1);
        double x[30], y[30], r[30];
        guint n = 0;
        for (int attempt = 0; attempt < 60 && n < 30; attempt++) {
            double cx = g_rand_double_range(random, -6, 6), cy = g_rand_double_range(random, -6, 6);
            double radius = g_rand_double_range(random, 0.1, 1.4);
            gboolean free = TRUE;
            for (guint i = 0; i < n; i++)
                free = free && hypot(cx - x[i], cy - y[i]) > radius + r[i] + 0.01;
            if (!free)
                continue;
            x[n] = cx;
            y[n] = cy;
            r[n++] = radius;
            add_round(&plane, cx, cy, radius, (guint)g_rand_int_range(random, 3, 20), -1);
        }
        check_fill(&plane);
        plane_clear(&plane);
    }
    g_rand_free(random);
}

static void
test_crossing(void)
{
    Plane plane = plane_new();
    const SolidPoint box[4] = {{0, 0}, {4, 0}, {4, 4}, {0, 4}};
    const SolidPoint bow[4] = {{1, 1}, {3, 3}, {3, 1}, {1, 3}};
    add_loop(&plane, bow, 4);
    g_autoptr(GArray) triangles = g_array_new(FALSE, FALSE, sizeof(guint));
    g_assert_false(
        board_fill((const SolidPoint *)(gpointer)plane.points->data, plane.loops, triangles));
    plane_clear(&plane);
    plane = plane_new();
    add_loop(&plane, box, 4);
    add_round(&plane, 9, 2, 1, 12, -1); // outside
    g_assert_false(
        board_fill((const SolidPoint *)(gpointer)plane.points->data, plane.loops, triangles));
    plane_clear(&plane);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/board/fill/plain", test_plain);
    g_test_add_func("/board/fill/holes-in-line", test_holes_in_line);
    g_test_add_func("/board/fill/random-holes", test_random_holes);
    g_test_add_func("/board/fill/crossing", test_crossing);
    return g_test_run();
}
