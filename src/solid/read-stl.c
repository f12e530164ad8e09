// SPDX-License-Identifier: GPL-3.0-or-later
// Binary STL: 80 bytes of anything, a little-endian count, then 50 bytes a triangle: a normal
// (never used), three corners, two bytes of anything.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "solid/read-job.h"
#include "solid/weld-table.h"

#define HEADER 84
#define RECORD 50

static guint32
get_u32(const guchar *p)
{
    guint32 v;
    memcpy(&v, p, sizeof v);
    return GUINT32_FROM_LE(v);
}

static float
get_float(const guchar *p)
{
    guint32 bits = get_u32(p);
    float v;
    memcpy(&v, &bits, sizeof v);
    return v;
}

static gboolean
check_length(const SolidReadJob *job, GError **error)
{
    const char *again = _("export it again");
    if (job->length < HEADER)
        return solid_fail_at_byte(job, job->length, BASE_ERROR_FORMAT, again, error,
                                  _("the file ends inside the STL header"));
    guint32 count = get_u32(job->data + 80);
    guint64 wanted = HEADER + (guint64)RECORD * count;
    if (job->length < wanted)
        return solid_fail_at_byte(
            job, job->length, BASE_ERROR_FORMAT, again, error,
            _("the file ends in triangle %" G_GUINT64_FORMAT " of the %u its header promises"),
            (guint64)(job->length - HEADER) / RECORD + 1, count);
    if (job->length > wanted)
        return solid_fail_at_byte(job, wanted, BASE_ERROR_FORMAT, again, error,
                                  _("%" G_GUINT64_FORMAT " bytes follow the last of the %u "
                                    "triangles its header promises"),
                                  (guint64)job->length - wanted, count);
    if (count == 0)
        return solid_fail_empty(job, error);
    if (count > SOLID_MAX_TRIANGLES)
        return solid_fail_too_many(job, error);
    return TRUE;
}

static gboolean
fail_corner(const SolidReadJob *job, const guchar *corner, GError **error)
{
    const guchar *p = corner;
    while (p < corner + 8 && fabs(get_float(p) * job->scale) <= SOLID_FAR)
        p += 4;
    guint64 byte = (guint64)(p - job->data);
    if (isfinite(get_float(p)))
        return solid_fail_at_byte(job, byte, BASE_ERROR_LIMIT, _("check the unit"), error,
                                  _("a corner lies more than 1000 km from the origin"));
    return solid_fail_at_byte(job, byte, BASE_ERROR_FORMAT, _("export it again"), error,
                              _("a coordinate is not a finite number"));
}

SolidMesh *
solid_read_stl_binary(const SolidReadJob *job, GError **error)
{
    if (!check_length(job, error))
        return NULL;
    guint32 count = get_u32(job->data + 80);
    g_autoptr(SolidSoup) soup = solid_soup_new(count);
    const guchar *p = job->data + HEADER;
    for (guint32 t = 0; t < count; t++, p += RECORD) {
        if (t % 16384 == 0) {
            if (!progress_check(job->progress, error))
                return NULL;
            progress_set_fraction(job->progress, (double)t / count);
        }
        for (int c = 0; c < 3; c++) {
            const guchar *q = p + 12 + 12 * c;
            Vec3 v = vec3(get_float(q) * job->scale, get_float(q + 4) * job->scale,
                          get_float(q + 8) * job->scale);
            if (G_UNLIKELY(!solid_is_near(v.x, v.y, v.z))) {
                fail_corner(job, q, error);
                return NULL;
            }
            solid_soup_corner(soup, v);
        }
    }
    return solid_soup_end(soup);
}
