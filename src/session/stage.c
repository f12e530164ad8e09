// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "run": reads the shop, has the batch, the session and what holds it back worked out, and
// hands on the tasks and the furnace's curve.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "session/add.h"
#include "session/batch-figures.h"
#include "session/curve.h"
#include "session/session-figures.h"

const char *const session_reads[] = {"shop.hours",
                                     "shop.set_up",
                                     "shop.closing",
                                     "shop.ambient",
                                     "people.count",
                                     "people.ram_time",
                                     "people.charge_time",
                                     "people.skim_time",
                                     "people.pour_time",
                                     "people.shake_out_time",
                                     "flask.count",
                                     "job.quantity",
                                     "job.confidence",
                                     "job.good_rate",
                                     NULL};

static void
clear_result(gpointer data)
{
    SessionResult *result = data;
    for (guint i = 0; i < result->n_tasks; i++)
        session_task_clear(&result->tasks[i]);
    for (guint i = 0; i < result->n_curve; i++)
        g_free(result->curve[i].prompt);
    g_free(result->tasks);
    g_free(result->curve);
    g_free(result->bottleneck);
    g_strfreev(result->jobs);
}

SessionResult *
session_result_ref(const SessionResult *result)
{
    g_return_val_if_fail(result, NULL);
    return g_atomic_rc_box_acquire((SessionResult *)result);
}

void
session_result_unref(const SessionResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((SessionResult *)result, clear_result);
}

static int
get_count(const FigureList *figures, const char *id)
{
    double value = figure_list_value(figures, id);
    return value >= 0.0 && value < 1e9 ? (int)value : 0;
}

// What one charge fills, were there flasks enough; the melt caps it at the flasks there are.
static int
find_capacity(const FigureList *figures, const MeltResult *melt, const MouldLayout *layout)
{
    double pourable = figure_list_value(figures, "melt.pourable");
    double fills = floor(pourable / layout->metal_mass);
    if (isfinite(fills) && fills > melt->flasks_per_load && fills < 1e6)
        return (int)fills;
    return melt->flasks_per_load;
}

static SessionShop
make_shop(const FigureList *figures, const MeltResult *melt, const MouldLayout *layout)
{
    int capacity = find_capacity(figures, melt, layout);
    double stretch = (double)capacity / MAX(melt->flasks_per_load, 1);
    return (SessionShop){.hours = figure_list_value(figures, "shop.hours"),
                         .set_up = figure_list_value(figures, "shop.set_up"),
                         .closing = figure_list_value(figures, "shop.closing"),
                         .warm_up = figure_list_value(figures, "melt.warmup_time"),
                         .charge = figure_list_value(figures, "people.charge_time"),
                         .heat = figure_list_value(figures, "melt.heat_time") * stretch,
                         .ram = figure_list_value(figures, "people.ram_time"),
                         .skim = figure_list_value(figures, "people.skim_time"),
                         .pour = figure_list_value(figures, "people.pour_time"),
                         .cool = figure_list_value(figures, "feed.shakeout_time"),
                         .shake_out = figure_list_value(figures, "people.shake_out_time"),
                         .people = get_count(figures, "people.count"),
                         .boxes = get_count(figures, "flask.count"),
                         .flasks_per_load = capacity};
}

// Takes tasks and curve over from the arrays.
static void
take_session(SessionResult *result, SessionPlan *session, const MeltResult *melt, double ambient)
{
    gsize n;
    GArray *curve = session_curve_make(session, melt->warmup, melt->n_warmup, ambient,
                                       melt->pouring_temperature);
    result->length = session->length;
    result->left_to_cool = session->left_to_cool;
    result->tasks = g_array_steal(session->tasks, &n);
    result->n_tasks = (guint)n;
    result->curve = g_array_steal(curve, &n);
    result->n_curve = (guint)n;
    g_array_unref(curve);
}

static gboolean
plan_session(const SessionShop *shop, const MeltResult *melt, SessionResult *result,
             FigureList *figures, Progress *progress, GError **error)
{
    int flasks = 0;
    SessionBottleneck found;
    if (!session_plan_most(shop, &flasks, progress, error) ||
        !session_bottleneck_find(shop, flasks, &found, progress, error))
        return FALSE;
    g_autoptr(SessionPlan) session = session_plan_of(shop, MAX(flasks, 1), TRUE, progress, error);
    if (!session)
        return FALSE;
    session_add_plan(shop, session, flasks > 0, figures);
    session_add_bottleneck(&found, flasks, figures);
    result->loads = flasks > 0 ? session->loads : 0;
    result->flasks = flasks;
    result->boxes = shop->boxes;
    result->people = shop->people;
    result->furnaces = 1;
    result->bottleneck = g_strdup(session_bottleneck_word(found.which));
    if (flasks > 0)
        take_session(result, session, melt, figure_list_value(figures, "shop.ambient"));
    return TRUE;
}

// The last session of the batch pours what is left over and may end sooner.
static gboolean
plan_last(const SessionShop *shop, SessionResult *result, FigureList *figures, Progress *progress,
          GError **error)
{
    double flasks = figure_list_value(figures, "run.batch_flasks");
    result->last_length = NAN;
    if (result->sessions > 0 && isfinite(flasks)) {
        // Cavities fill whole flasks, so sessions by castings can be one more than by flasks.
        int rest = (int)(flasks - (result->sessions - 1.0) * result->flasks);
        g_autoptr(SessionPlan) last = session_plan_of(shop, CLAMP(rest, 1, result->flasks), FALSE,
                                                      progress, error);
        if (!last)
            return FALSE;
        result->last_length = last->length;
    }
    session_add_last(result->last_length, figures);
    return TRUE;
}

// The first id the session lacks, or NULL when it can be planned.
static const char *
find_obstacle(const FigureList *figures, const MouldLayout *layout, const MeltResult *melt)
{
    if (!layout || layout->n_cavities == 0)
        return "mould.cavities";
    if (!melt || melt->flasks_per_load < 1)
        return "melt.flasks_per_load";
    const char *missing = session_find_missing(figures, session_plan_ids);
    if (missing)
        return missing;
    SessionShop shop = make_shop(figures, melt, layout);
    return session_shop_is_usable(&shop) ? NULL : "melt.heat_time";
}

SessionResult *
session_stage(const Inputs *inputs, const LearnResult *learn, const MouldLayout *layout,
              const FreezeResult *freeze, const MeltResult *melt, FigureList *figures,
              Progress *progress, GError **error)
{
    g_return_val_if_fail(inputs && figures, NULL);
    g_autoptr(SessionResult) result = g_atomic_rc_box_new0(SessionResult);
    inputs_give(inputs, figures);
    result->hours = figure_list_value(figures, "shop.hours");
    if (!session_add_batch(inputs, learn, result, figures, progress, error))
        return NULL;
    const char *obstacle = find_obstacle(figures, layout, melt);
    SessionShop shop = {0};
    if (obstacle) {
        session_add_no_plan(figures, obstacle);
    } else {
        shop = make_shop(figures, melt, layout);
        if (!plan_session(&shop, melt, result, figures, progress, error))
            return NULL;
        result->castings = result->flasks * (int)(layout->n_cavities - layout->n_guests);
    }
    result->sessions = session_add_count(figures);
    if (!plan_last(&shop, result, figures, progress, error))
        return NULL;
    return g_steal_pointer(&result);
}
