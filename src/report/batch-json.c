// SPDX-License-Identifier: GPL-3.0-or-later
// A batch as JSON, for programs. Numbers are SI and written without the locale; what is not known
// is null.
#include <json-glib/json-glib.h>
#include <math.h>

#include "figure/source.h"
#include "report/batch.h"

static void
add_number(JsonBuilder *builder, const char *name, double value)
{
    json_builder_set_member_name(builder, name);
    if (isfinite(value))
        json_builder_add_double_value(builder, value);
    else
        json_builder_add_null_value(builder);
}

static void
add_count(JsonBuilder *builder, const char *name, gint64 value)
{
    json_builder_set_member_name(builder, name);
    json_builder_add_int_value(builder, value);
}

static void
add_text(JsonBuilder *builder, const char *name, const char *text)
{
    json_builder_set_member_name(builder, name);
    if (text)
        json_builder_add_string_value(builder, text);
    else
        json_builder_add_null_value(builder);
}

static void
add_day(JsonBuilder *builder, const char *name, guint32 day)
{
    g_autofree char *text = day ? days_write_date(day) : NULL;
    add_text(builder, name, text);
}

static void
add_moment(JsonBuilder *builder, const char *name, guint32 day, int minutes)
{
    g_autofree char *date = days_write_date(day + (guint32)(minutes / 1440));
    g_autofree char *clock = days_write_clock(minutes);
    g_autofree char *text = g_strdup_printf("%sT%s:00", date, clock);
    add_text(builder, name, text);
}

static void
begin_list(JsonBuilder *builder, const char *name)
{
    json_builder_set_member_name(builder, name);
    json_builder_begin_array(builder);
}

