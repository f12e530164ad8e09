// SPDX-License-Identifier: GPL-3.0-or-later
// Placing tabs, and the ways a flask may be closed wrongly.
#include "mould/tabs.h"

#include <math.h>

#define TAB_LONGEST 0.015
#define TAB_SMALLEST 0.0025
#define PIN_SHARE 0.4    // of the cover, that a pin takes
#define SQUARE 0.005     // m; a flask no further from square closes turned by a quarter
#define SHIFT_STEP 5e-4  // m
#define AMPLE_SHIFT 3    // tab lengths: far more than any clearance, still in the sand at the wall
#define ROUND_SHIFT 1    // in a round flask, where further on the wall is no longer near
#define AMPLE_LONGER 0.5 // tab lengths, of the longer one of two

static const int corners[4][2] = {{1, 1}, {-1, 1}, {-1, -1}, {1, -1}};

static gboolean
is_square(double length, double width)
{
    return fabs(length - width) < SQUARE;
}

static gboolean
find_size(const MouldTabWish *w, double *across, double *narrow)
{
    if (w->pins) {
        *across = *narrow = isnan(w->size) ? MIN(PIN_SHARE * w->cover, TAB_LONGEST) : w->size;
    } else if (isnan(w->size)) {
        *narrow = MIN(0.5 * w->cover, 0.5 * TAB_LONGEST);
        *across = MIN(2 * *narrow, 0.1 * w->length);
    } else {
        *across = w->size;
        *narrow = w->size / 2;
    }
    return *narrow >= TAB_SMALLEST && *across >= TAB_SMALLEST;
}

static double
ample_shift(const MouldTabWish *w, double across)
{
    if (w->count == 2)
        return AMPLE_LONGER * across;
    if (w->count == 3 && !is_square(w->length, w->width))
        return 0;
    return (w->in_round ? ROUND_SHIFT : AMPLE_SHIFT) * across;
}

guint
mould_tabs_place(const MouldTabWish *w, MouldTab tabs[4])
{
    g_return_val_if_fail(w->count >= 2 && w->count <= 4, 0);
    double across, narrow, inset = isnan(w->inset) ? w->cover / 2 : w->inset;
    if (!find_size(w, &across, &narrow) || !(inset >= narrow / 2))
        return 0;
    double y = w->width / 2 - inset, x = w->length / 2 - inset - (w->pins ? 0 : across / 2);
    if (!(x > across) || !(y > narrow))
        return 0;
    double shift = isnan(w->shift) ? ample_shift(w, across) : w->shift;
    // Never past the middle of its half, where it would come near the runner.
    double inwards = MIN(shift, x / 2);
    // Two on the diagonal of a square would close turned over about it.
    double aside = is_square(w->length, w->width) ? MIN(AMPLE_SHIFT * across, x / 2) : 0;
    guint first = w->count == 3 ? 1 : 0, step = w->count == 2 ? 2 : 1;
    for (guint i = 0; i < w->count; i++) {
        const int *sign = corners[first + i * step];
        double longer = i == 0 && w->count == 2 ? MIN(shift, x) : 0;
        double in = w->count > 2 ? inwards : w->pins ? aside : aside + longer / 2;
        if (i > 0)
            in = 0;
        tabs[i] = (MouldTab){sign[0] * (x - in), sign[1] * y, across + longer,
                             w->pins ? 0 : narrow};
    }
    return w->count;
}

guint
mould_tabs_wrong_ways(double length, double width, const MouldTurn **ways)
{
    static const MouldTurn all[] = {{-1, 0, 0, -1}, {1, 0, 0, -1}, {-1, 0, 0, 1}, {0, -1, 1, 0},
                                    {0, 1, -1, 0},  {0, 1, 1, 0},  {0, -1, -1, 0}};
    *ways = all;
    return is_square(length, width) ? G_N_ELEMENTS(all) : 3;
}

guint
mould_tabs_wrong(const MouldTab *tabs, guint n_tabs, double clearance, double length, double width)
{
    const MouldTurn *ways;
    guint n = mould_tabs_wrong_ways(length, width, &ways), wrong = 0;
    for (guint i = 0; i < n && n_tabs > 0; i++)
        wrong += mould_play_closes(tabs, n_tabs, &ways[i]) <= clearance + 1e-9;
    return wrong;
}

double
mould_tabs_closes_at(const MouldTab *tabs, guint n_tabs, double length, double width)
{
    const MouldTurn *ways;
    guint n = mould_tabs_wrong_ways(length, width, &ways);
    double least = INFINITY;
    for (guint i = 0; i < n && n_tabs > 0; i++)
        least = MIN(least, mould_play_closes(tabs, n_tabs, &ways[i]));
    return least;
}

gboolean
mould_tabs_one_way(const MouldTab *tabs, guint n_tabs, double clearance)
{
    return n_tabs > 0 && mould_tabs_wrong(tabs, n_tabs, clearance, 2, 1) == 0;
}

double
mould_tabs_least_shift(const MouldTabWish *wish, double clearance)
{
    MouldTabWish w = *wish;
    MouldTab tabs[4], before[4];
    for (int i = 0; i * SHIFT_STEP < wish->length / 4; i++) {
        w.shift = i * SHIFT_STEP;
        guint n = mould_tabs_place(&w, tabs);
        // At the end of its room the tab stands still.
        if (n == 0 || (i > 0 && tabs[0].x == before[0].x && tabs[0].length == before[0].length))
            return NAN;
        if (mould_tabs_closes_at(tabs, n, w.length, w.width) >= clearance + MOULD_TAB_MARGIN - 1e-9)
            return w.shift;
        before[0] = tabs[0];
    }
    return NAN;
}
