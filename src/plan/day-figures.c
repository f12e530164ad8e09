// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of a day of the whole shop.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "plan/day-private.h"
#include "session/add.h"
#include "session/limits.h"

#define PACKED                                                                                     \
    N_("Moulds are shared out among loads by patterns, ways to fill a crucible with so many of "   \
       "each kind, by integer programming; the loads are then laid out piece by piece over all "   \
       "furnaces, hands, flasks, benches and cooling places.")
#define COUNT(NAME, ID, LABEL)                                                                     \
    static const FigureSpec spec_##NAME = {.id = ID,                                               \
                                           .label = LABEL,                                         \
                                           .kind = QUANTITY_COUNT,                                 \
                                           .method = PACKED,                                       \
                                           .source = "definition"}
#define TIME(NAME, ID, LABEL, METHOD)                                                              \
    static const FigureSpec spec_##NAME = {                                                        \
        .id = ID, .label = LABEL, .kind = QUANTITY_TIME, .method = METHOD, .source = "definition"}
#define SHARE(NAME, ID, LABEL, FORMULA)                                                            \
    static const FigureSpec spec_##NAME = {.id = ID,                                               \
                                           .label = LABEL,                                         \
                                           .kind = QUANTITY_RATIO,                                 \
                                           .formula = FORMULA,                                     \
                                           .source = "definition"}

COUNT(flasks, "day.flasks", N_("Flasks on the day"));
COUNT(castings, "day.castings", N_("Castings on the day"));
COUNT(loads, "day.loads", N_("Loads on the day"));
COUNT(left, "day.left_to_cool", N_("Flasks left to cool"));
static const FigureSpec spec_length = {.id = "day.length",
                                       .label = N_("Length of the day"),
                                       .kind = QUANTITY_TIME,
                                       .method = PACKED,
                                       .source = "definition",
                                       .limit_kind = FIGURE_AT_MOST};
TIME(work, "day.work_time", N_("Work on the day"), N_("Sum of all work by hand."));
TIME(furnace, "day.furnace_time", N_("Furnaces at work, together"),
     N_("Sum of warming up, charging, melting, skimming and pouring of all furnaces."));
TIME(flask, "day.flask_time", N_("Flasks in use, together"),
     N_("Of every flask, from ramming its drag to shaking out or the end of the day."));
TIME(bench, "day.bench_time", N_("Benches in use, together"),
     N_("Of every mould, from ramming its drag until its patterns are drawn."));
SHARE(person_idle, "day.person_idle", N_("Hands idle"),
      "1 - day.work_time / (day.people * day.length)");
SHARE(furnace_idle, "day.furnace_idle", N_("Furnaces idle"),
      "1 - day.furnace_time / (day.furnaces * day.length)");
SHARE(flask_idle, "day.flask_idle", N_("Flasks idle"),
      "1 - day.flask_time / (day.boxes * day.length)");
SHARE(bench_idle, "day.bench_idle", N_("Benches idle"),
      "1 - day.bench_time / (day.benches * day.length)");
static const FigureSpec spec_sand = {
    .id = "day.sand_used",
    .label = N_("Sand the day takes"),
    .kind = QUANTITY_MASS,
    .method = N_("The most at one time that is rammed up, or rests after shaking out."),
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST};
static const FigureSpec spec_dark = {
    .id = "day.dark_time",
    .label = N_("Work without daylight"),
    .kind = QUANTITY_TIME,
    .method = N_("All work by hand but setting up and closing that falls outside the daylight."),
    .source = "definition",
    .limit_kind = FIGURE_AT_MOST};
static const FigureSpec spec_worth = {
    .id = "day.good_castings",
    .label = N_("Good castings to be expected"),
    .kind = QUANTITY_NUMBER,
    .method = N_("Castings of each job times its good-casting rate, all jobs together."),
    .source = "definition"};
static const FigureSpec spec_worth_bound = {
    .id = "day.good_bound",
    .label = N_("Good castings, no more than"),
    .kind = QUANTITY_NUMBER,
    .method = N_("As if hands, furnaces, flasks, benches, cooling places and sand never waited for "
                 "one another: whole loads and whole flasks, by integer programming over them."),
    .source = "definition"};
static const FigureSpec spec_gap = {.id = "day.good_gap",
                                    .label = N_("Good castings short of that"),
                                    .kind = QUANTITY_NUMBER,
                                    .formula = "day.good_bound - day.good_castings",
                                    .source = "definition"};
