// SPDX-License-Identifier: GPL-3.0-or-later
// Areas that do not draw: the sides of a box, a bracket whose foot is undercut, a cup.
#include "part/area.h"

#include "check.h"
#include "shapes.h"

#define MM 1e-3
#define DEG (G_PI / 180)

static AreaList *
find_areas(const SolidMesh *mesh, double parting, double wanted)
{
    FaceDraft f;
    g_assert_true(face_draft(mesh, NULL, vec3(0, 0, 1), parting, wanted, &f, NULL, NULL));
    AreaList *list = area_list_new(mesh, &f);
    g_assert_cmpuint(list->n_triangles, ==, mesh->n_triangles);
    face_draft_clear(&f);
    return list;
}

// Every triangle of an area is counted in it, and areas come largest first.
static void
check_order(const AreaList *list)
{
    guint32 told = 0, counted = 0;
    for (guint i = 0; i < list->n; i++) {
        told += list->areas[i].n;
        if (i > 0)
            g_assert_cmpfloat(list->areas[i].area, <=, list->areas[i - 1].area);
    }
    for (guint32 t = 0; t < list->n_triangles; t++)
        if (list->of[t] != AREA_NONE) {
            g_assert_cmpuint(list->of[t], <, list->n);
            counted++;
        }
    g_assert_cmpuint(told, ==, counted);
}

// Four sides without draft; top and bottom draw.
static void
test_box(void)
{
    double x = 41.3 * MM, y = 29.7 * MM, z = 18.9 * MM;
    g_autoptr(SolidMesh) mesh = check_mesh_box(x, y, z);
    g_autoptr(AreaList) list = find_areas(mesh, 7.1 * MM, 2 * DEG);
    g_assert_cmpuint(list->n, ==, 4);
    check_order(list);
    for (guint i = 0; i < 4; i++) {
        const Area *a = &list->areas[i];
        g_assert_false(a->hidden);
        g_assert_cmpint(a->form, ==, AREA_FACE);
        check_close(a->area, (i < 2 ? x : y) * z, 1e-12, "a side of a box");
        check_close(a->draft, 0, 1e-9, "a wall along the pull");
        check_close(a->least, 0, 1e-9, "a wall along the pull");
        check_close(a->middle.z, z / 2, 1e-9, "its middle");
        check_close(a->normal.z, 0, 1e-9, "it looks sideways");
    }
    g_assert_cmpfloat(list->areas[0].normal.y * list->areas[1].normal.y, <, 0);
    g_autoptr(AreaList) none = find_areas(mesh, 7.1 * MM, 0);
    g_assert_cmpuint(none->n, ==, 0);
}

// An L that stands on its foot, parted beneath the foot's top: the foot's underside draws in the
// drag. Parted at its very bottom all of it draws, save that its sides have no draft. Turned upside
// down the foot hangs in the air and what lies under it is hidden.
static void
test_bracket(void)
{
    double x = 43.7 * MM, z = 37.9 * MM, t = 6.3 * MM, y = 21.1 * MM;
    const double over[9] = {1, 0, 0, 0, -1, 0, 0, 0, -1};
    g_autoptr(SolidMesh) standing = shape_bracket(x, z, t, y);
    g_autoptr(AreaList) sides = find_areas(standing, 0, 1.7 * DEG);
    // Two ends of L, back, front of the upright, front of the foot.
    g_assert_cmpuint(sides->n, ==, 5);
    check_order(sides);
    check_close(sides->areas[0].area, z * y, 1e-12, "the back");
    check_close(sides->areas[1].area, (z - t) * y, 1e-12, "the front of the upright");
    check_close(sides->areas[2].area, x * t + (z - t) * t, 1e-12, "an L");
    check_close(sides->areas[4].area, t * y, 1e-12, "the front of the foot");
    check_close(sides->areas[2].middle.x,
                (x * t * x / 2 + (z - t) * t * t / 2) / (x * t + (z - t) * t), 1e-9,
                "middle of an L");

    g_autoptr(SolidMesh) hanging = solid_mesh_transformed(standing, over, vec3(0, 0, z));
    g_autoptr(AreaList) list = find_areas(hanging, 0, 0.9 * DEG);
    guint hidden = 0;
    for (guint i = 0; i < list->n; i++) {
        const Area *a = &list->areas[i];
        if (!a->hidden)
            continue;
        if (a->normal.z < -0.5) {
            check_close(a->area, (x - t) * y, 1e-12, "under the foot");
            check_close(a->draft, -G_PI / 2, 1e-6, "it looks straight down");
            check_close(a->middle.x, (x + t) / 2, 1e-9, "between upright and tip");
            check_close(a->middle.z, z - t, 1e-9, "beneath the foot");
        }
        hidden++;
    }
    g_assert_cmpuint(hidden, ==, 2); // and the upright's front in the foot's shadow
    check_order(list);
}

