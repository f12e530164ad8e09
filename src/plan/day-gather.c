// SPDX-License-Identifier: GPL-3.0-or-later
// From the plans of the jobs to what a day is made of: moulds and their times, and what each
// furnace with each crucible holds of each job's metal, by the stage "melt" itself.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "book/days.h"
#include "book/edit.h"
#include "plan/day-private.h"
#include "plan/plan-private.h"
#include "session/light.h"
#include "session/pinned.h"

// Loads are of one metal at one temperature: nearer than this is the same, K.
#define SAME_TEMPERATURE 0.5

DayMelt *
day_melt(const Day *day, guint furnace, guint crucible, guint job)
{
    return &day->melts[(furnace * day->crucibles->len + crucible) * day->n_jobs + job];
}

void
day_clear(Day *day)
{
    for (guint i = 0; day->jobs && i < day->n_jobs; i++)
        g_free(day->jobs[i].why);
    if (day->melts)
        for (guint i = 0; i < day->furnaces->len * day->crucibles->len * day->n_jobs; i++)
            if (day->melts[i].result)
                melt_result_unref(day->melts[i].result);
    g_free(day->jobs);
    g_free(day->melts);
    g_clear_pointer(&day->furnaces, g_ptr_array_unref);
    g_clear_pointer(&day->crucibles, g_ptr_array_unref);
    g_clear_pointer(&day->flasks, g_ptr_array_unref);
    g_clear_pointer(&day->pins, g_array_unref);
}

static double
get_value(const Plan *plan, const char *id)
{
    const Figure *figure = plan_figure(plan, id);
    return figure ? figure->value : NAN;
}

static int
get_count(const Plan *plan, const char *id)
{
    double value = get_value(plan, id);
    return value >= 0.0 && value < 1e6 ? (int)value : 0;
}

// The ids of a list of the shop; one that is not written down has the defaults and no id.
static gboolean
list_entries(const Day *day, const char *place, guint most, GPtrArray **ids, GError **error)
{
    const Node *list = node_get(book_root(day->book), place);
    *ids = g_ptr_array_new_with_free_func(g_free);
    for (guint i = 0; i < node_size(list); i++) {
        const char *id = node_text(node_member(node_at(list, i), "id"));
        if (id)
            g_ptr_array_add(*ids, g_strdup(id));
    }
    if ((*ids)->len == 0)
        g_ptr_array_add(*ids, g_strdup(""));
    if ((*ids)->len > most)
        return base_error_setf(
            error, BASE_ERROR_LIMIT, NULL, place, _("leave those out that are not used on the day"),
            _("%u are more than the %u a day is planned for"), (*ids)->len, most);
    return TRUE;
}

static int
find_id(const GPtrArray *ids, const char *id)
{
    for (guint i = 0; i < ids->len; i++)
        if (g_strcmp0(id ? id : "", g_ptr_array_index(ids, i)) == 0)
            return (int)i;
    return -1;
}

// The book with the job in another furnace and crucible.
static Book *
make_other(const Day *day, const char *job, const char *path, const char *id, const Book *book,
           GError **error)
{
    if (!*id)
        return book_ref(book);
    g_autoptr(Edit) edit = edit_field(book, job, field_find(path), id, day->tables, error);
    return edit ? edit_apply(book, edit, error) : NULL;
}

