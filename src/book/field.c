// SPDX-License-Identifier: GPL-3.0-or-later
// Looking a field up and judging what a person typed for it. Each type of field has one small
// function that says what is wrong in words fit to stand beside the entry.
#include "book/field.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "book/days.h"
#include "book/lots.h"
#include "book/pins.h"
#include "book/placement.h"

const Field *
field_find(const char *path)
{
    static gsize once = 0;
    static GHashTable *index = NULL;
    if (g_once_init_enter(&once)) {
        index = g_hash_table_new(g_str_hash, g_str_equal);
        for (guint i = 0; i < field_count(); i++)
            g_hash_table_insert(index, (gpointer)field_at(i)->path, (gpointer)field_at(i));
        g_once_init_leave(&once, 1);
    }
    g_return_val_if_fail(path != NULL, NULL);
    return g_hash_table_lookup(index, path);
}

char *
field_words(const char *path)
{
    const Field *field = field_find(path);
    g_return_val_if_fail(field != NULL, NULL);
    return g_strdup_printf(_("\"%s\" (%s)"), _(field->label), path);
}

char *
field_section(const char *path)
{
    g_return_val_if_fail(path != NULL, NULL);
    const char *dot = strchr(path, '.');
    return dot ? g_strndup(path, dot - path) : g_strdup(path);
}

const char *
field_member(const char *path)
{
    g_return_val_if_fail(path != NULL, NULL);
    const char *dot = strchr(path, '.');
    return dot ? dot + 1 : path;
}

const char *
field_section_place(const char *section, gboolean *in_list)
{
    static const struct {
        const char *section, *place;
        gboolean in_list;
    } places[] = {
        {"shop", "/shop", FALSE},
        {"sand", "/shop/sand", FALSE},
        {"people", "/shop/people", FALSE},
        {"rates", "/shop/rates", FALSE},
        {"machine", "/shop/machine", FALSE},
        {"printer", "/shop/printer", FALSE},
        {"furnace", "/shop/furnaces", TRUE},
        {"crucible", "/shop/crucibles", TRUE},
        {"flask", "/shop/flasks", TRUE},
        {"job", "/jobs", TRUE},
    };
    for (guint i = 0; i < G_N_ELEMENTS(places); i++)
        if (g_strcmp0(section, places[i].section) == 0) {
            if (in_list)
                *in_list = places[i].in_list;
            return places[i].place;
        }
    return NULL;
}

static gboolean
check_range(const Field *field, const char *text, const UnitSet *units, double value,
            GError **error)
{
    gboolean below = !isnan(field->min) && value < field->min;
    gboolean above = !isnan(field->max) && value > field->max;
    if (!isfinite(value))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, _("give a plain number"),
                               _("\"%s\" is not a number that can be used"), text);
    if (!below && !above)
        return TRUE;
    double end = below ? field->min : field->max;
    g_autofree char *limit = quantity_format(field->kind, end, units);
    g_autofree char *remedy = g_strdup_printf(below ? _("give %s or more") : _("give %s or less"),
                                              limit);
    return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, remedy,
                           below ? _("\"%s\" is below %s") : _("\"%s\" is above %s"), text, limit);
}

static gboolean
check_quantity(const Field *field, const char *text, const UnitSet *units, double *si,
               GError **error)
{
    double value = NAN;
    if (!quantity_parse(field->kind, text, units, &value, error) ||
        !check_range(field, text, units, value, error))
        return FALSE;
    *si = value;
    return TRUE;
}

static gboolean
check_choice(const Field *field, const char *text, GError **error)
{
    g_auto(GStrv) pairs = g_strsplit(field->choices, "/", -1);
    g_autoptr(GString) words = g_string_new(_("choose "));
    for (char **pair = pairs; *pair; pair++) {
        *strchrnul(*pair, '=') = '\0';
        if (strcmp(*pair, text) == 0)
            return TRUE;
        g_string_append_printf(words, "%s%s",
                               pair == pairs ? ""
                               : pair[1]     ? ", "
                                             : _(" or "),
                               *pair);
    }
    return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, words->str,
                           _("\"%s\" is not one of the choices"), text);
}

