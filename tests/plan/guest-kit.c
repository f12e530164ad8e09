// SPDX-License-Identifier: GPL-3.0-or-later
// The books of two jobs in one flask, and looking at the figures of their plans.
#include "guest-kit.h"

void
guest_set_up(GuestFixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->cache = cache_new(1000);
    f->folder = check_folder();
    f->mesh = make_mesh_file(f->folder, "plate.stl", make_plate());
    f->other_mesh = make_mesh_file(f->folder, "cup.stl",
                                   check_mesh_frustum(0.0213, 0.0171, 0.0262, 16));
    g_autoptr(Book) plain = make_book(f->mesh, f->tables);
    g_autoptr(Book) unfed = make_changed(plain, "job.riser", "none", f->tables);
    g_autoptr(Book) both = make_with_other(unfed, f->other_mesh, f->tables);
    f->alone = make_other_changed(both, "job.riser", "none", f->tables);
    f->shared = make_changed(f->alone, "job.shares_with", "other", f->tables);
}

void
guest_tear_down(GuestFixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    book_unref(f->alone);
    book_unref(f->shared);
    cache_unref(f->cache);
    tables_free(f->tables);
    g_free(f->folder);
    g_free(f->mesh);
    g_free(f->other_mesh);
}

double
guest_value(const Plan *plan, const char *id)
{
    const Figure *figure = plan_figure(plan, id);
    if (!figure || figure->state == FIGURE_UNKNOWN)
        g_error("%s is unknown", id);
    return figure->value;
}

void
guest_check_holds(const Plan *plan, const char *id)
{
    const Figure *f = plan_figure(plan, id);
    g_assert_nonnull(f);
    if (f->state == FIGURE_FAILS || f->state == FIGURE_UNKNOWN)
        g_error("%s = %g is %d", id, f->value, f->state);
}
