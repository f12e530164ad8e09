// SPDX-License-Identifier: GPL-3.0-or-later
// A sheet as the first line of a journal, and back. A file is not trusted: places, counts and times
// are checked before anything is handed on.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "live/node-kit.h"
#include "live/sheet-limits.h"
#include "live/sheet.h"
#include "live/task.h"
#include "session/floor.h"

// More than any session has; bounds what a file can ask for.
#define MOST_TASKS 20000
#define MOST_POINTS 20000
#define MOST_JOBS 1000
#define MOST_LOADS 10000
#define MOST_CAVITIES 10000
#define MOST_PLACES 100000
#define MOST_SECONDS (40 * 86400.0)

static Node *
make_task(const SessionTask *task)
{
    Node *node = node_new_object();
    live_put_text(&node, "key", task->key);
    live_put_text(&node, "kind", live_task_word(task->kind));
    live_put_text(&node, "label", task->label);
    live_put_number(&node, "start", task->start);
    live_put_number(&node, "end", task->end);
    const struct {
        const char *name;
        int value;
    } places[] = {{"load", task->load}, {"flask", task->flask},     {"box", task->box},
                  {"job", task->job},   {"furnace", task->furnace}, {"who", task->who}};
    for (guint i = 0; i < G_N_ELEMENTS(places); i++)
        if (places[i].value >= 0)
            live_put_number(&node, places[i].name, places[i].value);
    if (task->person)
        live_put(&node, "person", node_new_bool(TRUE));
    g_autoptr(GPtrArray) after = g_ptr_array_new();
    for (guint i = 0; i < task->n_after; i++)
        g_ptr_array_add(after, node_new_number(task->after[i]));
    if (after->len > 0)
        live_put(&node, "after", live_list(after));
    return node;
}

static Node *
make_session(const SessionResult *session)
{
    Node *node = node_new_object();
    g_autoptr(GPtrArray) tasks = g_ptr_array_new(), curve = g_ptr_array_new();
    for (guint i = 0; i < session->n_tasks; i++)
        g_ptr_array_add(tasks, make_task(&session->tasks[i]));
    for (guint i = 0; i < session->n_curve; i++) {
        Node *point = node_new_object();
        live_put_number(&point, "at", session->curve[i].at);
        live_put_number(&point, "temperature", session->curve[i].temperature);
        live_put_text(&point, "prompt", session->curve[i].prompt);
        live_put_number(&point, "furnace", session->curve[i].furnace);
        g_ptr_array_add(curve, point);
    }
    live_put_number(&node, "length", session->length);
    live_put_number(&node, "hours", session->hours);
    live_put_number(&node, "loads", session->loads);
    live_put_number(&node, "flasks", session->flasks);
    live_put_number(&node, "castings", session->castings);
    live_put_number(&node, "boxes", session->boxes);
    live_put_number(&node, "people", session->people);
    live_put_number(&node, "furnaces", session->furnaces);
    live_put_number(&node, "benches", session->benches);
    live_put_number(&node, "places", session->places);
    g_autoptr(GPtrArray) kinds = g_ptr_array_new();
    for (int i = 0; i < SESSION_MOST_BOX_KINDS; i++)
        g_ptr_array_add(kinds, node_new_number(session->boxes_of_kind[i]));
    live_put(&node, "boxes_of_kind", live_list(kinds));
    live_put(&node, "limits", live_limits_node(session->limits));
    g_autoptr(GPtrArray) names = g_ptr_array_new();
    for (int f = 0; session_furnace_name(session, f); f++)
        g_ptr_array_add(names, node_new_text(session_furnace_name(session, f)));
    if (names->len > 0)
        live_put(&node, "furnace_names", live_list(names));
    live_put(&node, "tasks", live_list(tasks));
    live_put(&node, "curve", live_list(curve));
    return node;
}

