// SPDX-License-Identifier: GPL-3.0-or-later
// Stopping, telling how far, from this thread and another; and doing without a Progress.
#include "base/progress.h"

#include "check.h"

static void
test_fresh(void)
{
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    g_assert_cmpfloat(progress_get_fraction(progress), ==, 0.0);
    g_assert_cmpstr(progress_get_words(progress), ==, "");
    g_assert_false(progress_stopped(progress));
    g_assert_true(progress_check(progress, &error));
    g_assert_no_error(error);
}

static void
test_told(void)
{
    g_autoptr(Progress) progress = progress_new();
    progress_set_fraction(progress, 0.371);
    g_assert_cmpfloat_with_epsilon(progress_get_fraction(progress), 0.371, 1e-6);
    progress_set_fraction(progress, 1.7);
    g_assert_cmpfloat(progress_get_fraction(progress), ==, 1.0);
    progress_set_fraction(progress, -0.2);
    g_assert_cmpfloat(progress_get_fraction(progress), ==, 0.0);
    progress_set_words(progress, "Searching the pull");
    g_assert_cmpstr(progress_get_words(progress), ==, "Searching the pull");
    progress_set_words(progress, NULL);
    g_assert_cmpstr(progress_get_words(progress), ==, "");
}

static void
test_stop(void)
{
    g_autoptr(Progress) progress = progress_new();
    GError *error = NULL;
    progress_stop(progress);
    progress_stop(progress);
    g_assert_true(progress_stopped(progress));
    g_assert_false(progress_check(progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "stopped");
    g_assert_false(progress_check(progress, NULL));
}

static void
test_none(void)
{
    GError *error = NULL;
    progress_stop(NULL);
    progress_set_fraction(NULL, 0.5);
    progress_set_words(NULL, "x");
    progress_unref(NULL);
    g_assert_false(progress_stopped(NULL));
    g_assert_cmpfloat(progress_get_fraction(NULL), ==, 0.0);
    g_assert_cmpstr(progress_get_words(NULL), ==, "");
    g_assert_true(progress_check(NULL, &error));
    g_assert_no_error(error);
}

static gpointer
work_until_stopped(gpointer data)
{
    g_autoptr(Progress) progress = data;
    double fraction = 0.0;
    while (progress_check(progress, NULL)) {
        fraction = MIN(fraction + 1e-3, 1.0);
        progress_set_fraction(progress, fraction);
        progress_set_words(progress, fraction < 0.5 ? "first half" : "second half");
        g_thread_yield();
    }
    return NULL;
}

// The other thread holds its own reference, and ends when told.
static void
test_other_thread(void)
{
    Progress *progress = progress_new();
    GThread *thread = g_thread_new("work", work_until_stopped, progress_ref(progress));
    while (progress_get_fraction(progress) < 0.01)
        g_thread_yield();
    g_assert_cmpstr(progress_get_words(progress), !=, "");
    progress_stop(progress);
    g_thread_join(thread);
    progress_unref(progress);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/base/progress/fresh", test_fresh);
    g_test_add_func("/base/progress/told", test_told);
    g_test_add_func("/base/progress/stop", test_stop);
    g_test_add_func("/base/progress/none", test_none);
    g_test_add_func("/base/progress/other-thread", test_other_thread);
    return g_test_run();
}
