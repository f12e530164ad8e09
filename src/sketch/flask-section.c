// SPDX-License-Identifier: GPL-3.0-or-later
// The flask cut lengthwise through its first row of cavities. Gating that the plane does not meet
// is shown pale with hidden edges, since it lies behind or before the plane.
//
//          \ /                basin
//    +------V---------------+  --
//    |      |    ____       |        COPE   sprue, riser, cavity
//   -|------+===(____)------|-      parting, gates and runner along it
//    |      U               |        DRAG   well
//    +----------------------+
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask-cut.h"
#include "sketch/flask-kit.h"
#include "sketch/flask-turn.h"

#define LETTER_SIZE 13.0

typedef struct {
    double at;         // m, y of the plane
    double told;       // m, where it stands, as words have it
    gboolean across;   // the layout is turned: the plane stands across the flask
    double cope, drag; // mm
    GArray *metal;     // SolidPoint, mm: where the castings are cut
} SectionState;

static void
draw_boxes(FlaskDraft *d, const SectionState *s)
{
    double hl = d->half_length, t = d->wall;
    scene_add_rectangle(d->scene, ROLE_SAND_COPE, FLASK_ORDER_SAND, "flask", TRUE, FALSE, -hl, 0,
                        2 * hl, s->cope);
    scene_add_rectangle(d->scene, ROLE_SAND_DRAG, FLASK_ORDER_SAND, "flask", TRUE, FALSE, -hl,
                        -s->drag, 2 * hl, s->drag);
    for (int side = 0; side < 2; side++) {
        double x = side ? hl : -hl - t;
        scene_add_rectangle(d->scene, ROLE_FLASK, FLASK_ORDER_SAND, "flask", TRUE, TRUE, x, 0, t,
                            s->cope);
        scene_add_rectangle(d->scene, ROLE_FLASK, FLASK_ORDER_SAND, "flask", TRUE, TRUE, x,
                            -s->drag, t, s->drag);
    }
    SolidPoint top[] = {{-hl, s->cope}, {hl, s->cope}};
    SolidPoint bottom[] = {{-hl, -s->drag}, {hl, -s->drag}};
    scene_add_line(d->scene, ROLE_VISIBLE, FLASK_ORDER_TAB, NULL, top, 2);
    scene_add_line(d->scene, ROLE_VISIBLE, FLASK_ORDER_TAB, NULL, bottom, 2);
    double out = hl + t + 3.0 * d->grain;
    SolidPoint parting[] = {{-out, 0}, {out, 0}};
    scene_add_line(d->scene, ROLE_PARTING, FLASK_ORDER_TAB, NULL, parting, 2);
}

// A piece of gating: cut by the plane, or beyond it.
static void
draw_piece(FlaskDraft *d, SceneRole role, const char *id, gboolean cut, const SolidPoint *points,
           guint n)
{
    if (cut) {
        scene_add_polygon(d->scene, role, FLASK_ORDER_GATING, id, TRUE, TRUE, points, n);
        return;
    }
    scene_add_polygon(d->scene, role, FLASK_ORDER_BEYOND, id, TRUE, FALSE, points, n);
    // Below what is cut: hidden edges are not carried through cut metal (ISO 128-3).
    scene_add_polygon(d->scene, ROLE_HIDDEN, FLASK_ORDER_HIDDEN, NULL, FALSE, TRUE, points, n);
}

static void
draw_upright(FlaskDraft *d, SceneRole role, const char *id, gboolean cut, double x1, double x2,
             double z1, double z2)
{
    if (!(x2 > x1) || !(z2 > z1))
        return;
    SolidPoint corners[] = {{x1, z1}, {x2, z1}, {x2, z2}, {x1, z2}};
    draw_piece(d, role, id, cut, corners, 4);
}

