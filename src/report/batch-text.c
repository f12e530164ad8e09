// SPDX-License-Identifier: GPL-3.0-or-later
// A batch for a terminal: the sessions, how each job ends, what to have on hand, and the figures.
#include <glib/gi18n-lib.h>

#include "figure/explain.h"
#include "report/batch.h"
#include "report/cell.h"

#define NUMBER_WIDTH 11

static void
append_sessions(GString *out, const BatchPlan *batch)
{
    g_string_append_printf(out, "%s\n", _("Sessions"));
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        g_autofree char *day = report_batch_day(session->day);
        g_autofree char *from = days_write_clock(session->from);
        g_autofree char *to = days_write_clock(session->to);
        for (guint k = 0; k < session->n_pours; k++) {
            const BatchPour *pour = &session->pours[k];
            g_autofree char *words = report_batch_pour(batch, pour);
            g_autofree char *mass = quantity_format(QUANTITY_MASS, pour->charge, &batch->units);
            g_autofree char *head = g_strdup_printf("%4d  %s  %s\u2013%s  ", session->number, day,
                                                    from, to);
            report_cell(out, k == 0 ? head : "", 34, FALSE);
            g_string_append_printf(out, _("%s: %s, %s charged\n"), batch->jobs[pour->job].name,
                                   words, mass);
        }
        g_autofree char *words = report_batch_session(session);
        report_cell(out, "", 34, FALSE);
        g_string_append_printf(out, "%s\n", words);
    }
    if (batch->n_sessions == 0)
        g_string_append_printf(out, "  %s\n", _("None: nothing is left to cast."));
}

static void
append_jobs(GString *out, const BatchPlan *batch)
{
    g_string_append_printf(out, "\n%s\n", _("Jobs"));
    for (guint i = 0; i < batch->n_jobs; i++) {
        const BatchJob *job = &batch->jobs[i];
        g_autofree char *end = report_batch_end(job);
        g_string_append_printf(out, _("  %s: %d good parts wanted, %d in the log"), job->name,
                               job->wanted, job->good);
        if (job->flasks > 0) {
            g_autofree char *castings = g_strdup_printf(
                ngettext("%d casting", "%d castings", job->castings), job->castings);
            g_autofree char *flasks = g_strdup_printf(
                ngettext("%d flask", "%d flasks", job->flasks), job->flasks);
            g_string_append_printf(out, _("; %s to start, %s"), castings, flasks);
        }
        g_string_append_printf(out, "\n    %s\n", end);
    }
}

static void
append_shelves(GString *out, const BatchPlan *batch)
{
    if (!batch->lists_stock || batch->n_shelves == 0)
        return;
    g_string_append_printf(out, "\n%s\n", _("Metal in stock"));
    for (guint i = 0; i < batch->n_shelves; i++) {
        g_autofree char *words = report_batch_shelf(batch, &batch->shelves[i]);
        g_string_append_printf(out, "  %s\n", words);
    }
}

static void
append_needs(GString *out, const BatchPlan *batch)
{
    if (batch->n_needs == 0)
        return;
    g_string_append_printf(out, "\n%s\n", _("To have on hand, by the morning of"));
    for (guint i = 0; i < batch->n_needs; i++) {
        const CalendarNeed *need = &batch->needs[i];
        gboolean first = i == 0 || need[-1].by != need->by;
        g_autofree char *day = report_batch_day(need->by);
        g_autofree char *words = report_batch_need(batch, need);
        g_string_append(out, "  ");
        report_cell(out, first ? day : "", 16, FALSE);
        g_string_append_printf(out, "%s\n", words);
    }
}

static void
append_figures(GString *out, const BatchPlan *batch)
{
    int width = 0;
    g_string_append_printf(out, "\n%s\n", _("All together"));
    for (guint i = 0; i < figure_list_size(batch->figures); i++)
        width = MAX(width,
                    (int)g_utf8_strlen(_(figure_list_at(batch->figures, i)->spec->label), -1));
    for (guint i = 0; i < figure_list_size(batch->figures); i++) {
        const Figure *figure = figure_list_at(batch->figures, i);
        g_autofree char *number = NULL, *unit = NULL;
        if (figure->given)
            continue;
        g_string_append(out, "  ");
        report_cell(out, _(figure->spec->label), width + 2, FALSE);
        if (figure->text)
            number = g_strdup(figure->text);
        else if (figure->state == FIGURE_UNKNOWN)
            number = g_strdup("–");
        else
            quantity_format_parts(figure->spec->kind, figure->value, &batch->units, &number, &unit);
        report_cell(out, number, NUMBER_WIDTH, TRUE);
        if (unit && *unit)
            g_string_append_printf(out, " %s", unit);
        if (figure->state > FIGURE_PLAIN)
            g_string_append_printf(out, "  %s", figure_state_word(figure->state));
        g_string_append_c(out, '\n');
        if (figure->note)
            g_string_append_printf(out, "    %s\n", figure->note);
    }
}

char *
report_batch_text(const BatchPlan *batch)
{
    g_return_val_if_fail(batch, NULL);
    g_autoptr(GString) out = g_string_new(NULL);
    append_sessions(out, batch);
    append_jobs(out, batch);
    append_shelves(out, batch);
    append_needs(out, batch);
    append_figures(out, batch);
    return g_string_free(g_steal_pointer(&out), FALSE);
}