static gboolean
check_row(const Field *field, const char *text, const Tables *tables, GError **error)
{
    static const struct {
        const char *choices, *what;
        TableName table;
    } names[] = {
        {"metals", N_("metal"), TABLE_METALS},
        {"sands", N_("sand"), TABLE_SANDS},
        {"crucible_kinds", N_("crucible kind"), TABLE_CRUCIBLE_KINDS},
    };
    guint i = 0;
    while (i < G_N_ELEMENTS(names) - 1 && strcmp(names[i].choices, field->choices) != 0)
        i++;
    if (!tables || tables_find(tables, names[i].table, text))
        return TRUE;
    g_autoptr(GString) known = g_string_new(_("choose one of"));
    for (guint row = 0; row < tables_size(tables, names[i].table); row++)
        g_string_append_printf(known, "%s %s", row > 0 ? "," : "",
                               table_row_id(tables_at(tables, names[i].table, row)));
    return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, known->str,
                           _("there is no %s \"%s\""), _(names[i].what), text);
}

static gboolean
check_words(const Field *field, const char *text, GError **error)
{
    for (const char *p = text; *p; p = g_utf8_next_char(p))
        if (g_unichar_iscntrl(g_utf8_get_char(p)))
            return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL,
                                  _("the text holds a line break or control character"),
                                  _("write it on one line"));
    if (!isnan(field->max) && strlen(text) > field->max)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, _("give a shorter one"),
                               _("\"%s\" is longer than %.0f characters"), text, field->max);
    return TRUE;
}

static gboolean
check_placement(const char *text, const UnitSet *units, GError **error)
{
    g_autoptr(GArray) spots = placement_read(text, units, error);
    return spots != NULL;
}

static gboolean
check_pins(const char *text, const UnitSet *units, GError **error)
{
    g_autoptr(GArray) pins = pins_read(text, units, error);
    return pins != NULL;
}

static gboolean
check_lots(const char *text, const UnitSet *units, const Tables *tables, GError **error)
{
    g_autoptr(GArray) lots = lots_read(text, units, tables, error);
    return lots != NULL;
}

static gboolean
check_days(const char *text, GError **error)
{
    g_autoptr(GArray) rules = days_read(text, error);
    return rules != NULL;
}

// Fields whose words have a grammar of their own.
static gboolean
check_grammar(const Field *field, const char *text, const UnitSet *units, const Tables *tables,
              GError **error)
{
    guint32 day;
    int minutes;
    if (strcmp(field->path, "job.placement") == 0)
        return check_placement(text, units, error);
    if (strcmp(field->path, "job.pins") == 0)
        return check_pins(text, units, error);
    if (strcmp(field->path, "shop.stock") == 0)
        return check_lots(text, units, tables, error);
    if (strcmp(field->path, "shop.days") == 0)
        return check_days(text, error);
    if (strcmp(field->path, "shop.start") == 0 || strcmp(field->path, "shop.light_from") == 0 ||
        strcmp(field->path, "shop.light_to") == 0)
        return days_read_clock(text, &minutes, error);
    return field->kind != QUANTITY_DATE || days_read_date(text, &day, error);
}

char *
field_vector_text(const double vector[3])
{
    g_return_val_if_fail(vector != NULL, NULL);
    char text[3][G_ASCII_DTOSTR_BUF_SIZE];
    for (int i = 0; i < 3; i++)
        g_ascii_formatd(text[i], sizeof text[i], "%.7g", fabs(vector[i]) < 1e-9 ? 0 : vector[i]);
    return g_strjoin(",", text[0], text[1], text[2], NULL);
}

