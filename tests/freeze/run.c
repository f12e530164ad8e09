// SPDX-License-Identifier: GPL-3.0-or-later
// The stages feed, mould and freeze after one another on a casting made by code.
#include "run.h"

#include <string.h>

#include "book/store.h"
#include "check.h"
#include "figure/source.h"
#include "solid/measure.h"

Tables *tables;

// A rough casting that is the mesh itself, its parting `below` above its lowest point.
static void
make_pattern(PatternResult *p, const SolidMesh *mesh, double below, double cell)
{
    SolidMeasure m = solid_measure(mesh);
    double identity[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    Vec3 shift = vec3(-(m.min.x + m.max.x) / 2, -(m.min.y + m.max.y) / 2, -m.min.z - below);
    g_autoptr(SolidMesh) moved = solid_mesh_transformed(mesh, identity, shift);
    g_autoptr(GError) error = NULL;
    *p = (PatternResult){.volume = m.volume, .area = m.area};
    p->casting = solid_grid_distance(moved, cell, 3 * cell, 3 * cell, NULL, &error);
    g_assert_no_error(error);
    p->min = vec3_add(m.min, shift);
    p->max = vec3_add(m.max, shift);
    p->height_cope = p->max.z;
    p->height_drag = below;
    p->shadow = solid_section_shadow(p->casting, 0);
    p->parting_outline = solid_section_mesh(moved, 2, 1e-6);
    p->projected_area = solid_outline_area(p->shadow);
    p->thinnest = 2 * m.volume / m.area;
}

static void
give(FigureList *list, const char *id, QuantityKind kind, double value)
{
    figure_give(list, id, id, kind, value, NULL, "geometry");
}

// `job` holds further members of job, each with a leading comma. Without `heat` the freeze stage
// has no shape to let heat flow in.
Run
run_some(const SolidMesh *mesh, double below, const char *job, gboolean heat)
{
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"ambient\":\"17.5 °C\"},"
        "\"jobs\":[{\"id\":\"j\"%s%s}]}",
        strstr(job, "metal") ? "" : ",\"metal\":\"a356\"", job);
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = store_parse(text, -1, "mould.castbook", NULL, tables, &error);
    g_assert_no_error(error);
    Run r = {figure_list_new(), figure_list_new(), figure_list_new(), figure_list_new()};
    if (mesh)
        make_pattern(&r.pattern, mesh, below, 0.8e-3);
    double volume = mesh ? r.pattern.volume : NAN;
    give(r.casting, "casting.volume", QUANTITY_VOLUME, volume);
    give(r.casting, "casting.mass", QUANTITY_MASS, volume * 2680);
    give(r.casting, "casting.area", QUANTITY_AREA, mesh ? r.pattern.area : NAN);
    give(r.casting, "casting.modulus", QUANTITY_LENGTH, mesh ? volume / r.pattern.area : NAN);
    const PatternResult *pattern = mesh ? &r.pattern : NULL;
    figure_list_see(r.feeds, r.casting);
    figure_list_see(r.moulds, r.casting);
    figure_list_see(r.moulds, r.feeds);
    figure_list_see(r.freezes, r.casting);
    figure_list_see(r.freezes, r.feeds);
    figure_list_see(r.freezes, r.moulds);
    g_autoptr(Inputs) feed = inputs_resolve(book, "j", tables, NULL, feed_reads);
    r.feed = feed_stage(feed, pattern, r.feeds, NULL, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) mould = inputs_resolve(book, "j", tables, NULL, mould_reads);
    r.mould = mould_stage(mould, pattern, r.feed, NULL, NULL, r.moulds, NULL, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) freeze = inputs_resolve(book, "j", tables, NULL, freeze_reads);
    r.freeze = freeze_stage(freeze, heat ? pattern : NULL, r.feed, r.mould, r.freezes, NULL,
                            &error);
    g_assert_no_error(error);
    return r;
}

Run
run_stages(const SolidMesh *mesh, double below, const char *job)
{
    return run_some(mesh, below, job, TRUE);
}

void
clear_run(Run *r)
{
    figure_list_unref(r->casting);
    figure_list_unref(r->feeds);
    figure_list_unref(r->moulds);
    figure_list_unref(r->freezes);
    solid_grid_unref(r->pattern.casting);
    solid_outline_unref(r->pattern.shadow);
    solid_outline_unref(r->pattern.parting_outline);
    feed_result_unref(r->feed);
    mould_layout_unref(r->mould);
    freeze_result_unref(r->freeze);
}

const Figure *
get(const Run *r, const char *id)
{
    const Figure *figure = figure_list_find(r->freezes, id);
    if (!figure)
        g_error("no figure %s", id);
    return figure;
}
