// SPDX-License-Identifier: GPL-3.0-or-later
// The desk and files: saving, saving elsewhere, files it may not write or that others write, and
// drafts.
#include "desk-kit.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>
#include <utime.h>

#include "book/draft.h"
#include "book/store-hook.h"
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
    g_assert_false(desk_has_draft(f->desk));
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, 1);
    g_assert_true(desk_restore_lost(f->desk, lost[0], &error));
    g_assert_no_error(error);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_null(desk_path(f->desk));
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_auto(GStrv) none = draft_lost();
    g_assert_cmpuint(g_strv_length(none), ==, 0);
    g_assert_false(g_file_test(lost[0], G_FILE_TEST_EXISTS));
}

// A new book of its own desk with a draft of this allowance.
static Desk *
start_another(DeskKit *f, const char *allowance)
{
    Desk *first = f->desk;
    kit_new_desk(f);
    kit_start(f);
    kit_edit(f, "job.allowance", allowance);
    desk_keep_draft(f->desk);
    kit_wait(f);
    Desk *made = f->desk;
    f->desk = first;
    return made;
}

static void
test_two_unsaved(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    static const char *const allowances[] = {"2.3 mm", "1.7 mm"};
    Desk *a = start_another(f, allowances[0]), *b = start_another(f, allowances[1]);
    g_assert_true(desk_has_draft(a) && desk_has_draft(b));
    g_auto(GStrv) held = draft_lost(); // both are being worked at
    g_assert_cmpuint(g_strv_length(held), ==, 0);
    g_assert_finalize_object(a);
    g_assert_finalize_object(b);

    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, 2);
    g_assert_true(desk_restore_lost(f->desk, lost[0], &error));
    g_assert_no_error(error);
    Desk *other = desk_new(f->tables);
    g_assert_false(desk_restore_lost(other, lost[0], &error));
    check_error(error, BASE_ERROR_FILE, "another window");
    g_auto(GStrv) left = draft_lost();
    g_assert_cmpuint(g_strv_length(left), ==, 1);
    g_assert_cmpstr(left[0], ==, lost[1]);
    g_assert_true(desk_restore_lost(other, lost[1], &error));
    const char *place = "/jobs/0/allowance", *one = kit_text(f, place);
    const char *two = node_text(node_get(book_root(desk_book(other)), place));
    g_assert_cmpstr(one, !=, two);
    for (int i = 0; i < 2; i++)
        g_assert_true(g_str_equal(one, allowances[i]) || g_str_equal(two, allowances[i]));
    g_assert_finalize_object(other);
}

// A new book left as it was, or undone to that, leaves no draft to offer.
static void
test_unchanged_leaves_none(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    desk_keep_draft(f->desk);
    desk_undo(f->desk);
    desk_close(f->desk);
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, 0);
}

static void
check_lost(guint n)
{
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, n);
}

static void
restore_only_lost(DeskKit *f)
{
    g_autoptr(GError) error = NULL;
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, 1);
    g_assert_true(desk_restore_lost(f->desk, lost[0], &error));
    g_assert_no_error(error);
}

// Another desk takes the one draft nobody holds and throws it away.
static void
restore_only_lost_elsewhere(DeskKit *f, const char *allowance)
{
    Desk *first = f->desk;
    kit_new_desk(f);
    restore_only_lost(f);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, allowance);
    g_autofree char *mesh = book_mesh_path(desk_book(f->desk), desk_job(f->desk));
    g_assert_cmpstr(mesh, ==, f->mesh);
    desk_discard_draft(f->desk);
    desk_close(f->desk);
    kit_wait(f);
    g_assert_finalize_object(f->desk);
    f->desk = first;
}

