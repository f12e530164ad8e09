// SPDX-License-Identifier: GPL-3.0-or-later
// The whole stage on a small shop: figures by hand, formulas that agree with their values, checks
// that fail with words, and unknowns that spread.
#include "melt/melt.h"

#include <string.h>

#include "book/store.h"
#include "check.h"
#include "figure/source.h"

static Tables *tables;

static const char *const metal_keys[] = {"metal.density_liquid",
                                         "metal.density_slope",
                                         "metal.liquidus",
                                         "ratingmetal.density_liquid",
                                         "cruciblekind.firings_max",
                                         "cruciblekind.warmup_1",
                                         "cruciblekind.warmup_2",
                                         "cruciblekind.warmup_hold",
                                         "cruciblekind.temper_at",
                                         "cruciblekind.temper_hold",
                                         NULL};

typedef struct {
    FigureList *figures;
    MeltResult *result;
} Melt;

// A shop of awkward numbers; `shop` and `job` are further members, later ones of a crucible or
// furnace given whole.
static Melt
run_stage(const char *shop, const char *furnace, const char *crucible, const char *job,
          double flask_metal, const char *families)
{
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{"
        "\"ambient\":\"17.5 °C\",%s\"people\":{\"charge_time\":\"7 min\",\"skim_time\":\"3.5 min\","
        "\"pour_time\":\"75 s\"},"
        "\"furnaces\":[{\"id\":\"f\",%s}],\"crucibles\":[{\"id\":\"c\",%s}],"
        "\"flasks\":[{\"id\":\"b\",\"count\":\"3\"}]},"
        "\"jobs\":[{\"id\":\"j\"%s}]}",
        shop, furnace, crucible, job);
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = store_parse(text, -1, "melt.castbook", NULL, tables, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "j", tables, NULL, melt_reads);
    g_autoptr(FigureList) mould = figure_list_new();
    figure_give(mould, "mould.metal_mass", "Metal in a flask", QUANTITY_MASS, flask_metal, NULL,
                "geometry");
    if (families)
        figure_give(mould, "learn.crucible_families", "Families", QUANTITY_TEXT, NAN, families,
                    "measured");
    Melt melt = {figure_list_new(), NULL};
    figure_list_see(melt.figures, mould);
    melt.result = melt_stage(inputs, NULL, melt.figures, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(melt.result);
    return melt;
}

static Melt
session_stage(const char *furnace, const char *crucible, const char *job, double flask_metal)
{
    return run_stage("", furnace, crucible, job, flask_metal, NULL);
}

static void
clear_melt(Melt *melt)
{
    figure_list_unref(melt->figures);
    melt_result_unref(melt->result);
}

#define FURNACE                                                                                    \
    "\"power\":\"3.1 kW\",\"efficiency\":\"37 %\",\"standing_loss\":\"790 W\","                    \
    "\"warm_up_rate\":\"7 K/min\""
#define CRUCIBLE                                                                                   \
    "\"kind\":\"clay-graphite\",\"rating\":\"8 kg\",\"rating_metal\":\"gold\",\"family\":"         \
    "\"aluminium\",\"firings\":\"11\""
#define JOB                                                                                        \
    ",\"metal\":\"a356\",\"reserve\":\"10 %\",\"reserve_least\":\"100 g\",\"heel\":\"50 g\","      \
    "\"melt_loss\":\"2 %\",\"pouring_temperature\":\"720 °C\""

static const Figure *
get_figure(const Melt *melt, const char *id)
{
    const Figure *figure = figure_list_find(melt->figures, id);
    g_assert_nonnull(figure);
    return figure;
}

static void
test_by_hand(void)
{
    Melt melt = session_stage(FURNACE, CRUCIBLE, JOB, 0.2875);
    const MeltResult *r = melt.result;
    // 8 kg / 17310 = 0.46216 l, three quarters of it, 2400 - 0.264 x 107 = 2371.752 kg/m3.
    check_close(figure_list_value(melt.figures, "melt.crucible_volume"), 462.1606008e-6, 1e-9,
                "by hand");
    check_close(r->working_mass, 0.822097746967, 1e-10, "by hand");
    check_close(figure_list_value(melt.figures, "melt.brim_mass"), 0.822097746967 / 0.75, 1e-10,
                "by hand");
    g_assert_nonnull(
        strstr(get_figure(&melt, "melt.brim_mass")->note, "8.00 kg of Gold, fine fill"));
    g_assert_cmpint(r->flasks_per_load, ==, 2);
    // 2 x 0.2875 and the least reserve of 100 g and the heel of 50 g, over 0.98.
    check_close(r->charge_mass, 0.725 / 0.98, 1e-12, "by hand");
    // 963 x 539.5 + 425000 + 1078.5 x 56 + 1194 x 107 = 1132692.5 + ... J/kg.
    double content = 963 * 539.5 + 425000 + 1078.5 * 56 + 1194 * 107;
    check_close(r->heat, content * 0.725 / 0.98, 1e-12, "by hand");
    // (3100 - 790) x 0.37 = 854.7 W.
    check_close(r->heat_time, r->heat / 854.7, 1e-12, "by hand");
    // 7 min, 3.5 min, twice 75 s.
    check_close(r->cycle_time, r->heat_time + 780, 1e-12, "by hand");
    check_close(r->energy, 3100 * r->heat_time + 790 * 780, 1e-12, "by hand");
    // 702.5 K at 7 K/min and twice 45 min.
    check_close(r->warmup_time, 702.5 / 7 * 60 + 5400, 1e-12, "by hand");
    check_close(r->warmup_energy, 3100 * 702.5 / 7 * 60 + 790 * 5400, 1e-12, "by hand");
    check_close(r->pouring_temperature, 720, 1e-12, "as typed");
    g_assert_cmpuint(r->n_warmup, ==, 3);
    check_close(figure_list_value(melt.figures, "melt.crucible_firings_left"), 80 - 11, 1e-12,
                "by hand");
    check_close(figure_list_value(melt.figures, "melt.superheat"), 107, 1e-12, "by hand");
    g_assert_cmpint(get_figure(&melt, "melt.crucible_rules")->state, ==, FIGURE_HOLDS);
    g_assert_cmpint(get_figure(&melt, "melt.flasks_per_load")->state, ==, FIGURE_HOLDS);
    g_assert_nonnull(strstr(get_figure(&melt, "melt.crucible_firings_left")->note, "19 to 69"));
    g_assert_cmpstr(figure_source(get_figure(&melt, "melt.heat_content")), ==,
                    "substech-356+mills-2002");
    g_assert_nonnull(strstr(get_figure(&melt, "melt.heat_content")->note, "disagree"));
    check_figures(melt.figures);
    clear_melt(&melt);
}

static void
test_figures_agree_with_result(void)
{
    Melt melt = session_stage(FURNACE, CRUCIBLE, JOB, 0.1931);
    const MeltResult *r = melt.result;
    const struct {
        const char *id;
        double value;
    } pairs[] = {{"melt.charge_mass", r->charge_mass},
                 {"melt.working_mass", r->working_mass},
                 {"melt.flasks_per_load", r->flasks_per_load},
                 {"melt.heat", r->heat},
                 {"melt.heat_time", r->heat_time},
                 {"melt.cycle_time", r->cycle_time},
                 {"melt.energy", r->energy},
                 {"melt.warmup_energy", r->warmup_energy},
                 {"melt.warmup_time", r->warmup_time}};
    for (guint i = 0; i < G_N_ELEMENTS(pairs); i++)
        check_close(figure_list_value(melt.figures, pairs[i].id), pairs[i].value, 1e-15,
                    pairs[i].id);
    double sum = 0;
    for (guint i = 0; i < r->n_warmup; i++)
        sum += r->warmup[i].ramp + r->warmup[i].hold;
    check_close(sum, r->warmup_time, 1e-12, "the sum of the steps");
    clear_melt(&melt);
}

// One flask needs more than the crucible holds: the check says how much and what would do, and the
// rating it names does.
static void
test_too_small_a_crucible(void)
{
    Melt melt = session_stage(FURNACE, CRUCIBLE, JOB, 2.0385);
    const Figure *flasks = get_figure(&melt, "melt.flasks_per_load");
    g_assert_cmpint(flasks->state, ==, FIGURE_FAILS);
    check_close(flasks->margin, -1, 1e-12, "none of one");
    g_assert_nonnull(strstr(flasks->note, "One flask needs"));
    // (2.0385 x 1.1 + 0.05) / 0.98 = 2.3391 kg: 1.31498 l to the brim, 22.76 kg of gold.
    g_assert_nonnull(strstr(flasks->note, "2.34 kg"));
    g_assert_nonnull(strstr(flasks->note, "23"));
    g_assert_nonnull(strstr(flasks->note, "(Gold, fine)"));
    g_assert_cmpint(get_figure(&melt, "melt.charge_mass")->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpstr(get_figure(&melt, "melt.cycle_time")->missing, ==, "melt.flasks_per_load");
    g_assert_cmpint(melt.result->flasks_per_load, ==, 0);
    g_assert_true(isnan(melt.result->charge_mass));
    check_close(figure_list_value(melt.figures, "melt.rating_needed"),
                (2.0385 * 1.1 + 0.05) / 0.98 / 2371.752 / 0.75 * 17310, 1e-12, "by hand");
    check_figures(melt.figures);
    clear_melt(&melt);
    melt = session_stage(FURNACE, "\"rating\":\"23 kg\",\"rating_metal\":\"gold\"", JOB, 2.0385);
    g_assert_cmpint(melt.result->flasks_per_load, ==, 1);
    clear_melt(&melt);
    melt = session_stage(FURNACE, "\"rating\":\"22.7 kg\",\"rating_metal\":\"gold\"", JOB, 2.0385);
    g_assert_cmpint(melt.result->flasks_per_load, ==, 0);
    clear_melt(&melt);
}

static void
test_no_more_flasks(void)
{
    Melt melt = session_stage(FURNACE, "\"rating\":\"10 kg\",\"rating_metal\":\"a356\"", JOB,
                              0.2875);
    g_assert_cmpint(melt.result->flasks_per_load, ==, 3);
    g_assert_nonnull(strstr(get_figure(&melt, "melt.flasks_per_load")->note, "no more flasks"));
    check_figures(melt.figures);
    clear_melt(&melt);
}

static void
test_weak_furnace(void)
{
    Melt melt = session_stage("\"power\":\"780 W\",\"standing_loss\":\"790 W\"", CRUCIBLE, JOB,
                              0.2875);
    const Figure *power = get_figure(&melt, "melt.power_into_metal");
    g_assert_cmpint(power->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(power->note, "never melt"));
    g_assert_cmpint(get_figure(&melt, "melt.heat")->state, ==, FIGURE_PLAIN);
    g_assert_cmpstr(get_figure(&melt, "melt.heat_time")->missing, ==, "melt.power_into_metal");
    g_assert_cmpint(get_figure(&melt, "melt.energy")->state, ==, FIGURE_UNKNOWN);
    g_assert_true(isnan(melt.result->heat_time));
    check_figures(melt.figures);
    clear_melt(&melt);
}

static void
test_wrong_crucible(void)
{
    Melt melt = session_stage(FURNACE,
                              "\"kind\":\"ceramic\",\"rating\":\"8 kg\",\"family\":\"gold\","
                              "\"firings\":\"20\"",
                              JOB, 0.2875);
    const Figure *rules = get_figure(&melt, "melt.crucible_rules");
    g_assert_cmpint(rules->state, ==, FIGURE_FAILS);
    check_close(rules->value, 2, 1e-12, "kind and bond");
    g_assert_nonnull(strstr(rules->note, "bound to gold"));
    const Figure *left = get_figure(&melt, "melt.crucible_firings_left");
    g_assert_cmpint(left->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(left->note, "has had 20"));
    g_assert_nonnull(strstr(get_figure(&melt, "melt.flux")->text, "borax"));
    check_figures(melt.figures);
    clear_melt(&melt);
}

// The log binds a crucible nobody has bound by hand; what is typed goes before it.
static void
test_bound_by_log(void)
{
    Melt melt = run_stage("", FURNACE, "\"rating\":\"8 kg\"", JOB, 0.2875, "copper");
    const Figure *rules = get_figure(&melt, "melt.crucible_rules");
    g_assert_cmpint(rules->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(rules->note, "bound to copper"));
    clear_melt(&melt);
    melt = run_stage("", FURNACE, "\"rating\":\"8 kg\",\"family\":\"aluminium\"", JOB, 0.2875,
                     "copper");
    g_assert_cmpint(get_figure(&melt, "melt.crucible_rules")->state, ==, FIGURE_HOLDS);
    clear_melt(&melt);
}

// The error of a learned efficiency goes on to the melting time; a typed one has none.
static void
test_time_error(void)
{
    static const char book_text[] =
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"furnaces\":[{\"id\":\"f\"%s}]},"
        "\"jobs\":[{\"id\":\"j\",\"metal\":\"a356\"}]}";
    for (int typed = 0; typed < 2; typed++) {
        g_autofree char *text = g_strdup_printf(book_text, typed ? ",\"efficiency\":\"31 %\"" : "");
        g_autoptr(Book) book = store_parse(text, -1, "b", NULL, tables, NULL);
        g_autoptr(Learned) learned = learned_new();
        learned_set(learned, "furnace.efficiency", 0.31, "measured in this shop: 7 loads");
        g_autoptr(Inputs) inputs = inputs_resolve(book, "j", tables, learned, melt_reads);
        g_autoptr(FigureList) earlier = figure_list_new();
        figure_give(earlier, "mould.metal_mass", "M", QUANTITY_MASS, 0.5, NULL, "geometry");
        figure_give(earlier, "learn.furnace_efficiency", "E", QUANTITY_RATIO, 0.31, NULL,
                    "measured");
        figure_give(earlier, "learn.furnace_efficiency_error", "D", QUANTITY_RATIO, 0.017, NULL,
                    "measured");
        Melt melt = {figure_list_new(), NULL};
        figure_list_see(melt.figures, earlier);
        melt.result = melt_stage(inputs, NULL, melt.figures, NULL, NULL);
        if (typed)
            g_assert_null(figure_list_find(melt.figures, "melt.heat_time_error"));
        else
            check_close(figure_list_value(melt.figures, "melt.heat_time_error"),
                        melt.result->heat_time * 0.017 / 0.31, 1e-12, "by hand");
        check_figures(melt.figures);
        clear_melt(&melt);
    }
}

static void
test_care(void)
{
    static const struct {
        const char *crucible, *job, *id;
        FigureState state;
        const char *words;
    } cases[] = {
        {"\"cracks\":\"none\"", "", "melt.crucible_cracks", FIGURE_HOLDS, NULL},
        {"\"cracks\":\"hairline\"", "", "melt.crucible_cracks", FIGURE_CLOSE, "rings"},
        {"\"cracks\":\"cracked\"", "", "melt.crucible_cracks", FIGURE_FAILS, "Take another"},
        {"\"residue\":\"none\"", "", "melt.crucible_residue", FIGURE_HOLDS, NULL},
        {"\"residue\":\"skin\",\"notes\":\"glaze gone on one side\"", "", "melt.crucible_residue",
         FIGURE_HOLDS, "warm; a skin builds up and eats the wall. glaze"},
        {"\"residue\":\"frozen\"", "", "melt.crucible_residue", FIGURE_CLOSE, "split"},
        {"\"kind\":\"graphite\"", ",\"flux\":\"borax\"", "melt.flux_grade", FIGURE_FAILS,
         "No borax"},
        {"\"kind\":\"graphite\"", ",\"flux\":\"chloride\"", "melt.flux_grade", FIGURE_CLOSE,
         "sparingly"},
        {"\"kind\":\"graphite\"", "", "melt.flux_grade", FIGURE_HOLDS, NULL},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        Melt melt = session_stage(FURNACE, cases[i].crucible, cases[i].job, 0.2875);
        const Figure *figure = get_figure(&melt, cases[i].id);
        g_test_message("%s%s", cases[i].crucible, cases[i].job);
        g_assert_cmpint(figure->state, ==, cases[i].state);
        if (cases[i].words)
            g_assert_nonnull(strstr(figure->note, cases[i].words));
        else
            g_assert_null(figure->note);
        check_figures(melt.figures);
        clear_melt(&melt);
    }
}

// Too cold, usual, too hot; fume is told of the metals that have it.
static void
test_superheat(void)
{
    Melt melt = session_stage(FURNACE, CRUCIBLE,
                              ",\"metal\":\"a356\",\"pouring_temperature\":\"791 °C\"", 0.2875);
    const Figure *gas = get_figure(&melt, "melt.gas_superheat");
    g_assert_cmpint(gas->state, ==, FIGURE_FAILS);
    check_close(gas->value, 178, 1e-12, "by hand: 791 - 613");
    check_close(figure_list_value(melt.figures, "melt.pour_from"), 633, 1e-12, "by hand");
    check_close(figure_list_value(melt.figures, "melt.pour_to"), 763, 1e-12, "by hand");
    g_assert_nonnull(strstr(get_figure(&melt, "melt.charging")->text, "never wedge"));
    g_assert_nonnull(strstr(gas->note, "dross"));
    // The recommended equation between 791 and 801 °C by hand.
    check_close(get_figure(&melt, "melt.hydrogen_step")->value, 0.0558953, 1e-5,
                "Talbot and Anyalebechi 1988, by hand");
    g_assert_null(figure_list_find(melt.figures, "melt.fume"));
    check_figures(melt.figures);
    clear_melt(&melt);
    melt = session_stage(FURNACE, CRUCIBLE, ",\"metal\":\"yellow-brass\"", 0.2875);
    g_assert_cmpstr(get_figure(&melt, "melt.fume")->text, ==, "zinc, lead");
    g_assert_null(figure_list_find(melt.figures, "melt.hydrogen"));
    check_figures(melt.figures);
    clear_melt(&melt);
}

// 0.3 kg of returns and 0.15 kg of castings in a crucible that holds 0.8221 kg.
static void
test_stock(void)
{
    static const char stock[] = "\"stock\":\"0.3 kg a356 returns; 150 g a356 castings; 2 kg a356 "
                                "returns oily; 0.1 kg a356 ingot; 5 kg 413 ingot\",";
    Melt melt = run_stage(stock, FURNACE, CRUCIBLE, JOB, 0.2875, NULL);
    double full = 0.822097746967;
    double extra = (0.3 * 0.01 + 0.15 * 0.005) / full;
    check_close(figure_list_value(melt.figures, "melt.returns_share"), 0.3 / full, 1e-9, "by hand");
    check_close(figure_list_value(melt.figures, "melt.loss"), 0.02 + extra, 1e-9, "by hand");
    check_close(melt.result->charge_mass, 0.725 / (0.98 - extra), 1e-9, "by hand");
    check_close(figure_list_value(melt.figures, "melt.returns_ratio"), 0.3 / (full - 0.3), 1e-9,
                "by hand");
    double ingot = melt.result->charge_mass * (full - 0.45) / full;
    check_close(figure_list_value(melt.figures, "melt.charge_ingot"), ingot, 1e-9, "by hand");
    const Figure *missing = get_figure(&melt, "melt.ingot_short");
    check_close(missing->value, ingot - 0.1, 1e-8, "by hand");
    g_assert_cmpint(missing->state, ==, FIGURE_FAILS);
    const Figure *dirty = get_figure(&melt, "melt.charge_dirty");
    g_assert_cmpint(dirty->state, ==, FIGURE_HOLDS);
    g_assert_true(g_str_has_prefix(dirty->note, "Not charged: oily"));
    check_figures(melt.figures);
    clear_melt(&melt);
    melt = run_stage(stock, FURNACE, CRUCIBLE, JOB ",\"charge_from\":\"any\"", 0.2875, NULL);
    // Half of it may be returns: the clean ones and 0.111 kg of the oily.
    extra = (0.3 * 0.01 + (full / 2 - 0.3) * 0.03 + 0.15 * 0.005) / full;
    check_close(figure_list_value(melt.figures, "melt.returns_share"), 0.5, 1e-12, "by hand");
    check_close(figure_list_value(melt.figures, "melt.extra_loss"), extra, 1e-9, "by hand");
    dirty = get_figure(&melt, "melt.charge_dirty");
    g_assert_cmpint(dirty->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(dirty->note, "Burn off"));
    check_figures(melt.figures);
    clear_melt(&melt);
    melt = session_stage(FURNACE, CRUCIBLE, JOB, 0.2875);
    g_assert_nonnull(strstr(get_figure(&melt, "melt.extra_loss")->note, "No stock is listed"));
    g_assert_null(figure_list_find(melt.figures, "melt.charge_ingot"));
    clear_melt(&melt);
}

static void
test_new_crucible(void)
{
    Melt melt = session_stage(FURNACE, "\"kind\":\"clay-graphite\",\"firings\":\"0\"", JOB, 0.2875);
    check_close(melt.result->warmup_time, 702.5 / 7 * 60 + 5400 + 7200, 1e-12, "by hand");
    g_assert_cmpuint(melt.result->n_warmup, ==, 4);
    g_assert_nonnull(strstr(get_figure(&melt, "melt.warmup_time")->note, "First firing"));
    check_figures(melt.figures);
    clear_melt(&melt);
    // Nothing noted is not the same as new.
    melt = session_stage(FURNACE, "\"kind\":\"clay-graphite\"", JOB, 0.2875);
    check_close(melt.result->warmup_time, 702.5 / 7 * 60 + 5400, 1e-12, "by hand");
    g_assert_nonnull(strstr(get_figure(&melt, "melt.warmup_time")->note, "put in 0"));
    check_figures(melt.figures);
    clear_melt(&melt);
}

static void
test_closing(void)
{
    Melt melt = session_stage(FURNACE, CRUCIBLE, JOB, 0.2875);
    g_assert_cmpuint(g_strv_length(melt.result->closing), ==, 4);
    g_assert_nonnull(strstr(melt.result->closing[0], "ingot moulds"));
    g_assert_nonnull(strstr(melt.result->closing[2], "open below 200 °C"));
    g_assert_nonnull(strstr(melt.result->closing[3], "11 before"));
    clear_melt(&melt);
}

// Every metal, with all else left at its default, gives a whole and consistent set.
static void
test_every_metal(void)
{
    for (guint i = 0; i < tables_size(tables, TABLE_METALS); i++) {
        const char *id = table_row_id(tables_at(tables, TABLE_METALS, i));
        g_autofree char *job = g_strdup_printf(",\"metal\":\"%s\"", id);
        Melt melt = session_stage("\"name\":\"F\"", "\"name\":\"C\"", job, 0.2875);
        g_assert_cmpint(melt.result->flasks_per_load, >=, 1);
        g_assert_cmpfloat(melt.result->charge_mass, <=, melt.result->working_mass);
        g_assert_cmpfloat(melt.result->cycle_time, >, melt.result->heat_time);
        for (guint k = 0; k < figure_list_size(melt.figures); k++) {
            const Figure *figure = figure_list_at(melt.figures, k);
            if (!figure->given)
                g_assert_cmpint(figure->state, !=, FIGURE_UNKNOWN);
        }
        check_figures(melt.figures);
        clear_melt(&melt);
    }
}

static void
test_unknowns_spread(void)
{
    Melt melt = session_stage(FURNACE, CRUCIBLE, JOB, NAN);
    g_assert_cmpstr(get_figure(&melt, "melt.flasks_per_load")->missing, ==, "mould.metal_mass");
    g_assert_cmpint(get_figure(&melt, "melt.working_mass")->state, ==, FIGURE_PLAIN);
    g_assert_cmpint(get_figure(&melt, "melt.warmup_time")->state, ==, FIGURE_PLAIN);
    g_assert_cmpstr(get_figure(&melt, "melt.heat_time")->missing, ==, "mould.metal_mass");
    clear_melt(&melt);
    melt = session_stage(FURNACE, CRUCIBLE, JOB, 0.0);
    g_assert_cmpint(get_figure(&melt, "melt.flasks_per_load")->state, ==, FIGURE_UNKNOWN);
    clear_melt(&melt);
    melt = session_stage(FURNACE, CRUCIBLE,
                         ",\"metal\":\"a356\",\"pouring_temperature\":\"590 °C\"", 0.2875);
    g_assert_cmpint(get_figure(&melt, "melt.superheat")->state, ==, FIGURE_FAILS);
    g_assert_cmpstr(get_figure(&melt, "melt.heat")->missing, ==, "job.pouring_temperature");
    check_figures(melt.figures);
    clear_melt(&melt);
}

// Without tables there is no metal, no crucible kind and no density.
static void
test_no_tables(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = book_new_ready();
    g_autoptr(Inputs) inputs = inputs_resolve(book, NULL, NULL, NULL, melt_reads);
    Melt melt = {figure_list_new(), NULL};
    static const char *const reads[] = {"metal", "ratingmetal", "cruciblekind"};
    for (guint i = 0; i < G_N_ELEMENTS(reads); i++)
        g_assert_null(inputs_row(inputs, reads[i]));
    for (guint i = 0; metal_keys[i]; i++)
        figure_give(melt.figures, metal_keys[i], metal_keys[i], QUANTITY_NUMBER, NAN, NULL,
                    "table");
    melt.result = melt_stage(inputs, NULL, melt.figures, NULL, &error);
    g_assert_no_error(error);
    static const char *const ids[] = {"melt.working_mass", "melt.crucible_rules", "melt.heat",
                                      "melt.warmup_time"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++)
        g_assert_cmpint(get_figure(&melt, ids[i])->state, ==, FIGURE_UNKNOWN);
    clear_melt(&melt);
}

static void
test_stopped(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = book_new_ready();
    g_autoptr(Inputs) inputs = inputs_resolve(book, NULL, tables, NULL, melt_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(melt_stage(inputs, NULL, figures, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    melt_result_unref(NULL);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    tables = tables_load(&error);
    g_assert_no_error(error);
    g_test_add_func("/melt/stage/by-hand", test_by_hand);
    g_test_add_func("/melt/stage/result", test_figures_agree_with_result);
    g_test_add_func("/melt/stage/too-small", test_too_small_a_crucible);
    g_test_add_func("/melt/stage/no-more-flasks", test_no_more_flasks);
    g_test_add_func("/melt/stage/weak-furnace", test_weak_furnace);
    g_test_add_func("/melt/stage/wrong-crucible", test_wrong_crucible);
    g_test_add_func("/melt/stage/bound-by-log", test_bound_by_log);
    g_test_add_func("/melt/stage/time-error", test_time_error);
    g_test_add_func("/melt/stage/care", test_care);
    g_test_add_func("/melt/stage/superheat", test_superheat);
    g_test_add_func("/melt/stage/stock", test_stock);
    g_test_add_func("/melt/stage/new-crucible", test_new_crucible);
    g_test_add_func("/melt/stage/closing", test_closing);
    g_test_add_func("/melt/stage/every-metal", test_every_metal);
    g_test_add_func("/melt/stage/unknown", test_unknowns_spread);
    g_test_add_func("/melt/stage/no-tables", test_no_tables);
    g_test_add_func("/melt/stage/stopped", test_stopped);
    int status = g_test_run();
    tables_free(tables);
    return status;
}
