// SPDX-License-Identifier: GPL-3.0-or-later
// Guests with risers and chills of their own: each kind is fed as its own plan says, and whatever
// is summed over cavities is what the drawn shapes add up to.
#include <math.h>
#include <string.h>

#include "board/board.h"
#include "guest-kit.h"
#include "mould/cope-load.h"
#include "mould/space.h"
#include "sketch/flask.h"

static double
disc(double diameter)
{
    return G_PI / 4 * diameter * diameter;
}

static double
bar(const MouldChannel *c)
{
    return c->width * c->depth * hypot(c->x2 - c->x1, c->y2 - c->y1);
}

// `text`: fields of the other job and what they are changed to, then of this one; NULL-terminated
// each.
static Book *
make_fed(const GuestFixture *f, const char *const *other, const char *const *own)
{
    Book *book = book_ref(f->shared);
    for (int i = 0; other && other[i]; i += 2) {
        Book *next = make_other_changed(book, other[i], other[i + 1], f->tables);
        book_unref(book);
        book = next;
    }
    for (int i = 0; own && own[i]; i += 2) {
        Book *next = make_changed(book, own[i], own[i + 1], f->tables);
        book_unref(book);
        book = next;
    }
    return book;
}

// What a person with a ruler would add up from the drawing: all that is no casting and no riser.
static double
measure_gating(const MouldLayout *l)
{
    double a = l->sprue_top_diameter, b = l->sprue_bottom_diameter;
    double sum = G_PI / 12 * l->sprue_height * (a * a + a * b + b * b) +
                 disc(l->basin_diameter) * l->basin_height + disc(l->well_diameter) * l->well_depth;
    for (guint i = 0; i < l->n_runners; i++)
        sum += bar(&l->runners[i]);
    for (guint i = 0; i < l->n_gates; i++)
        sum += bar(&l->gates[i]);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const MouldNeck *n = c->guest ? &l->guest_neck : &l->neck;
        double r = (c->guest ? l->guest_riser.diameter : l->riser.diameter) / 2;
        double away = hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y);
        if (n->width > 0) // the lower half from under the riser's middle
            sum += n->width * (n->up * fmax(0, away - r) + n->down * fmax(r, away));
    }
    return sum;
}

// Metal, masses and sand of a shared flask by hand, from both jobs' own figures; open risers by the
// ruler.
static void
check_sums(const GuestFixture *f, const Book *book)
{
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
    g_autoptr(Plan) other = make_plan(book, "other", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan);
    g_assert_cmpuint(l->n_guests, >=, 1);
    guint g = l->n_guests, h = l->n_cavities - g;
    double own = guest_value(plan, "feed.riser_count") * guest_value(plan, "feed.riser_volume");
    double its = guest_value(other, "feed.riser_count") * guest_value(other, "feed.riser_volume");
    if (l->guest_riser.open)
        its = disc(l->guest_riser.diameter) * l->guest_riser.height;
    double gating = measure_gating(l);
    double volume = h * (guest_value(plan, "mould.cavity_volume") + own) +
                    g * (guest_value(other, "mould.cavity_volume") + its) + gating;
    check_close(guest_value(plan, "mould.gating_volume"), gating, 1e-6, "by the ruler");
    check_close(guest_value(plan, "mould.metal_volume"), volume, 1e-9, "all hollows");
    double castings = h * guest_value(plan, "casting.mass") +
                      g * guest_value(other, "casting.mass");
    double mass = castings + guest_value(plan, "mould.pour_density") * (h * own + g * its + gating);
    check_close(guest_value(plan, "mould.metal_mass"), mass, 1e-9, "castings, and all else liquid");
    check_close(l->castings_mass, castings, 1e-9, "both kinds");
    g_assert_nonnull(l->filling);
    check_close(l->filling->poured, l->metal_volume, 1e-6, "what the stepped filling pours");
    guest_check_holds(plan, "mould.sand_cover.wall");
    guest_check_holds(plan, "mould.sand_cover.between");
    guest_check_holds(plan, "mould.sand_cover.runner");
    guest_check_holds(plan, "mould.gates_missing");
    PlanCount count = {0};
    check_plan_figures(plan, &count);
    g_assert_cmpuint(count.formulas, >, 50);
}

