// SPDX-License-Identifier: GPL-3.0-or-later
// What has to be on hand, by hand arithmetic.
#include "calendar/needs.h"

#include "calendar/csv.h"
#include "check.h"

#define HAND "by hand"

typedef struct {
    GArray *days, *sessions;
} Bench;

static void
add_session(Bench *bench, guint n, const CalendarPour *pours)
{
    CalendarSession session = {bench->days->len, g_array_new(FALSE, FALSE, sizeof(CalendarPour))};
    CalendarDay day = {739001 + 7 * bench->days->len, 540, 1080};
    g_array_append_vals(session.pours, pours, n);
    g_array_append_val(bench->days, day);
    g_array_append_val(bench->sessions, session);
}

static Bench
new_bench(void)
{
    return (Bench){g_array_new(FALSE, FALSE, sizeof(CalendarDay)),
                   g_array_new(FALSE, FALSE, sizeof(CalendarSession))};
}

static void
clear_bench(Bench *bench)
{
    for (guint i = 0; i < bench->sessions->len; i++)
        g_array_unref(g_array_index(bench->sessions, CalendarSession, i).pours);
    g_array_unref(bench->sessions);
    g_array_unref(bench->days);
}

static const CalendarStuff hanger = {.metal = "a356",
                                     .flasks_per_load = 3,
                                     .poured = 2.3,
                                     .castings = 4 * 0.31,
                                     .loss = 0.03,
                                     .reserve = 0.07,
                                     .reserve_least = 0.12,
                                     .heel = 0.2,
                                     .working = 8.1,
                                     .returns_share = 1,
                                     .price = 5.7,
                                     .sand = 21.3,
                                     .boxes = 4,
                                     .crucible = 0,
                                     .print_time = 86400 * 2.2};
static const CalendarCrucible pot = {.id = "crucible-a", .firings = 19, .life = 20, .price = 64};
static const CalendarShop plain = {&pot, 1, NULL, NULL, {0.03, 10, 2.9}};

static const CalendarNeed *
find_need(const CalendarNeeds *needs, CalendarNeedKind kind, guint session, const char *what)
{
    for (guint i = 0; i < needs->needs->len; i++) {
        const CalendarNeed *need = &g_array_index(needs->needs, CalendarNeed, i);
        if (need->kind == kind && need->session == session && g_strcmp0(need->what, what) == 0)
            return need;
    }
    return NULL;
}

static void
test_charge(void)
{
    // Loads of three and two: 6.9 + 0.483, 4.6 + 0.322, heel 0.2, over 0.97.
    check_close(calendar_needs_charge(&hanger, 5), 12.505 / 0.97, 1e-12, HAND);
    check_close(calendar_needs_charge(&hanger, 6), (13.8 + 0.966 + 0.2) / 0.97, 1e-12, HAND);
    // One flask: 7 % of 2.3 is still above 0.12.
    check_close(calendar_needs_charge(&hanger, 1), (2.3 + 0.161 + 0.2) / 0.97, 1e-12, HAND);
    CalendarStuff light = hanger;
    light.poured = 0.5; // here the least reserve counts, in both loads
    check_close(calendar_needs_charge(&light, 4), (2.0 + 0.12 + 0.12 + 0.2) / 0.97, 1e-12, HAND);
    check_close(calendar_needs_charge(&hanger, 0), 0, 1e-12, HAND);
}

