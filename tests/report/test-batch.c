// SPDX-License-Identifier: GPL-3.0-or-later
// The batch over days of real plans: against the jobs' own plans and a calendar by hand; and as
// JSON, rows and a calendar file, read back by others.
#include "batch-kit.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <libical/ical.h>
#include <locale.h>
#include <string.h>

#include "book/scan.h"
#include "calendar/uid.h"
#include "report/batch.h"

// A new crucible is tempered on the first day alone: that session starts pouring later, those after
// it hold what they hold without that.
static void
test_new_crucible(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) kind = kit_change(f, f->one, "part", "crucible.kind", "clay-graphite");
    g_autoptr(Book) fresh = kit_change(f, kind, "part", "crucible.firings", "0");
    g_autoptr(BatchPlan) batch = kit_batch(f, fresh, "2026-11-22");
    g_autoptr(Plan) plan = make_plan(fresh, "part", f->tables, f->cache);
    g_autoptr(Book) used = kit_change(f, kind, "part", "crucible.firings", "1");
    g_autoptr(Plan) later = make_plan(used, "part", f->tables, f->cache);
    const FigureList *figures = plan_figures(plan), *without = plan_figures(later);
    int first = (int)figure_list_value(figures, "run.flasks_per_session");
    int each = (int)figure_list_value(without, "run.flasks_per_session");
    check_close(figure_list_value(figures, "run.later_flasks"), each, 0, "planned apart");
    check_close(figure_list_value(figures, "run.later_length"),
                figure_list_value(without, "run.session_length"), 1e-12, "planned apart");
    check_close(figure_list_value(figures, "run.later_warmup"),
                figure_list_value(without, "melt.warmup_time"), 1e-12, "planned apart");
    g_assert_cmpint(first, >, 0);
    g_assert_cmpint(first, <, each);
    g_assert_cmpuint(batch->n_sessions, ==, (guint)figure_list_value(figures, "run.sessions"));
    g_assert_cmpuint(batch->n_sessions, >, 2);
    double minutes = 0;
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        if (i + 1 < batch->n_sessions) {
            const Figure *held = figure_list_find(i == 0 ? figures : without, "run.bottleneck");
            g_assert_cmpint(session->pours[0].flasks, ==, i == 0 ? first : each);
            g_assert_cmpstr(session->held, ==, held->text);
            g_assert_cmpstr(session->held_why, ==, held->note);
        }
        minutes += session->to - session->from;
    }
    double hours = figure_list_value(figures, "run.batch_time") / 60;
    g_assert_cmpfloat(minutes, >=, hours);
    g_assert_cmpfloat(minutes, <, hours + batch->n_sessions); // each in whole minutes
}

// The same where sessions mix jobs: only the first that heats the crucible is short of time.
static void
test_new_crucible_mixed(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) kind = kit_change(f, f->mixed, "part", "crucible.kind", "clay-graphite");
    g_autoptr(Book) fresh = kit_change(f, kind, "part", "crucible.firings", "0");
    g_autoptr(Book) used = kit_change(f, kind, "part", "crucible.firings", "1");
    g_autoptr(BatchPlan) batch = kit_batch(f, fresh, "2026-11-22");
    g_autoptr(BatchPlan) later = kit_batch(f, used, "2026-11-22");
    g_assert_true(batch->mixed && later->mixed);
    g_assert_cmpuint(batch->n_sessions, >, 2);
    g_assert_cmpint(kit_flasks(&batch->sessions[0]), <, kit_flasks(&later->sessions[0]));
    g_assert_cmpint(kit_flasks(&batch->sessions[1]), ==, kit_flasks(&later->sessions[1]));
}

// Saturdays from 8:00 and Sundays from 13:00, both for 8 h: the light ends at 17:30, so the Sunday
// holds what a session holds that begins at 13:00, as the book says it when all begin then.
static void
test_daylight(BatchKit *f, gconstpointer data)
{
    const Book *const books[] = {f->one, f->mixed};
    for (guint i = 0; i < G_N_ELEMENTS(books); i++) {
        g_autoptr(Book) lit = kit_change(f, books[i], NULL, "shop.light_to", "17:30");
        g_autoptr(Book) days = kit_change(f, lit, NULL, "shop.days",
                                          "2026-11-28 8:00-16:00; 2026-11-29 13:00-21:00; sat");
        g_autoptr(BatchPlan) batch = kit_batch(f, days, "2026-11-22");
        g_autoptr(Book) noon = kit_change(f, lit, NULL, "shop.start", "13:00");
        g_autoptr(Book) all_noon = kit_change(f, noon, NULL, "shop.days", "2026-11-29; sat");
        g_autoptr(BatchPlan) dark = kit_batch(f, all_noon, "2026-11-29");
        g_assert_cmpuint(batch->n_sessions, >, 2);
        g_assert_cmpint(kit_flasks(&batch->sessions[1]), >, 0);
        g_assert_cmpint(kit_flasks(&batch->sessions[1]), <, kit_flasks(&batch->sessions[0]));
        g_assert_cmpint(kit_flasks(&batch->sessions[1]), ==, kit_flasks(&dark->sessions[0]));
    }
}

