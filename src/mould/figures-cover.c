// SPDX-License-Identifier: GPL-3.0-or-later
// How much sand is asked for: what a person set, or more the deeper the cavity draws.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"

// Thicknesses that hold, by a rule of thumb of sand shops: common practice, no source.
#define LEAST_WALL 0.025 // m
#define LEAST_BETWEEN 0.020
#define LEAST_OVER 0.030
#define WALL_SHARE 0.5
#define BETWEEN_SHARE 0.4

#define DEEPEST "max(mould.height_above, mould.height_below)"
#define RULE(least, share, depth) "max(" G_STRINGIFY(least) ", " G_STRINGIFY(share) " * " depth ")"

typedef struct {
    const char *field;
    FigureSpec given, rule;
    const char *depth[2]; // inputs of the rule
} Cover;

#define COVER(id, label, field, rule, first, second)                                               \
    {                                                                                              \
        field, {id, label, QUANTITY_LENGTH, field, NULL, "user"},                                  \
            {id, label, QUANTITY_LENGTH, rule, NULL, "common-practice"},                           \
        {                                                                                          \
            first, second                                                                          \
        }                                                                                          \
    }

static const Cover covers[] = {
    COVER(MOULD_LEAST_WALL, N_("Sand to the wall, at least"), "sand.cover_wall",
          RULE(LEAST_WALL, WALL_SHARE, DEEPEST), "mould.height_above", "mould.height_below"),
    COVER(MOULD_LEAST_BETWEEN, N_("Sand between cavities, at least"), "sand.cover_between",
          RULE(LEAST_BETWEEN, BETWEEN_SHARE, DEEPEST), "mould.height_above", "mould.height_below"),
    COVER(MOULD_LEAST_RUNNER, N_("Sand to sprue and runner, at least"), "sand.cover_runner",
          MOULD_LEAST_BETWEEN, MOULD_LEAST_BETWEEN, NULL),
    COVER(MOULD_LEAST_TOP, N_("Sand above, at least"), "sand.cover_top",
          RULE(LEAST_OVER, WALL_SHARE, "mould.height_above"), "mould.height_above", NULL),
    COVER(MOULD_LEAST_BOTTOM, N_("Sand below, at least"), "sand.cover_bottom",
          RULE(LEAST_OVER, WALL_SHARE, "mould.height_below"), "mould.height_below", NULL)};

static void
add_cover(const Inputs *inputs, FigureList *figures, const Cover *cover, double rule)
{
    double given = inputs_number(inputs, cover->field);
    if (!isnan(given))
        figure_add(figures, &cover->given, given, cover->field, NULL);
    else
        figure_add(figures, &cover->rule, rule, cover->depth[0], cover->depth[1], NULL);
}

static double
by_rule(double least, double share, double depth)
{
    return isnan(depth) ? NAN : fmax(least, share * depth);
}

double
mould_figures_sand_over(const Inputs *inputs, double high)
{
    double given = inputs_number(inputs, "sand.cover_top");
    return isnan(given) ? by_rule(LEAST_OVER, WALL_SHARE, high) : given;
}

void
mould_figures_covers(const Inputs *inputs, FigureList *figures)
{
    double above = figure_list_value(figures, "mould.height_above");
    double below = figure_list_value(figures, "mould.height_below");
    double deepest = isnan(above + below) ? NAN : fmax(above, below);
    add_cover(inputs, figures, &covers[0], by_rule(LEAST_WALL, WALL_SHARE, deepest));
    add_cover(inputs, figures, &covers[1], by_rule(LEAST_BETWEEN, BETWEEN_SHARE, deepest));
    add_cover(inputs, figures, &covers[2], figure_list_value(figures, MOULD_LEAST_BETWEEN));
    add_cover(inputs, figures, &covers[3], by_rule(LEAST_OVER, WALL_SHARE, above));
    add_cover(inputs, figures, &covers[4], by_rule(LEAST_OVER, WALL_SHARE, below));
}