// A cup: outside all round, inside a hole, each of one area however many facets it has.
static void
test_cup(void)
{
    double outer = 23.9 * MM, height = 31.3 * MM, inner = 17.7 * MM, floor = 5.1 * MM;
    const double profile[4][2] = {{outer, 0}, {outer, height}, {inner, height}, {inner, floor}};
    g_autoptr(SolidMesh) mesh = shape_turned(profile, 4, 96);
    g_autoptr(AreaList) list = find_areas(mesh, 0, 1 * DEG);
    double side = 2 * 96 * sin(G_PI / 96); // of a regular polygon of 96 sides and radius 1
    g_assert_cmpuint(list->n, ==, 2);
    check_order(list);
    check_close(list->areas[0].area, side * outer * height, 1e-9, "regular prism");
    g_assert_cmpint(list->areas[0].form, ==, AREA_ROUND);
    check_close(list->areas[1].area, side * inner * (height - floor), 1e-9, "regular prism");
    g_assert_cmpint(list->areas[1].form, ==, AREA_HOLE);
    check_close(list->areas[1].middle.z, (height + floor) / 2, 1e-9, "its middle");

    // The inside is seen from above only, whatever one would like; the outside from where one
    // likes.
    Vec3 looks[2], liked = vec3_unit(vec3(0.31, -0.87, 0.17));
    g_assert_true(area_looks(mesh, list, 2, liked, looks, NULL, NULL));
    g_assert_cmpfloat(vec3_dot(looks[0], liked), >, 0.8);
    g_assert_cmpfloat(looks[1].z, >, 0.4);
    check_close(vec3_length(looks[1]), 1, 1e-9, "unit");
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    g_assert_false(area_looks(mesh, list, 2, liked, looks, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

// A cone's draft is its angle; mean and least of a side of two slopes.
static void
test_draft(void)
{
    double a = 1.3 * DEG, b = 0.4 * DEG, h = 20.3 * MM, k = 11.7 * MM, r = 25.1 * MM;
    double r2 = r - h * tan(a), r3 = r2 - k * tan(b);
    const double profile[3][2] = {{r, 0}, {r2, h}, {r3, h + k}};
    g_autoptr(SolidMesh) mesh = shape_turned(profile, 3, 256);
    g_autoptr(AreaList) list = find_areas(mesh, 0, 2 * DEG);
    g_assert_cmpuint(list->n, ==, 1);
    double lower = (r + r2) * h / cos(a), upper = (r2 + r3) * k / cos(b);
    check_close(list->areas[0].draft, (lower * a + upper * b) / (lower + upper), 1e-3, "cones");
    check_close(list->areas[0].least, b, 1e-3, "the steeper cone");
    check_close(list->areas[0].area, G_PI * (lower + upper), 1e-3, "cones");
}

static void
test_words(void)
{
    UnitSet units = unit_set_default();
    Area a = {.form = AREA_FACE,
              .area = 12.3e-4,
              .draft = 0.42 * DEG,
              .least = 0.38 * DEG,
              .middle = vec3(-30 * MM, 22 * MM, -4 * MM),
              .normal = vec3(-0.998, 0.03, 0.007)};
    Vec3 low = vec3(-35 * MM, -25 * MM, -9 * MM), high = vec3(35 * MM, 25 * MM, 13 * MM);
    g_autofree char *title = area_title(&a);
    g_autofree char *facts = area_facts(&a, low, high, 0, &units);
    g_assert_cmpstr(title, ==, "Side facing left");
    g_assert_cmpstr(facts, ==, "12.3 cm², 0.4° draft, at the back left, in the drag");
    a.least = -0.21 * DEG;
    g_autofree char *two = area_facts(&a, low, high, -5 * MM, &units);
    g_assert_cmpstr(two, ==,
                    "12.3 cm², 0.4° draft and −0.2° at the least, at the back left, in the cope");
    a.hidden = TRUE;
    a.form = AREA_HOLE;
    a.middle = vec3(1 * MM, -2 * MM, 3 * MM);
    g_autofree char *hole = area_title(&a);
    g_autofree char *hidden = area_facts(&a, low, high, 0, &units);
    g_assert_cmpstr(hole, ==, "Inside of a hole");
    g_assert_cmpstr(hidden, ==, "12.3 cm², hidden from the pull, in the middle, in the cope");
}

// No triangles, and triangles of no area, which belong to nothing.
static void
test_nothing(void)
{
    g_autoptr(SolidMesh) none = solid_mesh_new(0, 0);
    g_autoptr(AreaList) empty = find_areas(none, 0, 1 * DEG);
    g_assert_cmpuint(empty->n, ==, 0);
    g_autoptr(SolidMesh) flat = solid_mesh_new(3, 1);
    for (int i = 0; i < 3; i++) {
        flat->vertices[i] = vec3(i * 2.385 * MM, 0, 0);
        flat->triangles[0][i] = (guint32)i;
    }
    g_autoptr(AreaList) line = find_areas(flat, 0, 1 * DEG);
    g_assert_cmpuint(line->n, ==, 0);
    g_assert_cmpuint(line->of[0], ==, AREA_NONE);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/area/box", test_box);
    g_test_add_func("/part/area/bracket", test_bracket);
    g_test_add_func("/part/area/cup", test_cup);
    g_test_add_func("/part/area/draft", test_draft);
    g_test_add_func("/part/area/words", test_words);
    g_test_add_func("/part/area/nothing", test_nothing);
    return g_test_run();
}
