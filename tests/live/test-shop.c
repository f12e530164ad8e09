// SPDX-License-Identifier: GPL-3.0-or-later
// A day of several jobs, metals and furnaces: in its journal, in the log, on the stock, and in what
// each job, furnace and crucible learns of it. Numbers are those of sample_shop(), added up by
// hand.
#include <string.h>

#include "book/store.h"
#include "check.h"
#include "learn/learn.h"
#include "live/live.h"
#include "live/log.h"
#include "live/next.h"
#include "live/node-kit.h"
#include "sample.h"

static Tables *tables;

#define JOB(id, metal, furnace, crucible)                                                          \
    "{\"id\":\"" id "\",\"metal\":\"" metal "\",\"furnace\":\"" furnace                            \
    "\",\"crucible\":\"" crucible "\"}"
static const char book_text[] =
    "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"stock\":\"12 kg a356 ingot; 9 kg "
    "silicon-bronze ingot\",\"furnaces\":[{\"id\":\"small-furnace\",\"power\":\"3 kW\"},{\"id\":"
    "\"large-furnace\",\"power\":\"9 kW\"}],\"crucibles\":[{\"id\":\"crucible-a\",\"firings\":7},"
    "{\"id\":\"crucible-b\",\"name\":\"Big\",\"firings\":2,\"counts\":\"melt\"},"
    "{\"id\":\"crucible-c\",\"firings\":5}]},\"jobs\":[" JOB(
        "pawl", "a356", "small-furnace",
        "crucible-a") "," JOB("knob", "a356", "small-furnace",
                              "crucible-a") "," JOB("bush", "silicon-bronze", "large-furnace",
                                                    "crucible-b") "," JOB("pin", "a356",
                                                                          "large-furnace",
                                                                          "crucible-c") "]}";

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
note_mass(Fixture *f, const char *key, double value, const char *text)
{
    LiveTick tick = {LIVE_MASS, SAMPLE_START + 9, SAMPLE_START + 9, key, -1, value, text};
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
    f->sheet = sample_shop();
    f->nodes = g_ptr_array_new_with_free_func((GDestroyNotify)node_unref);
    g_ptr_array_add(f->nodes, live_sheet_node(f->sheet));
    f->book = store_parse(book_text, -1, "test", NULL, tables, &error);
    g_assert_no_error(error);
    tick(f, "done", "set-up", 20);
    tick(f, "done", "warm-up", 140);
    tick(f, "done", "charge-1", 145);
    note_mass(f, "charge-1", 2.31, "2.31 kg");
    tick(f, "done", "melt-1", 190);
    tick(f, "done", "pour-1", 193);
    note_mass(f, "pour-1", 1.11, "1.11 kg");
    tick(f, "done", "pour-2", 196);
}

// The bronze too, not weighed.
static void
pour_all(Fixture *f)
{
    tick(f, "done", "charge-2", 280);
    tick(f, "done", "melt-2", 330);
    tick(f, "done", "pour-3", 333);
    tick(f, "done", "pour-4", 336);
    tick(f, "finish", NULL, 420);
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
    g_test_message("%s", place);
    g_assert_cmpstr(node_text(node_get(book_root(f->book), place)), ==, text);
}

// All of it comes back from the first line; what an older program must not log wrongly it refuses
// to open, but the day of one job is as it was.
static void
test_sheet(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = live_sheet_node(f->sheet);
    g_assert_cmpfloat(node_number(node_member(node, "version")), ==, 2);
    g_autoptr(LiveSheet) again = live_sheet_read(node, "day", &error);
    g_assert_no_error(error);
    g_autoptr(Node) second = live_sheet_node(again);
    g_assert_true(node_equal(node, second));
    g_assert_cmpstr(again->jobs[1].guest, ==, "pin");
    LiveLoad load = live_sheet_load(again, 1);
    g_assert_cmpstr(load.crucible, ==, "crucible-b");
    check_close(load.charge_mass, 3.41, 0, "given");
    g_autoptr(Node) wrong = node_new_text("none");
    g_autoptr(Node) damaged = node_with_member(node, "loads", wrong);
    g_assert_null(live_sheet_read(damaged, "day", &error));
    check_error(error, BASE_ERROR_FORMAT, "is not a list of loads");
    g_autoptr(LiveSheet) plain = sample_sheet(3);
    g_autoptr(Node) old = live_sheet_node(plain);
    g_assert_cmpfloat(node_number(node_member(old, "version")), ==, 1);
    // One that has no load of its own: two moulds of a full load of two.
    load = live_sheet_load(plain, 2);
    g_assert_cmpstr(load.metal, ==, "a356");
    g_assert_cmpstr(load.furnace, ==, "small-furnace");
    check_close(load.charge_mass, 2.71, 0, "full");
    g_assert_true(isnan(live_sheet_load(plain, 3).charge_mass)); // there is no such load
}

