// SPDX-License-Identifier: GPL-3.0-or-later
// What the pattern stage says: pull, parting, what each cause adds, and the rough casting.
#include "part/pattern-figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "book/field.h"

#define ENVELOPE_METHOD                                                                            \
    N_("Distance field of the part on a grid of job.cells cells along the longest side; planar "   \
       "distance of every layer, swept from both ends towards the parting and widened by the "     \
       "draft; volumes of the closed surface found, within about 0.2 % of the casting at 96 "      \
       "cells.")

#define OUTSIDE 0.005 // share of the skin, borne

static const FigureSpec spec_contraction = {
    "pattern.contraction", N_("Pattern larger by"), QUANTITY_RATIO, "job.contraction", NULL,
    "definition"};
static const FigureSpec spec_cope = {"pattern.depth.cope",
                                     N_("Depth of draw in the cope"),
                                     QUANTITY_LENGTH,
                                     NULL,
                                     N_("From the parting to the highest metal. Of all parting "
                                        "heights the one that needs least metal, from areas summed "
                                        "from both ends; among equals the one nearest the middle."),
                                     "geometry"};
static const FigureSpec spec_drag = {"pattern.depth.drag",
                                     N_("Depth of draw in the drag"),
                                     QUANTITY_LENGTH,
                                     NULL,
                                     N_("From the lowest metal to the parting; the parting as for "
                                        "the cope."),
                                     "geometry"};
static const FigureSpec spec_parting = {"pattern.parting_height",
                                        N_("Parting above the lowest metal"),
                                        QUANTITY_LENGTH,
                                        "pattern.depth.drag",
                                        NULL,
                                        "definition"};
static const FigureSpec spec_depth = {"pattern.depth_of_draw",
                                      N_("Depth of draw"),
                                      QUANTITY_LENGTH,
                                      "max(pattern.depth.cope, pattern.depth.drag)",
                                      NULL,
                                      "definition"};
static const FigureSpec spec_part = {
    "pattern.part_volume",
    N_("Part in the casting"),
    QUANTITY_VOLUME,
    NULL,
    N_("Volume of the part; where walls are lost between cells and no allowance finds them again, "
       "of the cells inside it."),
    "geometry"};
static const FigureSpec spec_allowance = {"pattern.allowance_volume",
                                          N_("Allowance added"),
                                          QUANTITY_VOLUME,
                                          NULL,
                                          ENVELOPE_METHOD,
                                          "geometry",
                                          FIGURE_AT_MOST,
                                          0,
                                          TRUE};
static const FigureSpec spec_stub = {"pattern.stub_volume", N_("Stub added"), QUANTITY_VOLUME, NULL,
                                     ENVELOPE_METHOD,       "geometry"};
static const FigureSpec spec_undercut = {
    "pattern.undercut_volume", N_("Undercuts and holes filled"),
    QUANTITY_VOLUME,           NULL,
    ENVELOPE_METHOD,           "geometry"};
static const FigureSpec spec_draft = {
    "pattern.draft_volume", N_("Draft added"), QUANTITY_VOLUME, NULL, ENVELOPE_METHOD, "geometry"};
static const FigureSpec spec_wall_added = {"pattern.wall_volume", N_("Thin walls thickened"),
                                           QUANTITY_VOLUME,       NULL,
                                           ENVELOPE_METHOD,       "geometry"};
static const FigureSpec spec_fillet = {"pattern.fillet_volume", N_("Internal corners filled"),
                                       QUANTITY_VOLUME,         NULL,
                                       ENVELOPE_METHOD,         "geometry"};
static const FigureSpec spec_closed = {
    "pattern.closed_volume", N_("Small holes cast solid, to be drilled"),
    QUANTITY_VOLUME,         NULL,
    ENVELOPE_METHOD,         "geometry"};
static const FigureSpec spec_peg = {
    "pattern.peg_slenderness",
    N_("Most slender sand peg"),
    QUANTITY_NUMBER,
    NULL,
    N_("Of the sand in every hole of the casting: height over width at each place from the peg's "
       "free end to its root, by the layers of the grid; the greatest counts. Within about a cell; "
       "the first three layers of a peg do not count. 0 when no hole holds sand."),
    "geometry",
    FIGURE_AT_MOST,
    0.1};
static const FigureSpec spec_outside = {
    "pattern.skin_outside",
    N_("Skin of the part the casting misses"),
    QUANTITY_RATIO,
    NULL,
    N_("Share of some 8000 places spread over the part's skin that lie more than a cell less deep "
       "in the casting than the allowance; 0.5 % is borne, for sharp corners."),
    "geometry",
    FIGURE_AT_MOST,
    0};
static const FigureSpec spec_hidden = {
    "pattern.undercut_area",
    N_("Faces of the part the sand cannot leave"),
    QUANTITY_AREA,
    NULL,
    N_("Triangles of the part, looked at from places on them along the pull on their side of the "
       "parting: those that lean over or that the part itself stands before."),
    "geometry",
    FIGURE_AT_MOST,
    0,
    TRUE};