static Node *
make_job(const LiveJob *job)
{
    Node *node = node_new_object();
    live_put_text(&node, "id", job->id);
    live_put_text(&node, "name", job->name);
    live_put_text(&node, "metal", job->metal);
    live_put_text(&node, "flask", job->flask);
    live_put_number(&node, "pouring_temperature", job->pouring_temperature);
    live_put_number(&node, "solidus", job->solidus);
    live_put_number(&node, "pour_from", job->pour_from);
    live_put_number(&node, "pour_to", job->pour_to);
    live_put_number(&node, "casting_mass", job->casting_mass);
    live_put_number(&node, "mould_mass", job->mould_mass);
    live_put_number(&node, "cavities", job->cavities);
    live_put_text(&node, "guest", job->guest);
    live_put_number(&node, "guest_mass", job->guest_mass);
    if (job->guests > 0)
        live_put_number(&node, "guests", job->guests);
    return node;
}

static Node *
make_load(const LiveLoad *load)
{
    Node *node = node_new_object();
    live_put_text(&node, "metal", load->metal);
    live_put_text(&node, "furnace", load->furnace);
    live_put_text(&node, "crucible", load->crucible);
    live_put_number(&node, "charge_mass", load->charge_mass);
    return node;
}

Node *
live_sheet_node(const LiveSheet *sheet)
{
    g_return_val_if_fail(sheet != NULL, NULL);
    Node *node = node_new_object();
    live_put_text(&node, "do", "start");
    live_put_text(&node, "format", "castday");
    // A day of one job is as it was in version 1.
    live_put_number(&node, "version", sheet->n_loads > 0 ? LIVE_VERSION : 1);
    live_put_text(&node, "id", sheet->id);
    live_put_number(&node, "at", sheet->start);
    live_put_text(&node, "book", sheet->book);
    live_put_text(&node, "furnace", sheet->furnace);
    live_put_text(&node, "crucible", sheet->crucible);
    live_put_number(&node, "charge_mass", sheet->charge_mass);
    g_autoptr(GPtrArray) jobs = g_ptr_array_new(), loads = g_ptr_array_new();
    for (guint i = 0; i < sheet->n_jobs; i++)
        g_ptr_array_add(jobs, make_job(&sheet->jobs[i]));
    live_put(&node, "jobs", live_list(jobs));
    for (guint i = 0; i < sheet->n_loads; i++)
        g_ptr_array_add(loads, make_load(&sheet->loads[i]));
    if (loads->len > 0)
        live_put(&node, "loads", live_list(loads));
    live_put(&node, "session", make_session(sheet->session));
    return node;
}

static gboolean
fail(const char *name, const char *place, const char *what, GError **error)
{
    return base_error_set(error, BASE_ERROR_FORMAT, name, place, what,
                          _("move the journal away to start another day"));
}

static gboolean
read_task(const Node *node, guint n_tasks, guint n_jobs, SessionTask *task)
{
    TaskKind kind;
    const char *key = live_get_text(node, "key"), *label = live_get_text(node, "label");
    double start = live_get_number(node, "start", NAN), end = live_get_number(node, "end", NAN);
    const Node *after = node_member(node, "after");
    if (!live_task_kind(live_get_text(node, "kind"), &kind) || !key || !*key || !(start >= 0) ||
        !(end >= start) || !(end <= MOST_SECONDS) || node_size(after) > n_tasks)
        return FALSE;
    *task = (SessionTask){.kind = kind, .start = start, .end = end};
    task->key = g_strdup(key);
    task->label = g_strdup(label ? label : key);
    task->load = live_get_int(node, "load", 0, MOST_PLACES, -1);
    task->flask = live_get_int(node, "flask", 0, MOST_PLACES, -1);
    task->box = live_get_int(node, "box", 0, MOST_PLACES, -1);
    task->job = live_get_int(node, "job", 0, (int)n_jobs - 1, -1);
    task->furnace = live_get_int(node, "furnace", 0, 1000, -1);
    task->who = live_get_int(node, "who", 0, 1000, -1);
    task->person = node_bool(node_member(node, "person"));
    task->after = g_new0(guint, node_size(after));
    for (guint i = 0; i < node_size(after); i++) {
        double place = node_number(node_at(after, i));
        if (place >= 0 && place < n_tasks)
            task->after[task->n_after++] = (guint)place;
    }
    return TRUE;
}

