// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/choice.h"

static void
on_item_set_up_cb(GtkSignalListItemFactory *factory, GtkListItem *item, gpointer shortened)
{
    GtkWidget *label = gtk_label_new(NULL);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    if (shortened) {
        gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
        gtk_label_set_width_chars(GTK_LABEL(label), 8);
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
make_items(gboolean shortened)
{
    GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
    g_signal_connect(factory, "setup", G_CALLBACK(on_item_set_up_cb), GINT_TO_POINTER(shortened));
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

static void
on_chosen_cb(GtkDropDown *choice, GParamSpec *property, gpointer label)
{
    gpointer chosen = gtk_drop_down_get_selected_item(choice);
    GtkWidget *button = gtk_widget_get_first_child(GTK_WIDGET(choice));
    const char *text = chosen ? gtk_string_object_get_string(GTK_STRING_OBJECT(chosen)) : NULL;
    g_autofree char *words = g_strjoin(": ", (const char *)label, text, NULL);
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, words,
                                   -1);
}

void
fw_choice_set_label(GtkWidget *drop_down, const char *label)
{
    gtk_accessible_update_property(GTK_ACCESSIBLE(drop_down), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                   -1);
    g_signal_connect(drop_down, "notify::selected-item", G_CALLBACK(on_chosen_cb), (gpointer)label);
    on_chosen_cb(GTK_DROP_DOWN(drop_down), NULL, (gpointer)label);
}
