// SPDX-License-Identifier: GPL-3.0-or-later
// Looking things up in a sheet.
#include "live/sheet.h"

#include <math.h>

void
live_sheet_free(LiveSheet *sheet)
{
    if (!sheet)
        return;
    for (guint i = 0; i < sheet->n_jobs; i++) {
        g_free(sheet->jobs[i].id);
        g_free(sheet->jobs[i].name);
        g_free(sheet->jobs[i].metal);
        g_free(sheet->jobs[i].flask);
        g_free(sheet->jobs[i].guest);
    }
    for (guint i = 0; i < sheet->n_loads; i++) {
        g_free(sheet->loads[i].metal);
        g_free(sheet->loads[i].furnace);
        g_free(sheet->loads[i].crucible);
    }
    g_free(sheet->loads);
    g_free(sheet->jobs);
    g_free(sheet->id);
    g_free(sheet->book);
    g_free(sheet->furnace);
    g_free(sheet->crucible);
    session_result_unref(sheet->session);
    g_free(sheet);
}

const LiveJob *
live_sheet_job(const LiveSheet *sheet, const SessionTask *task)
{
    g_return_val_if_fail(sheet != NULL && task != NULL, NULL);
    if (task->job >= 0 && (guint)task->job < sheet->n_jobs)
        return &sheet->jobs[task->job];
    return sheet->n_jobs == 1 ? &sheet->jobs[0] : NULL;
}

void
live_job_init(LiveJob *job)
{
    g_return_if_fail(job != NULL);
    *job = (LiveJob){.pouring_temperature = NAN,
                     .solidus = NAN,
                     .pour_from = NAN,
                     .pour_to = NAN,
                     .casting_mass = NAN,
                     .mould_mass = NAN,
                     .guest_mass = NAN};
}

// Moulds of a load, and in *most of the load that has most. Its first pour in *pour.
static int
count_moulds(const LiveSheet *sheet, int load, int *most, const SessionTask **pour)
{
    g_autoptr(GHashTable) counts = g_hash_table_new(NULL, NULL);
    *most = 0;
    for (guint i = 0; i < sheet->session->n_tasks; i++) {
        const SessionTask *task = &sheet->session->tasks[i];
        gpointer key = GINT_TO_POINTER(task->load);
        if (task->kind != TASK_POUR)
            continue;
        int count = GPOINTER_TO_INT(g_hash_table_lookup(counts, key)) + 1;
        g_hash_table_insert(counts, key, GINT_TO_POINTER(count));
        *most = MAX(*most, count);
        if (task->load == load && !*pour)
            *pour = task;
    }
    return GPOINTER_TO_INT(g_hash_table_lookup(counts, GINT_TO_POINTER(load)));
}

LiveLoad
live_sheet_load(const LiveSheet *sheet, int load)
{
    LiveLoad known = {.charge_mass = NAN};
    g_return_val_if_fail(sheet != NULL, known);
    if (load >= 0 && (guint)load < sheet->n_loads)
        return sheet->loads[load];
    const SessionTask *pour = NULL;
    int most, moulds = count_moulds(sheet, load, &most, &pour);
    const LiveJob *job = pour ? live_sheet_job(sheet, pour) : NULL;
    known.furnace = sheet->furnace;
    known.crucible = sheet->crucible;
    known.metal = job ? job->metal : NULL;
    // The mass of a full load is known of the first job's metal.
    if (job && g_strcmp0(job->metal, sheet->jobs[0].metal) == 0)
        known.charge_mass = sheet->charge_mass * moulds / most;
    return known;
}

int
live_sheet_find(const LiveSheet *sheet, const char *key)
{
    g_return_val_if_fail(sheet != NULL && key != NULL, -1);
    for (guint i = 0; i < sheet->session->n_tasks; i++)
        if (g_str_equal(sheet->session->tasks[i].key, key))
            return (int)i;
    return -1;
}
