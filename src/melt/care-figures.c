// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the state a crucible is in: cracks, what is left inside, and the flux meant for it.
// Each is a grade, 0 good, 1 with care, 2 not: a crucible that fails takes the whole charge with
// it.
#include <glib/gi18n-lib.h>

#include "melt/crucible.h"
#include "melt/parts.h"

static const FigureSpec spec_flux = {
    .id = "melt.flux_grade",
    .label = N_("Harm of the flux, 0 to 2"),
    .kind = QUANTITY_COUNT,
    .method = N_("looked up in what the crucible kind bears: 0 borne, 1 sparingly, 2 never"),
    .source = "crucible-guides",
    .limit_kind = FIGURE_AT_MOST,
    .near = 0.5,
};

static const FigureSpec spec_cracks = {
    .id = "melt.crucible_cracks",
    .label = N_("Cracks, 0 to 2"),
    .kind = QUANTITY_COUNT,
    .method = N_("as seen when it was last looked over: 0 none, 1 a hairline, 2 cracked or thin"),
    .source = "foundry-crucible-life",
    .limit_kind = FIGURE_AT_MOST,
    .near = 0.5,
};

static const FigureSpec spec_residue = {
    .id = "melt.crucible_residue",
    .label = N_("Left inside, 0 to 2"),
    .kind = QUANTITY_COUNT,
    .method = N_("as the last session left it: 0 nothing, 1 a skin, 2 frozen metal"),
    .source = "foundry-crucible-life",
    .limit_kind = FIGURE_AT_MOST,
    .near = 0.3,
};

static const FigureSpec spec_charging = {
    .id = "melt.charging",
    .label = N_("How to charge it"),
    .kind = QUANTITY_TEXT,
    .method = N_("what makers of the crucible kind ask for"),
    .source = "foundry-crucible-life",
};

static guint
find_grade(const char *word, const char *one, const char *two)
{
    if (g_strcmp0(word, two) == 0)
        return 2;
    return g_strcmp0(word, one) == 0 ? 1 : 0;
}

static void
add_flux(MeltCall *call)
{
    const TableRow *kind = inputs_row(call->inputs, "cruciblekind");
    const char *flux = inputs_text(call->inputs, "job.flux");
    if (!kind || !flux) {
        figure_add_unknown(call->figures, &spec_flux, kind ? "job.flux" : "crucible.kind");
        return;
    }
    guint grade = melt_crucible_flux(kind, flux);
    Figure *figure = figure_add(call->figures, &spec_flux, grade, "crucible.kind", "job.flux",
                                NULL);
    figure_limit(figure, 1, NULL);
    const char *words = table_row_text(kind, "flux");
    if (grade == 2)
        figure_set_note(figure, _("%s Take no flux or another, or a crucible that bears it."),
                        words ? words : "");
    else if (grade == 1 && words)
        figure_set_note(figure, "%s", words);
}

static void
add_cracks(MeltCall *call)
{
    guint grade = find_grade(inputs_text(call->inputs, "crucible.cracks"), "hairline", "cracked");
    Figure *figure = figure_add(call->figures, &spec_cracks, grade, "crucible.cracks", NULL);
    figure_limit(figure, 1, NULL);
    if (grade == 2)
        figure_set_note(figure,
                        _("Do not melt in it: it would let the charge out into the furnace "
                          "or drop it while it is lifted. Take another, break this one up."));
    else if (grade == 1)
        figure_set_note(figure, _("Tap it: one that is sound rings, one that is cracked sounds "
                                  "dull. Keep it for small charges, lift it only well supported, "
                                  "and replace it before the line grows."));
}

static void
add_residue(MeltCall *call)
{
    guint grade = find_grade(inputs_text(call->inputs, "crucible.residue"), "skin", "frozen");
    const char *notes = inputs_text(call->inputs, "crucible.notes");
    Figure *figure = figure_add(call->figures, &spec_residue, grade, "crucible.residue", NULL);
    figure_limit(figure, 2, NULL);
    const char *words = "";
    if (grade == 2)
        words = _("Frozen metal grows more than the wall when it is heated and can split it: warm "
                  "up slowly, melt it out and pour it off before anything is charged.");
    else if (grade == 1)
        words = _("Scrape it off gently while it is warm; a skin builds up and eats the wall.");
    if (*words || notes)
        figure_set_note(figure, "%s%s%s", words, *words && notes ? " " : "", notes ? notes : "");
}

static void
add_charging(MeltCall *call)
{
    const TableRow *kind = inputs_row(call->inputs, "cruciblekind");
    const char *words = kind ? table_row_text(kind, "charging") : NULL;
    if (words)
        figure_add_text(call->figures, &spec_charging, words, "crucible.kind", NULL);
}

void
melt_add_care(MeltCall *call)
{
    add_charging(call);
    add_flux(call);
    add_cracks(call);
    add_residue(call);
}
