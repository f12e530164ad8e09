// SPDX-License-Identifier: GPL-3.0-or-later
// The main window. It holds no numbers of its own: it shows the desk's book and plan, and hands
// what a person does to the desk.
#include "window/window.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/figure-row.h"
#include "window/window-private.h"

G_DEFINE_FINAL_TYPE(FwWindow, fw_window, GTK_TYPE_APPLICATION_WINDOW)

Desk *
fw_window_get_desk(FwWindow *self)
{
    return self->desk;
}

static gboolean
on_say_over_cb(gpointer data)
{
    FwWindow *self = data;
    self->say_timer = 0;
    gtk_label_set_text(self->status, "");
    return G_SOURCE_REMOVE;
}

void
fw_window_say(FwWindow *self, const char *words)
{
    gtk_label_set_text(self->status, words);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->status),
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
    if (self->say_timer)
        g_source_remove(self->say_timer);
    self->say_timer = g_timeout_add_seconds(6, on_say_over_cb, self);
}

void
fw_window_choose_step(FwWindow *self, const char *step_id)
{
    fw_job_pane_choose_step(self->job_pane, step_id);
}

static void
update_title(FwWindow *self)
{
    const char *path = desk_path(self->desk);
    g_autofree char *name = path ? g_path_get_basename(path) : NULL;
    const Book *book = desk_book(self->desk);
    const char *shop = book ? node_text(node_get(book_root(book), "/shop/name")) : NULL;
    g_autofree char *title = g_strdup_printf("%s%s", desk_is_dirty(self->desk) ? "• " : "",
                                             !book  ? "Flaskwright"
                                             : name ? name
                                                    : _("New book"));
    gtk_label_set_text(self->title, title);
    gtk_label_set_text(self->subtitle, shop ? shop : "");
    gtk_widget_set_visible(GTK_WIDGET(self->subtitle), shop != NULL);
    g_autofree char *window_title = book ? g_strdup_printf("%s – Flaskwright", title)
                                         : g_strdup("Flaskwright");
    gtk_window_set_title(GTK_WINDOW(self), window_title);
}

void
fw_window_update_page(FwWindow *self)
{
    const Book *book = desk_book(self->desk);
    const char *page = !book                       ? "empty"
                       : self->own_page            ? self->own_page
                       : book_job_count(book) == 0 ? "no-job"
                                                   : "work";
    gtk_stack_set_visible_child_name(self->pages, page);
}

static void
on_book_changed_cb(FwWindow *self)
{
    update_title(self);
    fw_window_update_day(self);
    fw_window_update_page(self);
    fw_window_update_commands(self);
}

static void
on_plan_changed_cb(FwWindow *self)
{
    fw_window_update_views(self);
    fw_window_update_commands(self);
    if (desk_trouble(self->desk))
        fw_window_say(self, desk_trouble(self->desk));
}

static gboolean
on_task_tick_cb(gpointer data)
{
    FwWindow *self = data;
    gtk_progress_bar_set_fraction(self->task_bar, desk_fraction(self->desk));
    g_autofree char *words = g_strdup_printf(_("Computing: %s"), _(desk_busy_words(self->desk)));
    gtk_label_set_text(self->task_words, words);
    gtk_widget_set_visible(self->task, TRUE);
    return G_SOURCE_CONTINUE;
}

// The task row appears only for work that takes a while.
static void
on_busy_changed_cb(FwWindow *self)
{
    fw_window_update_commands(self);
    if (desk_is_busy(self->desk) && !self->task_timer)
        self->task_timer = g_timeout_add(250, on_task_tick_cb, self);
    if (!desk_is_busy(self->desk)) {
        g_clear_handle_id(&self->task_timer, g_source_remove);
        gtk_widget_set_visible(self->task, FALSE);
    }
}

static void
on_step_chosen_cb(FwJobPane *pane, const char *step_id, FwWindow *self)
{
    fw_inspector_show_step(self->inspector, step_id);
}

static void
on_figure_chosen_cb(FwInspector *inspector, const char *figure_id, GtkWidget *row, FwWindow *self)
{
    fw_window_explain(self, figure_id, row, NULL);
}

static void
on_part_chosen_cb(FwSketchView *view, const char *part_id, const char *figure_id, FwWindow *self)
{
    GdkRectangle where;
    if (figure_id && fw_sketch_view_locate(view, part_id, &where))
        fw_window_explain(self, figure_id, GTK_WIDGET(view), &where);
}

static void
on_casting_chosen_cb(FwCastingView *view, const char *part_id, const char *figure_id,
                     FwWindow *self)
{
    on_part_chosen_cb(fw_casting_view_sketch(view), part_id, figure_id, self);
}

static void
on_zoom_in_clicked_cb(FwWindow *self)
{
    fw_timeline_view_zoom(self->timeline, 1.25);
}

static void
on_zoom_out_clicked_cb(FwWindow *self)
{
    fw_timeline_view_zoom(self->timeline, 0.8);
}

static void
on_fit_clicked_cb(FwWindow *self)
{
    fw_timeline_view_fit(self->timeline);
}

