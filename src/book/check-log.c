// SPDX-License-Identifier: GPL-3.0-or-later
// Checks the log: sessions hold loads, loads hold flasks, flasks hold castings. Every member may be
// missing, since a person notes what there was time for; what is there must be readable.
#include "book/check-log.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "base/error.h"
#include "book/log-members.h"

typedef struct {
    const char *name;
    const UnitSet *units;
    GError **error;
} Checker;

static const LogMember members[] = {
    {LOG_SESSION, "warmup", QUANTITY_TIME},
    {LOG_LOAD, "charge", QUANTITY_MASS},
    {LOG_LOAD, "melt_time", QUANTITY_TIME},
    {LOG_LOAD, "energy", QUANTITY_ENERGY},
    {LOG_FLASK, "ram_time", QUANTITY_TIME},
    {LOG_FLASK, "pour_temperature", QUANTITY_TEMPERATURE},
    {LOG_FLASK, "poured_mass", QUANTITY_MASS},
    {LOG_CASTING, "mass", QUANTITY_MASS},
};

static const LogCause causes[] = {
    {"misrun", N_("Misrun")},     {"shrinkage", N_("Shrinkage")},
    {"gas", N_("Gas")},           {"sand", N_("Sand inclusion")},
    {"mismatch", N_("Mismatch")}, {"short-pour", N_("Short pour")},
    {"drop", N_("Drop")},         {"other", N_("Other")},
};

// Members that are plain text, by level.
static const struct {
    LogLevel level;
    const char *name;
} texts[] = {
    {LOG_SESSION, "date"},    {LOG_SESSION, "started"},  {LOG_SESSION, "ended"},
    {LOG_SESSION, "furnace"}, {LOG_SESSION, "crucible"}, {LOG_SESSION, "notes"},
    {LOG_LOAD, "metal"},      {LOG_LOAD, "furnace"},     {LOG_LOAD, "crucible"},
    {LOG_FLASK, "flask"},     {LOG_FLASK, "job"},        {LOG_CASTING, "why"},
    {LOG_CASTING, "cause"},   {LOG_CASTING, "job"},      {LOG_SESSION, "day"},
};

static const char *const lists[] = {"loads", "flasks", "castings", NULL};

guint
log_member_count(void)
{
    return G_N_ELEMENTS(members);
}

const LogMember *
log_member_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(members), NULL);
    return &members[index];
}

guint
log_cause_count(void)
{
    return G_N_ELEMENTS(causes);
}

const LogCause *
log_cause_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(causes), NULL);
    return &causes[index];
}

const LogCause *
log_cause_find(const char *id)
{
    for (guint i = 0; id && i < G_N_ELEMENTS(causes); i++)
        if (strcmp(causes[i].id, id) == 0)
            return &causes[i];
    return NULL;
}

static gboolean
fail(Checker *checker, const char *place, const char *member, const char *what, const char *remedy)
{
    g_autofree char *whole = member ? g_strdup_printf("%s.%s", place, member) : g_strdup(place);
    return base_error_set(checker->error, BASE_ERROR_FORMAT, checker->name, whole, what, remedy);
}

static gboolean
check_quantity(Checker *checker, const Node *node, const LogMember *member, const char *place)
{
    double value = 0;
    g_autoptr(GError) inner = NULL;
    if (node_kind(node) == NODE_NULL)
        return TRUE;
    if (!node_text(node))
        return fail(checker, place, member->name, _("is not a text"),
                    _("write it as text with its unit, such as \"48 min\""));
    if (!quantity_parse(member->kind, node_text(node), checker->units, &value, &inner))
        return fail(checker, place, member->name, inner->message, NULL);
    if (!(value >= 0))
        return fail(checker, place, member->name, _("is below nothing"), _("give 0 or more"));
    return TRUE;
}

