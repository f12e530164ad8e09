// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces one by one: closed, of the right volume, drawing, no larger than the bed, and no
// larger than a file may be.
#include "bench.h"
#include "rays.h"

#include "board/pieces.h"
#include "solid/measure.h"

static void
test_closed(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->full);
    gboolean judged = TRUE;
    for (guint i = 0; i < r->n_pieces; i++) {
        rays_check_closed(r->pieces[i].mesh, r->pieces[i].name);
        judged = judged && rays_check_admesh(r->pieces[i].mesh, r->pieces[i].name);
    }
    for (guint i = 0; i < r->n_pieces; i++)
        for (guint k = 0; k < i; k++)
            g_assert_cmpstr(r->pieces[i].name, !=, r->pieces[k].name);
    if (!judged)
        g_test_skip("admesh is not installed");
}

// Holes of a foot: at most this much.
static double
hole_volume(const BoardOptions *o, const BoardPiece *piece)
{
    double r = (o->dowel + o->dowel_play) / 2;
    return piece->n_dowels * G_PI * r * r * 2.5 * o->dowel;
}

// kg, with what bench_options() says: 1.1 mm of solid shell, 37 % of what is inside.
static double
filament(const BoardPiece *piece)
{
    SolidMeasure m = solid_measure(piece->mesh);
    return 1240 * (0.0011 * m.area + 0.37 * (m.volume - 0.0011 * m.area));
}

static void
test_volume(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->bare);
    double scale = pow(1 + o.contraction, 3);
    const BoardPiece *cope = bench_find(r, "cope-pattern"), *drag = bench_find(r, "drag-pattern");
    g_assert_cmpuint(cope->n_dowels, ==, 2);
    g_assert_cmpuint(drag->n_dowels, ==, 2);
    check_close(cope->volume + hole_volume(&o, cope), scale * rays_half_volume(f->pattern->mesh, 1),
                0.005, "flux of z through the envelope's half");
    check_close(drag->volume + hole_volume(&o, drag),
                scale * rays_half_volume(f->pattern->mesh, -1), 0.005,
                "flux of z through the envelope's half");
    check_close(cope->mass, filament(cope), 1e-12, "shells solid, the inside in part");
    SolidMeasure m = solid_measure(f->pattern->mesh);
    double s = 1 + o.contraction;
    check_close(fmax(cope->size.x, drag->size.x), s * (m.max.x - m.min.x), 0.005, "enlarged box");
    check_close(fmax(cope->size.y, drag->size.y), s * (m.max.y - m.min.y), 0.005, "enlarged box");
    check_close(cope->size.z, s * m.max.z, 0.005, "enlarged box");
    check_close(drag->size.z, -s * m.min.z, 0.006, "enlarged box");
}

// Sums of the whole list.
static void
test_sums(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->full);
    double volume = 0, mass = 0;
    guint count = 0;
    for (guint i = 0; i < r->n_pieces; i++) {
        SolidMeasure m = solid_measure(r->pieces[i].mesh);
        check_close(m.min.z, 0, 1e-9, "stands on the bed");
        check_close(r->pieces[i].volume, m.volume, 1e-12, "measure of the mesh");
        volume += r->pieces[i].count * m.volume;
        mass += r->pieces[i].count * filament(&r->pieces[i]);
        count += r->pieces[i].count;
    }
    check_close(r->volume, volume, 1e-12, "sum");
    check_close(r->mass, mass, 1e-12, "sum");
    g_assert_cmpuint(r->count, ==, count);
}

static gboolean
in_hole(const BoardPiece *piece, double x, double y, double radius)
{
    for (guint d = 0; d < piece->n_dowels; d++)
        if (hypot(x - piece->dowels[d].x, y - piece->dowels[d].y) < radius)
            return TRUE;
    return FALSE;
}

