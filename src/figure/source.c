// SPDX-License-Identifier: GPL-3.0-or-later
// Citations by id, read once from the resource built into the program and kept for its life.
#include "figure/source.h"

#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <string.h>

// Made by the resource compiler; naming it keeps the data when the core is linked statically.
extern GResource *flaskwright_data_get_resource(void);

#define PATH "/org/flaskwright/Flaskwright/data/sources.json"

typedef struct {
    char **ids;
    GHashTable *objects; // id -> JsonObject
} Sources;

// A damaged file leaves the list empty; ids are then shown as they are. The tables, which name
// sources, refuse to load in that case, so it does not pass unseen.
static gpointer
load_sources(gpointer unused)
{
    Sources *sources = g_new0(Sources, 1);
    sources->objects = g_hash_table_new_full(g_str_hash, g_str_equal, g_free,
                                             (GDestroyNotify)json_object_unref);
    g_autoptr(GStrvBuilder) builder = g_strv_builder_new();
    g_autoptr(JsonParser) parser = json_parser_new();
    g_autoptr(GBytes) bytes = g_resource_lookup_data(flaskwright_data_get_resource(), PATH,
                                                     G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
    gsize length = 0;
    const char *text = bytes ? g_bytes_get_data(bytes, &length) : "";
    if (json_parser_load_from_data(parser, text, (gssize)length, NULL) &&
        json_parser_get_root(parser) && JSON_NODE_HOLDS_OBJECT(json_parser_get_root(parser))) {
        JsonObject *root = json_node_get_object(json_parser_get_root(parser));
        JsonNode *node = json_object_get_member(root, "sources");
        JsonObject *all = node && JSON_NODE_HOLDS_OBJECT(node) ? json_node_get_object(node) : NULL;
        g_autoptr(GList) members = all ? json_object_get_members(all) : NULL;
        for (GList *l = members; l; l = l->next) {
            JsonNode *entry = json_object_get_member(all, l->data);
            if (!JSON_NODE_HOLDS_OBJECT(entry))
                continue;
            g_hash_table_insert(sources->objects, g_strdup(l->data), json_node_dup_object(entry));
            g_strv_builder_add(builder, l->data);
        }
    }
    sources->ids = g_strv_builder_end(builder);
    return sources;
}

static const Sources *
get_sources(void)
{
    static GOnce once = G_ONCE_INIT;
    return g_once(&once, load_sources, NULL);
}

// Member of a source, or NULL. `id` need not end at its end.
static const char *
find_member(const char *id, const char *name)
{
    JsonObject *object = g_hash_table_lookup(get_sources()->objects, id);
    return object ? json_object_get_string_member_with_default(object, name, NULL) : NULL;
}

// TRUE if every part of "a+b" is an id; else the whole is words ("wall + 2 mm").
static gboolean
are_known(char **parts)
{
    for (guint i = 0; parts[i]; i++)
        if (!find_member(parts[i], "citation"))
            return FALSE;
    return parts[0] != NULL;
}

char *
source_text(const char *id)
{
    g_return_val_if_fail(id != NULL, NULL);
    g_auto(GStrv) parts = g_strsplit(id, "+", -1);
    if (!are_known(parts))
        return g_strdup(id);
    g_autoptr(GString) text = g_string_new(NULL);
    for (guint i = 0; parts[i]; i++) {
        if (i)
            g_string_append(text, "; ");
        g_string_append(text, find_member(parts[i], "citation"));
    }
    return g_string_free(g_steal_pointer(&text), FALSE);
}

const char *
source_confidence(const char *id)
{
    // From least sure to most: a joined source is as sure as its weakest part.
    static const char *const order[] = {"common practice", "from memory", "user",
                                        "measured",        "published",   "derived"};
    g_return_val_if_fail(id != NULL, NULL);
    g_auto(GStrv) parts = g_strsplit(id, "+", -1);
    if (!are_known(parts))
        return g_str_has_prefix(id, "measured") ? "measured" : "derived";
    guint least = G_N_ELEMENTS(order) - 1;
    for (guint i = 0; parts[i]; i++) {
        const char *word = find_member(parts[i], "confidence");
        for (guint k = 0; k < least; k++)
            if (g_strcmp0(word, order[k]) == 0)
                least = k;
    }
    return order[least];
}

const char *const *
source_ids(void)
{
    return (const char *const *)get_sources()->ids;
}
