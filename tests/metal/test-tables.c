// SPDX-License-Identifier: GPL-3.0-or-later
// The built-in tables: complete, sourced, in agreement with the element list of the Blue Obelisk
// (package bodr), and refused with words when damaged.
#include "metal/tables.h"

#include <string.h>

#include "check.h"
#include "figure/source.h"
#include "metal/property.h"
#include "metal/row.h"

static Tables *tables;

static const char *const metal_ids[] = {
    "al-pure",    "a356",         "319",    "413",    "6061", "za-12", "silicon-bronze",
    "tin-bronze", "yellow-brass", "copper", "silver", "gold", NULL};

static void
test_rows(void)
{
    g_assert_cmpuint(tables_size(tables, TABLE_METALS), ==, G_N_ELEMENTS(metal_ids) - 1);
    for (guint i = 0; metal_ids[i]; i++) {
        const TableRow *row = tables_find(tables, TABLE_METALS, metal_ids[i]);
        g_assert_nonnull(row);
        g_assert_true(row == tables_at(tables, TABLE_METALS, i));
        g_assert_cmpstr(table_row_id(row), ==, metal_ids[i]);
        g_assert_cmpuint(strlen(table_row_name(row)), >, 3);
        g_assert_nonnull(table_row_cautions(row)[0]);
    }
    g_assert_nonnull(tables_find(tables, TABLE_SANDS, "oil-bonded-silica"));
    g_assert_nonnull(tables_find(tables, TABLE_SANDS, "green-sand"));
    static const char *const kinds[] = {"graphite", "clay-graphite", "silicon-carbide", "ceramic"};
    for (guint i = 0; i < G_N_ELEMENTS(kinds); i++)
        g_assert_nonnull(tables_find(tables, TABLE_CRUCIBLE_KINDS, kinds[i]));
    g_assert_null(tables_find(tables, TABLE_METALS, "unobtainium"));
    g_assert_null(tables_find(tables, TABLE_METALS, NULL));
}

// Every value has a source that resolves, a label, and a confidence no higher than its source's.
static void
test_every_value_is_sourced(void)
{
    for (int name = 0; name < TABLE_COUNT; name++) {
        for (guint i = 0; i < tables_size(tables, (TableName)name); i++) {
            const TableRow *row = tables_at(tables, (TableName)name, i);
            g_assert_cmpuint(table_row_size(row), >, 3);
            for (guint k = 0; k < table_row_size(row); k++) {
                const TableValue *value = table_row_at(row, k);
                g_assert_true(g_strv_contains(source_ids(), value->source));
                g_autofree char *citation = source_text(value->source);
                g_assert_cmpstr(citation, !=, value->source);
                g_assert_cmpuint(strlen(value->label), >, 3);
                if (value->confidence == TABLE_PUBLISHED)
                    g_assert_cmpstr(source_confidence(value->source), ==, "published");
                if (value->kind == QUANTITY_TEXT)
                    g_assert_cmpuint(strlen(value->text), >, 2);
                else
                    g_assert_true(isfinite(value->value));
                g_assert_true(table_row_find(row, value->key) == value);
            }
        }
    }
}

static void
test_every_metal_has_what_plans_need(void)
{
    static const char *const keys[] = {"solidus",
                                       "liquidus",
                                       "density_solid",
                                       "density_liquid",
                                       "density_slope",
                                       "conductivity_solid",
                                       "conductivity_liquid",
                                       "cp_solid",
                                       "cp_liquid",
                                       "latent_heat",
                                       "contraction",
                                       "freezing_shrinkage",
                                       "pouring_temperature",
                                       "gate_velocity",
                                       "melt_loss"};
    for (guint i = 0; metal_ids[i]; i++) {
        const TableRow *row = tables_find(tables, TABLE_METALS, metal_ids[i]);
        for (guint k = 0; k < G_N_ELEMENTS(keys); k++)
            g_assert_true(isfinite(table_row_value(row, keys[k])));
        g_assert_nonnull(table_row_text(row, "castability"));
        g_assert_nonnull(table_row_text(row, "fluidity"));
        gboolean precious = g_str_equal(metal_ids[i], "gold") ||
                            g_str_equal(metal_ids[i], "silver");
        g_assert_cmpint(isnan(table_row_value(row, "price")), ==, precious);
        if (!precious)
            g_assert_cmpstr(table_row_find(row, "price")->source, ==, "starting-value");
    }
    const TableRow *gold = tables_find(tables, TABLE_METALS, "gold");
    g_assert_null(table_row_find(gold, "cutting_energy"));
    g_assert_null(table_row_text(gold, "cutting_energy"));
}

