// SPDX-License-Identifier: GPL-3.0-or-later
// Both halves put back into the flask: together they are the enlarged casting, standing where the
// layout says and not its mirror image; tabs of one board go into the sockets of the other; every
// dowel has its hole in the board.
#include "bench.h"
#include "rays.h"

#include "mould/tabs.h"

#define SKIN 0.0006 // m, near the surface either answer will do

typedef struct {
    PatternResult *pattern;
    MouldLayout *layout;
    BoardOptions options;
    BoardResult *result;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 60);
    f->layout = data ? bench_full(f->pattern) : bench_bare(f->pattern);
    f->options = bench_options();
    f->result = bench_make(&f->options, f->pattern, f->layout);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    pattern_result_unref(f->pattern);
    mould_layout_unref(f->layout);
    board_result_unref(f->result);
}

// The mesh of a piece where it stands, in flask axes.
static SolidMesh *
stand(const BoardPiece *piece, guint place)
{
    SolidMesh *mesh = solid_mesh_new(piece->mesh->n_vertices, piece->mesh->n_triangles);
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        mesh->vertices[i] = board_point(piece, place, piece->mesh->vertices[i]);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            mesh->triangles[t][c] = piece->mesh->triangles[t][c];
    return mesh;
}

static gboolean
near_dowel(const BoardPiece *piece, Vec3 p, double reach)
{
    for (guint d = 0; d < piece->n_dowels; d++) {
        Vec3 at = board_point(piece, 0, vec3(piece->dowels[d].x, piece->dowels[d].y, 0));
        if (hypot(at.x - p.x, at.y - p.y) < reach)
            return TRUE;
    }
    return FALSE;
}

static void
test_halves(Fixture *f, gconstpointer data)
{
    const BoardPiece *halves[2] = {bench_find(f->result, "cope-pattern"),
                                   bench_find(f->result, "drag-pattern")};
    g_autoptr(SolidMesh) cope = stand(halves[0], 0);
    g_autoptr(SolidMesh) drag = stand(halves[1], 0);
    for (guint32 i = 0; i < cope->n_vertices; i++)
        g_assert_cmpfloat(cope->vertices[i].z, >=, -1e-9);
    for (guint32 i = 0; i < drag->n_vertices; i++)
        g_assert_cmpfloat(drag->vertices[i].z, <=, 1e-9);
    const MouldCavity *c = &f->layout->cavities[0];
    double s = 1 + f->options.contraction;
    GRand *random = g_rand_new_with_seed(42);
    guint in = 0, out = 0;
    for (int i = 0; i < 1500; i++) {
        // A place in the casting's own axes, cold; from there by the layout to the flask.
        Vec3 q = vec3(g_rand_double_range(random, f->pattern->min.x, f->pattern->max.x),
                      g_rand_double_range(random, f->pattern->min.y, f->pattern->max.y),
                      g_rand_double_range(random, f->pattern->min.z, f->pattern->max.z));
        double distance = solid_grid_sample(f->pattern->casting, q);
        if (fabs(distance) < SKIN || fabs(q.z) < 1e-5)
            continue;
        Vec3 p = vec3(c->x + s * (cos(c->turn) * q.x - sin(c->turn) * q.y),
                      c->y + s * (sin(c->turn) * q.x + cos(c->turn) * q.y), s * q.z);
        const BoardPiece *half = halves[p.z > 0 ? 0 : 1];
        if (near_dowel(half, p, 0.0025))
            continue;
        gboolean metal = rays_inside(p.z > 0 ? cope : drag, p);
        g_assert_cmpint(metal, ==, distance < 0);
        in += distance < 0;
        out += distance > 0;
    }
    g_rand_free(random);
    g_test_message("%u in the metal, %u in the sand", in, out);
    g_assert_cmpuint(in, >, 300);
    g_assert_cmpuint(out, >, 300);
}

