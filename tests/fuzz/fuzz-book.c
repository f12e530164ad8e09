// SPDX-License-Identifier: GPL-3.0-or-later
// Books of strangers: whatever is read must be written again, and that be read and written alike.
#include "corpus.h"

#include "book/store.h"

static Tables *
get_tables(void)
{
    static Tables *tables;
    g_autoptr(GError) error = NULL;
    if (!tables)
        tables = tables_load(&error);
    g_assert_no_error(error);
    return tables;
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
    g_autoptr(GError) error = NULL;
    Tables *tables = get_tables();
    g_autoptr(Book) book = store_parse((const char *)data, (gssize)size, "fuzz", g_get_tmp_dir(),
                                       tables, &error);
    g_assert_true((book != NULL) == (error == NULL));
    if (!book)
        return 0;
    g_autofree char *text = store_text(book);
    g_autoptr(Book) again = store_parse(text, -1, "again", g_get_tmp_dir(), tables, &error);
    g_assert_no_error(error);
    g_autofree char *second = store_text(again);
    g_assert_cmpstr(text, ==, second);
    return 0;
}

static void
add_file(GPtrArray *corpus, const char *name)
{
    g_autofree char *text = NULL;
    const char *source = g_getenv("FW_SOURCE_DIR");
    g_autofree char *path = g_build_filename(source ? source : ".", "data", name, NULL);
    if (g_file_get_contents(path, &text, NULL, NULL))
        fuzz_corpus_text(corpus, text);
}

void
fuzz_corpus(GPtrArray *corpus)
{
    g_autoptr(Book) ready = book_new_ready();
    g_autofree char *text = store_text(ready);
    fuzz_corpus_text(corpus, text);
    add_file(corpus, "demo/loom-hardware.castbook");
}
