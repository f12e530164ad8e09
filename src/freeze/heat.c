// SPDX-License-Identifier: GPL-3.0-or-later
// The enthalpy method on a box of cells.
#include "freeze/heat.h"

#include <math.h>

#include "base/error.h"

#define HALF 0.5f

struct FreezeHeat {
    int nx, ny, nz;
    gsize n;
    double cell;
    FreezeMaterials m;
    double edge[6];
    double growth;
    double time;
    double limit; // s, the explicit limit of a step
    gsize liquid;
    float *share;
    float *chill; // share of the chill in what is not metal; NULL without
    FreezeChill chill_is;
    double *now, *before, *next;  // J/m3, three stages of a step
    double *start;                // J/m3 at the start of the step
    double *temperature, *warmth; // deg C, of `now` and of `next`
    double *conductance;          // [3][n]: W/(m2 K) to the next cell along x, y, z
    double *conductivity;         // W/(m K)
    double *solid_time, *niyama;
};

// Heat capacity per volume of a cell, solid and liquid, and where melting starts and ends. `beside`
// is that of what is not metal.
typedef struct {
    double solid, liquid; // J/(m3 K)
    double start, end;    // J/m3
} Curve;

static inline Curve
curve_of(const FreezeMaterials *m, double f, double beside)
{
    double sand = (1 - f) * beside;
    Curve c;
    c.solid = f * m->density * m->cp_solid + sand;
    c.liquid = f * m->density * m->cp_liquid + sand;
    c.start = c.solid * m->solidus;
    c.end = c.start + f * m->density * m->latent + sand * (m->liquidus - m->solidus);
    return c;
}

static inline double
temperature_at(const FreezeMaterials *m, double f, double beside, double h)
{
    Curve c = curve_of(m, f, beside);
    if (h <= c.start)
        return h / c.solid;
    if (h >= c.end)
        return m->liquidus + (h - c.end) / c.liquid;
    return m->solidus + (m->liquidus - m->solidus) * (h - c.start) / (c.end - c.start);
}

// J/(m3 K) of what is not metal in a cell.
static inline double
beside_of(const FreezeHeat *s, gsize c)
{
    double sand = s->m.sand_density * s->m.sand_specific;
    return s->chill ? sand + s->chill[c] * (s->chill_is.capacity - sand) : sand;
}

static double
heat_at(const FreezeMaterials *m, double f, double beside, double t)
{
    Curve c = curve_of(m, f, beside);
    // At the melting point of a pure metal: molten, for this is asked of what is poured.
    if (t >= m->liquidus)
        return c.end + c.liquid * (t - m->liquidus);
    if (t <= m->solidus)
        return c.solid * t;
    return c.start + (c.end - c.start) * (t - m->solidus) / (m->liquidus - m->solidus);
}

static gboolean
check_materials(const FreezeMaterials *m, GError **error)
{
    const double positive[] = {m->density,      m->cp_solid,           m->cp_liquid,
                               m->latent,       m->conductivity_solid, m->conductivity_liquid,
                               m->sand_density, m->sand_specific,      m->sand_conductivity};
    for (gsize i = 0; i < G_N_ELEMENTS(positive); i++)
        if (!(positive[i] > 0) || !isfinite(positive[i]))
            return base_error_set(error, BASE_ERROR_VALUE, NULL, "heat flow",
                                  "a property of metal or sand is missing or not positive",
                                  "choose a metal and a sand with all properties");
    if (!(m->liquidus >= m->solidus) || !(m->pour >= m->liquidus) || !isfinite(m->pour) ||
        !isfinite(m->ambient))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, "heat flow",
                              "the metal would be poured below its liquidus",
                              "raise the pouring temperature");
    return TRUE;
}