// The book with the crucible of the job as one that was heated before, where it is new.
static Book *
make_heated(const Day *day, const char *job, const char *crucible, const Book *book, GError **error)
{
    static const char *const paths[] = {"crucible.firings", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(book, job, day->tables, NULL, paths);
    gboolean heated = day->wish.heated && *crucible && g_strv_contains(day->wish.heated, crucible);
    if (!heated || inputs_number(inputs, paths[0]) >= 1.0)
        return book_ref(book);
    g_autoptr(Edit) edit = edit_field(book, job, field_find(paths[0]), "1", day->tables, error);
    return edit ? edit_apply(book, edit, error) : NULL;
}

// What the stage "melt" says of this job there.
static gboolean
find_melt(Day *day, guint furnace, guint crucible, guint job, GError **error)
{
    const Plan *plan = day->jobs[job].plan;
    const char *id = day->jobs[job].job;
    DayMelt *melt = day_melt(day, furnace, crucible, job);
    *melt = (DayMelt){.melt = NAN, .warm_up = NAN, .loss = NAN};
    g_autoptr(Book) in_furnace = make_other(
        day, id, "job.furnace", g_ptr_array_index(day->furnaces, furnace), day->book, error);
    const char *pot = g_ptr_array_index(day->crucibles, crucible);
    g_autoptr(Book) in_pot = in_furnace
                                 ? make_other(day, id, "job.crucible", pot, in_furnace, error)
                                 : NULL;
    g_autoptr(Book) book = in_pot ? make_heated(day, id, pot, in_pot, error) : NULL;
    if (!book)
        return FALSE;
    const LearnResult *learn = plan->entries[STAGE_LEARN] ? plan->entries[STAGE_LEARN]->result
                                                          : NULL;
    g_autoptr(Inputs) inputs = inputs_resolve(book, id, day->tables, learn ? learn->learned : NULL,
                                              melt_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    double kg = get_value(plan, "mould.metal_mass");
    figure_give(figures, "mould.metal_mass", "Metal in a flask", QUANTITY_MASS, kg, NULL,
                "definition");
    melt->result = melt_stage(inputs, plan_mould(plan), figures, NULL, error);
    if (!melt->result)
        return FALSE;
    const Figure *rules = figure_list_find(figures, "melt.crucible_rules");
    double pourable = figure_list_value(figures, "melt.pourable");
    gboolean allowed = rules && rules->state != FIGURE_FAILS && rules->state != FIGURE_UNKNOWN;
    // A crucible that may hold the metal but gives none of it is too small, not forbidden.
    melt->holds = allowed && isfinite(pourable) ? MAX(pourable, SESSION_LEAST_HOLDS) : 0.0;
    if (melt->result->flasks_per_load >= 1)
        melt->melt = melt->result->heat_time / (melt->result->flasks_per_load * kg);
    melt->warm_up = melt->result->warmup_time;
    melt->loss = figure_list_value(figures, "melt.loss");
    return TRUE;
}

static gboolean
find_melts(Day *day, Progress *progress, GError **error)
{
    day->melts = g_new0(DayMelt, day->furnaces->len * day->crucibles->len * day->n_jobs);
    for (guint f = 0; f < day->furnaces->len; f++)
        for (guint c = 0; c < day->crucibles->len; c++)
            for (guint j = 0; j < day->n_jobs; j++)
                if (!progress_check(progress, error) || !find_melt(day, f, c, j, error))
                    return FALSE;
    return TRUE;
}

static double
get_pouring(const Day *day, guint job)
{
    return get_value(day->jobs[job].plan, "job.pouring_temperature");
}

// The metal of a job: its id and how hot it is poured.
static gboolean
find_metal(Day *day, guint job, GError **error)
{
    DayJob *this = &day->jobs[job];
    const TableRow *row = plan_metal(this->plan);
    this->metal = -1;
    if (!row)
        return TRUE;
    this->family = table_row_family(row);
    for (guint i = 0; i < job; i++) {
        const TableRow *other = plan_metal(day->jobs[i].plan);
        if (other && g_str_equal(table_row_id(other), table_row_id(row)) &&
            fabs(get_pouring(day, i) - get_pouring(day, job)) < SAME_TEMPERATURE) {
            this->metal = day->jobs[i].metal;
            return TRUE;
        }
    }
    if (day->floor.n_metals == SESSION_MOST_METALS)
        return base_error_setf(error, BASE_ERROR_LIMIT, NULL, _("metals of the day"),
                               _("put some jobs on another day"),
                               _("more than %d metals and pouring temperatures"),
                               SESSION_MOST_METALS);
    this->metal = day->floor.n_metals++;
    day->floor.metals[this->metal] = table_row_name(row);
    return TRUE;
}

// What the plan lacks to be poured, or NULL. Free.
static char *
find_lack(const Plan *plan)
{
    static const char *const ids[] = {
        "mould.cavities",   "mould.metal_mass",      "feed.shakeout_time",     "people.ram_time",
        "people.pour_time", "people.shake_out_time", "job.pouring_temperature"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++) {
        const Figure *figure = plan_figure(plan, ids[i]);
        if (!figure || isnan(figure->value))
            return g_strdup_printf(_("its plan lacks %s; look at what is marked unknown"),
                                   figure && figure->missing ? figure->missing : ids[i]);
    }
    if (get_value(plan, "mould.cavities") < 1)
        return g_strdup(_("no cavity fits into its flask; choose a larger flask"));
    return plan_metal(plan) ? NULL : g_strdup(_("its metal is not chosen; choose one"));
}

static int
find_wanted(const Day *day, guint job)
{
    if (day->wish.moulds && day->wish.moulds[job] >= 0)
        return MIN(day->wish.moulds[job], SESSION_MOST_FLASKS);
    double wanted = get_value(day->jobs[job].plan, "run.batch_flasks");
    return wanted >= 0.0 ? (int)MIN(wanted, SESSION_MOST_FLASKS) : 0;
}

static gboolean
gather_job(Day *day, guint job, GError **error)
{
    DayJob *this = &day->jobs[job];
    this->job = plan_job(this->plan);
    this->kind = -1;
    if (!find_metal(day, job, error))
        return FALSE;
    this->why = find_lack(this->plan);
    this->cavities = get_count(this->plan, "mould.cavities");
    this->wanted = find_wanted(day, job);
    if (!this->why && this->wanted == 0)
        this->why = g_strdup(_("none of it is wanted on this day"));
    return TRUE;
}

// Where the wish does not say, by the book's clock times for a session that begins when the wish
// says or sessions do.
static gboolean
gather_light(Day *day, GError **error)
{
    static const char *const paths[] = {"shop.start", "shop.light_from", "shop.light_to", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(day->book, NULL, day->tables, NULL, paths);
    SessionLight light;
    int start = 0;
    for (guint i = 0; paths[i]; i++)
        if (inputs_error(inputs, paths[i]))
            return base_error_set(error, BASE_ERROR_VALUE, NULL, paths[i],
                                  inputs_error(inputs, paths[i]), NULL);
    if (!days_read_clock(inputs_text(inputs, "shop.start"), &start, error))
        return FALSE;
    if (day->wish.begins)
        start = *day->wish.begins;
    if (!session_light_find(inputs_text(inputs, "shop.light_from"),
                            inputs_text(inputs, "shop.light_to"), start, &light, error))
        return FALSE;
    double from = day->wish.light_from, to = day->wish.light_to;
    day->floor.light_from = isnan(from) ? light.from : MAX(from, 0.0);
    day->floor.light_to = isnan(to) ? light.to : to;
    return TRUE;
}

// What the shop has, from any plan: these fields are the same for all jobs.
static gboolean
gather_shop(Day *day, GError **error)
{
    const Plan *plan = day->jobs[0].plan;
    SessionFloor *floor = &day->floor;
    session_floor_init(floor);
    floor->hours = isnan(day->wish.hours) ? get_value(plan, "shop.hours") : day->wish.hours;
    floor->set_up = get_value(plan, "shop.set_up");
    floor->closing = get_value(plan, "shop.closing");
    floor->charge = get_value(plan, "people.charge_time");
    floor->skim = get_value(plan, "people.skim_time");
    floor->people = get_count(plan, "people.count");
    int benches = get_count(plan, "shop.benches"), places = get_count(plan, "shop.cooling_places");
    floor->benches = benches > 0 ? benches : floor->people;
    floor->places = places > 0 ? places : floor->places;
    double ready = get_value(plan, "shop.sand_ready"), rest = get_value(plan, "shop.sand_rest");
    floor->sand_ready = isnan(ready) ? INFINITY : ready;
    floor->sand_rest = isnan(rest) ? 0.0 : rest;
    if (!gather_light(day, error))
        return FALSE;
    UnitSet units = book_units(day->book);
    day->pins = session_pins_read(day->wish.pins, &units, error);
    if (!day->pins)
        return FALSE;
    floor->pins = (const SessionPin *)(gpointer)day->pins->data;
    floor->n_pins = day->pins->len;
    return TRUE;
}

static gboolean
check_plans(const Plan *const *plans, guint n, GError **error)
{
    if (n == 0)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, _("jobs of the day"),
                              _("there is none"), _("choose one job or more"));
    if (n > SESSION_MOST_KINDS)
        return base_error_setf(error, BASE_ERROR_LIMIT, NULL, _("jobs of the day"),
                               _("put some on another day"), _("%u are more than %d"), n,
                               SESSION_MOST_KINDS);
    for (guint i = 1; i < n; i++) {
        if (!node_equal(book_root(plan_book(plans[i])), book_root(plan_book(plans[0]))))
            return base_error_set(error, BASE_ERROR_VALUE, NULL, plan_job(plans[i]),
                                  _("its plan is of another book"), _("plan all jobs of one book"));
        for (guint j = 0; j < i; j++)
            if (g_str_equal(plan_job(plans[i]), plan_job(plans[j])))
                return base_error_set(error, BASE_ERROR_VALUE, NULL, plan_job(plans[i]),
                                      _("is there twice"), _("name each job once"));
    }
    return TRUE;
}

gboolean
day_gather(Day *day, const Plan *const *plans, Progress *progress, GError **error)
{
    if (!check_plans(plans, day->n_jobs, error))
        return FALSE;
    day->book = plan_book(plans[0]);
    day->jobs = g_new0(DayJob, day->n_jobs);
    for (guint i = 0; i < day->n_jobs; i++)
        day->jobs[i].plan = plans[i];
    if (!gather_shop(day, error) ||
        !list_entries(day, "/shop/furnaces", SESSION_MOST_FURNACES, &day->furnaces, error) ||
        !list_entries(day, "/shop/crucibles", DAY_MOST_CRUCIBLES, &day->crucibles, error) ||
        !list_entries(day, "/shop/flasks", 10000, &day->flasks, error))
        return FALSE;
    for (guint i = 0; i < day->n_jobs; i++)
        if (!gather_job(day, i, error))
            return FALSE;
    for (guint i = 0; i < day->n_jobs; i++) {
        const char *furnace = book_entry_id(day->book, day->jobs[i].job, "furnace");
        const char *crucible = book_entry_id(day->book, day->jobs[i].job, "crucible");
        int f = find_id(day->furnaces, furnace), c = find_id(day->crucibles, crucible);
        for (guint j = 0; i == 0 && j < SESSION_MOST_FURNACES; j++)
            day->pair[j] = -1;
        gboolean taken = FALSE;
        for (guint j = 0; j < SESSION_MOST_FURNACES; j++)
            taken = taken || day->pair[j] == c;
        if (f >= 0 && c >= 0 && day->pair[f] < 0 && !taken)
            day->pair[f] = c; // as the job has it
    }
    return find_melts(day, progress, error);
}
