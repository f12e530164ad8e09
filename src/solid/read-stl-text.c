// SPDX-License-Identifier: GPL-3.0-or-later
// ASCII STL: solid NAME, facets of one loop of three vertices, endsolid; several solids may follow
// one another. Read word by word, so the breaking of lines does not matter.
#include <glib/gi18n-lib.h>

#include "solid/read-job.h"
#include "solid/scan.h"
#include "solid/weld-table.h"

typedef struct {
    const SolidReadJob *job;
    SolidScan scan;
    SolidSoup *soup;
} Reader;

static gboolean
fail_end(Reader *r, GError **error)
{
    return solid_fail_at_line(r->job, r->scan.line, BASE_ERROR_FORMAT, _("export it again"), error,
                              _("the file ends before \"endsolid\""));
}

static gboolean
expect(Reader *r, const char *keyword, GError **error)
{
    SolidWord word;
    if (!solid_scan_word(&r->scan, &word))
        return fail_end(r, error);
    if (solid_word_is(word, keyword))
        return TRUE;
    g_autofree char *found = solid_word_quoted(word);
    return solid_fail_at_line(r->job, r->scan.line, BASE_ERROR_FORMAT, _("export it again"), error,
                              _("found %s where \"%s\" should stand"), found, keyword);
}

static gboolean
read_number(Reader *r, double *value, GError **error)
{
    SolidWord word;
    if (!solid_scan_word(&r->scan, &word))
        return fail_end(r, error);
    if (solid_word_number(word, value) && isfinite(*value))
        return TRUE;
    g_autofree char *found = solid_word_quoted(word);
    return solid_fail_at_line(r->job, r->scan.line, BASE_ERROR_FORMAT,
                              _("write numbers as 1.25, finite ones only"), error,
                              _("%s is not a coordinate"), found);
}

static gboolean
read_vertex(Reader *r, GError **error)
{
    double v[3], s = r->job->scale;
    if (!expect(r, "vertex", error))
        return FALSE;
    for (int c = 0; c < 3; c++)
        if (!read_number(r, &v[c], error))
            return FALSE;
    if (!solid_is_near(v[0] * s, v[1] * s, v[2] * s))
        return solid_fail_at_line(r->job, r->scan.line, BASE_ERROR_LIMIT, _("check the unit"),
                                  error, _("a corner lies more than 1000 km from the origin"));
    solid_soup_corner(r->soup, vec3(v[0] * s, v[1] * s, v[2] * s));
    return TRUE;
}

// After "facet". The normal is three words of any kind: it is never used, and some programs write
// "nan" there.
static gboolean
read_facet(Reader *r, GError **error)
{
    SolidWord word;
    if (!expect(r, "normal", error))
        return FALSE;
    for (int c = 0; c < 3; c++)
        if (!solid_scan_word(&r->scan, &word))
            return fail_end(r, error);
    if (!expect(r, "outer", error) || !expect(r, "loop", error))
        return FALSE;
    for (int c = 0; c < 3; c++)
        if (!read_vertex(r, error))
            return FALSE;
    return expect(r, "endloop", error) && expect(r, "endfacet", error);
}

static gboolean
check_on(Reader *r, GError **error)
{
    guint32 n = solid_soup_count(r->soup);
    if (n > SOLID_MAX_TRIANGLES)
        return solid_fail_too_many(r->job, error);
    if (n % 8192 != 1)
        return TRUE;
    const char *start = (const char *)r->job->data;
    progress_set_fraction(r->job->progress, (double)(r->scan.at - start) / (double)r->job->length);
    return progress_check(r->job->progress, error);
}

// After "solid", up to and with "endsolid" and its name.
static gboolean
read_solid(Reader *r, GError **error)
{
    SolidWord word;
    solid_scan_skip_line(&r->scan); // the name
    while (solid_scan_word(&r->scan, &word)) {
        if (solid_word_is(word, "endsolid")) {
            solid_scan_skip_line(&r->scan);
            return TRUE;
        }
        if (!solid_word_is(word, "facet")) {
            g_autofree char *found = solid_word_quoted(word);
            return solid_fail_at_line(
                r->job, r->scan.line, BASE_ERROR_FORMAT, _("export it again"), error,
                _("found %s where \"facet\" or \"endsolid\" should stand"), found);
        }
        if (!read_facet(r, error) || !check_on(r, error))
            return FALSE;
    }
    return fail_end(r, error);
}

SolidMesh *
solid_read_stl_text(const SolidReadJob *job, GError **error)
{
    Reader r = {.job = job};
    SolidWord word;
    // A facet takes about 200 bytes.
    g_autoptr(SolidSoup) soup = r.soup = solid_soup_new(
        (guint32)MIN(job->length / 200, SOLID_MAX_TRIANGLES));
    solid_scan_init(&r.scan, job->data, job->length);
    while (solid_scan_word(&r.scan, &word)) {
        if (!solid_word_is(word, "solid")) {
            g_autofree char *found = solid_word_quoted(word);
            solid_fail_at_line(job, r.scan.line, BASE_ERROR_FORMAT, _("export it again"), error,
                               _("found %s where \"solid\" should stand"), found);
            return NULL;
        }
        if (!read_solid(&r, error))
            return NULL;
    }
    if (solid_soup_count(soup) == 0) {
        solid_fail_empty(job, error);
        return NULL;
    }
    return solid_soup_end(soup);
}
