// SPDX-License-Identifier: GPL-3.0-or-later
// The casting's sheet: what is painted where, that words keep clear of one another at every size
// and place of the plane, and that the sheet stands still while the plane moves.
#include "sketch/casting.h"

#include "check.h"
#include "sample.h"
#include "sketch/brush.h"
#include "sketch/casting-kit.h"

#define MM 1e-3

static PatternResult *pattern;
static UnitSet units;

// A plate with a blind hole that is cast solid, stock, stub and draft.
static void
make_pattern(double x, double y, double z)
{
    g_clear_pointer(&pattern, pattern_result_unref);
    units = unit_set_default();
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(x, y, z, 2.9 * MM, 0.6 * z, 32);
    PartResult part = {.mesh = plate};
    part.measure.volume = solid_measure(plate).volume;
    part.check.closed = TRUE;
    EnvelopeOptions options = {.allowance = 1.3 * MM,
                               .draft = 2.5 * G_PI / 180,
                               .stub_diameter = 11.3 * MM,
                               .stub_height = 7.9 * MM,
                               .close_holes = 9.1 * MM,
                               .cells = 72};
    Vec3 up = vec3(0, 0, 1);
    EnvelopeResult envelope = {0};
    g_autoptr(GError) error = NULL;
    pattern = pattern_make(&part, &options, up, &envelope, NULL, &error);
    g_assert_no_error(error);
    envelope_result_clear(&envelope);
}

static Scene *
draw(int axis, double at)
{
    g_auto(CauseCut) cut = cause_cut(pattern, axis, at);
    return casting_scene(pattern, &cut, &units);
}

static const Shape *
find_region(const Scene *scene, SceneRole role)
{
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *s = scene_shape(scene, i);
        if (s->role == role && s->filled && s->order < CASTING_ORDER_LINE)
            return s;
    }
    return NULL;
}

static void
test_regions(void)
{
    make_pattern(61.7 * MM, 43.1 * MM, 19.3 * MM);
    g_autoptr(Scene) scene = draw(1, 0.4 * MM);
    SolidPoint min, max;
    sample_shape_box(find_region(scene, ROLE_CUT_PART), &min, &max);
    check_close(max.x - min.x, 61.7, 1e-9, "the part's length, in mm");
    check_close(max.y - min.y, 19.3, 1e-9, "the part's height");
    sample_shape_box(find_region(scene, ROLE_CUT_ALLOWANCE), &min, &max);
    check_close(max.x - min.x, 61.7 + 2.6, 3e-3, "and the stock on both sides");
    const Shape *draft = find_region(scene, ROLE_CUT_DRAFT);
    sample_shape_box(draft, &min, &max);
    double height = (pattern->height_cope + pattern->height_drag) / MM;
    check_close(max.y - min.y, height, 5e-3, "all that is cast, the stub's middle being cut");
    // Nested bodies: what lies within is painted later.
    const SceneRole order[] = {ROLE_CUT_DRAFT, ROLE_CUT_STUB, ROLE_CUT_CLOSED, ROLE_CUT_ALLOWANCE,
                               ROLE_CUT_PART};
    for (guint i = 1; i < G_N_ELEMENTS(order); i++)
        g_assert_cmpint(find_region(scene, order[i - 1])->order, <,
                        find_region(scene, order[i])->order);
    g_assert_null(find_region(scene, ROLE_CUT_FILLET));
    g_assert_null(scene_find_part(scene, "cause-fillet"));
    g_assert_nonnull(sample_find_text(scene, "COPE"));
    g_assert_nonnull(sample_find_text(scene, "draft 2.5°"));
    const ScenePart *part = scene_find_part(scene, "cause-draft");
    g_assert_cmpstr(part->figure, ==, "pattern.draft_volume");
    g_autoptr(Scene) level = draw(2, -1.7 * MM);
    g_assert_null(sample_find_text(level, "COPE"));
    g_assert_null(scene_find_part(level, "depth-cope"));
    g_assert_nonnull(sample_find_text(level, "Seen from the front"));
}

