// SPDX-License-Identifier: GPL-3.0-or-later
// The mesh is read, checked and hashed off the main thread; what was found is shown before the job
// is added, so that a wrong unit is seen at once.
#include "window/new-job.h"

#include <glib/gi18n.h>

#include "base/digest.h"
#include "book/book.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"
#include "window/choice.h"

struct _FwNewJob {
    GtkWindow parent;
    GtkLabel *file, *found, *trouble;
    GtkDropDown *unit, *metal;
    GtkEntry *quantity;
    GtkButton *choose, *add;
    Desk *desk;
    gboolean new_book;
    char *path, *sha256;
    GCancellable *reading;
    GtkFileChooserNative *chooser;
};

G_DEFINE_FINAL_TYPE(FwNewJob, fw_new_job, GTK_TYPE_WINDOW)

static const char *const units[] = {"mm", "cm", "m", "in", "ft", NULL};

// What one reading found; crosses from the thread to the window.
typedef struct {
    char *path, *unit, *sha256, *words;
    UnitSet shown; // units to tell it in
} Reading;

static void
free_reading(gpointer data)
{
    Reading *reading = data;
    g_free(reading->path);
    g_free(reading->unit);
    g_free(reading->sha256);
    g_free(reading->words);
    g_free(reading);
}

// A part read in another unit than it was drawn in is off by ten times or more, so these ends can
// be wide. m.
#define SMALL_PART 0.01
#define LARGE_PART 1.0

static const char *
doubt_size(Vec3 size)
{
    double longest = fmax(size.x, fmax(size.y, size.z));
    return longest < SMALL_PART   ? _(" That is small for a casting: is the unit right?")
           : longest > LARGE_PART ? _(" That is large for a small shop: is the unit right?")
                                  : "";
}

static char *
describe_mesh(const SolidMesh *mesh, const UnitSet *shown)
{
    SolidCheck check = solid_check(mesh);
    SolidMeasure measure = solid_measure(mesh);
    Vec3 size = vec3_sub(measure.max, measure.min);
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, size.x, shown);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, size.y, shown);
    g_autofree char *z = quantity_format(QUANTITY_LENGTH, size.z, shown);
    g_autofree char *volume = quantity_format(QUANTITY_VOLUME, fabs(measure.volume), shown);
    g_autofree char *skin = solid_check_words(&check);
    return g_strdup_printf(_("%s × %s × %s, %s, %u triangles; %s.%s"), x, y, z,
                           check.closed ? volume : _("volume unknown"), mesh->n_triangles, skin,
                           doubt_size(size));
}

static void
read_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    const Reading *wanted = data;
    GError *error = NULL;
    g_autoptr(SolidMesh) mesh = solid_read(wanted->path, wanted->unit, NULL, &error);
    char *sum = mesh ? digest_of_file(wanted->path, &error) : NULL;
    if (!sum) {
        g_task_return_error(task, error);
        return;
    }
    Reading *found = g_new0(Reading, 1);
    found->sha256 = sum;
    found->words = describe_mesh(mesh, &wanted->shown);
    g_task_return_pointer(task, found, free_reading);
}

static void
show_trouble(FwNewJob *self, const char *words)
{
    gtk_label_set_text(self->trouble, words ? words : "");
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), words != NULL);
}

static void
on_mesh_read_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    g_autoptr(GError) error = NULL;
    Reading *found = g_task_propagate_pointer(G_TASK(result), &error);
    if (g_cancellable_is_cancelled(g_task_get_cancellable(G_TASK(result)))) {
        g_clear_pointer(&found, free_reading);
        return;
    }
    FwNewJob *self = FW_NEW_JOB(source);
    gtk_label_set_text(self->found, found ? found->words : "");
    show_trouble(self, error ? error->message : NULL);
    if (found)
        self->sha256 = g_strdup(found->sha256);
    gtk_widget_set_sensitive(GTK_WIDGET(self->add), found != NULL);
    g_clear_pointer(&found, free_reading);
}

static void
start_reading(FwNewJob *self)
{
    if (self->reading)
        g_cancellable_cancel(self->reading);
    g_clear_object(&self->reading);
    g_clear_pointer(&self->sha256, g_free);
    gtk_widget_set_sensitive(GTK_WIDGET(self->add), FALSE);
    if (!self->path)
        return;
    gtk_label_set_text(self->found, _("Reading…"));
    show_trouble(self, NULL);
    self->reading = g_cancellable_new();
    Reading *wanted = g_new0(Reading, 1);
    wanted->path = g_strdup(self->path);
    wanted->unit = g_strdup(units[gtk_drop_down_get_selected(self->unit)]);
    const Book *book = self->new_book ? NULL : desk_book(self->desk);
    wanted->shown = book ? book_units(book) : unit_set_default();
    g_autoptr(GTask) task = g_task_new(self, self->reading, on_mesh_read_cb, NULL);
    // The callback looks at "cancelled" itself, so that a late result is freed there.
    g_task_set_check_cancellable(task, FALSE);
    g_task_set_task_data(task, wanted, free_reading);
    g_task_run_in_thread(task, read_in_thread);
}

static void
set_path(FwNewJob *self, const char *path)
{
    g_free(self->path);
    self->path = g_strdup(path);
    g_autofree char *name = g_path_get_basename(path);
    gtk_label_set_text(self->file, name);
    g_autofree char *said = g_strdup_printf(_("Finished part: %s"), name);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->choose), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   said, -1);
    start_reading(self);
}

