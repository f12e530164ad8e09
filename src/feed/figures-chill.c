// SPDX-License-Identifier: GPL-3.0-or-later
// A chill against the heaviest section: what it makes of the modulus, and how hot it gets.
//
// Iron is counted with 3.9 MJ/(m3 K) and 45 W/(m K), as grey iron or mild steel at some hundred
// degrees, aluminium with 2.6 and 160, as cast alloy: all from memory, good to a tenth.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "feed/chill.h"
#include "feed/figures.h"

#define IRON 3.9e6 // J/(m3 K)
#define ALUMINIUM 2.6e6
#define IRON_CONDUCTS 45.0 // W/(m K)
#define ALUMINIUM_CONDUCTS 160.0

static const FigureSpec spec_area_ball = {"feed.section_area",
                                          N_("Surface of the heaviest section"),
                                          QUANTITY_AREA,
                                          "4 * pi * feed.inscribed^2",
                                          NULL,
                                          "geometry"};
static const FigureSpec spec_area_all = {
    "feed.section_area", N_("Surface of the heaviest section"), QUANTITY_AREA, "casting.area", NULL,
    "geometry"};
static const FigureSpec spec_width_given = {
    "feed.chill_width", N_("Chill width"), QUANTITY_LENGTH, "job.chill_width", NULL, "user"};
static const FigureSpec spec_width = {
    "feed.chill_width", N_("Chill width"), QUANTITY_LENGTH, "2 * feed.inscribed", NULL,
    "common-practice"};
static const FigureSpec spec_width_fits = {"feed.chill_width",
                                           N_("Chill width"),
                                           QUANTITY_LENGTH,
                                           "min(2 * feed.inscribed, feed.chill_room)",
                                           NULL,
                                           "common-practice"};
