// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the batch. The rate is the person's own, else what the log has shown (Jeffreys'
// prior), else a stated guess; the first is taken as sure, the others as uncertain.
#include "session/batch-figures.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "session/add.h"
#include "session/interval.h"

typedef enum {
    RATE_TYPED,
    RATE_LOG,
    RATE_GUESS,
} RateFrom;

#define RATE_LABEL N_("Good-casting rate")

static const FigureSpec spec_rate_typed = {.id = "run.good_rate",
                                           .label = RATE_LABEL,
                                           .kind = QUANTITY_RATIO,
                                           .formula = "job.good_rate",
                                           .source = "user"};
static const FigureSpec spec_rate_log = {.id = "run.good_rate",
                                         .label = RATE_LABEL,
                                         .kind = QUANTITY_RATIO,
                                         .formula = "(learn.good + 0.5) / (learn.poured + 1)",
                                         .source = "measured"};
static const FigureSpec spec_rate_guess = {
    .id = "run.good_rate",
    .label = RATE_LABEL,
    .kind = QUANTITY_RATIO,
    .method = N_("Nothing poured yet: taken as if nine of ten castings had been good."),
    .source = "common-practice"};
static const FigureSpec spec_low = {
    .id = "run.good_rate_low",
    .label = N_("Good rate, at least"),
    .kind = QUANTITY_RATIO,
    .method = N_("Lower end of the 95 % interval from the castings in the log, Jeffreys' prior."),
    .source = "measured"};
static const FigureSpec spec_high = {
    .id = "run.good_rate_high",
    .label = N_("Good rate, at most"),
    .kind = QUANTITY_RATIO,
    .method = N_("Upper end of the 95 % interval from the castings in the log, Jeffreys' prior."),
    .source = "measured"};
static const FigureSpec spec_start_fixed = {
    .id = "run.castings_to_start",
    .label = N_("Castings to start"),
    .kind = QUANTITY_COUNT,
    .method = N_("The fewest castings of which enough are good with the wanted confidence, each "
                 "good with the good rate on its own (binomial)."),
    .source = "definition"};
static const FigureSpec spec_start_learned = {
    .id = "run.castings_to_start",
    .label = N_("Castings to start"),
    .kind = QUANTITY_COUNT,
    .method = N_("The fewest castings of which enough are good with the wanted confidence, the "
                 "good rate being only as sure as the castings seen make it (beta-binomial)."),
    .source = "definition"};
static const FigureSpec spec_confidence = {
    .id = "run.confidence",
    .label = N_("Chance of enough good ones"),
    .kind = QUANTITY_RATIO,
    .method = N_("Chance that the castings started hold at least the good parts wanted."),
    .source = "definition",
    .limit_kind = FIGURE_AT_LEAST};
static const FigureSpec spec_flasks = {.id = "run.batch_flasks",
                                       .label = N_("Flasks for the batch"),
                                       .kind = QUANTITY_COUNT,
                                       .formula = "ceil(run.castings_to_start / mould.cavities)",
                                       .source = "definition"};

static RateFrom
find_rate_from(const Inputs *inputs, const LearnResult *learn, const FigureList *figures)
{
    // A blank field may hold what the log taught as a plain number; the counts say more.
    if (!inputs_is_blank(inputs, "job.good_rate") &&
        isfinite(inputs_number(inputs, "job.good_rate")))
        return RATE_TYPED;
    if (learn && learn->poured > 0 && figure_list_find(figures, "learn.poured"))
        return RATE_LOG;
    return RATE_GUESS;
}

static void
add_interval(const LearnResult *learn, FigureList *figures)
{
    static const char *const ids[] = {"learn.good", "learn.poured", NULL};
    double low = NAN, high = NAN;
    session_interval_jeffreys(learn->good, learn->poured, 0.95, &low, &high);
    session_add_method(figures, &spec_low, low, ids);
    session_add_method(figures, &spec_high, high, ids);
}