// What hangs on the cavity stands where the layout says: the middles of riser, neck and gate are in
// the cope, a tenth of a diameter outside them is not.
static void
test_gating(Fixture *f, gconstpointer data)
{
    const MouldLayout *l = f->layout;
    const MouldCavity *c = &l->cavities[0];
    g_autoptr(SolidMesh) cope = stand(bench_find(f->result, "cope-pattern"), 0);
    g_autoptr(SolidMesh) drag = stand(bench_find(f->result, "drag-pattern"), 0);
    g_autoptr(SolidMesh) runner = stand(bench_find(f->result, "runner"), 0);
    g_autoptr(SolidMesh) pin = stand(bench_find(f->result, "sprue-pin"), 0);
    double ry = c->riser_y + 0.0013, r = l->riser.diameter / 2;
    g_assert_true(rays_inside(cope, vec3(c->riser_x, ry, l->riser.height - 0.001)));
    g_assert_false(rays_inside(cope, vec3(c->riser_x, ry, l->riser.height + 0.001)));
    g_assert_true(rays_inside(cope, vec3(c->riser_x - 0.85 * r, ry, l->riser.height / 2)));
    g_assert_false(rays_inside(cope, vec3(c->riser_x - 1.1 * r, ry, l->riser.height / 2)));
    // The neck's lower half ends under the riser's middle.
    g_assert_true(rays_inside(drag, vec3(c->riser_x + 0.0003, c->riser_y + 0.1 * r, -0.001)));
    g_assert_false(rays_inside(drag, vec3(c->riser_x + 0.0003, c->riser_y - 0.1 * r, -0.001)));
    // Half way between riser and casting, above and below the parting.
    double ny = (c->riser_y + r + c->neck_y) / 2;
    g_assert_true(rays_inside(cope, vec3(c->neck_x + 0.0003, ny, 0.8 * l->neck.up)));
    g_assert_true(rays_inside(drag, vec3(c->neck_x + 0.0003, ny, -0.8 * l->neck.up)));
    g_assert_false(rays_inside(drag, vec3(c->neck_x + 0.0003, ny, -1.2 * l->neck.down)));
    const MouldChannel *gate = &l->gates[0];
    double gx = (gate->x1 + gate->x2) / 2;
    g_assert_true(rays_inside(cope, vec3(gx, gate->y1 + 0.4 * gate->width, 0.0031)));
    g_assert_false(rays_inside(cope, vec3(gx, gate->y1 + 0.6 * gate->width, 0.0031)));
    g_assert_false(rays_inside(drag, vec3(gx, gate->y1, -0.0031)));
    // The runner passes under the gate's start.
    g_assert_true(rays_inside(cope, vec3(gate->x1 + 0.0011, gate->y1, 0.0021)));
    g_assert_true(rays_inside(runner, vec3(gate->x1 + 0.0011, gate->y1, -0.0021)));
    g_assert_true(rays_inside(runner, vec3(l->sprue_x + 0.008, l->sprue_y, -0.0105)));
    g_assert_false(rays_inside(runner, vec3(l->sprue_x + 0.008, l->sprue_y + 0.01, -0.0021)));
    // The pin stands on the board, narrow end down.
    double edge = l->sprue_bottom_diameter / 2;
    g_assert_true(rays_inside(pin, vec3(l->sprue_x + 0.93 * edge, l->sprue_y, 0.0009)));
    g_assert_false(rays_inside(pin, vec3(l->sprue_x + 1.1 * edge, l->sprue_y, 0.0009)));
    g_assert_true(rays_inside(pin, vec3(l->sprue_x + 1.3 * edge, l->sprue_y, 0.079)));
    g_assert_false(rays_inside(pin, vec3(l->sprue_x, l->sprue_y, 0.0811)));
    // On it the basin's plug, as wide as the basin half way up, and a dowel from one to the other.
    g_autoptr(SolidMesh) plug = stand(bench_find(f->result, "basin-plug"), 0);
    double half = l->basin_diameter / 2, middle = l->sprue_height + l->basin_height / 2;
    g_assert_true(rays_inside(plug, vec3(l->sprue_x + half - 3e-4, l->sprue_y, middle)));
    g_assert_false(rays_inside(plug, vec3(l->sprue_x + half + 3e-4, l->sprue_y, middle)));
    g_assert_true(rays_inside(plug, vec3(l->sprue_x - half, l->sprue_y, middle + 0.006)));
    g_assert_false(rays_inside(plug, vec3(l->sprue_x - half, l->sprue_y, middle - 0.006)));
    double bore = 0.93 * (f->options.dowel + f->options.dowel_play) / 2;
    g_assert_false(rays_inside(pin, vec3(l->sprue_x + bore, l->sprue_y, 0.0793)));
    g_assert_false(rays_inside(plug, vec3(l->sprue_x + bore, l->sprue_y, 0.0807)));
    g_assert_true(rays_inside(pin, vec3(l->sprue_x + bore + 0.0003, l->sprue_y, 0.0793)));
    g_assert_true(rays_inside(plug, vec3(l->sprue_x + bore + 0.0003, l->sprue_y, 0.0807)));
}

