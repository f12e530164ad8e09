// SPDX-License-Identifier: GPL-3.0-or-later
// The rules of a floor, one by one, read from the tasks alone.
#include "rules.h"

#include "check.h"

#define MANY 700
#define SLACK 1e-6

// What the tasks say of one mould.
typedef struct {
    const SessionTask *steps[4], *pour, *cool, *shake;
} Seen;

typedef struct {
    const SessionFloor *floor;
    const SessionTask *tasks;
    guint n;
    double from; // rules about durations and pauses hold for what begins from here
    Seen moulds[MANY];
    int n_moulds;
} Look;

static int
find_kind(const SessionFloor *floor, int job)
{
    for (int i = 0; i < floor->n_kinds; i++)
        if (floor->kinds[i].job == job)
            return i;
    g_assert_not_reached();
}

static void
see(const SessionTask **slot, const SessionTask *task)
{
    g_assert_null(*slot); // once
    *slot = task;
}

static void
collect(Look *look)
{
    for (guint i = 0; i < look->n; i++) {
        const SessionTask *task = &look->tasks[i];
        g_assert_cmpfloat(task->end, >=, task->start);
        if (i > 0)
            g_assert_cmpfloat(task->start, >=, task[-1].start);
        if (task->flask < 0)
            continue;
        g_assert_cmpint(task->flask, <, MANY);
        Seen *seen = &look->moulds[task->flask];
        look->n_moulds = MAX(look->n_moulds, task->flask + 1);
        if (task->kind >= TASK_RAM_DRAG && task->kind <= TASK_SHUT)
            see(&seen->steps[task->kind - TASK_RAM_DRAG], task);
        else if (task->kind == TASK_POUR)
            see(&seen->pour, task);
        else if (task->kind == TASK_COOL)
            see(&seen->cool, task);
        else if (task->kind == TASK_SHAKE_OUT)
            see(&seen->shake, task);
        else
            g_assert_not_reached();
    }
}

static void
check_length(const Look *look, const SessionTask *task, double length)
{
    if (task->start >= look->from)
        check_close(task->end - task->start, length, 1e-9, "the floor");
}

static void
check_mould(const Look *look, const Seen *seen)
{
    g_assert_nonnull(seen->pour);
    const SessionMould *kind = &look->floor->kinds[find_kind(look->floor, seen->pour->job)];
    double before = 0.0;
    for (int i = 0; i < 4; i++) {
        const SessionTask *step = seen->steps[i];
        g_assert_nonnull(step);
        g_assert_cmpfloat(step->start, >=, before - SLACK);
        g_assert_cmpint(step->who, >=, 0);
        g_assert_cmpint(step->furnace, ==, -1);
        g_assert_cmpint(step->box, ==, seen->pour->box);
        g_assert_cmpint(step->job, ==, seen->pour->job);
        g_assert_cmpint(step->load, ==, seen->pour->load);
        check_length(look, step, kind->ram[i]);
        before = step->end;
    }
    g_assert_cmpfloat(seen->pour->start, >=, before - SLACK);
    g_assert_cmpint(seen->pour->who, >=, 0);
    g_assert_cmpint(seen->pour->furnace, >=, 0);
    check_length(look, seen->pour, kind->pour);
    g_assert_nonnull(seen->cool);
    g_assert_cmpfloat(seen->cool->start, ==, seen->pour->end);
    check_close(seen->cool->end - seen->cool->start, kind->cool, 1e-9, "the floor");
    if (!seen->shake)
        return;
    g_assert_cmpfloat(seen->shake->start, >=, seen->cool->end - SLACK);
    g_assert_cmpint(seen->shake->who, >=, 0);
    check_length(look, seen->shake, kind->shake_out);
}

// Nothing is used by more than `most` from start to end at once: the ends of what uses it, sorted.
typedef struct {
    double at;
    double change;
} Change;

static gint
compare_changes(gconstpointer a, gconstpointer b)
{
    const Change *x = a, *y = b;
    if (x->at != y->at)
        return x->at < y->at ? -1 : 1;
    return (x->change > y->change) - (x->change < y->change); // given back before taken
}

