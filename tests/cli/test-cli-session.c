// SPDX-License-Identifier: GPL-3.0-or-later
// `session`: words, JSON, a calendar and rows; and how it refuses.
#include "run.h"

#include <string.h>

typedef struct {
    char *folder;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->folder = check_folder();
    run_write_mesh(f->folder, "plate.stl",
                   check_mesh_blind_plate(0.0617, 0.0431, 0.0123, 0.0092, 0.0057, 24));
    Run run = run_expect(f->folder,
                         "new t.castbook --mesh plate.stl --metal a356 --quantity 40 "
                         "--pull 0,0,1 --due 2026-11-29",
                         0);
    run_clear(&run);
    run_coarsen(f->folder, "t.castbook");
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    g_free(f->folder);
}

static char *
read_file(const Fixture *f, const char *name)
{
    g_autofree char *path = g_build_filename(f->folder, name, NULL);
    char *text = NULL;
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    return text;
}

static void
expect(const Fixture *f, const char *line, int status)
{
    Run run = run_expect(f->folder, line, status);
    g_assert_cmpint(run.status, ==, status);
}

static void
test_words(Fixture *f, gconstpointer data)
{
    Run run = run_expect(f->folder, "session t.castbook --from 2026-11-25", 0);
    g_assert_nonnull(strstr(run.out, "Sat 2026-11-28"));
    g_assert_nonnull(strstr(run.out, "days late"));
    g_assert_nonnull(strstr(run.out, "Moulding sand"));
    g_assert_null(strstr(run.out, "nan"));
    g_auto(Run)
               again = run_expect(f->folder, "session t.castbook --from 2026-11-25 --job plate", 0);
    g_assert_cmpstr(run.out, ==, again.out);
    // Without a day it begins today, whatever day that is.
    expect(f, "session t.castbook", 0);
    g_auto(Run) why = run_expect(
        f->folder, "session t.castbook --from 2026-11-25 --explain batch.days_late", 0);
    g_assert_nonnull(strstr(why.out, "Jackson"));
    expect(f, "session t.castbook --explain batch.nothing", 2);
    expect(f, "session t.castbook --from 2026-11-25 --strict", 3);
    expect(f, "session t.castbook --from 2026-10-01 --strict", 0);
}

// The same numbers as `plan` gives for the only job.
static void
test_json(Fixture *f, gconstpointer data)
{
    g_auto(Run) plan = run_expect(f->folder, "plan t.castbook --json", 0);
    Run run = run_expect(f->folder, "session t.castbook --json --from 2026-11-25", 0);
    g_autoptr(JsonParser) of_plan = json_parser_new();
    g_autoptr(JsonParser) of_batch = json_parser_new();
    JsonObject *job = run_figures(of_plan, &plan), *batch = run_figures(of_batch, &run);
    check_close(run_value(batch, "batch.sessions"), run_value(job, "run.sessions"), 0, "plan");
    check_close(run_value(batch, "batch.flasks"), run_value(job, "run.batch_flasks"), 0, "plan");
    g_assert_cmpstr(run_state(batch, "batch.days_late"), ==, "fails");
}

static void
test_files(Fixture *f, gconstpointer data)
{
    expect(f, "session t.castbook --from 2026-11-25 --to s.ics --alarm '12 h'", 0);
    g_autofree char *ics = read_file(f, "s.ics");
    g_assert_true(g_str_has_prefix(ics, "BEGIN:VCALENDAR\r\n"));
    g_assert_nonnull(strstr(ics, "DTSTART:20261128T090000\r\n"));
    g_assert_nonnull(strstr(ics, "DTSTAMP:20261125T000000Z\r\n"));
    g_assert_nonnull(strstr(ics, "TRIGGER:-PT12H\r\n"));
    expect(f, "session t.castbook --from 2026-11-25 --to s.csv", 0);
    expect(f, "session t.castbook --from 2026-11-25 --to n.csv --list needs", 0);
    g_autofree char *csv = read_file(f, "s.csv"), *needs = read_file(f, "n.csv");
    g_assert_true(g_str_has_prefix(csv, "session,date,start,"));
    g_assert_nonnull(strstr(csv, "\r\n1,2026-11-28,09:00,2026-11-28,"));
    g_assert_true(g_str_has_prefix(needs, "by,session,kind,"));
    // Again, with the same bytes; a day later the sessions keep their names.
    expect(f, "session t.castbook --from 2026-11-25 --to s.ics --alarm 720 --replace", 0);
    g_autofree char *again = read_file(f, "s.ics");
    g_assert_cmpstr(ics, ==, again);
    expect(f, "session t.castbook --from 2026-11-26 --to later.ics", 0);
    g_autofree char *later = read_file(f, "later.ics");
    const char *uid = strstr(ics, "UID:");
    g_autofree char *line = g_strndup(uid, strcspn(uid, "\r"));
    g_assert_nonnull(strstr(later, line));
    expect(f, "sketch t.castbook --view calendar --from 2026-11-25 --to c.svg", 0);
    g_autofree char *svg = read_file(f, "c.svg");
    g_assert_nonnull(strstr(svg, "id=\"session-1\""));
    expect(f, "sketch t.castbook --view plan --from 2026-11-25 --to p.svg", 2);
}

