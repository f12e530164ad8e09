// SPDX-License-Identifier: GPL-3.0-or-later
// The section itself: bodies painted one over the other from the outside in, each with its hatch;
// the edges over them; and the dimensions a pattern maker asks for.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/casting-kit.h"

#define LETTER_SIZE 12.0
#define NOTE_SIZE 11.0
#define OUT 8.0  // grains from the casting to a dimension line
#define NEAR 5.0 // the same of two that stand apart
#define FAR 9.4
#define ROOM 6.0      // grains that a length takes along its line
#define FINENESS 0.01 // grains an outline may be off

// To the sheet, mm.
static SolidPoint
place(const CastingDraft *d, double u, double v)
{
    return (SolidPoint){d->sheet.section.x + u * CASTING_MM, d->sheet.section.y + v * CASTING_MM};
}

// What stands behind the plane, so that the dimensions have something to measure.
static void
draw_beyond(CastingDraft *d)
{
    const PatternResult *p = d->pattern;
    const SolidOutline *seen = d->cut->axis == 2 ? p->shadow : p->side[d->cut->axis];
    if (!seen)
        return;
    g_autoptr(SolidOutline)
                  plain = solid_outline_simplified(seen, FINENESS * d->sheet.grain / CASTING_MM);
    double x = d->sheet.section.x / CASTING_MM, y = d->sheet.section.y / CASTING_MM;
    scene_add_outline(d->scene, ROLE_GRID, CASTING_ORDER_BEYOND, NULL, TRUE, FALSE, plain, x, y, 0);
    scene_add_outline(d->scene, ROLE_DIMENSION, CASTING_ORDER_BEYOND, NULL, FALSE, TRUE, plain, x,
                      y, 0);
}

static void
draw_bodies(CastingDraft *d)
{
    double x = d->sheet.section.x / CASTING_MM, y = d->sheet.section.y / CASTING_MM;
    for (int c = CAUSE_COUNT - 1; c >= 0; c--) {
        if (!d->cut->body[c] || d->cut->body[c]->n_points == 0)
            continue;
        const CastingCause *cause = &casting_causes[c];
        g_autoptr(SolidOutline) plain = solid_outline_simplified(
            d->cut->body[c], FINENESS * d->sheet.grain / CASTING_MM);
        int order = CASTING_ORDER_METAL + CAUSE_COUNT - 1 - c;
        scene_add_outline(d->scene, cause->role, order, cause->id, TRUE, FALSE, plain, x, y, 0);
        // The casting's own edge is heavy whatever its cause, and so is the part's.
        gboolean edge = c == CAUSE_DRAFT || c == CAUSE_PART;
        scene_add_outline(d->scene, c == CAUSE_DRAFT ? ROLE_VISIBLE : cause->role,
                          edge ? CASTING_ORDER_EDGE : CASTING_ORDER_LINE, NULL, FALSE, TRUE, plain,
                          x, y, 0);
    }
}

static void
add_dimension(CastingDraft *d, const char *part, SolidPoint from, SolidPoint to, double offset)
{
    double length = hypot(to.x - from.x, to.y - from.y);
    if (!(length > 0))
        return;
    g_autofree char *text = casting_length_number(d->units, length / CASTING_MM);
    scene_add_dimension(d->scene, CASTING_ORDER_DIMENSION, part, from, to, offset, text);
}

// The casting's right edge at height v (m); NAN where it is not cut.
static double
find_right(const SolidOutline *outline, double v)
{
    double most = NAN;
    for (guint loop = 0; loop < outline->n_loops; loop++) {
        guint first = outline->starts[loop], end = outline->starts[loop + 1];
        for (guint i = first, j = end - 1; i < end; j = i++) {
            SolidPoint a = outline->points[j], b = outline->points[i];
            if ((a.y > v) != (b.y > v))
                most = fmax(most, a.x + (b.x - a.x) * (v - a.y) / (b.y - a.y));
        }
    }
    return most;
}