// Every family of a metal is borne by some crucible kind, and each kind names only families there
// are.
static void
test_families_are_known(void)
{
    g_autoptr(GHashTable) borne = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    g_autoptr(GHashTable) known = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < tables_size(tables, TABLE_CRUCIBLE_KINDS); i++) {
        const TableRow *row = tables_at(tables, TABLE_CRUCIBLE_KINDS, i);
        g_auto(GStrv) words = g_strsplit(table_row_text(row, "families"), " ", -1);
        for (guint k = 0; words[k]; k++)
            g_hash_table_add(borne, g_strdup(words[k]));
        g_assert_null(table_row_family(row));
    }
    for (guint i = 0; metal_ids[i]; i++) {
        const TableRow *row = tables_find(tables, TABLE_METALS, metal_ids[i]);
        g_assert_true(g_hash_table_contains(borne, table_row_family(row)));
        g_hash_table_add(known, (char *)table_row_family(row));
    }
    g_assert_cmpuint(g_hash_table_size(borne), ==, g_hash_table_size(known));
    const TableRow *ceramic = tables_find(tables, TABLE_CRUCIBLE_KINDS, "ceramic");
    g_assert_null(strstr(table_row_text(ceramic, "families"), "aluminium"));
    const TableRow *graphite = tables_find(tables, TABLE_CRUCIBLE_KINDS, "graphite");
    g_assert_nonnull(strstr(table_row_text(graphite, "flux"), "No borax"));
}

static void
test_units_of_the_file(void)
{
    const TableRow *bronze = tables_find(tables, TABLE_METALS, "silicon-bronze");
    check_close(table_row_value(bronze, "solidus"), 860, 1e-4, "1580 F as printed beside it");
    check_close(table_row_value(bronze, "liquidus"), 971, 2e-4, "1780 F as printed beside it");
    check_close(table_row_value(bronze, "density_solid"), 0.302 * 27679.90471020, 1e-9,
                "GNU units: 1 lb/in3");
    check_close(table_row_value(bronze, "contraction"), 0.02083, 2e-4, "1/4 in/ft");
    const TableRow *kind = tables_find(tables, TABLE_CRUCIBLE_KINDS, "clay-graphite");
    check_close(table_row_value(kind, "warmup_hold"), 2700, 1e-12, "45 min");
    check_close(table_row_value(kind, "fill"), 0.75, 1e-12, "75 %");
    double si = 17.25;
    g_assert_false(table_unit_to_si(QUANTITY_DENSITY, "C", 3, &si));
    g_assert_false(table_unit_to_si(QUANTITY_TEMPERATURE, "K", 3, &si));
    check_close(si, 17.25, 0, "untouched on failure");
}

// A second opinion: melting points of the Blue Obelisk data repository. Some are older values, so
// 2 K are allowed.
static void
test_melting_points_against_bodr(void)
{
    static const struct {
        const char *symbol, *id;
    } pairs[] = {{"Al", "al-pure"}, {"Cu", "copper"}, {"Ag", "silver"}, {"Au", "gold"}};
    g_autofree char *text = NULL;
    if (!g_file_get_contents("/usr/share/bodr/elements.xml", &text, NULL, NULL)) {
        g_test_skip("bodr is not installed");
        return;
    }
    for (guint i = 0; i < G_N_ELEMENTS(pairs); i++) {
        g_autofree char *open = g_strdup_printf("<atom id=\"%s\"", pairs[i].symbol);
        const char *atom = strstr(text, open);
        g_assert_nonnull(atom);
        const char *point = strstr(atom, "bo:meltingpoint");
        g_assert_nonnull(point);
        g_assert_true(point < strstr(atom, "</atom>"));
        double kelvin = g_ascii_strtod(strchr(point, '>') + 1, NULL);
        double celsius = table_row_value(tables_find(tables, TABLE_METALS, pairs[i].id),
                                         "liquidus");
        check_close(celsius + 273.15, kelvin, 2.0 / kelvin, "bodr elements.xml, 2 K");
    }
}