static void
test_session(Fixture *f, gconstpointer data)
{
    pour_all(f);
    log_day(f);
    const Node *session = node_get(book_root(f->book), "/log/sessions/0");
    // Two furnaces: each load names its own, and no warm-up is taken for that of both.
    g_assert_null(node_member(session, "furnace"));
    g_assert_null(node_member(session, "crucible"));
    g_assert_null(node_member(session, "warmup"));
    check_text(f, "/log/sessions/0/loads/0/furnace", "small-furnace");
    check_text(f, "/log/sessions/0/loads/0/crucible", "crucible-a");
    check_text(f, "/log/sessions/0/loads/0/metal", "a356");
    check_text(f, "/log/sessions/0/loads/0/charge", "2.31 kg");
    check_text(f, "/log/sessions/0/loads/0/melt_time", "45.0 min");
    check_text(f, "/log/sessions/0/loads/1/furnace", "large-furnace");
    check_text(f, "/log/sessions/0/loads/1/crucible", "crucible-b");
    check_text(f, "/log/sessions/0/loads/1/metal", "silicon-bronze");
    check_text(f, "/log/sessions/0/loads/1/charge", NULL);
    static const char *const jobs[] = {"pawl", "pawl", "pawl", "knob",
                                       "knob", "pin",  "bush", "bush"};
    g_autoptr(GArray) castings = live_log_castings(f->book, 0);
    g_assert_cmpuint(castings->len, ==, G_N_ELEMENTS(jobs));
    for (guint i = 0; i < castings->len; i++) {
        const LiveCasting *casting = &g_array_index(castings, LiveCasting, i);
        g_assert_cmpstr(casting->job, ==, jobs[i]);
        g_assert_cmpint(casting->guest, ==, i == 5);
    }
    // What was written can be read.
    g_autoptr(GError) error = NULL;
    g_autofree char *text = store_text(f->book);
    g_autoptr(Book) again = store_parse(text, -1, "again", NULL, tables, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(live_log_sessions(again), ==, 1);
}

// A day of which one furnace was used is that furnace's session.
static void
test_one_furnace(Fixture *f, gconstpointer data)
{
    tick(f, "finish", NULL, 300);
    log_day(f);
    check_text(f, "/log/sessions/0/furnace", "small-furnace");
    check_text(f, "/log/sessions/0/crucible", "crucible-a");
    check_text(f, "/log/sessions/0/warmup", "120.0 min");
    check_text(f, "/log/sessions/0/loads/0/furnace", NULL);
    g_assert_cmpuint(node_size(node_get(book_root(f->book), "/log/sessions/0/loads")), ==, 1);
}

// a356: 2.31 charged as noted; 1.11 - 3 x 0.137 and 0.74 - 2 x 0.21 - 0.05 come back: 0.969.
// Bronze: 3.41 planned for the load; 2 x (1.45 - 0.9) come back: 1.1.
static void
test_supply(Fixture *f, gconstpointer data)
{
    pour_all(f);
    g_autoptr(LiveDay) day = make_day(f);
    g_autofree char *told = live_log_told(f->book, day);
    log_day(f);
    check_text(f, "/shop/stock",
               "9.69 kg a356 ingot; 5.59 kg silicon-bronze ingot; 0.969 kg a356 returns; 1.1 kg "
               "silicon-bronze returns");
    static const char *const words[] = {"a356: 2.31 kg charged", "silicon-bronze: 3.41 kg charged",
                                        "planned one was taken", "“crucible-a”: now 8",
                                        "“Big”: now 3"};
    for (guint i = 0; i < G_N_ELEMENTS(words); i++)
        g_assert_nonnull(strstr(told, words[i]));
    static const char *const firings[] = {"8", "3", NULL};
    for (guint i = 0; i < 2; i++) {
        g_autofree char *place = g_strdup_printf("/shop/crucibles/%u/firings", i);
        check_text(f, place, firings[i]);
    }
    const Node *unused = node_get(book_root(f->book), "/shop/crucibles/2/firings");
    g_assert_cmpfloat(node_number(unused), ==, 5);
}

// One figure of what a job learns of the log.
static double
learn(Fixture *f, const char *job, const char *id)
{
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(Inputs) inputs = inputs_resolve(f->book, job, tables, NULL, learn_reads);
    g_autoptr(LearnResult) learned = learn_stage(inputs, job, figures, NULL);
    g_assert_nonnull(learned);
    return figure_list_value(figures, id);
}

static void
judge(Fixture *f, guint flask, guint casting, gboolean good, const char *mass)
{
    g_autoptr(GError) error = NULL;
    LiveVerdict verdict = {TRUE, good, NULL, mass};
    Edit *edit = live_log_verdict(f->book, 0, flask, casting, &verdict, &error);
    g_assert_no_error(error);
    apply(f, edit);
}

static void
test_learned(Fixture *f, gconstpointer data)
{
    pour_all(f);
    log_day(f);
    judge(f, 0, 0, TRUE, "136 g");
    judge(f, 0, 1, FALSE, NULL);
    judge(f, 0, 2, TRUE, "140 g");
    judge(f, 1, 0, TRUE, NULL);
    judge(f, 1, 1, FALSE, NULL);
    judge(f, 1, 2, TRUE, "51 g"); // the guest
    judge(f, 2, 0, FALSE, NULL);
    static const struct {
        const char *job;
        double poured, good, sessions, starts, melts, loads;
    } jobs[] = {{"pawl", 3, 2, 1, 1, 1, 1}, // poured from crucible-a, melted in its furnace
                {"knob", 2, 1, 1, 1, 1, 1}, // the same load, counted once for it too
                {"bush", 1, 0, 1, 1, 1, 0}, // its charge was not weighed
                {"pin", 1, 1, 1, 0, 0, 0}}; // crucible-c and that furnace melted no a356
    for (guint i = 0; i < G_N_ELEMENTS(jobs); i++) {
        const char *job = jobs[i].job;
        g_test_message("%s", job);
        check_close(learn(f, job, "learn.poured"), jobs[i].poured, 0, "counted");
        check_close(learn(f, job, "learn.good"), jobs[i].good, 0, "counted");
        check_close(learn(f, job, "learn.sessions"), jobs[i].sessions, 0, "counted");
        check_close(learn(f, job, "learn.crucible_starts"), jobs[i].starts, 0, "counted");
        check_close(learn(f, job, "learn.crucible_melts"), jobs[i].melts, 0, "counted");
        check_close(learn(f, job, "learn.loads"), jobs[i].loads, 0, "counted");
    }
    check_close(learn(f, "pawl", "learn.casting_mass"), 0.138, 1e-12, "mean of two");
    check_close(learn(f, "pin", "learn.casting_mass"), 0.051, 1e-12, "the guest's own");
    g_assert_true(isnan(learn(f, "knob", "learn.casting_mass")));
}

static void
refuse_heat(Live *live, const char *key, const char *text, const char *words)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    guint lines = live_journal_lines(live_journal(live))->nodes->len;
    g_assert_false(live_note_temperature(live, key, text, &units, &error));
    check_error(error, BASE_ERROR_VALUE, words);
    g_assert_cmpuint(live_journal_lines(live_journal(live))->nodes->len, ==, lines);
}