static const FigureSpec spec_low = {
    "pattern.low_draft_area",
    N_("Faces of the part with less than the draft"),
    QUANTITY_AREA,
    NULL,
    N_("Triangles that draw but stand less than job.draft off the pull; the casting has the draft "
       "added."),
    "geometry"};
static const FigureSpec spec_projected = {
    "pattern.projected_area",
    N_("Casting seen along the pull"),
    QUANTITY_AREA,
    NULL,
    N_("Area inside the outline of the casting's shadow along the pull."),
    "geometry"};
static const FigureSpec spec_volume = {
    "casting.volume",
    N_("Volume of the rough casting"),
    QUANTITY_VOLUME,
    "pattern.part_volume + pattern.allowance_volume + pattern.wall_volume + "
    "pattern.fillet_volume + pattern.closed_volume + pattern.stub_volume + "
    "pattern.undercut_volume + pattern.draft_volume",
    NULL,
    "definition"};
static const FigureSpec spec_mass = {"casting.mass", N_("Mass of the rough casting"),
                                     QUANTITY_MASS,  "casting.volume * metal.density_solid",
                                     NULL,           "definition"};
static const FigureSpec spec_area = {"casting.area",
                                     N_("Surface of the rough casting"),
                                     QUANTITY_AREA,
                                     NULL,
                                     N_("Sum of the triangles of the surface found on the grid."),
                                     "geometry"};
static const FigureSpec spec_modulus = {"casting.modulus",
                                        N_("Modulus of the rough casting"),
                                        QUANTITY_LENGTH,
                                        "casting.volume / casting.area",
                                        NULL,
                                        "chvorinov-1940"};
static const FigureSpec spec_wall = {"casting.min_wall",
                                     N_("Thinnest wall of the rough casting, at least"),
                                     QUANTITY_LENGTH,
                                     "max(part.min_wall + 2 * job.allowance, job.min_wall)",
                                     NULL,
                                     "geometry"};

void
pattern_figures_unknown(FigureList *figures, const char *missing)
{
    const FigureSpec *all[] = {&spec_contraction, &spec_cope,   &spec_drag,      &spec_parting,
                               &spec_depth,       &spec_part,   &spec_allowance, &spec_stub,
                               &spec_undercut,    &spec_draft,  &spec_projected, &spec_volume,
                               &spec_mass,        &spec_area,   &spec_modulus,   &spec_wall,
                               &spec_wall_added,  &spec_fillet, &spec_closed,    &spec_hidden,
                               &spec_low,         &spec_peg,    &spec_outside};
    for (guint i = 0; i < G_N_ELEMENTS(all); i++)
        figure_add_unknown(figures, all[i], missing);
}

// A volume or length out of the sweeps; all of them hang on the same inputs.
static Figure *
add_swept(FigureList *figures, const FigureSpec *spec, double value)
{
    return figure_add(figures, spec, value, "part.volume", "pattern.pull.x", "pattern.pull.y",
                      "pattern.pull.z", "job.allowance", "job.draft", "job.stub_diameter",
                      "job.stub_height", "job.close_holes", "job.fillet", "job.min_wall",
                      "job.cells", NULL);
}

// `length` (m) rounded up to what a hole is given in: a whole millimetre or a twentieth of an inch,
// which are shown without rounding again.
static double
round_hole(double length, const UnitSet *units)
{
    double step = units->inches ? 0.05 * 0.0254 : 1e-3;
    return step * ceil(length / step - 1e-6);
}

// What to do about a peg too slender, and with which value of the field.
static void
note_slender(Figure *figure, const char *height, const char *width, double holes,
             const UnitSet *units)
{
    double value = round_hole(holes, units);
    if (!(value <= field_find("job.close_holes")->max)) {
        figure_set_note(figure,
                        _("A peg of sand %s tall and %s wide is likely to break off or wash away: "
                          "set a core, or turn the part another way."),
                        height, width);
        return;
    }
    g_autofree char *field = field_words("job.close_holes");
    g_autofree char *diameter = quantity_format(QUANTITY_LENGTH, value, units);
    figure_set_note(figure,
                    _("A peg of sand %s tall and %s wide is likely to break off or wash away: cast "
                      "the hole solid and drill it, with %s set to %s, or set a core."),
                    height, width, field, diameter);
}

// What a hole that is cast solid, and one whose sand stands slender, ask of the maker.
static void
add_holes(FigureList *figures, const Inputs *inputs, const EnvelopeResult *e)
{
    UnitSet units = inputs_units(inputs);
    Figure *closed = add_swept(figures, &spec_closed, e->closed_volume);
    if (e->closed_volume > 0)
        figure_set_note(closed, _("To be drilled."));
    const Peg *peg = &e->peg;
    double slender = peg->width > 0 ? peg->height / peg->width : 0;
    double most = inputs_number(inputs, "job.peg_slenderness");
    Figure *figure = add_swept(figures, &spec_peg, slender);
    if (!isnan(most))
        figure_limit(figure, most, "job.peg_slenderness");
    if (!(slender > 0))
        return;
    g_autofree char *height = quantity_format(QUANTITY_LENGTH, peg->height, &units);
    g_autofree char *width = quantity_format(QUANTITY_LENGTH, peg->width, &units);
    if (figure->state == FIGURE_FAILS)
        note_slender(figure, height, width, e->close_holes, &units);
    else if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure,
                        _("%s tall, %s wide, nearly as slender as sand bears: ram it firmly and "
                          "draw the pattern slowly."),
                        height, width);
    else
        figure_set_note(figure, _("%s tall, %s wide."), height, width);
}

