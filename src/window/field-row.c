// SPDX-License-Identifier: GPL-3.0-or-later
// A form row made from a Field. What is typed goes to the desk when Enter is pressed or the focus
// leaves, and only if it differs; what cannot be used stays, with the reason below it.
#include "window/field-row.h"

#include <glib/gi18n.h>
#include <string.h>

#include "figure/source.h"
#include "window/choice.h"
#include "window/field-choices.h"

// Half the form's width holds so many characters of a choice; "2026-12-19" is the longest of words
// that are sure to be short.
#define SHORT_CHOICE 13
#define SHORT_WORDS 10

struct _FwFieldRow {
    GtkBox parent;
    GtkLabel *label, *hint;
    GtkBox *line, *place;
    GtkWidget *entry;  // GtkEntry, or
    GtkWidget *choice; // GtkDropDown
    GPtrArray *ids;    // of the choice: what is stored; "" first: the default
    Desk *desk;
    const Field *field;
    char *shown; // what the entry showed when nobody had typed in it since
    gboolean updating;
};

G_DEFINE_FINAL_TYPE(FwFieldRow, fw_field_row, GTK_TYPE_BOX)

const Field *
fw_field_row_get_field(FwFieldRow *row)
{
    return row->field;
}

void
fw_field_row_focus(FwFieldRow *self)
{
    gtk_widget_grab_focus(self->entry ? self->entry : self->choice);
}

