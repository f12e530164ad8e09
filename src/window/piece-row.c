// SPDX-License-Identifier: GPL-3.0-or-later
// A few lines, made once: the list is made anew when the pieces change.
#include "window/piece-row.h"

#include <glib/gi18n.h>

#define NAME "piece-name" // what a row keeps as its data

static GtkWidget *
add_line(GtkWidget *box, const char *text, const char *style)
{
    GtkWidget *label = gtk_label_new(text);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_max_width_chars(GTK_LABEL(label), 34);
    gtk_widget_add_css_class(label, style);
    gtk_box_append(GTK_BOX(box), label);
    return label;
}

static char *
kind_words(const BoardPiece *piece)
{
    const char *format = piece->side == BOARD_COPE ? _("%s for the cope") : _("%s for the drag");
    return g_strdup_printf(format, board_kind_label(piece->kind));
}

// "half pattern for the cope", "board for the drag, part 2 of 4".
static char *
part_words(const BoardPiece *piece, const char *kind)
{
    if (piece->parts < 2)
        return g_strdup(kind);
    return g_strdup_printf(_("%s, part %u of %u"), kind, piece->part, piece->parts);
}

static char *
size_words(const BoardPiece *piece, const UnitSet *units)
{
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, piece->size.x, units);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, piece->size.y, units);
    g_autofree char *z = quantity_format(QUANTITY_LENGTH, piece->size.z, units);
    return g_strdup_printf("%s × %s × %s", x, y, z);
}

static char *
filament_words(const BoardPiece *piece, const UnitSet *units)
{
    g_autofree char *mass = quantity_format(QUANTITY_MASS, piece->mass, units);
    return g_strdup_printf(piece->count > 1 ? _("%s of filament each") : _("%s of filament"), mass);
}

GtkWidget *
fw_piece_row_new(const BoardPiece *piece, const UnitSet *units)
{
    g_autofree char *kind = kind_words(piece);
    g_autofree char *size = size_words(piece, units);
    g_autofree char *filament = filament_words(piece, units);
    g_autofree char *cut = board_piece_cut(piece);
    g_autofree char *count = g_strdup_printf("%u ×", piece->count);
    g_autofree char *name = g_strdup_printf(ngettext("%s, print %u", "%s, print %u", piece->count),
                                            piece->name, piece->count);
    g_autofree char *facts = g_strjoin(". ", kind, size, filament, cut, NULL);
    GtkWidget *row = gtk_list_box_row_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 1);
    GtkWidget *top = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6), *many = gtk_label_new(count);
    gtk_box_append(GTK_BOX(box), top);
    gtk_widget_set_hexpand(add_line(top, piece->name, "step-name"), TRUE);
    gtk_widget_add_css_class(many, "numeric");
    gtk_box_append(GTK_BOX(top), many);
    g_autofree char *part = part_words(piece, kind);
    add_line(box, part, "step-figures");
    g_autofree char *both = g_strjoin(" · ", size, filament, NULL);
    add_line(box, both, "step-figures");
    gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), box);
    gtk_widget_add_css_class(row, "step-row");
    g_object_set_data_full(G_OBJECT(row), NAME, g_strdup(piece->name), g_free);
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, facts, -1);
    return row;
}

const char *
fw_piece_row_get_name(GtkWidget *row)
{
    return g_object_get_data(G_OBJECT(row), NAME);
}
