// SPDX-License-Identifier: GPL-3.0-or-later
// Words and dimensions inside a flask, put where they are in nobody's way: called when everything
// else is drawn. What is placed first keeps its place.
//
//      ( 1 )|<- 20.4 ->|( 2 )        in line, or moved aside with extension lines,
//         __                         or its number at the end of a leader
//        |##|---- 3                  a number whose casting is too small for it
#include "sketch/flask-kit.h"

#include <math.h>

#include "sketch/label-spot.h"

#define NUMBER_SIZE 12.0
#define GUEST_SIZE 9.0
#define WORD_SIZE 11.0

#define UNHURRIED 8 // cavities; with so few there is time even in motion

// In the costs of the field.
#define ASIDE 6.0       // for a dimension that needs extension lines
#define ASIDE_FAR 0.8   // for each grain it is moved
#define LED 14.0        // for a leader where the thing itself has no room
#define GUEST_BELOW 2.6 // grains
#define LOCK_RIGHT 4.3  // grains, to the end of the padlock

// How far a dimension may be moved to either side, in grains; in motion by the first few only.
#define FEW 5
static const double offsets[] = {0,  2.5, -2.5, 4.0, -4.0, 6.0,   -6.0, 8.5, -8.5, 11, -11,
                                 14, -14, 17,   -17, 20.5, -20.5, 24,   -24, 28,   -28};

void
flask_labels_start(FlaskDraft *draft, SolidPoint min, SolidPoint max)
{
    draft->field = label_field_new(draft->scene, min, max);
    gboolean many = draft->layout->n_cavities > UNHURRIED;
    draft->hurried = many && draft->marks && draft->marks->in_motion;
}

void
flask_labels_end(FlaskDraft *draft)
{
    g_clear_pointer(&draft->field, label_field_free);
}

static SolidPoint
to_device(const FlaskDraft *draft, SolidPoint p)
{
    SolidPoint out;
    paint_to_device(label_field_view(draft->field), p.x, p.y, &out.x, &out.y);
    return out;
}

static SolidPoint
to_scene(const FlaskDraft *draft, SolidPoint p)
{
    SolidPoint out;
    paint_to_scene(label_field_view(draft->field), p.x, p.y, &out.x, &out.y);
    return out;
}

static void
draw_leader(FlaskDraft *d, SceneRole role, const char *part, const LabelSpot *spot)
{
    if (!spot->led)
        return;
    SolidPoint ends[] = {to_scene(d, spot->lead), to_scene(d, spot->end)};
    scene_add_line(d->scene, role, FLASK_ORDER_DIMENSION, part, ends, 2);
    label_field_take_line(d->field, spot->lead, spot->end);
}

static void
take_text(FlaskDraft *d, const LabelSearch *search)
{
    LabelBox box = label_search_box(search);
    label_field_take_box(d->field, &box);
}

void
flask_label_word(FlaskDraft *d, double x, double y, double radius, const char *word)
{
    LabelSearch search = label_search(d->field, word, WORD_SIZE, FALSE, NULL);
    SolidPoint middle = to_device(d, (SolidPoint){x, y});
    double reach = radius / d->grain * search.grain;
    label_search_around(&search, middle, reach);
    if (!d->hurried)
        label_search_led(&search, middle, reach, LED);
    SolidPoint at = to_scene(d, search.best.at);
    draw_leader(d, ROLE_DIMENSION, NULL, &search.best);
    flask_text(d, ROLE_TEXT, at.x, at.y, WORD_SIZE, search.best.align, FALSE, TRUE, NULL, word);
    take_text(d, &search);
}

gboolean
flask_label_number(FlaskDraft *d, guint i, const char *part, const SolidPoint *home,
                   SolidPoint *stands)
{
    SolidPoint min, max, heart;
    if (!label_ink_extent(label_field_ink(d->field), part, &min, &max))
        return FALSE;
    SolidPoint middle = {(min.x + max.x) / 2.0, (min.y + max.y) / 2.0};
    if (home)
        middle = to_device(d, *home);
    g_autofree char *number = g_strdup_printf("%u", i + 1);
    const MouldGuest *guest = d->marks && d->layout->cavities[i].guest ? d->layout->guest : NULL;
    LabelSearch search = label_search(d->field, number, NUMBER_SIZE, TRUE, part);
    if (d->marks && d->marks->locked && d->marks->locked[i])
        search.more_right = LOCK_RIGHT * search.grain - search.width / 2.0;
    if (guest) {
        double width, height;
        label_field_measure(d->field, guest->name, GUEST_SIZE, FALSE, &width, &height);
        search.width = fmax(search.width, width);
        search.more_down = GUEST_BELOW * search.grain;
    }
    if (d->hurried)
        label_search_try(&search, middle, ALIGN_MIDDLE, 0.0);
    else
        label_search_inside(&search, middle);
    if (!d->hurried && search.best.cost > LED && label_search_heart(&search, middle, &heart))
        label_search_led(&search, heart, 0.0, LED);
    SolidPoint at = to_scene(d, label_search_middle(&search));
    draw_leader(d, ROLE_DIMENSION, part, &search.best);
    flask_text(d, ROLE_TEXT, at.x, at.y, NUMBER_SIZE, ALIGN_MIDDLE, TRUE, TRUE, part, number);
    if (guest)
        flask_text(d, ROLE_TEXT, at.x, at.y - GUEST_BELOW * d->grain, GUEST_SIZE, ALIGN_MIDDLE,
                   FALSE, TRUE, part, guest->name);
    take_text(d, &search);
    if (stands)
        *stands = at;
    return TRUE;
}

