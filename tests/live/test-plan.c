// SPDX-License-Identifier: GPL-3.0-or-later
// A day on a real plan: worked through by chance, faster and slower than planned, planned again
// after every tick by the scheduler itself, which must take all that the day hands it.
#include <string.h>

#include "book/scan.h"
#include "live/log.h"
#include "live/next.h"
#include "live/sheet-limits.h"
#include "live/shift.h"
#include "sample.h"

#include "../plan/make.h"
#include "plan/day.h"

typedef struct {
    Tables *tables;
    char *folder, *mesh, *book_path;
    Book *book;
    Plan *plan;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    f->mesh = make_mesh_file(f->folder, "plate.stl", make_plate());
    g_autoptr(Book) plain = make_book(f->mesh, f->tables);
    f->book = make_changed(plain, "people.count", "2", f->tables);
    f->plan = make_plan(f->book, "part", f->tables, NULL);
    f->book_path = g_build_filename(f->folder, "shop.castbook", NULL);
    sample_clock(SAMPLE_START);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    plan_unref(f->plan);
    book_unref(f->book);
    tables_free(f->tables);
    check_folder_remove(f->folder);
    g_free(f->folder);
    g_free(f->mesh);
    g_free(f->book_path);
}

static void
test_sheet(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(LiveSheet) sheet = live_sheet_new(f->plan, f->book_path, SAMPLE_START, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(sheet->n_jobs, ==, 1);
    g_assert_cmpstr(sheet->jobs[0].id, ==, "part");
    g_assert_cmpuint(sheet->jobs[0].cavities, ==, plan_mould(f->plan)->n_cavities);
    check_close(sheet->jobs[0].casting_mass, plan_figure(f->plan, "casting.mass")->value, 0,
                "plan");
    g_assert_cmpuint(sheet->session->n_tasks, ==, plan_session(f->plan)->n_tasks);
    g_autoptr(Node) node = live_sheet_node(sheet);
    g_autoptr(LiveSheet) again = live_sheet_read(node, "day", &error);
    g_assert_no_error(error);
    g_autoptr(Node) second = live_sheet_node(again);
    g_assert_true(node_equal(node, second));
}

// Sand, daylight and pins are in the journal, so that a day goes on by the same rules; what in them
// cannot be is no limit.
static void
test_limits(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) sand = make_changed(f->book, "shop.sand_ready", "231 kg", f->tables);
    g_autoptr(Book) lit = make_changed(sand, "shop.light_to", "16:50", f->tables);
    g_autoptr(Book) book = make_changed(lit, "job.pins", "pour-1 4 h", f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    g_autoptr(LiveSheet) sheet = live_sheet_new(plan, f->book_path, SAMPLE_START, &error);
    g_assert_no_error(error);
    g_autoptr(Node) node = live_sheet_node(sheet);
    g_autoptr(LiveSheet) again = live_sheet_read(node, "day", &error);
    g_assert_no_error(error);
    const SessionLimits *limits = again->session->limits;
    g_assert_nonnull(limits);
    check_close(limits->sand_ready, 231, 1e-12, "the book");
    g_autoptr(GDateTime) begun = g_date_time_new_from_unix_local((gint64)SAMPLE_START);
    int minutes = g_date_time_get_hour(begun) * 60 + g_date_time_get_minute(begun);
    check_close(limits->light_to, (16 * 60 + 50 - minutes) * 60, 1e-12,
                "16:50 less when it was begun");
    check_close(limits->sand[0], plan_figure(plan, "mould.sand_mass")->value, 1e-12, "the plan");
    g_assert_cmpuint(limits->n_pins, ==, 1);
    g_assert_cmpint(limits->pins[0].kind, ==, TASK_POUR);
    check_close(limits->pins[0].at, 4 * 3600, 1e-12, "the book");
    static const char text[] = "{\"sand_ready\":-1,\"light_to\":1e300,\"light_from\":\"x\","
                               "\"sand\":[-3,\"x\"],\"pins\":[1,"
                               "{\"kind\":\"sing\"},{\"kind\":\"pour\",\"at\":1e300}]}";
    g_autoptr(Node) wild = scan_text(text, strlen(text), "wild", 9, &error);
    g_assert_no_error(error);
    const SessionLimits *tame = live_limits_read(wild);
    g_assert_false(isfinite(tame->sand_ready) || isfinite(tame->light_to));
    g_assert_cmpfloat(tame->light_from, ==, 0);
    g_assert_cmpfloat(tame->sand[0] + tame->sand[1], ==, 0);
    g_assert_cmpuint(tame->n_pins, ==, 0);
    session_limits_unref(tame);
}

// Nothing not begun starts before now, and what is done keeps its times.
static void
check_rest(const LiveDay *day, const SessionResult *rest, double now)
{
    for (guint i = 0; i < rest->n_tasks; i++) {
        const SessionTask *task = &rest->tasks[i];
        const LiveTask *lived = live_day_find(day, task->key);
        g_assert_nonnull(lived);
        // A flask rammed again counts as emptied at that moment, whether or not that was ticked.
        if (lived->state == LIVE_TO_DO && task->person && task->kind != TASK_SHAKE_OUT)
            g_assert_cmpfloat(task->start, >=, now - 1e-6);
        if (lived->state == LIVE_OVER && task->person)
            check_close(task->end, lived->end, 1e-9, "ticked");
    }
}

// The scheduler's own answer to the day as it is; never a refusal.
static SessionResult *
plan_again(const LiveDay *day, double now)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GArray) done = live_day_done(day, now);
    SessionResult *rest = session_replan(day->sheet->session,
                                         (const SessionDone *)(gpointer)done->data, done->len, now,
                                         NULL, &error);
    g_assert_no_error(error);
    check_rest(day, rest, now);
    return rest;
}

