// SPDX-License-Identifier: GPL-3.0-or-later
// Making, sharing and sampling boxes of cells, and the volume and surface of a level set by
// splitting each cube between eight cell middles into six tetrahedra with linear values.
#include "solid/grid.h"

static void
grid_clear(gpointer data)
{
    SolidGrid *grid = data;
    g_free(grid->value);
}

SolidGrid *
solid_grid_new(int nx, int ny, int nz, double cell, Vec3 origin)
{
    g_return_val_if_fail(nx > 0 && ny > 0 && nz > 0 && cell > 0, NULL);
    if ((guint64)nx * (guint64)ny > SOLID_MAX_CELLS / (guint64)nz)
        return NULL;
    gsize n = (gsize)nx * ny * nz;
    float *value = g_try_malloc0_n(n, sizeof *value);
    if (!value)
        return NULL;
    SolidGrid *grid = g_atomic_rc_box_new0(SolidGrid);
    *grid = (SolidGrid){.nx = nx, .ny = ny, .nz = nz, .cell = cell, .origin = origin};
    grid->value = value;
    return grid;
}

SolidGrid *
solid_grid_ref(const SolidGrid *grid)
{
    return g_atomic_rc_box_acquire((SolidGrid *)grid);
}

void
solid_grid_unref(const SolidGrid *grid)
{
    if (grid)
        g_atomic_rc_box_release_full((SolidGrid *)grid, grid_clear);
}

// Splits a position in cells into a lower index and a share, held inside 0 .. n-1.
static double
split_position(double at, int n, int *index, double *outside)
{
    double held = CLAMP(at, 0.0, (double)(n - 1));
    *outside = at - held;
    *index = MIN((int)held, MAX(n - 2, 0));
    return held - *index;
}

double
solid_grid_sample(const SolidGrid *g, Vec3 point)
{
    int i, j, k;
    double ox, oy, oz;
    double u = split_position((point.x - g->origin.x) / g->cell, g->nx, &i, &ox);
    double v = split_position((point.y - g->origin.y) / g->cell, g->ny, &j, &oy);
    double w = split_position((point.z - g->origin.z) / g->cell, g->nz, &k, &oz);
    gsize di = g->nx > 1 ? 1 : 0, dj = g->ny > 1 ? (gsize)g->nx : 0;
    gsize dk = g->nz > 1 ? (gsize)g->nx * g->ny : 0;
    const float *p = g->value + solid_grid_index(g, i, j, k);
    double low = (1 - v) * ((1 - u) * p[0] + u * p[di]) + v * ((1 - u) * p[dj] + u * p[dj + di]);
    const float *q = p + dk;
    double high = (1 - v) * ((1 - u) * q[0] + u * q[di]) + v * ((1 - u) * q[dj] + u * q[dj + di]);
    double inner = (1 - w) * low + w * high;
    return inner + g->cell * sqrt(ox * ox + oy * oy + oz * oz);
}

// The six tetrahedra that share the diagonal from corner 0 to corner 7; bit 0 is x, 1 is y, 2 is z.
static const int tetrahedra[6][4] = {{0, 1, 3, 7}, {0, 3, 2, 7}, {0, 2, 6, 7},
                                     {0, 6, 4, 7}, {0, 4, 5, 7}, {0, 5, 1, 7}};

static Vec3
find_corner(int corner)
{
    return vec3(corner & 1, corner >> 1 & 1, corner >> 2 & 1);
}

// Where the value is zero on the way from corner a (below zero) to corner b (not below).
static Vec3
find_crossing(const double v[8], int a, int b)
{
    double t = v[a] / (v[a] - v[b]);
    Vec3 p = find_corner(a), q = find_corner(b);
    return vec3_add(p, vec3_scale(vec3_sub(q, p), t));
}

static double
measure_triangle(Vec3 a, Vec3 b, Vec3 c)
{
    return 0.5 * vec3_length(vec3_cross(vec3_sub(b, a), vec3_sub(c, a)));
}

static double
measure_tetrahedron(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
{
    return fabs(vec3_dot(vec3_sub(b, a), vec3_cross(vec3_sub(c, a), vec3_sub(d, a)))) / 6;
}

// Adds the volume below zero and the surface at zero of one tetrahedron of the unit cube.
static void
add_tetrahedron(const double v[8], const int corners[4], double *volume, double *area)
{
    int in[4], out[4], n_in = 0, n_out = 0;
    for (int i = 0; i < 4; i++) {
        if (v[corners[i]] < 0)
            in[n_in++] = corners[i];
        else
            out[n_out++] = corners[i];
    }
    if (n_in == 4)
        *volume += 1.0 / 6;
    if (n_in == 0 || n_in == 4)
        return;
    if (n_in == 2) {
        Vec3 a = find_crossing(v, in[0], out[0]), b = find_crossing(v, in[0], out[1]);
        Vec3 c = find_crossing(v, in[1], out[0]), d = find_crossing(v, in[1], out[1]);
        Vec3 p = find_corner(in[0]), q = find_corner(in[1]);
        *area += measure_triangle(a, b, d) + measure_triangle(a, d, c);
        *volume += measure_tetrahedron(p, a, b, d) + measure_tetrahedron(p, a, d, c) +
                   measure_tetrahedron(p, q, c, d);
        return;
    }
    gboolean lone_in = n_in == 1;
    int lone = lone_in ? in[0] : out[0];
    const int *other = lone_in ? out : in;
    Vec3 p[3];
    for (int i = 0; i < 3; i++)
        p[i] = lone_in ? find_crossing(v, lone, other[i]) : find_crossing(v, other[i], lone);
    *area += measure_triangle(p[0], p[1], p[2]);
    double tip = measure_tetrahedron(find_corner(lone), p[0], p[1], p[2]);
    *volume += lone_in ? tip : 1.0 / 6 - tip;
}

static void
add_layer(const SolidGrid *g, double level, int k, double *volume, double *area)
{
    gsize dj = (gsize)g->nx, dk = (gsize)g->nx * g->ny;
    for (int j = 0; j + 1 < g->ny; j++) {
        const float *row = g->value + solid_grid_index(g, 0, j, k);
        for (int i = 0; i + 1 < g->nx; i++) {
            double v[8];
            int below = 0;
            for (int c = 0; c < 8; c++) {
                v[c] = row[i + (c & 1) + (c >> 1 & 1) * dj + (c >> 2) * dk] - level;
                below += v[c] < 0;
            }
            if (below == 8)
                *volume += 1;
            else if (below > 0)
                for (int t = 0; t < 6; t++)
                    add_tetrahedron(v, tetrahedra[t], volume, area);
        }
    }
}

// Both sums, layer by layer, added up in layer order whatever the number of threads.
static void
measure_level(const SolidGrid *g, double level, double *volume, double *area)
{
    int layers = g->nz - 1;
    g_autofree double *volumes = g_new0(double, layers + 1);
    g_autofree double *areas = g_new0(double, layers + 1);
#pragma omp parallel for schedule(dynamic)
    for (int k = 0; k < layers; k++)
        add_layer(g, level, k, &volumes[k], &areas[k]);
    *volume = *area = 0;
    for (int k = 0; k < layers; k++) {
        *volume += volumes[k];
        *area += areas[k];
    }
    *volume *= g->cell * g->cell * g->cell;
    *area *= g->cell * g->cell;
}

double
solid_grid_volume(const SolidGrid *grid, double level)
{
    double volume, area;
    measure_level(grid, level, &volume, &area);
    return volume;
}

double
solid_grid_area(const SolidGrid *grid, double level)
{
    double volume, area;
    measure_level(grid, level, &volume, &area);
    return area;
}
