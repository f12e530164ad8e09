// SPDX-License-Identifier: GPL-3.0-or-later
// The flask taken apart: cope, parting, drag and bottom board one over the other, cut lengthwise
// through the first cavity, so that one sees which half holds what.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask-cut.h"
#include "sketch/flask-kit.h"

#define LETTER_SIZE 13.0
#define BOARD 0.012 // m, thickness the bottom board is drawn with
#define GAP 14.0    // grains between layers

typedef struct {
    double at;     // m, y of the plane
    double lift;   // mm, by which the cope stands over its place
    double height; // mm, of cope, drag
    double depth;
} Stack;

// What of a loop lies above (up = 1) or below (-1) the parting, moved by `lift` (mm). New array.
static GArray *
clip_loop(const SolidPoint *points, guint n, double up, double x, double lift)
{
    GArray *out = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    for (guint k = 0; k < n; k++) {
        SolidPoint a = points[k], b = points[(k + 1) % n];
        if (up * a.y >= 0) {
            SolidPoint p = {(a.x + x) * FLASK_MM, a.y * FLASK_MM + lift};
            g_array_append_val(out, p);
        }
        if (up * a.y > 0 ? up * b.y < 0 : up * a.y < 0 && up * b.y > 0) {
            double t = a.y / (a.y - b.y);
            SolidPoint p = {(a.x + t * (b.x - a.x) + x) * FLASK_MM, lift};
            g_array_append_val(out, p);
        }
    }
    return out;
}

static void
draw_half(FlaskDraft *d, SceneRole role, int order, gboolean filled, const char *id,
          const SolidOutline *outline, double x, double up, double lift)
{
    for (guint i = 0; outline && i < outline->n_loops; i++) {
        guint first = outline->starts[i], n = outline->starts[i + 1] - first;
        g_autoptr(GArray) half = clip_loop(&outline->points[first], n, up, x, lift);
        if (half->len > 2)
            scene_add_polygon(d->scene, role, order, id, filled, TRUE,
                              (const SolidPoint *)half->data, half->len);
    }
}

static void
draw_box(FlaskDraft *d, SceneRole sand, double low, double high)
{
    double hl = d->half_length, t = d->wall;
    scene_add_rectangle(d->scene, sand, FLASK_ORDER_SAND, "flask", TRUE, TRUE, -hl, low, 2 * hl,
                        high - low);
    for (int side = 0; side < 2; side++)
        scene_add_rectangle(d->scene, ROLE_FLASK, FLASK_ORDER_SAND, "flask", TRUE, TRUE,
                            side ? hl : -hl - t, low, t, high - low);
}

static void
draw_channel(FlaskDraft *d, const char *id, const MouldChannel *c, double low)
{
    double dx = fabs(c->x2 - c->x1), dy = fabs(c->y2 - c->y1), length = hypot(dx, dy);
    if (!(length > 0) || !(c->width > 0) || !(c->depth > 0))
        return;
    double x1 = (fmin(c->x1, c->x2) - c->width / 2 * dy / length) * FLASK_MM;
    double x2 = (fmax(c->x1, c->x2) + c->width / 2 * dy / length) * FLASK_MM;
    scene_add_rectangle(d->scene, ROLE_GATING, FLASK_ORDER_BEYOND, id, TRUE, TRUE, x1, low, x2 - x1,
                        c->depth * FLASK_MM);
}

static void
draw_gating(FlaskDraft *d, const Stack *s)
{
    const MouldLayout *l = d->layout;
    double up = l->gates_in_drag ? -1 : 1;
    for (guint i = 0; i < l->n_runners; i++) {
        g_autofree char *id = g_strdup_printf("runner-%u", i + 1);
        double depth = l->runners[i].depth * FLASK_MM;
        draw_channel(d, id, &l->runners[i], up > 0 ? -depth : s->lift);
    }
    for (guint i = 0; i < l->n_gates; i++) {
        g_autofree char *id = g_strdup_printf("gate-%u", i + 1);
        double depth = l->gates[i].depth * FLASK_MM;
        draw_channel(d, id, &l->gates[i], up > 0 ? s->lift : -depth);
    }
    for (guint i = 0; i < l->n_cavities; i++)
        if (mould_layout_has_riser(l, i)) {
            g_autofree char *id = g_strdup_printf("riser-%u", i + 1);
            const MouldRiser *post = mould_layout_riser(l, i);
            double x = l->cavities[i].riser_x * FLASK_MM, r = post->diameter * FLASK_MM / 2;
            scene_add_rectangle(d->scene, ROLE_RISER, FLASK_ORDER_GATING, id, TRUE, TRUE, x - r,
                                s->lift + post->base * FLASK_MM, 2 * r, post->height * FLASK_MM);
        }
    double x = l->sprue_x * FLASK_MM, top = l->sprue_top_diameter * FLASK_MM / 2;
    double low = l->sprue_bottom_diameter * FLASK_MM / 2, well = l->well_diameter * FLASK_MM / 2;
    if (!isfinite(x) || !(top > 0))
        return;
    SolidPoint taper[] = {{x - low, s->lift},
                          {x + low, s->lift},
                          {x + top, s->lift + s->height},
                          {x - top, s->lift + s->height}};
    scene_add_polygon(d->scene, ROLE_GATING, FLASK_ORDER_GATING, "sprue", TRUE, TRUE, taper, 4);
    if (well > 0 && l->well_depth > 0)
        scene_add_rectangle(d->scene, ROLE_GATING, FLASK_ORDER_GATING, "well", TRUE, TRUE, x - well,
                            -l->well_depth * FLASK_MM, 2 * well, l->well_depth * FLASK_MM);
}

