// SPDX-License-Identifier: GPL-3.0-or-later
// A calendar sheet. Weeks without anything are drawn as one thin row; columns of weekdays on which
// something happens are wider than the others.
//
//            Mon Tue Wed Thu Fri |   Sat          | Sun
//   Nov 2026  23  24  25  26  27 | 28 [20 × Bracket]| 29
//             30   1   2   3   4 |  5 [20 × Bracket]|  6
//                      3 weeks without a session
//   Jan 2027  28  29  30  31   1 |  2 [14 × Pawl  due]
#include "sketch/calendar.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

// Widths of columns: with sessions, with due days only; the others are 1.
#define WIDE 8.0
#define MIDDLE 3.0
#define NUMBER 0.6 // room of the day's number beside a session
#define HEAD 16.0
#define BLOCK 14.0  // the part of a row that the blocks of a session have
#define CAPTION 5.5 // and below them, where the weeks are few, its loads and what holds it back
#define MOST_CAPTIONED 6 // weeks; with more, rows would be too low for the words of the blocks
#define THIN_ROW 6.0
#define TEXT 11.0
#define MOST_ROWS 120 // weeks drawn

enum {
    ORDER_GRID,
    ORDER_BLOCK,
    ORDER_LINE,
    ORDER_TEXT,
};

typedef struct {
    Scene *scene;
    const BatchPlan *batch;
    double width[8];     // of columns, by GDateWeekday
    double left[9];      // x of each weekday's column, and the end of the last
    double row;          // height of a week
    guint32 first, last; // Mondays of the first and last week
    GHashTable *busy;    // Mondays of weeks in which something happens
} Draft;

static guint32
monday_of(guint32 day)
{
    return day - (day - 1) % 7; // Julian day 1 was a Monday
}

static int
weekday_of(guint32 day)
{
    return (int)((day - 1) % 7) + 1;
}

static void
note_day(Draft *d, guint32 day, double width)
{
    guint32 monday = monday_of(day);
    d->width[weekday_of(day)] = fmax(d->width[weekday_of(day)], width);
    g_hash_table_add(d->busy, GUINT_TO_POINTER(monday));
    d->first = d->first == 0 ? monday : MIN(d->first, monday);
    d->last = MAX(d->last, monday);
}

static void
lay_columns(Draft *d)
{
    double x = 0;
    for (int i = 1; i <= 7; i++) {
        d->left[i] = x;
        x += fmax(d->width[i], 1.0);
    }
    d->left[8] = x;
    gboolean captioned = g_hash_table_size(d->busy) <= MOST_CAPTIONED;
    d->row = captioned ? BLOCK + CAPTION : BLOCK;
}

static double
width_of(const Draft *d, int weekday)
{
    return d->left[weekday + 1] - d->left[weekday];
}

static void
add_text(Draft *d, SceneRole role, const char *part, double x, double y, ShapeAlign align,
         double room_x, double room_y, gboolean strong, const char *text)
{
    Shape style = {
        .size = TEXT, .align = align, .strong = strong, .room_x = room_x, .room_y = room_y};
    scene_add_styled_text(d->scene, role, ORDER_TEXT, part, x, y, &style, text);
}

static void
draw_head(Draft *d)
{
    static const char *const names[] = {N_("Mon"), N_("Tue"), N_("Wed"), N_("Thu"),
                                        N_("Fri"), N_("Sat"), N_("Sun")};
    for (int i = 1; i <= 7; i++)
        add_text(d, ROLE_DIMENSION, NULL, d->left[i] + width_of(d, i) / 2, HEAD - 3.5, ALIGN_MIDDLE,
                 width_of(d, i) * 0.96, 7.0, FALSE, _(names[i - 1]));
}

static gboolean
is_late(const BatchJob *job)
{
    return job->late != G_MININT && job->late > 0;
}

static void
draw_title(Draft *d)
{
    const BatchPlan *batch = d->batch;
    double end = d->left[8];
    Shape style = {
        .size = 14.0, .align = ALIGN_START, .strong = TRUE, .room_x = end * 0.3, .room_y = 10.0};
    scene_add_styled_text(d->scene, ROLE_TEXT, ORDER_TEXT, NULL, 0, 3.5, &style, _("Calendar"));
    g_autoptr(GString) out = g_string_new(NULL);
    guint late = 0, left = 0;
    for (guint i = 0; i < batch->n_jobs; i++) {
        late += is_late(&batch->jobs[i]);
        left += batch->jobs[i].why != NULL;
    }
    g_string_append_printf(out, ngettext("%u session", "%u sessions", batch->n_sessions),
                           batch->n_sessions);
    if (batch->n_sessions > 0) {
        g_autofree char *last = days_write_date(batch->sessions[batch->n_sessions - 1].day);
        g_string_append(out, " \u00b7 ");
        g_string_append_printf(out, _("ends %s"), last);
    }
    if (late > 0)
        g_string_append_printf(out, ngettext(" \u00b7 %u job late", " \u00b7 %u jobs late", late),
                               late);
    if (left > 0)
        g_string_append_printf(out,
                               ngettext(" \u00b7 %u job left out or not finished",
                                        " \u00b7 %u jobs left out or not finished", left),
                               left);
    if (late + left == 0 && batch->latest != G_MININT)
        g_string_append_printf(out, " \u00b7 %s", _("every due day is kept"));
    add_text(d, late + left > 0 ? ROLE_FAILS : ROLE_DIMENSION, NULL, end, 3.5, ALIGN_END,
             end * 0.68, 8.0, FALSE, out->str);
}

