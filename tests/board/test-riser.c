// SPDX-License-Identifier: GPL-3.0-or-later
// Open risers as patterns: a foot on the half pattern, a loose pin on the foot that draws upwards,
// and a dowel between them. Blind ones stay one with their half pattern.
#include "bench.h"
#include "board/riser.h"
#include "rays.h"

#define R 0.011
#define OPEN 0.08 // m, the cope's depth

typedef struct {
    PatternResult *pattern;
    MouldLayout *layout;
    BoardOptions options;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 60);
    f->layout = bench_full(f->pattern);
    f->options = bench_options();
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    pattern_result_unref(f->pattern);
    mould_layout_unref(f->layout);
}

static SolidMesh *
stand(const BoardPiece *piece)
{
    SolidMesh *mesh = solid_mesh_new(piece->mesh->n_vertices, piece->mesh->n_triangles);
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        mesh->vertices[i] = board_point(piece, 0, piece->mesh->vertices[i]);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            mesh->triangles[t][c] = piece->mesh->triangles[t][c];
    return mesh;
}

static guint
count_kind(const BoardResult *r, BoardKind kind)
{
    guint n = 0;
    for (guint i = 0; i < r->n_pieces; i++)
        n += r->pieces[i].kind == kind ? r->pieces[i].count : 0;
    return n;
}

static void
test_blind(Fixture *f, gconstpointer data)
{
    g_autoptr(BoardResult) r = bench_make(&f->options, f->pattern, f->layout);
    g_assert_cmpuint(count_kind(r, BOARD_PIECE_RISER), ==, 0);
    check_close(board_riser_foot(f->layout, FALSE), f->layout->riser.height, 1e-15, "all of it");
}

// The riser of the bench, open: its pin and what is left on the half pattern.
static void
test_open(Fixture *f, gconstpointer data)
{
    MouldLayout *l = f->layout;
    const MouldCavity *c = &l->cavities[0];
    l->riser.open = TRUE;
    l->riser.height = OPEN;
    g_autoptr(BoardResult) r = bench_make(&f->options, f->pattern, l);
    g_assert_cmpuint(count_kind(r, BOARD_PIECE_RISER), ==, 1);
    const BoardPiece *pin = bench_find(r, "riser-pin");
    g_assert_cmpstr(board_kind_id(pin->kind), ==, "riser");
    rays_check_closed(pin->mesh, pin->name);
    rays_check_closed(bench_find(r, "cope-pattern")->mesh, "cope-pattern");
    // The gate, 6 mm, is the highest that meets the riser there.
    double foot = 0.006;
    check_close(board_riser_foot(l, FALSE), foot, 1e-12, "neck 4.5 mm, gate 6 mm");
    check_close(pin->size.z, OPEN - foot, 1e-6, "from the foot to the cope's top");
    // A frustum whose middle is as wide as the riser, less the dowel's hole.
    double h = OPEN - foot, lean = tan(f->options.draft) * h / 2, o = f->options.dowel;
    double wide = R + lean, narrow = R - lean;
    double bore = (o + f->options.dowel_play) / 2;
    double volume = G_PI / 3 * h * (wide * wide + wide * narrow + narrow * narrow) -
                    G_PI * bore * bore * 2.5 * o;
    check_close(pin->volume, volume, 0.01, "frustum and hole, closed form");
    check_close(volume, G_PI * R * R * h, 0.05, "about the riser's own");
    // Stands on the foot, widens upwards, and is no part of the half pattern.
    g_autoptr(SolidMesh) stands = stand(pin);
    g_autoptr(SolidMesh) cope = stand(bench_find(r, "cope-pattern"));
    double y = c->riser_y + 0.0067;
    g_assert_true(rays_inside(stands, vec3(c->riser_x, y, foot + 0.0005)));
    g_assert_false(rays_inside(stands, vec3(c->riser_x, y, foot - 0.0005)));
    g_assert_true(rays_inside(stands, vec3(c->riser_x, y, OPEN - 0.0005)));
    g_assert_false(rays_inside(stands, vec3(c->riser_x, y, OPEN + 0.0005)));
    g_assert_true(rays_inside(stands, vec3(c->riser_x, c->riser_y + wide - 4e-4, OPEN - 0.0005)));
    g_assert_false(
        rays_inside(stands, vec3(c->riser_x, c->riser_y + narrow + 4e-4, foot + 0.0005)));
    g_assert_true(rays_inside(cope, vec3(c->riser_x, y, foot - 0.0005)));
    g_assert_false(rays_inside(cope, vec3(c->riser_x, y, foot + 0.0005)));
    // A dowel's hole on both sides of the joint.
    g_assert_false(rays_inside(stands, vec3(c->riser_x + 0.0003, c->riser_y, foot + 0.001)));
    g_assert_false(rays_inside(cope, vec3(c->riser_x + 0.0003, c->riser_y, foot - 0.001)));
}

// On the casting: the foot lies on its upper face.
static void
test_on_top(Fixture *f, gconstpointer data)
{
    MouldLayout *l = f->layout;
    MouldCavity *c = &l->cavities[0];
    l->riser.open = l->riser.on_top = TRUE;
    l->neck = (MouldNeck){0};
    l->riser.base = f->pattern->height_cope * 0.8;
    l->riser.height = OPEN - l->riser.base;
    c->riser_x = c->x;
    c->riser_y = c->y;
    g_autoptr(BoardResult) r = bench_make(&f->options, f->pattern, l);
    const BoardPiece *pin = bench_find(r, "riser-pin");
    check_close(pin->size.z, OPEN - l->riser.base - 0.003, 1e-6, "on a foot of 3 mm");
    rays_check_closed(pin->mesh, pin->name);
    rays_check_closed(bench_find(r, "cope-pattern")->mesh, "cope-pattern");
    check_close(pin->places[0].z, OPEN, 1e-9, "turned over, its wide end at the cope's top");
    // Hardly any of it left: then it stays on the half pattern.
    l->riser.height = 0.009;
    g_autoptr(BoardResult) low = bench_make(&f->options, f->pattern, l);
    g_assert_cmpuint(count_kind(low, BOARD_PIECE_RISER), ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/board/riser/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("blind", test_blind);
    ADD("open", test_open);
    ADD("on-top", test_on_top);
    return g_test_run();
}