// Whether `text` has the shape of `pattern`, where '0' stands for any digit.
static gboolean
has_shape(const char *text, const char *pattern)
{
    for (; *pattern; text++, pattern++)
        if (*pattern == '0' ? !g_ascii_isdigit(*text) : *text != *pattern)
            return FALSE;
    return *text == '\0';
}

static gboolean
is_date(const char *text)
{
    if (!has_shape(text, "0000-00-00"))
        return FALSE;
    int year = atoi(text), month = atoi(text + 5), day = atoi(text + 8);
    return year > 0 && month > 0 && day > 0 &&
           g_date_valid_dmy((GDateDay)day, (GDateMonth)month, (GDateYear)year);
}

static gboolean
is_clock(const char *text)
{
    return has_shape(text, "00:00") && atoi(text) < 24 && atoi(text + 3) < 60;
}

static char *
list_causes(void)
{
    g_autoptr(GString) words = g_string_new(_("use "));
    for (guint i = 0; i < G_N_ELEMENTS(causes); i++)
        g_string_append_printf(words, "%s%s", i ? ", " : "", causes[i].id);
    return g_strdup(words->str);
}

static gboolean
check_text(Checker *checker, const Node *node, const char *member, const char *place)
{
    const char *text = node_text(node);
    if (node_kind(node) == NODE_NULL)
        return TRUE;
    if (!text)
        return fail(checker, place, member, _("is not a text"), _("write it in double quotes"));
    if (strcmp(member, "date") == 0 && !is_date(text))
        return fail(checker, place, member, _("is not a date"), _("write it like 2026-05-09"));
    if (strcmp(member, "cause") == 0 && *text && !log_cause_find(text)) {
        g_autofree char *known = list_causes();
        return fail(checker, place, member, _("is none of the causes"), known);
    }
    if ((strcmp(member, "started") == 0 || strcmp(member, "ended") == 0) && !is_clock(text))
        return fail(checker, place, member, _("is not a time of day"), _("write it like 08:05"));
    return TRUE;
}

static gboolean
check_members(Checker *checker, const Node *node, LogLevel level, const char *place)
{
    for (guint i = 0; i < G_N_ELEMENTS(members); i++)
        if (members[i].level == level &&
            !check_quantity(checker, node_member(node, members[i].name), &members[i], place))
            return FALSE;
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++)
        if (texts[i].level == level &&
            !check_text(checker, node_member(node, texts[i].name), texts[i].name, place))
            return FALSE;
    const Node *good = level == LOG_CASTING ? node_member(node, "good") : NULL;
    if (good && node_kind(good) != NODE_BOOL)
        return fail(checker, place, "good", _("is neither true nor false"),
                    _("write true or false"));
    return TRUE;
}

// A list of entries of one level, and the lists inside them. Four levels deep, no more.
static gboolean
check_list(Checker *checker, const Node *list, LogLevel level, const char *place)
{
    if (list && node_kind(list) != NODE_LIST)
        return fail(checker, place, NULL, _("is not a list"), _("write it as [ ... ]"));
    for (guint i = 0; i < node_size(list); i++) {
        g_autofree char *where = g_strdup_printf("%s[%u]", place, i);
        const Node *entry = node_at(list, i);
        if (node_kind(entry) != NODE_OBJECT)
            return fail(checker, where, NULL, _("is not an object"), _("write it as { ... }"));
        if (!check_members(checker, entry, level, where))
            return FALSE;
        if (!lists[level])
            continue;
        g_autofree char *inside = g_strdup_printf("%s.%s", where, lists[level]);
        if (!check_list(checker, node_member(entry, lists[level]), level + 1, inside))
            return FALSE;
    }
    return TRUE;
}

gboolean
check_log(const Node *log, const char *name, const UnitSet *units, GError **error)
{
    Checker checker = {name, units, error};
    if (!log)
        return TRUE;
    if (node_kind(log) != NODE_OBJECT)
        return fail(&checker, "log", NULL, _("is not an object"), _("write it as { ... }"));
    return check_list(&checker, node_member(log, "sessions"), LOG_SESSION, "log.sessions");
}
