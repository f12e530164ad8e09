// SPDX-License-Identifier: GPL-3.0-or-later
// The closed flask from outside, seen from its end: what stands on the bench, with the sand's
// contents as hidden edges.
//
//            |_|            basin
//       +-----------+
//       |  : : : :  |       COPE
//      -+-----------+-      parting
//       |  :.....:  |       DRAG
//       +-----------+
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask-kit.h"
#include "sketch/flask-turn.h"

#define LETTER_SIZE 13.0

static void
draw_hidden(FlaskDraft *d, const char *id, double x1, double x2, double z1, double z2)
{
    if (x2 > x1 && z2 > z1)
        scene_add_rectangle(d->scene, ROLE_HIDDEN, FLASK_ORDER_HIDDEN, id, FALSE, TRUE, x1, z1,
                            x2 - x1, z2 - z1);
}

static void
draw_frames(FlaskDraft *d)
{
    double x = d->half_length + d->wall, cope = d->layout->cope * FLASK_MM;
    double drag = d->layout->drag * FLASK_MM, out = x + 3.0 * d->grain;
    scene_add_rectangle(d->scene, ROLE_VISIBLE, FLASK_ORDER_WALL, "flask", FALSE, TRUE, -x, 0,
                        2 * x, cope);
    scene_add_rectangle(d->scene, ROLE_VISIBLE, FLASK_ORDER_WALL, "flask", FALSE, TRUE, -x, -drag,
                        2 * x, drag);
    // Where the sand ends, which is what the length below is of.
    for (int side = -1; side <= 1; side += 2) {
        SolidPoint inside[] = {{side * d->half_length, -drag}, {side * d->half_length, cope}};
        scene_add_line(d->scene, ROLE_HIDDEN, FLASK_ORDER_HIDDEN, NULL, inside, 2);
    }
    SolidPoint parting[] = {{-out, 0}, {out, 0}};
    scene_add_line(d->scene, ROLE_PARTING, FLASK_ORDER_LINE, NULL, parting, 2);
}

static void
draw_inside(FlaskDraft *d)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; i < l->n_cavities; i++) {
        const PatternResult *own = flask_take_cavity(d, i);
        double up = own ? own->height_cope * flask_growth(d) * FLASK_MM : 0;
        double down = own ? own->height_drag * flask_growth(d) * FLASK_MM : 0;
        g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
        g_autofree char *riser = g_strdup_printf("riser-%u", i + 1);
        SolidPoint min, max;
        if (flask_cavity_box(d, i, &min, &max))
            draw_hidden(d, id, min.x * FLASK_MM, max.x * FLASK_MM, -down, up);
        if (mould_layout_has_riser(l, i)) {
            const MouldRiser *post = mould_layout_riser(l, i);
            double x = l->cavities[i].riser_x * FLASK_MM, r = post->diameter * FLASK_MM / 2;
            draw_hidden(d, riser, x - r, x + r, post->base * FLASK_MM,
                        (post->base + post->height) * FLASK_MM);
        }
    }
    d->growth = 0.0;
}

static void
draw_sprue(FlaskDraft *d)
{
    const MouldLayout *l = d->layout;
    double x = l->sprue_x * FLASK_MM, cope = l->cope * FLASK_MM;
    double top = l->sprue_top_diameter * FLASK_MM / 2,
           low = l->sprue_bottom_diameter * FLASK_MM / 2;
    double well = l->well_diameter * FLASK_MM / 2, basin = l->basin_height * FLASK_MM;
    if (!isfinite(x) || !(top > 0))
        return;
    SolidPoint taper[] = {{x - low, 0}, {x + low, 0}, {x + top, cope}, {x - top, cope}};
    scene_add_polygon(d->scene, ROLE_HIDDEN, FLASK_ORDER_HIDDEN, "sprue", FALSE, TRUE, taper, 4);
    draw_hidden(d, "well", x - well, x + well, -l->well_depth * FLASK_MM, 0);
    double wide = l->basin_diameter > 0 ? l->basin_diameter * FLASK_MM / 2 : 2.5 * top;
    if (basin > 0)
        scene_add_rectangle(d->scene, ROLE_GATING, FLASK_ORDER_GATING, "basin", TRUE, TRUE,
                            x - wide, cope, 2 * wide, basin);
    SolidPoint axis[] = {{x, -l->well_depth * FLASK_MM - d->grain}, {x, cope + basin + d->grain}};
    scene_add_line(d->scene, ROLE_CENTRE, FLASK_ORDER_LINE, NULL, axis, 2);
}

static void
draw_words(FlaskDraft *d)
{
    const MouldLayout *l = d->layout;
    double x = d->half_length + d->wall, cope = l->cope * FLASK_MM, drag = l->drag * FLASK_MM;
    double g = d->grain, top = cope + fmax(0, l->basin_height * FLASK_MM);
    flask_text(d, ROLE_TEXT, -x - 2.5 * g, cope / 2, LETTER_SIZE, ALIGN_END, TRUE, FALSE, NULL,
               _("COPE"));
    flask_text(d, ROLE_TEXT, -x - 2.5 * g, -drag / 2, LETTER_SIZE, ALIGN_END, TRUE, FALSE, NULL,
               _("DRAG"));
    flask_dimension(d, "flask", x, 0, x, cope, -8.0 * g);
    flask_dimension(d, "flask", x, -drag, x, 0, -8.0 * g);
    flask_dimension(d, "flask", -d->half_length, -drag, d->half_length, -drag, -7.0 * g);
    static const FlaskLegend legend[] = {{ROLE_GATING, FLASK_KEY_PATCH, N_("Basin")},
                                         {ROLE_HIDDEN, FLASK_KEY_LINE, N_("Hidden in the sand")},
                                         {ROLE_PARTING, FLASK_KEY_LINE, N_("Parting")}};
    flask_heading(d, -x, top + 4.0 * g, _("Flask from its end"),
                  _("Closed, as it stands ready to pour"));
    FlaskKeyPlace place = {-x, x + 10.0 * g, -drag - 13.0 * g, x + 13.0 * g, cope};
    flask_key(d, &place, legend, G_N_ELEMENTS(legend));
}

Scene *
flask_end_scene(const MouldLayout *layout, const PatternResult *pattern, const UnitSet *units)
{
    g_return_val_if_fail(layout != NULL && units != NULL, NULL);
    g_auto(FlaskTurned) turned = flask_turned(layout);
    FlaskDraft draft;
    FlaskExtent extent = {turned.layout.length,
                          layout->cope + layout->drag + fmax(0.0, layout->basin_height), 24.0,
                          19.5};
    flask_draft_start(&draft, &turned.layout, pattern, units, &extent, _("Flask from its end"));
    draw_frames(&draft);
    draw_inside(&draft);
    draw_sprue(&draft);
    draw_words(&draft);
    flask_describe(&draft);
    return draft.scene;
}
