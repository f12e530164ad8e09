// SPDX-License-Identifier: GPL-3.0-or-later
// Half patterns: the rough casting scaled by the contraction, parted at z = 0, with what hangs on
// it in that half of the mould.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "board/bodies.h"
#include "board/pieces.h"
#include "board/riser.h"
#include "board/shape.h"
#include "board/skin.h"

#define SAME_PLACE 1e-6 // m

// Gating of one cavity in its own axes: turned back, origin in the cavity's middle.
typedef struct {
    gboolean riser, guest;
    const MouldRiser *post; // of the layout
    MouldNeck neck;
    SolidPoint riser_at, neck_at, gate_from, gate_to;
    double gate_width, gate_depth;
} Hang;

static SolidPoint
to_cavity(const MouldCavity *cavity, double x, double y)
{
    double c = cos(cavity->turn), s = sin(cavity->turn);
    double dx = x - cavity->x, dy = y - cavity->y;
    return (SolidPoint){c * dx + s * dy, c * dy - s * dx};
}

static Hang
find_hang(const MouldLayout *l, guint index)
{
    const MouldCavity *cavity = &l->cavities[index];
    Hang h = {.riser = mould_layout_has_riser(l, index),
              .post = mould_layout_riser(l, index),
              .guest = cavity->guest,
              .neck = *mould_layout_neck(l, index)};
    h.neck_at = to_cavity(cavity, cavity->neck_x, cavity->neck_y);
    if (h.riser)
        h.riser_at = to_cavity(cavity, cavity->riser_x, cavity->riser_y);
    if (index < l->n_gates) {
        const MouldChannel *gate = &l->gates[index];
        h.gate_from = to_cavity(cavity, gate->x1, gate->y1);
        h.gate_to = to_cavity(cavity, gate->x2, gate->y2);
        h.gate_width = gate->width;
        h.gate_depth = gate->depth;
    }
    return h;
}

static gboolean
is_near(SolidPoint a, SolidPoint b)
{
    return hypot(a.x - b.x, a.y - b.y) <= SAME_PLACE;
}

static gboolean
is_same(const Hang *a, const Hang *b)
{
    return a->guest == b->guest && a->riser == b->riser && is_near(a->riser_at, b->riser_at) &&
           is_near(a->neck_at, b->neck_at) && is_near(a->gate_from, b->gate_from) &&
           is_near(a->gate_to, b->gate_to) && fabs(a->gate_width - b->gate_width) <= SAME_PLACE &&
           fabs(a->gate_depth - b->gate_depth) <= SAME_PLACE;
}

// `from` moved on past `to` by `more`, m.
static SolidPoint
past(SolidPoint from, SolidPoint to, double more)
{
    double length = hypot(to.x - from.x, to.y - from.y);
    if (!(length > 0))
        return to;
    return (SolidPoint){to.x + (to.x - from.x) * more / length,
                        to.y + (to.y - from.y) * more / length};
}

static SolidPoint
turned_over(SolidPoint p, BoardSide side)
{
    return (SolidPoint){p.x, side == BOARD_DRAG ? -p.y : p.y};
}

typedef struct {
    BoardSide side;
    gboolean gate, riser; // in this half
    SolidPoint riser_at, neck_from, neck_to, gate_from, gate_to;
    double gate_width, gate_depth, taper;
    double riser_radius, riser_top; // over the parting
    gboolean neck;
    double neck_width, neck_high; // and how far it rises from the parting in this half
} Extras;

// What hangs on the casting in one half, in the piece's axes. Gate and neck run a little into the
// casting, whose side is round and leans away from them.
static Extras
find_extras(const BoardWork *work, const Hang *h, BoardSide side)
{
    const MouldLayout *l = work->layout;
    Extras e = {.side = side, .taper = tan(work->options->draft)};
    e.gate = h->gate_width > 0 && l->gates_in_drag == (side == BOARD_DRAG);
    e.riser = h->riser && side == BOARD_COPE;
    e.neck_high = side == BOARD_COPE ? h->neck.up : h->neck.down;
    e.neck_width = h->neck.width;
    e.neck = h->riser && h->neck.width > 0 && e.neck_high > 0;
    e.riser_radius = h->post->diameter / 2;
    e.riser_top = board_riser_foot(l, h->guest);
    e.gate_width = h->gate_width;
    e.gate_depth = h->gate_depth;
    double into = MIN(h->gate_width / 4, 0.004);
    e.gate_from = turned_over(h->gate_from, side);
    e.gate_to = turned_over(past(h->gate_from, h->gate_to, into), side);
    e.riser_at = turned_over(h->riser_at, side);
    e.neck_from = e.riser_at; // in the drag it opens into the riser's foot from below
    e.neck_to = turned_over(past(h->riser_at, h->neck_at, h->neck.width / 4), side);
    return e;
}

