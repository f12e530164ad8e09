// SPDX-License-Identifier: GPL-3.0-or-later
// The three changes a Book knows: set, insert, remove, at a place. Nothing else changes a Book.
#pragma once

#include "book/book.h"
#include "book/field.h"

G_BEGIN_DECLS

typedef enum {
    EDIT_SET,
    EDIT_INSERT,
    EDIT_REMOVE
} EditKind;

typedef struct {
    EditKind kind;
    char *place; // "/jobs/0/allowance"; for EDIT_INSERT the place of the new item ("/jobs/-" = end)
    Node *value; // NULL for EDIT_REMOVE; EDIT_SET with a null node clears the member
    char *label; // undo label, translated: "Change allowance"
} Edit;

Edit *edit_set(const char *place, const Node *value, const char *label);
Edit *edit_insert(const char *place, const Node *value, const char *label);
Edit *edit_remove(const char *place, const char *label);
// Sets a field by its path for a job (NULL for shop sections) from typed text; "" clears it so that
// the default applies. Checks the text first.
Edit *edit_field(const Book *book, const char *job_id, const Field *field, const char *text,
                 const Tables *tables, GError **error);
void edit_free(Edit *edit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Edit, edit_free)

// A new Book, or NULL with an error if the place does not exist (setting makes missing objects,
// inserting a missing list) or if the book would no longer be one that can be opened: then the
// message names the place ("jobs[0].quantity"). Place "" stands for the whole book.
Book *edit_apply(const Book *book, const Edit *edit, GError **error);

// Text a person typed for a field, or NULL when blank. The place of a field. Free both.
char *edit_field_text(const Book *book, const char *job_id, const Field *field);
char *edit_field_place(const Book *book, const char *job_id, const Field *field);

// A job entry with mesh, unit, metal and quantity (text as typed, NULL leaves blank), to be
// inserted at "/jobs/-".
Node *edit_job_node(const char *id, const char *name, const char *mesh, const char *sha256,
                    const char *mesh_unit, const char *metal, const char *quantity);

G_END_DECLS