static gboolean
read_tasks(SessionResult *session, const Node *list, guint n_jobs, const char *name, GError **error)
{
    guint n = node_size(list);
    if (node_kind(list) != NODE_LIST || n == 0 || n > MOST_TASKS)
        return fail(name, "session.tasks", _("is not a list of tasks"), error);
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    session->tasks = g_new0(SessionTask, n);
    for (guint i = 0; i < n; i++) {
        g_autofree char *place = g_strdup_printf("session.tasks[%u]", i);
        SessionTask *task = &session->tasks[i];
        if (!read_task(node_at(list, i), n, n_jobs, task))
            return fail(name, place, _("is not a task"), error);
        session->n_tasks++;
        if (!g_hash_table_add(seen, task->key))
            return fail(name, place, _("has the key of another task"), error);
    }
    return TRUE;
}

static gboolean
read_curve(SessionResult *session, const Node *list, const char *name, GError **error)
{
    guint n = node_size(list);
    if (n > MOST_POINTS)
        return fail(name, "session.curve", _("is too long"), error);
    session->curve = g_new0(SessionFurnacePoint, n);
    for (guint i = 0; i < n; i++) {
        const Node *node = node_at(list, i);
        SessionFurnacePoint *point = &session->curve[session->n_curve++];
        point->at = live_get_number(node, "at", 0);
        point->temperature = live_get_number(node, "temperature", NAN);
        point->prompt = g_strdup(live_get_text(node, "prompt"));
        point->furnace = live_get_int(node, "furnace", 0, SESSION_MOST_FURNACES - 1, 0);
    }
    return TRUE;
}

// A list that does not fit the flasks is passed over: then they count as alike.
static void
read_box_kinds(SessionResult *session, const Node *list)
{
    int kinds[SESSION_MOST_BOX_KINDS] = {0}, sum = 0;
    for (guint i = 0; i < MIN(node_size(list), SESSION_MOST_BOX_KINDS); i++) {
        double count = node_number(node_at(list, i));
        kinds[i] = count >= 0 && count <= session->boxes ? (int)count : 0;
        sum += kinds[i];
    }
    if (sum == session->boxes)
        memcpy(session->boxes_of_kind, kinds, sizeof kinds);
}

// A list that is not one name for each furnace is passed over: then they go by number.
static void
read_furnace_names(SessionResult *session, const Node *list)
{
    guint n = node_size(list);
    if (n == 0 || n != (guint)session->furnaces)
        return;
    for (guint i = 0; i < n; i++)
        if (node_kind(node_at(list, i)) != NODE_TEXT)
            return;
    session->furnace_names = g_new0(char *, n + 1);
    for (guint i = 0; i < n; i++)
        session->furnace_names[i] = g_strdup(node_text(node_at(list, i)));
}

static gboolean
read_session(LiveSheet *sheet, const Node *node, const char *name, GError **error)
{
    SessionResult *session = sheet->session = g_atomic_rc_box_new0(SessionResult);
    if (node_kind(node) != NODE_OBJECT)
        return fail(name, "session", _("is missing"), error);
    session->length = CLAMP(live_get_number(node, "length", 0), 0, MOST_SECONDS);
    session->hours = CLAMP(live_get_number(node, "hours", 0), 0, MOST_SECONDS);
    session->loads = live_get_int(node, "loads", 0, MOST_PLACES, 0);
    session->flasks = live_get_int(node, "flasks", 0, MOST_PLACES, 0);
    session->castings = live_get_int(node, "castings", 0, G_MAXINT, 0);
    session->boxes = live_get_int(node, "boxes", 0, MOST_PLACES, 0);
    session->people = live_get_int(node, "people", 1, 1000, 1);
    session->furnaces = live_get_int(node, "furnaces", 0, 1000, 1);
    session->benches = live_get_int(node, "benches", 0, MOST_PLACES, 0);
    session->places = live_get_int(node, "places", 0, MOST_PLACES, 0);
    read_box_kinds(session, node_member(node, "boxes_of_kind"));
    read_furnace_names(session, node_member(node, "furnace_names"));
    session->confidence = session->good_rate = session->last_length = NAN;
    session->limits = live_limits_read(node_member(node, "limits"));
    session->jobs = g_new0(char *, sheet->n_jobs + 1);
    for (guint i = 0; i < sheet->n_jobs; i++)
        session->jobs[i] = g_strdup(sheet->jobs[i].id);
    return read_tasks(session, node_member(node, "tasks"), sheet->n_jobs, name, error) &&
           read_curve(session, node_member(node, "curve"), name, error);
}

