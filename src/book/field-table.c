// SPDX-License-Identifier: GPL-3.0-or-later
// The field table: every input there is, once, step after step. The rows stand in the files of the
// steps.
#include "book/field-rows.h"

static const FieldRows *const parts[] = {&field_rows_part, &field_rows_mould, &field_rows_melt,
                                         &field_rows_pour, &field_rows_shop};

guint
field_count(void)
{
    guint n = 0;
    for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
        n += parts[i]->n;
    return n;
}

const Field *
field_at(guint index)
{
    for (guint i = 0; i < G_N_ELEMENTS(parts); i++) {
        if (index < parts[i]->n)
            return &parts[i]->rows[index];
        index -= parts[i]->n;
    }
    g_return_val_if_reached(NULL);
}
