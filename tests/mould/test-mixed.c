// SPDX-License-Identifier: GPL-3.0-or-later
// Mixed rows: sand between every two true outlines and risers, and to the walls, by brute force
// over all sides; more castings than boxes allow; the same whatever the number of threads.
#include <math.h>

#include "check.h"
#include "mould/build.h"
#include "mould/mixed.h"
#include "solid/outline.h"
#include "wish.h"

#define TURNS 24

static SolidOutline *
outline_of(const SolidPoint *points, guint n)
{
    GArray *p = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    guint first = 0;
    g_array_append_vals(p, points, n);
    g_array_append_val(starts, first);
    return solid_outline_take(p, starts);
}

// Four quarter turns, then what lies between them.
static MouldFixed *
fixed_of(MouldWish *wish, const SolidOutline *outline)
{
    MouldRow row = {wish->riser_diameter, 0.5 * wish->neck, wish->cover_between};
    wish->n_stances = TURNS;
    for (int i = 0; i < TURNS; i++) {
        int k = i - MOULD_QUARTERS;
        double quarters = k < 0 ? i : k / 5 + (1 + k % 5) / 6.0;
        wish->stances[i] = mould_stance(outline, outline, quarters * G_PI / 2, &row);
        wish->attach_u[i] = wish->stances[i].attach_u;
        wish->attach_v[i] = wish->stances[i].attach_v;
        wish->joint_above[i] = wish->above;
        wish->joint_below[i] = wish->below;
    }
    return mould_fixed_new(wish, outline, outline);
}

static void
set_riser(MouldWish *wish, double diameter)
{
    wish->riser_diameter = diameter;
    wish->riser_height = 1.3 * diameter;
    wish->neck = 0.4 * diameter;
}

static MouldFixed *
make_pair(const MouldWish *base, const SolidOutline *host, double riser, const SolidOutline *guest,
          double its_riser)
{
    MouldWish own = *base, other = *base;
    set_riser(&own, riser);
    set_riser(&other, its_riser);
    MouldFixed *fixed = fixed_of(&own, host);
    mould_fixed_set_guest(fixed, fixed_of(&other, guest));
    return fixed;
}

static SolidPoint
put(const MouldCavity *c, SolidPoint p)
{
    return (SolidPoint){c->x + cos(c->turn) * p.x - sin(c->turn) * p.y,
                        c->y + sin(c->turn) * p.x + cos(c->turn) * p.y};
}

static double
to_side(SolidPoint p, SolidPoint a, SolidPoint b)
{
    double dx = b.x - a.x, dy = b.y - a.y, d2 = dx * dx + dy * dy;
    double t = d2 > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / d2, 0, 1) : 0;
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

// Corners of the one to sides of the other; outlines that do not cross are nearest there.
static double
between(const SolidOutline *a, const MouldCavity *at_a, const SolidOutline *b,
        const MouldCavity *at_b)
{
    double least = INFINITY;
    for (guint i = 0; i < a->n_points; i++)
        for (guint k = 0; k < b->n_points; k++)
            least = fmin(least, to_side(put(at_a, a->points[i]), put(at_b, b->points[k]),
                                        put(at_b, b->points[(k + 1) % b->n_points])));
    return least;
}

static double
to_riser(const SolidOutline *a, const MouldCavity *at, const MouldCavity *other, double diameter)
{
    double least = INFINITY;
    SolidPoint riser = {other->riser_x, other->riser_y};
    for (guint i = 0; i < a->n_points && diameter > 0; i++)
        least = fmin(least, to_side(riser, put(at, a->points[i]),
                                    put(at, a->points[(i + 1) % a->n_points])) -
                                diameter / 2);
    return least;
}

static MouldLayout *
build(const MouldFixed *fixed, const MouldRest *rest)
{
    MouldLayout *l = mould_layout_new();
    MouldPour pour;
    l->length = fixed->wish.length;
    l->width = fixed->wish.width;
    mould_fixed_build(l, fixed, (PlacementSpot *)(gpointer)rest->spots->data, rest->spots->len,
                      rest->sprue_x, rest->sprue_y, rest->axis, &pour);
    return l;
}

