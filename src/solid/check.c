// SPDX-License-Identifier: GPL-3.0-or-later
// Every triangle lays down three half edges. Sorted by counting on their lower vertex, and within
// it by the higher one, the halves of an edge lie side by side, and so do doubled triangles.
#include "solid/check.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#define HALF(higher, triangle, falls) (((guint64)(higher) << 32) | ((triangle) << 1) | (falls))
#define HIGHER(half) ((guint32)((half) >> 32))
#define TRIANGLE(half) ((guint32)(half) >> 1)
#define FALLS(half) ((half)&1) // runs from the higher vertex to the lower

typedef struct {
    const SolidMesh *mesh;
    SolidCheck out;
    guint32 *starts; // of each lower vertex among the halves; n_vertices + 1
    guint64 *halves;
    guint32 *parent; // union-find over triangles
} Checker;

static gboolean
repeats_vertex(const guint32 t[3])
{
    return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
}

// Height over longest edge below 1e-9: flat to within the noise of the vertices' own digits.
static gboolean
has_no_area(const SolidMesh *mesh, const guint32 t[3])
{
    Vec3 a = mesh->vertices[t[0]];
    Vec3 ab = vec3_sub(mesh->vertices[t[1]], a), ac = vec3_sub(mesh->vertices[t[2]], a);
    Vec3 bc = vec3_sub(ac, ab), cross = vec3_cross(ab, ac);
    double longest = fmax(vec3_dot(ab, ab), fmax(vec3_dot(ac, ac), vec3_dot(bc, bc)));
    return vec3_dot(cross, cross) <= 1e-18 * longest * longest;
}

// Counts, then places, the halves of all triangles but those that repeat a vertex: their edges
// cancel, and what is left of them is nothing.
static void
sort_halves(Checker *c)
{
    const SolidMesh *mesh = c->mesh;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *v = mesh->triangles[t];
        if (repeats_vertex(v))
            continue;
        c->starts[MIN(v[0], v[1]) + 1]++;
        c->starts[MIN(v[1], v[2]) + 1]++;
        c->starts[MIN(v[2], v[0]) + 1]++;
    }
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        c->starts[v + 1] += c->starts[v];
    c->halves = g_new(guint64, c->starts[mesh->n_vertices]);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *v = mesh->triangles[t];
        if (repeats_vertex(v)) {
            c->out.degenerate++;
            continue;
        }
        c->out.degenerate += has_no_area(mesh, v);
        for (int e = 0; e < 3; e++) {
            guint32 a = v[e], b = v[(e + 1) % 3];
            c->halves[c->starts[MIN(a, b)]++] = HALF(MAX(a, b), t, a > b);
        }
    }
    // Placing has moved every start to the next vertex's.
    memmove(c->starts + 1, c->starts, mesh->n_vertices * sizeof *c->starts);
    c->starts[0] = 0;
}

static int
compare_halves(const void *a, const void *b)
{
    guint64 x = *(const guint64 *)a, y = *(const guint64 *)b;
    return (x > y) - (x < y);
}

static void
sort_few(guint64 *halves, guint32 n)
{
    if (n > 48) {
        qsort(halves, n, sizeof *halves, compare_halves);
        return;
    }
    for (guint32 i = 1; i < n; i++) {
        guint64 half = halves[i];
        guint32 j = i;
        for (; j > 0 && halves[j - 1] > half; j--)
            halves[j] = halves[j - 1];
        halves[j] = half;
    }
}

static guint32
find_root(guint32 *parent, guint32 t)
{
    while (parent[t] != t) {
        parent[t] = parent[parent[t]];
        t = parent[t];
    }
    return t;
}

static void
join(Checker *c, guint32 a, guint32 b)
{
    a = find_root(c->parent, a);
    b = find_root(c->parent, b);
    if (a < b)
        c->parent[b] = a;
    else if (b < a)
        c->parent[a] = b;
}

