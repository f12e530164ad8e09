// SPDX-License-Identifier: GPL-3.0-or-later
// Books and batches for tests.
#include "batch-kit.h"

guint32
kit_day_of(const char *text)
{
    guint32 day = 0;
    g_assert_true(days_read_date(text, &day, NULL));
    return day;
}

Book *
kit_apply(const Book *book, Edit *edit)
{
    g_autoptr(GError) error = NULL;
    Book *changed = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    edit_free(edit);
    return changed;
}

Book *
kit_change(const BatchKit *f, const Book *book, const char *job, const char *path, const char *text)
{
    g_autoptr(GError) error = NULL;
    Edit *edit = edit_field(book, job, field_find(path), text, f->tables, &error);
    g_assert_no_error(error);
    return kit_apply(book, edit);
}

void
kit_set_up(BatchKit *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    f->cache = cache_new(4000);
    g_autofree char *path = make_mesh_file(f->folder, "part.stl", make_plate());
    g_autoptr(Book) plain = make_book(path, f->tables);
    g_autoptr(Book) large = make_changed(plain, "crucible.rating", "31 kg", f->tables);
    f->one = make_changed(large, "job.cavities", "2", f->tables);
    g_autoptr(Node) node = node_ref(node_get(book_root(f->one), "/jobs/0"));
    g_autoptr(Node) id = node_new_text("other");
    g_autoptr(Node) name = node_new_text("Other; \"part\", long");
    g_autoptr(Node) renamed = node_with_member(node, "id", id);
    g_autoptr(Node) second = node_with_member(renamed, "name", name);
    g_autoptr(Book) both = kit_apply(f->one, edit_insert("/jobs/-", second, "Add"));
    g_autoptr(Book) fewer = kit_change(f, both, "other", "job.quantity", "13");
    f->mixed = kit_change(f, fewer, "other", "job.metal", "413");
    f->two = kit_change(f, f->mixed, NULL, "shop.mix", "one");
}

void
kit_tear_down(BatchKit *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    g_free(f->folder);
    book_unref(f->one);
    book_unref(f->two);
    book_unref(f->mixed);
    cache_unref(f->cache);
    tables_free(f->tables);
}

BatchPlan *
kit_batch(const BatchKit *f, const Book *book, const char *first)
{
    g_autoptr(GError) error = NULL;
    BatchPlan *batch = batch_plan_make(book, NULL, f->tables, f->cache, kit_day_of(first), NULL,
                                       &error);
    g_assert_no_error(error);
    return batch;
}

double
kit_value(const BatchPlan *batch, const char *id)
{
    return figure_list_value(batch->figures, id);
}

int
kit_flasks(const BatchSession *session)
{
    int flasks = 0;
    for (guint i = 0; i < session->n_pours; i++)
        flasks += session->pours[i].flasks;
    return flasks;
}
