// SPDX-License-Identifier: GPL-3.0-or-later
// The list is made anew when the pieces changed, and the piece of the same name stays chosen. What
// is shaded is made ready in a thread, and only while the page can be seen.
#include "window/pieces-page.h"

#include <glib/gi18n.h>
#include <string.h>

#include "window/figure-row.h"
#include "window/piece-row.h"
#include "window/shade-view.h"

struct _FwPiecesPage {
    GtkBox parent;
    GtkWidget *body;
    GtkLabel *none, *about, *notes;
    FwShadeView *shade;
    GtkListBox *list;
    GtkBox *sums;
    BoardResult *boards; // listed, or NULL
    UnitSet units;
    guint chosen;         // piece
    guint wanted, shown;  // numbers of the newest model asked for and of the one shown
    gconstpointer shaded; // mesh of the newest model, compared only
    gboolean filling, gone;
};

G_DEFINE_FINAL_TYPE(FwPiecesPage, fw_pieces_page, GTK_TYPE_BOX)

static guint figure_chosen_signal;

static void
make_model_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    g_task_return_pointer(task, shade_model_new(data, NULL, NAN),
                          (GDestroyNotify)shade_model_unref);
}

static void
on_model_made_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPiecesPage *self = FW_PIECES_PAGE(source);
    g_autoptr(ShadeModel) model = g_task_propagate_pointer(G_TASK(result), NULL);
    if (GPOINTER_TO_UINT(data) != self->wanted || self->gone)
        return;
    self->shown = self->wanted;
    const BoardPiece *piece = &self->boards->pieces[self->chosen];
    g_autofree char *title = g_strdup_printf(_("Picture of %s as it is printed"), piece->name);
    fw_shade_view_set_title(self->shade, title);
    fw_shade_view_set_model(self->shade, model, NULL, NULL);
}

static void
show_picture(FwPiecesPage *self)
{
    if (!self->boards || !gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    SolidMesh *mesh = self->boards->pieces[self->chosen].mesh;
    if (mesh == self->shaded)
        return;
    self->shaded = mesh;
    self->wanted++;
    g_autoptr(GTask)
                  task = g_task_new(self, NULL, on_model_made_cb, GUINT_TO_POINTER(self->wanted));
    g_task_set_task_data(task, solid_mesh_ref(mesh), (GDestroyNotify)solid_mesh_unref);
    g_task_run_in_thread(task, make_model_in_thread);
}

static void
choose_piece(FwPiecesPage *self, guint number)
{
    self->chosen = number;
    g_autofree char *cut = board_piece_cut(&self->boards->pieces[number]);
    g_autofree char *words = g_strdup_printf("%s%s%s", self->boards->pieces[number].name,
                                             cut ? ". " : "", cut ? cut : "");
    gtk_label_set_text(self->about, words);
    show_picture(self);
}

static void
on_row_selected_cb(GtkListBox *list, GtkListBoxRow *row, FwPiecesPage *self)
{
    if (row && !self->filling && self->boards)
        choose_piece(self, (guint)gtk_list_box_row_get_index(row));
}

static void
on_sum_clicked_cb(FwFigureRow *row, FwPiecesPage *self)
{
    g_signal_emit(self, figure_chosen_signal, 0, fw_figure_row_get_id(row), row);
}

static void
update_sums(FwPiecesPage *self, const Plan *plan)
{
    gboolean stale = FALSE;
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        stale = stale || (info.stale && g_str_equal(info.id, "board"));
    }
    for (GtkWidget *row = gtk_widget_get_first_child(GTK_WIDGET(self->sums)); row;
         row = gtk_widget_get_next_sibling(row))
        fw_figure_row_update(FW_FIGURE_ROW(row), plan, stale);
    if (stale)
        gtk_widget_add_css_class(GTK_WIDGET(self->list), "stale");
    else
        gtk_widget_remove_css_class(GTK_WIDGET(self->list), "stale");
}

static guint
find_piece(const BoardResult *boards, const char *name)
{
    for (guint i = 0; i < boards->n_pieces; i++)
        if (g_strcmp0(boards->pieces[i].name, name) == 0)
            return i;
    return 0;
}

static void
fill_list(FwPiecesPage *self)
{
    gboolean focused = gtk_widget_get_focus_child(GTK_WIDGET(self->list)) != NULL;
    GtkWidget *row;
    self->filling = TRUE;
    while ((row = gtk_widget_get_first_child(GTK_WIDGET(self->list))))
        gtk_list_box_remove(self->list, row);
    for (guint i = 0; i < self->boards->n_pieces; i++)
        gtk_list_box_append(self->list, fw_piece_row_new(&self->boards->pieces[i], &self->units));
    row = GTK_WIDGET(gtk_list_box_get_row_at_index(self->list, (int)self->chosen));
    gtk_list_box_select_row(self->list, GTK_LIST_BOX_ROW(row));
    if (focused)
        gtk_widget_grab_focus(row);
    self->filling = FALSE;
}

