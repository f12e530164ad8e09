// SPDX-License-Identifier: GPL-3.0-or-later
// A Plan as text for a terminal: a heading a stage, one figure a line, numbers aligned at the
// right, the state of a check as a word, and below them what asks for attention.
#include "report/text.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "figure/explain.h"
#include "report/cell.h"
#include "report/pieces.h"

#define NUMBER_WIDTH 11
#define UNIT_WIDTH 8
#define TEXT_WIDTH 60 // of a figure that is a text
#define CAUTION_WIDTH 92

typedef struct {
    const Plan *plan;
    UnitSet units;
    int label_width; // of the longest label, so that every number stands in the same column
} Page;

static void
trim_end(GString *out)
{
    while (out->len > 0 && out->str[out->len - 1] == ' ')
        g_string_truncate(out, out->len - 1);
}

// Appends words in lines of `width` characters; every line but the first is set in by `indent`.
static void
append_wrapped(GString *out, const char *text, guint width, guint indent)
{
    g_auto(GStrv) words = g_strsplit(text, " ", -1);
    guint column = 0;
    for (char **word = words; *word; word++) {
        guint n = (guint)g_utf8_strlen(*word, -1);
        if (column > 0 && column + 1 + n > width) {
            g_string_append_printf(out, "\n%*s", (int)indent, "");
            column = 0;
        } else if (column > 0) {
            g_string_append_c(out, ' ');
            column++;
        }
        g_string_append(out, *word);
        column += n;
    }
    g_string_append_c(out, '\n');
}

// A text of any length starts where the numbers do; later lines of it stand below its first.
static void
append_words(GString *out, const Page *page, const char *text)
{
    append_wrapped(out, text, TEXT_WIDTH, 2 + page->label_width + 2);
}

static void
append_value(GString *out, const Page *page, const Figure *figure)
{
    g_autofree char *number = NULL, *unit = NULL;
    if (figure->state == FIGURE_UNKNOWN)
        number = g_strdup("–");
    else
        quantity_format_parts(figure->spec->kind, figure->value, &page->units, &number, &unit);
    report_cell(out, number, NUMBER_WIDTH, TRUE);
    g_string_append_c(out, ' ');
    report_cell(out, unit ? unit : "", UNIT_WIDTH, FALSE);
}

static void
append_state(GString *out, const Page *page, const Figure *figure)
{
    if (figure->state == FIGURE_UNKNOWN && g_strcmp0(figure->missing, figure->spec->id) == 0) {
        g_string_append(out, _("unknown: these inputs give no number"));
    } else if (figure->state == FIGURE_UNKNOWN) {
        const Figure *cause = figure->missing ? plan_figure(page->plan, figure->missing) : NULL;
        g_string_append_printf(out, _("unknown: needs %s"),
                               cause ? _(cause->spec->label) : figure->missing);
    } else if (figure->state != FIGURE_PLAIN) {
        g_autofree char *limit = explain_limit(plan_figures(page->plan), figure, &page->units);
        report_cell(out, figure_state_word(figure->state), 6, FALSE);
        g_string_append_printf(out, " %s", limit ? limit : "");
    }
}

static void
append_figure(GString *out, const Page *page, const Figure *figure)
{
    g_string_append(out, "  ");
    report_cell(out, _(figure->spec->label), page->label_width, FALSE);
    g_string_append(out, "  ");
    if (figure->text && figure->state != FIGURE_UNKNOWN) {
        append_words(out, page, figure->text);
        return;
    }
    append_value(out, page, figure);
    append_state(out, page, figure);
    trim_end(out);
    g_string_append_c(out, '\n');
}

static void
append_stage(GString *out, const Page *page, PlanStageInfo info)
{
    const FigureList *list = plan_stage_figures(page->plan, info.id);
    guint shown = 0;
    g_string_append_printf(out, "\n%s\n", info.label);
    for (guint i = 0; list && i < figure_list_size(list); i++) {
        const Figure *figure = figure_list_at(list, i);
        if (figure->given)
            continue;
        append_figure(out, page, figure);
        shown++;
    }
    if (info.error)
        g_string_append_printf(out, "  %s\n", info.error);
    else if (shown == 0)
        g_string_append_printf(out, "  %s\n", _("nothing to show"));
    if (g_str_equal(info.id, "board") && plan_board(page->plan)) {
        g_autofree char *pieces = report_pieces(plan_board(page->plan), &page->units, 2);
        g_string_append_printf(out, "\n%s", pieces);
    }
}

static void
append_attention(GString *out, const Plan *plan)
{
    guint found = 0;
    for (guint i = 0; i < plan_figure_count(plan); i++) {
        const Figure *figure = plan_figure_at(plan, i);
        if (figure->state != FIGURE_FAILS && figure->state != FIGURE_CLOSE)
            continue;
        if (found++ == 0)
            g_string_append_printf(out, "\n%s\n", _("Look at"));
        g_string_append_printf(out, "  %s: %s", figure_state_word(figure->state),
                               _(figure->spec->label));
        if (figure->note)
            g_string_append_printf(out, " – %s", figure->note);
        g_string_append_c(out, '\n');
    }
    if (found == 0)
        g_string_append_printf(out, "\n%s\n", _("Every check that can be made holds."));
}

static int
find_label_width(const Plan *plan)
{
    int width = 0;
    for (guint i = 0; i < plan_figure_count(plan); i++) {
        const char *label = _(plan_figure_at(plan, i)->spec->label);
        width = MAX(width, (int)g_utf8_strlen(label, -1));
    }
    return width;
}

char *
report_text(const Plan *plan)
{
    Page page = {plan, plan_units(plan), find_label_width(plan)};
    GString *out = g_string_new(NULL);
    const char *name = book_job_name(plan_book(plan), plan_job(plan));
    g_string_append(out, name ? name : plan_job(plan));
    if (plan_metal(plan))
        g_string_append_printf(out, ", %s", table_row_name(plan_metal(plan)));
    g_string_append_c(out, '\n');
    for (guint i = 0; i < plan_stage_count(plan); i++)
        append_stage(out, &page, plan_stage_info(plan, i));
    append_attention(out, plan);
    g_string_append_printf(out, "\n%s\n", _("Cautions"));
    for (const char *const *caution = plan_cautions(plan); *caution; caution++) {
        g_string_append(out, "  - ");
        append_wrapped(out, *caution, CAUTION_WIDTH, 4);
    }
    return g_string_free(out, FALSE);
}