// A channel as deep as it says, with its lower side at `low` (m).
static void
draw_channel(FlaskDraft *d, const SectionState *s, SceneRole role, const char *id,
             const MouldChannel *channel, double low)
{
    double half = channel->width / 2.0;
    double dx = fabs(channel->x2 - channel->x1), dy = fabs(channel->y2 - channel->y1);
    double length = hypot(dx, dy);
    if (!(length > 0.0) || !(half > 0.0))
        return;
    double widen_x = half * dy / length, widen_y = half * dx / length;
    double x1 = fmin(channel->x1, channel->x2) - widen_x;
    double x2 = fmax(channel->x1, channel->x2) + widen_x;
    double y1 = fmin(channel->y1, channel->y2) - widen_y;
    double y2 = fmax(channel->y1, channel->y2) + widen_y;
    draw_upright(d, role, id, s->at >= y1 && s->at <= y2, x1 * FLASK_MM, x2 * FLASK_MM,
                 low * FLASK_MM, (low + channel->depth) * FLASK_MM);
}

static void
draw_axis(FlaskDraft *d, double x, double low, double high)
{
    SolidPoint axis[] = {{x, low - 1.5 * d->grain}, {x, high + 1.5 * d->grain}};
    scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_LINE, NULL, axis, 2);
}

static void
draw_sprue(FlaskDraft *d, const SectionState *s)
{
    const MouldLayout *l = d->layout;
    double x = l->sprue_x * FLASK_MM;
    double top = l->sprue_top_diameter * FLASK_MM / 2.0;
    double bottom = l->sprue_bottom_diameter * FLASK_MM / 2.0;
    double well = l->well_diameter * FLASK_MM / 2.0, depth = l->well_depth * FLASK_MM;
    double basin = fmax(0.0, l->basin_height * FLASK_MM);
    if (!isfinite(x) || !(top > 0.0) || !(s->cope > 0.0))
        return;
    gboolean cut = fabs(l->sprue_y - s->at) < l->sprue_top_diameter / 2.0;
    // The sprue ends where the sand does; what the head has more than that is the basin.
    SolidPoint taper[] = {{x - bottom, 0}, {x + bottom, 0}, {x + top, s->cope}, {x - top, s->cope}};
    draw_piece(d, ROLE_GATING, "sprue", cut, taper, 4);
    draw_upright(d, ROLE_GATING, "well", cut, x - well, x + well, -depth, 0.0);
    if (basin > 0.0) {
        // A round basin, seen from the side; without a width of its own, one that suits the sprue.
        double wide = l->basin_diameter > 0.0 ? l->basin_diameter * FLASK_MM / 2.0 : 2.5 * top;
        SolidPoint cup[] = {{x - wide, s->cope},
                            {x + wide, s->cope},
                            {x + wide, s->cope + basin},
                            {x - wide, s->cope + basin}};
        scene_add_polygon(d->scene, ROLE_GATING, FLASK_ORDER_GATING, "basin", TRUE, TRUE, cup, 4);
    }
    draw_axis(d, x, -depth, s->cope + basin);
}

// The neck, a bar through the parting, first: the riser's own outline is drawn over the end of its
// upper half; the lower ends under the riser's middle.
static void
draw_riser(FlaskDraft *d, const SectionState *s, guint i)
{
    const MouldLayout *l = d->layout;
    const MouldCavity *cavity = &l->cavities[i];
    const MouldRiser *riser = mould_layout_riser(l, i);
    double x = cavity->riser_x * FLASK_MM, radius = riser->diameter * FLASK_MM / 2.0;
    g_autofree char *id = g_strdup_printf("riser-%u", i + 1);
    gboolean cut = fabs(cavity->riser_y - s->at) < riser->diameter / 2.0;
    MouldChannel neck;
    if (flask_neck(d, i, &neck))
        draw_channel(d, s, ROLE_RISER, id, &neck, -mould_layout_neck(l, i)->down);
    draw_upright(d, ROLE_RISER, id, cut, x - radius, x + radius, riser->base * FLASK_MM,
                 (riser->base + riser->height) * FLASK_MM);
}