// Bytes of a scene's parts are not looked at; that there is a shape of this part is.
static gboolean
is_drawn(const Plan *plan, const char *view, double along, const char *id)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Scene) scene = sketch_flask_scene_cut(plan, view, along, NAN, &error);
    g_assert_no_error(error);
    for (guint i = 0; i < scene_shape_count(scene); i++)
        if (g_strcmp0(scene_shape(scene, i)->part, id) == 0)
            return scene_find_part(scene, id) != NULL;
    return FALSE;
}

// A riser on the guest's castings, none on this job's.
static void
test_on_top(GuestFixture *f, gconstpointer data)
{
    const char *fed[] = {"job.riser", "always", "job.riser_kind", "top", NULL};
    const char *deep[] = {"flask.cope_depth", "120 mm", NULL};
    g_autoptr(Book) book = make_fed(f, fed, deep);
    check_sums(f, book);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
    g_autoptr(Plan) other = make_plan(book, "other", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan);
    double base = guest_value(other, "feed.riser_base");
    double top = base + guest_value(other, "feed.riser_height");
    g_assert_cmpfloat(l->riser.diameter, ==, 0);
    g_assert_true(l->guest_riser.on_top);
    check_close(l->guest_riser.diameter, guest_value(other, "feed.riser_diameter"), 1e-12, "its");
    check_close(guest_value(plan, "mould.guest_high"), top, 1e-12, "the riser is the highest");
    check_close(guest_value(plan, "mould.sand_cover.top"), 0.12 - top, 1e-12, "sand over it");
    check_close(l->cover_top, 0.12 - top, 1e-9, "as measured in space");
    guint vents = 0;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        g_assert_cmpint(mould_layout_has_riser(l, i), ==, c->guest);
        g_autofree char *id = g_strdup_printf("riser-%u", i + 1);
        g_assert_cmpint(is_drawn(plan, "plan", NAN, id), ==, c->guest);
        g_assert_cmpint(is_drawn(plan, "section", c->y, id), ==, c->guest);
        if (c->guest) // it stands over its casting, the same for all
            check_close(mould_space_of(l->space, MOULD_COVER_TOP, i, NULL).distance, 0.12 - top,
                        1e-9, "of this one");
    }
    for (guint i = 0; i < l->n_vents; i++)
        vents += l->vents[i].kind == MOULD_VENT_RISER && l->cavities[l->vents[i].cavity].guest;
    g_assert_cmpuint(vents, ==, l->n_guests); // blind: each is vented
    // Its half pattern reaches as high.
    const BoardResult *board = plan_board(plan);
    double high = 0;
    for (guint i = 0; i < board->n_pieces; i++)
        if (strstr(board->pieces[i].name, "cope-guest-pattern"))
            high = fmax(high, board->pieces[i].size.z);
    check_close(high, top, 0.02, "printed with its riser");
    // Less cope than that is told of.
    g_autoptr(Book) flat = make_changed(book, "flask.cope_depth", "70 mm", f->tables);
    g_autoptr(Plan) low = make_plan(flat, "part", f->tables, f->cache);
    g_assert_cmpint(plan_figure(low, "mould.sand_cover.top")->state, ==, FIGURE_FAILS);
}

// Up through the cope, which is not as deep as that of the other job's own flask: the same modulus
// at another height, loose pins, and no sand over them.
static void
test_open(GuestFixture *f, gconstpointer data)
{
    const char *fed[] = {"job.riser", "always",    "job.riser_kind", "top", "job.riser_end",
                         "open",      "job.flask", "flask-2",        NULL};
    g_autoptr(Book) unfed = f->shared;
    f->shared = make_with_entry(unfed, "/shop/flasks/-", "flask-2", "cope_depth", "131 mm");
    g_autoptr(Book) book = make_fed(f, fed, NULL);
    check_sums(f, book);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
    g_autoptr(Plan) other = make_plan(book, "other", f->tables, f->cache);
    const MouldLayout *l = plan_mould(plan);
    const MouldRiser *r = &l->guest_riser;
    double base = guest_value(other, "feed.riser_base");
    g_assert_true(r->open);
    check_close(guest_value(other, "feed.riser_height"), 0.131 - base, 1e-9, "in its own flask");
    check_close(r->height, l->cope - base, 1e-9, "in this one");
    check_close(guest_value(plan, "mould.guest_riser_height"), r->height, 1e-12, "as drawn");
    check_close(guest_value(plan, "mould.guest_riser_diameter"), r->diameter, 1e-12, "as drawn");
    g_assert_cmpfloat(r->diameter, >, guest_value(other, "feed.riser_diameter")); // shallower
    // On the casting side and top cool: volume over those.
    double cooled = G_PI * r->diameter * r->height + disc(r->diameter);
    check_close(disc(r->diameter) * r->height / cooled, guest_value(other, "feed.riser_modulus"),
                1e-9, "no more than it needs");
    const BoardResult *board = plan_board(plan);
    const BoardPiece *pin = NULL;
    for (guint i = 0; i < board->n_pieces; i++)
        if (board->pieces[i].kind == BOARD_PIECE_RISER)
            pin = &board->pieces[i];
    g_assert_nonnull(pin);
    g_assert_cmpstr(pin->name, ==, "guest-riser-pin");
    g_assert_cmpuint(pin->count, ==, l->n_guests);
    check_close(pin->places[0].z, l->cope, 1e-9, "ends at the cope's top");
    check_close(guest_value(plan, "mould.sand_cover.top"),
                l->cope - fmax(guest_value(plan, "mould.height_above"), l->guest->above), 1e-12,
                "an open one has no sand over it");
    // Metal in an open riser does not push the cope up: blind ones would, each with its own disc.
    MouldLayout blind = *l;
    blind.guest_riser.open = FALSE;
    double pushed = mould_cope_seen(&blind, plan_pattern(plan), l->growth).sum;
    check_close(pushed - guest_value(plan, "mould.projected_area"),
                l->n_guests * disc(l->guest_riser.diameter), 1e-9, "discs of the open ones");
}

