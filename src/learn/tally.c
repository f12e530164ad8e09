// SPDX-License-Identifier: GPL-3.0-or-later
// Sessions hold loads, loads hold flasks, flasks hold castings; one function a level.
#include "learn/tally.h"

#include <math.h>

#include "book/log-members.h"

typedef struct {
    const char *job_id;
    const LearnFurnace *furnace;
    const UnitSet *units;
    LearnTally *tally;
} Walk;

// A quantity member in SI; NAN when absent or not readable.
static double
read_quantity(const Walk *walk, const Node *node, const char *member, QuantityKind kind)
{
    const char *text = node_text(node_member(node, member));
    double value = NAN;
    if (text && !quantity_parse(kind, text, walk->units, &value, NULL))
        return NAN;
    return value;
}

static void
count_casting(Walk *walk, const Node *casting, const char *job)
{
    LearnTally *tally = walk->tally;
    const Node *good = node_member(casting, "good");
    const char *own = node_text(node_member(casting, "job")); // in a shared flask
    if (walk->job_id && g_strcmp0(own ? own : job, walk->job_id) != 0)
        return;
    if (node_kind(good) != NODE_BOOL)
        return; // not judged yet
    tally->poured++;
    if (node_bool(good)) {
        double mass = read_quantity(walk, casting, "mass", QUANTITY_MASS);
        tally->good++;
        if (mass > 0)
            g_array_append_val(tally->masses, mass);
        return;
    }
    const char *cause = node_text(node_member(casting, "cause"));
    guint i = 0;
    while (i < log_cause_count() && g_strcmp0(log_cause_at(i)->id, cause) != 0)
        i++;
    if (i < log_cause_count())
        tally->scrap[i]++;
    else
        tally->unnamed++;
}

// TRUE if the flask holds judged castings of the job.
static gboolean
count_flask(Walk *walk, const Node *flask)
{
    double ram_time = read_quantity(walk, flask, "ram_time", QUANTITY_TIME);
    if (ram_time > 0)
        g_array_append_val(walk->tally->ram_times, ram_time);
    const char *job = node_text(node_member(flask, "job"));
    guint before = walk->tally->poured;
    const Node *castings = node_member(flask, "castings");
    for (guint i = 0; i < node_size(castings); i++)
        count_casting(walk, node_at(castings, i), job);
    return walk->tally->poured > before;
}

// The energy a load took is what the meter said; without one, full power for as long as it melted.
static void
judge_load(Walk *walk, const Node *load)
{
    const LearnFurnace *furnace = walk->furnace;
    const char *metal = node_text(node_member(load, "metal"));
    if (!metal || g_strcmp0(metal, furnace->metal) != 0)
        return;
    double charge = read_quantity(walk, load, "charge", QUANTITY_MASS);
    double energy = read_quantity(walk, load, "energy", QUANTITY_ENERGY);
    LearnCycle cycle = {
        .heat = charge * furnace->heat_content,
        .time = read_quantity(walk, load, "melt_time", QUANTITY_TIME),
        .metered = energy > 0,
    };
    cycle.energy = cycle.metered ? energy : furnace->power * cycle.time;
    if (cycle.heat > 0 && cycle.time > 0 && cycle.energy > 0)
        g_array_append_val(walk->tally->cycles, cycle);
}

static void
count_session(Walk *walk, const Node *session)
{
    const char *usual = node_text(node_member(session, "furnace"));
    gboolean poured = FALSE;
    const Node *loads = node_member(session, "loads");
    for (guint i = 0; i < node_size(loads); i++) {
        const Node *load = node_at(loads, i);
        const Node *flasks = node_member(load, "flasks");
        const char *own = node_text(node_member(load, "furnace")), *furnace = own ? own : usual;
        if (!furnace || g_strcmp0(furnace, walk->furnace->furnace) == 0)
            judge_load(walk, load);
        for (guint k = 0; k < node_size(flasks); k++)
            poured |= count_flask(walk, node_at(flasks, k));
    }
    walk->tally->sessions += poured ? 1 : 0;
}

LearnTally *
learn_tally_new(const Node *log, const char *job_id, const LearnFurnace *furnace,
                const UnitSet *units)
{
    g_return_val_if_fail(furnace != NULL && units != NULL, NULL);
    LearnTally *tally = g_new0(LearnTally, 1);
    tally->ram_times = g_array_new(FALSE, FALSE, sizeof(double));
    tally->masses = g_array_new(FALSE, FALSE, sizeof(double));
    tally->scrap = g_new0(guint, log_cause_count());
    tally->cycles = g_array_new(FALSE, FALSE, sizeof(LearnCycle));
    Walk walk = {job_id, furnace, units, tally};
    const Node *sessions = node_member(log, "sessions");
    for (guint i = 0; i < node_size(sessions); i++)
        count_session(&walk, node_at(sessions, i));
    return tally;
}

void
learn_tally_free(LearnTally *tally)
{
    if (!tally)
        return;
    g_array_unref(tally->ram_times);
    g_array_unref(tally->masses);
    g_free(tally->scrap);
    g_array_unref(tally->cycles);
    g_free(tally);
}
