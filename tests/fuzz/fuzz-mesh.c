// SPDX-License-Identifier: GPL-3.0-or-later
// Mesh files: whatever is read must be judged and measured without harm too. The first byte chooses
// the ending, since some kinds are only tried when the name asks for them.
#include "corpus.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/mesh-text.h"
#include "solid/read.h"

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
    g_autoptr(GError) error = NULL;
    if (size == 0)
        return 0;
    guint kind = data[0] % (MESH_KINDS + 1);
    g_autoptr(GByteArray) package = NULL;
    if (kind == MESH_KINDS) { // the model inside a package, past the zip and its checksum
        g_autofree char *model = g_strndup((const char *)data + 1, size - 1);
        package = mesh_package("_rels/.rels", mesh_relationships, "3D/3dmodel.model", model, NULL);
    }
    g_autoptr(SolidMesh) mesh = package
                                    ? solid_read_bytes(package->data, package->len, "model.3mf",
                                                       "in", NULL, &error)
                                    : solid_read_bytes(data + 1, size - 1, mesh_kind_names[kind],
                                                       "mm", NULL, &error);
    g_assert_true((mesh != NULL) == (error == NULL));
    if (!mesh)
        return 0;
    SolidCheck check = solid_check(mesh);
    g_autofree char *words = solid_check_words(&check);
    g_assert_nonnull(words);
    SolidMeasure measure = solid_measure(mesh);
    g_assert_true(isfinite(measure.volume) && isfinite(measure.moments[2]));
    return 0;
}

void
fuzz_corpus(GPtrArray *corpus)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.031, 0.02, 0.0107);
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autoptr(GByteArray) data = mesh_text(box, kind);
        GByteArray *input = g_byte_array_new();
        g_byte_array_append(input, (const guint8[]){(guint8)kind}, 1);
        g_byte_array_append(input, data->data, data->len);
        g_ptr_array_add(corpus, input);
    }
    fuzz_corpus_text(corpus, "\2v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf -4/1 -3//2 -2/1/2 \\\n -1\n");
    fuzz_corpus_text(corpus,
                     "\3ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty "
                     "float y\nproperty list uchar int q\nproperty double z\nelement face 1\n"
                     "property list uchar int vertex_index\nend_header\n0 0 1 5 0\n1 0 0 0\n"
                     "1 1 0 0\n0 1 2 3 4 0\n4 0 1 2 3\n");
    g_autofree char *object = mesh_object_xml(box, "1");
    g_autofree char *inside = g_strdup_printf(
        "<resources>%s<object id=\"2\"><components><component objectid=\"1\" "
        "transform=\"1 0 0 0 1 0 0 0 -1 0 0 5\"/><component objectid=\"1\"/></components></object>"
        "</resources><build><item objectid=\"2\"/></build>",
        object);
    g_autofree char *model = mesh_model_xml("unit=\"inch\"", inside);
    g_autofree char *input = g_strdup_printf("%c%s", MESH_KINDS, model);
    fuzz_corpus_text(corpus, input);
}
