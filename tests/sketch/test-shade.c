// SPDX-License-Identifier: GPL-3.0-or-later
// The shaded picture, read back pixel by pixel: areas against the projection of a box, depth
// against which of two boxes is nearer, classes against one another, and bytes against bytes.
#include "sketch/shade.h"

#include <string.h>

#include "check.h"

static ShadeView
view_at(double turn, double tilt)
{
    return (ShadeView){.width = 231,
                       .height = 187,
                       .pixels = 1,
                       .turn = turn,
                       .tilt = tilt,
                       .zoom = 1,
                       .theme = THEME_LIGHT};
}

static cairo_surface_t *
draw(const SolidMesh *mesh, const guint8 *classes, double parting, const ShadeView *view)
{
    g_autoptr(ShadeModel) model = shade_model_new(mesh, classes, parting);
    g_autoptr(GError) error = NULL;
    cairo_surface_t *surface = shade_render(model, view, NULL, &error);
    g_assert_no_error(error);
    return surface;
}

static guint32
pixel_at(cairo_surface_t *surface, int x, int y)
{
    const unsigned char *data = cairo_image_surface_get_data(surface);
    guint32 pixel;
    memcpy(&pixel, data + (gsize)y * (gsize)cairo_image_surface_get_stride(surface) + 4 * (gsize)x,
           sizeof pixel);
    return pixel;
}

// Covered pixels, partly covered ones in part.
static double
covered(cairo_surface_t *surface)
{
    double sum = 0;
    for (int y = 0; y < cairo_image_surface_get_height(surface); y++)
        for (int x = 0; x < cairo_image_surface_get_width(surface); x++)
            sum += (pixel_at(surface, x, y) >> 24) / 255.0;
    return sum;
}

// The projection of a box along a unit way is the sum over its three pairs of faces of area times
// the share of the way across them.
static void
test_coverage(void)
{
    static const double views[][2] = {
        {0, 0}, {G_PI / 2, 0}, {0, G_PI / 2}, {0.37, 0.61}, {2.385, -0.83}};
    double a = 0.0413, b = 0.0297, c = 0.0189;
    g_autoptr(SolidMesh) mesh = check_mesh_box(a, b, c);
    g_autoptr(ShadeModel) model = shade_model_new(mesh, NULL, NAN);
    for (guint i = 0; i < G_N_ELEMENTS(views); i++) {
        ShadeView view = view_at(views[i][0], views[i][1]);
        double scale = shade_scale(model, &view);
        double x = fabs(sin(view.turn) * cos(view.tilt)), y = fabs(cos(view.turn) * cos(view.tilt));
        double area = (b * c * x + a * c * y + a * b * fabs(sin(view.tilt))) * scale * scale;
        double rim = 4 * (a + b + c) * scale; // longer than any outline of it
        cairo_surface_t *surface = draw(mesh, NULL, NAN, &view);
        double found = covered(surface);
        g_assert_cmpfloat(fabs(found - area), <=, 0.5 * rim);
        // Half-open rasters lose nothing on the whole: far nearer than the rim.
        check_close(found, area, 0.02, "projection of a box");
        cairo_surface_destroy(surface);
    }
}

// No crack between triangles of one face: inside the outline every pixel is fully covered.
static void
test_no_cracks(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_sphere(0.0231, 40, 60);
    ShadeView view = view_at(0.37, 0.61);
    g_autoptr(ShadeModel) model = shade_model_new(mesh, NULL, NAN);
    double radius = 0.0231 * shade_scale(model, &view) * 0.97;
    cairo_surface_t *surface = draw(mesh, NULL, NAN, &view);
    for (int y = 0; y < view.height; y++)
        for (int x = 0; x < view.width; x++)
            if (hypot(x + 0.5 - view.width / 2.0, y + 0.5 - view.height / 2.0) < radius)
                g_assert_cmpuint(pixel_at(surface, x, y) >> 24, ==, 255);
    cairo_surface_destroy(surface);
}

// A box and its copy moved along y, as one mesh; the copy's triangles come last.
static SolidMesh *
two_boxes(double apart)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) one = check_mesh_box(0.0413, 0.0117, 0.0297);
    g_autoptr(SolidMesh) two = solid_mesh_transformed(one, same, vec3(0, apart, 0));
    SolidMesh *both = solid_mesh_new(2 * one->n_vertices, 2 * one->n_triangles);
    for (guint32 i = 0; i < one->n_vertices; i++) {
        both->vertices[i] = one->vertices[i];
        both->vertices[one->n_vertices + i] = two->vertices[i];
    }
    for (guint32 t = 0; t < one->n_triangles; t++)
        for (int k = 0; k < 3; k++) {
            both->triangles[t][k] = one->triangles[t][k];
            both->triangles[one->n_triangles + t][k] = one->triangles[t][k] + one->n_vertices;
        }
    return both;
}

