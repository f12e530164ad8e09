// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of one session and of the batch over sessions.
#include "session/session-figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "session/add.h"

#define PLANNED                                                                                    \
    N_("The session is laid out piece by piece over furnace, hands, flasks, benches and cooling "  \
       "places: pour when metal and flasks are ready, then charge, ram drag and cope, draw, "      \
       "close, shake out. Several sizes of load and ways of waiting are tried, few moulds in "     \
       "every order, and the best kept in which no metal stays molten for more than half an "      \
       "hour for want of flasks or hands. A smaller load melts in its share of the time. "         \
       "Sand, its rest and daylight are kept to where they are limited. "                          \
       "Flasks poured last may be left to cool and are shaken out before the next session.")

const char *const session_plan_ids[] = {"shop.hours",
                                        "shop.set_up",
                                        "shop.closing",
                                        "melt.warmup_time",
                                        "melt.heat_time",
                                        "melt.flasks_per_load",
                                        "feed.shakeout_time",
                                        "people.count",
                                        "people.ram_time",
                                        "people.charge_time",
                                        "people.skim_time",
                                        "people.pour_time",
                                        "people.shake_out_time",
                                        "people.share_drag",
                                        "people.share_cope",
                                        "people.share_draw",
                                        "people.share_shut",
                                        "flask.count",
                                        "run.benches",
                                        "run.places",
                                        NULL};

static const FigureSpec spec_loads = {.id = "run.loads_per_session",
                                      .label = N_("Loads a session"),
                                      .kind = QUANTITY_COUNT,
                                      .method = PLANNED,
                                      .source = "definition"};
static const FigureSpec spec_flasks = {.id = "run.flasks_per_session",
                                       .label = N_("Flasks a session"),
                                       .kind = QUANTITY_COUNT,
                                       .method = PLANNED,
                                       .source = "definition",
                                       .limit_kind = FIGURE_AT_LEAST};
static const FigureSpec spec_castings = {.id = "run.castings_per_session",
                                         .label = N_("Castings a session"),
                                         .kind = QUANTITY_COUNT,
                                         .formula = "run.flasks_per_session * mould.cavities",
                                         .source = "definition"};
static const FigureSpec spec_length = {.id = "run.session_length",
                                       .label = N_("Length of a session"),
                                       .kind = QUANTITY_TIME,
                                       .method = PLANNED,
                                       .source = "definition",
                                       .limit_kind = FIGURE_AT_MOST};
static const FigureSpec spec_left = {
    .id = "run.left_to_cool",
    .label = N_("Flasks left to cool"),
    .kind = QUANTITY_COUNT,
    .method = N_("Flasks too hot to open before closing; shaken out before the next session."),
    .source = "definition"};
static const FigureSpec spec_work = {.id = "run.work_time",
                                     .label = N_("Work in a session"),
                                     .kind = QUANTITY_TIME,
                                     .method = N_("Sum of all work by hand in the session."),
                                     .source = "definition"};
static const FigureSpec spec_person_idle = {
    .id = "run.person_idle",
    .label = N_("Hands idle"),
    .kind = QUANTITY_RATIO,
    .formula = "1 - run.work_time / (people.count * run.session_length)",
    .source = "definition"};
static const FigureSpec spec_furnace = {
    .id = "run.furnace_time",
    .label = N_("Furnace at work"),
    .kind = QUANTITY_TIME,
    .method = N_("Sum of warming up, charging, melting and pouring in the session."),
    .source = "definition"};
static const FigureSpec spec_furnace_idle = {.id = "run.furnace_idle",
                                             .label = N_("Furnace idle"),
                                             .kind = QUANTITY_RATIO,
                                             .formula = "1 - run.furnace_time / "
                                                        "run.session_length",
                                             .source = "definition"};
static const FigureSpec spec_held = {
    .id = "run.metal_held",
    .label = N_("Molten metal waiting"),
    .kind = QUANTITY_TIME,
    .method = N_("Time molten metal waits for its flasks or for hands, all loads together."),
    .source = "definition"};
static const FigureSpec spec_bottleneck = {
    .id = "run.bottleneck",
    .label = N_("Held back by"),
    .kind = QUANTITY_TEXT,
    .method = N_("The session is planned again with one more flask, one more hour, a crucible for "
                 "one more flask, one more pair of hands, a furnace twice as fast, and, where they "
                 "are limited, sand for one more flask or one more hour of daylight; what brings "
                 "most castings holds it back."),
    .source = "definition"};
