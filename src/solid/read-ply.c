// SPDX-License-Identifier: GPL-3.0-or-later
// The body of a PLY file, text or binary: rows of values as the header says. One row reader serves
// all three formats; they differ only in how the next value is fetched.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "solid/build.h"
#include "solid/ply.h"

typedef struct {
    const SolidReadJob *job;
    SolidScan scan; // in a binary body only `at` moves
    PlyHeader header;
    SolidBuild build;
    GArray *corners; // guint32
} Reader;

static guint64
get_place(const Reader *r)
{
    if (r->header.format == PLY_TEXT)
        return r->scan.line;
    return (guint64)(r->scan.at - (const char *)r->job->data);
}

static gboolean
fail_here(Reader *r, GError **error, const char *what)
{
    if (r->header.format == PLY_TEXT)
        return solid_fail_at_line(r->job, get_place(r), BASE_ERROR_FORMAT, _("export it again"),
                                  error, "%s", what);
    return solid_fail_at_byte(r->job, get_place(r), BASE_ERROR_FORMAT, _("export it again"), error,
                              "%s", what);
}

static double
decode(const char *p, PlyType type, gboolean swap)
{
    union {
        guint8 b[8];
        gint8 i8;
        guint8 u8;
        gint16 i16;
        guint16 u16;
        gint32 i32;
        guint32 u32;
        float f32;
        double f64;
    } v;
    gsize size = solid_ply_size(type);
    if (swap)
        for (gsize i = 0; i < size; i++)
            v.b[i] = (guint8)p[size - 1 - i];
    else
        memcpy(v.b, p, size);
    switch (type) {
    case PLY_I8:
        return v.i8;
    case PLY_U8:
        return v.u8;
    case PLY_I16:
        return v.i16;
    case PLY_U16:
        return v.u16;
    case PLY_I32:
        return v.i32;
    case PLY_U32:
        return v.u32;
    case PLY_F32:
        return v.f32;
    default:
        return v.f64;
    }
}

static gboolean
read_value(Reader *r, PlyType type, double *value, GError **error)
{
    if (r->header.format == PLY_TEXT) {
        SolidWord word;
        if (!solid_scan_word(&r->scan, &word))
            return fail_here(r, error, _("the file ends before its last element"));
        if (solid_word_number(word, value))
            return TRUE;
        g_autofree char *found = solid_word_quoted(word);
        g_autofree char *what = g_strdup_printf(_("%s is not a number"), found);
        return fail_here(r, error, what);
    }
    gsize size = solid_ply_size(type);
    if ((gsize)(r->scan.end - r->scan.at) < size)
        return fail_here(r, error, _("the file ends before its last element"));
    *value = decode(r->scan.at, type,
                    (r->header.format == PLY_BIG) != (G_BYTE_ORDER == G_BIG_ENDIAN));
    r->scan.at += size;
    return TRUE;
}

static gboolean
read_list(Reader *r, const PlyProperty *property, GError **error)
{
    double count, value;
    if (!read_value(r, property->count, &count, error))
        return FALSE;
    // In text an item takes two bytes but for the last.
    gsize each = r->header.format == PLY_TEXT ? 2 : solid_ply_size(property->type);
    if (!(count >= 0) || count != floor(count) ||
        count > (double)(r->scan.end - r->scan.at + 1) / (double)each)
        return fail_here(r, error, _("a list has a length the file has no room for"));
    gboolean corners = property->role == PLY_CORNERS;
    if (corners)
        g_array_set_size(r->corners, 0);
    for (gsize i = 0, n = (gsize)count; i < n; i++) {
        if (!read_value(r, property->type, &value, error))
            return FALSE;
        if (!corners)
            continue;
        if (!(value >= 0) || value != floor(value) || value >= G_MAXUINT32)
            return fail_here(r, error, _("a face names a vertex that is not there"));
        guint32 corner = (guint32)value;
        g_array_append_val(r->corners, corner);
    }
    return TRUE;
}

static gboolean
read_row(Reader *r, const PlyElement *element, GError **error)
{
    double value[PLY_CORNERS + 1] = {0};
    guint64 place = get_place(r);
    for (guint p = 0; p < element->n_properties; p++) {
        const PlyProperty *property = &element->properties[p];
        if (property->count != PLY_NONE) {
            if (!read_list(r, property, error))
                return FALSE;
        } else if (!read_value(r, property->type, &value[property->role], error)) {
            return FALSE;
        }
        if (p == 0 && r->header.format == PLY_TEXT)
            place = get_place(r);
    }
    if (element->kind == PLY_VERTEX)
        return solid_build_vertex(&r->build, value[PLY_X], value[PLY_Y], value[PLY_Z], place,
                                  error);
    if (element->kind == PLY_FACE)
        return solid_build_polygon(&r->build, (const guint32 *)(void *)r->corners->data,
                                   r->corners->len, place, error);
    return TRUE;
}

// The fewest bytes a row can take, so that a count the file has no room for is refused at once.
static gsize
get_least_size(const Reader *r, const PlyElement *element)
{
    gsize size = 0;
    for (guint p = 0; p < element->n_properties; p++) {
        const PlyProperty *property = &element->properties[p];
        PlyType first = property->count != PLY_NONE ? property->count : property->type;
        size += r->header.format == PLY_TEXT ? 2 : solid_ply_size(first);
    }
    return size;
}

static gboolean
read_element(Reader *r, const PlyElement *element, GError **error)
{
    gsize least = get_least_size(r, element);
    gsize left = (gsize)(r->scan.end - r->scan.at);
    if (element->count > 0 && element->count > (left + 1) / least)
        return fail_here(r, error, _("the file is too short for the counts in its header"));
    for (guint64 i = 0; i < element->count; i++) {
        if (i % 8192 == 0) {
            const char *start = (const char *)r->job->data;
            if (!progress_check(r->job->progress, error))
                return FALSE;
            progress_set_fraction(r->job->progress,
                                  (double)(r->scan.at - start) / (double)r->job->length);
        }
        if (!read_row(r, element, error))
            return FALSE;
    }
    return TRUE;
}

static SolidMesh *
read_body(Reader *r, GError **error)
{
    for (guint e = 0; e < r->header.n_elements; e++)
        if (!read_element(r, &r->header.elements[e], error))
            return NULL;
    return solid_build_end(&r->build, error);
}

SolidMesh *
solid_read_ply(const SolidReadJob *job, GError **error)
{
    g_autofree Reader *r = g_new0(Reader, 1);
    r->job = job;
    solid_scan_init(&r->scan, job->data, job->length);
    if (!solid_ply_header(job, &r->scan, &r->header, error))
        return NULL;
    solid_build_init(&r->build, job, r->header.format == PLY_TEXT);
    r->corners = g_array_new(FALSE, FALSE, sizeof(guint32));
    SolidMesh *mesh = read_body(r, error);
    g_array_unref(r->corners);
    solid_build_clear(&r->build);
    return mesh;
}