// The eye looks along +y: the nearer of two boxes covers the other, whichever is drawn last.
static void
test_depth(void)
{
    for (int sign = -1; sign <= 1; sign += 2) {
        g_autoptr(SolidMesh) mesh = two_boxes(0.0237 * sign);
        g_autofree guint8 *classes = g_new(guint8, mesh->n_triangles);
        g_autofree guint8 *near = g_new(guint8, mesh->n_triangles);
        for (guint32 t = 0; t < mesh->n_triangles; t++) {
            gboolean second = t >= mesh->n_triangles / 2;
            classes[t] = second ? SHADE_LOW : SHADE_DRAWS;
            near[t] = sign < 0 ? SHADE_LOW : SHADE_DRAWS;
        }
        ShadeView view = view_at(0, 0);
        cairo_surface_t *both = draw(mesh, classes, NAN, &view);
        cairo_surface_t *same = draw(mesh, near, NAN, &view);
        for (int y = 0; y < view.height; y++)
            for (int x = 0; x < view.width; x++)
                g_assert_cmpuint(pixel_at(both, x, y), ==, pixel_at(same, x, y));
        cairo_surface_destroy(both);
        cairo_surface_destroy(same);
    }
}

// Grey of a pixel, as a picture without colour has it (weights of ITU-R BT.601).
static double
grey_of(guint32 pixel)
{
    return 0.299 * (pixel >> 16 & 255) + 0.587 * (pixel >> 8 & 255) + 0.114 * (pixel & 255);
}

// Share of dark pixels on a face looked at squarely.
static double
hatched_share(ShadeClass class)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0413, 0.0117, 0.0297);
    g_autofree guint8 *classes = g_new(guint8, mesh->n_triangles);
    memset(classes, (int)class, mesh->n_triangles);
    ShadeView view = view_at(0, 0);
    cairo_surface_t *surface = draw(mesh, classes, NAN, &view);
    double lightest = 0, dark = 0, n = 0;
    for (int y = 70; y < 118; y++)
        for (int x = 80; x < 150; x++)
            lightest = fmax(lightest, grey_of(pixel_at(surface, x, y)));
    for (int y = 70; y < 118; y++)
        for (int x = 80; x < 150; x++, n++)
            dark += grey_of(pixel_at(surface, x, y)) < 0.75 * lightest;
    cairo_surface_destroy(surface);
    return dark / n;
}

// Read without colour: no hatching where it draws, lines one way for too little draft, both ways
// where it is hidden.
static void
test_classes(void)
{
    double low = hatched_share(SHADE_LOW), hidden = hatched_share(SHADE_HIDDEN);
    check_close(hatched_share(SHADE_PLAIN), 0, 1e-12, "no hatching");
    check_close(hatched_share(SHADE_DRAWS), 0, 1e-12, "no hatching");
    g_assert_cmpfloat(low, >, 0.1);
    g_assert_cmpfloat(hidden, >, 1.5 * low);
    g_assert_cmpfloat(hidden, <, 0.7);
}

static void
test_same_bytes(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_torus(0.0273, 0.0091, 48, 24);
    ShadeView view = view_at(0.37, 0.61);
    view.pixels = 2;
    cairo_surface_t *a = draw(mesh, NULL, 0, &view), *b = draw(mesh, NULL, 0, &view);
    gsize size = (gsize)cairo_image_surface_get_stride(a) *
                 (gsize)cairo_image_surface_get_height(a);
    g_assert_cmpmem(cairo_image_surface_get_data(a), size, cairo_image_surface_get_data(b), size);
    cairo_surface_destroy(a);
    cairo_surface_destroy(b);
}

// With a parting the picture holds more than without: its line, its frame and the arrow. From
// behind the part the line is covered.
static void
test_parting(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0413, 0.0117, 0.0297);
    ShadeView view = view_at(0, 0);
    cairo_surface_t *with = draw(mesh, NULL, 0.0117, &view);
    g_autoptr(ShadeModel) model = shade_model_new(mesh, NULL, 0.0117);
    double scale = shade_scale(model, &view);
    int x = view.width / 2, y = (int)(view.height / 2.0 - (0.0117 - 0.0297 / 2) * scale);
    const double *ink = theme_get(THEME_LIGHT)->role[ROLE_PARTING].ink;
    guint32 found = pixel_at(with, x, y);
    check_close((found >> 16 & 255) / 255.0, ink[0], 0.05, "ink of the parting, red");
    check_close((found & 255) / 255.0, ink[2], 0.05, "ink of the parting, blue");
    cairo_surface_destroy(with);
}

// Half the pixels, the same picture: as much is covered, also where a large mesh is coarsened.
static void
test_rough(void)
{
    static const int rounds[] = {40, 300};
    for (guint i = 0; i < G_N_ELEMENTS(rounds); i++) {
        g_autoptr(SolidMesh) mesh = check_mesh_sphere(0.0231, rounds[i], rounds[i]);
        g_autoptr(ShadeModel) model = shade_model_new(mesh, NULL, NAN);
        ShadeView view = view_at(0.37, 0.61);
        view.rough = TRUE;
        double radius = 0.0231 * shade_scale(model, &view) / 2;
        cairo_surface_t *surface = draw(mesh, NULL, NAN, &view);
        g_assert_cmpint(cairo_image_surface_get_width(surface), ==, view.width / 2);
        g_assert_cmpint(cairo_image_surface_get_height(surface), ==, view.height / 2);
        check_close(covered(surface), G_PI * radius * radius, 0.02, "circle");
        cairo_surface_destroy(surface);
    }
}