static double
extras_distance(const Extras *e, Vec3 p)
{
    double d = 1;
    if (e->riser)
        d = fmin(d, board_shape_post(p, e->riser_at.x, e->riser_at.y, e->riser_radius, e->riser_top,
                                     e->taper));
    if (e->neck)
        d = fmin(d, board_shape_bar(p, e->neck_from.x, e->neck_from.y, e->neck_to.x, e->neck_to.y,
                                    e->neck_width, e->neck_high, e->taper));
    if (e->gate)
        d = fmin(d, board_shape_bar(p, e->gate_from.x, e->gate_from.y, e->gate_to.x, e->gate_to.y,
                                    e->gate_width, e->gate_depth, e->taper));
    return d;
}

static void
widen(Vec3 *low, Vec3 *high, SolidPoint p, double reach, double height)
{
    *low = vec3(fmin(low->x, p.x - reach), fmin(low->y, p.y - reach), 0);
    *high = vec3(fmax(high->x, p.x + reach), fmax(high->y, p.y + reach), fmax(high->z, height));
}

static void
widen_extras(const Extras *e, Vec3 *low, Vec3 *high)
{
    double top = e->riser_top;
    double lean = e->taper * fmax(top, fmax(e->gate_depth, e->neck_high));
    if (e->riser)
        widen(low, high, e->riser_at, e->riser_radius + lean, top);
    if (e->neck) {
        widen(low, high, e->neck_from, e->neck_width / 2 + lean, e->neck_high);
        widen(low, high, e->neck_to, e->neck_width / 2 + lean, e->neck_high);
    }
    if (e->gate) {
        widen(low, high, e->gate_from, e->gate_width / 2 + lean, e->gate_depth);
        widen(low, high, e->gate_to, e->gate_width / 2 + lean, e->gate_depth);
    }
}

// How far, m, the scaled casting is moved along the pull: a sliver on one side of the parting that
// is thinner than the cells it was computed with cannot be printed or rammed, and goes to the other
// half.
static double
find_shift(const PatternResult *p, double scale)
{
    double cope = p->height_cope, drag = p->height_drag, sliver = p->casting->cell;
    if (cope < sliver && drag > 2 * sliver)
        return -scale * cope;
    return drag < sliver && cope > 2 * sliver ? scale * drag : 0;
}

// The scaled casting's distance on cells symmetric about x-z plane and parting, so that both
// halves, one of them turned over, are cut from it.
static SolidGrid *
measure_casting(const BoardWork *work, gboolean guest, double cell, GError **error)
{
    const PatternResult *p = guest ? work->layout->guest->pattern : work->pattern;
    double s = guest ? work->layout->guest->growth : 1 + work->options->contraction;
    const double scale[9] = {s, 0, 0, 0, s, 0, 0, 0, s};
    g_autoptr(SolidMesh) mesh = solid_mesh_transformed(p->mesh, scale, vec3(0, 0, 0));
    double reach[3] = {0, 0, 0}, shift = find_shift(p, s);
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        mesh->vertices[i].z += shift;
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        reach[0] = fmax(reach[0], fabs(v.x));
        reach[1] = fmax(reach[1], fabs(v.y));
        reach[2] = fmax(reach[2], fabs(v.z));
    }
    int half[3];
    for (int a = 0; a < 3; a++)
        half[a] = (int)ceil(reach[a] / cell) + 3;
    g_autoptr(SolidGrid) shape = solid_grid_new(
        2 * half[0], 2 * half[1], 2 * half[2], cell,
        vec3((0.5 - half[0]) * cell, (0.5 - half[1]) * cell, (0.5 - half[2]) * cell));
    if (!shape) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL,
                       _("a pattern needs more cells than can be held"),
                       _("make the printer's finest detail coarser"));
        return NULL;
    }
    g_autofree guint8 *inside = solid_grid_inside(mesh, shape, work->progress, error);
    return inside ? solid_grid_distance_as(mesh, inside, shape, 2 * cell, work->progress, error)
                  : NULL;
}

