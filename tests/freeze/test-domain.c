// SPDX-License-Identifier: GPL-3.0-or-later
// The box the heat flows in: volumes, and the riser in the casting's own axes whichever way the
// cavity is turned in the flask.
#include "check.h"
#include "freeze/domain.h"

#define RISER_X 0.0043
#define RISER_Y -0.0389
#define NECK_Y -0.0153

static void
make_plate(PatternResult *p)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0512, 0.0306, 0.0124);
    double identity[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh)
                  moved = solid_mesh_transformed(mesh, identity, vec3(-0.0256, -0.0153, -0.0062));
    *p = (PatternResult){.min = vec3(-0.0256, -0.0153, -0.0062),
                         .max = vec3(0.0256, 0.0153, 0.0062)};
    p->casting = solid_grid_distance(moved, 0.6e-3, 2e-3, 2e-3, NULL, NULL);
}

static FreezeDomain *
domain_turned(const PatternResult *p, double turn)
{
    double c = cos(turn), s = sin(turn);
    MouldCavity cavity = {0.071, -0.043, turn, 0, 0, 0, 0};
    cavity.riser_x = cavity.x + c * RISER_X - s * RISER_Y;
    cavity.riser_y = cavity.y + s * RISER_X + c * RISER_Y;
    cavity.neck_x = cavity.x + c * RISER_X - s * NECK_Y;
    cavity.neck_y = cavity.y + s * RISER_X + c * NECK_Y;
    MouldLayout layout = {.cavities = &cavity,
                          .n_cavities = 1,
                          .riser.diameter = 0.0282,
                          .riser.height = 0.0282,
                          .neck = {.width = 0.0131, .up = 0.0042, .down = 0.0058}};
    g_autoptr(GError) error = NULL;
    FreezeDomain *d = freeze_domain_new(p, &layout, 0.01, 1e-4, 60000, NULL, &error);
    g_assert_no_error(error);
    return d;
}

static void
test_volumes(void)
{
    PatternResult p;
    make_plate(&p);
    g_autoptr(FreezeDomain) d = domain_turned(&p, 0.5 * G_PI);
    gsize n = (gsize)d->nx * d->ny * d->nz;
    g_assert_cmpuint(n, >, 40000);
    g_assert_cmpuint(n, <, 80000);
    double casting = 0, riser = 0, cell = pow(d->cell, 3);
    for (gsize i = 0; i < n; i++)
        *(d->riser[i] ? &riser : &casting) += d->share[i] * cell;
    check_close(casting, 0.0512 * 0.0306 * 0.0124, 0.03, "x y z");
    // The neck is the riser's skin to the casting's, 9.5 mm; half of the casting's own side of it;
    // its lower part begins under the riser's middle.
    double radius = 0.0141, neck = 0.0131 * (0.0042 + 0.0058) * (0.0389 - 0.0153 - radius);
    neck += 0.0131 * 0.0058 * radius;
    check_close(riser, G_PI * radius * radius * 0.0282 + neck, 0.05, "riser and neck");
    solid_grid_unref(p.casting);
}

// A chill under one end of the plate is as large as it was asked for, and the box has room for it.
static void
test_chill(void)
{
    PatternResult p;
    make_plate(&p);
    MouldLayout layout = {.growth = 1.013};
    layout.chill = (FeedChill){.x = 0.0113 * 1.013,
                               .y = 0.0021,
                               .face = -0.0062 * 1.013,
                               .width = 0.0206,
                               .thickness = 0.0153,
                               .capacity = 3.9e6,
                               .conductivity = 45};
    g_autoptr(FreezeDomain) d = freeze_domain_new(&p, &layout, 0.01, 1e-4, 200000, NULL, NULL);
    g_assert_nonnull(d->chill);
    double volume = 0, lowest = 1;
    for (int k = 0; k < d->nz; k++)
        for (int c = 0; c < d->nx * d->ny; c++) {
            gsize i = (gsize)k * d->nx * d->ny + c;
            volume += d->chill[i] * (1 - d->share[i]) * pow(d->cell, 3);
            if (d->chill[i] > 0.5)
                lowest = fmin(lowest, d->origin.z + k * d->cell);
        }
    check_close(volume, 0.0206 * 0.0206 * 0.0153, 0.08, "width, width, thickness");
    g_assert_cmpfloat(fabs(lowest + 0.0062 + 0.0153), <, d->cell);
    g_assert_cmpfloat(d->origin.z, <, -0.0062 - 0.0153 - 0.009);
    layout.chill.in_cope = TRUE;
    layout.chill.face = 0.0062 * 1.013;
    g_autoptr(FreezeDomain) over = freeze_domain_new(&p, &layout, 0.01, 1e-4, 200000, NULL, NULL);
    g_assert_cmpfloat(over->origin.z + over->nz * over->cell, >, 0.0062 + 0.0153 + 0.009);
    solid_grid_unref(p.casting);
}

static void
test_turned(void)
{
    PatternResult p;
    make_plate(&p);
    g_autoptr(FreezeDomain) a = domain_turned(&p, 0);
    const double turns[3] = {0.5 * G_PI, G_PI, 1.5 * G_PI};
    for (int t = 0; t < 3; t++) {
        g_autoptr(FreezeDomain) b = domain_turned(&p, turns[t]);
        g_assert_cmpint(a->nx, ==, b->nx);
        g_assert_cmpint(a->ny, ==, b->ny);
        g_assert_cmpint(a->nz, ==, b->nz);
        for (gsize i = 0; i < (gsize)a->nx * a->ny * a->nz; i++)
            g_assert_cmpfloat(fabs(a->share[i] - b->share[i]), <, 1e-4);
    }
    solid_grid_unref(p.casting);
}

static void
test_without_riser(void)
{
    PatternResult p;
    make_plate(&p);
    g_autoptr(FreezeDomain) d = freeze_domain_new(&p, NULL, 0.01, 2e-3, 1000000, NULL, NULL);
    check_close(d->cell, 2e-3, 1e-12, "no smaller than asked");
    for (gsize i = 0; i < (gsize)d->nx * d->ny * d->nz; i++)
        g_assert_cmpint(d->riser[i], ==, 0);
    solid_grid_unref(p.casting);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/freeze/domain/chill", test_chill);
    g_test_add_func("/freeze/domain/volumes", test_volumes);
    g_test_add_func("/freeze/domain/turned", test_turned);
    g_test_add_func("/freeze/domain/without-riser", test_without_riser);
    return g_test_run();
}
