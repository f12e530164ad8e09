// SPDX-License-Identifier: GPL-3.0-or-later
// What places cost beside, on and across the outlines of a small drawing: a plate with a hole, a
// bar painted under it, and a word.
#include "check.h"
#include "sketch/label-spot.h"

static Scene *
draw(void)
{
    Scene *scene = scene_new("Plate");
    scene_set_grain(scene, SCENE_GRAIN_PX); // a millimetre is a device unit
    SolidPoint points[] = {{-40, -20}, {40, -20}, {40, 20}, {-40, 20},
                           {-8, -8},   {-8, 8},   {8, 8},   {8, -8}};
    guint starts[] = {0, 4, 8};
    SolidOutline metres = {.points = points, .n_points = 8, .starts = starts, .n_loops = 2};
    for (guint i = 0; i < 8; i++)
        points[i] = (SolidPoint){points[i].x / 1000, points[i].y / 1000};
    scene_add_outline(scene, ROLE_METAL, 2, "plate", TRUE, TRUE, &metres, 0, 0, 0);
    scene_add_rectangle(scene, ROLE_GATING, 1, "bar", TRUE, TRUE, 20, -3, 60, 6);
    scene_add_text(scene, ROLE_TEXT, 3, NULL, -25, 60, 11, ALIGN_MIDDLE, "Word");
    return scene;
}

static LabelField *
make_field(const Scene *scene)
{
    return label_field_new(scene, (SolidPoint){-100, -100}, (SolidPoint){100, 100});
}

static LabelBox
box_at(double x, double y)
{
    return (LabelBox){{x, -y}, 6, 4, {1, 0}}; // y points down on the surface
}

static double
cost_at(const LabelField *field, double x, double y, const char *own)
{
    LabelBox box = box_at(x, y);
    return label_field_box(field, &box, own, INFINITY);
}

static void
test_ink(void)
{
    g_autoptr(Scene) scene = draw();
    g_autoptr(LabelField) field = make_field(scene);
    const LabelInk *ink = label_field_ink(field);
    static const struct {
        double x, y;
        SceneRole role;
        const char *part;
        gboolean gating;
    } at[] = {{30, 10, ROLE_METAL, "plate", FALSE}, {30, 1, ROLE_METAL, "plate", TRUE},
              {60, 1, ROLE_GATING, "bar", TRUE},    {0, 0, ROLE_PAPER, NULL, FALSE},
              {0, 30, ROLE_PAPER, NULL, FALSE},     {41, 19, ROLE_PAPER, NULL, FALSE}};
    for (guint i = 0; i < G_N_ELEMENTS(at); i++) {
        SolidPoint p = {at[i].x, -at[i].y};
        const char *part;
        g_assert_cmpint(label_ink_at(ink, p, &part), ==, at[i].role);
        g_assert_cmpstr(part, ==, at[i].part);
        g_assert_cmpint(label_ink_has(ink, p, ROLE_GATING), ==, at[i].gating);
    }
    SolidPoint min, max;
    g_assert_true(label_ink_extent(ink, "bar", &min, &max));
    check_close(max.x, 80, 1e-9, "20 and 60");
    check_close(min.y, -3, 1e-9, "up is down");
    g_assert_false(label_ink_extent(ink, "none", &min, &max));
}

// In the open it costs nothing; on its own part neither, off it something; across an edge more the
// more of it is covered; on a word most of all.
static void
test_box(void)
{
    g_autoptr(Scene) scene = draw();
    g_autoptr(LabelField) field = make_field(scene);
    check_close(cost_at(field, -60, 0, NULL), 0, 0, "in the open");
    check_close(cost_at(field, -24, 0, "plate"), 0, 0, "within its part");
    g_assert_cmpfloat(cost_at(field, -24, 0, NULL), >, 0);
    g_assert_cmpfloat(cost_at(field, 0, 0, "plate"), >, 0); // in the hole
    // Over an upright edge 8 of it are covered, over a level one 12.
    double upright = cost_at(field, -40, 0, NULL), level = cost_at(field, -25, 20, NULL);
    g_assert_cmpfloat(level, >, upright);
    // The bar's edge below the plate is not seen.
    check_close(cost_at(field, 30, 0, "plate"), 0, 0, "painted over");
    g_assert_cmpfloat(cost_at(field, 70, 0, NULL), >, level);
    g_assert_cmpfloat(cost_at(field, -25, 60, NULL), >, 10 * level);
    g_assert_cmpfloat(cost_at(field, -99, 0, NULL), >, level); // half outside
    LabelBox box = box_at(-60, 0);
    label_field_take_box(field, &box);
    g_assert_cmpfloat(cost_at(field, -55, 0, NULL), >, 10 * level);
}

