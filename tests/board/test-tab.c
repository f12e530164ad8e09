// SPDX-License-Identifier: GPL-3.0-or-later
// Loose index tabs: closed, of known volume, and where they stand the plug goes into the socket
// with the clearance all round, and both sit on the boards without meeting them.
#include "bench.h"
#include "rays.h"

#include "mould/tabs.h"

#define WALL 0.002
#define KEY 0.001

typedef struct {
    PatternResult *pattern;
    MouldLayout *layout;
    BoardOptions options;
    BoardResult *result;
} Fixture;

// data: 0 four tabs, 1 three pins, 2 two tabs of two sizes
static void
set_up(Fixture *f, gconstpointer data)
{
    int kind = GPOINTER_TO_INT(data);
    f->pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 40);
    f->layout = bench_bare(f->pattern);
    f->options = bench_options();
    MouldTabWish tabs = {.length = f->layout->length,
                         .width = f->layout->width,
                         .cover = 0.025,
                         .count = 4 - (guint)kind,
                         .pins = kind == 1,
                         .size = NAN,
                         .inset = NAN,
                         .shift = NAN};
    f->layout->n_tabs = mould_tabs_place(&tabs, f->layout->tabs);
    f->layout->tabs_loose = TRUE;
    f->layout->tab_draft = 0.113;
    f->result = bench_make(&f->options, f->pattern, f->layout);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    pattern_result_unref(f->pattern);
    mould_layout_unref(f->layout);
    board_result_unref(f->result);
}

static double
frustum(double a, double b, double taper, double h)
{
    if (b > 0) {
        double c = a - h * taper, d = b - h * taper;
        return h / 6 * 4 * (a * b + (a + c) * (b + d) + c * d);
    }
    double c = a - h * taper, sides = 32 * tan(G_PI / 32);
    return sides * h / 3 * (a * a + a * c + c * c);
}

static void
test_pieces(Fixture *f, gconstpointer data)
{
    guint plugs = 0, sockets = 0;
    double depth = f->result->tab_depth, taper = f->result->tab_taper;
    check_close(taper, tan(0.113), 1e-12, "the tabs' own draft");
    for (guint i = 0; i < f->result->n_pieces; i++) {
        const BoardPiece *p = &f->result->pieces[i];
        if (p->kind != BOARD_PIECE_TAB)
            continue;
        gboolean plug = g_str_has_prefix(p->name, "tab-plug");
        *(plug ? &plugs : &sockets) += p->count;
        rays_check_closed(p->mesh, p->name);
        rays_check_admesh(p->mesh, p->name);
        const MouldTab *tab = NULL;
        for (guint k = 0; k < f->layout->n_tabs; k++)
            if (hypot(f->layout->tabs[k].x - board_point(p, 0, vec3(0, 0, 0)).x,
                      f->layout->tabs[k].y - board_point(p, 0, vec3(0, 0, 0)).y) < 1e-9)
                tab = &f->layout->tabs[k];
        g_assert_nonnull(tab);
        double c = f->layout->tab_clearance, a = tab->length / 2, b = tab->width / 2;
        double x = 2 * (a + c + WALL), y = 2 * ((b > 0 ? b : a) + c + WALL);
        double tall = depth + 0.0005 + WALL, r = fmin(tall, y / 2) / 4;
        double keys = 2 * 32 * tan(G_PI / 32) * r * r * KEY;
        double expected = x * y * tall - keys;
        if (plug)
            expected += frustum(a, b, taper, depth - 0.0005);
        else
            expected -= frustum(a + c, b > 0 ? b + c : 0, taper, depth + 0.0005);
        check_close(p->volume, expected, 1e-9, "block, keys, nose or opening");
    }
    g_assert_cmpuint(plugs, ==, f->layout->n_tabs);
    g_assert_cmpuint(sockets, ==, f->layout->n_tabs);
}

// Half width along x at a height of the flask of the plug's nose or the socket's opening, by rays.
static double
half_at(const Fixture *f, const MouldTab *tab, gboolean plug, double z)
{
    for (guint i = 0; i < f->result->n_pieces; i++) {
        const BoardPiece *p = &f->result->pieces[i];
        if (p->kind != BOARD_PIECE_TAB || (p->side == BOARD_DRAG) != plug)
            continue;
        for (guint k = 0; k < p->count; k++) {
            Vec3 origin = board_point(p, k, vec3(0, 0, 0));
            if (hypot(origin.x - tab->x, origin.y - tab->y) > 1e-9)
                continue;
            // In the piece's own axes its top is the parting.
            double tall = f->result->tab_depth + 0.0005 + WALL;
            double low = 0, high = tab->length / 2 + f->layout->tab_clearance + WALL - 1e-6;
            double own = plug ? tall + z : tall - z;
            for (int step = 0; step < 40; step++) {
                double x = (low + high) / 2;
                gboolean in = rays_inside(p->mesh, vec3(x + 1e-9, 0.00013, own));
                if (in == plug)
                    low = x;
                else
                    high = x;
            }
            Vec3 there = board_point(p, k, vec3(low, 0.00013, own));
            check_close(there.z + 1, z + 1, 1e-9, "heights of the flask");
            return low;
        }
    }
    g_assert_not_reached();
}