// 28 November 2026 is a Saturday; one follows every seven days.
static void
test_one_job(BatchKit *f, gconstpointer data)
{
    g_autoptr(BatchPlan) batch = kit_batch(f, f->one, "2026-11-22");
    g_autoptr(Plan) plan = make_plan(f->one, "part", f->tables, f->cache);
    const FigureList *figures = plan_figures(plan);
    guint sessions = (guint)figure_list_value(figures, "run.sessions");
    int flasks = 0, castings = 0;
    g_assert_cmpuint(batch->n_sessions, ==, sessions);
    g_assert_cmpuint(sessions, >, 1);
    for (guint i = 0; i < sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        g_assert_cmpint(session->number, ==, (int)i + 1);
        g_assert_cmpuint(session->day, ==, kit_day_of("2026-11-28") + 7 * i);
        g_assert_cmpint(session->from, ==, 9 * 60);
        g_assert_cmpint(session->hours_end, ==, 17 * 60);
        g_assert_cmpint(session->to, <=, session->hours_end);
        g_assert_cmpuint(session->n_pours, ==, 1);
        flasks += session->pours[0].flasks;
        castings += session->pours[0].castings;
        check_close(session->charge, session->pours[0].charge, 1e-12, "one job");
    }
    const BatchSession *full = &batch->sessions[0], *last = &batch->sessions[sessions - 1];
    double length = figure_list_value(figures, "run.session_length");
    double last_length = figure_list_value(figures, "run.last_session_length");
    g_assert_cmpint(full->to - full->from, ==, (int)ceil(length / 60));
    g_assert_cmpint(last->to - last->from, ==, (int)ceil(last_length / 60));
    check_close(full->pours[0].flasks, figure_list_value(figures, "run.flasks_per_session"), 0,
                "stage session");
    check_close(full->pours[0].loads, figure_list_value(figures, "run.loads_per_session"), 0,
                "stage session");
    check_close(full->loads, full->pours[0].loads, 0, "one job");
    g_assert_cmpstr(full->held, ==, figure_list_find(figures, "run.bottleneck")->text);
    g_assert_cmpstr(last->held, ==, BATCH_HELD_NOTHING);
    check_close(flasks, figure_list_value(figures, "run.batch_flasks"), 0, "stage session");
    check_close(castings, flasks * figure_list_value(figures, "mould.cavities"), 0, "all filled");
    check_close(batch->jobs[0].castings, figure_list_value(figures, "run.castings_to_start"), 0,
                "stage session");
    check_close(kit_value(batch, "batch.flasks"), flasks, 0, "summed");
    check_close(kit_value(batch, "batch.sessions"), sessions, 0, "counted");
    g_assert_true(isnan(kit_value(batch, "batch.days_late")));
    g_assert_cmpint(batch->latest, ==, G_MININT);
    check_figures(batch->figures);
    // Ingot is what goes off in castings, as loss, and what is left in the end.
    check_close(batch->totals.ingot,
                castings * figure_list_value(figures, "casting.mass") +
                    batch->totals.charged * figure_list_value(figures, "job.melt_loss") +
                    batch->totals.returns_left,
                1e-9, "mass is kept");
}

