// SPDX-License-Identifier: GPL-3.0-or-later
// Sand beside the tabs, and mismatch at the corners of cavities that lie differently.
#include "check.h"
#include "mould/play.h"
#include "mould/room.h"

typedef struct {
    MouldLayout layout;
    MouldCavity cavities[2];
    MouldChannel runner;
    SolidPoint points[4];
    guint starts[2];
    SolidOutline outline;
} Sample;

static void
fill(Sample *s)
{
    memset(s, 0, sizeof *s);
    const SolidPoint box[4] = {{-0.031, -0.017}, {0.031, -0.017}, {0.031, 0.017}, {-0.031, 0.017}};
    memcpy(s->points, box, sizeof box);
    s->starts[1] = 4;
    s->outline = (SolidOutline){s->points, 4, s->starts, 1};
    s->cavities[0] = (MouldCavity){0.0413, 0.0297, 0, NAN, NAN, 0, 0, 0};
    s->cavities[1] = (MouldCavity){-0.0613, -0.0357, G_PI / 2, NAN, NAN, 0, 0, 0};
    s->runner = (MouldChannel){-0.05, 0, 0.05, 0, 0.011, 0.011};
    s->layout = (MouldLayout){.length = 0.24,
                              .width = 0.18,
                              .cavities = s->cavities,
                              .n_cavities = 2,
                              .runners = &s->runner,
                              .n_runners = 1,
                              .sprue_top_diameter = 0.014,
                              .tabs = {{0.098, 0.0775, 0.015, 0.0075},
                                       {-0.0999, 0.0775, 0.015, 0.0075},
                                       {-0.0999, -0.0775, 0.015, 0.0075},
                                       {0.0999, -0.0775, 0.015, 0.0075}},
                              .n_tabs = 4,
                              .tab_clearance = 0.3e-3,
                              .growth = 1.013};
}

static void
test_room(void)
{
    Sample s;
    fill(&s);
    // To the wall: 90 - 77.5 - 3.75 - 0.3 mm.
    check_close(mould_tab_room(&s.layout, NULL), 0.00845, 1e-9, "wall at y");
    s.layout.tabs[0].x = 0.09;
    s.layout.tabs[0].y = 0.06;
    double top = 0.0297 + 1.013 * 0.017, right = 0.0413 + 1.013 * 0.031;
    double up = 0.06 - 0.00375 - 0.0003 - top, side = 0.09 - 0.0075 - 0.0003 - right;
    s.layout.n_tabs = 1;
    check_close(mould_tab_room(&s.layout, &s.outline), hypot(up, side), 1e-9, "corner to corner");
    s.layout.tabs[0].x = 0.0513;
    s.layout.tabs[0].y = 0.0311;
    g_assert_cmpfloat(mould_tab_room(&s.layout, &s.outline), ==, 0);
    s.layout.tabs[0].x = 0.03;
    s.layout.tabs[0].y = -0.03;
    check_close(mould_tab_room(&s.layout, &s.outline), 0.03 - 0.0055 - 0.00375 - 0.0003, 1e-9,
                "to the runner");
}

static void
test_mismatch(void)
{
    Sample s;
    fill(&s);
    mould_find_mismatch(&s.layout, &s.outline);
    for (int i = 0; i < 2; i++) {
        const MouldCavity *c = &s.cavities[i];
        double half_x = 1.013 * (i ? 0.017 : 0.031), half_y = 1.013 * (i ? 0.031 : 0.017), most = 0;
        for (int k = 0; k < 4; k++)
            most = MAX(most,
                       mould_play_shift(s.layout.tabs, 4, 0.3e-3, c->x + (k & 1 ? half_x : -half_x),
                                        c->y + (k & 2 ? half_y : -half_y)));
        check_close(c->mismatch, most, 1e-12, "its worst corner");
        g_assert_cmpfloat(c->mismatch, >=, 0.3e-3 * sqrt(2) * (1 - 1e-12));
    }
    s.layout.n_tabs = 0;
    mould_find_mismatch(&s.layout, &s.outline);
    g_assert_cmpfloat(s.cavities[0].mismatch, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/room/room", test_room);
    g_test_add_func("/mould/room/mismatch", test_mismatch);
    return g_test_run();
}
