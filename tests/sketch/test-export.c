// SPDX-License-Identifier: GPL-3.0-or-later
// Files as other readers see them: cairo's own PNG reader, GLib's markup parser, the PDF's text.
#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "check.h"
#include "sketch/export.h"

static Scene *
make_scene(void)
{
    Scene *scene = scene_new("Flask & co");
    scene_set_grain(scene, 2.6);
    scene_add_part(scene, "cavity-1", "Cavity <1>", "Sand to the wall 31 mm & more", NULL);
    scene_add_part(scene, "nothing", "Without a shape", "", NULL);
    scene_add_rectangle(scene, ROLE_SAND_DRAG, 0, NULL, TRUE, TRUE, -130, -95, 260, 190);
    scene_add_rectangle(scene, ROLE_METAL, 1, "cavity-1", TRUE, TRUE, -60.5, -31.25, 77.5, 41.75);
    scene_add_text(scene, ROLE_TEXT, 2, NULL, 0, 70, 11, ALIGN_MIDDLE,
                   "\xe2\x8c\x80 31,5 \xc2\xb7 A");
    return scene;
}

typedef struct {
    char *width, *height, *box[4], *title, *description;
    gboolean in_part;
    const char *within;
    int groups;
} Svg;

static void
on_element_started_cb(GMarkupParseContext *context, const char *name, const char **keys,
                      const char **values, gpointer data, GError **error)
{
    Svg *svg = data;
    static const char *const sides[] = {"x", "y", "width", "height"};
    svg->within = NULL;
    for (guint i = 0; keys[i]; i++) {
        if (g_str_equal(name, "svg") && g_str_equal(keys[i], "width"))
            svg->width = g_strdup(values[i]);
        if (g_str_equal(name, "svg") && g_str_equal(keys[i], "height"))
            svg->height = g_strdup(values[i]);
        if (g_str_equal(name, "g") && g_str_equal(keys[i], "id")) {
            g_assert_cmpstr(values[i], !=, "nothing");
            svg->in_part = g_str_equal(values[i], "cavity-1");
            svg->groups += svg->in_part;
        }
        for (guint k = 0; svg->in_part && g_str_equal(name, "rect") && k < 4; k++)
            if (g_str_equal(keys[i], sides[k]))
                svg->box[k] = g_strdup(values[i]);
    }
    if (svg->in_part && (g_str_equal(name, "title") || g_str_equal(name, "desc")))
        svg->within = g_str_equal(name, "title") ? "title" : "desc";
}

static void
on_text_read_cb(GMarkupParseContext *context, const char *text, gsize length, gpointer data,
                GError **error)
{
    Svg *svg = data;
    if (svg->within && !g_ascii_isspace(text[0])) {
        char **to = g_str_equal(svg->within, "title") ? &svg->title : &svg->description;
        if (!*to)
            *to = g_strndup(text, length);
    }
}

static char *
export_to(const char *folder, const char *name, double width, double height)
{
    g_autoptr(Scene) scene = make_scene();
    g_autoptr(GError) error = NULL;
    char *path = g_build_filename(folder, name, NULL);
    gboolean done = export_scene(scene, THEME_PAPER, width, height, path, FALSE, &error);
    g_assert_no_error(error);
    g_assert_true(done);
    return path;
}

static void
test_svg(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = export_to(folder, "plan.svg", 813, 577);
    g_autofree char *text = NULL;
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    Svg svg = {0};
    GMarkupParser parser = {.start_element = on_element_started_cb, .text = on_text_read_cb};
    g_autoptr(GMarkupParseContext) context = g_markup_parse_context_new(&parser, 0, &svg, NULL);
    g_autoptr(GError) error = NULL;
    g_markup_parse_context_parse(context, text, -1, &error);
    g_assert_no_error(error);
    g_markup_parse_context_end_parse(context, &error);
    g_assert_no_error(error);
    g_assert_cmpstr(svg.width, ==, "813pt");
    g_assert_cmpstr(svg.height, ==, "577pt");
    g_assert_cmpint(svg.groups, ==, 1);
    g_assert_cmpstr(svg.title, ==, "Cavity <1>");
    g_assert_cmpstr(svg.description, ==, "Sand to the wall 31 mm & more");
    double ratio = g_ascii_strtod(svg.box[2], NULL) / g_ascii_strtod(svg.box[3], NULL);
    check_close(ratio, 77.5 / 41.75, 1e-4, "the part's box keeps its shape");
    g_free(svg.width);
    g_free(svg.height);
    g_free(svg.title);
    g_free(svg.description);
    for (int i = 0; i < 4; i++)
        g_free(svg.box[i]);
    check_folder_remove(folder);
}

