// SPDX-License-Identifier: GPL-3.0-or-later
// The flask in plan, the cope lifted off: what is seen on the parting from above.
//
//      +--------------------------+
//      |  ( 1 )=R=+      +=( 2 )  |     cavities at their true outlines,
//   A -|- - - - - | - -  | - - - -|- A  the plane of the section,
//      |  ======= O ============  |     runner and sprue
//      +--------------------------+
//      |<------------------------>|
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask-kit.h"

#define LABEL_SIZE 12.0

static void
draw_round_box(FlaskDraft *d, SceneRole sand)
{
    double r = d->half_length;
    scene_add_circle(d->scene, ROLE_FLASK, FLASK_ORDER_WALL, "flask", TRUE, TRUE, 0, 0,
                     r + d->wall);
    // Paper below, since a palette may leave the ground of sand clear.
    scene_add_circle(d->scene, ROLE_PAPER, FLASK_ORDER_SAND, NULL, TRUE, FALSE, 0, 0, r);
    scene_add_circle(d->scene, sand, FLASK_ORDER_SAND, "flask", TRUE, FALSE, 0, 0, r);
    scene_add_circle(d->scene, ROLE_VISIBLE, FLASK_ORDER_TAB, NULL, FALSE, TRUE, 0, 0, r);
}

static void
draw_box(FlaskDraft *d, FlaskHalf half)
{
    SceneRole sand = half == FLASK_COPE ? ROLE_SAND_COPE : ROLE_SAND_DRAG;
    double hl = d->half_length, hw = d->half_width, t = d->wall;
    if (d->layout->round) {
        draw_round_box(d, sand);
        return;
    }
    scene_add_rectangle(d->scene, ROLE_FLASK, FLASK_ORDER_WALL, "flask", TRUE, TRUE, -hl - t,
                        -hw - t, 2 * (hl + t), 2 * (hw + t));
    // Paper below, since a palette may leave the ground of sand clear.
    scene_add_rectangle(d->scene, ROLE_PAPER, FLASK_ORDER_SAND, NULL, TRUE, FALSE, -hl, -hw, 2 * hl,
                        2 * hw);
    scene_add_rectangle(d->scene, sand, FLASK_ORDER_SAND, "flask", TRUE, FALSE, -hl, -hw, 2 * hl,
                        2 * hw);
    scene_add_rectangle(d->scene, ROLE_VISIBLE, FLASK_ORDER_TAB, NULL, FALSE, TRUE, -hl, -hw,
                        2 * hl, 2 * hw);
}

static void
draw_channel(FlaskDraft *d, SceneRole role, const char *id, int order, const MouldChannel *channel)
{
    double dx = channel->x2 - channel->x1, dy = channel->y2 - channel->y1;
    double length = hypot(dx, dy);
    if (!(length > 0.0) || !(channel->width > 0.0))
        return;
    double ox = -dy / length * channel->width / 2.0, oy = dx / length * channel->width / 2.0;
    SolidPoint corners[] = {
        {(channel->x1 + ox) * FLASK_MM, (channel->y1 + oy) * FLASK_MM},
        {(channel->x1 - ox) * FLASK_MM, (channel->y1 - oy) * FLASK_MM},
        {(channel->x2 - ox) * FLASK_MM, (channel->y2 - oy) * FLASK_MM},
        {(channel->x2 + ox) * FLASK_MM, (channel->y2 + oy) * FLASK_MM},
    };
    scene_add_polygon(d->scene, role, order, id, TRUE, TRUE, corners, 4);
}

static void
draw_cross(FlaskDraft *d, double x, double y, double reach)
{
    SolidPoint across[] = {{x - reach, y}, {x + reach, y}};
    SolidPoint along[] = {{x, y - reach}, {x, y + reach}};
    scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_LINE, NULL, across, 2);
    scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_LINE, NULL, along, 2);
}

