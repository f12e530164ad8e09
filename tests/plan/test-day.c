// SPDX-License-Identifier: GPL-3.0-or-later
// A day of a shop with two furnaces, three crucibles, two kinds of flask and jobs in two metals.
#include "plan/day.h"

#include "book/edit.h"
#include "book/store.h"
#include "make.h"
#include "session/limits.h"
#include "session/replan.h"

#define SHOP                                                                                       \
    "\"hours\":\"10 h\",\"furnaces\":[{\"id\":\"small\",\"power\":\"4.3 kW\"},{\"id\":\"large\","  \
    "\"power\":\"9.1 kW\"}],\"crucibles\":[{\"id\":\"old\",\"rating\":\"5.3 kg\",\"family\":"      \
    "\"aluminium\"},{\"id\":\"new\",\"rating\":\"11 kg\",\"rating_metal\":\"copper\",\"kind\":"    \
    "\"silicon-carbide\"},{\"id\":\"thimble\",\"rating\":\"90 g\"}],\"flasks\":[{\"id\":\"wide\"," \
    "\"length\":\"280 mm\",\"count\":\"3\"},{\"id\":\"narrow\",\"length\":\"200 mm\",\"width\":"   \
    "\"170 mm\",\"count\":\"2\"}],\"people\":{\"count\":\"2\",\"ram_time\":\"21 min\"}"
#define JOB(ID, METAL, FLASK, QUANTITY)                                                            \
    "{\"id\":\"" ID "\",\"name\":\"" ID "\",\"mesh\":\"%s\",\"metal\":\"" METAL                    \
    "\",\"flask\":\"" FLASK "\",\"quantity\":\"" QUANTITY                                          \
    "\",\"cells\":\"24\",\"heat_cells\":\"3000\",\"pull\":\"0,0,1\",\"cavities\":\"1\"}"
#define JOBS                                                                                       \
    JOB("bracket", "a356", "wide", "3")                                                            \
    "," JOB("knob", "a356", "narrow", "2") "," JOB("bush", "silicon-bronze", "wide", "2")

typedef struct {
    Tables *tables;
    char *folder, *mesh;
    Book *book;
    Cache *cache;
} Shop;

static Book *
read_book(const Shop *shop, const char *text)
{
    g_autoptr(GError) error = NULL;
    Book *book = store_parse(text, -1, "test", NULL, shop->tables, &error);
    g_assert_no_error(error);
    return book;
}

static void
open_shop(Shop *shop)
{
    shop->tables = tables_load(NULL);
    shop->cache = cache_new(400);
    shop->folder = check_folder();
    shop->mesh = make_mesh_file(shop->folder, "plate.stl", check_mesh_box(0.0517, 0.0331, 0.0153));
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{" SHOP "},\"jobs\":[" JOBS
        ",{\"id\":\"ghost\",\"name\":\"ghost\"}],\"log\":{\"sessions\":[]}}",
        shop->mesh, shop->mesh, shop->mesh);
    shop->book = read_book(shop, text);
}

static void
close_shop(Shop *shop)
{
    check_folder_remove(shop->folder);
    tables_free(shop->tables);
    cache_unref(shop->cache);
    book_unref(shop->book);
    g_free(shop->folder);
    g_free(shop->mesh);
}

// No two tasks that take the same thing overlap.
static void
check_apart(const SessionResult *session)
{
    for (guint i = 0; i < session->n_tasks; i++) {
        for (guint j = i + 1; j < session->n_tasks; j++) {
            const SessionTask *a = &session->tasks[i], *b = &session->tasks[j];
            gboolean same = (a->who >= 0 && a->who == b->who) ||
                            (a->furnace >= 0 && a->furnace == b->furnace) ||
                            (a->box >= 0 && a->box == b->box);
            if (same)
                g_assert_true(a->end <= b->start + 1e-6 || b->end <= a->start + 1e-6);
        }
    }
}

static double
get_metal(const Shop *shop, const char *job)
{
    g_autoptr(Plan) plan = make_plan(shop->book, job, shop->tables, shop->cache);
    return plan_figure(plan, "mould.metal_mass")->value;
}