#define VALUE(v, u)                                                                                \
    "{\"value\":" v ",\"unit\":\"" u "\",\"source\":\"user\",\"confidence\":"                      \
    "\"from-memory\"}"
#define SAND(conductivity, rest)                                                                   \
    "{\"format\":1,\"rows\":[{\"id\":\"s\",\"name\":\"S\",\"cautions\":[\"Mind.\"],\"values\":{"   \
    "\"conductivity\":" conductivity ",\"density\":" VALUE(                                        \
        "1530.5", "kg/m3") ","                                                                     \
                           "\"specific_heat\":" VALUE(                                             \
                               "1140", "J/kgK") ",\"rammed_density\":" VALUE("1555", "kg/m3") rest \
        "}}]}"
#define GOOD VALUE("0.61", "W/mK")

static char *
get_digest(const char *json)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) rows = table_rows_parse(TABLE_SANDS, "s.json", json, -1, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(rows->len, ==, 1);
    return g_strdup(table_row_digest(g_ptr_array_index(rows, 0)));
}

static void
test_digest(void)
{
    g_autofree char *one = get_digest(SAND(GOOD, ""));
    g_autofree char *same = get_digest(SAND(GOOD, ""));
    g_assert_cmpstr(one, ==, same);
    g_assert_cmpuint(strlen(one), ==, 64);
    g_autofree char *value = get_digest(SAND(VALUE("0.62", "W/mK"), ""));
    g_assert_cmpstr(one, !=, value);
    g_autofree char *note = get_digest(
        SAND("{\"value\":0.61,\"unit\":\"W/mK\",\"source\":\"user\",\"confidence\":"
             "\"from-memory\",\"note\":\"n\"}",
             ""));
    g_assert_cmpstr(one, !=, note);
    g_autofree char *sure = get_digest(
        SAND("{\"value\":0.61,\"unit\":\"W/mK\",\"source\":\"user\",\"confidence\":"
             "\"published\"}",
             ""));
    g_assert_cmpstr(one, !=, sure);
}

static void
test_damaged(void)
{
    static const struct {
        const char *json, *words;
    } cases[] = {
        {"", "s.json"},
        {"[]", "is not an object"},
        {"{\"format\":1", "s.json"},
        {"{\"rows\":[]}", "\"format\" is not 1"},
        {"{\"format\":2,\"rows\":[]}", "\"format\" is not 1"},
        {"{\"format\":1,\"rows\":[]}", "holds no rows"},
        {"{\"format\":1,\"rows\":{}}", "holds no rows"},
        {"{\"format\":1,\"rows\":[3]}", "row 1: is not an object"},
        {"{\"format\":1,\"rows\":[{}]}", "row 1: \"id\" is not a text"},
        {"{\"format\":1,\"rows\":[{\"id\":\"s\"}]}", "s: \"name\" is not a text"},
        {"{\"format\":1,\"rows\":[{\"id\":\"s\",\"name\":\"S\"}]}", "\"cautions\" or \"values\""},
        {"{\"format\":1,\"rows\":[{\"id\":\"s\",\"name\":\"S\",\"extra\":1}]}", "\"extra\""},
        {"{\"format\":1,\"rows\":[{\"id\":\"s\",\"name\":\"S\",\"cautions\":[1],\"values\":{}}]}",
         "caution 1"},
        {"{\"format\":1,\"rows\":[{\"id\":\"s\",\"name\":\"S\",\"cautions\":[],\"values\":{}}]}",
         "s, conductivity: is missing"},
        {SAND("7", ""), "s, conductivity: is not an object"},
        {SAND("{}", ""), "\"source\" is not a text"},
        {SAND(GOOD, ",\"liquidus\":7"), "s, liquidus: is not a property known here"},
        {SAND(VALUE("0.61", "C"), ""), "\"C\" is not a unit for this property"},
        {SAND(VALUE("610", "W/mK"), ""), "610 is outside 0.05 to 10"},
        {SAND(VALUE("\"x\"", "W/mK"), ""), "\"value\" is not a number"},
        {SAND("{\"value\":0.61,\"source\":\"user\",\"confidence\":\"published\"}", ""),
         "\"unit\" is not a text"},
        {SAND("{\"value\":0.61,\"unit\":\"W/mK\",\"source\":\"hearsay\",\"confidence\":"
              "\"published\"}",
              ""),
         "\"hearsay\" is not a source"},
        {SAND("{\"value\":0.61,\"unit\":\"W/mK\",\"source\":\"user\",\"confidence\":\"sure\"}", ""),
         "\"sure\" is not a confidence"},
        {SAND("{\"value\":0.61,\"unit\":\"W/mK\",\"source\":\"user\",\"confidence\":"
              "\"published\",\"note\":5}",
              ""),
         "\"note\" is not a text"},
        {SAND("{\"value\":0.61,\"unit\":\"W/mK\",\"source\":\"user\",\"confidence\":"
              "\"published\",\"why\":\"\"}",
              ""),
         "\"why\" is not a member"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GError) error = NULL;
        g_assert_null(table_rows_parse(TABLE_SANDS, "s.json", cases[i].json, -1, &error));
        check_error(error, BASE_ERROR_FORMAT, cases[i].words);
    }
}

