// SPDX-License-Identifier: GPL-3.0-or-later
// Batches of which not all can be poured, and what the shop has already: metal in stock, firings of
// a crucible, patterns. Expected masses are worked by hand.
#include "batch-kit.h"

#include <math.h>
#include <string.h>

#include "book/scan.h"
#include "report/batch.h"

// One job that cannot be poured stops no other: it is left out and says why, whatever the reason
// and whether sessions are mixed or not.
static void
test_left_out(BatchKit *f, gconstpointer data)
{
    static const char *const changes[][3] = {{"job.mesh", "gone.stl", "gone.stl"},
                                             {"job.mesh", "", "mesh"},
                                             {"job.reserve_least", "40 kg", "crucible"}};
    const Book *const books[] = {f->two, f->mixed};
    for (guint i = 0; i < G_N_ELEMENTS(changes) * G_N_ELEMENTS(books); i++) {
        const char *const *row = changes[i / 2];
        g_autoptr(Book) book = kit_change(f, books[i % 2], "other", row[0], row[1]);
        g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
        const BatchJob *part = &batch->jobs[0], *other = &batch->jobs[1];
        g_test_message("%s: %s", row[1], other->why);
        g_assert_null(part->why);
        g_assert_cmpint(part->left, ==, 0);
        g_assert_cmpuint(part->done, >, 0);
        g_assert_nonnull(strstr(other->why, row[2]));
        g_assert_cmpuint(other->done, ==, 0);
        g_assert_cmpint(other->left, ==, other->flasks);
        const Figure *left = figure_list_find(batch->figures, "batch.jobs_left");
        check_close(left->value, 1, 0, "one of two");
        g_assert_cmpint(left->state, ==, FIGURE_FAILS);
        g_assert_nonnull(strstr(left->note, other->name));
        check_figures(batch->figures);
        // The other is poured as if this one were not there.
        static const char *const alone[] = {"part", NULL};
        g_autoptr(BatchPlan) single = batch_plan_make(book, alone, f->tables, f->cache,
                                                      kit_day_of("2026-11-22"), NULL, NULL);
        g_autofree char *rows = report_batch_csv(batch), *same = report_batch_csv(single);
        g_assert_cmpstr(rows, ==, same);
        g_autofree char *text = report_batch_text(batch);
        g_assert_nonnull(strstr(text, "left out: "));
        g_assert_null(strstr(text, "nan"));
    }
}

// Two free days for a job that takes more, and four for two jobs: what they hold is poured.
static void
test_too_few_days(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) few = kit_change(f, f->one, NULL, "shop.days", "2026-11-28; 2026-12-01");
    g_autoptr(BatchPlan) batch = kit_batch(f, few, "2026-11-22");
    const BatchJob *job = &batch->jobs[0];
    g_assert_cmpuint(batch->n_sessions, ==, 2);
    int poured = batch->sessions[0].pours[0].flasks + batch->sessions[1].pours[0].flasks;
    g_assert_cmpint(job->left, ==, job->flasks - poured);
    g_assert_cmpint(job->left, >, 0);
    g_assert_cmpuint(job->done, ==, 0);
    g_assert_nonnull(strstr(job->why, "no room on 2 free days"));
    g_autofree char *text = report_batch_text(batch);
    g_assert_nonnull(strstr(text, "not finished: "));
    // One that is due and has no end keeps no day.
    g_autoptr(Book) due = kit_change(f, few, "part", "job.due", "2027-11-28");
    g_autoptr(BatchPlan) unfinished = kit_batch(f, due, "2026-11-22");
    g_assert_cmpint(unfinished->jobs[0].late, ==, G_MININT);
    g_assert_true(isnan(kit_value(unfinished, "batch.slack")));
    g_autoptr(Book) two = kit_change(f, f->two, NULL, "shop.days", "2026-11-28 to 2026-12-01");
    g_autoptr(BatchPlan) both = kit_batch(f, two, "2026-11-22");
    g_assert_cmpuint(both->n_sessions, ==, 4);
    g_assert_cmpint(both->jobs[0].left + both->jobs[1].left, >, 0);
    check_figures(both->figures);
}

// Evenings too short to pour anything among days that are long enough, first and last: the job is
// poured on the others.
static void
test_short_days(BatchKit *f, gconstpointer data)
{
    const Book *const books[] = {f->one, f->mixed};
    for (guint i = 0; i < G_N_ELEMENTS(books); i++) {
        g_autoptr(Book) days = kit_change(f, books[i], NULL, "shop.days",
                                          "2026-11-24 18:00-20:00; 2026-11-28 9:00-17:00; "
                                          "2026-12-05 9:00-17:00; 2026-12-08 18:00-20:00");
        g_autoptr(BatchPlan) batch = kit_batch(f, days, "2026-11-22");
        g_assert_cmpuint(batch->n_sessions, ==, 2);
        g_assert_cmpuint(batch->sessions[0].day, ==, kit_day_of("2026-11-28"));
        g_assert_null(strstr(batch->jobs[0].why, "not one flask"));
    }
}

