// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies found by spreading from cell to cell through their faces.
#include "board/bodies.h"

#include <string.h>

#define CRUMB 27 // cells

typedef struct {
    gsize cells;
    guint label; // from 1 on
} Body;

struct BoardBodies {
    SolidGrid *field;
    guint *labels; // of every cell; 0: no metal
    GArray *found; // Body
};

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

static gboolean
is_crumb(const Body *body)
{
    return body->cells < CRUMB;
}

// Found from the foot's first row on.
static void
find_bodies(BoardBodies *b)
{
    const SolidGrid *g = b->field;
    gsize all = (gsize)g->nx * (gsize)g->ny * (gsize)g->nz;
    g_autoptr(GArray) stack = g_array_new(FALSE, FALSE, sizeof(gsize));
    guint label = 0;
    for (gsize i = 0; i < all; i++) {
        if (b->labels[i] || !is_metal(g, i))
            continue;
        Body body = {0, ++label};
        body.cells = spread(g, b->labels, i, label, stack);
        if (!is_crumb(&body))
            g_array_append_val(b->found, body);
    }
}

BoardBodies *
board_bodies_new(SolidGrid *field)
{
    g_return_val_if_fail(field != NULL, NULL);
    BoardBodies *b = g_new(BoardBodies, 1);
    b->field = solid_grid_ref(field);
    b->labels = g_new0(guint, (gsize)field->nx * (gsize)field->ny * (gsize)field->nz);
    b->found = g_array_new(FALSE, FALSE, sizeof(Body));
    find_bodies(b);
    return b;
}

void
board_bodies_free(BoardBodies *b)
{
    if (!b)
        return;
    solid_grid_unref(b->field);
    g_free(b->labels);
    g_array_unref(b->found);
    g_free(b);
}

guint
board_bodies_count(const BoardBodies *b)
{
    return b->found->len > BOARD_MOST_BODIES ? 1 : MAX(b->found->len, 1);
}

SolidGrid *
board_bodies_get(const BoardBodies *b, guint i)
{
    const SolidGrid *g = b->field;
    g_return_val_if_fail(i < board_bodies_count(b), NULL);
    if (board_bodies_count(b) == 1)
        return solid_grid_ref(g);
    guint label = g_array_index(b->found, Body, i).label;
    SolidGrid *own = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    gsize all = (gsize)g->nx * (gsize)g->ny * (gsize)g->nz;
    memcpy(own->value, g->value, all * sizeof *g->value);
    for (gsize k = 0; k < all; k++)
        if (b->labels[k] && b->labels[k] != label)
            own->value[k] = (float)g->cell;
    return own;
}
