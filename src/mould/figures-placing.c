// SPDX-License-Identifier: GPL-3.0-or-later
// The flask's space, and what stands out of place.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"
#include "mould/prop.h"
#include "mould/space.h"

static const FigureSpec spec_area[2] = {{"mould.flask_area", N_("Area of the flask"), QUANTITY_AREA,
                                         "flask.length * flask.width", NULL, "geometry"},
                                        {"mould.flask_area", N_("Area of the flask"), QUANTITY_AREA,
                                         "pi / 4 * flask.length^2", NULL, "geometry"}};
static const FigureSpec spec_girth[2] = {{"mould.flask_girth", N_("Girth of the flask"),
                                          QUANTITY_LENGTH, "2 * (flask.length + flask.width)", NULL,
                                          "geometry"},
                                         {"mould.flask_girth", N_("Girth of the flask"),
                                          QUANTITY_LENGTH, "pi * flask.length", NULL, "geometry"}};
#define COPE_SPACE(corner)                                                                         \
    "flask.cope_depth * mould.flask_area - mould.flask_girth * tan(flask.wall_draft) * "           \
    "flask.cope_depth^2 / 2 + " corner " * tan(flask.wall_draft)^2 * flask.cope_depth^3 / 3"
#define DRAG_SPACE(corner)                                                                         \
    "flask.drag_depth * mould.flask_area + mould.flask_girth * tan(flask.wall_draft) * "           \
    "flask.drag_depth^2 / 2 + " corner " * tan(flask.wall_draft)^2 * flask.drag_depth^3 / 3"
static const FigureSpec spec_cope[2] = {{"mould.cope_space", N_("Space in the cope"),
                                         QUANTITY_VOLUME, COPE_SPACE("4"), NULL, "geometry"},
                                        {"mould.cope_space", N_("Space in the cope"),
                                         QUANTITY_VOLUME, COPE_SPACE("pi"), NULL, "geometry"}};
static const FigureSpec spec_drag[2] = {{"mould.drag_space", N_("Space in the drag"),
                                         QUANTITY_VOLUME, DRAG_SPACE("4"), NULL, "geometry"},
                                        {"mould.drag_space", N_("Space in the drag"),
                                         QUANTITY_VOLUME, DRAG_SPACE("pi"), NULL, "geometry"}};
static const FigureSpec spec_missing = {
    "mould.gates_missing",
    N_("Gates that miss"),
    QUANTITY_COUNT,
    NULL,
    N_("Gates square to the runner that would end before they leave it, run through another "
       "cavity, or lie over the sprue's well."),
    "geometry",
    FIGURE_AT_MOST,
    0};
static const FigureSpec spec_outside = {
    "mould.cavities_outside",
    N_("Cavities out of the flask"),
    QUANTITY_COUNT,
    NULL,
    N_("Cavities or risers that reach through a wall, the top or the bottom."),
    "geometry",
    FIGURE_AT_MOST,
    0};
