// SPDX-License-Identifier: GPL-3.0-or-later
// A Book is a root Node and the folder it lies in. The functions here read the few members the
// program must know by name: jobs, their meshes, the units of the shop.
#include "book/book.h"

#include <string.h>

struct Book {
    Node *root;
    char *folder;
};

static void
clear_book(gpointer data)
{
    Book *book = data;
    node_unref(book->root);
    g_free(book->folder);
}

Book *
book_ref(const Book *book)
{
    g_return_val_if_fail(book != NULL, NULL);
    return g_atomic_rc_box_acquire((Book *)book);
}

void
book_unref(const Book *book)
{
    if (book)
        g_atomic_rc_box_release_full((Book *)book, clear_book);
}

Book *
book_new(const Node *root, const char *folder)
{
    g_return_val_if_fail(node_kind(root) == NODE_OBJECT, NULL);
    Book *book = g_atomic_rc_box_new0(Book);
    book->root = node_ref(root);
    book->folder = g_strdup(folder);
    return book;
}

const Node *
book_root(const Book *book)
{
    g_return_val_if_fail(book != NULL, NULL);
    return book->root;
}

const char *
book_folder(const Book *book)
{
    g_return_val_if_fail(book != NULL, NULL);
    return book->folder;
}

Book *
book_with_folder(const Book *book, const char *folder)
{
    return book_new(book_root(book), folder);
}

guint
book_job_count(const Book *book)
{
    return node_size(node_member(book_root(book), "jobs"));
}

// NULL when there is no such job, or it has no id (which no file is read with).
const char *
book_job_id(const Book *book, guint index)
{
    const Node *job = node_at(node_member(book_root(book), "jobs"), index);
    return node_text(node_member(job, "id"));
}

// The job of an id, and its index; NULL if absent.
static const Node *
find_job(const Book *book, const char *job_id, guint *index)
{
    const Node *jobs = node_member(book_root(book), "jobs");
    for (guint i = 0; job_id && i < node_size(jobs); i++) {
        const char *id = node_text(node_member(node_at(jobs, i), "id"));
        if (id && strcmp(id, job_id) == 0) {
            if (index)
                *index = i;
            return node_at(jobs, i);
        }
    }
    return NULL;
}

// The name of a job, its id when it has none; NULL if there is no such job.
const char *
book_job_name(const Book *book, const char *job_id)
{
    const Node *job = find_job(book, job_id, NULL);
    if (!job)
        return NULL;
    const char *name = node_text(node_member(job, "name"));
    return name && *name ? name : node_text(node_member(job, "id"));
}

gboolean
book_has_job(const Book *book, const char *job_id)
{
    return find_job(book, job_id, NULL) != NULL;
}

char *
book_job_place(const Book *book, const char *job_id)
{
    guint index = 0;
    return find_job(book, job_id, &index) ? g_strdup_printf("/jobs/%u", index) : NULL;
}

// A relative path starts at the book's folder, or, for a book never saved, where the program runs.
char *
book_mesh_path(const Book *book, const char *job_id)
{
    const char *mesh = node_text(node_member(find_job(book, job_id, NULL), "mesh"));
    return mesh && *mesh ? g_canonicalize_filename(mesh, book->folder) : NULL;
}

// Lower-case letters and digits of a name with single dashes between; "job" if none are left.
static char *
make_slug(const char *name)
{
    g_autofree char *ascii = g_str_to_ascii(name, "C");
    g_autoptr(GString) slug = g_string_new(NULL);
    for (const char *p = ascii; *p && slug->len < 60; p++) {
        if (g_ascii_isalnum(*p))
            g_string_append_c(slug, g_ascii_tolower(*p));
        else if (slug->len > 0 && slug->str[slug->len - 1] != '-' && *p != '?')
            g_string_append_c(slug, '-');
    }
    while (slug->len > 0 && slug->str[slug->len - 1] == '-')
        g_string_truncate(slug, slug->len - 1);
    return g_strdup(slug->len > 0 ? slug->str : "job");
}

char *
book_new_job_id(const Book *book, const char *name)
{
    g_autofree char *slug = make_slug(name ? name : "");
    if (!book_has_job(book, slug))
        return g_steal_pointer(&slug);
    for (guint n = 2;; n++) {
        g_autofree char *id = g_strdup_printf("%s-%u", slug, n);
        if (!book_has_job(book, id))
            return g_steal_pointer(&id);
    }
}

// As much of `text` as fits into `size` bytes without cutting a character.
static void
copy_currency(char *target, gsize size, const char *text)
{
    gsize n = 0;
    for (const char *p = text; *p && (gsize)(g_utf8_next_char(p) - text) < size;
         p = g_utf8_next_char(p))
        n = g_utf8_next_char(p) - text;
    memcpy(target, text, n);
    target[n] = '\0';
}

// What the shop reads and shows. Whether a comma shows as the decimal sign is the screen's affair
// and left off here.
UnitSet
book_units(const Book *book)
{
    const Node *shop = node_member(book_root(book), "shop");
    const char *currency = node_text(node_member(shop, "currency"));
    UnitSet units = unit_set_default();
    units.inches = g_strcmp0(node_text(node_member(shop, "lengths")), "in") == 0;
    units.pounds = g_strcmp0(node_text(node_member(shop, "masses")), "lb") == 0;
    units.fahrenheit = g_strcmp0(node_text(node_member(shop, "temperatures")), "F") == 0;
    copy_currency(units.currency, sizeof units.currency, currency && *currency ? currency : "EUR");
    return units;
}
