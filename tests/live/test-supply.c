// SPDX-License-Identifier: GPL-3.0-or-later
// What a finished day takes off the stock and puts on it, and the crucible's count. Masses are
// added up by hand: a mould of the sample takes 1.13 kg for three castings of 0.137 kg, a full load
// is charged with 2.71 kg.
#include "live/supply.h"

#include <string.h>

#include "book/store.h"
#include "check.h"
#include "live/live.h"
#include "live/log.h"
#include "live/shelf.h"
#include "sample.h"

static Tables *tables;

typedef struct {
    const char *shop, *job; // members of the book
    const char *charge;     // noted of the first load, NULL: not
    guint loads;            // done
    const char *stock;      // after; NULL: not there
    const char *firings;
    const char *told[3]; // parts of the words
} Case;

#define SHELF                                                                                      \
    "\"stock\":\"12 kg a356 ingot; 1.2 kg  a356 returns; 800 g a356 castings oily; 5 kg 413 "      \
    "ingot\""
#define CRUCIBLE(members) "\"crucibles\":[{\"id\":\"other\"},{\"id\":\"crucible-a\"" members "}]"

static const Case cases[] = {
    // Half of 2.52 kg may be returns, 1.2 are there; 1.32 ingot. Back come 1.11 - 0.411 as weighed
    // and 1.13 - 0.411 as planned: 1.418.
    {SHELF,
     "",
     "2.52 kg",
     1,
     "10.68 kg a356 ingot; 1.418 kg a356 returns; 800 g a356 castings oily; 5 kg 413 ingot",
     NULL,
     {"2.52 kg", "1.42 kg", "planned"}},
    // Not noted: 2.71 planned, 1.51 of it ingot.
    {SHELF,
     "",
     NULL,
     1,
     "10.49 kg a356 ingot; 1.418 kg a356 returns; 800 g a356 castings oily; 5 kg 413 ingot",
     NULL,
     {"2.71 kg", "planned", NULL}},
    // Dirty metal may go in: 1.2 returns, 0.8 castings, 0.52 ingot.
    {SHELF,
     ",\"charge_from\":\"any\"",
     "2.52 kg",
     1,
     "11.48 kg a356 ingot; 1.418 kg a356 returns; 5 kg 413 ingot",
     NULL,
     {NULL, NULL, NULL}},
    // No returns in the charge; more wanted than there is: 1.52 kg were not listed. The castings
    // shelf of another metal is not touched.
    {"\"stock\":\"1 kg a356 ingot; 3 kg za-12 castings\"",
     ",\"returns_share\":\"0 %\"",
     "2.52 kg",
     1,
     "3 kg za-12 castings; 1.418 kg a356 returns",
     NULL,
     {"1.52 kg", "not in the stock", NULL}},
    // 10 lb are 4.53592 kg, less 2.52 are 4.444 lb; 1.418 kg are 3.126 lb.
    {"\"masses\":\"lb\",\"stock\":\"10 lb a356 ingot\"",
     "",
     "2.52 kg",
     1,
     "4.44 lb a356 ingot; 3.13 lb a356 returns",
     NULL,
     {NULL, NULL, NULL}},
    // Two loads: 2.52 and 2.71 charged, of them 1.2 returns; 1.418 and 2 x 0.719 back.
    {SHELF "," CRUCIBLE(",\"firings\":\"7\",\"counts\":\"melt\""),
     "",
     "2.52 kg",
     2,
     "7.97 kg a356 ingot; 2.856 kg a356 returns; 800 g a356 castings oily; 5 kg 413 ingot",
     "9",
     {"now 9", NULL, NULL}},
    {CRUCIBLE(",\"firings\":0"), "", "2.52 kg", 2, NULL, "1", {"now 1", NULL, NULL}},
    // Blank fields are left blank, and nothing is said.
    {CRUCIBLE(""), "", "2.52 kg", 2, NULL, NULL, {NULL, NULL, NULL}},
    // Nothing was melted.
    {SHELF "," CRUCIBLE(",\"firings\":\"7\""),
     "",
     NULL,
     0,
     "12 kg a356 ingot; 1.2 kg  a356 returns; 800 g a356 castings oily; 5 kg 413 ingot",
     "7",
     {NULL, NULL, NULL}},
};

static void
tick(GPtrArray *nodes, const char *key)
{
    g_ptr_array_add(nodes, sample_tick("done", key, SAMPLE_START + 3600 + nodes->len));
}

static void
note(GPtrArray *nodes, const char *key, double mass, const char *text)
{
    LiveTick one = {LIVE_MASS, SAMPLE_START + 9, SAMPLE_START + 9, key, -1, mass, text};
    g_ptr_array_add(nodes, live_tick_node(&one));
}

static GPtrArray *
make_lines(const LiveSheet *sheet, const char *charge, guint loads)
{
    GPtrArray *nodes = g_ptr_array_new_with_free_func((GDestroyNotify)node_unref);
    g_ptr_array_add(nodes, live_sheet_node(sheet));
    for (guint load = 0; load < loads; load++) {
        g_autofree char *key = g_strdup_printf("charge-%u", load + 1);
        tick(nodes, key);
        if (load == 0 && charge)
            note(nodes, key, 2.52, charge);
        for (guint mould = 2 * load + 1; mould <= 2 * load + 2; mould++) {
            g_autofree char *pour = g_strdup_printf("pour-%u", mould);
            tick(nodes, pour);
        }
    }
    if (loads > 0)
        note(nodes, "pour-1", 1.11, "1.11 kg");
    return nodes;
}