// Least time in which a cell could swing to its neighbours' mean, over all cells.
static double
explicit_limit(const FreezeHeat *s)
{
    double metal = fmax(s->m.conductivity_solid, s->m.conductivity_liquid) /
                   (s->m.density * fmin(s->m.cp_solid, s->m.cp_liquid));
    double sand = s->m.sand_conductivity / (s->m.sand_density * s->m.sand_specific);
    if (s->chill)
        sand = fmax(sand, s->chill_is.conductivity / s->chill_is.capacity);
    int axes = (s->nx > 1) + (s->ny > 1) + (s->nz > 1);
    // A held face lies half a cell away and counts double.
    double edges = 0;
    for (int i = 0; i < 6; i++)
        edges += !isnan(s->edge[i]);
    return s->cell * s->cell / (fmax(metal, sand) * (2 * MAX(axes, 1) + (edges > 0 ? 1 : 0)));
}

// Each material brings its own heat to a shared cell.
static void
start_heat(FreezeHeat *s)
{
    for (gsize i = 0; i < s->n; i++) {
        double f = s->share[i], beside = beside_of(s, i);
        s->now[i] = f * heat_at(&s->m, 1, 0, s->m.pour) + (1 - f) * beside * s->m.ambient;
        s->temperature[i] = temperature_at(&s->m, f, beside, s->now[i]);
    }
}

FreezeHeat *
freeze_heat_new(int nx, int ny, int nz, double cell, const float *share,
                const FreezeMaterials *materials, const double edge[6], GError **error)
{
    g_return_val_if_fail(nx > 0 && ny > 0 && nz > 0 && cell > 0 && share && materials, NULL);
    if (!check_materials(materials, error))
        return NULL;
    if ((double)nx * ny * nz > FREEZE_MAX_CELLS) {
        base_error_setf(error, BASE_ERROR_LIMIT, NULL, "heat flow", "use larger cells",
                        "%d by %d by %d cells are more than %u", nx, ny, nz, FREEZE_MAX_CELLS);
        return NULL;
    }
    FreezeHeat *s = g_new0(FreezeHeat, 1);
    *s = (FreezeHeat){.nx = nx, .ny = ny, .nz = nz, .n = (gsize)nx * ny * nz};
    s->cell = cell;
    s->m = *materials;
    s->growth = 0.02;
    for (int i = 0; i < 6; i++)
        s->edge[i] = edge ? edge[i] : NAN;
    s->share = g_memdup2(share, s->n * sizeof *share);
    double **arrays[] = {&s->now,    &s->before,       &s->next,       &s->start, &s->temperature,
                         &s->warmth, &s->conductivity, &s->solid_time, &s->niyama};
    for (gsize i = 0; i < G_N_ELEMENTS(arrays); i++)
        *arrays[i] = g_new(double, s->n);
    s->conductance = g_new0(double, 3 * s->n);
    for (gsize i = 0; i < s->n; i++) {
        double f = CLAMP(share[i], 0, 1);
        s->share[i] = (float)f;
        s->solid_time[i] = s->niyama[i] = NAN;
        s->liquid += s->share[i] >= HALF;
    }
    start_heat(s);
    s->limit = explicit_limit(s);
    return s;
}

gboolean
freeze_heat_set_chill(FreezeHeat *s, const float *share, const FreezeChill *chill, GError **error)
{
    g_return_val_if_fail(s != NULL && share != NULL && chill != NULL && s->time == 0, FALSE);
    if (!(chill->capacity > 0) || !(chill->conductivity > 0) ||
        !isfinite(chill->capacity + chill->conductivity))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, "heat flow",
                              "a property of the chill is missing or not positive",
                              "choose what the chill is made of");
    g_free(s->chill);
    s->chill = g_new(float, s->n);
    for (gsize i = 0; i < s->n; i++)
        s->chill[i] = (float)CLAMP(share[i], 0, 1);
    s->chill_is = *chill;
    start_heat(s);
    s->limit = explicit_limit(s);
    return TRUE;
}

void
freeze_heat_free(FreezeHeat *s)
{
    if (!s)
        return;
    double *arrays[] = {s->now,    s->before,       s->next,       s->start,  s->temperature,
                        s->warmth, s->conductivity, s->solid_time, s->niyama, s->conductance};
    for (gsize i = 0; i < G_N_ELEMENTS(arrays); i++)
        g_free(arrays[i]);
    g_free(s->share);
    g_free(s->chill);
    g_free(s);
}

