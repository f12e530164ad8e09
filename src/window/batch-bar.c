// SPDX-License-Identifier: GPL-3.0-or-later
// A thin bar. Scrap is told from good by being open, not by its colour.
#include "window/batch-bar.h"

#include <glib/gi18n.h>

#define HEIGHT 8

struct _FwBatchBar {
    GtkWidget parent;
    double good, scrapped, wanted;
};

G_DEFINE_FINAL_TYPE(FwBatchBar, fw_batch_bar, GTK_TYPE_WIDGET)

void
fw_batch_bar_set(FwBatchBar *self, double good, double scrapped, double wanted, const char *words)
{
    self->good = good;
    self->scrapped = scrapped;
    self->wanted = wanted;
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("Progress of the batch"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   words, -1);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void
look_up_colors(FwBatchBar *self, GdkRGBA *ink, GdkRGBA *accent)
{
    G_GNUC_BEGIN_IGNORE_DEPRECATIONS
    GtkStyleContext *style = gtk_widget_get_style_context(GTK_WIDGET(self));
    gtk_style_context_get_color(style, ink);
    if (!gtk_style_context_lookup_color(style, "theme_selected_bg_color", accent))
        *accent = *ink;
    G_GNUC_END_IGNORE_DEPRECATIONS
}

static void
fw_batch_bar_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
    FwBatchBar *self = FW_BATCH_BAR(widget);
    float width = (float)gtk_widget_get_width(widget);
    double whole = MAX(1, MAX(self->wanted, self->good + self->scrapped));
    float good = (float)(self->good / whole) * width;
    float scrapped = (float)(self->scrapped / whole) * width;
    GdkRGBA ink, accent;
    look_up_colors(self, &ink, &accent);
    GdkRGBA trough = ink;
    trough.alpha *= 0.12f;
    gtk_snapshot_append_color(snapshot, &trough, &GRAPHENE_RECT_INIT(0, 0, width, HEIGHT));
    gtk_snapshot_append_color(snapshot, &accent, &GRAPHENE_RECT_INIT(0, 0, good, HEIGHT));
    if (scrapped < 1)
        return;
    GskRoundedRect outline;
    gsk_rounded_rect_init_from_rect(&outline, &GRAPHENE_RECT_INIT(good, 0, scrapped, HEIGHT), 0);
    gtk_snapshot_append_border(snapshot, &outline, (float[4]){1, 1, 1, 1},
                               (GdkRGBA[4]){ink, ink, ink, ink});
}

static void
fw_batch_bar_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                     int *natural, int *minimum_baseline, int *natural_baseline)
{
    *minimum = *natural = orientation == GTK_ORIENTATION_VERTICAL ? HEIGHT : 40;
}

static void
fw_batch_bar_class_init(FwBatchBarClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->snapshot = fw_batch_bar_snapshot;
    widget->measure = fw_batch_bar_measure;
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
fw_batch_bar_init(FwBatchBar *self)
{
}
