// SPDX-License-Identifier: GPL-3.0-or-later
// The session as a chart: the furnace's temperature, below it the loads with the flasks they fill,
// then a row for each thing that is scarce, with the tasks that take it.
//
//   °C  |      ___/-----\_/----\___      temperature
//       |     [ Load 1  ][ Load 2 ]      loads, holding their flasks
//  Furn |[warm][ melt   ][ melt   ]
//  Pers |[ram][ram][][ram] [pour]
//  Box 1|[ram]     [cool     ][shake]
//        0:00   1:00   2:00   3:00
#include "sketch/timeline.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"

#define MOST_ROWS 64

char *
timeline_clock(double seconds)
{
    int minutes = (int)floor(fmax(0.0, seconds) / 60.0 + 0.5);
    return g_strdup_printf("%d:%02d", minutes / 60, minutes % 60);
}

void
timeline_text(TimelineDraft *d, SceneRole role, const char *part, double x, double y, double size,
              ShapeAlign align, double room_x, double room_y, const char *text)
{
    Shape style = {.size = size, .align = align, .room_x = room_x, .room_y = room_y};
    scene_add_styled_text(d->scene, role, TIMELINE_ORDER_TEXT, part, x, y, &style, text);
}

void
timeline_gutter(TimelineDraft *d, SceneRole role, double y, double room_y, const char *text)
{
    Shape style = {
        .size = TIMELINE_TEXT, .align = ALIGN_END, .room_y = room_y, .pinned = TRUE, .halo = TRUE};
    scene_add_styled_text(d->scene, role, TIMELINE_ORDER_GUTTER, NULL, 0.0, y, &style, text);
}

static SceneRole
role_of_task(TaskKind kind)
{
    switch (kind) {
    case TASK_WARM_UP:
        return ROLE_WARMUP;
    case TASK_RAM:
    case TASK_RAM_DRAG:
    case TASK_RAM_COPE:
    case TASK_DRAW:
    case TASK_SHUT:
        return ROLE_RAM;
    case TASK_CHARGE:
    case TASK_MELT:
        return ROLE_MELT;
    case TASK_SKIM:
    case TASK_POUR:
        return ROLE_POUR;
    case TASK_COOL:
        return ROLE_COOL;
    case TASK_SHAKE_OUT:
        return ROLE_SHAKE_OUT;
    case TASK_SET_UP:
    case TASK_CLOSE:
        break;
    }
    return ROLE_SET_UP;
}

static gboolean
task_is_drawn(const SessionTask *task)
{
    return isfinite(task->start) && isfinite(task->end) && task->end > task->start;
}

static int
count_boxes(const SessionResult *session)
{
    int boxes = session->boxes;
    for (guint i = 0; i < session->n_tasks; i++)
        boxes = MAX(boxes, session->tasks[i].box + 1);
    return CLAMP(boxes, 0, MOST_ROWS);
}

// Pairs of hands; one at the least.
static int
count_people(const SessionResult *session)
{
    int people = 1;
    for (guint i = 0; i < session->n_tasks; i++)
        people = MAX(people, session->tasks[i].who + 1);
    return MIN(people, MOST_ROWS);
}

static double
row_top(int row)
{
    return LANE_ROWS + row * LANE_ROW_STEP;
}

static void
draw_band(TimelineDraft *d, double top, double height, const char *label)
{
    scene_add_rectangle(d->scene, ROLE_GRID, TIMELINE_ORDER_BAND, NULL, TRUE, FALSE, 0.0, top,
                        d->length, height);
    timeline_gutter(d, ROLE_TEXT, top + height / 2.0, height, label);
}

static void
draw_block(TimelineDraft *d, const SessionTask *task, const char *id, int row)
{
    double x = task->start / 60.0, width = fmin(task->end / 60.0, d->length) - x;
    double y = row_top(row);
    if (!(width > 0.0))
        return;
    scene_add_rectangle(d->scene, role_of_task(task->kind), TIMELINE_ORDER_BLOCK, id, TRUE, TRUE, x,
                        y, width, LANE_ROW_HEIGHT);
    if (task->label)
        timeline_text(d, ROLE_TEXT, id, x + width / 2.0, y + LANE_ROW_HEIGHT / 2.0, TIMELINE_TEXT,
                      ALIGN_MIDDLE, width * 0.92, LANE_ROW_HEIGHT, task->label);
}

static void
describe_task(TimelineDraft *d, const SessionTask *task, const char *id)
{
    g_autofree char *start = timeline_clock(task->start);
    g_autofree char *end = timeline_clock(task->end);
    g_autofree char *time = quantity_format(QUANTITY_TIME, task->end - task->start, d->units);
    g_autoptr(GString) words = g_string_new(NULL);
    g_string_append_printf(words, _("%s to %s, %s"), start, end, time);
    if (task->person)
        g_string_append_printf(words, "; %s", _("takes the person"));
    if (task->furnace >= 0)
        g_string_append_printf(words, "; %s", _("takes the furnace"));
    if (task->box >= 0) {
        g_string_append(words, "; ");
        g_string_append_printf(words, _("takes flask %d"), task->box + 1);
    }
    scene_add_part(d->scene, id, task->label ? task->label : id, words->str,
                   task->furnace >= 0 ? "melt.cycle_time" : "run.bottleneck");
}