void
freeze_heat_set_growth(FreezeHeat *heat, double growth)
{
    g_return_if_fail(growth > 0 && growth <= 1);
    heat->growth = growth;
}

// How far the skin lies from the middle of a cell of mostly sand towards a neighbour of mostly
// metal, in cells, from their shares of metal. Along an axis, so that a skin at a slant keeps its
// area.
static inline double
skin_distance(double sand, double metal)
{
    if (metal >= 1)
        return 0.5 - sand;
    if (sand <= 0)
        return 1.5 - metal;
    return (0.5 - sand) / (metal - sand);
}

// W/(m2 K) between the middles of two neighbours, `a` and `b` their own conductivities.
static inline double
conductance_between(const FreezeHeat *s, double a, double b, float share_a, float share_b)
{
    if ((share_a >= HALF) == (share_b >= HALF))
        return 2 * a * b / ((a + b) * s->cell);
    double sand = share_a < share_b ? share_a : share_b, metal = share_a < share_b ? b : a;
    double beside = share_a < share_b ? a : b;
    double part = skin_distance(sand, share_a < share_b ? share_b : share_a);
    return 1 / (s->cell * (part / beside + (1 - part) / metal));
}

// Conductances for this step: those of the phases at its start.
static void
update_conductances(FreezeHeat *s)
{
    const FreezeMaterials *m = &s->m;
    int nx = s->nx, ny = s->ny, nz = s->nz;
    double range = m->liquidus - m->solidus,
           step_up = m->conductivity_liquid - m->conductivity_solid;
    for (int k = 0; k < nz; k++)
        for (gsize i = (gsize)k * nx * ny; i < (gsize)(k + 1) * nx * ny; i++) {
            double t = s->temperature[i] - m->solidus;
            double melt = range > 0 ? CLAMP(t / range, 0, 1) : (t > 0);
            double beside = s->chill && s->chill[i] >= HALF ? s->chill_is.conductivity
                                                            : m->sand_conductivity;
            s->conductivity[i] = s->share[i] >= HALF ? m->conductivity_solid + melt * step_up
                                                     : beside;
        }
    gsize step[3] = {1, (gsize)nx, (gsize)nx * ny};
    for (int k = 0; k < nz; k++)
        for (int j = 0; j < ny; j++)
            for (int i = 0; i < nx; i++) {
                gsize c = ((gsize)k * ny + j) * nx + i;
                gboolean has[3] = {i + 1 < nx, j + 1 < ny, k + 1 < nz};
                for (int a = 0; a < 3; a++) {
                    gsize d = c + step[a];
                    if (has[a])
                        s->conductance[a * s->n + c] = conductance_between(
                            s, s->conductivity[c], s->conductivity[d], s->share[c], s->share[d]);
                }
            }
}

// Heat into cell c, W/m3, from its neighbours and the box's faces.
static inline double
inflow(const FreezeHeat *s, int i, int j, int k, gsize c)
{
    const double *t = s->temperature, *x = s->conductance, *y = x + s->n, *z = y + s->n;
    gsize row = (gsize)s->nx, layer = row * s->ny;
    double q = 0, edge = 2 / s->cell; // half a cell to a held face
    if (i > 0)
        q += x[c - 1] * (t[c - 1] - t[c]);
    else if (!isnan(s->edge[0]))
        q += edge * s->conductivity[c] * (s->edge[0] - t[c]);
    if (i + 1 < s->nx)
        q += x[c] * (t[c + 1] - t[c]);
    else if (!isnan(s->edge[1]))
        q += edge * s->conductivity[c] * (s->edge[1] - t[c]);
    if (j > 0)
        q += y[c - row] * (t[c - row] - t[c]);
    else if (!isnan(s->edge[2]))
        q += edge * s->conductivity[c] * (s->edge[2] - t[c]);
    if (j + 1 < s->ny)
        q += y[c] * (t[c + row] - t[c]);
    else if (!isnan(s->edge[3]))
        q += edge * s->conductivity[c] * (s->edge[3] - t[c]);
    if (k > 0)
        q += z[c - layer] * (t[c - layer] - t[c]);
    else if (!isnan(s->edge[4]))
        q += edge * s->conductivity[c] * (s->edge[4] - t[c]);
    if (k + 1 < s->nz)
        q += z[c] * (t[c + layer] - t[c]);
    else if (!isnan(s->edge[5]))
        q += edge * s->conductivity[c] * (s->edge[5] - t[c]);
    return q / s->cell;
}