static void
test_one_metal(void)
{
    Bench bench = new_bench();
    add_session(&bench, 1, &(CalendarPour){0, 5});
    add_session(&bench, 1, &(CalendarPour){0, 2});
    add_session(&bench, 1, &(CalendarPour){0, 5});
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, &hanger, 1, &plain);
    const CalendarNeed *first = find_need(needs, NEED_INGOT, 0, "a356");
    check_close(first->amount, 12.891752577319588, 1e-12, HAND);
    check_close(first->returns, 0, 1e-12, HAND);
    check_close(first->cost, 12.891752577319588 * 5.7, 1e-12, HAND);
    g_assert_cmpuint(first->by, ==, 739001);
    // 12.505 - 20 * 0.31 = 6.305 came back, and would be that share of 8.1 kg; 5.122 / 0.97 are
    // charged.
    const CalendarNeed *second = find_need(needs, NEED_INGOT, 1, "a356");
    double charge = 5.122 / 0.97, returns = 6.305 / 8.1 * charge;
    check_close(second->returns, returns, 1e-12, HAND);
    check_close(second->amount, charge - returns, 1e-12, HAND);
    // There is less then than such a share of the third charge.
    double left = 6.305 - returns + 5.122 - 8 * 0.31;
    const CalendarNeed *third = find_need(needs, NEED_INGOT, 2, "a356");
    g_assert_cmpfloat(left, <, left / 8.1 * 12.891752577319588);
    check_close(third->returns, left, 1e-10, HAND);
    check_close(third->amount, 12.891752577319588 - left, 1e-10, HAND);
    check_close(third->so_far, 2 * 12.891752577319588 + charge - returns - left, 1e-10, HAND);
    check_close(needs->totals.ingot, third->so_far, 1e-12, HAND);
    check_close(needs->totals.charged, 2 * 12.891752577319588 + charge, 1e-12, HAND);
    check_close(needs->totals.returns_left, 6.305, 1e-10, HAND);
    // What goes in comes out: ingot = castings + loss + what is left.
    check_close(needs->totals.ingot,
                48 * 0.31 + 0.03 * needs->totals.charged + needs->totals.returns_left, 1e-12,
                "mass is kept");
    g_assert_cmpuint(needs->charges->len, ==, 3);
    check_close(g_array_index(needs->charges, double, 1), charge, 1e-12, HAND);
    clear_bench(&bench);
}

static void
test_sand_and_patterns(void)
{
    Bench bench = new_bench();
    for (int i = 0; i < 3; i++)
        add_session(&bench, 1, &(CalendarPour){0, 5});
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, &hanger, 1, &plain);
    // Four flasks closed at a time hold 85.2 kg: nine boxes. Five flasks burn off 3.195 kg.
    const CalendarNeed *first = find_need(needs, NEED_SAND, 0, NULL);
    check_close(first->amount, 90, 1e-12, HAND);
    check_close(first->cost, 261, 1e-12, HAND);
    g_assert_null(find_need(needs, NEED_SAND, 1, NULL));              // 86.8 kg are left
    const CalendarNeed *third = find_need(needs, NEED_SAND, 2, NULL); // 83.6 kg are left
    check_close(third->amount, 10, 1e-12, HAND);
    check_close(third->so_far, 100, 1e-12, HAND);
    check_close(needs->totals.sand, 100, 1e-12, HAND);
    // With 81 kg there at the outset 4.2 kg are missing: a box; on the third day 0.59 kg: another.
    CalendarShop heaped = plain;
    heaped.sand.ready = 81;
    g_autoptr(CalendarNeeds)
                  less = calendar_needs_make(bench.sessions, bench.days, &hanger, 1, &heaped);
    check_close(find_need(less, NEED_SAND, 0, NULL)->amount, 10, 1e-12, HAND);
    g_assert_null(find_need(less, NEED_SAND, 1, NULL));
    check_close(find_need(less, NEED_SAND, 2, NULL)->so_far, 20, 1e-12, HAND);
    const CalendarNeed *patterns = find_need(needs, NEED_PATTERNS, 0, NULL);
    g_assert_cmpint(patterns->job, ==, 0);
    g_assert_cmpuint(patterns->begin, ==, 739001 - 3); // 2.2 days
    g_assert_null(find_need(needs, NEED_PATTERNS, 1, NULL));
    // Nineteen firings of twenty: one more, then a new one.
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 0, "crucible-a"));
    g_assert_nonnull(find_need(needs, NEED_CRUCIBLE, 1, "crucible-a"));
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 2, "crucible-a"));
    g_assert_cmpint(needs->totals.crucibles, ==, 1);
    check_close(needs->totals.cost_crucibles, 64, 1e-12, HAND);
    clear_bench(&bench);
}