gboolean
fw_window_save_picture(FwWindow *self, const char *path, GError **error)
{
    GtkWidget *widget = GTK_WIDGET(self);
    g_autoptr(GdkPaintable) paintable = gtk_widget_paintable_new(widget);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    g_autoptr(GtkSnapshot) snapshot = gtk_snapshot_new();
    gdk_paintable_snapshot(paintable, snapshot, width, height);
    g_autoptr(GskRenderNode) node = gtk_snapshot_to_node(snapshot);
    GskRenderer *renderer = gtk_native_get_renderer(GTK_NATIVE(self));
    if (!node || !renderer) {
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_FAILED, "the window is not drawn");
        return FALSE;
    }
    graphene_rect_t area = GRAPHENE_RECT_INIT(0, 0, width, height);
    g_autoptr(GdkTexture) texture = gsk_renderer_render_texture(renderer, node, &area);
    if (gdk_texture_save_to_png(texture, path))
        return TRUE;
    g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED, "%s: cannot be written", path);
    return FALSE;
}

// Nothing is asked when the window closes: what was not saved stays as a draft and is offered back.
static gboolean
fw_window_close_request(GtkWindow *window)
{
    FwWindow *self = FW_WINDOW(window);
    if (desk_is_dirty(self->desk))
        desk_keep_draft(self->desk);
    return GTK_WINDOW_CLASS(fw_window_parent_class)->close_request(window);
}

static void
fw_window_dispose(GObject *object)
{
    FwWindow *self = FW_WINDOW(object);
    g_clear_handle_id(&self->task_timer, g_source_remove);
    g_clear_handle_id(&self->say_timer, g_source_remove);
    if (self->explain) {
        gtk_widget_unparent(self->explain);
        self->explain = NULL;
    }
    g_clear_object(&self->chooser);
    fw_window_drop_writer(self);
    fw_window_stop_placing(self);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_window_parent_class)->dispose(object);
}

static void
fw_window_finalize(GObject *object)
{
    g_free(FW_WINDOW(object)->view);
    g_free(FW_WINDOW(object)->lost);
    g_free(FW_WINDOW(object)->offered);
    g_free(FW_WINDOW(object)->in_the_way);
    g_free(FW_WINDOW(object)->calendar_path);
    g_free(FW_WINDOW(object)->own_page);
    G_OBJECT_CLASS(fw_window_parent_class)->finalize(object);
}

static void
fw_window_class_init(FwWindowClass *klass)
{
    g_type_ensure(FW_TYPE_JOB_PANE);
    g_type_ensure(FW_TYPE_INSPECTOR);
    g_type_ensure(FW_TYPE_SKETCH_VIEW);
    g_type_ensure(FW_TYPE_TIMELINE_VIEW);
    g_type_ensure(FW_TYPE_NOTICE);
    g_type_ensure(FW_TYPE_CASTING_VIEW);
    g_type_ensure(FW_TYPE_PULL_VIEW);
    g_type_ensure(FW_TYPE_CALENDAR_VIEW);
    g_type_ensure(FW_TYPE_LIVE_PAGE);
    g_type_ensure(FW_TYPE_LIVE_START);
    g_type_ensure(FW_TYPE_RESULT_PAGE);
    G_OBJECT_CLASS(klass)->dispose = fw_window_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_window_finalize;
    GTK_WINDOW_CLASS(klass)->close_request = fw_window_close_request;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/window.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwWindow, name)
    BIND(pages);
    BIND(notice);
    BIND(job_pane);
    BIND(inspector);
    BIND(sketch);
    BIND(views);
    BIND(more_views);
    BIND(casting);
    BIND(pull);
    BIND(calendar);
    BIND(timeline);
    BIND(live);
    BIND(start);
    BIND(results);
    BIND(day);
    BIND(title);
    BIND(subtitle);
    BIND(status);
    BIND(task);
    BIND(task_words);
    BIND(task_bar);
    BIND(write_task);
    BIND(write_words);
    BIND(write_bar);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_step_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_figure_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_part_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_casting_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_zoom_in_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_zoom_out_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_fit_clicked_cb);
}

static void
fw_window_init(FwWindow *self)
{
    self->view = g_strdup("plan");
    self->cut_along = self->cut_across = NAN;
    fw_window_add_commands(self);
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
fw_window_new(GtkApplication *app, Desk *desk)
{
    FwWindow *self = g_object_new(FW_TYPE_WINDOW, "application", app, NULL);
    self->desk = g_object_ref(desk);
    fw_window_start_placing(self);
    fw_window_start_timeline(self);
    fw_job_pane_set_desk(self->job_pane, desk);
    fw_inspector_set_desk(self->inspector, desk);
    fw_casting_view_set_desk(self->casting, desk);
    fw_pull_view_set_desk(self->pull, desk);
    fw_window_start_calendar(self);
    fw_window_start_days(self);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_book_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(on_plan_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "busy-changed", G_CALLBACK(on_busy_changed_cb), self,
                            G_CONNECT_SWAPPED);
    on_book_changed_cb(self);
    on_plan_changed_cb(self);
    fw_window_choose_step(self, "mould");
    if (!desk_book(desk))
        fw_window_offer_lost(self);
    return GTK_WIDGET(self);
}
