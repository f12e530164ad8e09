// SPDX-License-Identifier: GPL-3.0-or-later
#include "wish.h"

#include <math.h>

guint
wish_over_well(const MouldLayout *l)
{
    guint over = 0;
    for (guint i = 0; i < l->n_gates; i++) {
        const MouldChannel *g = &l->gates[i];
        double dx = g->x2 - g->x1, dy = g->y2 - g->y1, length = hypot(dx, dy), least = INFINITY;
        for (int along = 0; along <= 400; along++)
            for (int across = -20; across <= 20; across++) {
                double t = along / 400.0, s = across / 40.0 * g->width / length;
                least = fmin(least, hypot(g->x1 + t * dx - s * dy - l->sprue_x,
                                          g->y1 + t * dy + s * dx - l->sprue_y));
            }
        over += least < l->well_diameter / 2 - 1e-7;
    }
    return over;
}

MouldWish
wish_of(double length, double width)
{
    return (MouldWish){.length = length,
                       .width = width,
                       .cope = 0.09,
                       .drag = 0.09,
                       .above = 0.0062,
                       .below = 0.004,
                       .cover_wall = 0.025,
                       .cover_between = 0.02,
                       .cover_runner = 0.02,
                       .asked_wall = 0.025,
                       .asked_between = 0.02,
                       .asked_runner = 0.02,
                       .basin_height = 0.02,
                       .box_x = 0.0517,
                       .box_y = 0.0313,
                       .joint_above = {0.0062, 0.0062},
                       .joint_below = {0.004, 0.004},
                       .attach_v = {-0.0313 / 2, -0.0517 / 2},
                       .wall = 0.0061,
                       .cavity_volume = 0.0517 * 0.0313 * 0.0102,
                       .cavity_mass = 1.13 * 2391 * 0.0517 * 0.0313 * 0.0102,
                       .density = 2391,
                       .discharge = 0.8,
                       .head = 0.11,
                       .mean_head = 0.1074,
                       .fill_time = NAN,
                       .wall_time = 5.3,
                       .pour_factor = 2.9,
                       .runner_ratio = 4,
                       .gate_ratio = 4,
                       .velocity_limit = 0.5};
}