static const FigureSpec spec_gating = {
    "mould.sand_cover.gating",
    N_("Sand from the gating to the wall"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least distance of sprue, well and runners from the flask's wall."),
    "geometry",
    FIGURE_AT_LEAST,
    0};

static double
number(const Inputs *inputs, const char *path)
{
    return inputs_number(inputs, path);
}

void
mould_figures_space(const Inputs *inputs, FigureList *figures)
{
    gboolean round = g_strcmp0(inputs_text(inputs, "flask.shape"), "round") == 0;
    double length = number(inputs, "flask.length"), width = number(inputs, "flask.width");
    double lean = tan(number(inputs, "flask.wall_draft")), corner = round ? G_PI : 4;
    double area = round ? G_PI / 4 * length * length : length * width;
    double girth = round ? G_PI * length : 2 * (length + width);
    // The width of a round flask is no input of it.
    const char *second = round ? NULL : "flask.width";
    figure_add(figures, &spec_area[round], area, "flask.length", second, NULL);
    figure_add(figures, &spec_girth[round], girth, "flask.length", second, NULL);
    double c = number(inputs, "flask.cope_depth"), d = number(inputs, "flask.drag_depth");
    double cope = c * area - girth * lean * c * c / 2 + corner * lean * lean * c * c * c / 3;
    double drag = d * area + girth * lean * d * d / 2 + corner * lean * lean * d * d * d / 3;
    figure_add(figures, &spec_cope[round], cope, "flask.cope_depth", "mould.flask_area",
               "mould.flask_girth", "flask.wall_draft", NULL);
    figure_add(figures, &spec_drag[round], drag, "flask.drag_depth", "mould.flask_area",
               "mould.flask_girth", "flask.wall_draft", NULL);
}

static guint
count_outside(const MouldLayout *l, guint *first)
{
    static const MouldCoverKind kinds[3] = {MOULD_COVER_WALL, MOULD_COVER_TOP, MOULD_COVER_BOTTOM};
    guint count = 0;
    for (guint i = 0; l->space && i < l->n_cavities; i++) {
        gboolean out = FALSE;
        for (int k = 0; k < 3; k++)
            out |= mould_space_of(l->space, kinds[k], i, NULL).distance < 0;
        if (out && count++ == 0)
            *first = i;
    }
    return count;
}

static double
gating_to_wall(const MouldLayout *l)
{
    MouldWalls walls = mould_walls_of(l);
    Vec3 foot = vec3(l->sprue_x, l->sprue_y, 0), mouth = vec3(l->sprue_x, l->sprue_y, l->cope);
    double least = mould_walls_distance(&walls, foot, NULL) -
                   fmax(l->well_diameter, l->sprue_bottom_diameter) / 2;
    least = fmin(least, mould_walls_distance(&walls, mouth, NULL) - l->sprue_top_diameter / 2);
    for (guint i = 0; i < l->n_runners; i++) {
        double depth = l->runners[i].depth;
        MouldProp bar = mould_prop_bar(&l->runners[i], l->gates_in_drag ? 0 : -depth,
                                       l->gates_in_drag ? depth : 0);
        for (int k = 0; k < 8; k++) {
            double u = k & 1 ? bar.length : -bar.length, v = k & 2 ? bar.width : -bar.width;
            Vec3 p = vec3(bar.x + bar.cos * u - bar.sin * v, bar.y + bar.sin * u + bar.cos * v,
                          k & 4 ? bar.high : bar.low);
            least = fmin(least, mould_walls_distance(&walls, p, NULL));
        }
    }
    return least;
}

static gboolean
is_sprue_out(const MouldLayout *l)
{
    if (l->round)
        return hypot(l->sprue_x, l->sprue_y) > l->length / 2;
    return fabs(l->sprue_x) > l->length / 2 || fabs(l->sprue_y) > l->width / 2;
}

void
mould_figures_placing(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                      const MouldLayout *l)
{
    mould_figures_bound(inputs, pattern, figures, l);
    guint first = 0, outside = l ? count_outside(l, &first) : 0;
    Figure *f = mould_figures_measured(figures, &spec_outside, l && l->space ? outside : NAN, NULL);
    figure_limit(f, 0, NULL);
    if (outside > 0)
        figure_set_note(f,
                        _("Cavity %u stands out of the flask: move it in, turn it, or take a "
                          "larger flask."),
                        first + 1);
    f = mould_figures_measured(figures, &spec_missing, l ? l->gates_missing : NAN, NULL);
    figure_limit(f, 0, NULL);
    if (l && l->gates_at_well > 0)
        figure_set_note(f, _("Metal from the sprue would fall straight into a gate: move the sprue "
                             "along the runner, or the cavity away from it."));
    else if (l && l->gates_missing > 0)
        figure_set_note(f, is_sprue_out(l)
                               ? _("The sprue lies out of the flask: move it in.")
                               : _("Move the cavity away from the runner, or what lies between "
                                   "them."));
    f = mould_figures_measured(figures, &spec_gating, l ? gating_to_wall(l) : NAN, NULL);
    figure_limit(f, figure_list_value(figures, MOULD_LEAST_WALL), MOULD_LEAST_WALL);
    if (f->state != FIGURE_FAILS)
        return;
    if (f->value < 0)
        figure_set_note(f, _("Sprue or runner lies out of the flask: move the sprue in."));
    else
        figure_set_note(f, _("Metal may break out at the wall there: move the sprue in, or take a "
                             "larger flask."));
}
