// SPDX-License-Identifier: GPL-3.0-or-later
// PLY: odd properties, lists, polygons, other elements, byte orders, and everything refused.
#include <string.h>

#include "mesh-text.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"

static SolidMesh *
read_bytes(const void *data, gsize length, GError **error)
{
    return solid_read_bytes(data, length, "p.ply", NULL, NULL, error);
}

static void
test_odd_text(void)
{
    // Properties in another order, others between, a list in the vertex, an element in front, rows
    // broken over lines, quads and a triangle fan of doubles' counts.
    const char
        *text = "ply\r\nformat ascii 1.0\r\nobj_info by hand\r\nelement camera 2\r\n"
                "property float view\r\nproperty list uchar int ids\r\nelement vertex 5\r\n"
                "property double z\r\nproperty uchar red\r\nproperty list int8 float32 weights\r\n"
                "property float x\r\nproperty int16 y\r\nelement face 5\r\n"
                "property uchar flags\r\nproperty list uint8 int32 vertex_index\r\nend_header\r\n"
                "1.5 0\r\n2.5 3 1 2 3\r\n"
                "0 255 2 0.5 0.5 0 0\r\n0 1 0 6 0\r\n0 1 0 6 4\r\n0 1 0\r\n0 4\r\n3.5 1 0 3 2\r\n"
                "0 4 3 2 1 0\r\n1 3 0 1 4\r\n1 3 1 2 4\r\n1 3 2 3 4\r\n1 3 3 0 4\r\n";
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_bytes(text, strlen(text), &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, 6);
    g_assert_true(solid_check(mesh).closed);
    check_close(solid_measure(mesh).volume, 6 * 4 * 3.5 / 3 * 1e-9, 1e-12, "pyramid, A h / 3");
}

static void
add_value(GByteArray *to, const void *value, gsize size, gboolean swap)
{
    for (gsize i = 0; i < size; i++)
        g_byte_array_append(to, (const guint8 *)value + (swap ? size - 1 - i : i), 1);
}

// A tetrahedron with every type a header can name.
static GByteArray *
make_odd_binary(gboolean big)
{
    static const gint8 corner[4][3] = {{0, 0, 0}, {9, 0, 0}, {0, 5, 0}, {0, 0, 7}};
    static const gint16 face[4][3] = {{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}};
    gboolean swap = big != (G_BYTE_ORDER == G_BIG_ENDIAN);
    GByteArray *to = g_byte_array_new();
    mesh_text_add(to, "ply\nformat binary_%s_endian 1.0\nelement vertex 4\n",
                  big ? "big" : "little");
    mesh_text_add(to, "property float32 nx\nproperty int8 x\nproperty list uint16 int8 pad\n"
                      "property uint32 y\nproperty float64 z\nelement edge 1\n"
                      "property int a\nproperty int b\nelement face 4\n"
                      "property list short ushort vertex_indices\n"
                      "end_header\n");
    for (int v = 0; v < 4; v++) {
        float nx = -1;
        guint16 pads = (guint16)v;
        guint32 y = (guint32)corner[v][1];
        double z = corner[v][2];
        add_value(to, &nx, 4, swap);
        add_value(to, &corner[v][0], 1, swap);
        add_value(to, &pads, 2, swap);
        add_value(to, "abcd", pads, FALSE);
        add_value(to, &y, 4, swap);
        add_value(to, &z, 8, swap);
    }
    add_value(to, "12345678", 8, FALSE);
    for (int f = 0; f < 4; f++) {
        const gint16 three = 3;
        add_value(to, &three, 2, swap);
        for (int c = 0; c < 3; c++)
            add_value(to, &face[f][c], 2, swap);
    }
    return to;
}

static void
test_odd_binary(void)
{
    for (int big = 0; big < 2; big++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(GByteArray) data = make_odd_binary(big);
        g_autoptr(SolidMesh) mesh = read_bytes(data->data, data->len, &error);
        g_assert_no_error(error);
        g_assert_true(solid_check(mesh).closed);
        check_close(solid_measure(mesh).volume, 9 * 5 * 7 / 6.0 * 1e-9, 1e-12, "a b c / 6");
        // One byte less, and the last face is not whole.
        g_assert_null(read_bytes(data->data, data->len - 1, &error));
        check_error(error, BASE_ERROR_FORMAT, "the file ends before its last element");
    }
}

#define HEAD "ply\nformat ascii 1.0\n"
#define XYZ "property float x\nproperty float y\nproperty float z\n"
#define FACES "property list uchar int vertex_indices\nend_header\n"
#define THREE HEAD "element vertex 3\n" XYZ "element face 1\n" FACES

