// SPDX-License-Identifier: GPL-3.0-or-later
// Each field is changed, one at a time: the digest of inputs that read it changes, and of inputs
// that do not read it stays. This is what the reuse of stage results rests on.
#include <string.h>

#include "book/edit.h"
#include "book/inputs.h"
#include "check.h"

static Tables *tables;

static Book *
make_book(void)
{
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Node) job = edit_job_node("a", "A", "a.stl", NULL, "mm", "a356", "24");
    g_autoptr(Node) flask = node_new_object();
    g_autoptr(Node) id = node_new_text("other");
    g_autoptr(Node) entry = node_with_member(flask, "id", id);
    static const char *const places[] = {"/shop/flasks/-", "/shop/furnaces/-", "/shop/crucibles/-"};
    g_autoptr(Edit) add = edit_insert("/jobs/-", job, "x");
    g_autoptr(Book) book = edit_apply(ready, add, NULL);
    g_autoptr(Node) other = edit_job_node("other", "Other", "b.stl", NULL, "mm", "a356", "7");
    g_autoptr(Edit) second = edit_insert("/jobs/-", other, "x");
    g_autoptr(Book) one = g_steal_pointer(&book);
    book = edit_apply(one, second, NULL);
    for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
        g_autoptr(Edit) more = edit_insert(places[i], entry, "x");
        g_autoptr(Book) before = g_steal_pointer(&book);
        book = edit_apply(before, more, NULL);
    }
    return g_steal_pointer(&book);
}

// Another value than the one in force, fit for the field. Free.
static char *
make_other(const Field *field, const Inputs *inputs)
{
    UnitSet units = unit_set_default();
    double now = inputs_number(inputs, field->path);
    double low = isnan(field->min) ? 1 : field->min;
    double high = isnan(field->max) ? low + 1000 : field->max;
    switch (field->type) {
    case FIELD_QUANTITY:
        if (field->kind == QUANTITY_COUNT)
            return g_strdup_printf("%.0f", now < high ? (isnan(now) ? low : now) + 1 : low);
        low += 0.385 * (high - low);
        return quantity_format_exact(field->kind, low == now ? high : low, &units);
    case FIELD_CHOICE: {
        g_auto(GStrv) pairs = g_strsplit(field->choices, "/", -1);
        char *last = pairs[g_strv_length(pairs) - 1];
        return g_strndup(last, strcspn(last, "="));
    }
    case FIELD_ROW:
        if (strcmp(field->choices, "metals") == 0)
            return g_strdup(table_row_id(tables_at(tables, TABLE_METALS, 0)));
        if (strcmp(field->choices, "sands") == 0)
            return g_strdup(
                table_row_id(tables_at(tables, TABLE_SANDS, tables_size(tables, TABLE_SANDS) - 1)));
        return g_strdup("silicon-carbide");
    case FIELD_ENTRY:
        return g_strdup("other");
    case FIELD_BOOL:
        return g_strdup("yes");
    case FIELD_WORDS:
        if (strcmp(field->path, "job.pins") == 0)
            return g_strdup("pour-1 4 h 10 min");
        if (strcmp(field->path, "shop.stock") == 0)
            return g_strdup("2.7 kg a356 returns");
        if (strcmp(field->path, "job.due") == 0)
            return g_strdup("2026-12-19");
        if (strcmp(field->path, "shop.days") == 0)
            return g_strdup("sun 9:10-15:00");
        if (strcmp(field->path, "shop.start") == 0)
            return g_strdup("8:10");
        if (g_str_has_prefix(field->path, "shop.light_"))
            return g_strdup("17:40");
        return g_strdup(strcmp(field->path, "job.placement") == 0 ? "1 mm, 2 mm" : "Other");
    case FIELD_VECTOR:
        return g_strdup("0,0.6,0.8");
    case FIELD_FILE:
        return g_strdup("other.stl");
    }
    return NULL;
}

// Fields that decide what others mean, so that a change of theirs reaches further.
static gboolean
reaches_further(const char *path, const char *other)
{
    static const char *const reach[][2] = {
        {"job.flask", "flask."}, {"job.furnace", "furnace."},        {"job.crucible", "crucible."},
        {"job.metal", "job."},   {"crucible.kind", "crucible.fill"}, {"shop.lengths", ""},
        {"shop.masses", ""},     {"shop.temperatures", ""},          {"shop.currency", ""},
    };
    for (guint i = 0; i < G_N_ELEMENTS(reach); i++)
        if (strcmp(path, reach[i][0]) == 0 && g_str_has_prefix(other, reach[i][1]))
            return TRUE;
    return FALSE;
}

