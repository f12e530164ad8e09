// SPDX-License-Identifier: GPL-3.0-or-later
// One picture is being made at a time; when it is done and the view has moved on, the next is of
// the view as it is then.
#include "window/shade-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/drawing.h"
#include "window/shade-drawing.h"
#include "window/view-commands.h"
#include "window/view-pointer.h"

#define STEP (G_PI / 12)
#define PER_UNIT 0.01 // rad for a unit of the screen dragged
#define MARGIN 36
#define REST 160    // ms without a move: it has come to rest
#define QUICK 12000 // us; a picture made in less needs no rough one before it

struct _FwShadeView {
    GtkWidget parent;
    ShadeModel *model;
    char *words, *facts;
    char *title; // or NULL: the part along its pull
    double turn, tilt, zoom;
    double drag_turn, drag_tilt; // when the drag began
    GdkTexture *texture;         // the last picture
    guint wanted, shown;         // numbers of the newest view and of the picture
    gboolean drawing;
    gboolean rough;           // the picture shown is one on the way
    guint resting;            // source that waits for the view to rest; 0: it does
    gint64 took;              // us, the last whole picture
    int width, height, scale; // the newest picture asked for is of this size
    guint32 marked;           // 1 + number of the area that stands out, or 0
    char *mark_words;
    Progress *progress;
    ThemeKind theme; // the texture was made for
};

G_DEFINE_FINAL_TYPE(FwShadeView, fw_shade_view, GTK_TYPE_WIDGET)

static void start_drawing(FwShadeView *self);

static void
on_drawn_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwShadeView *self = FW_SHADE_VIEW(source);
    const ShadeDrawing *d = fw_shade_drawing_done(result);
    self->drawing = FALSE;
    g_clear_pointer(&self->progress, progress_unref);
    // A picture of another part is not shown; one of another angle is, on the way to the newest.
    if (d->texture && d->model == self->model) {
        g_set_object(&self->texture, d->texture);
        self->theme = d->view.theme;
        self->rough = d->view.rough;
        if (!d->view.rough)
            self->took = d->took;
    }
    if (d->model == self->model)
        self->shown = d->number;
    gtk_widget_queue_draw(GTK_WIDGET(self));
    start_drawing(self);
}

static void
start_drawing(FwShadeView *self)
{
    int width = gtk_widget_get_width(GTK_WIDGET(self));
    int height = gtk_widget_get_height(GTK_WIDGET(self));
    if (self->drawing || !self->model || self->shown == self->wanted || width < 1 || height < 1)
        return;
    ShadeView view = {.width = width,
                      .height = height,
                      .pixels = gtk_widget_get_scale_factor(GTK_WIDGET(self)),
                      .turn = self->turn,
                      .tilt = self->tilt,
                      .zoom = self->zoom,
                      .rough = self->resting != 0 && self->took > QUICK,
                      .marked = self->marked,
                      .theme = fw_drawing_theme(GTK_WIDGET(self))};
    self->progress = progress_new();
    self->drawing = TRUE;
    fw_shade_drawing_start(self->model, &view, self->wanted, self->progress, self, on_drawn_cb);
}

// What is seen, in words: an image says nothing to who cannot see it.
static void
tell(FwShadeView *self)
{
    int turn = (int)lround(self->turn * 180 / G_PI) % 360;
    g_autofree char *where = g_strdup_printf(
        self->title ? _("Turned by %d°, seen from %d° above.")
                    : _("Turned by %d°, seen from %d° above the parting."),
        turn < 0 ? turn + 360 : turn, (int)lround(self->tilt * 180 / G_PI));
    const char *mark = self->mark_words ? self->mark_words : "";
    g_autofree char *words = self->model
                                 ? g_strdup_printf("%s %s%s%s", where, mark, *mark ? " " : "",
                                                   self->facts ? self->facts : "")
                                 : g_strdup(self->words ? self->words : "");
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   self->title ? self->title : _("The part along its pull"),
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
}

static void
look_again(FwShadeView *self)
{
    self->wanted++;
    tell(self);
    start_drawing(self);
}