// A note with a leader to the casting's right side, on the deeper half.
static void
draw_draft(CastingDraft *d)
{
    const PatternResult *p = d->pattern;
    const SolidOutline *casting = d->cut->body[CAUSE_DRAFT];
    gboolean cope = p->height_cope >= p->height_drag;
    double v = cope ? 0.6 * p->height_cope : -0.6 * p->height_drag, g = d->sheet.grain;
    double right = casting ? find_right(casting, v) : NAN;
    if (!(p->draft > 0) || isnan(right))
        return;
    SolidPoint tip = place(d, right, v);
    double x = place(d, d->sheet.max.x, 0).x + 2.8 * g;
    // Clear of the words at the parting.
    double parting = place(d, 0, 0).y, y = cope ? fmax(tip.y + 3.0 * g, parting + 9.0 * g)
                                                : fmin(tip.y - 3.0 * g, parting - 9.0 * g);
    double length = hypot(x - tip.x, y - tip.y);
    SolidPoint leader[] = {tip, {x - 1.0 * g, y}, {x, y}};
    scene_add_line(d->scene, ROLE_DIMENSION, CASTING_ORDER_DIMENSION, "draft", leader, 3);
    casting_arrow(d, ROLE_VISIBLE, CASTING_ORDER_DIMENSION, "draft", tip.x, tip.y,
                  (tip.x - x + 1.0 * g) / length, (tip.y - y) / length);
    g_autofree char *angle = quantity_format(QUANTITY_ANGLE, p->draft, d->units);
    g_autofree char *note = g_strdup_printf(_("draft %s"), angle);
    casting_text(d, ROLE_DIMENSION, x + 0.6 * g, y, NOTE_SIZE, ALIGN_START, FALSE, "draft", note);
}

static void
draw_upright(CastingDraft *d)
{
    const CastingSheet *s = &d->sheet;
    double g = s->grain;
    SolidPoint left = place(d, s->min.x, 0), right = place(d, s->max.x, 0);
    SolidPoint parting[] = {{left.x - 3.0 * g, left.y}, {right.x + 15.0 * g, left.y}};
    scene_add_line(d->scene, ROLE_PARTING, CASTING_ORDER_PARTING, NULL, parting, 2);
    casting_text(d, ROLE_TEXT, right.x + 5.0 * g, left.y + 2.6 * g, LETTER_SIZE, ALIGN_START, TRUE,
                 NULL, _("COPE"));
    casting_text(d, ROLE_TEXT, right.x + 5.0 * g, left.y - 2.6 * g, LETTER_SIZE, ALIGN_START, TRUE,
                 NULL, _("DRAG"));
    // Left of upwards is left; left of downwards is right. Where the words are longer than what
    // they measure the greater depth stands further out.
    double cope = s->max.y * CASTING_MM / g, drag = -s->min.y * CASTING_MM / g;
    gboolean apart = fmin(cope, drag) < ROOM;
    double near = apart ? NEAR : OUT, far = apart ? FAR : OUT;
    add_dimension(d, "depth-cope", left, place(d, s->min.x, s->max.y),
                  (cope > drag ? far : near) * g);
    add_dimension(d, "depth-drag", left, place(d, s->min.x, s->min.y),
                  -(cope > drag ? near : far) * g);
    draw_draft(d);
}

void
casting_draw_section(CastingDraft *d)
{
    const CastingSheet *s = &d->sheet;
    double g = s->grain;
    draw_beyond(d);
    draw_bodies(d);
    add_dimension(d, "casting", place(d, s->min.x, s->min.y), place(d, s->max.x, s->min.y),
                  -6.0 * g);
    if (d->cut->axis == 2)
        add_dimension(d, "casting", place(d, s->min.x, s->min.y), place(d, s->min.x, s->max.y),
                      OUT * g);
    else
        draw_upright(d);
}