static const FigureSpec spec_packing = {
    .id = "day.packing",
    .label = N_("How loads were filled"),
    .kind = QUANTITY_TEXT,
    .method = N_("Patterns over the kinds of mould are searched for a set number of steps; where "
                 "there are too many of them, moulds go into the first load that takes them, "
                 "largest first."),
    .source = "definition"};
static const FigureSpec spec_bottleneck = {
    .id = "day.bottleneck",
    .label = N_("Held back by"),
    .kind = QUANTITY_TEXT,
    .method = N_("The day is planned again with one more flask of the busiest kind, one more hour, "
                 "crucibles for one more mould, one more pair of hands, furnaces twice as fast, "
                 "and, where they are limited, sand for one more flask or one more hour of "
                 "daylight; what brings most good castings holds it back."),
    .source = "definition"};

#define GAIN(NAME, LABEL)                                                                          \
    {                                                                                              \
        .id = "day.gain_" NAME, .label = LABEL, .kind = QUANTITY_NUMBER,                           \
        .method = N_("The day planned again with that one change, less what it brings now."),      \
        .source = "definition"                                                                     \
    }
// In the order of SessionMore.
static const FigureSpec spec_gain[SESSION_MORE_COUNT] = {
    GAIN("flask", N_("Good castings gained by one more flask")),
    GAIN("sand", N_("Good castings gained by sand for one more flask")),
    GAIN("hour", N_("Good castings gained by one more hour")),
    GAIN("light", N_("Good castings gained by one more hour of daylight")),
    GAIN("crucible", N_("Good castings gained by larger crucibles")),
    GAIN("person", N_("Good castings gained by one more person")),
    GAIN("furnace", N_("Good castings gained by faster furnaces")),
};

static const char *const in_shop[] = {"day.hours", "day.people",  "day.furnaces",
                                      "day.boxes", "day.benches", NULL};
static const char *const in_day[] = {"day.flasks", "day.loads", NULL};

static const char *
get_packing(SessionPackHow how)
{
    switch (how) {
    case SESSION_PACK_DIRECT:
        return _("directly, moulds of one kind");
    case SESSION_PACK_PATTERNS:
        return _("by patterns, proved the best");
    case SESSION_PACK_STOPPED:
        return _("by patterns, the best found in the steps allowed");
    case SESSION_PACK_FIRST_FIT:
        return _("by first fit");
    }
    return "";
}

// Sand and daylight, where they are limited.
static void
give_limits(const SessionFloor *floor, FigureList *figures)
{
    if (isfinite(floor->sand_ready))
        figure_give(figures, "day.sand_ready", _("Sand ready"), QUANTITY_MASS, floor->sand_ready,
                    NULL, "user");
    if (floor->light_from > 0.0 || isfinite(floor->light_to))
        figure_give(figures, "day.daylight", _("Daylight of the day"), QUANTITY_TIME,
                    MAX(MIN(floor->hours, floor->light_to) - floor->light_from, 0.0), NULL, "user");
}

static void
give_shop(const Day *day, FigureList *figures)
{
    const SessionFloor *floor = &day->floor;
    int boxes = 0;
    for (int i = 0; i < floor->n_boxes; i++)
        boxes += floor->boxes[i];
    figure_give(figures, "day.hours", _("Hours of the day"), QUANTITY_TIME, floor->hours, NULL,
                "user");
    figure_give(figures, "day.people", _("People"), QUANTITY_COUNT, floor->people, NULL, "user");
    figure_give(figures, "day.furnaces", _("Furnaces with a crucible"), QUANTITY_COUNT,
                floor->n_furnaces, NULL, "user");
    figure_give(figures, "day.boxes", _("Flasks of all kinds"), QUANTITY_COUNT, boxes, NULL,
                "user");
    figure_give(figures, "day.benches", _("Moulding benches"), QUANTITY_COUNT, floor->benches, NULL,
                "user");
    give_limits(floor, figures);
}

static void
add_dark(const SessionFloor *floor, const SessionPlan *plan, FigureList *figures)
{
    static const char *const in_dark[] = {"day.length", "day.daylight", NULL};
    if (!figure_list_find(figures, "day.daylight"))
        return;
    double dark = session_dark_time((const SessionTask *)(gpointer)plan->tasks->data,
                                    plan->tasks->len, floor->light_from, floor->light_to);
    figure_limit(session_add_method(figures, &spec_dark, dark, in_dark), 0.0, NULL);
}

