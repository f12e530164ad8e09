// SPDX-License-Identifier: GPL-3.0-or-later
// The strict reader: what RFC 8259 allows and forbids, with line and column, and its limits.
#include "book/scan.h"

#include <json-glib/json-glib.h>
#include <string.h>

#include "check.h"

static Node *
scan(const char *text, GError **error)
{
    return scan_text(text, strlen(text), "shop.castbook", 5, error);
}

static void
test_values(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = scan(
        "\xef\xbb\xbf {\"t\": \"a\\n\\u00e9\\ud83d\\ude00\\/\", \"n\":[-0.5e-1, 0, 12E+2],"
        "\r\n\t\"x\": [true,false,null,{},[]]}\n",
        &error);
    g_assert_no_error(error);
    g_assert_cmpstr(node_text(node_get(node, "/t")), ==, "a\né😀/");
    g_assert_cmpfloat(node_number(node_get(node, "/n/0")), ==, -0.05);
    g_assert_cmpfloat(node_number(node_get(node, "/n/2")), ==, 1200);
    g_assert_true(node_bool(node_get(node, "/x/0")));
    g_assert_cmpint(node_kind(node_get(node, "/x/1")), ==, NODE_BOOL);
    g_assert_cmpint(node_kind(node_get(node, "/x/2")), ==, NODE_NULL);
    g_assert_cmpint(node_kind(node_get(node, "/x/3")), ==, NODE_OBJECT);
    g_assert_cmpint(node_kind(node_get(node, "/x/4")), ==, NODE_LIST);
}