static void
test_due(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) a = kit_change(f, f->two, "part", "job.due", "2027-03-06");
    g_autoptr(Book) book = kit_change(f, a, "other", "job.due", "2026-12-06");
    g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
    const BatchJob *part = &batch->jobs[0], *other = &batch->jobs[1];
    g_assert_cmpstr(part->id, ==, "part");
    // The one due first comes first, as if it were alone.
    g_assert_cmpint(batch->sessions[0].pours[0].job, ==, 1);
    g_assert_cmpuint(other->done, ==, other->alone);
    guint sessions = (other->done - kit_day_of("2026-11-28")) / 7 + 1;
    g_assert_cmpint(other->late, ==, (int)(other->done - kit_day_of("2026-12-06")));
    g_assert_cmpuint(part->done, ==, kit_day_of("2026-11-28") + 7 * (batch->n_sessions - 1));
    g_assert_cmpuint(part->alone, ==, part->done - 7 * sessions);
    g_assert_cmpint(batch->latest, ==, MAX(part->late, other->late));
    g_assert_cmpint(batch->proof, ==, CALENDAR_THEOREM);
    check_close(kit_value(batch, "batch.slack"), -batch->latest, 0, "by definition");
    // The session that ends it has room to spare, but not for the other job.
    g_assert_cmpstr(batch->sessions[sessions - 1].held, ==, BATCH_HELD_MIX);
    g_assert_cmpstr(batch->sessions[batch->n_sessions - 1].held, ==, BATCH_HELD_NOTHING);
    check_figures(batch->figures);
    // Due on the last day itself is in time, on the day before is not.
    g_autofree char *end = days_write_date(other->done);
    g_autofree char *before = days_write_date(other->done - 1);
    g_autoptr(Book) just = kit_change(f, book, "other", "job.due", end);
    g_autoptr(Book) missed = kit_change(f, book, "other", "job.due", before);
    g_autoptr(BatchPlan) kept = kit_batch(f, just, "2026-11-22");
    g_autoptr(BatchPlan) late = kit_batch(f, missed, "2026-11-22");
    g_assert_cmpint(kept->jobs[1].late, ==, 0);
    g_assert_cmpint(figure_list_find(kept->figures, "batch.days_late")->state, !=, FIGURE_FAILS);
    const Figure *figure = figure_list_find(late->figures, "batch.days_late");
    g_assert_cmpint(figure->state, ==, FIGURE_FAILS);
    check_close(figure->value, 1, 0, "a day late");
    g_assert_nonnull(strstr(figure->note, end));
    g_autofree char *text = report_batch_text(late);
    g_assert_nonnull(strstr(text, "1 day late"));
    g_assert_null(strstr(text, "nan"));
}

// Days of different lengths, and beyond them: a longer day never holds fewer.
static void
test_lengths(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book)
                  days = kit_change(f, f->two, NULL, "shop.days",
                                    "sat; sun 10:00-15:00; not 2026-11-28; 2026-12-01 7:00-19:00");
    g_autoptr(Book) book = kit_change(f, days, NULL, "shop.start", "8:20");
    g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-28");
    int by_length[3] = {0};
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        g_autoptr(GDate) date = g_date_new_julian(session->day);
        GDateWeekday weekday = g_date_get_weekday(date);
        int kind = weekday == G_DATE_TUESDAY ? 2 : weekday == G_DATE_SATURDAY;
        static const int from[] = {600, 500, 420}, to[] = {900, 980, 1140};
        g_assert_cmpint(session->from, ==, from[kind]);
        g_assert_cmpint(session->hours_end, ==, to[kind]);
        g_assert_cmpint(session->to, <=, to[kind]);
        if (session->pours[0].job == 0)
            by_length[kind] = MAX(by_length[kind], session->pours[0].flasks);
    }
    g_assert_cmpuint(batch->sessions[0].day, ==, kit_day_of("2026-11-29"));
    g_assert_cmpuint(batch->sessions[1].day, ==, kit_day_of("2026-12-01"));
    g_assert_cmpint(by_length[0], <=, by_length[1]);
    g_assert_cmpint(by_length[1], <=, by_length[2]);
    check_figures(batch->figures);
}

