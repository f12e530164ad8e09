// SPDX-License-Identifier: GPL-3.0-or-later
// 3MF: a zip package. The relationships name the root model; every model part in the package is
// read as a stream, so that what a file unpacks to never stands in memory whole.
#include <archive.h>
#include <archive_entry.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "solid/scan.h"
#include "solid/threemf.h"

#define MAX_ENTRIES 10000
#define MAX_BYTES (2ull << 30)       // unpacked, of all parts we read
#define MAX_RELATIONSHIPS (1u << 20) // bytes
#define MAX_RATIO 200                // unpacked to packed, beyond the first FREE_BYTES
#define FREE_BYTES (16u << 20)
#define MODEL_TYPE "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"

typedef struct {
    const SolidReadJob *job;
    struct archive *archive;
    guint entries;
    guint64 unpacked;
} Package;

gboolean
solid_3mf_fail(const SolidReadJob *job, const char *part, BaseError code, const char *remedy,
               GError **error, const char *what)
{
    g_autofree char *place = part ? solid_text_printable(part) : NULL;
    return base_error_set(error, code, job->name, place, what, remedy);
}

static gboolean
open_package(Package *package, const SolidReadJob *job, GError **error)
{
    *package = (Package){.job = job, .archive = archive_read_new()};
    archive_read_support_format_zip(package->archive);
    if (archive_read_open_memory(package->archive, job->data, job->length) == ARCHIVE_OK)
        return TRUE;
    archive_read_free(package->archive);
    return solid_3mf_fail(job, NULL, BASE_ERROR_FORMAT, _("export it again"), error,
                          _("cannot be opened as a zip package"));
}

static void
close_package(Package *package)
{
    archive_read_free(package->archive);
}

// The next entry's name without leading slashes, NULL at the end (no error) or on failure (error).
static char *
next_entry(Package *package, GError **error)
{
    struct archive_entry *entry;
    if (!progress_check(package->job->progress, error))
        return NULL;
    int state = archive_read_next_header(package->archive, &entry);
    if (state == ARCHIVE_EOF)
        return NULL;
    if (state != ARCHIVE_OK && state != ARCHIVE_WARN) {
        solid_3mf_fail(package->job, NULL, BASE_ERROR_FORMAT, _("export it again"), error,
                       _("the zip package is damaged"));
        return NULL;
    }
    if (++package->entries > MAX_ENTRIES) {
        solid_3mf_fail(package->job, NULL, BASE_ERROR_LIMIT, _("export the part alone"), error,
                       _("the package holds more than 10000 entries"));
        return NULL;
    }
    // A name the locale cannot write is none of ours: those we look for are plain.
    const char *name = archive_entry_pathname_utf8(entry);
    if (!name)
        name = archive_entry_pathname(entry);
    while (name && *name == '/')
        name++;
    return g_strdup(name ? name : "");
}

// Bytes of the current entry; 0 at its end, -1 with an error.
static gssize
read_piece(Package *package, const char *part, char *buffer, gsize size, GError **error)
{
    if (!progress_check(package->job->progress, error))
        return -1;
    la_ssize_t n = archive_read_data(package->archive, buffer, size);
    if (n < 0) {
        solid_3mf_fail(package->job, part, BASE_ERROR_FORMAT, _("export it again"), error,
                       _("the entry is damaged or encrypted"));
        return -1;
    }
    package->unpacked += (guint64)n;
    guint64 allowed = FREE_BYTES + (guint64)package->job->length * MAX_RATIO;
    if (package->unpacked > MIN(allowed, MAX_BYTES)) {
        solid_3mf_fail(package->job, part, BASE_ERROR_LIMIT, _("export the part alone"), error,
                       _("the package unpacks to far more than a model needs"));
        return -1;
    }
    return n;
}

static void
on_relationship_started_cb(GMarkupParseContext *context, const char *element, const char **names,
                           const char **values, gpointer data, GError **error)
{
    char **target = data;
    const char *type = NULL, *to = NULL;
    for (int i = 0; names[i]; i++) {
        if (!strcmp(names[i], "Type"))
            type = values[i];
        if (!strcmp(names[i], "Target"))
            to = values[i];
    }
    const GSList *stack = g_markup_parse_context_get_element_stack(context);
    if (stack->next && stack->next->next)
        g_set_error_literal(error, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT, "nested");
    else if (!*target && type && to && !strcmp(type, MODEL_TYPE))
        *target = g_strdup(*to == '/' ? to + 1 : to);
}

