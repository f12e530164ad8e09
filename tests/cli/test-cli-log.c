// SPDX-License-Identifier: GPL-3.0-or-later
// A day on the command line: started, ticked, taken back, finished into the book, castings judged;
// and what is refused leaves book and journal as they were.
#include "run.h"

#include <string.h>

#include "base/digest.h"
#include "book/edit.h"
#include "book/store.h"

typedef struct {
    char *folder;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->folder = check_folder();
    run_write_mesh(f->folder, "plate.stl",
                   check_mesh_blind_plate(0.0617, 0.0431, 0.0123, 0.0092, 0.0057, 24));
    Run run = run_expect(
        f->folder,
        "new t.castbook --mesh plate.stl --unit mm --metal a356 --quantity 40 --pull 0,0,1", 0);
    run_clear(&run);
    run_coarsen(f->folder, "t.castbook");
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    g_free(f->folder);
}

static void
expect(Fixture *f, const char *line, int status, const char *words)
{
    g_auto(Run) run = run_expect(f->folder, line, status);
    if (words && !strstr(status == 0 ? run.out : run.err, words))
        g_error("flaskwright-cli %s: \"%s%s\" lacks \"%s\"", line, run.out, run.err, words);
}

static char *
digest_book(Fixture *f)
{
    g_autofree char *path = g_build_filename(f->folder, "t.castbook", NULL);
    return digest_of_file(path, NULL);
}

static void
test_day(Fixture *f, gconstpointer data)
{
    g_autofree char *before = digest_book(f);
    expect(f, "log t.castbook", 0, "No session is logged yet");
    expect(f, "log t.castbook undo", 1, "no day of this book");
    expect(f, "log t.castbook tick set-up", 1, "start one");
    expect(f, "log t.castbook finish", 1, "start one");
    expect(f, "log t.castbook start", 0, "A day is going on");
    expect(f, "log t.castbook start", 1, "going on already");
    expect(f, "log t.castbook tick set-up", 0, "Set up: done");
    expect(f, "log t.castbook tick set-up", 1, "done already");
    expect(f, "log t.castbook tick ram-drag-1 --begin", 0, "begun");
    expect(f, "log t.castbook tick ram-drag-1", 0, "done");
    expect(f, "log t.castbook undo", 0, "Taken back");
    expect(f, "log t.castbook tick pour-1 --temperature 735C --mass 1.2kg", 0, "done, 735C, 1.2kg");
    expect(f, "log t.castbook tick pour-1 --mass '1.3 kg'", 0, "1.3 kg"); // the value alone
    expect(f, "log t.castbook note 'Windy, so lid on'", 0, "Windy");
    expect(f, "log t.castbook tick pour-2 --temperature hot", 1, "--temperature");
    expect(f, "log t.castbook tick pour-2 --mass 3mm", 1, "--mass");
    expect(f, "log t.castbook tick pour-2 --at 25:00", 1, "14:05");
    expect(f, "log t.castbook tick pour-99", 1, "pour-99");
    expect(f, "log t.castbook tick cool-1", 1, "by the clock");
    expect(f, "log t.castbook", 0, "735C, 1.3 kg");
    // All that time the book was not touched.
    g_autofree char *during = digest_book(f);
    g_assert_cmpstr(during, ==, before);
    expect(f, "log t.castbook finish", 0, "session 1");
    expect(f, "log t.castbook finish", 1, "no day of this book");
    expect(f, "log t.castbook", 0, "Session 1");
    expect(f, "plan t.castbook", 0, NULL);
}

// 99 F are 37 °C, where a356 is solid: nothing of such a tick is kept. What is molten but out of
// the range it is poured in is kept, and said.
static void
test_heat(Fixture *f, gconstpointer data)
{
    expect(f, "log t.castbook start", 0, NULL);
    expect(f, "log t.castbook tick pour-1 --temperature 99F --mass 1.2kg", 1, "its metal is solid");
    expect(f, "log t.castbook undo", 1, "nothing was ticked");
    expect(f, "log t.castbook tick pour-1 --temperature 600C", 0, "look for misruns");
    expect(f, "log t.castbook tick pour-1 --temperature 1600F", 0, "look for gas pores");
    expect(f, "log t.castbook tick set-up --temperature 735C", 1, "nothing to note");
    expect(f, "log t.castbook", 0, "1600F");
    expect(f, "log t.castbook discard", 0, NULL);
}