// More stock than part is melted only to be cut off again.
static void
add_allowance(FigureList *figures, const Inputs *inputs, const EnvelopeResult *e)
{
    Figure *figure = add_swept(figures, &spec_allowance, e->allowance_volume);
    figure_limit(figure, e->part_volume, "pattern.part_volume");
    if (!figure_is_past(figure))
        return;
    UnitSet units = inputs_units(inputs);
    double allowance = inputs_number(inputs, "job.allowance");
    g_autofree char *stock = quantity_format(QUANTITY_LENGTH, allowance, &units);
    g_autofree char *field = field_words("job.allowance");
    figure_set_note(figure,
                    _("%s on every face is more metal than the part itself, to be melted and cut "
                      "off again: a smaller %s, if the machining bears it."),
                    stock, field);
}

// What the sand cannot leave is filled out, which takes machining but spoils nothing.
static void
add_hidden(FigureList *figures, const PatternResult *p)
{
    Figure *figure = add_swept(figures, &spec_hidden, p->faces.hidden_area);
    figure_limit(figure, 0, NULL);
    if (!figure_is_past(figure))
        return;
    g_autofree char *field = field_words("job.pull");
    figure_set_note(figure,
                    _("The casting is filled out there, and these faces are to be machined. Where "
                      "they are to come from the mould, set a core, or turn the part another way "
                      "with %s."),
                    field);
}

static void
add_outside(FigureList *figures, const PartResult *part, const PatternResult *p,
            const UnitSet *units)
{
    Figure *outside = add_swept(figures, &spec_outside, p->outside);
    figure_limit(outside, OUTSIDE, NULL);
    if (!(p->outside > OUTSIDE))
        return;
    g_autofree char *cell = quantity_format(QUANTITY_LENGTH, p->casting->cell, units);
    g_autofree char *wall = quantity_format(QUANTITY_LENGTH, part->min_wall, units);
    figure_set_note(outside,
                    _("The cells of %s lose thin places; the part's thinnest wall is %s. Thicken "
                      "the part, give it an allowance, or raise the resolution (job.cells)."),
                    cell, wall);
}

void
pattern_figures_add(FigureList *figures, const Inputs *inputs, const PartResult *part,
                    const PatternResult *p, const EnvelopeResult *e)
{
    figure_add(figures, &spec_contraction, inputs_number(inputs, "job.contraction"),
               "job.contraction", NULL);
    add_swept(figures, &spec_cope, p->height_cope);
    add_swept(figures, &spec_drag, p->height_drag);
    figure_add(figures, &spec_parting, p->height_drag, "pattern.depth.drag", NULL);
    figure_add(figures, &spec_depth, fmax(p->height_cope, p->height_drag), "pattern.depth.cope",
               "pattern.depth.drag", NULL);
    figure_add(figures, &spec_part, e->part_volume, "part.volume", NULL);
    add_allowance(figures, inputs, e);
    add_swept(figures, &spec_wall_added, e->wall_volume);
    add_swept(figures, &spec_fillet, e->fillet_volume);
    add_holes(figures, inputs, e);
    add_swept(figures, &spec_stub, e->stub_volume);
    add_swept(figures, &spec_undercut, e->undercut_volume);
    add_swept(figures, &spec_draft, e->draft_volume);
    add_swept(figures, &spec_projected, p->projected_area);
    add_hidden(figures, p);
    add_swept(figures, &spec_low, p->faces.low_area);
    Figure *volume = figure_add(
        figures, &spec_volume, p->volume, "pattern.part_volume", "pattern.allowance_volume",
        "pattern.wall_volume", "pattern.fillet_volume", "pattern.closed_volume",
        "pattern.stub_volume", "pattern.undercut_volume", "pattern.draft_volume", NULL);
    UnitSet units = inputs_units(inputs);
    add_outside(figures, part, p, &units);
    g_autofree char *cell = quantity_format(QUANTITY_LENGTH, p->casting->cell, &units);
    figure_set_note(volume, _("Computed on cells of %s."), cell);
    figure_add(figures, &spec_mass, p->volume * inputs_number(inputs, "metal.density_solid"),
               "casting.volume", "metal.density_solid", NULL);
    add_swept(figures, &spec_area, p->area);
    figure_add(figures, &spec_modulus, p->volume / p->area, "casting.volume", "casting.area", NULL);
    double grown = part->min_wall + 2 * inputs_number(inputs, "job.allowance");
    double wall = isnan(grown) ? grown : fmax(grown, inputs_number(inputs, "job.min_wall"));
    figure_add(figures, &spec_wall, wall, "part.min_wall", "job.allowance", "job.min_wall", NULL);
}
