// SPDX-License-Identifier: GPL-3.0-or-later
// Adds up a day's loads and says what was counted from notes and what from the plan.
#include "live/supply.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "live/shelf.h"

void
live_supply_clear(LiveSupply *supply)
{
    g_clear_pointer(&supply->changes, g_array_unref);
    g_clear_pointer(&supply->words, g_free);
}

static void
clear_change(gpointer data)
{
    LiveChange *change = data;
    g_free(change->place);
    g_free(change->text);
}

// Takes both over.
static void
add_change(LiveSupply *supply, char *place, char *text)
{
    LiveChange change = {place, text};
    g_array_append_val(supply->changes, change);
}

typedef struct {
    const LiveJob *job;      // of its first mould; NULL: not known
    LiveLoad known;          // as planned
    int furnace;             // of the shop floor; -1: not known
    gboolean used;           // charged or poured from
    double charged, returns; // kg; NAN: not known
    gboolean planned;        // some of it is not noted
} Load;

static void
add_charge(Load *load, const LiveTask *task)
{
    load->used = load->used || task->state == LIVE_OVER;
    load->furnace = task->task->furnace;
    if (task->state == LIVE_OVER && isfinite(task->mass))
        load->charged = task->mass;
}

// Of one mould, those of a job that shares the flask with them.
static double
weigh_castings(const LiveJob *job)
{
    double guests = job->guests > 0 ? job->guests * job->guest_mass : 0;
    return job->cavities * job->casting_mass + guests;
}

