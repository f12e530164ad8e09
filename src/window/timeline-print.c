// SPDX-License-Identifier: GPL-3.0-or-later
// The timeline on paper, by the same drawing code as on the screen and in files.
#include <glib/gi18n.h>
#include <math.h>

#include "sketch/paint.h"
#include "window/timeline-view-private.h"

#define POINTS 0.75 // to a device unit

static void
find_size(GtkPrintContext *context, double *width, double *height)
{
    *width = gtk_print_context_get_width(context) / POINTS;
    *height = gtk_print_context_get_height(context) / POINTS;
}

static void
on_begun_cb(GtkPrintOperation *operation, GtkPrintContext *context, FwTimelineView *self)
{
    double width, height;
    find_size(context, &width, &height);
    guint n = self->chart ? timeline_page_count(self->chart, width, height) : 1;
    gtk_print_operation_set_n_pages(operation, (int)MAX(1, n));
}

static void
on_page_cb(GtkPrintOperation *operation, GtkPrintContext *context, int page, FwTimelineView *self)
{
    double width, height;
    if (!self->chart)
        return;
    find_size(context, &width, &height);
    g_autoptr(Scene) scene = timeline_page(self->chart, width, height, (guint)page, self->pins);
    cairo_t *cr = gtk_print_context_get_cairo_context(context);
    PaintView view = {.scale_x = 1, .scale_y = 1, .width = width, .height = height, .y_down = TRUE};
    cairo_save(cr);
    cairo_scale(cr, POINTS, POINTS);
    paint_scene(scene, &view, theme_get(THEME_PAPER), 1, NULL, cr);
    cairo_restore(cr);
}

gboolean
fw_timeline_view_print(FwTimelineView *self, GtkWindow *parent, const char *to_path, GError **error)
{
    g_return_val_if_fail(self->chart != NULL, FALSE);
    g_autoptr(GtkPrintOperation) operation = gtk_print_operation_new();
    g_autoptr(GtkPageSetup) setup = gtk_page_setup_new();
    gtk_page_setup_set_orientation(setup, GTK_PAGE_ORIENTATION_LANDSCAPE);
    gtk_print_operation_set_default_page_setup(operation, setup);
    gtk_print_operation_set_unit(operation, GTK_UNIT_POINTS);
    gtk_print_operation_set_job_name(operation, _("Session timeline"));
    gtk_print_operation_set_embed_page_setup(operation, TRUE);
    if (to_path)
        gtk_print_operation_set_export_filename(operation, to_path);
    g_signal_connect_object(operation, "begin-print", G_CALLBACK(on_begun_cb), self, 0);
    g_signal_connect_object(operation, "draw-page", G_CALLBACK(on_page_cb), self, 0);
    GtkPrintOperationAction action = to_path ? GTK_PRINT_OPERATION_ACTION_EXPORT
                                             : GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG;
    return gtk_print_operation_run(operation, action, parent, error) !=
           GTK_PRINT_OPERATION_RESULT_ERROR;
}
