// SPDX-License-Identifier: GPL-3.0-or-later
// The traveller of the job on paper and in a file.
#include <glib/gi18n.h>

#include "report/traveller.h"
#include "window/window-private.h"

static void
on_begun_cb(GtkPrintOperation *operation, GtkPrintContext *context, Sheet *sheet)
{
    gtk_print_operation_set_n_pages(operation, (int)sheet_page_count(sheet));
}

static void
on_page_cb(GtkPrintOperation *operation, GtkPrintContext *context, int page, Sheet *sheet)
{
    cairo_t *cr = gtk_print_context_get_cairo_context(context);
    double width = gtk_print_context_get_width(context) / SHEET_WIDTH;
    double height = gtk_print_context_get_height(context) / SHEET_HEIGHT;
    cairo_save(cr);
    cairo_scale(cr, MIN(width, height), MIN(width, height));
    sheet_paint(sheet, (guint)page, cr);
    cairo_restore(cr);
}

static void
on_print_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autoptr(GError) error = NULL;
    g_autoptr(Sheet) sheet = traveller_sheet(desk_plan(self->desk));
    g_autoptr(GtkPrintOperation) operation = gtk_print_operation_new();
    gtk_print_operation_set_unit(operation, GTK_UNIT_POINTS);
    gtk_print_operation_set_use_full_page(operation, TRUE); // the sheet has margins of its own
    gtk_print_operation_set_job_name(operation, _("Traveller"));
    g_signal_connect(operation, "begin-print", G_CALLBACK(on_begun_cb), sheet);
    g_signal_connect(operation, "draw-page", G_CALLBACK(on_page_cb), sheet);
    if (gtk_print_operation_run(operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG,
                                GTK_WINDOW(self), &error) == GTK_PRINT_OPERATION_RESULT_ERROR)
        fw_notice_show(self->notice, error ? error->message : _("The traveller was not printed"),
                       NULL, NULL);
}

static void
on_export_answered_cb(GtkNativeDialog *dialog, int response, FwWindow *self)
{
    g_autofree char *path = fw_window_take_answer(self, response);
    const Plan *plan = desk_plan(self->desk);
    if (!path || !plan)
        return;
    g_autoptr(GError) error = NULL;
    g_autoptr(Sheet) sheet = traveller_sheet(plan);
    if (sheet_write(sheet, path, TRUE, &error))
        fw_window_say(self, _("Traveller written"));
    else
        fw_notice_show(self->notice, error->message, NULL, NULL);
}

static void
on_export_cb(GSimpleAction *action, GVariant *parameter, gpointer data)
{
    FwWindow *self = data;
    g_autofree char *name = g_strdup_printf("%s-traveller.pdf", desk_job(self->desk));
    fw_window_choose_file(self, _("Export the traveller as PDF"), GTK_FILE_CHOOSER_ACTION_SAVE,
                          _("Export"), "pdf", _("PDF"), name, G_CALLBACK(on_export_answered_cb));
}

void
fw_window_update_traveller(FwWindow *self)
{
    gboolean plan = desk_plan(self->desk) != NULL;
    fw_window_enable(self, "print-traveller", plan);
    fw_window_enable(self, "export-traveller", plan);
}

void
fw_window_add_traveller(FwWindow *self)
{
    const GActionEntry entries[] = {
        {.name = "print-traveller", .activate = on_print_cb},
        {.name = "export-traveller", .activate = on_export_cb},
    };
    g_action_map_add_action_entries(G_ACTION_MAP(self), entries, G_N_ELEMENTS(entries), self);
}