// What is drawn is what is hit, and the words at a place say the same.
static void
test_pick(void)
{
    make_pattern(61.7 * MM, 43.1 * MM, 19.3 * MM);
    g_auto(CauseCut) cut = cause_cut(pattern, 2, 1.1 * MM);
    g_autoptr(Scene) scene = casting_scene(pattern, &cut, &units);
    CastingSheet sheet = casting_sheet(pattern, 2);
    PaintView view = paint_fit(scene, 1100, 700, 18);
    const struct {
        double x, y;
        const char *id, *words;
    } at[] = {{11.1, 2.3, "cause-part", "Finished part"},
              {-7.7, 43.1 / 2 + 0.7, "cause-allowance", "Stock to machine, 1.3 mm thick here"},
              {0, 43.1 / 2 + 1.42, "cause-draft", "Draft"},
              {0.3, 0.2, "cause-closed", "Small holes closed"}};
    for (guint i = 0; i < G_N_ELEMENTS(at); i++) {
        double dx, dy;
        paint_to_device(&view, sheet.section.x + at[i].x, sheet.section.y + at[i].y, &dx, &dy);
        const ScenePart *part = paint_pick(scene, &view, dx, dy, 0);
        g_assert_nonnull(part);
        g_assert_cmpstr(part->id, ==, at[i].id);
        g_autofree char *words = casting_words_at(&cut, (SolidPoint){at[i].x * MM, at[i].y * MM},
                                                  &units);
        g_assert_true(g_str_has_prefix(words, at[i].words));
    }
    g_assert_null(casting_words_at(&cut, (SolidPoint){0, 43.1 * MM}, &units));
}

static void
test_line(void)
{
    make_pattern(61.7 * MM, 43.1 * MM, 19.3 * MM);
    for (int axis = 0; axis < 3; axis++) {
        CastingSheet sheet = casting_sheet(pattern, axis);
        SolidPoint first_min = {0, 0}, first_max = {0, 0};
        for (int i = -2; i <= 2; i++) {
            double at = 1.93 * MM * i;
            g_autoptr(Scene) scene = draw(axis, at);
            SolidPoint min, max;
            const Shape *line = sample_find_shape(scene, SHAPE_PATH, ROLE_CUTTING, "plane");
            sample_shape_box(line, &min, &max);
            double where = axis == 0 ? min.x - sheet.map.x : min.y - sheet.map.y;
            check_close(where, at * sheet.map_scale, 1e-9, "to the small picture's scale");
            scene_box(scene, &min, &max);
            if (i == -2) {
                first_min = min;
                first_max = max;
            }
            g_assert_cmpfloat(hypot(min.x - first_min.x, min.y - first_min.y), ==, 0);
            g_assert_cmpfloat(hypot(max.x - first_max.x, max.y - first_max.y), ==, 0);
        }
    }
}

// Upright boxes of all texts on the surface.
typedef struct {
    double x0, y0, x1, y1;
    const char *text;
} Box;

static Box
box_of(const BrushText *t, const char *text)
{
    double c = cos(t->turn), s = sin(t->turn), middle = t->left + t->width / 2;
    double x = t->x + middle * c, y = t->y + middle * s;
    // Letters leave some of the line's height free.
    double w = t->width / 2, h = t->height * 0.36;
    double bx = fabs(c) * w + fabs(s) * h, by = fabs(s) * w + fabs(c) * h;
    return (Box){x - bx, y - by, x + bx, y + by, text};
}

static GArray *
list_boxes(const Scene *scene, const PaintView *view)
{
    GArray *boxes = g_array_new(FALSE, FALSE, sizeof(Box));
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    const Theme *theme = theme_get(THEME_PAPER);
    double size = brush_text_scale(scene, view, 1), line = brush_line_scale(scene, view, 1);
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *s = scene_shape(scene, i);
        BrushDimension d;
        Box box = {0};
        if (s->kind == SHAPE_DIMENSION) {
            brush_dimension_place(layout, view, theme, line, size, s, &d);
            box = box_of(&d.text, s->text);
        } else if (s->kind == SHAPE_TEXT) {
            g_assert_true(brush_text_place(layout, view, theme, size, s, &d.text));
            box = box_of(&d.text, s->text);
        } else {
            continue;
        }
        g_array_append_val(boxes, box);
    }
    return boxes;
}

