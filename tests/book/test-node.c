// SPDX-License-Identifier: GPL-3.0-or-later
// Nodes: kinds, copies with one change that share the rest, places, equality, digits of numbers.
#include "book/node.h"

#include "check.h"

static Node *
make_sample(void)
{
    char *names[] = {g_strdup("b"), g_strdup("a"), g_strdup("list")};
    Node *items[] = {node_new_text("x"), node_new_number(2.385), node_new_null()};
    Node *values[] = {node_new_bool(TRUE), node_new_text("draft"), node_new_list_of(items, 3)};
    return node_new_object_of(names, values, 3);
}

static void
test_kinds(void)
{
    g_autoptr(Node) node = make_sample();
    g_assert_cmpint(node_kind(NULL), ==, NODE_NULL);
    g_assert_cmpint(node_kind(node), ==, NODE_OBJECT);
    g_assert_cmpuint(node_size(node), ==, 3);
    g_assert_cmpstr(node_member_name(node, 1), ==, "a");
    g_assert_null(node_member_name(node, 3));
    g_assert_true(node_bool(node_member(node, "b")));
    g_assert_cmpstr(node_text(node_member(node, "a")), ==, "draft");
    g_assert_null(node_text(node_member(node, "b")));
    g_assert_true(isnan(node_number(node_member(node, "a"))));
    g_assert_null(node_member(node_member(node, "list"), "a"));
    g_assert_null(node_at(node, 7));
    node_unref(NULL);
}

static void
test_places(void)
{
    g_autoptr(Node) node = make_sample();
    g_assert_cmpfloat(node_number(node_get(node, "/list/1")), ==, 2.385);
    g_assert_true(node_get(node, "") == node);
    g_assert_null(node_get(node, "/list/3"));
    g_assert_null(node_get(node, "/list/-1"));
    g_assert_null(node_get(node, "/list/+1"));
    g_assert_null(node_get(node, "/list/99999999999999999999"));
    g_assert_null(node_get(node, "/a/0"));
    g_assert_null(node_get(node, "/c"));
}

static void
test_members(void)
{
    g_autoptr(Node) node = make_sample();
    g_autoptr(Node) value = node_new_number(7);
    g_autoptr(Node) changed = node_with_member(node, "a", value);
    g_autoptr(Node) longer = node_with_member(node, "z", value);
    g_autoptr(Node) shorter = node_with_member(node, "b", NULL);
    g_autoptr(Node) same = node_with_member(node, "nothing", NULL);
    g_assert_cmpstr(node_text(node_member(node, "a")), ==, "draft");
    g_assert_cmpstr(node_member_name(changed, 1), ==, "a");
    g_assert_true(node_member(changed, "a") == value);
    g_assert_true(node_member(changed, "list") == node_member(node, "list"));
    g_assert_cmpstr(node_member_name(longer, 3), ==, "z");
    g_assert_cmpuint(node_size(shorter), ==, 2);
    g_assert_cmpstr(node_member_name(shorter, 0), ==, "a");
    g_assert_true(same == node);
}

static void
test_items(void)
{
    g_autoptr(Node) node = make_sample();
    const Node *list = node_member(node, "list");
    g_autoptr(Node) value = node_new_text("new");
    g_autoptr(Node) replaced = node_with_item(list, 1, value);
    g_autoptr(Node) first = node_with_insert(list, 0, value);
    g_autoptr(Node) last = node_with_insert(list, G_MAXUINT, value);
    g_autoptr(Node) removed = node_with_remove(list, 0);
    g_assert_cmpuint(node_size(list), ==, 3);
    g_assert_true(node_at(replaced, 1) == value);
    g_assert_true(node_at(replaced, 2) == node_at(list, 2));
    g_assert_true(node_at(first, 0) == value && node_at(first, 3) == node_at(list, 2));
    g_assert_true(node_at(last, 3) == value);
    g_assert_cmpuint(node_size(removed), ==, 2);
    g_assert_true(node_at(removed, 0) == node_at(list, 1));
}

static void
test_equal(void)
{
    g_autoptr(Node) a = make_sample();
    g_autoptr(Node) b = make_sample();
    g_autoptr(Node) text = node_new_text("draft");
    g_autoptr(Node) other = node_with_member(b, "list", text);
    g_assert_true(node_equal(a, b));
    g_assert_false(node_equal(a, other));
    g_assert_false(node_equal(a, NULL));
    g_assert_true(node_equal(NULL, NULL));
    g_autoptr(Node) x = node_new_number_text("1.50");
    g_autoptr(Node) y = node_new_number(1.5);
    g_assert_true(node_equal(x, y));
    g_autoptr(Node) long_a = node_new_number_text("9007199254740993");
    g_autoptr(Node) long_b = node_new_number_text("9007199254740992");
    g_assert_false(node_equal(long_a, long_b));
}

static void
test_digits(void)
{
    static const struct {
        double value;
        const char *text;
    } cases[] = {
        {1, "1"},           {0.1, "0.1"},    {2.385, "2.385"},
        {-3, "-3"},         {1e21, "1e+21"}, {1.0 / 3, "0.3333333333333333"},
        {5e-324, "5e-324"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(Node) node = node_new_number(cases[i].value);
        g_autofree char *text = node_number_text(node);
        g_assert_cmpstr(text, ==, cases[i].text);
        g_assert_cmpfloat(g_ascii_strtod(text, NULL), ==, cases[i].value);
    }
    g_autoptr(Node) kept = node_new_number_text("1.50");
    g_autofree char *text = node_number_text(kept);
    g_assert_cmpstr(text, ==, "1.50");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/node/kinds", test_kinds);
    g_test_add_func("/book/node/places", test_places);
    g_test_add_func("/book/node/members", test_members);
    g_test_add_func("/book/node/items", test_items);
    g_test_add_func("/book/node/equal", test_equal);
    g_test_add_func("/book/node/digits", test_digits);
    return g_test_run();
}
