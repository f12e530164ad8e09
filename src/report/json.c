// SPDX-License-Identifier: GPL-3.0-or-later
// A Plan as JSON, for programs. Numbers are SI and written without the locale; a value that is not
// known is null and says what is missing.
#include "report/json.h"

#include <json-glib/json-glib.h>
#include <math.h>

#include "figure/explain.h"
#include "figure/source.h"
#include "report/json-mould.h"

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
add_text(JsonBuilder *builder, const char *name, const char *text)
{
    json_builder_set_member_name(builder, name);
    if (text)
        json_builder_add_string_value(builder, text);
    else
        json_builder_add_null_value(builder);
}

static const char *
state_id(FigureState state)
{
    static const char *const ids[] = {"unknown", "plain", "holds", "close", "fails"};
    return ids[state];
}

static void
add_value(JsonBuilder *builder, const Figure *figure)
{
    if (figure->text || figure->spec->kind == QUANTITY_TEXT)
        add_text(builder, "value", figure->text);
    else
        add_number(builder, "value", figure->value);
    add_text(builder, "unit", quantity_si_unit(figure->spec->kind));
}

static void
add_limit(JsonBuilder *builder, const Figure *figure)
{
    if (isfinite(figure->limit)) {
        json_builder_set_member_name(builder, "limit");
        json_builder_begin_object(builder);
        add_text(builder, "kind",
                 figure->spec->limit_kind == FIGURE_AT_MOST ? "at most" : "at least");
        add_number(builder, "value", figure->limit);
        if (figure->limit_id)
            add_text(builder, "from", figure->limit_id);
        json_builder_end_object(builder);
        add_number(builder, "margin", figure->margin);
    }
    if (figure->state != FIGURE_PLAIN)
        add_text(builder, "state", state_id(figure->state));
}

static void
add_inputs(JsonBuilder *builder, const Figure *figure)
{
    json_builder_set_member_name(builder, "inputs");
    json_builder_begin_array(builder);
    for (guint i = 0; i < figure->n_inputs; i++)
        json_builder_add_string_value(builder, figure->inputs[i].id);
    json_builder_end_array(builder);
}

static void
add_source(JsonBuilder *builder, const Figure *figure)
{
    g_autofree char *source = source_text(figure_source(figure));
    add_text(builder, "source", source);
    add_text(builder, "confidence", source_confidence(figure_source(figure)));
}

static void
add_figure(JsonBuilder *builder, const Plan *plan, const Figure *figure)
{
    json_builder_set_member_name(builder, figure->spec->id);
    json_builder_begin_object(builder);
    add_text(builder, "label", figure->spec->label);
    add_value(builder, figure);
    add_text(builder, "method",
             figure->spec->formula ? figure->spec->formula : figure->spec->method);
    add_inputs(builder, figure);
    add_source(builder, figure);
    add_limit(builder, figure);
    if (figure->note)
        add_text(builder, "note", figure->note);
    if (figure->missing)
        add_text(builder, "missing", figure->missing);
    json_builder_end_object(builder);
}

static void
add_checks(JsonBuilder *builder, const Plan *plan)
{
    json_builder_set_member_name(builder, "checks");
    json_builder_begin_array(builder);
    for (guint i = 0; i < plan_figure_count(plan); i++) {
        const Figure *figure = plan_figure_at(plan, i);
        if (figure->spec->limit_kind != FIGURE_NO_LIMIT)
            json_builder_add_string_value(builder, figure->spec->id);
    }
    json_builder_end_array(builder);
}

static void
add_stages(JsonBuilder *builder, const Plan *plan)
{
    json_builder_set_member_name(builder, "stages");
    json_builder_begin_array(builder);
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        json_builder_begin_object(builder);
        add_text(builder, "id", info.id);
        add_text(builder, "label", info.label);
        if (info.error)
            add_text(builder, "error", info.error);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

// Field and table values that some figure names as an input, each once.
static void
add_givens(JsonBuilder *builder, const Plan *plan)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    json_builder_set_member_name(builder, "givens");
    json_builder_begin_object(builder);
    for (guint i = 0; i < plan_figure_count(plan); i++) {
        const Figure *figure = plan_figure_at(plan, i);
        for (guint j = 0; j < figure->n_inputs; j++) {
            const Figure *given = plan_figure(plan, figure->inputs[j].id);
            if (!given || !given->given || !g_hash_table_add(seen, (gpointer)given->spec->id))
                continue;
            json_builder_set_member_name(builder, given->spec->id);
            json_builder_begin_object(builder);
            add_text(builder, "label", given->spec->label);
            add_value(builder, given);
            add_source(builder, given);
            json_builder_end_object(builder);
        }
    }
    json_builder_end_object(builder);
}

// The pieces to print; volume and filament of one.
static void
add_patterns(JsonBuilder *builder, const BoardResult *boards)
{
    json_builder_set_member_name(builder, "patterns");
    json_builder_begin_array(builder);
    for (guint i = 0; boards && i < boards->n_pieces; i++) {
        const BoardPiece *piece = &boards->pieces[i];
        const double size[3] = {piece->size.x, piece->size.y, piece->size.z};
        json_builder_begin_object(builder);
        add_text(builder, "name", piece->name);
        add_text(builder, "kind", board_kind_id(piece->kind));
        add_text(builder, "half", piece->side == BOARD_COPE ? "cope" : "drag");
        json_builder_set_member_name(builder, "count");
        json_builder_add_int_value(builder, piece->count);
        json_builder_set_member_name(builder, "size");
        json_builder_begin_array(builder);
        for (int a = 0; a < 3; a++)
            json_builder_add_double_value(builder, size[a]);
        json_builder_end_array(builder);
        add_number(builder, "volume", piece->volume);
        add_number(builder, "filament_mass", piece->mass);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

char *
report_json(const Plan *plan)
{
    g_autoptr(JsonBuilder) builder = json_builder_new();
    json_builder_begin_object(builder);
    add_text(builder, "book", node_text(node_get(book_root(plan_book(plan)), "/shop/name")));
    add_text(builder, "job", plan_job(plan));
    json_builder_set_member_name(builder, "figures");
    json_builder_begin_object(builder);
    for (guint i = 0; i < plan_figure_count(plan); i++)
        add_figure(builder, plan, plan_figure_at(plan, i));
    json_builder_end_object(builder);
    add_checks(builder, plan);
    add_stages(builder, plan);
    add_givens(builder, plan);
    report_json_mould(builder, plan_mould(plan));
    add_patterns(builder, plan_board(plan));
    json_builder_set_member_name(builder, "cautions");
    json_builder_begin_array(builder);
    for (const char *const *c = plan_cautions(plan); *c; c++)
        json_builder_add_string_value(builder, *c);
    json_builder_end_array(builder);
    json_builder_end_object(builder);
    g_autoptr(JsonNode) root = json_builder_get_root(builder);
    return json_to_string(root, TRUE);
}
