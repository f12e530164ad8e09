// SPDX-License-Identifier: GPL-3.0-or-later
// Casting, riser and sand as shares of metal in cubic cells.
#include "freeze/domain.h"

#include <math.h>

#include "feed/modulus-map.h"

// A riser and its neck in the casting's own axes.
typedef struct {
    gboolean present;
    double x, y, radius, base, height;
    double neck_x, neck_y, neck_width, neck_up, neck_down;
} Riser;

void
freeze_domain_free(FreezeDomain *domain)
{
    if (!domain)
        return;
    g_free(domain->share);
    g_free(domain->riser);
    g_free(domain->chill);
    g_free(domain);
}

static Riser
riser_of(const MouldLayout *layout)
{
    Riser r = {0};
    if (!layout || layout->n_cavities == 0 || layout->cavities[0].guest ||
        isnan(layout->cavities[0].riser_x))
        return r;
    const MouldCavity *c = &layout->cavities[0];
    double cs = cos(c->turn), sn = sin(c->turn);
    double dx = c->riser_x - c->x, dy = c->riser_y - c->y;
    r.x = cs * dx + sn * dy;
    r.y = -sn * dx + cs * dy;
    dx = c->neck_x - c->x;
    dy = c->neck_y - c->y;
    r.neck_x = cs * dx + sn * dy;
    r.neck_y = -sn * dx + cs * dy;
    r.radius = layout->riser.diameter / 2;
    r.base = layout->riser.base;
    r.height = layout->riser.height;
    r.neck_width = layout->neck.width;
    r.neck_up = layout->neck.up;
    r.neck_down = layout->neck.down;
    r.present = r.radius > 0;
    return r;
}

// A chill in the cold casting's axes: a square column from its outer face to the casting's skin, as
// if fitted to it.
typedef struct {
    gboolean present;
    double x, y, half; // m
    double face, outer;
    int way; // 1 over the casting, -1 under it
} Chill;

static Chill
chill_of(const MouldLayout *layout)
{
    Chill c = {0};
    if (!layout || !(layout->chill.thickness > 0))
        return c;
    const FeedChill *f = &layout->chill;
    double growth = layout->growth > 0 ? layout->growth : 1;
    c.present = TRUE;
    c.x = f->x / growth;
    c.y = f->y / growth;
    c.half = f->width / 2;
    c.way = f->in_cope ? 1 : -1;
    c.face = f->face / growth;
    c.outer = c.face + c.way * f->thickness;
    return c;
}

// Shares of the chill over one column of cells, each by samples in height; it ends in the metal.
static void
fill_chill(FreezeDomain *d, const SolidGrid *casting, const Chill *chill, int i, int j)
{
    int inside = 0;
    double x = d->origin.x + i * d->cell, y = d->origin.y + j * d->cell, quarter = d->cell / 4;
    for (int s = 0; s < 4; s++)
        inside += fabs(x + (s & 1 ? quarter : -quarter) - chill->x) <= chill->half &&
                  fabs(y + (s & 2 ? quarter : -quarter) - chill->y) <= chill->half;
    if (inside == 0)
        return;
    double skin = feed_skin_at(casting, x, y, chill->way);
    // Where the casting leaves its column it is a plain block.
    if (isnan(skin) || fabs(skin - chill->face) > chill->half)
        skin = chill->face;
    double end = skin - chill->way * d->cell; // so that cells cut by the skin have it too
    for (int k = 0; k < d->nz; k++) {
        int in = 0;
        for (int s = 0; s < 4; s++) {
            double z = d->origin.z + (k + (s - 1.5) / 4) * d->cell;
            in += chill->way * (chill->outer - z) >= 0 && chill->way * (z - end) >= 0;
        }
        d->chill[((gsize)k * d->ny + j) * d->nx + i] = (float)(in * inside / 16.0);
    }
}

// Signed distance, negative inside, of an upright cylinder from its foot up.
static double
cylinder_distance(const Riser *r, Vec3 p)
{
    double out = hypot(p.x - r->x, p.y - r->y) - r->radius;
    double up = fabs(p.z - r->base - r->height / 2) - r->height / 2;
    return MIN(MAX(out, up), 0) + hypot(MAX(out, 0), MAX(up, 0));
}

// Of the neck: a rectangular bar through the parting to the casting's skin, and a little on into
// it; from the riser's skin over the parting, from under its middle below.
static double
neck_distance(const Riser *r, Vec3 p)
{
    double dx = r->neck_x - r->x, dy = r->neck_y - r->y, length = hypot(dx, dy);
    if (!(length > 0 && r->neck_width > 0))
        return INFINITY;
    double along = ((p.x - r->x) * dx + (p.y - r->y) * dy) / length;
    double aside = ((p.y - r->y) * dx - (p.x - r->x) * dy) / length;
    double side = fabs(aside) - r->neck_width / 2;
    double level = MAX(p.z - r->neck_up, -p.z - r->neck_down);
    double out = MIN(MAX(side, level), 0) + hypot(MAX(side, 0), MAX(level, 0));
    double rim = sqrt(MAX(0, r->radius * r->radius - r->neck_width * r->neck_width / 4));
    double begin = p.z < 0 ? 0 : rim;
    double past = 0.125 * MIN(r->neck_width, r->neck_up + r->neck_down);
    double end = MAX(begin - along, along - length - past);
    return MAX(out, end);
}

