// SPDX-License-Identifier: GPL-3.0-or-later
// The desk as a window uses it: edits, undo, gestures, jobs, and going away while busy.
#include "desk-kit.h"

static void
test_empty(DeskKit *f, gconstpointer data)
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
test_edit(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    g_assert_cmpstr(desk_job(f->desk), ==, "part");
    g_assert_true(desk_is_busy(f->desk));
    kit_wait(f);
    g_assert_cmpuint(f->books, ==, 1);
    g_assert_cmpuint(f->busy, ==, 2);
    g_assert_false(desk_is_dirty(f->desk));
    kit_check_plan(f);
    double before = plan_figure(desk_plan(f->desk), "casting.volume")->value;

    f->plans = 0;
    kit_edit(f, "job.allowance", "3.1 mm");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_cmpuint(f->books, ==, 2);
    kit_wait(f);
    g_assert_cmpuint(f->plans, >=, 1);
    g_assert_cmpfloat(plan_figure(desk_plan(f->desk), "casting.volume")->value, >, before);
    kit_check_plan(f);
}

static void
test_refused_edit(DeskKit *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    kit_start(f);
    kit_wait(f);
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
test_same_again(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    kit_wait(f);
    f->books = 0;
    kit_edit(f, "job.allowance", "2.3 mm");
    g_assert_cmpuint(f->books, ==, 0);
    desk_undo(f->desk);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, NULL);
    g_assert_false(desk_can_undo(f->desk));
}

static void
test_undo_redo(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    kit_edit(f, "job.allowance", "2.3 mm");
    kit_edit(f, "job.draft", "2.7 deg");
    g_assert_cmpstr(desk_undo_label(f->desk), ==, "Change draft");
    desk_undo(f->desk);
    g_assert_cmpstr(kit_text(f, "/jobs/0/draft"), ==, NULL);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "2.3 mm");
    g_assert_cmpstr(desk_redo_label(f->desk), ==, "Change draft");
    g_assert_true(desk_is_dirty(f->desk));
    desk_undo(f->desk);
    g_assert_false(desk_is_dirty(f->desk)); // back where it began
    g_assert_false(desk_can_undo(f->desk));
    desk_redo(f->desk);
    desk_redo(f->desk);
    g_assert_false(desk_can_redo(f->desk));
    g_assert_cmpstr(kit_text(f, "/jobs/0/draft"), ==, "2.7 deg");
    kit_wait(f);
    kit_check_plan(f);
}

static void
test_newest_wins(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    for (int i = 0; i < 7; i++) {
        g_autofree char *text = g_strdup_printf("%d.7 mm", i);
        kit_edit(f, "job.allowance", text);
        g_usleep(2000);
        g_main_context_iteration(NULL, FALSE);
    }
    kit_wait(f);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, "6.7 mm");
    g_assert_null(desk_trouble(f->desk));
    kit_check_plan(f);
}

static void
test_gesture(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    kit_wait(f);
    desk_begin_gesture(f->desk);
    kit_edit(f, "job.allowance", "2.1 mm");
    kit_wait(f);
    g_assert_true(plan_stage_info(desk_plan(f->desk), STAGE_FREEZE).stale);
    g_assert_false(plan_stage_info(desk_plan(f->desk), STAGE_MOULD).stale);
    kit_edit(f, "job.allowance", "2.9 mm");
    kit_edit(f, "job.allowance", "3.3 mm");
    desk_end_gesture(f->desk);
    kit_wait(f);
    g_assert_false(plan_stage_info(desk_plan(f->desk), STAGE_FREEZE).stale);
    kit_check_plan(f);
    desk_undo(f->desk);
    g_assert_cmpstr(kit_text(f, "/jobs/0/allowance"), ==, NULL);
    g_assert_false(desk_can_undo(f->desk));
    g_assert_false(desk_is_dirty(f->desk));
}

static void
test_add_job(DeskKit *f, gconstpointer data)
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
        kit_edit(f, "job.cells", "24");
        kit_wait(f);
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

// What an older run still posts must not reach a desk whose book was closed.
static void
test_close_while_busy(DeskKit *f, gconstpointer data)
{
    for (int i = 0; i < 6; i++) {
        kit_start(f);
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
    kit_start(f); // and finalised while busy, by tear_down
    kit_edit(f, "job.allowance", "2.3 mm");
}

static void
test_stop(DeskKit *f, gconstpointer data)
{
    kit_start(f);
    desk_stop(f->desk);
    kit_wait(f);
    g_assert_cmpstr(desk_trouble(f->desk), ==, "stopped");
    kit_edit(f, "job.allowance", "2.3 mm");
    kit_wait(f);
    g_assert_null(desk_trouble(f->desk));
    kit_check_plan(f);
}

int
main(int argc, char **argv)
{
    g_autofree char *home = check_folder();
    g_setenv("XDG_DATA_HOME", home, TRUE);
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/plan/desk/" name, DeskKit, NULL, kit_set_up, function, kit_tear_down)
    ADD("empty", test_empty);
    ADD("edit", test_edit);
    ADD("refused-edit", test_refused_edit);
    ADD("same-again", test_same_again);
    ADD("undo-redo", test_undo_redo);
    ADD("newest-wins", test_newest_wins);
    ADD("gesture", test_gesture);
    ADD("add-job", test_add_job);
    ADD("close-while-busy", test_close_while_busy);
    ADD("stop", test_stop);
    int status = g_test_run();
    check_folder_remove(home);
    return status;
}
