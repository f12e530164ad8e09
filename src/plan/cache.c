// SPDX-License-Identifier: GPL-3.0-or-later
// Stage results by key, under one lock. When it is full the result used longest ago goes first.
#include "plan/cache.h"

struct Cache {
    GMutex lock;
    GHashTable *entries; // key -> Slot
    GQueue order;        // Slot *, used longest ago first
    guint most;
};

typedef struct {
    char *key;
    CacheEntry *entry;
    GList link;
} Slot;

static void
free_slot(gpointer data)
{
    Slot *slot = data;
    g_free(slot->key);
    cache_entry_unref(slot->entry);
    g_free(slot);
}

static void
clear_cache(gpointer data)
{
    Cache *cache = data;
    g_hash_table_unref(cache->entries);
    g_mutex_clear(&cache->lock);
}

static void
clear_entry(gpointer data)
{
    CacheEntry *entry = data;
    if (entry->result && entry->unref)
        entry->unref(entry->result);
    figure_list_unref(entry->figures);
    g_free(entry->error);
    g_free(entry->digest);
}

CacheEntry *
cache_entry_new(void)
{
    return g_atomic_rc_box_new0(CacheEntry);
}

CacheEntry *
cache_entry_ref(const CacheEntry *entry)
{
    return g_atomic_rc_box_acquire((CacheEntry *)entry);
}

void
cache_entry_unref(const CacheEntry *entry)
{
    if (entry)
        g_atomic_rc_box_release_full((CacheEntry *)entry, clear_entry);
}

Cache *
cache_new(guint most_entries)
{
    Cache *cache = g_atomic_rc_box_new0(Cache);
    g_mutex_init(&cache->lock);
    g_queue_init(&cache->order);
    cache->entries = g_hash_table_new_full(g_str_hash, g_str_equal, NULL, free_slot);
    cache->most = most_entries;
    return cache;
}

Cache *
cache_ref(Cache *cache)
{
    return g_atomic_rc_box_acquire(cache);
}

void
cache_unref(Cache *cache)
{
    if (cache)
        g_atomic_rc_box_release_full(cache, clear_cache);
}

CacheEntry *
cache_find(Cache *cache, const char *key)
{
    CacheEntry *entry = NULL;
    g_mutex_lock(&cache->lock);
    Slot *slot = g_hash_table_lookup(cache->entries, key);
    if (slot) {
        g_queue_unlink(&cache->order, &slot->link);
        g_queue_push_tail_link(&cache->order, &slot->link);
        entry = cache_entry_ref(slot->entry);
    }
    g_mutex_unlock(&cache->lock);
    return entry;
}

void
cache_keep(Cache *cache, const char *key, const CacheEntry *entry)
{
    g_mutex_lock(&cache->lock);
    if (!g_hash_table_contains(cache->entries, key)) {
        Slot *slot = g_new0(Slot, 1);
        slot->key = g_strdup(key);
        slot->entry = cache_entry_ref(entry);
        slot->link.data = slot;
        g_hash_table_insert(cache->entries, slot->key, slot);
        g_queue_push_tail_link(&cache->order, &slot->link);
        while (g_hash_table_size(cache->entries) > cache->most) {
            Slot *oldest = g_queue_pop_head_link(&cache->order)->data;
            g_hash_table_remove(cache->entries, oldest->key);
        }
    }
    g_mutex_unlock(&cache->lock);
}

guint
cache_size(Cache *cache)
{
    g_mutex_lock(&cache->lock);
    guint size = g_hash_table_size(cache->entries);
    g_mutex_unlock(&cache->lock);
    return size;
}
