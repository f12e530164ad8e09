// SPDX-License-Identifier: GPL-3.0-or-later
// What a person reads of a task, what tells it from others, and what comes before it.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

// "Pour mould 12", translated. Free.
char *session_task_label(const SessionTask *task);
// "pour-12": kind and number of mould or load from 1; "set-up", "close"; "warm-up" for the first
// furnace, "warm-up-2" for the second. Free.
char *session_task_key(const SessionTask *task);
// The kind and number of a key; the number 0 where the kind has none. FALSE when it is no key.
gboolean session_key_read(const char *key, TaskKind *kind, int *number);

// Fills label, key, after and n_after of every task, which must be in order of start.
void session_plan_name(SessionPlan *session, const SessionFloor *floor);
// The same for a bare array.
void session_tasks_name(SessionTask *tasks, guint n);

G_END_DECLS
