// SPDX-License-Identifier: GPL-3.0-or-later
// The two boards, cut to the printer's bed between the holes and tabs they carry.
#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "board/pieces.h"
#include "board/slab.h"

#define TAB_SHARE 0.6    // of the board's thickness, that a pocket may take
#define TAB_TAPER 0.0875 // 5 degrees, so that sand leaves it cleanly (common practice)
#define CUT_ROOM 0.002   // m, between a cut and a hole or tab
#define STEP 0.001       // m, by which a cut or joint is moved to find room
#define MOST_TILES 32

// Something on a board's top that no cut may cross: its middle, half sides, and how to make it.
typedef struct {
    SlabFeature feature;
    double x, y, half_x, half_y;
} Mark;

typedef struct {
    BoardWork *work;
    BoardSide side;
    GArray *marks; // Mark
    double half_x, half_y;
    double radius, depth; // of joints' holes; radius 0: none
} Plate;

double
board_tab_taper(const BoardOptions *o, const MouldLayout *l)
{
    return fmax(l->tab_draft > 0 ? tan(l->tab_draft) : TAB_TAPER, tan(o->draft));
}

double
board_tab_across(const MouldTab *tab)
{
    return tab->width > 0 ? fmin(tab->length, tab->width) : tab->length;
}

double
board_tab_depth(const BoardOptions *o, const MouldLayout *l)
{
    if (l->n_tabs == 0)
        return 0;
    double least = INFINITY;
    for (guint i = 0; i < l->n_tabs; i++)
        least = fmin(least, board_tab_across(&l->tabs[i]));
    // Shallow enough that half of a tab's width is left at its end.
    return fmin(fmin(TAB_SHARE * o->thickness, 0.6 * least), least / 4 / board_tab_taper(o, l));
}

static void
add_mark(Plate *plate, SlabFeature feature)
{
    double b = feature.b > 0 ? feature.b : feature.a;
    Mark mark = {feature, feature.middle.x, feature.middle.y, feature.a, b};
    g_array_append_val(plate->marks, mark);
}

static void
mark_tabs(Plate *plate)
{
    const MouldLayout *l = plate->work->layout;
    double depth = board_tab_depth(plate->work->options, l);
    double taper = board_tab_taper(plate->work->options, l);
    for (guint i = 0; i < l->n_tabs && depth > 0; i++) {
        const MouldTab *tab = &l->tabs[i];
        gboolean cope = plate->side == BOARD_COPE;
        double room = cope ? l->tab_clearance : 0;
        SlabFeature f = {.face = SLAB_TOP,
                         .middle = vec3(tab->x, cope ? tab->y : -tab->y, 0),
                         .a = tab->length / 2 + room,
                         .b = tab->width > 0 ? tab->width / 2 + room : 0,
                         .depth = cope ? depth + BOARD_TAB_ROOM : -depth,
                         .taper = taper};
        add_mark(plate, f);
    }
}

// A hole under each dowel of what stands on this board.
static void
mark_dowels(Plate *plate)
{
    const GArray *pieces = plate->work->pieces;
    const BoardOptions *o = plate->work->options;
    for (guint i = 0; i < pieces->len; i++) {
        const BoardPiece *piece = &g_array_index(pieces, BoardPiece, i);
        if (piece->side != plate->side || piece->kind == BOARD_PIECE_BOARD)
            continue;
        for (guint k = 0; k < piece->count; k++)
            for (guint d = 0; d < piece->n_dowels; d++) {
                Vec3 foot = vec3(piece->dowels[d].x, piece->dowels[d].y, 0);
                Vec3 at = board_point(piece, k, foot);
                SlabFeature f = {.face = SLAB_TOP,
                                 .middle = vec3(at.x, plate->side == BOARD_COPE ? at.y : -at.y, 0),
                                 .a = (o->dowel + o->dowel_play) / 2,
                                 .through = TRUE};
                add_mark(plate, f);
            }
    }
}

static gboolean
is_free(const Plate *plate, gboolean along_y, double at)
{
    for (guint i = 0; i < plate->marks->len; i++) {
        const Mark *m = &g_array_index(plate->marks, Mark, i);
        double middle = along_y ? m->y : m->x, half = along_y ? m->half_y : m->half_x;
        if (fabs(at - middle) < half + CUT_ROOM)
            return FALSE;
    }
    return TRUE;
}

// Cuts of one side, ends included, so that no tile is longer than `most`; at least `n` tiles. How
// many tiles; 0 when there is no way.
static int
find_cuts(const Plate *plate, gboolean along_y, int n, double most, double cuts[MOST_TILES + 1])
{
    double half = along_y ? plate->half_y : plate->half_x;
    for (; n <= MOST_TILES; n++) {
        cuts[0] = -half;
        cuts[n] = half;
        gboolean ok = TRUE;
        for (int i = 1; i < n && ok; i++) {
            double wish = -half + 2 * half * i / n;
            ok = FALSE;
            for (int step = 0; step < 400 && !ok; step++) {
                double at = wish + (step % 2 ? 1 : -1) * ((step + 1) / 2) * STEP;
                ok = at > cuts[i - 1] + 0.01 && at < half - 0.01 && at - cuts[i - 1] <= most &&
                     is_free(plate, along_y, at);
                cuts[i] = at;
            }
        }
        if (ok && cuts[n] - cuts[n - 1] <= most + 1e-9)
            return n;
    }
    return 0;
}

