// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of a batch: each explains itself as those of a plan do.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "plan/batch-private.h"
#include "session/add.h"
#include "session/bottleneck.h"

#define LAID                                                                                       \
    N_("Every day takes what it can of the job due first, then of the next. Where no due day is "  \
       "kept, other orders are tried.")
#define COUNTED                                                                                    \
    N_("Summed over the sessions. What a session charges is what its flasks hold, the reserve of " \
       "each load and a heel, more by the melt loss. It is made up as the plan of each job would " \
       "do it with the stock of that morning: returns up to their share, castings, ingot. What "   \
       "is "                                                                                       \
       "neither lost nor in the castings lies there as returns from the next session on. "         \
       "Castings "                                                                                 \
       "that turn out bad are not counted on as returns.")

static const FigureSpec spec_sessions = {.id = "batch.sessions",
                                         .label = N_("Sessions for all jobs"),
                                         .kind = QUANTITY_COUNT,
                                         .method = LAID,
                                         .source = "definition"};
static const FigureSpec spec_flasks = {.id = "batch.flasks",
                                       .label = N_("Flasks for all jobs"),
                                       .kind = QUANTITY_COUNT,
                                       .method = N_("Sum of the flasks the jobs need."),
                                       .source = "definition"};
static const FigureSpec spec_castings = {
    .id = "batch.castings",
    .label = N_("Castings of all jobs"),
    .kind = QUANTITY_COUNT,
    .method = N_("Cavities of every flask poured; whole flasks are filled."),
    .source = "definition"};
static const FigureSpec spec_first = {.id = "batch.first_day",
                                      .label = N_("First session"),
                                      .kind = QUANTITY_TEXT,
                                      .method = N_("The first free day on which something is "
                                                   "poured."),
                                      .source = "definition"};
static const FigureSpec spec_last = {.id = "batch.last_day",
                                     .label = N_("Last session"),
                                     .kind = QUANTITY_TEXT,
                                     .method = LAID,
                                     .source = "definition"};
static const FigureSpec spec_held = {
    .id = "batch.held_back",
    .label = N_("Sessions held back by"),
    .kind = QUANTITY_TEXT,
    .method = N_(
        "Each session is planned again with a little more of one thing: a flask, sand for "
        "one, an hour, an hour of daylight, crucibles for one more flask, a pair of "
        "hands, furnaces twice as fast. All it pours stays, and what brings most flasks "
        "of the job that waits holds it back. Nothing does where all that is left is "
        "poured. A calendar of single jobs has it from each job's own plan, and for days of "
        "very many flasks it is not looked for."),
    .source = "definition"};
static const FigureSpec spec_late = {
    .id = "batch.days_late",
    .label = N_("Days late, the latest job"),
    .kind = QUANTITY_COUNT,
    .method = N_("Days from a job's due day to its last session, of the job where it is most. "
                 "Where all days hold the same and a session pours one job, no order has less "
                 "than that by due day (Jackson 1955)."),
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST};
static const FigureSpec spec_jobs_late = {
    .id = "batch.jobs_late",
    .label = N_("Jobs late"),
    .kind = QUANTITY_COUNT,
    .method = N_("Jobs whose last session is after their due day."),
    .source = "definition"};
static const FigureSpec spec_slack = {
    .id = "batch.slack",
    .label = N_("Days to spare, the tightest job"),
    .kind = QUANTITY_NUMBER,
    .method = N_("Days from a job's last session to its due day, of the job where it is least; "
                 "below nothing when late."),
    .source = "definition"};
static const FigureSpec spec_time = {.id = "batch.time",
                                     .label = N_("Hours in all sessions"),
                                     .kind = QUANTITY_TIME,
                                     .method = N_("Sum of the planned lengths of the sessions, "
                                                  "each in whole minutes."),
                                     .source = "definition"};
static const FigureSpec spec_charged = {.id = "batch.charged",
                                        .label = N_("Metal charged, all jobs"),
                                        .kind = QUANTITY_MASS,
                                        .method = COUNTED,
                                        .source = "definition"};