static void
add_pour(const LiveDay *day, Load *load, const LiveTask *task)
{
    const LiveJob *job = live_sheet_job(day->sheet, task->task);
    if (!load->job)
        load->job = job;
    if (task->state != LIVE_OVER)
        return;
    load->used = TRUE;
    gboolean noted = isfinite(task->mass);
    double poured = noted ? task->mass : (job ? job->mould_mass : NAN);
    load->planned = load->planned || !noted;
    double rest = job ? poured - weigh_castings(job) : NAN;
    load->returns += rest < 0 ? 0 : rest;
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
            Load empty = {.charged = NAN,
                          .furnace = -1,
                          .known = live_sheet_load(day->sheet, (int)loads->len)};
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

static void
fill_planned(GArray *loads)
{
    for (guint i = 0; i < loads->len; i++) {
        Load *load = &g_array_index(loads, Load, i);
        if (!load->used || isfinite(load->charged))
            continue;
        load->planned = TRUE;
        load->charged = load->known.charge_mass;
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

// What a day did with one metal, kg.
typedef struct {
    const char *metal;
    double charged, returns, missing;
} Sum;

static Sum *
find_sum(GArray *sums, const char *metal)
{
    for (guint i = 0; i < sums->len; i++)
        if (g_str_equal(g_array_index(sums, Sum, i).metal, metal))
            return &g_array_index(sums, Sum, i);
    Sum sum = {.metal = metal};
    g_array_append_val(sums, sum);
    return &g_array_index(sums, Sum, sums->len - 1);
}

// FALSE when the mass or metal of a load is neither noted nor planned.
static gboolean
change_shelf(LiveShelf *shelf, const Book *book, const GArray *loads, GArray *sums)
{
    for (guint i = 0; i < loads->len; i++) {
        const Load *load = &g_array_index(loads, Load, i);
        if (!load->used)
            continue;
        if (!load->job || !load->job->metal || !(load->charged >= 0) || !(load->returns >= 0))
            return FALSE;
        Sum *sum = find_sum(sums, load->job->metal);
        sum->missing += take_load(shelf, book, load);
        sum->charged += load->charged;
        sum->returns += load->returns;
    }
    // Returns are cold only when the day is over.
    for (guint i = 0; i < sums->len; i++)
        live_shelf_give(shelf, g_array_index(sums, Sum, i).metal,
                        g_array_index(sums, Sum, i).returns);
    return TRUE;
}

static void
tell_sum(LiveSupply *supply, const Sum *sum, gboolean several, const UnitSet *units)
{
    g_autofree char *charged = quantity_format(QUANTITY_MASS, sum->charged, units);
    g_autofree char *returns = quantity_format(QUANTITY_MASS, sum->returns, units);
    g_autofree char *words =
        several ? g_strdup_printf(_("Metal in stock, %s: %s charged taken off, %s returns put on."),
                                  sum->metal, charged, returns)
                : g_strdup_printf(_("Metal in stock: %s charged taken off, %s returns put on."),
                                  charged, returns);
    add_words(supply, words);
    if (sum->missing <= 0.0005)
        return;
    g_autofree char *missing = quantity_format(QUANTITY_MASS, sum->missing, units);
    g_autofree char *more = g_strdup_printf(_("%s of the charge was not in the stock listed."),
                                            missing);
    add_words(supply, more);
}

static void
tell_stock(LiveSupply *supply, const GArray *sums, const GArray *loads, const UnitSet *units)
{
    gboolean planned = FALSE;
    for (guint i = 0; i < sums->len; i++)
        tell_sum(supply, &g_array_index(sums, Sum, i), sums->len > 1, units);
    for (guint i = 0; i < loads->len; i++)
        planned = planned || g_array_index(loads, Load, i).planned;
    add_words(supply, _("What stayed in the crucible is not counted."));
    if (planned)
        add_words(supply, _("Where no mass was noted the planned one was taken."));
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
    g_autoptr(GArray) sums = g_array_new(FALSE, FALSE, sizeof(Sum));
    g_autofree char *changed = NULL;
    if (shelf && change_shelf(shelf, book, loads, sums))
        changed = live_shelf_text(shelf);
    if (!changed) {
        add_words(supply, _("The metal in stock is left as it was: a mass or a metal of the day "
                            "is not known, or the stock cannot be read."));
        return;
    }
    if (sums->len == 0)
        return;
    add_change(supply, edit_field_place(book, NULL, field), g_steal_pointer(&changed));
    tell_stock(supply, sums, loads, &units);
}

// Whether the warm-up was one of a furnace that the crucible stands in. Days of one furnace name no
// other crucible.
static gboolean
was_warmed(const LiveTask *warm_up, const GArray *loads, const char *crucible)
{
    if (warm_up->task->kind != TASK_WARM_UP || warm_up->state != LIVE_OVER)
        return FALSE;
    for (guint i = 0; i < loads->len; i++) {
        const Load *load = &g_array_index(loads, Load, i);
        if (load->furnace == warm_up->task->furnace &&
            g_strcmp0(load->known.crucible, crucible) == 0)
            return TRUE;
    }
    return FALSE;
}

// Cold starts or melts of the day, as the crucible counts them.
static guint
count_firings(const LiveDay *day, const GArray *loads, const char *id, const Node *crucible)
{
    guint melts = 0;
    gboolean warmed = FALSE;
    for (guint i = 0; i < loads->len; i++) {
        const Load *load = &g_array_index(loads, Load, i);
        melts += load->used && g_strcmp0(load->known.crucible, id) == 0;
    }
    for (guint i = 0; i < day->n_tasks; i++)
        warmed = warmed || was_warmed(&day->tasks[i], loads, id);
    if (g_strcmp0(node_text(node_member(crucible, "counts")), "melt") == 0)
        return melts;
    return melts > 0 || warmed ? 1 : 0;
}

// The new count; NULL when nothing is to be counted. Free.
static char *
count_on(const Book *book, const Node *crucible, guint more)
{
    const Field *field = field_find("crucible.firings");
    UnitSet units = book_units(book);
    g_autofree char *text = NULL;
    double before = NAN;
    if (more == 0 || !field_node_text(field, node_member(crucible, "firings"), &text, NULL) ||
        !text || !quantity_parse(QUANTITY_COUNT, text, &units, &before, NULL) ||
        !(before >= field->min && before + more <= field->max))
        return NULL;
    return g_strdup_printf("%.0f", before + more);
}

static void
tell_firings(LiveSupply *supply, const Node *crucible, const char *firings, gboolean several)
{
    const char *name = node_text(node_member(crucible, "name"));
    const char *id = node_text(node_member(crucible, "id"));
    g_autofree char *words = several
                                 ? g_strdup_printf(_("Firings of the crucible “%s”: now %s."),
                                                   name && *name ? name : id, firings)
                                 : g_strdup_printf(_("Firings of the crucible: now %s."), firings);
    add_words(supply, words);
}

static void
find_firings(const Book *book, const LiveDay *day, const GArray *loads, LiveSupply *supply)
{
    const char *place = field_section_place("crucible", NULL);
    const Node *list = node_get(book_root(book), place);
    for (guint i = 0; i < node_size(list); i++) {
        const Node *one = node_at(list, i);
        const char *id = node_text(node_member(one, "id"));
        g_autofree char *firings = id ? count_on(book, one, count_firings(day, loads, id, one))
                                      : NULL;
        if (!firings)
            continue;
        tell_firings(supply, one, firings, day->sheet->n_loads > 0);
        add_change(supply, g_strdup_printf("%s/%u/firings", place, i), g_steal_pointer(&firings));
    }
}

LiveSupply
live_supply_of(const Book *book, const LiveDay *day)
{
    LiveSupply supply = {0};
    g_return_val_if_fail(book != NULL && day != NULL, supply);
    supply.changes = g_array_new(FALSE, FALSE, sizeof(LiveChange));
    g_array_set_clear_func(supply.changes, clear_change);
    g_autoptr(GArray) loads = list_loads(day);
    fill_planned(loads);
    find_stock(book, day, loads, &supply);
    find_firings(book, day, loads, &supply);
    return supply;
}
