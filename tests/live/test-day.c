// SPDX-License-Identifier: GPL-3.0-or-later
// A day from its lines: begun, done, corrected, taken back; and the sheet to text and back. Times
// are added up by hand from the sample's.
#include "live/day.h"

#include <string.h>

#include "check.h"
#include "live/clock.h"
#include "live/live.h"
#include "live/node-kit.h"
#include "sample.h"

typedef struct {
    LiveSheet *sheet;
    GString *text;
} Fixture;

static void
add_node(Fixture *f, Node *node)
{
    g_autofree char *line = live_line_make(node);
    g_string_append(f->text, line);
    node_unref(node);
}

// `minutes` from the start.
static void
tick(Fixture *f, const char *what, const char *key, double minutes)
{
    add_node(f, sample_tick(what, key, SAMPLE_START + minutes * 60));
}

static void
set_up(Fixture *f, gconstpointer data)
{
    f->sheet = sample_sheet(2);
    f->text = g_string_new(NULL);
    add_node(f, live_sheet_node(f->sheet));
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    live_sheet_free(f->sheet);
    g_string_free(f->text, TRUE);
}

static LiveDay *
make_day(Fixture *f)
{
    g_autoptr(LiveLines) lines = live_lines_read(f->text->str, f->text->len);
    return live_day_make(f->sheet, lines);
}

static void
check_task(const LiveDay *day, const char *key, LiveState state, double start, double end,
           gboolean timed)
{
    const LiveTask *task = live_day_find(day, key);
    g_test_message("%s", key);
    g_assert_nonnull(task);
    g_assert_cmpint(task->state, ==, state);
    if (!isnan(start) || !isnan(task->start))
        check_close(task->start, start * 60, 1e-9, "ticked");
    if (!isnan(end) || !isnan(task->end))
        check_close(task->end, end * 60, 1e-9, "ticked");
    g_assert_cmpint(task->timed, ==, timed);
}

static void
test_states(Fixture *f, gconstpointer data)
{
    tick(f, "done", "set-up", 21.5);
    tick(f, "begin", "ram-1", 23);
    tick(f, "done", "ram-1", 54.25);
    tick(f, "begin", "ram-2", 56);
    g_autoptr(LiveDay) day = make_day(f);
    check_task(day, "set-up", LIVE_OVER, 1.5, 21.5, FALSE); // as long as planned
    check_task(day, "warm-up", LIVE_RUNNING, 21.5, NAN, TRUE);
    check_task(day, "ram-1", LIVE_OVER, 23, 54.25, TRUE);
    check_task(day, "ram-2", LIVE_RUNNING, 56, NAN, TRUE);
    check_task(day, "charge-1", LIVE_TO_DO, NAN, NAN, FALSE);
    check_task(day, "melt-1", LIVE_TO_DO, NAN, NAN, FALSE);
    g_assert_cmpuint(day->ticks, ==, 4);
    g_assert_cmpstr(day->last, ==, "ram flask 2: begun");
    check_close(day->noted, 56 * 60, 1e-12, "the last line");
    g_assert_false(day->finished);
    g_assert_null(live_day_find(day, "ram-9"));
}

// Without a begin a melt began with the end of its charge; any other task took as long as planned,
// or as there was time for.
static void
test_implied(Fixture *f, gconstpointer data)
{
    tick(f, "done", "ram-1", 61);
    tick(f, "done", "charge-1", 152);
    tick(f, "done", "melt-1", 207);
    tick(f, "done", "pour-1", 211);
    tick(f, "done", "shake-out-1", 290);
    g_autoptr(LiveDay) day = make_day(f);
    check_task(day, "ram-1", LIVE_OVER, 31, 61, FALSE);
    check_task(day, "charge-1", LIVE_OVER, 147, 152, FALSE);
    check_task(day, "melt-1", LIVE_OVER, 152, 207, TRUE);
    check_task(day, "pour-1", LIVE_OVER, 208, 211, FALSE);
    check_task(day, "shake-out-1", LIVE_OVER, 280, 290, FALSE);
    tick(f, "done", "pour-2", 212);
    g_autoptr(LiveDay) quick = make_day(f);
    check_task(quick, "pour-2", LIVE_OVER, 211, 212, FALSE); // the furnace poured until then
}

// Two noted for the same minute: the one planned first was first, and took its time.
static void
test_same_minute(Fixture *f, gconstpointer data)
{
    tick(f, "done", "melt-1", 207);
    tick(f, "done", "pour-2", 214);
    tick(f, "done", "pour-1", 214);
    g_autoptr(LiveDay) day = make_day(f);
    check_task(day, "pour-1", LIVE_OVER, 211, 214, FALSE);
    check_task(day, "pour-2", LIVE_OVER, 214, 214, FALSE);
}