// "Nov 2026" in the gutter of the first week and of each in which a month begins.
static void
draw_month(Draft *d, guint32 monday, double y, gboolean first)
{
    static const char *const months[] = {N_("Jan"), N_("Feb"), N_("Mar"), N_("Apr"),
                                         N_("May"), N_("Jun"), N_("Jul"), N_("Aug"),
                                         N_("Sep"), N_("Oct"), N_("Nov"), N_("Dec")};
    g_autoptr(GDate) date = g_date_new_julian(first ? monday : monday + 6);
    if (!first && g_date_get_day(date) > 7)
        return;
    g_autofree char *text = g_strdup_printf("%s %d", _(months[g_date_get_month(date) - 1]),
                                            g_date_get_year(date));
    Shape style = {
        .size = TEXT, .align = ALIGN_END, .room_y = d->row, .pinned = TRUE, .halo = TRUE};
    scene_add_styled_text(d->scene, ROLE_TEXT, ORDER_TEXT, NULL, -0.1, y + d->row / 2, &style,
                          text);
}

static void
draw_week(Draft *d, guint32 monday, double y, gboolean first)
{
    draw_month(d, monday, y, first);
    for (int i = 1; i <= 7; i++) {
        g_autoptr(GDate) date = g_date_new_julian(monday + (guint32)i - 1);
        g_autofree char *number = g_strdup_printf("%d", g_date_get_day(date));
        scene_add_rectangle(d->scene, ROLE_GRID, ORDER_GRID, NULL, d->width[i] > 0, TRUE,
                            d->left[i], y, width_of(d, i), d->row);
        double inset = d->width[i] > 0 ? 0.06 : width_of(d, i) / 2;
        add_text(d, ROLE_DIMENSION, NULL, d->left[i] + inset, y + 3.6,
                 d->width[i] > 0 ? ALIGN_START : ALIGN_MIDDLE, 0.9, 7.0, FALSE, number);
    }
}

static void
draw_gap(Draft *d, guint weeks, double y)
{
    g_autofree char *text = g_strdup_printf(
        ngettext("%u week without a session", "%u weeks without a session", weeks), weeks);
    add_text(d, ROLE_DIMENSION, NULL, d->left[8] / 2, y + THIN_ROW / 2, ALIGN_MIDDLE, d->left[8],
             THIN_ROW, FALSE, text);
}

