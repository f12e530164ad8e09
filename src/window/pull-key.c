// SPDX-License-Identifier: GPL-3.0-or-later
// Three rows, painted as the part itself is; again when the theme turns light or dark.
#include "window/pull-key.h"

#include <glib/gi18n.h>
#include <math.h>

#include "sketch/shade.h"
#include "window/drawing.h"

#define ROWS 3
#define WIDTH 28
#define HEIGHT 14

struct _FwPullKey {
    GtkBox parent;
    GtkPicture *samples[ROWS];
    GtkLabel *labels[ROWS];
    int theme; // the samples were painted for; -1: none yet
};

G_DEFINE_FINAL_TYPE(FwPullKey, fw_pull_key, GTK_TYPE_BOX)

static void
paint_samples(FwPullKey *self)
{
    static const ShadeClass classes[ROWS] = {SHADE_DRAWS, SHADE_LOW, SHADE_HIDDEN};
    ThemeKind theme = fw_drawing_theme(GTK_WIDGET(self));
    if (self->theme == (int)theme)
        return;
    self->theme = (int)theme;
    for (int i = 0; i < ROWS; i++) {
        cairo_surface_t *surface = shade_sample(classes[i], theme, WIDTH, HEIGHT, 1);
        g_autoptr(GdkTexture) texture = fw_drawing_texture(surface);
        gtk_picture_set_paintable(self->samples[i], GDK_PAINTABLE(texture));
        cairo_surface_destroy(surface);
    }
}

static char *
area_words(const char *format, double area, double all, const UnitSet *units)
{
    g_autofree char *text = quantity_format(QUANTITY_AREA, area, units);
    double share = all > 0 ? round(1000 * area / all) / 1000 : 0;
    g_autofree char *part = quantity_format(QUANTITY_RATIO, share, units);
    return g_strdup_printf(format, text, part);
}

char *
fw_pull_key_set(FwPullKey *self, double all, double low, double hidden, const UnitSet *units)
{
    g_autofree char *a = area_words(_("draws: %s, %s"), fmax(0, all - hidden - low), all, units);
    g_autofree char *b = area_words(_("too little draft: %s, %s"), low, all, units);
    g_autofree char *c = area_words(_("hidden from the pull: %s, %s"), hidden, all, units);
    gtk_label_set_text(self->labels[0], a);
    gtk_label_set_text(self->labels[1], b);
    gtk_label_set_text(self->labels[2], c);
    paint_samples(self);
    return g_strjoin("; ", a, b, c, NULL);
}

static void
fw_pull_key_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
    GTK_WIDGET_CLASS(fw_pull_key_parent_class)->css_changed(widget, change);
    paint_samples(FW_PULL_KEY(widget));
}

static void
fw_pull_key_class_init(FwPullKeyClass *klass)
{
    GTK_WIDGET_CLASS(klass)->css_changed = fw_pull_key_css_changed;
}

static void
fw_pull_key_init(FwPullKey *self)
{
    self->theme = -1;
    gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
    gtk_box_set_spacing(GTK_BOX(self), 3);
    gtk_widget_add_css_class(GTK_WIDGET(self), "pull-key");
    for (int i = 0; i < ROWS; i++) {
        GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
        self->samples[i] = GTK_PICTURE(gtk_picture_new());
        self->labels[i] = GTK_LABEL(gtk_label_new(NULL));
        gtk_picture_set_can_shrink(self->samples[i], FALSE);
        gtk_widget_set_valign(GTK_WIDGET(self->samples[i]), GTK_ALIGN_CENTER);
        gtk_label_set_ellipsize(self->labels[i], PANGO_ELLIPSIZE_END);
        gtk_box_append(GTK_BOX(row), GTK_WIDGET(self->samples[i]));
        gtk_box_append(GTK_BOX(row), GTK_WIDGET(self->labels[i]));
        gtk_box_append(GTK_BOX(self), row);
    }
}