static void
draw_gating(FlaskDraft *d, const SectionState *s)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; i < l->n_runners; i++) {
        g_autofree char *id = g_strdup_printf("runner-%u", i + 1);
        double low = l->gates_in_drag ? 0.0 : -l->runners[i].depth;
        draw_channel(d, s, ROLE_GATING, id, &l->runners[i], low);
    }
    for (guint i = 0; i < l->n_gates; i++) {
        g_autofree char *id = g_strdup_printf("gate-%u", i + 1);
        double low = l->gates_in_drag ? -l->gates[i].depth : 0.0;
        draw_channel(d, s, ROLE_GATING, id, &l->gates[i], low);
    }
    for (guint i = 0; i < l->n_cavities; i++)
        if (mould_layout_has_riser(l, i))
            draw_riser(d, s, i);
    flask_draw_chills_cut(d, s->at);
    draw_sprue(d, s);
}

// How far x (mm) is from sprue, basin and risers, where a dimension would be in the way.
static double
clear_of_gating(const FlaskDraft *d, double x)
{
    const MouldLayout *l = d->layout;
    double clear = fabs(x - l->sprue_x * FLASK_MM) - 1.4 * l->sprue_top_diameter * FLASK_MM;
    for (guint i = 0; i < l->n_cavities; i++)
        if (mould_layout_has_riser(l, i))
            clear = fmin(clear, fabs(x - l->cavities[i].riser_x * FLASK_MM) -
                                    mould_layout_riser(l, i)->diameter * FLASK_MM / 2.0);
    return isfinite(clear) ? clear : 0.0;
}

static void
note_outline(SectionState *s, const SolidOutline *outline, double x_m)
{
    for (guint i = 0; i < outline->n_points; i++) {
        SolidPoint p = {(outline->points[i].x + x_m) * FLASK_MM, outline->points[i].y * FLASK_MM};
        g_array_append_val(s->metal, p);
    }
}

// The very top (up = 1) or bottom (-1) of the cut castings, in x at the place near that height that
// is clearest of the gating. FALSE when nothing is cut.
static gboolean
find_extreme(const FlaskDraft *d, const SectionState *s, double up, SolidPoint *extreme)
{
    double most = -INFINITY, clearest = -INFINITY;
    for (guint i = 0; i < s->metal->len; i++)
        most = fmax(most, up * g_array_index(s->metal, SolidPoint, i).y);
    for (guint i = 0; i < s->metal->len; i++) {
        SolidPoint p = g_array_index(s->metal, SolidPoint, i);
        double clear = clear_of_gating(d, p.x);
        if (up * p.y > most - 0.3 * d->grain && clear > clearest) {
            clearest = clear;
            *extreme = (SolidPoint){p.x, up * most};
        }
    }
    return clearest > -INFINITY;
}

// Vents from the metal to the cope's top: in the plane, within half a wall of it, or behind it. The
// last of them is left standing in the sand: a vent is not pricked through to the cavity.
static void
draw_vents(FlaskDraft *d, const SectionState *s)
{
    for (guint i = 0; i < d->layout->n_vents; i++) {
        const MouldVent *vent = &d->layout->vents[i];
        g_autofree char *id = g_strdup_printf("vent-%u", i + 1);
        gboolean near = fabs(vent->y - s->at) * FLASK_MM < d->wall;
        double half = vent->diameter * FLASK_MM / 2.0, x = vent->x * FLASK_MM;
        double low = fmin(vent->z * FLASK_MM + 1.5 * d->grain, s->cope);
        scene_add_rectangle(d->scene, ROLE_PAPER, near ? FLASK_ORDER_GATING : FLASK_ORDER_BEYOND,
                            id, TRUE, FALSE, x - half, low, 2.0 * half, s->cope - low);
        for (int side = -1; side <= 1; side += 2) {
            SolidPoint edge[] = {{x + side * half, low}, {x + side * half, s->cope}};
            scene_add_line(d->scene, near ? ROLE_DIMENSION : ROLE_HIDDEN,
                           near ? FLASK_ORDER_GATING : FLASK_ORDER_HIDDEN, NULL, edge, 2);
        }
    }
}

