// SPDX-License-Identifier: GPL-3.0-or-later
// Places for a text, from the liked to the last resort. A place that is liked less than the best so
// far costs is not looked at.
#include "sketch/label-spot.h"

#include <math.h>

#define LEADER_GAP 2.5  // device units between a leader and its text
#define AROUND_GAP 1.2  // grains between a circle and a text beside it
#define AROUND_TURN 0.6 // for each direction farther from straight over it
#define SIDEWAYS 0.35   // of a direction's cosine: from there on a text stands beside, not over
#define INSIDE_STEPS 11 // places along and across a part
#define HEART_STEPS 16
#define INSIDE_DISLIKE 1.5
#define INSIDE_FAR 0.1 // for each device unit from home
#define LED_FAR 1.1    // for each grain of a leader
#define DIRECTIONS 16

// Lengths of leaders, in grains.
static const double reaches[] = {2.0, 3.0, 4.5, 6.5, 9.0, 12.0, 16.0, 21.0};

LabelSearch
label_search(const LabelField *field, const char *text, double size, gboolean strong,
             const char *own)
{
    LabelSearch search = {.field = field,
                          .ink = label_field_ink(field),
                          .own = own,
                          .grain = SCENE_GRAIN_PX,
                          .best.cost = INFINITY};
    label_field_measure(field, text, size, strong, &search.width, &search.height);
    return search;
}

static double
left_of(const LabelSearch *search, ShapeAlign align)
{
    return align == ALIGN_START ? 0.0 : align == ALIGN_END ? -search->width : -search->width / 2.0;
}

static LabelBox
box_at(const LabelSearch *search, const LabelSpot *spot)
{
    BrushText text = {.x = spot->at.x,
                      .y = spot->at.y,
                      .left = left_of(search, spot->align),
                      .width = search->width,
                      .height = search->height};
    LabelBox box = label_box_of(&text);
    box.middle.x += search->more_right / 2.0;
    box.middle.y += search->more_down / 2.0;
    box.along += search->more_right / 2.0;
    box.across += search->more_down / 2.0;
    return box;
}

static void
try_spot(LabelSearch *search, const LabelSpot *spot)
{
    if (spot->cost >= search->best.cost)
        return;
    LabelSpot now = *spot;
    LabelBox box = box_at(search, spot);
    now.cost += label_field_box(search->field, &box, spot->led ? NULL : search->own,
                                search->best.cost - now.cost);
    if (search->dimension)
        now.cost += label_field_box_over(&box, search->dimension);
    if (spot->led && now.cost < search->best.cost)
        now.cost += label_field_line(search->field, spot->lead, spot->end,
                                     search->best.cost - now.cost);
    if (now.cost < search->best.cost)
        search->best = now;
}

void
label_search_try(LabelSearch *search, SolidPoint at, ShapeAlign align, double dislike)
{
    LabelSpot spot = {.at = at, .align = align, .cost = dislike};
    try_spot(search, &spot);
}

static SolidPoint
point_beyond(SolidPoint from, SolidPoint way, double length)
{
    return (SolidPoint){from.x + length * way.x, from.y + length * way.y};
}

static gboolean
is_on_own(const LabelSearch *search, SolidPoint p)
{
    const char *part;
    label_ink_at(search->ink, p, &part);
    return g_strcmp0(part, search->own) == 0;
}

// How a text beyond `end` as seen from where a direction starts is aligned, and to where.
static LabelSpot
spot_beyond(const LabelSearch *search, SolidPoint end, SolidPoint direction, double gap)
{
    LabelSpot spot = {.at = end, .align = ALIGN_MIDDLE};
    if (fabs(direction.x) > SIDEWAYS) {
        spot.align = direction.x > 0.0 ? ALIGN_START : ALIGN_END;
        spot.at.x += direction.x > 0.0 ? gap : -gap;
    } else {
        double half = search->height / 3.0 + gap;
        spot.at.y += direction.y > 0.0 ? half : -half;
    }
    return spot;
}

