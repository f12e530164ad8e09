// SPDX-License-Identifier: GPL-3.0-or-later
// What is done after the last pour, so that the crucible lives: little metal left, slow cooling in
// the furnace. After the care sheets of crucible makers and common practice, in our own words.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "melt/parts.h"

// Below this the furnace may be opened. Common practice, no source.
#define OPEN_BELOW 200.0 // deg C

static const FigureSpec spec_closing = {
    .id = "melt.closing_steps",
    .label = N_("After the last pour"),
    .kind = QUANTITY_TEXT,
    .method = N_("steps that leave little metal in the crucible and let it cool slowly"),
    .source = "foundry-crucible-life",
};

static char *
make_cooling(const UnitSet *units)
{
    g_autofree char *open = quantity_format(QUANTITY_TEMPERATURE, OPEN_BELOW, units);
    return g_strdup_printf(
        _("Put the empty crucible back, switch off, close the lid and let both "
          "cool together, most of a night; open below %s, never onto concrete or "
          "into a draught."),
        open);
}

static char *
make_look(const MeltCall *call)
{
    double firings = inputs_number(call->inputs, "crucible.firings");
    if (!isfinite(firings))
        return g_strdup(
            _("When it is cold, look for cracks and thin places, and note the firing."));
    return g_strdup_printf(_("When it is cold, look for cracks and thin places, and note its "
                             "firings: %.0f before this session."),
                           firings);
}

void
melt_add_closing(MeltCall *call)
{
    UnitSet units = inputs_units(call->inputs);
    GPtrArray *steps = g_ptr_array_new();
    g_ptr_array_add(steps,
                    g_strdup(_("Pour what is left, heel and all, into dry warm ingot moulds: "
                               "metal that freezes in the crucible splits it at the next "
                               "heat.")));
    g_ptr_array_add(steps, g_strdup(_("Scrape wall and bottom gently while they glow, without a "
                                      "blow.")));
    g_ptr_array_add(steps, make_cooling(&units));
    g_ptr_array_add(steps, make_look(call));
    g_ptr_array_add(steps, NULL);
    call->result->closing = (char **)g_ptr_array_free(steps, FALSE);
    g_autofree char *text = g_strjoinv(" ", call->result->closing);
    figure_add_text(call->figures, &spec_closing, text, "crucible.firings", NULL);
}
