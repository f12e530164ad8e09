// SPDX-License-Identifier: GPL-3.0-or-later
// What a floor is, whether it can be worked on, and what one load asks of it.
#include "session/floor.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

// A crucible filled to the last gram holds it: shares and sums of masses round.
#define ROUNDING 1e-9

void
session_floor_init(SessionFloor *floor)
{
    g_return_if_fail(floor);
    *floor = (SessionFloor){.sand_ready = INFINITY,
                            .light_to = INFINITY,
                            .people = 1,
                            .benches = G_MAXINT,
                            .places = G_MAXINT};
}

int
session_count(const SessionFloor *floor, const int *counts)
{
    int moulds = 0;
    for (int i = 0; i < floor->n_kinds; i++)
        moulds += counts[i];
    return moulds;
}

double
session_mould_ram(const SessionMould *mould)
{
    return mould->ram[0] + mould->ram[1] + mould->ram[2] + mould->ram[3];
}

double
session_mould_work(const SessionMould *mould)
{
    return session_mould_ram(mould) + mould->pour;
}

double
session_floor_pin(const SessionFloor *floor, TaskKind kind, int number)
{
    double at = 0.0;
    for (guint i = 0; i < floor->n_pins; i++)
        if (floor->pins[i].kind == kind && floor->pins[i].number == number)
            at = MAX(at, floor->pins[i].at);
    return at;
}

int
session_floor_wanted(const SessionFloor *floor)
{
    int wanted = 0;
    for (int i = 0; i < floor->n_kinds; i++)
        wanted += MIN(MAX(floor->kinds[i].wanted, 0), SESSION_MOST_FLASKS);
    return MIN(wanted, SESSION_MOST_FLASKS);
}

int
session_load_moulds(const SessionFloor *floor, const SessionLoad *load)
{
    int moulds = 0;
    for (int i = 0; i < floor->n_kinds; i++)
        moulds += load->count[i];
    return moulds;
}

double
session_load_kg(const SessionFloor *floor, const SessionLoad *load)
{
    double kg = 0.0;
    for (int i = 0; i < floor->n_kinds; i++)
        kg += load->count[i] * floor->kinds[i].kg;
    return kg;
}

double
session_load_melt(const SessionFloor *floor, const SessionLoad *load, int furnace)
{
    if (load->only > 0)
        return load->melt;
    return session_load_kg(floor, load) * floor->furnaces[furnace].melt[load->metal];
}

gboolean
session_load_suits(const SessionFloor *floor, const SessionLoad *load, int furnace)
{
    double holds = floor->furnaces[furnace].holds[load->metal];
    if (load->only > 0)
        return load->only == furnace + 1;
    return holds > 0.0 && session_load_kg(floor, load) <= holds * (1.0 + ROUNDING);
}

gboolean
session_load_is_possible(const SessionFloor *floor, const SessionLoad *load)
{
    int in_box[SESSION_MOST_BOX_KINDS] = {0};
    double sand = 0.0;
    for (int i = 0; i < floor->n_kinds; i++) {
        if (load->count[i] > 0 && floor->kinds[i].metal != load->metal)
            return FALSE;
        in_box[floor->kinds[i].box] += load->count[i];
        sand += load->count[i] * floor->kinds[i].sand;
    }
    for (int i = 0; i < floor->n_boxes; i++)
        if (in_box[i] > floor->boxes[i])
            return FALSE;
    if (sand > floor->sand_ready * (1.0 + ROUNDING) ||
        session_load_moulds(floor, load) > floor->places)
        return FALSE;
    for (int i = 0; i < floor->n_furnaces; i++)
        if (session_load_suits(floor, load, i))
            return TRUE;
    return FALSE;
}

static gboolean
is_time(double time)
{
    return isfinite(time) && time >= 0.0;
}

static const char *
get_name(const char *name)
{
    return name ? name : _("one kind");
}

static gboolean
refuse(GError **error, const char *place, const char *what, const char *remedy)
{
    return base_error_set(error, BASE_ERROR_VALUE, NULL, place, what, remedy);
}

static gboolean
check_times(const SessionFloor *floor, GError **error)
{
    if (!is_time(floor->hours))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, _("hours in a session"),
                               _("give the time from unlocking to locking"), _("%g s is no time"),
                               floor->hours);
    const struct {
        double time;
        const char *place;
    } times[] = {{floor->set_up, _("setting up")},
                 {floor->closing, _("closing")},
                 {floor->charge, _("charging")},
                 {floor->skim, _("skimming")}};
    for (guint i = 0; i < G_N_ELEMENTS(times); i++)
        if (!is_time(times[i].time))
            return base_error_setf(error, BASE_ERROR_VALUE, NULL, times[i].place,
                                   _("give a time of 0 or more"), _("%g s is no time"),
                                   times[i].time);
    if (floor->set_up + floor->closing >= floor->hours)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, _("hours in a session"),
                               _("give more hours, or less for setting up and closing"),
                               _("%g min of setting up and closing leave nothing of %g min"),
                               (floor->set_up + floor->closing) / 60.0, floor->hours / 60.0);
    if (!(floor->light_to > floor->light_from) || !(floor->sand_rest >= 0.0) ||
        !(floor->sand_ready >= 0.0))
        return refuse(error, _("daylight and sand"),
                      _("daylight that ends before it begins, or sand below nothing"),
                      _("correct them or leave them blank"));
    return TRUE;
}

