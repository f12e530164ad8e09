// SPDX-License-Identifier: GPL-3.0-or-later
// Printing the log and the day that is going on.
#pragma once

#include "live/live.h"

G_BEGIN_DECLS

// `live` may be NULL: no day is going on.
void cli_log_print(const Book *book, const Live *live);
// What is now known of a task that was ticked, and what to look for if its metal was too cold or
// too hot.
void cli_log_print_tick(const Book *book, const Live *live, const char *key);
void cli_log_print_json(const Book *book, const Live *live, const char *file);

G_END_DECLS