static void
draw_sprue(FlaskDraft *d, FlaskHalf half)
{
    const MouldLayout *l = d->layout;
    double x = l->sprue_x * FLASK_MM, y = l->sprue_y * FLASK_MM;
    double top = l->sprue_top_diameter * FLASK_MM / 2.0;
    double bottom = l->sprue_bottom_diameter * FLASK_MM / 2.0;
    double well = l->well_diameter * FLASK_MM / 2.0;
    if (!isfinite(x) || !isfinite(y) || !(top > 0.0))
        return;
    if (well > 0.0 && half != FLASK_COPE)
        scene_add_circle(d->scene, ROLE_GATING, FLASK_ORDER_SPRUE, "well", TRUE, TRUE, x, y, well);
    if (half != FLASK_DRAG)
        scene_add_circle(d->scene, ROLE_GATING, FLASK_ORDER_SPRUE, "sprue", TRUE, TRUE, x, y, top);
    if (bottom > 0.0 && half != FLASK_DRAG)
        scene_add_circle(d->scene, ROLE_GATING, FLASK_ORDER_SPRUE, "sprue", FALSE, TRUE, x, y,
                         bottom);
    draw_cross(d, x, y, fmax(top, well) + 1.5 * d->grain);
}

// Runners lie in one half, gates in the other.
static void
draw_gating(FlaskDraft *d, FlaskHalf half)
{
    const MouldLayout *l = d->layout;
    FlaskHalf runners = l->gates_in_drag ? FLASK_COPE : FLASK_DRAG;
    for (guint i = 0; i < l->n_runners && (half == FLASK_BOTH || half == runners); i++) {
        g_autofree char *id = g_strdup_printf("runner-%u", i + 1);
        draw_channel(d, ROLE_GATING, id, FLASK_ORDER_GATING, &l->runners[i]);
    }
    for (guint i = 0; i < l->n_gates && (half == FLASK_BOTH || half != runners); i++) {
        g_autofree char *id = g_strdup_printf("gate-%u", i + 1);
        draw_channel(d, ROLE_GATING, id, FLASK_ORDER_GATE, &l->gates[i]);
    }
    draw_sprue(d, half);
    flask_draw_chills_plan(d, half);
}

// In the drag lies what the neck has below the parting.
static void
draw_riser(FlaskDraft *d, guint i, FlaskHalf half)
{
    const MouldLayout *l = d->layout;
    const MouldCavity *cavity = &l->cavities[i];
    if (!mould_layout_has_riser(l, i))
        return;
    g_autofree char *id = g_strdup_printf("riser-%u", i + 1);
    double x = cavity->riser_x * FLASK_MM, y = cavity->riser_y * FLASK_MM;
    double radius = mould_layout_riser(l, i)->diameter * FLASK_MM / 2.0;
    MouldChannel neck;
    if (flask_neck(d, i, &neck) && (half != FLASK_DRAG || mould_layout_neck(l, i)->down > 0.0))
        draw_channel(d, ROLE_RISER, id, FLASK_ORDER_GATE, &neck);
    if (half == FLASK_DRAG)
        return;
    scene_add_circle(d->scene, ROLE_RISER, FLASK_ORDER_SPRUE, id, TRUE, TRUE, x, y, radius);
    draw_cross(d, x, y, radius + 1.2 * d->grain);
}

// A small padlock beside the number: this one stays when the rest is arranged.
static void
draw_lock(FlaskDraft *d, SolidPoint number, const char *id)
{
    double g = d->grain, x = number.x + 3.0 * g, y = number.y;
    SolidPoint bow[] = {{x - 0.7 * g, y},           {x - 0.7 * g, y + 1.0 * g},
                        {x - 0.3 * g, y + 1.4 * g}, {x + 0.3 * g, y + 1.4 * g},
                        {x + 0.7 * g, y + 1.0 * g}, {x + 0.7 * g, y}};
    scene_add_line(d->scene, ROLE_TEXT, FLASK_ORDER_TEXT, id, bow, G_N_ELEMENTS(bow));
    scene_add_rectangle(d->scene, ROLE_VISIBLE, FLASK_ORDER_TEXT, id, TRUE, TRUE, x - 1.1 * g,
                        y - 1.6 * g, 2.2 * g, 1.7 * g);
}

