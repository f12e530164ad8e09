// SPDX-License-Identifier: GPL-3.0-or-later
// Welding: points with the same bits become one vertex. An open-addressing table whose slots hold
// half of the hash beside the number, so that a point is only compared when it will nearly surely
// match; slots and points are prefetched some corners ahead, since each look-up misses the cache.
#include <string.h>

#include "solid/weld-table.h"

#define AHEAD 16 // corners between fetching a slot and using it; twice that from hash to use

static guint64
mix(guint64 h)
{
    h ^= h >> 32;
    h *= 0x9E3779B97F4A7C15u;
    return h ^ (h >> 29);
}

static guint64
hash_point(const Vec3 *p, guint64 seed)
{
    guint64 b[3];
    memcpy(b, p, sizeof b);
    guint64 h = mix(b[0] ^ seed) + b[1];
    h = mix(h) + b[2];
    h = mix(h);
    return h ^ (h >> 31);
}

void
solid_weld_table_init(SolidWeldTable *table, guint32 expected)
{
    guint32 slots = 1024;
    while (slots < 2 * (guint64)expected && slots < (1u << 30))
        slots *= 2;
    memset(table, 0, sizeof *table);
    table->slots = g_new0(guint64, slots);
    table->mask = slots - 1;
    // Numbers do not depend on the seed; it only keeps a file from being made to collide.
    table->seed = ((guint64)g_random_int() << 32) | g_random_int();
    table->capacity = MAX(expected, 64);
    table->vertices = g_new(Vec3, table->capacity);
}

void
solid_weld_table_clear(SolidWeldTable *table)
{
    g_clear_pointer(&table->slots, g_free);
    g_clear_pointer(&table->vertices, g_free);
    table->n_vertices = table->capacity = 0;
}

static void
grow_slots(SolidWeldTable *table)
{
    guint32 slots = (table->mask + 1) * 2;
    g_free(table->slots);
    table->slots = g_new0(guint64, slots);
    table->mask = slots - 1;
    for (guint32 i = 0; i < table->n_vertices; i++) {
        guint64 hash = hash_point(&table->vertices[i], table->seed);
        guint32 s = (guint32)hash & table->mask;
        while (table->slots[s])
            s = (s + 1) & table->mask;
        table->slots[s] = (hash & ~(guint64)G_MAXUINT32) | (i + 1);
    }
}

static guint32
find_or_add(SolidWeldTable *table, const Vec3 *point, guint64 hash)
{
    guint64 upper = hash & ~(guint64)G_MAXUINT32;
    guint32 s = (guint32)hash & table->mask;
    for (guint64 slot; (slot = table->slots[s]) != 0; s = (s + 1) & table->mask) {
        if ((slot & ~(guint64)G_MAXUINT32) != upper)
            continue;
        guint32 number = (guint32)slot - 1;
        if (memcmp(&table->vertices[number], point, sizeof *point) == 0)
            return number;
    }
    if (table->n_vertices == table->capacity) {
        table->capacity += table->capacity / 2 + 64;
        table->vertices = g_renew(Vec3, table->vertices, table->capacity);
    }
    table->vertices[table->n_vertices] = *point;
    table->slots[s] = upper | ++table->n_vertices;
    return table->n_vertices - 1;
}

// One block of at most SOLID_SOUP_BLOCK points, in three overlapping steps: hash and fetch the
// slot; read the slot and fetch the vertex it names; find.
static void
add_block(SolidWeldTable *table, const Vec3 *points, gsize n, guint32 *numbers)
{
    Vec3 clean[SOLID_SOUP_BLOCK];
    guint64 hash[SOLID_SOUP_BLOCK];
    while ((guint64)table->n_vertices + n > (guint64)(table->mask + 1) / 8 * 5)
        grow_slots(table);
    for (gsize i = 0; i < n + 2 * AHEAD; i++) {
        if (i < n) {
            clean[i] = vec3(points[i].x + 0.0, points[i].y + 0.0, points[i].z + 0.0);
            hash[i] = hash_point(&clean[i], table->seed);
            __builtin_prefetch(&table->slots[(guint32)hash[i] & table->mask]);
        }
        if (i >= AHEAD && i < n + AHEAD) {
            guint32 number = (guint32)table->slots[(guint32)hash[i - AHEAD] & table->mask];
            if (number)
                __builtin_prefetch(&table->vertices[number - 1]);
        }
        if (i >= 2 * AHEAD)
            numbers[i - 2 * AHEAD] = find_or_add(table, &clean[i - 2 * AHEAD], hash[i - 2 * AHEAD]);
    }
}

