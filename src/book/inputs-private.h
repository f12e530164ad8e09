// SPDX-License-Identifier: GPL-3.0-or-later
// What Inputs hold, shared by the file that resolves them and the file that hands them out.
#pragma once

#include "base/digest.h"
#include "book/inputs.h"

G_BEGIN_DECLS

// One path that was asked for.
typedef struct {
    char *path;
    const char *label; // static, not translated
    QuantityKind kind;
    double value; // SI; NAN when unknown or not a number
    char *text;   // as typed, or the default; NULL when unknown
    char *source; // where the value comes from
    char *error;  // why it cannot be read, or NULL
    gboolean blank;
} Input;

// A table row whose whole content was asked for ("metal.*").
typedef struct {
    char *section;
    const TableRow *row; // NULL when none is chosen
} InputRow;

struct Inputs {
    GPtrArray *items;  // Input, in the order asked for
    GHashTable *index; // path -> Input
    GArray *rows;      // InputRow
    Node *log;
    const Tables *tables; // when "tables" was asked for
    char *mesh_path, *mesh_sha256;
    UnitSet units;
    char *digest;
};

// Makes empty Inputs; adds an item, which is taken over.
Inputs *inputs_new(void);
void inputs_add(Inputs *inputs, Input *item);
void inputs_input_free(Input *item);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Input, inputs_input_free)

G_END_DECLS
