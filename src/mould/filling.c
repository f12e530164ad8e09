// SPDX-License-Identifier: GPL-3.0-or-later
// Stepping through the filling: Bogacki and Shampine's pair of orders 3 and 2 (Applied Mathematics
// Letters 2, 1989, 321), steps chosen by their difference and cut where a cavity becomes full.
#include "mould/filling.h"

#include <math.h>

#define TOLERANCE 1e-4  // of a cavity's volume, a step
#define FULL 1e-10      // of a cavity's volume, counts as full
#define MOST_STEPS 3000 // then what is still rising never gets there
#define ALIKE 1e-9
#define MOST_SPREAD 999.0

MouldFlow *
mould_flow_new(void)
{
    return g_new0(MouldFlow, 1);
}

const MouldLevel *
mould_flow_level(const MouldFlow *flow, guint cavity)
{
    return flow->levels ? flow->levels[cavity] : flow->level;
}

void
mould_flow_free(MouldFlow *flow)
{
    if (!flow)
        return;
    mould_network_free(flow->network);
    g_free(flow->levels);
    g_free(flow->gates);
    g_free(flow->reaches);
    g_free(flow);
}

void
mould_filling_free(MouldFilling *f)
{
    if (!f)
        return;
    g_free(f->times);
    g_free(f->flows);
    g_free(f->cavity_time);
    g_free(f->gate_peak);
    g_free(f);
}

// What changes while the mould fills. The arrays hold one number a cavity.
typedef struct {
    MouldFlow *flow;
    MouldFilling *out;
    const Progress *progress;
    double *held, *next, *trial; // m3
    double *rate[4];             // m3/s
    gboolean *full;
    double *volume, least, all; // of each cavity, of the smallest, of all
    double time, step, weight, area;
    GArray *times, *flows;
} FillRun;

