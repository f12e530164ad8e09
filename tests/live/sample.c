// SPDX-License-Identifier: GPL-3.0-or-later
// The sample's tasks follow one another without a gap, so every time can be added up by hand.
#include "sample.h"

#include <math.h>

#include "live/clock.h"
#include "live/node-kit.h"
#include "live/task.h"

static void
add_task(GArray *tasks, TaskKind kind, int load, int flask, double start, double minutes)
{
    gboolean person = kind != TASK_WARM_UP && kind != TASK_MELT && kind != TASK_COOL;
    gboolean furnace = kind == TASK_WARM_UP || kind == TASK_MELT || kind == TASK_CHARGE ||
                       kind == TASK_POUR;
    SessionTask task = {.kind = kind,
                        .load = load,
                        .flask = flask,
                        .box = flask < 0 ? -1 : flask % 4,
                        .job = -1,
                        .person = person,
                        .furnace = furnace ? 0 : -1,
                        .start = start,
                        .end = start + minutes * 60,
                        .who = person ? 0 : -1};
    task.label = flask >= 0 ? g_strdup_printf("%s flask %d", live_task_word(kind), flask + 1)
                            : g_strdup_printf("%s %d", live_task_word(kind), load + 1);
    g_array_append_val(tasks, task);
}

static int
compare_tasks(gconstpointer a, gconstpointer b)
{
    const SessionTask *x = a, *y = b;
    return x->start != y->start ? (x->start < y->start ? -1 : 1) : (int)x->kind - (int)y->kind;
}

SessionResult *
sample_session(guint loads)
{
    g_autoptr(GArray) tasks = g_array_new(FALSE, TRUE, sizeof(SessionTask));
    double at = 1200;
    add_task(tasks, TASK_SET_UP, -1, -1, 0, 20);
    add_task(tasks, TASK_WARM_UP, -1, -1, 1200, 120);
    for (int l = 0; l < (int)loads; l++) {
        for (int k = 0; k < 2; k++, at += 1800)
            add_task(tasks, TASK_RAM, l, 2 * l + k, at, 30);
        at = MAX(at, 1200 + 7200);
        add_task(tasks, TASK_CHARGE, l, -1, at, 5);
        add_task(tasks, TASK_MELT, l, -1, at + 300, 47);
        at += 300 + 2820;
        double poured = at;
        for (int k = 0; k < 2; k++, at += 180) {
            add_task(tasks, TASK_POUR, l, 2 * l + k, at, 3);
            add_task(tasks, TASK_COOL, l, 2 * l + k, at + 180, 61);
        }
        for (int k = 0; k < 2; k++)
            add_task(tasks, TASK_SHAKE_OUT, l, 2 * l + k, poured + 4020 + 600 * k, 10);
        at = poured + 4020 + 1200;
    }
    add_task(tasks, TASK_CLOSE, -1, -1, at, 15);
    g_array_sort(tasks, compare_tasks);
    g_autoptr(SessionResult) plain = g_atomic_rc_box_new0(SessionResult);
    plain->people = plain->furnaces = 1;
    plain->loads = (int)loads;
    plain->flasks = 2 * (int)loads;
    plain->boxes = 4;
    plain->length = at + 900;
    plain->hours = plain->length + 600;
    plain->n_curve = 2;
    plain->curve = g_new0(SessionFurnacePoint, 2);
    plain->curve[0] = (SessionFurnacePoint){1200, 21, g_strdup("Set 300 °C")};
    plain->curve[1] = (SessionFurnacePoint){5000, 300, g_strdup("Set 760 °C")};
    gsize n;
    plain->tasks = g_array_steal(tasks, &n);
    plain->n_tasks = (guint)n;
    return live_session_keyed(plain);
}