static void
check_sand(const MouldFixed *fixed, const MouldRest *rest)
{
    g_autoptr(MouldLayout) l = build(fixed, rest);
    const MouldWish *wish = &fixed->wish;
    g_assert_cmpuint(l->gates_missing, ==, 0);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const SolidOutline *o = mould_fixed_of(fixed, c->guest)->shadow;
        g_assert_cmpint(c->guest, ==, i >= l->n_cavities - l->n_guests);
        for (guint k = 0; k < o->n_points; k++) {
            SolidPoint p = put(c, o->points[k]);
            double wall = wish->round
                              ? wish->length / 2 - hypot(p.x, p.y)
                              : fmin(wish->length / 2 - fabs(p.x), wish->width / 2 - fabs(p.y));
            g_assert_cmpfloat(wall, >=, wish->cover_wall);
        }
        for (guint k = 0; k < l->n_cavities; k++) {
            const MouldCavity *d = &l->cavities[k];
            const SolidOutline *its = mould_fixed_of(fixed, d->guest)->shadow;
            double riser = mould_layout_riser(l, k)->diameter;
            if (i == k)
                continue;
            g_assert_cmpfloat(between(o, c, its, d), >=, wish->cover_between);
            g_assert_cmpfloat(to_riser(o, c, d, riser), >=, wish->cover_between);
            double mine = mould_layout_riser(l, i)->diameter;
            if (riser > 0 && mine > 0)
                g_assert_cmpfloat(hypot(c->riser_x - d->riser_x, c->riser_y - d->riser_y) -
                                      (riser + mine) / 2,
                                  >=, wish->cover_between);
        }
        // The runner lies clear of every corner, the well of every side.
        SolidPoint sprue = {l->sprue_x, l->sprue_y};
        for (guint k = 0; k < o->n_points; k++) {
            SolidPoint p = put(c, o->points[k]), q = put(c, o->points[(k + 1) % o->n_points]);
            g_assert_cmpfloat(to_side(sprue, p, q) - l->well_diameter / 2, >=, wish->cover_between);
            double across = l->axis ? p.x - l->sprue_x : p.y - l->sprue_y;
            g_assert_cmpfloat(fabs(across) - l->runners[0].width / 2, >=, wish->cover_between);
        }
    }
}

static guint
count_guests(const MouldRest *rest)
{
    guint n = 0;
    for (guint i = 0; i < rest->spots->len; i++)
        n += g_array_index(rest->spots, PlacementSpot, i).guest;
    return n;
}

static double
count_flasks(const MouldRestTask *task, const MouldRest *rest)
{
    guint guests = count_guests(rest);
    return fmax(ceil(task->wanted[0] / (rest->spots->len - guests)),
                ceil(task->wanted[1] / guests));
}

// Slim triangles and angles, which a box holds badly.
static const SolidPoint wedge[3] = {{-0.041, -0.017}, {0.047, -0.013}, {-0.036, 0.033}};
static const SolidPoint hook[6] = {{-0.024, -0.029}, {0.031, -0.029}, {0.031, -0.017},
                                   {-0.011, -0.017}, {-0.011, 0.034}, {-0.024, 0.034}};

static void
test_closer(void)
{
    g_autoptr(SolidOutline) host = outline_of(wedge, 3), guest = outline_of(hook, 6);
    guint more = 0;
    const double sizes[][2] = {{0.402, 0.297}, {0.351, 0.262}, {0.447, 0.351}, {0.331, 0.331}};
    for (guint i = 0; i < G_N_ELEMENTS(sizes); i++)
        for (int risers = 0; risers < 3; risers++) {
            MouldWish base = wish_of(sizes[i][0], sizes[i][1]);
            base.round = i == 3;
            base.box_x = 0.088;
            base.box_y = 0.05;
            g_autoptr(MouldFixed) fixed = make_pair(&base, host, risers == 1 ? 0.0213 : 0, guest,
                                                    risers > 0 ? 0.0257 : 0);
            MouldRestTask task = {
                .fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1, .wanted = {61, 43}};
            g_autoptr(MouldRest) rest = mould_rest_place(&task, NULL);
            g_autoptr(MouldRest) mixed = mould_mixed_place(&task, rest, NULL);
            g_test_message("%g by %g, risers %d: %u by boxes, %u by outlines", sizes[i][0],
                           sizes[i][1], risers, rest ? rest->spots->len : 0,
                           mixed ? mixed->spots->len : 0);
            if (!mixed)
                continue;
            more++;
            check_sand(fixed, mixed);
            double before = count_flasks(&task, rest), now = count_flasks(&task, mixed);
            g_assert_cmpfloat(now, <=, before);
            g_assert_true(now < before || mixed->spots->len > rest->spots->len);
        }
    g_assert_cmpuint(more, >=, 5); // of twelve
}

