// SPDX-License-Identifier: GPL-3.0-or-later
// Picture and direction side by side; below them metal added by cause, depth of draw and reasons.
#include "window/pull-row.h"

#include <glib/gi18n.h>

#include "book/field.h"
#include "window/pull-pictures.h"

// What a row keeps as its data.
#define PICTURE "pull-picture"
#define KIND_LABEL "pull-kind-label"
#define KIND "pull-kind"
#define FACTS "pull-facts"
#define NOTHING 5e-4 // of the part's volume: below what the judgement can tell

char *
fw_pull_row_field(Vec3 pull)
{
    return field_vector_text((const double[3]){pull.x, pull.y, pull.z});
}

static const char *
kind_words(DirectionKind kind)
{
    switch (kind) {
    case DIRECTION_FILE_AXIS:
        return _("an axis of the drawing");
    case DIRECTION_AXIS:
        return _("along the part's own axis");
    case DIRECTION_FACE:
        return _("square to a flat face");
    case DIRECTION_SPREAD:
    default:
        return _("at an angle");
    }
}

// "along −z" where it is an axis, else the three numbers to three places.
static char *
direction_words(const SearchAnswer *a, const UnitSet *units)
{
    static const char names[] = "xyz";
    double v[3] = {a->pull.x, a->pull.y, a->pull.z};
    for (int i = 0; i < 3; i++)
        if (fabs(v[i]) > 1 - 1e-6)
            return g_strdup_printf(_("along %s%c"), v[i] < 0 ? "−" : "+", names[i]);
    g_autofree char *x = quantity_format(QUANTITY_NUMBER, round(v[0] * 1000) / 1000, units);
    g_autofree char *y = quantity_format(QUANTITY_NUMBER, round(v[1] * 1000) / 1000, units);
    g_autofree char *z = quantity_format(QUANTITY_NUMBER, round(v[2] * 1000) / 1000, units);
    return g_strdup_printf(_("along x %s, y %s, z %s"), x, y, z);
}

static void
add_cause(GString *words, const char *cause, double volume, double part_volume,
          const UnitSet *units)
{
    if (volume < NOTHING * part_volume)
        return;
    g_autofree char *text = quantity_format(QUANTITY_VOLUME, volume, units);
    g_string_append_printf(words, "%s%s %s", words->len ? ", " : "", cause, text);
}

// Metal by cause and depth of draw: "undercut 1.4 cm³, draft 2.2 cm³. Draws …".
static char *
cost_words(const SearchAnswer *a, double part_volume, const UnitSet *units)
{
    g_autoptr(GString) causes = g_string_new(NULL);
    add_cause(causes, _("undercut"), a->undercut_volume, part_volume, units);
    add_cause(causes, _("draft"), a->draft_volume, part_volume, units);
    add_cause(causes, _("allowance"), a->allowance_volume, part_volume, units);
    add_cause(causes, _("stub"), a->stub_volume, part_volume, units);
    add_cause(causes, _("thin walls"), a->wall_volume, part_volume, units);
    add_cause(causes, _("fillets"), a->fillet_volume, part_volume, units);
    add_cause(causes, _("closed holes"), a->closed_volume, part_volume, units);
    g_autofree char *cope = quantity_format(QUANTITY_LENGTH, a->depth_cope, units);
    g_autofree char *drag = quantity_format(QUANTITY_LENGTH, a->depth_drag, units);
    if (causes->len == 0)
        return g_strdup_printf(_("Draws %s in the cope, %s in the drag"), cope, drag);
    return g_strdup_printf(_("For %s. Draws %s in the cope, %s in the drag"), causes->str, cope,
                           drag);
}

static GtkWidget *
add_line(GtkWidget *box, const char *text, const char *style)
{
    GtkWidget *label = gtk_label_new(text);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
    gtk_widget_add_css_class(label, style);
    gtk_box_append(GTK_BOX(box), label);
    return label;
}

static GtkWidget *
make_picture(void)
{
    GtkWidget *picture = gtk_picture_new();
    gtk_widget_set_size_request(picture, PULL_PICTURE_WIDTH, PULL_PICTURE_HEIGHT);
    gtk_widget_set_valign(picture, GTK_ALIGN_START);
    gtk_accessible_update_property(GTK_ACCESSIBLE(picture), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("The part as it lies in the mould"), -1);
    return picture;
}

GtkPicture *
fw_pull_row_picture(GtkWidget *row)
{
    return g_object_get_data(G_OBJECT(row), PICTURE);
}

void
fw_pull_row_set_chosen(GtkWidget *row, gboolean chosen)
{
    const char *kind = g_object_get_data(G_OBJECT(row), KIND);
    const char *facts = g_object_get_data(G_OBJECT(row), FACTS);
    g_autofree char *words = chosen ? g_strdup_printf(_("%s; the job's pull"), kind)
                                    : g_strdup(kind);
    g_autofree char *all = g_strjoin(". ", words, facts, NULL);
    gtk_label_set_text(g_object_get_data(G_OBJECT(row), KIND_LABEL), words);
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, all,
                                   -1);
}

GtkWidget *
fw_pull_row_new(const SearchAnswer *a, guint number, double part_volume, const UnitSet *units)
{
    g_autofree char *way = direction_words(a, units);
    g_autofree char *title = g_strdup_printf("%u.  %s", number, way);
    g_autofree char *all = quantity_format(QUANTITY_VOLUME, a->added, units);
    g_autofree char *added = g_strdup_printf(_("Adds %s of metal"), all);
    g_autofree char *cost = cost_words(a, part_volume, units);
    g_autofree char *reasons = search_words(a, part_volume, units);
    GtkWidget *row = gtk_list_box_row_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 1);
    GtkWidget *top = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6), *picture = make_picture();
    GtkWidget *side = gtk_box_new(GTK_ORIENTATION_VERTICAL, 1);
    gtk_widget_set_hexpand(side, TRUE);
    gtk_widget_set_valign(side, GTK_ALIGN_CENTER);
    g_object_set_data(G_OBJECT(row), PICTURE, picture);
    gtk_box_append(GTK_BOX(top), picture);
    gtk_box_append(GTK_BOX(top), side);
    gtk_box_append(GTK_BOX(box), top);
    add_line(side, title, "step-name");
    GtkWidget *kind = add_line(side, NULL, "hint");
    add_line(side, added, "step-figures");
    add_line(box, cost, "step-figures");
    add_line(box, reasons, "step-figures");
    gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), box);
    gtk_widget_add_css_class(row, "step-row");
    g_object_set_data(G_OBJECT(row), KIND_LABEL, kind);
    g_object_set_data(G_OBJECT(row), KIND, (gpointer)kind_words(a->kind));
    g_object_set_data_full(G_OBJECT(row), FACTS, g_strjoin(". ", added, cost, reasons, NULL),
                           g_free);
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
    fw_pull_row_set_chosen(row, FALSE);
    return row;
}