// Ticks what is next for some pair of hands or the furnace. FALSE when nothing is left.
static gboolean
tick_next(Live *live, GRand *rand, double *now)
{
    g_autoptr(GError) error = NULL;
    const LiveDay *day = live_day(live);
    g_autoptr(SessionResult) rest = plan_again(day, *now);
    g_autoptr(GArray) furnaces = live_actions(day, rest, rest, TRUE);
    g_autoptr(GArray) hands = live_actions(day, rest, rest, FALSE);
    if (hands->len == 0)
        return FALSE;
    const LiveAction *action = &g_array_index(hands, LiveAction, 0);
    if (furnaces->len > 0 && g_array_index(furnaces, LiveAction, 0).task->state == LIVE_RUNNING &&
        g_array_index(furnaces, LiveAction, 0).until <= action->until)
        action = &g_array_index(furnaces, LiveAction, 0);
    double due = action->begins ? action->from : action->until;
    double slip = g_rand_double_range(rand, -200, 400); // early or late
    *now = MAX(*now + 1, due + slip);
    sample_clock(SAMPLE_START + *now);
    const char *key = action->task->task->key;
    g_assert_true(action->begins ? live_begin(live, key, NAN, &error)
                                 : live_done(live, key, NAN, &error));
    g_assert_no_error(error);
    return TRUE;
}

static void
live_through(Fixture *f, LiveSheet *sheet, guint32 seed)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    double now = 0;
    guint n = sheet->session->n_tasks, ticks = 0;
    sample_clock(SAMPLE_START);
    g_autoptr(Live) live = live_start_sheet(sheet, f->book_path, &error);
    g_assert_no_error(error);
    while (tick_next(live, rand, &now))
        g_assert_cmpuint(++ticks, <=, 2 * n);
    g_autoptr(SessionResult) rest = plan_again(live_day(live), now);
    g_assert_nonnull(rest);
    g_assert_true(live_finish(live, &error));
    g_autoptr(Edit) edit = live_log_edit(f->book, live_day(live));
    g_autoptr(Book) logged = edit_apply(f->book, edit, &error);
    g_assert_no_error(error);
    g_autoptr(GArray) castings = live_log_castings(logged, 0);
    g_assert_cmpuint(castings->len, ==, (guint)live_sheet(live)->session->castings);
    g_assert_true(live_journal_put_aside(live_journal(live), live_sheet(live)->id, &error));
}

static void
test_any_order(Fixture *f, gconstpointer data)
{
    for (guint32 seed = 1; seed <= 5; seed++)
        live_through(f, live_sheet_new(f->plan, f->book_path, SAMPLE_START, NULL), seed);
}

// Pours of a job in a sheet, each labelled with its name.
static int
count_pours(const LiveSheet *sheet, guint job)
{
    int count = 0;
    g_autofree char *name = g_strdup_printf(": %s", sheet->jobs[job].name);
    for (guint i = 0; i < sheet->session->n_tasks; i++) {
        const SessionTask *task = &sheet->session->tasks[i];
        if (task->job != (int)job || task->flask < 0)
            continue;
        g_assert_true(g_str_has_suffix(task->label, name));
        count += task->kind == TASK_POUR;
    }
    return count;
}

