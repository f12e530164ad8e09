// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes as they come: what can be made a solid of is, and said; what cannot is refused, with what
// to do.
#include "part/findings.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

// Volume over surface times size: below this the digits of the vertices tell nothing of a solid.
#define NOTHING 1e-9
#define LEAST_SIZE 2e-3 // m, longest side
#define MOST_SIZE 3.0   // m, likewise

void
part_findings_clear(PartFindings *findings)
{
    g_clear_pointer(&findings->mesh, solid_mesh_unref);
}

static gboolean
holds_something(const PartFindings *f)
{
    double size = vec3_length(vec3_sub(f->measure.max, f->measure.min));
    return f->measure.volume > NOTHING * f->measure.area * size;
}

gboolean
part_find(const SolidMesh *mesh, PartFindings *findings, Progress *progress, GError **error)
{
    g_auto(PartFindings) f = {.check = solid_check(mesh)};
    f.turned = f.check.closed && f.check.inside_out;
    f.mesh = f.turned ? solid_mesh_flipped(mesh) : solid_mesh_ref(mesh);
    f.measure = solid_measure(f.mesh);
    if (f.check.closed) {
        if (!solid_overlap(f.mesh, &f.overlap, progress, error))
            return FALSE;
        f.measure.volume -= f.overlap.excess;
        f.solid = holds_something(&f);
    }
    *findings = f;
    f.mesh = NULL;
    return TRUE;
}

static void
add_overlap(GPtrArray *words, const PartFindings *f, const UnitSet *units)
{
    g_autofree char *doubled = quantity_format(QUANTITY_VOLUME, f->overlap.doubled, units);
    g_autofree char *inward = quantity_format(QUANTITY_VOLUME, f->overlap.inward, units);
    if (f->overlap.doubled > 0 && f->check.shells > 1)
        g_ptr_array_add(words, g_strdup_printf(_("Shells overlap: %s lie within more than one and "
                                                 "are metal, counted once. A shell meant as a "
                                                 "hollow must face inwards."),
                                               doubled));
    else if (f->overlap.doubled > 0)
        g_ptr_array_add(words, g_strdup_printf(_("The skin crosses itself: %s lie within it twice "
                                                 "and are metal, counted once."),
                                               doubled));
    if (f->overlap.inward > 0)
        g_ptr_array_add(words,
                        g_strdup_printf(_("%s lie within skin that faces inwards and is the hollow "
                                          "of no other shell: they are counted as metal. Turn "
                                          "those faces outwards, or take them out of the file."),
                                        inward));
}

// A wrong unit is off by a factor of ten at least; nobody casts so small or so large in one flask.
static void
add_size(GPtrArray *words, const PartFindings *f, const UnitSet *units)
{
    Vec3 size = vec3_sub(f->measure.max, f->measure.min);
    double longest = fmax(size.x, fmax(size.y, size.z));
    if (longest >= LEAST_SIZE && longest <= MOST_SIZE)
        return;
    g_autofree char *length = quantity_format(QUANTITY_LENGTH, longest, units);
    g_ptr_array_add(words, g_strdup_printf(_("The part is %s long: see whether the unit of its "
                                             "file is the right one."),
                                           length));
}

char **
part_findings_words(const PartFindings *f, const UnitSet *units)
{
    g_autoptr(GPtrArray) words = g_ptr_array_new();
    g_autofree char *state = solid_check_words(&f->check);
    guint hollows = f->check.hollows;
    if (!f->check.closed)
        g_ptr_array_add(words, g_strdup_printf(_("The skin is not closed: %s. Nothing can be cast "
                                                 "of it until it bounds a solid."),
                                               state));
    else if (!f->solid)
        g_ptr_array_add(words, g_strdup(_("The skin is closed and holds nothing: its faces lie "
                                          "upon each other. Give the sheet a thickness.")));
    if (f->turned && f->solid)
        g_ptr_array_add(words, g_strdup(_("The faces looked inwards and have been turned over.")));
    if (f->solid)
        add_size(words, f, units);
    add_overlap(words, f, units);
    guint bodies = f->check.shells - MIN(hollows, f->check.shells);
    if (f->solid && bodies > 1 && f->overlap.doubled == 0 && f->overlap.inward == 0)
        g_ptr_array_add(words, g_strdup_printf(_("%u separate bodies are taken as one part, as "
                                                 "they lie to each other. Two parts want a file "
                                                 "and a job each."),
                                               bodies));
    if (hollows > 0 && f->solid && f->overlap.inward == 0)
        g_ptr_array_add(words,
                        g_strdup_printf(ngettext("%u enclosed hollow is cast solid: no sand can "
                                                 "leave it.",
                                                 "%u enclosed hollows are cast solid: no sand can "
                                                 "leave them.",
                                                 hollows),
                                        hollows));
    if (f->check.closed && f->check.duplicates > 0 && f->solid)
        g_ptr_array_add(words,
                        g_strdup_printf(ngettext("%u doubled triangle holds nothing and is passed "
                                                 "over.",
                                                 "%u doubled triangles hold nothing and are passed "
                                                 "over.",
                                                 f->check.duplicates),
                                        f->check.duplicates));
    g_ptr_array_add(words, NULL);
    return (char **)g_ptr_array_steal(words, NULL);
}

gboolean
part_findings_refuse(const PartFindings *f, const char *file, GError **error)
{
    g_autofree char *words = solid_check_words(&f->check);
    if (f->check.closed)
        return base_error_set(error, BASE_ERROR_VALUE, file, NULL,
                              _("the skin is closed and holds nothing"),
                              _("give the sheet a thickness"));
    g_autofree char *what = g_strdup_printf(_("the part is not closed: %s"), words);
    return base_error_set(error, BASE_ERROR_VALUE, file, NULL, what,
                          _("mend the mesh so that every edge has two triangles"));
}
