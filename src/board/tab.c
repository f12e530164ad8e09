// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs as loose pieces that stay in the sand: a plug in the drag and a socket in the cope.
// They are rammed in over the same boards that otherwise make tabs of sand: the plug stands with
// its nose in a pocket of the drag board, the socket over a raised tab of the cope board. So what
// they leave between them is the clearance, and their tapers seat them while the sand is rammed.
//
//       +--+    +--+      socket, open towards the parting, printed open side up
//       |  \____/  |
//       +----------+
//          ____
//         /    \          plug, printed nose up
//       +----------+
//       o          o      blind holes in its sides, which the sand keys into
#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "board/pieces.h"
#include "board/slab.h"

#define TAB_WALL 0.002  // m, round a socket and under plug and socket
#define KEY_DEPTH 0.001 // m, of the holes the sand keys into

// The block under a plug or round a socket, with its top on the parting; features about its middle.
static SolidMesh *
make_block(const BoardWork *work, const MouldTab *tab, gboolean socket, double depth,
           GError **error)
{
    const MouldLayout *l = work->layout;
    double room = l->tab_clearance, a = tab->length / 2;
    double b = tab->width > 0 ? tab->width / 2 : 0;
    double half_x = a + room + TAB_WALL, half_y = (b > 0 ? b : a) + room + TAB_WALL;
    double tall = depth + BOARD_TAB_ROOM + TAB_WALL, key = fmin(tall, half_y) / 4;
    double open = socket ? room : 0;
    // The nose stops short of its pocket's floor, so that it seats by its sides and its shoulder.
    double nose = depth - BOARD_TAB_ROOM;
    SlabFeature features[3] = {
        {.face = SLAB_TOP,
         .a = a + open,
         .b = b > 0 ? b + open : 0,
         .depth = socket ? -(depth + BOARD_TAB_ROOM) : nose,
         .taper = board_tab_taper(work->options, l)},
        {.face = SLAB_LEFT, .middle = vec3(-half_x, 0, tall / 2), .a = key, .depth = -KEY_DEPTH},
        {.face = SLAB_RIGHT, .middle = vec3(half_x, 0, tall / 2), .a = key, .depth = -KEY_DEPTH}};
    return board_slab(vec3(-half_x, -half_y, 0), vec3(half_x, half_y, tall), features, 3, error);
}

static gboolean
is_same(const MouldTab *a, const MouldTab *b)
{
    return a->length == b->length && a->width == b->width;
}

// Plugs or sockets of one size, as one piece with a place for each.
static gboolean
add_pieces(BoardWork *work, guint first, const char *name, gboolean socket, double depth,
           GError **error)
{
    const MouldLayout *l = work->layout;
    const MouldTab *tab = &l->tabs[first];
    SolidMesh *mesh = make_block(work, tab, socket, depth, error);
    if (!mesh)
        return FALSE;
    double top = depth + BOARD_TAB_ROOM + TAB_WALL;
    BoardPlace places[4];
    guint n = 0;
    // Both lie with their printed top on the board.
    for (guint i = first; i < l->n_tabs; i++)
        if (is_same(tab, &l->tabs[i]))
            places[n++] = (BoardPlace){l->tabs[i].x, socket ? l->tabs[i].y : -l->tabs[i].y, top, 0,
                                       TRUE};
    board_add_piece(work, name, BOARD_PIECE_TAB, socket ? BOARD_COPE : BOARD_DRAG, mesh, places, n);
    return TRUE;
}

gboolean
board_add_tabs(BoardWork *work, GError **error)
{
    const MouldLayout *l = work->layout;
    double depth = board_tab_depth(work->options, l);
    if (!l->tabs_loose || l->n_tabs == 0)
        return TRUE;
    if (!(depth > 2 * BOARD_TAB_ROOM))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                              _("index tabs are too shallow to be loose pieces"),
                              _("use larger tabs or a thicker pattern board"));
    for (guint i = 0, sizes = 0; i < l->n_tabs; i++) {
        gboolean seen = FALSE;
        for (guint k = 0; k < i; k++)
            seen = seen || is_same(&l->tabs[k], &l->tabs[i]);
        if (seen)
            continue;
        sizes++;
        g_autofree char *plug = sizes > 1 ? g_strdup_printf("tab-plug-%u", sizes)
                                          : g_strdup("tab-plug");
        g_autofree char *socket = sizes > 1 ? g_strdup_printf("tab-socket-%u", sizes)
                                            : g_strdup("tab-socket");
        if (!add_pieces(work, i, plug, FALSE, depth, error) ||
            !add_pieces(work, i, socket, TRUE, depth, error))
            return FALSE;
    }
    g_ptr_array_add(work->notes,
                    g_strdup(_("set the plugs into the drag and the sockets into the cope as they "
                               "are rammed; take them out with the sand")));
    return TRUE;
}