static gboolean
read_jobs(LiveSheet *sheet, const Node *list, const char *name, GError **error)
{
    guint n = node_size(list);
    if (node_kind(list) != NODE_LIST || n > MOST_JOBS)
        return fail(name, "jobs", _("is not a list of jobs"), error);
    sheet->jobs = g_new0(LiveJob, n);
    for (guint i = 0; i < n; i++) {
        const Node *node = node_at(list, i);
        const char *id = live_get_text(node, "id"), *own = live_get_text(node, "name");
        LiveJob *job = &sheet->jobs[sheet->n_jobs++];
        live_job_init(job);
        job->id = g_strdup(id ? id : "");
        job->name = g_strdup(own ? own : job->id);
        job->metal = g_strdup(live_get_text(node, "metal"));
        job->flask = g_strdup(live_get_text(node, "flask"));
        job->pouring_temperature = live_get_number(node, "pouring_temperature", NAN);
        job->solidus = live_get_number(node, "solidus", NAN);
        job->pour_from = live_get_number(node, "pour_from", NAN);
        job->pour_to = live_get_number(node, "pour_to", NAN);
        job->casting_mass = live_get_number(node, "casting_mass", NAN);
        job->mould_mass = live_get_number(node, "mould_mass", NAN);
        job->cavities = (guint)live_get_int(node, "cavities", 0, MOST_CAVITIES, 0);
        job->guest = g_strdup(live_get_text(node, "guest"));
        job->guest_mass = live_get_number(node, "guest_mass", NAN);
        job->guests = (guint)live_get_int(node, "guests", 0, MOST_CAVITIES, 0);
    }
    return TRUE;
}

static gboolean
read_loads(LiveSheet *sheet, const Node *list, const char *name, GError **error)
{
    guint n = node_size(list);
    if (list && (node_kind(list) != NODE_LIST || n > MOST_LOADS))
        return fail(name, "loads", _("is not a list of loads"), error);
    sheet->loads = g_new0(LiveLoad, n);
    for (guint i = 0; i < n; i++) {
        const Node *node = node_at(list, i);
        sheet->loads[sheet->n_loads++] = (LiveLoad){
            .metal = g_strdup(live_get_text(node, "metal")),
            .furnace = g_strdup(live_get_text(node, "furnace")),
            .crucible = g_strdup(live_get_text(node, "crucible")),
            .charge_mass = live_get_number(node, "charge_mass", NAN),
        };
    }
    return TRUE;
}

LiveSheet *
live_sheet_read(const Node *node, const char *name, GError **error)
{
    const char *format = live_get_text(node, "format"), *id = live_get_text(node, "id");
    double start = live_get_number(node, "at", NAN);
    if (g_strcmp0(live_get_text(node, "do"), "start") != 0 || g_strcmp0(format, "castday") != 0) {
        fail(name, NULL, _("the line that holds the plan is missing or damaged"), error);
        return NULL;
    }
    if (live_get_int(node, "version", 1, LIVE_VERSION, 0) == 0) {
        base_error_set(error, BASE_ERROR_VERSION, name, NULL,
                       _("the day was started by a newer program"), _("go on with that one"));
        return NULL;
    }
    if (!id || !*id || !(fabs(start) < 1e11)) {
        fail(name, NULL, _("the day has no start"), error);
        return NULL;
    }
    g_autoptr(LiveSheet) sheet = g_new0(LiveSheet, 1);
    sheet->id = g_strdup(id);
    sheet->start = start;
    sheet->book = g_strdup(live_get_text(node, "book"));
    sheet->furnace = g_strdup(live_get_text(node, "furnace"));
    sheet->crucible = g_strdup(live_get_text(node, "crucible"));
    sheet->charge_mass = live_get_number(node, "charge_mass", NAN);
    if (!read_jobs(sheet, node_member(node, "jobs"), name, error) ||
        !read_loads(sheet, node_member(node, "loads"), name, error) ||
        !read_session(sheet, node_member(node, "session"), name, error))
        return NULL;
    return g_steal_pointer(&sheet);
}