static void
note_bad_edge(Checker *c, guint32 lower, guint32 higher)
{
    if (c->out.has_where)
        return;
    c->out.has_where = TRUE;
    c->out.where = vec3_scale(vec3_add(c->mesh->vertices[lower], c->mesh->vertices[higher]), 0.5);
}

// The n halves of one edge.
static void
judge_edge(Checker *c, guint32 lower, const guint64 *halves, guint32 n)
{
    if (n == 1)
        c->out.open_edges++;
    else if (n > 2)
        c->out.overfull_edges++;
    else if (FALLS(halves[0]) == FALLS(halves[1]))
        c->out.flipped_edges++;
    if (n != 2 || FALLS(halves[0]) == FALLS(halves[1]))
        note_bad_edge(c, lower, HIGHER(halves[0]));
    for (guint32 i = 1; i < n; i++)
        join(c, TRIANGLE(halves[i - 1]), TRIANGLE(halves[i]));
}

static guint64
get_other_two(const guint32 t[3])
{
    guint32 low = MIN(t[0], MIN(t[1], t[2])), high = MAX(t[0], MAX(t[1], t[2]));
    guint32 middle = t[0] ^ t[1] ^ t[2] ^ low ^ high;
    return ((guint64)middle << 32) | high;
}

// Triangles that stand twice share all three edges, so two of them in this group. Only groups in
// which some two triangles share two edges are looked at closely.
static guint
count_duplicates(Checker *c, guint32 lower, const guint64 *halves, guint32 n)
{
    g_autofree guint64 *keys = g_new(guint64, n);
    guint32 m = 0;
    guint duplicates = 0;
    for (guint32 i = 0; i < n; i++) {
        const guint32 *t = c->mesh->triangles[TRIANGLE(halves[i])];
        guint64 key = get_other_two(t);
        gboolean lowest = MIN(t[0], MIN(t[1], t[2])) == lower;
        if (lowest && HIGHER(halves[i]) == (guint32)key) // once a triangle: at its highest vertex
            keys[m++] = key;
    }
    qsort(keys, m, sizeof *keys, compare_halves);
    for (guint32 i = 1; i < m; i++)
        duplicates += keys[i] == keys[i - 1];
    return duplicates;
}

// Walks the edges below one vertex. Two neighbours in the sorted list that are on one edge make a
// pair; a pair seen on two edges of the group may be a doubled triangle.
static void
judge_vertex(Checker *c, guint32 lower)
{
    guint64 *halves = c->halves + c->starts[lower];
    guint32 n = c->starts[lower + 1] - c->starts[lower], pairs = 0;
    guint64 pair[16];
    gboolean suspect = n > 32;
    sort_few(halves, n);
    for (guint32 i = 0, j; i < n; i = j) {
        for (j = i + 1; j < n && HIGHER(halves[j]) == HIGHER(halves[i]); j++) {
        }
        judge_edge(c, lower, halves + i, j - i);
        suspect |= j - i > 2;
        if (j - i != 2 || suspect)
            continue;
        guint64 both = ((guint64)TRIANGLE(halves[i]) << 32) | TRIANGLE(halves[i + 1]);
        for (guint32 k = 0; k < pairs; k++)
            suspect |= pair[k] == both;
        pair[pairs++] = both; // at most n / 2
    }
    if (suspect)
        c->out.duplicates += count_duplicates(c, lower, halves, n);
}

static guint
count_shells(Checker *c)
{
    guint shells = 0;
    for (guint32 t = 0; t < c->mesh->n_triangles; t++)
        shells += c->parent[t] == t && !repeats_vertex(c->mesh->triangles[t]);
    return shells;
}

