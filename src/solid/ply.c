// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the header of a PLY file: format, elements, properties.
#include "solid/ply.h"

#include <glib/gi18n-lib.h>

gsize
solid_ply_size(PlyType type)
{
    static const gsize size[] = {1, 1, 2, 2, 4, 4, 4, 8, 0};
    return size[type];
}

static PlyType
find_type(SolidWord word)
{
    static const struct {
        const char *name;
        PlyType type;
    } types[] = {
        {"char", PLY_I8},   {"int8", PLY_I8},     {"uchar", PLY_U8},   {"uint8", PLY_U8},
        {"short", PLY_I16}, {"int16", PLY_I16},   {"ushort", PLY_U16}, {"uint16", PLY_U16},
        {"int", PLY_I32},   {"int32", PLY_I32},   {"uint", PLY_U32},   {"uint32", PLY_U32},
        {"float", PLY_F32}, {"float32", PLY_F32}, {"double", PLY_F64}, {"float64", PLY_F64},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(types); i++)
        if (solid_word_is(word, types[i].name))
            return types[i].type;
    return PLY_NONE;
}

static gboolean
fail_header(const SolidReadJob *job, const SolidScan *scan, GError **error, const char *what)
{
    return solid_fail_at_line(job, scan->line, BASE_ERROR_FORMAT, _("export it again"), error, "%s",
                              what);
}

static gboolean
read_format(const SolidReadJob *job, SolidScan *scan, PlyHeader *header, GError **error)
{
    SolidWord word, version;
    if (!solid_scan_word_in_line(scan, &word) || !solid_scan_word_in_line(scan, &version))
        return fail_header(job, scan, error, _("the format line is not whole"));
    if (!solid_word_is(version, "1.0"))
        return fail_header(job, scan, error, _("only PLY 1.0 is known"));
    if (solid_word_is(word, "ascii"))
        header->format = PLY_TEXT;
    else if (solid_word_is(word, "binary_little_endian"))
        header->format = PLY_LITTLE;
    else if (solid_word_is(word, "binary_big_endian"))
        header->format = PLY_BIG;
    else
        return fail_header(job, scan, error, _("the format is none of PLY's three"));
    return TRUE;
}

static gboolean
read_element(const SolidReadJob *job, SolidScan *scan, PlyHeader *header, GError **error)
{
    SolidWord name, count;
    gint64 n;
    if (!solid_scan_word_in_line(scan, &name) || !solid_scan_word_in_line(scan, &count) ||
        !solid_word_integer(count, &n) || n < 0)
        return fail_header(job, scan, error, _("an element needs a name and a count"));
    if (header->n_elements == PLY_MAX_ELEMENTS)
        return fail_header(job, scan, error, _("too many elements"));
    PlyElement *element = &header->elements[header->n_elements++];
    element->count = (guint64)n;
    element->n_properties = 0;
    element->kind = solid_word_is(name, "vertex") ? PLY_VERTEX
                    : solid_word_is(name, "face") ? PLY_FACE
                                                  : PLY_SKIPPED;
    if (solid_word_is(name, "tristrips") && n > 0)
        return fail_header(job, scan, error, _("triangle strips are not read here"));
    return TRUE;
}

static PlyRole
find_role(const PlyElement *element, const PlyProperty *property, SolidWord name)
{
    gboolean list = property->count != PLY_NONE;
    if (element->kind == PLY_VERTEX && !list)
        return solid_word_is(name, "x")   ? PLY_X
               : solid_word_is(name, "y") ? PLY_Y
               : solid_word_is(name, "z") ? PLY_Z
                                          : PLY_OTHER;
    if (element->kind == PLY_FACE && list &&
        (solid_word_is(name, "vertex_indices") || solid_word_is(name, "vertex_index")))
        return PLY_CORNERS;
    return PLY_OTHER;
}

