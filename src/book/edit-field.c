// SPDX-License-Identifier: GPL-3.0-or-later
// Edits of fields: the place comes from the field's section and the job's choices, the text is
// checked first. Three fields need more than one member changed and so become an edit of what holds
// them: the first entry of an empty list, a mesh with its hash, and a shop unit with the bare
// numbers that were typed under the old one.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/digest.h"
#include "base/error.h"
#include "book/edit.h"
#include "book/reunit.h"

char *
edit_field_place(const Book *book, const char *job_id, const Field *field)
{
    g_return_val_if_fail(book != NULL && field != NULL, NULL);
    g_autofree char *section = field_section(field->path);
    g_autofree char *place = NULL;
    book_section(book, job_id, section, &place, NULL);
    return place ? g_strdup_printf("%s/%s", place, field_member(field->path)) : NULL;
}

char *
edit_field_text(const Book *book, const char *job_id, const Field *field)
{
    g_autofree char *place = edit_field_place(book, job_id, field);
    char *text = NULL;
    if (place)
        field_node_text(field, node_get(book_root(book), place), &text, NULL);
    return text;
}

static gboolean
check_entry(const Book *book, const char *job_id, const Field *field, const char *id,
            GError **error)
{
    gboolean jobs = strcmp(field->choices, "jobs") == 0;
    const char *section = jobs ? "job" : field_member(field->path);
    const Node *list = node_get(book_root(book), field_section_place(section, NULL));
    if (jobs && g_strcmp0(id, job_id) == 0)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                              _("a job cannot share with itself"), _("choose another job"));
    for (guint i = 0; i < node_size(list); i++)
        if (g_strcmp0(node_text(node_member(node_at(list, i), "id")), id) == 0)
            return TRUE;
    if (jobs)
        return base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("choose one of the list"),
                               _("the book has no job \"%s\""), id);
    return base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("choose one of the list"),
                           _("the shop has no %s \"%s\""), section, id);
}

// The list of a section with a first entry holding just this member.
static Edit *
make_first_entry(const char *section, const Field *field, const Node *value)
{
    g_autofree char *id = g_strdup_printf("%s-1", section);
    char *names[] = {g_strdup("id"), g_strdup(field_member(field->path))};
    Node *values[] = {node_new_text(id), node_ref(value)};
    Node *entry = node_new_object_of(names, values, 2);
    g_autoptr(Node) list = node_new_list_of(&entry, 1);
    return edit_set(field_section_place(section, NULL), list, _(field->edit));
}

// A mesh and the hash that says which content was meant; without a readable file there is none.
static Edit *
make_mesh_edit(const Book *book, const Node *job, const char *place, const Field *field,
               const Node *value)
{
    const char *mesh = node_text(value);
    g_autofree char *path = mesh ? g_canonicalize_filename(mesh, book_folder(book)) : NULL;
    g_autofree char *sha256 = path ? digest_of_file(path, NULL) : NULL;
    g_autoptr(Node) hash = sha256 ? node_new_text(sha256) : NULL;
    g_autoptr(Node) with_mesh = node_with_member(job, "mesh", mesh ? value : NULL);
    g_autoptr(Node) changed = node_with_member(with_mesh, "mesh_sha256", hash);
    return edit_set(place, changed, _(field->edit));
}

static Edit *
make_plain_edit(const Book *book, const char *job_id, const Field *field, const Node *value)
{
    g_autofree char *section = field_section(field->path);
    g_autofree char *place = NULL;
    const Node *entry = book_section(book, job_id, section, &place, NULL);
    gboolean in_list = FALSE;
    field_section_place(section, &in_list);
    if (in_list && !entry && node_kind(value) != NODE_NULL)
        return make_first_entry(section, field, value);
    if (strcmp(field->path, "job.mesh") == 0)
        return make_mesh_edit(book, entry, place, field, value);
    g_autofree char *whole = g_strdup_printf("%s/%s", place, field_member(field->path));
    return edit_set(whole, value, _(field->edit));
}

Edit *
edit_field(const Book *book, const char *job_id, const Field *field, const char *text,
           const Tables *tables, GError **error)
{
    g_return_val_if_fail(book != NULL && field != NULL && text != NULL, NULL);
    UnitSet units = book_units(book);
    g_autofree char *section = field_section(field->path);
    g_autofree char *plain = NULL;
    g_autofree char *place = NULL;
    GError *missing = NULL;
    book_section(book, job_id, section, &place, &missing);
    if (missing) {
        g_propagate_error(error, missing);
        return NULL;
    }
    if (!place) {
        base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("choose a job of the book"),
                        _("there is no job \"%s\""), job_id ? job_id : "");
        return NULL;
    }
    if (g_utf8_validate(text, -1, NULL))
        plain = g_strstrip(g_strdup(text));
    gboolean clear = plain && !*plain;
    if (!clear && !field_check(field, text, &units, tables, NULL, error))
        return NULL;
    if (!clear && field->type == FIELD_ENTRY && !check_entry(book, job_id, field, plain, error))
        return NULL;
    g_autoptr(Node) value = clear ? node_new_null() : node_new_text(plain);
    if (reunit_concerns(field))
        return reunit_edit(book, field, value);
    return make_plain_edit(book, job_id, field, value);
}

Node *
edit_job_node(const char *id, const char *name, const char *mesh, const char *sha256,
              const char *mesh_unit, const char *metal, const char *quantity)
{
    g_return_val_if_fail(id != NULL, NULL);
    const char *const members[][2] = {
        {"id", id},
        {"name", name},
        {"mesh", mesh},
        {"mesh_sha256", sha256},
        {"mesh_unit", mesh_unit},
        {"metal", metal},
        {"quantity", quantity},
    };
    char *names[G_N_ELEMENTS(members)];
    Node *values[G_N_ELEMENTS(members)];
    guint n = 0;
    for (guint i = 0; i < G_N_ELEMENTS(members); i++)
        if (members[i][1]) {
            names[n] = g_strdup(members[i][0]);
            values[n++] = node_new_text(members[i][1]);
        }
    return node_new_object_of(names, values, n);
}
