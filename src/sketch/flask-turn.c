// SPDX-License-Identifier: GPL-3.0-or-later
#include "sketch/flask-turn.h"

static void
turn(double *x, double *y)
{
    double old = *x;
    *x = *y;
    *y = 0.0 - old;
}

static void
turn_channels(MouldChannel **channels, guint n)
{
    *channels = n > 0 ? g_memdup2(*channels, n * sizeof **channels) : NULL;
    for (guint i = 0; i < n; i++) {
        turn(&(*channels)[i].x1, &(*channels)[i].y1);
        turn(&(*channels)[i].x2, &(*channels)[i].y2);
    }
}

static void
turn_cavities(MouldLayout *l)
{
    l->cavities = l->n_cavities > 0 ? g_memdup2(l->cavities, l->n_cavities * sizeof *l->cavities)
                                    : NULL;
    for (guint i = 0; i < l->n_cavities; i++) {
        MouldCavity *c = &l->cavities[i];
        turn(&c->x, &c->y);
        turn(&c->riser_x, &c->riser_y);
        turn(&c->neck_x, &c->neck_y);
        c->turn -= G_PI / 2;
    }
}

FlaskTurned
flask_turned(const MouldLayout *layout)
{
    FlaskTurned turned = {*layout};
    MouldLayout *l = &turned.layout;
    l->length = layout->width;
    l->width = layout->length;
    turn_cavities(l);
    turn_channels(&l->runners, l->n_runners);
    turn_channels(&l->gates, l->n_gates);
    turn(&l->sprue_x, &l->sprue_y);
    for (guint i = 0; i < l->n_tabs; i++) {
        MouldTab *tab = &l->tabs[i];
        double length = tab->length;
        turn(&tab->x, &tab->y);
        if (!(tab->width > 0)) // a pin is round
            continue;
        tab->length = tab->width;
        tab->width = length;
    }
    l->vents = l->n_vents > 0 ? g_memdup2(l->vents, l->n_vents * sizeof *l->vents) : NULL;
    for (guint i = 0; i < l->n_vents; i++)
        turn(&l->vents[i].x, &l->vents[i].y);
    return turned;
}

void
flask_turned_clear(FlaskTurned *turned)
{
    g_clear_pointer(&turned->layout.cavities, g_free);
    g_clear_pointer(&turned->layout.runners, g_free);
    g_clear_pointer(&turned->layout.gates, g_free);
    g_clear_pointer(&turned->layout.vents, g_free);
}
