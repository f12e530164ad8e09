// SPDX-License-Identifier: GPL-3.0-or-later
// Limits of a session as an object. What is infinite is left out.
#include "live/sheet-limits.h"

#include <math.h>

#include "live/node-kit.h"
#include "live/task.h"

// More than any session has; bounds what a file can ask for.
#define MOST_JOBS 1000
#define MOST_PINS 20000
#define MOST_SECONDS (40 * 86400.0)
#define MOST_MASS 1e6

Node *
live_limits_node(const SessionLimits *limits)
{
    if (!limits)
        return NULL;
    Node *node = node_new_object();
    g_autoptr(GPtrArray) sand = g_ptr_array_new(), pins = g_ptr_array_new();
    for (guint i = 0; i < limits->n_sand; i++)
        g_ptr_array_add(sand, node_new_number(limits->sand[i]));
    for (guint i = 0; i < limits->n_pins; i++) {
        Node *pin = node_new_object();
        live_put_text(&pin, "kind", live_task_word(limits->pins[i].kind));
        live_put_number(&pin, "number", limits->pins[i].number);
        live_put_number(&pin, "at", limits->pins[i].at);
        g_ptr_array_add(pins, pin);
    }
    live_put_number(&node, "sand_ready", limits->sand_ready);
    live_put_number(&node, "sand_rest", limits->sand_rest);
    live_put_number(&node, "light_from", limits->light_from);
    live_put_number(&node, "light_to", limits->light_to);
    live_put(&node, "sand", live_list(sand));
    live_put(&node, "pins", live_list(pins));
    return node;
}

static double
read_amount(const Node *node, const char *name, double most, double otherwise)
{
    double value = live_get_number(node, name, otherwise);
    return value >= 0.0 && value <= most ? value : otherwise;
}

const SessionLimits *
live_limits_read(const Node *node)
{
    const Node *sand = node_member(node, "sand"), *pins = node_member(node, "pins");
    if (node_kind(node) != NODE_OBJECT)
        return NULL;
    SessionLimits *limits = session_limits_new(MIN(node_size(sand), MOST_JOBS),
                                               MIN(node_size(pins), MOST_PINS));
    limits->sand_ready = read_amount(node, "sand_ready", MOST_MASS, INFINITY);
    limits->sand_rest = read_amount(node, "sand_rest", MOST_SECONDS, INFINITY);
    limits->light_from = read_amount(node, "light_from", MOST_SECONDS, 0.0);
    limits->light_to = read_amount(node, "light_to", MOST_SECONDS, INFINITY);
    for (guint i = 0; i < limits->n_sand; i++) {
        double kg = node_number(node_at(sand, i));
        limits->sand[i] = kg >= 0.0 && kg <= MOST_MASS ? kg : 0.0;
    }
    guint n = 0;
    for (guint i = 0; i < limits->n_pins; i++) {
        const Node *pin = node_at(pins, i);
        SessionPin one = {.number = live_get_int(pin, "number", 0, G_MAXINT, 0),
                          .at = live_get_number(pin, "at", NAN)};
        if (live_task_kind(live_get_text(pin, "kind"), &one.kind) && one.at <= MOST_SECONDS)
            limits->pins[n++] = one;
    }
    limits->n_pins = n;
    return limits;
}
