// SPDX-License-Identifier: GPL-3.0-or-later
// Stage results by digest of what they were made from. One lock; oldest out by count.
#pragma once

#include <glib.h>

#include "figure/figure.h"

G_BEGIN_DECLS

typedef struct Cache Cache;

Cache *cache_new(guint most_entries);
Cache *cache_ref(Cache *cache);
void cache_unref(Cache *cache);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Cache, cache_unref)

typedef struct {
    gpointer result; // NULL allowed
    gpointer (*ref)(gconstpointer);
    void (*unref)(gconstpointer);
    FigureList *figures;
    char *error;    // message, or NULL
    char *digest;   // of the result: figures and what later stages read
    double seconds; // it took
} CacheEntry;

CacheEntry *cache_entry_ref(const CacheEntry *entry);
void cache_entry_unref(const CacheEntry *entry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CacheEntry, cache_entry_unref)
CacheEntry *cache_entry_new(void);

CacheEntry *cache_find(Cache *cache, const char *key); // a reference, or NULL
void cache_keep(Cache *cache, const char *key, const CacheEntry *entry);
guint cache_size(Cache *cache);

G_END_DECLS
