// SPDX-License-Identifier: GPL-3.0-or-later
// What the layout is asked for: the hot cavity, the heads, the time a wall can wait.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"
#include "mould/gating.h"
#include "mould/wish-riser.h"

#define JOINT_SHARE 0.5 // of half a neck, over which it is to meet the casting

// Four quarter turns (a casting that is not the same both ways round may meet its gate better),
// then the angles between them.
#define BETWEEN 5 // angles between two quarter turns
#define ANGLES (MOULD_QUARTERS * (1 + BETWEEN))

static const FigureSpec spec_density = {
    "mould.pour_density",
    N_("Density as poured"),
    QUANTITY_DENSITY,
    "metal.density_liquid + metal.density_slope * (job.pouring_temperature - metal.liquidus)",
    NULL,
    "table"};
static const FigureSpec spec_density_flat = {"mould.pour_density",
                                             N_("Density as poured"),
                                             QUANTITY_DENSITY,
                                             "metal.density_liquid",
                                             NULL,
                                             "table"};
static const FigureSpec spec_wall = {
    "mould.wall",
    N_("Thinnest wall as moulded"),
    QUANTITY_LENGTH,
    NULL,
    N_("The thinnest wall of the rough casting, larger by the contraction; twice the modulus where "
       "the shape gives no wall."),
    "geometry"};
static const FigureSpec spec_wall_time = {
    "mould.wall_time",
    N_("Time the thinnest wall can wait"),
    QUANTITY_TIME,
    "pi / 4 * (mould.wall / 2 * mould.pour_density * (metal.cp_liquid * (job.pouring_temperature - "
    "metal.liquidus) + 0.25 * metal.latent_heat) / (metal.liquidus - shop.ambient))^2 / "
    "(sandkind.conductivity * sandkind.density * sandkind.specific_heat)",
    NULL,
    "adams-taylor-1957"};
static const FigureSpec spec_head = {"mould.head",
                                     N_("Head over the parting"),
                                     QUANTITY_LENGTH,
                                     "flask.cope_depth + job.basin_height",
                                     NULL,
                                     "definition"};
static const FigureSpec spec_above = {
    "mould.height_above",
    N_("Cavity above the parting"),
    QUANTITY_LENGTH,
    NULL,
    N_("Height of the rough casting above the parting, larger by the contraction; of two jobs in a "
       "flask that of the higher."),
    "geometry"};
static const FigureSpec spec_below = {
    "mould.height_below",
    N_("Cavity below the parting"),
    QUANTITY_LENGTH,
    NULL,
    N_("Height of the rough casting below the parting, larger by the contraction; of two jobs in a "
       "flask that of the deeper."),
    "geometry"};
static const FigureSpec spec_mean_head = {
    "mould.effective_head",
    N_("Effective head"),
    QUANTITY_LENGTH,
    "mould.head - mould.height_above^2 / (2 * (mould.height_above + mould.height_below))",
    NULL,
    "rao+heine-loper-rosenthal"};
static const FigureSpec spec_cavity = {"mould.cavity_volume",
                                       N_("Cavity volume"),
                                       QUANTITY_VOLUME,
                                       "casting.volume * (1 + job.contraction)^3",
                                       NULL,
                                       "definition"};

static double
value(const FigureList *figures, const char *id)
{
    return figure_list_value(figures, id);
}

static void
add_density(const Inputs *inputs, FigureList *figures)
{
    double slope = inputs_number(inputs, "metal.density_slope");
    double liquid = inputs_number(inputs, "metal.density_liquid");
    if (isnan(slope)) {
        figure_add(figures, &spec_density_flat, liquid, "metal.density_liquid", NULL);
        return;
    }
    double above = inputs_number(inputs, "job.pouring_temperature") -
                   inputs_number(inputs, "metal.liquidus");
    figure_add(figures, &spec_density, liquid + slope * above, "metal.density_liquid",
               "metal.density_slope", "job.pouring_temperature", "metal.liquidus", NULL);
}

static void
add_wall(const Inputs *inputs, const PatternResult *pattern, const MouldGuest *guest,
         FigureList *figures, double scale)
{
    double wall = pattern ? pattern->thinnest : NAN;
    if (!(wall > 0))
        wall = 2 * value(figures, "casting.modulus");
    if (guest)
        wall = fmin(wall, guest->wall / scale); // NAN leaves it
    figure_add(figures, &spec_wall, wall * scale, "casting.modulus", "job.contraction", NULL);
    double liquidus = inputs_number(inputs, "metal.liquidus");
    double heat = inputs_number(inputs, "metal.cp_liquid") *
                      (inputs_number(inputs, "job.pouring_temperature") - liquidus) +
                  0.25 * inputs_number(inputs, "metal.latent_heat");
    double product = inputs_number(inputs, "sandkind.conductivity") *
                     inputs_number(inputs, "sandkind.density") *
                     inputs_number(inputs, "sandkind.specific_heat");
    double time = mould_wall_time(wall * scale, value(figures, "mould.pour_density"), heat,
                                  liquidus, inputs_number(inputs, "shop.ambient"), product);
    Figure *figure = figure_add(figures, &spec_wall_time, time, "mould.wall", "mould.pour_density",
                                "metal.cp_liquid", "job.pouring_temperature", "metal.liquidus",
                                "metal.latent_heat", "shop.ambient", "sandkind.conductivity",
                                "sandkind.density", "sandkind.specific_heat", NULL);
    figure_set_note(figure, _("Until superheat and a quarter of the latent heat are in the sand; "
                              "then a wall stops running."));
}

