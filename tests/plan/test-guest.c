// SPDX-License-Identifier: GPL-3.0-or-later
// Two jobs in one flask: what stands in it, what is counted to whom, when it is refused, and that
// every change of either is seen.
#include <math.h>
#include <string.h>

#include "board/board.h"
#include "book/edit.h"
#include "book/inputs.h"
#include "guest-kit.h"
#include "mould/fixed.h"
#include "mould/space.h"

typedef GuestFixture Fixture;

static void
test_shared(Fixture *f, gconstpointer data)
{
    g_autoptr(Plan) alone = make_plan(f->alone, "part", f->tables, f->cache);
    g_autoptr(Plan) plan = make_plan(f->shared, "part", f->tables, f->cache);
    g_autoptr(Plan) other = make_plan(f->shared, "other", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan);
    guint hosts = l->n_cavities - l->n_guests;
    g_assert_cmpuint(hosts, >=, 1);
    g_assert_cmpuint(l->n_guests, >=, 1);
    g_assert_cmpfloat(guest_value(plan, "mould.cavities"), ==, hosts);
    g_assert_cmpfloat(guest_value(plan, "mould.guest_cavities"), ==, l->n_guests);
    g_assert_null(plan_figure(alone, "mould.guest_cavities"));
    for (guint i = 0; i < l->n_cavities; i++)
        g_assert_cmpint(l->cavities[i].guest, ==, i >= hosts);
    // What a caster would check.
    guest_check_holds(plan, "mould.sand_cover.wall");
    guest_check_holds(plan, "mould.sand_cover.between");
    guest_check_holds(plan, "mould.sand_cover.sprue");
    guest_check_holds(plan, "mould.sand_cover.runner");
    guest_check_holds(plan, "mould.gates_missing");
    guest_check_holds(plan, "mould.cavities_outside");
    // Metal: both castings' own masses, and all else at the density it is poured with.
    double own = guest_value(alone, "casting.mass"), its = guest_value(other, "casting.mass");
    check_close(guest_value(plan, "mould.castings_mass"), hosts * own + l->n_guests * its, 1e-9,
                "both kinds");
    check_close(l->castings_mass, hosts * own + l->n_guests * its, 1e-9, "the layout's");
    double hollow = hosts * guest_value(alone, "mould.cavity_volume") +
                    l->n_guests * guest_value(other, "mould.cavity_volume");
    double gating = guest_value(plan, "mould.gating_volume");
    check_close(guest_value(plan, "mould.metal_volume"), hollow + gating, 1e-9, "all hollows");
    check_close(guest_value(plan, "mould.metal_mass"),
                hosts * own + l->n_guests * its + gating * guest_value(plan, "mould.pour_density"),
                1e-9, "all metal");
    check_close(l->metal_mass, guest_value(plan, "mould.metal_mass"), 1e-9, "the layout's");
    // Poured is what the mould holds.
    g_assert_nonnull(l->filling);
    check_close(l->filling->poured, l->metal_volume, 1e-6, "by the stepped filling");
    // Castings of a session are of this job.
    check_close(guest_value(plan, "run.castings_per_session"),
                guest_value(plan, "run.flasks_per_session") * hosts, 1e-12, "its own");
    double share = hosts * own / (hosts * own + l->n_guests * its);
    check_close(guest_value(plan, "cost.poured_mass"),
                share * guest_value(plan, "run.batch_flasks") *
                    guest_value(plan, "mould.metal_mass"),
                1e-9, "its part of the flask");
    PlanCount count = {0};
    check_plan_figures(plan, &count);
    g_assert_cmpuint(count.formulas, >, 50);
    // The other job's plan knows nothing of it.
    g_autoptr(Plan) before = make_plan(f->alone, "other", f->tables, f->cache);
    g_autofree char *a = make_dump(before), *b = make_dump(other);
    check_same_dump(a, b, "the guest's own plan");
}

static void
test_board(Fixture *f, gconstpointer data)
{
    g_autoptr(Plan) plan = make_plan(f->shared, "part", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan);
    const BoardResult *board = plan_board(plan);
    g_assert_nonnull(board);
    guint places[2] = {0, 0};
    double volume[2] = {0, 0};
    for (guint i = 0; i < board->n_pieces; i++) {
        const BoardPiece *p = &board->pieces[i];
        if (p->kind != BOARD_PIECE_PATTERN)
            continue;
        int guest = strstr(p->name, "guest-pattern") != NULL;
        if (p->side == BOARD_DRAG || l->guest->below < 1e-4)
            places[guest] += p->count;
        volume[guest] += p->count * p->volume;
        for (guint k = 0; k < p->count; k++) {
            gboolean found = FALSE;
            for (guint c = 0; c < l->n_cavities; c++)
                found |= (l->cavities[c].guest ? 1 : 0) == guest &&
                         fabs(l->cavities[c].x - p->places[k].x) < 1e-9;
            g_assert_true(found); // it stands where a cavity of its kind is
        }
    }
    g_assert_cmpuint(places[1], >=, l->n_guests);
    g_assert_cmpuint(places[0], >=, l->n_cavities - l->n_guests);
    // Coarse facets and gates on them: a fifth more or less.
    double own = (l->n_cavities - l->n_guests) * guest_value(plan, "mould.cavity_volume");
    check_close(volume[1], l->n_guests * l->guest->volume, 0.25, "half patterns of the guest");
    check_close(volume[0], own, 0.25, "its own");
    gboolean said = FALSE;
    for (guint i = 0; board->notes[i]; i++)
        said |= strstr(board->notes[i], "Cup") != NULL;
    g_assert_true(said);
}