static void
draw_cavities(FlaskDraft *d, const Stack *s)
{
    for (guint i = 0; d->pattern && i < d->layout->n_cavities; i++) {
        const MouldCavity *cavity = &d->layout->cavities[i];
        const PatternResult *own = flask_take_cavity(d, i);
        g_auto(FlaskCut) cut = flask_cut(own, cavity, flask_growth(d), s->at);
        if (!cut.casting)
            continue;
        cut.casting = flask_plain(d, cut.casting);
        cut.part = flask_plain(d, cut.part);
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        for (int up = -1; up <= 1; up += 2) {
            double lift = up > 0 ? s->lift : 0;
            draw_half(d, ROLE_METAL, FLASK_ORDER_CAVITY, TRUE, id, cut.casting, cavity->x, up,
                      lift);
            draw_half(d, ROLE_PART, FLASK_ORDER_PART, FALSE, id, cut.part, cavity->x, up, lift);
        }
    }
    d->growth = 0.0;
}

// A dashed line from drag to cope at every tab: what goes into what.
static void
draw_guides(FlaskDraft *d, const Stack *s)
{
    for (guint i = 0; i < d->layout->n_tabs; i++) {
        const MouldTab *tab = &d->layout->tabs[i];
        SolidPoint guide[] = {{tab->x * FLASK_MM, 0}, {tab->x * FLASK_MM, s->lift}};
        scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_LINE, NULL, guide, 2);
    }
    double out = d->half_length + d->wall + 1.5 * d->grain, middle = s->lift / 2;
    SolidPoint parting[] = {{-out, middle}, {out, middle}};
    scene_add_line(d->scene, ROLE_PARTING, FLASK_ORDER_LINE, NULL, parting, 2);
}

static void
draw_words(FlaskDraft *d, const Stack *s, double board)
{
    double g = d->grain, left = -d->half_length - d->wall, x = left - 2.5 * g;
    const struct {
        double z;
        const char *word;
    } rows[] = {{s->lift + s->height / 2, N_("COPE")},
                {s->lift / 2, N_("Parting")},
                {-s->depth / 2, N_("DRAG")},
                {board + BOARD * FLASK_MM / 2, N_("Bottom board")}};
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++)
        flask_text(d, ROLE_TEXT, x, rows[i].z, LETTER_SIZE, ALIGN_END, TRUE, FALSE, NULL,
                   _(rows[i].word));
    static const FlaskLegend legend[] = {{ROLE_METAL, FLASK_KEY_PATCH, N_("Rough casting")},
                                         {ROLE_PART, FLASK_KEY_LINE, N_("Finished part")},
                                         {ROLE_GATING, FLASK_KEY_PATCH, N_("Sprue, runner, gates")},
                                         {ROLE_RISER, FLASK_KEY_PATCH, N_("Riser")},
                                         {ROLE_PARTING, FLASK_KEY_LINE, N_("Parting")}};
    flask_heading(d, left, s->lift + s->height + 4.0 * g, _("Flask taken apart"),
                  _("Cut lengthwise through cavity 1; cope lifted off, drag off its board"));
    FlaskKeyPlace place = {left, -left + 10.0 * g, board - 6.0 * g, -left + 5.0 * g,
                           s->lift + s->height};
    flask_key(d, &place, legend, G_N_ELEMENTS(legend));
}

Scene *
flask_stack_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units)
{
    g_return_val_if_fail(layout != NULL && units != NULL, NULL);
    FlaskDraft draft;
    FlaskExtent extent = {layout->length, layout->cope + layout->drag + BOARD, 32.0,
                          14.0 + 1.6 * GAP};
    flask_draft_start(&draft, layout, pattern, units, &extent, _("Flask taken apart"));
    Stack s = {.height = layout->cope * FLASK_MM,
               .depth = layout->drag * FLASK_MM,
               .lift = GAP * draft.grain};
    if (layout->n_cavities > 0 && isfinite(layout->cavities[0].y))
        s.at = layout->cavities[0].y;
    draft.half_length = flask_half_chord(layout, s.at) * FLASK_MM;
    double board = -s.depth - 0.6 * s.lift - BOARD * FLASK_MM, hl = draft.half_length + draft.wall;
    draw_box(&draft, ROLE_SAND_COPE, s.lift, s.lift + s.height);
    draw_box(&draft, ROLE_SAND_DRAG, -s.depth, 0);
    scene_add_rectangle(draft.scene, ROLE_FLASK, FLASK_ORDER_WALL, "board", TRUE, TRUE, -hl, board,
                        2 * hl, BOARD * FLASK_MM);
    draw_gating(&draft, &s);
    draw_cavities(&draft, &s);
    draw_guides(&draft, &s);
    draw_words(&draft, &s, board);
    flask_describe(&draft);
    return draft.scene;
}
