// SPDX-License-Identifier: GPL-3.0-or-later
// What holds each session of a batch back: nothing where it pours all that is left, else what the
// engine has found by trying a little more of one thing at a time.
#include <glib/gi18n-lib.h>

#include "plan/batch-private.h"
#include "session/bottleneck.h"

void
batch_take_alone(BatchSession *session)
{
    g_return_if_fail(session);
    session->held = BATCH_HELD_MIX;
    session->held_why = g_strdup(_("The other jobs wait for a session of their own."));
}

gboolean
batch_find_held(const BatchDraft *draft, BatchEngine *engine, guint day, BatchSession *session,
                int *left, GError **error)
{
    guint n = draft->plan->n_jobs;
    g_autofree int *before = g_memdup2(left, sizeof(int) * n);
    gboolean more = FALSE;
    for (guint i = 0; i < session->n_pours; i++)
        left[session->pours[i].job] -= session->pours[i].flasks;
    for (guint j = 0; j < n; j++)
        more = more || left[j] > 0;
    if (more)
        return engine->hold(engine, day, session, before, draft->progress, error);
    session->held = BATCH_HELD_NOTHING;
    return TRUE;
}

char *
batch_loads_words(int loads, int shared)
{
    if (shared > 0 && shared == loads)
        return g_strdup_printf(ngettext("%d shared load", "%d shared loads", loads), loads);
    g_autofree char *all = g_strdup_printf(ngettext("%d load", "%d loads", loads), loads);
    if (shared == 0)
        return g_steal_pointer(&all);
    // Translators: of loads, so many are shared with another job: "3 loads, 1 shared".
    return g_strdup_printf(ngettext("%s, %d shared", "%s, %d shared", shared), all, shared);
}

const char *
batch_held_words(const char *held)
{
    if (g_strcmp0(held, BATCH_HELD_NOTHING) == 0)
        return _("pours all that is left");
    if (g_strcmp0(held, BATCH_HELD_MIX) == 0)
        return _("pours all that is left of its jobs");
    return session_bottleneck_held(held);
}

char *
batch_session_words(const BatchSession *session)
{
    g_return_val_if_fail(session, NULL);
    const char *held = batch_held_words(session->held);
    g_autofree char *loads = batch_loads_words(session->loads, session->shared);
    return held ? g_strdup_printf("%s \u00b7 %s", loads, held) : g_steal_pointer(&loads);
}
