// SPDX-License-Identifier: GPL-3.0-or-later
// Local modulus by weighing metal and surface with the same bell curve.
#include "feed/modulus-map.h"

#include <math.h>
#include <string.h>

#define LONGEST 72 // cells
#define STANDS_OUT 0.03
#define SAME 1e-3 // of the highest; less of a difference is not one

// What a wide plate as thick as the largest ball comes to, over its modulus.
static double
plate_bias(void)
{
    double x = 1 / FEED_MAP_WIDTH, middle = exp(-x * x / 2) / sqrt(2 * G_PI);
    return erf(x / sqrt(2)) / (2 * middle * x);
}

typedef struct {
    int nx, ny, nz;
    double *value;
} Field;

static Field
make_field(int nx, int ny, int nz)
{
    return (Field){nx, ny, nz, g_new0(double, (gsize)nx *ny *nz)};
}

static double *
at(const Field *f, int i, int j, int k)
{
    return &f->value[((gsize)k * f->ny + j) * f->nx + i];
}

// Share of each cell that is metal. FALSE when stopped.
static gboolean
find_shares(const SolidGrid *casting, const SolidGrid *map, Field *share, Progress *progress,
            GError **error)
{
    double quarter = map->cell / 4;
    for (int k = 0; k < map->nz; k++) {
        if (!progress_check(progress, error))
            return FALSE;
        for (int j = 0; j < map->ny; j++)
            for (int i = 0; i < map->nx; i++) {
                double sum = 0;
                for (int s = 0; s < 8; s++) {
                    Vec3 p = vec3(map->origin.x + i * map->cell + (s & 1 ? quarter : -quarter),
                                  map->origin.y + j * map->cell + (s & 2 ? quarter : -quarter),
                                  map->origin.z + k * map->cell + (s & 4 ? quarter : -quarter));
                    sum += CLAMP(0.5 - solid_grid_sample(casting, p) / (2 * quarter), 0, 1);
                }
                *at(share, i, j, k) = sum / 8;
            }
    }
    return TRUE;
}

// Surface at the corners between eight cells, 1/m: how steeply the share changes there. Summed over
// a skin it is the skin's area, whatever its direction.
static void
find_surface(const Field *share, double cell, Field *surface)
{
    for (int k = 0; k + 1 < share->nz; k++)
        for (int j = 0; j + 1 < share->ny; j++)
            for (int i = 0; i + 1 < share->nx; i++) {
                double d[3] = {0, 0, 0};
                for (int s = 0; s < 8; s++) {
                    double v = *at(share, i + (s & 1), j + (s >> 1 & 1), k + (s >> 2)) / 4;
                    for (int a = 0; a < 3; a++)
                        d[a] += s >> a & 1 ? v : -v;
                }
                *at(surface, i, j, k) = sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]) / cell;
            }
}

// Weighs a line of n values with the bell curve about each of them, `shift` cells on.
static void
blur_line(const double *from, double *to, int n, const double *weight, int reach)
{
    for (int i = 0; i < n; i++) {
        double sum = 0;
        int low = MAX(0, i - reach), high = MIN(n - 1, i + reach);
        for (int m = low; m <= high; m++)
            sum += from[m] * weight[m - i + reach];
        to[i] = sum;
    }
}

