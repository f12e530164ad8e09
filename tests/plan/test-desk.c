// SPDX-License-Identifier: GPL-3.0-or-later
// The desk as a window uses it: edits, undo, gestures, saving, drafts, and going away while busy.
#include "make.h"

#include <glib/gstdio.h>
#include <string.h>

#include "book/store.h"
#include "plan/desk.h"

typedef struct {
    Tables *tables;
    Desk *desk;
    char *folder, *mesh;
    guint books, plans, busy; // signals heard
} Fixture;

static void
on_book_changed_cb(Desk *desk, gpointer data)
{
    ((Fixture *)data)->books++;
}

static void
on_plan_changed_cb(Desk *desk, gpointer data)
{
    ((Fixture *)data)->plans++;
}

static void
on_busy_changed_cb(Desk *desk, gpointer data)
{
    ((Fixture *)data)->busy++;
}

static void
new_desk(Fixture *f)
{
    f->desk = desk_new(f->tables);
    g_signal_connect(f->desk, "book-changed", G_CALLBACK(on_book_changed_cb), f);
    g_signal_connect(f->desk, "plan-changed", G_CALLBACK(on_plan_changed_cb), f);
    g_signal_connect(f->desk, "busy-changed", G_CALLBACK(on_busy_changed_cb), f);
}

static void
set_up(Fixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    f->mesh = make_mesh_file(f->folder, "plate.stl", make_plate());
    new_desk(f);
}

static void
tear_down(Fixture *f, gconstpointer data)
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

static void
wait_until_idle(Fixture *f)
{
    while (desk_is_busy(f->desk))
        g_main_context_iteration(NULL, TRUE);
}

static void
edit(Fixture *f, const char *path, const char *text)
{
    g_autoptr(GError) error = NULL;
    desk_edit_field(f->desk, path, text, &error);
    g_assert_no_error(error);
}

static const char *
text_at(Fixture *f, const char *place)
{
    return node_text(node_get(book_root(desk_book(f->desk)), place));
}

// A book with the plate as its one job, quick to plan.
static void
start_book(Fixture *f)
{
    g_autoptr(Book) book = make_book(f->mesh, f->tables);
    desk_start(f->desk, book);
}

// The plan on the desk is that of its book and job from nothing.
static void
check_up_to_date(Fixture *f)
{
    g_assert_nonnull(desk_plan(f->desk));
    g_assert_true(plan_book(desk_plan(f->desk)) == desk_book(f->desk));
    g_autoptr(Plan) direct = make_plan(desk_book(f->desk), desk_job(f->desk), f->tables, NULL);
    g_autofree char *a = make_dump(desk_plan(f->desk));
    g_autofree char *b = make_dump(direct);
    check_same_dump(a, b, "desk and plan_make()");
}

