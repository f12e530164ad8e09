// SPDX-License-Identifier: GPL-3.0-or-later
// The desk and files: saving, saving elsewhere, and drafts.
#include "desk-kit.h"

#include <glib/gstdio.h>

#include "book/store.h"

static void
test_save(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    g_assert_false(desk_save(f->desk, &error));
    check_error(error, BASE_ERROR_FILE, "no file yet");
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(desk_path(f->desk), ==, path);
    g_assert_false(desk_is_dirty(f->desk));
    g_assert_cmpstr(kit_text(f, "/jobs/0/mesh"), ==, "plate.stl"); // now beside the book
    desk_undo(f->desk);
    g_assert_true(desk_is_dirty(f->desk));
    desk_redo(f->desk);
    g_assert_false(desk_is_dirty(f->desk));

    kit_edit(f, "job.draft", "1.3 deg");
    g_assert_true(desk_save(f->desk, &error));
    g_assert_false(desk_save_as(f->desk, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "shop.castbook");
    kit_wait(f);

    Desk *again = desk_new(f->tables);
    g_assert_true(desk_open(again, path, &error));
    g_assert_no_error(error);
    g_assert_true(node_equal(book_root(desk_book(again)), book_root(desk_book(f->desk))));
    g_assert_cmpstr(desk_path(again), ==, path);
    g_assert_finalize_object(again);
}

static void
test_save_elsewhere(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    g_autofree char *folder = g_build_filename(f->folder, "away", NULL);
    g_autofree char *away = g_build_filename(folder, "copy.castbook", NULL);
    g_mkdir(folder, 0700);
    kit_start(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    kit_edit(f, "job.allowance", "2.3 mm");
    g_assert_true(desk_save_as(f->desk, away, FALSE, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(kit_text(f, "/jobs/0/mesh"), ==, f->mesh);
    kit_wait(f);
    g_assert_nonnull(plan_part(desk_plan(f->desk)));
    desk_undo(f->desk);
    kit_wait(f);
    g_assert_nonnull(plan_part(desk_plan(f->desk))); // the older step still finds its mesh
    g_assert_true(desk_save(f->desk, &error));
    g_autoptr(Book) saved = store_read(away, f->tables, &error);
    g_assert_no_error(error);
    g_autofree char *whole = book_mesh_path(saved, "part");
    g_assert_cmpstr(whole, ==, f->mesh);
    // The first file is as it was.
    g_autoptr(Book) first = store_read(path, f->tables, &error);
    g_assert_cmpstr(node_text(node_get(book_root(first), "/jobs/0/mesh")), ==, "plate.stl");
}

static void
test_save_fails(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "no", "such", "x.castbook", NULL);
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    g_assert_false(desk_save_as(f->desk, path, TRUE, &error));
    check_error(error, BASE_ERROR_FILE, "x.castbook");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_null(desk_path(f->desk));
    g_assert_cmpstr(kit_text(f, "/jobs/0/mesh"), ==, f->mesh);
}

static void
wait_for_draft(DeskKit *f)
{
    gint64 give_up = g_get_monotonic_time() + 60 * G_USEC_PER_SEC;
    // Whoever writes it holds the desk until the writing is told as done.
    while ((!desk_has_draft(f->desk) || G_OBJECT(f->desk)->ref_count > 1) &&
           g_get_monotonic_time() < give_up) {
        g_main_context_iteration(NULL, FALSE);
        g_usleep(5000);
    }
    g_assert_true(desk_has_draft(f->desk));
}

static void
test_draft(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    kit_start(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_assert_false(desk_has_draft(f->desk));
    g_assert_false(desk_restore_draft(f->desk, &error));
    g_assert_nonnull(error);
    g_clear_error(&error);
    kit_edit(f, "job.allowance", "2.3 mm");
    wait_for_draft(f);
    kit_wait(f);
    g_assert_finalize_object(f->desk); // gone without saving

    kit_new_desk(f);
    g_assert_true(desk_open(f->desk, path, &error));
    g_assert_true(desk_has_draft(f->desk));
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, NULL);
    g_assert_true(desk_restore_draft(f->desk, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_cmpstr(desk_undo_label(f->desk), ==, "Restore draft");
    g_assert_true(desk_is_dirty(f->desk));
    g_autofree char *whole = book_mesh_path(desk_book(f->desk), "part");
    g_assert_cmpstr(whole, ==, f->mesh);
    g_assert_true(desk_save(f->desk, &error));
    g_assert_false(desk_has_draft(f->desk));
}

static void
test_draft_discarded(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    wait_for_draft(f);
    desk_discard_draft(f->desk);
    g_assert_false(desk_has_draft(f->desk));
}

// Nothing of an unsaved book was ever written, so what comes back from its draft is a change.
static void
test_draft_of_unsaved(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    wait_for_draft(f);
    kit_wait(f);
    g_assert_finalize_object(f->desk);
    kit_new_desk(f);
    g_assert_true(desk_has_draft(f->desk));
    g_assert_true(desk_restore_draft(f->desk, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_null(desk_path(f->desk));
}

static void
test_damaged_draft(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *draft = store_draft_path(NULL);
    g_assert_true(g_file_set_contents(draft, "{\"format\": \"castb", -1, NULL));
    g_assert_true(desk_has_draft(f->desk));
    g_assert_false(desk_restore_draft(f->desk, &error));
    g_assert_nonnull(error);
    g_assert_null(desk_book(f->desk));
}

int
main(int argc, char **argv)
{
    g_autofree char *home = check_folder();
    g_setenv("XDG_DATA_HOME", home, TRUE);
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/plan/desk-file/" name, DeskKit, NULL, kit_set_up, function, kit_tear_down)
    ADD("save", test_save);
    ADD("save-elsewhere", test_save_elsewhere);
    ADD("save-fails", test_save_fails);
    ADD("draft", test_draft);
    ADD("draft-discarded", test_draft_discarded);
    ADD("draft-of-unsaved", test_draft_of_unsaved);
    ADD("damaged-draft", test_damaged_draft);
    int status = g_test_run();
    check_folder_remove(home);
    return status;
}