// Both furnaces are heated: up for their first load, off when their own last mould is poured. What
// to turn is told with the furnace's name.
static void
check_curves(const SessionResult *session)
{
    static const char *const names[] = {"small: ", "large: "};
    for (int furnace = 0; furnace < 2; furnace++) {
        double warm = NAN, poured = 0, first = NAN, last = NAN;
        for (guint i = 0; i < session->n_tasks; i++) {
            const SessionTask *task = &session->tasks[i];
            if (task->furnace != furnace)
                continue;
            if (task->kind == TASK_WARM_UP)
                warm = task->start;
            if (task->kind == TASK_POUR)
                poured = MAX(poured, task->end);
        }
        for (guint i = 0; i < session->n_curve; i++) {
            const SessionFurnacePoint *point = &session->curve[i];
            if (point->furnace != furnace || !point->prompt)
                continue;
            g_assert_true(g_str_has_prefix(point->prompt, names[furnace]));
            first = isnan(first) ? point->at : first;
            last = point->at;
        }
        check_close(first, warm, 1e-12, "set when its warm-up begins");
        check_close(last, poured, 1e-12, "off after its own last pour");
    }
    for (guint i = 1; i < session->n_curve; i++)
        g_assert_cmpfloat(session->curve[i].at, >=, session->curve[i - 1].at);
}

// Each load has one metal, in a crucible that bears it and holds it; a crucible has one family.
static void
check_loads(const Shop *shop, const PlanDay *day)
{
    const SessionResult *session = plan_day_session(day);
    double kg[3] = {get_metal(shop, "bracket"), get_metal(shop, "knob"), get_metal(shop, "bush")};
    static const char *const metals[] = {"a356", "a356", "silicon-bronze"};
    for (int load = 0; load < session->loads; load++) {
        const char *metal = plan_day_load_metal(day, load);
        const char *crucible = plan_day_load_crucible(day, load);
        double poured = 0;
        for (guint i = 0; i < session->n_tasks; i++) {
            if (session->tasks[i].kind != TASK_POUR || session->tasks[i].load != load)
                continue;
            g_assert_cmpstr(metals[session->tasks[i].job], ==, metal);
            poured += kg[session->tasks[i].job];
        }
        g_assert_cmpfloat(poured, >, 0);
        g_assert_cmpstr(crucible, !=, "thimble");
        // The old one has melted aluminium; so the new one is for the bronze.
        g_assert_cmpstr(crucible, ==, g_str_equal(metal, "a356") ? "old" : "new");
        // Brim volume times fill times density, before reserve: an upper bound by hand.
        double most = g_str_equal(crucible, "old") ? 5.3 : 11;
        g_assert_cmpfloat(poured, <, most);
        // Reserve 10 %, 100 g at the least, no heel; both metals lose 2 %.
        check_close(plan_day_load_charge(day, load), (poured + MAX(0.1 * poured, 0.1)) / 0.98,
                    1e-12, "by hand");
    }
}

static void
test_whole(void)
{
    Shop shop;
    open_shop(&shop);
    g_autoptr(GError) error = NULL;
    PlanDayWish wish = {.hours = NAN, .light_from = NAN, .light_to = NAN, .gains = TRUE};
    g_autoptr(PlanDay) day = plan_day_of_book(shop.book, NULL, &wish, shop.tables, shop.cache, NULL,
                                              &error);
    g_assert_no_error(error);
    const SessionResult *session = plan_day_session(day);
    for (guint j = 0; j < 4; j++)
        g_test_message("%s: %d moulds, %d castings, %s", session->jobs[j], plan_day_moulds(day, j),
                       plan_day_castings(day, j), plan_day_why_not(day, j));
    const FigureList *figures = plan_day_figures(day);
    for (guint i = 0; i < figure_list_size(figures); i++) {
        const Figure *figure = figure_list_at(figures, i);
        g_test_message("%s: %g %s", figure->spec->id, figure->value,
                       figure->text ? figure->text : "");
        g_assert_cmpint(figure->state, !=, FIGURE_UNKNOWN);
    }
    for (guint j = 0; j < 3; j++) {
        g_assert_cmpint(plan_day_moulds(day, j), >, 0);
        g_assert_null(plan_day_why_not(day, j));
    }
    g_assert_cmpint(plan_day_moulds(day, 3), ==, 0);
    g_assert_nonnull(strstr(plan_day_why_not(day, 3), "lacks"));
    g_assert_cmpint(session->furnaces, ==, 2);
    g_assert_cmpint(session->people, ==, 2);
    g_assert_cmpint(session->boxes, ==, 5);
    g_assert_cmpfloat(session->length, <=, session->hours);
    g_assert_cmpstr(session->jobs[2], ==, "bush");
    int poured[4] = {0};
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].kind == TASK_POUR)
            poured[session->tasks[i].job]++;
    for (guint j = 0; j < 4; j++)
        g_assert_cmpint(poured[j], ==, plan_day_moulds(day, j));
    check_close(figure_list_value(figures, "day.flasks"), session->flasks, 0, "the session");
    check_close(figure_list_value(figures, "day.castings"), session->castings, 0, "the session");
    check_apart(session);
    check_loads(&shop, day);
    check_curves(session);
    g_autoptr(SessionResult) again = session_replan(session, NULL, 0, 0, NULL, &error);
    g_assert_no_error(error);
    check_curves(again);
    g_assert_cmpuint(again->n_tasks, ==, session->n_tasks);
    PlanDay *other = plan_day_ref(day);
    plan_day_unref(other);
    close_shop(&shop);
}