static void
draw_cavities(FlaskDraft *d, SectionState *s)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; d->pattern && i < l->n_cavities; i++) {
        const MouldCavity *cavity = &l->cavities[i];
        const PatternResult *own = flask_take_cavity(d, i);
        g_auto(FlaskCut) cut = flask_cut(own, cavity, flask_growth(d), s->at);
        if (!cut.casting)
            continue;
        cut.casting = flask_plain(d, cut.casting);
        cut.part = flask_plain(d, cut.part);
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        scene_add_outline(d->scene, ROLE_METAL, FLASK_ORDER_CAVITY, id, TRUE, TRUE, cut.casting,
                          cavity->x, 0.0, 0.0);
        scene_add_outline(d->scene, ROLE_PART, FLASK_ORDER_PART, id, FALSE, TRUE, cut.part,
                          cavity->x, 0.0, 0.0);
        note_outline(s, cut.casting, cavity->x);
    }
    d->growth = 0.0;
}

// Where the sand over the metal is least: over the riser when it stands higher than the casting.
static void
raise_to_riser(const FlaskDraft *d, SolidPoint *top)
{
    for (guint i = 0; i < d->layout->n_cavities; i++) {
        const MouldRiser *riser = mould_layout_riser(d->layout, i);
        double aside = 0.3 * riser->diameter; // of the vent over its middle
        double height = (riser->base + riser->height) * FLASK_MM;
        if (mould_layout_has_riser(d->layout, i) && !riser->open && height > top->y)
            *top = (SolidPoint){(d->layout->cavities[i].riser_x + aside) * FLASK_MM, height};
    }
}

static void
draw_dimensions(FlaskDraft *d, const SectionState *s)
{
    double hl = d->half_length, edge = hl + d->wall, out = 8.0 * d->grain;
    flask_dimension(d, "flask", edge, 0, edge, s->cope, -out);
    flask_dimension(d, "flask", edge, -s->drag, edge, 0, -out);
    flask_dimension(d, "flask", -hl, -s->drag, hl, -s->drag, -7.0 * d->grain);
}

static void
label_cover(FlaskDraft *d, const char *id, SolidPoint from, double z)
{
    SolidPoint to = {from.x, z};
    g_autofree char *text = flask_length_number(d, fabs(z - from.y) / FLASK_MM);
    flask_label_gap(d, ROLE_DIMENSION, id, from, to, text);
}

static void
draw_labels(FlaskDraft *d, const SectionState *s)
{
    double hl = d->half_length;
    flask_labels_start(d, (SolidPoint){-hl, -s->drag}, (SolidPoint){hl, s->cope});
    SolidPoint top, bottom;
    gboolean any = find_extreme(d, s, 1.0, &top);
    if (any)
        raise_to_riser(d, &top);
    if (any && top.y < s->cope)
        label_cover(d, "cover-top", top, s->cope);
    if (find_extreme(d, s, -1.0, &bottom) && bottom.y > -s->drag)
        label_cover(d, "cover-bottom", bottom, -s->drag);
    for (guint i = 0; i < d->layout->n_cavities; i++) {
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        flask_label_number(d, i, id, NULL, NULL);
    }
    flask_labels_end(d);
}

