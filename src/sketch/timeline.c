// SPDX-License-Identifier: GPL-3.0-or-later
// The session as a chart: the furnace's temperature, below it the loads with the moulds they fill,
// then a row for each thing that is scarce, with the tasks that take it.
#include "sketch/timeline.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "session/bottleneck.h"
#include "sketch/timeline-kit.h"
#include "sketch/timeline-pins.h"

#define LEAST_BAR 2.5 // device units
#define PIN 3.0       // half the width of the mark of a task moved by hand

void
timeline_text(TimelineDraft *d, SceneRole role, const char *part, double x, double y, double size,
              ShapeAlign align, const char *text)
{
    Shape style = {.size = size, .align = align};
    scene_add_styled_text(d->scene, role, TIMELINE_ORDER_TEXT, part, x, y, &style, text);
}

void
timeline_rimmed_text(TimelineDraft *d, SceneRole role, const char *part, double x, double y,
                     double size, ShapeAlign align, const char *text)
{
    Shape style = {.size = size, .align = align, .halo = TRUE};
    scene_add_styled_text(d->scene, role, TIMELINE_ORDER_TEXT, part, x, y, &style, text);
}

static void
draw_rows(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    for (guint i = f->first_row; i < f->first_row + f->n_rows; i++) {
        const TimelineRow *row = &d->chart->rows[i];
        double y = timeline_row_y(f, i);
        scene_add_rectangle(d->scene, ROLE_GRID, TIMELINE_ORDER_BAND, NULL, TRUE, FALSE, f->left, y,
                            f->right - f->left, f->row_height);
        Shape style = {.size = TIMELINE_TEXT, .align = ALIGN_END, .room_x = f->left - 7.0};
        scene_add_styled_text(d->scene, ROLE_TEXT, TIMELINE_ORDER_TEXT, NULL, f->left - 6.0,
                              y + f->row_height / 2.0, &style, row->label);
        g_autofree char *idle = timeline_idle_words(row->idle);
        timeline_text(d, ROLE_DIMENSION, NULL, f->right + 6.0, y + f->row_height / 2.0,
                      TIMELINE_TEXT - 1.0, ALIGN_START, idle);
    }
}

static void
draw_waits(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    for (guint i = 0; i < d->chart->n_waits; i++) {
        const TimelineWait *wait = &d->chart->waits[i];
        double x0 = fmax(timeline_x(f, wait->start), f->left);
        double x1 = fmin(timeline_x(f, wait->end), f->right);
        if (wait->row < f->first_row || wait->row >= f->first_row + f->n_rows || x1 - x0 < 1.0)
            continue;
        double y = timeline_row_y(f, wait->row) + f->row_height / 2.0;
        SolidPoint line[] = {{x0, y}, {x1, y}};
        scene_add_line(d->scene, ROLE_WAIT, TIMELINE_ORDER_WAIT, NULL, line, 2);
    }
}

// The longest that has room: whole label, kind and number, letter and number, letter.
static void
label_bar(TimelineDraft *d, guint task, const char *id, SolidPoint min, SolidPoint max)
{
    double room = max.x - min.x - 4.0;
    const SessionTask *t = &d->chart->session->tasks[task];
    if (room < 5.0)
        return;
    g_autofree char *label = timeline_task_label(d->chart, task);
    g_autofree char *kind = timeline_kind_label(t);
    g_autofree char *code = timeline_code(t);
    const char *texts[] = {label, kind, code, timeline_letter(t->kind)};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        // A letter alone is as small as in the key, so that narrow bars have one.
        double size = i + 1 < G_N_ELEMENTS(texts) ? TIMELINE_TEXT : TIMELINE_TEXT - 1.0;
        // No letter is narrower than a third of its size.
        if ((double)g_utf8_strlen(texts[i], -1) * size / 3.0 > room ||
            timeline_width(d->layout, texts[i], size, FALSE) > room)
            continue;
        timeline_rimmed_text(d, ROLE_TEXT, id, (min.x + max.x) / 2.0, (min.y + max.y) / 2.0, size,
                             ALIGN_MIDDLE, texts[i]);
        return;
    }
}

void
timeline_mark_pin(TimelineDraft *d, const char *id, double x, double y)
{
    SolidPoint flag[] = {{x - PIN, y}, {x + PIN, y}, {x, y + 2.0 * PIN}};
    scene_add_polygon(d->scene, ROLE_VISIBLE, TIMELINE_ORDER_CURVE, id, TRUE, TRUE, flag, 3);
}

static void
draw_bar(TimelineDraft *d, guint bar, gboolean pinned)
{
    const TimelineFrame *f = &d->frame;
    const TimelineBar *b = &d->chart->bars[bar];
    SolidPoint min, max;
    if (!timeline_bar_box(d->chart, f, bar, &min, &max))
        return;
    g_autofree char *id = g_strdup_printf("task-%u", b->task + 1);
    SceneRole role = timeline_role(d->chart->session->tasks[b->task].kind);
    SolidPoint upright[] = {{(min.x + max.x) / 2.0, min.y}, {(min.x + max.x) / 2.0, max.y}};
    if (max.x - min.x < LEAST_BAR) // no room for a fill between two edges
        scene_add_line(d->scene, role, TIMELINE_ORDER_BLOCK, id, upright, 2);
    else
        scene_add_rectangle(d->scene, role, TIMELINE_ORDER_BLOCK, id, TRUE, TRUE, min.x, min.y,
                            max.x - min.x, max.y - min.y);
    label_bar(d, b->task, id, min, max);
    double x = timeline_x(f, b->start);
    if (pinned && x >= f->left)
        timeline_mark_pin(d, id, x, min.y);
}

