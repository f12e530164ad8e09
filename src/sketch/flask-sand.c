// SPDX-License-Identifier: GPL-3.0-or-later
// What is said of the sand at a point of the parting.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/body.h"
#include "sketch/flask-kit.h"

static double
distance_to_wall(const MouldLayout *l, double x, double y)
{
    if (l->round)
        return l->length / 2 - hypot(x, y);
    return fmin(l->length / 2 - fabs(x), l->width / 2 - fabs(y));
}

// To the skin of the nearest cavity, within a step of its distance field.
static double
distance_to_cavity(const MouldLayout *l, double x, double y, guint *nearest)
{
    double least = INFINITY;
    for (guint i = 0; l->body && i < l->n_cavities; i++) {
        const MouldCavity *cavity = &l->cavities[i];
        double c = cos(cavity->turn), s = sin(cavity->turn);
        double dx = x - cavity->x, dy = y - cavity->y;
        const MouldBody *body = cavity->guest && l->guest_body ? l->guest_body : l->body;
        double away = solid_grid_sample(body->field, vec3(c * dx + s * dy, -s * dx + c * dy, 0));
        if (away < least) {
            least = away;
            *nearest = i + 1;
        }
    }
    return least;
}

char *
flask_sand_words(const MouldLayout *layout, const UnitSet *units, double x, double y)
{
    g_return_val_if_fail(layout != NULL && units != NULL, NULL);
    FlaskDraft draft = {.layout = layout, .units = units};
    guint nearest = 0;
    double wall = distance_to_wall(layout, x, y);
    double cavity = distance_to_cavity(layout, x, y, &nearest);
    if (!(wall > 0.0) || !(cavity > 0.0))
        return NULL;
    g_autofree char *to_wall = flask_length(&draft, wall);
    if (nearest == 0)
        return g_strdup_printf(_("Sand at the parting: %s to the wall"), to_wall);
    // As exact as the field is.
    double even = units->inches ? 1.27e-3 : 1e-3;
    g_autofree char *to_cavity = flask_length(&draft, round(cavity / even) * even);
    return g_strdup_printf(_("Sand at the parting: %s to the wall, about %s to cavity %u"), to_wall,
                           to_cavity, nearest);
}
