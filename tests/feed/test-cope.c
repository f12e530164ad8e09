// SPDX-License-Identifier: GPL-3.0-or-later
// An open riser in copes of other depths: what it needs by its own faces and volume, whichever rule
// asks for more; anything else stays as it is.
#include <math.h>

#include "check.h"
#include "feed/feed.h"

static double
disc(double diameter)
{
    return G_PI / 4 * diameter * diameter;
}

static FeedResult *
make_feed(gboolean on_top, double volume)
{
    FeedResult *feed = g_atomic_rc_box_new0(FeedResult);
    *feed = (FeedResult){.risers = 1,
                         .open = TRUE,
                         .on_top = on_top,
                         .diameter = 0.0313,
                         .height = 0.0777,
                         .base = on_top ? 0.0123 : 0,
                         .seat = 1,
                         .neck = 0.0091,
                         .needed_modulus = 0.0067,
                         .needed_volume = volume};
    return feed;
}

static void
test_sizes(void)
{
    PatternResult pattern = {0};
    const double copes[] = {0.0371, 0.0613, 0.0907, 0.1511};
    const double volumes[] = {0, 1.3e-5, 9.1e-4};
    for (int on_top = 0; on_top < 2; on_top++)
        for (guint k = 0; k < G_N_ELEMENTS(volumes); k++) {
            g_autoptr(FeedResult) feed = make_feed(on_top, volumes[k]);
            double before = INFINITY;
            for (guint i = 0; i < G_N_ELEMENTS(copes); i++) {
                g_autoptr(FeedResult) r = feed_result_for_cope(feed, &pattern, 1.013, copes[i]);
                double d = r->diameter, h = r->height, v = disc(d) * h;
                double faces = G_PI * d * h + (on_top ? 1 : 2) * disc(d);
                check_close(h + r->base, copes[i], 1e-12, "up to the cope's top");
                check_close(r->volume, v, 1e-12, "of a cylinder");
                check_close(r->modulus, v / faces, 1e-12, "volume over cooling faces");
                check_close(fmin(v / faces / 0.0067, volumes[k] > 0 ? v / volumes[k] : INFINITY), 1,
                            1e-9, "one need is just met, the other more than that");
                g_assert_cmpfloat(d, <, before); // the deeper the narrower
                check_close(r->neck, 0.0091, 1e-12, "the neck goes by the casting");
                before = d;
            }
        }
}

static void
test_others(void)
{
    PatternResult pattern = {0};
    g_autoptr(FeedResult) feed = make_feed(FALSE, 0);
    g_autoptr(FeedResult) shallow = feed_result_for_cope(feed, &pattern, 1, 0.0133);
    g_assert_true(
        isnan(shallow->diameter)); // less than twice its modulus: its two ends alone cool as fast
    g_autoptr(FeedResult) unknown = feed_result_for_cope(feed, &pattern, 1, NAN);
    g_assert_true(unknown == feed);
    feed->open = FALSE;
    g_autoptr(FeedResult) blind = feed_result_for_cope(feed, &pattern, 1, 0.05);
    g_assert_true(blind == feed);
}

// On a bar narrower than the riser: the strip of its foot, between two chords, over the disc.
static void
test_seat(void)
{
    const double wide = 0.0243, as_it_is[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) bar = check_mesh_box(0.1, wide, 0.0123);
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(bar, as_it_is, vec3(-0.05, -wide / 2, 0));
    g_autoptr(SolidGrid) grid = solid_grid_distance(mesh, 1e-3, 2e-3, 2e-3, NULL, &error);
    g_assert_no_error(error);
    PatternResult pattern = {.casting = grid};
    g_autoptr(FeedResult) feed = make_feed(TRUE, 0);
    const double copes[] = {0.0371, 0.0613, 0.1511};
    for (guint i = 0; i < G_N_ELEMENTS(copes); i++) {
        g_autoptr(FeedResult) r = feed_result_for_cope(feed, &pattern, 1, copes[i]);
        double t = fmin(1, wide / r->diameter);
        double share = 2 / G_PI * (asin(t) + t * sqrt(1 - t * t));
        check_close(r->seat, share, 0.04, "24 lines across the foot");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/cope/sizes", test_sizes);
    g_test_add_func("/feed/cope/others", test_others);
    g_test_add_func("/feed/cope/seat", test_seat);
    return g_test_run();
}