static void
clear_run(FillRun *r)
{
    g_free(r->held);
    g_free(r->next);
    g_free(r->trial);
    for (int i = 0; i < 4; i++)
        g_free(r->rate[i]);
    g_free(r->full);
    g_free(r->volume);
    g_clear_pointer(&r->times, g_array_unref);
    g_clear_pointer(&r->flows, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(FillRun, clear_run)

// Flow into every cavity when they hold `held`.
static gboolean
find_rates(FillRun *r, const double *held, double *rate, GError **error)
{
    MouldFlow *f = r->flow;
    for (guint i = 0; i < f->n_gates; i++) {
        const MouldGate *gate = &f->gates[i];
        double level = mould_level_height(mould_flow_level(f, gate->cavity), held[gate->cavity]);
        mould_network_set_head(f->network, gate->outlet, MAX(gate->height, level));
    }
    if (!mould_network_solve(f->network, error))
        return FALSE;
    for (guint i = 0; i < f->n_cavities; i++)
        rate[i] = 0;
    for (guint i = 0; i < f->n_gates; i++)
        rate[f->gates[i].cavity] += mould_network_flow(f->network, f->gates[i].link);
    return TRUE;
}

// Keeps the flow of now (the network stands solved at the end of a step), which was `lasted` s.
static void
keep(FillRun *r, double lasted)
{
    const MouldFlow *f = r->flow;
    MouldFilling *out = r->out;
    double all = mould_network_flow(f->network, f->sprue), gates = 0, runners = 0;
    double time = out->prime_time + r->time;
    g_array_append_val(r->times, time);
    for (guint i = 0; i < f->n_gates; i++) {
        double flow = mould_network_flow(f->network, f->gates[i].link);
        double speed = flow / f->gates[i].area;
        g_array_append_val(r->flows, flow);
        out->gate_peak[i] = MAX(out->gate_peak[i], speed);
        out->gate_velocity_last = MAX(out->gate_velocity_last, speed);
        if (speed > out->gate_velocity &&
            r->held[f->gates[i].cavity] < MOULD_SURGE * r->volume[f->gates[i].cavity]) {
            out->gate_velocity = speed;
            out->fastest = i;
            out->fastest_time = time;
        }
        gates += flow * mould_network_lost(f->network, f->gates[i].link);
    }
    for (guint i = 0; i < f->n_reaches; i++) {
        const MouldReach *reach = &f->reaches[i];
        double flow = mould_network_flow(f->network, reach->link), v = flow / reach->area;
        double pressure = mould_network_head(f->network, reach->node) - v * v / (2 * f->gravity);
        out->runner_full = fmin(out->runner_full, pressure - reach->top);
        runners += flow * mould_network_lost(f->network, reach->link);
    }
    if (!(all > 0))
        return;
    double weight = lasted * all;
    r->weight += weight;
    out->lost[0] += weight * mould_network_lost(f->network, f->sprue);
    out->lost[1] += weight * runners / all;
    out->lost[2] += weight * gates / all;
}

// One step of three stages; rate[0] is the flow at its start and rate[3] becomes that at its end.
static gboolean
try_step(FillRun *r, GError **error)
{
    guint n = r->flow->n_cavities;
    double h = r->step;
    for (guint i = 0; i < n; i++)
        r->trial[i] = r->held[i] + h / 2 * r->rate[0][i];
    if (!find_rates(r, r->trial, r->rate[1], error))
        return FALSE;
    for (guint i = 0; i < n; i++)
        r->trial[i] = r->held[i] + h * 3 / 4 * r->rate[1][i];
    if (!find_rates(r, r->trial, r->rate[2], error))
        return FALSE;
    for (guint i = 0; i < n; i++)
        r->next[i] = r->held[i] +
                     h / 9 * (2 * r->rate[0][i] + 3 * r->rate[1][i] + 4 * r->rate[2][i]);
    return find_rates(r, r->next, r->rate[3], error);
}

static double
find_error(const FillRun *r)
{
    double worst = 0;
    for (guint i = 0; i < r->flow->n_cavities; i++) {
        double e = -5.0 / 72 * r->rate[0][i] + r->rate[1][i] / 12 + r->rate[2][i] / 9 -
                   r->rate[3][i] / 8;
        worst = MAX(worst, fabs(e * r->step));
    }
    return worst / (TOLERANCE * r->least);
}

// Share of the step after which the first cavity is full; above 1 when none is.
static double
find_first_full(const FillRun *r)
{
    double share = INFINITY;
    for (guint i = 0; i < r->flow->n_cavities; i++) {
        double gained = r->next[i] - r->held[i];
        if (!r->full[i] && r->next[i] > r->volume[i] * (1 + FULL) && gained > 0)
            share = MIN(share, (r->volume[i] - r->held[i]) / gained);
    }
    return share;
}

static gboolean
close_full(FillRun *r)
{
    gboolean any = FALSE;
    for (guint i = 0; i < r->flow->n_cavities; i++) {
        if (r->full[i] || r->held[i] < r->volume[i] * (1 - FULL))
            continue;
        r->full[i] = any = TRUE;
        r->out->cavity_time[i] = r->out->prime_time + r->time;
        for (guint g = 0; g < r->flow->n_gates; g++)
            if (r->flow->gates[g].cavity == i)
                mould_network_set_shut(r->flow->network, r->flow->gates[g].link, TRUE);
    }
    return any;
}

static gboolean
is_done(const FillRun *r)
{
    for (guint i = 0; i < r->flow->n_cavities; i++)
        if (!r->full[i])
            return FALSE;
    return TRUE;
}

// Basin, sprue and runners: their own metal, before any reaches a gate.
static void
prime(FillRun *r)
{
    const MouldFlow *f = r->flow;
    double k = f->sprue_loss / (f->sprue_area * f->sprue_area);
    double flow = sqrt(2 * f->gravity * MAX(0, f->head - f->runner_height) / k);
    r->out->prime_time = (f->sprue_volume + f->runner_volume) / flow;
    r->out->poured = f->sprue_volume + f->runner_volume;
}

static void
find_start(FillRun *r)
{
    MouldFilling *out = r->out;
    double most = 0, least = INFINITY;
    for (guint i = 0; i < out->n_gates; i++) {
        double flow = mould_network_flow(r->flow->network, r->flow->gates[i].link);
        most = MAX(most, flow);
        least = MIN(least, flow);
    }
    out->gate_spread = most <= least * (1 + MOST_SPREAD) ? most / least - 1 : MOST_SPREAD;
    if (out->gate_spread < ALIKE)
        out->gate_spread = 0; // what the solver leaves
    out->start_flow = mould_network_flow(r->flow->network, r->flow->sprue);
}

static gboolean
fill(FillRun *r, GError **error)
{
    guint n = r->flow->n_cavities;
    if (!find_rates(r, r->held, r->rate[0], error))
        return FALSE;
    find_start(r);
    keep(r, 0);
    r->out->gate_velocity_start = r->out->gate_velocity;
    double start = r->out->start_flow;
    r->step = start > 0 ? 0.02 * r->all / start : 1;
    while (!is_done(r) && r->out->steps < MOST_STEPS && start > 0) {
        r->out->steps++;
        if (!progress_check(r->progress, error) || !try_step(r, error))
            return FALSE;
        double error_share = find_error(r), first = find_first_full(r);
        if (error_share > 1) {
            r->step *= CLAMP(0.9 * pow(error_share, -1.0 / 3), 0.2, 0.9);
            continue;
        }
        if (first < 1) {
            r->step *= first;
            continue;
        }
        r->time += r->step;
        for (guint i = 0; i < n; i++) {
            r->out->poured += r->next[i] - r->held[i];
            r->held[i] = r->next[i];
        }
        keep(r, r->step);
        gboolean closed = close_full(r);
        if (closed && !is_done(r)) {
            if (!find_rates(r, r->held, r->rate[3], error))
                return FALSE;
            keep(r, 0);
        }
        double *swap = r->rate[0];
        r->rate[0] = r->rate[3];
        r->rate[3] = swap;
        r->step *= closed ? 1 : CLAMP(0.9 * pow(error_share + 1e-9, -1.0 / 3), 0.5, 4);
    }
    return TRUE;
}

static void
finish(FillRun *r)
{
    MouldFilling *out = r->out;
    out->time = is_done(r) ? out->prime_time + r->time : NAN;
    out->mean_flow = out->poured / (out->prime_time + r->time);
    double first = INFINITY, last = 0;
    for (guint i = 0; i < out->n_cavities; i++) {
        first = fmin(first, out->cavity_time[i] - out->prime_time);
        last = MAX(last, out->cavity_time[i] - out->prime_time);
    }
    out->fill_spread = is_done(r) ? last / first - 1 : NAN;
    for (int i = 0; i < 3; i++)
        out->lost[i] = r->weight > 0 ? out->lost[i] / r->weight : NAN;
    out->n_times = r->times->len;
    out->times = (double *)g_array_free(g_steal_pointer(&r->times), FALSE);
    out->flows = (double *)g_array_free(g_steal_pointer(&r->flows), FALSE);
}

MouldFilling *
mould_filling_run(MouldFlow *flow, const Progress *progress, GError **error)
{
    guint n = flow->n_cavities;
    g_return_val_if_fail(flow->network && n > 0 && flow->n_gates > 0, NULL);
    g_autoptr(MouldFilling) out = g_new0(MouldFilling, 1);
    g_auto(FillRun) r = {.flow = flow, .out = out, .progress = progress};
    r.volume = g_new(double, n);
    for (guint i = 0; i < n; i++) {
        r.volume[i] = mould_level_volume(mould_flow_level(flow, i));
        r.least = i == 0 ? r.volume[i] : MIN(r.least, r.volume[i]);
        r.all += r.volume[i];
    }
    out->n_cavities = n;
    out->n_gates = flow->n_gates;
    out->runner_full = NAN;
    out->cavity_time = g_new(double, n);
    out->gate_peak = g_new0(double, flow->n_gates);
    r.held = g_new0(double, n);
    r.next = g_new0(double, n);
    r.trial = g_new0(double, n);
    for (int i = 0; i < 4; i++)
        r.rate[i] = g_new0(double, n);
    r.full = g_new0(gboolean, n);
    r.times = g_array_new(FALSE, FALSE, sizeof(double));
    r.flows = g_array_new(FALSE, FALSE, sizeof(double));
    for (guint i = 0; i < n; i++)
        out->cavity_time[i] = NAN;
    prime(&r);
    if (!fill(&r, error))
        return NULL;
    finish(&r);
    return g_steal_pointer(&out);
}
