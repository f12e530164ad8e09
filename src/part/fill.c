// SPDX-License-Identifier: GPL-3.0-or-later
// Finding what a pull fills, cell by cell, and telling holes from ledges by how much of a piece's
// skin lies against the part.
#include "part/fill.h"

enum {
    AIR,
    METAL,
    FILLED,
    TAKEN,
};

// Marks one column of cells.
static void
mark_column(const SolidGrid *g, double level, double parting, int i, int j, guint8 *kind)
{
    gsize step = (gsize)g->nx * g->ny, base = (gsize)j * g->nx + i;
    int top = -1, bottom = -1;
    for (int k = 0; k < g->nz; k++)
        if ((double)g->value[base + k * step] <= level) {
            kind[base + k * step] = METAL;
            top = k;
            if (bottom < 0)
                bottom = k;
        }
    if (top < 0)
        return;
    double at = (parting - g->origin.z) / g->cell;
    int low = MIN(bottom, (int)ceil(at)), high = MAX(top, (int)floor(at));
    for (int k = MAX(low, 0); k <= MIN(high, g->nz - 1); k++)
        if (kind[base + k * step] != METAL)
            kind[base + k * step] = FILLED;
}

typedef struct {
    double cells, x, y, z, largest;
    Vec3 widest; // in cells, where the largest is
    guint against, open;
} Piece;

static void
visit_neighbour(const SolidGrid *g, guint8 *kind, Piece *piece, GArray *stack, int i, int j, int k)
{
    if (i < 0 || j < 0 || k < 0 || i >= g->nx || j >= g->ny || k >= g->nz) {
        piece->open++;
        return;
    }
    gsize at = solid_grid_index(g, i, j, k);
    if (kind[at] == METAL)
        piece->against++;
    else if (kind[at] == AIR)
        piece->open++;
    if (kind[at] != FILLED)
        return;
    kind[at] = TAKEN;
    g_array_append_val(stack, at);
}

static Piece
take_piece(const SolidGrid *g, guint8 *kind, gsize start, GArray *stack)
{
    Piece piece = {0};
    gsize nx = (gsize)g->nx, ny = (gsize)g->ny;
    kind[start] = TAKEN;
    g_array_append_val(stack, start);
    while (stack->len > 0) {
        gsize at = g_array_index(stack, gsize, stack->len - 1);
        g_array_set_size(stack, stack->len - 1);
        int i = (int)(at % nx), j = (int)(at / nx % ny), k = (int)(at / (nx * ny));
        piece.cells += 1;
        piece.x += i;
        piece.y += j;
        piece.z += k;
        if ((double)g->value[at] > piece.largest) {
            piece.largest = (double)g->value[at];
            piece.widest = vec3(i, j, k);
        }
        visit_neighbour(g, kind, &piece, stack, i - 1, j, k);
        visit_neighbour(g, kind, &piece, stack, i + 1, j, k);
        visit_neighbour(g, kind, &piece, stack, i, j - 1, k);
        visit_neighbour(g, kind, &piece, stack, i, j + 1, k);
        visit_neighbour(g, kind, &piece, stack, i, j, k - 1);
        visit_neighbour(g, kind, &piece, stack, i, j, k + 1);
    }
    return piece;
}

// Keeps the largest, largest first.
static void
keep_fill(SearchAnswer *answer, SearchFill fill)
{
    guint at = answer->n_fills;
    answer->all_fills++;
    while (at > 0 && answer->fills[at - 1].volume < fill.volume)
        at--;
    if (at == SEARCH_FILLS)
        return;
    answer->n_fills = MIN(answer->n_fills + 1, SEARCH_FILLS);
    for (guint i = answer->n_fills - 1; i > at; i--)
        answer->fills[i] = answer->fills[i - 1];
    answer->fills[at] = fill;
}

void
fill_find(const SolidGrid *g, double level, double parting, double least, SearchAnswer *answer)
{
    gsize n = (gsize)g->nx * g->ny * g->nz;
    g_autofree guint8 *kind = g_new0(guint8, n);
    g_autoptr(GArray) stack = g_array_new(FALSE, FALSE, sizeof(gsize));
    answer->n_fills = answer->all_fills = 0;
    for (int j = 0; j < g->ny; j++)
        for (int i = 0; i < g->nx; i++)
            mark_column(g, level, parting, i, j, kind);
    for (gsize at = 0; at < n; at++) {
        if (kind[at] != FILLED)
            continue;
        Piece p = take_piece(g, kind, at, stack);
        double volume = p.cells * g->cell * g->cell * g->cell;
        if (volume < least)
            continue;
        SearchFill fill = {.volume = volume,
                           .diameter = 2 * p.largest,
                           .enclosed = (double)p.against / fmax(1, p.against + p.open)};
        fill.middle = vec3(g->origin.x + g->cell * p.x / p.cells,
                           g->origin.y + g->cell * p.y / p.cells,
                           g->origin.z + g->cell * p.z / p.cells);
        fill.widest = vec3_add(g->origin, vec3_scale(p.widest, g->cell));
        keep_fill(answer, fill);
    }
}
