// SPDX-License-Identifier: GPL-3.0-or-later
// Chills in the views of a flask: the block in section, its outline in plan.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask-kit.h"

static gboolean
is_chill(const FeedChill *chill)
{
    return chill->width > 0 && chill->thickness > 0;
}

gboolean
flask_has_chill(const MouldLayout *layout)
{
    return layout->n_cavities > 0 && (is_chill(&layout->chill) || is_chill(&layout->guest_chill));
}

static SolidPoint
middle_of(const MouldLayout *l, guint i)
{
    const MouldCavity *c = &l->cavities[i];
    const FeedChill *chill = mould_layout_chill(l, i);
    double cs = cos(c->turn), sn = sin(c->turn);
    return (SolidPoint){c->x + cs * chill->x - sn * chill->y, c->y + sn * chill->x + cs * chill->y};
}

static void
describe(FlaskDraft *d, guint i, const char *id)
{
    const FeedChill *chill = mould_layout_chill(d->layout, i);
    g_autofree char *label = g_strdup_printf(_("Chill of cavity %u"), i + 1);
    g_autofree char *width = flask_length(d, chill->width);
    g_autofree char *thickness = flask_length(d, chill->thickness);
    g_autofree char *words = g_strdup_printf(
        chill->in_cope ? _("%s square, %s thick, over the casting; put in dry and warm")
                       : _("%s square, %s thick, under the casting; put in dry and warm"),
        width, thickness);
    gboolean guest = d->layout->cavities[i].guest;
    const char *figure = !guest           ? "feed.chilled_modulus"
                         : chill->in_cope ? "mould.guest_high"
                                          : "mould.guest_low";
    scene_add_part(d->scene, id, label, words, figure);
}

void
flask_draw_chills_cut(FlaskDraft *d, double at)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; i < l->n_cavities; i++) {
        const FeedChill *chill = mould_layout_chill(l, i);
        SolidPoint m = middle_of(l, i);
        double half = chill->width / 2, low = chill->face;
        // Of a turned square: how wide the plane cuts it, as far as its inner circle.
        if (!is_chill(chill) || fabs(m.y - at) >= half)
            continue;
        if (!chill->in_cope)
            low -= chill->thickness;
        g_autofree char *id = g_strdup_printf("chill-%u", i + 1);
        scene_add_rectangle(d->scene, ROLE_FLASK, FLASK_ORDER_GATING, id, TRUE, TRUE,
                            (m.x - half) * FLASK_MM, low * FLASK_MM, 2 * half * FLASK_MM,
                            chill->thickness * FLASK_MM);
        describe(d, i, id);
    }
}

void
flask_draw_chills_plan(FlaskDraft *d, FlaskHalf half)
{
    const MouldLayout *l = d->layout;
    for (guint i = 0; i < l->n_cavities; i++) {
        const FeedChill *chill = mould_layout_chill(l, i);
        if (!is_chill(chill) || half == (chill->in_cope ? FLASK_DRAG : FLASK_COPE))
            continue;
        SolidPoint m = middle_of(l, i), corners[4];
        double reach = chill->width / sqrt(2);
        for (int k = 0; k < 4; k++) {
            double way = l->cavities[i].turn + (2 * k + 1) * G_PI / 4;
            corners[k] = (SolidPoint){(m.x + reach * cos(way)) * FLASK_MM,
                                      (m.y + reach * sin(way)) * FLASK_MM};
        }
        g_autofree char *id = g_strdup_printf("chill-%u", i + 1);
        scene_add_polygon(d->scene, ROLE_HIDDEN, FLASK_ORDER_PART, id, FALSE, TRUE, corners, 4);
        describe(d, i, id);
    }
}
