// SPDX-License-Identifier: GPL-3.0-or-later
// True size: coordinates read back from the files by readers of the test's own, against the sizes
// of the sample flask. 72 points are 25.4 mm by definition.
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "sample.h"
#include "sketch/dxf.h"
#include "sketch/template.h"
#include "sketch/true-size.h"

static const UnitSet millimetres = {0};

static Scene *
make_template(TemplateHalf half)
{
    SampleFlask sample;
    sample_flask_fill(&sample);
    Scene *scene = template_scene(&sample.layout, &sample.pattern, &millimetres, half);
    sample_flask_clear(&sample);
    return scene;
}

// What a DXF says of one entity.
typedef struct {
    char kind[16], layer[32];
    double x, y, radius;
} Entity;

// Entities of the file, vertices among them, in order. Pairs of lines: code, value.
static GArray *
read_entities(const char *text)
{
    GArray *out = g_array_new(FALSE, TRUE, sizeof(Entity));
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    gboolean inside = FALSE;
    for (guint i = 0; lines[i] && lines[i + 1]; i += 2) {
        int code = (int)g_ascii_strtoll(lines[i], NULL, 10);
        const char *value = lines[i + 1];
        if (code == 2 && g_str_equal(value, "ENTITIES"))
            inside = TRUE;
        if (!inside)
            continue;
        if (code == 0) {
            Entity e = {.kind = ""};
            g_strlcpy(e.kind, value, sizeof e.kind);
            g_array_append_val(out, e);
        }
        if (out->len == 0)
            continue;
        Entity *e = &g_array_index(out, Entity, out->len - 1);
        if (code == 8)
            g_strlcpy(e->layer, value, sizeof e->layer);
        if (code == 10)
            e->x = g_ascii_strtod(value, NULL);
        if (code == 20)
            e->y = g_ascii_strtod(value, NULL);
        if (code == 40)
            e->radius = g_ascii_strtod(value, NULL);
    }
    return out;
}

// Area inside the closed polylines of a layer, mm2, by the shoelace formula.
static double
sum_areas(const GArray *entities, const char *layer)
{
    double sum = 0;
    for (guint i = 0; i < entities->len; i++) {
        const Entity *e = &g_array_index(entities, Entity, i);
        if (strcmp(e->kind, "POLYLINE") != 0 || strcmp(e->layer, layer) != 0)
            continue;
        guint end = i + 1;
        while (strcmp(g_array_index(entities, Entity, end).kind, "VERTEX") == 0)
            end++;
        double area = 0;
        for (guint k = i + 1; k < end; k++) {
            const Entity *a = &g_array_index(entities, Entity, k);
            const Entity *b = &g_array_index(entities, Entity, k + 1 < end ? k + 1 : i + 1);
            area += 0.5 * (a->x * b->y - b->x * a->y);
        }
        sum += fabs(area);
    }
    return sum;
}

static void
test_dxf(void)
{
    SampleFlask sample;
    sample_flask_fill(&sample);
    double growth = sample.layout.growth > 0 ? sample.layout.growth : 1;
    g_autoptr(Scene) scene = make_template(TEMPLATE_COPE);
    g_autofree char *text = dxf_write(scene);
    g_assert_true(g_str_has_suffix(text, "0\nEOF\n"));
    g_autoptr(GArray) entities = read_entities(text);
    double box = 1e6 * SAMPLE_LONG * SAMPLE_WIDE * growth * growth;
    check_close(sum_areas(entities, "cavity"), sample.layout.n_cavities * box, 0.005,
                "the castings' rectangles, grown");
    check_close(sum_areas(entities, "flask"), 1e6 * sample.layout.length * sample.layout.width,
                1e-6, "inside of the flask");
    gboolean sprue = FALSE;
    for (guint i = 0; i < entities->len; i++) {
        const Entity *e = &g_array_index(entities, Entity, i);
        if (strcmp(e->kind, "CIRCLE") != 0 || strcmp(e->layer, "sprue") != 0)
            continue;
        sprue = TRUE;
        check_close(e->radius, 500 * sample.layout.sprue_bottom_diameter, 1e-3, "sprue");
        check_close(e->x + 1, 1000 * sample.layout.sprue_x + 1, 1e-3, "sprue");
    }
    g_assert_true(sprue);
    sample_flask_clear(&sample);
}

// The drag's board is turned over about the flask's length: y changes sign, x does not, so that
// what lies on top of one another in the flask does so when both boards are laid face to face.
static void
test_turned_over(void)
{
    g_autoptr(Scene) cope = make_template(TEMPLATE_COPE), drag = make_template(TEMPLATE_DRAG);
    SolidPoint a, b, c, d;
    for (int i = 1; i <= 3; i++) {
        g_autofree char *id = g_strdup_printf("cavity-%d", i);
        const Shape *up = sample_find_shape(cope, SHAPE_PATH, ROLE_VISIBLE, id);
        const Shape *over = sample_find_shape(drag, SHAPE_PATH, ROLE_VISIBLE, id);
        g_assert_nonnull(up);
        g_assert_nonnull(over);
        sample_shape_box(up, &a, &b);
        sample_shape_box(over, &c, &d);
        check_close(c.x, a.x, 1e-9, "along the length");
        check_close(d.y, -a.y, 1e-9, "across, turned over");
        check_close(c.y, -b.y, 1e-9, "across, turned over");
    }
}

