// SPDX-License-Identifier: GPL-3.0-or-later
// What flasks, benches and cooling places wait, and what no session could pass.
#include "session/idle-figures.h"

#include <glib/gi18n-lib.h>

#include "session/add.h"
#include "session/session-figures.h"

#define BENCHES N_("Moulding benches there are")
#define PLACES N_("Cooling places there are")

static const FigureSpec spec_benches[2] = {{.id = "run.benches",
                                            .label = BENCHES,
                                            .kind = QUANTITY_COUNT,
                                            .formula = "people.count",
                                            .source = "definition"},
                                           {.id = "run.benches",
                                            .label = BENCHES,
                                            .kind = QUANTITY_COUNT,
                                            .formula = "shop.benches",
                                            .source = "user"}};
static const FigureSpec spec_places[2] = {{.id = "run.places",
                                           .label = PLACES,
                                           .kind = QUANTITY_COUNT,
                                           .formula = "flask.count",
                                           .source = "definition"},
                                          {.id = "run.places",
                                           .label = PLACES,
                                           .kind = QUANTITY_COUNT,
                                           .formula = "shop.cooling_places",
                                           .source = "user"}};

static const FigureSpec spec_flask_time = {
    .id = "run.flask_time",
    .label = N_("Flasks in use, together"),
    .kind = QUANTITY_TIME,
    .method = N_("Of every flask, from ramming its drag to shaking out or the end of the session."),
    .source = "definition"};
static const FigureSpec spec_bench_time = {
    .id = "run.bench_time",
    .label = N_("Benches in use, together"),
    .kind = QUANTITY_TIME,
    .method = N_("Of every mould, from ramming its drag until its patterns are drawn."),
    .source = "definition"};
static const FigureSpec spec_place_time = {
    .id = "run.place_time",
    .label = N_("Cooling places in use, together"),
    .kind = QUANTITY_TIME,
    .method = N_("Of every mould, from its pour to shaking out or the end of the session."),
    .source = "definition"};
static const FigureSpec spec_flask_idle = {
    .id = "run.flask_idle",
    .label = N_("Flasks idle"),
    .kind = QUANTITY_RATIO,
    .formula = "1 - run.flask_time / (flask.count * run.session_length)",
    .source = "definition"};
static const FigureSpec spec_bench_idle = {
    .id = "run.bench_idle",
    .label = N_("Benches idle"),
    .kind = QUANTITY_RATIO,
    .formula = "1 - run.bench_time / (run.benches * run.session_length)",
    .source = "definition"};
static const FigureSpec spec_place_idle = {
    .id = "run.place_idle",
    .label = N_("Cooling places idle"),
    .kind = QUANTITY_RATIO,
    .formula = "1 - run.place_time / (run.places * run.session_length)",
    .source = "definition"};

static const FigureSpec spec_bound = {
    .id = "run.flasks_bound",
    .label = N_("Flasks a session, no more than"),
    .kind = QUANTITY_COUNT,
    .method = N_("As if hands, furnace, flasks, benches, cooling places and sand never waited for "
                 "one another: whole loads and whole flasks, by integer programming over them."),
    .source = "definition"};
static const FigureSpec spec_gap = {.id = "run.flasks_gap",
                                    .label = N_("Flasks short of that"),
                                    .kind = QUANTITY_COUNT,
                                    .formula = "run.flasks_bound - run.flasks_per_session",
                                    .source = "definition"};
static const FigureSpec spec_answer = {
    .id = "run.answer",
    .label = N_("How sure the session is the best"),
    .kind = QUANTITY_TEXT,
    .method = N_("Few moulds are tried in every order of work; many are laid out in a fixed set of "
                 "ways, and what was found is compared with what no session could pass."),
    .source = "definition"};

static const char *const in_session[] = {"run.flasks_per_session", "run.loads_per_session", NULL};

static void
add_one(const Inputs *inputs, const char *path, const FigureSpec specs[2], FigureList *figures)
{
    gboolean own = !inputs_is_blank(inputs, path);
    session_add_formula(figures, &specs[own ? 1 : 0]);
}

void
session_add_benches(const Inputs *inputs, FigureList *figures)
{
    add_one(inputs, "shop.benches", spec_benches, figures);
    add_one(inputs, "shop.cooling_places", spec_places, figures);
}

void
session_add_idle(const SessionPlan *session, const char *missing, FigureList *figures)
{
    const FigureSpec *const times[] = {&spec_flask_time, &spec_bench_time, &spec_place_time};
    const FigureSpec *const shares[] = {&spec_flask_idle, &spec_bench_idle, &spec_place_idle};
    const double values[] = {session ? session->box_time : 0.0, session ? session->bench_time : 0.0,
                             session ? session->place_time : 0.0};
    for (guint i = 0; i < G_N_ELEMENTS(times); i++) {
        if (!session) {
            figure_add_unknown(figures, times[i], missing);
            figure_add_unknown(figures, shares[i], missing);
            continue;
        }
        session_add_method(figures, times[i], values[i], in_session);
        session_add_formula(figures, shares[i]);
    }
}

static void
note_answer(const SessionMost *most, Figure *figure)
{
    int gap = most->bound.moulds - most->moulds;
    if (most->proved)
        figure_set_note(figure, "%s", _("No session of these hours pours more."));
    else
        figure_set_note(figure,
                        ngettext("A better order of work might pour %d flask more, not more "
                                 "than that.",
                                 "A better order of work might pour %d flasks more, not more "
                                 "than that.",
                                 gap),
                        gap);
}

void
session_add_bound(const SessionMost *most, const char *missing, FigureList *figures)
{
    if (!most) {
        figure_add_unknown(figures, &spec_bound, missing);
        figure_add_unknown(figures, &spec_gap, missing);
        figure_add_unknown(figures, &spec_answer, missing);
        return;
    }
    int bound = most->proved ? most->moulds : most->bound.moulds;
    SessionPlanInputs given;
    session_add_method(figures, &spec_bound, bound, session_plan_inputs(figures, &given));
    session_add_formula(figures, &spec_gap);
    Figure *answer = figure_add_text(figures, &spec_answer,
                                     most->proved ? _("proved") : _("the best found"),
                                     "run.flasks_bound", "run.flasks_per_session", NULL);
    note_answer(most, answer);
}