gboolean
field_vector(const char *text, double vector[3], GError **error)
{
    g_return_val_if_fail(text != NULL, FALSE);
    const char *remedy = _("give three numbers such as 0,0,1");
    double values[3];
    const char *at = text;
    for (int i = 0; i < 3; i++) {
        char *end = NULL;
        if (i > 0 && (*at == ',' || *at == ';'))
            at++;
        values[i] = g_ascii_strtod(at, &end);
        if (end == at || !isfinite(values[i]))
            return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, remedy,
                                   _("\"%s\" is not a direction"), text);
        for (at = end; g_ascii_isspace(*at);)
            at++;
    }
    double length = hypot(hypot(values[0], values[1]), values[2]);
    // Squares of more than this are lost.
    gboolean wild = *at || !(length < 1e100);
    if (wild || length < 1e-9)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, remedy,
                               wild ? _("\"%s\" is not a direction") : _("\"%s\" points nowhere"),
                               text);
    memcpy(vector, values, sizeof values);
    return TRUE;
}

gboolean
field_check(const Field *field, const char *typed, const UnitSet *units, const Tables *tables,
            double *si, GError **error)
{
    g_return_val_if_fail(field != NULL && typed != NULL && units != NULL, FALSE);
    double value = NAN, vector[3];
    gboolean good = TRUE;
    if (!g_utf8_validate(typed, -1, NULL))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, _("the text is not UTF-8"),
                              _("type it again"));
    g_autofree char *text = g_strstrip(g_strdup(typed));
    switch (field->type) {
    case FIELD_QUANTITY:
        good = check_quantity(field, text, units, &value, error);
        break;
    case FIELD_CHOICE:
        good = check_choice(field, text, error);
        break;
    case FIELD_ROW:
        good = check_row(field, text, tables, error);
        break;
    case FIELD_VECTOR:
        good = field_vector(text, vector, error);
        break;
    case FIELD_BOOL:
        if (strcmp(text, "yes") != 0 && strcmp(text, "no") != 0)
            good = base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, _("answer yes or no"),
                                   _("\"%s\" is not an answer"), text);
        break;
    case FIELD_ENTRY:
    case FIELD_WORDS:
    case FIELD_FILE:
        good = check_words(field, text, error) && check_grammar(field, text, units, tables, error);
        break;
    }
    if (good && si)
        *si = value;
    return good;
}

// A bare JSON number has no unit, so only fields that need none take one.
static gboolean
takes_number(const Field *field)
{
    return field->type == FIELD_QUANTITY &&
           (field->kind == QUANTITY_COUNT || field->kind == QUANTITY_NUMBER);
}

gboolean
field_node_text(const Field *field, const Node *node, char **text, GError **error)
{
    static const char *const kinds[] = {N_("null"),   N_("true or false"), N_("a number"),
                                        N_("a text"), N_("a list"),        N_("an object")};
    g_return_val_if_fail(field != NULL && text != NULL, FALSE);
    NodeKind kind = node_kind(node);
    if (kind == NODE_NULL) {
        *text = NULL;
    } else if (kind == NODE_TEXT) {
        g_autofree char *plain = g_strstrip(g_strdup(node_text(node)));
        *text = *plain ? g_steal_pointer(&plain) : NULL;
    } else if (kind == NODE_NUMBER && takes_number(field)) {
        *text = node_number_text(node);
    } else if (kind == NODE_BOOL && field->type == FIELD_BOOL) {
        *text = g_strdup(node_bool(node) ? "yes" : "no");
    } else {
        return base_error_setf(error, BASE_ERROR_FORMAT, NULL, NULL,
                               field->type == FIELD_QUANTITY && !takes_number(field)
                                   ? _("write it as text with its unit, such as \"2 mm\"")
                                   : _("write it as text in double quotes"),
                               _("holds %s"), _(kinds[kind]));
    }
    return TRUE;
}
