// SPDX-License-Identifier: GPL-3.0-or-later
// The focusable stand-in for a thing in a drawing. It draws nothing itself: the view shows which
// one has the focus.
#include "window/scene-part.h"

struct _FwScenePart {
    GtkWidget parent;
    char *id, *figure;
    SolidPoint min, max;
};

G_DEFINE_FINAL_TYPE(FwScenePart, fw_scene_part, GTK_TYPE_WIDGET)

static guint chosen_signal, stepped_signal;

const char *
fw_scene_part_get_id(FwScenePart *self)
{
    return self->id;
}

const char *
fw_scene_part_get_figure(FwScenePart *self)
{
    return self->figure;
}

void
fw_scene_part_get_box(FwScenePart *self, SolidPoint *min, SolidPoint *max)
{
    *min = self->min;
    *max = self->max;
}

void
fw_scene_part_allocate(FwScenePart *self, const GdkRectangle *where)
{
    GtkWidget *widget = GTK_WIDGET(self);
    int width, height;
    gtk_widget_measure(widget, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
    gtk_widget_measure(widget, GTK_ORIENTATION_VERTICAL, -1, &height, NULL, NULL, NULL);
    GtkAllocation place = {where->x, where->y, MAX(where->width, width),
                           MAX(where->height, height)};
    gtk_widget_size_allocate(widget, &place, -1);
}

static void
on_choose_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    g_signal_emit(widget, chosen_signal, 0);
}

static void
on_step_cb(GtkWidget *widget, const char *name, GVariant *parameter)
{
    g_signal_emit(widget, stepped_signal, 0, g_variant_get_int32(parameter));
}

static void
add_step_keys(GtkWidgetClass *widget)
{
    static const struct {
        guint key;
        int by;
    } keys[] = {{GDK_KEY_Right, 1}, {GDK_KEY_Down, 1},        {GDK_KEY_Left, -1},
                {GDK_KEY_Up, -1},   {GDK_KEY_Home, G_MININT}, {GDK_KEY_End, G_MAXINT}};
    for (guint i = 0; i < G_N_ELEMENTS(keys); i++)
        gtk_widget_class_add_binding_action(widget, keys[i].key, 0, "part.step", "i", keys[i].by);
}

static void
fw_scene_part_finalize(GObject *object)
{
    FwScenePart *self = FW_SCENE_PART(object);
    g_free(self->id);
    g_free(self->figure);
    G_OBJECT_CLASS(fw_scene_part_parent_class)->finalize(object);
}

static void
fw_scene_part_class_init(FwScenePartClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_scene_part_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    chosen_signal = g_signal_new("chosen", FW_TYPE_SCENE_PART, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
    stepped_signal = g_signal_new("stepped", FW_TYPE_SCENE_PART, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 1, G_TYPE_INT);
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_BUTTON);
    gtk_widget_class_install_action(widget, "part.step", "i", on_step_cb);
    add_step_keys(widget);
    gtk_widget_class_install_action(widget, "part.choose", NULL, on_choose_cb);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Return, 0, "part.choose", NULL);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_KP_Enter, 0, "part.choose", NULL);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_space, 0, "part.choose", NULL);
}

static void
fw_scene_part_init(FwScenePart *self)
{
    gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
    gtk_widget_set_can_target(GTK_WIDGET(self), FALSE); // the mouse belongs to the view
}

GtkWidget *
fw_scene_part_new(const ScenePart *part)
{
    FwScenePart *self = g_object_new(FW_TYPE_SCENE_PART, NULL);
    self->id = g_strdup(part->id);
    fw_scene_part_update(self, part);
    return GTK_WIDGET(self);
}

void
fw_scene_part_update(FwScenePart *self, const ScenePart *part)
{
    g_free(self->figure);
    self->figure = g_strdup(part->figure);
    self->min = part->min;
    self->max = part->max;
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, part->label,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   part->description ? part->description : "", -1);
}