static void
test_each_field(void)
{
    g_autoptr(Book) book = make_book();
    guint n = field_count();
    g_autoptr(GPtrArray) before = g_ptr_array_new_with_free_func((GDestroyNotify)inputs_unref);
    for (guint i = 0; i < n; i++) {
        const char *only[] = {field_at(i)->path, NULL};
        g_ptr_array_add(before, inputs_resolve(book, "a", tables, NULL, only));
    }
    for (guint i = 0; i < n; i++) {
        const Field *field = field_at(i);
        g_autoptr(GError) error = NULL;
        g_autofree char *text = make_other(field, before->pdata[i]);
        g_autoptr(Edit) edit = edit_field(book, "a", field, text, tables, &error);
        g_assert_no_error(error);
        g_autoptr(Book) changed = edit_apply(book, edit, &error);
        g_assert_no_error(error);
        for (guint k = 0; k < n; k++) {
            const char *path = field_at(k)->path;
            const char *only[] = {path, NULL};
            g_autoptr(Inputs) after = inputs_resolve(changed, "a", tables, NULL, only);
            gboolean same = strcmp(inputs_digest(after), inputs_digest(before->pdata[k])) == 0;
            if (k == i && same)
                g_error("changing %s to %s does not show in its digest", path, text);
            if (k != i && !same && !reaches_further(field->path, path))
                g_error("changing %s shows in the digest of %s", field->path, path);
        }
    }
}

// Rows, log and the list of jobs are read by content.
static void
test_others(void)
{
    static const char *const kinds[] = {
        "metal.*",        "metal.liquidus",       "log", "jobs", "mesh",
        "cruciblekind.*", "sandkind.conductivity"};
    static const struct {
        const char *place, *text, *changes; // space after each
    } edits[] = {
        {"/jobs/0/metal", "copper", "metal.* metal.liquidus "},
        {"/jobs/0/mesh", "b.stl", "mesh "},
        {"/jobs/0/mesh_unit", "in", "mesh "},
        {"/jobs/0/id", "b", "jobs "},
        {"/jobs/0/unknown", "b", ""},
        {"/log/notes", "b", "log "},
        {"/shop/crucibles/0/kind", "graphite", "cruciblekind.* "},
        {"/shop/sand/kind", "green-sand", "sandkind.conductivity "},
    };
    g_autoptr(Book) book = make_book();
    for (guint i = 0; i < G_N_ELEMENTS(edits); i++) {
        g_autoptr(Node) value = node_new_text(edits[i].text);
        g_autoptr(Edit) edit = edit_set(edits[i].place, value, "x");
        g_autoptr(Book) changed = edit_apply(book, edit, NULL);
        const char *job = book_job_id(changed, 0);
        for (guint k = 0; k < G_N_ELEMENTS(kinds); k++) {
            const char *only[] = {kinds[k], NULL};
            g_autofree char *word = g_strconcat(kinds[k], " ", NULL);
            g_autoptr(Inputs) a = inputs_resolve(book, "a", tables, NULL, only);
            g_autoptr(Inputs) b = inputs_resolve(changed, job, tables, NULL, only);
            gboolean same = strcmp(inputs_digest(a), inputs_digest(b)) == 0;
            gboolean wanted = strstr(edits[i].changes, word) == NULL;
            if (same != wanted)
                g_error("%s after changing %s: %s", kinds[k], edits[i].place,
                        same ? "the same" : "changed");
        }
    }
}

// A learned value changes the digest of what it fills, and only while the field is blank.
static void
test_learned(void)
{
    static const char *const blank[] = {"people.ram_time", NULL}, *const typed[] = {"job.quantity",
                                                                                    NULL};
    g_autoptr(Book) book = make_book();
    g_autoptr(Learned) learned = learned_new();
    learned_set(learned, "people.ram_time", 1623, "measured");
    learned_set(learned, "job.quantity", 7, "measured");
    g_autoptr(Inputs) a = inputs_resolve(book, "a", tables, NULL, blank);
    g_autoptr(Inputs) b = inputs_resolve(book, "a", tables, learned, blank);
    g_autoptr(Inputs) c = inputs_resolve(book, "a", tables, NULL, typed);
    g_autoptr(Inputs) d = inputs_resolve(book, "a", tables, learned, typed);
    g_assert_cmpstr(inputs_digest(a), !=, inputs_digest(b));
    g_assert_cmpstr(inputs_digest(c), ==, inputs_digest(d));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    g_test_add_func("/book/digest/each-field", test_each_field);
    g_test_add_func("/book/digest/others", test_others);
    g_test_add_func("/book/digest/learned", test_learned);
    return g_test_run();
}