// A crucible fired in two sessions of three, another past its life from the start, one of a kind
// whose life is not known.
static void
test_crucibles(void)
{
    CalendarStuff stuff[] = {hanger, hanger, hanger};
    CalendarCrucible pots[] = {{.id = "a", .firings = 18, .life = 20, .price = 64},
                               {.id = "b", .firings = 31, .life = 20, .price = 47},
                               {.id = "c", .firings = 90, .life = NAN, .price = 10}};
    CalendarShop shop = {pots, 3, NULL, NULL, plain.sand};
    Bench bench = new_bench();
    stuff[1].crucible = 1;
    stuff[1].metal = "za-12";
    stuff[2].crucible = 2;
    CalendarPour both[] = {{0, 1}, {1, 1}}, last[] = {{0, 1}, {2, 1}};
    add_session(&bench, 1, both);
    add_session(&bench, 2, both);
    add_session(&bench, 2, last);
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, stuff, 3, &shop);
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 1, "a"));
    g_assert_nonnull(find_need(needs, NEED_CRUCIBLE, 1, "b"));
    g_assert_nonnull(find_need(needs, NEED_CRUCIBLE, 2, "a"));
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 2, "c"));
    check_close(needs->totals.cost_crucibles, 111, 1e-12, HAND);
    // As the jobs are poured, but the second pot heated in their stead in the last session.
    const int melts[] = {2, 0, 0, 3, 0, 0, 0, 1, 0};
    shop.melts = melts;
    g_autoptr(CalendarNeeds)
                  told = calendar_needs_make(bench.sessions, bench.days, stuff, 3, &shop);
    g_assert_null(find_need(told, NEED_CRUCIBLE, 1, "b"));
    g_assert_nonnull(find_need(told, NEED_CRUCIBLE, 2, "b"));
    g_assert_null(find_need(told, NEED_CRUCIBLE, 2, "a"));
    // Metals are kept apart: the second session's zinc has no returns to begin with.
    check_close(find_need(needs, NEED_INGOT, 1, "za-12")->returns, 0, 1e-12, HAND);
    g_assert_cmpfloat(find_need(needs, NEED_INGOT, 1, "a356")->returns, >, 0);
    // Two jobs of one session that melt the same metal share its returns.
    check_close(find_need(needs, NEED_INGOT, 2, "a356")->returns +
                    find_need(needs, NEED_INGOT, 2, "a356")->amount,
                2 * calendar_needs_charge(&hanger, 1), 1e-12, HAND);
    // Sand for both jobs' flasks at once.
    check_close(find_need(needs, NEED_SAND, 1, NULL)->so_far, 50, 1e-12, HAND);
    clear_bench(&bench);
}

// A firing is a melt here: 17 of 20 so far, two spares on the shelf.
static void
test_melts(void)
{
    Bench bench = new_bench();
    CalendarCrucible one = {.id = "a", .firings = 17, .life = 20, .by_melt = TRUE, .price = 64};
    const int melts[] = {2, 3, 7, 45};
    CalendarShop shop = {&one, 1, melts, NULL, plain.sand};
    for (int i = 0; i < 4; i++)
        add_session(&bench, 1, &(CalendarPour){0, 1});
    one.spares = 2;
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, &hanger, 1, &shop);
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 0, "a")); // 19 of 20
    const CalendarNeed *second = find_need(needs, NEED_CRUCIBLE, 1, "a");
    check_close(second->stock, 1, 0, HAND);
    check_close(second->amount, 0, 0, HAND);
    check_close(second->cost, 0, 0, HAND);
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 2, "a")); // 3 + 7 of 20
    // Forty-five melts wear out two and take a third: one spare is left, two are bought.
    const CalendarNeed *last = find_need(needs, NEED_CRUCIBLE, 3, "a");
    check_close(last->stock, 1, 0, HAND);
    check_close(last->amount, 2, 0, HAND);
    check_close(last->cost, 128, 1e-12, HAND);
    g_assert_cmpint(needs->totals.crucibles, ==, 2);
    g_assert_cmpint(needs->totals.spares, ==, 2);
    // Counted in cold starts the same sessions are four firings: the last needs another.
    one.by_melt = FALSE;
    g_autoptr(CalendarNeeds)
                  starts = calendar_needs_make(bench.sessions, bench.days, &hanger, 1, &shop);
    g_assert_null(find_need(starts, NEED_CRUCIBLE, 2, "a"));
    g_assert_nonnull(find_need(starts, NEED_CRUCIBLE, 3, "a"));
    g_assert_cmpint(starts->totals.spares, ==, 1);
    clear_bench(&bench);
}

static GArray *
read_lots(const char *text)
{
    UnitSet units = unit_set_default();
    g_autoptr(GError) error = NULL;
    GArray *lots = lots_read(text, &units, NULL, &error);
    g_assert_no_error(error);
    return lots;
}

