// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of what the charge is put together from. They need the stock of the shop; where none is
// listed the charge is clean ingot, and only the loss is told.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "melt/makeup.h"
#include "melt/parts.h"

#define STOCK(id_, label_)                                                                         \
    {                                                                                              \
        .id = id_, .label = label_, .kind = QUANTITY_MASS, .source = "user",                       \
        .method = N_("lots of this metal in stock that may be charged, summed")                    \
    }

static const FigureSpec stock_specs[MAKEUP_COUNT] = {
    [MAKEUP_RETURNS] = STOCK("melt.stock_returns", N_("Returns and chips in stock")),
    [MAKEUP_CASTINGS] = STOCK("melt.stock_castings", N_("Castings in stock")),
    [MAKEUP_INGOT] = STOCK("melt.stock_ingot", N_("Ingot in stock")),
};

static const FigureSpec spec_returns_share = {
    .id = "melt.returns_share",
    .label = N_("Returns in the charge"),
    .kind = QUANTITY_RATIO,
    .formula = "min(job.returns_share, melt.stock_returns / melt.working_mass)",
    .source = "definition",
};

static const FigureSpec spec_castings_share = {
    .id = "melt.castings_share",
    .label = N_("Castings in the charge"),
    .kind = QUANTITY_RATIO,
    .formula = "min(1 - melt.returns_share, melt.stock_castings / melt.working_mass)",
    .source = "definition",
};

static const FigureSpec spec_extra_loss = {
    .id = "melt.extra_loss",
    .label = N_("Melt loss by form and state of the charge"),
    .kind = QUANTITY_RATIO,
    .method = N_("mean over a full crucible of what each lot loses beyond clean ingot: castings "
                 "0.5 %, returns 1 %, chips 8 %; oily, painted, unknown or mixed 2 % more, coated "
                 "1 % more"),
    .source = "common-practice",
};

static const FigureSpec spec_loss = {
    .id = "melt.loss",
    .label = N_("Melt loss of the charge"),
    .kind = QUANTITY_RATIO,
    .formula = "job.melt_loss + melt.extra_loss",
    .source = "definition",
};

static const FigureSpec spec_dirty = {
    .id = "melt.charge_dirty",
    .label = N_("Lots in the charge that are not clean"),
    .kind = QUANTITY_COUNT,
    .method = N_("oily, painted, coated, unknown or mixed lots that the make-up takes"),
    .source = "aluminum-association",
    .limit_kind = FIGURE_AT_MOST,
};

static const FigureSpec spec_charge_returns = {
    .id = "melt.charge_returns",
    .label = N_("Returns to weigh in"),
    .kind = QUANTITY_MASS,
    .formula = "melt.charge_mass * melt.returns_share",
    .source = "definition",
};

static const FigureSpec spec_charge_castings = {
    .id = "melt.charge_castings",
    .label = N_("Castings to weigh in"),
    .kind = QUANTITY_MASS,
    .formula = "melt.charge_mass * melt.castings_share",
    .source = "definition",
};

static const FigureSpec spec_charge_ingot = {
    .id = "melt.charge_ingot",
    .label = N_("Ingot to weigh in"),
    .kind = QUANTITY_MASS,
    .formula = "melt.charge_mass * (1 - melt.returns_share - melt.castings_share)",
    .source = "definition",
};

static const FigureSpec spec_ratio = {
    .id = "melt.returns_ratio",
    .label = N_("Returns to foundry-clean metal"),
    .kind = QUANTITY_NUMBER,
    .formula = "melt.returns_share / (1 - melt.returns_share)",
    .source = "definition",
};

static const FigureSpec spec_short = {
    .id = "melt.ingot_short",
    .label = N_("Ingot missing for one load"),
    .kind = QUANTITY_MASS,
    .formula = "max(0, melt.charge_ingot - melt.stock_ingot)",
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST,
};

static GArray *
read_stock(const Inputs *in)
{
    const char *text = inputs_text(in, "shop.stock");
    UnitSet units = inputs_units(in);
    GArray *lots = text && !inputs_error(in, "shop.stock")
                       ? lots_read(text, &units, inputs_tables(in), NULL)
                       : NULL;
    if (lots && lots->len == 0)
        g_clear_pointer(&lots, g_array_unref);
    return lots;
}

// Why each state of scrap stays out, or is a risk where it goes in.
static const char *
reason_of(LotState state)
{
    switch (state) {
    case LOT_OILY:
        return _("oil and cutting fluid burn, smoke and leave gas in the metal");
    case LOT_PAINTED:
        return _("paint burns, fumes and may hold lead or cadmium");
    case LOT_COATED:
        return _("plating and galvanising fume (zinc, cadmium) and spoil the alloy");
    case LOT_UNKNOWN:
        return _("nobody knows the alloy: it may hold lead, beryllium, zinc or magnesium");
    case LOT_MIXED:
        return _("mixed alloys make one nobody can vouch for");
    default:
        return NULL;
    }
}