static void
add_use(GArray *changes, double start, double end, double amount)
{
    if (end <= start + SLACK)
        return;
    Change take = {start + SLACK, amount}, give = {end - SLACK, -amount};
    g_array_append_val(changes, take);
    if (isfinite(end))
        g_array_append_val(changes, give);
}

// What is taken before `from` was taken as it was.
static void
check_never_more_from(GArray *changes, double most, double from, const char *what)
{
    double used = 0.0;
    g_array_sort(changes, compare_changes);
    for (guint i = 0; i < changes->len; i++) {
        const Change *change = &g_array_index(changes, Change, i);
        used += change->change;
        if (change->change < 0.0 || change->at < from)
            continue;
        if (used > most * (1.0 + 1e-9) + 1e-9)
            g_test_message("%s: %g of %g at %g", what, used, most, change->at);
        g_assert_cmpfloat(used, <=, most * (1.0 + 1e-9) + 1e-9);
    }
    g_array_set_size(changes, 0);
}

static void
check_never_more(GArray *changes, double most, const char *what)
{
    check_never_more_from(changes, most, -INFINITY, what);
}

static double
get_gone(const Seen *seen)
{
    return seen->shake ? seen->shake->end : INFINITY;
}

static void
check_boxes(const Look *look, GArray *changes)
{
    int base = 0;
    for (int k = 0; k < look->floor->n_boxes; k++) {
        for (int box = base; box < base + look->floor->boxes[k]; box++) {
            for (int i = 0; i < look->n_moulds; i++) {
                const Seen *seen = &look->moulds[i];
                const SessionMould *kind = &look->floor
                                                ->kinds[find_kind(look->floor, seen->pour->job)];
                if (seen->pour->box != box)
                    continue;
                g_assert_cmpint(kind->box, ==, k);
                add_use(changes, seen->steps[0]->start, get_gone(seen), 1.0);
            }
            check_never_more(changes, 1.0, "box");
        }
        base += look->floor->boxes[k];
    }
    for (int i = 0; i < look->n_moulds; i++)
        g_assert_cmpint(look->moulds[i].pour->box, <, base);
}

static void
check_held(const Look *look, GArray *changes)
{
    const SessionFloor *floor = look->floor;
    for (int i = 0; i < look->n_moulds; i++)
        add_use(changes, look->moulds[i].steps[0]->start, look->moulds[i].steps[2]->end, 1.0);
    check_never_more(changes, floor->benches, "benches");
    for (int i = 0; i < look->n_moulds; i++)
        add_use(changes, look->moulds[i].pour->end, get_gone(&look->moulds[i]), 1.0);
    check_never_more(changes, floor->places, "cooling places");
    for (int i = 0; i < look->n_moulds && isfinite(floor->sand_ready); i++) {
        const Seen *seen = &look->moulds[i];
        double sand = floor->kinds[find_kind(floor, seen->pour->job)].sand;
        add_use(changes, seen->steps[0]->start, get_gone(seen) + floor->sand_rest, sand);
    }
    check_never_more_from(changes, floor->sand_ready, look->from, "sand");
}

static void
check_hands(const Look *look, GArray *changes)
{
    const SessionFloor *floor = look->floor;
    for (int who = 0; who < floor->people; who++) {
        for (guint i = 0; i < look->n; i++)
            if (look->tasks[i].who == who)
                add_use(changes, look->tasks[i].start, look->tasks[i].end, 1.0);
        check_never_more(changes, 1.0, "hands");
    }
    for (guint i = 0; i < look->n; i++) {
        const SessionTask *task = &look->tasks[i];
        g_assert_cmpint(task->person, ==, task->who >= 0);
        g_assert_cmpint(task->who, <, floor->people);
        if (task->person && task->start >= look->from && task->kind != TASK_SET_UP &&
            task->kind != TASK_CLOSE) {
            g_assert_cmpfloat(task->start, >=, floor->light_from - SLACK);
            g_assert_cmpfloat(task->end, <=, floor->light_to + SLACK);
        }
    }
}

