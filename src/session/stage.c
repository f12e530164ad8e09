// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "run": reads the shop, has the batch, the session and what holds it back worked out, and
// hands on the tasks and the furnace's curve.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "session/add.h"
#include "session/batch-figures.h"
#include "session/curve.h"
#include "session/idle-figures.h"
#include "session/later.h"
#include "session/limit-figures.h"
#include "session/limits.h"
#include "session/needs.h"
#include "session/pinned.h"
#include "session/result.h"
#include "session/session-figures.h"

const char *const session_reads[] = {"shop.hours",
                                     "shop.set_up",
                                     "shop.closing",
                                     "shop.ambient",
                                     "shop.benches",
                                     "shop.cooling_places",
                                     "shop.sand_ready",
                                     "shop.sand_rest",
                                     "shop.start",
                                     "shop.light_from",
                                     "shop.light_to",
                                     "people.count",
                                     "people.ram_time",
                                     "people.share_drag",
                                     "people.share_cope",
                                     "people.share_draw",
                                     "people.share_shut",
                                     "people.charge_time",
                                     "people.skim_time",
                                     "people.pour_time",
                                     "people.shake_out_time",
                                     "flask.count",
                                     "job.quantity",
                                     "job.confidence",
                                     "job.good_rate",
                                     "job.pins",
                                     "crucible.counts",
                                     "crucible.firings",
                                     "crucible.risk",
                                     "crucible.spares",
                                     "crucible.delivery",
                                     "cruciblekind.firings_min",
                                     "cruciblekind.firings_max",
                                     "cruciblekind.temper_hold",
                                     NULL};

static int
get_count(const FigureList *figures, const char *id)
{
    double value = figure_list_value(figures, id);
    return value >= 0.0 && value < 1e9 ? (int)value : 0;
}

static double
get_amount(const FigureList *figures, const char *id)
{
    double value = figure_list_value(figures, id);
    return value > 0.0 ? value : 0.0;
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
make_shop(const Inputs *inputs, const FigureList *figures, const MeltResult *melt,
          const MouldLayout *layout, const SessionLight *light)
{
    int capacity = find_capacity(figures, melt, layout);
    double stretch = (double)capacity / MAX(melt->flasks_per_load, 1);
    // Blank, they grow with the people and the flasks when one more is tried.
    gboolean benches = !inputs_is_blank(inputs, "shop.benches");
    gboolean places = !inputs_is_blank(inputs, "shop.cooling_places");
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
                         .flasks_per_load = capacity,
                         .benches = benches ? get_count(figures, "run.benches") : 0,
                         .places = places ? get_count(figures, "run.places") : 0,
                         .share = {figure_list_value(figures, "people.share_drag"),
                                   figure_list_value(figures, "people.share_cope"),
                                   figure_list_value(figures, "people.share_draw"),
                                   figure_list_value(figures, "people.share_shut")},
                         .sand = get_amount(figures, "mould.sand_mass"),
                         .sand_ready = get_amount(figures, "shop.sand_ready"),
                         .sand_rest = get_amount(figures, "shop.sand_rest"),
                         .light_from = light->from,
                         .light_to = light->to};
}

// Takes tasks and curve over from the arrays.
static void
take_session(SessionResult *result, SessionPlan *session, const MeltResult *melt, double ambient)
{
    gsize n;
    SessionHeat heat = {NULL, melt->warmup, melt->n_warmup, melt->pouring_temperature};
    GArray *curve = session_curve_make(session, &heat, 1, ambient);
    session_result_take(result, session);
    result->curve = g_array_steal(curve, &n);
    result->n_curve = (guint)n;
    g_array_unref(curve);
}

// Says on the length what pins there are and which come to nothing.
static void
note_pins(const SessionShop *shop, const SessionPlan *session, FigureList *figures)
{
    Figure *length = (Figure *)figure_list_find(figures, "run.session_length");
    guint idle = session_pins_count_idle(shop->pins, shop->n_pins,
                                         (const SessionTask *)(gpointer)session->tasks->data,
                                         session->tasks->len);
    if (shop->n_pins == 0 || !length || length->note)
        return;
    g_autofree char *some = g_strdup_printf(ngettext("%u piece of work is put to a time by hand.",
                                                     "%u pieces of work are put to a time by hand.",
                                                     shop->n_pins),
                                            shop->n_pins);
    if (idle == 0)
        figure_set_note(length, "%s", some);
    else
        figure_set_note(length, "%s %s", some,
                        _("Not all of them are pieces of this session; those do nothing."));
}

