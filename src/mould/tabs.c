// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs of a flask.
#include "mould/tabs.h"

#include <math.h>

#define TAB_LONGEST 0.015
#define TAB_SMALLEST 0.0025

guint
mould_tabs_place(double length, double width, double cover, MouldTab tabs[4])
{
    double narrow = MIN(0.5 * cover, 0.5 * TAB_LONGEST);
    double across = MIN(2 * narrow, 0.1 * length);
    if (!(narrow >= TAB_SMALLEST) || !(across >= TAB_SMALLEST))
        return 0;
    double y = width / 2 - cover / 2;
    double x = length / 2 - cover / 2 - across / 2;
    // Three tab lengths inwards: far more than any clearance, still in the sand at the wall.
    double shift = MIN(3 * across, x / 2);
    const double sign[4][2] = {{1, 1}, {-1, 1}, {-1, -1}, {1, -1}};
    for (int i = 0; i < 4; i++)
        tabs[i] = (MouldTab){sign[i][0] * (i == 0 ? x - shift : x), sign[i][1] * y, across, narrow};
    return 4;
}

gboolean
mould_tabs_fit(const MouldTab *tabs, guint n_tabs, double clearance, int sx, int sy)
{
    for (guint i = 0; i < n_tabs; i++) {
        gboolean found = FALSE;
        for (guint j = 0; j < n_tabs && !found; j++) {
            double dx = fabs(sx * tabs[i].x - tabs[j].x);
            double dy = fabs(sy * tabs[i].y - tabs[j].y);
            double slack_x = clearance + (tabs[j].length - tabs[i].length) / 2;
            double slack_y = clearance + (tabs[j].width - tabs[i].width) / 2;
            found = dx <= slack_x + 1e-12 && dy <= slack_y + 1e-12;
        }
        if (!found)
            return FALSE;
    }
    return TRUE;
}

gboolean
mould_tabs_one_way(const MouldTab *tabs, guint n_tabs, double clearance)
{
    return n_tabs > 0 && mould_tabs_fit(tabs, n_tabs, clearance, 1, 1) &&
           !mould_tabs_fit(tabs, n_tabs, clearance, -1, -1) &&
           !mould_tabs_fit(tabs, n_tabs, clearance, -1, 1) &&
           !mould_tabs_fit(tabs, n_tabs, clearance, 1, -1);
}

double
mould_mismatch_at(double clearance, double reach_x, double reach_y, double x, double y)
{
    // A tab at (X, Y) moves by (tx - a Y, ty + a X), each within the clearance, so for four of them
    // |tx| + |a| Y and |ty| + |a| X are at most c. The shift at a point is convex in (tx, ty, a):
    // its greatest value lies where the turn is none, or as much as one of the two allows.
    double most = hypot(clearance, clearance);
    double turns[2] = {clearance / reach_x, clearance / reach_y};
    for (int i = 0; i < 2; i++) {
        double turn = turns[i];
        double tx = clearance - turn * reach_y, ty = clearance - turn * reach_x;
        if (!(tx >= -1e-15) || !(ty >= -1e-15))
            continue;
        most = MAX(most, hypot(MAX(tx, 0) + turn * fabs(y), MAX(ty, 0) + turn * fabs(x)));
    }
    return most;
}