static void
test_bad(void)
{
    const struct {
        const char *text, *words;
    } cases[] = {
        {"ply\n", "line 2: the file ends before \"end_header\""},
        {"ply\nend_header\n", "line 2: the format line is missing"},
        {"ply\nformat ascii 2.0\n", "line 2: only PLY 1.0 is known"},
        {"ply\nformat morse 1.0\n", "line 2: the format is none of PLY's three"},
        {"ply\nformat ascii\n", "line 2: the format line is not whole"},
        {HEAD "element vertex\n", "line 3: an element needs a name and a count"},
        {HEAD "element vertex -3\n", "an element needs a name and a count"},
        {HEAD "element vertex 3.5\n", "an element needs a name and a count"},
        {HEAD "property float x\n", "line 3: a property stands before any element"},
        {HEAD "element vertex 3\nproperty quad x\n", "line 4: a property needs a known type"},
        {HEAD "element vertex 3\nproperty float\n", "line 4: a property needs a known type"},
        {HEAD "element face 3\nproperty list float int v\n", "a list needs a whole-number type"},
        {HEAD "element vertex 3\n" XYZ "property int x\n", "line 7: a property stands twice"},
        {HEAD "elephant\n", "line 3: \"elephant\" is not a word of a PLY header"},
        {HEAD "element tristrips 1\n", "triangle strips are not read here"},
        {HEAD "element vertex 3\nproperty float x\nproperty float y\nelement face 1\n" FACES,
         "one element \"vertex\" with x, y, z"},
        {HEAD "element vertex 3\n" XYZ "end_header\n", "the file holds points but no faces"},
        {HEAD "element vertex 3\n" XYZ "element face 1\nproperty int a\nend_header\n",
         "one element \"face\" with a list"},
        {HEAD "element vertex 3\n" XYZ "element x 5\nelement face 1\n" FACES,
         "an element has no properties"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n3 0 1 3\n", "line 13: a face names vertex 4 of 3"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n3 0 1 -1\n", "line 13: a face names a vertex that is not"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n3 0 1 1.5\n", "line 13: a face names a vertex that is not"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n2 0 1\n", "line 13: a face has fewer than three corners"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n200 0 1 2\n", "a list has a length the file has no room for"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n-3 0 1 2\n", "a list has a length the file has no room for"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n2.5 0 1 2\n", "a list has a length the file has no room for"},
        {THREE "0 0 0\n1 0 0\n0 1 zero\n3 0 1 2\n", "line 12: \"zero\" is not a number"},
        {THREE "0 0 0\n1 0 0\n0 1 nan\n3 0 1 2\n", "line 12: \"nan\" is not a number"},
        {THREE "0 0 0\n1 0 0\n0 1 1e999\n3 0 1 2\n", "line 12: a coordinate is not a finite"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n", "line 13: the file ends before its last element"},
        {THREE "0 0 0\n1 0 0\n0 1 0\n3 0 1 ", "the file ends before its last element"},
        {HEAD "element vertex 999999999999999999\n" XYZ "element face 1\n" FACES "0 0 0\n",
         "the file is too short for the counts in its header"},
        {HEAD "element vertex 0\n" XYZ "element face 0\n" FACES, "the file holds no triangles"},
        {"ply\nformat binary_little_endian 1.0\nelement vertex 1\n" XYZ
         "element face 1\nproperty list uchar int vertex_indices\nend_header\n"
         "\1\1\1\1\1\1\1\1\1\1\xc0\x7f\3\1\1\1\1\1\1\1\1\1\1\1\1\n",
         "byte 169: a coordinate is not a finite number"},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(SolidMesh) mesh = read_bytes(cases[i].text, strlen(cases[i].text), &error);
        g_assert_null(mesh);
        check_error(error, BASE_ERROR_FORMAT, cases[i].words);
    }
}

// A header may not make us hold more than it may name.
static void
test_too_much(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(GByteArray) elements = g_byte_array_new(), properties = g_byte_array_new();
    mesh_text_add(elements, HEAD);
    mesh_text_add(properties, HEAD "element vertex 3\n");
    for (int i = 0; i < 200; i++) {
        mesh_text_add(elements, "element e%d 0\n", i);
        mesh_text_add(properties, "property float p%d\n", i);
    }
    g_assert_null(read_bytes(elements->data, elements->len, &error));
    check_error(error, BASE_ERROR_FORMAT, "line 35: too many elements");
    g_assert_null(read_bytes(properties->data, properties->len, &error));
    check_error(error, BASE_ERROR_FORMAT, "line 132: too many properties");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/read-ply/odd-text", test_odd_text);
    g_test_add_func("/solid/read-ply/odd-binary", test_odd_binary);
    g_test_add_func("/solid/read-ply/bad", test_bad);
    g_test_add_func("/solid/read-ply/too-much", test_too_much);
    return g_test_run();
}
