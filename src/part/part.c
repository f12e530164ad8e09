// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "part": reads the finished part, checks its skin and measures it.
#include "part/part.h"

#include <glib/gi18n-lib.h>

#include "base/digest.h"
#include "base/error.h"
#include "part/wall.h"
#include "solid/read.h"

const char *const part_reads[] = {"mesh", "job.mesh_unit", NULL};

static const FigureSpec spec_closed = {"part.closed",
                                       N_("Closed skin"),
                                       QUANTITY_COUNT,
                                       NULL,
                                       N_("1 when every edge of the mesh has two triangles that "
                                          "run along it in opposite ways, so that "
                                          "it bounds a solid; else 0."),
                                       "definition",
                                       FIGURE_AT_LEAST};
static const FigureSpec spec_volume = {
    "part.volume",
    N_("Volume of the part"),
    QUANTITY_VOLUME,
    NULL,
    N_("Sum of the signed tetrahedra between each triangle and the middle of the box."),
    "geometry"};
static const FigureSpec spec_area = {"part.area", N_("Surface of the part"),   QUANTITY_AREA,
                                     NULL,        N_("Sum of the triangles."), "geometry"};
static const FigureSpec spec_size[3] = {{"part.size.x", N_("Length along x"), QUANTITY_LENGTH, NULL,
                                         N_("Of the part's box."), "geometry"},
                                        {"part.size.y", N_("Length along y"), QUANTITY_LENGTH, NULL,
                                         N_("Of the part's box."), "geometry"},
                                        {"part.size.z", N_("Length along z"), QUANTITY_LENGTH, NULL,
                                         N_("Of the part's box."), "geometry"}};
static const FigureSpec spec_wall = {
    "part.min_wall",
    N_("Thinnest wall of the part"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least way straight in from one face to another that looks away from it (within 30 "
       "degrees), "
       "from some 8000 places spread over the surface: a thin place smaller than their spacing may "
       "be missed."),
    "geometry"};

static void
clear_result(gpointer data)
{
    PartResult *result = data;
    solid_mesh_unref(result->mesh);
    g_free(result->digest);
}

PartResult *
part_result_ref(const PartResult *result)
{
    return g_atomic_rc_box_acquire((PartResult *)result);
}

void
part_result_unref(const PartResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((PartResult *)result, clear_result);
}

// The same skin seen from the other side.
static SolidMesh *
turn_over(const SolidMesh *mesh)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    SolidMesh *out = solid_mesh_transformed(mesh, same, vec3(0, 0, 0));
    for (guint32 t = 0; t < out->n_triangles; t++) {
        guint32 swap = out->triangles[t][1];
        out->triangles[t][1] = out->triangles[t][2];
        out->triangles[t][2] = swap;
    }
    return out;
}

static char *
digest_mesh(const SolidMesh *mesh)
{
    g_autoptr(Digest) digest = digest_new();
    digest_add_bytes(digest, mesh->vertices, (gsize)mesh->n_vertices * sizeof *mesh->vertices);
    digest_add_bytes(digest, mesh->triangles, (gsize)mesh->n_triangles * sizeof *mesh->triangles);
    return digest_end(digest);
}

static void
add_unknown(FigureList *figures, const char *missing, gboolean all)
{
    if (all) {
        figure_add_unknown(figures, &spec_closed, missing);
        figure_add_unknown(figures, &spec_area, missing);
        for (int i = 0; i < 3; i++)
            figure_add_unknown(figures, &spec_size[i], missing);
    }
    figure_add_unknown(figures, &spec_volume, missing);
    figure_add_unknown(figures, &spec_wall, missing);
}

static void
add_figures(const PartResult *r, gboolean turned, FigureList *figures)
{
    const SolidMeasure *m = &r->measure;
    double size[3] = {m->max.x - m->min.x, m->max.y - m->min.y, m->max.z - m->min.z};
    Figure *closed = figure_add(figures, &spec_closed, r->check.closed ? 1 : 0, "mesh", NULL);
    g_autofree char *words = solid_check_words(&r->check);
    figure_limit(closed, 1, NULL);
    if (turned)
        figure_set_note(closed, _("%s. The faces looked inwards and have been turned over."),
                        words);
    else
        figure_set_note(closed, "%s", words);
    figure_add(figures, &spec_area, m->area, "mesh", NULL);
    for (int i = 0; i < 3; i++)
        figure_add(figures, &spec_size[i], size[i], "mesh", NULL);
    if (!r->check.closed) {
        add_unknown(figures, "part.closed", FALSE);
        return;
    }
    figure_add(figures, &spec_volume, m->volume, "mesh", NULL);
    if (isnan(r->min_wall))
        figure_set_note(figure_add_unknown(figures, &spec_wall, "mesh"),
                        _("No two faces look away from each other."));
    else
        figure_add(figures, &spec_wall, r->min_wall, "mesh", NULL);
}

PartResult *
part_stage(const Inputs *inputs, FigureList *figures, Progress *progress, GError **error)
{
    inputs_give(inputs, figures);
    const char *path = inputs_mesh_path(inputs);
    if (!path) {
        add_unknown(figures, "job.mesh", TRUE);
        base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("no finished part is chosen"),
                       _("choose its mesh file"));
        return NULL;
    }
    progress_set_words(progress, _("Reading the part"));
    g_autoptr(SolidMesh)
                  mesh = solid_read(path, inputs_text(inputs, "job.mesh_unit"), progress, error);
    if (!mesh) {
        add_unknown(figures, "job.mesh", TRUE);
        return NULL;
    }
    return part_measure(mesh, figures, progress, error);
}

PartResult *
part_measure(const SolidMesh *mesh, FigureList *figures, Progress *progress, GError **error)
{
    SolidCheck check = solid_check(mesh);
    gboolean turned = check.closed && check.inside_out;
    g_autoptr(PartResult) result = g_atomic_rc_box_new0(PartResult);
    result->mesh = turned ? turn_over(mesh) : solid_mesh_ref(mesh);
    result->check = check;
    result->measure = solid_measure(result->mesh);
    result->min_wall = NAN;
    if (check.closed) {
        GError *stopped = NULL;
        result->min_wall = wall_thinnest(result->mesh, progress, &stopped);
        if (stopped) {
            g_propagate_error(error, stopped);
            return NULL;
        }
    }
    result->digest = digest_mesh(result->mesh);
    add_figures(result, turned, figures);
    return g_steal_pointer(&result);
}
