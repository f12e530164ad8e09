// SPDX-License-Identifier: GPL-3.0-or-later
// The earliest last pour by looking at every state a tiny floor can be in, minute by minute.
#pragma once

#include "session/floor.h"

G_BEGIN_DECLS

// All times of the floor are whole multiples of `unit` s. The earliest end of the last pour in
// units; -1 when it is later than `most` units.
int brute_last_pour(const SessionFloor *floor, const int *counts, double unit, int most);

G_END_DECLS
