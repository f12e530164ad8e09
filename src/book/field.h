// SPDX-License-Identifier: GPL-3.0-or-later
// One row per input: the only declaration of a thing a person can set. From it come the JSON
// member, the CLI option, parsing and range check, the form row, the undo label and the digest.
#pragma once

#include "book/node.h"
#include "metal/tables.h"
#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum {
    FIELD_QUANTITY, // a number with a unit, typed as text ("3/4 in")
    FIELD_CHOICE,   // one of `choices`
    FIELD_ROW,      // id of a row of a table (metal, sand, crucible kind)
    FIELD_ENTRY,    // id of an entry of a list of the book ("flasks")
    FIELD_BOOL,     // "yes" / "no"
    FIELD_WORDS,    // free text
    FIELD_VECTOR,   // "0,0,1"
    FIELD_FILE,     // a path relative to the book
} FieldType;

typedef struct {
    const char *path;  // "job.allowance": section and JSON member
    const char *label; // N_("Machining allowance")
    const char *help;  // N_("Stock on every face ...")
    const char *edit;  // N_("Change allowance"): undo label
    FieldType type;
    QuantityKind kind;    // of FIELD_QUANTITY
    const char *fallback; // default as text ("2 mm"), or "@metal.contraction" from a table row, or
                          // NULL: no default, unknown while blank
    const char *source;   // source id of the default ("common-practice", ...)
    double min, max;      // SI range, inclusive, for FIELD_QUANTITY; NAN: open. For FIELD_WORDS
                          // `max` is the greatest number of bytes
    const char *choices;  // FIELD_CHOICE: "mm=mm/in=in", word=label each; FIELD_ROW: "metals"...;
                          // FIELD_ENTRY: "flasks", "furnaces", "crucibles" of the shop,
                          // of which blank means the first; "jobs", of which it means none
    const char *option;   // CLI option of `new` ("allowance"), or NULL
    const char *step;     // job-pane step whose page shows it: part pattern mould melt pour
                          // shake-out machining finished shop
    const char *group;    // topic of a step with a long form (book/field-group.h), or NULL
} Field;

// The whole table, in the order forms show it.
guint field_count(void);
const Field *field_at(guint index);
const Field *field_find(const char *path); // NULL if there is none

// How a sentence names a field: by its label in the window and by its path, which programs and the
// book go by: "Draft" (job.draft), with the quotes. Free.
char *field_words(const char *path);

// Reads `text` for this field: parse and range check. FALSE with a message fit to stand beside the
// entry. `si` may be NULL; for types without a number it is NAN.
gboolean field_check(const Field *field, const char *text, const UnitSet *units,
                     const Tables *tables, double *si, GError **error);

// The section of a path: "job" of "job.allowance". Free.
char *field_section(const char *path);
// The JSON member of a path: "allowance" of "job.allowance". Part of `path`.
const char *field_member(const char *path);

// The text of a node for this field: as typed, or the digits of a plain number where the field
// takes one. NULL when blank (absent, null, empty or spaces); spaces around it go. FALSE with a
// message if the node is of a kind the field cannot hold. `text` is freed by the caller.
gboolean field_node_text(const Field *field, const Node *node, char **text, GError **error);

// Three numbers of a FIELD_VECTOR, "0,0,1"; commas, semicolons or spaces between. Refuses a vector
// without length. `vector` is written on success only.
gboolean field_vector(const char *text, double vector[3], GError **error);
// The text of one, which reads back as it to 7 digits; parts below 1e-9 are 0.
char *field_vector_text(const double vector[3]);

// Where a section's entry lies: "/shop", "/shop/sand", "/shop/flasks", "/jobs". Static. For the
// last two it is the list, and `in_list` (may be NULL) is set. NULL for a section no field has.
const char *field_section_place(const char *section, gboolean *in_list);

// Sections: shop job flask furnace crucible sand people rates machine printer. `flask`, `furnace`
// and `crucible` are entries of lists under shop; job.flask and the like choose one, else the
// first.

G_END_DECLS
