// SPDX-License-Identifier: GPL-3.0-or-later
// Built anew when another step is chosen; afterwards only the rows' contents change. Which groups a
// person has folded or unfolded is remembered for as long as the window is open.
#include "window/input-form.h"

#include <glib/gi18n.h>

#include "book/field-group.h"
#include "window/input-group.h"
#include "window/steps.h"

struct _FwInputForm {
    GtkBox parent;
    GtkScrolledWindow *scroller;
    GtkBox *groups;
    GtkLabel *nothing;
    Desk *desk;
    const char *step;
    char *words;
    GHashTable *turned; // ids of groups that are not as they are at first
    GtkWidget *aim;     // the row to scroll to once it has its place
    guint aim_tick, aim_frames;
};

G_DEFINE_FINAL_TYPE(FwInputForm, fw_input_form, GTK_TYPE_BOX)

// Frames until a row that was just shown has its place.
#define FRAMES_TO_PLACE 2

static const char *const sections[] = {"job",  "flask",  "sand",  "furnace", "crucible",
                                       "shop", "people", "rates", "machine", "printer"};

// What the rows of a section concern: what is not of the job is changed for every job.
static const char *
section_label(const char *section)
{
    static const struct {
        const char *section, *label;
    } labels[] = {{"job", N_("This job")},
                  {"flask", N_("Its flask, for all jobs")},
                  {"furnace", N_("Its furnace, for all jobs")},
                  {"crucible", N_("Its crucible, for all jobs")},
                  {"sand", N_("Sand, for all jobs")},
                  {"people", N_("People, for all jobs")},
                  {"shop", N_("Shop, for all jobs")},
                  {"rates", N_("Rates, for all jobs")},
                  {"machine", N_("Machine, for all jobs")},
                  {"printer", N_("Printer, for all jobs")}};
    for (guint i = 0; i < G_N_ELEMENTS(labels); i++)
        if (g_str_equal(labels[i].section, section))
            return _(labels[i].label);
    return section;
}

static GtkWidget *
first_group(FwInputForm *self)
{
    return gtk_widget_get_first_child(GTK_WIDGET(self->groups));
}

// The rows of one section that belong to the group (NULL: to a form without groups).
static void
add_section(FwInputForm *self, FwInputGroup *group, const char *group_id, const char *section)
{
    gboolean any = FALSE;
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        g_autofree char *own = field_section(field->path);
        if (!g_str_equal(field->step, self->step) || !g_str_equal(own, section) ||
            g_strcmp0(field->group, group_id) != 0)
            continue;
        if (!any)
            fw_input_group_add_caption(group, section_label(section));
        any = TRUE;
        fw_input_group_add_row(group, fw_field_row_new(self->desk, field));
    }
}

static void
add_group(FwInputForm *self, const FieldGroup *topic)
{
    const char *id = topic ? topic->id : NULL;
    gboolean open = topic && topic->open != g_hash_table_contains(self->turned, id);
    GtkWidget *group = fw_input_group_new(topic, open);
    for (guint i = 0; i < G_N_ELEMENTS(sections); i++)
        add_section(self, FW_INPUT_GROUP(group), id, sections[i]);
    gtk_box_append(self->groups, group);
}

static gboolean
step_has_group(const char *step, const char *group_id)
{
    for (guint i = 0; i < field_count(); i++)
        if (g_str_equal(field_at(i)->step, step) && g_strcmp0(field_at(i)->group, group_id) == 0)
            return TRUE;
    return FALSE;
}

// How the groups shown were left.
static void
remember_groups(FwInputForm *self)
{
    for (GtkWidget *group = first_group(self); group; group = gtk_widget_get_next_sibling(group)) {
        const FieldGroup *topic = fw_input_group_get_topic(FW_INPUT_GROUP(group));
        if (!topic)
            continue;
        if (fw_input_group_is_open(FW_INPUT_GROUP(group)) != topic->open)
            g_hash_table_add(self->turned, (gpointer)topic->id);
        else
            g_hash_table_remove(self->turned, topic->id);
    }
}

// Where else something is called so, when it is not here.
static char *
other_steps(FwInputForm *self)
{
    g_autoptr(GString) names = g_string_new(NULL);
    for (guint s = 0; s < steps_count(); s++) {
        gboolean found = FALSE;
        for (guint i = 0; i < field_count(); i++)
            found = found || (g_str_equal(field_at(i)->step, steps_at(s)->id) &&
                              field_is_called(field_at(i), self->words));
        if (found)
            g_string_append_printf(names, "%s%s", names->len ? ", " : "", _(steps_at(s)->label));
    }
    return names->len ? g_strdup_printf(_("Nothing here is called so. These steps have it: %s."),
                                        names->str)
                      : g_strdup(_("No input is called so."));
}