// So many guests as are asked for, so many castings at most, and the sprue where it is wanted.
static void
test_asked_for(void)
{
    g_autoptr(SolidOutline) host = outline_of(wedge, 3), guest = outline_of(hook, 6);
    MouldWish base = wish_of(0.447, 0.351);
    base.box_x = 0.088;
    base.box_y = 0.05;
    g_autoptr(MouldFixed) fixed = make_pair(&base, host, 0, guest, 0);
    MouldRestTask task = {.fixed = fixed,
                          .most = 7,
                          .sprue_x = NAN,
                          .sprue_y = 0.0113,
                          .axis = 0,
                          .guests = 3,
                          .wanted = {61, 43}};
    g_autoptr(MouldRest) few = mould_mixed_place(&task, NULL, NULL);
    g_assert_nonnull(few);
    g_assert_cmpuint(few->spots->len, ==, 7);
    g_assert_cmpuint(count_guests(few), ==, 3);
    check_close(few->sprue_y, 0.0113, 1e-12, "through the sprue");
    check_sand(fixed, few);
    // What is as good already is not changed.
    g_assert_null(mould_mixed_place(&task, few, NULL));
    // Few of the other job wanted: few of it.
    task = (MouldRestTask){
        .fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1, .wanted = {97, 2}};
    g_autoptr(MouldRest) mostly = mould_mixed_place(&task, NULL, NULL);
    g_assert_cmpuint(count_guests(mostly), <, mostly->spots->len / 3);
    g_autoptr(MouldRest) again = mould_mixed_place(&task, NULL, NULL);
    g_assert_cmpmem(mostly->spots->data, mostly->spots->len * sizeof(PlacementSpot),
                    again->spots->data, again->spots->len * sizeof(PlacementSpot));
    // Too small a flask, and stopped.
    MouldWish tiny = wish_of(0.12, 0.1);
    g_autoptr(MouldFixed) small = make_pair(&tiny, host, 0, guest, 0);
    task.fixed = small;
    g_assert_null(mould_mixed_place(&task, NULL, NULL));
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    task.fixed = fixed;
    g_assert_null(mould_mixed_place(&task, NULL, progress));
}

// One side of the castings is high enough for a neck, the others are not: by boxes and by outlines
// they all turn that side to the runner.
static void
test_neck(void)
{
    g_autoptr(SolidOutline) host = outline_of(wedge, 3), guest = outline_of(hook, 6);
    MouldWish base = wish_of(0.447, 0.351);
    base.box_x = 0.088;
    base.box_y = 0.05;
    for (int high = 0; high < MOULD_QUARTERS; high++) {
        g_autoptr(MouldFixed) fixed = make_pair(&base, host, 0.0213, guest, 0.0257);
        for (int i = 0; i < TURNS; i++)
            if (i != high)
                fixed->wish.joint_above[i] = fixed->guest->wish.joint_above[i] = 0.0003;
        MouldRestTask task = {
            .fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1, .wanted = {61, 43}};
        MouldRest *placed[2] = {mould_rest_place(&task, NULL),
                                mould_mixed_place(&task, NULL, NULL)};
        for (int k = 0; k < 2; k++) {
            g_assert_nonnull(placed[k]);
            check_sand(fixed, placed[k]);
            g_autoptr(MouldLayout) l = build(fixed, placed[k]);
            const MouldNeck *necks[2] = {&l->neck, &l->guest_neck};
            for (int kind = 0; kind < 2; kind++) {
                double h = necks[kind]->up + necks[kind]->down, w = necks[kind]->width;
                check_close(necks[kind]->joint_above, 0.0062, 1e-12, "of the high side");
                check_close(w * h / (2 * (w + h)), mould_fixed_of(fixed, kind)->wish.neck / 4, 1e-3,
                            "as heavy as the round one");
            }
            mould_rest_free(placed[k]);
        }
    }
}

