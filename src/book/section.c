// SPDX-License-Identifier: GPL-3.0-or-later
// Finding the object that holds the fields of a section. Furnaces, crucibles and flasks are lists;
// a job chooses an entry of each by id, and without a choice takes the first.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "book/book.h"
#include "book/field.h"

// Index of the entry with this id, or G_MAXUINT.
static guint
find_entry(const Node *list, const char *id)
{
    for (guint i = 0; i < node_size(list); i++)
        if (g_strcmp0(node_text(node_member(node_at(list, i), "id")), id) == 0)
            return i;
    return G_MAXUINT;
}

// The id a job names for a section, or NULL when it leaves the choice open. Free.
static char *
dup_choice(const Book *book, const char *job_id, const char *section)
{
    g_autofree char *place = job_id ? book_job_place(book, job_id) : NULL;
    const Node *job = place ? node_get(book_root(book), place) : NULL;
    const char *id = node_text(node_member(job, section));
    g_autofree char *plain = id ? g_strstrip(g_strdup(id)) : NULL;
    return plain && *plain ? g_steal_pointer(&plain) : NULL;
}

static gboolean
fail_no_entry(const Node *list, const char *section, const char *id, GError **error)
{
    g_autoptr(GString) remedy = g_string_new(NULL);
    for (guint i = 0; i < node_size(list); i++)
        g_string_append_printf(remedy, "%s%s", i > 0 ? ", " : _("choose one of "),
                               node_text(node_member(node_at(list, i), "id")));
    return base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL,
                           remedy->len > 0 ? remedy->str : _("add one to the shop"),
                           _("the shop has no %s \"%s\""), section, id);
}

const Node *
book_section(const Book *book, const char *job_id, const char *section, char **place,
             GError **error)
{
    gboolean in_list = FALSE;
    const char *where = field_section_place(section, &in_list);
    g_return_val_if_fail(where != NULL, NULL);
    g_autofree char *found = NULL;
    if (!in_list) {
        found = g_strdup(where);
    } else if (strcmp(section, "job") == 0) {
        found = job_id ? book_job_place(book, job_id) : NULL;
    } else {
        const Node *list = node_get(book_root(book), where);
        g_autofree char *id = dup_choice(book, job_id, section);
        guint index = id ? find_entry(list, id) : 0;
        if (index == G_MAXUINT)
            fail_no_entry(list, section, id, error);
        else
            found = g_strdup_printf("%s/%u", where, index);
    }
    const Node *node = found ? node_get(book_root(book), found) : NULL;
    if (place)
        *place = g_steal_pointer(&found);
    return node;
}

const char *
book_entry_id(const Book *book, const char *job_id, const char *section)
{
    return node_text(node_member(book_section(book, job_id, section, NULL, NULL), "id"));
}