// More is wanted than the hours hold: no more is poured than wanted, and what is short is said.
static void
test_wishes(void)
{
    Shop shop;
    open_shop(&shop);
    g_autoptr(GError) error = NULL;
    static const char *const jobs[] = {"bush", "bracket", NULL};
    const int moulds[] = {1, 40};
    PlanDayWish wish = {.hours = 7.3 * 3600,
                        .light_from = 600,
                        .light_to = 7 * 3600,
                        .moulds = moulds,
                        .pins = "close 7 h 2 min; pour-1 99 min"};
    g_autoptr(PlanDay) day = plan_day_of_book(shop.book, jobs, &wish, shop.tables, shop.cache, NULL,
                                              &error);
    g_assert_no_error(error);
    g_assert_cmpint(plan_day_moulds(day, 0), <=, 1);
    g_assert_cmpint(plan_day_moulds(day, 1), >, 1);
    g_assert_cmpint(plan_day_moulds(day, 1), <, 40);
    const SessionResult *session = plan_day_session(day);
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        if (task->person && task->kind != TASK_SET_UP && task->kind != TASK_CLOSE) {
            g_assert_cmpfloat(task->start, >=, 600);
            g_assert_cmpfloat(task->end, <=, 7 * 3600 + 1e-6);
        }
        if (task->kind == TASK_CLOSE)
            g_assert_cmpfloat(task->start, >=, 7 * 3600 + 120);
    }
    check_apart(session);
    const FigureList *figures = plan_day_figures(day);
    g_assert_cmpfloat(figure_list_value(figures, "day.good_gap"), >=, -1e-9);
    close_shop(&shop);
}

static Book *
make_other(const Shop *shop, const char *path, const char *text)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Edit) edit = edit_field(shop->book, "bush", field_find(path), text, shop->tables,
                                      &error);
    g_assert_no_error(error);
    return edit_apply(shop->book, edit, &error);
}

// What the book says of sand and daylight holds for the day, unless the wish says otherwise of the
// light; sessions begin at 9:00.
static void
test_limits(void)
{
    Shop shop;
    open_shop(&shop);
    static const char *const texts[][2] = {
        {"shop.sand_ready", "47 kg"}, {"shop.sand_rest", "37 min"}, {"shop.light_to", "17:10"}};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        Book *book = make_other(&shop, texts[i][0], texts[i][1]);
        book_unref(shop.book);
        shop.book = book;
    }
    g_autoptr(GError) error = NULL;
    g_autoptr(PlanDay) day = plan_day_of_book(shop.book, NULL, NULL, shop.tables, shop.cache, NULL,
                                              &error);
    g_assert_no_error(error);
    const SessionResult *session = plan_day_session(day);
    const FigureList *figures = plan_day_figures(day);
    g_assert_cmpint(session->flasks, >, 0);
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].person && session->tasks[i].kind != TASK_CLOSE)
            g_assert_cmpfloat(session->tasks[i].end, <=, (8 * 60 + 10) * 60 + 1e-6);
    const Figure *sand = figure_list_find(figures, "day.sand_used");
    g_assert_cmpfloat(sand->value, >, 0);
    g_assert_cmpint(sand->state, ==, FIGURE_HOLDS);
    check_close(sand->limit, 47, 1e-12, "the book");
    check_close(figure_list_value(figures, "day.daylight"), (8 * 60 + 10) * 60, 1e-12, "by hand");
    check_close(figure_list_value(figures, "day.dark_time"), 0, 0, "kept to");
    check_close(session->limits->sand_rest, 37 * 60, 1e-12, "the book");
    check_apart(session);
    PlanDayWish wish = {.hours = NAN, .light_from = 0, .light_to = INFINITY};
    g_autoptr(PlanDay) lit = plan_day_of_book(shop.book, NULL, &wish, shop.tables, shop.cache, NULL,
                                              &error);
    g_assert_null(figure_list_find(plan_day_figures(lit), "day.daylight"));
    g_autoptr(Book) swapped = make_other(&shop, "shop.light_from", "18:00");
    g_assert_null(plan_day_of_book(swapped, NULL, NULL, shop.tables, shop.cache, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "shop.light_to");
    close_shop(&shop);
}