// What is locked stays, whatever is moved; round it outlines hold more than boxes.
static void
test_locked(void)
{
    g_autoptr(SolidOutline) host = outline_of(wedge, 3), guest = outline_of(hook, 6);
    MouldWish base = wish_of(0.447, 0.351);
    base.box_x = 0.088;
    base.box_y = 0.05;
    for (int risers = 0; risers < 2; risers++) {
        g_autoptr(MouldFixed)
                      fixed = make_pair(&base, host, risers * 0.0213, guest, risers * 0.0257);
        MouldRestTask task = {
            .fixed = fixed, .sprue_x = NAN, .sprue_y = NAN, .axis = -1, .wanted = {61, 43}};
        g_autoptr(MouldRest) all = mould_mixed_place(&task, NULL, NULL);
        // One of each, not quite where it was.
        PlacementSpot locked[2] = {g_array_index(all->spots, PlacementSpot, 1),
                                   g_array_index(all->spots, PlacementSpot, all->spots->len - 1)};
        for (int i = 0; i < 2; i++) {
            *(all->axis ? &locked[i].y : &locked[i].x) += 0.0013;
            locked[i].locked = TRUE;
        }
        task.locked = locked;
        task.n_locked = 2;
        g_autoptr(MouldRest) boxes = mould_rest_place(&task, NULL);
        g_autoptr(MouldRest) mixed = mould_mixed_place(&task, boxes, NULL);
        g_test_message("risers %d: %u alone, %u by boxes, %u by outlines", risers, all->spots->len,
                       boxes->spots->len, mixed ? mixed->spots->len : 0);
        g_assert_nonnull(mixed);
        guint n = mixed->spots->len, guests = count_guests(mixed);
        g_assert_true(count_flasks(&task, mixed) < count_flasks(&task, boxes) ||
                      n > boxes->spots->len);
        // Of each kind the locked one is the first.
        g_assert_cmpmem(mixed->spots->data, sizeof *locked, &locked[0], sizeof *locked);
        g_assert_cmpmem(&g_array_index(mixed->spots, PlacementSpot, n - guests), sizeof *locked,
                        &locked[1], sizeof *locked);
        check_sand(fixed, mixed);
        g_autoptr(MouldRest) again = mould_mixed_place(&task, boxes, NULL);
        g_assert_cmpmem(mixed->spots->data, n * sizeof *locked, again->spots->data,
                        again->spots->len * sizeof *locked);
        // No line for a runner keeps clear of what stands all over the middle.
        PlacementSpot middle[2] = {{0.009, 0.004, 0.3, TRUE, FALSE}, {-0.1, 0.1, 0, TRUE, TRUE}};
        task.locked = middle;
        task.sprue_x = task.sprue_y = 0.001;
        g_assert_null(mould_mixed_place(&task, NULL, NULL));
    }
}