static void
add_heads(const Inputs *inputs, const PatternResult *pattern, const MouldGuest *guest,
          FigureList *figures, double scale)
{
    double head = inputs_number(inputs, "flask.cope_depth") +
                  inputs_number(inputs, "job.basin_height");
    figure_add(figures, &spec_head, head, "flask.cope_depth", "job.basin_height", NULL);
    double above = pattern ? pattern->height_cope * scale : NAN;
    double below = pattern ? pattern->height_drag * scale : NAN;
    if (guest && !isnan(above)) {
        above = fmax(above, guest->above);
        below = fmax(below, guest->below);
    }
    figure_add(figures, &spec_above, above, "casting.volume", "job.contraction", NULL);
    figure_add(figures, &spec_below, below, "casting.volume", "job.contraction", NULL);
    figure_add(figures, &spec_mean_head, mould_effective_head(head, above, above + below),
               "mould.head", "mould.height_above", "mould.height_below", NULL);
}

// How far the casting reaches from the parting over or under (x, y); steps of half a cell, then in
// between by the field's own values.
static double
reach_at(const SolidGrid *casting, double x, double y, int way)
{
    double step = way * casting->cell / 2, z = 0;
    double here = solid_grid_sample(casting, vec3(x, y, 0));
    for (int i = 0; here < 0 && i <= 2 * casting->nz; i++) {
        double next = solid_grid_sample(casting, vec3(x, y, z + step));
        if (next >= 0)
            return fabs(z + step * here / (here - next));
        here = next;
        z += step;
    }
    return fabs(z);
}

// Is there casting close to the parting over or under (x, y)?
static gboolean
is_met(const SolidGrid *casting, double x, double y)
{
    for (int k = -1; k <= 1; k++)
        if (solid_grid_sample(casting, vec3(x, y, k * casting->cell)) < 0)
            return TRUE;
    return FALSE;
}

// How far from (x, y) along (dx, dy), a unit, the casting goes on, and no further than `most`.
static double
side_reach(const SolidGrid *casting, double x, double y, double dx, double dy, double most)
{
    double far = 0, step = casting->cell / 2;
    while (far < most && is_met(casting, x + (far + step) * dx, y + (far + step) * dy))
        far += step;
    return far;
}

// Where a neck joins the casting, m, cold, and the way across it.
typedef struct {
    double x, y, dx, dy;
} Joint;

static Joint
find_joint(const MouldWish *wish, double scale, int quarter)
{
    // A little inside, so that rounded edges and draft do not hide the casting.
    double inside = MIN(wish->neck / 4, wish->wall / 2);
    double u = wish->attach_u[quarter] / scale, v = (wish->attach_v[quarter] + inside) / scale;
    double turn = mould_place_turn(wish, quarter), c = cos(turn), s = sin(turn);
    const MouldOwnRiser *o = &wish->own;
    if (!o->beside)
        return (Joint){c * u + s * v, c * v - s * u, c, -s};
    double far = hypot(o->joint_x - o->x, o->joint_y - o->y);
    double wx = (o->joint_x - o->x) / far, wy = (o->joint_y - o->y) / far;
    return (Joint){(o->joint_x + wx * inside) / scale, (o->joint_y + wy * inside) / scale, -wy, wx};
}

// Heights and width of the casting where the neck joins; heights the least over the middle half of
// the neck, so that it does not end in the sand.
static void
set_joint(const PatternResult *pattern, double scale, MouldWish *wish, int quarter)
{
    const SolidGrid *casting = pattern->casting;
    double above = 0, below = 0, half = 0;
    if (casting && wish->neck > 0) {
        Joint j = find_joint(wish, scale, quarter);
        double most = wish->neck / scale;
        half = fmin(side_reach(casting, j.x, j.y, j.dx, j.dy, most),
                    side_reach(casting, j.x, j.y, -j.dx, -j.dy, most));
        double aside = JOINT_SHARE * fmin(half, most / 2);
        above = below = INFINITY;
        for (int k = -1; k <= 1; k++) {
            double x = j.x + k * aside * j.dx, y = j.y + k * aside * j.dy;
            above = fmin(above, scale * reach_at(casting, x, y, 1));
            below = fmin(below, scale * reach_at(casting, x, y, -1));
        }
    }
    gboolean found = above + below > 0;
    wish->joint_above[quarter] = found ? MIN(above, wish->above) : wish->above;
    wish->joint_below[quarter] = found ? MIN(below, wish->below) : wish->below;
    wish->joint_width[quarter] = found ? 2 * scale * half : 2 * wish->neck;
}

