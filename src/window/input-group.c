// SPDX-License-Identifier: GPL-3.0-or-later
// A heading and rows. Folded, it still says how many of its inputs somebody has set. While a search
// is on, what is found is shown unfolded, and how it was left comes back afterwards.
#include "window/input-group.h"

#include <glib/gi18n.h>

struct _FwInputGroup {
    GtkBox parent;
    GtkExpander *expander; // NULL: without a heading
    GtkLabel *count;
    GtkBox *rows; // captions and field rows, as they were added
    const FieldGroup *topic;
    gboolean open, searching;
};

G_DEFINE_FINAL_TYPE(FwInputGroup, fw_input_group, GTK_TYPE_BOX)

static GtkWidget *
first_row(FwInputGroup *self)
{
    return gtk_widget_get_first_child(GTK_WIDGET(self->rows));
}

static guint
count_set(FwInputGroup *self)
{
    guint n = 0;
    for (GtkWidget *row = first_row(self); row; row = gtk_widget_get_next_sibling(row))
        if (FW_IS_FIELD_ROW(row) && fw_field_row_is_set(FW_FIELD_ROW(row)))
            n++;
    return n;
}

// Unfolded, the rows show by themselves what is set.
static void
show_count(FwInputGroup *self)
{
    guint n = self->expander && !gtk_expander_get_expanded(self->expander) ? count_set(self) : 0;
    if (!self->expander)
        return;
    g_autofree char *words = g_strdup_printf(ngettext("%u set", "%u set", n), n);
    g_autofree char *name = g_strjoin(", ", _(self->topic->label), n ? words : NULL, NULL);
    gtk_label_set_text(self->count, n ? words : "");
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->expander), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   name, -1);
}

static void
on_expanded_cb(FwInputGroup *self)
{
    if (!self->searching)
        self->open = gtk_expander_get_expanded(self->expander);
    show_count(self);
}

const FieldGroup *
fw_input_group_get_topic(FwInputGroup *self)
{
    return self->topic;
}

gboolean
fw_input_group_is_open(FwInputGroup *self)
{
    return self->open;
}

void
fw_input_group_unfold(FwInputGroup *self)
{
    if (self->expander)
        gtk_expander_set_expanded(self->expander, TRUE);
}

void
fw_input_group_update(FwInputGroup *self)
{
    for (GtkWidget *row = first_row(self); row; row = gtk_widget_get_next_sibling(row))
        if (FW_IS_FIELD_ROW(row))
            fw_field_row_update(FW_FIELD_ROW(row));
    show_count(self);
}

// A caption is shown when a row after it is.
static guint
show_rows(FwInputGroup *self, const char *words)
{
    GtkWidget *caption = NULL;
    guint shown = 0;
    for (GtkWidget *row = first_row(self); row; row = gtk_widget_get_next_sibling(row)) {
        gboolean fits = FW_IS_FIELD_ROW(row) &&
                        field_is_called(fw_field_row_get_field(FW_FIELD_ROW(row)), words);
        gtk_widget_set_visible(row, fits);
        if (!FW_IS_FIELD_ROW(row))
            caption = row;
        else if (fits && caption)
            gtk_widget_set_visible(caption, TRUE);
        shown += fits;
    }
    return shown;
}

guint
fw_input_group_filter(FwInputGroup *self, const char *words)
{
    guint shown = show_rows(self, words);
    self->searching = TRUE;
    if (self->expander)
        gtk_expander_set_expanded(self->expander, *words || self->open);
    self->searching = *words != '\0';
    gtk_widget_set_visible(GTK_WIDGET(self), shown > 0);
    return shown;
}

FwFieldRow *
fw_input_group_find(FwInputGroup *self, const char *path)
{
    for (GtkWidget *row = first_row(self); row; row = gtk_widget_get_next_sibling(row))
        if (FW_IS_FIELD_ROW(row) &&
            g_str_equal(fw_field_row_get_field(FW_FIELD_ROW(row))->path, path))
            return FW_FIELD_ROW(row);
    return NULL;
}

void
fw_input_group_add_caption(FwInputGroup *self, const char *caption)
{
    GtkWidget *label = gtk_label_new(caption);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_widget_add_css_class(label, self->expander ? "caption" : "heading");
    gtk_box_append(self->rows, label);
}

void
fw_input_group_add_row(FwInputGroup *self, GtkWidget *field_row)
{
    gtk_box_append(self->rows, field_row);
    show_count(self);
}

// The heading: the topic at the left, what is set at the right.
static void
make_heading(FwInputGroup *self, gboolean open)
{
    GtkWidget *heading = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
    GtkWidget *title = gtk_label_new(_(self->topic->label)), *count = gtk_label_new(NULL);
    gtk_label_set_wrap(GTK_LABEL(title), TRUE);
    gtk_label_set_xalign(GTK_LABEL(title), 0);
    gtk_widget_set_hexpand(title, TRUE);
    gtk_widget_add_css_class(title, "heading");
    gtk_widget_add_css_class(count, "hint");
    gtk_box_append(GTK_BOX(heading), title);
    gtk_box_append(GTK_BOX(heading), count);
    self->count = GTK_LABEL(count);
    self->expander = GTK_EXPANDER(gtk_expander_new(NULL));
    gtk_expander_set_label_widget(self->expander, heading);
    gtk_expander_set_expanded(self->expander, open);
    gtk_expander_set_child(self->expander, GTK_WIDGET(self->rows));
    g_signal_connect_swapped(self->expander, "notify::expanded", G_CALLBACK(on_expanded_cb), self);
    gtk_box_append(GTK_BOX(self), GTK_WIDGET(self->expander));
}

static void
fw_input_group_class_init(FwInputGroupClass *klass)
{
}

static void
fw_input_group_init(FwInputGroup *self)
{
    gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
    gtk_widget_add_css_class(GTK_WIDGET(self), "input-group");
    self->rows = GTK_BOX(gtk_box_new(GTK_ORIENTATION_VERTICAL, 6));
}

GtkWidget *
fw_input_group_new(const FieldGroup *topic, gboolean open)
{
    FwInputGroup *self = g_object_new(FW_TYPE_INPUT_GROUP, NULL);
    self->topic = topic;
    self->open = open;
    if (topic)
        make_heading(self, open);
    else
        gtk_box_append(GTK_BOX(self), GTK_WIDGET(self->rows));
    return GTK_WIDGET(self);
}
