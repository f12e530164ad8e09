// SPDX-License-Identifier: GPL-3.0-or-later
// From tasks back to kinds, loads, boxes and durations. Moulds of one job are one kind.
#include "session/rebuild.h"

#include <math.h>

#include "base/error.h"
#include "session/limits.h"

typedef struct {
    const SessionResult *plan;
    const gboolean *is_fixed;
    SessionRebuilt *made;
    int jobs[SESSION_MOST_KINDS]; // of each kind
    GArray *kind_of;              // int, by mould
    GArray *load_of;              // int, by mould
} Rebuilding;

void
session_rebuilt_free(SessionRebuilt *rebuilt)
{
    if (!rebuilt)
        return;
    g_array_unref(rebuilt->loads);
    g_array_unref(rebuilt->box_kind);
    g_array_unref(rebuilt->box_at);
    g_array_unref(rebuilt->box_of);
    g_free(rebuilt);
}

static gboolean
refuse(GError **error, const char *what)
{
    return base_error_set(error, BASE_ERROR_VALUE, NULL, "session", what,
                          "plan the session from the book instead");
}

static int *
at_int(GArray *array, int index, int blank)
{
    while ((int)array->len <= index)
        g_array_append_val(array, blank);
    return &g_array_index(array, int, index);
}

// Kinds in the order of the jobs, as moulds of a load are numbered.
static gboolean
find_kinds(Rebuilding *r, GError **error)
{
    SessionFloor *floor = &r->made->floor;
    for (guint i = 0; i < r->plan->n_tasks; i++) {
        const SessionTask *task = &r->plan->tasks[i];
        if (task->flask < 0)
            continue;
        int at = 0;
        while (at < floor->n_kinds && r->jobs[at] < task->job)
            at++;
        if (at < floor->n_kinds && r->jobs[at] == task->job)
            continue;
        if (floor->n_kinds == SESSION_MOST_KINDS)
            return refuse(error, "its moulds are of too many jobs");
        for (int j = floor->n_kinds; j > at; j--)
            r->jobs[j] = r->jobs[j - 1];
        r->jobs[at] = task->job;
        floor->n_kinds++;
    }
    return TRUE;
}

static int
find_kind(const Rebuilding *r, int job)
{
    int kind = 0;
    while (r->jobs[kind] != job)
        kind++;
    return kind;
}

// Takes a duration over; one that was as planned is not replaced.
static void
take_time(const Rebuilding *r, guint task, double *time, gboolean *sure)
{
    gboolean planned = !r->is_fixed || !r->is_fixed[task];
    if (*sure || (!planned && *time > 0.0))
        return;
    *time = MAX(r->plan->tasks[task].end - r->plan->tasks[task].start, 0.0);
    *sure = planned;
}

typedef struct {
    gboolean steps[4], pour, cool, shake;
} Sure;

static void
take_mould_time(Rebuilding *r, guint i, Sure sure[SESSION_MOST_KINDS])
{
    const SessionTask *task = &r->plan->tasks[i];
    int kind = find_kind(r, task->job);
    SessionMould *mould = &r->made->floor.kinds[kind];
    if (task->kind >= TASK_RAM_DRAG && task->kind <= TASK_SHUT)
        take_time(r, i, &mould->ram[task->kind - TASK_RAM_DRAG],
                  &sure[kind].steps[task->kind - TASK_RAM_DRAG]);
    else if (task->kind == TASK_POUR)
        take_time(r, i, &mould->pour, &sure[kind].pour);
    else if (task->kind == TASK_COOL)
        take_time(r, i, &mould->cool, &sure[kind].cool);
    else if (task->kind == TASK_SHAKE_OUT)
        take_time(r, i, &mould->shake_out, &sure[kind].shake);
}

