// SPDX-License-Identifier: GPL-3.0-or-later
// Running flaskwright-cli in tests.
#include "run.h"

#include <string.h>
#include <sys/wait.h>

#include "base/digest.h"
#include "solid/write.h"

void
run_clear(Run *run)
{
    g_free(run->out);
    g_free(run->err);
}

static char *
find_program(void)
{
    const char *build = g_getenv("FW_BUILD_DIR");
    g_assert_nonnull(build);
    return g_build_filename(build, "src", "cli", "flaskwright-cli", NULL);
}

Run
run_cli(const char *folder, const char *line)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *program = find_program();
    g_autofree char *whole = g_strdup_printf("'%s' %s", program, line);
    g_auto(GStrv) words = NULL;
    g_shell_parse_argv(whole, NULL, &words, &error);
    g_assert_no_error(error);
    Run run = {0, NULL, NULL};
    int status = 0;
    g_test_message("flaskwright-cli %s", line);
    g_spawn_sync(folder, words, NULL, G_SPAWN_DEFAULT, NULL, NULL, &run.out, &run.err, &status,
                 &error);
    g_assert_no_error(error);
    if (!WIFEXITED(status))
        g_error("flaskwright-cli %s: killed by signal %d: %s", line, WTERMSIG(status), run.err);
    run.status = WEXITSTATUS(status);
    if (strstr(run.err, "CRITICAL") || strstr(run.err, "WARNING") || strstr(run.err, "runtime err"))
        g_error("flaskwright-cli %s: %s", line, run.err);
    return run;
}

Run
run_expect(const char *folder, const char *line, int status)
{
    Run run = run_cli(folder, line);
    if (run.status != status)
        g_error("flaskwright-cli %s: status %d, expected %d: %s", line, run.status, status,
                run.err);
    if (status == 0 || status == 3) {
        g_assert_cmpstr(run.err, ==, "");
        return run;
    }
    char *end = strchr(run.err, '\n');
    if (!end || end[1] != '\0' || !g_str_has_prefix(run.err, "flaskwright-cli: "))
        g_error("flaskwright-cli %s: not one line that says who speaks: %s", line, run.err);
    return run;
}

static int
compare_lines(gconstpointer a, gconstpointer b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

// Names and content of all files of a folder. Free.
static char *
look_round(const char *folder)
{
    g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func(g_free);
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    const char *name;
    while ((name = g_dir_read_name(dir))) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        g_autofree char *sum = digest_of_file(path, NULL);
        g_ptr_array_add(lines, g_strdup_printf("%s %s", name, sum));
    }
    g_ptr_array_sort(lines, compare_lines);
    g_ptr_array_add(lines, NULL);
    return g_strjoinv("\n", (char **)lines->pdata);
}

void
run_refused(const char *folder, const char *line, const char *words)
{
    g_autofree char *before = look_round(folder);
    g_auto(Run) run = run_expect(folder, line, 1);
    if (!strstr(run.err, words))
        g_error("flaskwright-cli %s: \"%s\" lacks \"%s\"", line, run.err, words);
    g_assert_cmpstr(run.out, ==, "");
    g_autofree char *after = look_round(folder);
    g_assert_cmpstr(after, ==, before);
}

void
run_write(const char *folder, const char *name, const void *data, gssize length)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_file_set_contents(path, data, length, &error);
    g_assert_no_error(error);
}

void
run_write_mesh(const char *folder, const char *name, SolidMesh *mesh)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(folder, name, NULL);
    solid_write_stl(mesh, path, TRUE, &error);
    g_assert_no_error(error);
    solid_mesh_unref(mesh);
}

void
run_coarsen(const char *folder, const char *name)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_autofree char *text = NULL;
    g_file_get_contents(path, &text, NULL, &error);
    g_assert_no_error(error);
    g_auto(GStrv) parts = g_strsplit(text, "\"mesh\":", -1);
    g_assert_cmpuint(g_strv_length(parts), >=, 2);
    g_autofree char *coarse = g_strjoinv("\"cells\": \"24\", \"heat_cells\": \"4000\", \"mesh\":",
                                         parts);
    run_write(folder, name, coarse, -1);
}

JsonObject *
run_figures(JsonParser *parser, const Run *run)
{
    g_autoptr(GError) error = NULL;
    json_parser_load_from_data(parser, run->out, -1, &error);
    g_assert_no_error(error);
    JsonObject *root = json_node_get_object(json_parser_get_root(parser));
    return json_object_get_object_member(root, "figures");
}

double
run_value(JsonObject *figures, const char *id)
{
    if (!json_object_has_member(figures, id))
        g_error("no figure %s", id);
    JsonObject *figure = json_object_get_object_member(figures, id);
    return json_object_get_null_member(figure, "value")
               ? NAN
               : json_object_get_double_member(figure, "value");
}

const char *
run_state(JsonObject *figures, const char *id)
{
    JsonObject *figure = json_object_get_object_member(figures, id);
    return json_object_get_string_member_with_default(figure, "state", "");
}

void
run_write_plate(const char *folder)
{
    run_write_mesh(folder, "plate.stl",
                   check_mesh_blind_plate(0.0617, 0.0431, 0.0123, 0.0092, 0.0057, 24));
}

void
place_set_up(Place *place, gconstpointer data)
{
    place->folder = check_folder();
}

void
place_tear_down(Place *place, gconstpointer data)
{
    check_folder_remove(place->folder);
    g_free(place->folder);
}