static gboolean
check_counts(const SessionFloor *floor, GError **error)
{
    if (floor->people < 1)
        return refuse(error, _("people"), _("nobody is there"), _("give one person or more"));
    if (floor->benches < 1)
        return refuse(error, _("moulding benches"), _("there is none to ram on"),
                      _("give one bench or more"));
    if (floor->places < 1)
        return refuse(error, _("cooling places"), _("there is nowhere for a mould to cool"),
                      _("give one place or more"));
    if (floor->n_furnaces < 1)
        return refuse(error, _("furnaces"), _("there is none with a crucible"),
                      _("add a furnace and a crucible to the shop"));
    for (int i = 0; i < floor->n_furnaces; i++) {
        const SessionFurnace *furnace = &floor->furnaces[i];
        gboolean good = is_time(furnace->warm_up);
        for (int j = 0; j < floor->n_metals; j++)
            good = good && !(furnace->holds[j] > 0.0 && !is_time(furnace->melt[j]));
        if (!good)
            return refuse(error, get_name(furnace->name),
                          _("its warm-up or melting is not a time of 0 or more"),
                          _("look at its power and its warm-up rate"));
    }
    return TRUE;
}

static gboolean
check_mould(const SessionMould *mould, GError **error)
{
    gboolean good = is_time(mould->pour) && is_time(mould->cool) && is_time(mould->shake_out);
    for (int i = 0; i < 4; i++)
        good = good && is_time(mould->ram[i]);
    if (!good)
        return refuse(error, get_name(mould->name),
                      _("a time of its moulds is negative or unknown"),
                      _("give ramming, pouring, cooling and shaking out as times of 0 or more"));
    if (!(isfinite(mould->kg) && mould->kg > 0.0))
        return refuse(error, get_name(mould->name), _("its moulds take no metal"),
                      _("look at the mould: no cavity may fit"));
    if (!(isfinite(mould->sand) && mould->sand >= 0.0) ||
        !(isfinite(mould->worth) && mould->worth > 0.0))
        return refuse(error, get_name(mould->name),
                      _("sand or castings of a mould are not a number above 0"),
                      _("look at the mould"));
    return TRUE;
}

// The most any crucible gives of this metal; 0 when none may hold it.
static double
find_largest(const SessionFloor *floor, int metal)
{
    double most = 0.0;
    for (int i = 0; i < floor->n_furnaces; i++)
        most = MAX(most, floor->furnaces[i].holds[metal]);
    return most;
}

static gboolean
check_crucible(const SessionFloor *floor, const SessionMould *mould, GError **error)
{
    const char *metal = floor->metals[mould->metal] ? floor->metals[mould->metal] : _("its metal");
    double most = find_largest(floor, mould->metal);
    if (!(most > 0.0))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, get_name(mould->name),
                               _("take a crucible that bears it and has melted no other family"),
                               _("%s may go into none of the crucibles"), metal);
    if (most <= SESSION_LEAST_HOLDS)
        return base_error_setf(
            error, BASE_ERROR_VALUE, NULL, get_name(mould->name), _("take a larger crucible"),
            _("no crucible gives any %s once loss, heel and reserve are taken off"), metal);
    if (mould->kg > most * (1.0 + ROUNDING))
        return base_error_setf(
            error, BASE_ERROR_VALUE, NULL, get_name(mould->name),
            _("take a crucible that gives that much, or fewer cavities in a mould"),
            _("one mould takes %.3g kg of %s, and the largest crucible gives %.3g kg"), mould->kg,
            metal, most);
    return TRUE;
}

gboolean
session_floor_check_kind(const SessionFloor *floor, int kind, GError **error)
{
    g_return_val_if_fail(floor && kind >= 0 && kind < floor->n_kinds, FALSE);
    const SessionMould *mould = &floor->kinds[kind];
    if (mould->metal < 0 || mould->metal >= floor->n_metals || mould->box < 0 ||
        mould->box >= floor->n_boxes)
        return refuse(error, get_name(mould->name), _("its metal or flask is not in the shop"),
                      _("choose others"));
    if (!check_mould(mould, error))
        return FALSE;
    if (floor->boxes[mould->box] < 1)
        return refuse(error, get_name(mould->name), _("no flask of its kind is free"),
                      _("add one to the shop, or mould it in another kind"));
    if (mould->sand > floor->sand_ready)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, get_name(mould->name),
                               _("prepare more sand, or take a smaller flask"),
                               _("one mould takes %.3g kg of sand, and %.3g kg is ready"),
                               mould->sand, floor->sand_ready);
    return check_crucible(floor, mould, error);
}

gboolean
session_floor_check_shop(const SessionFloor *floor, GError **error)
{
    g_return_val_if_fail(floor, FALSE);
    return check_times(floor, error) && check_counts(floor, error);
}

gboolean
session_floor_check(const SessionFloor *floor, GError **error)
{
    g_return_val_if_fail(floor, FALSE);
    if (!session_floor_check_shop(floor, error))
        return FALSE;
    if (floor->n_kinds < 1)
        return refuse(error, _("moulds"), _("there is nothing to mould"), _("choose a job"));
    for (int i = 0; i < floor->n_kinds; i++)
        if (!session_floor_check_kind(floor, i, error))
            return FALSE;
    return TRUE;
}
