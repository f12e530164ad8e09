// SPDX-License-Identifier: GPL-3.0-or-later
// Results by key: found again, oldest out, each freed once, and safe between threads.
#include "check.h"

#include "plan/cache.h"

static int living; // results made and not yet freed; atomic

static gpointer
ref_result(gconstpointer result)
{
    g_atomic_int_inc(&living);
    return (gpointer)result;
}

static void
unref_result(gconstpointer result)
{
    g_atomic_int_add(&living, -1);
}

static CacheEntry *
make_entry(const char *error)
{
    CacheEntry *entry = cache_entry_new();
    entry->result = ref_result(&living);
    entry->ref = ref_result;
    entry->unref = unref_result;
    entry->figures = figure_list_new();
    entry->error = g_strdup(error);
    entry->digest = g_strdup(error);
    return entry;
}

static void
keep(Cache *cache, const char *key)
{
    g_autoptr(CacheEntry) entry = make_entry(key);
    cache_keep(cache, key, entry);
}

// The error text of what is under `key` stands for the whole entry.
static void
check_holds(Cache *cache, const char *key, const char *error)
{
    g_autoptr(CacheEntry) entry = cache_find(cache, key);
    g_assert_cmpstr(entry ? entry->error : NULL, ==, error);
}

static void
test_find_and_keep(void)
{
    Cache *cache = cache_new(7);
    check_holds(cache, "nothing", NULL);
    keep(cache, "one");
    keep(cache, "other");
    check_holds(cache, "one", "one");
    check_holds(cache, "other", "other");
    check_holds(cache, "on", NULL);
    g_assert_cmpuint(cache_size(cache), ==, 2);
    cache_unref(cache);
    g_assert_cmpint(living, ==, 0);
}

static void
test_first_stays(void)
{
    g_autoptr(Cache) cache = cache_new(7);
    g_autoptr(CacheEntry) first = make_entry("first");
    g_autoptr(CacheEntry) second = make_entry("second");
    cache_keep(cache, "key", first);
    cache_keep(cache, "key", second);
    check_holds(cache, "key", "first");
    g_assert_cmpuint(cache_size(cache), ==, 1);
}

// What was looked at last stays longest, whether it was kept or found.
static void
test_oldest_out(void)
{
    g_autoptr(Cache) cache = cache_new(3);
    keep(cache, "a");
    keep(cache, "b");
    keep(cache, "c");
    check_holds(cache, "a", "a");
    keep(cache, "d");
    g_assert_cmpuint(cache_size(cache), ==, 3);
    check_holds(cache, "b", NULL);
    check_holds(cache, "a", "a");
    check_holds(cache, "c", "c");
    check_holds(cache, "d", "d");
    g_assert_cmpint(living, ==, 3);
}

static void
test_entry_outlives_cache(void)
{
    Cache *cache = cache_new(1);
    keep(cache, "a");
    g_autoptr(CacheEntry) held = cache_find(cache, "a");
    keep(cache, "b");
    cache_unref(cache);
    g_assert_cmpint(living, ==, 1);
    g_assert_cmpstr(held->error, ==, "a");
}

static void
test_none_kept(void)
{
    g_autoptr(Cache) cache = cache_new(0);
    keep(cache, "a");
    check_holds(cache, "a", NULL);
    g_assert_cmpuint(cache_size(cache), ==, 0);
}

#define ROUNDS 3000
#define KEYS 13

static gpointer
use_cache(gpointer data)
{
    Cache *cache = data;
    for (int i = 0; i < ROUNDS; i++) {
        g_autofree char *key = g_strdup_printf("key %d", (i * 7) % KEYS);
        g_autoptr(CacheEntry) entry = cache_find(cache, key);
        if (entry)
            g_assert_cmpstr(entry->error, ==, key);
        else
            keep(cache, key);
    }
    return NULL;
}

static void
test_threads(void)
{
    Cache *cache = cache_new(5);
    GThread *threads[4];
    for (guint i = 0; i < G_N_ELEMENTS(threads); i++)
        threads[i] = g_thread_new("cache", use_cache, cache);
    for (guint i = 0; i < G_N_ELEMENTS(threads); i++)
        g_thread_join(threads[i]);
    g_assert_cmpuint(cache_size(cache), ==, 5);
    g_assert_cmpint(living, ==, 5);
    cache_unref(cache);
    g_assert_cmpint(living, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/plan/cache/find-and-keep", test_find_and_keep);
    g_test_add_func("/plan/cache/first-stays", test_first_stays);
    g_test_add_func("/plan/cache/oldest-out", test_oldest_out);
    g_test_add_func("/plan/cache/entry-outlives-cache", test_entry_outlives_cache);
    g_test_add_func("/plan/cache/none-kept", test_none_kept);
    g_test_add_func("/plan/cache/threads", test_threads);
    return g_test_run();
}