// Sessions that pour both jobs: nothing is lost, none is too long, and there are no more of them.
static void
test_mixed(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) fewer = kit_change(f, f->mixed, "part", "job.quantity", "31");
    g_autoptr(Book) book = kit_change(f, fewer, "other", "job.metal", "a356");
    g_autoptr(Book) apart = kit_change(f, book, NULL, "shop.mix", "one");
    g_autoptr(BatchPlan) single = kit_batch(f, apart, "2026-11-22");
    g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
    int flasks[2] = {0};
    guint both = 0;
    g_assert_true(batch->mixed);
    g_assert_false(single->mixed);
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        g_assert_cmpint(session->to, <=, session->hours_end);
        g_assert_cmpint(session->to, >, session->from);
        both += session->n_pours > 1;
        double charge = 0;
        for (guint k = 0; k < session->n_pours; k++) {
            flasks[session->pours[k].job] += session->pours[k].flasks;
            charge += session->pours[k].charge;
            g_assert_cmpint(session->pours[k].loads, >=, 1);
            g_assert_cmpint(session->pours[k].loads, <=, session->pours[k].flasks);
        }
        check_close(session->charge, charge, 1e-12, "summed");
    }
    g_test_message("%u sessions, %u with both jobs; one at a time %u", batch->n_sessions, both,
                   single->n_sessions);
    g_assert_cmpint(flasks[0], ==, batch->jobs[0].flasks);
    g_assert_cmpint(flasks[1], ==, batch->jobs[1].flasks);
    g_assert_cmpint(batch->jobs[0].flasks, ==, single->jobs[0].flasks);
    g_assert_cmpuint(batch->n_sessions, <=, single->n_sessions);
    g_assert_cmpuint(both, >=, 1);
    check_figures(batch->figures);
    g_autofree char *text = report_batch_json(batch);
    g_autoptr(BatchPlan) again = batch_plan_make(book, NULL, f->tables, NULL,
                                                 kit_day_of("2026-11-22"), NULL, NULL);
    g_autofree char *same = report_batch_json(again);
    g_assert_cmpstr(text, ==, same);
}

// Good castings of the log are not made again, and its sessions are counted on from.
static void
test_log(BatchKit *f, gconstpointer data)
{
    static const char log[] =
        "{\"sessions\": [{\"date\": \"2026-10-17\", \"loads\": [{\"metal\": \"a356\", \"flasks\": "
        "[{\"job\": \"part\", \"castings\": [{\"good\": true}, {\"good\": true}, {\"good\": "
        "false}]}]}]}]}";
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = scan_text(log, strlen(log), "log", 32, &error);
    g_assert_no_error(error);
    g_autoptr(Book) book = kit_apply(f->one, edit_set("/log", node, "Log"));
    g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
    g_assert_cmpint(batch->jobs[0].good, ==, 2);
    g_assert_cmpint(batch->sessions[0].number, ==, 2);
    g_autoptr(Book) rest = kit_change(f, book, "part", "job.quantity", "35");
    g_autoptr(Plan) plan = make_plan(rest, "part", f->tables, f->cache);
    check_close(batch->jobs[0].flasks, figure_list_value(plan_figures(plan), "run.batch_flasks"), 0,
                "a plan for the two fewer");
    g_autoptr(Book) two = kit_change(f, book, "part", "job.quantity", "2");
    g_autoptr(BatchPlan) done = kit_batch(f, two, "2026-11-22");
    g_assert_cmpuint(done->n_sessions, ==, 0);
    g_assert_cmpuint(done->jobs[0].done, ==, 0);
    g_assert_cmpuint(done->n_needs, ==, 0);
    g_autofree char *text = report_batch_text(done);
    g_assert_nonnull(strstr(text, "nothing left to cast"));
    g_autofree char *ics = report_batch_ics(done, "t", -1, &error);
    g_assert_nonnull(ics);
}

// Each field the batch alone reads changes it.
static void
test_fields(BatchKit *f, gconstpointer data)
{
    static const char *const texts[][2] = {{"shop.days", "sun"},
                                           {"shop.start", "8:10"},
                                           {"shop.hours", "9 h"},
                                           {"job.due", "2026-12-19"},
                                           {"sand.box", "7 kg"}};
    g_autoptr(BatchPlan) plain = kit_batch(f, f->one, "2026-11-22");
    g_autofree char *before = report_batch_json(plain);
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_autoptr(Book) book = kit_change(f, f->one, "part", texts[i][0], texts[i][1]);
        g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
        g_autofree char *after = report_batch_json(batch);
        g_test_message("%s", texts[i][0]);
        g_assert_cmpstr(before, !=, after);
    }
    // And nothing but them: from nothing it comes out the same.
    g_autoptr(BatchPlan) again = batch_plan_make(f->one, NULL, f->tables, NULL,
                                                 kit_day_of("2026-11-22"), NULL, NULL);
    g_autofree char *same = report_batch_json(again);
    g_assert_cmpstr(before, ==, same);
}

static void
expect_refused(const BatchKit *f, const Book *book, const char *const *jobs, const char *first,
               BaseError code, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(BatchPlan) batch = batch_plan_make(book, jobs, f->tables, f->cache, kit_day_of(first),
                                                 NULL, &error);
    g_assert_null(batch);
    g_test_message("%s", error->message);
    check_error(error, code, words);
}

