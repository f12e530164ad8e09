// SPDX-License-Identifier: GPL-3.0-or-later
// What the log has taught, by field path; read when blank fields are filled.
#include <math.h>

#include "book/inputs.h"

struct Learned {
    GHashTable *values; // path -> LearnedValue, which owns the path
};

static void
free_value(gpointer data)
{
    LearnedValue *value = data;
    g_free(value->path);
    g_free(value->source);
    g_free(value);
}

static void
clear_learned(gpointer data)
{
    g_hash_table_unref(((Learned *)data)->values);
}

Learned *
learned_new(void)
{
    Learned *learned = g_atomic_rc_box_new0(Learned);
    learned->values = g_hash_table_new_full(g_str_hash, g_str_equal, NULL, free_value);
    return learned;
}

// To be called before the values are handed on; after that they do not change.
void
learned_set(Learned *learned, const char *path, double value, const char *source)
{
    g_return_if_fail(learned != NULL && path != NULL && source != NULL && isfinite(value));
    LearnedValue *kept = g_new0(LearnedValue, 1);
    kept->path = g_strdup(path);
    kept->value = value;
    kept->source = g_strdup(source);
    g_hash_table_replace(learned->values, kept->path, kept);
}

const LearnedValue *
learned_find(const Learned *learned, const char *path)
{
    return learned ? g_hash_table_lookup(learned->values, path) : NULL;
}

guint
learned_size(const Learned *learned)
{
    return learned ? g_hash_table_size(learned->values) : 0;
}

Learned *
learned_ref(Learned *learned)
{
    return g_atomic_rc_box_acquire(learned);
}

void
learned_unref(Learned *learned)
{
    if (learned)
        g_atomic_rc_box_release_full(learned, clear_learned);
}
