// SPDX-License-Identifier: GPL-3.0-or-later
// Every change is an edit of the book, undone like any other.
#include "window/result-row.h"

#include <glib/gi18n.h>
#include <math.h>

#include "book/log-members.h"

struct _FwResultRow {
    GtkBox parent;
    GtkLabel *flask, *casting, *planned;
    GtkToggleButton *good, *scrap;
    GtkDropDown *cause;
    GtkEntry *mass;
    Desk *desk;
    guint session, in_session, number; // of the casting
    gboolean judged, is_good;
    char *noted; // mass as the book has it
    gboolean setting;
};

G_DEFINE_FINAL_TYPE(FwResultRow, fw_result_row, GTK_TYPE_BOX)

static void
show_state(FwResultRow *self, const char *cause)
{
    guint chosen = 0;
    for (guint i = 0; cause && i < log_cause_count(); i++)
        if (g_str_equal(log_cause_at(i)->id, cause))
            chosen = i + 1;
    gboolean before = self->setting;
    self->setting = TRUE;
    gtk_toggle_button_set_active(self->good, self->judged && self->is_good);
    gtk_toggle_button_set_active(self->scrap, self->judged && !self->is_good);
    gtk_drop_down_set_selected(self->cause, chosen);
    gtk_widget_set_sensitive(GTK_WIDGET(self->cause), self->judged && !self->is_good);
    self->setting = before;
}

static void
apply(FwResultRow *self, Edit *edit, GError *error)
{
    g_autoptr(GError) failed = error;
    if (edit)
        desk_edit(self->desk, edit, &failed);
    edit_free(edit);
    gtk_widget_set_tooltip_text(GTK_WIDGET(self->mass), failed ? failed->message : NULL);
    if (failed)
        gtk_widget_add_css_class(GTK_WIDGET(self->mass), "error");
    else
        gtk_widget_remove_css_class(GTK_WIDGET(self->mass), "error");
    gtk_accessible_update_state(GTK_ACCESSIBLE(self->mass), GTK_ACCESSIBLE_STATE_INVALID,
                                failed ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
                                -1);
}

static void
judge(FwResultRow *self, const LiveVerdict *verdict)
{
    GError *error = NULL;
    Edit *edit = live_log_verdict(desk_book(self->desk), self->session, self->in_session,
                                  self->number, verdict, &error);
    apply(self, edit, error);
}

// Pressed again, a verdict is taken back.
static void
press(FwResultRow *self, gboolean good)
{
    GError *error = NULL;
    if (self->setting)
        return;
    if (self->judged && self->is_good == good)
        apply(self,
              live_log_unjudge(desk_book(self->desk), self->session, self->in_session, self->number,
                               &error),
              error);
    else
        judge(self, &(LiveVerdict){TRUE, good, NULL, NULL});
}

static void
on_good_clicked_cb(FwResultRow *self)
{
    press(self, TRUE);
}

static void
on_scrap_clicked_cb(FwResultRow *self)
{
    press(self, FALSE);
}

static void
on_cause_chosen_cb(FwResultRow *self)
{
    guint chosen = gtk_drop_down_get_selected(self->cause);
    if (self->setting || !self->desk || chosen == GTK_INVALID_LIST_POSITION || chosen == 0)
        return;
    judge(self, &(LiveVerdict){TRUE, FALSE, log_cause_at(chosen - 1)->id, NULL});
}

static void
enter_mass(FwResultRow *self)
{
    const char *text = gtk_editable_get_text(GTK_EDITABLE(self->mass));
    if (!self->setting && *text && g_strcmp0(text, self->noted) != 0)
        judge(self, &(LiveVerdict){FALSE, FALSE, NULL, text});
}

static void
on_mass_entered_cb(FwResultRow *self)
{
    enter_mass(self);
}

static void
on_mass_left_cb(GtkEventControllerFocus *focus, FwResultRow *self)
{
    enter_mass(self);
}

