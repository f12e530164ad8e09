// SPDX-License-Identifier: GPL-3.0-or-later
// Content hashes over GChecksum. Every piece is preceded by its kind and length, so that
// ("ab", "c") and ("a", "bc") differ.
#include "base/digest.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"

struct Digest {
    GChecksum *sum;
};

static void
add_piece(Digest *digest, char kind, const void *data, gsize length)
{
    char head[24];
    int n = g_snprintf(head, sizeof head, "%c%" G_GSIZE_FORMAT ":", kind, length);
    g_checksum_update(digest->sum, (const guchar *)head, n);
    if (length > 0)
        g_checksum_update(digest->sum, data, length);
}

Digest *
digest_new(void)
{
    Digest *digest = g_new0(Digest, 1);
    digest->sum = g_checksum_new(G_CHECKSUM_SHA256);
    return digest;
}

void
digest_free(Digest *digest)
{
    if (!digest)
        return;
    g_checksum_free(digest->sum);
    g_free(digest);
}

void
digest_add_string(Digest *digest, const char *text)
{
    if (text)
        add_piece(digest, 's', text, strlen(text));
    else
        add_piece(digest, 'n', NULL, 0);
}

void
digest_add_double(Digest *digest, double value)
{
    double plain = value == 0.0 ? 0.0 : value;
    add_piece(digest, 'd', &plain, sizeof plain);
}

void
digest_add_int(Digest *digest, gint64 value)
{
    add_piece(digest, 'i', &value, sizeof value);
}

void
digest_add_bytes(Digest *digest, const void *data, gsize length)
{
    add_piece(digest, 'b', data, length);
}

char *
digest_end(Digest *digest)
{
    return g_strdup(g_checksum_get_string(digest->sum));
}

char *
digest_of_file(const char *path, GError **error)
{
    FILE *file = g_fopen(path, "rb");
    if (!file) {
        base_error_set(error, BASE_ERROR_FILE, path, NULL, g_strerror(errno),
                       "check the name and that it can be read");
        return NULL;
    }
    g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
    guchar buffer[65536];
    gsize n;
    while ((n = fread(buffer, 1, sizeof buffer, file)) > 0)
        g_checksum_update(sum, buffer, (gssize)n);
    gboolean bad = ferror(file) != 0;
    fclose(file);
    if (bad) {
        base_error_set(error, BASE_ERROR_FILE, path, NULL, "reading it failed half-way", NULL);
        return NULL;
    }
    return g_strdup(g_checksum_get_string(sum));
}
