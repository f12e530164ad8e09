// SPDX-License-Identifier: GPL-3.0-or-later
// The field table is sound, every default passes its own check, and every refusal says what to do.
#include "book/field.h"

#include <string.h>

#include "book/field-group.h"
#include "check.h"

static Tables *tables;

static gboolean
check_text(const char *path, const char *text, double *si, GError **error)
{
    UnitSet units = unit_set_default();
    return field_check(field_find(path), text, &units, tables, si, error);
}

static void
test_table(void)
{
    UnitSet units = unit_set_default();
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        g_autofree char *section = field_section(field->path);
        g_assert_true(field_find(field->path) == field);
        g_assert_nonnull(field_section_place(section, NULL));
        g_assert_nonnull(field->source);
        if (field->type == FIELD_CHOICE || field->type == FIELD_ROW || field->type == FIELD_ENTRY)
            g_assert_nonnull(field->choices);
        g_autoptr(GError) error = NULL;
        if (field->fallback && *field->fallback != '@')
            field_check(field, field->fallback, &units, tables, NULL, &error);
        g_assert_no_error(error);
    }
    g_assert_null(field_find("job.nothing"));
    g_assert_null(field_section_place("nothing", NULL));
}

// A default that changes with the shop's units would be another default: each says its unit.
static void
test_defaults_keep(void)
{
    UnitSet metric = unit_set_default(), other = unit_set_default();
    other.inches = other.pounds = other.fahrenheit = TRUE;
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        if (field->type != FIELD_QUANTITY || !field->fallback || *field->fallback == '@')
            continue;
        double a = NAN, b = NAN;
        g_assert_true(field_check(field, field->fallback, &metric, tables, &a, NULL));
        g_assert_true(field_check(field, field->fallback, &other, tables, &b, NULL));
        check_close(a, b, 0, field->path);
    }
}

// A step has topics for all its rows or for none, and no topic is of two steps.
static void
test_groups(void)
{
    g_autoptr(GHashTable) topics = g_hash_table_new(g_str_hash, g_str_equal);
    g_autoptr(GHashTable) divided = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        const char *group = field->group ? field->group : "";
        const char *step = g_hash_table_lookup(topics, group);
        if (*group && step)
            g_assert_cmpstr(field->step, ==, step);
        g_hash_table_insert(topics, (gpointer)group, (gpointer)field->step);
        gpointer known = NULL;
        if (g_hash_table_lookup_extended(divided, field->step, NULL, &known))
            g_assert_cmpint(GPOINTER_TO_INT(known), ==, *group != 0);
        g_hash_table_insert(divided, (gpointer)field->step, GINT_TO_POINTER(*group != 0));
    }
    for (guint i = 0; i < field_group_count(); i++)
        g_assert_true(g_hash_table_remove(topics, field_group_at(i)->id));
    g_assert_true(g_hash_table_remove(topics, ""));
    g_assert_cmpuint(g_hash_table_size(topics), ==, 0);
}

static void
test_called(void)
{
    const Field *width = field_find("job.gate_width");
    g_assert_true(field_is_called(width, ""));
    g_assert_true(field_is_called(width, "wid GATE"));
    g_assert_true(field_is_called(width, "gating")); // its topic
    g_assert_false(field_is_called(width, "gate depth"));
    g_assert_false(field_is_called(width, "idth")); // not where a word begins
    g_assert_true(field_is_called(field_find("shop.currency"), "curr"));
    g_assert_false(field_is_called(field_find("shop.currency"), "gating"));
}

// Two rows of one form that are called the same cannot be told apart.
static void
test_labels(void)
{
    for (guint i = 0; i < field_count(); i++)
        for (guint k = 0; k < i; k++)
            if (g_str_equal(field_at(i)->step, field_at(k)->step))
                g_assert_cmpstr(field_at(i)->label, !=, field_at(k)->label);
}

static void
test_good(void)
{
    double si = 0;
    GError *error = NULL;
    g_assert_true(check_text("job.allowance", " 3/32 in ", &si, &error));
    check_close(si, 0.00238125, 1e-12, "3/32 of 25.4 mm");
    g_assert_true(check_text("job.metal", "a356", &si, &error));
    g_assert_true(isnan(si));
    g_assert_true(check_text("job.riser", "always", NULL, &error));
    g_assert_true(check_text("job.pull", "0, -1 ;2.5", NULL, &error));
    g_assert_true(check_text("job.name", "Schräge Öse", NULL, &error));
    g_assert_no_error(error);
}