// Both halves of a neck, from the riser's middle to the casting.
static void
test_neck(void)
{
    for (int half = 0; half < 2; half++) {
        g_autoptr(Scene) scene = make_template(half ? TEMPLATE_DRAG : TEMPLATE_COPE);
        SolidPoint min, max;
        sample_shape_box(sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "neck-1"), &min, &max);
        check_close(max.x - min.x, 9.1, 1e-9, "as wide as the neck");
        check_close(half ? -max.y : min.y, 21.5, 1e-9, "under the riser's middle");
        check_close(half ? -min.y : max.y, 63 - 23, 1e-9, "at the casting");
        g_assert_null(sample_find_shape(scene, SHAPE_PATH, ROLE_VISIBLE, "neck-3"));
    }
}

static void
test_svg(void)
{
    g_autoptr(Scene) scene = scene_new("Square");
    scene_add_rectangle(scene, ROLE_VISIBLE, 0, NULL, FALSE, TRUE, 10, -20, 127, 63.5);
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.svg", NULL), *text = NULL;
    g_autoptr(GError) error = NULL;
    g_assert_true(true_size_export(scene, NULL, path, FALSE, &error));
    g_assert_no_error(error);
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    // 127 mm are 5 in and 360 points; 63.5 mm are 180 points.
    const char *d = strstr(text, " d=\"M ");
    g_assert_nonnull(d);
    double x[2], y[2];
    g_assert_cmpint(sscanf(d, " d=\"M %lf %lf L %lf %lf", &x[0], &y[0], &x[1], &y[1]), ==, 4);
    check_close(hypot(x[1] - x[0], y[1] - y[0]), 360, 1e-4, "5 in");
    g_assert_false(true_size_export(scene, NULL, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "already");
    check_folder_remove(folder);
}

// Sheets of 190 by 277 mm that share 10 mm: 180 and 267 more each.
static void
test_sheets(void)
{
    guint across = 0, down = 0;
    g_assert_true(true_size_sheets(&true_size_a4, 190, 277, &across, &down));
    g_assert_cmpuint(across * 100 + down, ==, 101);
    g_assert_true(true_size_sheets(&true_size_a4, 190.5, 544, &across, &down));
    g_assert_cmpuint(across * 100 + down, ==, 202);
    g_assert_true(true_size_sheets(&true_size_a4, 551, 544.5, &across, &down));
    g_assert_cmpuint(across * 100 + down, ==, 403);
    g_assert_false(true_size_sheets(&true_size_a4, 1e5, 1e5, &across, &down));
    TrueSizeSheet small = {40, 40, 10, 10};
    g_assert_false(true_size_sheets(&small, 10, 10, &across, &down));
}

static guint
count_words(const char *text, gsize length, const char *word)
{
    guint n = 0;
    for (gsize i = 0; i + strlen(word) <= length; i++)
        n += memcmp(text + i, word, strlen(word)) == 0;
    return n;
}

static void
test_pdf(void)
{
    g_autoptr(Scene) scene = scene_new("Large");
    // With 10 mm round it: 420 by 320 mm, three sheets of 190 by 277 mm across and two down, or two
    // by two when they lie.
    scene_add_rectangle(scene, ROLE_VISIBLE, 0, NULL, FALSE, TRUE, 0, 0, 400, 300);
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "a.pdf", NULL), *text = NULL;
    gsize length = 0;
    g_autoptr(GError) error = NULL;
    g_assert_true(true_size_export(scene, NULL, path, FALSE, &error));
    g_assert_no_error(error);
    g_assert_true(g_file_get_contents(path, &text, &length, NULL));
    g_assert_cmpuint(count_words(text, length, "/Type /Page") -
                         count_words(text, length, "/Type /Pages"),
                     ==, 4);
    scene_add_rectangle(scene, ROLE_VISIBLE, 0, NULL, FALSE, TRUE, 0, 0, 1e5, 1e5);
    g_assert_false(true_size_export(scene, NULL, path, TRUE, &error));
    check_error(error, BASE_ERROR_LIMIT, "DXF");
    g_clear_error(&error);
    g_assert_false(true_size_export(scene, NULL, "a.txt", TRUE, &error));
    check_error(error, BASE_ERROR_VALUE, ".dxf");
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/true-size/dxf", test_dxf);
    g_test_add_func("/sketch/true-size/turned-over", test_turned_over);
    g_test_add_func("/sketch/true-size/neck", test_neck);
    g_test_add_func("/sketch/true-size/svg", test_svg);
    g_test_add_func("/sketch/true-size/sheets", test_sheets);
    g_test_add_func("/sketch/true-size/pdf", test_pdf);
    return g_test_run();
}