static void
add_sessions(JsonBuilder *builder, const BatchPlan *batch)
{
    begin_list(builder, "sessions");
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        json_builder_begin_object(builder);
        add_count(builder, "number", session->number);
        add_moment(builder, "start", session->day, session->from);
        add_moment(builder, "end", session->day, session->to);
        add_moment(builder, "hours_end", session->day, session->hours_end);
        add_number(builder, "charge", session->charge);
        add_count(builder, "loads", session->loads);
        add_count(builder, "shared_loads", session->shared);
        add_text(builder, "held_back", session->held);
        add_text(builder, "held_back_why", session->held_why);
        begin_list(builder, "crucibles");
        for (char **id = session->crucibles; id && *id; id++)
            json_builder_add_string_value(builder, *id);
        json_builder_end_array(builder);
        begin_list(builder, "pours");
        for (guint k = 0; k < session->n_pours; k++) {
            const BatchPour *pour = &session->pours[k];
            json_builder_begin_object(builder);
            add_text(builder, "job", batch->jobs[pour->job].id);
            add_count(builder, "flasks", pour->flasks);
            add_count(builder, "castings", pour->castings);
            add_count(builder, "loads", pour->loads);
            add_count(builder, "shared_loads", pour->shared);
            add_number(builder, "charge", pour->charge);
            json_builder_end_object(builder);
        }
        json_builder_end_array(builder);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

static void
add_jobs(JsonBuilder *builder, const BatchPlan *batch)
{
    begin_list(builder, "jobs");
    for (guint i = 0; i < batch->n_jobs; i++) {
        const BatchJob *job = &batch->jobs[i];
        json_builder_begin_object(builder);
        add_text(builder, "id", job->id);
        add_text(builder, "name", job->name);
        add_text(builder, "metal", job->metal);
        add_count(builder, "wanted", job->wanted);
        add_count(builder, "good", job->good);
        add_count(builder, "castings", job->castings);
        add_count(builder, "flasks", job->flasks);
        add_day(builder, "due", job->due);
        add_day(builder, "done", job->done);
        add_day(builder, "earliest", job->alone);
        add_number(builder, "days_late", job->late == G_MININT ? NAN : job->late);
        add_count(builder, "flasks_left", job->left);
        add_text(builder, "why", job->why);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

static void
add_needs(JsonBuilder *builder, const BatchPlan *batch)
{
    begin_list(builder, "needs");
    for (guint i = 0; i < batch->n_needs; i++) {
        const CalendarNeed *need = &batch->needs[i];
        gboolean patterns = need->kind == NEED_PATTERNS;
        gboolean mass = need->kind == NEED_INGOT || need->kind == NEED_SAND;
        json_builder_begin_object(builder);
        add_day(builder, "by", need->by);
        add_count(builder, "session", batch->sessions[need->session].number);
        add_text(builder, "kind", batch_need_id(need->kind));
        add_text(builder, "what", patterns ? batch->jobs[need->job].id : need->what);
        add_number(builder, "amount", need->amount);
        add_text(builder, "unit", mass ? "kg" : "1");
        add_number(builder, "so_far", need->so_far);
        if (need->kind == NEED_INGOT || need->kind == NEED_CRUCIBLE)
            add_number(builder, "stock", need->stock);
        if (need->kind == NEED_INGOT) {
            add_number(builder, "returns", need->returns);
            add_number(builder, "castings", need->castings);
        }
        if (patterns)
            add_day(builder, "begin", need->begin);
        add_number(builder, "cost", need->cost);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

static void
add_masses(JsonBuilder *builder, const char *name, const double mass[MAKEUP_COUNT])
{
    json_builder_set_member_name(builder, name);
    json_builder_begin_object(builder);
    add_number(builder, "ingot", mass[MAKEUP_INGOT]);
    add_number(builder, "returns", mass[MAKEUP_RETURNS]);
    add_number(builder, "castings", mass[MAKEUP_CASTINGS]);
    json_builder_end_object(builder);
}

static void
add_shelves(JsonBuilder *builder, const BatchPlan *batch)
{
    begin_list(builder, "stock");
    for (guint i = 0; i < batch->n_shelves; i++) {
        json_builder_begin_object(builder);
        add_text(builder, "metal", batch->shelves[i].metal);
        add_masses(builder, "before", batch->shelves[i].before);
        add_masses(builder, "after", batch->shelves[i].after);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

static void
add_figure(JsonBuilder *builder, const Figure *figure)
{
    static const char *const states[] = {"unknown", "plain", "holds", "close", "fails"};
    g_autofree char *source = source_text(figure_source(figure));
    json_builder_set_member_name(builder, figure->spec->id);
    json_builder_begin_object(builder);
    add_text(builder, "label", figure->spec->label);
    if (figure->text || figure->spec->kind == QUANTITY_TEXT)
        add_text(builder, "value", figure->text);
    else
        add_number(builder, "value", figure->value);
    add_text(builder, "unit", quantity_si_unit(figure->spec->kind));
    add_text(builder, "method",
             figure->spec->formula ? figure->spec->formula : figure->spec->method);
    begin_list(builder, "inputs");
    for (guint i = 0; i < figure->n_inputs; i++)
        json_builder_add_string_value(builder, figure->inputs[i].id);
    json_builder_end_array(builder);
    add_text(builder, "source", source);
    if (figure->state != FIGURE_PLAIN)
        add_text(builder, "state", states[figure->state]);
    if (figure->note)
        add_text(builder, "note", figure->note);
    if (figure->missing)
        add_text(builder, "missing", figure->missing);
    json_builder_end_object(builder);
}

char *
report_batch_json(const BatchPlan *batch)
{
    g_return_val_if_fail(batch, NULL);
    g_autoptr(JsonBuilder) builder = json_builder_new();
    json_builder_begin_object(builder);
    add_text(builder, "book", batch->shop);
    add_day(builder, "from", batch->first);
    add_sessions(builder, batch);
    add_jobs(builder, batch);
    add_needs(builder, batch);
    add_shelves(builder, batch);
    json_builder_set_member_name(builder, "figures");
    json_builder_begin_object(builder);
    for (guint i = 0; i < figure_list_size(batch->figures); i++)
        if (!figure_list_at(batch->figures, i)->given)
            add_figure(builder, figure_list_at(batch->figures, i));
    json_builder_end_object(builder);
    json_builder_end_object(builder);
    g_autoptr(JsonNode) root = json_builder_get_root(builder);
    return json_to_string(root, TRUE);
}