static void
check_refused(const Fixture *f, const Book *book, const char *words)
{
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
    const Figure *figure = plan_figure(plan, "mould.guest_cavities");
    g_assert_nonnull(figure);
    g_assert_cmpint(figure->state, ==, FIGURE_FAILS);
    g_assert_nonnull(figure->note);
    if (!strstr(figure->note, words))
        g_error("\"%s\" does not say \"%s\"", figure->note, words);
    g_assert_cmpuint(plan_mould(plan)->n_guests, ==, 0);
    g_assert_cmpfloat(guest_value(plan, "mould.cavities"), >=, 1);
}

static void
test_refused(Fixture *f, gconstpointer data)
{
    // Metals that differ are both named.
    g_autoptr(Book) zinc = make_other_changed(f->shared, "job.metal", "za-12", f->tables);
    g_autoptr(Plan) plan = make_plan(zinc, "part", f->tables, f->cache);
    const char *note = plan_figure(plan, "mould.guest_cavities")->note;
    const char *mine = table_row_name(tables_find(f->tables, TABLE_METALS, "a356"));
    const char *its = table_row_name(tables_find(f->tables, TABLE_METALS, "za-12"));
    check_refused(f, zinc, mine);
    check_refused(f, zinc, its);
    g_assert_nonnull(strstr(note, "Cup"));
    // No room for one of each.
    g_autoptr(Book) one = make_changed(f->shared, "job.cavities", "1", f->tables);
    check_refused(f, one, "no room");
    // A mesh that is gone.
    g_autoptr(Book) lost = make_other_changed(f->shared, "job.mesh", "gone.stl", f->tables);
    check_refused(f, lost, "not known");
    // Not itself, and no job that is not there.
    g_autoptr(GError) error = NULL;
    g_assert_null(
        edit_field(f->alone, "part", field_find("job.shares_with"), "part", f->tables, &error));
    check_error(error, BASE_ERROR_VALUE, "itself");
    g_assert_null(
        edit_field(f->alone, "part", field_find("job.shares_with"), "else", f->tables, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no job");
}

// A guest that finds no room costs nothing: castings stand and are fed as this job's alone are, and
// a riser that would have reached out over the guest's casting asks for no sand.
static void
test_no_room(Fixture *f, gconstpointer data)
{
    g_autoptr(Book) fed = make_changed(f->shared, "job.riser", "always", f->tables);
    g_autoptr(Book) one = make_changed(fed, "job.cavities", "1", f->tables);
    g_autoptr(Book) its = make_other_changed(one, "job.riser", "always", f->tables);
    g_autoptr(Book) shared = make_other_changed(its, "job.riser_kind", "top", f->tables);
    g_autoptr(Book) unshared = make_changed(shared, "job.shares_with", "", f->tables);
    check_refused(f, shared, "no room");
    g_autoptr(Plan) plan = make_plan(shared, "part", f->tables, f->cache);
    g_autoptr(Plan) alone = make_plan(unshared, "part", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan), *bare = plan_mould(alone);
    g_assert_cmpuint(l->n_cavities, ==, bare->n_cavities);
    const MouldCavity *c = &l->cavities[0], *d = &bare->cavities[0];
    check_close(c->turn, d->turn, 1e-12, "turned alike");
    check_close(c->riser_x - c->x, d->riser_x - d->x, 1e-9, "beside the same place");
    check_close(c->riser_y - c->y, d->riser_y - d->y, 1e-9, "beside the same place");
    check_close(l->fixed->wish.cover_between, bare->fixed->wish.cover_between, 1e-12, "no more");
    g_assert_null(l->fixed->guest);
}

// Each change of either job gives with the cache what it gives from nothing.
static void
test_changes(Fixture *f, gconstpointer data)
{
    static const char *const others[][2] = {{"job.allowance", "4.1 mm"}, {"job.draft", "3.7 deg"},
                                            {"job.quantity", "230"},     {"job.name", "Beaker"},
                                            {"job.contraction", "2 %"},  {"job.cavities", "3"}};
    g_autoptr(Plan) start = make_plan(f->shared, "part", f->tables, f->cache);
    g_autofree char *first = make_dump(start);
    for (guint i = 0; i < G_N_ELEMENTS(others); i++) {
        g_autoptr(Book) book = make_other_changed(f->shared, others[i][0], others[i][1], f->tables);
        g_autoptr(Plan) warm = make_plan(book, "part", f->tables, f->cache);
        g_autoptr(Plan) cold = make_plan(book, "part", f->tables, NULL);
        g_autofree char *a = make_dump(warm), *b = make_dump(cold);
        check_same_dump(a, b, others[i][0]);
        gboolean matters = strcmp(others[i][0], "job.cavities") != 0;
        g_assert_cmpint(strcmp(a, first) != 0, ==, matters);
        g_autoptr(Plan) undone = make_plan(f->shared, "part", f->tables, f->cache);
        g_autofree char *c = make_dump(undone);
        check_same_dump(first, c, "undone");
    }
    g_autoptr(Book) count = make_changed(f->shared, "job.share_count", "1", f->tables);
    g_autoptr(Plan) one = make_plan(count, "part", f->tables, f->cache);
    g_assert_cmpuint(plan_mould(one)->n_guests, ==, 1);
    // Each the other's guest: no end of it would be a mistake.
    g_autoptr(Book) both = make_other_changed(f->shared, "job.shares_with", "part", f->tables);
    g_autoptr(Plan) plan = make_plan(both, "part", f->tables, f->cache);
    g_autofree char *same = make_dump(plan);
    check_same_dump(first, same, "the guest shares too");
    g_autoptr(Plan) turned = make_plan(both, "other", f->tables, f->cache);
    g_assert_cmpuint(plan_mould(turned)->n_guests, >=, 1);
    g_assert_cmpstr(plan_mould(turned)->guest->name, ==, "Part");
}

// Moved by hand, each keeps what it is; the sand of the guest is measured with its own shape.
static void
test_by_hand(Fixture *f, gconstpointer data)
{
    g_autoptr(Book) book = make_changed(
        f->shared, "job.placement",
        "70 mm, 52 mm, 0 deg guest; -60 mm, 55 mm, 0 deg; -60 mm, -55 mm, 180 deg locked",
        f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan);
    g_assert_cmpuint(l->n_cavities, ==, 3);
    g_assert_cmpuint(l->n_guests, ==, 1);
    g_assert_true(l->cavities[2].guest);
    check_close(l->cavities[2].x, 0.07, 1e-9, "as written");
    MouldGap gap = mould_space_of(l->space, MOULD_COVER_WALL, 2, NULL);
    const SolidMesh *skin = l->guest->pattern->mesh;
    double reach = 0;
    for (guint32 v = 0; v < skin->n_vertices; v++)
        reach = fmax(reach, skin->vertices[v].y * l->guest->growth);
    check_close(gap.distance, l->width / 2 - 0.052 - reach, 1e-3, "its own reach to the wall");
    PlacementSpot spots[3];
    for (guint i = 0; i < 3; i++)
        spots[i] = (PlacementSpot){l->cavities[i].x, l->cavities[i].y, l->cavities[i].turn, FALSE,
                                   l->cavities[i].guest};
    spots[2].y -= 0.0031;
    g_autoptr(MouldLayout) moved = mould_layout_moved(l, spots, 3, NAN, NAN);
    g_assert_cmpuint(moved->n_guests, ==, 1);
    check_close(mould_space_of(moved->space, MOULD_COVER_WALL, 2, NULL).distance,
                gap.distance + 0.0031, 1e-4, "moved in");
    check_close(moved->castings_mass, l->castings_mass, 1e-12, "the same castings");
    // Without the other job its spots are no cavities.
    g_autoptr(Book) alone = make_changed(book, "job.shares_with", "", f->tables);
    g_autoptr(Plan) less = make_plan(alone, "part", f->tables, f->cache);
    g_assert_cmpuint(plan_mould(less)->n_cavities, ==, 2);
    // The rest placed round the locked one, with guests.
    g_autoptr(Book) rest = make_changed(book, "job.placement",
                                        "-60 mm, -55 mm, 180 deg locked; rest auto", f->tables);
    g_autoptr(Plan) filled = make_plan(rest, "part", f->tables, f->cache);
    g_assert_cmpuint(plan_mould(filled)->n_guests, >=, 1);
    check_close(plan_mould(filled)->cavities[0].y, -0.055, 1e-9, "it stays");
    static const char *const holds[] = {"mould.sand_cover.between", "mould.sand_cover.wall",
                                        "mould.sand_cover.runner", "mould.sand_cover.sprue",
                                        "mould.gates_missing"};
    for (guint i = 0; i < G_N_ELEMENTS(holds); i++)
        guest_check_holds(filled, holds[i]);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add("/plan/guest/shared", Fixture, NULL, guest_set_up, test_shared, guest_tear_down);
    g_test_add("/plan/guest/board", Fixture, NULL, guest_set_up, test_board, guest_tear_down);
    g_test_add("/plan/guest/refused", Fixture, NULL, guest_set_up, test_refused, guest_tear_down);
    g_test_add("/plan/guest/no-room", Fixture, NULL, guest_set_up, test_no_room, guest_tear_down);
    g_test_add("/plan/guest/changes", Fixture, NULL, guest_set_up, test_changes, guest_tear_down);
    g_test_add("/plan/guest/by-hand", Fixture, NULL, guest_set_up, test_by_hand, guest_tear_down);
    return g_test_run();
}