// Half sizes, about a tab's place, of the vertices of one side's boards between two heights.
static guint
find_ring(const Fixture *f, BoardSide side, const MouldTab *tab, double low, double high,
          double half[2])
{
    guint n = 0;
    half[0] = half[1] = 0;
    for (guint i = 0; i < f->result->n_pieces; i++) {
        const BoardPiece *piece = &f->result->pieces[i];
        if (piece->kind != BOARD_PIECE_BOARD || piece->side != side)
            continue;
        for (guint32 v = 0; v < piece->mesh->n_vertices; v++) {
            Vec3 p = board_point(piece, 0, piece->mesh->vertices[v]);
            if (p.z < low || p.z > high || fabs(p.x - tab->x) > 0.012 || fabs(p.y - tab->y) > 0.008)
                continue;
            n++;
            half[0] = fmax(half[0], fabs(p.x - tab->x));
            half[1] = fmax(half[1], fabs(p.y - tab->y));
        }
    }
    return n;
}

static void
test_tabs(Fixture *f, gconstpointer data)
{
    const MouldLayout *l = f->layout;
    double depth = f->result->tab_depth, taper = f->result->tab_taper, t = f->options.thickness;
    g_assert_cmpuint(l->n_tabs, ==, 4);
    g_assert_cmpfloat(depth, >, 0.002);
    g_assert_cmpfloat(depth, <, t - 0.002);
    g_assert_true(mould_tabs_one_way(l->tabs, l->n_tabs, l->tab_clearance));
    for (guint i = 0; i < l->n_tabs; i++) {
        double raised[2], foot[2], pocket[2], floor[2];
        const MouldTab *tab = &l->tabs[i];
        // The cope board lies below the parting, the drag board, turned over, above it.
        g_assert_cmpuint(find_ring(f, BOARD_COPE, tab, -1e-9, 1e-9, foot), ==, 4);
        g_assert_cmpuint(find_ring(f, BOARD_COPE, tab, 1e-4, 1, raised), ==, 4);
        g_assert_cmpuint(find_ring(f, BOARD_DRAG, tab, -1e-9, 1e-9, pocket), ==, 4);
        g_assert_cmpuint(find_ring(f, BOARD_DRAG, tab, depth - 1e-6, depth + 1e-6, floor), ==, 4);
        const double nominal[2] = {tab->length / 2, tab->width / 2};
        for (int a = 0; a < 2; a++) {
            check_close(pocket[a], nominal[a], 1e-9, "tab of the layout");
            check_close(foot[a] - pocket[a], l->tab_clearance, 1e-6, "clearance at the parting");
            check_close(floor[a], nominal[a] - depth * taper, 1e-9, "taper");
            // The socket where the tab of sand ends, by the line from foot to end.
            double high = 0.0005 + depth;
            double there = foot[a] + (raised[a] - foot[a]) * depth / high;
            check_close(there - floor[a], l->tab_clearance, 1e-6, "clearance at the tab's end");
        }
    }
}