// A job whose mesh is gone is left out in words, and the rest is written; --strict fails.
static void
test_left_out(Fixture *f, gconstpointer data)
{
    static const char second[] = "{\"id\": \"lost\", \"name\": \"Lost lid\", \"mesh\": "
                                 "\"gone.stl\", \"metal\": \"a356\", \"quantity\": \"7\"}, ";
    g_autofree char *text = read_file(f, "t.castbook");
    const char *jobs = strstr(text, "\"jobs\"");
    g_assert_nonnull(jobs);
    const char *first = strchr(jobs, '[') + 1;
    g_autofree char *both = g_strdup_printf("%.*s%s%s", (int)(first - text), text, second, first);
    run_write(f->folder, "two.castbook", both, -1);
    g_auto(Run) run = run_cli(f->folder, "session two.castbook --from 2026-10-01 --to two.ics");
    g_assert_cmpint(run.status, ==, 0);
    g_test_message("%s", run.err);
    g_assert_nonnull(strstr(run.err, "two.castbook: lost: left out: "));
    g_assert_nonnull(strstr(run.err, "gone.stl"));
    g_autofree char *ics = read_file(f, "two.ics");
    g_assert_nonnull(strstr(ics, "SUMMARY:Pour plate"));
    g_assert_null(strstr(ics, "Lost lid"));
    g_auto(Run) strict = run_cli(f->folder, "session two.castbook --from 2026-10-01 --strict");
    g_assert_cmpint(strict.status, ==, 3);
    run_refused(f->folder, "session two.castbook --job lost", "lost: ");
}

static void
test_refused(Fixture *f, gconstpointer data)
{
    run_refused(f->folder, "session gone.castbook", "gone.castbook");
    run_refused(f->folder, "session t.castbook --from 2026-02-29", "--from: ");
    run_refused(f->folder, "session t.castbook --job none", "t.castbook: no job called \"none\"");
    run_refused(f->folder, "session t.castbook --to s.txt", "s.txt");
    run_refused(f->folder, "session t.castbook --to s.ics --list needs", ".csv");
    run_refused(f->folder, "session t.castbook --to no/such/s.ics", "s.ics");
    run_refused(f->folder, "session t.castbook --to s.ics --alarm soon", "--alarm");
    run_refused(f->folder, "session t.castbook --to s.ics --alarm '9000 h'", "--alarm");
    run_refused(f->folder, "sketch t.castbook --view calendar --from soon --to x.svg", "--from");
    run_write(f->folder, "mine.ics", "mine", -1);
    run_refused(f->folder, "session t.castbook --to mine.ics", "mine.ics");
    static const struct {
        const char *days, *words;
    } books[] = {
        {"sat; sunn", "shop.days: at character 6"},
        {"2020-01-04", "shop.days: no day is free"},
        {"sat 9:00-9:30", "plate: not one flask"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(books); i++) {
        g_autofree char *book = g_strdup_printf(
            "{\"format\": \"castbook\", \"version\": 1, \"shop\": {\"days\": \"%s\"}, \"jobs\": "
            "[{\"id\": \"plate\", \"mesh\": \"plate.stl\", \"metal\": \"a356\", \"quantity\": "
            "\"40\", \"pull\": \"0,0,1\", \"cavities\": \"1\", \"cells\": \"24\", \"heat_cells\": "
            "\"4000\"}]}",
            books[i].days);
        run_write(f->folder, "b.castbook", book, -1);
        g_test_message("%s", books[i].days);
        run_refused(f->folder, "session b.castbook --from 2026-11-25", books[i].words);
    }
    static const char *const usage[] = {
        "session",
        "session t.castbook other",
        "session t.castbook --fly",
        "session t.castbook --list all --to s.csv",
        "session t.castbook --list needs",
        "session t.castbook --alarm 3h",
        "session t.castbook --alarm 3h --to s.csv",
        "session t.castbook --json --to s.csv",
        "session t.castbook --json --explain batch.cost",
    };
    for (guint i = 0; i < G_N_ELEMENTS(usage); i++)
        expect(f, usage[i], 2);
    expect(f, "session --help", 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/cli/session/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("words", test_words);
    ADD("json", test_json);
    ADD("files", test_files);
    ADD("left-out", test_left_out);
    ADD("refused", test_refused);
    return g_test_run();
}
