// SPDX-License-Identifier: GPL-3.0-or-later
// 3MF: a zip package of three parts, with fixed dates so that the same mesh gives the same bytes.
#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "solid/write-file.h"
#include "solid/write.h"

#define FIRST_OF_1980 315532800 // the earliest date a zip entry can have

static const char types_part[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">"
    "<Default Extension=\"rels\" "
    "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>"
    "<Default Extension=\"model\" "
    "ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/></Types>\n";

static const char relationships_part[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">"
    "<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>\n";

// Millimetres to a tenth of a micrometre, whatever the locale, without zeros that say nothing.
static void
append_number(GString *text, const char *name, double metres)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];
    double value = metres * 1000;
    g_ascii_formatd(digits, sizeof digits, "%.4f", fabs(value) < 5e-5 ? 0 : value);
    char *end = digits + strlen(digits);
    while (end[-1] == '0')
        *--end = '\0';
    if (end[-1] == '.')
        end[-1] = '\0';
    g_string_append_printf(text, " %s=\"%s\"", name, digits);
}

static GString *
make_model(const SolidMesh *mesh, const char *name)
{
    GString *text = g_string_sized_new(64 + (gsize)mesh->n_triangles * 64);
    g_autofree char *escaped = name ? g_markup_escape_text(name, -1) : NULL;
    g_string_append(text, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                          "<model unit=\"millimeter\" xml:lang=\"en-US\" xmlns=\""
                          "http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n"
                          "<resources>\n<object id=\"1\" type=\"model\"");
    if (escaped)
        g_string_append_printf(text, " name=\"%s\"", escaped);
    g_string_append(text, ">\n<mesh>\n<vertices>\n");
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        g_string_append(text, "<vertex");
        append_number(text, "x", mesh->vertices[i].x);
        append_number(text, "y", mesh->vertices[i].y);
        append_number(text, "z", mesh->vertices[i].z);
        g_string_append(text, "/>\n");
    }
    g_string_append(text, "</vertices>\n<triangles>\n");
    for (guint32 i = 0; i < mesh->n_triangles; i++) {
        const guint32 *t = mesh->triangles[i];
        g_string_append_printf(text, "<triangle v1=\"%u\" v2=\"%u\" v3=\"%u\"/>\n", t[0], t[1],
                               t[2]);
    }
    g_string_append(text, "</triangles>\n</mesh>\n</object>\n</resources>\n"
                          "<build>\n<item objectid=\"1\"/>\n</build>\n</model>\n");
    return text;
}

static la_ssize_t
on_write_cb(struct archive *archive, void *data, const void *bytes, size_t length)
{
    g_byte_array_append(data, bytes, (guint)length);
    return (la_ssize_t)length;
}

static gboolean
add_part(struct archive *archive, const char *name, const char *text, gsize length)
{
    struct archive_entry *entry = archive_entry_new();
    archive_entry_set_pathname(entry, name);
    archive_entry_set_filetype(entry, AE_IFREG);
    archive_entry_set_perm(entry, 0644);
    archive_entry_set_size(entry, (la_int64_t)length);
    archive_entry_set_mtime(entry, FIRST_OF_1980, 0);
    gboolean ok = archive_write_header(archive, entry) == ARCHIVE_OK &&
                  archive_write_data(archive, text, length) == (la_ssize_t)length;
    archive_entry_free(entry);
    return ok;
}

static gboolean
make_package(const SolidMesh *mesh, const char *name, GByteArray *bytes)
{
    g_autoptr(GString) model = make_model(mesh, name);
    struct archive *archive = archive_write_new();
    gboolean ok = archive_write_set_format_zip(archive) == ARCHIVE_OK &&
                  archive_write_set_bytes_per_block(archive, 0) == ARCHIVE_OK &&
                  archive_write_open(archive, bytes, NULL, on_write_cb, NULL) == ARCHIVE_OK &&
                  add_part(archive, "[Content_Types].xml", types_part, strlen(types_part)) &&
                  add_part(archive, "_rels/.rels", relationships_part,
                           strlen(relationships_part)) &&
                  add_part(archive, "3D/3dmodel.model", model->str, model->len) &&
                  archive_write_close(archive) == ARCHIVE_OK;
    archive_write_free(archive);
    return ok;
}

static gboolean
write_package(int fd, gconstpointer data)
{
    const GByteArray *bytes = data;
    return solid_write_bytes(fd, bytes->data, bytes->len);
}

gboolean
solid_write_3mf(const SolidMesh *mesh, const char *name, const char *path, gboolean replace,
                GError **error)
{
    g_return_val_if_fail(mesh != NULL && path != NULL, FALSE);
    if (!solid_write_check(mesh, path, error))
        return FALSE;
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    if (!make_package(mesh, name, bytes))
        return base_error_set(error, BASE_ERROR_FILE, path, NULL,
                              _("the zip package cannot be made"), NULL);
    return solid_write_file(path, replace, write_package, bytes, error);
}