static gboolean
on_rested_cb(gpointer data)
{
    FwShadeView *self = data;
    self->resting = 0;
    if (self->rough || self->drawing)
        look_again(self);
    return G_SOURCE_REMOVE;
}

// Looks again while it moves: what was begun at rest is given up, since the rough one is there
// sooner.
static void
look_moving(FwShadeView *self)
{
    if (self->progress && self->resting == 0 && self->took > QUICK)
        progress_stop(self->progress);
    g_clear_handle_id(&self->resting, g_source_remove);
    self->resting = g_timeout_add(REST, on_rested_cb, self);
    look_again(self);
}

void
fw_shade_view_turn(FwShadeView *self, double turn, double tilt)
{
    self->turn = remainder(self->turn + turn, 2 * G_PI);
    self->tilt = CLAMP(self->tilt + tilt, -G_PI / 2, G_PI / 2);
    look_moving(self);
}

void
fw_shade_view_look_from(FwShadeView *self, Vec3 eye)
{
    self->tilt = asin(CLAMP(eye.z, -1, 1));
    if (hypot(eye.x, eye.y) > 1e-6)
        self->turn = atan2(eye.x, -eye.y);
    look_again(self);
}

Vec3
fw_shade_view_eye(FwShadeView *self)
{
    double flat = cos(self->tilt);
    return vec3(sin(self->turn) * flat, -cos(self->turn) * flat, sin(self->tilt));
}

void
fw_shade_view_mark(FwShadeView *self, guint32 area, const char *words)
{
    self->marked = area;
    g_free(self->mark_words);
    self->mark_words = g_strdup(words);
    look_again(self);
}

guint32
fw_shade_view_get_marked(FwShadeView *self)
{
    return self->marked;
}

void
fw_shade_view_get_angles(FwShadeView *self, double *turn, double *tilt)
{
    *turn = self->turn;
    *tilt = self->tilt;
}

void
fw_shade_view_zoom(FwShadeView *self, double factor)
{
    self->zoom = CLAMP(self->zoom * factor, 1, 20);
    look_moving(self);
}

void
fw_shade_view_fit(FwShadeView *self)
{
    self->zoom = 1;
    look_again(self);
}

void
fw_shade_view_reset(FwShadeView *self)
{
    self->turn = SHADE_TURN;
    self->tilt = SHADE_TILT;
    fw_shade_view_fit(self);
}

void
fw_shade_view_set_title(FwShadeView *self, const char *title)
{
    g_free(self->title);
    self->title = g_strdup(title);
    tell(self);
}

gboolean
fw_shade_view_is_settled(FwShadeView *self)
{
    return !self->model || (!self->drawing && self->shown == self->wanted && !self->resting);
}

void
fw_shade_view_set_model(FwShadeView *self, const ShadeModel *model, const char *words,
                        const char *facts)
{
    if (self->progress)
        progress_stop(self->progress);
    ShadeModel *old = self->model;
    self->model = model ? shade_model_ref(model) : NULL;
    shade_model_unref(old);
    g_free(self->words);
    self->words = g_strdup(words);
    g_free(self->facts);
    self->facts = g_strdup(facts);
    g_clear_object(&self->texture);
    self->rough = FALSE;
    self->marked = 0;
    g_clear_pointer(&self->mark_words, g_free);
    look_again(self);
    gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void
fw_shade_view_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
    FwShadeView *self = FW_SHADE_VIEW(widget);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    if (width < 1 || height < 1)
        return;
    if (self->texture) {
        if (self->theme != fw_drawing_theme(widget) && self->shown == self->wanted)
            look_again(self);
        float unit = (self->rough ? 2.0f : 1.0f) / (float)gtk_widget_get_scale_factor(widget);
        gtk_snapshot_append_texture(
            snapshot, self->texture,
            &GRAPHENE_RECT_INIT(0, 0, unit * (float)gdk_texture_get_width(self->texture),
                                unit * (float)gdk_texture_get_height(self->texture)));
    } else if (!self->model && self->words) {
        fw_drawing_snapshot_words(widget, snapshot, self->words, MARGIN);
    }
}

