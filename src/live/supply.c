// SPDX-License-Identifier: GPL-3.0-or-later
// Adds up a day's loads and says what was counted from notes and what from the plan.
#include "live/supply.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "live/shelf.h"

void
live_supply_clear(LiveSupply *supply)
{
    g_clear_pointer(&supply->stock, g_free);
    g_clear_pointer(&supply->stock_place, g_free);
    g_clear_pointer(&supply->firings, g_free);
    g_clear_pointer(&supply->firings_place, g_free);
    g_clear_pointer(&supply->words, g_free);
}

typedef struct {
    const LiveJob *job;      // of its first mould; NULL: not known
    int moulds;              // planned
    gboolean used;           // charged or poured from
    double charged, returns; // kg; NAN: not known
    gboolean planned;        // some of it is not noted
} Load;

static void
add_charge(Load *load, const LiveTask *task)
{
    load->used = load->used || task->state == LIVE_OVER;
    if (task->state == LIVE_OVER && isfinite(task->mass))
        load->charged = task->mass;
}

static void
add_pour(const LiveDay *day, Load *load, const LiveTask *task)
{
    const LiveJob *job = live_sheet_job(day->sheet, task->task);
    load->moulds++;
    if (!load->job)
        load->job = job;
    if (task->state != LIVE_OVER)
        return;
    load->used = TRUE;
    gboolean noted = isfinite(task->mass);
    double poured = noted ? task->mass : (job ? job->mould_mass : NAN);
    load->planned = load->planned || !noted;
    load->returns += job ? fmax(0, poured - job->cavities * job->casting_mass) : NAN;
    if (job && isnan(poured - job->casting_mass)) // fmax() drops what is not known
        load->returns = NAN;
}

// One a load, in order. Free with g_array_unref.
static GArray *
list_loads(const LiveDay *day)
{
    GArray *loads = g_array_new(FALSE, TRUE, sizeof(Load));
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *task = &day->tasks[i];
        if (task->task->load < 0 || task->task->load > 9999)
            continue;
        while (loads->len <= (guint)task->task->load) {
            Load empty = {.charged = NAN};
            g_array_append_val(loads, empty);
        }
        Load *load = &g_array_index(loads, Load, task->task->load);
        if (task->task->kind == TASK_CHARGE)
            add_charge(load, task);
        else if (task->task->kind == TASK_POUR)
            add_pour(day, load, task);
    }
    return loads;
}

// A smaller load is charged with its share of a full one, of whose mass the sheet knows that of its
// first job.
static void
fill_planned(const LiveDay *day, GArray *loads)
{
    int full = 0;
    const char *metal = day->sheet->n_jobs > 0 ? day->sheet->jobs[0].metal : NULL;
    for (guint i = 0; i < loads->len; i++)
        full = MAX(full, g_array_index(loads, Load, i).moulds);
    for (guint i = 0; i < loads->len; i++) {
        Load *load = &g_array_index(loads, Load, i);
        if (!load->used || isfinite(load->charged))
            continue;
        load->planned = TRUE;
        if (load->job && full > 0 && g_strcmp0(load->job->metal, metal) == 0)
            load->charged = day->sheet->charge_mass * load->moulds / full;
    }
}

// Text of a field of a job as it stands in the book, else its default. Free.
static char *
read_field(const Book *book, const char *job, const char *path)
{
    const Field *field = field_find(path);
    char *text = book_has_job(book, job) ? edit_field_text(book, job, field) : NULL;
    return text ? text : g_strdup(field->fallback);
}

static double
take_load(LiveShelf *shelf, const Book *book, const Load *load)
{
    UnitSet units = book_units(book);
    double share = NAN;
    g_autofree char *most = read_field(book, load->job->id, "job.returns_share");
    g_autofree char *from = read_field(book, load->job->id, "job.charge_from");
    if (!quantity_parse(QUANTITY_RATIO, most, &units, &share, NULL))
        share = 0;
    return live_shelf_take(shelf, load->job->metal, load->charged, share,
                           g_strcmp0(from, "any") == 0);
}

static void
add_words(LiveSupply *supply, const char *words)
{
    char *before = supply->words;
    supply->words = before ? g_strdup_printf("%s %s", before, words) : g_strdup(words);
    g_free(before);
}

typedef struct {
    double charged, returns, missing;
    gboolean planned;
} Sums;