// Counted by hand: triangles of 60 by 50 mm with their bases and tips to the runner by turns, 20 mm
// of sand apart across their sides of 58.3 mm, stand 30 + 20 x 58.3 / 50 = 53.3 mm apart; by their
// boxes 80 mm. There are 447 - 2 x 25 mm between the walls' sand: 1 + (397 - 60) / 53.3, whole,
// or 7 on the free side. On the other one is locked in the middle, base to the runner, and a guest
// of 40 mm at 170 mm: before the first there are 198.5 - 30 mm for 3, and between them
// 170 - 20 - 20 - 30 mm for 1.
static void
test_counted(void)
{
    const SolidPoint triangle[3] = {{-0.03, -0.025}, {0.03, -0.025}, {0, 0.025}};
    const SolidPoint block[4] = {{-0.02, -0.03}, {0.02, -0.03}, {0.02, 0.03}, {-0.02, 0.03}};
    g_autoptr(SolidOutline) host = outline_of(triangle, 3), guest = outline_of(block, 4);
    MouldWish base = wish_of(0.447, 0.251);
    base.box_x = 0.06;
    base.box_y = 0.05;
    g_autoptr(MouldFixed) fixed = make_pair(&base, host, 0, guest, 0);
    fixed->wish.n_stances = fixed->guest->wish.n_stances = MOULD_QUARTERS;
    const PlacementSpot locked[2] = {{0, 0.065, 0, TRUE, FALSE}, {0.17, 0.07, 0, TRUE, TRUE}};
    MouldRestTask task = {.fixed = fixed,
                          .locked = locked,
                          .n_locked = 2,
                          .sprue_x = NAN,
                          .sprue_y = 0,
                          .axis = 0,
                          .guests = 1,
                          .wanted = {61, 43}};
    g_autoptr(MouldRest) boxes = mould_rest_place(&task, NULL);
    g_autoptr(MouldRest) mixed = mould_mixed_place(&task, boxes, NULL);
    g_assert_nonnull(mixed);
    g_assert_cmpuint(boxes->spots->len, <, mixed->spots->len);
    g_assert_cmpuint(count_guests(mixed), ==, 1);
    g_assert_cmpuint(mixed->spots->len, ==, 2 + 7 + 3 + 1);
    check_sand(fixed, mixed);
    // No more than are asked for, the locked ones among them; none besides those is none.
    for (guint most = 2; most < 5; most++) {
        task.most = most;
        g_autoptr(MouldRest) few = mould_mixed_place(&task, NULL, NULL);
        g_assert_cmpuint(few ? few->spots->len : 2, ==, most);
    }
}

// In which half gates of a shared flask lie, and whom they miss there.
static void
test_halves(void)
{
    static const struct {
        double host_above, host_below, host_riser, guest_above, guest_below, guest_riser;
        gboolean drag;
        guint missed;
    } cases[] = {{0, 0.012, 0, 0.012, 0, 0, FALSE, 1}, // each all in another half
                 {0.012, 0, 0, 0, 0.012, 0, FALSE, 1},
                 {0, 0.012, 0, 0, 0.012, 0, TRUE, 0},          // both in the drag
                 {0.012, 0.012, 0, 0, 0.012, 0, TRUE, 0},      // one of them in both
                 {0, 0.012, 0, 0.012, 0.012, 0.025, FALSE, 1}, // a riser beside one: in the cope
                 {0.012, 0.012, 0.025, 0, 0.012, 0, FALSE, 1},
                 {0, 0.012, 0.025, 0, 0.012, 0.025, FALSE, 0}}; // beside both
    static const SolidPoint block[4] = {
        {-0.025, -0.015}, {0.025, -0.015}, {0.025, 0.015}, {-0.025, 0.015}};
    const PlacementSpot spots[2] = {{-0.06, 0.08, 0, FALSE, FALSE}, {0.06, 0.08, 0, FALSE, TRUE}};
    g_autoptr(SolidOutline) outline = outline_of(block, 4);
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        MouldWish host = wish_of(0.35, 0.3), guest = host;
        host.above = cases[i].host_above;
        host.below = cases[i].host_below;
        guest.above = cases[i].guest_above;
        guest.below = cases[i].guest_below;
        set_riser(&host, cases[i].host_riser);
        set_riser(&guest, cases[i].guest_riser);
        g_autoptr(MouldFixed) fixed = fixed_of(&host, outline);
        mould_fixed_set_guest(fixed, fixed_of(&guest, outline));
        g_autoptr(MouldLayout) l = mould_layout_new();
        MouldPour pour;
        mould_fixed_build(l, fixed, spots, 2, NAN, 0, 0, &pour);
        g_test_message("case %u", i);
        g_assert_cmpint(l->gates_in_drag, ==, cases[i].drag);
        g_assert_cmpuint(l->gates_missing, ==, cases[i].missed);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/mixed/closer", test_closer);
    g_test_add_func("/mould/mixed/asked-for", test_asked_for);
    g_test_add_func("/mould/mixed/neck", test_neck);
    g_test_add_func("/mould/mixed/halves", test_halves);
    g_test_add_func("/mould/mixed/locked", test_locked);
    g_test_add_func("/mould/mixed/counted", test_counted);
    return g_test_run();
}