static void
test_empty(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_assert_null(desk_book(f->desk));
    g_assert_null(desk_plan(f->desk));
    g_assert_null(desk_job(f->desk));
    g_assert_false(desk_is_dirty(f->desk));
    g_assert_false(desk_can_undo(f->desk));
    g_assert_null(desk_undo_label(f->desk));
    desk_undo(f->desk);
    desk_redo(f->desk);
    desk_begin_gesture(f->desk);
    desk_end_gesture(f->desk);
    desk_choose_job(f->desk, "part");
    desk_stop(f->desk);
    g_assert_false(desk_edit_field(f->desk, "job.allowance", "2 mm", &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no book is open");
    g_assert_false(desk_save(f->desk, &error));
    check_error(error, BASE_ERROR_FILE, "save it under a name");
    g_assert_false(desk_save_as(f->desk, "/nowhere/x.castbook", FALSE, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no book is open");
    g_assert_false(desk_add_job(f->desk, f->mesh, NULL, "mm", "a356", "3", &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no book is open");
    g_assert_false(desk_open(f->desk, "/nowhere/x.castbook", &error));
    check_error(error, BASE_ERROR_FILE, "x.castbook");
    g_assert_cmpuint(f->books, ==, 0);
}

static void
test_edit(Fixture *f, gconstpointer data)
{
    start_book(f);
    g_assert_cmpstr(desk_job(f->desk), ==, "part");
    g_assert_true(desk_is_busy(f->desk));
    wait_until_idle(f);
    g_assert_cmpuint(f->books, ==, 1);
    g_assert_cmpuint(f->busy, ==, 2);
    g_assert_false(desk_is_dirty(f->desk));
    check_up_to_date(f);
    double before = plan_figure(desk_plan(f->desk), "casting.volume")->value;

    f->plans = 0;
    edit(f, "job.allowance", "3.1 mm");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_cmpuint(f->books, ==, 2);
    wait_until_idle(f);
    g_assert_cmpuint(f->plans, >=, 1);
    g_assert_cmpfloat(plan_figure(desk_plan(f->desk), "casting.volume")->value, >, before);
    check_up_to_date(f);
}

static void
test_refused_edit(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    start_book(f);
    wait_until_idle(f);
    f->books = 0;
    g_assert_false(desk_edit_field(f->desk, "job.allowance", "3 furlongs", &error));
    g_assert_nonnull(error);
    g_clear_error(&error);
    g_assert_false(desk_edit_field(f->desk, "job.quantity", "0", &error));
    g_assert_nonnull(error);
    g_assert_cmpuint(f->books, ==, 0);
    g_assert_false(desk_is_dirty(f->desk));
    g_assert_false(desk_is_busy(f->desk));
}

// Typing the same again is no change and no undo step.
static void
test_same_again(Fixture *f, gconstpointer data)
{
    start_book(f);
    edit(f, "job.allowance", "2.3 mm");
    wait_until_idle(f);
    f->books = 0;
    edit(f, "job.allowance", "2.3 mm");
    g_assert_cmpuint(f->books, ==, 0);
    desk_undo(f->desk);
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, NULL);
    g_assert_false(desk_can_undo(f->desk));
}

static void
test_undo_redo(Fixture *f, gconstpointer data)
{
    start_book(f);
    edit(f, "job.allowance", "2.3 mm");
    edit(f, "job.draft", "2.7 deg");
    g_assert_cmpstr(desk_undo_label(f->desk), ==, "Change draft");
    desk_undo(f->desk);
    g_assert_cmpstr(text_at(f, "/jobs/0/draft"), ==, NULL);
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_cmpstr(desk_redo_label(f->desk), ==, "Change draft");
    g_assert_true(desk_is_dirty(f->desk));
    desk_undo(f->desk);
    g_assert_false(desk_is_dirty(f->desk)); // back where it began
    g_assert_false(desk_can_undo(f->desk));
    desk_redo(f->desk);
    desk_redo(f->desk);
    g_assert_false(desk_can_redo(f->desk));
    g_assert_cmpstr(text_at(f, "/jobs/0/draft"), ==, "2.7 deg");
    wait_until_idle(f);
    check_up_to_date(f);
}

static void
test_newest_wins(Fixture *f, gconstpointer data)
{
    start_book(f);
    for (int i = 0; i < 7; i++) {
        g_autofree char *text = g_strdup_printf("%d.7 mm", i);
        edit(f, "job.allowance", text);
        g_usleep(2000);
        g_main_context_iteration(NULL, FALSE);
    }
    wait_until_idle(f);
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, "6.7 mm");
    g_assert_null(desk_trouble(f->desk));
    check_up_to_date(f);
}

static void
test_gesture(Fixture *f, gconstpointer data)
{
    start_book(f);
    wait_until_idle(f);
    desk_begin_gesture(f->desk);
    edit(f, "job.allowance", "2.1 mm");
    wait_until_idle(f);
    g_assert_true(plan_stage_info(desk_plan(f->desk), STAGE_FREEZE).stale);
    g_assert_false(plan_stage_info(desk_plan(f->desk), STAGE_MOULD).stale);
    edit(f, "job.allowance", "2.9 mm");
    edit(f, "job.allowance", "3.3 mm");
    desk_end_gesture(f->desk);
    wait_until_idle(f);
    g_assert_false(plan_stage_info(desk_plan(f->desk), STAGE_FREEZE).stale);
    check_up_to_date(f);
    desk_undo(f->desk);
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, NULL);
    g_assert_false(desk_can_undo(f->desk));
    g_assert_false(desk_is_dirty(f->desk));
}

static void
test_add_job(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) ready = book_new_ready();
    desk_start(f->desk, ready);
    g_assert_null(desk_job(f->desk));
    g_assert_false(desk_is_busy(f->desk));
    g_assert_false(desk_add_job(f->desk, f->mesh, NULL, "mm", "unobtainium", "3", &error));
    g_assert_nonnull(error);
    g_clear_error(&error);
    g_assert_false(desk_add_job(f->desk, f->mesh, NULL, "mm", "a356", "0", &error));
    g_assert_nonnull(error);
    g_clear_error(&error);
    g_assert_false(desk_add_job(f->desk, f->mesh, NULL, "furlong", "a356", "3", &error));
    g_assert_nonnull(error);
    g_clear_error(&error);
    g_assert_false(desk_add_job(f->desk, "/nowhere/x.stl", NULL, "mm", "a356", "3", &error));
    check_error(error, BASE_ERROR_FILE, "x.stl");
    g_assert_cmpuint(book_job_count(desk_book(f->desk)), ==, 0);

    g_assert_true(desk_add_job(f->desk, f->mesh, NULL, "mm", "a356", "13", &error));
    g_assert_no_error(error);
    g_assert_cmpstr(desk_job(f->desk), ==, "plate");
    g_assert_cmpstr(desk_undo_label(f->desk), ==, "Add job");
    g_assert_true(desk_add_job(f->desk, f->mesh, NULL, "in", "za-12", "4", &error));
    g_assert_cmpstr(desk_job(f->desk), ==, "plate-2");
    // The plan of one job never stands under another's name.
    for (const char *job = "plate"; job; job = g_str_equal(job, "plate") ? "plate-2" : NULL) {
        desk_choose_job(f->desk, job);
        g_assert_true(!desk_plan(f->desk) || g_str_equal(plan_job(desk_plan(f->desk)), job));
        edit(f, "job.cells", "24");
        wait_until_idle(f);
        g_assert_cmpstr(plan_job(desk_plan(f->desk)), ==, job);
    }
    desk_undo(f->desk);
    desk_undo(f->desk);
    desk_undo(f->desk);
    g_assert_cmpstr(desk_job(f->desk), ==, "plate"); // the other is gone
    desk_undo(f->desk);
    g_assert_null(desk_job(f->desk));
    g_assert_null(desk_plan(f->desk));
    g_assert_false(desk_is_busy(f->desk));
}

static void
test_save(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    start_book(f);
    edit(f, "job.allowance", "2.3 mm");
    g_assert_false(desk_save(f->desk, &error));
    check_error(error, BASE_ERROR_FILE, "no file yet");
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(desk_path(f->desk), ==, path);
    g_assert_false(desk_is_dirty(f->desk));
    g_assert_cmpstr(text_at(f, "/jobs/0/mesh"), ==, "plate.stl"); // now beside the book
    desk_undo(f->desk);
    g_assert_true(desk_is_dirty(f->desk));
    desk_redo(f->desk);
    g_assert_false(desk_is_dirty(f->desk));

    edit(f, "job.draft", "1.3 deg");
    g_assert_true(desk_save(f->desk, &error));
    g_assert_false(desk_save_as(f->desk, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "shop.castbook");
    wait_until_idle(f);

    Desk *again = desk_new(f->tables);
    g_assert_true(desk_open(again, path, &error));
    g_assert_no_error(error);
    g_assert_true(node_equal(book_root(desk_book(again)), book_root(desk_book(f->desk))));
    g_assert_cmpstr(desk_path(again), ==, path);
    g_assert_finalize_object(again);
}

static void
test_save_elsewhere(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    g_autofree char *folder = g_build_filename(f->folder, "away", NULL);
    g_autofree char *away = g_build_filename(folder, "copy.castbook", NULL);
    g_mkdir(folder, 0700);
    start_book(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    edit(f, "job.allowance", "2.3 mm");
    g_assert_true(desk_save_as(f->desk, away, FALSE, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(text_at(f, "/jobs/0/mesh"), ==, f->mesh);
    wait_until_idle(f);
    g_assert_nonnull(plan_part(desk_plan(f->desk)));
    desk_undo(f->desk);
    wait_until_idle(f);
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
test_save_fails(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "no", "such", "x.castbook", NULL);
    start_book(f);
    edit(f, "job.allowance", "2.3 mm");
    g_assert_false(desk_save_as(f->desk, path, TRUE, &error));
    check_error(error, BASE_ERROR_FILE, "x.castbook");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_null(desk_path(f->desk));
    g_assert_cmpstr(text_at(f, "/jobs/0/mesh"), ==, f->mesh);
}

static void
wait_for_draft(Fixture *f)
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
test_draft(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(f->folder, "shop.castbook", NULL);
    start_book(f);
    g_assert_true(desk_save_as(f->desk, path, FALSE, &error));
    g_assert_false(desk_has_draft(f->desk));
    g_assert_false(desk_restore_draft(f->desk, &error));
    g_assert_nonnull(error);
    g_clear_error(&error);
    edit(f, "job.allowance", "2.3 mm");
    wait_for_draft(f);
    wait_until_idle(f);
    g_assert_finalize_object(f->desk); // gone without saving

    new_desk(f);
    g_assert_true(desk_open(f->desk, path, &error));
    g_assert_true(desk_has_draft(f->desk));
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, NULL);
    g_assert_true(desk_restore_draft(f->desk, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_cmpstr(desk_undo_label(f->desk), ==, "Restore draft");
    g_assert_true(desk_is_dirty(f->desk));
    g_autofree char *whole = book_mesh_path(desk_book(f->desk), "part");
    g_assert_cmpstr(whole, ==, f->mesh);
    g_assert_true(desk_save(f->desk, &error));
    g_assert_false(desk_has_draft(f->desk));
}

static void
test_draft_discarded(Fixture *f, gconstpointer data)
{
    start_book(f);
    edit(f, "job.allowance", "2.3 mm");
    wait_for_draft(f);
    desk_discard_draft(f->desk);
    g_assert_false(desk_has_draft(f->desk));
}

// Nothing of an unsaved book was ever written, so what comes back from its draft is a change.
static void
test_draft_of_unsaved(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    start_book(f);
    edit(f, "job.allowance", "2.3 mm");
    wait_for_draft(f);
    wait_until_idle(f);
    g_assert_finalize_object(f->desk);
    new_desk(f);
    g_assert_true(desk_has_draft(f->desk));
    g_assert_true(desk_restore_draft(f->desk, &error));
    g_assert_no_error(error);
    g_assert_cmpstr(text_at(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_null(desk_path(f->desk));
}

static void
test_damaged_draft(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *draft = store_draft_path(NULL);
    g_assert_true(g_file_set_contents(draft, "{\"format\": \"castb", -1, NULL));
    g_assert_true(desk_has_draft(f->desk));
    g_assert_false(desk_restore_draft(f->desk, &error));
    g_assert_nonnull(error);
    g_assert_null(desk_book(f->desk));
}

// What an older run still posts must not reach a desk whose book was closed.
static void
test_close_while_busy(Fixture *f, gconstpointer data)
{
    for (int i = 0; i < 6; i++) {
        start_book(f);
        g_usleep(i * i * 2000);
        desk_close(f->desk);
        g_assert_null(desk_book(f->desk));
        g_assert_false(desk_is_busy(f->desk));
        for (int k = 0; k < 30; k++) {
            g_usleep(1000);
            g_main_context_iteration(NULL, FALSE);
        }
        g_assert_null(desk_plan(f->desk));
        g_assert_null(desk_job(f->desk));
        g_assert_null(desk_trouble(f->desk));
    }
    start_book(f); // and finalised while busy, by tear_down
    edit(f, "job.allowance", "2.3 mm");
}

static void
test_stop(Fixture *f, gconstpointer data)
{
    start_book(f);
    desk_stop(f->desk);
    wait_until_idle(f);
    g_assert_cmpstr(desk_trouble(f->desk), ==, "stopped");
    edit(f, "job.allowance", "2.3 mm");
    wait_until_idle(f);
    g_assert_null(desk_trouble(f->desk));
    check_up_to_date(f);
}

int
main(int argc, char **argv)
{
    g_autofree char *home = check_folder();
    g_setenv("XDG_DATA_HOME", home, TRUE);
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/plan/desk/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("empty", test_empty);
    ADD("edit", test_edit);
    ADD("refused-edit", test_refused_edit);
    ADD("same-again", test_same_again);
    ADD("undo-redo", test_undo_redo);
    ADD("newest-wins", test_newest_wins);
    ADD("gesture", test_gesture);
    ADD("add-job", test_add_job);
    ADD("save", test_save);
    ADD("save-elsewhere", test_save_elsewhere);
    ADD("save-fails", test_save_fails);
    ADD("draft", test_draft);
    ADD("draft-discarded", test_draft_discarded);
    ADD("draft-of-unsaved", test_draft_of_unsaved);
    ADD("damaged-draft", test_damaged_draft);
    ADD("close-while-busy", test_close_while_busy);
    ADD("stop", test_stop);
    int status = g_test_run();
    check_folder_remove(home);
    return status;
}
