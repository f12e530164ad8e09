// SPDX-License-Identifier: GPL-3.0-or-later
// The published schema names every field at its place, with the choices the field table has, and
// its own version. Where python3-jsonschema is installed, it also judges real books.
#include <string.h>
#include <sys/wait.h>

#include "book/edit.h"
#include "book/scan.h"
#include "book/store.h"
#include "check.h"

static Node *schema;

static char *
source_path(const char *name)
{
    const char *source = g_getenv("FW_SOURCE_DIR");
    return g_build_filename(source ? source : ".", "data", name, NULL);
}

// The schema of the object that holds a section's fields.
static const Node *
find_section(const char *section)
{
    static const char *const places[][2] = {
        {"shop", "/$defs/shop"},       {"sand", "/$defs/sand"},
        {"people", "/$defs/people"},   {"rates", "/$defs/rates"},
        {"machine", "/$defs/machine"}, {"printer", "/$defs/printer"},
        {"furnace", "/$defs/furnace"}, {"crucible", "/$defs/crucible"},
        {"flask", "/$defs/flask"},     {"job", "/$defs/job"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(places); i++)
        if (strcmp(section, places[i][0]) == 0)
            return node_get(schema, places[i][1]);
    return NULL;
}

static gboolean
has_item(const Node *list, const char *text)
{
    for (guint i = 0; i < node_size(list); i++)
        if (g_strcmp0(node_text(node_at(list, i)), text) == 0)
            return TRUE;
    return FALSE;
}

static void
test_fields(void)
{
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        g_autofree char *section = field_section(field->path);
        const Node *object = find_section(section);
        const Node *member = node_member(node_member(object, "properties"),
                                         field_member(field->path));
        if (!member)
            g_error("the schema lacks %s", field->path);
        if (field->type == FIELD_CHOICE) {
            g_auto(GStrv) pairs = g_strsplit(field->choices, "/", -1);
            const Node *choices = node_member(member, "enum");
            for (char **pair = pairs; *pair; pair++) {
                *strchr(*pair, '=') = '\0';
                g_assert_true(has_item(choices, *pair));
            }
            g_assert_cmpuint(node_size(choices), ==, g_strv_length(pairs) + 2); // "" and null
        } else {
            const char *wanted = "#/$defs/words";
            if (field->type == FIELD_QUANTITY)
                wanted = field->kind == QUANTITY_COUNT || field->kind == QUANTITY_NUMBER
                             ? "#/$defs/plain_number"
                             : "#/$defs/quantity";
            g_assert_cmpstr(node_text(node_member(member, "$ref")), ==, wanted);
        }
    }
}

// And it names nothing that is no field, but for what the program reads without a field.
static void
test_no_more(void)
{
    static const char *const extra[] = {
        "job.id",        "job.mesh_sha256", "furnace.id",   "crucible.id", "flask.id",
        "shop.furnaces", "shop.crucibles",  "shop.flasks",  "shop.sand",   "shop.people",
        "shop.rates",    "shop.machine",    "shop.printer", NULL};
    static const char *const sections[] = {"shop",    "sand",    "people",   "rates", "machine",
                                           "printer", "furnace", "crucible", "flask", "job"};
    for (guint i = 0; i < G_N_ELEMENTS(sections); i++) {
        const Node *properties = node_member(find_section(sections[i]), "properties");
        for (guint k = 0; k < node_size(properties); k++) {
            g_autofree char *path = g_strdup_printf("%s.%s", sections[i],
                                                    node_member_name(properties, k));
            if (!field_find(path) && !g_strv_contains(extra, path))
                g_error("the schema has %s, which is no field", path);
        }
    }
}

static void
test_version(void)
{
    const Node *properties = node_member(schema, "properties");
    g_assert_cmpstr(node_text(node_get(schema, "/properties/format/const")), ==, "castbook");
    check_close(node_number(node_member(node_member(properties, "version"), "const")), BOOK_VERSION,
                0, "book.h");
    g_assert_true(has_item(node_member(schema, "required"), "format"));
    g_assert_true(has_item(node_member(schema, "required"), "version"));
}

static const char script[] =
    "import json,sys\n"
    "try:\n"
    "    import jsonschema\n"
    "    check=jsonschema.Draft202012Validator\n"
    "except (ImportError,AttributeError):\n"
    "    sys.exit(77)\n"
    "schema=json.load(open(sys.argv[1]))\n"
    "check.check_schema(schema)\n"
    "good=not list(check(schema).iter_errors(json.load(open(sys.argv[2]))))\n"
    "sys.exit(0 if good else 1)\n";

// Exit status of the independent validator; 77 when it is not installed.
static int
validate(const char *path)
{
    g_autofree char *schema_path = source_path("castbook.schema.json");
    const char *arguments[] = {"python3", "-c", script, schema_path, path, NULL};
    int status = 0;
    if (!g_spawn_sync(NULL, (char **)arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL,
                      &status, NULL))
        return 77;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 99;
}

static void
test_validator(void)
{
    g_autofree char *demo = source_path("demo/loom-hardware.castbook");
    g_autofree char *folder = check_folder();
    g_autofree char *ready = g_build_filename(folder, "ready.castbook", NULL);
    g_autofree char *bad = g_build_filename(folder, "bad.castbook", NULL);
    g_autoptr(Book) book = book_new_ready();
    g_assert_true(store_write(book, ready, FALSE, NULL));
    g_assert_true(g_file_set_contents(
        bad, "{\"format\":\"castbook\",\"version\":1,\"jobs\":[{\"id\":\"a\",\"allowance\":2}]}",
        -1, NULL));
    int status = validate(ready);
    if (status == 77) {
        g_test_skip("python3-jsonschema is not installed");
    } else {
        g_assert_cmpint(status, ==, 0);
        g_assert_cmpint(validate(bad), ==, 1);
        if (g_file_test(demo, G_FILE_TEST_EXISTS))
            g_assert_cmpint(validate(demo), ==, 0);
    }
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autofree char *path = source_path("castbook.schema.json");
    g_autofree char *text = NULL;
    gsize length = 0;
    g_assert_true(g_file_get_contents(path, &text, &length, &error));
    g_autoptr(Node) read = scan_text(text, length, path, 32, &error);
    g_assert_no_error(error);
    schema = read;
    g_test_add_func("/book/schema/fields", test_fields);
    g_test_add_func("/book/schema/no-more", test_no_more);
    g_test_add_func("/book/schema/version", test_version);
    g_test_add_func("/book/schema/validator", test_validator);
    return g_test_run();
}
