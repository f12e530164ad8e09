// SPDX-License-Identifier: GPL-3.0-or-later
// A day in the log, the verdicts on its castings, and what is learned from them. Numbers are those
// ticked, counted by hand.
#include "live/log.h"

#include <string.h>

#include "book/log-members.h"
#include "book/store.h"
#include "check.h"
#include "learn/learn.h"
#include "live/live.h"
#include "live/node-kit.h"
#include "sample.h"

static Tables *tables;

static const char book_text[] =
    "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"ambient\":\"17 C\",\"furnaces\":["
    "{\"id\":\"small-furnace\",\"power\":\"3 kW\",\"standing_loss\":\"700 W\"}]},"
    "\"jobs\":[{\"id\":\"pawl\",\"metal\":\"a356\",\"pouring_temperature\":\"735 C\"}]}";

typedef struct {
    LiveSheet *sheet;
    GPtrArray *nodes;
    Book *book;
} Fixture;

static void
tick(Fixture *f, const char *what, const char *key, double minutes)
{
    g_ptr_array_add(f->nodes, sample_tick(what, key, SAMPLE_START + minutes * 60));
}

static void
note(Fixture *f, LiveWhat what, const char *key, double value, const char *text)
{
    LiveTick tick = {what, SAMPLE_START + 9, SAMPLE_START + 9, key, -1, value, text};
    g_ptr_array_add(f->nodes, live_tick_node(&tick));
}

static LiveDay *
make_day(Fixture *f)
{
    LiveLines lines = {f->nodes, NULL, f->nodes->len, FALSE};
    return live_day_make(f->sheet, &lines);
}

static void
set_up(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    f->sheet = sample_sheet(2);
    f->nodes = g_ptr_array_new_with_free_func((GDestroyNotify)node_unref);
    g_ptr_array_add(f->nodes, live_sheet_node(f->sheet));
    f->book = store_parse(book_text, -1, "test", NULL, tables, &error);
    g_assert_no_error(error);
    tick(f, "done", "set-up", 21);
    tick(f, "begin", "ram-1", 22);
    tick(f, "done", "ram-1", 53.5);
    tick(f, "done", "ram-2", 120); // not begun: how long it took is not known
    tick(f, "done", "warm-up", 142);
    tick(f, "done", "charge-1", 147);
    note(f, LIVE_MASS, "charge-1", 2.52, "2.52 kg");
    tick(f, "done", "melt-1", 191);
    tick(f, "done", "pour-2", 194); // the other first
    note(f, LIVE_TEMPERATURE, "pour-2", 728, "728 C");
    tick(f, "done", "pour-1", 197);
    note(f, LIVE_MASS, "pour-1", 1.11, "1.11 kg");
    note(f, LIVE_NOTE, NULL, NAN, "Windy");
    note(f, LIVE_NOTE, NULL, NAN, "Basin 2 leaked");
    tick(f, "finish", NULL, 300);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    live_sheet_free(f->sheet);
    g_ptr_array_unref(f->nodes);
    book_unref(f->book);
}

static void
apply(Fixture *f, Edit *edit)
{
    g_autoptr(GError) error = NULL;
    g_assert_nonnull(edit);
    Book *next = edit_apply(f->book, edit, &error);
    edit_free(edit);
    g_assert_no_error(error);
    book_unref(f->book);
    f->book = next;
}

static void
log_day(Fixture *f)
{
    g_autoptr(LiveDay) day = make_day(f);
    apply(f, live_log_edit(f->book, day));
}

static void
check_text(Fixture *f, const char *place, const char *text)
{
    g_autofree char *whole = g_strconcat("/log/sessions/0", place, NULL);
    g_test_message("%s", place);
    g_assert_cmpstr(node_text(node_get(book_root(f->book), whole)), ==, text);
}