static const FigureSpec spec_returned = {.id = "batch.returns_used",
                                         .label = N_("Returns charged"),
                                         .kind = QUANTITY_MASS,
                                         .method = COUNTED,
                                         .source = "definition"};
static const FigureSpec spec_left = {.id = "batch.returns_left",
                                     .label = N_("Returns left over"),
                                     .kind = QUANTITY_MASS,
                                     .method = COUNTED,
                                     .source = "definition"};
static const FigureSpec spec_castings_used = {.id = "batch.castings_used",
                                              .label = N_("Old castings charged"),
                                              .kind = QUANTITY_MASS,
                                              .method = COUNTED,
                                              .source = "definition"};
static const FigureSpec spec_ingot_used = {.id = "batch.ingot_used",
                                           .label = N_("Ingot from the stock"),
                                           .kind = QUANTITY_MASS,
                                           .method = COUNTED,
                                           .source = "definition"};
static const FigureSpec spec_ingot = {
    .id = "batch.ingot",
    .label = N_("Ingot to buy"),
    .kind = QUANTITY_MASS,
    .formula = "max(0, batch.charged - batch.returns_used - batch.castings_used - "
               "batch.ingot_used)",
    .source = "definition"};
static const FigureSpec spec_sand = {
    .id = "batch.sand",
    .label = N_("Sand to have"),
    .kind = QUANTITY_MASS,
    .method = N_("Enough for the flasks that are closed at one time, and what each use burns off "
                 "made up in whole boxes."),
    .source = "definition"};
static const FigureSpec spec_crucibles = {
    .id = "batch.crucibles",
    .label = N_("New crucibles"),
    .kind = QUANTITY_COUNT,
    .method = N_("One is replaced before the session that would be beyond the least number of "
                 "firings its kind bears, by a spare while there are any. A firing is a cold start "
                 "or a melt, as the crucible counts them."),
    .source = "common-practice"};
static const FigureSpec spec_spares = {.id = "batch.spares",
                                       .label = N_("Spare crucibles taken into use"),
                                       .kind = QUANTITY_COUNT,
                                       .method = N_("Of those on the shelf, in place of new ones."),
                                       .source = "definition"};
static const FigureSpec spec_jobs_left = {
    .id = "batch.jobs_left",
    .label = N_("Jobs left out or not finished"),
    .kind = QUANTITY_COUNT,
    .method = N_("Jobs that cannot be planned, of which no free day can pour a flask, or for which "
                 "the free days are too few."),
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST};
static const FigureSpec spec_cost_ingot = {.id = "batch.cost_ingot",
                                           .label = N_("Ingot"),
                                           .kind = QUANTITY_MONEY,
                                           .method = N_("Ingot of each metal at its price."),
                                           .source = "definition"};
static const FigureSpec spec_cost_sand = {.id = "batch.cost_sand",
                                          .label = N_("Sand"),
                                          .kind = QUANTITY_MONEY,
                                          .formula = "batch.sand * sand.price",
                                          .source = "definition"};
static const FigureSpec spec_cost_crucibles = {.id = "batch.cost_crucibles",
                                               .label = N_("Crucibles"),
                                               .kind = QUANTITY_MONEY,
                                               .method = N_("New crucibles at their prices."),
                                               .source = "definition"};
static const FigureSpec spec_cost = {
    .id = "batch.cost",
    .label = N_("Cost of what to buy, all jobs"),
    .kind = QUANTITY_MONEY,
    .formula = "batch.cost_ingot + batch.cost_sand + batch.cost_crucibles",
    .source = "definition"};

static const char *const in_laid[] = {"shop.days", "shop.start", "shop.hours", "batch.flasks",
                                      NULL};
static const char *const in_sessions[] = {"batch.sessions", NULL};

static const BatchJob *
find_latest(const BatchPlan *plan)
{
    for (guint i = 0; i < plan->n_jobs; i++)
        if (plan->latest != G_MININT && plan->jobs[i].late == plan->latest)
            return &plan->jobs[i];
    return NULL;
}

