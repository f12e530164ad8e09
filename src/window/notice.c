// SPDX-License-Identifier: GPL-3.0-or-later
// A bar with words, one or two remedies and a way to close it.
#include "window/notice.h"

#include <glib/gi18n.h>
#include <string.h>

#include "book/field.h"

struct _FwNotice {
    GtkBox parent;
    GtkWidget *bar;
    GtkLabel *words;
    GtkButton *remedy, *other;
    char *action, *other_action;
};

G_DEFINE_FINAL_TYPE(FwNotice, fw_notice, GTK_TYPE_BOX)

// The end of the place at the start of a message, or NULL when there is none. Places are ids, paths
// of fields and files; only files may have spaces in them.
static const char *
find_place_end(const char *message)
{
    const char *end = strstr(message, ": ");
    if (!end || end == message)
        return NULL;
    for (const char *book = end; book; book = strstr(book + 1, ": "))
        if (book - message > 9 && strncmp(book - 9, ".castbook", 9) == 0)
            return book;
    gsize length = (gsize)(end - message);
    gboolean plain = memchr(message, ' ', length) == NULL;
    gboolean word = g_ascii_isupper(*message) && !memchr(message, '.', length); // "Journal: ..."
    return (plain && !word) || g_path_is_absolute(message) ? end : NULL;
}

// How a place is called: a field by its label, a file by its name. Free.
static char *
name_place(const char *place)
{
    const Field *field = field_find(place);
    if (field)
        return g_strdup(_(field->label));
    if (!strchr(place, G_DIR_SEPARATOR) && !g_str_has_suffix(place, ".castbook"))
        return g_strdup_printf(_("“%s”"), place);
    g_autofree char *name = g_path_get_basename(place);
    return g_strdup_printf(_("The file “%s”"), name);
}

static void
append_capital(GString *sentences, const char *text)
{
    g_string_append_unichar(sentences, g_unichar_totitle(g_utf8_get_char(text)));
    g_string_append(sentences, g_utf8_next_char(text));
}

char *
fw_notice_sentences(const char *message)
{
    g_return_val_if_fail(message != NULL, NULL);
    if (!*message || !g_utf8_validate(message, -1, NULL))
        return g_strdup(message);
    g_autoptr(GString) sentences = g_string_new(NULL);
    const char *rest = message, *end;
    gboolean sentence = g_unichar_isupper(g_utf8_get_char(message));
    if (sentence && !find_place_end(message))
        return g_strdup(message);
    while (rest[0] && (end = find_place_end(rest)) && end[2]) {
        g_autofree char *place = g_strndup(rest, (gsize)(end - rest));
        g_autofree char *name = name_place(place);
        g_string_append_printf(sentences, "%s%s", sentences->len > 0 ? ", " : "", name);
        rest = end + 2;
    }
    const char *remedy = strstr(rest, "; ");
    g_autofree char *what = remedy ? g_strndup(rest, (gsize)(remedy - rest)) : g_strdup(rest);
    if (sentences->len > 0)
        g_string_append_printf(sentences, ": %s", what);
    else
        append_capital(sentences, what);
    if (remedy && remedy[2]) {
        g_string_append(sentences, ". ");
        append_capital(sentences, remedy + 2);
    }
    if (!strchr(".!?", sentences->str[sentences->len - 1]))
        g_string_append_c(sentences, '.');
    return g_string_free(g_steal_pointer(&sentences), FALSE);
}

void
fw_notice_hide(FwNotice *self)
{
    gtk_widget_set_visible(self->bar, FALSE);
}

void
fw_notice_show(FwNotice *self, const char *words, const char *button, const char *action)
{
    g_autofree char *sentences = fw_notice_sentences(words);
    gtk_label_set_text(self->words, sentences);
    gtk_widget_set_tooltip_text(GTK_WIDGET(self->words), words); // with whole paths
    gtk_widget_set_visible(GTK_WIDGET(self->remedy), button != NULL);
    gtk_widget_set_visible(GTK_WIDGET(self->other), FALSE);
    if (button)
        gtk_button_set_label(self->remedy, button);
    g_free(self->action);
    self->action = g_strdup(action);
    gtk_widget_set_visible(self->bar, TRUE);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, sentences,
                                   -1);
}

void
fw_notice_add_remedy(FwNotice *self, const char *button, const char *action)
{
    gtk_button_set_label(self->other, button);
    gtk_widget_set_visible(GTK_WIDGET(self->other), TRUE);
    g_free(self->other_action);
    self->other_action = g_strdup(action);
}

static void
on_remedy_clicked_cb(FwNotice *self, GtkButton *button)
{
    // A copy: what it does may show another notice.
    g_autofree char *action = g_strdup(button == self->other ? self->other_action : self->action);
    fw_notice_hide(self);
    if (action)
        gtk_widget_activate_action(GTK_WIDGET(self), action, NULL);
}

static void
on_close_clicked_cb(FwNotice *self)
{
    fw_notice_hide(self);
}

static void
fw_notice_finalize(GObject *object)
{
    g_free(FW_NOTICE(object)->action);
    g_free(FW_NOTICE(object)->other_action);
    G_OBJECT_CLASS(fw_notice_parent_class)->finalize(object);
}

static void
fw_notice_class_init(FwNoticeClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_notice_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/notice.ui");
    gtk_widget_class_bind_template_child(widget, FwNotice, bar);
    gtk_widget_class_bind_template_child(widget, FwNotice, words);
    gtk_widget_class_bind_template_child(widget, FwNotice, remedy);
    gtk_widget_class_bind_template_child(widget, FwNotice, other);
    gtk_widget_class_bind_template_callback(widget, on_remedy_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_close_clicked_cb);
}

static void
fw_notice_init(FwNotice *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}