static gboolean
in_board(const Fixture *f, BoardSide side, Vec3 p)
{
    for (guint i = 0; i < f->result->n_pieces; i++) {
        const BoardPiece *piece = &f->result->pieces[i];
        if (piece->kind != BOARD_PIECE_BOARD || piece->side != side)
            continue;
        g_autoptr(SolidMesh) mesh = stand(piece, 0);
        if (rays_inside(mesh, p))
            return TRUE;
    }
    return FALSE;
}

static void
test_dowels(Fixture *f, gconstpointer data)
{
    guint holes = 0;
    for (guint i = 0; i < f->result->n_pieces; i++) {
        const BoardPiece *piece = &f->result->pieces[i];
        for (guint d = 0; d < piece->n_dowels && piece->kind != BOARD_PIECE_BOARD; d++) {
            Vec3 foot = vec3(piece->dowels[d].x, piece->dowels[d].y, 0);
            Vec3 at = board_point(piece, 0, foot);
            double z = (piece->side == BOARD_COPE ? -0.5 : 0.5) * f->options.thickness;
            double r = (f->options.dowel + f->options.dowel_play) / 2;
            g_assert_false(in_board(f, piece->side, vec3(at.x + 0.93 * r, at.y + 0.01 * r, z)));
            g_assert_true(in_board(f, piece->side, vec3(at.x + 1.07 * r, at.y + 0.01 * r, z)));
            holes++;
        }
    }
    g_assert_cmpuint(holes, >=, 7); // two each for the halves and the runner, one for the pin
}

// Length by width by thickness, less holes and pockets, more tabs.
static void
test_boards(Fixture *f, gconstpointer data)
{
    const MouldLayout *l = f->layout;
    const BoardOptions *o = &f->options;
    double t = o->thickness, depth = f->result->tab_depth, taper = f->result->tab_taper;
    double plain = (l->length + 2 * o->rim) * (l->width + 2 * o->rim) * t;
    // A 32-gon about the circle.
    double r = (o->dowel + o->dowel_play) / 2, hole = 32 * tan(G_PI / 32) * r * r * t;
    for (int side = BOARD_COPE; side <= BOARD_DRAG; side++) {
        double sum = 0, expected = plain;
        for (guint i = 0; i < f->result->n_pieces; i++) {
            const BoardPiece *piece = &f->result->pieces[i];
            if (piece->side != (BoardSide)side)
                continue;
            if (piece->kind == BOARD_PIECE_BOARD)
                sum += piece->volume;
            else
                expected -= piece->n_dowels * piece->count * hole;
        }
        for (guint i = 0; i < l->n_tabs; i++) {
            double room = side == BOARD_COPE ? l->tab_clearance : 0;
            double h = side == BOARD_COPE ? depth + 0.0005 : depth;
            double a = l->tabs[i].length + 2 * room, b = l->tabs[i].width + 2 * room;
            double c = a - 2 * h * taper, d = b - 2 * h * taper;
            // Prismatoid: ends and four times the middle section.
            double volume = h / 6 * (a * b + (a + c) * (b + d) + c * d);
            expected += side == BOARD_COPE ? volume : -volume;
        }
        check_close(sum, expected, 1e-9, "closed form");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, full, function)                                                                  \
    g_test_add("/board/meet/" name, Fixture, full, set_up, function, tear_down)
    ADD("halves", NULL, test_halves);
    ADD("gating", "full", test_gating);
    ADD("tabs", "full", test_tabs);
    ADD("dowels", "full", test_dowels);
    ADD("boards", "full", test_boards);
    return g_test_run();
}
