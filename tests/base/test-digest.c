// SPDX-License-Identifier: GPL-3.0-or-later
// Digests against SHA-256 values from elsewhere, and that no two different feeds look alike.
#include "base/digest.h"

#include <glib/gstdio.h>

#include "check.h"

static void
test_stream(void)
{
    g_autoptr(Digest) digest = digest_new();
    const guint8 bytes[] = {0x00, 0xff};
    digest_add_string(digest, "abc");
    digest_add_string(digest, NULL);
    digest_add_string(digest, "");
    digest_add_double(digest, 2.385);
    digest_add_int(digest, -7);
    digest_add_bytes(digest, bytes, sizeof bytes);
    g_autofree char *hex = digest_end(digest);
#if G_BYTE_ORDER == G_LITTLE_ENDIAN
    // Python's hashlib.sha256 over s3:abc n0: s0: d8:... i8:... b2:... without the spaces.
    g_assert_cmpstr(hex, ==, "ee91150e8f777f299a02db6f48582852fdd4870e7d2a354c34df205f72aef4a8");
#else
    g_assert_cmpuint(strlen(hex), ==, 64);
#endif
}

static char *
hash_two(const char *first, const char *second)
{
    g_autoptr(Digest) digest = digest_new();
    digest_add_string(digest, first);
    digest_add_string(digest, second);
    return digest_end(digest);
}

static void
test_pieces_stay_apart(void)
{
    static const char *const feeds[][2] = {
        {"ab", "c"}, {"a", "bc"}, {"abc", ""}, {"abc", NULL}, {NULL, "abc"}, {"", "abc"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(feeds); i++)
        for (guint j = 0; j < G_N_ELEMENTS(feeds); j++) {
            g_autofree char *one = hash_two(feeds[i][0], feeds[i][1]);
            g_autofree char *other = hash_two(feeds[j][0], feeds[j][1]);
            g_assert_cmpint(g_strcmp0(one, other) == 0, ==, i == j);
        }
}

static char *
hash_number(double value, gboolean as_int)
{
    g_autoptr(Digest) digest = digest_new();
    if (as_int)
        digest_add_int(digest, (gint64)value);
    else
        digest_add_double(digest, value);
    return digest_end(digest);
}

static void
test_numbers(void)
{
    g_autofree char *zero = hash_number(0.0, FALSE);
    g_autofree char *minus_zero = hash_number(-0.0, FALSE);
    g_autofree char *int_zero = hash_number(0.0, TRUE);
    g_autofree char *one = hash_number(1.0, FALSE);
    g_autofree char *nearly_one = hash_number(nextafter(1.0, 2.0), FALSE);
    g_assert_cmpstr(zero, ==, minus_zero);
    g_assert_cmpstr(zero, !=, int_zero);
    g_assert_cmpstr(one, !=, nearly_one);
}

static void
check_file(const char *folder, const char *content, gsize length, const char *expected)
{
    g_autofree char *path = g_build_filename(folder, "some.stl", NULL);
    g_autoptr(GError) error = NULL;
    g_file_set_contents(path, content, (gssize)length, &error);
    g_assert_no_error(error);
    g_autofree char *hex = digest_of_file(path, &error);
    g_assert_no_error(error);
    g_assert_cmpstr(hex, ==, expected);
}

// FIPS 180 example messages "abc" and a million letters a, and the empty message.
static void
test_file(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *million = g_strnfill(1000000, 'a');
    check_file(folder, "abc", 3,
               "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    check_file(folder, million, 1000000,
               "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
    check_file(folder, "", 0, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    check_folder_remove(folder);
}

static void
test_bad_file(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "none.stl", NULL);
    GError *error = NULL;
    g_assert_null(digest_of_file(path, &error));
    check_error(error, BASE_ERROR_FILE, "none.stl");
    g_assert_null(digest_of_file(folder, &error)); // a folder opens but does not read
    check_error(error, BASE_ERROR_FILE, folder);
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/base/digest/stream", test_stream);
    g_test_add_func("/base/digest/pieces-stay-apart", test_pieces_stay_apart);
    g_test_add_func("/base/digest/numbers", test_numbers);
    g_test_add_func("/base/digest/file", test_file);
    g_test_add_func("/base/digest/bad-file", test_bad_file);
    return g_test_run();
}