// Returns for every load: half of each is of them, and what ingot is needed beyond the 3.1 kg there
// are is as the job's own plan says. By hand: all flasks with a tenth in reserve, more by the loss,
// half of it.
static void
test_stock(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) even = kit_change(f, f->one, "part", "job.reserve_least", "0 g");
    g_autoptr(Book) book = kit_change(f, even, NULL, "shop.stock",
                                      "3.1 kg a356 ingot; 900 kg a356 returns; 40 kg 413 ingot");
    g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
    const FigureList *figures = plan_figures(batch->jobs[0].plan);
    g_autoptr(Plan) whole = make_plan(book, "part", f->tables, f->cache);
    double flasks = figure_list_value(figures, "run.batch_flasks");
    double loss = figure_list_value(figures, "melt.loss");
    double charge = flasks * figure_list_value(figures, "mould.metal_mass") * 1.1 / (1 - loss);
    check_close(loss, figure_list_value(figures, "job.melt_loss") + 0.005, 1e-12,
                "half of it returns, which lose a hundredth more");
    check_close(batch->totals.charged, charge, 1e-9, "by hand");
    check_close(kit_value(batch, "batch.ingot"), charge / 2 - 3.1, 1e-9, "by hand");
    check_close(kit_value(batch, "batch.ingot"), figure_list_value(figures, "run.ingot_to_buy"),
                1e-9, "stage session");
    // It is bought from the day on which the stock runs out, and shown with what there is.
    double first = batch->sessions[0].charge / 2 - 3.1;
    const CalendarNeed *need = NULL;
    for (guint i = 0; i < batch->n_needs && !need; i++)
        if (batch->needs[i].kind == NEED_INGOT)
            need = &batch->needs[i];
    check_close(need->amount, fmax(0, first), 1e-9, "by hand");
    check_close(need->stock, fmin(3.1, batch->sessions[0].charge / 2), 1e-9, "by hand");
    g_autofree char *text = report_batch_text(batch);
    g_assert_nonnull(strstr(text, "3.10 kg of ingot, 900 kg of returns; after the last session"));
    check_figures(batch->figures);
    check_close(kit_value(batch, "batch.cost_ingot"),
                (charge / 2 - 3.1) * figure_list_value(plan_figures(whole), "job.metal_price"),
                1e-9, "at the price the job's plan has");
    // With ingot enough nothing is to buy.
    g_autoptr(Book) rich = kit_change(f, book, NULL, "shop.stock", "900 kg a356 ingot");
    g_autoptr(BatchPlan) none = kit_batch(f, rich, "2026-11-22");
    check_close(kit_value(none, "batch.ingot"), 0, 1e-12, "all there");
    check_close(kit_value(none, "batch.cost_ingot"), 0, 0, "all there");
    g_autofree char *words = report_batch_text(none);
    g_assert_nonnull(strstr(words, "nothing to buy"));
}

// Thirty sessions in the log, the least a crucible of its kind bears: with no firings typed they
// are counted, so it is replaced before the next. And a pattern that has been rammed is there.
static void
test_past(BatchKit *f, gconstpointer data)
{
    g_autoptr(GString) log = g_string_new("{\"sessions\": [");
    for (int i = 0; i < 30; i++)
        g_string_append_printf(log,
                               "%s{\"date\": \"2026-10-%02d\", \"crucible\": \"crucible-1\", "
                               "\"loads\": [{\"metal\": \"a356\", \"flasks\": [{\"job\": \"part\", "
                               "\"castings\": [{\"good\": false}]}]}]}",
                               i > 0 ? ", " : "", i + 1);
    g_string_append(log, "]}");
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = scan_text(log->str, log->len, "log", 32, &error);
    g_assert_no_error(error);
    g_autoptr(Book) kind = kit_change(f, f->one, "part", "crucible.kind", "clay-graphite");
    g_autoptr(Book) poured = kit_apply(kind, edit_set("/log", node, "Log"));
    g_autoptr(Book) sure = kit_change(f, poured, "part", "job.good_rate", "80 %");
    const Book *const books[] = {kind, sure};
    for (guint i = 0; i < G_N_ELEMENTS(books); i++) {
        guint patterns = 0, crucibles = 0;
        g_autoptr(BatchPlan) batch = kit_batch(f, books[i], "2026-11-22");
        for (guint k = 0; k < batch->n_needs; k++) {
            patterns += batch->needs[k].kind == NEED_PATTERNS;
            crucibles += batch->needs[k].kind == NEED_CRUCIBLE && batch->needs[k].session == 0;
        }
        g_assert_cmpint(batch->jobs[0].poured, ==, i == 0 ? 0 : 30);
        g_assert_cmpuint(patterns, ==, 1 - i);
        g_assert_cmpuint(crucibles, ==, i);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(path, function)                                                                        \
    g_test_add("/report/batch-left/" path, BatchKit, NULL, kit_set_up, function, kit_tear_down)
    ADD("left-out", test_left_out);
    ADD("too-few-days", test_too_few_days);
    ADD("short-days", test_short_days);
    ADD("stock", test_stock);
    ADD("past", test_past);
    return g_test_run();
}
