// SPDX-License-Identifier: GPL-3.0-or-later
// Patterns to print and flasks to ram.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "report/traveller-private.h"
#include "sketch/flask.h"

#define SECTION_HEIGHT 230.0 // points

static void
add_piece(const Traveller *t, const BoardPiece *piece, const double *shares)
{
    g_autofree char *count = g_strdup_printf("%u ×", piece->count);
    g_autofree char *mass = quantity_format(QUANTITY_MASS, piece->mass, &t->units);
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, piece->size.x, &t->units);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, piece->size.y, &t->units);
    g_autofree char *z = quantity_format(QUANTITY_LENGTH, piece->size.z, &t->units);
    g_autofree char *size = g_strdup_printf("%s × %s × %s", x, y, z);
    const char *texts[] = {piece->name, board_kind_label(piece->kind), count, mass, size, ""};
    sheet_row(t->sheet, texts, shares, G_N_ELEMENTS(texts), FALSE);
}

void
traveller_patterns(const Traveller *t)
{
    static const char *const ids[] = {"pattern.contraction",
                                      "pattern.depth_of_draw",
                                      "board.pieces",
                                      "board.filament_mass",
                                      "board.print_time",
                                      "board.thinnest",
                                      NULL};
    static const double shares[] = {0.2, 0.16, 0.08, 0.12, 0.32, 0.12};
    const char *heads[] = {_("Piece"), _("Kind"), _("Number"), _("Filament"), _("Size"), _("Done")};
    const BoardResult *boards = plan_board(t->plan);
    sheet_new_page(t->sheet);
    sheet_head(t->sheet, _("Patterns"));
    if (!traveller_has(t, "board", boards))
        return;
    traveller_pairs(t, ids);
    sheet_row(t->sheet, heads, shares, G_N_ELEMENTS(heads), TRUE);
    for (guint i = 0; i < boards->n_pieces; i++)
        add_piece(t, &boards->pieces[i], shares);
    for (char **note = boards->notes; *note; note++)
        sheet_words(t->sheet, *note);
}

// Those of either job that lie in this half.
static void
add_chills(const Traveller *t, const MouldLayout *layout, gboolean in_cope)
{
    if (mould_chill_reach(&layout->chill, in_cope) > 0 ||
        (layout->n_guests > 0 && mould_chill_reach(&layout->guest_chill, in_cope) > 0))
        sheet_box(t->sheet, _("Chills: dry, clean and warm, in their places."), NULL);
}

static void
add_drag(const Traveller *t, const MouldLayout *layout)
{
    g_autofree char *below = traveller_value(t, "mould.sand_cover.bottom");
    g_autofree char *text = g_strdup_printf(
        _("Drag: pattern board and patterns clean, dry and dusted, drag upside down on the board. "
          "Sand riddled over the patterns, rammed firm around them first; at least %s of sand over "
          "the deepest of them. Strike off, bottom board on, turn over together."),
        below);
    sheet_box(t->sheet, text, NULL);
    add_chills(t, layout, FALSE);
}

// How much sand stands over the metal, and over what: an open riser goes right through.
static char *
say_above(const Traveller *t, const MouldLayout *layout)
{
    g_autofree char *above = traveller_value(t, "mould.sand_cover.top");
    gboolean open = layout->riser.open || (layout->n_guests > 0 && layout->guest_riser.open);
    return open ? g_strdup_printf(_("%s of sand above the castings, the open risers through to the "
                                    "top"),
                                  above)
                : g_strdup_printf(_("%s of sand above the highest metal"), above);
}

static void
add_vents(const Traveller *t, const MouldLayout *layout)
{
    if (layout->n_vents == 0)
        return;
    g_autofree char *depth = traveller_value(t, "mould.vent_depth");
    g_autofree char *text = g_strdup_printf(
        ngettext(
            "Prick %u vent where the plan marks it. %s of sand lies over the metal there: "
            "stop short of it.",
            "Prick %u vents where the plan marks them. At the deepest %s of sand lies over the "
            "metal: stop short of it.",
            layout->n_vents),
        layout->n_vents, depth);
    sheet_box(t->sheet, text, NULL);
}

static void
add_cope(const Traveller *t, const MouldLayout *layout)
{
    gboolean risers = layout->riser.diameter > 0 ||
                      (layout->n_guests > 0 && layout->guest_riser.diameter > 0);
    g_autofree char *above = say_above(t, layout);
    g_autofree char *text = g_strdup_printf(
        _("Cope: parting dusted, %s. Riddle, ram, %s. Cut the basin smooth."),
        risers ? _("sprue pin and riser patterns upright") : _("sprue pin upright"), above);
    sheet_box(t->sheet, text, NULL);
    add_chills(t, layout, TRUE);
    add_vents(t, layout);
}

// What keeps the cope down: nothing more, weights, or clamps instead.
static void
add_weight(const Traveller *t)
{
    double add = traveller_number(t, "mould.weight_to_add");
    if (add == 0) {
        sheet_box(t->sheet, _("No weight is needed: the cope is heavier than the lift."), NULL);
        return;
    }
    g_autofree char *weight = traveller_value(t, "mould.weight_to_add");
    g_autofree char *clamps = traveller_value(t, "mould.clamps_needed");
    g_autofree char *text = g_strdup_printf(
        _("Weight on the cope: %s, or clamps instead: %s. On before pouring, off after freezing."),
        weight, clamps);
    sheet_box(t->sheet, text, NULL);
}

static void
add_closing(const Traveller *t)
{
    g_autofree char *draw = traveller_value(t, "pattern.depth_of_draw");
    g_autofree char *text = g_strdup_printf(
        _("Draw the patterns straight, %s deep: rap, lift, no tilting. Mend broken edges, blow out "
          "loose sand, look through every gate and the runner."),
        draw);
    sheet_box(t->sheet, text, NULL);
    sheet_box(t->sheet,
              _("Close: the index goes home by itself one way only. If it grinds, open and look."),
              NULL);
    add_weight(t);
    sheet_box(t->sheet, _("Cover the sprue until the pour: nothing may fall in."), NULL);
}

void
traveller_mould(const Traveller *t)
{
    static const char *const ids[] = {"mould.sand_mass",
                                      "mould.sand_boxes",
                                      "mould.sand_cover.wall",
                                      "mould.sand_cover.between",
                                      "mould.sand_cover.top",
                                      "mould.sand_cover.bottom",
                                      "mould.metal_mass",
                                      "mould.fill_time",
                                      "mould.lift_force",
                                      "mould.cope_mass",
                                      "mould.sand_cover.runner",
                                      "mould.mismatch",
                                      NULL};
    const MouldLayout *layout = plan_mould(t->plan);
    sheet_new_page(t->sheet);
    sheet_head(t->sheet, _("Mould: for every flask"));
    if (!traveller_has(t, "mould", layout))
        return;
    traveller_pairs(t, ids);
    g_autoptr(Scene) scene = sketch_flask_scene(t->plan, "section", NULL);
    if (scene)
        sheet_picture(t->sheet, scene, SECTION_HEIGHT);
    add_drag(t, layout);
    add_cope(t, layout);
    add_closing(t);
}
