// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/choice.h"

static void
on_item_set_up_cb(GtkSignalListItemFactory *factory, GtkListItem *item, gpointer broken)
{
    GtkWidget *label = gtk_label_new(NULL);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    if (broken) {
        gtk_label_set_wrap(GTK_LABEL(label), TRUE);
        gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
        gtk_label_set_width_chars(GTK_LABEL(label), 8);
        gtk_label_set_max_width_chars(GTK_LABEL(label), 12);
    }
    gtk_list_item_set_child(item, label);
}

static void
on_item_bound_cb(GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
    GtkStringObject *text = GTK_STRING_OBJECT(gtk_list_item_get_item(item));
    gtk_label_set_text(GTK_LABEL(gtk_list_item_get_child(item)),
                       gtk_string_object_get_string(text));
}

static GtkListItemFactory *
make_items(gboolean broken)
{
    GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
    g_signal_connect(factory, "setup", G_CALLBACK(on_item_set_up_cb), GINT_TO_POINTER(broken));
    g_signal_connect(factory, "bind", G_CALLBACK(on_item_bound_cb), NULL);
    return factory;
}

GtkWidget *
fw_choice_new(void)
{
    GtkWidget *choice = gtk_drop_down_new(NULL, NULL);
    g_autoptr(GtkListItemFactory) shown = make_items(TRUE), listed = make_items(FALSE);
    gtk_drop_down_set_factory(GTK_DROP_DOWN(choice), shown);
    gtk_drop_down_set_list_factory(GTK_DROP_DOWN(choice), listed);
    return choice;
}