static const FigureSpec spec_sessions = {
    .id = "run.sessions",
    .label = N_("Sessions for the batch"),
    .kind = QUANTITY_COUNT,
    .formula = "ceil(run.castings_to_start / run.castings_per_session)",
    .source = "definition"};
#define TEMPERED                                                                                   \
    N_("A new crucible is held longer in the first session only; the sessions after it are "       \
       "counted without that hold.")
static const FigureSpec spec_sessions_tempered = {
    .id = "run.sessions",
    .label = N_("Sessions for the batch"),
    .kind = QUANTITY_COUNT,
    .formula = "1 + ceil(max(0, run.castings_to_start - run.castings_per_session) / "
               "run.later_castings)",
    .method = TEMPERED,
    .source = "definition"};
static const FigureSpec spec_last = {
    .id = "run.last_session_length",
    .label = N_("Length of the last session"),
    .kind = QUANTITY_TIME,
    .method = N_("The session is laid out again for the flasks that are left over."),
    .source = "definition"};
static const FigureSpec spec_batch_time = {
    .id = "run.batch_time",
    .label = N_("Sessions together"),
    .kind = QUANTITY_TIME,
    .formula = "(run.sessions - 1) * run.session_length + run.last_session_length",
    .source = "definition"};

static const FigureSpec spec_batch_time_tempered = {
    .id = "run.batch_time",
    .label = N_("Sessions together"),
    .kind = QUANTITY_TIME,
    .formula = "run.session_length + (run.sessions - 2) * run.later_length + "
               "run.last_session_length",
    .method = TEMPERED,
    .source = "definition"};

#define GAIN_METHOD N_("The session planned again with that one change, less what it brings now.")
#define GAIN(NAME, LABEL)                                                                          \
    {                                                                                              \
        .id = "run.gain_" NAME, .label = LABEL, .kind = QUANTITY_COUNT, .method = GAIN_METHOD,     \
        .source = "definition"                                                                     \
    }

// In the order of SessionMore.
static const FigureSpec spec_gain[SESSION_MORE_COUNT] = {
    GAIN("flask", N_("Castings gained by one more flask")),
    GAIN("sand", N_("Castings gained by sand for one more flask")),
    GAIN("hour", N_("Castings gained by one more hour")),
    GAIN("light", N_("Castings gained by one more hour of daylight")),
    GAIN("crucible", N_("Castings gained by a larger crucible")),
    GAIN("person", N_("Castings gained by one more person")),
    GAIN("furnace", N_("Castings gained by a faster furnace")),
};

static const FigureSpec *const session_specs[] = {
    &spec_loads,       &spec_flasks,  &spec_castings,     &spec_length, &spec_left,      &spec_work,
    &spec_person_idle, &spec_furnace, &spec_furnace_idle, &spec_held,   &spec_bottleneck};

void
session_add_no_plan(FigureList *figures, const char *missing)
{
    for (guint i = 0; i < G_N_ELEMENTS(session_specs); i++)
        figure_add_unknown(figures, session_specs[i], missing);
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        if (i != SESSION_MORE_SAND && i != SESSION_MORE_LIGHT)
            figure_add_unknown(figures, &spec_gain[i], missing);
}

const char *const *
session_plan_inputs(const FigureList *figures, SessionPlanInputs *inputs)
{
    // A blank field is unknown and would make all unknown that names it.
    static const char *const limits[] = {"shop.sand_ready", "shop.sand_rest", "run.daylight"};
    guint n = 0;
    for (; session_plan_ids[n]; n++)
        inputs->ids[n] = session_plan_ids[n];
    for (guint i = 0; i < G_N_ELEMENTS(limits); i++)
        if (!isnan(figure_list_value(figures, limits[i])))
            inputs->ids[n++] = limits[i];
    inputs->ids[n] = NULL;
    return inputs->ids;
}

