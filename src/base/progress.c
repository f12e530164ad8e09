// SPDX-License-Identifier: GPL-3.0-or-later
// A stop flag, a fraction and a word, each atomic, shared by the worker and whoever watches it.
#include "base/progress.h"

#include "base/error.h"

struct Progress {
    int stop;
    int millionths;
    const char *words;
};

Progress *
progress_new(void)
{
    return g_atomic_rc_box_new0(Progress);
}

Progress *
progress_ref(Progress *progress)
{
    return g_atomic_rc_box_acquire(progress);
}

void
progress_unref(Progress *progress)
{
    if (progress)
        g_atomic_rc_box_release(progress);
}

void
progress_stop(Progress *progress)
{
    if (progress)
        g_atomic_int_set(&progress->stop, 1);
}

gboolean
progress_stopped(const Progress *progress)
{
    return progress && g_atomic_int_get(&((Progress *)progress)->stop) != 0;
}

void
progress_set_fraction(Progress *progress, double fraction)
{
    if (progress)
        g_atomic_int_set(&progress->millionths, (int)(CLAMP(fraction, 0.0, 1.0) * 1e6));
}

double
progress_get_fraction(const Progress *progress)
{
    return progress ? g_atomic_int_get(&((Progress *)progress)->millionths) / 1e6 : 0.0;
}

void
progress_set_words(Progress *progress, const char *words)
{
    if (progress)
        g_atomic_pointer_set(&progress->words, words);
}

const char *
progress_get_words(const Progress *progress)
{
    const char *words = progress ? g_atomic_pointer_get(&((Progress *)progress)->words) : NULL;
    return words ? words : "";
}

gboolean
progress_check(const Progress *progress, GError **error)
{
    if (!progress_stopped(progress))
        return TRUE;
    return base_error_set(error, BASE_ERROR_CANCELLED, NULL, NULL, "stopped", NULL);
}
