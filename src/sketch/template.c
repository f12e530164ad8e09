// SPDX-License-Identifier: GPL-3.0-or-later
// The lines of one pattern board. Outlines keep all their points to a fiftieth of a millimetre,
// which is finer than a pencil and than sand.
#include "sketch/template.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask.h"

#define MM 1000.0
#define FINENESS 2e-5 // m, an outline may be off
#define TEXT 11.0
#define CROSS 6.0 // mm, half a centre mark beyond its circle

typedef struct {
    Scene *scene;
    const MouldLayout *layout;
    double flip; // of y: 1 or -1
} Draft;

static SolidPoint
put(const Draft *d, double x, double y)
{
    return (SolidPoint){x * MM, d->flip * y * MM};
}

static void
add_circle(const Draft *d, const char *part, double x, double y, double diameter)
{
    if (!(diameter > 0) || !isfinite(x) || !isfinite(y))
        return;
    SolidPoint at = put(d, x, y);
    double r = diameter * MM / 2, reach = r + CROSS;
    SolidPoint along[] = {{at.x - reach, at.y}, {at.x + reach, at.y}};
    SolidPoint across[] = {{at.x, at.y - reach}, {at.x, at.y + reach}};
    scene_add_circle(d->scene, ROLE_VISIBLE, 1, part, FALSE, TRUE, at.x, at.y, r);
    scene_add_line(d->scene, ROLE_CENTRE, 2, NULL, along, 2);
    scene_add_line(d->scene, ROLE_CENTRE, 2, NULL, across, 2);
}

static void
add_channel(const Draft *d, const char *part, const MouldChannel *c)
{
    double dx = c->x2 - c->x1, dy = c->y2 - c->y1, length = hypot(dx, dy);
    if (!(length > 0) || !(c->width > 0))
        return;
    double ox = -dy / length * c->width / 2, oy = dx / length * c->width / 2;
    SolidPoint corners[] = {put(d, c->x1 + ox, c->y1 + oy), put(d, c->x1 - ox, c->y1 - oy),
                            put(d, c->x2 - ox, c->y2 - oy), put(d, c->x2 + ox, c->y2 + oy)};
    scene_add_polygon(d->scene, ROLE_VISIBLE, 1, part, FALSE, TRUE, corners, 4);
}

static void
add_frame(const Draft *d)
{
    const MouldLayout *l = d->layout;
    double x = l->length * MM / 2, y = l->width * MM / 2;
    SolidPoint along[] = {{-x - CROSS, 0}, {x + CROSS, 0}};
    SolidPoint across[] = {{0, -y - CROSS}, {0, y + CROSS}};
    if (l->round)
        scene_add_circle(d->scene, ROLE_VISIBLE, 0, "flask", FALSE, TRUE, 0, 0, x);
    else
        scene_add_rectangle(d->scene, ROLE_VISIBLE, 0, "flask", FALSE, TRUE, -x, -y, 2 * x, 2 * y);
    scene_add_line(d->scene, ROLE_CENTRE, 0, NULL, along, 2);
    scene_add_line(d->scene, ROLE_CENTRE, 0, NULL, across, 2);
    for (guint i = 0; i < l->n_tabs; i++) {
        const MouldTab *t = &l->tabs[i];
        SolidPoint corners[] = {put(d, t->x - t->length / 2, t->y - t->width / 2),
                                put(d, t->x + t->length / 2, t->y - t->width / 2),
                                put(d, t->x + t->length / 2, t->y + t->width / 2),
                                put(d, t->x - t->length / 2, t->y + t->width / 2)};
        g_autofree char *id = g_strdup_printf("tab-%u", i + 1);
        if (!(t->width > 0)) {
            SolidPoint middle = put(d, t->x, t->y);
            scene_add_circle(d->scene, ROLE_VISIBLE, 1, id, FALSE, TRUE, middle.x, middle.y,
                             t->length * MM / 2);
            continue;
        }
        scene_add_polygon(d->scene, ROLE_VISIBLE, 1, id, FALSE, TRUE, corners, 4);
    }
}

// An outline of the cold casting, grown to the cavity and set at its place.
static void
add_outline(const Draft *d, const char *part, const SolidOutline *outline, double growth,
            const MouldCavity *at)
{
    double c = cos(at->turn) * growth, s = sin(at->turn) * growth;
    for (guint i = 0; i < outline->n_loops; i++) {
        guint from = outline->starts[i], n = outline->starts[i + 1] - from;
        g_autofree SolidPoint *points = g_new(SolidPoint, MAX(n, 1));
        for (guint k = 0; k < n; k++) {
            SolidPoint p = outline->points[from + k];
            points[k] = put(d, at->x + c * p.x - s * p.y, at->y + s * p.x + c * p.y);
        }
        scene_add_polygon(d->scene, ROLE_VISIBLE, 1, part, FALSE, TRUE, points, n);
    }
}

