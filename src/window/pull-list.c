// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of the answers, the job's pull selected. Another pull changes the rows, other answers make
// them anew.
#include "window/pull-list.h"

#include <glib/gi18n.h>
#include <string.h>

#include "window/drawing.h"
#include "window/pull-pictures.h"
#include "window/pull-row.h"

#define SAME 0.003 // rad; two pulls this near are one

struct _FwPullList {
    GtkBox parent;
    GtkListBox *list;
    FwPullPictures *pictures;
    SearchResult *listed; // or NULL
    char *question;       // the listed answer
    SolidMesh *mesh;
    double draft;
    guint chosen; // row of the job's pull, or past the last
    UnitSet units;
    int theme; // the pictures were asked for in; -1: not yet
};

G_DEFINE_FINAL_TYPE(FwPullList, fw_pull_list, GTK_TYPE_BOX)

static guint chosen_signal;

// The row of the plan's pull; past the last if it is none of them.
static guint
find_chosen(const SearchResult *result, const Plan *plan)
{
    const PatternResult *pattern = plan ? plan_pattern(plan) : NULL;
    guint i = 0, n = result ? result->n : 0;
    while (pattern && i < n && direction_angle(result->answers[i].pull, pattern->pull) >= SAME)
        i++;
    return pattern ? i : n;
}

static void
show_pictures(FwPullList *self)
{
    if (!self->listed || !self->mesh || !gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    ThemeKind theme = fw_drawing_theme(GTK_WIDGET(self));
    if (self->theme == (int)theme)
        return;
    self->theme = (int)theme;
    for (guint i = 0; i < self->listed->n; i++) {
        GtkListBoxRow *row = gtk_list_box_get_row_at_index(self->list, (int)i);
        fw_pull_pictures_show(self->pictures, fw_pull_row_picture(GTK_WIDGET(row)), self->question,
                              self->mesh, self->draft, &self->listed->answers[i], theme);
    }
}

static void
set_chosen(FwPullList *self, guint chosen)
{
    self->chosen = chosen;
    for (guint i = 0; self->listed && i < self->listed->n; i++) {
        GtkListBoxRow *row = gtk_list_box_get_row_at_index(self->list, (int)i);
        fw_pull_row_set_chosen(GTK_WIDGET(row), i == chosen);
        if (i == chosen)
            gtk_list_box_select_row(self->list, row);
    }
    if (self->listed && chosen >= self->listed->n)
        gtk_list_box_unselect_all(self->list);
}

static void
add_rows(FwPullList *self)
{
    for (guint i = 0; self->listed && i < self->listed->n; i++)
        gtk_list_box_append(self->list, fw_pull_row_new(&self->listed->answers[i], i + 1,
                                                        self->listed->part_volume, &self->units));
}

static void
take_part(FwPullList *self, FwPullSearch *search, const Plan *plan)
{
    const SearchResult *result = fw_pull_search_result(search);
    g_free(self->listed);
    self->listed = result ? g_memdup2(result, sizeof *result) : NULL;
    g_free(self->question);
    self->question = g_strdup(fw_pull_search_question(search));
    solid_mesh_unref(self->mesh);
    self->mesh = plan && plan_part(plan) ? solid_mesh_ref(plan_part(plan)->mesh) : NULL;
    const Figure *draft = plan ? plan_figure(plan, "job.draft") : NULL;
    self->draft = draft ? draft->value : 0;
    self->theme = -1;
}

void
fw_pull_list_show(FwPullList *self, FwPullSearch *search, const Plan *plan)
{
    const SearchResult *result = fw_pull_search_result(search);
    if (result && (!plan || !plan_pattern(plan)))
        return; // on its way
    UnitSet units = {0};
    if (plan)
        units = plan_units(plan);
    guint chosen = find_chosen(result, plan);
    gboolean same = result && self->listed ? memcmp(result, self->listed, sizeof *result) == 0
                                           : !result && !self->listed;
    same = same && memcmp(&units, &self->units, sizeof units) == 0;
    if (same && chosen == self->chosen)
        return;
    if (!same) {
        gboolean focused = gtk_widget_get_focus_child(GTK_WIDGET(self->list)) != NULL;
        GtkWidget *row;
        while ((row = gtk_widget_get_first_child(GTK_WIDGET(self->list))))
            gtk_list_box_remove(self->list, row);
        fw_pull_pictures_stop(self->pictures);
        take_part(self, search, plan);
        self->units = units;
        add_rows(self);
        if (focused && (row = gtk_widget_get_first_child(GTK_WIDGET(self->list))))
            gtk_widget_grab_focus(row);
        show_pictures(self);
    }
    set_chosen(self, chosen);
}

void
fw_pull_list_stop(FwPullList *self)
{
    fw_pull_pictures_stop(self->pictures);
}

gboolean
fw_pull_list_is_settled(FwPullList *self)
{
    return fw_pull_pictures_is_settled(self->pictures);
}

static void
on_row_activated_cb(GtkListBox *list, GtkListBoxRow *row, FwPullList *self)
{
    g_signal_emit(self, chosen_signal, 0, (guint)gtk_list_box_row_get_index(row));
}

static void
fw_pull_list_map(GtkWidget *widget)
{
    GTK_WIDGET_CLASS(fw_pull_list_parent_class)->map(widget);
    show_pictures(FW_PULL_LIST(widget));
}

static void
fw_pull_list_css_changed(GtkWidget *widget, GtkCssStyleChange *change)
{
    GTK_WIDGET_CLASS(fw_pull_list_parent_class)->css_changed(widget, change);
    show_pictures(FW_PULL_LIST(widget));
}

static void
fw_pull_list_dispose(GObject *object)
{
    FwPullList *self = FW_PULL_LIST(object);
    if (self->pictures)
        fw_pull_pictures_stop(self->pictures);
    G_OBJECT_CLASS(fw_pull_list_parent_class)->dispose(object);
}

static void
fw_pull_list_finalize(GObject *object)
{
    FwPullList *self = FW_PULL_LIST(object);
    g_object_unref(self->pictures);
    g_free(self->listed);
    g_free(self->question);
    solid_mesh_unref(self->mesh);
    G_OBJECT_CLASS(fw_pull_list_parent_class)->finalize(object);
}

static void
fw_pull_list_class_init(FwPullListClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_pull_list_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_pull_list_finalize;
    GTK_WIDGET_CLASS(klass)->map = fw_pull_list_map;
    GTK_WIDGET_CLASS(klass)->css_changed = fw_pull_list_css_changed;
    chosen_signal = g_signal_new("chosen", FW_TYPE_PULL_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
}

static void
fw_pull_list_init(FwPullList *self)
{
    self->theme = -1;
    self->pictures = fw_pull_pictures_new();
    self->list = GTK_LIST_BOX(gtk_list_box_new());
    gtk_list_box_set_selection_mode(self->list, GTK_SELECTION_SINGLE);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _("Pulls, the best first"), -1);
    g_signal_connect(self->list, "row-activated", G_CALLBACK(on_row_activated_cb), self);
    GtkWidget *scrolled = gtk_scrolled_window_new();
    gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scrolled), GTK_POLICY_NEVER,
                                   GTK_POLICY_AUTOMATIC);
    gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scrolled), GTK_WIDGET(self->list));
    gtk_widget_set_vexpand(scrolled, TRUE);
    gtk_widget_set_hexpand(scrolled, TRUE);
    gtk_box_append(GTK_BOX(self), scrolled);
}

GtkWidget *
fw_pull_list_new(void)
{
    return g_object_new(FW_TYPE_PULL_LIST, NULL);
}