// The way it stands at each angle that may be tried. Quarter turns keep the box of the casting as
// their reach, so that a casting of straight sides stands square.
static void
set_stances(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
            double scale, const SolidOutline *outline, MouldWish *wish)
{
    const char *turning = inputs_text(inputs, "job.turning");
    const SolidOutline *shadow = pattern->shadow && pattern->shadow->n_points > 0 ? pattern->shadow
                                                                                  : outline;
    if (!isfinite(wish->riser_diameter + wish->neck + wish->cover_between))
        return;
    g_autoptr(SolidOutline) all = mould_stance_scaled(shadow, scale);
    g_autoptr(SolidOutline) skin = mould_stance_scaled(outline, scale);
    if (feed)
        mould_wish_beside(wish, feed, all, skin);
    MouldBeside beside = mould_place_beside(wish);
    MouldRow row = {wish->riser_diameter, 0.5 * wish->neck, wish->cover_between, &beside};
    gboolean hot = FALSE;
    int n = g_strcmp0(turning, "none") == 0 ? 1 : MOULD_QUARTERS;
    if (g_strcmp0(turning, "free") == 0)
        n = ANGLES;
    for (int i = 0; i < n; i++) {
        int k = i - MOULD_QUARTERS;
        double quarters = k < 0 ? i : k / BETWEEN + (1 + k % BETWEEN) / (BETWEEN + 1.0);
        double turn = quarters * G_PI / 2;
        MouldStance *stance = &wish->stances[i];
        *stance = mould_stance(all, skin, turn, &row);
        if (i < 2) {
            double u = (i ? wish->box_y : wish->box_x) / 2, v = (i ? wish->box_x : wish->box_y) / 2;
            double r = stance->riser_r, out = r > 0 ? 1 : 0;
            stance->left = fmax(u, out * (r - stance->riser_u));
            stance->right = fmax(u, out * (r + stance->riser_u));
            stance->front = fmax(v, out * (r - stance->riser_v));
            stance->back = fmax(v, out * (r + stance->riser_v));
            stance->bare = v;
        }
        if (i >= 2 || beside.radius > 0) {
            wish->attach_u[i] = stance->attach_u;
            wish->attach_v[i] = stance->attach_v;
        }
        set_joint(pattern, scale, wish, i);
        hot |= stance->hot;
    }
    wish->n_stances = n;
    for (int i = 0; i < n; i++)
        wish->stances[i].barred = hot && !wish->stances[i].hot;
}

static void
set_shapes(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed, double scale,
           MouldWish *wish)
{
    wish->box_x = (pattern->max.x - pattern->min.x) * scale;
    wish->box_y = (pattern->max.y - pattern->min.y) * scale;
    const SolidOutline *outline = pattern->parting_outline;
    if (!outline || outline->n_points == 0)
        outline = pattern->shadow;
    for (int quarter = 0; quarter < 2; quarter++) {
        double front = (quarter ? wish->box_x : wish->box_y) / 2;
        wish->attach_v[quarter] = -front;
        if (outline && outline->n_points > 0)
            mould_place_attach(outline, scale, quarter, &wish->attach_u[quarter],
                               &wish->attach_v[quarter]);
        wish->attach_v[quarter] = MAX(wish->attach_v[quarter], -front);
        set_joint(pattern, scale, wish, quarter);
    }
    if (outline && outline->n_points > 0)
        set_stances(inputs, pattern, feed, scale, outline, wish);
}

static double
size_or_0(const Inputs *inputs, const char *path)
{
    double size = inputs_number(inputs, path);
    return isnan(size) ? 0 : size;
}

static gboolean
is_complete(const MouldWish *w)
{
    const double needed[] = {w->wall_draft,     w->length,       w->width,         w->cope,
                             w->drag,           w->cover_wall,   w->cover_between, w->cover_runner,
                             w->basin_height,   w->box_x,        w->box_y,         w->above,
                             w->below,          w->wall,         w->cavity_volume, w->cavity_mass,
                             w->riser_diameter, w->riser_height, w->neck,          w->density,
                             w->discharge,      w->head,         w->mean_head,     w->wall_time,
                             w->pour_factor,    w->runner_ratio, w->gate_ratio};
    for (gsize i = 0; i < G_N_ELEMENTS(needed); i++)
        if (!isfinite(needed[i]))
            return FALSE;
    return w->cavity_volume > 0;
}

