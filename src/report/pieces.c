// SPDX-License-Identifier: GPL-3.0-or-later
// The list of pieces to print.
#include "report/pieces.h"

#include <glib/gi18n-lib.h>

#include "report/cell.h"

#define COUNT_WIDTH 3
#define VALUE_WIDTH 11

static int
find_width(const BoardResult *boards, gboolean kind)
{
    int width = kind ? 0 : (int)g_utf8_strlen(_("all"), -1);
    for (guint i = 0; i < boards->n_pieces; i++) {
        const BoardPiece *piece = &boards->pieces[i];
        const char *text = kind ? board_kind_label(piece->kind) : piece->name;
        width = MAX(width, (int)g_utf8_strlen(text, -1));
    }
    return width;
}

static void
append_line(GString *out, const char *name, const char *kind, const int width[2], guint count,
            double volume, double mass, const UnitSet *units)
{
    g_autofree char *n = g_strdup_printf("%u ×", count);
    g_autofree char *v = quantity_format(QUANTITY_VOLUME, volume, units);
    g_autofree char *m = quantity_format(QUANTITY_MASS, mass, units);
    report_cell(out, name, width[0], FALSE);
    g_string_append(out, "  ");
    report_cell(out, kind, width[1], FALSE);
    report_cell(out, n, COUNT_WIDTH + 4, TRUE);
    report_cell(out, v, VALUE_WIDTH + 1, TRUE);
    report_cell(out, m, VALUE_WIDTH, TRUE);
}

static void
append_size(GString *out, Vec3 size, const UnitSet *units)
{
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, size.x, units);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, size.y, units);
    g_autofree char *z = quantity_format(QUANTITY_LENGTH, size.z, units);
    g_string_append_printf(out, "   %s × %s × %s", x, y, z);
}

char *
report_pieces(const BoardResult *boards, const UnitSet *units, int indent)
{
    GString *out = g_string_new(NULL);
    const int width[2] = {find_width(boards, FALSE), find_width(boards, TRUE)};
    g_string_append_printf(out, "%*s%s\n", indent, "",
                           _("Pieces to print: kind, number, volume and filament of one, size"));
    for (guint i = 0; i < boards->n_pieces; i++) {
        const BoardPiece *p = &boards->pieces[i];
        g_string_append_printf(out, "%*s", indent + 2, "");
        append_line(out, p->name, board_kind_label(p->kind), width, p->count, p->volume, p->mass,
                    units);
        append_size(out, p->size, units);
        g_string_append_c(out, '\n');
    }
    g_string_append_printf(out, "%*s", indent + 2, "");
    append_line(out, _("all"), "", width, boards->count, boards->volume, boards->mass, units);
    g_string_append_c(out, '\n');
    for (char **note = boards->notes; *note; note++)
        g_string_append_printf(out, "%*s%s\n", indent + 2, "", *note);
    return g_string_free(out, FALSE);
}
