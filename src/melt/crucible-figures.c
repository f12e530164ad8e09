// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the crucible: what it holds of the job's metal, whether it may hold it, and how long
// it may still serve.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "melt/charge.h"
#include "melt/crucible.h"
#include "melt/parts.h"

static const FigureSpec spec_volume = {
    .id = "melt.crucible_volume",
    .label = N_("Crucible volume, to the brim"),
    .kind = QUANTITY_VOLUME,
    .formula = "crucible.rating / ratingmetal.density_liquid",
    .source = "definition",
};

static const FigureSpec spec_working_volume = {
    .id = "melt.working_volume",
    .label = N_("Crucible volume, working"),
    .kind = QUANTITY_VOLUME,
    .formula = "melt.crucible_volume * crucible.fill",
    .source = "definition",
};

static const FigureSpec spec_metal_density = {
    .id = "melt.metal_density",
    .label = N_("Density of the metal when poured"),
    .kind = QUANTITY_DENSITY,
    .formula = "metal.density_liquid + metal.density_slope * (job.pouring_temperature - "
               "metal.liquidus)",
    .source = "table",
};

static const FigureSpec spec_brim_mass = {
    .id = "melt.brim_mass",
    .label = N_("Rated in this metal it would be"),
    .kind = QUANTITY_MASS,
    .formula = "melt.crucible_volume * melt.metal_density",
    .source = "definition",
};

static const FigureSpec spec_working_mass = {
    .id = "melt.working_mass",
    .label = N_("Crucible holds"),
    .kind = QUANTITY_MASS,
    .formula = "melt.working_volume * melt.metal_density",
    .source = "definition",
};

static const FigureSpec spec_rules = {
    .id = "melt.crucible_rules",
    .label = N_("Crucible rules broken"),
    .kind = QUANTITY_COUNT,
    .method = N_("counts: a kind that does not bear the metal, and a crucible bound to another "
                 "metal family"),
    .source = "crucible-guides",
    .limit_kind = FIGURE_AT_MOST,
};

static const FigureSpec spec_firings_left = {
    .id = "melt.crucible_firings_left",
    .label = N_("Firings left, at most"),
    .kind = QUANTITY_COUNT,
    .formula = "max(0, cruciblekind.firings_max - crucible.firings)",
    .source = "common-practice",
    .limit_kind = FIGURE_AT_LEAST,
};

static const FigureSpec spec_flux = {
    .id = "melt.flux",
    .label = N_("Flux"),
    .kind = QUANTITY_TEXT,
    .method = N_("what the crucible kind bears"),
    .source = "crucible-guides",
};

// "60 kg of gold fill what 8.2 kg of A356 fill": the same volume, another mass.
static void
note_rating(MeltCall *call, Figure *figure)
{
    const TableRow *rating = inputs_row(call->inputs, "ratingmetal");
    const TableRow *metal = inputs_row(call->inputs, "metal");
    double rated = inputs_number(call->inputs, "crucible.rating");
    if (!rating || !metal || rating == metal || figure->state == FIGURE_UNKNOWN)
        return;
    UnitSet units = inputs_units(call->inputs);
    g_autofree char *before = quantity_format(QUANTITY_MASS, rated, &units);
    g_autofree char *after = quantity_format(QUANTITY_MASS, figure->value, &units);
    figure_set_note(figure,
                    _("%s of %s fill what %s of %s fill: a rating is a volume told as the mass of "
                      "one metal, so it shifts with the density, not with the crucible."),
                    before, table_row_name(rating), after, table_row_name(metal));
}