gboolean
mould_figures_wish(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
                   const MouldGuest *guest, FigureList *figures, MouldWish *wish)
{
    double scale = 1 + inputs_number(inputs, "job.contraction");
    add_density(inputs, figures);
    add_wall(inputs, pattern, guest, figures, scale);
    add_heads(inputs, pattern, guest, figures, scale);
    mould_figures_covers(inputs, figures);
    double volume = value(figures, "casting.volume") * scale * scale * scale;
    figure_add(figures, &spec_cavity, volume, "casting.volume", "job.contraction", NULL);
    if (!pattern || !feed)
        return FALSE;
    double most = inputs_number(inputs, "job.cavities");
    *wish = (MouldWish){.length = inputs_number(inputs, "flask.length"),
                        .width = inputs_number(inputs, "flask.width"),
                        .cope = inputs_number(inputs, "flask.cope_depth"),
                        .drag = inputs_number(inputs, "flask.drag_depth"),
                        .above = pattern->height_cope * scale,
                        .below = pattern->height_drag * scale,
                        .cover_wall = value(figures, MOULD_LEAST_WALL),
                        .cover_between = value(figures, MOULD_LEAST_BETWEEN),
                        .cover_runner = value(figures, MOULD_LEAST_RUNNER),
                        .basin_height = inputs_number(inputs, "job.basin_height"),
                        .wall = value(figures, "mould.wall"),
                        .cavity_volume = value(figures, "mould.cavity_volume"),
                        .cavity_mass = value(figures, "casting.mass"),
                        .riser_diameter = value(figures, "feed.riser_diameter"),
                        .riser_height = value(figures, "feed.riser_height"),
                        .neck = value(figures, "feed.neck"),
                        .most = isnan(most) ? 0 : (int)CLAMP(most, 1, 10000),
                        .density = value(figures, "mould.pour_density"),
                        .discharge = inputs_number(inputs, "job.discharge"),
                        .head = value(figures, "mould.head"),
                        .mean_head = value(figures, "mould.effective_head"),
                        .fill_time = inputs_number(inputs, "job.fill_time"),
                        .wall_time = value(figures, "mould.wall_time"),
                        .pour_factor = inputs_number(inputs, "job.pour_factor"),
                        .runner_ratio = inputs_number(inputs, "job.runner_ratio"),
                        .gate_ratio = inputs_number(inputs, "job.gate_ratio"),
                        .velocity_limit = value(figures, "metal.gate_velocity")};
    wish->asked_wall = wish->cover_wall;
    wish->asked_between = wish->cover_between;
    wish->asked_runner = wish->cover_runner;
    wish->choke = size_or_0(inputs, "job.choke_area");
    wish->gate_width = size_or_0(inputs, "job.gate_width");
    wish->gate_depth = size_or_0(inputs, "job.gate_depth");
    wish->runner = size_or_0(inputs, "job.runner_width");
    wish->stepped = g_strcmp0(inputs_text(inputs, "job.runner_shape"), "stepped") == 0;
    wish->round = g_strcmp0(inputs_text(inputs, "flask.shape"), "round") == 0;
    if (wish->round)
        wish->width = wish->length;
    wish->wall_draft = inputs_number(inputs, "flask.wall_draft");
    mould_wish_risers(wish, feed, pattern->shadow, scale);
    // In a shared flask every riser beside a casting stands between its gate and the casting.
    set_shapes(inputs, pattern, guest ? NULL : feed, scale, wish);
    return is_complete(wish);
}

MouldWish
mould_figures_alone_wish(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
                         const MouldWish *shared)
{
    MouldWish wish = *shared;
    set_shapes(inputs, pattern, feed, 1 + inputs_number(inputs, "job.contraction"), &wish);
    return wish;
}

MouldWish
mould_figures_guest_wish(const Inputs *inputs, const MouldGuest *guest, const MouldWish *host)
{
    MouldWish wish = *host;
    wish.above = guest->above;
    wish.below = guest->below;
    wish.cavity_volume = guest->volume;
    wish.cavity_mass = guest->mass;
    wish.cover_wall = host->asked_wall;
    wish.cover_between = host->asked_between;
    wish.cover_runner = host->asked_runner;
    wish.own = (MouldOwnRiser){0};
    wish.riser_diameter = guest->feed->diameter;
    wish.riser_height = guest->feed->height;
    wish.neck = guest->feed->neck;
    mould_wish_risers(&wish, guest->feed, guest->pattern->shadow, guest->growth);
    set_shapes(inputs, guest->pattern, NULL, guest->growth, &wish);
    return wish;
}
