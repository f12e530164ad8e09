// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes as files, for the tests of the readers.
#include "mesh-text.h"

#include <archive.h>
#include <archive_entry.h>
#include <string.h>

const char *const mesh_kind_names[MESH_KINDS] = {"binary.stl", "text.stl", "mesh.obj", "text.ply",
                                                 "little.ply", "big.ply",  "mesh.3mf"};

void
mesh_text_add(GByteArray *to, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *text = g_strdup_vprintf(format, args);
    va_end(args);
    g_byte_array_append(to, (const guint8 *)text, (guint)strlen(text));
}

static void
add_number(GByteArray *to, double metres, const char *after)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    mesh_text_add(to, "%s%s", g_ascii_formatd(text, sizeof text, "%.17g", metres * 1000), after);
}

static void
add_vertex(GByteArray *to, Vec3 v)
{
    add_number(to, v.x, " ");
    add_number(to, v.y, " ");
    add_number(to, v.z, "\n");
}

static void
add_bytes(GByteArray *to, const void *data, gsize size, gboolean swap)
{
    const guint8 *p = data;
    for (gsize i = 0; i < size; i++)
        g_byte_array_append(to, p + (swap ? size - 1 - i : i), 1);
}

static void
add_stl_binary(GByteArray *to, const SolidMesh *mesh)
{
    const guint8 zeros[80] = {0};
    gboolean swap = G_BYTE_ORDER == G_BIG_ENDIAN;
    g_byte_array_append(to, zeros, 80);
    add_bytes(to, &mesh->n_triangles, 4, swap);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        g_byte_array_append(to, zeros, 12);
        for (int c = 0; c < 3; c++) {
            Vec3 v = mesh->vertices[mesh->triangles[t][c]];
            float f[3] = {(float)(v.x * 1000), (float)(v.y * 1000), (float)(v.z * 1000)};
            for (int i = 0; i < 3; i++)
                add_bytes(to, &f[i], 4, swap);
        }
        g_byte_array_append(to, zeros, 2);
    }
}

static void
add_stl_text(GByteArray *to, const SolidMesh *mesh)
{
    mesh_text_add(to, "solid a part with a name\n");
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        mesh_text_add(to, "facet normal 0 0 0\n outer loop\n");
        for (int c = 0; c < 3; c++) {
            mesh_text_add(to, "  vertex ");
            add_vertex(to, mesh->vertices[mesh->triangles[t][c]]);
        }
        mesh_text_add(to, " endloop\nendfacet\n");
    }
    mesh_text_add(to, "endsolid a part with a name\n");
}

static void
add_obj(GByteArray *to, const SolidMesh *mesh)
{
    mesh_text_add(to, "# a part\no part\n");
    for (guint32 v = 0; v < mesh->n_vertices; v++) {
        mesh_text_add(to, "v ");
        add_vertex(to, mesh->vertices[v]);
    }
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *v = mesh->triangles[t];
        mesh_text_add(to, "f %u %u %u\n", v[0] + 1, v[1] + 1, v[2] + 1);
    }
}

static void
add_ply_rows(GByteArray *to, const SolidMesh *mesh, gboolean text, gboolean swap)
{
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i], mm = vec3_scale(v, 1000);
        if (text) {
            add_vertex(to, v);
            continue;
        }
        add_bytes(to, &mm.x, 8, swap);
        add_bytes(to, &mm.y, 8, swap);
        add_bytes(to, &mm.z, 8, swap);
    }
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *v = mesh->triangles[t];
        const guint8 three = 3;
        if (text) {
            mesh_text_add(to, "3 %u %u %u\n", v[0], v[1], v[2]);
            continue;
        }
        add_bytes(to, &three, 1, FALSE);
        for (int c = 0; c < 3; c++)
            add_bytes(to, &v[c], 4, swap);
    }
}

static void
add_ply(GByteArray *to, const SolidMesh *mesh, MeshKind kind)
{
    const char *format = kind == MESH_PLY_TEXT     ? "ascii"
                         : kind == MESH_PLY_LITTLE ? "binary_little_endian"
                                                   : "binary_big_endian";
    mesh_text_add(to, "ply\nformat %s 1.0\ncomment a part\n", format);
    mesh_text_add(to, "element vertex %u\n", mesh->n_vertices);
    mesh_text_add(to, "property double x\nproperty double y\nproperty double z\n");
    mesh_text_add(to, "element face %u\nproperty list uchar uint vertex_indices\nend_header\n",
                  mesh->n_triangles);
    add_ply_rows(to, mesh, kind == MESH_PLY_TEXT,
                 (kind == MESH_PLY_BIG) != (G_BYTE_ORDER == G_BIG_ENDIAN));
}

const char *const mesh_relationships =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">"
    "<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>";

