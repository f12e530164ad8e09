// SPDX-License-Identifier: GPL-3.0-or-later
// From keys to kinds and numbers.
#include "session/pinned.h"

#include "book/pins.h"
#include "session/name.h"

GArray *
session_pins_read(const char *text, const UnitSet *units, GError **error)
{
    g_return_val_if_fail(units, NULL);
    GArray *pins = g_array_new(FALSE, FALSE, sizeof(SessionPin));
    g_autoptr(GArray) words = text ? pins_read(text, units, error) : NULL;
    if (text && !words)
        g_clear_pointer(&pins, g_array_unref);
    for (guint i = 0; words && i < words->len; i++) {
        const Pin *word = &g_array_index(words, Pin, i);
        SessionPin pin = {.at = word->at};
        if (!session_key_read(word->key, &pin.kind, &pin.number))
            continue;
        if (pin.kind == TASK_RAM) // a mould whose steps are told apart
            pin.kind = TASK_RAM_DRAG;
        g_array_append_val(pins, pin);
    }
    return pins;
}

static gboolean
is_of(const SessionPin *pin, const SessionTask *task)
{
    TaskKind kind;
    int number;
    return task->kind == pin->kind && task->key && session_key_read(task->key, &kind, &number) &&
           number == pin->number;
}

guint
session_pins_count_idle(const SessionPin *pins, guint n_pins, const SessionTask *tasks,
                        guint n_tasks)
{
    guint idle = 0;
    for (guint i = 0; i < n_pins; i++) {
        gboolean found = FALSE;
        for (guint j = 0; j < n_tasks && !found; j++)
            found = is_of(&pins[i], &tasks[j]);
        idle += !found || pins[i].kind == TASK_COOL;
    }
    return idle;
}