static void
draw_words(FlaskDraft *d, const SectionState *s)
{
    const MouldLayout *l = d->layout;
    double g = d->grain, left = -d->half_length - d->wall;
    flask_text(d, ROLE_TEXT, left - 2.5 * g, fmax(s->cope / 2.0, 2.5 * g), LETTER_SIZE, ALIGN_END,
               TRUE, FALSE, NULL, _("COPE"));
    flask_text(d, ROLE_TEXT, left - 2.5 * g, -fmax(s->drag / 2.0, 2.5 * g), LETTER_SIZE, ALIGN_END,
               TRUE, FALSE, NULL, _("DRAG"));
    FlaskLegend legend[8];
    guint n = 0;
    legend[n++] = (FlaskLegend){ROLE_METAL, FLASK_KEY_PATCH, N_("Rough casting")};
    legend[n++] = (FlaskLegend){ROLE_PART, FLASK_KEY_LINE, N_("Finished part")};
    legend[n++] = (FlaskLegend){ROLE_GATING, FLASK_KEY_PATCH, N_("Sprue, runner, gates")};
    if (flask_has_risers(l))
        legend[n++] = (FlaskLegend){ROLE_RISER, FLASK_KEY_PATCH, N_("Riser")};
    if (flask_has_chill(l))
        legend[n++] = (FlaskLegend){ROLE_FLASK, FLASK_KEY_PATCH, N_("Chill")};
    legend[n++] = (FlaskLegend){ROLE_PARTING, FLASK_KEY_LINE, N_("Parting")};
    if (l->n_vents > 0)
        legend[n++] = (FlaskLegend){ROLE_DIMENSION, FLASK_KEY_LINE, N_("Vent")};
    legend[n++] = (FlaskLegend){ROLE_HIDDEN, FLASK_KEY_LINE, N_("Behind the plane")};
    g_autofree char *below = NULL;
    if (l->n_cavities == 0) {
        below = g_strdup(_("No cavity fits this flask with the sand cover asked for"));
    } else {
        g_autofree char *at = flask_length(d, s->told);
        below = g_strdup_printf(s->across ? _("Across the flask, %s along from its middle")
                                          : _("Along the flask, %s across from its middle"),
                                at);
    }
    double top = s->cope + fmax(0.0, l->basin_height * FLASK_MM);
    flask_heading(d, left, top + 4.0 * g, s->across ? _("Section B\u2013B") : _("Section A\u2013A"),
                  below);
    FlaskKeyPlace place = {left, -left + 10.0 * g, -s->drag - 13.0 * g, -left + 13.0 * g, s->cope};
    flask_key(d, &place, legend, n);
}

static Scene *
draw_section(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
             SectionState *state)
{
    FlaskDraft draft;
    FlaskExtent extent = {
        layout->length, layout->cope + layout->drag + fmax(0.0, layout->basin_height), 24.0, 19.5};
    flask_draft_start(&draft, layout, pattern, units, &extent, _("Flask in section"));
    draft.half_length = flask_half_chord(layout, state->at) * FLASK_MM;
    state->cope = layout->cope * FLASK_MM;
    state->drag = layout->drag * FLASK_MM;
    g_autoptr(GArray) metal = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    state->metal = metal;
    draw_boxes(&draft, state);
    draw_gating(&draft, state);
    draw_cavities(&draft, state);
    draw_vents(&draft, state);
    draw_dimensions(&draft, state);
    draw_words(&draft, state);
    draw_labels(&draft, state);
    flask_describe(&draft);
    return draft.scene;
}

// Through the first cavity unless said otherwise.
static double
choose_plane(double at, const MouldLayout *layout, gboolean across)
{
    if (isfinite(at) || layout->n_cavities == 0)
        return isfinite(at) ? at : 0.0;
    double middle = across ? layout->cavities[0].x : layout->cavities[0].y;
    return isfinite(middle) ? middle : 0.0;
}

Scene *
flask_cut_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units,
                gboolean across, double at)
{
    g_return_val_if_fail(layout != NULL && units != NULL, NULL);
    SectionState state = {.across = across, .told = choose_plane(at, layout, across)};
    state.at = across ? 0.0 - state.told : state.told;
    if (!across)
        return draw_section(layout, pattern, units, &state);
    g_auto(FlaskTurned) turned = flask_turned(layout);
    return draw_section(&turned.layout, pattern, units, &state);
}

Scene *
flask_section_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units)
{
    return flask_cut_scene(layout, pattern, units, FALSE, NAN);
}