static void
test_png(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = export_to(folder, "plan.PNG", 421, 317);
    cairo_surface_t *surface = cairo_image_surface_create_from_png(path);
    g_assert_cmpint(cairo_surface_status(surface), ==, CAIRO_STATUS_SUCCESS);
    g_assert_cmpint(cairo_image_surface_get_width(surface), ==, 421);
    g_assert_cmpint(cairo_image_surface_get_height(surface), ==, 317);
    const guint32 *pixel = (const guint32 *)(const void *)cairo_image_surface_get_data(surface);
    g_assert_cmphex(pixel[0] & 0xffffff, ==, 0xffffff); // the paper palette is on white
    cairo_surface_destroy(surface);
    check_folder_remove(folder);
}

static void
test_pdf(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = export_to(folder, "plan.pdf", 842, 595);
    g_autofree char *text = NULL;
    gsize length;
    g_assert_true(g_file_get_contents(path, &text, &length, NULL));
    g_assert_true(g_str_has_prefix(text, "%PDF-1."));
    for (gsize i = 0; i < length; i++)
        if (text[i] == '\0')
            text[i] = ' ';
    const char *box = strstr(text, "/MediaBox [ 0 0 842 595 ]");
    g_assert_nonnull(box);
    g_assert_null(strstr(text, "/CreationDate"));
    check_folder_remove(folder);
}

static void
test_same_bytes(void)
{
    static const char *const endings[] = {"png", "svg", "pdf"};
    g_autofree char *folder = check_folder();
    for (guint i = 0; i < G_N_ELEMENTS(endings); i++) {
        g_autofree char *a = g_strdup_printf("a.%s", endings[i]);
        g_autofree char *b = g_strdup_printf("b.%s", endings[i]);
        g_autofree char *path_a = export_to(folder, a, 700, 500);
        g_autofree char *path_b = export_to(folder, b, 700, 500);
        g_autofree char *text_a = NULL, *text_b = NULL;
        gsize length_a, length_b;
        g_assert_true(g_file_get_contents(path_a, &text_a, &length_a, NULL));
        g_assert_true(g_file_get_contents(path_b, &text_b, &length_b, NULL));
        g_assert_cmpmem(text_a, length_a, text_b, length_b);
    }
    check_folder_remove(folder);
}

static void
test_errors(void)
{
    g_autofree char *folder = check_folder();
    g_autoptr(Scene) scene = make_scene();
    g_autoptr(GError) error = NULL;
    g_autofree char *path = export_to(folder, "plan.svg", 300, 200);
    g_autofree char *before = NULL, *after = NULL;
    g_assert_true(g_file_get_contents(path, &before, NULL, NULL));
    g_assert_false(export_scene(scene, THEME_PAPER, 500, 200, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "is there already");
    g_assert_true(g_file_get_contents(path, &after, NULL, NULL));
    g_assert_cmpstr(before, ==, after);
    g_assert_true(export_scene(scene, THEME_PAPER, 500, 200, path, TRUE, &error));
    g_assert_no_error(error);

    g_autofree char *ending = g_build_filename(folder, "plan.gif", NULL);
    g_assert_false(export_scene(scene, THEME_PAPER, 500, 200, ending, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, ".svg, .png or .pdf");
    g_autofree char *none = g_build_filename(folder, "plan", NULL);
    g_assert_false(export_scene(scene, THEME_PAPER, 500, 200, none, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "ending");
    g_autofree char *lost = g_build_filename(folder, "no", "such", "plan.png", NULL);
    g_assert_false(export_scene(scene, THEME_PAPER, 500, 200, lost, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "choose a folder");
    const double bad[][2] = {{0, 200},        {500, -1},   {NAN, 200},
                             {500, INFINITY}, {30000, 10}, {19000, 19000}};
    g_autofree char *large = g_build_filename(folder, "large.png", NULL);
    for (guint i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_assert_false(
            export_scene(scene, THEME_PAPER, bad[i][0], bad[i][1], large, FALSE, &error));
        check_error(error, BASE_ERROR_LIMIT, "cannot be drawn");
    }
    g_assert_false(g_file_test(large, G_FILE_TEST_EXISTS));
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/export/svg", test_svg);
    g_test_add_func("/sketch/export/png", test_png);
    g_test_add_func("/sketch/export/pdf", test_pdf);
    g_test_add_func("/sketch/export/same-bytes", test_same_bytes);
    g_test_add_func("/sketch/export/errors", test_errors);
    return g_test_run();
}