// Every upright line meets metal once, from the foot up: nothing rises wider.
static void
check_draws(const BoardPiece *piece, const BoardOptions *o, guint lines)
{
    SolidMeasure m = solid_measure(piece->mesh);
    GRand *random = g_rand_new_with_seed(4711);
    guint hits = 0;
    for (guint i = 0; i < lines; i++) {
        double x = g_rand_double_range(random, m.min.x, m.max.x);
        double y = g_rand_double_range(random, m.min.y, m.max.y);
        if (in_hole(piece, x, y, (o->dowel + o->dowel_play) / 2 + 0.0002))
            continue;
        g_autoptr(GArray) heights = rays_cross(piece->mesh, x, y);
        if (heights->len == 0)
            continue;
        hits++;
        g_assert_cmpuint(heights->len, ==, 2);
        check_close(g_array_index(heights, double, 0), 0, 1e-9, "begins at the foot");
    }
    g_rand_free(random);
    g_test_message("%s: %u of %u lines met it", piece->name, hits, lines);
    g_assert_cmpuint(hits, >, lines / 10);
}

static void
test_draws(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->full);
    for (guint i = 0; i < r->n_pieces; i++)
        if (r->pieces[i].kind == BOARD_PIECE_PATTERN || r->pieces[i].kind == BOARD_PIECE_RUNNER)
            check_draws(&r->pieces[i], &o, 700);
}

// No face but the foot and the dowels' holes looks back at the board, by more than rounding.
static void
test_no_face_back(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->full);
    for (guint i = 0; i < r->n_pieces; i++) {
        const BoardPiece *p = &r->pieces[i];
        if (p->kind != BOARD_PIECE_PATTERN && p->kind != BOARD_PIECE_RUNNER)
            continue;
        double back = 0, all = 0;
        for (guint32 t = 0; t < p->mesh->n_triangles; t++) {
            Vec3 v[3];
            for (int c = 0; c < 3; c++)
                v[c] = p->mesh->vertices[p->mesh->triangles[t][c]];
            Vec3 n = vec3_cross(vec3_sub(v[1], v[0]), vec3_sub(v[2], v[0]));
            Vec3 middle = vec3_scale(vec3_add(v[0], vec3_add(v[1], v[2])), 1.0 / 3);
            all += vec3_length(n) / 2;
            if (middle.z > 1e-9 && n.z < -1e-7 * vec3_length(n) &&
                !in_hole(p, middle.x, middle.y, (o.dowel + o.dowel_play) / 2 + 0.0005))
                back += vec3_length(n) / 2;
        }
        g_test_message("%s: %.4f mm2 of %.0f look back", p->name, back * 1e6, all * 1e6);
        g_assert_cmpfloat(back, <=, 1e-9 * all);
    }
}

static gboolean
fits(Vec3 size, Vec3 bed)
{
    double e = 1e-6;
    return size.z <= bed.z + e && ((size.x <= bed.x + e && size.y <= bed.y + e) ||
                                   (size.x <= bed.y + e && size.y <= bed.x + e));
}

static void
test_bed(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) whole = bench_make(&o, f->pattern, f->full);
    o.bed = vec3(0.061, 0.047, 0.033);
    g_autoptr(BoardResult) cut = bench_make(&o, f->pattern, f->full);
    double volume[2][BOARD_PIECE_KINDS] = {{0}}, holes = 0;
    for (guint i = 0; i < whole->n_pieces; i++)
        volume[0][whole->pieces[i].kind] += whole->pieces[i].volume;
    for (guint i = 0; i < cut->n_pieces; i++) {
        const BoardPiece *p = &cut->pieces[i];
        rays_check_closed(p->mesh, p->name);
        g_assert_true(fits(p->size, o.bed));
        volume[1][p->kind] += p->volume;
        holes += hole_volume(&o, p);
    }
    g_assert_cmpuint(cut->n_pieces, >, 3 * whole->n_pieces);
    // Only holes are lost: two at most in each of four sides of a piece.
    double r = (o.dowel + o.dowel_play) / 2, joint = 2 * G_PI * r * r * 2.5 * o.dowel;
    for (int kind = 0; kind < BOARD_PIECE_KINDS; kind++) {
        if (kind == BOARD_PIECE_TAB || kind == BOARD_PIECE_RISER) // not asked for
            continue;
        g_assert_cmpfloat(volume[1][kind], <, volume[0][kind] * 1.0005);
        g_assert_cmpfloat(volume[1][kind], >,
                          volume[0][kind] * 0.9995 - holes - 4 * cut->n_pieces * joint);
    }
}

