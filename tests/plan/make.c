// SPDX-License-Identifier: GPL-3.0-or-later
// Books, plans and comparing them, for tests.
#include "make.h"

#include <string.h>

#include "book/edit.h"
#include "figure/source.h"
#include "solid/write.h"

char *
make_mesh_file(const char *folder, const char *name, SolidMesh *mesh)
{
    g_autoptr(GError) error = NULL;
    char *path = g_build_filename(folder, name, NULL);
    solid_write_stl(mesh, path, TRUE, &error);
    g_assert_no_error(error);
    solid_mesh_unref(mesh);
    return path;
}

SolidMesh *
make_plate(void)
{
    return check_mesh_blind_plate(0.0617, 0.0431, 0.0123, 0.0092, 0.0057, 24);
}

SolidMesh *
make_open_box(void)
{
    SolidMesh *mesh = check_mesh_box(0.0617, 0.0431, 0.0123);
    mesh->n_triangles--;
    return mesh;
}

Book *
make_changed(const Book *book, const char *path, const char *text, const Tables *tables)
{
    g_autoptr(GError) error = NULL;
    const char *job = book_job_count(book) > 0 ? book_job_id(book, 0) : NULL;
    g_autoptr(Edit) edit = edit_field(book, job, field_find(path), text, tables, &error);
    g_assert_no_error(error);
    Book *changed = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    return changed;
}

Book *
make_with_entry(const Book *book, const char *place, const char *id, const char *member,
                const char *value)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) empty = node_new_object();
    g_autoptr(Node) id_node = node_new_text(id);
    g_autoptr(Node) value_node = node_new_text(value);
    g_autoptr(Node) with_id = node_with_member(empty, "id", id_node);
    g_autoptr(Node) node = node_with_member(with_id, member, value_node);
    g_autoptr(Edit) edit = edit_insert(place, node, "Add");
    Book *with = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    return with;
}

Book *
make_book(const char *mesh, const Tables *tables)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Node) node = edit_job_node("part", "Part", mesh, NULL, "mm", "a356", "37");
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, "Add job");
    g_autoptr(Book) book = edit_apply(ready, edit, &error);
    g_assert_no_error(error);
    // Coarse, and no search for the pull: what is tested is how plans are made, not what is in
    // them.
    g_autoptr(Book) coarse = make_changed(book, "job.cells", "24", tables);
    g_autoptr(Book) quick = make_changed(coarse, "job.heat_cells", "4000", tables);
    return make_changed(quick, "job.pull", "0,0,1", tables);
}

Book *
make_other_changed(const Book *book, const char *path, const char *text, const Tables *tables)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Edit) edit = edit_field(book, "other", field_find(path), text, tables, &error);
    g_assert_no_error(error);
    Book *changed = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    return changed;
}

Book *
make_with_other(const Book *book, const char *mesh, const Tables *tables)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = edit_job_node("other", "Cup", mesh, NULL, "mm", "a356", "23");
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, "Add job");
    g_autoptr(Book) with = edit_apply(book, edit, &error);
    g_assert_no_error(error);
    g_autoptr(Book) coarse = make_other_changed(with, "job.cells", "24", tables);
    g_autoptr(Book) quick = make_other_changed(coarse, "job.heat_cells", "4000", tables);
    return make_other_changed(quick, "job.pull", "0,0,1", tables);
}

Plan *
make_plan(const Book *book, const char *job, const Tables *tables, Cache *cache)
{
    g_autoptr(GError) error = NULL;
    Plan *plan = plan_make(book, job, tables, cache, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(plan);
    return plan;
}

static void
dump_figure(GString *out, const Figure *figure)
{
    g_string_append_printf(out, "%s %a \"%s\" state %d limit %a from %s margin %a",
                           figure->spec->id, figure->value, figure->text, figure->state,
                           figure->limit, figure->limit_id, figure->margin);
    g_string_append_printf(out, " source %s note \"%s\" missing %s inputs", figure_source(figure),
                           figure->note, figure->missing);
    for (guint i = 0; i < figure->n_inputs; i++)
        g_string_append_printf(out, " %s=%a", figure->inputs[i].id, figure->inputs[i].value);
    g_string_append_c(out, '\n');
}

char *
make_dump(const Plan *plan)
{
    GString *out = g_string_new(NULL);
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        g_string_append_printf(out, "stage %s error %s stale %d\n", info.id, info.error,
                               info.stale);
    }
    for (guint i = 0; i < plan_figure_count(plan); i++)
        dump_figure(out, plan_figure_at(plan, i));
    return g_string_free(out, FALSE);
}

void
check_same_dump(const char *a, const char *b, const char *what)
{
    if (strcmp(a, b) == 0)
        return;
    g_auto(GStrv) left = g_strsplit(a, "\n", -1);
    g_auto(GStrv) right = g_strsplit(b, "\n", -1);
    for (guint i = 0; left[i] && right[i]; i++)
        if (strcmp(left[i], right[i]) != 0)
            g_error("%s:\n  %s\n  %s", what, left[i], right[i]);
    g_error("%s: one has more figures than the other", what);
}

static void
check_inputs(const Plan *plan, const Figure *figure)
{
    for (guint i = 0; i < figure->n_inputs; i++) {
        const Figure *input = plan_figure(plan, figure->inputs[i].id);
        if (!input)
            g_error("%s: its input %s is not in the plan", figure->spec->id, figure->inputs[i].id);
        if (memcmp(&input->value, &figure->inputs[i].value, sizeof(double)) != 0 &&
            !(isnan(input->value) && isnan(figure->inputs[i].value)))
            g_error("%s: its input %s was %.17g and is %.17g", figure->spec->id, input->spec->id,
                    figure->inputs[i].value, input->value);
        if (input->given)
            check_figure_source(input);
    }
}

void
check_plan_figures(const Plan *plan, PlanCount *count)
{
    for (guint i = 0; i < plan_figure_count(plan); i++) {
        const Figure *figure = plan_figure_at(plan, i);
        g_assert_true(figure == plan_figure(plan, figure->spec->id));
        check_figure(figure);
        check_inputs(plan, figure);
        count->formulas += figure->spec->formula != NULL;
        count->figures++;
    }
}

void
bare_set_up(Bare *bare, gconstpointer data)
{
    bare->tables = tables_load(NULL);
    bare->folder = check_folder();
}

void
bare_tear_down(Bare *bare, gconstpointer data)
{
    check_folder_remove(bare->folder);
    g_free(bare->folder);
    tables_free(bare->tables);
}
