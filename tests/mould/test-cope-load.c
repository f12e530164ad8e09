// SPDX-License-Identifier: GPL-3.0-or-later
// What pushes and weighs in the cope, and where its middle is, for a box in one cavity: closed
// forms.
#include "check.h"
#include "mould/build.h"
#include "mould/cope-load.h"

#define LONG 0.0412
#define WIDE 0.0288
#define UP 0.0144
#define SCALE 1.013

typedef struct {
    PatternResult pattern;
    MouldCavity cavity;
    MouldLayout layout;
} Fixture;

// A box beside its own origin, x from 0 to LONG, in a cavity turned by a quarter.
static void
set_up(Fixture *f, gconstpointer data)
{
    g_autoptr(SolidMesh) box = check_mesh_box(LONG, WIDE, UP + 0.01);
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(box, same, vec3(0, -WIDE / 2, -0.01));
    f->pattern = (PatternResult){.height_cope = UP, .height_drag = 0.01};
    f->pattern.casting = solid_grid_distance(mesh, 0.4e-3, 1e-3, 1e-3, NULL, NULL);
    f->pattern.shadow = solid_section_shadow(f->pattern.casting, 0);
    f->cavity = (MouldCavity){0.051, -0.033, G_PI / 2, NAN, NAN, NAN, NAN};
    f->layout = (MouldLayout){.cavities = &f->cavity, .n_cavities = 1, .cope = 0.09};
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    solid_grid_unref(f->pattern.casting);
    solid_outline_unref(f->pattern.shadow);
}

static void
check_middle(const MouldLoad *load, double x, double y)
{
    g_assert_cmpfloat(fabs(load->x - x), <, 3e-5);
    g_assert_cmpfloat(fabs(load->y - y), <, 3e-5);
}

static void
test_bare(Fixture *f, gconstpointer data)
{
    double y = -0.033 + SCALE * LONG / 2; // its own x lies along y
    MouldLoad seen = mould_cope_seen(&f->layout, &f->pattern, SCALE);
    check_close(seen.sum, SCALE * SCALE * LONG * WIDE, 0.005, "its shadow");
    check_middle(&seen, 0.051, y);
    MouldLoad under = mould_cope_roofed(&f->layout, &f->pattern, SCALE);
    double volume = pow(SCALE, 3) * LONG * WIDE * UP;
    check_close(under.sum, volume, 0.005, "length, width, height above");
    check_middle(&under, 0.051, y);
    MouldLoad all = mould_cope_metal(&f->layout, &f->pattern, SCALE);
    check_close(all.sum, under.sum, 1e-9, "nothing else");
    check_middle(&all, 0.051, y);
}

// With a riser beside it and its neck the middles go by their moments; an open riser pushes on
// nothing, but its metal is there.
static void
test_riser(Fixture *f, gconstpointer data)
{
    MouldLayout *l = &f->layout;
    MouldLoad bare = mould_cope_seen(l, &f->pattern, SCALE);
    MouldLoad metal = mould_cope_metal(l, &f->pattern, SCALE);
    f->cavity.riser_x = 0.011;
    f->cavity.riser_y = f->cavity.neck_y = -0.02;
    f->cavity.neck_x = 0.051 - SCALE * WIDE / 2;
    l->riser.diameter = 0.0212;
    l->riser.height = 0.034;
    l->neck = (MouldNeck){.width = 0.009, .up = 0.004, .down = 0.005};
    double disc = G_PI / 4 * 0.0212 * 0.0212, length = f->cavity.neck_x - 0.011 - 0.0106;
    MouldLoad all = mould_cope_metal(l, &f->pattern, SCALE);
    double neck = 0.009 * 0.004 * length, riser = disc * 0.034;
    check_close(all.sum, metal.sum + riser + neck, 1e-9, "riser and neck");
    double x = metal.sum * metal.x + riser * 0.011 + neck * (0.011 + f->cavity.neck_x) / 2;
    check_middle(&all, x / all.sum, (metal.sum * metal.y - (riser + neck) * 0.02) / all.sum);
    MouldLoad blind = mould_cope_seen(l, &f->pattern, SCALE);
    g_assert_cmpfloat(blind.sum, >, bare.sum + disc);
    l->riser.open = TRUE;
    MouldLoad open = mould_cope_seen(l, &f->pattern, SCALE);
    check_close(blind.sum - open.sum, disc, 1e-3, "its foot");
    check_close(blind.sum * blind.x - open.sum * open.x, disc * 0.011, 1e-3, "moment of it");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add("/mould/cope-load/bare", Fixture, NULL, set_up, test_bare, tear_down);
    g_test_add("/mould/cope-load/riser", Fixture, NULL, set_up, test_riser, tear_down);
    return g_test_run();
}
