// SPDX-License-Identifier: GPL-3.0-or-later
// The table of topics. Open are those every job needs; the rest has defaults that seldom change.
#include "book/field-group.h"

#include <glib/gi18n-lib.h>

static const FieldGroup groups[] = {
    // Pattern
    {"casting", N_("Rough casting"), TRUE},
    {"corners", N_("Holes, corners and walls"), FALSE},
    {"stub", N_("Fixture stub"), FALSE},
    {"boards", N_("Pattern boards"), FALSE},
    {"printer", N_("Printer"), FALSE},
    // Mould
    {"cavities", N_("Cavities"), TRUE},
    {"flask", N_("Flask"), FALSE},
    {"sand", N_("Sand and cover"), FALSE},
    {"gating", N_("Gating"), FALSE},
    {"risers", N_("Risers"), FALSE},
    {"chills", N_("Chills"), FALSE},
    {"lift", N_("Lift and weight"), FALSE},
    {"tabs", N_("Index tabs"), FALSE},
    {"by-hand", N_("Placed by hand"), FALSE},
    // Melt
    {"melt", N_("Temperature and flux"), TRUE},
    {"charge", N_("Charge"), TRUE},
    {"furnace", N_("Furnace"), FALSE},
    {"crucible", N_("Crucible"), FALSE},
    {"crucible-life", N_("Life of the crucible"), FALSE},
    // Pour
    {"batch", N_("Batch"), TRUE},
    {"session", N_("Session"), TRUE},
    {"days", N_("Free days"), FALSE},
    {"places", N_("Room and sand"), FALSE},
    {"work", N_("Time each piece of work takes"), FALSE},
};

guint
field_group_count(void)
{
    return G_N_ELEMENTS(groups);
}

const FieldGroup *
field_group_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(groups), NULL);
    return &groups[index];
}

gboolean
field_is_called(const Field *field, const char *words)
{
    g_return_val_if_fail(field != NULL && words != NULL, FALSE);
    const char *topic = "";
    for (guint i = 0; i < G_N_ELEMENTS(groups); i++)
        if (g_strcmp0(groups[i].id, field->group) == 0)
            topic = _(groups[i].label);
    g_autofree char *names = g_strdup_printf("%s %s", _(field->label), topic);
    return *words == '\0' || g_str_match_string(words, names, TRUE);
}
