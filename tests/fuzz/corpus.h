// SPDX-License-Identifier: GPL-3.0-or-later
// What a fuzz target gives: the entry the engines know, and good inputs to start from.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Must return 0 and may crash only if the code under test is wrong.
int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

// Adds GByteArrays.
void fuzz_corpus(GPtrArray *corpus);

static inline void
fuzz_corpus_text(GPtrArray *corpus, const char *text)
{
    GByteArray *bytes = g_byte_array_new();
    gsize length = 0;
    while (text[length])
        length++;
    g_byte_array_append(bytes, (const guint8 *)text, (guint)length);
    g_ptr_array_add(corpus, bytes);
}

G_END_DECLS