static void
show_notes(FwPiecesPage *self)
{
    g_autofree char *notes = g_strjoinv(".\n", self->boards->notes);
    g_autofree char *all = g_strdup_printf("%s.", notes);
    gtk_label_set_text(self->notes, all);
    gtk_widget_set_visible(GTK_WIDGET(self->notes), *notes != '\0');
}

static void
take_boards(FwPiecesPage *self, const BoardResult *boards, UnitSet units)
{
    g_autofree char *name = self->boards ? g_strdup(self->boards->pieces[self->chosen].name) : NULL;
    g_clear_pointer(&self->boards, board_result_unref);
    self->boards = board_result_ref(boards);
    self->units = units;
    self->chosen = find_piece(boards, name);
    fill_list(self);
    show_notes(self);
    choose_piece(self, self->chosen);
}

static void
show_none(FwPiecesPage *self, const char *words)
{
    g_clear_pointer(&self->boards, board_result_unref);
    self->shaded = NULL;
    self->shown = ++self->wanted;
    fw_shade_view_set_model(self->shade, NULL, words, NULL);
    gtk_label_set_text(self->none, words);
}

void
fw_pieces_page_show(FwPiecesPage *self, const Plan *plan, gboolean busy)
{
    const BoardResult *boards = plan ? plan_board(plan) : NULL;
    gboolean any = boards && boards->n_pieces > 0;
    gtk_widget_set_visible(self->body, any);
    gtk_widget_set_visible(GTK_WIDGET(self->none), !any);
    if (!any) {
        show_none(self, busy ? _("Working it out…")
                             : _("There is nothing to print until the casting lies in a flask. "
                                 "The figures say what is missing."));
        return;
    }
    UnitSet units = plan_units(plan);
    if (boards != self->boards || memcmp(&units, &self->units, sizeof units) != 0)
        take_boards(self, boards, units);
    update_sums(self, plan);
}

void
fw_pieces_page_choose(FwPiecesPage *self, const char *name)
{
    if (!self->boards)
        return;
    guint number = find_piece(self->boards, name);
    gtk_list_box_select_row(self->list, gtk_list_box_get_row_at_index(self->list, (int)number));
}

gboolean
fw_pieces_page_is_settled(FwPiecesPage *self)
{
    return !gtk_widget_get_mapped(GTK_WIDGET(self)) || !self->boards ||
           (self->shown == self->wanted && fw_shade_view_is_settled(self->shade));
}

static void
fw_pieces_page_map(GtkWidget *widget)
{
    GTK_WIDGET_CLASS(fw_pieces_page_parent_class)->map(widget);
    show_picture(FW_PIECES_PAGE(widget));
}

static void
fw_pieces_page_dispose(GObject *object)
{
    FwPiecesPage *self = FW_PIECES_PAGE(object);
    self->gone = TRUE;
    g_clear_pointer(&self->boards, board_result_unref);
    G_OBJECT_CLASS(fw_pieces_page_parent_class)->dispose(object);
}

static void
fw_pieces_page_class_init(FwPiecesPageClass *klass)
{
    g_type_ensure(FW_TYPE_SHADE_VIEW);
    G_OBJECT_CLASS(klass)->dispose = fw_pieces_page_dispose;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->map = fw_pieces_page_map;
    figure_chosen_signal = g_signal_new("figure-chosen", FW_TYPE_PIECES_PAGE, G_SIGNAL_RUN_LAST, 0,
                                        NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                                        GTK_TYPE_WIDGET);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/pieces-page.ui");
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, body);
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, none);
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, about);
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, notes);
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, shade);
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, list);
    gtk_widget_class_bind_template_child(widget, FwPiecesPage, sums);
    gtk_widget_class_bind_template_callback(widget, on_row_selected_cb);
}

static void
fw_pieces_page_init(FwPiecesPage *self)
{
    static const char *const sums[] = {"board.pieces", "board.filament_mass", "board.print_time",
                                       "board.bed_share"};
    gtk_widget_init_template(GTK_WIDGET(self));
    for (guint i = 0; i < G_N_ELEMENTS(sums); i++) {
        GtkWidget *row = fw_figure_row_new(sums[i]);
        g_signal_connect(row, "clicked", G_CALLBACK(on_sum_clicked_cb), self);
        gtk_box_append(self->sums, row);
    }
}