void
fw_result_row_set(FwResultRow *self, const LiveCasting *casting, double planned)
{
    UnitSet units = book_units(desk_book(self->desk));
    const char *job = casting->job ? book_job_name(desk_book(self->desk), casting->job) : NULL;
    g_autofree char *flask = casting->casting > 0
                                 ? g_strdup("")
                                 : g_strdup_printf(_("Flask %u: %s"), casting->flask + 1,
                                                   job ? job : _("no job"));
    g_autofree char *number = casting->guest
                                  ? g_strdup_printf(_("casting %u: %s"), casting->casting + 1,
                                                    job ? job : "?")
                                  : g_strdup_printf(_("casting %u"), casting->casting + 1);
    g_autofree char *mass = quantity_format(QUANTITY_MASS, planned, &units);
    g_autofree char *words = isfinite(planned) ? g_strdup_printf(_("planned %s"), mass)
                                               : g_strdup("");
    if (casting->why && *casting->why) {
        g_autofree char *plain = g_steal_pointer(&words);
        words = g_strjoin(*plain ? "; " : "", plain, casting->why, NULL);
    }
    g_autofree char *whole = g_strdup_printf(_("Flask %u, casting %u"), casting->flask + 1,
                                             casting->casting + 1);
    gboolean other = self->session != casting->session || self->in_session != casting->flask ||
                     self->number != casting->casting;
    self->session = casting->session;
    self->in_session = casting->flask;
    self->number = casting->casting;
    self->judged = casting->judged;
    self->is_good = casting->good;
    self->setting = TRUE;
    gtk_label_set_text(self->flask, flask);
    gtk_label_set_text(self->casting, number);
    gtk_label_set_text(self->planned, words);
    if (other || g_strcmp0(self->noted, casting->mass) != 0)
        gtk_editable_set_text(GTK_EDITABLE(self->mass), casting->mass ? casting->mass : "");
    g_free(self->noted);
    self->noted = g_strdup(casting->mass);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
    show_state(self, casting->cause);
    self->setting = FALSE;
}

static void
fw_result_row_dispose(GObject *object)
{
    FwResultRow *self = FW_RESULT_ROW(object);
    g_clear_object(&self->desk);
    g_clear_pointer(&self->noted, g_free);
    G_OBJECT_CLASS(fw_result_row_parent_class)->dispose(object);
}

static void
fw_result_row_class_init(FwResultRowClass *klass)
{
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    G_OBJECT_CLASS(klass)->dispose = fw_result_row_dispose;
    gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/result-row.ui");
    gtk_widget_class_bind_template_child(widget, FwResultRow, flask);
    gtk_widget_class_bind_template_child(widget, FwResultRow, casting);
    gtk_widget_class_bind_template_child(widget, FwResultRow, planned);
    gtk_widget_class_bind_template_child(widget, FwResultRow, good);
    gtk_widget_class_bind_template_child(widget, FwResultRow, scrap);
    gtk_widget_class_bind_template_child(widget, FwResultRow, cause);
    gtk_widget_class_bind_template_child(widget, FwResultRow, mass);
    gtk_widget_class_bind_template_callback(widget, on_good_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_scrap_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_cause_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_mass_entered_cb);
}

static void
fw_result_row_init(FwResultRow *self)
{
    self->setting = TRUE;
    self->session = G_MAXUINT;
    gtk_widget_init_template(GTK_WIDGET(self));
    g_autoptr(GtkStringList) causes = gtk_string_list_new(NULL);
    gtk_string_list_append(causes, _("no cause named"));
    for (guint i = 0; i < log_cause_count(); i++)
        gtk_string_list_append(causes, _(log_cause_at(i)->label));
    gtk_drop_down_set_model(self->cause, G_LIST_MODEL(causes));
    GtkEventController *focus = gtk_event_controller_focus_new();
    g_signal_connect(focus, "leave", G_CALLBACK(on_mass_left_cb), self);
    gtk_widget_add_controller(GTK_WIDGET(self->mass), focus);
    self->setting = FALSE;
}

GtkWidget *
fw_result_row_new(Desk *desk)
{
    FwResultRow *self = g_object_new(FW_TYPE_RESULT_ROW, NULL);
    self->desk = g_object_ref(desk);
    return GTK_WIDGET(self);
}
