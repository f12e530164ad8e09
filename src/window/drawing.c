// SPDX-License-Identifier: GPL-3.0-or-later
// Drawings as GTK wants them, and the one place that asks it for the colour of a text.
#include "window/drawing.h"

static GdkRGBA
find_ink(GtkWidget *widget)
{
    GdkRGBA ink;
    G_GNUC_BEGIN_IGNORE_DEPRECATIONS
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &ink);
    G_GNUC_END_IGNORE_DEPRECATIONS
    return ink;
}

ThemeKind
fw_drawing_theme(GtkWidget *widget)
{
    GdkRGBA ink = find_ink(widget);
    return ink.red + ink.green + ink.blue > 1.5 ? THEME_DARK : THEME_LIGHT;
}

void
fw_drawing_snapshot_words(GtkWidget *widget, GtkSnapshot *snapshot, const char *words, int margin)
{
    g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout(widget, words);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget), h;
    pango_layout_set_width(layout, MAX(width - 2 * margin, 50) * PANGO_SCALE);
    pango_layout_set_alignment(layout, PANGO_ALIGN_CENTER);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_get_pixel_size(layout, NULL, &h);
    GdkRGBA ink = find_ink(widget);
    gtk_snapshot_save(snapshot);
    gtk_snapshot_translate(snapshot, &GRAPHENE_POINT_INIT((float)margin, (float)(height - h) / 2));
    gtk_snapshot_append_layout(snapshot, layout, &ink);
    gtk_snapshot_restore(snapshot);
}

GdkTexture *
fw_drawing_texture(cairo_surface_t *surface)
{
    cairo_surface_flush(surface);
    int width = cairo_image_surface_get_width(surface);
    int height = cairo_image_surface_get_height(surface);
    gsize stride = (gsize)cairo_image_surface_get_stride(surface);
    g_autoptr(GBytes) bytes = g_bytes_new(cairo_image_surface_get_data(surface),
                                          stride * (gsize)height);
    return gdk_memory_texture_new(width, height, GDK_MEMORY_DEFAULT, bytes, stride);
}

GdkTexture *
fw_drawing_paint(const Scene *scene, const PaintView *view, const Theme *theme, int width,
                 int height, int scale)
{
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width * scale,
                                                          height * scale);
    cairo_t *cr = cairo_create(surface);
    cairo_scale(cr, scale, scale);
    paint_scene(scene, view, theme, 1, NULL, cr);
    cairo_destroy(cr);
    GdkTexture *texture = fw_drawing_texture(surface);
    cairo_surface_destroy(surface);
    return texture;
}

void
fw_drawing_set_tip(GtkWidget *widget, const char *label, const char *words)
{
    g_auto(GStrv) clauses = g_strsplit(words ? words : "", "; ", -1);
    g_autofree char *lines = g_strjoinv(";\n", clauses);
    g_autofree char *tip = label && *lines ? g_strdup_printf("%s\n%s", label, lines)
                                           : g_strdup(label);
    gtk_widget_set_tooltip_text(widget, tip);
}