static void
test_refused(void)
{
    static const struct {
        const char *path, *text, *words;
    } cases[] = {
        {"job.quantity", "0", "\"0\" is below 1; give 1 or more"},
        {"job.quantity", "2000000", "is above"},
        {"job.quantity", "some", "number"},
        {"job.allowance", "60 mm", "\"60 mm\" is above 50"},
        {"job.allowance", "-1 mm", "is below 0"},
        {"job.allowance", "2 kg", ""},
        {"job.metal", "unobtainium", "there is no metal \"unobtainium\"; choose one of "},
        {"sand.kind", "sea", "there is no sand \"sea\""},
        {"crucible.kind", "tin", "there is no crucible kind \"tin\""},
        {"shop.lengths", "furlong", "not one of the choices; choose mm or in"},
        {"job.mesh_unit", "MM", "choose mm, cm, m, in or ft"},
        {"job.pull", "0,0", "\"0,0\" is not a direction"},
        {"job.pull", "0,0,0", "\"0,0,0\" points nowhere"},
        {"job.pull", "1e300,1e300,0", "is not a direction"},
        {"job.pull", "0,0,1,2", "is not a direction"},
        {"job.pull", "0,0,inf", "is not a direction"},
        {"job.pull", "0,0,1e999", "is not a direction"},
        {"job.name", "two\nlines", "write it on one line"},
        {"shop.currency", "guilders", "longer than 7"},
        {"job.name", "bad \xff", "not UTF-8"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        GError *error = NULL;
        double si = 2.385;
        g_assert_false(check_text(cases[i].path, cases[i].text, &si, &error));
        check_error(error, BASE_ERROR_VALUE, cases[i].words);
        g_assert_cmpfloat(si, ==, 2.385);
    }
}

static void
test_limits_in_shop_units(void)
{
    UnitSet units = unit_set_default();
    units.inches = TRUE;
    GError *error = NULL;
    g_assert_false(field_check(field_find("job.allowance"), "3", &units, tables, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, " in; give 1.969 in or less");
}

static void
test_node_text(void)
{
    const Field *count = field_find("job.quantity"), *length = field_find("job.allowance");
    g_autoptr(Node) number = node_new_number(24);
    g_autoptr(Node) blank = node_new_text("  ");
    g_autoptr(Node) text = node_new_text(" 2 mm ");
    g_autoptr(Node) list = node_new_list();
    char *out = NULL;
    GError *error = NULL;
    g_assert_true(field_node_text(count, number, &out, &error));
    g_assert_cmpstr(out, ==, "24");
    g_clear_pointer(&out, g_free);
    g_assert_true(field_node_text(length, blank, &out, &error) && !out);
    g_assert_true(field_node_text(length, NULL, &out, &error) && !out);
    g_assert_true(field_node_text(length, text, &out, &error));
    g_assert_cmpstr(out, ==, "2 mm");
    g_clear_pointer(&out, g_free);
    g_assert_false(field_node_text(length, number, &out, &error));
    check_error(error, BASE_ERROR_FORMAT, "holds a number; write it as text with its unit");
    g_assert_false(field_node_text(length, list, &out, &error));
    check_error(error, BASE_ERROR_FORMAT, "holds a list");
    g_assert_null(out);
}

static void
test_words(void)
{
    g_autofree char *words = field_words("job.allowance");
    g_assert_cmpstr(words, ==, "\"Machining allowance\" (job.allowance)");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    g_test_add_func("/book/field/table", test_table);
    g_test_add_func("/book/field/defaults-keep", test_defaults_keep);
    g_test_add_func("/book/field/groups", test_groups);
    g_test_add_func("/book/field/called", test_called);
    g_test_add_func("/book/field/words", test_words);
    g_test_add_func("/book/field/labels", test_labels);
    g_test_add_func("/book/field/good", test_good);
    g_test_add_func("/book/field/refused", test_refused);
    g_test_add_func("/book/field/limits-in-shop-units", test_limits_in_shop_units);
    g_test_add_func("/book/field/node-text", test_node_text);
    return g_test_run();
}
