// SPDX-License-Identifier: GPL-3.0-or-later
// Drafts: one place a book, and slots that are held, left behind, taken over and thrown away.
#include "book/draft.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>
#include <utime.h>

#include "check.h"

static void
test_path(void)
{
    g_autofree char *a = draft_path("/x/a.castbook");
    g_autofree char *same = draft_path("/x/../x/a.castbook");
    g_autofree char *b = draft_path("/x/b.castbook");
    g_assert_cmpstr(a, ==, same);
    g_assert_cmpstr(a, !=, b);
    g_assert_true(g_str_has_prefix(a, g_get_user_data_dir()));
    g_assert_true(g_file_set_contents(a, "{}", -1, NULL)); // its folder is there
    g_auto(GStrv) lost = draft_lost();                     // and it is nobody's lost draft
    g_assert_cmpuint(g_strv_length(lost), ==, 0);
}

// A slot with something in it, changed at `when` (Unix time). Its path, free.
static char *
leave_draft(DraftSlot *slot, time_t when)
{
    char *path = g_strdup(draft_slot_path(slot));
    struct utimbuf times = {when, when};
    g_assert_true(g_file_set_contents(path, "{}", -1, NULL));
    g_assert_cmpint(utime(path, &times), ==, 0);
    draft_slot_free(slot);
    return path;
}

static void
test_slots(void)
{
    DraftSlot *one = draft_slot_new(), *two = draft_slot_new();
    g_assert_nonnull(one);
    g_assert_nonnull(two);
    g_assert_cmpstr(draft_slot_path(one), !=, draft_slot_path(two));
    g_autofree char *younger = leave_draft(one, 1800000000);
    g_assert_true(g_file_set_contents(draft_slot_path(two), "{}", -1, NULL));
    g_assert_null(draft_slot_take(draft_slot_path(two)));
    g_assert_false(draft_discard(draft_slot_path(two)));
    g_auto(GStrv) first = draft_lost();
    g_assert_cmpuint(g_strv_length(first), ==, 1);
    g_autofree char *older = leave_draft(two, 1700000000);
    g_auto(GStrv) both = draft_lost();
    g_assert_cmpuint(g_strv_length(both), ==, 2);
    g_assert_cmpstr(both[0], ==, older);
    g_assert_cmpstr(both[1], ==, younger);

    DraftSlot *taken = draft_slot_take(older);
    g_assert_cmpstr(draft_slot_path(taken), ==, older);
    g_assert_null(draft_slot_take(older));
    draft_slot_free(taken);
    g_assert_true(draft_discard(older));
    g_assert_false(draft_discard(older));
    g_assert_null(draft_slot_take(older));
    g_assert_true(draft_discard(younger));
    g_auto(GStrv) none = draft_lost();
    g_assert_cmpuint(g_strv_length(none), ==, 0);
}

// The slot of a program that dies is free; while it lives, it is not.
static void
test_other_program(void)
{
    int to_parent[2], to_child[2];
    char path[1000] = "", go = 'x';
    g_assert_cmpint(pipe(to_parent) | pipe(to_child), ==, 0);
    pid_t child = fork();
    if (child == 0) {
        DraftSlot *slot = draft_slot_new();
        g_file_set_contents(draft_slot_path(slot), "{}", -1, NULL);
        gboolean told = write(to_parent[1], draft_slot_path(slot), strlen(draft_slot_path(slot))) >
                        0;
        _exit(told && read(to_child[0], &go, 1) == 1 ? 0 : 1); // without letting go
    }
    g_assert_cmpint(read(to_parent[0], path, sizeof path - 1), >, 0);
    g_auto(GStrv) held = draft_lost();
    g_assert_cmpuint(g_strv_length(held), ==, 0);
    g_assert_cmpint(write(to_child[1], &go, 1), ==, 1);
    int status;
    g_assert_cmpint(waitpid(child, &status, 0), ==, child);
    g_assert_cmpint(status, ==, 0);
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, 1);
    g_assert_cmpstr(lost[0], ==, path);
    g_assert_true(draft_discard(path));
    for (int i = 0; i < 2; i++) {
        close(to_parent[i]);
        close(to_child[i]);
    }
}

// Where nothing can be kept there is no slot; what an older version left is offered all the same.
static void
test_odd_places(void)
{
    g_autofree char *folder = g_build_filename(g_get_user_data_dir(), "flaskwright", "drafts",
                                               NULL);
    g_autofree char *old = g_build_filename(folder, "unsaved.castbook", NULL);
    g_assert_true(g_file_set_contents(old, "{}", -1, NULL));
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpstr(lost[0], ==, old);
    g_assert_true(draft_discard(old));
    check_folder_remove(folder);
    g_assert_true(g_file_set_contents(folder, "in the way", -1, NULL));
    g_assert_null(draft_slot_new());
    g_auto(GStrv) none = draft_lost();
    g_assert_cmpuint(g_strv_length(none), ==, 0);
}

int
main(int argc, char **argv)
{
    g_autofree char *home = check_folder(); // in place of the user's own
    g_setenv("XDG_DATA_HOME", home, TRUE);
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/draft/path", test_path);
    g_test_add_func("/book/draft/slots", test_slots);
    g_test_add_func("/book/draft/other-program", test_other_program);
    g_test_add_func("/book/draft/odd-places", test_odd_places);
    int result = g_test_run();
    check_folder_remove(home);
    return result;
}