// Half of each charge may be returns. Without a heel three full loads of three flasks charge
// 3 * (6.9 + 0.483) / 0.97 = 22.149 / 0.97 kg; 36 castings of 0.31 kg leave 22.149 - 11.16
// = 10.989.
static void
test_stock(void)
{
    Bench bench = new_bench();
    CalendarStuff stuff = hanger;
    stuff.heel = 0;
    stuff.returns_share = 0.5;
    g_autoptr(GArray)
                  lots = read_lots("20 kg a356 ingot; 9.5 kg a356 returns; 1.3 kg a356 castings; "
                                   "4 kg a356 chips oily; 50 kg 413 ingot");
    CalendarShop shop = plain;
    shop.lots = lots;
    for (int i = 0; i < 3; i++)
        add_session(&bench, 1, &(CalendarPour){0, 9});
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, &stuff, 1, &shop);
    double charge = 22.149 / 0.97, back = 10.989;
    // 9.5 of returns, less than half; the old castings; the rest ingot, which is there.
    const CalendarNeed *first = find_need(needs, NEED_INGOT, 0, "a356");
    check_close(first->returns, 9.5, 1e-12, HAND);
    check_close(first->castings, 1.3, 1e-12, HAND);
    check_close(first->stock, charge - 10.8, 1e-12, HAND);
    check_close(first->amount, 0, 0, HAND);
    check_close(first->cost, 0, 0, HAND);
    // What came back, less than half as well; what is left of 20 kg; the rest is bought.
    const CalendarNeed *second = find_need(needs, NEED_INGOT, 1, "a356");
    double left = 20 - (charge - 10.8);
    check_close(second->returns, back, 1e-12, HAND);
    check_close(second->castings, 0, 0, HAND);
    check_close(second->stock, left, 1e-12, HAND);
    check_close(second->amount, charge - back - left, 1e-12, HAND);
    const CalendarNeed *third = find_need(needs, NEED_INGOT, 2, "a356");
    check_close(third->amount, charge - back, 1e-12, HAND);
    check_close(third->so_far, 2 * charge - 2 * back - left, 1e-12, HAND);
    check_close(third->cost, 5.7 * (charge - back), 1e-12, HAND);
    g_assert_cmpuint(needs->shelves->len, ==, 1);
    const CalendarShelf *shelf = &g_array_index(needs->shelves, CalendarShelf, 0);
    check_close(shelf->before[MAKEUP_RETURNS], 9.5, 1e-12, "oily chips stay out");
    check_close(shelf->before[MAKEUP_INGOT], 20, 1e-12, HAND);
    check_close(shelf->after[MAKEUP_RETURNS], back, 1e-12, HAND);
    check_close(shelf->after[MAKEUP_INGOT], 0, 0, HAND);
    check_close(needs->totals.ingot + 9.5 + 1.3 + 20,
                108 * 0.31 + 0.03 * needs->totals.charged + back, 1e-12, "mass is kept");
    // The list itself is not touched.
    check_close(g_array_index(lots, Lot, 0).mass, 20, 0, HAND);
    // A job that takes any metal takes the chips too, after the returns, which lose less.
    stuff.any = TRUE;
    g_autoptr(CalendarNeeds)
                  any = calendar_needs_make(bench.sessions, bench.days, &stuff, 1, &shop);
    check_close(find_need(any, NEED_INGOT, 0, "a356")->returns, charge / 2, 1e-12, HAND);
    clear_bench(&bench);
}

// Two jobs of one metal in a session: each takes returns up to its own share, by the stock of the
// morning; the other one's 75 % are more than 6 of 8.1 kg.
static void
test_shares(void)
{
    Bench bench = new_bench();
    CalendarStuff stuff[] = {hanger, hanger};
    stuff[0].returns_share = 0.25;
    stuff[1].returns_share = 0.75;
    g_autoptr(GArray) lots = read_lots("6 kg a356 returns");
    CalendarShop shop = plain;
    shop.lots = lots;
    CalendarPour both[] = {{0, 2}, {1, 2}};
    add_session(&bench, 2, both);
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, stuff, 2, &shop);
    double charge = (4.6 + 0.322 + 0.2) / 0.97;
    const CalendarNeed *need = find_need(needs, NEED_INGOT, 0, "a356");
    check_close(need->returns, (0.25 + 6 / 8.1) * charge, 1e-12, HAND);
    check_close(need->amount, (1.75 - 6 / 8.1) * charge, 1e-12, HAND);
    clear_bench(&bench);
}