static gboolean
take_times(Rebuilding *r, GError **error)
{
    SessionFloor *floor = &r->made->floor;
    Sure sure[SESSION_MOST_KINDS] = {0};
    gboolean set_up = FALSE, closing = FALSE, charge = FALSE, skim = FALSE, warm_up;
    for (guint i = 0; i < r->plan->n_tasks; i++) {
        const SessionTask *task = &r->plan->tasks[i];
        if (task->furnace >= SESSION_MOST_FURNACES || task->who >= SESSION_MOST_PEOPLE)
            return refuse(error, "it has too many furnaces or people");
        floor->n_furnaces = MAX(floor->n_furnaces, task->furnace + 1);
        floor->people = MAX(floor->people, task->who + 1);
        if (task->flask >= 0) {
            take_mould_time(r, i, sure);
        } else if (task->kind == TASK_SET_UP) {
            take_time(r, i, &floor->set_up, &set_up);
        } else if (task->kind == TASK_CLOSE) {
            take_time(r, i, &floor->closing, &closing);
        } else if (task->kind == TASK_CHARGE) {
            take_time(r, i, &floor->charge, &charge);
        } else if (task->kind == TASK_SKIM) {
            take_time(r, i, &floor->skim, &skim);
        } else if (task->kind == TASK_WARM_UP && task->furnace >= 0) {
            warm_up = FALSE;
            take_time(r, i, &floor->furnaces[task->furnace].warm_up, &warm_up);
        }
    }
    return TRUE;
}

static gboolean
find_moulds(Rebuilding *r, GError **error)
{
    for (guint i = 0; i < r->plan->n_tasks; i++) {
        const SessionTask *task = &r->plan->tasks[i];
        if (task->kind == TASK_RAM)
            return refuse(error, "its moulds are not told apart into steps");
        if (task->kind != TASK_POUR)
            continue;
        if (task->flask < 0 || task->flask >= SESSION_MOST_FLASKS || task->load < 0 ||
            task->load >= SESSION_MOST_FLASKS || task->furnace < 0 || task->box < 0)
            return refuse(error, "a pour names no mould, load, furnace or flask");
        *at_int(r->kind_of, task->flask, -1) = find_kind(r, task->job);
        *at_int(r->load_of, task->flask, -1) = task->load;
        SessionLoad none = {0};
        while ((int)r->made->loads->len <= task->load)
            g_array_append_val(r->made->loads, none);
        SessionLoad *load = &g_array_index(r->made->loads, SessionLoad, task->load);
        load->count[find_kind(r, task->job)]++;
        load->only = task->furnace + 1;
    }
    r->made->n_moulds = (int)r->kind_of->len;
    return TRUE;
}

// The time to melt of each load, and whether moulds are numbered as session_lay() will.
static gboolean
check_loads(Rebuilding *r, GError **error)
{
    for (guint i = 0; i < r->plan->n_tasks; i++) {
        const SessionTask *task = &r->plan->tasks[i];
        if (task->kind != TASK_MELT)
            continue;
        if (task->load < 0 || task->load >= (int)r->made->loads->len)
            return refuse(error, "a load is melted for no mould");
        g_array_index(r->made->loads, SessionLoad, task->load).melt = MAX(task->end - task->start,
                                                                          0.0);
    }
    int mould = 0;
    for (guint i = 0; i < r->made->loads->len; i++) {
        const SessionLoad *load = &g_array_index(r->made->loads, SessionLoad, i);
        if (load->only == 0)
            return refuse(error, "a load fills no mould");
        for (int kind = 0; kind < r->made->floor.n_kinds; kind++)
            for (int j = 0; j < load->count[kind]; j++, mould++)
                if (mould >= r->made->n_moulds || g_array_index(r->kind_of, int, mould) != kind ||
                    g_array_index(r->load_of, int, mould) != (int)i)
                    return refuse(error, "its moulds are not numbered load by load");
    }
    return mould == r->made->n_moulds || refuse(error, "a mould is missing");
}