void
label_search_around(LabelSearch *search, SolidPoint middle, double radius)
{
    double reach = radius + AROUND_GAP * search->grain;
    for (int i = 0; i <= DIRECTIONS; i++) {
        // From straight over it down to both sides.
        int step = i % 2 ? (i + 1) / 2 : -i / 2;
        double turn = -G_PI / 2.0 + step * 2.0 * G_PI / DIRECTIONS;
        SolidPoint way = {cos(turn), sin(turn)};
        LabelSpot spot = spot_beyond(search, point_beyond(middle, way, reach), way, 0.0);
        label_search_try(search, spot.at, spot.align, AROUND_TURN * abs(step));
    }
}

typedef struct {
    SolidPoint at;
    double far; // from home
    int number;
} Inside;

static int
compare_inside(gconstpointer a, gconstpointer b)
{
    const Inside *one = a, *other = b;
    return one->far < other->far ? -1 : one->far > other->far ? 1 : one->number - other->number;
}

void
label_search_inside(LabelSearch *search, SolidPoint home)
{
    Inside places[INSIDE_STEPS * INSIDE_STEPS];
    SolidPoint min, max;
    label_search_try(search, home, ALIGN_MIDDLE, 0.0);
    if (!label_ink_extent(search->ink, search->own, &min, &max))
        return;
    for (int k = 0; k < INSIDE_STEPS * INSIDE_STEPS; k++) {
        double s = (k % INSIDE_STEPS + 0.5) / INSIDE_STEPS;
        double t = (k / INSIDE_STEPS + 0.5) / INSIDE_STEPS;
        SolidPoint at = {min.x + s * (max.x - min.x), min.y + t * (max.y - min.y)};
        places[k] = (Inside){at, hypot(at.x - home.x, at.y - home.y), k};
    }
    // The near ones first, so that once there is a good one the rest need not be looked at.
    qsort(places, G_N_ELEMENTS(places), sizeof *places, compare_inside);
    for (guint k = 0; k < G_N_ELEMENTS(places); k++)
        label_search_try(search, places[k].at, ALIGN_MIDDLE,
                         INSIDE_DISLIKE + INSIDE_FAR * places[k].far);
}

gboolean
label_search_heart(const LabelSearch *search, SolidPoint home, SolidPoint *heart)
{
    SolidPoint min, max;
    double least = INFINITY;
    label_ink_extent(search->ink, search->own, &min, &max);
    for (int k = 0; k < HEART_STEPS * HEART_STEPS; k++) {
        double s = (k % HEART_STEPS + 0.5) / HEART_STEPS;
        double t = (k / HEART_STEPS + 0.5) / HEART_STEPS;
        SolidPoint p = {min.x + s * (max.x - min.x), min.y + t * (max.y - min.y)};
        double far = hypot(p.x - home.x, p.y - home.y);
        if (far < least && is_on_own(search, p)) {
            least = far;
            *heart = p;
        }
    }
    return isfinite(least);
}

// How far from `from` the part is left, in steps of a device unit.
static double
find_exit(const LabelSearch *search, SolidPoint from, SolidPoint way)
{
    double far = 0.0;
    while (is_on_own(search, point_beyond(from, way, far)))
        far += 1.0;
    return far;
}

void
label_search_led(LabelSearch *search, SolidPoint from, double radius, double dislike)
{
    SolidPoint ways[DIRECTIONS];
    double starts[DIRECTIONS];
    for (int i = 0; i < DIRECTIONS; i++) {
        double turn = (i + 0.5) * 2.0 * G_PI / DIRECTIONS;
        ways[i] = (SolidPoint){cos(turn), sin(turn)};
        starts[i] = search->own ? find_exit(search, from, ways[i]) : radius;
    }
    for (guint k = 0; k < G_N_ELEMENTS(reaches); k++)
        for (int i = 0; i < DIRECTIONS; i++) {
            SolidPoint end = point_beyond(from, ways[i], starts[i] + reaches[k] * search->grain);
            LabelSpot spot = spot_beyond(search, end, ways[i], LEADER_GAP);
            spot.led = TRUE;
            spot.lead = point_beyond(from, ways[i], starts[i]);
            spot.end = end;
            spot.cost = dislike + LED_FAR * reaches[k];
            try_spot(search, &spot);
        }
}

SolidPoint
label_search_middle(const LabelSearch *search)
{
    const LabelSpot *best = &search->best;
    double left = left_of(search, best->align);
    return (SolidPoint){best->at.x + left + search->width / 2.0, best->at.y};
}

LabelBox
label_search_box(const LabelSearch *search)
{
    return box_at(search, &search->best);
}