// A file stays under 20 MB, however fine the printer.
static void
test_size(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    o.detail = 0.00024;
    g_autoptr(BoardResult) r = bench_make(&o, f->pattern, f->bare);
    for (guint i = 0; i < r->n_pieces; i++)
        g_assert_cmpfloat(84 + 50.0 * r->pieces[i].mesh->n_triangles, <, 20e6);
    g_assert_cmpfloat(r->detail, >=, o.detail);
}

static void
test_same_again(Bench *f, gconstpointer data)
{
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) a = bench_make(&o, f->pattern, f->full);
    g_autoptr(BoardResult) b = bench_make(&o, f->pattern, f->full);
    g_assert_cmpuint(a->n_pieces, ==, b->n_pieces);
    for (guint i = 0; i < a->n_pieces; i++) {
        const SolidMesh *x = a->pieces[i].mesh, *y = b->pieces[i].mesh;
        g_assert_cmpmem(x->vertices, x->n_vertices * sizeof(Vec3), y->vertices,
                        y->n_vertices * sizeof(Vec3));
        g_assert_cmpmem(x->triangles, x->n_triangles * 12, y->triangles, y->n_triangles * 12);
    }
}

static void
test_refuses(Bench *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    BoardOptions o = bench_options();
    g_autoptr(MouldLayout) none = bench_bare(f->pattern);
    none->n_cavities = 0;
    g_assert_null(board_make(&o, f->pattern, none, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "no cavity");
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(board_make(&o, f->pattern, f->bare, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

// A casting that lies wholly in the drag has no cope pattern, and its drag pattern's foot is as
// wide as its widest section.
static void
test_one_sided(void)
{
    SolidMesh *plate = check_mesh_frustum(0.021, 0.0278, 0.0163, 64); // widest on top
    g_autoptr(PatternResult) pattern = bench_pattern(plate, 0, 0.03, 64);
    g_autoptr(MouldLayout) layout = bench_bare(pattern);
    BoardOptions o = bench_options();
    g_autoptr(BoardResult) r = bench_make(&o, pattern, layout);
    double volume = 0;
    for (guint i = 0; i < r->n_pieces; i++)
        if (r->pieces[i].kind == BOARD_PIECE_PATTERN) {
            volume += r->pieces[i].volume + hole_volume(&o, &r->pieces[i]);
            check_draws(&r->pieces[i], &o, 300);
        }
    double area = 32 * sin(2 * G_PI / 64); // of a 64-gon of radius 1
    double exact = area * 0.0163 / 3 * (0.021 * 0.021 + 0.021 * 0.0278 + 0.0278 * 0.0278);
    check_close(volume, pow(1 + o.contraction, 3) * exact, 0.005, "frustum, closed form");
    for (guint i = 0; i < r->n_pieces; i++)
        g_assert_cmpstr(r->pieces[i].name, !=, "cope-pattern");
    SolidMeasure m = solid_measure(pattern->mesh);
    const BoardPiece *drag = bench_find(r, "drag-pattern");
    check_close(drag->size.x, (1 + o.contraction) * (m.max.x - m.min.x), 0.004,
                "the envelope's widest section");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/board/make/" name, Bench, NULL, bench_set_up, function, bench_tear_down)
    ADD("closed", test_closed);
    ADD("volume", test_volume);
    ADD("sums", test_sums);
    ADD("draws", test_draws);
    ADD("no-face-back", test_no_face_back);
    ADD("bed", test_bed);
    ADD("size", test_size);
    ADD("same-again", test_same_again);
    ADD("refuses", test_refuses);
    g_test_add_func("/board/make/one-sided", test_one_sided);
    return g_test_run();
}