// Puts the job of another book into t.castbook, due so that it is poured first.
static void
borrow_job(Fixture *f, const char *from)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    g_autofree char *path = g_build_filename(f->folder, "t.castbook", NULL);
    g_autofree char *other = g_build_filename(f->folder, from, NULL);
    g_autoptr(Book) book = store_read(path, tables, &error);
    g_autoptr(Book) lender = store_read(other, tables, &error);
    g_assert_no_error(error);
    g_autoptr(Node) due = node_new_text("2099-12-31");
    g_autoptr(Node) job = node_with_member(node_get(book_root(lender), "/jobs/0"), "due", due);
    g_autoptr(Edit) edit = edit_insert("/jobs/-", job, "");
    g_autoptr(Book) whole = edit_apply(book, edit, &error);
    g_assert_true(whole && store_write(whole, path, TRUE, &error));
}

// Ticks the first pour of a job on the day that is going on.
static void
tick_pour(Fixture *f, const char *job)
{
    g_auto(Run) run = run_expect(f->folder, "log t.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    g_assert_true(json_parser_load_from_data(parser, run.out, -1, NULL));
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    JsonArray *tasks = json_object_get_array_member(json_object_get_object_member(root, "day"),
                                                    "tasks");
    for (guint i = 0; i < json_array_get_length(tasks); i++) {
        JsonObject *task = json_array_get_object_element(tasks, i);
        const char *key = json_object_get_string_member(task, "key");
        if (!g_str_has_prefix(key, "pour-") ||
            g_strcmp0(json_object_get_string_member_with_default(task, "job", NULL), job) != 0)
            continue;
        g_autofree char *line = g_strdup_printf("log t.castbook tick %s --temperature 735C", key);
        g_autofree char *words = g_strdup_printf(": %s: done, 735C", job);
        expect(f, line, 0, words);
        return;
    }
    g_error("no pour of %s in %s", job, run.out);
}

// The day of all jobs has moulds of both, each under its name; castings are told by job.
static void
test_all(Fixture *f, gconstpointer data)
{
    run_write_mesh(f->folder, "bar.stl", check_mesh_box(0.0517, 0.0331, 0.0153));
    Run run = run_expect(
        f->folder,
        "new bar.castbook --mesh bar.stl --unit mm --metal a356 --quantity 3 --pull 0,0,1", 0);
    run_clear(&run);
    run_coarsen(f->folder, "bar.castbook");
    borrow_job(f, "bar.castbook");
    g_autofree char *before = digest_book(f);
    expect(f, "log t.castbook start --all --job plate", 2, "without --job");
    expect(f, "log t.castbook start --all", 0, ": bar");
    expect(f, "log t.castbook start --all", 1, "going on already");
    tick_pour(f, "plate");
    tick_pour(f, "bar");
    g_autofree char *during = digest_book(f);
    g_assert_cmpstr(during, ==, before);
    expect(f, "log t.castbook finish", 0, "session 1");
    expect(f, "log t.castbook", 0, "casting 1, plate: not judged");
    expect(f, "log t.castbook", 0, "casting 1, bar: not judged");
}

static void
test_result(Fixture *f, gconstpointer data)
{
    expect(f, "log t.castbook start", 0, NULL);
    expect(f, "log t.castbook tick pour-1", 0, NULL);
    expect(f, "log t.castbook finish", 0, NULL);
    expect(f, "log t.castbook result scrap --flask 1 --casting 1 --cause gas", 0, NULL);
    expect(f, "log t.castbook result good --session 1 --flask 1 --casting 2 --mass 91g", 0, NULL);
    expect(f, "log t.castbook", 0, "flask 1, casting 1: scrap, Gas");
    expect(f, "log t.castbook", 0, "flask 1, casting 2: good, 91g");
    g_autofree char *before = digest_book(f);
    run_refused(f->folder, "log t.castbook result good --flask 9 --casting 1", "flask 9");
    run_refused(f->folder, "log t.castbook result good --session 7 --flask 1 --casting 1",
                "session 7");
    run_refused(f->folder, "log t.castbook result scrap --flask 1 --casting 1 --cause goblins",
                "goblins");
    run_refused(f->folder, "log t.castbook result good --flask 1 --casting 1 --cause gas",
                "only scrap");
    run_refused(f->folder, "log t.castbook result good --flask 1 --casting 1 --mass long", "mass");
    g_autofree char *after = digest_book(f);
    g_assert_cmpstr(before, ==, after);
    g_auto(Run) run = run_expect(f->folder, "log t.castbook --json", 0);
    g_autoptr(JsonParser) parser = json_parser_new();
    g_assert_true(json_parser_load_from_data(parser, run.out, -1, NULL));
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    g_assert_true(json_object_get_null_member(root, "day"));
    JsonArray *sessions = json_object_get_array_member(root, "sessions");
    g_assert_cmpuint(json_array_get_length(sessions), ==, 1);
    JsonObject *first = json_array_get_object_element(
        json_object_get_array_member(json_array_get_object_element(sessions, 0), "castings"), 0);
    g_assert_cmpstr(json_object_get_string_member(first, "cause"), ==, "gas");
    g_assert_false(json_object_get_boolean_member(first, "good"));
    g_auto(Run) plan = run_expect(f->folder, "plan t.castbook --json", 0);
    g_autoptr(JsonParser) planned = json_parser_new();
    JsonObject *figures = run_figures(planned, &plan);
    g_assert_cmpfloat(run_value(figures, "learn.scrap_gas"), ==, 1);
    check_close(run_value(figures, "learn.casting_mass"), 0.091, 1e-12, "noted");
    check_close(run_value(figures, "learn.mass_ratio"), 0.091 / run_value(figures, "casting.mass"),
                1e-9, "by hand");
}

static void
test_discard(Fixture *f, gconstpointer data)
{
    g_autofree char *before = digest_book(f);
    expect(f, "log t.castbook start", 0, NULL);
    expect(f, "log t.castbook --json", 0, "\"state\":\"to do\"");
    expect(f, "log t.castbook discard", 0, ".done");
    expect(f, "log t.castbook discard", 1, "no day of this book");
    g_autofree char *after = digest_book(f);
    g_assert_cmpstr(before, ==, after);
    expect(f, "log t.castbook start --job other", 1, "its jobs are: plate");
    expect(f, "log none.castbook", 1, "none.castbook");
}

static void
test_usage(Fixture *f, gconstpointer data)
{
    static const char *const lines[] = {"log",
                                        "log t.castbook dance",
                                        "log t.castbook start now",
                                        "log t.castbook tick",
                                        "log t.castbook note",
                                        "log t.castbook tick a b",
                                        "log t.castbook undo --at 12:00",
                                        "log t.castbook start --mass 3kg",
                                        "log t.castbook tick set-up --all",
                                        "log t.castbook tick set-up --cause gas",
                                        "log t.castbook result good",
                                        "log t.castbook result good --flask 0 --casting 1",
                                        "log t.castbook result --flask 1 --casting 1",
                                        "log t.castbook result fine --flask 1 --casting 1",
                                        "log t.castbook --flask x"};
    for (guint i = 0; i < G_N_ELEMENTS(lines); i++)
        expect(f, lines[i], 2, NULL);
    expect(f, "log --help", 0, "--temperature");
}

int
main(int argc, char **argv)
{
    g_autofree char *data = check_folder();
    g_setenv("XDG_DATA_HOME", data, TRUE);
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function) g_test_add("/cli/log/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("day", test_day);
    ADD("heat", test_heat);
    ADD("all", test_all);
    ADD("result", test_result);
    ADD("discard", test_discard);
    ADD("usage", test_usage);
    int code = g_test_run();
    check_folder_remove(data);
    return code;
}