// FALSE when the mass or metal of a load is neither noted nor planned.
static gboolean
change_shelf(LiveShelf *shelf, const Book *book, const GArray *loads, Sums *sums)
{
    for (guint i = 0; i < loads->len; i++) {
        const Load *load = &g_array_index(loads, Load, i);
        if (!load->used)
            continue;
        if (!load->job || !load->job->metal || !(load->charged >= 0) || !(load->returns >= 0))
            return FALSE;
        sums->missing += take_load(shelf, book, load);
        sums->charged += load->charged;
        sums->returns += load->returns;
        sums->planned = sums->planned || load->planned;
    }
    // Returns are cold only when the day is over.
    for (guint i = 0; i < loads->len; i++) {
        const Load *load = &g_array_index(loads, Load, i);
        if (load->used)
            live_shelf_give(shelf, load->job->metal, load->returns);
    }
    return TRUE;
}

static void
tell_stock(LiveSupply *supply, const Sums *sums, const UnitSet *units)
{
    g_autofree char *charged = quantity_format(QUANTITY_MASS, sums->charged, units);
    g_autofree char *returns = quantity_format(QUANTITY_MASS, sums->returns, units);
    g_autofree char *words = g_strdup_printf(_("Metal in stock: %s charged taken off, %s returns "
                                               "put on; what stayed in the crucible is not "
                                               "counted."),
                                             charged, returns);
    add_words(supply, words);
    if (sums->planned)
        add_words(supply, _("Where no mass was noted the planned one was taken."));
    if (sums->missing > 0.0005) {
        g_autofree char *missing = quantity_format(QUANTITY_MASS, sums->missing, units);
        g_autofree char *more = g_strdup_printf(_("%s of the charge was not in the stock listed."),
                                                missing);
        add_words(supply, more);
    }
}

static void
find_stock(const Book *book, const LiveDay *day, const GArray *loads, LiveSupply *supply)
{
    const Field *field = field_find("shop.stock");
    g_autofree char *text = edit_field_text(book, NULL, field);
    UnitSet units = book_units(book);
    if (!text)
        return;
    g_autoptr(LiveShelf) shelf = live_shelf_new(text, &units);
    Sums sums = {0};
    g_autofree char *changed = NULL;
    if (shelf && change_shelf(shelf, book, loads, &sums))
        changed = live_shelf_text(shelf);
    if (!changed) {
        add_words(supply, _("The metal in stock is left as it was: a mass or a metal of the day "
                            "is not known, or the stock cannot be read."));
        return;
    }
    if (!(sums.charged > 0) && !(sums.returns > 0))
        return;
    supply->stock = g_steal_pointer(&changed);
    supply->stock_place = edit_field_place(book, NULL, field);
    tell_stock(supply, &sums, &units);
}

// Cold starts or melts of the day, as the crucible counts them.
static guint
count_firings(const LiveDay *day, const GArray *loads, const Node *crucible)
{
    guint melts = 0;
    gboolean warmed = FALSE;
    for (guint i = 0; i < loads->len; i++)
        melts += g_array_index(loads, Load, i).used ? 1 : 0;
    for (guint i = 0; i < day->n_tasks; i++)
        warmed = warmed ||
                 (day->tasks[i].task->kind == TASK_WARM_UP && day->tasks[i].state == LIVE_OVER);
    if (g_strcmp0(node_text(node_member(crucible, "counts")), "melt") == 0)
        return melts;
    return melts > 0 || warmed ? 1 : 0;
}

static void
find_firings(const Book *book, const LiveDay *day, const GArray *loads, LiveSupply *supply)
{
    const Field *field = field_find("crucible.firings");
    const char *place = field_section_place("crucible", NULL);
    const Node *list = node_get(book_root(book), place);
    UnitSet units = book_units(book);
    for (guint i = 0; i < node_size(list); i++) {
        const Node *one = node_at(list, i);
        g_autofree char *text = NULL;
        double before = NAN;
        if (!day->sheet->crucible ||
            g_strcmp0(node_text(node_member(one, "id")), day->sheet->crucible) != 0)
            continue;
        guint more = count_firings(day, loads, one);
        if (more == 0 || !field_node_text(field, node_member(one, "firings"), &text, NULL) ||
            !text || !quantity_parse(QUANTITY_COUNT, text, &units, &before, NULL) ||
            !(before >= field->min && before + more <= field->max))
            return;
        supply->firings = g_strdup_printf("%.0f", before + more);
        supply->firings_place = g_strdup_printf("%s/%u/%s", place, i, field_member(field->path));
        g_autofree char *words = g_strdup_printf(_("Firings of the crucible: now %s."),
                                                 supply->firings);
        add_words(supply, words);
        return;
    }
}

LiveSupply
live_supply_of(const Book *book, const LiveDay *day)
{
    LiveSupply supply = {0};
    g_return_val_if_fail(book != NULL && day != NULL, supply);
    g_autoptr(GArray) loads = list_loads(day);
    fill_planned(day, loads);
    find_stock(book, day, loads, &supply);
    find_firings(book, day, loads, &supply);
    return supply;
}
