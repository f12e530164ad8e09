// SPDX-License-Identifier: GPL-3.0-or-later
// Every format cut at every length and with every bit of its first bytes turned: each must give a
// mesh that holds together or an error of one line, and never anything else.
#include <string.h>

#include "mesh-text.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"

static gboolean
try_bytes(const guchar *data, gsize length, const char *name)
{
    g_autoptr(GError) error = NULL;
    // A copy of exactly this length, so that reading past the end is seen by a memory checker.
    g_autofree guchar *copy = g_memdup2(data, length);
    g_autoptr(SolidMesh) mesh = solid_read_bytes(copy, length, name, "mm", NULL, &error);
    if (!mesh) {
        g_assert_nonnull(error);
        g_assert_true(error->domain == BASE_ERROR);
        g_assert_null(strchr(error->message, '\n'));
        g_assert_true(g_str_has_prefix(error->message, name));
        return FALSE;
    }
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, >, 0);
    for (guint32 i = 0; i < 3 * mesh->n_triangles; i++)
        g_assert_cmpuint(mesh->triangles[i / 3][i % 3], <, mesh->n_vertices);
    solid_check(mesh);
    g_assert_true(isfinite(solid_measure(mesh).volume));
    return TRUE;
}

static void
test_cuts(gconstpointer which)
{
    MeshKind kind = GPOINTER_TO_INT(which);
    g_autoptr(SolidMesh) box = check_mesh_box(0.0317, 0.0211, 0.0113);
    g_autoptr(SolidMesh) part = check_mesh_turned(box);
    g_autoptr(GByteArray) data = mesh_text(part, kind);
    for (gsize length = 0; length < data->len; length++) {
        gboolean read = try_bytes(data->data, length, mesh_kind_names[kind]);
        // These say how long they are, so that a cut is always noticed: but for the name after
        // "endsolid", the last digits of a text PLY and the end of a zip, whose entries say it.
        if (kind == MESH_STL_BINARY || kind == MESH_PLY_LITTLE || kind == MESH_PLY_BIG)
            g_assert_false(read);
        if (kind == MESH_STL_TEXT && length + strlen(" a part with a name\n") < data->len)
            g_assert_false(read);
        if (kind == MESH_PLY_TEXT && length + 2 < data->len)
            g_assert_false(read);
    }
    g_assert_true(try_bytes(data->data, data->len, mesh_kind_names[kind]));
}

static void
test_bits(gconstpointer which)
{
    MeshKind kind = GPOINTER_TO_INT(which);
    g_autoptr(SolidMesh) box = check_mesh_box(0.0317, 0.0211, 0.0113);
    g_autoptr(GByteArray) data = mesh_text(box, kind);
    for (guint i = 0; i < data->len; i++)
        for (int bit = 0; bit < 8; bit++) {
            data->data[i] ^= (guint8)(1 << bit);
            try_bytes(data->data, data->len, mesh_kind_names[kind]);
            data->data[i] ^= (guint8)(1 << bit);
        }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autofree char *cuts = g_strdup_printf("/solid/read-cuts/cut/%s", mesh_kind_names[kind]);
        g_autofree char *bits = g_strdup_printf("/solid/read-cuts/bit/%s", mesh_kind_names[kind]);
        g_test_add_data_func(cuts, GINT_TO_POINTER(kind), test_cuts);
        g_test_add_data_func(bits, GINT_TO_POINTER(kind), test_bits);
    }
    return g_test_run();
}