static void
test_session(Fixture *f, gconstpointer data)
{
    log_day(f);
    check_text(f, "/date", "2025-10-26");
    check_text(f, "/started", "06:45");
    check_text(f, "/ended", "11:45");
    check_text(f, "/furnace", "small-furnace");
    check_text(f, "/crucible", "crucible-a");
    check_text(f, "/warmup", "121.0 min");
    check_text(f, "/notes", "Windy\nBasin 2 leaked");
    check_text(f, "/day", f->sheet->id);
    check_text(f, "/loads/0/metal", "a356");
    check_text(f, "/loads/0/charge", "2.52 kg");
    check_text(f, "/loads/0/melt_time", "44.0 min");
    check_text(f, "/loads/0/flasks/0/pour_temperature", "728 C"); // in the order poured
    check_text(f, "/loads/0/flasks/0/ram_time", NULL);
    check_text(f, "/loads/0/flasks/1/ram_time", "31.5 min");
    check_text(f, "/loads/0/flasks/1/poured_mass", "1.11 kg");
    check_text(f, "/loads/0/flasks/1/flask", "small");
    check_text(f, "/loads/0/flasks/1/job", "pawl");
    const Node *loads = node_get(book_root(f->book), "/log/sessions/0/loads");
    g_assert_cmpuint(node_size(loads), ==, 1); // the second was never charged
    g_assert_cmpuint(node_size(node_get(loads, "/0/flasks")), ==, 2);
    g_assert_cmpuint(node_size(node_get(loads, "/0/flasks/0/castings")), ==, 3);
    g_autoptr(LiveDay) day = make_day(f);
    g_assert_null(live_log_edit(f->book, day)); // once
    g_assert_cmpint(live_log_find(f->book, f->sheet->id), ==, 0);
    g_assert_cmpint(live_log_find(f->book, "other"), ==, -1);
    // What was logged can be read again.
    g_autoptr(GError) error = NULL;
    g_autofree char *text = store_text(f->book);
    g_autoptr(Book) again = store_parse(text, -1, "again", NULL, tables, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(live_log_sessions(again), ==, 1);
}

static void
judge(Fixture *f, guint flask, guint casting, gboolean good, const char *cause, const char *mass)
{
    g_autoptr(GError) error = NULL;
    LiveVerdict verdict = {TRUE, good, cause, mass};
    Edit *edit = live_log_verdict(f->book, 0, flask, casting, &verdict, &error);
    g_assert_no_error(error);
    apply(f, edit);
}

static void
test_verdicts(Fixture *f, gconstpointer data)
{
    log_day(f);
    judge(f, 0, 0, FALSE, "short-pour", NULL);
    judge(f, 1, 2, TRUE, NULL, "136 g");
    g_autoptr(GArray) castings = live_log_castings(f->book, 0);
    g_assert_cmpuint(castings->len, ==, 6);
    const LiveCasting *bad = &g_array_index(castings, LiveCasting, 0);
    const LiveCasting *good = &g_array_index(castings, LiveCasting, 5);
    const LiveCasting *open = &g_array_index(castings, LiveCasting, 1);
    g_assert_true(bad->judged && !bad->good);
    g_assert_cmpstr(bad->cause, ==, "short-pour");
    g_assert_true(good->judged && good->good);
    g_assert_cmpstr(good->mass, ==, "136 g");
    g_assert_cmpuint(good->flask, ==, 1);
    g_assert_cmpuint(good->casting, ==, 2);
    g_assert_false(open->judged);
    g_assert_cmpstr(open->job, ==, "pawl");
    // A change of mind leaves no cause behind; a mass alone judges nothing.
    judge(f, 0, 0, TRUE, NULL, NULL);
    check_text(f, "/loads/0/flasks/0/castings/0/cause", NULL);
    g_autoptr(GError) error = NULL;
    LiveVerdict weigh = {FALSE, FALSE, NULL, "0,141 kg"};
    apply(f, live_log_verdict(f->book, 0, 0, 1, &weigh, &error));
    check_text(f, "/loads/0/flasks/0/castings/1/mass", "0,141 kg");
    g_autoptr(GArray) weighed = live_log_castings(f->book, 0);
    g_assert_false(g_array_index(weighed, LiveCasting, 1).judged);
    apply(f, live_log_unjudge(f->book, 0, 1, 2, &error));
    check_text(f, "/loads/0/flasks/1/castings/2/mass", "136 g");
    g_autoptr(GArray) back = live_log_castings(f->book, 0);
    g_assert_false(g_array_index(back, LiveCasting, 5).judged);
}

static void
test_refuses(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    log_day(f);
    static const struct {
        guint session, flask, casting;
        LiveVerdict verdict;
        BaseError code;
        const char *words;
    } cases[] = {
        {1, 0, 0, {TRUE, TRUE, NULL, NULL}, BASE_ERROR_NOT_FOUND, "the log has 1"},
        {0, 2, 0, {TRUE, TRUE, NULL, NULL}, BASE_ERROR_NOT_FOUND, "casting 1 in flask 3"},
        {0, 0, 3, {TRUE, TRUE, NULL, NULL}, BASE_ERROR_NOT_FOUND, "casting 4 in flask 1"},
        {0, 0, 0, {TRUE, TRUE, "gas", NULL}, BASE_ERROR_VALUE, "only scrap"},
        {0, 0, 0, {TRUE, FALSE, "goblins", NULL}, BASE_ERROR_VALUE, "goblins"},
        {0, 0, 0, {TRUE, FALSE, "gas", "12 mm"}, BASE_ERROR_VALUE, "mass"},
        {0, 0, 0, {TRUE, FALSE, "gas", "0 g"}, BASE_ERROR_VALUE, "mass"},
        {0, 0, 0, {FALSE, FALSE, "gas", NULL}, BASE_ERROR_VALUE, "cause"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_assert_null(live_log_verdict(f->book, cases[i].session, cases[i].flask, cases[i].casting,
                                       &cases[i].verdict, &error));
        check_error(error, cases[i].code, cases[i].words);
    }
    g_assert_null(live_log_unjudge(f->book, 0, 9, 0, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "flask 10");
    // Nor does an edit or a file bring in what is no cause.
    g_autoptr(Node) cause = node_new_text("goblins");
    g_autoptr(Edit) edit = edit_set("/log/sessions/0/loads/0/flasks/0/castings/0/cause", cause, "");
    g_assert_null(edit_apply(f->book, edit, &error));
    check_error(error, BASE_ERROR_FORMAT, "use misrun, shrinkage");
}

// Every cause is counted, and masses of good castings averaged.
static void
test_learned(Fixture *f, gconstpointer data)
{
    static const char *const ids[] = {
        "learn.scrap_misrun",   "learn.scrap_shrinkage",  "learn.scrap_gas",  "learn.scrap_sand",
        "learn.scrap_mismatch", "learn.scrap_short_pour", "learn.scrap_drop", "learn.scrap_other"};
    g_assert_cmpuint(log_cause_count(), ==, G_N_ELEMENTS(ids));
    log_day(f);
    judge(f, 0, 0, FALSE, "gas", "131 g");
    judge(f, 0, 1, FALSE, "gas", NULL);
    judge(f, 0, 2, FALSE, NULL, NULL);
    judge(f, 1, 0, TRUE, NULL, "138 g");
    judge(f, 1, 1, TRUE, NULL, "143 g");
    judge(f, 1, 2, TRUE, NULL, NULL);
    for (guint i = 0; i < log_cause_count(); i++) {
        judge(f, 0, 1, FALSE, log_cause_at(i)->id, NULL);
        g_autoptr(FigureList) figures = figure_list_new();
        g_autoptr(Inputs) inputs = inputs_resolve(f->book, "pawl", tables, NULL, learn_reads);
        g_autoptr(LearnResult) learned = learn_stage(inputs, "pawl", figures, NULL);
        for (guint k = 0; k < G_N_ELEMENTS(ids); k++)
            check_close(figure_list_value(figures, ids[k]), (k == 2) + (k == i), 0, "counted");
        check_close(figure_list_value(figures, "learn.scrap_unnamed"), 1, 0, "counted");
        check_close(figure_list_value(figures, "learn.weighed"), 2, 0, "counted");
        check_close(figure_list_value(figures, "learn.casting_mass"), 0.1405, 1e-12, "by hand");
        check_close(figure_list_value(figures, "learn.ram_time"), 31.5 * 60, 1e-12, "one timed");
        check_close(figure_list_value(figures, "learn.loads"), 1, 0, "charge and time known");
        g_assert_cmpuint(learned->good, ==, 3);
    }
    g_assert_null(log_cause_find("Gas"));
    g_assert_null(log_cause_find(NULL));
}

int
main(int argc, char **argv)
{
    g_setenv("TZ", "UTC", TRUE);
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
#define ADD(name, function)                                                                        \
    g_test_add("/live/log/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("session", test_session);
    ADD("verdicts", test_verdicts);
    ADD("refuses", test_refuses);
    ADD("learned", test_learned);
    return g_test_run();
}