static void
add_entry(struct archive *archive, const char *name, const char *text)
{
    struct archive_entry *entry = archive_entry_new();
    archive_entry_set_pathname_utf8(entry, name);
    archive_entry_set_size(entry, (la_int64_t)strlen(text));
    archive_entry_set_filetype(entry, AE_IFREG);
    archive_entry_set_perm(entry, 0644);
    g_assert_cmpint(archive_write_header(archive, entry), ==, ARCHIVE_OK);
    g_assert_cmpint(archive_write_data(archive, text, strlen(text)), ==, (la_ssize_t)strlen(text));
    archive_entry_free(entry);
}

GByteArray *
mesh_package(const char *name, ...)
{
    gsize room = 1 << 16, used = 0;
    va_list args, again;
    va_start(args, name);
    va_copy(again, args);
    const char *entry = name;
    for (; entry; entry = va_arg(args, const char *))
        room += strlen(va_arg(args, const char *)) + 4096;
    va_end(args);
    GByteArray *to = g_byte_array_new();
    g_byte_array_set_size(to, (guint)room);
    struct archive *archive = archive_write_new();
    archive_write_set_format_zip(archive);
    archive_write_set_options(archive, "hdrcharset=UTF-8");
    archive_write_open_memory(archive, to->data, to->len, &used);
    for (entry = name; entry; entry = va_arg(again, const char *))
        add_entry(archive, entry, va_arg(again, const char *));
    va_end(again);
    g_assert_cmpint(archive_write_close(archive), ==, ARCHIVE_OK);
    archive_write_free(archive);
    g_byte_array_set_size(to, (guint)used);
    return to;
}

char *
mesh_object_xml(const SolidMesh *mesh, const char *id)
{
    g_autoptr(GByteArray) to = g_byte_array_new();
    mesh_text_add(to, "<object id=\"%s\" type=\"model\"><mesh><vertices>", id);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        mesh_text_add(to, "<vertex x=\"");
        add_number(to, mesh->vertices[i].x, "\" y=\"");
        add_number(to, mesh->vertices[i].y, "\" z=\"");
        add_number(to, mesh->vertices[i].z, "\"/>\n");
    }
    mesh_text_add(to, "</vertices><triangles>");
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        mesh_text_add(to, "<triangle v1=\"%u\" v2=\"%u\" v3=\"%u\"/>\n", mesh->triangles[t][0],
                      mesh->triangles[t][1], mesh->triangles[t][2]);
    mesh_text_add(to, "</triangles></mesh></object>");
    return g_strndup((const char *)to->data, to->len);
}

char *
mesh_model_xml(const char *attributes, const char *inside)
{
    return g_strdup_printf(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model %s xml:lang=\"en-US\" "
        "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">%s</model>",
        attributes, inside);
}

GByteArray *
mesh_text(const SolidMesh *mesh, MeshKind kind)
{
    if (kind == MESH_3MF) {
        g_autofree char *object = mesh_object_xml(mesh, "1");
        g_autofree char *inside = g_strdup_printf(
            "<resources>%s</resources><build><item objectid=\"1\"/></build>", object);
        g_autofree char *model = mesh_model_xml("unit=\"millimeter\"", inside);
        return mesh_package("_rels/.rels", mesh_relationships, "3D/3dmodel.model", model, NULL);
    }
    GByteArray *to = g_byte_array_new();
    if (kind == MESH_STL_BINARY)
        add_stl_binary(to, mesh);
    else if (kind == MESH_STL_TEXT)
        add_stl_text(to, mesh);
    else if (kind == MESH_OBJ)
        add_obj(to, mesh);
    else
        add_ply(to, mesh, kind);
    return to;
}

void
mesh_check_same(const SolidMesh *a, const SolidMesh *b, double relative)
{
    double size = 0;
    g_assert_cmpuint(a->n_triangles, ==, b->n_triangles);
    for (guint32 i = 0; i < a->n_vertices; i++)
        size = fmax(size, vec3_length(a->vertices[i]));
    for (guint32 t = 0; t < a->n_triangles; t++)
        for (int c = 0; c < 3; c++) {
            Vec3 p = a->vertices[a->triangles[t][c]], q = b->vertices[b->triangles[t][c]];
            g_assert_cmpfloat(vec3_length(vec3_sub(p, q)), <=, relative * size);
        }
}

long double
mesh_volume(const SolidMesh *mesh)
{
    long double six = 0;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        Vec3 a = mesh->vertices[mesh->triangles[t][0]], b = mesh->vertices[mesh->triangles[t][1]];
        Vec3 c = mesh->vertices[mesh->triangles[t][2]];
        six += (long double)a.x * ((long double)b.y * c.z - (long double)b.z * c.y) +
               (long double)a.y * ((long double)b.z * c.x - (long double)b.x * c.z) +
               (long double)a.z * ((long double)b.x * c.y - (long double)b.y * c.x);
    }
    return six / 6;
}
