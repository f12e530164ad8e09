// SPDX-License-Identifier: GPL-3.0-or-later
// UUIDs from names.
#include "calendar/uid.h"

// Of flaskwright.org in the namespace of domain names.
static const guint8 space[16] = {0x47, 0x38, 0x7a, 0xb1, 0xa2, 0x48, 0x59, 0xdc,
                                 0x98, 0x60, 0x85, 0xc0, 0xb4, 0x98, 0xb1, 0x9a};

char *
calendar_uid(const char *book, int number)
{
    g_return_val_if_fail(book != NULL, NULL);
    g_autofree char *name = g_strdup_printf("%s, session %d", book, number);
    g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA1);
    guint8 d[20];
    gsize length = sizeof d;
    g_checksum_update(sum, space, sizeof space);
    g_checksum_update(sum, (const guchar *)name, -1);
    g_checksum_get_digest(sum, d, &length);
    d[6] = (guint8)((d[6] & 0x0f) | 0x50); // version 5
    d[8] = (guint8)((d[8] & 0x3f) | 0x80); // the variant of the RFC
    return g_strdup_printf("%02x%02x%02x%02x-%02x%02x-%02x%02x-%02x%02x-%02x%02x%02x%02x%02x%02x",
                           d[0], d[1], d[2], d[3], d[4], d[5], d[6], d[7], d[8], d[9], d[10], d[11],
                           d[12], d[13], d[14], d[15]);
}
