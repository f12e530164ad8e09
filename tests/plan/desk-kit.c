// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of the desk share.
#include "desk-kit.h"

static void
on_book_changed_cb(Desk *desk, gpointer data)
{
    ((DeskKit *)data)->books++;
}

static void
on_plan_changed_cb(Desk *desk, gpointer data)
{
    ((DeskKit *)data)->plans++;
}

static void
on_busy_changed_cb(Desk *desk, gpointer data)
{
    ((DeskKit *)data)->busy++;
}

void
kit_new_desk(DeskKit *f)
{
    f->desk = desk_new(f->tables);
    g_signal_connect(f->desk, "book-changed", G_CALLBACK(on_book_changed_cb), f);
    g_signal_connect(f->desk, "plan-changed", G_CALLBACK(on_plan_changed_cb), f);
    g_signal_connect(f->desk, "busy-changed", G_CALLBACK(on_busy_changed_cb), f);
}

void
kit_set_up(DeskKit *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    f->mesh = make_mesh_file(f->folder, "plate.stl", make_plate());
    kit_new_desk(f);
}

void
kit_tear_down(DeskKit *f, gconstpointer data)
{
    g_assert_finalize_object(f->desk);
    while (g_main_context_iteration(NULL, FALSE))
        ;
    g_autofree char *drafts = g_build_filename(g_get_user_data_dir(), "flaskwright", NULL);
    check_folder_remove(drafts);
    check_folder_remove(f->folder);
    tables_free(f->tables);
    g_free(f->folder);
    g_free(f->mesh);
}

void
kit_wait(DeskKit *f)
{
    while (desk_is_busy(f->desk))
        g_main_context_iteration(NULL, TRUE);
}

void
kit_edit(DeskKit *f, const char *path, const char *text)
{
    g_autoptr(GError) error = NULL;
    desk_edit_field(f->desk, path, text, &error);
    g_assert_no_error(error);
}

const char *
kit_text(DeskKit *f, const char *place)
{
    return node_text(node_get(book_root(desk_book(f->desk)), place));
}

void
kit_start(DeskKit *f)
{
    g_autoptr(Book) book = make_book(f->mesh, f->tables);
    desk_start(f->desk, book);
}

void
kit_check_plan(DeskKit *f)
{
    g_assert_nonnull(desk_plan(f->desk));
    g_assert_true(plan_book(desk_plan(f->desk)) == desk_book(f->desk));
    g_autoptr(Plan) direct = make_plan(desk_book(f->desk), desk_job(f->desk), f->tables, NULL);
    g_autofree char *a = make_dump(desk_plan(f->desk));
    g_autofree char *b = make_dump(direct);
    check_same_dump(a, b, "desk and plan_make()");
}