// Each with the place and a word of its message; columns counted by hand.
static void
test_damage(void)
{
    static const struct {
        const char *text, *words;
    } cases[] = {
        {"", "line 1, column 1: the text ends where a value"},
        {"{\n  \"a\": 1,\n}", "line 3, column 1: found \"}\""},
        {"{\"a\" 1}", "line 1, column 6: found \"1\" where \":\""},
        {"{\"é\": tru}", "line 1, column 7: found \"t\" where a value"},
        {"{a: 1}", "line 1, column 2: found \"a\""},
        {"[1,]", "line 1, column 4: found \"]\""},
        {"[1 2]", "line 1, column 4: found \"2\""},
        {"[1", "line 1, column 3: the text ends"},
        {"[01]", "line 1, column 3: found \"1\""},
        {"[+1]", "line 1, column 2: found \"+\""},
        {"[.5]", "line 1, column 2: found \".\""},
        {"[1.]", "line 1, column 4: found \"]\" where a digit"},
        {"[1e]", "line 1, column 4: found \"]\" where a digit"},
        {"[-]", "line 1, column 3: found \"]\" where a digit"},
        {"[NaN]", "line 1, column 2: found \"N\""},
        {"[1] x", "line 1, column 5: found \"x\" where the end"},
        {"// no\n1", "line 1, column 1: found \"/\""},
        {"['a']", "found \"'\""},
        {"[\"a", "line 1, column 2: a text that starts here never ends"},
        {"[\"a\nb\"]", "line 1, column 4: a control character"},
        {"[\"\\q\"]", "line 1, column 4: found \"q\" where an escape"},
        {"[\"\\u12g4\"]", "found \"g\" where four hexadecimal digits"},
        {"[\"\\ud800\"]", "half a surrogate pair"},
        {"[\"\\ud800\\u0041\"]", "half a surrogate pair"},
        {"[\"\\udc00\"]", "half a surrogate pair"},
        {"[\"\\u0000\"]", "U+0000"},
        {"{\"a\":1,\n \"a\":2}", "line 2, column 2: member \"a\" stands here a second time"},
        {"[\x01]", "found U+0001"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        GError *error = NULL;
        g_assert_null(scan(cases[i].text, &error));
        g_assert_true(error && g_str_has_prefix(error->message, "shop.castbook: line "));
        check_error(error, BASE_ERROR_FORMAT, cases[i].words);
    }
}

static void
test_bytes(void)
{
    GError *error = NULL;
    g_assert_null(scan("{\"a\":\n\"x\xff\"}", &error));
    check_error(error, BASE_ERROR_FORMAT, "line 2, column 3: bytes that are not UTF-8");
    g_assert_null(scan_text("[1]\0[2]", 7, "f", 5, &error));
    check_error(error, BASE_ERROR_FORMAT, "line 1, column 4: a zero byte");
    g_assert_null(scan("[\"\xed\xa0\x80\"]", &error)); // a surrogate written as UTF-8
    check_error(error, BASE_ERROR_FORMAT, "not UTF-8");
}

static void
test_limits(void)
{
    GError *error = NULL;
    g_autoptr(Node) deep = scan("[[[[[1]]]]]", &error);
    g_assert_no_error(error);
    g_assert_nonnull(deep);
    g_assert_null(scan("[[[[[[1]]]]]]", &error));
    check_error(error, BASE_ERROR_LIMIT, "line 1, column 6: lists and objects lie deeper than 5");
    g_autofree char *brackets = g_strnfill(1000000, '[');
    g_assert_null(scan(brackets, &error));
    check_error(error, BASE_ERROR_LIMIT, "deeper than 5");
    g_autoptr(GString) many = g_string_new("[0");
    for (int i = 0; i < SCAN_MAX_NODES; i++)
        g_string_append(many, ",0");
    g_string_append_c(many, ']');
    g_assert_null(scan(many->str, &error));
    check_error(error, BASE_ERROR_LIMIT, "more than a million values");
}

// The same tree as another reader makes of the same text.
static void
assert_same(const Node *node, JsonNode *other)
{
    if (JSON_NODE_HOLDS_NULL(other)) {
        g_assert_cmpint(node_kind(node), ==, NODE_NULL);
    } else if (JSON_NODE_HOLDS_OBJECT(other)) {
        JsonObject *object = json_node_get_object(other);
        g_assert_cmpint(node_kind(node), ==, NODE_OBJECT);
        g_assert_cmpuint(node_size(node), ==, json_object_get_size(object));
        g_autoptr(GList) names = json_object_get_members(object);
        guint i = 0;
        for (GList *l = names; l; l = l->next, i++) {
            g_assert_cmpstr(node_member_name(node, i), ==, l->data);
            assert_same(node_at(node, i), json_object_get_member(object, l->data));
        }
    } else if (JSON_NODE_HOLDS_ARRAY(other)) {
        JsonArray *array = json_node_get_array(other);
        g_assert_cmpint(node_kind(node), ==, NODE_LIST);
        g_assert_cmpuint(node_size(node), ==, json_array_get_length(array));
        for (guint i = 0; i < node_size(node); i++)
            assert_same(node_at(node, i), json_array_get_element(array, i));
    } else if (json_node_get_value_type(other) == G_TYPE_STRING) {
        g_assert_cmpstr(node_text(node), ==, json_node_get_string(other));
    } else if (json_node_get_value_type(other) == G_TYPE_BOOLEAN) {
        g_assert_cmpint(node_bool(node), ==, json_node_get_boolean(other));
    } else {
        g_assert_cmpfloat(node_number(node), ==, json_node_get_double(other));
    }
}

// A value of its own for each state of `random`, as text with odd spacing.
static void
write_random(GString *out, GRand *random, int depth)
{
    static const char *const plain[] = {
        "null", "true",  "false",       "0",      "-17",   "2.385e-3",    "12345678901", "0.1",
        "\"\"", "\"é\"", "\"\\n\\\\\"", "\"/ \"", "1e300", "\"\\u20ac\"", "5E-7",        "1e2"};
    int choice = depth > 0 ? g_rand_int_range(random, 0, 4) : 0;
    int count = g_rand_int_range(random, 0, 5);
    if (choice < 2) {
        g_string_append(out, plain[g_rand_int_range(random, 0, G_N_ELEMENTS(plain))]);
        return;
    }
    g_string_append(out, choice == 2 ? "[ " : "{\n");
    for (int i = 0; i < count; i++) {
        g_string_append(out, i > 0 ? " ,\t" : "");
        if (choice == 3)
            g_string_append_printf(out, "\"m%d\" : ", i);
        write_random(out, random, depth - 1);
    }
    g_string_append(out, choice == 2 ? "]" : "\r\n}");
}

static void
test_second_opinion(void)
{
    g_autoptr(GRand) random = g_rand_new_with_seed(2385);
    for (int i = 0; i < 500; i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(GString) text = g_string_new("[");
        write_random(text, random, 4);
        g_string_append(text, "]");
        g_autoptr(JsonParser) parser = json_parser_new();
        g_assert_true(json_parser_load_from_data(parser, text->str, -1, &error));
        g_autoptr(Node) node = scan(text->str, &error);
        g_assert_no_error(error);
        assert_same(node, json_parser_get_root(parser));
    }
}

// Cut at every length: an error each time, never a crash.
static void
test_cut(void)
{
    static const char whole[] =
        "{\"a\": [1.5e3, \"\\ud83d\\ude00 é\", {\"b\": null}], \"c\": false}";
    for (gsize n = 0; n < sizeof whole - 1; n++) {
        GError *error = NULL;
        g_autofree char *text = g_memdup2(whole, n + 1); // exact size, for the sanitizer
        g_assert_null(scan_text(text, n, "cut", 5, &error));
        check_error(error, BASE_ERROR_FORMAT, "cut: line 1, column ");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/scan/values", test_values);
    g_test_add_func("/book/scan/damage", test_damage);
    g_test_add_func("/book/scan/bytes", test_bytes);
    g_test_add_func("/book/scan/limits", test_limits);
    g_test_add_func("/book/scan/second-opinion", test_second_opinion);
    g_test_add_func("/book/scan/cut", test_cut);
    return g_test_run();
}
