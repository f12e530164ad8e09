// SPDX-License-Identifier: GPL-3.0-or-later
// Raster and texture are both made off the main thread; it only shows them.
#include "window/shade-drawing.h"

#include "window/drawing.h"

static void
free_drawing(gpointer data)
{
    ShadeDrawing *drawing = data;
    shade_model_unref(drawing->model);
    progress_unref(drawing->progress);
    g_clear_object(&drawing->texture);
    g_free(drawing);
}

static void
draw_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    ShadeDrawing *d = data;
    gint64 start = g_get_monotonic_time();
    cairo_surface_t *surface = shade_render(d->model, &d->view, d->progress, NULL);
    if (surface)
        d->texture = fw_drawing_texture(surface);
    cairo_surface_destroy(surface);
    d->took = g_get_monotonic_time() - start;
    g_task_return_boolean(task, TRUE);
}

void
fw_shade_drawing_start(const ShadeModel *model, const ShadeView *view, guint number,
                       Progress *progress, gpointer source, GAsyncReadyCallback drawn)
{
    ShadeDrawing *d = g_new0(ShadeDrawing, 1);
    d->model = shade_model_ref(model);
    d->view = *view;
    d->number = number;
    d->progress = progress_ref(progress);
    g_autoptr(GTask) task = g_task_new(source, NULL, drawn, NULL);
    g_task_set_task_data(task, d, free_drawing);
    g_task_run_in_thread(task, draw_in_thread);
}

const ShadeDrawing *
fw_shade_drawing_done(GAsyncResult *result)
{
    return g_task_get_task_data(G_TASK(result));
}
