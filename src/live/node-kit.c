// SPDX-License-Identifier: GPL-3.0-or-later
// Small objects, member by member.
#include "live/node-kit.h"

#include <math.h>

void
live_put(Node **object, const char *name, Node *value)
{
    g_return_if_fail(object != NULL && *object != NULL);
    g_autoptr(Node) taken = value;
    if (!taken)
        return;
    g_autoptr(Node) before = *object;
    *object = node_with_member(before, name, taken);
}

void
live_put_text(Node **object, const char *name, const char *text)
{
    if (text)
        live_put(object, name, node_new_text(text));
}

void
live_put_number(Node **object, const char *name, double number)
{
    if (isfinite(number))
        live_put(object, name, node_new_number(number));
}

Node *
live_list(GPtrArray *values)
{
    return node_new_list_of((Node **)values->pdata, values->len);
}

double
live_get_number(const Node *object, const char *name, double otherwise)
{
    double number = node_number(node_member(object, name));
    return isfinite(number) ? number : otherwise;
}

int
live_get_int(const Node *object, const char *name, int least, int most, int otherwise)
{
    double number = node_number(node_member(object, name));
    if (!(number >= least && number <= most) || number != floor(number))
        return otherwise;
    return (int)number;
}

const char *
live_get_text(const Node *object, const char *name)
{
    return node_text(node_member(object, name));
}
