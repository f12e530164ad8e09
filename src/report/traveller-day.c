// SPDX-License-Identifier: GPL-3.0-or-later
// The day at the furnace: cautions, charge, warm-up, the hours, and what is done when it is over.
#include <glib/gi18n-lib.h>

#include "report/traveller-private.h"
#include "sketch/timeline.h"

#define HOURS_HEIGHT 310.0 // points
#define MOST_CHARTS 4      // a longer session is printed by itself

static void
add_cautions(const Traveller *t)
{
    const char *const *cautions = plan_cautions(t->plan);
    sheet_head(t->sheet, _("Before there is molten metal"));
    for (; *cautions; cautions++)
        sheet_box(t->sheet, *cautions, NULL);
}

// A figure that is a text, as a paragraph under its label.
static void
add_text(const Traveller *t, const char *id)
{
    const Figure *figure = plan_figure(t->plan, id);
    if (!figure || !figure->text)
        return;
    g_autofree char *text = g_strdup_printf("%s: %s", _(figure->spec->label), figure->text);
    sheet_words(t->sheet, text);
}

void
traveller_melt(const Traveller *t)
{
    static const char *const ids[] = {"melt.charge_mass",
                                      "melt.flasks_per_load",
                                      "melt.charge_returns",
                                      "melt.charge_castings",
                                      "melt.charge_ingot",
                                      "melt.reserve",
                                      "job.pouring_temperature",
                                      "melt.superheat",
                                      "melt.pour_from",
                                      "melt.pour_to",
                                      "melt.heat_time",
                                      "melt.crucible_firings_left",
                                      NULL};
    const MeltResult *melt = plan_melt(t->plan);
    sheet_new_page(t->sheet);
    add_cautions(t);
    sheet_head(t->sheet, _("Melt: for every load"));
    if (!traveller_has(t, "melt", melt))
        return;
    traveller_pairs(t, ids);
    add_text(t, "melt.charging");
    add_text(t, "melt.flux");
    sheet_head(t->sheet, _("Warm-up"));
    for (guint i = 0; i < melt->n_warmup; i++)
        if (melt->warmup[i].prompt)
            sheet_box(t->sheet, melt->warmup[i].prompt, _("reached at"));
    sheet_head(t->sheet, _("After the last pour"));
    for (char **step = melt->closing; *step; step++)
        sheet_box(t->sheet, *step, NULL);
}

static void
add_hours(const Traveller *t)
{
    double width = SHEET_CHART_WIDTH, height = sheet_chart_height(HOURS_HEIGHT);
    g_autoptr(TimelineChart) chart = sketch_timeline_chart(t->plan, NULL);
    guint n = chart ? timeline_page_count(chart, width, height) : 0;
    if (n > MOST_CHARTS)
        sheet_words(t->sheet, _("The timeline is too long for this sheet: print it by itself."));
    if (n > MOST_CHARTS || n == 0)
        return;
    g_autofree char *pins = sketch_timeline_pins(t->plan);
    for (guint i = 0; i < n; i++) {
        g_autoptr(Scene) scene = timeline_page(chart, width, height, i, pins);
        sheet_chart(t->sheet, scene, HOURS_HEIGHT);
    }
}

// What a person does, in order of time, with room for what really happened.
static void
add_tasks(const Traveller *t, const SessionResult *session)
{
    static const double shares[] = {0.1, 0.38, 0.14, 0.38};
    const char *heads[] = {_("Planned"), _("What"), _("Done at"), _("Temperature, mass, remarks")};
    sheet_row(t->sheet, heads, shares, G_N_ELEMENTS(heads), TRUE);
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        if (!task->person)
            continue;
        g_autofree char *at = timeline_clock(task->start);
        const char *texts[] = {at, task->label, "", ""};
        sheet_row(t->sheet, texts, shares, G_N_ELEMENTS(texts), FALSE);
    }
}

void
traveller_day(const Traveller *t)
{
    static const char *const ids[] = {"run.loads_per_session", "run.flasks_per_session",
                                      "run.session_length", "run.bottleneck", NULL};
    const SessionResult *session = plan_session(t->plan);
    sheet_new_page(t->sheet);
    sheet_head(t->sheet, _("Session: hours from unlocking"));
    if (!traveller_has(t, "session", session))
        return;
    traveller_pairs(t, ids);
    add_hours(t);
    add_tasks(t, session);
}

// A row for each casting of a session. A flask is written down once, beside its first casting.
static void
add_results(const Traveller *t, const SessionResult *session, const MouldLayout *layout)
{
    static const double shares[] = {0.1, 0.1, 0.1, 0.32, 0.14, 0.24};
    const char *heads[] = {_("Mould"),          _("Casting"), _("Good"),
                           _("Scrap, and why"), _("Mass"),    _("Remarks")};
    sheet_head(t->sheet, _("Results of a session"));
    sheet_words(t->sheet, _("Why: misrun, shrinkage, gas, sand inclusion, mismatch, short pour, "
                            "drop, or other."));
    sheet_row(t->sheet, heads, shares, G_N_ELEMENTS(heads), TRUE);
    for (int flask = 0; flask < session->flasks; flask++)
        for (guint i = 0; i < layout->n_cavities; i++) {
            g_autofree char *mould = g_strdup_printf("%d", flask + 1);
            const char *whose = layout->cavities[i].guest && layout->guest ? layout->guest->name
                                                                           : NULL;
            g_autofree char *casting = whose ? g_strdup_printf("%u: %s", i + 1, whose)
                                             : g_strdup_printf("%u", i + 1);
            const char *texts[] = {i == 0 ? mould : "", casting, "", "", "", ""};
            sheet_row(t->sheet, texts, shares, G_N_ELEMENTS(texts), FALSE);
        }
}

void
traveller_finish(const Traveller *t)
{
    static const char *const ids[] = {"feed.shakeout_time",
                                      "casting.mass",
                                      "stock.min",
                                      "stock.max",
                                      "stock.chip_volume",
                                      "stock.machining_time",
                                      "pattern.closed_volume",
                                      "pattern.stub_volume",
                                      NULL};
    const SessionResult *session = plan_session(t->plan);
    const MouldLayout *layout = plan_mould(t->plan);
    sheet_new_page(t->sheet);
    sheet_head(t->sheet, _("Shake-out, fettling, machining"));
    traveller_pairs(t, ids);
    sheet_box(t->sheet, _("Opened no sooner than the time above after the pour."), NULL);
    sheet_box(t->sheet,
              _("Respirator on, sand back to the heap, gates and risers sawn off and put with "
                "the returns of this metal."),
              NULL);
    sheet_box(t->sheet, _("Skin, gates and risers looked at; sound castings marked and counted."),
              NULL);
    sheet_box(t->sheet, _("Machined and measured; the first part against its drawing."), NULL);
    if (session && layout)
        add_results(t, session, layout);
}