static double
line_cost(const LabelField *field, double x1, double y1, double x2, double y2)
{
    return label_field_line(field, (SolidPoint){x1, -y1}, (SolidPoint){x2, -y2}, INFINITY);
}

static void
test_line(void)
{
    g_autoptr(Scene) scene = draw();
    g_autoptr(LabelField) field = make_field(scene);
    double once = line_cost(field, -60, 12, -30, 12), through = line_cost(field, -60, 12, 60, 12);
    check_close(line_cost(field, -90, -30, 90, -30), 0, 0, "below it all");
    check_close(line_cost(field, -60, 12, -40, 12), 0, 0, "up to the edge");
    g_assert_cmpfloat(once, >, 0);
    check_close(through, 2 * once, 1e-9, "in and out");
    // Close beside a long edge is worse than across it.
    g_assert_cmpfloat(line_cost(field, -39, 21.5, 39, 21.5), >, through);
    g_assert_cmpfloat(line_cost(field, -25, 50, -25, 70), >, through); // through the word
}

// The word goes over a circle that is free, beside one under the bar, and on a leader from one that
// is shut in.
static void
test_around(void)
{
    g_autoptr(Scene) scene = draw();
    g_autoptr(LabelField) field = make_field(scene);
    LabelSearch open = label_search(field, "Free", 11, FALSE, NULL);
    label_search_around(&open, (SolidPoint){-60, 60}, 5);
    check_close(label_search_middle(&open).x, -60, 1e-9, "straight over it");
    g_assert_cmpfloat(label_search_middle(&open).y, <, 55);
    LabelSearch under = label_search(field, "Under", 11, FALSE, NULL);
    label_search_around(&under, (SolidPoint){60, 14}, 5);
    LabelBox box = label_search_box(&under);
    check_close(label_field_box(field, &box, NULL, INFINITY), 0, 0, "clear of the bar");
    LabelSearch hole = label_search(field, "Hole", 11, FALSE, NULL);
    label_search_around(&hole, (SolidPoint){0, 0}, 3);
    label_search_led(&hole, (SolidPoint){0, 0}, 3, 1);
    g_assert_true(hole.best.led);
    box = label_search_box(&hole);
    check_close(label_field_box(field, &box, NULL, INFINITY), 0, 0, "clear of the plate");
}

// A part with its middle in a hole has its number on the metal, and a heart for a leader.
static void
test_inside(void)
{
    g_autoptr(Scene) scene = draw();
    g_autoptr(LabelField) field = make_field(scene);
    LabelSearch search = label_search(field, "7", 12, TRUE, "plate");
    SolidPoint home = {0, 0}, heart;
    label_search_inside(&search, home);
    LabelBox box = label_search_box(&search);
    check_close(label_field_box(field, &box, "plate", INFINITY), 0, 0,
                "on metal, clear of its edges");
    g_assert_true(label_search_heart(&search, home, &heart));
    const char *part;
    g_assert_cmpint(label_ink_at(label_field_ink(field), heart, &part), ==, ROLE_METAL);
    g_assert_cmpfloat(hypot(heart.x, heart.y), <, 14);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/label-field/ink", test_ink);
    g_test_add_func("/sketch/label-field/box", test_box);
    g_test_add_func("/sketch/label-field/line", test_line);
    g_test_add_func("/sketch/label-field/around", test_around);
    g_test_add_func("/sketch/label-field/inside", test_inside);
    return g_test_run();
}