// Kinds of box by what the plan says of its boxes; a mould's kind is that of the box it stands in.
static gboolean
find_boxes(Rebuilding *r, GError **error)
{
    SessionRebuilt *made = r->made;
    int boxes = r->plan->boxes;
    if (boxes < 0 || boxes > 10000)
        return refuse(error, "it has too many flasks");
    int kind = 0, last = 0; // the kind the box is of, and the first box behind it
    gboolean alike = TRUE;
    for (int k = 0; k < SESSION_MOST_BOX_KINDS; k++)
        alike = alike && r->plan->boxes_of_kind[k] == 0;
    last = alike ? boxes : r->plan->boxes_of_kind[0];
    for (int box = 0; box < boxes; box++) {
        while (box >= last && kind + 1 < SESSION_MOST_BOX_KINDS) {
            kind++;
            last += MAX(r->plan->boxes_of_kind[kind], 0);
        }
        made->floor.n_boxes = kind + 1;
        g_array_append_val(made->box_kind, kind);
        g_array_append_val(made->box_at, made->floor.boxes[kind]);
        made->floor.boxes[kind]++;
    }
    for (guint i = 0; i < r->plan->n_tasks; i++) {
        const SessionTask *task = &r->plan->tasks[i];
        if (task->flask < 0)
            continue;
        if (task->box < 0 || task->box >= boxes)
            return refuse(error, "a mould stands in a flask that is not there");
        made->floor.kinds[find_kind(r, task->job)].box = g_array_index(made->box_kind, int,
                                                                       task->box);
    }
    for (int box = 0; box < boxes; box++)
        g_array_append_val(made->box_of, box);
    return TRUE;
}

static SessionRebuilt *
new_rebuilt(const SessionResult *plan)
{
    SessionRebuilt *made = g_new0(SessionRebuilt, 1);
    session_floor_init(&made->floor);
    made->loads = g_array_new(FALSE, FALSE, sizeof(SessionLoad));
    made->box_kind = g_array_new(FALSE, FALSE, sizeof(int));
    made->box_at = g_array_new(FALSE, FALSE, sizeof(int));
    made->box_of = g_array_new(FALSE, FALSE, sizeof(int));
    SessionFloor *floor = &made->floor;
    floor->hours = isfinite(plan->hours) ? plan->hours : INFINITY;
    floor->people = CLAMP(plan->people, 1, SESSION_MOST_PEOPLE);
    floor->n_furnaces = CLAMP(plan->furnaces, 0, SESSION_MOST_FURNACES);
    floor->n_metals = 1;
    floor->benches = plan->benches > 0 ? plan->benches : floor->benches;
    floor->places = plan->places > 0 ? plan->places : floor->places;
    for (int i = 0; i < SESSION_MOST_FURNACES; i++)
        floor->furnaces[i].holds[0] = 1.0;
    for (int i = 0; i < SESSION_MOST_KINDS; i++)
        floor->kinds[i].kg = floor->kinds[i].worth = 1.0;
    return made;
}

SessionRebuilt *
session_rebuild(const SessionResult *plan, const gboolean *is_fixed, GError **error)
{
    g_return_val_if_fail(plan, NULL);
    g_autoptr(SessionRebuilt) made = new_rebuilt(plan);
    g_autoptr(GArray) kind_of = g_array_new(FALSE, FALSE, sizeof(int));
    g_autoptr(GArray) load_of = g_array_new(FALSE, FALSE, sizeof(int));
    Rebuilding r = {
        .plan = plan, .is_fixed = is_fixed, .made = made, .kind_of = kind_of, .load_of = load_of};
    if (!find_kinds(&r, error) || !take_times(&r, error) || !find_moulds(&r, error) ||
        !check_loads(&r, error) || !find_boxes(&r, error))
        return NULL;
    for (int k = 0; k < made->floor.n_kinds; k++)
        made->floor.kinds[k].job = r.jobs[k];
    session_limits_put(plan->limits, &made->floor);
    return g_steal_pointer(&made);
}
