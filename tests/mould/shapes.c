// SPDX-License-Identifier: GPL-3.0-or-later
#include "shapes.h"

#include <math.h>

SolidOutline *
shapes_outline(const SolidPoint *points, guint n)
{
    GArray *p = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    guint first = 0;
    g_array_append_vals(p, points, n);
    g_array_append_val(starts, first);
    return solid_outline_take(p, starts);
}

SolidOutline *
shapes_disc(double radius)
{
    SolidPoint p[64];
    for (int i = 0; i < 64; i++)
        p[i] = (SolidPoint){radius * cos(G_PI * i / 32), radius * sin(G_PI * i / 32)};
    return shapes_outline(p, 64);
}