static double
find_warm_up(const PlanDay *day)
{
    const SessionResult *session = plan_day_session(day);
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].kind == TASK_WARM_UP)
            return session->tasks[i].end - session->tasks[i].start;
    g_assert_not_reached();
}

// A new crucible is held longer to be tempered, unless a day before has heated it.
static void
test_heated(void)
{
    Shop shop;
    open_shop(&shop);
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"hours\":\"12 "
        "h\",\"crucibles\":[{\"id\":"
        "\"pot\",\"rating\":\"9 "
        "kg\",\"kind\":\"clay-graphite\",\"firings\":\"0\"}]},\"jobs\":[" JOB(
            "bracket", "a356", "", "3") "],\"log\":{\"sessions\":[]}}",
        shop.mesh);
    g_autoptr(Book) book = read_book(&shop, text);
    g_autoptr(Plan) plan = make_plan(book, "bracket", shop.tables, shop.cache);
    static const char *const heated[] = {"lid", "pot", NULL}, *const others[] = {"lid", NULL};
    const char *const *const wishes[] = {NULL, others, heated};
    for (guint i = 0; i < G_N_ELEMENTS(wishes); i++) {
        g_autoptr(GError) error = NULL;
        PlanDayWish wish = {.hours = NAN, .light_from = NAN, .light_to = NAN, .heated = wishes[i]};
        g_autoptr(PlanDay) day = plan_day_of_book(book, NULL, &wish, shop.tables, shop.cache, NULL,
                                                  &error);
        g_assert_no_error(error);
        const char *id = i == 2 ? "run.later_warmup" : "melt.warmup_time";
        check_close(find_warm_up(day), plan_figure(plan, id)->value, 1e-9, id);
    }
    g_assert_cmpfloat(plan_figure(plan, "run.later_warmup")->value, <,
                      plan_figure(plan, "melt.warmup_time")->value);
    close_shop(&shop);
}

static void
test_why_not(void)
{
    Shop shop;
    open_shop(&shop);
    // Only the thimble: nothing can be poured, and it says what would do.
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"crucibles\":[{\"id\":\"thimble\","
        "\"rating\":\"90 g\"}]},\"jobs\":[" JOB("bracket", "a356", "",
                                                "3") "],\"log\":{\"sessions\""
                                                     ":[]}}",
        shop.mesh);
    g_autoptr(Book) book = read_book(&shop, text);
    g_autoptr(GError) error = NULL;
    g_autoptr(PlanDay)
                  day = plan_day_of_book(book, NULL, NULL, shop.tables, shop.cache, NULL, &error);
    g_assert_no_error(error);
    g_test_message("%s", plan_day_why_not(day, 0));
    g_assert_nonnull(strstr(plan_day_why_not(day, 0), "crucible"));
    g_assert_cmpuint(plan_day_session(day)->n_tasks, ==, 0);
    g_assert_null(plan_day_load_metal(day, 0));
    close_shop(&shop);
}

static void
check_refused(const Shop *shop, const PlanDayWish *wish, const char *words)
{
    g_autoptr(GError) error = NULL;
    static const char *const jobs[] = {"bush", NULL};
    g_assert_null(
        plan_day_of_book(shop->book, jobs, wish, shop->tables, shop->cache, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, words);
}

static void
test_refused(void)
{
    Shop shop;
    open_shop(&shop);
    g_autoptr(GError) error = NULL;
    g_assert_null(plan_day_make(NULL, 0, NULL, shop.tables, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "jobs");
    PlanDayWish wish = {.hours = -3, .light_from = NAN, .light_to = NAN};
    check_refused(&shop, &wish, "hours");
    wish.hours = 40 * 60;
    check_refused(&shop, &wish, "hours");
    wish = (PlanDayWish){.hours = NAN, .light_from = 7200, .light_to = 3600};
    check_refused(&shop, &wish, "daylight");
    wish = (PlanDayWish){.hours = NAN, .light_from = NAN, .light_to = NAN, .pins = "pour-1 soon"};
    check_refused(&shop, &wish, "pour-1");
    g_autoptr(Plan) plan = make_plan(shop.book, "bush", shop.tables, shop.cache);
    const Plan *twice[] = {plan, plan};
    g_assert_null(plan_day_make(twice, 2, NULL, shop.tables, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "twice");
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(plan_day_make(twice, 1, NULL, shop.tables, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    close_shop(&shop);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/plan/day/whole", test_whole);
    g_test_add_func("/plan/day/wishes", test_wishes);
    g_test_add_func("/plan/day/limits", test_limits);
    g_test_add_func("/plan/day/heated", test_heated);
    g_test_add_func("/plan/day/why-not", test_why_not);
    g_test_add_func("/plan/day/refused", test_refused);
    return g_test_run();
}