static void
add_sand(const Day *day, const SessionPlan *plan, FigureList *figures)
{
    g_autofree double *sand = g_new0(double, day->n_jobs + 1);
    for (int k = 0; k < day->floor.n_kinds; k++)
        sand[day->floor.kinds[k].job] = day->floor.kinds[k].sand;
    double most = session_sand_most((const SessionTask *)(gpointer)plan->tasks->data,
                                    plan->tasks->len, sand, day->floor.sand_rest);
    Figure *figure = session_add_method(figures, &spec_sand, most, in_day);
    if (isfinite(day->floor.sand_ready))
        figure_limit(figure, day->floor.sand_ready, "day.sand_ready");
}

static double
count_castings(const Day *day, const SessionMost *most)
{
    double castings = 0.0;
    for (guint j = 0; most && j < day->n_jobs; j++)
        if (day->jobs[j].kind >= 0)
            castings += most->counts[day->jobs[j].kind] * day->jobs[j].cavities;
    return castings;
}

static void
add_sums(const SessionPlan *plan, FigureList *figures)
{
    const struct {
        const FigureSpec *time, *share;
        double value;
    } sums[] = {{&spec_work, &spec_person_idle, plan->person_time},
                {&spec_furnace, &spec_furnace_idle, plan->furnace_time},
                {&spec_flask, &spec_flask_idle, plan->box_time},
                {&spec_bench, &spec_bench_idle, plan->bench_time}};
    for (guint i = 0; i < G_N_ELEMENTS(sums); i++) {
        session_add_method(figures, sums[i].time, sums[i].value, in_day);
        session_add_formula(figures, sums[i].share);
    }
}

static gboolean
add_gains(const Day *day, const SessionMost *most, FigureList *figures, Progress *progress,
          GError **error)
{
    static const char *const in_gain[] = {"day.good_castings", NULL};
    SessionGains gains = {{0}};
    const char *in_text[SESSION_MORE_COUNT + 1] = {NULL};
    gboolean all = most->moulds >= session_floor_wanted(&day->floor);
    guint n = 0;
    if (!all && !session_gains_find(&day->floor, most, &gains, progress, error))
        return FALSE;
    for (SessionMore i = 0; i < SESSION_MORE_COUNT; i++) {
        if (!session_more_is_asked(&day->floor, i))
            continue;
        session_add_method(figures, &spec_gain[i], gains.gain[i], in_gain);
        in_text[n++] = spec_gain[i].id;
    }
    if (all) {
        figure_add_text(figures, &spec_bottleneck, _("nothing: all that is wanted is poured"),
                        "day.good_castings", NULL);
        return TRUE;
    }
    Figure *figure = figure_add_text(
        figures, &spec_bottleneck, session_bottleneck_word(gains.which), in_text[0], in_text[1],
        in_text[2], in_text[3], in_text[4], in_text[5], in_text[6], NULL);
    if (!(gains.gain[gains.which] > 0.0))
        figure_set_note(figure, "%s", _("No single change brings another good casting."));
    return TRUE;
}

gboolean
day_add_figures(const Day *day, const SessionMost *most, const SessionPlan *plan,
                FigureList *figures, Progress *progress, GError **error)
{
    give_shop(day, figures);
    session_add_method(figures, &spec_flasks, most ? most->moulds : 0, in_shop);
    session_add_method(figures, &spec_castings, count_castings(day, most), in_shop);
    session_add_method(figures, &spec_loads, plan ? plan->loads : 0, in_shop);
    session_add_method(figures, &spec_worth, most ? most->worth : 0.0, in_day);
    double bound = most ? (most->proved ? most->worth : most->bound.worth) : 0.0;
    session_add_method(figures, &spec_worth_bound, bound, in_shop);
    session_add_formula(figures, &spec_gap);
    if (!plan)
        return TRUE;
    Figure *length = session_add_method(figures, &spec_length, plan->length, in_day);
    figure_limit(length, day->floor.hours, "day.hours");
    session_add_method(figures, &spec_left, plan->left_to_cool, in_day);
    figure_add_text(figures, &spec_packing, get_packing(plan->packed), "day.loads", NULL);
    add_sums(plan, figures);
    add_sand(day, plan, figures);
    add_dark(&day->floor, plan, figures);
    return !day->wish.gains || add_gains(day, most, figures, progress, error);
}
