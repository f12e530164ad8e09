// SPDX-License-Identifier: GPL-3.0-or-later
// The members of the log the program reads, with the level they stand on and what they hold.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum {
    LOG_SESSION,
    LOG_LOAD,
    LOG_FLASK,
    LOG_CASTING,
} LogLevel;

// A member that is a quantity in text, such as "48 min".
typedef struct {
    LogLevel level;
    const char *name;
    QuantityKind kind;
} LogMember;

guint log_member_count(void);
const LogMember *log_member_at(guint index);

// Why a casting was scrapped, by kind; member "cause" of a casting. What happened in words is
// "why".
typedef struct {
    const char *id;    // "short-pour"
    const char *label; // N_("Short pour")
} LogCause;

guint log_cause_count(void);
const LogCause *log_cause_at(guint index);
const LogCause *log_cause_find(const char *id); // NULL if there is none

G_END_DECLS
