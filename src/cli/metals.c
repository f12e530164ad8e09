// SPDX-License-Identifier: GPL-3.0-or-later
// `metals`: every alloy with its data, each value with its source and how sure it is.
#include <glib/gi18n-lib.h>

#include "cli/cli.h"
#include "figure/source.h"

static const char *
confidence_word(TableConfidence confidence)
{
    switch (confidence) {
    case TABLE_PUBLISHED:
        return _("published");
    case TABLE_COMMON_PRACTICE:
        return _("common practice");
    case TABLE_FROM_MEMORY:
    default:
        return _("from memory");
    }
}

static void
print_metal(const TableRow *row, const UnitSet *units)
{
    g_print("%s  %s\n", table_row_id(row), table_row_name(row));
    for (guint i = 0; i < table_row_size(row); i++) {
        const TableValue *value = table_row_at(row, i);
        g_autofree char *number = value->text ? g_strdup(value->text)
                                              : quantity_format(value->kind, value->value, units);
        g_autofree char *source = source_text(value->source);
        g_print("  %-30s %s  [%s: %s]\n", _(value->label), number,
                confidence_word(value->confidence), source);
        if (value->note)
            g_print("  %-30s   %s\n", "", value->note);
    }
    for (const char *const *caution = table_row_cautions(row); caution && *caution; caution++)
        g_print("  ! %s\n", _(*caution));
    g_print("\n");
}

int
cli_metals(int argc, char **argv)
{
    gboolean finished;
    const GOptionEntry entries[] = {{NULL}};
    int code = cli_options("metals", entries, &argc, &argv, 0, 1000, &finished);
    if (code != CLI_DONE || finished)
        return code;
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    for (int i = 1; i < argc; i++)
        if (!tables_find(tables, TABLE_METALS, argv[i]))
            return cli_usage(_("no metal called \"%s\"; metals without a name lists all"), argv[i]);
    UnitSet units = unit_set_default();
    for (int i = 1; i < argc; i++)
        print_metal(tables_find(tables, TABLE_METALS, argv[i]), &units);
    for (guint i = 0; argc == 1 && i < tables_size(tables, TABLE_METALS); i++)
        print_metal(tables_at(tables, TABLE_METALS, i), &units);
    return CLI_DONE;
}