// Six times the volume of the whole, and of each shell under its root if there are several.
static double
sum_volumes(Checker *c, double *of_root)
{
    const SolidMesh *mesh = c->mesh;
    double sum = 0;
    Vec3 o = mesh->n_vertices ? mesh->vertices[0] : vec3(0, 0, 0);
    for (guint32 i = 0; i < mesh->n_triangles; i++) {
        const guint32 *t = mesh->triangles[i];
        Vec3 a = vec3_sub(mesh->vertices[t[0]], o), b = vec3_sub(mesh->vertices[t[1]], o);
        double six = vec3_dot(a, vec3_cross(b, vec3_sub(mesh->vertices[t[2]], o)));
        sum += six;
        if (of_root)
            of_root[find_root(c->parent, i)] += six;
    }
    return sum;
}

static void
judge_shells(Checker *c)
{
    g_autofree double *of_root = NULL;
    c->out.shells = count_shells(c);
    c->out.closed = c->out.shells > 0 && !c->out.open_edges && !c->out.overfull_edges &&
                    !c->out.flipped_edges;
    if (c->out.closed && c->out.shells > 1)
        of_root = g_new0(double, c->mesh->n_triangles);
    c->out.inside_out = sum_volumes(c, of_root) < 0;
    for (guint32 t = 0; of_root && t < c->mesh->n_triangles; t++)
        c->out.hollows += of_root[t] < 0;
    if (of_root && c->out.inside_out) // the hollows are the ones that face outwards
        c->out.hollows = c->out.shells - c->out.hollows;
}

SolidCheck
solid_check(const SolidMesh *mesh)
{
    Checker c = {.mesh = mesh};
    g_return_val_if_fail(mesh != NULL, c.out);
    g_return_val_if_fail(mesh->n_triangles <= SOLID_MAX_TRIANGLES, c.out);
    c.starts = g_new0(guint32, (gsize)mesh->n_vertices + 1);
    c.parent = g_new(guint32, mesh->n_triangles);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        c.parent[t] = t;
    sort_halves(&c);
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        judge_vertex(&c, v);
    judge_shells(&c);
    g_free(c.starts);
    g_free(c.halves);
    g_free(c.parent);
    return c.out;
}

static void
add_where(GString *text, const SolidCheck *check)
{
    char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE], z[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(x, sizeof x, "%.1f", check->where.x * 1000 + 0.0);
    g_ascii_formatd(y, sizeof y, "%.1f", check->where.y * 1000 + 0.0);
    g_ascii_formatd(z, sizeof z, "%.1f", check->where.z * 1000 + 0.0);
    g_string_append_printf(text, _(", the first near %s, %s, %s mm"), x, y, z);
}

static void
add_count(GString *text, guint n, const char *words)
{
    if (n == 0)
        return;
    if (text->len > 0)
        g_string_append(text, ", ");
    g_string_append_printf(text, "%u %s", n, words);
}

char *
solid_check_words(const SolidCheck *check)
{
    g_return_val_if_fail(check != NULL, NULL);
    GString *text = g_string_new(NULL);
    const SolidCheck *k = check;
    add_count(text, k->open_edges, ngettext("open edge", "open edges", k->open_edges));
    add_count(text, k->overfull_edges,
              ngettext("edge with more than two triangles", "edges with more than two triangles",
                       k->overfull_edges));
    add_count(text, k->flipped_edges,
              ngettext("edge between triangles that face opposite ways",
                       "edges between triangles that face opposite ways", k->flipped_edges));
    if (k->has_where)
        add_where(text, k);
    if (k->closed)
        g_string_append(text, _("closed"));
    else if (text->len == 0)
        g_string_append(text, _("no triangles"));
    add_count(text, k->degenerate,
              ngettext("triangle without area", "triangles without area", k->degenerate));
    add_count(text, k->duplicates,
              ngettext("doubled triangle", "doubled triangles", k->duplicates));
    if (k->shells > 1)
        add_count(text, k->shells, _("separate shells"));
    add_count(text, k->hollows, ngettext("enclosed hollow", "enclosed hollows", k->hollows));
    if (k->inside_out)
        g_string_append(text, _(", inside out"));
    return g_string_free(text, FALSE);
}