static void
add_cavities(const Draft *d, const PatternResult *pattern)
{
    // Both halves widen to the parting, so the shadow is the outline there.
    if (!pattern || !pattern->shadow)
        return;
    g_autoptr(SolidOutline) outline = solid_outline_simplified(pattern->shadow, FINENESS);
    const MouldGuest *other = d->layout->guest;
    g_autoptr(SolidOutline) guest = other && other->pattern->shadow
                                        ? solid_outline_simplified(other->pattern->shadow, FINENESS)
                                        : NULL;
    for (guint i = 0; i < d->layout->n_cavities; i++) {
        const MouldCavity *cavity = &d->layout->cavities[i];
        if (!isfinite(cavity->x) || !isfinite(cavity->y) || !isfinite(cavity->turn))
            continue;
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        g_autofree char *number = g_strdup_printf("%u", i + 1);
        SolidPoint at = put(d, cavity->x, cavity->y);
        add_outline(d, id, cavity->guest && guest ? guest : outline,
                    mould_layout_growth(d->layout, i), cavity);
        scene_add_text(d->scene, ROLE_TEXT, 3, id, at.x, at.y, TEXT, ALIGN_MIDDLE, number);
    }
}

static void
add_gating(const Draft *d, gboolean cope)
{
    const MouldLayout *l = d->layout;
    if (cope == !!l->gates_in_drag)
        for (guint i = 0; i < l->n_runners; i++) {
            g_autofree char *id = g_strdup_printf("runner-%u", i + 1);
            add_channel(d, id, &l->runners[i]);
        }
    else
        for (guint i = 0; i < l->n_gates; i++) {
            g_autofree char *id = g_strdup_printf("gate-%u", i + 1);
            add_channel(d, id, &l->gates[i]);
        }
    if (!cope) {
        add_circle(d, "well", l->sprue_x, l->sprue_y, l->well_diameter);
        return;
    }
    add_circle(d, "sprue", l->sprue_x, l->sprue_y, l->sprue_bottom_diameter);
    for (guint i = 0; i < l->n_cavities; i++) {
        g_autofree char *id = g_strdup_printf("riser-%u", i + 1);
        add_circle(d, id, l->cavities[i].riser_x, l->cavities[i].riser_y,
                   mould_layout_riser(l, i)->diameter);
    }
}

// Each half of a neck from the riser's middle, over which the riser stands in the cope.
static void
add_necks(const Draft *d, gboolean cope)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldNeck *neck = mould_layout_neck(l, i);
        const MouldCavity *c = &l->cavities[i];
        if (!mould_layout_has_riser(l, i) || !((cope ? neck->up : neck->down) > 0))
            continue;
        MouldChannel bar = {c->riser_x, c->riser_y, c->neck_x, c->neck_y, neck->width, 0};
        g_autofree char *id = g_strdup_printf("neck-%u", i + 1);
        add_channel(d, id, &bar);
    }
}

static void
add_words(const Draft *d, const UnitSet *units, gboolean cope)
{
    const MouldLayout *l = d->layout;
    double x = -l->length * MM / 2, y = l->width * MM / 2 + 2 * CROSS;
    g_autofree char *size = quantity_format(QUANTITY_LENGTH, l->length, units);
    g_autofree char *wide = quantity_format(QUANTITY_LENGTH, l->width, units);
    g_autofree char *words = g_strdup_printf(
        cope ? _("Cope board, 1:1, flask %s by %s inside: lay it face up as it reads")
             : _("Drag board, 1:1, flask %s by %s inside: turned over about the length, as the "
                 "drag is rammed upside down"),
        size, wide);
    scene_add_text(d->scene, ROLE_TEXT, 3, NULL, x, y, TEXT, ALIGN_START, words);
}

Scene *
template_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
               TemplateHalf half)
{
    g_return_val_if_fail(layout != NULL && units != NULL, NULL);
    gboolean cope = half == TEMPLATE_COPE;
    Draft d = {scene_new(cope ? _("Cope board, 1:1") : _("Drag board, 1:1")), layout,
               cope ? 1.0 : -1.0};
    add_frame(&d);
    add_cavities(&d, pattern);
    add_gating(&d, cope);
    add_necks(&d, cope);
    add_words(&d, units, cope);
    return d.scene;
}

Scene *
sketch_template_scene(const Plan *plan, TemplateHalf half, GError **error)
{
    g_autoptr(Scene) flask = sketch_flask_scene(plan, "plan", error);
    if (!flask)
        return NULL;
    UnitSet units = plan_units(plan);
    return template_scene(plan_mould(plan), plan_pattern(plan), &units, half);
}
