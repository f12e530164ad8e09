// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of equal modulus, each with its value, so that they are read without colour.
#include "sketch/modulus.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "sketch/modulus-kit.h"

#define TITLE_SIZE 15.0
#define TEXT_SIZE 11.0
#define LEAST_RUN 5.0 // grains of a line that is drawn
#define MOST_LINES 9

static Vec3
in_space(const CastingPlane *plane, SolidPoint p)
{
    return plane->axis == 0   ? vec3(plane->at, p.x, p.y)
           : plane->axis == 1 ? vec3(p.x, plane->at, p.y)
                              : vec3(p.x, p.y, plane->at);
}

static SolidGrid *
without_signs(const SolidGrid *map)
{
    SolidGrid *g = solid_grid_new(map->nx, map->ny, map->nz, map->cell, map->origin);
    gsize n = (gsize)map->nx * map->ny * map->nz;
    for (gsize i = 0; i < n; i++)
        g->value[i] = fabsf(map->value[i]);
    return g;
}

static void
draw_casting(ModulusDraft *m)
{
    g_autoptr(SolidOutline)
                  cut = solid_section_mesh(m->d.pattern->mesh, m->plane.axis, m->plane.at + 1e-7);
    const CastingSheet *s = &m->d.sheet;
    g_autoptr(SolidOutline) plain = solid_outline_simplified(cut, 0.01 * s->grain / CASTING_MM);
    double x = s->section.x / CASTING_MM, y = s->section.y / CASTING_MM;
    scene_add_outline(m->d.scene, ROLE_GRID, CASTING_ORDER_METAL, "casting", TRUE, FALSE, plain, x,
                      y, 0);
    scene_add_outline(m->d.scene, ROLE_VISIBLE, CASTING_ORDER_EDGE, "casting", FALSE, TRUE, plain,
                      x, y, 0);
}

// A run of a line that lies in the casting, with its value in its middle.
static void
add_run(ModulusDraft *m, GArray *run, const char *value, gboolean *labelled)
{
    double length = 0;
    for (guint i = 1; i < run->len; i++) {
        SolidPoint a = g_array_index(run, SolidPoint, i - 1), b = g_array_index(run, SolidPoint, i);
        length += hypot(b.x - a.x, b.y - a.y);
    }
    if (run->len > 1 && length >= LEAST_RUN * m->d.sheet.grain) {
        const SolidPoint *p = (const SolidPoint *)(gconstpointer)run->data;
        scene_add_line(m->d.scene, ROLE_CURVE, CASTING_ORDER_LINE, NULL, p, run->len);
        if (!*labelled) {
            Shape style = {.size = MODULUS_LABEL, .align = ALIGN_MIDDLE, .halo = TRUE};
            SolidPoint at = p[run->len / 2];
            scene_add_styled_text(m->d.scene, ROLE_TEXT, CASTING_ORDER_TEXT, NULL, at.x, at.y,
                                  &style, value);
            *labelled = TRUE;
        }
    }
    g_array_set_size(run, 0);
}

static void
draw_level(ModulusDraft *m, double level)
{
    g_autoptr(SolidOutline)
                  lines = solid_section_grid(m->smooth, m->plane.axis, m->plane.at, level);
    g_autoptr(GArray) run = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    g_autofree char *value = casting_length_number(m->d.units, level);
    gboolean labelled = FALSE;
    for (guint loop = 0; lines && loop < lines->n_loops; loop++) {
        guint first = lines->starts[loop], n = lines->starts[loop + 1] - first;
        // From a point outside the casting, so that a run is not cut where the loop begins.
        guint begin = 0;
        while (begin < n &&
               solid_grid_sample(m->d.pattern->casting,
                                 in_space(&m->plane, lines->points[first + begin])) < 0)
            begin++;
        gboolean closed = begin == n;
        for (guint i = 0; i <= n; i++) {
            SolidPoint p = lines->points[first + (begin + i) % n];
            gboolean in = solid_grid_sample(m->d.pattern->casting, in_space(&m->plane, p)) < 0;
            SolidPoint at = modulus_place(m, p.x, p.y);
            if (closed || in)
                g_array_append_val(run, at);
            else
                add_run(m, run, value, &labelled);
        }
        add_run(m, run, value, &labelled);
    }
}

// 1, 2 or 5 of a power of ten of the shop's own unit, for at most MOST_LINES lines.
static double
step_for(double most, const UnitSet *units)
{
    double unit = units->inches ? 0.0254 : 1e-3;
    double ten = unit * pow(10, floor(log10(most / unit / MOST_LINES)));
    const double parts[] = {1, 2, 5, 10};
    for (gsize i = 0; i < G_N_ELEMENTS(parts); i++)
        if (most / (parts[i] * ten) <= MOST_LINES)
            return parts[i] * ten;
    return 10 * ten;
}

static void
draw_lines(ModulusDraft *m)
{
    double most = m->feed->spots[0].modulus, step = step_for(most, m->d.units);
    for (int i = 1; i * step < most; i++)
        draw_level(m, i * step);
}

