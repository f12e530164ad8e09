// SPDX-License-Identifier: GPL-3.0-or-later
// The one place that asks GTK for the colour of a text.
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

void
fw_drawing_add_keys(GtkWidgetClass *widget, const char *move, const char *zoom, const char *fit)
{
    static const struct {
        guint key;
        int right, down;
    } moves[] = {
        {GDK_KEY_Left, -1, 0}, {GDK_KEY_Right, 1, 0}, {GDK_KEY_Up, 0, -1}, {GDK_KEY_Down, 0, 1}};
    static const guint in[] = {GDK_KEY_plus, GDK_KEY_equal, GDK_KEY_KP_Add};
    static const guint out[] = {GDK_KEY_minus, GDK_KEY_KP_Subtract};
    static const guint all[] = {GDK_KEY_0, GDK_KEY_KP_0};
    for (guint i = 0; i < G_N_ELEMENTS(moves); i++)
        gtk_widget_class_add_binding_action(widget, moves[i].key, 0, move, "(ii)", moves[i].right,
                                            moves[i].down);
    for (guint i = 0; i < G_N_ELEMENTS(in); i++)
        gtk_widget_class_add_binding_action(widget, in[i], 0, zoom, "d", 1.25);
    for (guint i = 0; i < G_N_ELEMENTS(out); i++)
        gtk_widget_class_add_binding_action(widget, out[i], 0, zoom, "d", 0.8);
    for (guint i = 0; i < G_N_ELEMENTS(all); i++)
        gtk_widget_class_add_binding_action(widget, all[i], 0, fit, NULL);
}