// What the hours hold is found without pins: work put too late shows as a session too long, and no
// flask is dropped for it.
static gboolean
plan_session(const SessionShop *shop, const MeltResult *melt, SessionResult *result,
             FigureList *figures, Progress *progress, GError **error)
{
    SessionShop free_shop = *shop;
    free_shop.n_pins = 0;
    SessionFloor floor = session_shop_floor(&free_shop);
    SessionMost most;
    SessionBottleneck found;
    if (!session_floor_most(&floor, &most, progress, error) ||
        !session_bottleneck_find(&free_shop, most.moulds, &found, progress, error))
        return FALSE;
    int flasks = most.moulds;
    g_autoptr(SessionPlan) session = session_plan_of(shop, MAX(flasks, 1), TRUE, progress, error);
    if (!session)
        return FALSE;
    session_add_plan(shop, session, flasks > 0, figures);
    note_pins(shop, session, figures);
    session_add_idle(session, NULL, figures);
    session_add_sand(session, NULL, figures);
    session_add_dark(session, &(SessionLight){shop->light_from, shop->light_to}, figures);
    session_add_bound(&most, NULL, figures);
    session_add_bottleneck(&found, flasks, figures);
    result->loads = flasks > 0 ? session->loads : 0;
    result->flasks = flasks;
    result->boxes = shop->boxes;
    result->people = shop->people;
    result->furnaces = 1;
    result->benches = floor.benches;
    result->places = shop->places;
    result->bottleneck = g_strdup(session_bottleneck_word(found.which));
    SessionFloor pinned = session_shop_floor(shop);
    result->limits = session_limits_of(&pinned);
    if (flasks > 0)
        take_session(result, session, melt, figure_list_value(figures, "shop.ambient"));
    return TRUE;
}

// What of the warm-up only the first session of a new crucible has, s.
static double
find_tempering(const Inputs *inputs, const FigureList *figures)
{
    double holds = figure_list_value(figures, "melt.warmup_tempering");
    double saved = holds > 0.0 ? holds * inputs_number(inputs, "cruciblekind.temper_hold") : 0.0;
    return isfinite(saved) ? saved : 0.0;
}

// What the last of the sessions pours; by castings there can be one more than by flasks, as
// cavities fill whole flasks.
static int
find_rest(const SessionResult *result, const SessionLater *later, double flasks)
{
    int each = later->differs ? later->flasks : result->flasks;
    if (result->sessions == 1)
        return CLAMP((int)flasks, 1, result->flasks);
    return CLAMP((int)(flasks - result->flasks - (result->sessions - 2.0) * each), 1, each);
}

// The last session of the batch pours what is left over and may end sooner.
static gboolean
plan_last(const SessionShop *shop, const SessionLater *later, SessionResult *result,
          FigureList *figures, Progress *progress, GError **error)
{
    double flasks = figure_list_value(figures, "run.batch_flasks");
    result->last_length = NAN;
    if (result->sessions > 0 && isfinite(flasks)) {
        SessionShop free_shop = later->differs && result->sessions > 1 ? later->shop : *shop;
        free_shop.n_pins = 0;
        g_autoptr(SessionPlan) last = session_plan_of(&free_shop, find_rest(result, later, flasks),
                                                      FALSE, progress, error);
        if (!last)
            return FALSE;
        result->last_length = last->length;
    }
    session_add_last(result->last_length, figures);
    return TRUE;
}

// The first id the session lacks, or NULL when it can be planned.
static const char *
find_obstacle(const Inputs *inputs, const FigureList *figures, const MouldLayout *layout,
              const MeltResult *melt, const SessionLight *light, const char *dark)
{
    if (!layout || layout->n_cavities == 0)
        return "mould.cavities";
    if (!melt || melt->flasks_per_load < 1)
        return "melt.flasks_per_load";
    const char *missing = session_find_missing(figures, session_plan_ids);
    if (!missing)
        missing = dark ? dark : session_find_sand_lack(figures);
    if (missing)
        return missing;
    SessionShop shop = make_shop(inputs, figures, melt, layout, light);
    return session_shop_is_usable(&shop) ? NULL : "melt.heat_time";
}

SessionResult *
session_stage(const Inputs *inputs, const LearnResult *learn, const MouldLayout *layout,
              const FreezeResult *freeze, const MeltResult *melt, FigureList *figures,
              Progress *progress, GError **error)
{
    g_return_val_if_fail(inputs && figures, NULL);
    g_autoptr(SessionResult) result = session_result_new();
    inputs_give(inputs, figures);
    result->hours = figure_list_value(figures, "shop.hours");
    if (!session_add_batch(inputs, learn, result, figures, progress, error))
        return NULL;
    session_add_benches(inputs, figures);
    SessionLight light;
    const char *dark = session_add_light(inputs, &light, figures);
    const char *obstacle = find_obstacle(inputs, figures, layout, melt, &light, dark);
    SessionShop shop = {0};
    SessionLater later = {0};
    UnitSet units = inputs_units(inputs);
    // A text that cannot be read is the field's own error and pins nothing.
    g_autoptr(GArray) pins = session_pins_read(inputs_text(inputs, "job.pins"), &units, NULL);
    if (!pins)
        pins = session_pins_read(NULL, &units, NULL);
    if (obstacle) {
        session_add_no_plan(figures, obstacle);
        session_add_idle(NULL, obstacle, figures);
        session_add_sand(NULL, obstacle, figures);
        session_add_bound(NULL, obstacle, figures);
    } else {
        shop = make_shop(inputs, figures, melt, layout, &light);
        shop.pins = (const SessionPin *)(gpointer)pins->data;
        shop.n_pins = pins->len;
        if (!plan_session(&shop, melt, result, figures, progress, error))
            return NULL;
        result->castings = result->flasks * (int)(layout->n_cavities - layout->n_guests);
        if (result->flasks > 0 &&
            !session_later_find(&shop, result->flasks, find_tempering(inputs, figures), &later,
                                progress, error))
            return NULL;
        session_add_later(&later, figures);
    }
    result->sessions = session_add_count(figures);
    session_add_needs(inputs, figures);
    if (!plan_last(&shop, &later, result, figures, progress, error))
        return NULL;
    return g_steal_pointer(&result);
}