// Share of metal at a point blurred over `cell`, and whether riser or neck is the nearer.
static double
share_at(const SolidGrid *casting, const Riser *r, Vec3 p, double cell, gboolean *riser)
{
    double d = solid_grid_sample(casting, p);
    *riser = FALSE;
    if (r->present) {
        double other = MIN(cylinder_distance(r, p), neck_distance(r, p));
        if (other < d) {
            d = other;
            *riser = TRUE;
        }
    }
    return CLAMP(0.5 - d / cell, 0, 1);
}

static void
fill_layer(FreezeDomain *domain, const SolidGrid *casting, const Riser *r, int k)
{
    double quarter = domain->cell / 4;
    for (int j = 0; j < domain->ny; j++)
        for (int i = 0; i < domain->nx; i++) {
            Vec3 middle = vec3_add(domain->origin,
                                   vec3(i * domain->cell, j * domain->cell, k * domain->cell));
            double sum = 0;
            int risers = 0;
            for (int s = 0; s < 8; s++) {
                Vec3 p = vec3_add(middle,
                                  vec3(s & 1 ? quarter : -quarter, s & 2 ? quarter : -quarter,
                                       s & 4 ? quarter : -quarter));
                gboolean riser;
                sum += share_at(casting, r, p, domain->cell / 2, &riser);
                risers += riser;
            }
            gsize c = ((gsize)k * domain->ny + j) * domain->nx + i;
            domain->share[c] = (float)(sum / 8);
            domain->riser[c] = risers > 4;
        }
}

// Side of a cell for `budget` cells in a box.
static double
cell_for(Vec3 size, gsize budget)
{
    return cbrt(size.x * size.y * size.z / budget);
}

FreezeDomain *
freeze_domain_new(const PatternResult *pattern, const MouldLayout *layout, double sand,
                  double smallest, gsize budget, Progress *progress, GError **error)
{
    g_return_val_if_fail(pattern != NULL && pattern->casting != NULL && budget > 0, NULL);
    Riser r = riser_of(layout);
    Vec3 min = pattern->min, max = pattern->max;
    if (r.present) {
        min = vec3(MIN(min.x, r.x - r.radius), MIN(min.y, r.y - r.radius),
                   MIN(min.z, -r.neck_down));
        max = vec3(MAX(max.x, r.x + r.radius), MAX(max.y, r.y + r.radius),
                   MAX(max.z, r.base + r.height));
    }
    Chill chill = chill_of(layout);
    if (chill.present) {
        min = vec3(MIN(min.x, chill.x - chill.half), MIN(min.y, chill.y - chill.half),
                   MIN(min.z, chill.outer));
        max = vec3(MAX(max.x, chill.x + chill.half), MAX(max.y, chill.y + chill.half),
                   MAX(max.z, chill.outer));
    }
    Vec3 wide = vec3(sand, sand, sand);
    min = vec3_sub(min, wide);
    max = vec3_add(max, wide);
    Vec3 size = vec3_sub(max, min);
    FreezeDomain *domain = g_new0(FreezeDomain, 1);
    domain->cell = MAX(cell_for(size, budget), smallest);
    domain->nx = (int)ceil(size.x / domain->cell);
    domain->ny = (int)ceil(size.y / domain->cell);
    domain->nz = (int)ceil(size.z / domain->cell);
    // Cells sit on the middle of the casting, so that a symmetric casting stays symmetric.
    Vec3 middle = vec3_scale(vec3_add(min, max), 0.5);
    domain->origin = vec3(middle.x - (domain->nx - 1) * domain->cell / 2,
                          middle.y - (domain->ny - 1) * domain->cell / 2,
                          middle.z - (domain->nz - 1) * domain->cell / 2);
    gsize n = (gsize)domain->nx * domain->ny * domain->nz;
    domain->share = g_new0(float, n);
    domain->riser = g_new0(guint8, n);
    for (int k = 0; k < domain->nz; k++) {
        if (!progress_check(progress, error)) {
            freeze_domain_free(domain);
            return NULL;
        }
        fill_layer(domain, pattern->casting, &r, k);
    }
    if (chill.present)
        domain->chill = g_new0(float, n);
    for (int j = 0; j < domain->ny && chill.present; j++)
        for (int i = 0; i < domain->nx; i++)
            fill_chill(domain, pattern->casting, &chill, i, j);
    return domain;
}