// The keys of tasks with a pin, so that the text is not read once for every task.
static GHashTable *
list_pinned(const TimelineDraft *d)
{
    GHashTable *keys = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    g_auto(GStrv) pins = g_strsplit(d->look->pins ? d->look->pins : "", ";", -1);
    for (guint i = 0; pins[i]; i++) {
        char *key = g_strstrip(pins[i]);
        g_hash_table_add(keys, g_strndup(key, strcspn(key, " \t\n")));
    }
    return keys;
}

static void
draw_bars(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    g_autoptr(GHashTable) pinned = list_pinned(d);
    for (guint r = f->first_row; r < f->first_row + f->n_rows; r++) {
        const TimelineRow *row = &d->chart->rows[r];
        for (guint i = row->first_bar; i < row->first_bar + row->n_bars; i++) {
            gboolean marked = FALSE;
            if (g_hash_table_size(pinned) > 0) {
                g_autofree char *key = timeline_key(
                    &d->chart->session->tasks[d->chart->bars[i].task]);
                marked = g_hash_table_contains(pinned, key);
            }
            draw_bar(d, i, marked);
        }
    }
}

static char *
summarize(const SessionResult *session)
{
    g_autofree char *loads = g_strdup_printf(ngettext("%d load", "%d loads", session->loads),
                                             session->loads);
    g_autofree char *flasks = g_strdup_printf(ngettext("%d flask", "%d flasks", session->flasks),
                                              session->flasks);
    g_autofree char *castings = g_strdup_printf(
        ngettext("%d casting", "%d castings", session->castings), session->castings);
    const char *why = session_bottleneck_held(session->bottleneck);
    return g_strdup_printf("%s \u00b7 %s \u00b7 %s%s%s", loads, flasks, castings,
                           why ? " \u00b7 " : "", why ? why : "");
}

static void
draw_title(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    g_autofree char *summary = summarize(d->chart->session);
    double used = 0.0, room = f->width - f->left - 8.0;
    if (d->look->title) {
        g_autofree char *title = d->look->note
                                     ? g_strdup_printf("%s, %s", _("Session"), d->look->note)
                                     : g_strdup(_("Session"));
        Shape style = {.size = 14.0, .align = ALIGN_START, .strong = TRUE, .room_x = room};
        scene_add_styled_text(d->scene, ROLE_TEXT, TIMELINE_ORDER_TEXT, NULL, f->left, f->title,
                              &style, title);
        used = timeline_width(d->layout, title, 14.0, TRUE) + 12.0;
    }
    if (room - used < 60.0)
        return;
    Shape style = {.size = TIMELINE_TEXT,
                   .align = d->look->title ? ALIGN_END : ALIGN_START,
                   .room_x = room - used};
    scene_add_styled_text(d->scene, ROLE_DIMENSION, TIMELINE_ORDER_TEXT, NULL,
                          d->look->title ? f->width - 8.0 : f->left, f->title, &style, summary);
}

static void
describe_tasks(TimelineDraft *d)
{
    for (guint i = 0; i < d->chart->session->n_tasks; i++) {
        if (d->chart->first_bar[i] == G_MAXUINT)
            continue;
        g_autofree char *id = g_strdup_printf("task-%u", i + 1);
        g_autofree char *label = timeline_task_label(d->chart, i);
        g_autofree char *words = timeline_task_words(d->chart, i, d->look->pins);
        scene_add_part(d->scene, id, label, words, timeline_task_figure(d->chart, i));
    }
}

// The whole place is the drawing's, so that it is shown as it was laid out.
static void
add_ground(TimelineDraft *d)
{
    const TimelineFrame *f = &d->frame;
    SolidPoint corners[] = {{0.0, 0.0}, {f->width, f->height}};
    for (guint i = 0; i < 2; i++)
        scene_add_line(d->scene, ROLE_GRID, TIMELINE_ORDER_BAND, NULL, &corners[i], 1);
}

Scene *
timeline_draw(const TimelineChart *chart, const TimelineLook *look)
{
    g_return_val_if_fail(chart != NULL && look != NULL, NULL);
    TimelineDraft draft;
    timeline_draft_init(&draft, chart, look);
    draft.scene = scene_new(_("Session"));
    scene_set_axes(draft.scene, TRUE, TRUE);
    SolidPoint anchor = {floor(timeline_x(&draft.frame, 0.0)), draft.frame.rows};
    scene_set_anchor(draft.scene, anchor);
    if (look->parts)
        describe_tasks(&draft); // before their shapes, which then need no second look
    add_ground(&draft);
    draw_title(&draft);
    timeline_curve(&draft);
    timeline_loads(&draft);
    draw_rows(&draft);
    draw_waits(&draft);
    draw_bars(&draft);
    timeline_axis(&draft);
    timeline_draw_key(&draft);
    Scene *scene = draft.scene;
    timeline_draft_clear(&draft);
    return scene;
}

Scene *
timeline_scene(const SessionResult *session, const MeltResult *melt, const UnitSet *units,
               double now)
{
    g_return_val_if_fail(session != NULL && units != NULL, NULL);
    g_autoptr(TimelineChart) chart = timeline_chart_new(session, melt, units);
    TimelineLook look = {.now = now, .title = TRUE, .parts = TRUE};
    timeline_whole_size(chart, &look.width, &look.height);
    return timeline_draw(chart, &look);
}