static const SessionTask *
find_one(const Look *look, TaskKind kind, int load, int furnace)
{
    const SessionTask *found = NULL;
    for (guint i = 0; i < look->n; i++) {
        const SessionTask *task = &look->tasks[i];
        if (task->kind == kind && (load < 0 || task->load == load) &&
            (furnace < 0 || task->furnace == furnace))
            see(&found, task);
    }
    return found;
}

// Charge, melt, skim and pours follow each other in one furnace.
static void
check_load(const Look *look, int load)
{
    const SessionFloor *floor = look->floor;
    const SessionTask *charge = find_one(look, TASK_CHARGE, load, -1);
    const SessionTask *melt = find_one(look, TASK_MELT, load, -1);
    const SessionTask *skim = find_one(look, TASK_SKIM, load, -1);
    g_assert_nonnull(charge);
    g_assert_nonnull(melt);
    g_assert_nonnull(skim);
    int furnace = charge->furnace, metal = -1, moulds = 0;
    double kg = 0.0, at = skim->end;
    g_assert_cmpint(melt->furnace, ==, furnace);
    g_assert_cmpint(skim->furnace, ==, furnace);
    g_assert_cmpfloat(melt->start, ==, charge->end);
    g_assert_cmpfloat(skim->start, >=, melt->end - SLACK);
    for (int i = 0; i < look->n_moulds; i++) {
        const Seen *seen = &look->moulds[i];
        if (seen->pour->load != load)
            continue;
        const SessionMould *kind = &floor->kinds[find_kind(floor, seen->pour->job)];
        g_assert_true(metal < 0 || metal == kind->metal);
        metal = kind->metal;
        kg += kind->kg;
        moulds++;
        g_assert_cmpint(seen->pour->furnace, ==, furnace);
        g_assert_cmpfloat(seen->steps[3]->end, <=, skim->start + SLACK);
        if (seen->pour->start >= look->from) {
            check_close(seen->pour->start, at, 1e-9, "without a pause");
            g_assert_cmpint(seen->pour->who, ==, skim->who);
        }
        at = seen->pour->end;
    }
    g_assert_cmpint(moulds, >, 0);
    g_assert_cmpfloat(kg, <=, floor->furnaces[furnace].holds[metal] * (1.0 + 1e-9));
    check_length(look, charge, floor->charge);
    check_length(look, skim, floor->skim);
    if (melt->start >= look->from)
        check_close(melt->end - melt->start, kg * floor->furnaces[furnace].melt[metal], 1e-9,
                    "the floor");
}

// From charge to last pour a furnace has one load; it is warm before the first.
static void
check_furnaces(const Look *look, int loads, GArray *changes)
{
    const SessionTask *set_up = find_one(look, TASK_SET_UP, -1, -1);
    g_assert_nonnull(set_up);
    g_assert_cmpint(set_up->who, ==, 0);
    check_length(look, set_up, look->floor->set_up);
    for (int f = 0; f < look->floor->n_furnaces; f++) {
        double first = INFINITY;
        for (int load = 0; load < loads; load++) {
            double start = INFINITY, end = 0.0;
            for (guint i = 0; i < look->n; i++) {
                const SessionTask *task = &look->tasks[i];
                if (task->load != load || task->furnace != f)
                    continue;
                start = MIN(start, task->start);
                end = MAX(end, task->end);
            }
            first = MIN(first, start);
            if (isfinite(start))
                add_use(changes, start, end, 1.0);
        }
        check_never_more(changes, 1.0, "furnace");
        const SessionTask *warm = find_one(look, TASK_WARM_UP, -1, f);
        if (!isfinite(first)) {
            g_assert_true(!warm || warm->start < look->from);
            continue;
        }
        g_assert_nonnull(warm);
        g_assert_cmpfloat(warm->start, >=, set_up->end - SLACK);
        g_assert_cmpfloat(first, >=, warm->end - SLACK);
        check_length(look, warm, look->floor->furnaces[f].warm_up);
    }
}

