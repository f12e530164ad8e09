// SPDX-License-Identifier: GPL-3.0-or-later
// Wavefront OBJ: lines of v (vertex) and f (face, numbers from 1, or from the end if negative).
// Texture, normals, groups and materials are passed over; free-form surfaces are refused, since
// leaving them out would leave a hole.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "solid/build.h"
#include "solid/scan.h"

typedef struct {
    const SolidReadJob *job;
    SolidScan scan;
    SolidBuild build;
    GArray *corners; // guint32, of the face being read
} Reader;

static gboolean
fail_word(Reader *r, SolidWord word, const char *remedy, GError **error, const char *format)
{
    g_autofree char *found = solid_word_quoted(word);
    g_autofree char *what = g_strconcat(found, " ", format, NULL);
    return solid_fail_at_line(r->job, r->scan.line, BASE_ERROR_FORMAT, remedy, error, "%s", what);
}

// Three coordinates; a weight or colours may follow and are not used.
static gboolean
read_vertex(Reader *r, GError **error)
{
    double v[8];
    SolidWord word;
    int n = 0;
    for (; n < 8 && solid_scan_word_in_line(&r->scan, &word); n++) {
        if (word.text[0] == '#')
            break;
        if (!solid_word_number(word, &v[n]))
            return fail_word(r, word, _("write numbers as 1.25, finite ones only"), error,
                             _("is not a coordinate"));
    }
    if (n < 3)
        return solid_fail_at_line(r->job, r->scan.line, BASE_ERROR_FORMAT, _("export it again"),
                                  error, _("a vertex has %d of 3 coordinates"), n);
    return solid_build_vertex(&r->build, v[0], v[1], v[2], r->scan.line, error);
}

// The vertex number of "7", "7/1", "7//3" or "-1/2/3".
static gboolean
read_corner(Reader *r, SolidWord word, guint32 *corner, GError **error)
{
    SolidWord first = word;
    const char *slash = memchr(word.text, '/', word.length);
    if (slash)
        first.length = (gsize)(slash - word.text);
    gint64 number;
    if (!solid_word_integer(first, &number))
        return fail_word(r, word, _("export it again"), error, _("is not a vertex number"));
    if (number < 0)
        number += r->build.vertices->len;
    else
        number -= 1;
    if (number < 0 || number >= G_MAXUINT32)
        return fail_word(r, word, _("export it again"), error,
                         _("names a vertex that is not there"));
    *corner = (guint32)number;
    return TRUE;
}

static gboolean
read_face(Reader *r, GError **error)
{
    SolidWord word;
    guint64 line = r->scan.line;
    g_array_set_size(r->corners, 0);
    while (solid_scan_word_in_line(&r->scan, &word) && word.text[0] != '#') {
        guint32 corner;
        if (!read_corner(r, word, &corner, error))
            return FALSE;
        g_array_append_val(r->corners, corner);
    }
    return solid_build_polygon(&r->build, (const guint32 *)(void *)r->corners->data,
                               r->corners->len, line, error);
}

static gboolean
is_passed_over(SolidWord word)
{
    static const char *const words[] = {
        "vn",     "vt",       "vp",       "g",          "o",         "s",     "usemtl",
        "mtllib", "usemap",   "maplib",   "mg",         "l",         "p",     "lod",
        "bevel",  "c_interp", "d_interp", "shadow_obj", "trace_obj", "ctech", "stech",
        "cstype", "deg",      "bmat",     "step",       "parm",      "trim",  "hole",
        "scrv",   "sp",       "end",      "con",        "call",      "csh"};
    if (word.text[0] == '#')
        return TRUE;
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
        if (solid_word_is(word, words[i]))
            return TRUE;
    return FALSE;
}

static gboolean
read_line(Reader *r, SolidWord word, GError **error)
{
    if (solid_word_is(word, "v"))
        return read_vertex(r, error);
    if (solid_word_is(word, "f") || solid_word_is(word, "fo"))
        return read_face(r, error);
    if (solid_word_is(word, "surf") || solid_word_is(word, "curv") || solid_word_is(word, "curv2"))
        return fail_word(r, word, _("export it as a mesh"), error,
                         _("is a free-form curve or surface"));
    if (!is_passed_over(word))
        return fail_word(r, word, _("export it again"), error, _("is not a word of OBJ"));
    return TRUE;
}

static gboolean
read_lines(Reader *r, GError **error)
{
    SolidWord word;
    const char *start = (const char *)r->job->data;
    for (guint n = 0; solid_scan_word(&r->scan, &word); n++) {
        if (n % 8192 == 0) {
            if (!progress_check(r->job->progress, error))
                return FALSE;
            progress_set_fraction(r->job->progress,
                                  (double)(r->scan.at - start) / (double)r->job->length);
        }
        if (!read_line(r, word, error))
            return FALSE;
        // A backslash joins lines also where the rest is passed over.
        while (solid_scan_word_in_line(&r->scan, &word)) {
        }
    }
    return TRUE;
}

SolidMesh *
solid_read_obj(const SolidReadJob *job, GError **error)
{
    Reader r = {.job = job};
    solid_scan_init(&r.scan, job->data, job->length);
    solid_build_init(&r.build, job, TRUE);
    r.corners = g_array_new(FALSE, FALSE, sizeof(guint32));
    SolidMesh *mesh = read_lines(&r, error) ? solid_build_end(&r.build, error) : NULL;
    g_array_unref(r.corners);
    solid_build_clear(&r.build);
    return mesh;
}
