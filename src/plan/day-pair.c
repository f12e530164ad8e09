// SPDX-License-Identifier: GPL-3.0-or-later
// Which crucible stands in which furnace, and which metal family each melts on this day. Every
// choice is tried while there are not too many, first the one the jobs name; what could pour most,
// were nothing ever to wait for anything, is taken.
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "plan/day-private.h"

#define MOST_CHOICES 256

typedef struct {
    Day *day;
    const char *families[SESSION_MOST_METALS]; // of the jobs
    int n_families;
    int pair[SESSION_MOST_FURNACES];   // crucible of each furnace; -1: none
    int family[SESSION_MOST_FURNACES]; // of each furnace
    // The best so far.
    int best_pair[SESSION_MOST_FURNACES], best_family[SESSION_MOST_FURNACES];
    double best;
    int choices;
    Progress *progress;
} Pairing;

// What the furnace gives of a metal in the crucible: the least and the slowest of its jobs, whose
// reserves may differ.
static void
fill_metal(const Pairing *p, guint furnace, int crucible, int metal, SessionFurnace *made)
{
    const Day *day = p->day;
    double holds = INFINITY, melt = 0.0;
    for (guint j = 0; j < day->n_jobs; j++) {
        const DayJob *job = &day->jobs[j];
        if (job->metal != metal || job->why)
            continue;
        const DayMelt *m = day_melt(day, furnace, (guint)crucible, j);
        if (g_strcmp0(job->family, p->families[p->family[furnace]]) != 0)
            return;
        holds = MIN(holds, m->holds);
        if (isfinite(m->melt))
            melt = MAX(melt, m->melt);
        if (holds > 0.0 && isfinite(m->warm_up))
            made->warm_up = MAX(made->warm_up, m->warm_up);
    }
    made->holds[metal] = isfinite(holds) ? holds : 0.0;
    made->melt[metal] = melt;
}

static void
fill_floor(const Pairing *p, SessionFloor *floor, int furnace_of[SESSION_MOST_FURNACES])
{
    const Day *day = p->day;
    floor->n_furnaces = 0;
    for (guint f = 0; f < day->furnaces->len; f++) {
        SessionFurnace made = {.name = g_ptr_array_index(day->furnaces, f)};
        if (p->pair[f] < 0)
            continue;
        for (int m = 0; m < floor->n_metals; m++)
            fill_metal(p, f, p->pair[f], m, &made);
        furnace_of[floor->n_furnaces] = (int)f;
        floor->furnaces[floor->n_furnaces++] = made;
    }
}

// FALSE only when stopped.
static gboolean
rate_choice(Pairing *p, GError **error)
{
    SessionFloor floor = p->day->floor;
    int furnace_of[SESSION_MOST_FURNACES];
    SessionBound bound;
    p->choices++;
    fill_floor(p, &floor, furnace_of);
    if (!session_bound(&floor, &bound, p->progress, error))
        return FALSE;
    if (bound.worth <= p->best + 1e-6)
        return TRUE;
    p->best = bound.worth;
    memcpy(p->best_pair, p->pair, sizeof p->pair);
    memcpy(p->best_family, p->family, sizeof p->family);
    return TRUE;
}

// Whether the crucible bears some job's metal of the family there.
static gboolean
bears(const Pairing *p, guint furnace, int crucible, int family)
{
    for (guint j = 0; j < p->day->n_jobs; j++)
        if (g_strcmp0(p->day->jobs[j].family, p->families[family]) == 0 &&
            day_melt(p->day, furnace, (guint)crucible, j)->holds > 0.0)
            return TRUE;
    return FALSE;
}

static gboolean
try_families(Pairing *p, guint furnace, GError **error)
{
    if (p->choices >= MOST_CHOICES)
        return TRUE;
    if (furnace == p->day->furnaces->len)
        return rate_choice(p, error);
    gboolean any = FALSE;
    for (int family = 0; family < p->n_families; family++) {
        if (p->pair[furnace] < 0 || !bears(p, furnace, p->pair[furnace], family))
            continue;
        any = TRUE;
        p->family[furnace] = family;
        if (!try_families(p, furnace + 1, error))
            return FALSE;
    }
    p->family[furnace] = 0;
    return any || try_families(p, furnace + 1, error);
}

static gboolean
is_used(const Pairing *p, guint furnaces, int crucible)
{
    for (guint f = 0; f < furnaces; f++)
        if (p->pair[f] == crucible)
            return TRUE;
    return FALSE;
}

// A crucible for each furnace while there are any, in every way.
static gboolean
try_pairs(Pairing *p, guint furnace, guint left, GError **error)
{
    guint rest = p->day->furnaces->len - furnace;
    if (p->choices >= MOST_CHOICES)
        return TRUE;
    if (rest == 0)
        return try_families(p, 0, error);
    for (guint c = 0; c < p->day->crucibles->len && left > 0; c++) {
        if (is_used(p, furnace, (int)c))
            continue;
        p->pair[furnace] = (int)c;
        if (!try_pairs(p, furnace + 1, left - 1, error))
            return FALSE;
    }
    p->pair[furnace] = -1;
    return rest <= left || try_pairs(p, furnace + 1, left, error);
}

static void
list_families(Pairing *p)
{
    for (guint j = 0; j < p->day->n_jobs; j++) {
        const char *family = p->day->jobs[j].family;
        int i = 0;
        while (i < p->n_families && g_strcmp0(p->families[i], family) != 0)
            i++;
        if (family && i == p->n_families && i < SESSION_MOST_METALS)
            p->families[p->n_families++] = family;
    }
}

