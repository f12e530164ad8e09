// SPDX-License-Identifier: GPL-3.0-or-later
// Room of any size is there to its last byte, and zeroed where it was asked to be.
#include "base/large.h"

static void
test_sizes(void)
{
    static const gsize sizes[] = {1, 4095, 4194303, 4194304, 9437187};
    for (guint i = 0; i < G_N_ELEMENTS(sizes); i++) {
        guint8 *zeroed = large_new0(sizes[i]), *fresh = large_new(sizes[i]);
        for (gsize at = 0; at < sizes[i]; at++)
            g_assert_cmpuint(zeroed[at], ==, 0);
        fresh[0] = 0x5a;
        fresh[sizes[i] - 1] = 0xa5;
        zeroed[sizes[i] - 1] = 1;
        g_assert_cmpuint(fresh[sizes[i] - 1], ==, 0xa5);
        g_free(zeroed);
        g_free(fresh);
    }
    g_free(large_new(0));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/large/sizes", test_sizes);
    return g_test_run();
}
