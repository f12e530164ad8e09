// SPDX-License-Identifier: GPL-3.0-or-later
// Views and board outlines of a whole plan, by name: each can be drawn, and the boards are written
// one, the other, or both and then all or none.
#include <glib/gstdio.h>

#include "make.h"
#include "sketch/flask.h"
#include "sketch/template-export.h"
#include "sketch/view.h"

static Plan *plan;

static void
test_each(void)
{
    const char *const views[] = {"plan", "across", "modulus", "filling", "gains"};
    for (guint i = 0; i < G_N_ELEMENTS(views); i++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(Scene) scene = sketch_view_scene(plan, views[i], NAN, NAN, &error);
        g_assert_no_error(error);
        g_assert_cmpuint(scene_part_count(scene), >, 0);
    }
    g_autoptr(GError) error = NULL;
    g_assert_null(sketch_view_scene(plan, "nothing", NAN, NAN, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "nothing");
}

static void
check_paths(const char *path, TemplateBoards boards, const char *first, const char *second)
{
    g_auto(GStrv) paths = template_paths(path, boards);
    g_assert_cmpstr(paths[0], ==, first);
    g_assert_cmpstr(paths[1], ==, second);
}

static void
test_paths(void)
{
    check_paths("a/b.dxf", TEMPLATE_DRAG_BOARD, "a/b.dxf", NULL);
    check_paths("a/b.dxf", TEMPLATE_BOTH_BOARDS, "a/b-cope.dxf", "a/b-drag.dxf");
    check_paths("a.b/c", TEMPLATE_BOTH_BOARDS, "a.b/c-cope", "a.b/c-drag");
    check_paths("a/.c", TEMPLATE_BOTH_BOARDS, "a/.c-cope", "a/.c-drag");
    TemplateBoards boards = TEMPLATE_COPE_BOARD;
    g_assert_true(template_boards_find("both", &boards));
    g_assert_cmpint(boards, ==, TEMPLATE_BOTH_BOARDS);
    g_assert_false(template_boards_find("lid", &boards));
    g_assert_cmpint(boards, ==, TEMPLATE_BOTH_BOARDS);
}

static char *
read_file(const char *path)
{
    char *text = NULL;
    g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
    return text;
}

static void
test_boards(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *one = g_build_filename(folder, "one.dxf", NULL);
    g_autofree char *two = g_build_filename(folder, "two.dxf", NULL);
    g_autofree char *cope = g_build_filename(folder, "two-cope.dxf", NULL);
    g_autofree char *drag = g_build_filename(folder, "two-drag.dxf", NULL);
    g_autoptr(GError) error = NULL;
    g_assert_true(template_export(plan, TEMPLATE_DRAG_BOARD, one, FALSE, &error));
    g_assert_true(template_export(plan, TEMPLATE_BOTH_BOARDS, two, FALSE, &error));
    g_assert_no_error(error);
    g_assert_false(g_file_test(two, G_FILE_TEST_EXISTS));
    g_autofree char *a = read_file(one), *b = read_file(cope), *c = read_file(drag);
    g_assert_cmpstr(a, ==, c);
    g_assert_cmpstr(b, !=, c);
    // What was made from a name is not overwritten, whoever answered for the name itself.
    g_assert_cmpint(g_unlink(cope), ==, 0);
    g_assert_false(template_export(plan, TEMPLATE_BOTH_BOARDS, two, TRUE, &error));
    check_error(error, BASE_ERROR_FILE, "two-drag.dxf");
    g_assert_false(g_file_test(cope, G_FILE_TEST_EXISTS));
    g_assert_false(template_export(plan, TEMPLATE_COPE_BOARD, one, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "already");
    g_assert_true(template_export(plan, TEMPLATE_COPE_BOARD, one, TRUE, &error));
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autofree char *folder = check_folder();
    g_autofree char *mesh = make_mesh_file(folder, "part.stl", make_plate());
    g_autoptr(Book) book = make_book(mesh, tables);
    plan = make_plan(book, "part", tables, NULL);
    g_test_add_func("/plan/views/each", test_each);
    g_test_add_func("/plan/views/paths", test_paths);
    g_test_add_func("/plan/views/boards", test_boards);
    int failed = g_test_run();
    plan_unref(plan);
    check_folder_remove(folder);
    return failed;
}