static char *
describe_session(const BatchPlan *batch, const BatchSession *session)
{
    g_autoptr(GString) out = g_string_new(NULL);
    g_autofree char *from = days_write_clock(session->from);
    g_autofree char *to = days_write_clock(session->to);
    g_autofree char *date = days_write_date(session->day);
    g_string_append_printf(out, _("%s, %s to %s"), date, from, to);
    for (guint i = 0; i < session->n_pours; i++) {
        const BatchPour *pour = &session->pours[i];
        g_autofree char *mass = quantity_format(QUANTITY_MASS, pour->charge, &batch->units);
        g_string_append(out, "; ");
        g_string_append_printf(out,
                               ngettext("%s: %d flask, %d castings, %s charged",
                                        "%s: %d flasks, %d castings, %s charged", pour->flasks),
                               batch->jobs[pour->job].name, pour->flasks, pour->castings, mass);
    }
    g_autofree char *words = batch_session_words(session);
    g_string_append_printf(out, "; %s", words);
    if (session->held_why)
        g_string_append_printf(out, ". %s", session->held_why);
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static guint
count_due(const BatchPlan *batch, guint32 day)
{
    guint n = 0;
    for (guint i = 0; i < batch->n_jobs; i++)
        n += batch->jobs[i].due == day;
    return n;
}

// Jobs are told apart by name; the inks only help to see which blocks belong together.
static SceneRole
role_of_job(int job)
{
    static const SceneRole roles[] = {ROLE_COOL,   ROLE_WARMUP, ROLE_SHAKE_OUT,
                                      ROLE_SET_UP, ROLE_MELT,   ROLE_RAM};
    return roles[(guint)job % G_N_ELEMENTS(roles)];
}

// In low rows: does the session's block leave room at the end of its name? It has the day for
// itself, the only day of the week with sessions, and not two jobs are due.
static gboolean
has_room_beside(const Draft *d, const BatchSession *session)
{
    int wide = 0;
    for (int i = 1; i <= 7; i++)
        wide += d->width[i] >= WIDE;
    return d->row <= BLOCK && session->n_pours == 1 && wide == 1 &&
           count_due(d->batch, session->day) <= 1;
}

// The loads of a session and what holds it back: below its blocks, or at the end of the name
// where there is room. Who points at a session reads it in any case.
static void
draw_held(Draft *d, const BatchSession *session, double left, double room, double y)
{
    g_autofree char *words = batch_session_words(session);
    g_autofree char *id = g_strdup_printf("session-%d", session->number);
    if (d->row > BLOCK)
        add_text(d, ROLE_DIMENSION, id, left + 0.1, y + BLOCK + CAPTION / 2 - 0.9, ALIGN_START,
                 room, CAPTION, FALSE, words);
    else if (has_room_beside(d, session))
        add_text(d, ROLE_TEXT, id, left + room * 0.97, y + 4.2, ALIGN_END, room * 0.52, 6.4, FALSE,
                 words);
}

// Blocks side by side, one a job, beside the day's number.
static void
draw_session(Draft *d, const BatchSession *session, double y)
{
    const BatchPlan *batch = d->batch;
    int weekday = weekday_of(session->day);
    double left = d->left[weekday] + NUMBER, room = width_of(d, weekday) - NUMBER - 0.07;
    double width = room / MAX(1, session->n_pours);
    guint due = count_due(batch, session->day);
    g_autofree char *id = g_strdup_printf("session-%d", session->number);
    for (guint i = 0; i < session->n_pours; i++) {
        const BatchPour *pour = &session->pours[i];
        double x = left + i * width;
        g_autofree char *name = g_strdup_printf("%d \u00d7 %s", pour->castings,
                                                batch->jobs[pour->job].name);
        g_autofree char *flasks = g_strdup_printf(ngettext("%d flask", "%d flasks", pour->flasks),
                                                  pour->flasks);
        g_autofree char *mass = quantity_format(QUANTITY_MASS, pour->charge, &batch->units);
        g_autofree char *from = days_write_clock(session->from);
        g_autofree char *to = days_write_clock(session->to);
        // Blocks that share a day have no room for its hours.
        g_autofree char *more = session->n_pours > 1
                                    ? g_strdup_printf("%s \u00b7 %s", flasks, mass)
                                    : g_strdup_printf("%s \u00b7 %s \u00b7 %s\u2013%s", flasks,
                                                      mass, from, to);
        scene_add_rectangle(d->scene, role_of_job(pour->job), ORDER_BLOCK, id, TRUE, TRUE, x,
                            y + 0.8, width * 0.985, BLOCK - 1.6);
        // What is due that day stands at the end of the lower line, a second job at the upper's.
        gboolean end = i + 1 == session->n_pours;
        gboolean halved = (end && due > 1) || has_room_beside(d, session);
        double upper = halved ? 0.44 : 0.94, lower = end && due > 0 ? 0.44 : 0.94;
        add_text(d, ROLE_TEXT, id, x + width * 0.03, y + 4.2, ALIGN_START, width * upper, 6.4, TRUE,
                 name);
        add_text(d, ROLE_TEXT, id, x + width * 0.03, y + 9.8, ALIGN_START, width * lower, 6.0,
                 FALSE, more);
    }
    draw_held(d, session, left, room, y);
    g_autofree char *label = g_strdup_printf(_("Session %d"), session->number);
    g_autofree char *words = describe_session(batch, session);
    scene_add_part(d->scene, id, label, words, "batch.sessions");
}

static gboolean
has_session(const BatchPlan *batch, guint32 day)
{
    for (guint i = 0; i < batch->n_sessions; i++)
        if (batch->sessions[i].day == day)
            return TRUE;
    return FALSE;
}

// A line at the end of the day, and who is due; several jobs of a day stand below one another.
static void
draw_due(Draft *d, guint job, double y)
{
    const BatchJob *j = &d->batch->jobs[job];
    int weekday = weekday_of(j->due), before = 0;
    gboolean late = is_late(j) || j->why;
    double end = d->left[weekday + 1];
    for (guint i = 0; i < job; i++)
        before += d->batch->jobs[i].due == j->due;
    g_autofree char *id = g_strdup_printf("due-%s", j->id);
    g_autofree char *label = g_strdup_printf(_("%s due"), j->name);
    g_autofree char *date = days_write_date(j->due);
    g_autofree char *words = j->why         ? g_strdup_printf("%s; %s", date, j->why)
                             : j->done == 0 ? g_strdup(_("nothing left to cast"))
                             : late         ? g_strdup_printf(
                                                  ngettext("%s; %d day late", "%s; %d days late", j->late),
                                                  date, j->late)
                                    : g_strdup_printf(ngettext("%s; %d day to spare",
                                                               "%s; %d days to spare", -j->late),
                                                      date, -j->late);
    g_autofree char *text = j->why ? g_strdup_printf(_("not done: %s"), j->name)
                            : late ? g_strdup_printf(_("late: %s"), j->name)
                                   : g_strdup(label);
    SceneRole role = late ? ROLE_FAILS : ROLE_NOW;
    SolidPoint line[] = {{end, y}, {end, y + d->row}};
    scene_add_line(d->scene, role, ORDER_LINE, id, line, 2);
    Shape style = {.size = TEXT,
                   .align = ALIGN_END,
                   .halo = TRUE,
                   .room_x = width_of(d, weekday) * (has_session(d->batch, j->due) ? 0.5 : 0.9),
                   .room_y = 6.0};
    scene_add_styled_text(d->scene, role, ORDER_TEXT, id, end - 0.14, y + 9.8 - 5.6 * (before % 2),
                          &style, text);
    scene_add_part(d->scene, id, label, words, "batch.days_late");
}

static void
fill_week(Draft *d, guint32 monday, double y)
{
    const BatchPlan *batch = d->batch;
    for (guint i = 0; i < batch->n_sessions; i++)
        if (monday_of(batch->sessions[i].day) == monday)
            draw_session(d, &batch->sessions[i], y);
    for (guint i = 0; i < batch->n_jobs; i++)
        if (batch->jobs[i].due && monday_of(batch->jobs[i].due) == monday)
            draw_due(d, i, y);
}

// The jobs that are left out or not finished, a line each, below the weeks.
static void
draw_left(Draft *d, double y)
{
    for (guint i = 0; i < d->batch->n_jobs; i++) {
        const BatchJob *job = &d->batch->jobs[i];
        if (!job->why)
            continue;
        g_autofree char *id = g_strdup_printf("left-%s", job->id);
        g_autofree char *label = g_strdup_printf(
            job->left < job->flasks ? _("%s is not finished") : _("%s is left out"), job->name);
        g_autofree char *text = g_strdup_printf("%s: %s", label, job->why);
        add_text(d, ROLE_FAILS, id, 0, y + THIN_ROW / 2, ALIGN_START, d->left[8], THIN_ROW, FALSE,
                 text);
        scene_add_part(d->scene, id, label, job->why, "batch.jobs_left");
        y += THIN_ROW;
    }
}

// Ends with the y below the last.
static double
draw_weeks(Draft *d)
{
    double y = HEAD;
    guint gap = 0, rows = 0;
    for (guint32 monday = d->first; monday <= d->last; monday += 7) {
        gboolean busy = g_hash_table_contains(d->busy, GUINT_TO_POINTER(monday));
        if (!busy) {
            gap++;
            continue;
        }
        if (rows == MOST_ROWS) {
            add_text(d, ROLE_DIMENSION, NULL, d->left[8] / 2, y + THIN_ROW / 2, ALIGN_MIDDLE,
                     d->left[8], THIN_ROW, FALSE, _("and more weeks after these"));
            return y + THIN_ROW;
        }
        // One empty week is shown as what it is.
        if (gap == 1) {
            draw_week(d, monday - 7, y, FALSE);
            y += d->row;
        } else if (gap > 1) {
            draw_gap(d, gap, y);
            y += THIN_ROW;
        }
        draw_week(d, monday, y, rows == 0 || gap > 1);
        fill_week(d, monday, y);
        y += d->row;
        gap = 0;
        rows++;
    }
    return y;
}

Scene *
sketch_calendar_scene(const BatchPlan *batch)
{
    g_return_val_if_fail(batch != NULL, NULL);
    g_autoptr(GHashTable) busy = g_hash_table_new(NULL, NULL);
    Draft draft = {.scene = scene_new(_("Calendar")), .batch = batch, .busy = busy};
    scene_set_axes(draft.scene, TRUE, TRUE);
    for (guint i = 0; i < batch->n_sessions; i++)
        note_day(&draft, batch->sessions[i].day, WIDE);
    for (guint i = 0; i < batch->n_jobs && batch->n_sessions > 0; i++)
        if (batch->jobs[i].due)
            note_day(&draft, batch->jobs[i].due, MIDDLE);
    lay_columns(&draft);
    draw_title(&draft);
    if (batch->n_sessions > 0) {
        draw_head(&draft);
        draw_left(&draft, draw_weeks(&draft));
    } else {
        add_text(&draft, ROLE_TEXT, NULL, draft.left[8] / 2, HEAD, ALIGN_MIDDLE, draft.left[8],
                 BLOCK, FALSE, _("No session: nothing is left to cast."));
    }
    return draft.scene;
}