static void
check_pins(const Look *look)
{
    for (guint i = 0; i < look->n; i++) {
        const SessionTask *task = &look->tasks[i];
        int number = task->flask >= 0 ? task->flask + 1 : task->load + 1;
        if (task->kind == TASK_WARM_UP)
            number = task->furnace + 1;
        if (task->start >= look->from && task->kind != TASK_COOL)
            g_assert_cmpfloat(task->start, >=,
                              session_floor_pin(look->floor, task->kind, number) - SLACK);
    }
}

static void
check_close_task(const Look *look)
{
    const SessionTask *close = find_one(look, TASK_CLOSE, -1, -1);
    g_assert_nonnull(close);
    check_length(look, close, look->floor->closing);
    for (guint i = 0; i < look->n; i++)
        if (&look->tasks[i] != close && look->tasks[i].person)
            g_assert_cmpfloat(look->tasks[i].end, <=, close->start + SLACK);
}

void
rules_check_tasks(const SessionFloor *floor, const SessionTask *tasks, guint n, double from)
{
    g_autofree Look *look = g_new0(Look, 1);
    *look = (Look){.floor = floor, .tasks = tasks, .n = n, .from = from};
    collect(look);
    int loads = 0;
    for (int i = 0; i < look->n_moulds; i++) {
        check_mould(look, &look->moulds[i]);
        loads = MAX(loads, look->moulds[i].pour->load + 1);
        if (i > 0) // numbered load by load
            g_assert_cmpint(look->moulds[i].pour->load, >=, look->moulds[i - 1].pour->load);
    }
    g_autoptr(GArray) changes = g_array_new(FALSE, FALSE, sizeof(Change));
    check_boxes(look, changes);
    check_held(look, changes);
    check_hands(look, changes);
    for (int load = 0; load < loads; load++)
        check_load(look, load);
    check_furnaces(look, loads, changes);
    check_pins(look);
    check_close_task(look);
}

void
rules_check(const SessionFloor *floor, const SessionPlan *plan)
{
    const SessionTask *tasks = (const SessionTask *)(gpointer)plan->tasks->data;
    rules_check_tasks(floor, tasks, plan->tasks->len, 0.0);
    double hands = 0.0, furnaces = 0.0, longest = 0.0, last = 0.0, worth = 0.0;
    double molten[MANY] = {0};
    int moulds = 0, shaken = 0, loads = 0;
    for (guint i = 0; i < plan->tasks->len; i++) {
        const SessionTask *task = &tasks[i];
        double time = task->end - task->start;
        hands += task->person ? time : 0.0;
        furnaces += task->furnace >= 0 ? time : 0.0;
        shaken += task->kind == TASK_SHAKE_OUT;
        loads += task->kind == TASK_CHARGE;
        if (task->kind == TASK_MELT)
            molten[task->load] = task->end;
        if (task->kind == TASK_SKIM)
            longest = MAX(longest, task->start - molten[task->load]);
        if (task->kind == TASK_POUR) {
            last = MAX(last, task->end);
            moulds++;
            worth += floor->kinds[find_kind(floor, task->job)].worth;
        }
        if (task->kind == TASK_CLOSE)
            g_assert_cmpfloat(task->end, ==, plan->length);
    }
    check_close(plan->person_time, hands, 1e-9, "sum of the tasks");
    check_close(plan->furnace_time, furnaces, 1e-9, "sum of the tasks");
    check_close(plan->last_pour, last, 1e-9, "the tasks");
    check_close(plan->longest_held, longest, 1e-6, "the tasks");
    check_close(plan->worth, worth, 1e-9, "sum of the moulds");
    g_assert_cmpint(plan->flasks, ==, moulds);
    g_assert_cmpint(plan->loads, ==, loads);
    g_assert_cmpint(plan->left_to_cool, ==, moulds - shaken);
    if (plan->within) {
        g_assert_cmpfloat(plan->length, <=, floor->hours);
        g_assert_true(moulds == 1 || longest <= SESSION_MOST_HELD + SLACK);
    }
}

