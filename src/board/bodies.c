// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies found by spreading from cell to cell through their faces.
#include "board/bodies.h"

#include <string.h>

#define CRUMB 27 // cells

typedef struct {
    gsize cells;
    guint label; // from 1 on
} Body;

static gboolean
is_metal(const SolidGrid *g, gsize at)
{
    return g->value[at] <= 0;
}

// Gives `label` to all that hangs together with cell `from`; how many cells that are.
static gsize
spread(const SolidGrid *g, guint *labels, gsize from, guint label, GArray *stack)
{
    const gsize row = (gsize)g->nx, layer = row * (gsize)g->ny, all = layer * (gsize)g->nz;
    gsize cells = 0;
    labels[from] = label;
    g_array_append_val(stack, from);
    while (stack->len > 0) {
        gsize at = g_array_index(stack, gsize, stack->len - 1);
        g_array_set_size(stack, stack->len - 1);
        cells++;
        const struct {
            gboolean there;
            gsize at;
        } next[6] = {{at % row > 0, at - 1},        {at % row < row - 1, at + 1},
                     {at % layer >= row, at - row}, {at % layer < layer - row, at + row},
                     {at >= layer, at - layer},     {at < all - layer, at + layer}};
        for (int i = 0; i < 6; i++) {
            if (!next[i].there || labels[next[i].at] || !is_metal(g, next[i].at))
                continue;
            labels[next[i].at] = label;
            g_array_append_val(stack, next[i].at);
        }
    }
    return cells;
}

// The larger first; of equals the one found first.
static int
compare_bodies(gconstpointer a, gconstpointer b)
{
    const Body *p = a, *q = b;
    if (p->cells != q->cells)
        return p->cells > q->cells ? -1 : 1;
    return (p->label > q->label) - (p->label < q->label);
}

static GArray *
find_bodies(const SolidGrid *g, guint *labels)
{
    gsize all = (gsize)g->nx * (gsize)g->ny * (gsize)g->nz;
    GArray *bodies = g_array_new(FALSE, FALSE, sizeof(Body));
    g_autoptr(GArray) stack = g_array_new(FALSE, FALSE, sizeof(gsize));
    guint label = 0;
    for (gsize i = 0; i < all; i++) {
        if (labels[i] || !is_metal(g, i))
            continue;
        Body body = {0, ++label};
        body.cells = spread(g, labels, i, label, stack);
        g_array_append_val(bodies, body);
    }
    g_array_sort(bodies, compare_bodies);
    while (bodies->len > 1 && g_array_index(bodies, Body, bodies->len - 1).cells < CRUMB)
        g_array_set_size(bodies, bodies->len - 1);
    return bodies;
}

static SolidGrid *
keep_body(const SolidGrid *g, const guint *labels, guint label)
{
    SolidGrid *own = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    gsize all = (gsize)g->nx * (gsize)g->ny * (gsize)g->nz;
    memcpy(own->value, g->value, all * sizeof *g->value);
    for (gsize i = 0; i < all; i++)
        if (labels[i] && labels[i] != label)
            own->value[i] = (float)g->cell;
    return own;
}

GPtrArray *
board_bodies(SolidGrid *field)
{
    g_return_val_if_fail(field != NULL, NULL);
    GPtrArray *parts = g_ptr_array_new_with_free_func((GDestroyNotify)solid_grid_unref);
    gsize all = (gsize)field->nx * (gsize)field->ny * (gsize)field->nz;
    g_autofree guint *labels = g_new0(guint, all);
    g_autoptr(GArray) bodies = find_bodies(field, labels);
    if (bodies->len < 2 || bodies->len > BOARD_MOST_BODIES) {
        g_ptr_array_add(parts, solid_grid_ref(field));
        return parts;
    }
    for (guint i = 0; i < bodies->len; i++)
        g_ptr_array_add(parts, keep_body(field, labels, g_array_index(bodies, Body, i).label));
    return parts;
}
