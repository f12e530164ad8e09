// SPDX-License-Identifier: GPL-3.0-or-later
// Areas of the part that do not draw as wanted: connected faces of one state, up to the next sharp
// edge, so that an area is what a person would call one side, one hole, one underside.
#pragma once

#include "part/face.h"
#include "units/quantity.h"

G_BEGIN_DECLS

#define AREA_NONE G_MAXUINT32

typedef enum {
    AREA_FACE,  // looks more or less one way
    AREA_ROUND, // goes all round, looking outwards
    AREA_HOLE,  // goes all round, looking inwards
} AreaForm;

typedef struct {
    gboolean hidden; // from the pull; else it draws with too little draft
    AreaForm form;
    double area;         // m2
    double draft, least; // rad; mean by area, and of the triangle with least
    Vec3 middle;         // by area, m
    Vec3 normal;         // unit, mean by area; of little use unless it is a face
    guint32 n;           // triangles
} Area;

// Immutable, reference-counted.
typedef struct {
    guint n;
    Area *areas; // largest first
    guint32 n_triangles;
    guint32 *of; // per triangle: its area, or AREA_NONE
} AreaList;

// `faces` are of this mesh (welded), whose axes may be any. Triangles without area belong to none.
AreaList *area_list_new(const SolidMesh *mesh, const FaceDraft *faces);
AreaList *area_list_ref(const AreaList *list);
void area_list_unref(const AreaList *list); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(AreaList, area_list_unref)

// For each of the first `n` areas the way towards the eye (unit, the mesh's axes) that shows most
// of it past the rest of the part; among ways that show it about as well the one nearest `liked`
// (unit). `looks` has room for n. FALSE with an error when stopped.
gboolean area_looks(const SolidMesh *mesh, const AreaList *list, guint n, Vec3 liked, Vec3 *looks,
                    Progress *progress, GError **error);

// What it is and where: "Side facing left", "Hole". Mould axes: x to the right, y to the back, z
// up into the cope. Both free with g_free.
char *area_title(const Area *area);
// "12.3 cm², 0.4° draft, at the back right, in the drag". `low`, `high`: box of the part, m;
// `parting`: z, m.
char *area_facts(const Area *area, Vec3 low, Vec3 high, double parting, const UnitSet *units);

G_END_DECLS
