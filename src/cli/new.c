// SPDX-License-Identifier: GPL-3.0-or-later
// `new`: a book with a ready shop and, with a mesh, one job. Every field that has an option in the
// field table can be given; nothing is written until all of it has been checked.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/digest.h"
#include "base/error.h"
#include "book/edit.h"
#include "book/store.h"
#include "cli/cli.h"
#include "plan/mesh-path.h"
#include "solid/read.h"

// Option values by field, in the order of the field table; NULL where not given.
typedef struct {
    GArray *entries; // GOptionEntry
    char **texts;
    char *flask;
    gboolean replace;
} Options;

static void
make_entries(Options *options)
{
    guint n = field_count();
    options->texts = g_new0(char *, n + 1);
    options->entries = g_array_new(TRUE, TRUE, sizeof(GOptionEntry));
    for (guint i = 0; i < n; i++) {
        const Field *field = field_at(i);
        if (!field->option)
            continue;
        GOptionEntry entry = {field->option, 0,      0, G_OPTION_ARG_STRING, &options->texts[i],
                              field->label,  "VALUE"};
        g_array_append_val(options->entries, entry);
    }
    GOptionEntry more[] = {
        {"flask", 0, 0, G_OPTION_ARG_STRING, &options->flask,
         N_("Inside of the flask: length, width, cope depth, drag depth"), "L,W,COPE,DRAG"},
        {"replace", 0, 0, G_OPTION_ARG_NONE, &options->replace,
         N_("Overwrite the book if it exists"), NULL},
    };
    g_array_append_vals(options->entries, more, G_N_ELEMENTS(more));
}

static void
clear_options(Options *options)
{
    for (guint i = 0; options->texts && i < field_count(); i++)
        g_free(options->texts[i]);
    g_free(options->texts);
    g_free(options->flask);
    if (options->entries)
        g_array_unref(options->entries);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Options, clear_options)

// Replaces *book by the book with one field set.
static gboolean
set_field(Book **book, const char *job, const Field *field, const char *text, const Tables *tables,
          GError **error)
{
    g_autoptr(Edit) edit = edit_field(*book, job, field, text, tables, error);
    Book *next = edit ? edit_apply(*book, edit, error) : NULL;
    if (!next)
        return FALSE;
    book_unref(*book);
    *book = next;
    return TRUE;
}

static const char *
text_of(const Options *options, const char *path)
{
    for (guint i = 0; i < field_count(); i++)
        if (g_str_equal(field_at(i)->path, path))
            return options->texts[i];
    return NULL;
}

// Reads the mesh whole, so that a book is never made for one that cannot be used.
static gboolean
add_job(Book **book, const Options *options, const char *book_path, const Tables *tables,
        GError **error)
{
    const char *mesh_path = text_of(options, "job.mesh");
    const char *unit = text_of(options, "job.mesh_unit");
    if (unit && solid_unit_metres(unit) == 0)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "--unit",
                               _("use mm, cm, m, in or ft"), _("\"%s\" is not a unit"), unit);
    g_autoptr(SolidMesh) mesh = solid_read(mesh_path, unit, NULL, error);
    g_autofree char *sum = mesh ? digest_of_file(mesh_path, error) : NULL;
    if (!sum)
        return FALSE;
    g_autofree char *name = g_path_get_basename(mesh_path);
    char *dot = strrchr(name, '.');
    if (dot && dot != name)
        *dot = '\0';
    g_autofree char *id = book_new_job_id(*book, name);
    g_autofree char *whole = g_canonicalize_filename(book_path, NULL);
    g_autofree char *folder = g_path_get_dirname(whole);
    g_autofree char *stored = mesh_path_stored(mesh_path, folder);
    g_autoptr(Node) node = edit_job_node(id, name, stored, sum, unit, NULL, NULL);
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, _("Add job"));
    Book *next = edit_apply(*book, edit, error);
    if (!next)
        return FALSE;
    book_unref(*book);
    *book = next;
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        gboolean done = g_str_equal(field->path, "job.mesh");
        if (!done && options->texts[i] &&
            !set_field(book, id, field, options->texts[i], tables, error)) {
            g_autofree char *option = g_strdup_printf("--%s: ", field->option);
            g_prefix_error(error, "%s", option);
            return FALSE;
        }
    }
    return TRUE;
}

static gboolean
set_flask(Book **book, const char *text, const Tables *tables, GError **error)
{
    static const char *const paths[] = {"flask.length", "flask.width", "flask.cope_depth",
                                        "flask.drag_depth"};
    g_auto(GStrv) sizes = g_strsplit(text, ",", -1);
    if (g_strv_length(sizes) != G_N_ELEMENTS(paths))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "--flask",
                               _("give length, width, cope depth and drag depth, as in "
                                 "300mm,220mm,90mm,90mm"),
                               _("\"%s\" is not four lengths"), text);
    for (guint i = 0; i < G_N_ELEMENTS(paths); i++)
        if (!set_field(book, NULL, field_find(paths[i]), g_strstrip(sizes[i]), tables, error)) {
            g_prefix_error(error, "--flask: ");
            return FALSE;
        }
    return TRUE;
}

int
cli_new(int argc, char **argv)
{
    g_auto(Options) options = {NULL, NULL, NULL, FALSE};
    make_entries(&options);
    gboolean finished;
    int code = cli_options("new", (const GOptionEntry *)(gpointer)options.entries->data, &argc,
                           &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    g_autoptr(Book) book = book_new_ready();
    if (!text_of(&options, "job.mesh"))
        for (guint i = 0; i < field_count(); i++)
            if (options.texts[i])
                return cli_usage(_("new: --%s needs --mesh FILE"), field_at(i)->option);
    if (options.flask && !set_flask(&book, options.flask, tables, &error))
        return cli_fail(error);
    if (text_of(&options, "job.mesh") && !add_job(&book, &options, argv[1], tables, &error))
        return cli_fail(error);
    if (!store_write(book, argv[1], options.replace, &error))
        return cli_fail(error);
    return CLI_DONE;
}
