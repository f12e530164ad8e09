// SPDX-License-Identifier: GPL-3.0-or-later
// A batch to a calendar file or to rows.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/whole-file.h"
#include "calendar/csv.h"
#include "calendar/ics.h"
#include "calendar/uid.h"
#include "report/batch.h"

static char *
sum_up(const BatchPlan *batch, const BatchSession *session)
{
    g_autoptr(GString) out = g_string_new(NULL);
    g_string_append(out, _("Pour "));
    for (guint i = 0; i < session->n_pours; i++) {
        const BatchPour *pour = &session->pours[i];
        g_string_append_printf(out, "%s%s \u00d7 %d", i > 0 ? "; " : "",
                               batch->jobs[pour->job].name, pour->castings);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

// Cautions of all plans poured, each once.
static void
append_cautions(GString *out, const BatchPlan *batch, const BatchSession *session)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    g_string_append_printf(out, "\n%s\n", _("Cautions"));
    for (guint i = 0; i < session->n_pours; i++) {
        const Plan *plan = batch->jobs[session->pours[i].job].plan;
        for (const char *const *c = plan ? plan_cautions(plan) : NULL; c && *c; c++)
            if (g_hash_table_add(seen, (gpointer)*c))
                g_string_append_printf(out, "- %s\n", *c);
    }
}

static void
append_pours(GString *out, const BatchPlan *batch, const BatchSession *session)
{
    for (guint i = 0; i < session->n_pours; i++) {
        const BatchPour *pour = &session->pours[i];
        const BatchJob *job = &batch->jobs[pour->job];
        g_autofree char *words = report_batch_pour(batch, pour);
        g_autofree char *mass = quantity_format(QUANTITY_MASS, pour->charge, &batch->units);
        g_string_append_printf(out, _("%s: %s, %s of %s charged\n"), job->name, words, mass,
                               job->metal_name);
        if (job->done == session->day) {
            g_autofree char *end = report_batch_end(job);
            g_string_append_printf(out, _("Last session of %s: %s\n"), job->name, end);
        }
    }
}

static char *
describe(const BatchPlan *batch, guint index)
{
    const BatchSession *session = &batch->sessions[index];
    g_autoptr(GString) out = g_string_new(NULL);
    g_autofree char *close = days_write_clock(session->hours_end);
    gboolean any = FALSE;
    append_pours(out, batch, session);
    for (char **id = session->crucibles; id && *id; id++)
        g_string_append_printf(out, _("Crucible: %s\n"), report_batch_crucible(batch, *id));
    g_autofree char *held = report_batch_session(session);
    g_string_append_printf(out, "%s\n", held);
    g_string_append_printf(out, _("The day's hours end at %s.\n"), close);
    for (guint i = 0; i < batch->n_needs; i++) {
        if (batch->needs[i].session != index)
            continue;
        g_autofree char *words = report_batch_need(batch, &batch->needs[i]);
        if (!any)
            g_string_append_printf(out, "\n%s\n", _("To have on hand"));
        any = TRUE;
        g_string_append_printf(out, "- %s\n", words);
    }
    append_cautions(out, batch, session);
    g_string_truncate(out, out->len - 1); // the last line end
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
report_batch_ics(const BatchPlan *batch, const char *book, int alarm, GError **error)
{
    g_return_val_if_fail(batch && book, NULL);
    g_autofree CalendarEvent *events = g_new0(CalendarEvent, batch->n_sessions + 1);
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        events[i] = (CalendarEvent){.uid = calendar_uid(book, session->number),
                                    .day = session->day,
                                    .from = session->from,
                                    .to = session->to,
                                    .summary = sum_up(batch, session),
                                    .description = describe(batch, i),
                                    .category = g_strdup(_("Casting"))};
    }
    CalendarHead head = {batch->shop ? batch->shop : book, batch->first, alarm};
    char *text = calendar_ics(&head, events, batch->n_sessions, error);
    for (guint i = 0; i < batch->n_sessions; i++)
        calendar_event_clear(&events[i]);
    return text;
}

static void
append_session_rows(GString *out, const BatchPlan *batch, const BatchSession *session)
{
    g_autofree char *number = g_strdup_printf("%d", session->number);
    g_autofree char *date = days_write_date(session->day);
    g_autofree char *from = days_write_clock(session->from);
    g_autofree char *end_date = days_write_date(session->day + (guint32)(session->to / 1440));
    g_autofree char *to = days_write_clock(session->to);
    g_autofree char *all = g_strdup_printf("%d", session->loads);
    for (guint i = 0; i < session->n_pours; i++) {
        const BatchPour *pour = &session->pours[i];
        const BatchJob *job = &batch->jobs[pour->job];
        g_autofree char *flasks = g_strdup_printf("%d", pour->flasks);
        g_autofree char *castings = g_strdup_printf("%d", pour->castings);
        g_autofree char *loads = g_strdup_printf("%d", pour->loads);
        g_autofree char *shared = g_strdup_printf("%d", pour->shared);
        g_autofree char *charge = calendar_csv_number(pour->charge, 3);
        g_autofree char *due = job->due ? days_write_date(job->due) : NULL;
        g_autofree char *late = job->done == session->day && job->late != G_MININT
                                    ? g_strdup_printf("%d", job->late)
                                    : NULL;
        const char *const cells[] = {number,    date,       from,   end_date, to,           job->id,
                                     job->name, job->metal, flasks, castings, loads,        charge,
                                     due,       late,       shared, all,      session->held};
        calendar_csv_row(out, cells, G_N_ELEMENTS(cells));
    }
}

char *
report_batch_csv(const BatchPlan *batch)
{
    static const char *const head[] = {
        "session", "date",      "start",        "end_date",      "end",      "job",
        "name",    "metal",     "flasks",       "castings",      "loads",    "charge_kg",
        "due",     "days_late", "shared_loads", "session_loads", "held_back"};
    g_return_val_if_fail(batch, NULL);
    g_autoptr(GString) out = g_string_new(NULL);
    calendar_csv_row(out, head, G_N_ELEMENTS(head));
    for (guint i = 0; i < batch->n_sessions; i++)
        append_session_rows(out, batch, &batch->sessions[i]);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

char *
report_batch_needs_csv(const BatchPlan *batch)
{
    static const char *const head[] = {"by",    "session", "kind",  "what",       "amount",
                                       "unit",  "so_far",  "stock", "returns_kg", "castings_kg",
                                       "begin", "cost",    "words"};
    g_return_val_if_fail(batch, NULL);
    g_autoptr(GString) out = g_string_new(NULL);
    calendar_csv_row(out, head, G_N_ELEMENTS(head));
    for (guint i = 0; i < batch->n_needs; i++) {
        const CalendarNeed *need = &batch->needs[i];
        gboolean mass = need->kind == NEED_INGOT || need->kind == NEED_SAND;
        g_autofree char *by = days_write_date(need->by);
        g_autofree char *number = g_strdup_printf("%d", batch->sessions[need->session].number);
        g_autofree char *amount = calendar_csv_number(need->amount, 3);
        g_autofree char *so_far = calendar_csv_number(need->so_far, 3);
        gboolean ingot = need->kind == NEED_INGOT, crucible = need->kind == NEED_CRUCIBLE;
        g_autofree char *stock = ingot || crucible ? calendar_csv_number(need->stock, 3) : NULL;
        g_autofree char *returns = ingot ? calendar_csv_number(need->returns, 3) : NULL;
        g_autofree char *castings = ingot ? calendar_csv_number(need->castings, 3) : NULL;
        g_autofree char *begin = need->begin ? days_write_date(need->begin) : NULL;
        g_autofree char *cost = calendar_csv_number(need->cost, 2);
        g_autofree char *words = report_batch_need(batch, need);
        const char *what = need->kind == NEED_PATTERNS ? batch->jobs[need->job].id : need->what;
        const char *const cells[] = {by,       number, batch_need_id(need->kind),
                                     what,     amount, mass ? "kg" : "1",
                                     so_far,   stock,  returns,
                                     castings, begin,  cost,
                                     words};
        calendar_csv_row(out, cells, G_N_ELEMENTS(cells));
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

// "loom-hardware" of ".../loom-hardware.castbook". Free.
static char *
name_book(const BatchPlan *batch, const char *path)
{
    if (!path)
        return g_strdup(batch->shop ? batch->shop : "");
    g_autofree char *name = g_path_get_basename(path);
    char *dot = strrchr(name, '.');
    if (dot && dot > name)
        *dot = '\0';
    return g_utf8_make_valid(name, -1);
}

gboolean
report_batch_check(const char *path, gboolean needs, gboolean replace, GError **error)
{
    g_return_val_if_fail(path, FALSE);
    g_autofree char *lower = g_ascii_strdown(path, -1);
    gboolean ics = g_str_has_suffix(lower, ".ics"), csv = g_str_has_suffix(lower, ".csv");
    if (!csv && (needs || !ics))
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL,
                              _("its ending says no kind that can be written"),
                              needs ? _("end it in .csv") : _("end it in .ics or .csv"));
    return whole_file_may(path, replace, error);
}

gboolean
report_batch_write(const BatchPlan *batch, const char *book_path, int alarm, gboolean needs,
                   const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(batch && path, FALSE);
    if (!report_batch_check(path, needs, replace, error))
        return FALSE;
    g_autofree char *book = name_book(batch, book_path), *text = NULL;
    g_autofree char *lower = g_ascii_strdown(path, -1);
    text = g_str_has_suffix(lower, ".ics") ? report_batch_ics(batch, book, alarm, error)
           : needs                         ? report_batch_needs_csv(batch)
                                           : report_batch_csv(batch);
    if (!text)
        return FALSE;
    return whole_file_write(path, text, strlen(text), replace, error);
}