static char *
parse_relationships(Package *package, const char *part, GError **error)
{
    static const GMarkupParser parser = {.start_element = on_relationship_started_cb};
    g_autofree char *buffer = g_malloc(MAX_RELATIONSHIPS);
    gsize length = 0;
    gssize n;
    while ((n = read_piece(package, part, buffer + length, MAX_RELATIONSHIPS - length, error)) > 0)
        length += (gsize)n;
    if (n < 0)
        return NULL;
    gsize skip = length >= 3 && memcmp(buffer, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    char *target = NULL;
    GMarkupParseContext *context = g_markup_parse_context_new(&parser, 0, &target, NULL);
    gboolean ok = length < MAX_RELATIONSHIPS &&
                  g_markup_parse_context_parse(context, buffer + skip, (gssize)(length - skip),
                                               NULL) &&
                  g_markup_parse_context_end_parse(context, NULL);
    g_markup_parse_context_free(context);
    if (ok && target)
        return target;
    g_free(target);
    solid_3mf_fail(package->job, part, BASE_ERROR_FORMAT, _("export it again"), error,
                   ok ? _("the package names no model") : _("the relationships cannot be read"));
    return NULL;
}

// The name of the root model's entry.
static char *
find_root(const SolidReadJob *job, GError **error)
{
    Package package;
    char *root = NULL;
    GError *failure = NULL;
    if (!open_package(&package, job, error))
        return NULL;
    for (char *name; !root && !failure && (name = next_entry(&package, &failure)); g_free(name))
        if (!g_ascii_strcasecmp(name, "_rels/.rels"))
            root = parse_relationships(&package, name, &failure);
    if (!root && !failure)
        solid_3mf_fail(job, "_rels/.rels", BASE_ERROR_FORMAT, _("choose a 3MF file"), &failure,
                       _("the zip package is not a 3MF: it has no relationships"));
    close_package(&package);
    if (failure)
        g_propagate_error(error, failure);
    return root;
}

static gboolean
read_part(Package *package, ThreeMfModel *model, const char *part, gboolean root, GError **error)
{
    g_autoptr(ThreeMfParser) parser = solid_3mf_parser_new(package->job, model, part, root);
    char buffer[32768];
    gssize n;
    while ((n = read_piece(package, part, buffer, sizeof buffer, error)) > 0)
        if (!solid_3mf_parser_feed(parser, buffer, (gsize)n, error))
            return FALSE;
    return n == 0 && solid_3mf_parser_end(parser, error);
}

static gboolean
is_model(const char *name)
{
    gsize length = strlen(name);
    return length >= 6 && !g_ascii_strcasecmp(name + length - 6, ".model");
}

static gboolean
read_parts(const SolidReadJob *job, ThreeMfModel *model, const char *root, GError **error)
{
    Package package;
    GError *failure = NULL;
    gboolean found = FALSE;
    if (!open_package(&package, job, error))
        return FALSE;
    for (char *name; !failure && (name = next_entry(&package, &failure)); g_free(name)) {
        gboolean is_root = !g_ascii_strcasecmp(name, root);
        if (is_root && found)
            solid_3mf_fail(job, name, BASE_ERROR_FORMAT, _("export it again"), &failure,
                           _("the model stands twice in the package"));
        else if (is_root || is_model(name))
            read_part(&package, model, name, is_root, &failure);
        found |= is_root;
    }
    if (!failure && !found)
        solid_3mf_fail(job, root, BASE_ERROR_FORMAT, _("export it again"), &failure,
                       _("the model the package names is missing"));
    close_package(&package);
    if (!failure)
        return TRUE;
    g_propagate_error(error, failure);
    return FALSE;
}

SolidMesh *
solid_read_3mf(const SolidReadJob *job, GError **error)
{
    g_autofree char *root = find_root(job, error);
    if (!root)
        return NULL;
    g_autoptr(ThreeMfModel) model = solid_3mf_model_new();
    if (!read_parts(job, model, root, error))
        return NULL;
    return solid_3mf_assemble(job, model, error);
}
