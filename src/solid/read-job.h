// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: what every reader of one format is handed, and how it fails.
#pragma once

#include "base/error.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

#define SOLID_FAR 1e6 // m; a coordinate beyond this is a mistake, and would spoil the sums

typedef struct {
    const guchar *data;
    gsize length;
    const char *name; // stands for the file in messages
    double scale;     // metres in one unit of the file, where the format does not say
    Progress *progress;
} SolidReadJob;

SolidMesh *solid_read_stl_binary(const SolidReadJob *job, GError **error);
SolidMesh *solid_read_stl_text(const SolidReadJob *job, GError **error);
SolidMesh *solid_read_obj(const SolidReadJob *job, GError **error);
SolidMesh *solid_read_ply(const SolidReadJob *job, GError **error);
SolidMesh *solid_read_3mf(const SolidReadJob *job, GError **error);

// All return FALSE with *error set to "name: place: what; remedy".
gboolean solid_fail_at_byte(const SolidReadJob *job, guint64 byte, BaseError code,
                            const char *remedy, GError **error, const char *format, ...)
    G_GNUC_PRINTF(6, 7);
gboolean solid_fail_at_line(const SolidReadJob *job, guint64 line, BaseError code,
                            const char *remedy, GError **error, const char *format, ...)
    G_GNUC_PRINTF(6, 7);
// A file without a single triangle.
gboolean solid_fail_empty(const SolidReadJob *job, GError **error);
// More triangles than we hold.
gboolean solid_fail_too_many(const SolidReadJob *job, GError **error);

static inline gboolean
solid_is_near(double x, double y, double z)
{
    return fabs(x) <= SOLID_FAR && fabs(y) <= SOLID_FAR && fabs(z) <= SOLID_FAR; // NaN: no
}

G_END_DECLS