static void
test_undo(Fixture *f, gconstpointer data)
{
    tick(f, "undo", NULL, 1); // nothing yet: harmless
    tick(f, "done", "set-up", 20);
    tick(f, "begin", "ram-1", 21);
    tick(f, "done", "ram-1", 50);
    tick(f, "undo", NULL, 51);
    g_autoptr(LiveDay) once = make_day(f);
    check_task(once, "ram-1", LIVE_RUNNING, 21, NAN, TRUE);
    tick(f, "undo", NULL, 52);
    tick(f, "undo", NULL, 52);
    g_autoptr(LiveDay) all = make_day(f);
    check_task(all, "ram-1", LIVE_TO_DO, NAN, NAN, FALSE);
    check_task(all, "set-up", LIVE_TO_DO, NAN, NAN, FALSE);
    g_assert_cmpuint(all->ticks, ==, 0);
    g_assert_null(all->last);
    tick(f, "done", "set-up", 60);
    tick(f, "finish", NULL, 61);
    g_autoptr(LiveDay) done = make_day(f);
    g_assert_true(done->finished);
    tick(f, "undo", NULL, 62);
    g_autoptr(LiveDay) again = make_day(f);
    g_assert_false(again->finished);
    check_task(again, "set-up", LIVE_OVER, 40, 60, FALSE);
}

// A beginning or an end is corrected without undoing the other, and what follows on it moves along.
static void
test_corrected(Fixture *f, gconstpointer data)
{
    tick(f, "done", "set-up", 20);
    tick(f, "begin", "ram-1", 25);
    tick(f, "done", "ram-1", 50);
    tick(f, "begin", "ram-1", 21);
    g_autoptr(LiveDay) begun = make_day(f);
    check_task(begun, "ram-1", LIVE_OVER, 21, 50, TRUE);
    tick(f, "done", "warm-up", 140);
    tick(f, "done", "set-up", 18);
    g_autoptr(LiveDay) moved = make_day(f);
    check_task(moved, "set-up", LIVE_OVER, 0, 18, FALSE);
    check_task(moved, "warm-up", LIVE_OVER, 18, 140, TRUE); // from the setting up
    check_task(moved, "ram-1", LIVE_OVER, 21, 50, TRUE);
    // Begun again after it was done is begun again.
    tick(f, "begin", "ram-1", 150);
    g_autoptr(LiveDay) again = make_day(f);
    g_assert_cmpint(live_day_find(again, "ram-1")->state, ==, LIVE_RUNNING);
    tick(f, "undo", NULL, 151);
    tick(f, "undo", NULL, 152);
    g_autoptr(LiveDay) back = make_day(f);
    check_task(back, "warm-up", LIVE_OVER, 20, 140, TRUE);
}

static void
test_values(Fixture *f, gconstpointer data)
{
    LiveTick hot = {LIVE_TEMPERATURE, SAMPLE_START + 9, SAMPLE_START + 9, "pour-1", -1, 728.5,
                    "728.5 C"};
    LiveTick mass = {LIVE_MASS, SAMPLE_START + 9, SAMPLE_START + 9, "pour-1", -1,
                     1.183,     "1.183 kg"};
    LiveTick note = {LIVE_NOTE, SAMPLE_START + 9, SAMPLE_START + 11, NULL, -1, NAN, "Windy"};
    add_node(f, live_tick_node(&hot));
    hot.value = 731, hot.text = "731 C";
    add_node(f, live_tick_node(&hot));
    add_node(f, live_tick_node(&mass));
    add_node(f, live_tick_node(&note));
    g_autoptr(LiveDay) day = make_day(f);
    const LiveTask *pour = live_day_find(day, "pour-1");
    check_close(pour->temperature, 731, 0, "the later wins");
    g_assert_cmpstr(pour->temperature_text, ==, "731 C");
    check_close(pour->mass, 1.183, 0, "as noted");
    g_assert_cmpuint(day->notes->len, ==, 1);
    check_close(day->noted, 11, 1e-9, "when written");
}