static const char *
get_proof_words(CalendarProof proof)
{
    switch (proof) {
    case CALENDAR_BOUND:
        return _("No order of the jobs makes it less late.");
    case CALENDAR_SEARCHED:
        return _("Every order of the jobs was looked through: none is less late.");
    case CALENDAR_THEOREM:
        return _("No order is less late than that by due day.");
    case CALENDAR_UNPROVED:
        break;
    }
    return _("Another order may be less late.");
}

static void
note_late(const BatchPlan *plan, Figure *figure)
{
    const BatchJob *job = find_latest(plan);
    g_return_if_fail(job);
    g_autofree char *due = days_write_date(job->due);
    g_autofree char *done = days_write_date(job->done);
    g_autofree char *alone = days_write_date(job->alone);
    if (job->late > 0)
        figure_set_note(figure,
                        _("%s is due on %s and ends on %s; poured before all others it would end "
                          "on %s. %s"),
                        job->name, due, done, alone, get_proof_words(plan->proof));
}

static void
add_left(const BatchPlan *plan)
{
    static const char *const in_left[] = {"batch.jobs", "shop.days", "shop.hours", NULL};
    g_autoptr(GString) names = g_string_new(NULL);
    guint n = 0;
    for (guint i = 0; i < plan->n_jobs; i++)
        if (plan->jobs[i].why)
            g_string_append_printf(names, "%s%s: %s.", n++ > 0 ? " " : "", plan->jobs[i].name,
                                   plan->jobs[i].why);
    Figure *figure = session_add_method(plan->figures, &spec_jobs_left, n, in_left);
    figure_limit(figure, 0, NULL);
    if (n > 0)
        figure_set_note(figure, "%s", names->str);
}

static void
add_days(BatchDraft *draft)
{
    BatchPlan *plan = draft->plan;
    FigureList *figures = plan->figures;
    double flasks = 0, castings = 0, minutes = 0;
    for (guint i = 0; i < plan->n_sessions; i++) {
        const BatchSession *session = &plan->sessions[i];
        minutes += session->to - session->from;
        for (guint k = 0; k < session->n_pours; k++) {
            flasks += session->pours[k].flasks;
            castings += session->pours[k].castings;
        }
    }
    static const char *const in_jobs[] = {"batch.jobs", NULL};
    session_add_method(figures, &spec_flasks, flasks, in_jobs);
    session_add_method(figures, &spec_castings, castings, in_jobs);
    session_add_method(figures, &spec_sessions, plan->n_sessions, in_laid);
    session_add_method(figures, &spec_time, minutes * 60.0, in_sessions);
    if (plan->n_sessions == 0) {
        figure_add_unknown(figures, &spec_first, "batch.jobs");
        figure_add_unknown(figures, &spec_last, "batch.jobs");
        return;
    }
    g_autofree char *first = days_write_date(plan->sessions[0].day);
    g_autofree char *last = days_write_date(plan->sessions[plan->n_sessions - 1].day);
    figure_add_text(figures, &spec_first, first, "shop.days", "batch.sessions", NULL);
    figure_add_text(figures, &spec_last, last, "shop.days", "batch.sessions", NULL);
}

// "held back by the sand: 7 of 10; pours all that is left: 1 of 10".
static void
add_held(const BatchPlan *plan)
{
    const char *words[SESSION_MORE_COUNT + 3] = {NULL}; // the last: not known
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        words[i] = session_bottleneck_word(i);
    words[SESSION_MORE_COUNT] = BATCH_HELD_MIX;
    words[SESSION_MORE_COUNT + 1] = BATCH_HELD_NOTHING;
    g_autoptr(GString) text = g_string_new(NULL);
    for (guint i = 0; i < G_N_ELEMENTS(words); i++) {
        guint n = 0;
        for (guint k = 0; k < plan->n_sessions; k++)
            n += g_strcmp0(plan->sessions[k].held, words[i]) == 0;
        if (n == 0)
            continue;
        g_string_append(text, text->len > 0 ? "; " : "");
        // Translators: "held back by the sand: 7 of 10", of sessions.
        g_string_append_printf(text, _("%s: %u of %u"),
                               words[i] ? batch_held_words(words[i]) : _("not looked for"), n,
                               plan->n_sessions);
    }
    if (text->len > 0)
        figure_add_text(plan->figures, &spec_held, text->str, "batch.sessions", "shop.hours", NULL);
    else
        figure_add_unknown(plan->figures, &spec_held, "batch.sessions");
}

