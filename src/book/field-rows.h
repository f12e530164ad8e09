// SPDX-License-Identifier: GPL-3.0-or-later
// The parts the field table is put together from; for field-table.c and the files of rows only.
#pragma once

#include "book/field.h"

G_BEGIN_DECLS

typedef struct {
    const Field *rows;
    guint n;
} FieldRows;

extern const FieldRows field_rows_part, field_rows_mould, field_rows_melt, field_rows_pour,
    field_rows_shop;

G_END_DECLS