// May a hole of `depth` be drilled into the edges on both sides of a cut, at this place along it?
static gboolean
is_joint_free(const Plate *plate, gboolean along_y, double cut, double at)
{
    double r = plate->radius + CUT_ROOM;
    for (guint i = 0; i < plate->marks->len; i++) {
        const Mark *m = &g_array_index(plate->marks, Mark, i);
        double across = along_y ? m->y : m->x, half_across = along_y ? m->half_y : m->half_x;
        double on = along_y ? m->x : m->y, half_on = along_y ? m->half_x : m->half_y;
        if (fabs(cut - across) < half_across + plate->depth + CUT_ROOM &&
            fabs(at - on) < half_on + r)
            return FALSE;
    }
    return TRUE;
}

static void
add_joints(const Plate *plate, gboolean along_y, double cut, double from, double to, double z,
           SlabFace face, GArray *features)
{
    if (!(plate->radius > 0))
        return;
    for (int end = 0; end < 2; end++) {
        double wish = from + (end ? 0.75 : 0.25) * (to - from), reach = 0.2 * (to - from);
        for (int step = 0; step * STEP < 2 * reach; step++) {
            double at = wish + (step % 2 ? 1 : -1) * ((step + 1) / 2) * STEP;
            if (!is_joint_free(plate, along_y, cut, at))
                continue;
            SlabFeature f = {.face = face,
                             .middle = along_y ? vec3(at, cut, z) : vec3(cut, at, z),
                             .a = plate->radius,
                             .depth = -plate->depth};
            g_array_append_val(features, f);
            break;
        }
    }
}

// One tile; its own origin is in the middle of its plan, z from 0 to the thickness.
static gboolean
add_tile(const Plate *plate, const char *name, const double x[2], const double y[2], GError **error)
{
    BoardWork *work = plate->work;
    double t = work->options->thickness;
    g_autoptr(GArray) features = g_array_new(FALSE, FALSE, sizeof(SlabFeature));
    for (guint i = 0; i < plate->marks->len; i++) {
        const Mark *m = &g_array_index(plate->marks, Mark, i);
        if (m->x > x[0] && m->x < x[1] && m->y > y[0] && m->y < y[1])
            g_array_append_val(features, m->feature);
    }
    const double edge = 1e-9;
    if (x[0] > -plate->half_x + edge)
        add_joints(plate, FALSE, x[0], y[0], y[1], t / 2, SLAB_LEFT, features);
    if (x[1] < plate->half_x - edge)
        add_joints(plate, FALSE, x[1], y[0], y[1], t / 2, SLAB_RIGHT, features);
    if (y[0] > -plate->half_y + edge)
        add_joints(plate, TRUE, y[0], x[0], x[1], t / 2, SLAB_FRONT, features);
    if (y[1] < plate->half_y - edge)
        add_joints(plate, TRUE, y[1], x[0], x[1], t / 2, SLAB_BACK, features);
    Vec3 middle = vec3((x[0] + x[1]) / 2, (y[0] + y[1]) / 2, 0);
    for (guint i = 0; i < features->len; i++) {
        SlabFeature *f = &g_array_index(features, SlabFeature, i);
        f->middle = vec3_sub(f->middle, middle);
    }
    Vec3 half = vec3((x[1] - x[0]) / 2, (y[1] - y[0]) / 2, 0);
    SolidMesh *mesh = board_slab(vec3(-half.x, -half.y, 0), vec3(half.x, half.y, t),
                                 (const SlabFeature *)(gpointer)features->data, features->len,
                                 error);
    if (!mesh)
        return FALSE;
    BoardPlace place = {middle.x, middle.y, -t, 0, FALSE};
    board_add_piece(work, name, BOARD_PIECE_BOARD, plate->side, mesh, &place, 1);
    return TRUE;
}

static gboolean
add_tiles(const Plate *plate, const char *name, GError **error)
{
    Vec3 bed = plate->work->options->bed, size = vec3(2 * plate->half_x, 2 * plate->half_y, 0);
    int counts[3];
    cut_counts(size, bed, 0, counts);
    // Which way round the tiles lie on the bed.
    gboolean straight = size.x / counts[0] <= bed.x + 1e-9 && size.y / counts[1] <= bed.y + 1e-9;
    double x[MOST_TILES + 1], y[MOST_TILES + 1];
    int nx = find_cuts(plate, FALSE, counts[0], straight ? bed.x : bed.y, x);
    int ny = find_cuts(plate, TRUE, counts[1], straight ? bed.y : bed.x, y);
    if (nx == 0 || ny == 0)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                              _("a board cannot be cut to the printer's bed"),
                              _("put in a larger bed"));
    for (int j = 0; j < ny; j++)
        for (int i = 0; i < nx; i++) {
            g_autofree char *own = nx * ny > 1 ? g_strdup_printf("%s-%d", name, j * nx + i + 1)
                                               : g_strdup(name);
            if (!add_tile(plate, own, x + i, y + j, error))
                return FALSE;
        }
    return TRUE;
}

gboolean
board_add_plates(BoardWork *work, GError **error)
{
    const BoardOptions *o = work->options;
    const MouldLayout *l = work->layout;
    for (int side = BOARD_COPE; side <= BOARD_DRAG; side++) {
        g_autoptr(GArray) marks = g_array_new(FALSE, FALSE, sizeof(Mark));
        Plate plate = {work, side, marks, l->length / 2 + o->rim, l->width / 2 + o->rim, 0, 0};
        double radius = (o->dowel + o->dowel_play) / 2;
        if (o->thickness > 2 * radius + 0.003) {
            plate.radius = radius;
            plate.depth = 2.5 * o->dowel;
        }
        mark_tabs(&plate);
        mark_dowels(&plate);
        if (!add_tiles(&plate, side == BOARD_COPE ? "cope-board" : "drag-board", error))
            return FALSE;
    }
    if (l->n_tabs == 0)
        g_ptr_array_add(work->notes, g_strdup(_("too little sand at the wall for index tabs: "
                                                "index the frames by pins")));
    return TRUE;
}