// next = a now + b before + h inflow(now), for a cell.
typedef struct {
    double a, b, h;
} Stage;

static inline void
step_cell(FreezeHeat *s, const Stage *stage, int i, int j, int k)
{
    gsize c = ((gsize)k * s->ny + j) * s->nx + i;
    s->next[c] = stage->a * s->now[c] + stage->b * s->before[c] + stage->h * inflow(s, i, j, k, c);
}

// The cells of a row whose six neighbours are all in the box, summed in the same order.
static void
step_inside(FreezeHeat *s, const Stage *stage, int j, int k)
{
    gsize row = (gsize)s->nx, layer = row * s->ny, at = k * layer + j * row;
    const double *t = s->temperature + at, *now = s->now + at, *before = s->before + at;
    const double *x = s->conductance + at, *y = x + s->n, *z = y + s->n;
    double *next = s->next + at, a = stage->a, b = stage->b, h = stage->h, cell = s->cell;
    int last = s->nx - 1;
#pragma omp simd
    for (int i = 1; i < last; i++) {
        double q = x[i - 1] * (t[i - 1] - t[i]);
        q += x[i] * (t[i + 1] - t[i]);
        q += (y - row)[i] * ((t - row)[i] - t[i]);
        q += y[i] * ((t + row)[i] - t[i]);
        q += (z - layer)[i] * ((t - layer)[i] - t[i]);
        q += z[i] * ((t + layer)[i] - t[i]);
        next[i] = a * now[i] + b * before[i] + h * (q / cell);
    }
}

// Temperatures of a row of `next`.
static void
warm_row(FreezeHeat *s, gsize at)
{
    for (gsize c = at; c < at + s->nx; c++)
        s->warmth[c] = temperature_at(&s->m, s->share[c], beside_of(s, c), s->next[c]);
}

// With temperatures of `now` already in place; and those of `next`, row by row.
static void
combine(FreezeHeat *s, double a, double b, double h)
{
    const Stage stage = {a, b, h};
    int nx = s->nx, ny = s->ny, nz = s->nz;
    for (int k = 0; k < nz; k++)
        for (int j = 0; j < ny; j++) {
            gboolean inside = k > 0 && k + 1 < nz && j > 0 && j + 1 < ny;
            int hop = inside && nx > 1 ? nx - 1 : 1; // or from end to end
            if (inside)
                step_inside(s, &stage, j, k);
            for (int i = 0; i < nx; i += hop)
                step_cell(s, &stage, i, j, k);
            warm_row(s, ((gsize)k * ny + j) * nx);
        }
}

static void
rotate_stages(FreezeHeat *s)
{
    double *old = s->before;
    s->before = s->now;
    s->now = s->next;
    s->next = old;
    double *cooler = s->temperature;
    s->temperature = s->warmth;
    s->warmth = cooler;
}

// Temperature at which the gradient is read: a tenth of the range above the solidus; just below it
// for a metal without a range, which shows no gradient while it melts.
static double
niyama_temperature(const FreezeMaterials *m)
{
    double range = m->liquidus - m->solidus;
    return range > 2 ? m->solidus + 0.1 * range : m->solidus - 1;
}