static void
test_refused(BatchKit *f, gconstpointer data)
{
    static const char *const unknown[] = {"part", "none", NULL};
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Book) past = kit_change(f, f->one, NULL, "shop.days", "2026-11-21");
    g_autoptr(Book) brief = kit_change(f, f->one, NULL, "shop.days", "sat 9:00-9:40");
    g_autoptr(Book) instant = kit_change(f, f->one, NULL, "shop.days", "sat 9:00-9:05");
    g_autoptr(Book) bare = kit_change(f, f->two, "other", "job.mesh", "");
    g_autoptr(Book) lost = kit_change(f, f->two, "other", "job.mesh", "gone.stl");
    expect_refused(f, ready, NULL, "2026-11-22", BASE_ERROR_NOT_FOUND, "no job");
    expect_refused(f, f->one, unknown, "2026-11-22", BASE_ERROR_NOT_FOUND, "\"none\"");
    expect_refused(f, past, NULL, "2026-11-22", BASE_ERROR_NOT_FOUND, "shop.days: no day is free");
    expect_refused(f, brief, NULL, "2026-11-22", BASE_ERROR_VALUE, "part: not one flask");
    expect_refused(f, instant, NULL, "2026-11-22", BASE_ERROR_VALUE,
                   "shop.days: \"5 min\" is below");
    // Where the job that cannot be planned is the only one.
    static const char *const other[] = {"other", NULL};
    expect_refused(f, bare, other, "2026-11-22", BASE_ERROR_VALUE, "other: ");
    expect_refused(f, lost, other, "2026-11-22", BASE_ERROR_VALUE, "gone.stl");
    g_autoptr(GString) days = g_string_new(NULL);
    for (int i = 0; i <= BATCH_MOST_LENGTHS; i++)
        g_string_append_printf(days, "2026-12-%02d 8:00-%02d:%02d;", i + 1, 12 + i / 6, i % 6 * 10);
    g_autoptr(Book) ragged = kit_change(f, f->one, NULL, "shop.days", days->str);
    expect_refused(f, ragged, NULL, "2026-11-22", BASE_ERROR_LIMIT, "lengths");
    // Only the job that can be planned.
    static const char *const part[] = {"part", "part", NULL};
    g_autoptr(GError) error = NULL;
    g_autoptr(BatchPlan) batch = batch_plan_make(bare, part, f->tables, f->cache,
                                                 kit_day_of("2026-11-22"), NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(batch->n_jobs, ==, 1);
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(batch_plan_make(f->one, NULL, f->tables, f->cache, kit_day_of("2026-11-22"),
                                  progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

static void
test_json(BatchKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(BatchPlan) batch = kit_batch(f, f->two, "2026-11-22");
    g_autofree char *text = report_batch_json(batch);
    g_autoptr(JsonParser) parser = json_parser_new();
    json_parser_load_from_data(parser, text, -1, &error);
    g_assert_no_error(error);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    g_assert_cmpuint(json_array_get_length(json_object_get_array_member(root, "sessions")), ==,
                     batch->n_sessions);
    g_assert_cmpuint(json_array_get_length(json_object_get_array_member(root, "needs")), ==,
                     batch->n_needs);
    JsonObject *session = json_array_get_object_element(
        json_object_get_array_member(root, "sessions"), 0);
    g_assert_cmpstr(json_object_get_string_member(session, "start"), ==, "2026-11-28T09:00:00");
    g_assert_cmpstr(json_object_get_string_member(root, "from"), ==, "2026-11-22");
    JsonObject *figures = json_object_get_object_member(root, "figures");
    JsonObject *late = json_object_get_object_member(figures, "batch.days_late");
    g_assert_true(JSON_NODE_HOLDS_NULL(json_object_get_member(late, "value")));
    g_assert_cmpstr(json_object_get_string_member(late, "missing"), ==, "job.due");
}

// Rows by python's csv module, which knows nothing of how they were written.
static void
test_rows(BatchKit *f, gconstpointer data)
{
    static const char script[] =
        "import csv,sys\n"
        "rows=list(csv.reader(open(sys.argv[1],newline='',encoding='utf-8'),strict=True))\n"
        "assert all(len(row)==len(rows[0]) for row in rows), rows\n"
        "for row in rows[1:]:\n"
        "    d=dict(zip(rows[0],row))\n"
        "    print('|'.join(d[k] for k in sys.argv[2].split()))\n";
    g_autoptr(GError) error = NULL;
    g_autoptr(BatchPlan) batch = kit_batch(f, f->two, "2026-11-22");
    g_autofree char *path = g_build_filename(f->folder, "rows.csv", NULL);
    g_assert_true(report_batch_write(batch, "x/t.castbook", -1, FALSE, path, FALSE, &error));
    const char *argv[] = {
        "python3", "-X", "utf8", "-c", script, path, "session date job name flasks", NULL};
    g_autofree char *out = NULL, *err = NULL;
    int status;
    if (!g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err,
                      &status, NULL)) {
        g_test_skip("no python3");
        return;
    }
    g_test_message("%s", err);
    g_assert_cmpint(status, ==, 0);
    g_autoptr(GString) wanted = g_string_new(NULL);
    for (guint i = 0; i < batch->n_sessions; i++) {
        const BatchSession *session = &batch->sessions[i];
        const BatchJob *job = &batch->jobs[session->pours[0].job];
        g_autofree char *date = days_write_date(session->day);
        g_string_append_printf(wanted, "%d|%s|%s|%s|%d\n", session->number, date, job->id,
                               job->name, session->pours[0].flasks);
    }
    g_assert_cmpstr(out, ==, wanted->str);
    g_clear_pointer(&out, g_free);
    g_assert_true(report_batch_write(batch, NULL, -1, TRUE, path, TRUE, &error));
    argv[6] = "by kind what";
    g_clear_pointer(&err, g_free);
    g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &status,
                 NULL);
    g_assert_cmpint(status, ==, 0);
    g_assert_true(g_str_has_prefix(out, "2026-11-28|patterns|part\n2026-11-28|ingot|a356\n"
                                        "2026-11-28|sand|\n"));
}

static void
test_calendar(BatchKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(BatchPlan) batch = kit_batch(f, f->two, "2026-11-22");
    g_autofree char *path = g_build_filename(f->folder, "t.ICS", NULL), *text = NULL;
    g_assert_true(report_batch_write(batch, "x/t.castbook", 60, FALSE, path, FALSE, &error));
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    icalcomponent *calendar = icalparser_parse_string(text);
    g_assert_cmpint(icalrestriction_check(calendar), ==, 1);
    guint n = 0;
    for (icalcomponent *event = icalcomponent_get_first_component(calendar, ICAL_VEVENT_COMPONENT);
         event; event = icalcomponent_get_next_component(calendar, ICAL_VEVENT_COMPONENT), n++) {
        const BatchSession *session = &batch->sessions[n];
        g_autofree char *uid = calendar_uid("t", session->number);
        g_assert_cmpstr(icalcomponent_get_uid(event), ==, uid);
        g_assert_nonnull(strstr(icalcomponent_get_description(event), "charged"));
        g_assert_nonnull(strstr(icalcomponent_get_description(event), "Cautions"));
        g_assert_nonnull(
            strstr(icalcomponent_get_summary(event), batch->jobs[session->pours[0].job].name));
        struct icaltimetype start = icalcomponent_get_dtstart(event);
        g_assert_cmpint(start.hour, ==, 9);
        g_assert_null(start.zone); // floating
    }
    g_assert_cmpuint(n, ==, batch->n_sessions);
    icalcomponent_free(calendar);
    // A file that is there stays unless one says otherwise; nor is any other ending taken.
    g_assert_false(report_batch_write(batch, NULL, 60, FALSE, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "is there already");
    g_assert_false(report_batch_write(batch, NULL, 60, FALSE, "/nowhere/t.csv", FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "/nowhere/t.csv");
    g_assert_false(report_batch_write(batch, NULL, 60, FALSE, "t.txt", FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "t.txt");
    g_assert_false(report_batch_write(batch, NULL, 60, TRUE, "t.ics", FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, ".csv");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(path, function)                                                                        \
    g_test_add("/report/batch/" path, BatchKit, NULL, kit_set_up, function, kit_tear_down)
    ADD("one-job", test_one_job);
    ADD("new-crucible", test_new_crucible);
    ADD("due", test_due);
    ADD("lengths", test_lengths);
    ADD("mixed", test_mixed);
    ADD("new-crucible-mixed", test_new_crucible_mixed);
    ADD("daylight", test_daylight);
    ADD("log", test_log);
    ADD("fields", test_fields);
    ADD("refused", test_refused);
    ADD("json", test_json);
    ADD("rows", test_rows);
    ADD("calendar", test_calendar);
    return g_test_run();
}