static double
add_rate(RateFrom from, const LearnResult *learn, FigureList *figures)
{
    static const char *const none[] = {NULL};
    if (from == RATE_TYPED)
        return session_add_formula(figures, &spec_rate_typed)->value;
    if (from == RATE_GUESS) {
        double rate = SESSION_PRIOR_GOOD / (SESSION_PRIOR_GOOD + SESSION_PRIOR_BAD);
        Figure *figure = session_add_method(figures, &spec_rate_guess, rate, none);
        figure_set_note(figure, "%s",
                        _("A guess without a source until castings are logged or a rate is given; "
                          "the number to start rests on it."));
        return rate;
    }
    Figure *figure = session_add_formula(figures, &spec_rate_log);
    g_autofree char *source = g_strdup_printf(_("measured in this shop: %u of %u good"),
                                              learn->good, learn->poured);
    figure_set_source(figure, source);
    add_interval(learn, figures);
    return figure->value;
}

// *batch stays as it is when the inputs cannot be used. FALSE only when stopped.
static gboolean
find_batch(RateFrom from, const LearnResult *learn, double rate, double wanted, double confidence,
           SessionBatch *batch, Progress *progress, GError **error)
{
    g_autoptr(GError) local = NULL;
    if (!(wanted >= 1.0 && wanted <= SESSION_BATCH_MOST))
        return TRUE;
    if (from == RATE_TYPED)
        session_batch_fixed((int)wanted, rate, confidence, batch, progress, &local);
    else if (from == RATE_LOG)
        session_batch_learned((int)wanted, learn->good + 0.5, learn->poured - learn->good + 0.5,
                              confidence, batch, progress, &local);
    else
        session_batch_learned((int)wanted, SESSION_PRIOR_GOOD, SESSION_PRIOR_BAD, confidence, batch,
                              progress, &local);
    if (!g_error_matches(local, BASE_ERROR, BASE_ERROR_CANCELLED))
        return TRUE;
    g_propagate_error(error, g_steal_pointer(&local));
    return FALSE;
}

static void
add_start(RateFrom from, const SessionBatch *batch, double wanted_confidence, gboolean asked,
          FigureList *figures)
{
    static const char *const fixed_ids[] = {"job.quantity", "job.confidence", "run.good_rate",
                                            NULL};
    static const char *const log_ids[] = {"job.quantity", "job.confidence", "learn.good",
                                          "learn.poured", NULL};
    const char *const *ids = from == RATE_LOG ? log_ids : fixed_ids;
    const FigureSpec *spec = from == RATE_TYPED ? &spec_start_fixed : &spec_start_learned;
    double castings = batch->found ? batch->castings : NAN;
    // A chance short by rounding alone has reached what was wanted.
    double chance = batch->found ? MAX(batch->chance, wanted_confidence) : NAN;
    Figure *start = session_add_method(figures, spec, castings, ids);
    if (asked && !batch->found)
        figure_set_note(start, "%s",
                        _("No useful number: more than ten million castings would be needed. Ask "
                          "for fewer parts or less confidence, or log more castings."));
    static const char *const start_ids[] = {"run.castings_to_start", "job.quantity",
                                            "run.good_rate", NULL};
    Figure *reached = session_add_method(figures, &spec_confidence, chance, start_ids);
    figure_limit(reached, wanted_confidence, "job.confidence");
}

gboolean
session_add_batch(const Inputs *inputs, const LearnResult *learn, SessionResult *result,
                  FigureList *figures, Progress *progress, GError **error)
{
    g_return_val_if_fail(inputs && result && figures, FALSE);
    RateFrom from = find_rate_from(inputs, learn, figures);
    double wanted = inputs_number(inputs, "job.quantity");
    double confidence = inputs_number(inputs, "job.confidence");
    result->good_rate = add_rate(from, learn, figures);
    SessionBatch batch = {0};
    if (!find_batch(from, learn, result->good_rate, wanted, confidence, &batch, progress, error))
        return FALSE;
    gboolean asked = isfinite(wanted) && isfinite(confidence);
    add_start(from, &batch, confidence, asked, figures);
    // No cavity, no number of flasks.
    if (figure_list_value(figures, "mould.cavities") < 1)
        figure_add_unknown(figures, &spec_flasks, "mould.cavities");
    else
        session_add_formula(figures, &spec_flasks);
    result->castings_to_start = batch.castings;
    result->confidence = batch.found ? batch.chance : NAN;
    return TRUE;
}