static void
draw_cavities(FlaskDraft *d, FlaskHalf half)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *cavity = &l->cavities[i];
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        draw_riser(d, i, half);
        const FlaskOutlines *o = cavity->guest && d->outlines->guest ? d->outlines->guest
                                                                     : d->outlines;
        if (!d->pattern || !isfinite(cavity->x) || !isfinite(cavity->y) || !isfinite(cavity->turn))
            continue;
        scene_add_outline(d->scene, ROLE_METAL, FLASK_ORDER_CAVITY, id, TRUE, TRUE, o->shadow,
                          cavity->x, cavity->y, cavity->turn);
        for (guint k = 0; k < G_N_ELEMENTS(o->part); k++)
            scene_add_outline(d->scene, ROLE_PART, FLASK_ORDER_PART, id, FALSE, TRUE, o->part[k],
                              cavity->x, cavity->y, cavity->turn);
    }
}

static void
draw_tabs(FlaskDraft *d)
{
    for (guint i = 0; i < d->layout->n_tabs; i++) {
        const MouldTab *tab = &d->layout->tabs[i];
        g_autofree char *id = g_strdup_printf("tab-%u", i + 1);
        double length = tab->length * FLASK_MM, width = tab->width * FLASK_MM;
        if (!(width > 0.0)) {
            scene_add_circle(d->scene, ROLE_TAB, FLASK_ORDER_TAB, id, TRUE, TRUE, tab->x * FLASK_MM,
                             tab->y * FLASK_MM, length / 2.0);
            continue;
        }
        scene_add_rectangle(d->scene, ROLE_TAB, FLASK_ORDER_TAB, id, TRUE, TRUE,
                            tab->x * FLASK_MM - length / 2.0, tab->y * FLASK_MM - width / 2.0,
                            length, width);
    }
}

// In the cope; of the wire's size, but never too small to be seen.
static void
draw_vents(FlaskDraft *d, FlaskHalf half)
{
    for (guint i = 0; i < d->layout->n_vents && half != FLASK_DRAG; i++) {
        const MouldVent *vent = &d->layout->vents[i];
        g_autofree char *id = g_strdup_printf("vent-%u", i + 1);
        double x = vent->x * FLASK_MM, y = vent->y * FLASK_MM;
        double radius = fmax(vent->diameter * FLASK_MM / 2.0, 0.8 * d->grain);
        flask_vent_mark(d, id, x, y, radius);
    }
}

static void
draw_centre_lines(FlaskDraft *d)
{
    double x = d->half_length + d->wall + 3.0 * d->grain;
    double y = d->half_width + d->wall + 3.0 * d->grain;
    SolidPoint along[] = {{-x, 0}, {x, 0}}, across[] = {{0, -y}, {0, y}};
    scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_TAB, NULL, along, 2);
    scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_TAB, NULL, across, 2);
}

// The planes of the two sections, after ISO 128-3: thick ends outside the flask, a letter beside
// each.
static void
draw_section_mark(FlaskDraft *d, double along, double across)
{
    double g = d->grain;
    for (int side = -1; side <= 1; side += 2) {
        double edge = side * (d->half_length + d->wall), y = along * FLASK_MM;
        SolidPoint end[] = {{edge + side * 0.8 * g, y}, {edge + side * 3.8 * g, y}};
        scene_add_line(d->scene, ROLE_VISIBLE, FLASK_ORDER_LINE, "cut-section", end, 2);
        flask_text(d, ROLE_TEXT, edge + side * 2.3 * g, y + 2.2 * g, LABEL_SIZE, ALIGN_MIDDLE, TRUE,
                   FALSE, "cut-section", "A");
        edge = side * (d->half_width + d->wall);
        double x = across * FLASK_MM;
        SolidPoint other[] = {{x, edge + side * 0.8 * g}, {x, edge + side * 3.8 * g}};
        scene_add_line(d->scene, ROLE_VISIBLE, FLASK_ORDER_LINE, "cut-across", other, 2);
        flask_text(d, ROLE_TEXT, x + 2.0 * g, edge + side * 2.6 * g, LABEL_SIZE, ALIGN_MIDDLE, TRUE,
                   FALSE, "cut-across", "B");
    }
}