void
rules_check_names(const SessionTask *tasks, guint n)
{
    g_autoptr(GHashTable) keys = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < n; i++) {
        g_assert_nonnull(tasks[i].label);
        g_assert_nonnull(tasks[i].key);
        g_assert_true(g_hash_table_add(keys, tasks[i].key));
        for (guint j = 0; j < tasks[i].n_after; j++) {
            g_assert_cmpuint(tasks[i].after[j], <, n);
            g_assert_cmpfloat(tasks[tasks[i].after[j]].end, <=, tasks[i].start + SLACK);
        }
        gboolean first = tasks[i].kind == TASK_SET_UP || tasks[i].kind == TASK_RAM_DRAG;
        g_assert_true(first || tasks[i].n_after > 0);
    }
}

static SessionMould
make_random_mould(GRand *rand, int job, int metals, int boxes)
{
    SessionMould mould = {.job = job,
                          .metal = g_rand_int_range(rand, 0, metals),
                          .box = g_rand_int_range(rand, 0, boxes),
                          .kg = g_rand_double_range(rand, 0.2, 1.3),
                          .sand = g_rand_double_range(rand, 5, 31),
                          .pour = g_rand_double_range(rand, 10, 240),
                          .cool = g_rand_double_range(rand, 300, 9000),
                          .shake_out = g_rand_double_range(rand, 100, 1200),
                          .worth = g_rand_int_range(rand, 1, 7) * 0.83,
                          .wanted = g_rand_int_range(rand, 1, 14)};
    for (int i = 0; i < 4; i++)
        mould.ram[i] = g_rand_double_range(rand, 30, 800);
    return mould;
}

static void
add_random_furnace(GRand *rand, SessionFloor *floor)
{
    SessionFurnace *furnace = &floor->furnaces[floor->n_furnaces++];
    *furnace = (SessionFurnace){.warm_up = g_rand_double_range(rand, 600, 9000)};
    for (int m = 0; m < floor->n_metals; m++) {
        furnace->holds[m] = g_rand_boolean(rand) || floor->n_furnaces == 1
                                ? g_rand_double_range(rand, 1.4, 6)
                                : 0.0;
        furnace->melt[m] = g_rand_double_range(rand, 100, 1500);
    }
}

SessionFloor
rules_random_floor(GRand *rand)
{
    SessionFloor floor;
    session_floor_init(&floor);
    floor.hours = g_rand_double_range(rand, 4, 14) * 3600;
    floor.set_up = g_rand_double_range(rand, 0, 2400);
    floor.closing = g_rand_double_range(rand, 0, 2700);
    floor.charge = g_rand_double_range(rand, 60, 700);
    floor.skim = g_rand_double_range(rand, 0, 480);
    floor.people = g_rand_int_range(rand, 1, 5);
    if (g_rand_boolean(rand))
        floor.benches = g_rand_int_range(rand, 1, 4);
    if (g_rand_boolean(rand))
        floor.places = g_rand_int_range(rand, 2, 9);
    if (g_rand_int_range(rand, 0, 3) == 0) {
        floor.sand_ready = g_rand_double_range(rand, 60, 300);
        floor.sand_rest = g_rand_boolean(rand) ? g_rand_double_range(rand, 0, 4000) : INFINITY;
    }
    if (g_rand_int_range(rand, 0, 4) == 0) {
        floor.light_from = g_rand_double_range(rand, 0, 3600);
        floor.light_to = floor.hours * g_rand_double_range(rand, 0.8, 1.1);
    }
    floor.n_metals = g_rand_int_range(rand, 1, 3);
    floor.n_boxes = g_rand_int_range(rand, 1, 4);
    for (int i = 0; i < floor.n_boxes; i++)
        floor.boxes[i] = g_rand_int_range(rand, 1, 7);
    int furnaces = g_rand_int_range(rand, 1, 4);
    while (floor.n_furnaces < furnaces)
        add_random_furnace(rand, &floor);
    floor.n_kinds = g_rand_int_range(rand, 1, 5);
    for (int i = 0; i < floor.n_kinds; i++)
        floor.kinds[i] = make_random_mould(rand, i, floor.n_metals, floor.n_boxes);
    g_autoptr(GError) error = NULL;
    session_floor_check(&floor, &error);
    g_assert_no_error(error);
    return floor;
}