static void
record_niyama(FreezeHeat *s, double dt, int i, int j, int k, gsize c)
{
    double mark = niyama_temperature(&s->m);
    if (!(s->temperature[c] <= mark) || !isnan(s->niyama[c]) || i == 0 || j == 0 || k == 0 ||
        i + 1 == s->nx || j + 1 == s->ny || k + 1 == s->nz)
        return;
    gsize step[3] = {1, (gsize)s->nx, (gsize)s->nx * s->ny};
    double sum = 0;
    for (int a = 0; a < 3; a++) {
        if (s->share[c - step[a]] < 0.99f || s->share[c + step[a]] < 0.99f)
            return;
        double d = (s->temperature[c + step[a]] - s->temperature[c - step[a]]) / (2 * s->cell);
        sum += d * d;
    }
    double rate = (temperature_at(&s->m, s->share[c], beside_of(s, c), s->start[c]) -
                   s->temperature[c]) /
                  dt;
    if (rate > 0)
        s->niyama[c] = sqrt(sum / rate);
}

// What froze during the step of length dt that ends now.
static void
record(FreezeHeat *s, double dt)
{
    gsize liquid = 0;
    for (int k = 0; k < s->nz; k++)
        for (int j = 0; j < s->ny; j++)
            for (int i = 0; i < s->nx; i++) {
                gsize c = ((gsize)k * s->ny + j) * s->nx + i;
                if (s->share[c] < HALF)
                    continue;
                record_niyama(s, dt, i, j, k, c);
                if (!isnan(s->solid_time[c]))
                    continue;
                double solid = curve_of(&s->m, s->share[c], beside_of(s, c)).start;
                if (s->now[c] > solid) {
                    liquid++;
                    continue;
                }
                double part = (s->start[c] - solid) / (s->start[c] - s->now[c]);
                s->solid_time[c] = s->time - dt + CLAMP(part, 0, 1) * dt;
            }
    s->liquid = liquid;
}

gboolean
freeze_heat_step(FreezeHeat *s, double until, Progress *progress, GError **error)
{
    g_return_val_if_fail(s != NULL, FALSE);
    double dt = fmin(fmax(s->limit, s->growth * s->time), until - s->time);
    if (!(dt > 0))
        return TRUE;
    // Stages for dt <= limit (s^2 + s)/2, odd, with a little to spare.
    int stages = (int)ceil((sqrt(1 + 8 * 1.05 * dt / s->limit) - 1) / 2);
    stages = MAX(stages | 1, 3);
    double scale = 2.0 / ((double)stages * stages + stages) * dt;
    update_conductances(s);
    for (gsize c = 0; c < s->n; c++)
        s->start[c] = s->before[c] = s->now[c];
    for (int j = 1; j <= stages; j++) {
        if (!progress_check(progress, error)) {
            // Back to where the step began, so that the state stays whole.
            for (gsize c = 0; c < s->n; c++) {
                s->now[c] = s->start[c];
                s->temperature[c] = temperature_at(&s->m, s->share[c], beside_of(s, c), s->now[c]);
            }
            return FALSE;
        }
        double mu = (2.0 * j - 1) / j, nu = (1.0 - j) / j;
        combine(s, mu, nu, mu * scale);
        rotate_stages(s);
    }
    s->time += dt;
    record(s, dt);
    return TRUE;
}

double
freeze_heat_time(const FreezeHeat *heat)
{
    return heat->time;
}

double
freeze_heat_temperature(const FreezeHeat *heat, gsize cell)
{
    g_return_val_if_fail(cell < heat->n, NAN);
    return heat->temperature[cell];
}

double
freeze_heat_content(const FreezeHeat *heat)
{
    double sum = 0;
    for (gsize i = 0; i < heat->n; i++)
        sum += heat->now[i];
    return sum * heat->cell * heat->cell * heat->cell;
}

gsize
freeze_heat_liquid(const FreezeHeat *heat)
{
    return heat->liquid;
}

const double *
freeze_heat_solid_times(const FreezeHeat *heat)
{
    return heat->solid_time;
}

const double *
freeze_heat_niyama(const FreezeHeat *heat)
{
    return heat->niyama;
}

double
freeze_heat_liquid_share(const FreezeHeat *heat, gsize cell)
{
    g_return_val_if_fail(cell < heat->n, NAN);
    Curve c = curve_of(&heat->m, heat->share[cell], beside_of(heat, cell));
    return CLAMP((heat->now[cell] - c.start) / (c.end - c.start), 0, 1);
}