// To undo the restoring is not to throw the draft away: it is offered again after closing, and at
// once when something else is made of the book.
static void
test_restoring_undone(DeskKit *f, gconstpointer data)
{
    Desk *made = start_another(f, "2.3 mm");
    g_assert_finalize_object(made);
    restore_only_lost(f);
    desk_undo(f->desk);
    g_assert_false(desk_is_dirty(f->desk));
    desk_close(f->desk);
    restore_only_lost(f);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "2.3 mm");
    kit_edit(f, "job.allowance", "2.9 mm"); // goes into the draft
    desk_keep_draft(f->desk);
    desk_undo(f->desk);
    desk_undo(f->desk);
    check_lost(0); // redo leads to it
    kit_edit(f, "shop.hours", "7 h 20 min");
    desk_keep_draft(f->desk);
    restore_only_lost_elsewhere(f, "2.9 mm");
    g_assert_true(desk_has_draft(f->desk)); // of the hours
    desk_close(f->desk);
    check_lost(1);
}

// A book with a file whose draft nobody has answered: what is made of it meanwhile has a draft of
// its own, and a save keeps the other.
static void
test_draft_not_answered(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    kit_start(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    kit_edit(f, "job.allowance", "2.3 mm");
    desk_keep_draft(f->desk);
    desk_close(f->desk);
    g_assert_true(desk_open(f->desk, path, &error));
    kit_edit(f, "job.allowance", "1.9 mm");
    desk_keep_draft(f->desk);
    desk_close(f->desk);
    restore_only_lost_elsewhere(f, "1.9 mm");
    g_assert_true(desk_open(f->desk, path, &error));
    kit_edit(f, "job.quantity", "37");
    desk_keep_draft(f->desk);
    g_assert_true(desk_save(f->desk, &error));
    check_lost(0); // what was saved needs no draft
    g_assert_true(desk_has_draft(f->desk));
    // The file was saved after it: only while it is in hand would saving lose what is there.
    g_autofree char *draft = draft_path(path);
    struct utimbuf before = {1000000000, 1000000000};
    g_assert_cmpint(g_utime(draft, &before), ==, 0);
    g_assert_true(desk_restore_draft(f->desk, &error));
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_true(desk_is_overtaken(f->desk));
    g_assert_false(desk_save(f->desk, &error));
    check_error(error, BASE_ERROR_CHANGED, "save under another name");
    desk_undo(f->desk);
    g_assert_false(desk_is_overtaken(f->desk));
    kit_edit(f, "job.quantity", "38");
    desk_keep_draft(f->desk);
    g_assert_true(desk_save(f->desk, &error));
    g_assert_true(desk_has_draft(f->desk)); // still the first
    desk_discard_draft(f->desk);
    g_assert_false(desk_has_draft(f->desk));
    check_lost(0);
    g_assert_no_error(error);
}

// Another program writes the file while the book is open.
static void
test_overtaken(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    g_autofree char *text = NULL, *after = NULL;
    kit_start(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_assert_false(desk_is_overtaken(f->desk));
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    g_assert_true(g_file_set_contents(path, text, -1, NULL)); // the same again is no change
    g_assert_false(desk_is_overtaken(f->desk));
    g_autofree char *theirs = g_strconcat(text, "\n", NULL);
    g_assert_true(g_file_set_contents(path, theirs, -1, NULL));
    g_assert_true(desk_is_overtaken(f->desk));
    kit_edit(f, "job.allowance", "2.3 mm");
    g_assert_false(desk_save(f->desk, &error));
    check_error(error, BASE_ERROR_CHANGED, "changed by another program");
    g_assert_true(g_file_get_contents(path, &after, NULL, NULL));
    g_assert_cmpstr(after, ==, theirs);
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_true(desk_save_as(f->desk, path, TRUE, &error)); // said so
    g_assert_false(desk_is_overtaken(f->desk));
    kit_edit(f, "job.allowance", "1.9 mm");
    g_assert_true(desk_save(f->desk, &error));
    g_assert_cmpint(g_unlink(path), ==, 0); // gone: nothing there to overwrite
    g_assert_false(desk_is_overtaken(f->desk));
    kit_edit(f, "job.allowance", "2.1 mm");
    g_assert_true(desk_save(f->desk, &error));
    g_assert_no_error(error);
}

static int
fail_folder(const char *call)
{
    return g_str_equal(call, "folder") ? EIO : 0;
}

// What the disk did not confirm is not taken for another program's change.
static void
test_not_confirmed(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    kit_start(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    kit_edit(f, "job.allowance", "2.3 mm");
    store_fail_hook = fail_folder;
    g_assert_false(desk_save(f->desk, &error));
    store_fail_hook = NULL;
    check_error(error, BASE_ERROR_FILE, "did not confirm");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_true(desk_save(f->desk, &error));
    g_assert_no_error(error);
    g_assert_false(desk_is_dirty(f->desk));
}

// Becomes somebody who may not write everywhere, and `back` root again. FALSE: cannot.
static gboolean
step_down(gboolean back)
{
    if (back)
        return setresuid(0, 0, 0) == 0;
    return getuid() != 0 || setresuid(65534, 65534, 0) == 0;
}

// A book nobody here may write: it can be read and edited, its saving is refused with a way out,
// and that way works.
static void
test_read_only(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    gboolean root = getuid() == 0;
    g_autofree char *locked = g_build_filename(f->folder, "locked", NULL);
    g_autofree char *path = g_build_filename(locked, "shop.castbook", NULL);
    g_autofree char *open = g_build_filename(f->folder, "open", NULL);
    g_autofree char *copy = g_build_filename(open, "copy.castbook", NULL);
    g_assert_cmpint(g_mkdir(locked, 0755) | g_mkdir(open, 0755), ==, 0);
    kit_start(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_assert_cmpint(g_chmod(path, 0444) | g_chmod(locked, 0555) | g_chmod(f->folder, 0755), ==, 0);
    g_assert_cmpint(g_chmod(open, 0777), ==, 0);
    kit_wait(f);
    g_assert_true(step_down(FALSE));
    gboolean opened = desk_open(f->desk, path, &error);
    if (opened)
        kit_edit(f, "job.allowance", "2.3 mm");
    gboolean saved = desk_save(f->desk, &error);
    g_autofree char *words = error ? g_strdup(error->message) : g_strdup("");
    g_clear_error(&error);
    gboolean dirty = desk_is_dirty(f->desk), elsewhere = desk_save_as(f->desk, copy, FALSE, &error);
    g_assert_true(!root || step_down(TRUE));
    g_assert_no_error(error);
    g_assert_true(opened && !saved && dirty && elsewhere);
    g_assert_nonnull(strstr(words, "save it in another folder"));
    g_assert_cmpint(g_chmod(locked, 0755), ==, 0);
    g_autoptr(Book) kept = store_read(path, f->tables, &error);
    g_autoptr(Book) made = store_read(copy, f->tables, &error);
    g_assert_no_error(error);
    g_assert_null(node_text(node_get(book_root(kept), "/jobs/0/allowance")));
    g_assert_cmpstr(node_text(node_get(book_root(made), "/jobs/0/allowance")), ==, "2.3 mm");
}

static void
test_damaged_draft(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    DraftSlot *slot = draft_slot_new();
    g_autofree char *draft = g_strdup(draft_slot_path(slot));
    g_assert_true(g_file_set_contents(draft, "{\"format\": \"castb", -1, NULL));
    draft_slot_free(slot);
    g_assert_false(desk_restore_lost(f->desk, draft, &error));
    g_assert_nonnull(error);
    g_assert_null(desk_book(f->desk));
    g_auto(GStrv) lost = draft_lost(); // it is not thrown away behind anybody's back
    g_assert_cmpstr(lost[0], ==, draft);
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
    ADD("two-unsaved", test_two_unsaved);
    ADD("restoring-undone", test_restoring_undone);
    ADD("draft-not-answered", test_draft_not_answered);
    ADD("unchanged-leaves-none", test_unchanged_leaves_none);
    ADD("overtaken", test_overtaken);
    ADD("not-confirmed", test_not_confirmed);
    ADD("read-only", test_read_only);
    int status = g_test_run();
    check_folder_remove(home);
    return status;
}