static void
add_capacity(MeltCall *call)
{
    const Inputs *in = call->inputs;
    FigureList *figures = call->figures;
    double volume = melt_crucible_volume(inputs_number(in, "crucible.rating"),
                                         inputs_number(in, "ratingmetal.density_liquid"));
    Figure *figure = figure_add(figures, &spec_volume, volume, "crucible.rating",
                                "ratingmetal.density_liquid", NULL);
    const TableRow *rating = inputs_row(in, "ratingmetal");
    if (rating)
        figure_set_note(figure,
                        _("The rating is read as molten metal (%s), filled to the brim; water, "
                          "weighed in, tells the true volume."),
                        table_row_name(rating));
    double working = volume * inputs_number(in, "crucible.fill");
    figure_add(figures, &spec_working_volume, working, "melt.crucible_volume", "crucible.fill",
               NULL);
    double density = inputs_number(in, "metal.density_liquid") +
                     inputs_number(in, "metal.density_slope") *
                         (inputs_number(in, "job.pouring_temperature") -
                          inputs_number(in, "metal.liquidus"));
    figure = figure_add(figures, &spec_metal_density, density, "metal.density_liquid",
                        "metal.density_slope", "job.pouring_temperature", "metal.liquidus", NULL);
    static const char *const keys[] = {"density_liquid", "density_slope", NULL};
    melt_take_sources(figure, inputs_row(in, "metal"), keys);
    figure = figure_add(figures, &spec_brim_mass, volume * density, "melt.crucible_volume",
                        "melt.metal_density", NULL);
    note_rating(call, figure);
    call->result->working_mass = working * density;
    figure_add(figures, &spec_working_mass, call->result->working_mass, "melt.working_volume",
               "melt.metal_density", NULL);
}

// What the log says was melted in it, which binds a crucible nobody has bound by hand.
static const char *
find_logged_families(const MeltCall *call)
{
    const Figure *figure = figure_list_find(call->figures, "learn.crucible_families");
    return figure && figure->text && *figure->text ? figure->text : NULL;
}

static void
add_rules(MeltCall *call)
{
    const Inputs *in = call->inputs;
    const TableRow *kind = inputs_row(in, "cruciblekind"), *metal = inputs_row(in, "metal");
    if (!kind || !metal) {
        figure_add_unknown(call->figures, &spec_rules, kind ? "job.metal" : "crucible.kind");
        return;
    }
    const char *bound = inputs_text(in, "crucible.family"), *logged = NULL;
    const char *from = bound && *bound ? "crucible.family" : NULL;
    if (!from && (logged = find_logged_families(call)))
        from = "learn.crucible_families";
    g_autofree char *words = NULL;
    guint broken = melt_crucible_rules(kind, metal, logged ? logged : bound, inputs_tables(in),
                                       &words);
    Figure *figure = figure_add(call->figures, &spec_rules, broken, "crucible.kind", "job.metal",
                                from, NULL);
    figure_limit(figure, 0, NULL);
    if (*words)
        figure_set_note(figure, "%s", words);
    figure_add_text(call->figures, &spec_flux, table_row_text(kind, "flux"), "crucible.kind", NULL);
}

static void
add_firings(MeltCall *call)
{
    double fewest = inputs_number(call->inputs, "cruciblekind.firings_min");
    double most = inputs_number(call->inputs, "cruciblekind.firings_max");
    double done = inputs_number(call->inputs, "crucible.firings");
    Figure *figure = figure_add(call->figures, &spec_firings_left, fmax(0, most - done),
                                "cruciblekind.firings_max", "crucible.firings", NULL);
    figure_limit(figure, 1, NULL);
    if (figure->state == FIGURE_UNKNOWN)
        return;
    if (done >= fewest)
        figure_set_note(figure,
                        _("This kind lasts %.0f to %.0f firings and it has had %.0f: look it over "
                          "before every heat, and have the next one ready."),
                        fewest, most, done);
    else
        figure_set_note(figure,
                        _("This kind lasts %.0f to %.0f firings, so %.0f to %.0f are left; "
                          "look it over before every heat."),
                        fewest, most, fewest - done, most - done);
}

void
melt_add_crucible(MeltCall *call)
{
    add_capacity(call);
    add_rules(call);
    add_firings(call);
}