void
solid_weld_table_add(SolidWeldTable *table, const Vec3 *points, gsize n, guint32 *numbers)
{
    for (gsize i = 0; i < n; i += SOLID_SOUP_BLOCK)
        add_block(table, points + i, MIN(n - i, SOLID_SOUP_BLOCK), numbers + i);
}

SolidSoup *
solid_soup_new(guint32 expected_triangles)
{
    SolidSoup *soup = g_new(SolidSoup, 1);
    solid_weld_table_init(&soup->table, expected_triangles / 2); // a closed mesh has half as many
    soup->capacity = MAX(expected_triangles, 64);
    soup->triangles = g_malloc_n(soup->capacity, sizeof *soup->triangles);
    soup->n_triangles = 0;
    soup->n_pending = 0;
    return soup;
}

void
solid_soup_free(SolidSoup *soup)
{
    if (!soup)
        return;
    solid_weld_table_clear(&soup->table);
    g_free(soup->triangles);
    g_free(soup);
}

void
solid_soup_flush(SolidSoup *soup)
{
    guint32 n = soup->n_pending / 3;
    if (soup->n_triangles + n > soup->capacity) {
        soup->capacity += soup->capacity / 2 + SOLID_SOUP_BLOCK;
        soup->triangles = g_realloc_n(soup->triangles, soup->capacity, sizeof *soup->triangles);
    }
    solid_weld_table_add(&soup->table, soup->pending, 3 * (gsize)n,
                         (guint32 *)(soup->triangles + soup->n_triangles));
    soup->n_triangles += n;
    soup->n_pending = 0;
}

static SolidMesh *
mesh_from(SolidWeldTable *table, guint32 (*triangles)[3], guint32 n_triangles)
{
    SolidMesh *mesh = solid_mesh_new(0, 0);
    mesh->n_vertices = table->n_vertices;
    mesh->vertices = g_renew(Vec3, g_steal_pointer(&table->vertices), table->n_vertices);
    mesh->n_triangles = n_triangles;
    mesh->triangles = triangles;
    solid_weld_table_clear(table);
    return mesh;
}

SolidMesh *
solid_soup_end(SolidSoup *soup)
{
    g_return_val_if_fail(soup->n_pending % 3 == 0, NULL);
    solid_soup_flush(soup);
    guint32 n = soup->n_triangles;
    soup->triangles = g_realloc_n(soup->triangles, n, sizeof *soup->triangles);
    soup->n_triangles = soup->capacity = 0;
    return mesh_from(&soup->table, g_steal_pointer(&soup->triangles), n);
}

// Numbers the vertices that some triangle uses, in their own order; the others are dropped, so that
// a stray point does not widen the box.
static guint32 *
number_used(const SolidMesh *mesh, SolidWeldTable *table, Progress *progress, GError **error)
{
    g_autofree guint32 *number = g_new0(guint32, (gsize)mesh->n_vertices + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            number[mesh->triangles[t][c]] = 1;
    Vec3 points[SOLID_SOUP_BLOCK];
    guint32 from[SOLID_SOUP_BLOCK], to[SOLID_SOUP_BLOCK];
    gsize n = 0;
    for (guint32 v = 0; v < mesh->n_vertices; v++) {
        if (number[v]) {
            points[n] = mesh->vertices[v];
            from[n++] = v;
        }
        if (n == SOLID_SOUP_BLOCK || (n > 0 && v + 1 == mesh->n_vertices)) {
            solid_weld_table_add(table, points, n, to);
            for (gsize i = 0; i < n; i++)
                number[from[i]] = to[i];
            n = 0;
            if (!progress_check(progress, error))
                return NULL;
        }
    }
    return g_steal_pointer(&number);
}

SolidMesh *
solid_weld(const SolidMesh *mesh, Progress *progress, GError **error)
{
    SolidWeldTable table;
    solid_weld_table_init(&table, MIN(mesh->n_vertices, mesh->n_triangles / 2 + 64));
    g_autofree guint32 *number = number_used(mesh, &table, progress, error);
    if (!number) {
        solid_weld_table_clear(&table);
        return NULL;
    }
    guint32(*triangles)[3] = g_malloc_n(mesh->n_triangles, sizeof *triangles);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            triangles[t][c] = number[mesh->triangles[t][c]];
    return mesh_from(&table, triangles, mesh->n_triangles);
}

SolidMesh *
solid_mesh_weld(const SolidMesh *mesh)
{
    g_return_val_if_fail(mesh != NULL, NULL);
    return solid_weld(mesh, NULL, NULL);
}