// Along all three axes; the values of corners lie half a cell on. FALSE when stopped.
static gboolean
blur(Field *f, double sigma, double shift, Progress *progress, GError **error)
{
    int n[3] = {f->nx, f->ny, f->nz}, longest = MAX(f->nx, MAX(f->ny, f->nz));
    int reach = MIN(longest, (int)ceil(4 * sigma) + 1);
    gsize step[3] = {1, (gsize)f->nx, (gsize)f->nx * f->ny};
    g_autofree double *weight = g_new(double, 2 * (gsize)reach + 1);
    g_autofree double *line = g_new(double, longest), *done = g_new(double, longest);
    for (int m = -reach; m <= reach; m++)
        weight[m + reach] = exp(-(m + shift) * (m + shift) / (2 * sigma * sigma));
    for (int a = 0; a < 3; a++) {
        int b = (a + 1) % 3, c = (a + 2) % 3;
        for (int k = 0; k < n[c]; k++) {
            if (!progress_check(progress, error))
                return FALSE;
            for (int j = 0; j < n[b]; j++) {
                double *first = f->value + k * step[c] + j * step[b];
                for (int i = 0; i < n[a]; i++)
                    line[i] = first[i * step[a]];
                blur_line(line, done, n[a], weight, reach);
                for (int i = 0; i < n[a]; i++)
                    first[i * step[a]] = done[i];
            }
        }
    }
    return TRUE;
}

static SolidGrid *
make_map(const SolidGrid *casting)
{
    double size[3] = {casting->nx * casting->cell, casting->ny * casting->cell,
                      casting->nz * casting->cell};
    double cell = fmax(casting->cell, fmax(size[0], fmax(size[1], size[2])) / LONGEST);
    int n[3];
    for (int a = 0; a < 3; a++)
        n[a] = (int)ceil(size[a] / cell) + 2;
    Vec3 middle = vec3((casting->nx - 1) / 2.0, (casting->ny - 1) / 2.0, (casting->nz - 1) / 2.0);
    middle = vec3_add(casting->origin, vec3_scale(middle, casting->cell));
    Vec3 half = vec3((n[0] - 1) / 2.0, (n[1] - 1) / 2.0, (n[2] - 1) / 2.0);
    return solid_grid_new(n[0], n[1], n[2], cell, vec3_sub(middle, vec3_scale(half, cell)));
}

SolidGrid *
feed_modulus_map(const SolidGrid *casting, double radius, Progress *progress, GError **error)
{
    g_return_val_if_fail(casting != NULL, NULL);
    g_autoptr(SolidGrid) map = radius > 0 ? make_map(casting) : NULL;
    if (!map)
        return NULL;
    // Less than a cell would see no surface from the middle of a cell.
    double sigma = fmax(1, FEED_MAP_WIDTH * radius / map->cell);
    Field share = make_field(map->nx, map->ny, map->nz);
    Field metal = make_field(map->nx, map->ny, map->nz);
    Field surface = make_field(map->nx, map->ny, map->nz);
    gboolean done = find_shares(casting, map, &share, progress, error);
    gsize n = (gsize)map->nx * map->ny * map->nz;
    if (done) {
        memcpy(metal.value, share.value, n * sizeof *metal.value);
        find_surface(&share, map->cell, &surface);
        done = blur(&metal, sigma, 0, progress, error) &&
               blur(&surface, sigma, 0.5, progress, error);
    }
    double bias = plate_bias();
    for (gsize i = 0; done && i < n; i++)
        if (surface.value[i] > 0)
            map->value[i] = (float)(metal.value[i] / surface.value[i] / bias *
                                    (share.value[i] > 0 ? 1 : -1));
    g_free(share.value);
    g_free(metal.value);
    g_free(surface.value);
    return done ? g_steal_pointer(&map) : NULL;
}

typedef struct {
    gint64 level; // of the modulus, in steps of SAME
    double off;   // from the middle of all metal
    guint cell;
} Place;

static int
compare_places(const void *a, const void *b)
{
    const Place *p = a, *q = b;
    if (p->level != q->level)
        return p->level > q->level ? -1 : 1;
    if (p->off != q->off)
        return p->off < q->off ? -1 : 1;
    return (p->cell > q->cell) - (p->cell < q->cell);
}

static Vec3
place_of(const SolidGrid *map, guint cell)
{
    int i = cell % map->nx, j = cell / map->nx % map->ny, k = cell / (map->nx * map->ny);
    return vec3_add(map->origin, vec3(i * map->cell, j * map->cell, k * map->cell));
}