static Book *
make_book(const char *shop, const char *job)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *text = g_strdup_printf("{\"format\":\"castbook\",\"version\":1,\"shop\":{%s},"
                                            "\"jobs\":[{\"id\":\"pawl\",\"metal\":\"a356\"%s}]}",
                                            shop, job);
    Book *book = store_parse(text, -1, "test", NULL, tables, &error);
    g_assert_no_error(error);
    return book;
}

static void
check_words(const Case *one, const char *told, const char *notes)
{
    gboolean quiet = !one->told[0] && (!one->stock || one->loads == 0);
    g_assert_cmpint(told == NULL, ==, quiet);
    g_assert_cmpstr(told, ==, notes);
    for (guint i = 0; i < G_N_ELEMENTS(one->told) && one->told[i]; i++)
        g_assert_nonnull(strstr(told, one->told[i]));
}

static void
test_cases(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        const Case *one = &cases[i];
        g_autoptr(GError) error = NULL;
        g_autoptr(LiveSheet) sheet = sample_sheet(2);
        g_autoptr(GPtrArray) nodes = make_lines(sheet, one->charge, one->loads);
        LiveLines lines = {nodes, NULL, nodes->len, FALSE};
        g_autoptr(LiveDay) day = live_day_make(sheet, &lines);
        g_autoptr(Book) book = make_book(one->shop, one->job);
        g_autofree char *told = live_log_told(book, day);
        g_autoptr(Edit) edit = live_log_edit(book, day); // one step, so one undo
        g_autoptr(Book) logged = edit_apply(book, edit, &error);
        g_assert_no_error(error);
        const Node *root = book_root(logged);
        g_test_message("case %u: %s", i, told);
        g_assert_cmpstr(node_text(node_get(root, "/shop/stock")), ==, one->stock);
        g_autofree char *firings = NULL;
        const Node *count = node_get(root, "/shop/crucibles/1/firings");
        if (count)
            g_assert_true(field_node_text(field_find("crucible.firings"), count, &firings, &error));
        g_assert_cmpstr(firings, ==, one->firings);
        check_words(one, told, node_text(node_get(root, "/log/sessions/0/notes")));
        g_assert_cmpuint(live_log_sessions(logged), ==, 1);
        g_assert_cmpuint(live_log_sessions(book), ==, 0);
        g_assert_null(live_log_edit(logged, day)); // nothing is taken twice
    }
}

// A mass that nobody knows leaves the stock as it was, and the day is logged all the same.
static void
test_unknown(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(LiveSheet) sheet = sample_sheet(2);
    sheet->charge_mass = NAN;
    g_autoptr(GPtrArray) nodes = make_lines(sheet, NULL, 1);
    LiveLines lines = {nodes, NULL, nodes->len, FALSE};
    g_autoptr(LiveDay) day = live_day_make(sheet, &lines);
    g_autoptr(Book) book = make_book(SHELF, "");
    g_autofree char *told = live_log_told(book, day);
    g_assert_nonnull(strstr(told, "left as it was"));
    g_autoptr(Edit) edit = live_log_edit(book, day);
    g_autoptr(Book) logged = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    g_assert_cmpstr(node_text(node_get(book_root(logged), "/shop/stock")), ==,
                    node_text(node_get(book_root(book), "/shop/stock")));
    g_assert_cmpstr(node_text(node_get(book_root(logged), "/log/sessions/0/notes")), ==, told);
}

static void
test_shelf(void)
{
    UnitSet units = unit_set_default();
    g_assert_null(live_shelf_new("3 kg of something", &units));
    g_autoptr(LiveShelf) shelf = live_shelf_new(" ; 2 kg 413 chips;1 kg 413 returns ", &units);
    // Returns lose less than chips and go first.
    check_close(live_shelf_take(shelf, "413", 2.5, 0.5, FALSE), 1.25, 1e-12, "no ingot");
    g_autofree char *text = live_shelf_text(shelf);
    g_assert_cmpstr(text, ==, "1.75 kg 413 chips");
    live_shelf_give(shelf, "413", -1);
    check_close(live_shelf_take(shelf, "413", 1.7499, 1, FALSE), 0, 1e-12, "all of it");
    g_autofree char *rest = live_shelf_text(shelf); // a tenth of a gram is nothing
    g_assert_cmpstr(rest, ==, "");
    for (guint i = 0; i < LOTS_MOST + 1; i++) {
        g_autofree char *metal = g_strdup_printf("metal-%u", i);
        live_shelf_give(shelf, metal, 0.5);
    }
    g_assert_null(live_shelf_text(shelf));
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
    g_test_add_func("/live/supply/cases", test_cases);
    g_test_add_func("/live/supply/unknown", test_unknown);
    g_test_add_func("/live/supply/shelf", test_shelf);
    return g_test_run();
}