static void
draw_dimensions(FlaskDraft *d)
{
    double hl = d->half_length, hw = d->half_width, out = d->wall;
    // Clear of the letters at the section's ends.
    flask_dimension(d, "flask", -hl, -hw, hl, -hw, -(out + 8.5 * d->grain));
    flask_dimension(d, "flask", hl, -hw, hl, hw, -(out + 11.0 * d->grain));
}

static void
label_sprue(FlaskDraft *d, FlaskHalf half)
{
    const MouldLayout *l = d->layout;
    double x = l->sprue_x * FLASK_MM, y = l->sprue_y * FLASK_MM;
    double sprue = half == FLASK_DRAG ? 0.0 : l->sprue_top_diameter;
    double well = half == FLASK_COPE ? 0.0 : l->well_diameter;
    if (isfinite(x) && isfinite(y) && l->sprue_top_diameter > 0.0)
        flask_label_word(d, x, y, fmax(sprue, well) * FLASK_MM / 2.0,
                         half == FLASK_DRAG ? _("Well") : _("Sprue"));
}

static void
label_cavities(FlaskDraft *d)
{
    for (guint i = 0; d->pattern && i < d->layout->n_cavities; i++) {
        const MouldCavity *cavity = &d->layout->cavities[i];
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        if (!isfinite(cavity->x) || !isfinite(cavity->y) || !isfinite(cavity->turn))
            continue;
        SolidPoint home = {cavity->x * FLASK_MM, cavity->y * FLASK_MM};
        SolidPoint number;
        if (flask_label_number(d, i, id, &home, &number) && d->marks->locked && d->marks->locked[i])
            draw_lock(d, number, id);
    }
}

// The sprue's word has the fewest places, a number may stand anywhere on its casting.
static void
draw_labels(FlaskDraft *d, FlaskHalf half)
{
    double hl = d->half_length, hw = d->layout->round ? hl : d->half_width;
    flask_labels_start(d, (SolidPoint){-hl, -hw}, (SolidPoint){hl, hw});
    label_sprue(d, half);
    flask_covers(d);
    label_cavities(d);
    flask_labels_end(d);
}

static char *
sum_up(const FlaskDraft *d)
{
    const MouldLayout *l = d->layout;
    if (l->n_cavities == 0)
        return g_strdup(_("No cavity fits this flask with the sand cover asked for"));
    g_autofree char *mass = quantity_format(QUANTITY_MASS, l->metal_mass, d->units);
    g_autofree char *time = quantity_format(QUANTITY_TIME, l->fill_time, d->units);
    g_autofree char *cavities = g_strdup_printf(ngettext("%u cavity", "%u cavities", l->n_cavities),
                                                l->n_cavities);
    if (l->n_guests > 0 && l->guest) {
        g_autofree char *shared = g_strdup_printf(_("%s, %u of them of %s"), cavities, l->n_guests,
                                                  l->guest->name);
        return g_strdup_printf(_("%s \u00b7 %s of metal \u00b7 filled in %s"), shared, mass, time);
    }
    return g_strdup_printf(_("%s \u00b7 %s of metal \u00b7 filled in %s"), cavities, mass, time);
}