// Each state that lots of this metal are in, with the reason.
static char *
list_reasons(const GArray *lots, const char *metal)
{
    GString *text = g_string_new(NULL);
    for (int state = LOT_OILY; state < LOT_STATE_COUNT; state++)
        for (guint i = 0; i < lots->len; i++) {
            const Lot *lot = &g_array_index(lots, Lot, i);
            if ((int)lot->state != state || g_strcmp0(lot->metal, metal) != 0)
                continue;
            g_string_append_printf(text, "%s%s: %s", text->len ? "; " : "",
                                   lots_state_word(lot->state), reason_of(lot->state));
            break;
        }
    return g_string_free(text, FALSE);
}

static void
add_dirty(MeltCall *call, const GArray *lots, const Makeup *makeup)
{
    const char *metal = inputs_text(call->inputs, "job.metal");
    Figure *figure = figure_add(call->figures, &spec_dirty, makeup->dirty_taken, "shop.stock",
                                "job.metal", "job.charge_from", "melt.working_mass", NULL);
    figure_limit(figure, 0, NULL);
    g_autofree char *reasons = list_reasons(lots, metal);
    if (!*reasons)
        return;
    if (makeup->dirty_taken > 0)
        figure_set_note(figure,
                        _("%s. Burn off, strip or wash it and dry it well, or charge clean metal "
                          "only."),
                        reasons);
    else
        figure_set_note(figure, _("Not charged: %s."), reasons);
}

static void
add_stock(MeltCall *call, const GArray *lots)
{
    const Inputs *in = call->inputs;
    FigureList *figures = call->figures;
    gboolean any = g_strcmp0(inputs_text(in, "job.charge_from"), "any") == 0;
    Makeup makeup = melt_makeup(lots, inputs_text(in, "job.metal"), any, call->result->working_mass,
                                inputs_number(in, "job.returns_share"));
    for (int i = 0; i < MAKEUP_COUNT; i++)
        figure_add(figures, &stock_specs[i], makeup.stock[i], "shop.stock", "job.metal",
                   "job.charge_from", NULL);
    figure_add(figures, &spec_returns_share, makeup.share[MAKEUP_RETURNS], "job.returns_share",
               "melt.stock_returns", "melt.working_mass", NULL);
    figure_add(figures, &spec_castings_share, makeup.share[MAKEUP_CASTINGS], "melt.returns_share",
               "melt.stock_castings", "melt.working_mass", NULL);
    figure_add(figures, &spec_extra_loss, makeup.extra_loss, "shop.stock", "job.metal",
               "job.charge_from", "melt.returns_share", "melt.castings_share", NULL);
    add_dirty(call, lots, &makeup);
    call->listed_stock = TRUE;
}

void
melt_add_stock(MeltCall *call)
{
    const Inputs *in = call->inputs;
    g_autoptr(GArray) lots = read_stock(in);
    if (lots) {
        add_stock(call, lots);
    } else {
        Figure *figure = figure_add(call->figures, &spec_extra_loss, 0, "job.metal", NULL);
        figure_set_note(figure, _("No stock is listed, so the charge is taken as clean ingot; list "
                                  "what the shop has to have it made up from returns."));
    }
    call->loss = inputs_number(in, "job.melt_loss") +
                 figure_list_value(call->figures, "melt.extra_loss");
    figure_add(call->figures, &spec_loss, call->loss, "job.melt_loss", "melt.extra_loss", NULL);
}

void
melt_add_makeup(MeltCall *call)
{
    if (!call->listed_stock)
        return;
    FigureList *figures = call->figures;
    double charge = figure_list_value(figures, "melt.charge_mass");
    double returns = figure_list_value(figures, "melt.returns_share");
    double castings = figure_list_value(figures, "melt.castings_share");
    double ingot = charge * (1 - returns - castings);
    figure_add(figures, &spec_charge_returns, charge * returns, "melt.charge_mass",
               "melt.returns_share", NULL);
    figure_add(figures, &spec_charge_castings, charge * castings, "melt.charge_mass",
               "melt.castings_share", NULL);
    figure_add(figures, &spec_charge_ingot, ingot, "melt.charge_mass", "melt.returns_share",
               "melt.castings_share", NULL);
    if (returns < 1)
        figure_add(figures, &spec_ratio, returns / (1 - returns), "melt.returns_share", NULL);
    else
        figure_add_unknown(figures, &spec_ratio, "melt.returns_share");
    Figure *figure = figure_add(figures, &spec_short,
                                fmax(0, ingot - figure_list_value(figures, "melt.stock_ingot")),
                                "melt.charge_ingot", "melt.stock_ingot", NULL);
    figure_limit(figure, 0, NULL);
    if (figure->state == FIGURE_FAILS)
        figure_set_note(figure, _("Buy it, or let more returns into the charge; no other metal may "
                                  "stand in."));
}
