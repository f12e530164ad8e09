// SPDX-License-Identifier: GPL-3.0-or-later
// A row for each change: its words, a bar from the line of today, the number at its end. What
// brings most, and so shows what holds the session back, is in bold and says so: nothing rests on
// colour.
//
//   One more flask          |=========| +6 castings, 30 in all - the most of all
//   One more hour           |====| +3 castings, 27 in all
//   One more pair of hands  | nothing more
#include "sketch/gains.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

// mm; a millimetre is the grain
#define LEFT 72.0  // where the bars begin
#define WIDE 46.0  // the longest bar
#define WORDS 62.0 // right of it
#define ROW 8.0
#define BAR 4.6
#define TOP 19.0    // over the first row
#define BOTTOM 11.0 // under the last
#define MARGIN 3.0
#define TEXT_SIZE 11.0
#define TITLE_SIZE 15.0

enum {
    ORDER_SHEET,
    ORDER_BAR,
    ORDER_AXIS,
    ORDER_TEXT
};

// In the order of SessionMore.
static const char *const parts[SESSION_MORE_COUNT] = {"more-flask",  "more-sand",     "more-hour",
                                                      "more-light",  "more-crucible", "more-person",
                                                      "more-furnace"};
static const char *const figures[SESSION_MORE_COUNT] = {
    "run.gain_flask",    "run.gain_sand",   "run.gain_hour",   "run.gain_light",
    "run.gain_crucible", "run.gain_person", "run.gain_furnace"};

static void
put_words(Scene *scene, const char *part, double x, double y, double room, gboolean strong,
          const char *text)
{
    Shape style = {.size = TEXT_SIZE, .align = ALIGN_START, .strong = strong, .room_x = room};
    scene_add_styled_text(scene, ROLE_TEXT, ORDER_TEXT, part, x, y, &style, text);
}

static char *
write_gain(const SketchGains *gains, SessionMore which)
{
    double gain = gains->gain[which];
    if (!(gain > 0))
        return g_strdup(_("nothing more"));
    return g_strdup_printf(
        ngettext("+%.0f casting, %.0f in all", "+%.0f castings, %.0f in all", (gulong)gain), gain,
        gains->now + gain);
}

static void
draw_row(Scene *scene, const SketchGains *gains, SessionMore which, double most, double y)
{
    gboolean held = which == gains->which;
    double length = most > 0 ? WIDE * gains->gain[which] / most : 0;
    g_autofree char *gain = write_gain(gains, which);
    g_autofree char *words = held && gains->gain[which] > 0
                                 ? g_strdup_printf(_("%s – the most of all"), gain)
                                 : g_strdup(gain);
    const char *more = session_bottleneck_more(which);
    put_words(scene, parts[which], MARGIN, y, LEFT - MARGIN - 2, held, more);
    if (length > 0)
        scene_add_rectangle(scene, ROLE_POUR, ORDER_BAR, parts[which], TRUE, TRUE, LEFT,
                            y - BAR / 2, length, BAR);
    put_words(scene, parts[which], LEFT + length + 2, y, WIDE + WORDS - length - 4, held, words);
    scene_add_part(scene, parts[which], more, words, figures[which]);
}

Scene *
gains_scene(const SketchGains *gains)
{
    g_return_val_if_fail(gains != NULL && isfinite(gains->now), NULL);
    Scene *scene = scene_new(_("What more would bring"));
    int rows = 0;
    double most = 0;
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        rows += !isnan(gains->gain[i]);
    double wide = LEFT + WIDE + WORDS, low = BOTTOM, high = BOTTOM + rows * ROW;
    scene_set_grain(scene, 1.0);
    scene_add_rectangle(scene, ROLE_DIMENSION, ORDER_SHEET, NULL, FALSE, TRUE, 0, 0, wide,
                        high + TOP);
    Shape title = {.size = TITLE_SIZE, .strong = TRUE};
    scene_add_styled_text(scene, ROLE_TEXT, ORDER_TEXT, NULL, MARGIN, high + TOP - 5, &title,
                          _("What a little more would bring a session"));
    g_autofree char *now = g_strdup_printf(
        ngettext("Now %.0f casting a session; one change at a time.",
                 "Now %.0f castings a session; one change at a time.", (gulong)gains->now),
        gains->now);
    put_words(scene, NULL, MARGIN, high + TOP - 12, wide - 2 * MARGIN, FALSE, now);
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++)
        most = fmax(most, gains->gain[i]);
    double y = high - 0.5 * ROW;
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        if (isnan(gains->gain[i]))
            continue;
        draw_row(scene, gains, i, most, y);
        y -= ROW;
    }
    const SolidPoint axis[2] = {{LEFT, low}, {LEFT, high}};
    scene_add_line(scene, ROLE_VISIBLE, ORDER_AXIS, NULL, axis, 2);
    if (gains->note)
        put_words(scene, NULL, MARGIN, BOTTOM / 2, wide - 2 * MARGIN, FALSE, gains->note);
    return scene;
}

static double
find_value(const Plan *plan, const char *id)
{
    const Figure *figure = plan_figure(plan, id);
    return figure ? figure->value : NAN;
}

Scene *
sketch_gains_scene(const Plan *plan, GError **error)
{
    g_return_val_if_fail(plan != NULL, NULL);
    const Figure *held = plan_figure(plan, "run.bottleneck");
    SketchGains gains = {.now = find_value(plan, "run.castings_per_session"),
                         .which = SESSION_MORE_COUNT,
                         .note = held ? held->note : NULL};
    double sum = gains.now;
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        gains.gain[i] = find_value(plan, figures[i]);
        // What nothing limits has no figure, and no row.
        if (plan_figure(plan, figures[i]))
            sum += gains.gain[i];
        if (held && g_strcmp0(held->text, session_bottleneck_word(i)) == 0)
            gains.which = i;
    }
    if (!isfinite(sum)) {
        base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan),
                       _("there is no session that could be compared"),
                       _("look at the figures marked unknown"));
        return NULL;
    }
    return gains_scene(&gains);
}
