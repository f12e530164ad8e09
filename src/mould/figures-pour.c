// SPDX-License-Identifier: GPL-3.0-or-later
// Cavities, metal, filling time, choke and gates as figures.
//
// Two densities are at work. A cavity ends up holding the cold casting, its own volume times the
// solid density: while the metal contracts it draws the rest through the gate. Everything else in
// the mould is counted as filled once with liquid at the pouring temperature. Both are masses of
// the same metal, so the yield is their plain ratio and always below one.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "book/field.h"
#include "mould/figures.h"
#include "mould/gating.h"
#include "mould/wish-riser.h"

// m; a casting larger than this is more likely a mesh read in the wrong unit.
#define UNLIKELY 2.0
// Castings over metal poured, below which it pays to look why: common practice, no source.
#define LEAST_YIELD (1.0 / 3)

static const FigureSpec spec_cavities = {
    "mould.cavities",
    N_("Cavities in a flask"),
    QUANTITY_COUNT,
    NULL,
    N_("Rows of equal cavities at one or both sides of a runner, lengthwise and crosswise, the "
       "casting as drawn or turned; as close as the sand between their outlines allows, and the "
       "gating sized anew for each until metal and gating agree. The way that holds most is kept; "
       "among equals the more even one, then the one with least metal."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_by_hand = {"mould.cavities",
                                        N_("Cavities in a flask"),
                                        QUANTITY_COUNT,
                                        NULL,
                                        N_("As many as were placed by hand."),
                                        "user",
                                        FIGURE_AT_LEAST,
                                        0};
static const FigureSpec spec_gating = {
    "mould.gating_volume",
    N_("Sprue, runners and gates"),
    QUANTITY_VOLUME,
    NULL,
    N_("Volume of basin, tapered sprue, well, runners, gates and riser necks as drawn."),
    "geometry"};
// Each of a flask of its own, and of one shared with another job.
#define ONE(id, label, kind, formula, source)                                                      \
    {                                                                                              \
        id, label, kind, formula, NULL, source                                                     \
    }
static const FigureSpec spec_volume[2] = {
    ONE("mould.metal_volume", N_("Volume of the mould"), QUANTITY_VOLUME,
        "mould.cavities * (mould.cavity_volume + feed.riser_count * feed.riser_volume) + "
        "mould.gating_volume",
        "geometry"),
    ONE("mould.metal_volume", N_("Volume of the mould"), QUANTITY_VOLUME,
        "mould.cavities * (mould.cavity_volume + feed.riser_count * feed.riser_volume) + "
        "mould.guest_cavities * (mould.guest_volume + mould.guest_risers * "
        "mould.guest_riser_volume) + "
        "mould.gating_volume",
        "geometry")};
static const FigureSpec spec_mass[2] = {
    ONE("mould.metal_mass", N_("Metal of a flask"), QUANTITY_MASS,
        "mould.castings_mass + mould.pour_density * (mould.cavities * feed.riser_count * "
        "feed.riser_volume + mould.gating_volume)",
        "definition"),
    ONE("mould.metal_mass", N_("Metal of a flask"), QUANTITY_MASS,
        "mould.castings_mass + mould.pour_density * (mould.cavities * feed.riser_count * "
        "feed.riser_volume + mould.guest_cavities * mould.guest_risers * mould.guest_riser_volume "
        "+ mould.gating_volume)",
        "definition")};
static const FigureSpec spec_castings[2] = {
    ONE("mould.castings_mass", N_("Castings of a flask"), QUANTITY_MASS,
        "mould.cavities * casting.mass", "definition"),
    ONE("mould.castings_mass", N_("Castings of a flask"), QUANTITY_MASS,
        "mould.cavities * casting.mass + mould.guest_cavities * mould.guest_mass", "definition")};
static const FigureSpec spec_yield = {
    "mould.yield", N_("Yield"),  QUANTITY_RATIO,  "mould.castings_mass / mould.metal_mass",
    NULL,          "definition", FIGURE_AT_LEAST, 0,
    TRUE};
static const FigureSpec spec_gate_most = {
    "mould.gate_area_most",
    N_("Largest gates"),
    QUANTITY_AREA,
    NULL,
    N_("All gates at four fifths of the side they enter, or what keeps them off the sprue's well; "
       "as thick as the thinnest wall and as what the casting has in their half of the mould, or "
       "as half the riser; of two jobs the less."),
    "common-practice"};
static const FigureSpec spec_gate_time = {
    "mould.gate_time",
    N_("Least time the gates allow"),
    QUANTITY_TIME,
    "mould.metal_mass / mould.pour_density * sqrt(mould.head "
    "/ mould.effective_head) / (mould.gate_share * metal.gate_velocity * "
    "mould.gate_area_most)",
    NULL,
    "runyoro-1992+campbell-castings"};
static const FigureSpec spec_share = {
    "mould.gate_share",
    N_("Share of the speed limit"),
    QUANTITY_RATIO,
    NULL,
    N_("What the gates are drawn for: nine tenths, and less where the stepped filling finds a gate "
       "that runs faster than all together would."),
    "common-practice"};
static const FigureSpec spec_ratio = {
    "mould.runner_ratio",
    N_("Runners over choke"),
    QUANTITY_NUMBER,
    NULL,
    N_("As wished; left blank, wider in steps of a quarter until the stepped filling finds the "
       "gates even enough."),
    "common-practice"};
static const FigureSpec spec_gate_ratio = {
    "mould.gate_ratio",
    N_("Gates over choke, at least"),
    QUANTITY_NUMBER,
    NULL,
    N_("As wished; left blank, less where the stepped filling finds that the runner would not run "
       "full, as far as the speed limit of the gates allows."),
    "common-practice"};
static const FigureSpec spec_arms = {"mould.runner_arms",
                                     N_("Arms of the runner"),
                                     QUANTITY_COUNT,
                                     NULL,
                                     N_("One for one column of cavities, else one to each side."),
                                     "geometry"};
static const FigureSpec spec_fill_choke = {
    "mould.fill_time_rule",
    N_("Filling time drawn for"),
    QUANTITY_TIME,
    "mould.metal_mass / (mould.pour_density * job.choke_area * job.discharge * sqrt(2 * g * "
    "mould.effective_head))",
    NULL,
    "choke-note+rao"};
static const FigureSpec spec_choke_given = {
    "mould.choke_area", N_("Choke area"), QUANTITY_AREA, "job.choke_area", NULL, "user"};
static const FigureSpec spec_gate_given[2] = {
    ONE("mould.gate_area", N_("Area of all gates"), QUANTITY_AREA,
        "mould.cavities * job.gate_width * job.gate_depth", "user"),
    ONE("mould.gate_area", N_("Area of all gates"), QUANTITY_AREA,
        "(mould.cavities + mould.guest_cavities) * job.gate_width * job.gate_depth", "user")};
static const FigureSpec spec_runner_given = {"mould.runner_area",
                                             N_("Area of the runners"),
                                             QUANTITY_AREA,
                                             "mould.runner_arms * job.runner_width^2",
                                             NULL,
                                             "user"};
static const FigureSpec spec_slow_time = {"mould.slow_time",
                                          N_("Time through the least choke"),
                                          QUANTITY_TIME,
                                          "mould.metal_mass / (mould.pour_density * 0.00005 * "
                                          "job.discharge * sqrt(2 * g * mould.effective_head))",
                                          NULL,
                                          "common-practice"};
static const FigureSpec spec_mass_time = {"mould.mass_time",
                                          N_("Time by the pouring factor"),
                                          QUANTITY_TIME,
                                          "job.pour_factor * mould.metal_mass^(1 / 3)",
                                          NULL,
                                          "common-practice"};
static const FigureSpec spec_fill = {
    "mould.fill_time_rule",
    N_("Filling time drawn for"),
    QUANTITY_TIME,
    "max(mould.gate_time, min(mould.slow_time, min(0.5 * mould.wall_time, mould.mass_time)))",
    NULL,
    "common-practice"};
static const FigureSpec spec_fill_wall = {"mould.fill_time_rule",
                                          N_("Filling time drawn for"),
                                          QUANTITY_TIME,
                                          "min(mould.slow_time, min(0.5 * mould.wall_time, "
                                          "mould.mass_time))",
                                          NULL,
                                          "common-practice"};
static const FigureSpec spec_fill_given = {"mould.fill_time_rule",
                                           N_("Filling time drawn for"),
                                           QUANTITY_TIME,
                                           "job.fill_time",
                                           NULL,
                                           "user"};
static const FigureSpec spec_choke = {
    "mould.choke_area",
    N_("Choke area"),
    QUANTITY_AREA,
    "mould.metal_mass / (mould.pour_density * mould.fill_time_rule * job.discharge * sqrt(2 * g * "
    "mould.effective_head))",
    NULL,
    "choke-note+rao"};
static const FigureSpec spec_flow = {"mould.peak_flow",
                                     N_("Flow at the start"),
                                     QUANTITY_FLOW,
                                     "mould.choke_area * job.discharge * sqrt(2 * g * mould.head)",
                                     NULL,
                                     "torricelli"};
static const FigureSpec spec_gate_wait[2] = {
    ONE("mould.gate_area_wait", N_("Gates that can wait"), QUANTITY_AREA,
        "mould.cavities * 4 * 1.2 * mould.wall^2 * mould.fill_time_rule / mould.wall_time",
        "adams-taylor-1957"),
    ONE("mould.gate_area_wait", N_("Gates that can wait"), QUANTITY_AREA,
        "(mould.cavities + mould.guest_cavities) * 4 * 1.2 * mould.wall^2 * mould.fill_time_rule / "
        "mould.wall_time",
        "adams-taylor-1957")};
static const FigureSpec spec_gate_area = {
    "mould.gate_area",
    N_("Area of all gates"),
    QUANTITY_AREA,
    "min(mould.gate_area_most, max(mould.gate_area_wait, max(mould.gate_ratio * mould.choke_area, "
    "mould.peak_flow / (mould.gate_share * metal.gate_velocity))))",
    NULL,
    "runyoro-1992+campbell-castings"};
static const FigureSpec spec_gate_area_ratio = {
    "mould.gate_area",
    N_("Area of all gates"),
    QUANTITY_AREA,
    "min(mould.gate_area_most, max(mould.gate_area_wait, mould.gate_ratio * mould.choke_area))",
    NULL,
    "common-practice"};
static const FigureSpec spec_velocity = {"mould.gate_velocity_rule",
                                         N_("Speed at the gates as one"),
                                         QUANTITY_VELOCITY,
                                         "mould.peak_flow / mould.gate_area",
                                         NULL,
                                         "definition"};
static const FigureSpec spec_runner = {"mould.runner_area",
                                       N_("Area of the runners"),
                                       QUANTITY_AREA,
                                       "mould.runner_ratio * mould.choke_area",
                                       NULL,
                                       "common-practice"};
static const FigureSpec spec_sprue = {
    "mould.sprue_top_area",
    N_("Sprue area at the top"),
    QUANTITY_AREA,
    "mould.choke_area * sqrt(mould.head / max(job.basin_height, 0.005))",
    NULL,
    "groover"};
static const FigureSpec spec_well = {"mould.well_diameter",
                                     N_("Well diameter"),
                                     QUANTITY_LENGTH,
                                     "sqrt(5 * mould.choke_area * 4 / pi)",
                                     NULL,
                                     "common-practice"};
static const FigureSpec spec_channel = {
    "mould.channel_modulus",
    N_("Thinnest channel, modulus"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least cross-section over outline of the choke, one runner and one gate as drawn."),
    "geometry"};
static const FigureSpec spec_channel_wait = {
    "mould.channel_wait",
    N_("Time the channels can wait"),
    QUANTITY_TIME,
    "mould.wall_time * (2 * mould.channel_modulus / mould.wall)^2",
    NULL,
    "adams-taylor-1957",
    FIGURE_AT_LEAST,
    0.1};

Figure *
mould_figures_measured(FigureList *figures, const FigureSpec *spec, double value, const char *input)
{
    if (isnan(value))
        return figure_add_unknown(figures, spec, "mould.cavities");
    return figure_add(figures, spec, value, "mould.cavities", input, NULL);
}

char *
mould_figures_size(const Inputs *inputs, double length)
{
    UnitSet units = inputs_units(inputs);
    double step = units.inches ? 0.0254 / 16 : 1e-3;
    return quantity_format(QUANTITY_LENGTH, step * ceil(length / step - 1e-6), &units);
}

static void
note_too_deep(const Inputs *inputs, const FigureList *figures, Figure *figure,
              const MouldWish *wish)
{
    UnitSet units = inputs_units(inputs);
    double top = figure_list_value(figures, MOULD_LEAST_TOP), up = mould_wish_high(wish);
    double bottom = figure_list_value(figures, MOULD_LEAST_BOTTOM);
    g_autofree char *above = quantity_format(QUANTITY_LENGTH, wish->above, &units);
    g_autofree char *below = quantity_format(QUANTITY_LENGTH, wish->below, &units);
    g_autofree char *cope = mould_figures_size(inputs, up + top);
    g_autofree char *drag = mould_figures_size(inputs, wish->below + bottom);
    figure_set_note(figure,
                    _("The casting stands out of the flask: it reaches %s into the cope and %s "
                      "into the drag. With sand over and under it a cope %s and a drag %s deep "
                      "would do."),
                    above, below, cope, drag);
}

static void
note_too_wide(const Inputs *inputs, Figure *figure, const MouldWish *wish, Vec3 box,
              const MouldWay *way, const MouldPlace *place)
{
    g_autofree char *box_1 = mould_figures_size(inputs, MAX(box.x, box.y));
    g_autofree char *box_2 = mould_figures_size(inputs, MIN(box.x, box.y));
    g_autofree char *along = mould_figures_size(inputs, way->axis ? place->need_v : place->need_u);
    g_autofree char *across = mould_figures_size(inputs, way->axis ? place->need_u : place->need_v);
    g_autofree char *length = mould_figures_size(inputs, wish->length);
    g_autofree char *width = mould_figures_size(inputs, wish->width);
    figure_set_note(figure,
                    _("A casting %s by %s with its gating needs a flask of at least %s by %s "
                      "inside; this one has %s by %s."),
                    box_1, box_2, along, across, length, width);
}

static void
note_cavities(const Inputs *inputs, const FigureList *figures, Figure *figure,
              const MouldWish *wish, const PatternResult *pattern, const MouldLayout *layout,
              const MouldWay *way, const MouldPlace *place)
{
    Vec3 box = vec3_sub(pattern->max, pattern->min);
    if (layout->n_cavities == 0 && MAX(box.x, MAX(box.y, box.z)) > UNLIKELY)
        figure_set_note(figure,
                        _("A casting %.1f by %.1f by %.1f m: is the unit of the mesh right?"),
                        box.x, box.y, box.z);
    else if (layout->n_cavities == 0 && !mould_place_is_deep_enough(wish))
        note_too_deep(inputs, figures, figure, wish);
    else if (layout->n_cavities == 0)
        note_too_wide(inputs, figure, wish, box, way, place);
    else if (way->columns > 1 && way->columns % 2 == 1)
        figure_set_note(figure, _("An odd number along the runner: the two sides of the sprue do "
                                  "not fill evenly."));
}

void
mould_figures_cavities(const Inputs *inputs, const MouldWish *wish, const PatternResult *pattern,
                       FigureList *figures, const MouldLayout *layout, const MouldWay *way,
                       const MouldPlace *place)
{
    // With too little known, the unknown input among these is the one to name.
    double n = layout ? layout->n_cavities - layout->n_guests : NAN;
    Figure *figure = figure_add(
        figures, wish->by_hand ? &spec_by_hand : &spec_cavities, n, "flask.length", "flask.width",
        "flask.cope_depth", "flask.drag_depth", "mould.height_above", "mould.height_below",
        MOULD_LEAST_WALL, MOULD_LEAST_BETWEEN, MOULD_LEAST_RUNNER, "mould.cavity_volume",
        "casting.mass", "mould.pour_density", "mould.wall", "mould.wall_time",
        "mould.effective_head", "job.pour_factor", "feed.riser_diameter", "feed.neck",
        "job.discharge", "job.runner_ratio", "job.gate_ratio", NULL);
    figure_limit(figure, 1, NULL);
    if (layout)
        note_cavities(inputs, figures, figure, wish, pattern, layout, way, place);
}

// Does another job share the flask?
static gboolean
is_shared(const FigureList *figures)
{
    return figure_list_value(figures, "mould.guest_cavities") > 0;
}

// Where two thirds of the metal come back, by what most of it is.
static void
limit_yield(const FigureList *figures, Figure *yield)
{
    figure_limit(yield, LEAST_YIELD, NULL);
    if (!figure_is_past(yield))
        return;
    double back = figure_list_value(figures, "mould.metal_mass") -
                  figure_list_value(figures, "mould.castings_mass");
    double gating = figure_list_value(figures, "mould.gating_volume") *
                    figure_list_value(figures, "mould.pour_density");
    g_autofree char *chill = field_words("job.chills");
    if (gating > back / 2)
        figure_set_note(yield, _("Most of the metal comes back, the greater part of it sprue and "
                                 "runner: more castings in a flask, or a lower cope where the head "
                                 "allows it."));
    else
        figure_set_note(yield,
                        _("Most of the metal comes back, the greater part of it risers: thin the "
                          "heavy section, or chill it with %s."),
                        chill);
}

static void
add_metal(FigureList *figures, const MouldLayout *layout, const MouldPour *pour)
{
    gboolean shared = layout && layout->n_guests > 0 && is_shared(figures);
    double n = layout ? layout->n_cavities - layout->n_guests : NAN,
           g = shared ? layout->n_guests : 0;
    double riser = figure_list_value(figures, "feed.riser_count") *
                   figure_list_value(figures, "feed.riser_volume");
    double cavity = figure_list_value(figures, "mould.cavity_volume");
    double volume = pour ? pour->volume : NAN, guests = 0;
    double castings = pour ? n * figure_list_value(figures, "casting.mass") : NAN;
    double mass = pour ? pour->mass : NAN;
    if (shared) {
        const FeedResult *feed = layout->guest->feed;
        guests = g * (layout->guest->volume + feed->risers * feed->volume);
        castings += g * layout->guest->mass;
    }
    const char *last = shared ? "mould.guest_cavities" : NULL;
    mould_figures_measured(figures, &spec_gating, volume - n * (cavity + riser) - guests, last);
    figure_add(figures, &spec_volume[shared], volume, "mould.cavities", "mould.cavity_volume",
               "feed.riser_count", "feed.riser_volume", "mould.gating_volume", last,
               "mould.guest_volume", "mould.guest_risers", "mould.guest_riser_volume", NULL);
    if (isnan(castings))
        figure_add_unknown(figures, &spec_castings[0], "mould.cavities");
    else
        figure_add(figures, &spec_castings[shared], castings, "mould.cavities", "casting.mass",
                   last, "mould.guest_mass", NULL);
    figure_add(figures, &spec_mass[shared], mass, "mould.castings_mass", "mould.pour_density",
               "mould.cavities", "feed.riser_count", "feed.riser_volume", "mould.gating_volume",
               last, "mould.guest_risers", "mould.guest_riser_volume", NULL);
    Figure *yield = figure_add(figures, &spec_yield, castings / mass, "mould.castings_mass",
                               "mould.metal_mass", NULL);
    limit_yield(figures, yield);
}

static void
add_fill_time(const Inputs *inputs, FigureList *figures, const MouldPour *pour)
{
    double time = pour ? pour->fill_time : NAN;
    gboolean limited = !isnan(figure_list_value(figures, "metal.gate_velocity"));
    mould_figures_measured(figures, &spec_gate_most, pour ? pour->gate_most : NAN, "mould.wall");
    mould_figures_measured(figures, &spec_share, pour ? pour->gate_share : NAN, NULL);
    if (limited)
        figure_add(figures, &spec_gate_time, pour ? pour->gate_time : NAN, "mould.gate_share",
                   "mould.metal_mass", "mould.pour_density", "mould.head", "mould.effective_head",
                   "metal.gate_velocity", "mould.gate_area_most", NULL);
    Figure *figure = figure_add(figures, &spec_slow_time, pour ? pour->slow_time : NAN,
                                "mould.metal_mass", "mould.pour_density", "job.discharge",
                                "mould.effective_head", NULL);
    UnitSet units = inputs_units(inputs);
    g_autofree char *least = quantity_format(QUANTITY_LENGTH, sqrt(4 * MOULD_LEAST_CHOKE / G_PI),
                                             &units);
    figure_set_note(figure, _("A sprue under %s across is hard to cut in sand and chokes."), least);
    figure = figure_add(figures, &spec_mass_time, pour ? pour->mass_time : NAN, "job.pour_factor",
                        "mould.metal_mass", NULL);
    figure_set_note(figure, _("The form is published for aluminium, with the mass in kilograms; "
                              "the factor is common practice."));
    if (!isnan(inputs_number(inputs, "job.choke_area")))
        figure = figure_add(figures, &spec_fill_choke, time, "mould.metal_mass",
                            "mould.pour_density", "job.choke_area", "job.discharge",
                            "mould.effective_head", NULL);
    else if (!isnan(inputs_number(inputs, "job.fill_time")))
        figure = pour ? figure_add(figures, &spec_fill_given, time, "job.fill_time", NULL)
                      : figure_add_unknown(figures, &spec_fill_given, "mould.cavities");
    else if (limited)
        figure = figure_add(figures, &spec_fill, time, "mould.wall_time", "mould.slow_time",
                            "mould.mass_time", "mould.gate_time", NULL);
    else
        figure = figure_add(figures, &spec_fill_wall, time, "mould.wall_time", "mould.slow_time",
                            "mould.mass_time", NULL);
    figure_set_note(figure, _("By the discharge coefficient, with the shrinkage of the castings "
                              "counted in; the sizes of the gating follow from it."));
}

static void
add_gates(const Inputs *inputs, FigureList *figures, const MouldPour *pour)
{
    double limit = figure_list_value(figures, "metal.gate_velocity");
    double area = pour ? pour->gate_area : NAN, flow = pour ? pour->peak_flow : NAN;
    figure_add(figures, &spec_flow, flow, "mould.choke_area", "job.discharge", "mould.head", NULL);
    Figure *wait = figure_add(figures, &spec_gate_wait[is_shared(figures)],
                              pour ? pour->gate_wait : NAN, "mould.cavities", "mould.wall",
                              "mould.fill_time_rule", "mould.wall_time",
                              is_shared(figures) ? "mould.guest_cavities" : NULL, NULL);
    mould_figures_measured(figures, &spec_gate_ratio, pour ? pour->gate_ratio : NAN,
                           "job.gate_ratio");
    figure_set_note(wait, _("Square gates that stop running a fifth later than the mould is full; "
                            "flat ones are drawn no thinner than that takes."));
    if (!isnan(inputs_number(inputs, "job.gate_width") * inputs_number(inputs, "job.gate_depth")))
        figure_add(figures, &spec_gate_given[is_shared(figures)], area, "mould.cavities",
                   "job.gate_width", "job.gate_depth",
                   is_shared(figures) ? "mould.guest_cavities" : NULL, NULL);
    else if (isnan(limit))
        figure_add(figures, &spec_gate_area_ratio, area, "mould.gate_area_most",
                   "mould.gate_area_wait", "mould.gate_ratio", "mould.choke_area", NULL);
    else
        figure_add(figures, &spec_gate_area, area, "mould.gate_area_most", "mould.gate_area_wait",
                   "mould.gate_ratio", "mould.choke_area", "mould.peak_flow", "metal.gate_velocity",
                   "mould.gate_share", NULL);
    figure_add(figures, &spec_velocity, flow / area, "mould.peak_flow", "mould.gate_area", NULL);
}

// The same law that says how long the thinnest wall runs, for the channels that feed it. The metal
// that flows through keeps them hotter than this, so it errs to the safe side.
void
mould_figures_channels(FigureList *figures, const MouldPour *pour)
{
    double modulus = pour ? pour->channel : NAN, wall = figure_list_value(figures, "mould.wall");
    double ratio = 2 * modulus / wall;
    mould_figures_measured(figures, &spec_channel, modulus, NULL);
    Figure *figure = figure_add(figures, &spec_channel_wait,
                                figure_list_value(figures, "mould.wall_time") * ratio * ratio,
                                "mould.wall_time", "mould.channel_modulus", "mould.wall", NULL);
    figure_limit(figure, figure_list_value(figures, "mould.fill_time"), "mould.fill_time");
    if (figure->state == FIGURE_FAILS)
        figure_set_note(figure, _("Choke, runner or gate may freeze before the mould is full: "
                                  "shorten the filling time, or pour hotter."));
    else if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure, _("Choke, runner or gate freeze hardly later than the mould is "
                                  "full: pour without a halt, and not cooler."));
}

void
mould_figures_pour(const Inputs *inputs, FigureList *figures, const MouldLayout *layout,
                   const MouldPour *pour)
{
    add_metal(figures, layout, pour);
    add_fill_time(inputs, figures, pour);
    double choke = pour ? pour->choke : NAN;
    if (isnan(inputs_number(inputs, "job.choke_area")))
        figure_add(figures, &spec_choke, choke, "mould.metal_mass", "mould.pour_density",
                   "mould.fill_time_rule", "job.discharge", "mould.effective_head", NULL);
    else if (pour)
        figure_add(figures, &spec_choke_given, choke, "job.choke_area", NULL);
    else
        figure_add_unknown(figures, &spec_choke_given, "mould.cavities");
    add_gates(inputs, figures, pour);
    double runners = pour ? pour->runner_area : NAN;
    mould_figures_measured(figures, &spec_arms, pour ? pour->arms : NAN, NULL);
    mould_figures_measured(figures, &spec_ratio, pour ? pour->runner_ratio : NAN,
                           "job.runner_ratio");
    if (isnan(inputs_number(inputs, "job.runner_width")))
        figure_add(figures, &spec_runner, runners, "mould.runner_ratio", "mould.choke_area", NULL);
    else
        figure_add(figures, &spec_runner_given, runners, "mould.runner_arms", "job.runner_width",
                   NULL);
    double upper = MAX(inputs_number(inputs, "job.basin_height"), MOULD_LEAST_BASIN);
    figure_add(figures, &spec_sprue,
               mould_sprue_area(choke, figure_list_value(figures, "mould.head"), upper),
               "mould.choke_area", "mould.head", "job.basin_height", NULL);
    figure_add(figures, &spec_well, pour ? pour->well : NAN, "mould.choke_area", NULL);
}