static void
test_beside(GuestFixture *f, gconstpointer data)
{
    const char *fed[] = {"job.riser", "always", NULL};
    const char *wide[] = {"job.riser", "always", "job.riser_margin", "1.9", NULL};
    // The guest's alone, then both with the guest's the larger, then the smaller.
    const struct {
        const char *const *other, *const *own;
    } cases[] = {{fed, NULL}, {wide, fed}, {fed, wide}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(Book) book = make_fed(f, cases[i].other, cases[i].own);
        check_sums(f, book);
        g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
        g_autoptr(Plan) other = make_plan(book, "other", f->tables, f->cache);
        const MouldLayout *l = plan_mould(plan);
        check_close(l->guest_riser.diameter, guest_value(other, "feed.riser_diameter"), 1e-12,
                    "the other's own");
        g_assert_cmpint(l->riser.diameter > 0, ==, cases[i].own != NULL);
        double area = l->guest_neck.width * (l->guest_neck.up + l->guest_neck.down);
        double girth = 2 * (l->guest_neck.width + l->guest_neck.up + l->guest_neck.down);
        check_close(guest_value(plan, "mould.guest_neck_modulus"), area / girth, 1e-12,
                    "area over outline");
        for (guint k = 0; k < l->n_cavities; k++) {
            const MouldCavity *c = &l->cavities[k];
            double r = mould_layout_riser(l, k)->diameter / 2;
            if (r > 0) // the gate ends at the riser's rim
                check_close(hypot(l->gates[k].x2 - c->riser_x, l->gates[k].y2 - c->riser_y), r,
                            1e-9, "hot");
        }
    }
}

static void
test_chill(GuestFixture *f, gconstpointer data)
{
    static const char *const halves[] = {"drag", "cope"};
    for (int in_cope = 0; in_cope < 2; in_cope++) {
        const char *chilled[] = {
            "job.chills", "iron", "job.chill_half", halves[in_cope], "job.chill_thickness",
            "17 mm",      NULL};
        // Beside one of this job's in the cope, that reaches less far.
        const char *own[] = {"job.chills", "iron", "job.chill_half", "cope", "job.chill_thickness",
                             "3 mm",       NULL};
        g_autoptr(Book) book = make_fed(f, chilled, in_cope ? own : NULL);
        check_sums(f, book);
        g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
        const MouldLayout *l = plan_mould(plan);
        const FeedChill *chill = &l->guest_chill;
        check_close(chill->thickness, 0.017, 1e-12, "as the other job asks");
        check_close(l->chill.thickness, in_cope ? 0.003 : 0, 1e-12, "this job's own");
        double reach = 0.017 + (in_cope ? chill->face : -chill->face);
        double sand = (in_cope ? l->cope : l->drag) - reach;
        const char *cover = in_cope ? "mould.sand_cover.top" : "mould.sand_cover.bottom";
        check_close(guest_value(plan, in_cope ? "mould.guest_high" : "mould.guest_low"), reach,
                    1e-12, "to its outer face");
        check_close(guest_value(plan, cover), sand, 1e-12, "sand past the chill");
        check_close(in_cope ? l->cover_top : l->cover_bottom, sand, 1e-9, "as measured");
        for (guint i = 0; i < l->n_cavities; i++) {
            const MouldCavity *c = &l->cavities[i];
            g_autofree char *id = g_strdup_printf("chill-%u", i + 1);
            gboolean chill_there = in_cope || c->guest;
            const FeedChill *own_chill = mould_layout_chill(l, i);
            double y = c->y + sin(c->turn) * own_chill->x + cos(c->turn) * own_chill->y;
            g_assert_cmpint(is_drawn(plan, "section", y, id), ==, chill_there);
            g_assert_cmpint(is_drawn(plan, halves[in_cope], NAN, id), ==, chill_there);
            g_assert_false(is_drawn(plan, halves[!in_cope], NAN, id));
        }
    }
}