void
session_add_plan(const SessionShop *shop, const SessionPlan *session, gboolean fits,
                 FigureList *figures)
{
    static const char *const in_session[] = {"run.flasks_per_session", "run.loads_per_session",
                                             NULL};
    SessionPlanInputs given;
    const char *const *in_plan = session_plan_inputs(figures, &given);
    session_add_method(figures, &spec_loads, fits ? session->loads : 0, in_plan);
    Figure *flasks = session_add_method(figures, &spec_flasks, fits ? session->flasks : 0, in_plan);
    figure_limit(flasks, 1.0, NULL);
    if (session->flasks == SESSION_MOST_FLASKS)
        figure_set_note(flasks, _("Planning stops at %d flasks a session."), SESSION_MOST_FLASKS);
    if (!fits)
        figure_set_note(flasks, "%s",
                        shop->light_from > 0.0 || isfinite(shop->light_to)
                            ? _("Not even one flask can be poured in the hours and the daylight "
                                "given.")
                            : _("Not even one flask can be poured in the hours given."));
    Figure *castings = session_add_formula(figures, &spec_castings);
    if (fits && session->left_to_cool > 0)
        figure_set_note(castings,
                        ngettext("%d flask is left to cool and shaken out before the next session.",
                                 "%d flasks are left to cool and shaken out before the next "
                                 "session.",
                                 session->left_to_cool),
                        session->left_to_cool);
    Figure *length = session_add_method(figures, &spec_length, session->length, in_plan);
    figure_limit(length, shop->hours, "shop.hours");
    if (!fits)
        figure_set_note(length, "%s", _("This long for a single flask."));
    session_add_method(figures, &spec_left, fits ? session->left_to_cool : 0, in_session);
    session_add_method(figures, &spec_work, session->person_time, in_session);
    session_add_formula(figures, &spec_person_idle);
    session_add_method(figures, &spec_furnace, session->furnace_time, in_session);
    session_add_formula(figures, &spec_furnace_idle);
    session_add_method(figures, &spec_held, session->held, in_session);
}

static void
note_bottleneck(const SessionBottleneck *found, Figure *figure, const UnitSet *units)
{
    int gain = found->gain[found->which];
    double sooner = found->sooner[found->which];
    const char *more = session_bottleneck_more(found->which);
    if (gain > 0) {
        figure_set_note(figure,
                        ngettext("%s would bring %d more flask a session.",
                                 "%s would bring %d more flasks a session.", gain),
                        more, gain);
        return;
    }
    g_autofree char *time = quantity_format(QUANTITY_TIME, sooner, units);
    if (sooner > 60.0)
        figure_set_note(figure,
                        _("%s would end the last pour %s sooner; no single change brings another "
                          "flask."),
                        more, time);
    else
        figure_set_note(figure, "%s", _("No single change brings another flask."));
}

void
session_add_bottleneck(const SessionBottleneck *found, int flasks, FigureList *figures)
{
    static const char *const in_gain[] = {"run.flasks_per_session", "mould.cavities", NULL};
    const char *in_text[SESSION_MORE_COUNT + 1] = {NULL};
    guint n = 0;
    double cavities = figure_list_value(figures, "mould.cavities");
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        if (!found->asked[i])
            continue;
        session_add_method(figures, &spec_gain[i], found->gain[i] * cavities, in_gain);
        in_text[n++] = spec_gain[i].id;
    }
    const char *missing = session_find_missing(figures, in_text);
    if (missing) {
        figure_add_unknown(figures, &spec_bottleneck, missing);
        return;
    }
    UnitSet units = unit_set_default();
    Figure *figure = figure_add_text(
        figures, &spec_bottleneck, session_bottleneck_word(found->which), in_text[0], in_text[1],
        in_text[2], in_text[3], in_text[4], in_text[5], in_text[6], NULL);
    note_bottleneck(found, figure, &units);
}

int
session_add_count(FigureList *figures)
{
    if (figure_list_value(figures, "run.castings_per_session") == 0.0) {
        figure_add_unknown(figures, &spec_sessions, "run.castings_per_session");
        return 0;
    }
    gboolean tempered = figure_list_find(figures, "run.later_castings") != NULL;
    double sessions =
        session_add_formula(figures, tempered ? &spec_sessions_tempered : &spec_sessions)->value;
    return sessions >= 1.0 && sessions < G_MAXINT ? (int)sessions : 0;
}

void
session_add_last(double last, FigureList *figures)
{
    static const char *const in_last[] = {"run.batch_flasks", "run.sessions",
                                          "run.flasks_per_session", NULL};
    session_add_method(figures, &spec_last, last, in_last);
    gboolean tempered = figure_list_find(figures, "run.later_length") &&
                        figure_list_value(figures, "run.sessions") > 1.0;
    session_add_formula(figures, tempered ? &spec_batch_time_tempered : &spec_batch_time);
}
