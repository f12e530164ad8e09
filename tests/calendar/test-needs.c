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
                                     .cavities = 4,
                                     .poured = 2.3,
                                     .casting = 0.31,
                                     .loss = 0.03,
                                     .reserve = 0.07,
                                     .reserve_least = 0.12,
                                     .heel = 0.2,
                                     .price = 5.7,
                                     .sand = 21.3,
                                     .boxes = 4,
                                     .crucible = 0,
                                     .print_time = 86400 * 2.2};
static const CalendarSand sand = {0.03, 10, 2.9};
static const CalendarCrucible pot = {"crucible-a", 19, 20, 64};

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
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(bench.sessions, bench.days, &hanger, 1,
                                                         &pot, 1, NULL, &sand);
    const CalendarNeed *first = find_need(needs, NEED_INGOT, 0, "a356");
    check_close(first->amount, 12.891752577319588, 1e-12, HAND);
    check_close(first->returns, 0, 1e-12, HAND);
    check_close(first->cost, 12.891752577319588 * 5.7, 1e-12, HAND);
    g_assert_cmpuint(first->by, ==, 739001);
    // 12.505 - 20 * 0.31 = 6.305 came back; 5.122 / 0.97 are charged.
    const CalendarNeed *second = find_need(needs, NEED_INGOT, 1, "a356");
    check_close(second->amount, 0, 1e-12, HAND);
    check_close(second->returns, 5.280412371134021, 1e-12, HAND);
    // 6.305 - 5.28041 + 5.122 - 8 * 0.31 = 3.66659.
    const CalendarNeed *third = find_need(needs, NEED_INGOT, 2, "a356");
    check_close(third->returns, 3.666587628865979, 1e-10, HAND);
    check_close(third->amount, 12.891752577319588 - 3.666587628865979, 1e-10, HAND);
    check_close(third->so_far, 2 * 12.891752577319588 - 3.666587628865979, 1e-10, HAND);
    check_close(needs->totals.ingot, third->so_far, 1e-12, HAND);
    check_close(needs->totals.charged, 2 * 12.891752577319588 + 5.280412371134021, 1e-12, HAND);
    check_close(needs->totals.returns_left, 6.305, 1e-10, HAND);
    // What goes in comes out: ingot = castings + loss + what is left.
    check_close(needs->totals.ingot,
                48 * 0.31 + 0.03 * needs->totals.charged + needs->totals.returns_left, 1e-12,
                "mass is kept");
    g_assert_cmpuint(needs->charges->len, ==, 3);
    check_close(g_array_index(needs->charges, double, 1), 5.280412371134021, 1e-12, HAND);
    clear_bench(&bench);
}

static void
test_sand_and_patterns(void)
{
    Bench bench = new_bench();
    for (int i = 0; i < 3; i++)
        add_session(&bench, 1, &(CalendarPour){0, 5});
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(bench.sessions, bench.days, &hanger, 1,
                                                         &pot, 1, NULL, &sand);
    // Four flasks closed at a time hold 85.2 kg: nine boxes. Five flasks burn off 3.195 kg.
    const CalendarNeed *first = find_need(needs, NEED_SAND, 0, NULL);
    check_close(first->amount, 90, 1e-12, HAND);
    check_close(first->cost, 261, 1e-12, HAND);
    g_assert_null(find_need(needs, NEED_SAND, 1, NULL));              // 86.8 kg are left
    const CalendarNeed *third = find_need(needs, NEED_SAND, 2, NULL); // 83.6 kg are left
    check_close(third->amount, 10, 1e-12, HAND);
    check_close(third->so_far, 100, 1e-12, HAND);
    check_close(needs->totals.sand, 100, 1e-12, HAND);
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
    CalendarCrucible pots[] = {{"a", 18, 20, 64}, {"b", 31, 20, 47}, {"c", 90, NAN, 10}};
    Bench bench = new_bench();
    stuff[1].crucible = 1;
    stuff[1].metal = "za-12";
    stuff[2].crucible = 2;
    CalendarPour both[] = {{0, 1}, {1, 1}}, last[] = {{0, 1}, {2, 1}};
    add_session(&bench, 1, both);
    add_session(&bench, 2, both);
    add_session(&bench, 2, last);
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(bench.sessions, bench.days, stuff, 3, pots,
                                                         3, NULL, &sand);
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 1, "a"));
    g_assert_nonnull(find_need(needs, NEED_CRUCIBLE, 1, "b"));
    g_assert_nonnull(find_need(needs, NEED_CRUCIBLE, 2, "a"));
    g_assert_null(find_need(needs, NEED_CRUCIBLE, 2, "c"));
    check_close(needs->totals.cost_crucibles, 111, 1e-12, HAND);
    // As the jobs are poured, but the second pot heated in their stead in the last session.
    const gboolean fired[] = {TRUE, FALSE, FALSE, TRUE, FALSE, FALSE, FALSE, TRUE, FALSE};
    g_autoptr(CalendarNeeds) told = calendar_needs_make(bench.sessions, bench.days, stuff, 3, pots,
                                                        3, fired, &sand);
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

static void
test_nothing(void)
{
    Bench bench = new_bench();
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(bench.sessions, bench.days, NULL, 0, NULL,
                                                         0, NULL, &sand);
    g_assert_cmpuint(needs->needs->len, ==, 0);
    check_close(needs->totals.ingot, 0, 1e-12, HAND);
    CalendarStuff unpriced = hanger;
    unpriced.price = unpriced.print_time = NAN;
    add_session(&bench, 1, &(CalendarPour){0, 1});
    g_autoptr(CalendarNeeds) no_price = calendar_needs_make(bench.sessions, bench.days, &unpriced,
                                                            1, &pot, 1, NULL, &sand);
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
    g_test_add_func("/calendar/needs/nothing", test_nothing);
    g_test_add_func("/calendar/csv", test_csv);
    return g_test_run();
}
