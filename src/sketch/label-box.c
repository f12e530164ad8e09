// SPDX-License-Identifier: GPL-3.0-or-later
// Turned rectangles: whether two meet, and how much of a line one covers.
#include "sketch/label-box.h"

#include <math.h>

#define LETTERS 0.75 // of a line's height: figures and capitals, and a rim of paper
#define RIM 1.5      // device units before and after the letters

LabelBox
label_box_of(const BrushText *text)
{
    double middle = text->left + text->width / 2.0;
    double c = cos(text->turn), s = sin(text->turn);
    return (LabelBox){{text->x + c * middle, text->y + s * middle},
                      text->width / 2.0 + RIM,
                      LETTERS * text->height / 2.0,
                      {c, s}};
}

void
label_box_corners(const LabelBox *box, SolidPoint corners[4])
{
    double c = box->way.x, s = box->way.y;
    for (int i = 0; i < 4; i++) {
        double along = i == 0 || i == 3 ? -box->along : box->along;
        double across = i < 2 ? -box->across : box->across;
        corners[i] = (SolidPoint){box->middle.x + c * along - s * across,
                                  box->middle.y + s * along + c * across};
    }
}

static SolidPoint
turn_into(const LabelBox *box, SolidPoint p)
{
    double c = box->way.x, s = box->way.y;
    double dx = p.x - box->middle.x, dy = p.y - box->middle.y;
    return (SolidPoint){c * dx + s * dy, -s * dx + c * dy};
}

// Does an edge of `box` part it from the other's corners?
static gboolean
is_apart(const LabelBox *box, const SolidPoint others[4])
{
    SolidPoint min = {INFINITY, INFINITY}, max = {-INFINITY, -INFINITY};
    for (int i = 0; i < 4; i++) {
        SolidPoint p = turn_into(box, others[i]);
        min = (SolidPoint){fmin(min.x, p.x), fmin(min.y, p.y)};
        max = (SolidPoint){fmax(max.x, p.x), fmax(max.y, p.y)};
    }
    return min.x >= box->along || max.x <= -box->along || min.y >= box->across ||
           max.y <= -box->across;
}

gboolean
label_box_meets(const LabelBox *a, const LabelBox *b)
{
    SolidPoint of_a[4], of_b[4];
    double away = hypot(a->middle.x - b->middle.x, a->middle.y - b->middle.y);
    if (away > a->along + a->across + b->along + b->across)
        return FALSE;
    label_box_corners(a, of_a);
    label_box_corners(b, of_b);
    return !is_apart(a, of_b) && !is_apart(b, of_a);
}

// Narrows [*from, *to] to where start + t * step lies within +-half. FALSE: nowhere.
static gboolean
clip_to(double start, double step, double half, double *from, double *to)
{
    if (step == 0.0)
        return fabs(start) < half;
    double one = (-half - start) / step, other = (half - start) / step;
    *from = fmax(*from, fmin(one, other));
    *to = fmin(*to, fmax(one, other));
    return *from < *to;
}

double
label_box_covers(const LabelBox *box, SolidPoint a, SolidPoint b, SolidPoint *middle)
{
    SolidPoint from = turn_into(box, a), to = turn_into(box, b);
    double dx = to.x - from.x, dy = to.y - from.y, first = 0.0, last = 1.0;
    if (!clip_to(from.x, dx, box->along, &first, &last) ||
        !clip_to(from.y, dy, box->across, &first, &last))
        return 0.0;
    double half = (first + last) / 2.0;
    *middle = (SolidPoint){a.x + half * (b.x - a.x), a.y + half * (b.y - a.y)};
    return (last - first) * hypot(dx, dy);
}