static void
on_file_chosen_cb(GtkNativeDialog *dialog, int response, FwNewJob *self)
{
    if (response == GTK_RESPONSE_ACCEPT) {
        g_autoptr(GFile) file = gtk_file_chooser_get_file(GTK_FILE_CHOOSER(dialog));
        g_autofree char *path = file ? g_file_get_path(file) : NULL;
        if (path)
            set_path(self, path);
    }
    g_clear_object(&self->chooser);
}

static void
on_choose_clicked_cb(FwNewJob *self)
{
    g_clear_object(&self->chooser);
    self->chooser = gtk_file_chooser_native_new(_("Mesh of the finished part"), GTK_WINDOW(self),
                                                GTK_FILE_CHOOSER_ACTION_OPEN, _("Choose"),
                                                _("Cancel"));
    g_autoptr(GtkFileFilter) filter = gtk_file_filter_new();
    gtk_file_filter_set_name(filter, _("Meshes (STL, OBJ, PLY, 3MF)"));
    gtk_file_filter_add_suffix(filter, "stl");
    gtk_file_filter_add_suffix(filter, "obj");
    gtk_file_filter_add_suffix(filter, "ply");
    gtk_file_filter_add_suffix(filter, "3mf");
    gtk_file_chooser_add_filter(GTK_FILE_CHOOSER(self->chooser), filter);
    if (desk_path(self->desk)) {
        g_autofree char *folder = g_path_get_dirname(desk_path(self->desk));
        g_autoptr(GFile) beside = g_file_new_for_path(folder);
        gtk_file_chooser_set_current_folder(GTK_FILE_CHOOSER(self->chooser), beside, NULL);
    }
    g_signal_connect(self->chooser, "response", G_CALLBACK(on_file_chosen_cb), self);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(self->chooser));
}

static void
on_unit_changed_cb(FwNewJob *self)
{
    start_reading(self);
}

static void
on_cancel_clicked_cb(FwNewJob *self)
{
    gtk_window_destroy(GTK_WINDOW(self));
}

static void
on_add_clicked_cb(FwNewJob *self)
{
    if (!self->sha256)
        return;
    const Field *field = field_find("job.quantity");
    const char *quantity = gtk_editable_get_text(GTK_EDITABLE(self->quantity));
    UnitSet shop = unit_set_default();
    g_autoptr(GError) error = NULL;
    if (!field_check(field, quantity, &shop, desk_tables(self->desk), NULL, &error)) {
        gtk_widget_add_css_class(GTK_WIDGET(self->quantity), "error");
        show_trouble(self, error->message);
        return;
    }
    gtk_widget_remove_css_class(GTK_WIDGET(self->quantity), "error");
    if (self->new_book || !desk_book(self->desk)) {
        g_autoptr(Book) ready = book_new_ready();
        desk_start(self->desk, ready);
    }
    const TableRow *metal = tables_at(desk_tables(self->desk), TABLE_METALS,
                                      gtk_drop_down_get_selected(self->metal));
    const char *unit = units[gtk_drop_down_get_selected(self->unit)];
    if (desk_add_job(self->desk, self->path, self->sha256, unit, table_row_id(metal), quantity,
                     &error))
        gtk_window_destroy(GTK_WINDOW(self));
    else
        show_trouble(self, error->message);
}

static void
fill_metals(FwNewJob *self)
{
    const Tables *tables = desk_tables(self->desk);
    GtkStringList *names = gtk_string_list_new(NULL);
    guint chosen = 0;
    for (guint i = 0; i < tables_size(tables, TABLE_METALS); i++) {
        const TableRow *row = tables_at(tables, TABLE_METALS, i);
        gtk_string_list_append(names, table_row_name(row));
        if (g_str_equal(table_row_id(row), "a356"))
            chosen = i;
    }
    gtk_drop_down_set_model(self->metal, G_LIST_MODEL(names));
    gtk_drop_down_set_selected(self->metal, chosen);
    g_object_unref(names);
}

static void
fw_new_job_dispose(GObject *object)
{
    FwNewJob *self = FW_NEW_JOB(object);
    if (self->reading)
        g_cancellable_cancel(self->reading);
    g_clear_object(&self->reading);
    g_clear_object(&self->chooser);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_new_job_parent_class)->dispose(object);
}

static void
fw_new_job_finalize(GObject *object)
{
    FwNewJob *self = FW_NEW_JOB(object);
    g_free(self->path);
    g_free(self->sha256);
    G_OBJECT_CLASS(fw_new_job_parent_class)->finalize(object);
}

static void
fw_new_job_class_init(FwNewJobClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_new_job_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_new_job_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/new-job.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwNewJob, name)
    BIND(file);
    BIND(choose);
    BIND(found);
    BIND(trouble);
    BIND(unit);
    BIND(metal);
    BIND(quantity);
    BIND(add);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_choose_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_unit_changed_cb);
    gtk_widget_class_bind_template_callback(widget, on_cancel_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_add_clicked_cb);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
fw_new_job_init(FwNewJob *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}

GtkWidget *
fw_new_job_new(Desk *desk, gboolean new_book, const char *path)
{
    FwNewJob *self = g_object_new(FW_TYPE_NEW_JOB, NULL);
    self->desk = g_object_ref(desk);
    self->new_book = new_book;
    fill_metals(self);
    fw_choice_set_label(GTK_WIDGET(self->metal), _("Metal"));
    fw_choice_set_label(GTK_WIDGET(self->unit), _("Unit of the file"));
    if (path)
        set_path(self, path);
    return GTK_WIDGET(self);
}