typedef struct {
    SolidPoint ends[2]; // mm
    double offset;      // mm
    BrushDimension laid;
    double cost;
} Gap;

// The cheapest line for a dimension, with its text or (NULL) without.
static Gap
find_line(const FlaskDraft *d, SolidPoint from, SolidPoint to, const char *text)
{
    Gap best = {.cost = INFINITY}, now = {0};
    Shape shape = {.points = now.ends, .n_points = 2};
    double width = 0.0, height = 0.0;
    if (text)
        label_field_measure(d->field, text, SCENE_DIMENSION_SIZE, FALSE, &width, &height);
    // Turned round, a text beyond the line stands at its other end.
    for (guint k = 0; k < 2 * (d->hurried ? FEW : G_N_ELEMENTS(offsets)); k++) {
        double offset = offsets[k / 2];
        now.ends[0] = k % 2 ? to : from;
        now.ends[1] = k % 2 ? from : to;
        now.offset = shape.radius = (k % 2 ? -offset : offset) * d->grain;
        now.cost = offset != 0.0 ? ASIDE + ASIDE_FAR * fabs(offset) : 0.0;
        if (now.cost >= best.cost)
            continue;
        label_field_dimension(d->field, &shape, width, height, &now.laid);
        if (k % 2 && !now.laid.text_outside)
            continue;
        LabelBox box = label_box_of(&now.laid.text);
        if (text)
            now.cost += label_field_box(d->field, &box, NULL, best.cost - now.cost);
        if (now.cost < best.cost)
            now.cost += label_field_dimension_lines(d->field, &now.laid, best.cost - now.cost);
        if (now.cost < best.cost)
            best = now;
    }
    return best;
}

void
flask_label_gap(FlaskDraft *d, SceneRole role, const char *part, SolidPoint from, SolidPoint to,
                const char *text)
{
    Gap line = find_line(d, from, to, text), bare;
    LabelSearch search = label_search(d->field, text, SCENE_DIMENSION_SIZE, FALSE, NULL);
    search.best.cost = line.cost;
    if (line.cost > LED && !d->hurried) {
        bare = find_line(d, from, to, NULL);
        SolidPoint middle = {(bare.laid.line_a.x + bare.laid.line_b.x) / 2.0,
                             (bare.laid.line_a.y + bare.laid.line_b.y) / 2.0};
        search.dimension = &bare.laid;
        label_search_led(&search, middle, 0.0, LED + bare.cost);
    }
    gboolean led = search.best.led;
    const Gap *gap = led ? &bare : &line;
    scene_add_role_dimension(d->scene, role, FLASK_ORDER_DIMENSION, part, gap->ends[0],
                             gap->ends[1], gap->offset, led ? "" : text);
    label_field_take_dimension(d->field, &gap->laid);
    if (!led)
        return;
    SolidPoint at = to_scene(d, search.best.at);
    draw_leader(d, role, part, &search.best);
    flask_text(d, role, at.x, at.y, SCENE_DIMENSION_SIZE, search.best.align, FALSE, TRUE, part,
               text);
    take_text(d, &search);
}

gboolean
flask_label_shown(const FlaskDraft *d, SolidPoint p, gboolean gating)
{
    const LabelInk *ink = label_field_ink(d->field);
    // Within a little of the point, since the least sand lies anywhere between top and bottom.
    for (int i = 0; i < 9; i++) {
        double reach = i == 8 ? 0.0 : SCENE_GRAIN_PX, turn = i * G_PI / 4.0;
        SolidPoint q = to_device(d, p);
        q.x += reach * cos(turn);
        q.y += reach * sin(turn);
        if (label_ink_has(ink, q, ROLE_METAL) || label_ink_has(ink, q, ROLE_RISER) ||
            (gating && label_ink_has(ink, q, ROLE_GATING)))
            return TRUE;
    }
    return FALSE;
}
