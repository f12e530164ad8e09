// SPDX-License-Identifier: GPL-3.0-or-later
// `part`: what a mesh is: closed or not, volume, surface, box, centroid, principal moments.
#include <glib/gi18n-lib.h>

#include "cli/cli.h"
#include "part/findings.h"
#include "solid/read.h"

static void
print_row(const char *label, QuantityKind kind, double value, const UnitSet *units)
{
    g_autofree char *text = quantity_format(kind, value, units);
    g_print("  %-18s %s\n", label, text);
}

static void
print_vector(const char *label, Vec3 v, const UnitSet *units)
{
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, v.x, units);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, v.y, units);
    g_autofree char *z = quantity_format(QUANTITY_LENGTH, v.z, units);
    g_print("  %-18s %s   %s   %s\n", label, x, y, z);
}

// A component without the sign of what rounds to nothing.
static double
plain(double component)
{
    return fabs(component) < 5e-5 ? 0 : component;
}

static void
print_part(const char *file, const char *unit, const PartFindings *f, const UnitSet *units)
{
    const SolidMesh *mesh = f->mesh;
    SolidCheck check = f->check;
    SolidMeasure measure = f->measure;
    g_auto(GStrv) found = part_findings_words(f, units);
    g_autofree char *words = solid_check_words(&check);
    g_print("%s\n", file);
    g_print("  %-18s %u\n", _("Triangles"), mesh->n_triangles);
    g_print("  %-18s %u\n", _("Vertices"), mesh->n_vertices);
    g_print("  %-18s %s\n", _("Unit"), unit);
    g_print("  %-18s %s\n", _("Skin"), words);
    for (char **one = found; *one; one++)
        g_print("  %-18s %s\n", one == found ? _("Note") : "", *one);
    if (f->solid)
        print_row(_("Volume"), QUANTITY_VOLUME, measure.volume, units);
    else if (check.closed)
        g_print("  %-18s %s\n", _("Volume"), _("none: the mesh holds nothing"));
    else
        g_print("  %-18s %s\n", _("Volume"), _("unknown: the mesh is not closed"));
    print_row(_("Surface"), QUANTITY_AREA, measure.area, units);
    print_vector(_("Size"), vec3_sub(measure.max, measure.min), units);
    print_vector(_("From"), measure.min, units);
    print_vector(_("To"), measure.max, units);
    if (!f->solid)
        return;
    print_vector(_("Centroid"), measure.centroid, units);
    for (int i = 0; i < 3; i++)
        g_print("  %-18s %.4g cm⁵   %s %.4f, %.4f, %.4f\n", i == 0 ? _("Principal moments") : "",
                measure.moments[i] * 1e10, _("about"), plain(measure.axes[i].x),
                plain(measure.axes[i].y), plain(measure.axes[i].z));
}

int
cli_part(int argc, char **argv)
{
    g_autofree char *unit = NULL;
    gboolean finished;
    const GOptionEntry entries[] = {{"unit", 'u', 0, G_OPTION_ARG_STRING, &unit,
                                     N_("Unit of a file that does not say: mm, cm, m, in, ft"),
                                     "UNIT"},
                                    {NULL}};
    int code = cli_options("part", entries, &argc, &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    if (unit && solid_unit_metres(unit) == 0)
        return cli_usage(_("part: \"%s\" is not a unit; use mm, cm, m, in or ft"), unit);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = solid_read(argv[1], unit, NULL, &error);
    if (!mesh)
        return cli_fail(error);
    g_auto(PartFindings) found = {0};
    if (!part_find(mesh, &found, NULL, &error))
        return cli_fail(error);
    UnitSet units = unit_set_default();
    g_autofree char *said = NULL;
    if (unit)
        said = g_strdup(unit);
    else if (g_str_has_suffix(argv[1], ".3mf"))
        said = g_strdup(_("as the file says"));
    else
        said = g_strdup_printf(_("taken as mm (the size looks like %s; say --unit to be sure)"),
                               solid_guess_unit(mesh));
    print_part(argv[1], said, &found, &units);
    return CLI_DONE;
}