static void
fw_shade_view_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
    FwShadeView *self = FW_SHADE_VIEW(widget);
    int scale = gtk_widget_get_scale_factor(widget);
    if (width == self->width && height == self->height && scale == self->scale)
        return;
    self->width = width;
    self->height = height;
    self->scale = scale;
    look_again(self);
}

static void
fw_shade_view_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                      int *natural, int *minimum_baseline, int *natural_baseline)
{
    *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : 120;
    *natural = *minimum; // whoever has room gives it more
}

static void
on_drag_begun_cb(GtkGestureDrag *gesture, double x, double y, FwShadeView *self)
{
    gtk_widget_grab_focus(GTK_WIDGET(self));
    self->drag_turn = self->turn;
    self->drag_tilt = self->tilt;
}

// The part follows the pointer: what lies in front is dragged along.
static void
on_drag_moved_cb(GtkGestureDrag *gesture, double dx, double dy, FwShadeView *self)
{
    self->turn = self->drag_turn;
    self->tilt = self->drag_tilt;
    fw_shade_view_turn(self, -dx * PER_UNIT, dy * PER_UNIT);
}

static gboolean
on_scrolled_cb(GtkEventControllerScroll *controller, double dx, double dy, FwShadeView *self)
{
    fw_shade_view_zoom(self, fw_view_pointer_factor(dy));
    return GDK_EVENT_STOP;
}

static void
on_turn_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    int right, down;
    g_variant_get(parameter, "(ii)", &right, &down);
    fw_shade_view_turn(FW_SHADE_VIEW(widget), -right * STEP, -down * STEP);
}

static void
on_zoom_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    fw_shade_view_zoom(FW_SHADE_VIEW(widget), g_variant_get_double(parameter));
}

static void
on_fit_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    fw_shade_view_fit(FW_SHADE_VIEW(widget));
}

static void
on_reset_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    fw_shade_view_reset(FW_SHADE_VIEW(widget));
}

static void
fw_shade_view_dispose(GObject *object)
{
    FwShadeView *self = FW_SHADE_VIEW(object);
    if (self->progress)
        progress_stop(self->progress);
    g_clear_handle_id(&self->resting, g_source_remove);
    g_clear_object(&self->texture);
    g_clear_pointer(&self->model, shade_model_unref);
    G_OBJECT_CLASS(fw_shade_view_parent_class)->dispose(object);
}

static void
fw_shade_view_finalize(GObject *object)
{
    FwShadeView *self = FW_SHADE_VIEW(object);
    progress_unref(self->progress);
    g_free(self->title);
    g_free(self->words);
    g_free(self->facts);
    g_free(self->mark_words);
    G_OBJECT_CLASS(fw_shade_view_parent_class)->finalize(object);
}

static void
fw_shade_view_class_init(FwShadeViewClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_shade_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_shade_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->snapshot = fw_shade_view_snapshot;
    widget->size_allocate = fw_shade_view_size_allocate;
    widget->measure = fw_shade_view_measure;
    static const FwViewCommands commands = {"shade.turn", "shade.zoom", "shade.fit",
                                            on_turn_cb,   on_zoom_cb,   on_fit_cb};
    fw_view_commands_install(widget, GTK_ACCESSIBLE_ROLE_IMG, &commands);
    gtk_widget_class_install_action(widget, "shade.reset", NULL, on_reset_cb);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Home, 0, "shade.reset", NULL);
}

static void
fw_shade_view_init(FwShadeView *self)
{
    self->turn = SHADE_TURN;
    self->tilt = SHADE_TILT;
    self->zoom = 1;
    static const FwViewPointer pointer = {.scrolled = G_CALLBACK(on_scrolled_cb),
                                          .axes = GTK_EVENT_CONTROLLER_SCROLL_VERTICAL,
                                          .drag_begun = G_CALLBACK(on_drag_begun_cb),
                                          .drag_moved = G_CALLBACK(on_drag_moved_cb),
                                          .button = GDK_BUTTON_PRIMARY};
    fw_view_commands_start(GTK_WIDGET(self));
    fw_view_pointer_watch(GTK_WIDGET(self), &pointer);
}

GtkWidget *
fw_shade_view_new(void)
{
    return g_object_new(FW_TYPE_SHADE_VIEW, NULL);
}
