// SPDX-License-Identifier: GPL-3.0-or-later
// The resolved inputs of a stage: exactly the fields and table values it says it reads, each with
// the source of its value: what the person typed, else the learned value, else the default.
#pragma once

#include "book/book.h"
#include "book/field.h"
#include "figure/figure.h"
#include "metal/tables.h"

G_BEGIN_DECLS

// Values learned from the log, by field path. Built by learn/, read when resolving.
typedef struct {
    char *path;
    double value; // SI
    char *source; // "measured in this shop: 14 of 16 good"
} LearnedValue;

typedef struct Learned Learned;
Learned *learned_new(void);
// A second value for the same path replaces the first.
void learned_set(Learned *learned, const char *path, double value, const char *source);
const LearnedValue *learned_find(const Learned *learned, const char *path);
guint learned_size(const Learned *learned);
Learned *learned_ref(Learned *learned);
void learned_unref(Learned *learned);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Learned, learned_unref)

typedef struct Inputs Inputs;
Inputs *inputs_ref(Inputs *inputs);
void inputs_unref(Inputs *inputs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Inputs, inputs_unref)

// `paths`, NULL-terminated, may hold:
//   "job.allowance"   a field
//   "metal.liquidus"  a property of the job's metal; "metal.*" the whole row (also "sandkind.*" by
//                     sand.kind, "cruciblekind.*" by crucible.kind, "ratingmetal.*" by
//                     crucible.rating_metal)
//   "log"             the whole log, by content
//   "mesh"            the job's mesh: path, unit and the SHA-256 of the file as it is now
//   "jobs"            the ids of all jobs
//   "tables"          all metals and crucible kinds
// Never fails: a field that cannot be read is unknown and keeps its message.
Inputs *inputs_resolve(const Book *book, const char *job_id, const Tables *tables,
                       const Learned *learned, const char *const *paths);

// All of these report a path that was not asked for with g_critical.
double inputs_number(const Inputs *inputs, const char *path);    // NAN when unknown
const char *inputs_text(const Inputs *inputs, const char *path); // as typed or default; NULL
gboolean inputs_bool(const Inputs *inputs, const char *path);
const char *inputs_source(const Inputs *inputs, const char *path);
const char *inputs_error(const Inputs *inputs, const char *path); // message, or NULL
gboolean inputs_is_blank(const Inputs *inputs, const char *path); // value is not the person's own
const TableRow *inputs_row(const Inputs *inputs, const char *section); // "metal", ... or NULL
const Node *inputs_log(const Inputs *inputs);                          // when "log" was asked for
// When "tables" was asked for; NULL if there are none. They outlive the inputs.
const Tables *inputs_tables(const Inputs *inputs);
const char *inputs_mesh_path(const Inputs *inputs); // absolute; NULL if none is named
const char *
inputs_mesh_sha256(const Inputs *inputs); // of the file as it is now; NULL if unreadable
UnitSet inputs_units(const Inputs *inputs);

// Hash of everything above: two Inputs with the same digest give the same results.
const char *inputs_digest(const Inputs *inputs);

// Adds every number among them to `list` as givens, so that figures can name them.
void inputs_give(const Inputs *inputs, FigureList *list);

G_END_DECLS