static void
check_words(const Scene *scene, double width, double height)
{
    PaintView view = paint_fit(scene, width, height, 18);
    g_autoptr(GArray) boxes = list_boxes(scene, &view);
    SolidPoint min, max;
    double x0, y0, x1, y1;
    scene_box(scene, &min, &max);
    paint_to_device(&view, min.x, max.y, &x0, &y0);
    paint_to_device(&view, max.x, min.y, &x1, &y1);
    for (guint i = 0; i < boxes->len; i++) {
        Box a = g_array_index(boxes, Box, i);
        if (!(a.x0 > x0 && a.x1 < x1 && a.y0 > y0 && a.y1 < y1))
            g_error("\"%s\" leaves the sheet of %g by %g", a.text, width, height);
        for (guint j = 0; j < i; j++) {
            Box b = g_array_index(boxes, Box, j);
            if (a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1)
                g_error("\"%s\" and \"%s\" collide on %g by %g", a.text, b.text, width, height);
        }
    }
}

static void
test_words(void)
{
    // A plate, a rail, a post and a sheet.
    const double shapes[][3] = {
        {61.7, 43.1, 19.3}, {173.0, 21.7, 13.9}, {23.3, 19.1, 71.9}, {131.0, 97.3, 4.1}};
    const double sizes[][2] = {{598, 310}, {1087, 560}, {1123, 794}, {420, 300}};
    for (guint s = 0; s < G_N_ELEMENTS(shapes); s++) {
        make_pattern(shapes[s][0] * MM, shapes[s][1] * MM, shapes[s][2] * MM);
        for (int axis = 0; axis < 3; axis++)
            for (int i = 0; i <= 4; i++) {
                double low, high;
                casting_range(pattern, axis, &low, &high);
                g_autoptr(Scene) scene = draw(axis, low + (0.02 + 0.24 * i) * (high - low));
                for (guint k = 0; k < G_N_ELEMENTS(sizes); k++)
                    check_words(scene, sizes[k][0], sizes[k][1]);
            }
    }
}

// In every palette causes differ by their hatching, and words and lines can be seen on them.
static void
test_hatches(void)
{
    for (ThemeKind kind = THEME_LIGHT; kind <= THEME_PAPER; kind++) {
        const Theme *theme = theme_get(kind);
        for (int a = 0; a < CAUSE_COUNT; a++) {
            const ThemeInk *one = &theme->role[casting_causes[a].role];
            g_assert_cmpint(one->hatch, !=, HATCH_NONE);
            for (int b = 0; b < a; b++)
                g_assert_cmpint(one->hatch, !=, theme->role[casting_causes[b].role].hatch);
        }
        g_assert_cmpint(theme->role[ROLE_CUT_PART].hatch, ==, HATCH_RISING); // ISO 128-3: 45°
        g_assert_cmpint(theme->role[ROLE_CUTTING].n_dash, ==, 4);
    }
    g_assert_cmpint(casting_cut_axis("level"), ==, 2);
    g_assert_cmpint(casting_cut_axis("sideways"), ==, -1);
    g_assert_cmpint(casting_cut_axis(NULL), ==, -1);
}

static void
test_inches(void)
{
    make_pattern(61.7 * MM, 43.1 * MM, 19.3 * MM);
    units.inches = TRUE;
    g_autoptr(Scene) scene = draw(0, -2.54 * MM);
    gboolean found = FALSE;
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *s = scene_shape(scene, i);
        found |= s->kind == SHAPE_TEXT &&
                 g_str_has_prefix(s->text,
                                  "Across, 0.100 in left of the middle. Lengths in inches");
    }
    g_assert_true(found);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/casting/regions", test_regions);
    g_test_add_func("/sketch/casting/pick", test_pick);
    g_test_add_func("/sketch/casting/line", test_line);
    g_test_add_func("/sketch/casting/words", test_words);
    g_test_add_func("/sketch/casting/hatches", test_hatches);
    g_test_add_func("/sketch/casting/inches", test_inches);
    int status = g_test_run();
    pattern_result_unref(pattern);
    return status;
}
