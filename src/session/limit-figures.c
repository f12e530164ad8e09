// SPDX-License-Identifier: GPL-3.0-or-later
// Sand and daylight as figures: how much the session takes against how much there is.
#include "session/limit-figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/days.h"
#include "session/add.h"
#include "session/limits.h"

static const FigureSpec spec_needed = {
    .id = "run.light_needed",
    .label = N_("Light one flask takes"),
    .kind = QUANTITY_TIME,
    .formula = "people.ram_time + people.skim_time + people.pour_time",
    .source = "definition"};
static const FigureSpec spec_daylight = {
    .id = "run.daylight",
    .label = N_("Daylight in a session"),
    .kind = QUANTITY_TIME,
    .method = N_("From where both the session and the daylight have begun to where one of the two "
                 "ends, by the clock. Where the daylight is over when the session begins, that of "
                 "the day after."),
    .source = "definition",
    .limit_kind = FIGURE_AT_LEAST};
static const FigureSpec spec_flasks = {
    .id = "run.sand_flasks",
    .label = N_("Flasks' worth of sand in use at once"),
    .kind = QUANTITY_COUNT,
    .method = N_("The most flasks at one time whose sand is rammed up, or rests after shaking "
                 "out."),
    .source = "definition"};
static const FigureSpec spec_sand = {.id = "run.sand_used",
                                     .label = N_("Sand a session takes"),
                                     .kind = QUANTITY_MASS,
                                     .formula = "run.sand_flasks * mould.sand_mass",
                                     .source = "definition",
                                     .limit_kind = FIGURE_AT_MOST};

static const FigureSpec spec_dark = {
    .id = "run.dark_time",
    .label = N_("Work without daylight"),
    .kind = QUANTITY_TIME,
    .method = N_("All work by hand but setting up and closing that falls outside the daylight."),
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST};

static gboolean
is_given(const Inputs *inputs, const char *path)
{
    const char *text = inputs_text(inputs, path);
    return inputs_error(inputs, path) || (text && *text);
}

static void
note_daylight(Figure *figure, const SessionLight *light, double hours)
{
    if (figure->state != FIGURE_FAILS)
        return;
    figure_set_note(figure, "%s",
                    light->from >= hours
                        ? _("The daylight is over before the session begins, or begins after it "
                            "ends: begin sessions earlier or later, or leave the daylight blank.")
                        : _("Too little for one flask: begin sessions earlier or later, or leave "
                            "the daylight blank."));
}

const char *
session_add_light(const Inputs *inputs, SessionLight *light, FigureList *figures)
{
    const char *ids[] = {"shop.start", "shop.hours", NULL, NULL, NULL};
    guint n = 2;
    int start = 0;
    *light = (SessionLight){.to = INFINITY};
    if (is_given(inputs, "shop.light_from"))
        ids[n++] = "shop.light_from";
    if (is_given(inputs, "shop.light_to"))
        ids[n++] = "shop.light_to";
    if (n == 2)
        return NULL;
    session_add_formula(figures, &spec_needed);
    // A clock that cannot be read is the field's own error.
    const char *missing = session_find_missing(figures, ids);
    g_autoptr(GError) error = NULL;
    gboolean good = !missing && days_read_clock(inputs_text(inputs, "shop.start"), &start, NULL) &&
                    session_light_find(inputs_text(inputs, "shop.light_from"),
                                       inputs_text(inputs, "shop.light_to"), start, light, &error);
    if (!good) {
        missing = missing ? missing : ids[n - 1];
        Figure *unknown = figure_add_unknown(figures, &spec_daylight, missing);
        if (error)
            figure_set_note(unknown, "%s", error->message);
        return missing;
    }
    double hours = figure_list_value(figures, "shop.hours");
    Figure *figure = session_add_method(figures, &spec_daylight,
                                        MAX(MIN(hours, light->to) - light->from, 0.0), ids);
    figure_limit(figure, figure_list_value(figures, "run.light_needed"), "run.light_needed");
    note_daylight(figure, light, hours);
    return figure->state == FIGURE_FAILS ? "run.daylight" : NULL;
}

void
session_limit_dark(Figure *dark)
{
    figure_limit(dark, 0.0, NULL);
    if (dark->state == FIGURE_FAILS)
        figure_set_note(dark, "%s",
                        _("Begin sessions earlier or later, move what is put to a time by hand, or "
                          "leave the daylight blank."));
}

void
session_add_dark(const SessionPlan *session, const SessionLight *light, FigureList *figures)
{
    static const char *const in_dark[] = {"run.session_length", "run.daylight", NULL};
    if (!(light->from > 0.0) && !isfinite(light->to))
        return;
    double dark = session_dark_time((const SessionTask *)(gpointer)session->tasks->data,
                                    session->tasks->len, light->from, light->to);
    session_limit_dark(session_add_method(figures, &spec_dark, dark, in_dark));
}

const char *
session_find_sand_lack(const FigureList *figures)
{
    double ready = figure_list_value(figures, "shop.sand_ready");
    double each = figure_list_value(figures, "mould.sand_mass");
    if (isnan(ready))
        return NULL;
    if (isnan(each))
        return "mould.sand_mass";
    return each > ready ? "run.sand_used" : NULL;
}

void
session_add_sand(const SessionPlan *session, const char *missing, FigureList *figures)
{
    static const char *const by_plan[] = {"run.flasks_per_session", NULL};
    static const char *const by_mould[] = {"mould.sand_mass", NULL};
    static const double one[] = {1.0};
    double ready = figure_list_value(figures, "shop.sand_ready");
    double rest = figure_list_value(figures, "shop.sand_rest");
    gboolean lacks = g_strcmp0(session_find_sand_lack(figures), "run.sand_used") == 0;
    if (lacks)
        session_add_method(figures, &spec_flasks, 1.0, by_mould);
    else if (session)
        session_add_method(figures, &spec_flasks,
                           session_sand_most((const SessionTask *)(gpointer)session->tasks->data,
                                             session->tasks->len, one, rest > 0.0 ? rest : 0.0),
                           by_plan);
    else
        figure_add_unknown(figures, &spec_flasks, missing);
    Figure *sand = session_add_formula(figures, &spec_sand);
    if (isnan(ready))
        return;
    figure_limit(sand, ready, "shop.sand_ready");
    if (lacks)
        figure_set_note(sand, "%s",
                        _("One flask takes more sand than is ready: condition more, or take a "
                          "smaller flask."));
}