static gboolean
read_property(const SolidReadJob *job, SolidScan *scan, PlyHeader *header, GError **error)
{
    SolidWord word;
    PlyProperty property = {.count = PLY_NONE};
    if (header->n_elements == 0)
        return fail_header(job, scan, error, _("a property stands before any element"));
    PlyElement *element = &header->elements[header->n_elements - 1];
    if (element->n_properties == PLY_MAX_PROPERTIES)
        return fail_header(job, scan, error, _("too many properties"));
    if (!solid_scan_word_in_line(scan, &word))
        return fail_header(job, scan, error, _("a property needs a type and a name"));
    if (solid_word_is(word, "list")) {
        if (!solid_scan_word_in_line(scan, &word) ||
            (property.count = find_type(word)) >= PLY_F32 || !solid_scan_word_in_line(scan, &word))
            return fail_header(job, scan, error,
                               _("a list needs a whole-number type for its count"));
    }
    property.type = find_type(word);
    if (property.type == PLY_NONE || !solid_scan_word_in_line(scan, &word))
        return fail_header(job, scan, error, _("a property needs a known type and a name"));
    property.role = find_role(element, &property, word);
    for (guint i = 0; property.role != PLY_OTHER && i < element->n_properties; i++)
        if (element->properties[i].role == property.role)
            return fail_header(job, scan, error, _("a property stands twice"));
    element->properties[element->n_properties++] = property;
    return TRUE;
}

static gboolean
check_roles(const SolidReadJob *job, const SolidScan *scan, const PlyHeader *header, GError **error)
{
    guint roles[PLY_CORNERS + 1] = {0}, vertices = 0, faces = 0;
    for (guint e = 0; e < header->n_elements; e++) {
        const PlyElement *element = &header->elements[e];
        vertices += element->kind == PLY_VERTEX;
        faces += element->kind == PLY_FACE;
        if (element->n_properties == 0 && element->count > 0)
            return fail_header(job, scan, error, _("an element has no properties"));
        for (guint p = 0; p < element->n_properties; p++)
            roles[element->properties[p].role]++;
    }
    if (vertices != 1 || !roles[PLY_X] || !roles[PLY_Y] || !roles[PLY_Z])
        return fail_header(job, scan, error, _("one element \"vertex\" with x, y, z is needed"));
    if (faces == 0)
        return solid_fail_at_line(job, scan->line, BASE_ERROR_FORMAT, _("export a mesh"), error,
                                  _("the file holds points but no faces"));
    if (faces != 1 || !roles[PLY_CORNERS])
        return fail_header(job, scan, error,
                           _("one element \"face\" with a list vertex_indices is needed"));
    return TRUE;
}

gboolean
solid_ply_header(const SolidReadJob *job, SolidScan *scan, PlyHeader *header, GError **error)
{
    SolidWord word;
    gboolean formatted = FALSE, ok = TRUE;
    header->n_elements = 0;
    solid_scan_skip_line(scan); // "ply"
    while (ok && solid_scan_word(scan, &word)) {
        if (solid_word_is(word, "end_header")) {
            if (!formatted)
                return fail_header(job, scan, error, _("the format line is missing"));
            if (!check_roles(job, scan, header, error))
                return FALSE;
            solid_scan_skip_line(scan);
            return TRUE;
        }
        if (solid_word_is(word, "format")) {
            ok = read_format(job, scan, header, error);
            formatted = TRUE;
        } else if (solid_word_is(word, "element")) {
            ok = read_element(job, scan, header, error);
        } else if (solid_word_is(word, "property")) {
            ok = read_property(job, scan, header, error);
        } else if (!solid_word_is(word, "comment") && !solid_word_is(word, "obj_info")) {
            g_autofree char *found = solid_word_quoted(word);
            return solid_fail_at_line(job, scan->line, BASE_ERROR_FORMAT, _("export it again"),
                                      error, _("%s is not a word of a PLY header"), found);
        }
        if (ok)
            solid_scan_skip_line(scan);
    }
    return ok ? fail_header(job, scan, error, _("the file ends before \"end_header\"")) : FALSE;
}
