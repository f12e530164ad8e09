// SPDX-License-Identifier: GPL-3.0-or-later
// Three entries and what is wrong with them.
#include "window/placing-values.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define FAR_OUT 10.0 // m

struct _FwPlacingValues {
    GtkPopover parent;
    GtkLabel *title, *trouble, *turn_label;
    GtkEditable *entries[3]; // x, y, turn
    char *shown[3];
    FwPlacing *placing;
    PlacementSpot spot;
};

G_DEFINE_FINAL_TYPE(FwPlacingValues, fw_placing_values, GTK_TYPE_POPOVER)

static QuantityKind
kind_of(guint i)
{
    return i < 2 ? QUANTITY_LENGTH : QUANTITY_ANGLE;
}

static void
mark(FwPlacingValues *self, guint i, const char *message)
{
    GtkWidget *entry = GTK_WIDGET(self->entries[i]);
    if (message)
        gtk_widget_add_css_class(entry, "error");
    else
        gtk_widget_remove_css_class(entry, "error");
    gtk_accessible_update_state(
        GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_STATE_INVALID,
        message ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
    if (message)
        gtk_label_set_text(self->trouble, message);
}

static gboolean
read_entry(FwPlacingValues *self, guint i, double *value)
{
    UnitSet units = fw_placing_units(self->placing);
    g_autoptr(GError) error = NULL;
    const char *text = gtk_editable_get_text(self->entries[i]);
    double typed;
    mark(self, i, NULL);
    if (g_strcmp0(text, self->shown[i]) == 0)
        return TRUE;
    if (!quantity_parse(kind_of(i), text, &units, &typed, &error)) {
        mark(self, i, error->message);
        return FALSE;
    }
    if (!(fabs(typed) <= (i < 2 ? FAR_OUT : 1000))) {
        mark(self, i, _("That is too far out; measure from the middle of the flask"));
        return FALSE;
    }
    *value = typed;
    return TRUE;
}

static void
on_entered_cb(FwPlacingValues *self)
{
    PlacementSpot spot = self->spot;
    double *const values[] = {&spot.x, &spot.y, &spot.turn};
    gboolean good = TRUE;
    for (int i = 2; i >= 0; i--) // the first that is wrong has the last word
        good = read_entry(self, (guint)i, values[i]) && good;
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), !good);
    if (!good) {
        gtk_popover_present(GTK_POPOVER(self)); // larger, with the reason in it
        return;
    }
    if (spot.x != self->spot.x || spot.y != self->spot.y || spot.turn != self->spot.turn)
        fw_placing_put(self->placing, &spot);
    gtk_popover_popdown(GTK_POPOVER(self));
}

// With more digits than figures have, since this is where it is put exactly.
static char *
write_value(guint i, double value, const UnitSet *units)
{
    const char *unit = i == 2 ? "deg" : units->inches ? "in" : "mm";
    double size = i == 2 ? G_PI / 180 : units->inches ? 0.0254 : 1e-3;
    g_autofree char *digits = g_strdup_printf(i < 2 && units->inches ? "%.4f" : "%.2f",
                                              value / size + 0.0);
    char *end = digits + strlen(digits);
    while (end[-1] == '0')
        *--end = '\0';
    if (!g_ascii_isdigit(end[-1]))
        *--end = '\0';
    return g_strdup_printf("%s %s", strcmp(digits, "-0") == 0 ? "0" : digits, unit);
}

static void
fill(FwPlacingValues *self)
{
    UnitSet units = fw_placing_units(self->placing);
    guint cavity = fw_placing_chosen(self->placing);
    fw_placing_get(self->placing, &self->spot);
    const double values[] = {self->spot.x, self->spot.y, self->spot.turn};
    for (guint i = 0; i < 3; i++) {
        self->shown[i] = write_value(i, values[i], &units);
        gtk_editable_set_text(self->entries[i], self->shown[i]);
    }
    g_autofree char *title = cavity ? g_strdup_printf(_("Cavity %u"), cavity)
                                    : g_strdup(_("Sprue"));
    gtk_label_set_text(self->title, title);
    gtk_widget_set_visible(GTK_WIDGET(self->turn_label), cavity > 0);
    gtk_widget_set_visible(GTK_WIDGET(self->entries[2]), cavity > 0);
}

static void
fw_placing_values_dispose(GObject *object)
{
    g_clear_object(&FW_PLACING_VALUES(object)->placing);
    G_OBJECT_CLASS(fw_placing_values_parent_class)->dispose(object);
}

static void
fw_placing_values_finalize(GObject *object)
{
    for (guint i = 0; i < 3; i++)
        g_free(FW_PLACING_VALUES(object)->shown[i]);
    G_OBJECT_CLASS(fw_placing_values_parent_class)->finalize(object);
}

static void
fw_placing_values_class_init(FwPlacingValuesClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_placing_values_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_placing_values_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(
        widget, "/org/flaskwright/Flaskwright/ui/placing-values.ui");
#define BIND(name, member)                                                                         \
    gtk_widget_class_bind_template_child_full(widget, name, FALSE,                                 \
                                              G_STRUCT_OFFSET(FwPlacingValues, member))
    BIND("title", title);
    BIND("trouble", trouble);
    BIND("turn_label", turn_label);
    BIND("x", entries[0]);
    BIND("y", entries[1]);
    BIND("turn", entries[2]);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_entered_cb);
}

static void
fw_placing_values_init(FwPlacingValues *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
fw_placing_values_new(FwPlacing *placing)
{
    FwPlacingValues *self = g_object_new(FW_TYPE_PLACING_VALUES, NULL);
    self->placing = g_object_ref(placing);
    fill(self);
    return GTK_WIDGET(self);
}
