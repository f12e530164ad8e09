// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs as figures: whether the flask closes one way only, what would make it so, and how far
// the clearance lets cope and drag be out of register at the cavities.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"
#include "mould/room.h"

static const FigureSpec spec_wrong = {
    "mould.wrong_closings",
    N_("Wrong ways the flask closes"),
    QUANTITY_COUNT,
    NULL,
    N_("Cope turned end for end, or turned over lengthwise or crosswise, and for a square flask "
       "also by quarter turns and cornerwise: how many of these let every tab into a socket "
       "within the clearance, after sliding and turning the cope by up to 5 mm."),
    "geometry",
    FIGURE_AT_MOST,
    0};
static const FigureSpec spec_closes = {
    "mould.closes_at",
    N_("Clearance that would close it wrongly"),
    QUANTITY_LENGTH,
    NULL,
    N_("The least clearance of tabs with which any wrong way closes, from the linear programme of "
       "sliding and turning."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_shift = {
    "mould.tab_shift",
    N_("Least shift of one tab"),
    QUANTITY_LENGTH,
    NULL,
    N_("The least, to half a millimetre, that keeps every wrong way a millimetre more than the "
       "clearance from closing. Of two tabs, how much longer one must be."),
    "geometry"};
static const FigureSpec spec_turn = {
    "mould.tab_turn",
    N_("Turn the tabs allow"),
    QUANTITY_ANGLE,
    NULL,
    N_("Until tabs touch their sockets at two corners: twice the clearance over the larger "
       "distance of the outermost corners; of pins, the clearance over the radius of the circle "
       "about them."),
    "geometry"};
static const FigureSpec spec_mismatch = {
    "mould.mismatch",
    N_("Mismatch the tabs allow"),
    QUANTITY_LENGTH,
    NULL,
    N_("The furthest any corner of any cavity can be out of register, over all slides and turns "
       "the clearance leaves: the corners of a linear programme."),
    "geometry"};
static const FigureSpec spec_slide = {"mould.mismatch",
                                      N_("Mismatch the tabs allow"),
                                      QUANTITY_LENGTH,
                                      "sqrt(2) * flask.tab_clearance",
                                      NULL,
                                      "geometry"};
static const FigureSpec spec_room = {
    "mould.tab_room",
    N_("Sand beside the tabs"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least distance from a socket to a cavity, riser, gate, runner or the wall, seen along the "
       "pull."),
    "geometry",
    FIGURE_AT_LEAST,
    0};

MouldTabWish
mould_figures_tab_wish(const Inputs *inputs, const FigureList *figures)
{
    double count = inputs_number(inputs, "flask.tab_count");
    double length = inputs_number(inputs, "flask.length");
    double width = inputs_number(inputs, "flask.width");
    gboolean round = g_strcmp0(inputs_text(inputs, "flask.shape"), "round") == 0;
    if (round)
        length = width = length / G_SQRT2;
    return (MouldTabWish){.length = length,
                          .width = width,
                          .cover = figure_list_value(figures, MOULD_LEAST_WALL),
                          .count = isnan(count) ? 4 : (guint)CLAMP(count, 2, 4),
                          .in_round = round,
                          .pins = g_strcmp0(inputs_text(inputs, "flask.tab_kind"), "pins") == 0,
                          .size = inputs_number(inputs, "flask.tab_size"),
                          .inset = inputs_number(inputs, "flask.tab_inset"),
                          .shift = inputs_number(inputs, "flask.tab_shift")};
}

static Figure *
add_measured(FigureList *figures, const FigureSpec *spec, double value)
{
    return figure_add(figures, spec, value, "flask.length", "flask.width", MOULD_LEAST_WALL,
                      "flask.tab_count", "flask.tab_clearance", NULL);
}

static void
add_closing(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double clearance = inputs_number(inputs, "flask.tab_clearance");
    MouldTabWish wish = mould_figures_tab_wish(inputs, figures);
    UnitSet units = inputs_units(inputs);
    guint wrong = mould_tabs_wrong(l->tabs, l->n_tabs, clearance, l->length, l->width);
    double closes = mould_tabs_closes_at(l->tabs, l->n_tabs, l->length, l->width);
    double shift = mould_tabs_least_shift(&wish, clearance);
    Figure *f = add_measured(figures, &spec_wrong, wrong);
    figure_limit(f, 0, NULL);
    g_autofree char *least = isnan(shift) ? NULL : quantity_format(QUANTITY_LENGTH, shift, &units);
    if (wrong > 0 && least)
        figure_set_note(f,
                        wish.count == 2 ? _("Make one tab %s longer than the other, and it "
                                            "closes one way only.")
                                        : _("Shift one tab by %s along the flask, and it closes "
                                            "one way only."),
                        least);
    else if (wrong > 0)
        figure_set_note(f, _("No shift of a tab helps; other tabs, or more of them, may."));
    f = add_measured(figures, &spec_closes, MAX(closes, 0));
    figure_limit(f, clearance + MOULD_TAB_MARGIN, "flask.tab_clearance");
    figure_set_note(f, _("A millimetre more than the clearance is wanted, so that it is felt. The "
                         "whole mould turned upside down closes always: mark the cope."));
    f = add_measured(figures, &spec_shift, shift);
    if (isnan(shift))
        figure_set_note(f, _("No shift does; other tabs, or more of them, may."));
}

static void
add_mismatch(FigureList *figures, const MouldLayout *l, double clearance)
{
    double worst = 0;
    guint at = 0;
    for (guint i = 0; l && i < l->n_cavities; i++)
        if (l->cavities[i].mismatch > worst) {
            worst = l->cavities[i].mismatch;
            at = i;
        }
    if (!l || l->n_tabs == 0 || l->n_cavities == 0) {
        figure_add(figures, &spec_slide, sqrt(2) * clearance, "flask.tab_clearance", NULL);
        return;
    }
    Figure *f = figure_add(figures, &spec_mismatch, worst, "mould.cavities", "flask.tab_clearance",
                           "flask.tab_count", NULL);
    if (l->n_cavities > 1)
        figure_set_note(f, _("Worst at cavity %u."), at + 1);
}

void
mould_figures_tabs(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                   const MouldLayout *l)
{
    double clearance = inputs_number(inputs, "flask.tab_clearance");
    static const FigureSpec *const specs[] = {&spec_wrong, &spec_closes, &spec_shift, &spec_turn,
                                              &spec_room};
    if (l && l->n_tabs > 0) {
        add_closing(inputs, figures, l);
        add_measured(figures, &spec_turn, mould_play_turn(l->tabs, l->n_tabs, clearance));
        double room = pattern && l->n_cavities > 0 ? mould_tab_room(l, pattern->shadow) : NAN;
        Figure *f = mould_figures_measured(figures, &spec_room, room, MOULD_LEAST_WALL);
        figure_limit(f, MOULD_TAB_ROOM, NULL);
        if (f->state == FIGURE_FAILS)
            figure_set_note(f, _("The sand beside a socket may break out: smaller tabs, or more "
                                 "sand at the wall."));
    } else {
        const char *missing = l ? MOULD_LEAST_WALL : "mould.cavities";
        for (guint i = 0; i < G_N_ELEMENTS(specs); i++) {
            Figure *f = figure_add_unknown(figures, specs[i], missing);
            if (l)
                figure_set_note(f, _("The sand at the wall leaves no room for index tabs."));
        }
    }
    add_mismatch(figures, l, clearance);
}
