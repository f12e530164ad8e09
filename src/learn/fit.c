// SPDX-License-Identifier: GPL-3.0-or-later
// Two unknowns want melts that differ in more than size: a meter that reads less than full power, a
// charge that stood, a lid left open. Where all melts ran flat out, energy is in step with time and
// only the efficiency can be had, for a standing loss given.
#include "learn/fit.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit.h>
#include <math.h>

#define FEWEST_CYCLES 4       // two unknowns and two to judge them by
#define LEAST_RCOND 1e-3      // of the scaled columns: below it heat and time are in step
#define EFFICIENCY_DOUBT 0.25 // share of the answer its standard error may be
#define LOSS_DOUBT 0.5

// GSL ends the program on an error unless told not to.
static void
quieten_gsl(void)
{
    static gsize done = 0;
    if (g_once_init_enter(&done)) {
        gsl_set_error_handler_off();
        g_once_init_leave(&done, 1);
    }
}

static gboolean
is_usable(const LearnCycle *c)
{
    return isfinite(c->heat) && isfinite(c->energy) && isfinite(c->time) && c->heat > 0 &&
           c->energy > 0 && c->time > 0;
}

typedef struct {
    double value[2], error[2];
    double rcond;
} Solution;

// energy = value[0] heat + value[1] time. Columns are scaled to length 1, so that rcond speaks of
// their angle and not of their units.
static gboolean
solve(const double *heat, const double *time, const double *energy, guint n, Solution *out)
{
    double norm[2] = {0, 0}, chisq = 0;
    for (guint i = 0; i < n; i++) {
        norm[0] += heat[i] * heat[i];
        norm[1] += time[i] * time[i];
    }
    norm[0] = sqrt(norm[0]);
    norm[1] = sqrt(norm[1]);
    gsl_matrix *x = gsl_matrix_alloc(n, 2), *cov = gsl_matrix_alloc(2, 2);
    gsl_vector *y = gsl_vector_alloc(n), *c = gsl_vector_alloc(2);
    gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc(n, 2);
    gboolean good = x && cov && y && c && work;
    for (guint i = 0; good && i < n; i++) {
        gsl_matrix_set(x, i, 0, heat[i] / norm[0]);
        gsl_matrix_set(x, i, 1, time[i] / norm[1]);
        gsl_vector_set(y, i, energy[i]);
    }
    good = good && gsl_multifit_linear(x, y, c, cov, &chisq, work) == GSL_SUCCESS;
    if (good) {
        for (int k = 0; k < 2; k++) {
            out->value[k] = gsl_vector_get(c, k) / norm[k];
            out->error[k] = sqrt(gsl_matrix_get(cov, k, k)) / norm[k];
        }
        out->rcond = gsl_multifit_linear_rcond(work);
    }
    g_clear_pointer(&work, gsl_multifit_linear_free);
    g_clear_pointer(&x, gsl_matrix_free);
    g_clear_pointer(&cov, gsl_matrix_free);
    g_clear_pointer(&y, gsl_vector_free);
    g_clear_pointer(&c, gsl_vector_free);
    return good;
}

gboolean
learn_fit_both(const LearnCycle *cycles, guint n, double power, LearnFit *fit)
{
    g_return_val_if_fail((cycles != NULL || n == 0) && fit != NULL, FALSE);
    g_autofree double *heat = g_new(double, n + 1);
    g_autofree double *time = g_new(double, n + 1);
    g_autofree double *energy = g_new(double, n + 1);
    guint used = 0, left_out = 0;
    for (guint i = 0; i < n; i++) {
        if (!cycles[i].metered || !is_usable(&cycles[i]))
            continue;
        if (cycles[i].heat > cycles[i].energy) {
            left_out++;
            continue;
        }
        heat[used] = cycles[i].heat;
        time[used] = cycles[i].time;
        energy[used++] = cycles[i].energy;
    }
    Solution found;
    quieten_gsl();
    if (used < FEWEST_CYCLES || !solve(heat, time, energy, used, &found))
        return FALSE;
    double share = 1 / found.value[0], loss = found.value[1];
    double share_error = found.error[0] * share * share;
    if (!(found.rcond > LEAST_RCOND && share > 0 && share <= 1 && loss > 0 && loss < power &&
          share_error <= EFFICIENCY_DOUBT * share && found.error[1] <= LOSS_DOUBT * loss))
        return FALSE;
    *fit = (LearnFit){used, left_out, share, share_error, loss, found.error[1]};
    return TRUE;
}

// energy - loss x time = heat / efficiency: a line through the origin.
gboolean
learn_fit_efficiency(const LearnCycle *cycles, guint n, double standing_loss, LearnFit *fit)
{
    g_return_val_if_fail((cycles != NULL || n == 0) && fit != NULL, FALSE);
    double xx = 0, xy = 0, yy = 0;
    *fit = (LearnFit){0, 0, NAN, NAN, NAN, NAN};
    for (guint i = 0; i < n; i++) {
        double given = cycles[i].energy - standing_loss * cycles[i].time, heat = cycles[i].heat;
        if (!is_usable(&cycles[i]) || isnan(given))
            continue;
        if (heat > given) {
            fit->left_out++;
            continue;
        }
        fit->used++;
        xx += heat * heat;
        xy += heat * given;
        yy += given * given;
    }
    if (fit->used == 0)
        return FALSE;
    double slope = xy / xx;
    fit->efficiency = 1 / slope;
    if (fit->used > 1) {
        double rest = fmax(0, yy - slope * xy) / (fit->used - 1);
        fit->efficiency_error = sqrt(rest / xx) / (slope * slope);
    }
    return TRUE;
}
