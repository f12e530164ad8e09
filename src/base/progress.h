// SPDX-License-Identifier: GPL-3.0-or-later
// What every long function is handed: it tells how far it is, and asks whether to stop.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct Progress Progress;

Progress *progress_new(void);
Progress *progress_ref(Progress *progress);
void progress_unref(Progress *progress); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Progress, progress_unref)

// All of these may be called from any thread, and with NULL (nothing told, never stopped).
void progress_stop(Progress *progress);
gboolean progress_stopped(const Progress *progress);
void progress_set_fraction(Progress *progress, double fraction); // 0 to 1
double progress_get_fraction(const Progress *progress);
void progress_set_words(Progress *progress, const char *words); // a static string
const char *progress_get_words(const Progress *progress);

// TRUE while work may go on; else sets BASE_ERROR_CANCELLED. Ask at least every 20 ms of work.
gboolean progress_check(const Progress *progress, GError **error);

G_END_DECLS