static const FigureSpec spec_room = {
    "feed.chill_room",
    N_("Room for the chill"),
    QUANTITY_LENGTH,
    NULL,
    N_("Widest square at the heavy place that meets no metal beside it, seen by the grid from a "
       "quarter of the chill's thickness over the face it touches; not looked for beyond twice the "
       "width that is wished."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_chilled = {"feed.chilled_area",
                                        N_("Surface against the chill"),
                                        QUANTITY_AREA,
                                        "min(feed.chill_width^2, feed.section_area / 2)",
                                        NULL,
                                        "common-practice"};
static const FigureSpec spec_modulus = {
    "feed.chilled_modulus",
    N_("Modulus of the heaviest section, chilled"),
    QUANTITY_LENGTH,
    "feed.section_modulus * feed.section_area / (feed.section_area + (job.chill_factor - 1) * "
    "feed.chilled_area)",
    NULL,
    "common-practice"};
static const FigureSpec spec_evenness = {
    "feed.chilled_evenness",
    N_("Heaviest section over modulus, chilled"),
    QUANTITY_NUMBER,
    "feed.evenness * feed.chilled_modulus / feed.section_modulus",
    NULL,
    "common-practice"};

#define CHILL_FORMULA(capacity)                                                                    \
    "shop.ambient + feed.section_modulus * feed.section_area * metal.density_solid * "             \
    "(metal.latent_heat + metal.cp_liquid * (job.pouring_temperature - metal.liquidus)) * "        \
    "job.chill_factor / ((feed.section_area + (job.chill_factor - 1) * feed.chilled_area) * "      \
    "" capacity " * job.chill_thickness)"

static const FigureSpec spec_iron = {"feed.chill_temperature",
                                     N_("Chill gets as hot as"),
                                     QUANTITY_TEMPERATURE,
                                     CHILL_FORMULA("3900000"),
                                     NULL,
                                     "derived",
                                     FIGURE_AT_MOST,
                                     0.1};
static const FigureSpec spec_aluminium = {"feed.chill_temperature",
                                          N_("Chill gets as hot as"),
                                          QUANTITY_TEMPERATURE,
                                          CHILL_FORMULA("2600000"),
                                          NULL,
                                          "derived",
                                          FIGURE_AT_MOST,
                                          0.1};

// Heat of a cubic metre of section until it is solid, J.
static double
heat_of(const Inputs *inputs)
{
    double superheat = inputs_number(inputs, "job.pouring_temperature") -
                       inputs_number(inputs, "metal.liquidus");
    return inputs_number(inputs, "metal.density_solid") *
           (inputs_number(inputs, "metal.latent_heat") +
            inputs_number(inputs, "metal.cp_liquid") * superheat);
}

static void
add_temperature(FeedWork *w, const FeedChilled *c, gboolean iron)
{
    double hot = feed_chill_temperature(
        c, heat_of(w->inputs), inputs_number(w->inputs, "shop.ambient"), iron ? IRON : ALUMINIUM,
        inputs_number(w->inputs, "job.chill_thickness"));
    Figure *f = figure_add(w->figures, iron ? &spec_iron : &spec_aluminium, hot, "shop.ambient",
                           "feed.section_modulus", "feed.section_area", "metal.density_solid",
                           "metal.latent_heat", "metal.cp_liquid", "job.pouring_temperature",
                           "metal.liquidus", "job.chill_factor", "feed.chilled_area",
                           "job.chill_thickness", NULL);
    double solidus = inputs_number(w->inputs, "metal.solidus");
    if (!isnan(solidus))
        figure_limit(f, solidus, "metal.solidus");
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("If it keeps the heat it takes, the chill is as hot as the metal "
                             "before the section is solid, and stops chilling: a thicker one."));
    else if (f->state == FIGURE_CLOSE)
        figure_set_note(f, _("If it keeps the heat it takes, the chill gets nearly as hot as the "
                             "metal before the section is solid: a thicker one chills to the end. "
                             "It must be dry, clean and warm when the mould is closed: moisture on "
                             "it bursts into steam under the metal."));
    else
        figure_set_note(f, _("If it keeps all the heat it takes. A chill must be dry, clean and "
                             "warm when the mould is closed: moisture on it bursts into steam "
                             "under the metal."));
}

// The heaviest place and the skin over or under it, cold; FALSE when there is none.
static gboolean
find_place(const FeedWork *w, gboolean in_cope, Vec3 *at)
{
    if (!w->pattern || !w->pattern->casting || w->result->n_spots == 0)
        return FALSE;
    *at = w->result->spots[0].at;
    at->z = feed_skin_at(w->pattern->casting, at->x, at->y, in_cope ? 1 : -1);
    return !isnan(at->z);
}

static gboolean
is_in_cope(const FeedWork *w)
{
    return g_strcmp0(inputs_text(w->inputs, "job.chill_half"), "cope") == 0;
}

static double
add_width_that_fits(FeedWork *w, double wished, double room)
{
    Figure *f = figure_add(w->figures, &spec_width_fits, fmin(wished, room), "feed.inscribed",
                           "feed.chill_room", NULL);
    if (room < wished)
        figure_set_note(f, _("Metal beside the heavy place leaves room for no wider one."));
    return f->value;
}

// The chill's width, with the room there is for it.
static double
add_width(FeedWork *w, double inscribed)
{
    double given = inputs_number(w->inputs, "job.chill_width"), width = 2 * inscribed, room = NAN;
    double thickness = inputs_number(w->inputs, "job.chill_thickness");
    gboolean in_cope = is_in_cope(w);
    Vec3 at;
    if (!isnan(given))
        width = given;
    if (isfinite(width + thickness) && find_place(w, in_cope, &at)) {
        room = w->scale * feed_chill_room(w->pattern->casting, at, in_cope ? 1 : -1,
                                          2 * width / w->scale, thickness / w->scale);
        Figure *f = figure_add(w->figures, &spec_room, room, "feed.inscribed",
                               "job.chill_thickness", NULL);
        if (!isnan(given)) {
            figure_limit(f, given, "job.chill_width");
            g_autofree char *field = field_words("job.chill_width");
            if (figure_is_past(f))
                figure_set_note(f,
                                _("The chill stands in metal beside it: a narrower one, with "
                                  "%s."),
                                field);
        }
    }
    if (!isnan(given))
        figure_add(w->figures, &spec_width_given, width, "job.chill_width", NULL);
    else if (isnan(room))
        figure_add(w->figures, &spec_width, width, "feed.inscribed", NULL);
    else
        return add_width_that_fits(w, width, room);
    return width;
}

static void
place_chill(FeedWork *w, double width, gboolean iron)
{
    FeedChill *chill = &w->result->chill;
    Vec3 at;
    chill->in_cope = is_in_cope(w);
    if (!(width > 0) || !isfinite(width) || !find_place(w, chill->in_cope, &at))
        return;
    chill->x = w->scale * at.x;
    chill->y = w->scale * at.y;
    chill->face = w->scale * at.z;
    chill->width = width;
    chill->capacity = iron ? IRON : ALUMINIUM;
    chill->conductivity = iron ? IRON_CONDUCTS : ALUMINIUM_CONDUCTS;
    chill->thickness = inputs_number(w->inputs, "job.chill_thickness");
}

void
feed_figures_chill(FeedWork *w)
{
    const char *kind = inputs_text(w->inputs, "job.chills");
    if (!kind || g_str_equal(kind, "none"))
        return;
    FigureList *figures = w->figures;
    double inscribed = figure_list_value(figures, "feed.inscribed");
    FeedChilled c = {.modulus = w->section, .factor = inputs_number(w->inputs, "job.chill_factor")};
    gboolean ball = inscribed / 3 > figure_list_value(figures, "casting.modulus");
    c.area = ball ? 4 * G_PI * inscribed * inscribed : figure_list_value(figures, "casting.area");
    figure_add(figures, ball ? &spec_area_ball : &spec_area_all, c.area,
               ball ? "feed.inscribed" : "casting.area", NULL);
    double width = add_width(w, inscribed);
    c.chilled = MIN(width * width, c.area / 2);
    figure_add(figures, &spec_chilled, c.chilled, "feed.chill_width", "feed.section_area", NULL);
    w->section = feed_chilled_modulus(&c);
    w->section_id = "feed.chilled_modulus";
    Figure *f = figure_add(figures, &spec_modulus, w->section, "feed.section_modulus",
                           "feed.section_area", "job.chill_factor", "feed.chilled_area", NULL);
    figure_set_note(f, _("With the chill fitted to the casting's skin. The heat flow has it as "
                         "a block of its own."));
    w->evenness *= w->section / c.modulus;
    w->evenness_id = "feed.chilled_evenness";
    figure_add(figures, &spec_evenness, w->evenness, "feed.evenness", "feed.chilled_modulus",
               "feed.section_modulus", NULL);
    add_temperature(w, &c, g_str_equal(kind, "iron"));
    place_chill(w, width, g_str_equal(kind, "iron"));
}