static GArray *
list_places(const SolidGrid *map)
{
    GArray *places = g_array_new(FALSE, FALSE, sizeof(Place));
    guint n = (guint)map->nx * map->ny * map->nz;
    Vec3 sum = vec3(0, 0, 0);
    float most = 0;
    for (guint c = 0; c < n; c++) {
        if (!(map->value[c] > 0))
            continue;
        Place place = {0, 0, c};
        g_array_append_val(places, place);
        sum = vec3_add(sum, place_of(map, c));
        most = MAX(most, map->value[c]);
    }
    Vec3 middle = vec3_scale(sum, 1.0 / MAX(1, places->len));
    for (guint i = 0; i < places->len; i++) {
        Place *p = &g_array_index(places, Place, i);
        // Whole hundredths of a cell, so that rounding does not order equal places.
        p->off = round(100 * vec3_length(vec3_sub(place_of(map, p->cell), middle)) / map->cell);
        p->level = (gint64)(map->value[p->cell] / (SAME * most));
    }
    g_array_sort(places, compare_places);
    return places;
}

static guint
root_of(guint *to, guint i)
{
    while (to[i] != i)
        i = to[i] = to[to[i]];
    return i;
}

// Floods from the highest place down. Where two basins meet, the lower peak is kept if it stands
// out; `to` says what has been joined, `kept` which peaks count.
static void
join_round(const SolidGrid *map, guint cell, guint *to, guint8 *kept, const guint *rank)
{
    int i = cell % map->nx, j = cell / map->nx % map->ny, k = cell / (map->nx * map->ny);
    for (int s = 0; s < 27; s++) {
        int x = i + s % 3 - 1, y = j + s / 3 % 3 - 1, z = k + s / 9 - 1;
        if (x < 0 || y < 0 || z < 0 || x >= map->nx || y >= map->ny || z >= map->nz)
            continue;
        guint other = (guint)solid_grid_index(map, x, y, z);
        if (to[other] == G_MAXUINT || other == cell)
            continue;
        guint a = root_of(to, cell), b = root_of(to, other);
        if (a == b)
            continue;
        guint high = rank[a] < rank[b] ? a : b, low = high == a ? b : a;
        if (map->value[cell] > (1 - STANDS_OUT) * map->value[low])
            kept[low] = 0;
        to[low] = high;
    }
}

guint
feed_modulus_spots(const SolidGrid *map, FeedSpot *spots)
{
    g_return_val_if_fail(map != NULL && spots != NULL, 0);
    g_autoptr(GArray) places = list_places(map);
    gsize n = (gsize)map->nx * map->ny * map->nz;
    g_autofree guint *to = g_new(guint, n), *rank = g_new0(guint, n);
    g_autofree guint8 *kept = g_new0(guint8, n);
    for (gsize c = 0; c < n; c++)
        to[c] = G_MAXUINT;
    for (guint r = 0; r < places->len; r++) {
        guint cell = g_array_index(places, Place, r).cell;
        to[cell] = cell;
        rank[cell] = r;
        kept[cell] = 1;
        join_round(map, cell, to, kept, rank);
    }
    guint found = 0;
    for (guint r = 0; r < places->len && found < FEED_MAP_MOST; r++) {
        guint cell = g_array_index(places, Place, r).cell;
        if (kept[cell])
            spots[found++] = (FeedSpot){place_of(map, cell), map->value[cell]};
    }
    return found;
}

double
feed_skin_at(const SolidGrid *casting, double x, double y, int way)
{
    g_return_val_if_fail(casting != NULL, NAN);
    double step = casting->cell / 2, before = INFINITY;
    int steps = 2 * (casting->nz + 1);
    double from = casting->origin.z + (way > 0 ? casting->nz * casting->cell : -casting->cell);
    for (int i = 0; i <= steps; i++) {
        double z = from - way * i * step, d = solid_grid_sample(casting, vec3(x, y, z));
        if (d < 0)
            return isfinite(before) ? z + way * step * d / (d - before) : z;
        before = d;
    }
    return NAN;
}
