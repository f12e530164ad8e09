// SPDX-License-Identifier: GPL-3.0-or-later
// Runs a fuzz target over its corpus and over random changes of it, without a fuzzing engine. A
// target gives LLVMFuzzerTestOneInput, as the engines want it, and the functions in corpus.h.
// Arguments: [rounds [seed]], or the names of files to try, as an engine leaves them.
#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "corpus.h"

#define MOST_BYTES (1u << 16)

// Bytes that parsers of text and numbers stumble over.
static const char *const tokens[] = {
    "-",    "0",  "\n", "\r\n", " ",        "\"",          "1e999", "nan",
    "-1",   "/",  ".",  "e",    "\\\n",     "\xff",        "{",     "[",
    "</",   "&",  "%",  "\t",   "99999999", "0x1p+3",      "inf",   "1/0",
    "1,5 ", "]}", ":",  "null", "\xc2\xb0", "\xef\xbb\xbf"};

static void
change_once(GByteArray *data, GRand *rand, const GPtrArray *corpus)
{
    guint at = data->len ? (guint)g_rand_int(rand) % data->len : 0;
    guint many = 1 + (guint)g_rand_int(rand) % 16;
    switch (g_rand_int(rand) % 8) {
    case 0:
        if (data->len)
            data->data[at] ^= (guint8)(1u << (g_rand_int(rand) % 8));
        break;
    case 1:
        if (data->len)
            data->data[at] = (guint8)g_rand_int(rand);
        break;
    case 2:
        g_byte_array_set_size(data, at);
        break;
    case 3:
        if (data->len)
            g_byte_array_remove_range(data, at, MIN(many, data->len - at));
        break;
    case 4: { // say a piece twice
        g_autofree guint8 *piece = g_memdup2(data->data + at, MIN(many * 8, data->len - at));
        if (piece)
            g_byte_array_append(data, piece, MIN(many * 8, data->len - at));
        break;
    }
    case 5:
    case 6: { // a token over or into what is there
        const char *token = tokens[g_rand_int(rand) % G_N_ELEMENTS(tokens)];
        guint length = (guint)strlen(token), rest = data->len - at;
        g_autofree guint8 *tail = g_memdup2(data->data + at, rest);
        g_byte_array_set_size(data, at);
        g_byte_array_append(data, (const guint8 *)token, length);
        if (rest > many)
            g_byte_array_append(data, tail + (many & 1 ? many : 0), rest - (many & 1 ? many : 0));
        break;
    }
    default: { // go on with another of the corpus
        const GByteArray *other = corpus->pdata[g_rand_int(rand) % corpus->len];
        guint from = MIN(at, other->len);
        g_byte_array_set_size(data, at);
        g_byte_array_append(data, other->data + from, other->len - from);
    }
    }
}

static void
try_input(const guint8 *data, gsize length)
{
    // Of exactly this length, so that a memory checker sees a step past the end.
    g_autofree guint8 *copy = g_malloc(length + (length == 0));
    if (length > 0)
        memcpy(copy, data, length);
    LLVMFuzzerTestOneInput(copy, length);
}

static int
try_files(char **names)
{
    for (; *names; names++) {
        g_autofree char *data = NULL;
        gsize length;
        if (!g_file_get_contents(*names, &data, &length, NULL))
            return EXIT_FAILURE;
        try_input((const guint8 *)data, length);
    }
    return EXIT_SUCCESS;
}

int
main(int argc, char **argv)
{
    guint64 rounds = 20000, seed = 1;
    if (argc > 1 && !g_ascii_string_to_unsigned(argv[1], 10, 0, G_MAXUINT32, &rounds, NULL))
        return try_files(argv + 1);
    if (argc > 2)
        seed = g_ascii_strtoull(argv[2], NULL, 10);
    g_autoptr(GPtrArray)
                  corpus = g_ptr_array_new_with_free_func((GDestroyNotify)g_byte_array_unref);
    g_autoptr(GRand) rand = g_rand_new_with_seed((guint32)seed);
    fuzz_corpus(corpus);
    for (guint i = 0; i < corpus->len; i++) {
        const GByteArray *input = corpus->pdata[i];
        try_input(input->data, input->len);
    }
    for (guint64 i = 0; i < rounds; i++) {
        const GByteArray *start = corpus->pdata[g_rand_int(rand) % corpus->len];
        g_autoptr(GByteArray) data = g_byte_array_new();
        g_byte_array_append(data, start->data, start->len);
        for (guint n = 1 + g_rand_int(rand) % 4; n > 0; n--)
            change_once(data, rand, corpus);
        if (data->len <= MOST_BYTES)
            try_input(data->data, data->len);
    }
    return EXIT_SUCCESS;
}
