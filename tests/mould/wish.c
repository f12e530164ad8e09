// SPDX-License-Identifier: GPL-3.0-or-later
#include "wish.h"

#include <math.h>

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