// The half pattern's field, standing on its parting; a grid of the casting's cells, widened. What
// the casting's own other half would hide of a wall next to the parting is drawn straight down.
static SolidGrid *
make_half(const BoardWork *work, const SolidGrid *casting, const Extras *e, GError **error)
{
    int half = casting->nz / 2;
    double cell = casting->cell;
    Vec3 low = vec3(casting->origin.x, casting->origin.y, 0);
    Vec3 high = vec3(-low.x, -low.y, half * cell);
    widen_extras(e, &low, &high);
    // Keep to the casting's cells.
    int left = (int)ceil((casting->origin.x - low.x) / cell) + 2;
    int front = (int)ceil((casting->origin.y - low.y) / cell) + 2;
    int right = (int)ceil((high.x + casting->origin.x) / cell) + 2;
    int back = (int)ceil((high.y + casting->origin.y) / cell) + 2;
    int up = MAX(half, (int)ceil(high.z / cell) + 2);
    SolidGrid *g = solid_grid_new(
        casting->nx + left + right, casting->ny + front + back, up, cell,
        vec3(casting->origin.x - left * cell, casting->origin.y - front * cell, cell / 2));
    if (!g) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL,
                       _("a pattern needs more cells than can be held"),
                       _("make the printer's finest detail coarser"));
        return NULL;
    }
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                int ci = i - left, cj = j - front;
                Vec3 p = vec3(g->origin.x + i * cell, g->origin.y + j * cell,
                              g->origin.z + k * cell);
                double d = extras_distance(e, p);
                if (ci >= 0 && cj >= 0 && ci < casting->nx && cj < casting->ny && k < half) {
                    gboolean drag = e->side == BOARD_DRAG;
                    int from_j = drag ? casting->ny - 1 - cj : cj;
                    int from_k = drag ? half - 1 - k : half + k;
                    d = fmin(d, casting->value[solid_grid_index(casting, ci, from_j, from_k)]);
                }
                g->value[solid_grid_index(g, i, j, k)] = (float)d;
            }
    board_skin_mend(g, TRUE);
    return g;
}

static gboolean
is_empty(const SolidGrid *g)
{
    gsize n = (gsize)g->nx * g->ny * g->nz;
    for (gsize i = 0; i < n; i++)
        if (g->value[i] <= 0)
            return FALSE;
    return TRUE;
}

// The hole for the dowel of an open riser's pin.
static void
add_pin_hole(const BoardWork *work, const Extras *e, gboolean guest, GArray *bores)
{
    double depth = e->riser ? board_riser_hole(work, guest) : 0;
    double radius = (work->options->dowel + work->options->dowel_play) / 2;
    BoardHole hole = {vec3(e->riser_at.x, e->riser_at.y, e->riser_top - depth),
                      vec3(e->riser_at.x, e->riser_at.y, e->riser_top + work->options->dowel),
                      radius};
    if (depth > 0)
        g_array_append_val(bores, hole);
}

// A half pattern, in so many pieces as do not hang together in this half.
static gboolean
add_bodies(BoardWork *work, SolidGrid *field, const char *name, const Extras *e, gboolean guest,
           const BoardPlace *places, guint n, GError **error)
{
    g_autoptr(BoardBodies) bodies = board_bodies_new(field);
    guint count = board_bodies_count(bodies);
    for (guint i = 0; i < count; i++) {
        g_autoptr(SolidGrid) body = board_bodies_get(bodies, i);
        g_autofree char *own = i == 0 ? g_strdup(name) : g_strdup_printf("%s-body-%u", name, i + 1);
        g_autoptr(GArray) bores = g_array_new(FALSE, FALSE, sizeof(BoardHole));
        if (solid_grid_sample(body, vec3(e->riser_at.x, e->riser_at.y, e->riser_top / 2)) < 0)
            add_pin_hole(work, e, guest, bores);
        if (!board_add_parts(work, body, own, BOARD_PIECE_PATTERN, e->side, places, n, bores,
                             error))
            return FALSE;
    }
    if (count > 1)
        g_ptr_array_add(work->notes,
                        g_strdup_printf(_("%s is in %u bodies that hang together in the other half "
                                          "only: each has its own place on the board"),
                                        name, count));
    return TRUE;
}

