// SPDX-License-Identifier: GPL-3.0-or-later
// The search for the pull as the window runs it: in a thread, one at a time, and its answers are
// kept until the part or what the casting is to be like changes.
#pragma once

#include <gio/gio.h>

#include "part/search.h"
#include "plan/plan.h"

G_BEGIN_DECLS

#define FW_TYPE_PULL_SEARCH (fw_pull_search_get_type())
G_DECLARE_FINAL_TYPE(FwPullSearch, fw_pull_search, FW, PULL_SEARCH, GObject)

// Signal "changed": begun, ended, or other answers than before.
FwPullSearch *fw_pull_search_new(void);
// Nothing happens while one is under way or when the plan has no closed part.
void fw_pull_search_start(FwPullSearch *search, const Plan *plan);
void fw_pull_search_stop(FwPullSearch *search); // it ends soon after
gboolean fw_pull_search_is_running(FwPullSearch *search);
double fw_pull_search_fraction(FwPullSearch *search);

// Stops and forgets what is of another part or another draft than the plan's.
void fw_pull_search_follow(FwPullSearch *search, const Plan *plan);
// Answers found elsewhere for this plan's part; copied. A search under way goes on.
void fw_pull_search_take(FwPullSearch *search, const Plan *plan, const SearchResult *answers);

const SearchResult *fw_pull_search_result(FwPullSearch *search); // NULL: none; till it changes
gboolean fw_pull_search_is_rough(FwPullSearch *search);          // the first ranking only
const char *fw_pull_search_question(FwPullSearch *search);       // the result answers, or NULL
const char *fw_pull_search_trouble(FwPullSearch *search);        // why the last failed, or NULL

G_END_DECLS