// Furnaces the jobs do not name take the crucibles that are left.
static void
complete_pairs(Pairing *p)
{
    memcpy(p->pair, p->day->pair, sizeof p->pair);
    for (guint f = 0; f < p->day->furnaces->len; f++)
        for (guint c = 0; c < p->day->crucibles->len && p->pair[f] < 0; c++)
            if (!is_used(p, p->day->furnaces->len, (int)c))
                p->pair[f] = (int)c;
}

static SessionMould
make_mould(const Day *day, guint job)
{
    const Plan *plan = day->jobs[job].plan;
    const char *shares[4] = {"people.share_drag", "people.share_cope", "people.share_draw",
                             "people.share_shut"};
    const double usual[4] = {SESSION_SHARE_DRAG, SESSION_SHARE_COPE, SESSION_SHARE_DRAW,
                             SESSION_SHARE_SHUT};
    const Figure *rate = plan_figure(plan, "run.good_rate");
    const Figure *sand = plan_figure(plan, "mould.sand_mass");
    SessionMould mould = {.name = book_job_name(day->book, day->jobs[job].job),
                          .job = (int)job,
                          .metal = day->jobs[job].metal,
                          .kg = plan_figure(plan, "mould.metal_mass")->value,
                          .sand = sand && isfinite(sand->value) ? sand->value : 0.0,
                          .pour = plan_figure(plan, "people.pour_time")->value,
                          .cool = plan_figure(plan, "feed.shakeout_time")->value,
                          .shake_out = plan_figure(plan, "people.shake_out_time")->value,
                          .worth = day->jobs[job].cavities *
                                   (rate && rate->value > 0.0 ? rate->value : 1.0),
                          .wanted = day->jobs[job].wanted};
    double sum = 0.0, ram = plan_figure(plan, "people.ram_time")->value;
    for (int i = 0; i < 4; i++) {
        const Figure *share = plan_figure(plan, shares[i]);
        mould.ram[i] = share && share->value >= 0.0 ? share->value : 0.0;
        sum += mould.ram[i];
    }
    for (int i = 0; i < 4; i++)
        mould.ram[i] = ram * (sum > 0.0 ? mould.ram[i] / sum : usual[i]);
    return mould;
}

// The kind of box of a job's flask, made when it is the first to use it. -1: too many kinds.
static int
find_box(Day *day, guint job, int box_of[SESSION_MOST_BOX_KINDS])
{
    const char *id = book_entry_id(day->book, day->jobs[job].job, "flask");
    int at = 0, flask = 0;
    for (guint i = 0; i < day->flasks->len; i++)
        if (g_strcmp0(id ? id : "", g_ptr_array_index(day->flasks, i)) == 0)
            flask = (int)i;
    while (at < day->floor.n_boxes && box_of[at] != flask)
        at++;
    if (at == SESSION_MOST_BOX_KINDS)
        return -1;
    if (at == day->floor.n_boxes) {
        const Figure *count = plan_figure(day->jobs[job].plan, "flask.count");
        box_of[day->floor.n_boxes] = flask;
        day->floor.boxes[day->floor.n_boxes++] = count && count->value >= 1.0 ? (int)count->value
                                                                              : 0;
    }
    return at;
}

// All kinds first, so that pairing knows them.
static gboolean
add_kinds(Day *day, GError **error)
{
    int box_of[SESSION_MOST_BOX_KINDS];
    for (guint j = 0; j < day->n_jobs; j++) {
        if (day->jobs[j].why)
            continue;
        SessionMould mould = make_mould(day, j);
        mould.box = find_box(day, j, box_of);
        if (mould.box < 0)
            return base_error_setf(error, BASE_ERROR_LIMIT, NULL, "flasks",
                                   "put some jobs on another day", "more than %d kinds are used",
                                   SESSION_MOST_BOX_KINDS);
        day->jobs[j].kind = day->floor.n_kinds;
        day->floor.kinds[day->floor.n_kinds++] = mould;
    }
    return TRUE;
}

// Kinds that cannot be poured are taken out and say why.
static void
drop_kinds(Day *day)
{
    SessionFloor *floor = &day->floor;
    int kept = 0;
    for (guint j = 0; j < day->n_jobs; j++) {
        DayJob *job = &day->jobs[j];
        g_autoptr(GError) error = NULL;
        if (job->kind < 0)
            continue;
        SessionMould mould = floor->kinds[job->kind];
        if (session_floor_check_kind(floor, job->kind, &error)) {
            job->kind = kept;
            floor->kinds[kept++] = mould;
            continue;
        }
        job->why = g_strdup(error->message);
        job->kind = -1;
    }
    floor->n_kinds = kept;
}

gboolean
day_pair(Day *day, Progress *progress, GError **error)
{
    Pairing p = {.day = day, .best = -1.0, .progress = progress};
    if (!add_kinds(day, error))
        return FALSE;
    list_families(&p);
    complete_pairs(&p);
    memcpy(p.best_pair, p.pair, sizeof p.pair);
    if (day->floor.n_kinds > 0 &&
        (!try_families(&p, 0, error) || !try_pairs(&p, 0, day->crucibles->len, error)))
        return FALSE;
    memcpy(p.pair, p.best_pair, sizeof p.pair);
    memcpy(p.family, p.best_family, sizeof p.family);
    fill_floor(&p, &day->floor, day->furnace_of);
    memcpy(day->pair, p.pair, sizeof p.pair);
    drop_kinds(day);
    return TRUE;
}