static void
draw_tasks(TimelineDraft *d, int people, int boxes)
{
    for (guint i = 0; i < d->session->n_tasks; i++) {
        const SessionTask *task = &d->session->tasks[i];
        g_autofree char *id = g_strdup_printf("task-%u", i + 1);
        if (!task_is_drawn(task))
            continue;
        if (task->furnace >= 0)
            draw_block(d, task, id, 0);
        if (task->person)
            draw_block(d, task, id, 1 + CLAMP(task->who, 0, people - 1));
        if (task->box >= 0 && task->box < boxes)
            draw_block(d, task, id, 1 + people + task->box);
        describe_task(d, task, id);
    }
}

// From charging to the last flask poured; FALSE when the load has no such task.
static gboolean
find_load(const SessionResult *session, int load, double *start, double *end, GArray *flasks)
{
    *start = INFINITY;
    *end = -INFINITY;
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        gboolean counts = task->kind == TASK_CHARGE || task->kind == TASK_MELT ||
                          task->kind == TASK_POUR;
        if (task->load != load || !counts || !task_is_drawn(task))
            continue;
        *start = fmin(*start, task->start);
        *end = fmax(*end, task->end);
        if (task->kind == TASK_POUR && task->flask >= 0)
            g_array_append_val(flasks, task->flask);
    }
    return *end > *start;
}

static void
draw_load_flasks(TimelineDraft *d, const char *id, double x, double width, const GArray *flasks)
{
    double inset = width * 0.02, gap = width * 0.015;
    double cell = (width - 2.0 * inset - gap * (flasks->len - 1)) / flasks->len;
    double top = LANE_LOAD + 7.0, height = LANE_LOAD_HEIGHT - 8.0;
    for (guint i = 0; i < flasks->len; i++) {
        double left = x + inset + i * (cell + gap);
        scene_add_rectangle(d->scene, ROLE_POUR, TIMELINE_ORDER_CELL, id, TRUE, TRUE, left, top,
                            cell, height);
        g_autofree char *number = g_strdup_printf(_("Mould %d"), g_array_index(flasks, int, i) + 1);
        timeline_text(d, ROLE_TEXT, id, left + cell / 2.0, top + height / 2.0, TIMELINE_TEXT - 1.0,
                      ALIGN_MIDDLE, cell * 0.94, height, number);
    }
}

static void
draw_load(TimelineDraft *d, int load)
{
    double start, end;
    g_autoptr(GArray) flasks = g_array_new(FALSE, FALSE, sizeof(int));
    if (!find_load(d->session, load, &start, &end, flasks))
        return;
    g_autofree char *id = g_strdup_printf("load-%d", load + 1);
    g_autofree char *label = g_strdup_printf(_("Load %d"), load + 1);
    double x = start / 60.0, width = (end - start) / 60.0;
    scene_add_rectangle(d->scene, ROLE_MELT, TIMELINE_ORDER_BLOCK, id, TRUE, TRUE, x, LANE_LOAD,
                        width, LANE_LOAD_HEIGHT);
    timeline_text(d, ROLE_TEXT, id, x + width / 2.0, LANE_LOAD + 3.6, TIMELINE_TEXT - 1.0,
                  ALIGN_MIDDLE, width * 0.94, 7.0, label);
    if (flasks->len > 0)
        draw_load_flasks(d, id, x, width, flasks);
    g_autofree char *from = timeline_clock(start);
    g_autofree char *to = timeline_clock(end);
    g_autofree char *words = g_strdup_printf(
        ngettext("%s to %s; fills %u flask", "%s to %s; fills %u flasks", flasks->len), from, to,
        flasks->len);
    scene_add_part(d->scene, id, label, words, "melt.flasks_per_load");
}

static double
choose_tick(double minutes)
{
    static const double ticks[] = {5, 10, 15, 30, 60, 120, 240, 480};
    for (guint i = 0; i < G_N_ELEMENTS(ticks); i++)
        if (minutes / ticks[i] <= 12.0)
            return ticks[i];
    return ceil(minutes / 12.0 / 480.0) * 480.0;
}