// Pixels about as blue and as dark as the theme's accent.
static guint
count_accent(cairo_surface_t *surface)
{
    const double *ink = theme_get(THEME_LIGHT)->accent;
    guint n = 0;
    for (int y = 0; y < cairo_image_surface_get_height(surface); y++)
        for (int x = 0; x < cairo_image_surface_get_width(surface); x++) {
            guint32 p = pixel_at(surface, x, y);
            n += p >> 24 == 255 && fabs((p >> 16 & 255) / 255.0 - ink[0]) < 0.03 &&
                 fabs((p >> 8 & 255) / 255.0 - ink[1]) < 0.03 &&
                 fabs((p & 255) / 255.0 - ink[2]) < 0.03;
        }
    return n;
}

// One face of a box is an area: marked it is outlined along its edges, and what is not of it pales.
static void
test_marked(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0413, 0.0117, 0.0297);
    g_autofree guint32 *areas = g_new(guint32, mesh->n_triangles);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        gboolean front = TRUE;
        for (int k = 0; k < 3; k++)
            front = front && mesh->vertices[mesh->triangles[t][k]].y == 0;
        areas[t] = front ? 3 : G_MAXUINT32;
    }
    g_autoptr(ShadeModel) model = shade_model_new_areas(mesh, NULL, areas, NAN);
    ShadeView view = view_at(0, 0.5);
    double scale = shade_scale(model, &view);
    cairo_surface_t *plain = shade_render(model, &view, NULL, NULL);
    view.marked = 4;
    cairo_surface_t *marked = shade_render(model, &view, NULL, NULL);
    view.marked = 1; // no such area: no outline, and all of it pales
    cairo_surface_t *other = shade_render(model, &view, NULL, NULL);
    g_assert_cmpuint(count_accent(plain), ==, 0);
    g_assert_cmpuint(count_accent(other), ==, 0);
    double round = 2 * scale * (0.0413 + 0.0297 * cos(0.5)); // of the face as it is seen
    g_assert_cmpfloat(count_accent(marked), >, 1.5 * round);
    g_assert_cmpfloat(count_accent(marked), <, 4 * round);
    // The top lies above the middle, the front below.
    int x = view.width / 2, top = view.height / 2, front = top + 3;
    top -= (int)(0.0297 / 2 * cos(0.5) * scale + 0.5 * 0.0117 / 2 * sin(0.5) * scale);
    g_assert_cmpfloat(grey_of(pixel_at(marked, x, top)), >, grey_of(pixel_at(plain, x, top)) + 5);
    g_assert_cmpuint(pixel_at(marked, x, front), ==, pixel_at(plain, x, front));
    g_assert_cmpfloat(grey_of(pixel_at(other, x, front)), >,
                      grey_of(pixel_at(plain, x, front)) + 5);
    cairo_surface_destroy(plain);
    cairo_surface_destroy(marked);
    cairo_surface_destroy(other);
}

static void
test_stop_and_limit(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0413, 0.0117, 0.0297);
    g_autoptr(ShadeModel) model = shade_model_new(mesh, NULL, 0);
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    GError *error = NULL;
    ShadeView view = view_at(0, 0);
    g_assert_null(shade_render(model, &view, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    view.width = view.height = 7000;
    g_assert_null(shade_render(model, &view, NULL, &error));
    check_error(error, BASE_ERROR_LIMIT, "too large");
}

// Nothing to see, or a part zoomed far out of sight: an empty picture, no harm.
static void
test_nothing(void)
{
    g_autoptr(SolidMesh) none = solid_mesh_new(0, 0);
    ShadeView view = view_at(0.37, 0.61);
    cairo_surface_t *surface = draw(none, NULL, NAN, &view);
    check_close(covered(surface), 0, 1e-12, "no triangles");
    cairo_surface_destroy(surface);
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.0413, 0.0117, 0.0297);
    view.zoom = 1e5;
    surface = draw(mesh, NULL, 0, &view);
    cairo_surface_destroy(surface);
    surface = shade_sample(SHADE_HIDDEN, THEME_DARK, 28, 14, 2);
    check_close(covered(surface), 28 * 14 * 4, 1e-12, "the whole sample");
    cairo_surface_destroy(surface);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/shade/coverage", test_coverage);
    g_test_add_func("/sketch/shade/no-cracks", test_no_cracks);
    g_test_add_func("/sketch/shade/depth", test_depth);
    g_test_add_func("/sketch/shade/classes", test_classes);
    g_test_add_func("/sketch/shade/same-bytes", test_same_bytes);
    g_test_add_func("/sketch/shade/parting", test_parting);
    g_test_add_func("/sketch/shade/rough", test_rough);
    g_test_add_func("/sketch/shade/marked", test_marked);
    g_test_add_func("/sketch/shade/stop-and-limit", test_stop_and_limit);
    g_test_add_func("/sketch/shade/nothing", test_nothing);
    return g_test_run();
}