static void
test_play(Fixture *f, gconstpointer data)
{
    double depth = f->result->tab_depth;
    for (guint i = 0; i < f->layout->n_tabs; i++)
        for (double share = 0.11; share < 0.9; share += 0.23) {
            double z = share * (depth - 0.0005);
            double plug = half_at(f, &f->layout->tabs[i], TRUE, z);
            double socket = half_at(f, &f->layout->tabs[i], FALSE, z);
            g_assert_cmpfloat(fabs(socket - plug - f->layout->tab_clearance), <, 3e-6);
        }
}

// No corner of a loose piece lies in a board, nor one of a board's in a loose piece.
static void
test_on_boards(Fixture *f, gconstpointer data)
{
    for (guint i = 0; i < f->result->n_pieces; i++) {
        const BoardPiece *p = &f->result->pieces[i];
        for (guint k = 0; k < f->result->n_pieces && p->kind == BOARD_PIECE_TAB; k++) {
            const BoardPiece *board = &f->result->pieces[k];
            if (board->kind != BOARD_PIECE_BOARD || board->side != p->side)
                continue;
            g_autoptr(SolidMesh)
                          mesh = solid_mesh_new(board->mesh->n_vertices, board->mesh->n_triangles);
            for (guint32 v = 0; v < mesh->n_vertices; v++)
                mesh->vertices[v] = board_point(board, 0, board->mesh->vertices[v]);
            memcpy(mesh->triangles, board->mesh->triangles,
                   mesh->n_triangles * sizeof *mesh->triangles);
            for (guint place = 0; place < p->count; place++)
                for (guint32 v = 0; v < p->mesh->n_vertices; v++) {
                    // Drawn a hair into the piece's own stuff, since sides lie on one another.
                    Vec3 own = p->mesh->vertices[v];
                    double rim = p->size.x / 2 - WALL + 1e-9;
                    gboolean open = p->side == BOARD_COPE && fabs(own.x) < rim;
                    double in = open ? 1.001 : 0.999;
                    own = vec3(in * own.x + 1.3e-6, in * own.y + 1.7e-6, own.z - 2e-5);
                    g_assert_false(rays_inside(mesh, board_point(p, place, own)));
                }
        }
    }
}

static void
test_not_asked(void)
{
    g_autoptr(PatternResult) pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 40);
    g_autoptr(MouldLayout) layout = bench_bare(pattern);
    BoardOptions options = bench_options();
    g_autoptr(BoardResult) result = bench_make(&options, pattern, layout);
    for (guint i = 0; i < result->n_pieces; i++)
        g_assert_cmpint(result->pieces[i].kind, !=, BOARD_PIECE_TAB);
}

static void
test_too_shallow(void)
{
    g_autoptr(PatternResult) pattern = bench_pattern(bench_bracket(), 0.0017, 0.031, 40);
    g_autoptr(MouldLayout) layout = bench_bare(pattern);
    BoardOptions options = bench_options();
    g_autoptr(GError) error = NULL;
    layout->tabs_loose = TRUE;
    options.thickness = 0.0015;
    g_autoptr(BoardResult) result = board_make(&options, pattern, layout, NULL, &error);
    g_assert_null(result);
    check_error(error, BASE_ERROR_VALUE, "too shallow");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    static const char *const names[] = {"four", "pins", "two"};
    for (int i = 0; i < 3; i++) {
        g_autofree char *pieces = g_strdup_printf("/board/tab/%s/pieces", names[i]);
        g_autofree char *play = g_strdup_printf("/board/tab/%s/play", names[i]);
        g_autofree char *boards = g_strdup_printf("/board/tab/%s/boards", names[i]);
        gpointer data = GINT_TO_POINTER(i);
        g_test_add(pieces, Fixture, data, set_up, test_pieces, tear_down);
        g_test_add(play, Fixture, data, set_up, test_play, tear_down);
        g_test_add(boards, Fixture, data, set_up, test_on_boards, tear_down);
    }
    g_test_add_func("/board/tab/not-asked", test_not_asked);
    g_test_add_func("/board/tab/too-shallow", test_too_shallow);
    return g_test_run();
}