static void
apply_filter(FwInputForm *self)
{
    guint shown = 0;
    for (GtkWidget *group = first_group(self); group; group = gtk_widget_get_next_sibling(group))
        shown += fw_input_group_filter(FW_INPUT_GROUP(group), self->words);
    g_autofree char *words = shown ? NULL : other_steps(self);
    gtk_label_set_text(self->nothing, words ? words : "");
    gtk_widget_set_visible(GTK_WIDGET(self->nothing), !shown);
}

void
fw_input_form_filter(FwInputForm *self, const char *words)
{
    g_free(self->words);
    self->words = g_strstrip(g_strdup(words));
    apply_filter(self);
}

static void
drop_aim(FwInputForm *self)
{
    if (self->aim_tick)
        gtk_widget_remove_tick_callback(GTK_WIDGET(self), self->aim_tick);
    self->aim_tick = 0;
    self->aim = NULL;
}

void
fw_input_form_show_step(FwInputForm *self, const char *step_id)
{
    drop_aim(self);
    remember_groups(self);
    GtkWidget *group;
    while ((group = first_group(self)))
        gtk_box_remove(self->groups, group);
    self->step = step_id;
    if (step_has_group(step_id, NULL))
        add_group(self, NULL);
    for (guint i = 0; i < field_group_count(); i++)
        if (step_has_group(step_id, field_group_at(i)->id))
            add_group(self, field_group_at(i));
    apply_filter(self);
    gtk_adjustment_set_value(gtk_scrolled_window_get_vadjustment(self->scroller), 0);
}

void
fw_input_form_update(FwInputForm *self)
{
    for (GtkWidget *group = first_group(self); group; group = gtk_widget_get_next_sibling(group))
        fw_input_group_update(FW_INPUT_GROUP(group));
}

static gboolean
on_aim_tick_cb(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
    FwInputForm *self = FW_INPUT_FORM(widget);
    graphene_rect_t place;
    if (self->aim_frames++ < FRAMES_TO_PLACE)
        return G_SOURCE_CONTINUE;
    if (gtk_widget_compute_bounds(self->aim, GTK_WIDGET(self->groups), &place))
        gtk_adjustment_clamp_page(gtk_scrolled_window_get_vadjustment(self->scroller),
                                  place.origin.y, place.origin.y + place.size.height);
    self->aim_tick = 0;
    self->aim = NULL;
    return G_SOURCE_REMOVE;
}

void
fw_input_form_focus(FwInputForm *self, const char *path)
{
    for (GtkWidget *group = first_group(self); group; group = gtk_widget_get_next_sibling(group)) {
        FwFieldRow *row = fw_input_group_find(FW_INPUT_GROUP(group), path);
        if (!row)
            continue;
        fw_input_group_unfold(FW_INPUT_GROUP(group));
        fw_field_row_focus(row);
        drop_aim(self);
        self->aim = GTK_WIDGET(row);
        self->aim_frames = 0;
        self->aim_tick = gtk_widget_add_tick_callback(GTK_WIDGET(self), on_aim_tick_cb, NULL, NULL);
        return;
    }
}

void
fw_input_form_set_desk(FwInputForm *self, Desk *desk)
{
    self->desk = g_object_ref(desk);
}

static void
fw_input_form_dispose(GObject *object)
{
    drop_aim(FW_INPUT_FORM(object));
    g_clear_object(&FW_INPUT_FORM(object)->desk);
    G_OBJECT_CLASS(fw_input_form_parent_class)->dispose(object);
}

static void
fw_input_form_finalize(GObject *object)
{
    g_hash_table_unref(FW_INPUT_FORM(object)->turned);
    g_free(FW_INPUT_FORM(object)->words);
    G_OBJECT_CLASS(fw_input_form_parent_class)->finalize(object);
}

static void
fw_input_form_class_init(FwInputFormClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_input_form_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_input_form_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/input-form.ui");
    gtk_widget_class_bind_template_child(widget, FwInputForm, scroller);
    gtk_widget_class_bind_template_child(widget, FwInputForm, groups);
    gtk_widget_class_bind_template_child(widget, FwInputForm, nothing);
}

static void
fw_input_form_init(FwInputForm *self)
{
    self->turned = g_hash_table_new(g_str_hash, g_str_equal);
    self->words = g_strdup("");
    gtk_widget_init_template(GTK_WIDGET(self));
}