static void
draw_words(FlaskDraft *d, FlaskHalf half)
{
    static const char *const titles[] = {N_("Flask in plan, cope off"),
                                         N_("Cope in plan, seen from above"),
                                         N_("Drag in plan, seen from above")};
    const MouldLayout *l = d->layout;
    FlaskLegend legend[8];
    guint n = 0;
    legend[n++] = (FlaskLegend){ROLE_METAL, FLASK_KEY_PATCH, N_("Rough casting")};
    legend[n++] = (FlaskLegend){ROLE_PART, FLASK_KEY_LINE, N_("Finished part")};
    legend[n++] = (FlaskLegend){ROLE_GATING, FLASK_KEY_PATCH, N_("Sprue, runner, gates")};
    if (flask_has_risers(l))
        legend[n++] = (FlaskLegend){ROLE_RISER, FLASK_KEY_PATCH,
                                    half == FLASK_DRAG ? N_("Riser neck") : N_("Riser")};
    if (l->n_tabs > 0)
        legend[n++] = (FlaskLegend){ROLE_TAB, FLASK_KEY_PATCH, N_("Index tab")};
    if (l->n_vents > 0 && half != FLASK_DRAG)
        legend[n++] = (FlaskLegend){ROLE_DIMENSION, FLASK_KEY_VENT, N_("Vent")};
    legend[n++] = (FlaskLegend){half == FLASK_COPE ? ROLE_SAND_COPE : ROLE_SAND_DRAG,
                                FLASK_KEY_PATCH, N_("Sand")};
    double left = -d->half_length - d->wall, edge = d->half_width + d->wall;
    g_autofree char *below = sum_up(d);
    flask_heading(d, left, edge + 5.0 * d->grain, _(titles[half]), below);
    FlaskKeyPlace place = {left, -left + 10.0 * d->grain, -edge - 14.0 * d->grain,
                           -left + 15.0 * d->grain, edge};
    flask_key(d, &place, legend, n);
}

// The middle of the first cavity, where a section goes that is not put elsewhere.
static SolidPoint
find_middle(const MouldLayout *layout)
{
    SolidPoint middle = {0, 0};
    if (layout->n_cavities > 0 && isfinite(layout->cavities[0].x) &&
        isfinite(layout->cavities[0].y))
        middle = (SolidPoint){layout->cavities[0].x, layout->cavities[0].y};
    return middle;
}

// Beside the flask letters and a dimension at the right, above it a heading, below a dimension.
FlaskExtent
flask_plan_extent(const MouldLayout *layout)
{
    double height = layout->round ? layout->length : layout->width;
    return (FlaskExtent){layout->length, height, 20.5, 24.0};
}

Scene *
flask_marked_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
                   FlaskHalf half, const FlaskMarks *marks)
{
    g_return_val_if_fail(layout != NULL && units != NULL && marks != NULL, NULL);
    FlaskDraft draft;
    FlaskExtent extent = flask_plan_extent(layout);
    flask_draft_start(&draft, layout, pattern, units, &extent, _("Flask in plan"));
    g_autoptr(FlaskOutlines) own = NULL;
    if (!marks->outlines)
        own = flask_outlines_new(layout, pattern, half);
    draft.marks = marks;
    draft.outlines = own ? own : marks->outlines;
    SolidPoint middle = find_middle(layout);
    draw_box(&draft, half);
    draw_tabs(&draft);
    draw_centre_lines(&draft);
    draw_gating(&draft, half);
    draw_cavities(&draft, half);
    draw_vents(&draft, half);
    draw_section_mark(&draft, isfinite(marks->along) ? marks->along : middle.y,
                      isfinite(marks->across) ? marks->across : middle.x);
    draw_dimensions(&draft);
    draw_words(&draft, half);
    draw_labels(&draft, half);
    flask_describe(&draft);
    return draft.scene;
}

Scene *
flask_half_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
                 FlaskHalf half, double at)
{
    FlaskMarks marks = {.along = at, .across = NAN};
    return flask_marked_scene(layout, pattern, units, half, &marks);
}

Scene *
flask_plan_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units)
{
    return flask_half_scene(layout, pattern, units, FLASK_BOTH, NAN);
}
