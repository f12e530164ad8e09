// SPDX-License-Identifier: GPL-3.0-or-later
// Building and reading the small objects of journal and log.
#pragma once

#include "book/node.h"

G_BEGIN_DECLS

// Each puts a member into *object, which is replaced by the longer one. What is absent is left out:
// a text that is NULL, a number that is not finite.
void live_put(Node **object, const char *name, Node *value); // takes value over; NULL: absent
void live_put_text(Node **object, const char *name, const char *text);
void live_put_number(Node **object, const char *name, double number);

// A list of values in an array of Node *; takes the values over, not the array.
Node *live_list(GPtrArray *values);

// A number member; `otherwise` when absent or no number.
double live_get_number(const Node *object, const char *name, double otherwise);
// A whole number within limits; `otherwise` when absent or anything else.
int live_get_int(const Node *object, const char *name, int least, int most, int otherwise);
const char *live_get_text(const Node *object, const char *name); // NULL when absent

G_END_DECLS