// Lines of another program or another day are told and do no harm.
static void
test_strange(Fixture *f, gconstpointer data)
{
    tick(f, "done", "ram-77", 3);
    tick(f, "dance", NULL, 3);
    tick(f, "temperature", "pour-1", 3); // no value
    tick(f, "done", NULL, 3);            // no key
    tick(f, "done", "set-up", 1e12);     // no moment
    tick(f, "done", "set-up", 20);
    g_autoptr(LiveDay) day = make_day(f);
    g_assert_cmpuint(day->strange->len, ==, 5);
    check_task(day, "set-up", LIVE_OVER, 0, 20, FALSE);
}

static void
test_done(Fixture *f, gconstpointer data)
{
    tick(f, "done", "set-up", 20);
    tick(f, "done", "pour-1", 200);
    g_autoptr(LiveDay) day = make_day(f);
    g_autoptr(GArray) early = live_day_done(day, 205 * 60);
    g_autoptr(GArray) late = live_day_done(day, 262 * 60);
    g_assert_cmpuint(early->len, ==, 4); // set-up, warm-up, pour-1, cool-1
    for (guint i = 0; i < early->len; i++) {
        const SessionDone *one = &g_array_index(early, SessionDone, i);
        const SessionDone *then = &g_array_index(late, SessionDone, i);
        if (g_str_equal(one->key, "warm-up") || g_str_equal(one->key, "cool-1"))
            g_assert_true(isnan(one->end));
        else
            g_assert_false(isnan(one->end));
        if (g_str_equal(one->key, "cool-1")) {
            check_close(one->start, 200 * 60, 1e-12, "from the pour");
            check_close(then->end, 261 * 60, 1e-12, "61 minutes");
        }
    }
}

static void
test_sheet_round_trip(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = live_sheet_node(f->sheet);
    g_autoptr(LiveSheet) again = live_sheet_read(node, "day", &error);
    g_assert_no_error(error);
    g_autoptr(Node) second = live_sheet_node(again);
    g_assert_true(node_equal(node, second));
    g_assert_cmpuint(again->session->n_tasks, ==, f->sheet->session->n_tasks);
    g_assert_cmpint(live_sheet_find(again, "pour-3"), ==, live_sheet_find(f->sheet, "pour-3"));
    g_assert_cmpstr(again->session->tasks[3].label, ==, f->sheet->session->tasks[3].label);
}

static void
refuse_sheet(Fixture *f, const char *name, const char *value, BaseError code, const char *words)
{
    g_autoptr(GError) error = NULL;
    Node *node = live_sheet_node(f->sheet);
    live_put_text(&node, name, value);
    g_assert_null(live_sheet_read(node, "day", &error));
    check_error(error, code, words);
    node_unref(node);
}

static void
test_sheet_refuses(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    refuse_sheet(f, "do", "done", BASE_ERROR_FORMAT, "missing or damaged");
    refuse_sheet(f, "format", "castbook", BASE_ERROR_FORMAT, "missing or damaged");
    refuse_sheet(f, "version", "2", BASE_ERROR_VERSION, "newer program");
    refuse_sheet(f, "at", "noon", BASE_ERROR_FORMAT, "no start");
    refuse_sheet(f, "jobs", "none", BASE_ERROR_FORMAT, "jobs");
    refuse_sheet(f, "session", "none", BASE_ERROR_FORMAT, "session");
    g_autoptr(Node) node = live_sheet_node(f->sheet);
    const Node *task = node_get(node, "/session/tasks/1");
    static const char *const names[] = {"key", "kind", "start", "end"};
    for (guint i = 0; i < G_N_ELEMENTS(names) + 1; i++) {
        g_autoptr(Node) bad = i < G_N_ELEMENTS(names)
                                  ? node_with_member(task, names[i], NULL)
                                  : node_ref(node_get(node, "/session/tasks/0"));
        const Node *session = node_member(node, "session");
        g_autoptr(Node) tasks = node_with_item(node_member(session, "tasks"), 1, bad);
        g_autoptr(Node) changed = node_with_member(session, "tasks", tasks);
        g_autoptr(Node) whole = node_with_member(node, "session", changed);
        g_assert_null(live_sheet_read(whole, "day", &error));
        check_error(error, BASE_ERROR_FORMAT, "session.tasks[1]");
    }
}

