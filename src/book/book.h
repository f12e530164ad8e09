// SPDX-License-Identifier: GPL-3.0-or-later
// The one document: the shop, its jobs and its log. Immutable and reference-counted; changed only
// by making another (book/edit.h). Holds what the person typed, never anything computed.
#pragma once

#include "book/node.h"
#include "units/quantity.h"

G_BEGIN_DECLS

#define BOOK_VERSION 1

typedef struct Book Book;

Book *book_ref(const Book *book);
void book_unref(const Book *book); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Book, book_unref)

// Takes a reference to `root`. `folder` is where relative mesh paths start; may be NULL.
Book *book_new(const Node *root, const char *folder);
// A Book with a ready shop (one furnace, one crucible, one flask kind, sand, hours, rates) and no
// job.
Book *book_new_ready(void);

const Node *book_root(const Book *book);
const char *book_folder(const Book *book); // NULL if never saved
Book *book_with_folder(const Book *book, const char *folder);

guint book_job_count(const Book *book);
const char *book_job_id(const Book *book, guint index);
const char *book_job_name(const Book *book, const char *job_id);
gboolean book_has_job(const Book *book, const char *job_id);
// "/jobs/2" for a job id; NULL if absent. Free.
char *book_job_place(const Book *book, const char *job_id);
// Absolute path of a job's mesh, or NULL if it names none. Free.
char *book_mesh_path(const Book *book, const char *job_id);
// A job id not used yet, made from a name ("Treadle bracket" -> "treadle-bracket"). Free.
char *book_new_job_id(const Book *book, const char *name);

// The object that holds the fields of a section ("job", "flask", "sand", ...; see field.h) for a
// job, NULL if there is none yet. `place` (may be NULL; free) gets where it is or would be, NULL
// for section "job" without a job. Sets an error when the job names an entry the shop does not
// have.
const Node *book_section(const Book *book, const char *job_id, const char *section, char **place,
                         GError **error);
// The id of the entry a job uses of "flask", "furnace" or "crucible", by its own choice or the
// first in the shop; NULL if there is none.
const char *book_entry_id(const Book *book, const char *job_id, const char *section);

UnitSet book_units(const Book *book);

G_END_DECLS