static void
show_trouble(FwFieldRow *self, const char *message)
{
    GtkWidget *widget = self->entry ? self->entry : self->choice;
    if (message) {
        gtk_widget_add_css_class(widget, "error");
        gtk_widget_add_css_class(GTK_WIDGET(self->hint), "error");
        gtk_label_set_text(self->hint, message);
        gtk_widget_set_visible(GTK_WIDGET(self->hint), TRUE);
    } else {
        gtk_widget_remove_css_class(widget, "error");
        gtk_widget_remove_css_class(GTK_WIDGET(self->hint), "error");
    }
    gtk_accessible_update_state(
        GTK_ACCESSIBLE(widget), GTK_ACCESSIBLE_STATE_INVALID,
        message ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static char *
typed_text(FwFieldRow *self)
{
    const Book *book = desk_book(self->desk);
    char *text = book ? edit_field_text(book, desk_job(self->desk), self->field) : NULL;
    return text ? text : g_strdup("");
}

gboolean
fw_field_row_is_set(FwFieldRow *self)
{
    g_autofree char *text = typed_text(self);
    return *text != '\0';
}

// Blank leaves it to the program: the help says how.
static gboolean
is_found(const Field *field)
{
    return field->help && strstr(field->help, "Blank: ");
}

// What is used while the field is blank, and where that comes from.
static void
show_stand_in(FwFieldRow *self, gboolean blank)
{
    const Plan *plan = desk_plan(self->desk);
    const Figure *given = plan ? plan_figure(plan, self->field->path) : NULL;
    g_autofree char *value = NULL, *hint = NULL;
    if (given && given->state != FIGURE_UNKNOWN) {
        UnitSet units = plan_units(plan);
        value = given->text ? g_strdup(given->text)
                            : quantity_format(given->spec->kind, given->value, &units);
        if (blank)
            hint = source_text(figure_source(given));
    } else if (blank && self->field->fallback && self->field->fallback[0] != '@') {
        value = g_strdup(self->field->fallback);
    } else if (blank && is_found(self->field)) {
        value = g_strdup(_("by the program"));
    }
    if (self->entry)
        gtk_entry_set_placeholder_text(GTK_ENTRY(self->entry), blank ? value : NULL);
    gtk_label_set_text(self->hint, hint ? hint : "");
    gtk_widget_set_visible(GTK_WIDGET(self->hint), hint != NULL && *hint != '\0');
}

static void
show_choice(FwFieldRow *self, const char *text)
{
    guint found = 0;
    for (guint i = 0; i < self->ids->len; i++)
        if (g_str_equal(g_ptr_array_index(self->ids, i), text))
            found = i;
    gtk_drop_down_set_selected(GTK_DROP_DOWN(self->choice), found);
}

static gboolean
is_being_typed_in(FwFieldRow *self)
{
    if (!self->entry)
        return FALSE;
    GtkStateFlags flags = gtk_widget_get_state_flags(self->entry);
    return (flags & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;
}

static void fill_choice(FwFieldRow *self);

void
fw_field_row_update(FwFieldRow *self)
{
    g_autofree char *text = typed_text(self);
    self->updating = TRUE;
    gboolean wrong = gtk_widget_has_css_class(GTK_WIDGET(self->hint), "error");
    if (self->choice) {
        if (self->field->type == FIELD_ENTRY)
            fill_choice(self);
        show_choice(self, text);
    } else {
        // Text somebody is typing is left alone; an entry that only has the focus follows an undo,
        // or leaving it would put back what was undone.
        const char *held = gtk_editable_get_text(GTK_EDITABLE(self->entry));
        gboolean typing = is_being_typed_in(self) && g_strcmp0(held, self->shown) != 0;
        if (!typing) {
            if (!g_str_equal(held, text))
                gtk_editable_set_text(GTK_EDITABLE(self->entry), text);
            g_free(self->shown);
            self->shown = g_strdup(text);
        }
    }
    if (!wrong || !is_being_typed_in(self)) {
        show_trouble(self, NULL);
        show_stand_in(self, *text == '\0');
    }
    self->updating = FALSE;
}

static void
commit_text(FwFieldRow *self, const char *text)
{
    if (self->updating || !desk_book(self->desk))
        return;
    g_autofree char *before = typed_text(self);
    g_autofree char *stripped = g_strstrip(g_strdup(text));
    if (g_str_equal(before, stripped)) {
        show_trouble(self, NULL);
        show_stand_in(self, *stripped == '\0');
        return;
    }
    g_autoptr(GError) error = NULL;
    g_autofree char *held = g_strdup(text);
    g_free(self->shown); // committed: from here on the entry follows the book
    self->shown = g_strdup(held);
    if (desk_edit_field(self->desk, self->field->path, stripped, &error))
        show_trouble(self, NULL);
    else {
        g_clear_pointer(&self->shown, g_free); // refused: it stays until it is mended
        show_trouble(self, error->message);
    }
}

static void
on_entry_activated_cb(FwFieldRow *self)
{
    commit_text(self, gtk_editable_get_text(GTK_EDITABLE(self->entry)));
}

static void
on_focus_left_cb(GtkEventControllerFocus *controller, FwFieldRow *self)
{
    on_entry_activated_cb(self);
}

static gboolean
on_key_pressed_cb(GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state,
                  FwFieldRow *self)
{
    if (key != GDK_KEY_Escape)
        return GDK_EVENT_PROPAGATE;
    g_autofree char *text = typed_text(self);
    gtk_editable_set_text(GTK_EDITABLE(self->entry), text);
    g_free(self->shown);
    self->shown = g_strdup(text);
    show_trouble(self, NULL);
    show_stand_in(self, *text == '\0');
    return GDK_EVENT_STOP;
}

static void
on_choice_changed_cb(FwFieldRow *self)
{
    guint selected = gtk_drop_down_get_selected(GTK_DROP_DOWN(self->choice));
    if (!self->updating && selected < self->ids->len)
        commit_text(self, g_ptr_array_index(self->ids, selected));
}

// What is long gets the whole width, below its label.
static void
set_wide(FwFieldRow *self, gboolean wide)
{
    gtk_box_set_homogeneous(self->line, !wide);
    gtk_box_set_spacing(self->line, wide ? 2 : 6);
    gtk_orientable_set_orientation(GTK_ORIENTABLE(self->line),
                                   wide ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
}

static void
fill_choice(FwFieldRow *self)
{
    g_autoptr(GtkStringList) names = fw_field_choices(self->desk, self->field, self->ids);
    glong longest = 0;
    for (guint i = 0; i < self->ids->len; i++)
        longest = MAX(longest, g_utf8_strlen(gtk_string_list_get_string(names, i), -1));
    set_wide(self, longest > SHORT_CHOICE);
    gtk_drop_down_set_model(GTK_DROP_DOWN(self->choice), G_LIST_MODEL(names));
}

static void
make_entry(FwFieldRow *self)
{
    self->entry = gtk_entry_new();
    gtk_widget_set_hexpand(self->entry, TRUE);
    gtk_editable_set_width_chars(GTK_EDITABLE(self->entry), 8);
    g_signal_connect_swapped(self->entry, "activate", G_CALLBACK(on_entry_activated_cb), self);
    GtkEventController *focus = gtk_event_controller_focus_new();
    g_signal_connect(focus, "leave", G_CALLBACK(on_focus_left_cb), self);
    gtk_widget_add_controller(self->entry, focus);
    GtkEventController *keys = gtk_event_controller_key_new();
    g_signal_connect(keys, "key-pressed", G_CALLBACK(on_key_pressed_cb), self);
    gtk_widget_add_controller(self->entry, keys);
    gtk_box_append(self->place, self->entry);
    gboolean words = self->field->type == FIELD_WORDS || self->field->type == FIELD_FILE;
    set_wide(self, words && !(self->field->max <= SHORT_WORDS));
}

static void
make_choice(FwFieldRow *self)
{
    self->choice = fw_choice_new();
    gtk_widget_set_hexpand(self->choice, TRUE);
    self->updating = TRUE;
    fill_choice(self);
    self->updating = FALSE;
    g_signal_connect_swapped(self->choice, "notify::selected", G_CALLBACK(on_choice_changed_cb),
                             self);
    gtk_box_append(self->place, self->choice);
}

static void
fw_field_row_dispose(GObject *object)
{
    FwFieldRow *self = FW_FIELD_ROW(object);
    self->updating = TRUE; // a focus that leaves while the row goes away commits nothing
    g_clear_object(&self->desk);
    g_clear_pointer(&self->ids, g_ptr_array_unref);
    G_OBJECT_CLASS(fw_field_row_parent_class)->dispose(object);
}

static void
fw_field_row_finalize(GObject *object)
{
    g_free(FW_FIELD_ROW(object)->shown);
    G_OBJECT_CLASS(fw_field_row_parent_class)->finalize(object);
}

static void
fw_field_row_class_init(FwFieldRowClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_field_row_finalize;
    G_OBJECT_CLASS(klass)->dispose = fw_field_row_dispose;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/field-row.ui");
    gtk_widget_class_bind_template_child(widget, FwFieldRow, label);
    gtk_widget_class_bind_template_child(widget, FwFieldRow, hint);
    gtk_widget_class_bind_template_child(widget, FwFieldRow, line);
    gtk_widget_class_bind_template_child(widget, FwFieldRow, place);
}

static void
fw_field_row_init(FwFieldRow *self)
{
    self->ids = g_ptr_array_new_with_free_func(g_free);
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
fw_field_row_new(Desk *desk, const Field *field)
{
    FwFieldRow *self = g_object_new(FW_TYPE_FIELD_ROW, NULL);
    self->desk = g_object_ref(desk);
    self->field = field;
    gtk_label_set_text(self->label, _(field->label));
    if (field->help && *field->help)
        gtk_widget_set_tooltip_text(GTK_WIDGET(self), _(field->help));
    gboolean choose = field->type == FIELD_ROW || field->type == FIELD_ENTRY ||
                      field->type == FIELD_CHOICE;
    if (choose)
        make_choice(self);
    else
        make_entry(self);
    GtkWidget *input = self->entry ? self->entry : self->choice;
    if (choose)
        fw_choice_set_label(input, _(field->label));
    gtk_accessible_update_property(GTK_ACCESSIBLE(input), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _(field->label), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                   field->help ? _(field->help) : "", -1);
    gtk_accessible_update_relation(GTK_ACCESSIBLE(input), GTK_ACCESSIBLE_RELATION_ERROR_MESSAGE,
                                   self->hint, -1);
    fw_field_row_update(self);
    return GTK_WIDGET(self);
}