// The same through Live, which refuses what cannot be true and writes nothing then.
static void
test_live(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *book = g_build_filename(folder, "shop.castbook", NULL);
    g_autofree char *path = live_journal_path(book);
    UnitSet units = unit_set_default();
    sample_clock(SAMPLE_START);
    g_autoptr(Node) first = live_sheet_node(f->sheet);
    live_journal_close(live_journal_start(path, first, &error));
    g_assert_no_error(error);
    g_assert_true(live_journal_exists(book));
    Live *live = live_resume(book, &error);
    g_assert_no_error(error);
    sample_clock(SAMPLE_START + 3600);
    g_assert_true(live_done(live, "set-up", SAMPLE_START + 1260, &error));
    g_assert_true(live_begin(live, "ram-1", NAN, &error));
    g_assert_true(live_note_temperature(live, "pour-1", " 1355 F ", &units, &error));
    g_assert_true(live_note_mass(live, "charge-1", "2.5", &units, &error));
    g_assert_true(live_note(live, "Dry day", &error));
    g_assert_no_error(error);
    check_close(live_day_find(live_day(live), "pour-1")->temperature, (1355 - 32) / 1.8, 1e-12,
                "degrees Fahrenheit");
    g_assert_cmpstr(live_day_find(live_day(live), "charge-1")->mass_text, ==, "2.5 kg");
    const guint before = live_day(live)->ticks;
#define REFUSED(call, code, words)                                                                 \
    do {                                                                                           \
        g_assert_false(call);                                                                      \
        check_error(error, code, words);                                                           \
        g_assert_cmpuint(live_day(live)->ticks, ==, before);                                       \
    } while (0)
    REFUSED(live_done(live, "ram-99", NAN, &error), BASE_ERROR_VALUE, "ram-99");
    REFUSED(live_done(live, "cool-1", NAN, &error), BASE_ERROR_VALUE, "by the clock");
    REFUSED(live_done(live, "set-up", NAN, &error), BASE_ERROR_VALUE, "done already");
    REFUSED(live_begin(live, "ram-1", NAN, &error), BASE_ERROR_VALUE, "begun already");
    REFUSED(live_done(live, "ram-1", SAMPLE_START + 3700, &error), BASE_ERROR_VALUE, "to come");
    REFUSED(live_done(live, "ram-1", SAMPLE_START + 3000, &error), BASE_ERROR_VALUE, "before it");
    REFUSED(live_begin(live, "set-up", SAMPLE_START + 1261, &error), BASE_ERROR_VALUE, "after it");
    REFUSED(live_done(live, "ram-2", SAMPLE_START - 60, &error), BASE_ERROR_VALUE, "was started");
    REFUSED(live_note_mass(live, "pour-1", "-2 kg", &units, &error), BASE_ERROR_VALUE, "no mass");
    REFUSED(live_note_mass(live, "pour-1", "heavy", &units, &error), BASE_ERROR_VALUE, "pour-1");
    REFUSED(live_note_mass(live, "ram-1", "1 kg", &units, &error), BASE_ERROR_VALUE, "ram-1");
    REFUSED(live_note_temperature(live, "pour-1", "9999", &units, &error), BASE_ERROR_VALUE,
            "no temperature");
    REFUSED(live_note_temperature(live, "charge-1", "700", &units, &error), BASE_ERROR_VALUE,
            "charge-1");
    REFUSED(live_note(live, "", &error), BASE_ERROR_VALUE, "note");
    g_assert_true(live_done(live, "set-up", SAMPLE_START + 1320, &error)); // a correction
    check_close(live_day_find(live_day(live), "set-up")->end, 1320, 1e-9, "corrected");
    g_assert_true(live_finish(live, &error));
    g_assert_false(live_finish(live, &error));
    check_error(error, BASE_ERROR_VALUE, "finished");
    g_assert_false(live_done(live, "ram-2", NAN, &error));
    check_error(error, BASE_ERROR_VALUE, "finished");
    for (guint i = 0; i < before + 2; i++)
        g_assert_true(live_undo(live, &error));
    g_assert_false(live_undo(live, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "nothing was ticked");
    g_assert_true(live_journal_put_aside(live_journal(live), f->sheet->id, &error));
    live_free(live);
    g_assert_false(live_journal_exists(book));
    g_assert_null(live_resume(book, &error));
    check_error(error, BASE_ERROR_FILE, "no day of this book");
    live_clock_set(NULL, NULL);
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_autofree char *data = check_folder();
    g_setenv("XDG_DATA_HOME", data, TRUE);
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/live/day/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("states", test_states);
    ADD("implied", test_implied);
    ADD("same-minute", test_same_minute);
    ADD("undo", test_undo);
    ADD("corrected", test_corrected);
    ADD("values", test_values);
    ADD("strange", test_strange);
    ADD("done", test_done);
    ADD("sheet-round-trip", test_sheet_round_trip);
    ADD("sheet-refuses", test_sheet_refuses);
    ADD("live", test_live);
    int code = g_test_run();
    check_folder_remove(data);
    return code;
}