// The day of all jobs of the shop; one of them is not poured on it and is not on its sheet.
static void
test_shop_day(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    static const char *const ids[] = {"idle", "other", "part", NULL};
    static const int moulds[] = {0, 3, 2};
    PlanDayWish wish = {.hours = NAN, .light_from = NAN, .light_to = NAN, .moulds = moulds};
    g_autoptr(Book) two = make_with_other(f->book, f->mesh, f->tables);
    g_autoptr(Node) id = node_new_text("idle");
    g_autoptr(Node) idle = node_with_member(node_get(book_root(two), "/jobs/1"), "id", id);
    g_autoptr(Edit) edit = edit_insert("/jobs/-", idle, "");
    g_autoptr(Book) book = edit_apply(two, edit, &error);
    g_assert_no_error(error);
    g_autoptr(PlanDay) day = plan_day_of_book(book, ids, &wish, f->tables, NULL, NULL, &error);
    g_assert_no_error(error);
    LiveSheet *sheet = live_sheet_of_day(day, f->book_path, SAMPLE_START, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(sheet->n_jobs, ==, 2);
    g_assert_cmpstr(sheet->jobs[0].id, ==, "other");
    g_assert_cmpstr(sheet->session->jobs[1], ==, "part");
    g_assert_null(sheet->session->jobs[2]);
    g_assert_cmpint(count_pours(sheet, 0), ==, 3);
    g_assert_cmpint(count_pours(sheet, 1), ==, 2);
    g_assert_cmpuint(sheet->n_loads, ==, (guint)sheet->session->loads);
    live_through(f, sheet, 77);
    // Sand by the number a job has on the day, not by that it has in the book; and no darkness
    // where the book knows none, however early it begins.
    g_autoptr(Book) sand = make_changed(book, "shop.sand_ready", "431 kg", f->tables);
    g_autoptr(PlanDay) sandy = plan_day_of_book(sand, ids, &wish, f->tables, NULL, NULL, &error);
    g_assert_no_error(error);
    g_autoptr(LiveSheet)
                  early = live_sheet_of_day(sandy, f->book_path, SAMPLE_START - 4000, &error);
    g_assert_no_error(error);
    const SessionLimits *limits = early->session->limits;
    g_assert_cmpuint(limits->n_sand, ==, 2);
    for (guint i = 0; i < 2; i++)
        check_close(limits->sand[i],
                    plan_figure(plan_day_plan(sandy, i + 1), "mould.sand_mass")->value, 1e-12,
                    "its own plan");
    g_assert_cmpfloat(limits->light_from, ==, 0);
    g_assert_false(isfinite(limits->light_to));
    // A day of the calendar that begins at 13:00: the light is counted from then.
    int noon = 13 * 60;
    g_autoptr(Book) dusk = make_changed(book, "shop.light_to", "21:50", f->tables);
    wish.begins = &noon;
    g_autoptr(PlanDay) late = plan_day_of_book(dusk, ids, &wish, f->tables, NULL, NULL, &error);
    g_assert_no_error(error);
    check_close(plan_day_session(late)->limits->light_to, (21 * 60 + 50 - noon) * 60, 1e-12,
                "21:50 less 13:00");
    g_autoptr(LiveSheet) begun = live_sheet_of_day(late, f->book_path, SAMPLE_START, &error);
    g_assert_no_error(error);
    g_autoptr(GDateTime) at = g_date_time_new_from_unix_local((gint64)SAMPLE_START);
    int minutes = g_date_time_get_hour(at) * 60 + g_date_time_get_minute(at);
    check_close(begun->session->limits->light_to, (21 * 60 + 50 - minutes) * 60, 1e-12,
                "21:50 less when it was begun");
    wish.begins = NULL;
    // Of a day on which nothing is poured there is nothing to start.
    static const int none[] = {0, 0, 0};
    wish.moulds = none;
    g_autoptr(PlanDay) empty = plan_day_of_book(book, ids, &wish, f->tables, NULL, NULL, &error);
    g_assert_no_error(error);
    g_assert_null(live_sheet_of_day(empty, f->book_path, SAMPLE_START, &error));
    check_error(error, BASE_ERROR_VALUE, "none of it is wanted");
}

int
main(int argc, char **argv)
{
    g_autofree char *data = check_folder();
    g_setenv("XDG_DATA_HOME", data, TRUE);
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/live/plan/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("sheet", test_sheet);
    ADD("limits", test_limits);
    ADD("any-order", test_any_order);
    ADD("shop-day", test_shop_day);
    int code = g_test_run();
    check_folder_remove(data);
    return code;
}