// A guest's neck is held against its own section with its own chill.
static void
test_chilled_neck(GuestFixture *f, gconstpointer data)
{
    const char *fed[] = {"job.riser",        "always", "job.chills", "iron",
                         "job.chill_factor", "3",      NULL};
    g_autoptr(Book) book = make_fed(f, fed, NULL);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, f->cache);
    g_autoptr(Plan) other = make_plan(book, "other", f->tables, f->cache);
    double chilled = guest_value(other, "feed.chilled_modulus");
    g_assert_cmpfloat(chilled, <, 0.9 * guest_value(other, "feed.section_modulus"));
    check_close(plan_figure(plan, "mould.guest_neck_modulus")->limit, chilled, 1e-12,
                "with its chill");
    guest_check_holds(plan, "mould.guest_neck_modulus");
}

// A cope in which no width is enough is refused; so is feeding that is not known.
static void
test_refused(GuestFixture *f, gconstpointer data)
{
    g_autoptr(Plan) shared = make_plan(f->shared, "part", f->tables, f->cache);
    const PatternResult *pattern = plan_mould(shared)->guest->pattern;
    FeedResult feed = {.risers = 1,
                       .diameter = 0.031,
                       .height = 0.0553,
                       .open = TRUE,
                       .on_top = TRUE,
                       .base = 0.0247,
                       .needed_modulus = 0.0071};
    const struct {
        double cope;
        const char *words;
    } copes[] = {{0.08, NULL}, {0.0247 + 0.0072, NULL}, {0.0247 + 0.007, "blind"}, {0.02, "blind"}};
    for (guint i = 0; i < G_N_ELEMENTS(copes); i++) {
        g_autoptr(MouldGuest) guest = mould_guest_new("other", NULL, pattern, &feed, copes[i].cope,
                                                      0.013, 0.2, 7, 9);
        g_autofree char *trouble = mould_guest_trouble(guest);
        if (copes[i].words)
            g_assert_nonnull(strstr(trouble ? trouble : "", copes[i].words));
        else
            g_assert_null(trouble);
    }
    feed.open = FALSE;
    MouldGuest blind = {.name = (char *)"Cup", .feed = &feed};
    g_assert_null(mould_guest_trouble(&blind));
    feed.diameter = NAN;
    g_autofree char *size = mould_guest_trouble(&blind);
    g_assert_nonnull(strstr(size, "not known"));
    feed.open = TRUE;
    feed.needed_volume = NAN; // its metal shrinks more than such a riser can give
    g_autofree char *share = mould_guest_trouble(&blind);
    g_assert_nonnull(strstr(share, "not known"));
    blind.feed = NULL;
    g_autofree char *nothing = mould_guest_trouble(&blind);
    g_assert_nonnull(strstr(nothing, "not known"));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add("/plan/guest-feeding/on-top", GuestFixture, NULL, guest_set_up, test_on_top,
               guest_tear_down);
    g_test_add("/plan/guest-feeding/open", GuestFixture, NULL, guest_set_up, test_open,
               guest_tear_down);
    g_test_add("/plan/guest-feeding/beside", GuestFixture, NULL, guest_set_up, test_beside,
               guest_tear_down);
    g_test_add("/plan/guest-feeding/chill", GuestFixture, NULL, guest_set_up, test_chill,
               guest_tear_down);
    g_test_add("/plan/guest-feeding/chilled-neck", GuestFixture, NULL, guest_set_up,
               test_chilled_neck, guest_tear_down);
    g_test_add("/plan/guest-feeding/refused", GuestFixture, NULL, guest_set_up, test_refused,
               guest_tear_down);
    return g_test_run();
}