// 99 F are 37.2 °C; the solidus of the sample is 557 °C, it is poured from 633 to 763 °C, as
// planned at 735 °C. Bronze has none of these in the sample, so only what is no temperature is
// refused.
static void
test_heat(Fixture *f, gconstpointer data)
{
    static const struct {
        const char *text, *words;
    } cases[] = {{"558 C", "cooler than the 633 °C"},
                 {"729 C", "below the pouring temperature"},
                 {"731 C", NULL},
                 {"763 C", NULL},
                 {"764 C", "hotter than 763 °C"},
                 {"1355 F", NULL}}; // 735 °C
    g_autofree char *folder = check_folder();
    g_autofree char *book = g_build_filename(folder, "shop.castbook", NULL);
    g_autoptr(GError) error = NULL;
    UnitSet units = unit_set_default();
    sample_clock(SAMPLE_START);
    g_autoptr(Live) live = live_start_sheet(sample_shop(), book, &error);
    g_assert_no_error(error);
    sample_clock(SAMPLE_START + 12000);
    g_assert_true(live_done(live, "pour-1", NAN, &error));
    refuse_heat(live, "pour-1", "99 F", "37.2 °C its metal is solid");
    refuse_heat(live, "pour-1", "556 C", "begins to melt at 557 °C");
    refuse_heat(live, "pour-3", "-3 C", "no temperature of molten metal");
    g_assert_true(live_check_value(live, LIVE_TEMPERATURE, "pour-3", "99 F", &units, &error));
    g_assert_false(live_check_value(live, LIVE_MASS, "pour-3", "0 kg", &units, &error));
    check_error(error, BASE_ERROR_VALUE, "no mass of metal");
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_assert_true(live_note_temperature(live, "pour-1", cases[i].text, &units, &error));
        g_autofree char *words = live_heat_warning(live_sheet(live),
                                                   live_day_find(live_day(live), "pour-1"), &units);
        g_test_message("%s: %s", cases[i].text, words);
        g_assert_cmpint(words != NULL, ==, cases[i].words != NULL);
        if (words)
            g_assert_nonnull(strstr(words, cases[i].words));
    }
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_autofree char *data = check_folder();
    g_setenv("XDG_DATA_HOME", data, TRUE);
    g_setenv("TZ", "UTC", TRUE);
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
#define ADD(name, function)                                                                        \
    g_test_add("/live/shop/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("sheet", test_sheet);
    ADD("session", test_session);
    ADD("one-furnace", test_one_furnace);
    ADD("supply", test_supply);
    ADD("learned", test_learned);
    ADD("heat", test_heat);
    int code = g_test_run();
    check_folder_remove(data);
    return code;
}