// One printer: sets of 2.2 and 1.5 days for the same morning are begun four days before it, the
// later one two days; another set for a week later is not in their way; one that is there already
// is not printed again.
static void
test_printer(void)
{
    Bench bench = new_bench();
    CalendarStuff stuff[] = {hanger, hanger, hanger, hanger};
    stuff[1].print_time = 86400 * 1.5;
    stuff[3].printed = TRUE;
    CalendarPour first[] = {{0, 1}, {1, 1}, {3, 1}};
    add_session(&bench, 3, first);
    add_session(&bench, 1, &(CalendarPour){2, 1});
    g_autoptr(CalendarNeeds)
                  needs = calendar_needs_make(bench.sessions, bench.days, stuff, 4, &plain);
    guint32 begin[4] = {0};
    for (guint i = 0; i < needs->needs->len; i++) {
        const CalendarNeed *need = &g_array_index(needs->needs, CalendarNeed, i);
        if (need->kind == NEED_PATTERNS)
            begin[need->job] = need->begin;
    }
    g_assert_cmpuint(begin[0], ==, 739001 - 4); // 3.7 days
    g_assert_cmpuint(begin[1], ==, 739001 - 2);
    g_assert_cmpuint(begin[2], ==, 739008 - 3);
    g_assert_cmpuint(begin[3], ==, 0);
    clear_bench(&bench);
}

static void
test_nothing(void)
{
    Bench bench = new_bench();
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(bench.sessions, bench.days, NULL, 0,
                                                         &(CalendarShop){.sand = plain.sand});
    g_assert_cmpuint(needs->needs->len, ==, 0);
    check_close(needs->totals.ingot, 0, 1e-12, HAND);
    CalendarStuff unpriced = hanger;
    unpriced.price = unpriced.print_time = NAN;
    add_session(&bench, 1, &(CalendarPour){0, 1});
    g_autoptr(CalendarNeeds)
                  no_price = calendar_needs_make(bench.sessions, bench.days, &unpriced, 1, &plain);
    g_assert_true(isnan(no_price->totals.cost_ingot));
    g_assert_cmpuint(find_need(no_price, NEED_PATTERNS, 0, NULL)->begin, ==, 0);
    clear_bench(&bench);
}

static void
test_csv(void)
{
    g_autoptr(GString) out = g_string_new(NULL);
    const char *const cells[] = {"plain", "a, b", "say \"ah\"", "two\nlines", NULL, "", "é"};
    calendar_csv_row(out, cells, G_N_ELEMENTS(cells));
    calendar_csv_row(out, cells, 0);
    // RFC 4180, section 2, rules 5 to 7.
    g_assert_cmpstr(out->str, ==, "plain,\"a, b\",\"say \"\"ah\"\"\",\"two\nlines\",,,é\r\n\r\n");
    static const struct {
        double value;
        int digits;
        const char *text;
    } numbers[] = {{1.5, 3, "1.5"},           {2, 3, "2"},     {0.0004, 3, "0"}, {-0.0004, 3, "0"},
                   {1234.5678, 2, "1234.57"}, {100, 0, "100"}, {NAN, 3, ""},     {INFINITY, 3, ""},
                   {-2.25, 1, "-2.2"}};
    for (guint i = 0; i < G_N_ELEMENTS(numbers); i++) {
        g_autofree char *text = calendar_csv_number(numbers[i].value, numbers[i].digits);
        g_assert_cmpstr(text, ==, numbers[i].text);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/calendar/needs/charge", test_charge);
    g_test_add_func("/calendar/needs/one-metal", test_one_metal);
    g_test_add_func("/calendar/needs/sand-and-patterns", test_sand_and_patterns);
    g_test_add_func("/calendar/needs/crucibles", test_crucibles);
    g_test_add_func("/calendar/needs/melts", test_melts);
    g_test_add_func("/calendar/needs/stock", test_stock);
    g_test_add_func("/calendar/needs/shares", test_shares);
    g_test_add_func("/calendar/needs/printer", test_printer);
    g_test_add_func("/calendar/needs/nothing", test_nothing);
    g_test_add_func("/calendar/csv", test_csv);
    return g_test_run();
}