// Half patterns of the cavities that are alike; *again when they have too many triangles for a
// file, and then what was added is of no use.
static gboolean
add_group(BoardWork *work, const SolidGrid *casting, const Hang *hang, const guint *members,
          guint n, guint group, gboolean *again, GError **error)
{
    for (int side = BOARD_COPE; side <= BOARD_DRAG; side++) {
        Extras e = find_extras(work, hang, side);
        g_autoptr(SolidGrid) field = make_half(work, casting, &e, error);
        if (!field)
            return FALSE;
        if (is_empty(field))
            continue;
        if (cut_triangles(field) > BOARD_MOST_BEFORE_THIN) {
            *again = TRUE;
            return TRUE;
        }
        g_autofree BoardPlace *places = g_new0(BoardPlace, n);
        for (guint i = 0; i < n; i++) {
            const MouldCavity *c = &work->layout->cavities[members[i]];
            gboolean drag = side == BOARD_DRAG;
            places[i] = (BoardPlace){c->x, drag ? -c->y : c->y, 0, drag ? -c->turn : c->turn,
                                     FALSE};
        }
        const char *half = side == BOARD_COPE ? "cope" : "drag";
        const char *what = hang->guest ? "guest-pattern" : "pattern";
        g_autofree char *name = group == 0 ? g_strdup_printf("%s-%s", half, what)
                                           : g_strdup_printf("%s-%s-%c", half, what,
                                                             'a' + (int)MIN(group, 25));
        guint before = work->pieces->len;
        if (!add_bodies(work, field, name, &e, hang->guest, places, n, error))
            return FALSE;
        for (guint i = before; i < work->pieces->len; i++)
            *again |= g_array_index(work->pieces, BoardPiece, i).mesh->n_triangles >
                      BOARD_MOST_TRIANGLES;
    }
    return TRUE;
}

// Of this job's cavities, or of the guest's.
static gboolean
add_groups(BoardWork *work, const SolidGrid *casting, gboolean guest, gboolean *again,
           GError **error)
{
    const MouldLayout *l = work->layout;
    g_autofree gboolean *done = g_new0(gboolean, l->n_cavities);
    g_autofree guint *members = g_new(guint, l->n_cavities);
    for (guint i = 0, group = 0; i < l->n_cavities && !*again; i++) {
        if (done[i] || l->cavities[i].guest != guest)
            continue;
        Hang first = find_hang(l, i);
        guint n = 0;
        for (guint k = i; k < l->n_cavities; k++) {
            Hang other = find_hang(l, k);
            if (done[k] || !is_same(&first, &other))
                continue;
            done[k] = TRUE;
            members[n++] = k;
        }
        if (!add_group(work, casting, &first, members, n, group++, again, error))
            return FALSE;
    }
    return TRUE;
}

static double
cell_of(const BoardWork *work, const PatternResult *p, double s)
{
    return board_cell(work, vec3(s * (p->max.x - p->min.x), s * (p->max.y - p->min.y),
                                 2 * s * fmax(p->height_cope, p->height_drag)));
}

gboolean
board_add_cavities(BoardWork *work, GError **error)
{
    const MouldLayout *l = work->layout;
    gboolean shared = l->n_guests > 0 && l->guest;
    double cell = cell_of(work, work->pattern, 1 + work->options->contraction);
    if (shared)
        cell = fmax(cell, cell_of(work, l->guest->pattern, l->guest->growth));
    for (int round = 0; round < 12; round++) {
        g_autoptr(SolidGrid) casting = measure_casting(work, FALSE, cell, error);
        gboolean again = FALSE;
        guint before = work->pieces->len;
        if (!casting || !add_groups(work, casting, FALSE, &again, error))
            return FALSE;
        g_autoptr(SolidGrid) guest = shared && !again ? measure_casting(work, TRUE, cell, error)
                                                      : NULL;
        if (shared && !again && (!guest || !add_groups(work, guest, TRUE, &again, error)))
            return FALSE;
        work->detail = cell;
        if (!again && shared)
            g_ptr_array_add(work->notes,
                            g_strdup_printf(_("Pieces with \"guest\" in their names are of %s."),
                                            l->guest->name));
        if (!again)
            return TRUE;
        g_array_set_size(work->pieces, before);
        g_ptr_array_set_size(work->notes, 0);
        cell *= 1.25;
    }
    return base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL,
                          _("a pattern needs more triangles than a file may hold"),
                          _("make the printer's finest detail coarser"));
}