// A whole table cut at every length, and with every byte in turn made another, is read or refused.
static void
test_cut_and_bent(void)
{
    const char *whole = SAND(GOOD, "");
    gsize length = strlen(whole);
    for (gsize cut = 0; cut < length; cut++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *part = g_strndup(whole, cut);
        g_assert_null(table_rows_parse(TABLE_SANDS, "s.json", part, (gssize)cut, &error));
        check_error(error, BASE_ERROR_FORMAT, "s.json");
    }
    for (gsize at = 0; at < length; at++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *bent = g_strdup(whole);
        bent[at] = '}';
        g_autoptr(GPtrArray) rows = table_rows_parse(TABLE_SANDS, "s.json", bent, -1, &error);
        g_assert_true((rows == NULL) == (error != NULL));
    }
}

static void
test_order_and_doubles(void)
{
    g_autoptr(GError) error = NULL;
    const char *text = SAND(GOOD, "");
    g_autofree char *row = g_strndup(strchr(text, '[') + 1, strlen(strchr(text, '[')) - 3);
    g_autofree char *twice = g_strdup_printf("{\"format\":1,\"rows\":[%s,%s]}", row, row);
    g_assert_null(table_rows_parse(TABLE_SANDS, "s.json", twice, -1, &error));
    check_error(error, BASE_ERROR_FORMAT, "used twice");
    const char *metal = "{\"format\":1,\"rows\":[{\"id\":\"m\",\"name\":\"M\",\"family\":\"f\","
                        "\"cautions\":[],\"values\":{"
                        "\"solidus\":" VALUE("613.5", "C") ",\"liquidus\":" VALUE(
                            "557", "C") ","
                                        "\"density_solid\":" VALUE(
                                            "2650", "kg/m3") ","
                                                             "\"density_liquid\":" VALUE(
                                                                 "2410", "kg/m3") "}}]}";
    g_assert_null(table_rows_parse(TABLE_METALS, "m.json", metal, -1, &error));
    check_error(error, BASE_ERROR_FORMAT, "m.json: m: solidus is above liquidus");
    g_auto(GStrv) parts = g_strsplit(metal, "\"family\":\"f\",", 2);
    g_autofree char *stray = g_strconcat(parts[0], parts[1], NULL);
    g_assert_null(table_rows_parse(TABLE_METALS, "m.json", stray, -1, &error));
    check_error(error, BASE_ERROR_FORMAT, "\"family\" is not a text");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    tables = tables_load(&error);
    g_assert_no_error(error);
    g_test_add_func("/metal/tables/rows", test_rows);
    g_test_add_func("/metal/tables/sourced", test_every_value_is_sourced);
    g_test_add_func("/metal/tables/complete", test_every_metal_has_what_plans_need);
    g_test_add_func("/metal/tables/families", test_families_are_known);
    g_test_add_func("/metal/tables/units", test_units_of_the_file);
    g_test_add_func("/metal/tables/bodr", test_melting_points_against_bodr);
    g_test_add_func("/metal/tables/digest", test_digest);
    g_test_add_func("/metal/tables/damaged", test_damaged);
    g_test_add_func("/metal/tables/cut-and-bent", test_cut_and_bent);
    g_test_add_func("/metal/tables/order", test_order_and_doubles);
    int status = g_test_run();
    tables_free(tables);
    tables_free(NULL);
    return status;
}
