// SPDX-License-Identifier: GPL-3.0-or-later
// What holds each session of a batch back, against batches of a shop with more of one thing; and
// loads that jobs share, by hand.
#include "batch-kit.h"

#include <json-glib/json-glib.h>
#include <string.h>

#include "report/batch.h"

// Flasks the first session pours more once a field of the shop is changed.
static int
find_gain(const BatchKit *f, const Book *book, const BatchPlan *now, const char *path,
          const char *text)
{
    g_autoptr(Book) more = kit_change(f, book, "part", path, text);
    g_autoptr(BatchPlan) then = kit_batch(f, more, "2026-11-22");
    return kit_flasks(&then->sessions[0]) - kit_flasks(&now->sessions[0]);
}

static const BatchSession *
find_shared(const BatchPlan *batch)
{
    for (guint i = 0; i < batch->n_sessions; i++)
        if (batch->sessions[i].n_pours > 1)
            return &batch->sessions[i];
    g_assert_not_reached();
}

// A load takes three flasks. The session in which the first job ends pours four of it and one of
// the other, both of one metal: two loads, for none takes five; and one of them is of both jobs,
// for the single flask can only be alone if the other four are one load.
static void
check_shared(const BatchPlan *batch)
{
    const BatchSession *session = find_shared(batch);
    const BatchPour *part = &session->pours[0], *other = &session->pours[1];
    g_assert_cmpint(part->flasks, ==, 4);
    g_assert_cmpint(other->flasks, ==, 1);
    g_assert_cmpint(session->loads, ==, 2);
    g_assert_cmpint(session->shared, ==, 1);
    g_assert_cmpint(session->melts[0], ==, session->loads);
    g_assert_cmpint(part->loads, ==, 2);
    g_assert_cmpint(part->shared, ==, 1);
    g_assert_cmpint(other->loads, ==, 1);
    g_assert_cmpint(other->shared, ==, 1);
}

static void
check_words(const BatchPlan *batch)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *text = report_batch_text(batch), *json = report_batch_json(batch);
    g_autofree char *rows = report_batch_csv(batch), *ics = report_batch_ics(batch, "t", -1, NULL);
    g_assert_nonnull(strstr(text, "4 flasks, 8 castings, 2 loads, 1 shared, "));
    g_assert_nonnull(strstr(text, "1 flask, 2 castings, 1 shared load, "));
    g_assert_nonnull(strstr(text, "2 loads, 1 shared · held back by the flasks. One more flask"));
    g_auto(GStrv) lines = g_strsplit(ics, "\r\n ", -1); // unfolded
    g_autofree char *unfolded = g_strjoinv("", lines);
    g_assert_nonnull(strstr(unfolded, "1 shared · held back by the flasks."));
    g_assert_nonnull(strstr(rows, ",days_late,shared_loads,session_loads,held_back\r\n"));
    g_assert_nonnull(strstr(rows, ",1,2,flasks\r\n"));
    g_autoptr(JsonParser) parser = json_parser_new();
    json_parser_load_from_data(parser, json, -1, &error);
    g_assert_no_error(error);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    JsonArray *sessions = json_object_get_array_member(root, "sessions");
    JsonObject *shared = json_array_get_object_element(
        sessions, (guint)(find_shared(batch) - batch->sessions));
    g_assert_cmpint(json_object_get_int_member(shared, "loads"), ==, 2);
    g_assert_cmpint(json_object_get_int_member(shared, "shared_loads"), ==, 1);
    g_assert_cmpstr(json_object_get_string_member(shared, "held_back"), ==, "flasks");
}

// Little daylight: one more flask and one more hour of light bring what the batch of such a shop
// pours more, which is the same; another pair of hands brings less. The flask is named, as it is
// the easiest to get.
static void
test_mixed(BatchKit *f, gconstpointer data)
{
    g_autoptr(Book) fewer = kit_change(f, f->mixed, "part", "job.quantity", "13");
    g_autoptr(Book) same = kit_change(f, fewer, "other", "job.metal", "a356");
    g_autoptr(Book) book = kit_change(f, same, NULL, "shop.light_to", "14:00");
    g_autoptr(BatchPlan) batch = kit_batch(f, book, "2026-11-22");
    const BatchSession *first = &batch->sessions[0],
                       *last = &batch->sessions[batch->n_sessions - 1];
    int flask = find_gain(f, book, batch, "flask.count", "5");
    g_assert_cmpint(flask, >, 0);
    g_assert_cmpint(flask, ==, find_gain(f, book, batch, "shop.light_to", "15:00"));
    g_assert_cmpint(flask, >, find_gain(f, book, batch, "people.count", "2"));
    g_assert_cmpstr(first->held, ==, "flasks");
    g_autofree char *why = g_strdup_printf("One more flask would bring %d more flask of Part.",
                                           flask);
    g_assert_cmpstr(first->held_why, ==, why);
    g_assert_cmpstr(last->held, ==, BATCH_HELD_NOTHING);
    g_assert_null(last->held_why);
    g_autofree char *count = g_strdup_printf(
        "held back by the flasks: %u of %u; pours all that is left: 1 of %u", batch->n_sessions - 1,
        batch->n_sessions, batch->n_sessions);
    g_assert_cmpstr(figure_list_find(batch->figures, "batch.held_back")->text, ==, count);
    check_shared(batch);
    check_words(batch);
    check_figures(batch->figures);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add("/report/batch-held/mixed", BatchKit, NULL, kit_set_up, test_mixed, kit_tear_down);
    return g_test_run();
}