static void
draw_hours(TimelineDraft *d, double bottom)
{
    double tick = choose_tick(d->length);
    for (double at = 0.0; at <= d->length + 1e-6; at += tick) {
        SolidPoint line[] = {{at, LANE_CURVE_TOP - 2.0}, {at, bottom}};
        scene_add_line(d->scene, ROLE_GRID, TIMELINE_ORDER_GRID, NULL, line, 2);
        g_autofree char *text = timeline_clock(at * 60.0);
        timeline_text(d, ROLE_DIMENSION, NULL, at, bottom + 4.5, TIMELINE_TEXT,
                      at > d->length - tick * 0.1 ? ALIGN_END : ALIGN_MIDDLE, tick * 0.95, 9.0,
                      text);
    }
    double given = d->session->hours / 60.0;
    if (!(given > 0.0 && given <= d->length))
        return;
    SolidPoint end[] = {{given, LANE_CURVE_TOP - 2.0}, {given, bottom}};
    scene_add_line(d->scene, ROLE_NOW, TIMELINE_ORDER_CURVE, NULL, end, 2);
    timeline_text(d, ROLE_NOW, NULL, given, bottom + 12.5, TIMELINE_TEXT, ALIGN_END, 0.0, 9.0,
                  _("Hours end"));
}

static const char *
name_bottleneck(const char *word)
{
    static const char *const names[][2] = {{"furnace", N_("held back by the furnace")},
                                           {"crucible", N_("held back by the crucible")},
                                           {"person", N_("held back by the person")},
                                           {"flasks", N_("held back by the flasks")},
                                           {"hours", N_("held back by the hours")}};
    for (guint i = 0; word && i < G_N_ELEMENTS(names); i++)
        if (g_str_equal(word, names[i][0]))
            return _(names[i][1]);
    return NULL;
}

static void
draw_title(TimelineDraft *d)
{
    const SessionResult *session = d->session;
    Shape style = {.size = 14.0,
                   .align = ALIGN_START,
                   .strong = TRUE,
                   .room_x = d->length * 0.3,
                   .room_y = 12.0};
    scene_add_styled_text(d->scene, ROLE_TEXT, TIMELINE_ORDER_TEXT, NULL, 0.0, LANE_TITLE, &style,
                          _("Session"));
    g_autofree char *loads = g_strdup_printf(ngettext("%d load", "%d loads", session->loads),
                                             session->loads);
    g_autofree char *flasks = g_strdup_printf(ngettext("%d flask", "%d flasks", session->flasks),
                                              session->flasks);
    g_autofree char *castings = g_strdup_printf(
        ngettext("%d casting", "%d castings", session->castings), session->castings);
    const char *why = name_bottleneck(session->bottleneck);
    g_autofree char *text = g_strdup_printf("%s \u00b7 %s \u00b7 %s%s%s", loads, flasks, castings,
                                            why ? " \u00b7 " : "", why ? why : "");
    timeline_text(d, ROLE_DIMENSION, NULL, d->length, LANE_TITLE, TIMELINE_TEXT + 1.0, ALIGN_END,
                  d->length * 0.68, 9.0, text);
}

static double
find_length(const SessionResult *session)
{
    double length = isfinite(session->length) ? session->length : 0.0;
    // Flasks may be left to cool overnight; the chart ends with the session all the same.
    for (guint i = 0; i < session->n_tasks; i++)
        if (task_is_drawn(&session->tasks[i]) && session->tasks[i].kind != TASK_COOL)
            length = fmax(length, session->tasks[i].end);
    for (guint i = 0; i < session->n_curve; i++)
        if (isfinite(session->curve[i].at))
            length = fmax(length, session->curve[i].at);
    return length > 0.0 ? length / 60.0 : 60.0;
}

Scene *
timeline_scene(const SessionResult *session, const MeltResult *melt, const UnitSet *units)
{
    g_return_val_if_fail(session != NULL && units != NULL, NULL);
    TimelineDraft draft = {.scene = scene_new(_("Session")),
                           .session = session,
                           .melt = melt,
                           .units = units,
                           .length = find_length(session)};
    scene_set_axes(draft.scene, TRUE, TRUE);
    int people = count_people(session), boxes = count_boxes(session);
    draw_title(&draft);
    timeline_curve(&draft);
    draw_band(&draft, LANE_LOAD, LANE_LOAD_HEIGHT, _("Loads"));
    for (int load = 0; load < session->loads; load++)
        draw_load(&draft, load);
    draw_band(&draft, row_top(0), LANE_ROW_HEIGHT, _("Furnace"));
    for (int who = 0; who < people; who++) {
        g_autofree char *label = people > 1 ? g_strdup_printf(_("Person %d"), who + 1)
                                            : g_strdup(_("Person"));
        draw_band(&draft, row_top(1 + who), LANE_ROW_HEIGHT, label);
    }
    for (int box = 0; box < boxes; box++) {
        g_autofree char *label = g_strdup_printf(_("Flask %d"), box + 1);
        draw_band(&draft, row_top(1 + people + box), LANE_ROW_HEIGHT, label);
    }
    draw_tasks(&draft, people, boxes);
    draw_hours(&draft, row_top(1 + people + boxes));
    return draft.scene;
}
