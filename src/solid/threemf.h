// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: a 3MF model as it is read from the package, before its parts are put in place.
#pragma once

#include "solid/read-job.h"

G_BEGIN_DECLS

// x' = x m[0] + y m[3] + z m[6] + m[9], and so on: rows as the file writes them.
typedef struct {
    double m[12];
} ThreeMfTransform;

typedef struct {
    char *object; // "part name#id"
    ThreeMfTransform transform;
} ThreeMfComponent;

// An object is a mesh or a list of components.
typedef struct {
    GArray *vertices;   // Vec3, in the unit of its part
    GArray *triangles;  // guint32[3]
    GArray *components; // ThreeMfComponent
    gboolean counting;  // being counted: a second visit is a circle
    double count;       // triangles and components below it; < 0 while unknown
    gboolean support;   // of type "support" or "other": not part of what is made
} ThreeMfObject;

typedef struct {
    GHashTable *objects; // "part name#id" -> ThreeMfObject
    GArray *items;       // ThreeMfComponent, of the root part only
    double scale;        // metres in the unit of the root part
    guint64 n_vertices;  // in all parts, for the limits
    guint64 n_triangles;
} ThreeMfModel;

ThreeMfModel *solid_3mf_model_new(void);
void solid_3mf_model_free(ThreeMfModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(ThreeMfModel, solid_3mf_model_free)

// Reading of one model part, fed in pieces. `part` is its name without a leading slash.
typedef struct ThreeMfParser ThreeMfParser;
ThreeMfParser *solid_3mf_parser_new(const SolidReadJob *job, ThreeMfModel *model, const char *part,
                                    gboolean root);
gboolean solid_3mf_parser_feed(ThreeMfParser *parser, const char *text, gsize length,
                               GError **error);
gboolean solid_3mf_parser_end(ThreeMfParser *parser, GError **error);
void solid_3mf_parser_free(ThreeMfParser *parser);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(ThreeMfParser, solid_3mf_parser_free)

// Puts the items of the build in place and welds.
SolidMesh *solid_3mf_assemble(const SolidReadJob *job, ThreeMfModel *model, GError **error);

// "name: part: what; remedy", returns FALSE.
gboolean solid_3mf_fail(const SolidReadJob *job, const char *part, BaseError code,
                        const char *remedy, GError **error, const char *what);

G_END_DECLS