// Returns the height of the last row, mm.
static double
draw_spots(ModulusDraft *m)
{
    double g = m->d.sheet.grain, left = CASTING_COLUMN * g, y = CASTING_TABLE_TOP * g;
    casting_text(&m->d, ROLE_DIMENSION, left, y, MODULUS_LABEL, ALIGN_START, FALSE, NULL,
                 _("Heaviest places"));
    casting_text(&m->d, ROLE_DIMENSION, CASTING_EDGE * g, y, MODULUS_LABEL, ALIGN_END, FALSE, NULL,
                 _("along; across; above the parting"));
    for (guint i = 0; i < m->feed->n_spots && i < 6; i++) {
        const FeedSpot *spot = &m->feed->spots[i];
        SolidPoint p = modulus_in_plane(&m->plane, spot->at), at = modulus_place(m, p.x, p.y);
        g_autofree char *id = g_strdup_printf("modulus-%u", i + 1);
        g_autofree char *number = g_strdup_printf("%u", i + 1);
        double away = fabs(m->plane.axis == 0   ? spot->at.x - m->plane.at
                           : m->plane.axis == 1 ? spot->at.y - m->plane.at
                                                : spot->at.z - m->plane.at);
        // Of places behind one another only the one that is cut.
        if (away <= 1.5 * m->feed->map->cell) {
            scene_add_circle(m->d.scene, ROLE_VISIBLE, CASTING_ORDER_CUTTING, id, FALSE, TRUE, at.x,
                             at.y, 1.9 * g);
            casting_text(&m->d, ROLE_TEXT, at.x, at.y, MODULUS_LABEL, ALIGN_MIDDLE, TRUE, id,
                         number);
        }
        g_autofree char *size = casting_length(m->d.units, spot->modulus);
        g_autofree char *x = casting_length_number(m->d.units, spot->at.x);
        g_autofree char *across = casting_length_number(m->d.units, spot->at.y);
        g_autofree char *z = casting_length_number(m->d.units, spot->at.z);
        g_autofree char *where = g_strdup_printf("%s; %s; %s", x, across, z);
        y -= MODULUS_ROW * g;
        casting_text(&m->d, ROLE_TEXT, left, y, TEXT_SIZE, ALIGN_START, TRUE, id, number);
        casting_text(&m->d, ROLE_TEXT, left + 4 * g, y, TEXT_SIZE, ALIGN_START, FALSE, id, size);
        casting_text(&m->d, ROLE_DIMENSION, CASTING_EDGE * g, y, TEXT_SIZE, ALIGN_END, FALSE, id,
                     where);
        g_autofree char *label = g_strdup_printf(_("Heavy place %u"), i + 1);
        g_autofree char *words = g_strdup_printf(_("local modulus %s"), size);
        scene_add_part(m->d.scene, id, label, words, "feed.hot_spot_modulus");
    }
    return y;
}

Scene *
modulus_scene(const PatternResult *pattern, const FeedResult *feed, const MouldLayout *layout,
              const CastingPlane *plane, const UnitSet *units)
{
    g_return_val_if_fail(pattern != NULL && feed != NULL && plane != NULL && units != NULL, NULL);
    if (!feed->map || feed->n_spots == 0)
        return NULL;
    ModulusDraft m = {.feed = feed, .plane = *plane};
    CauseCut cut = {.axis = plane->axis, .at = plane->at};
    m.post = modulus_post(feed, layout);
    m.d = (CastingDraft){.scene = scene_new(_("Local modulus in section")),
                         .pattern = pattern,
                         .cut = &cut,
                         .units = units,
                         .sheet = modulus_sheet(pattern, plane, &m.post)};
    g_autoptr(SolidGrid) smooth = without_signs(feed->map);
    m.smooth = smooth;
    double g = m.d.sheet.grain;
    scene_set_grain(m.d.scene, g);
    scene_add_rectangle(m.d.scene, ROLE_DIMENSION, CASTING_ORDER_SHEET, NULL, FALSE, TRUE, 0, 0,
                        m.d.sheet.width, m.d.sheet.height);
    casting_text(&m.d, ROLE_TEXT, 3.0 * g, 77.5 * g, TITLE_SIZE, ALIGN_START, TRUE, NULL,
                 _("Local modulus, section A\u2013A"));
    casting_text(&m.d, ROLE_DIMENSION, 3.0 * g, 73.0 * g, TEXT_SIZE, ALIGN_START, FALSE, NULL,
                 units->inches ? _("Lines of equal modulus; inches, cold.")
                               : _("Lines of equal modulus; millimetres, cold."));
    modulus_draw_chill(&m);
    modulus_draw_post(&m);
    draw_casting(&m);
    draw_lines(&m);
    modulus_tell_post(&m, draw_spots(&m));
    casting_draw_map(&m.d);
    g_autofree char *volume = quantity_format(QUANTITY_VOLUME, pattern->volume, units);
    scene_add_part(m.d.scene, "casting", _("Rough casting"), volume, "casting.volume");
    g_autofree char *at = casting_length(units, plane->at);
    scene_add_part(m.d.scene, "plane", _("Cutting plane"), at, NULL);
    return m.d.scene;
}

Scene *
sketch_modulus_scene(const Plan *plan, const CastingPlane *plane, GError **error)
{
    g_return_val_if_fail(plan && plane && plane->axis >= 0 && plane->axis <= 2, NULL);
    const PatternResult *pattern = plan_pattern(plan);
    const FeedResult *feed = plan_feed(plan);
    CastingPlane here = *plane;
    gboolean mapped = pattern && feed && feed->map && feed->n_spots > 0;
    if (mapped && isnan(here.at)) {
        Vec3 spot = feed->spots[0].at;
        here.at = here.axis == 0 ? spot.x : here.axis == 1 ? spot.y : spot.z;
    }
    // Also says why there is nothing to draw, or that the plane misses.
    if (!mapped && isnan(here.at))
        here.at = 0;
    g_autoptr(Scene) casting = sketch_casting_scene(plan, &here, error);
    if (!casting)
        return NULL;
    if (!mapped) {
        base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan),
                       _("there is no modulus map to draw yet"),
                       _("look at the figures marked unknown"));
        return NULL;
    }
    UnitSet units = plan_units(plan);
    return modulus_scene(pattern, feed, plan_mould(plan), &here, &units);
}
