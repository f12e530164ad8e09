// SPDX-License-Identifier: GPL-3.0-or-later
// Checks a whole book as it is read. Members the program does not know are passed over.
#include "book/check.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "book/book.h"
#include "book/check-log.h"
#include "book/field.h"
#include "book/store.h"

typedef struct {
    const char *name;
    const Tables *tables;
    UnitSet units;
    GError **error;
} Checker;

static gboolean
fail(Checker *checker, const char *place, const char *what, const char *remedy)
{
    return base_error_set(checker->error, BASE_ERROR_FORMAT, checker->name, place, what, remedy);
}

// TRUE if the node may stand where `kind` is wanted; absent is always right.
static gboolean
check_kind(Checker *checker, const Node *node, NodeKind kind, const char *place)
{
    if (!node || node_kind(node) == kind)
        return TRUE;
    return fail(checker, place, kind == NODE_LIST ? _("is not a list") : _("is not an object"),
                kind == NODE_LIST ? _("write it as [ ... ]") : _("write it as { ... }"));
}

static gboolean
check_field(Checker *checker, const Field *field, const Node *node, const char *place)
{
    g_autofree char *text = NULL;
    g_autoptr(GError) inner = NULL;
    if (!field_node_text(field, node, &text, &inner) ||
        (text && !field_check(field, text, &checker->units, checker->tables, NULL, &inner)))
        return base_error_set(checker->error, inner->code, checker->name, place, inner->message,
                              NULL);
    return TRUE;
}

static gboolean
check_fields(Checker *checker, const Node *object, const char *section, const char *place)
{
    gsize n = strlen(section);
    if (!check_kind(checker, object, NODE_OBJECT, place))
        return FALSE;
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        if (strncmp(field->path, section, n) != 0 || field->path[n] != '.')
            continue;
        const char *member = field_member(field->path);
        const Node *node = node_member(object, member);
        g_autofree char *whole = node ? g_strdup_printf("%s.%s", place, member) : NULL;
        if (node && !check_field(checker, field, node, whole))
            return FALSE;
    }
    return TRUE;
}

// An id is needed, once in its list.
static gboolean
check_ids(Checker *checker, const Node *list, const char *place)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < node_size(list); i++) {
        g_autofree char *where = g_strdup_printf("%s[%u]", place, i);
        const char *id = node_text(node_member(node_at(list, i), "id"));
        if (!id || !*id)
            return fail(checker, where, _("has no \"id\""), _("give it a short name of its own"));
        if (!g_hash_table_add(seen, (gpointer)id))
            return base_error_setf(checker->error, BASE_ERROR_FORMAT, checker->name, where,
                                   _("give each its own"), _("the id \"%s\" is there twice"), id);
    }
    return TRUE;
}

// All entries of a list, or the one at `only` when it is not G_MAXUINT; ids of all.
static gboolean
check_entries(Checker *checker, const Node *list, const char *section, const char *place,
              guint only)
{
    if (!check_kind(checker, list, NODE_LIST, place))
        return FALSE;
    for (guint i = 0; i < node_size(list); i++) {
        g_autofree char *where = g_strdup_printf("%s[%u]", place, i);
        gboolean wanted = only == G_MAXUINT || only == i;
        if (wanted && !check_fields(checker, node_at(list, i), section, where))
            return FALSE;
    }
    return check_ids(checker, list, place);
}

static gboolean
check_shop(Checker *checker, const Node *shop)
{
    static const char *const objects[] = {"sand", "people", "rates", "machine", "printer"};
    static const char *const lists[][2] = {
        {"furnaces", "furnace"}, {"crucibles", "crucible"}, {"flasks", "flask"}};
    if (!check_fields(checker, shop, "shop", "shop"))
        return FALSE;
    for (guint i = 0; i < G_N_ELEMENTS(objects); i++) {
        g_autofree char *place = g_strdup_printf("shop.%s", objects[i]);
        const Node *object = node_member(shop, objects[i]);
        if (object && !check_fields(checker, object, objects[i], place))
            return FALSE;
    }
    for (guint i = 0; i < G_N_ELEMENTS(lists); i++) {
        g_autofree char *place = g_strdup_printf("shop.%s", lists[i][0]);
        const Node *list = node_member(shop, lists[i][0]);
        if (!check_entries(checker, list, lists[i][1], place, G_MAXUINT))
            return FALSE;
    }
    return TRUE;
}

static gboolean
check_jobs(Checker *checker, const Node *jobs, guint only)
{
    if (node_kind(jobs) == NODE_LIST && node_size(jobs) > STORE_MAX_JOBS)
        return base_error_setf(
            checker->error, BASE_ERROR_LIMIT, checker->name, "jobs", _("split the book"),
            _("holds %u jobs, more than the %d that are read"), node_size(jobs), STORE_MAX_JOBS);
    return check_entries(checker, jobs, "job", "jobs", only);
}

static void
take_units(Checker *checker, const Node *root)
{
    g_autoptr(Book) book = book_new(root, NULL);
    checker->units = book_units(book);
}

gboolean
check_book(const Node *root, const char *name, const Tables *tables, GError **error)
{
    if (!version_check(root, name, error))
        return FALSE;
    Checker checker = {name, tables, unit_set_default(), error};
    const Node *shop = node_member(root, "shop");
    if (!check_kind(&checker, shop, NODE_OBJECT, "shop"))
        return FALSE;
    take_units(&checker, root);
    return (!shop || check_shop(&checker, shop)) &&
           check_jobs(&checker, node_member(root, "jobs"), G_MAXUINT) &&
           check_log(node_member(root, "log"), name, &checker.units, error);
}

gboolean
check_change(const Node *root, const char *place, GError **error)
{
    g_auto(GStrv) words = g_strsplit(place, "/", 4);
    const char *part = words[0] && words[1] ? words[1] : "";
    Checker checker = {NULL, NULL, unit_set_default(), error};
    guint64 index = G_MAXUINT;
    take_units(&checker, root);
    if (strcmp(part, "log") == 0)
        return check_log(node_member(root, "log"), NULL, &checker.units, error);
    if (strcmp(part, "shop") == 0) {
        const Node *shop = node_member(root, "shop");
        return !shop || check_shop(&checker, shop);
    }
    if (strcmp(part, "jobs") == 0) {
        if (words[2])
            g_ascii_string_to_unsigned(words[2], 10, 0, G_MAXUINT, &index, NULL);
        return check_jobs(&checker, node_member(root, "jobs"), (guint)index);
    }
    return check_book(root, NULL, NULL, error);
}