LiveSheet *
sample_sheet(guint loads)
{
    LiveSheet *sheet = g_new0(LiveSheet, 1);
    sheet->id = g_strdup("2025-10-26T06:45:00Z-0badcafe");
    sheet->start = SAMPLE_START;
    sheet->session = sample_session(loads);
    sheet->n_jobs = 1;
    sheet->jobs = g_new0(LiveJob, 1);
    live_job_init(&sheet->jobs[0]);
    sheet->jobs[0].id = g_strdup("pawl");
    sheet->jobs[0].name = g_strdup("Pawl");
    sheet->jobs[0].metal = g_strdup("a356");
    sheet->jobs[0].flask = g_strdup("small");
    sheet->jobs[0].pouring_temperature = 735;
    sheet->jobs[0].casting_mass = 0.137;
    sheet->jobs[0].mould_mass = 1.13;
    sheet->jobs[0].cavities = 3;
    sheet->furnace = g_strdup("small-furnace");
    sheet->crucible = g_strdup("crucible-a");
    sheet->charge_mass = 2.71;
    return sheet;
}

static void
fill_job(LiveJob *job, const char *id, const char *metal, guint cavities, double casting,
         double mould)
{
    live_job_init(job);
    job->id = g_strdup(id);
    job->name = g_strdup(id);
    job->metal = g_strdup(metal);
    job->flask = g_strdup("small");
    job->pouring_temperature = g_str_equal(metal, "a356") ? 735 : 1150;
    job->casting_mass = casting;
    job->mould_mass = mould;
    job->cavities = cavities;
}

LiveSheet *
sample_shop(void)
{
    LiveSheet *sheet = g_new0(LiveSheet, 1);
    sheet->id = g_strdup("2025-10-26T06:45:00Z-0ca11ed0");
    sheet->start = SAMPLE_START;
    sheet->session = sample_session(2);
    sheet->session->furnaces = 2;
    for (guint i = 0; i < sheet->session->n_tasks; i++) {
        SessionTask *task = &sheet->session->tasks[i];
        if (task->flask >= 0)
            task->job = MIN(task->flask, 2);
        if (task->load == 1 && task->furnace >= 0)
            task->furnace = 1;
    }
    sheet->n_jobs = 3;
    sheet->jobs = g_new0(LiveJob, 3);
    fill_job(&sheet->jobs[0], "pawl", "a356", 3, 0.137, 1.13);
    fill_job(&sheet->jobs[1], "knob", "a356", 2, 0.21, 0.74);
    fill_job(&sheet->jobs[2], "bush", "silicon-bronze", 1, 0.9, 1.45);
    sheet->jobs[1].guest = g_strdup("pin");
    sheet->jobs[1].guest_mass = 0.05;
    sheet->jobs[1].guests = 1;
    sheet->jobs[0].solidus = sheet->jobs[1].solidus = 557;
    sheet->jobs[0].pour_from = sheet->jobs[1].pour_from = 633;
    sheet->jobs[0].pour_to = sheet->jobs[1].pour_to = 763;
    sheet->n_loads = 2;
    sheet->loads = g_new0(LiveLoad, 2);
    sheet->loads[0] = (LiveLoad){g_strdup("a356"), g_strdup("small-furnace"),
                                 g_strdup("crucible-a"), 2.37};
    sheet->loads[1] = (LiveLoad){g_strdup("silicon-bronze"), g_strdup("large-furnace"),
                                 g_strdup("crucible-b"), 3.41};
    sheet->charge_mass = 2.37;
    return sheet;
}

static double shown = SAMPLE_START;

static double
show_clock(gpointer data)
{
    return shown;
}

void
sample_clock(double at)
{
    shown = at;
    live_clock_set(show_clock, NULL);
}

char *
sample_journal(const char *folder, guint loads)
{
    g_autoptr(LiveSheet) sheet = sample_sheet(loads);
    g_autoptr(Node) first = live_sheet_node(sheet);
    g_autoptr(GError) error = NULL;
    char *path = g_build_filename(folder, "sample.day", NULL);
    sample_clock(SAMPLE_START);
    g_autoptr(LiveJournal) journal = live_journal_start(path, first, &error);
    g_assert_no_error(error);
    g_assert_nonnull(journal);
    return path;
}

Node *
sample_tick(const char *what, const char *key, double at)
{
    Node *node = node_new_object();
    live_put_text(&node, "do", what);
    live_put_text(&node, "key", key);
    live_put_number(&node, "at", at);
    return node;
}