static void
add_due(BatchDraft *draft)
{
    static const char *const in_due[] = {"batch.sessions", NULL};
    BatchPlan *plan = draft->plan;
    FigureList *figures = plan->figures;
    guint late = 0;
    for (guint i = 0; i < plan->n_jobs; i++)
        late += plan->jobs[i].late != G_MININT && plan->jobs[i].late > 0;
    if (plan->latest == G_MININT) {
        figure_add_unknown(figures, &spec_late, "job.due");
        figure_add_unknown(figures, &spec_jobs_late, "job.due");
        figure_add_unknown(figures, &spec_slack, "job.due");
        return;
    }
    Figure *figure = session_add_method(figures, &spec_late, MAX(0, plan->latest), in_due);
    figure_limit(figure, 0, NULL);
    note_late(plan, figure);
    session_add_method(figures, &spec_jobs_late, late, in_due);
    session_add_method(figures, &spec_slack, -plan->latest, in_due);
}

static void
add_needs(BatchDraft *draft)
{
    const CalendarTotals *totals = &draft->plan->totals;
    FigureList *figures = draft->plan->figures;
    static const char *const in_ingot[] = {"batch.ingot", NULL};
    static const char *const in_sand[] = {"batch.sessions", "sand.loss", "sand.box", NULL};
    static const char *const in_crucibles[] = {"batch.crucibles", NULL};
    session_add_method(figures, &spec_charged, totals->charged, in_sessions);
    session_add_method(figures, &spec_returned, totals->returns_used, in_sessions);
    session_add_method(figures, &spec_left, totals->returns_left, in_sessions);
    session_add_method(figures, &spec_castings_used, totals->castings_used, in_sessions);
    session_add_method(figures, &spec_ingot_used, totals->ingot_used, in_sessions);
    Figure *ingot = session_add_formula(figures, &spec_ingot);
    if (!draft->plan->lists_stock && totals->ingot > 0)
        figure_set_note(ingot, _("No metal in stock is listed, so all of it is to buy; list what "
                                 "the shop has to have it taken off."));
    session_add_method(figures, &spec_sand, totals->sand, in_sand);
    session_add_method(figures, &spec_crucibles, totals->crucibles, in_sessions);
    session_add_method(figures, &spec_spares, totals->spares, in_sessions);
    session_add_method(figures, &spec_cost_ingot, totals->cost_ingot, in_ingot);
    session_add_formula(figures, &spec_cost_sand);
    session_add_method(figures, &spec_cost_crucibles, totals->cost_crucibles, in_crucibles);
    session_add_formula(figures, &spec_cost);
}

void
batch_add_figures(BatchDraft *draft)
{
    static const char *const paths[] = {"shop.days", "shop.start", "shop.hours", "sand.loss",
                                        "sand.box",  "sand.price", NULL};
    BatchPlan *plan = draft->plan;
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, NULL, draft->tables, NULL, paths);
    guint open = 0;
    for (guint i = 0; i < plan->n_jobs; i++)
        open += plan->jobs[i].flasks > 0;
    plan->figures = figure_list_new();
    inputs_give(inputs, plan->figures);
    figure_give(plan->figures, "batch.jobs", _("Jobs with parts to cast"), QUANTITY_COUNT, open,
                NULL, "definition");
    add_left(plan);
    add_days(draft);
    add_held(plan);
    add_due(draft);
    add_needs(draft);
}
