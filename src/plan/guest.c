// SPDX-License-Identifier: GPL-3.0-or-later
// Which job shares the flask, and whether it can.
#include "plan/guest.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/digest.h"
#include "plan/walk.h"

static const char *const reads[] = {
    "job.shares_with",  "job.metal", "job.quantity", "job.name", "job.contraction",
    "flask.cope_depth", NULL};

void
plan_guest_clear(PlanGuest *g)
{
    mould_guest_unref(g->guest);
    g_free(g->trouble);
    g_free(g->digest);
    *g = (PlanGuest){0};
}

static const char *
metal_name(const Tables *tables, const char *id)
{
    const TableRow *row = id ? tables_find(tables, TABLE_METALS, id) : NULL;
    return row ? table_row_name(row) : id ? id : _("no metal");
}

static char *
name_of(const Inputs *inputs, const char *id)
{
    const char *name = inputs_text(inputs, "job.name");
    return g_strdup(name && *name ? name : id);
}

static double
still_wanted(const Inputs *inputs, const LearnResult *learn)
{
    double quantity = inputs_number(inputs, "job.quantity");
    return fmax(0, quantity - (learn ? learn->good : 0));
}

// Why two jobs cannot share, as far as their fields tell. NULL: they can. Free.
static char *
find_trouble(const Book *book, const Tables *tables, const char *job_id, const char *other_id,
             const Inputs *own, const Inputs *other)
{
    if (strcmp(other_id, job_id) == 0)
        return g_strdup(_("A job cannot share a flask with itself: choose another."));
    if (!book_has_job(book, other_id))
        return g_strdup_printf(_("The book has no job called %s: choose another."), other_id);
    const char *mine = inputs_text(own, "job.metal"), *its = inputs_text(other, "job.metal");
    if (g_strcmp0(mine, its) == 0)
        return NULL;
    g_autofree char *name = name_of(own, job_id), *other_name = name_of(other, other_id);
    return g_strdup_printf(_("A flask is poured with one metal: %s is of %s, %s of %s."), name,
                           metal_name(tables, mine), other_name, metal_name(tables, its));
}

static void
seal(PlanGuest *found, const char *other_id, CacheEntry *const *entries)
{
    g_autoptr(Digest) digest = digest_new();
    digest_add_string(digest, other_id);
    digest_add_string(digest, found->trouble ? found->trouble : "");
    const MouldGuest *g = found->guest;
    if (g) {
        g_autofree char *numbers = g_strdup_printf("%a %a %a %a", g->growth, g->mass, g->wanted,
                                                   g->own_wanted);
        digest_add_string(digest, numbers);
        digest_add_string(digest, g->name);
        digest_add_string(digest, entries[STAGE_PATTERN]->digest);
        digest_add_string(digest, entries[STAGE_FEED]->digest);
    }
    found->digest = digest_end(digest);
}

// From the other job's stages.
static void
take_guest(const char *other_id, const Inputs *other, CacheEntry *const *entries, double cope,
           double own_wanted, PlanGuest *found)
{
    g_autofree char *name = name_of(other, other_id);
    const PatternResult *pattern = entries[STAGE_PATTERN]->result;
    double mass = figure_list_value(entries[STAGE_PATTERN]->figures, "casting.mass");
    if (!pattern || !pattern->mesh || !(mass > 0)) {
        found->trouble = g_strdup_printf(_("The rough casting of %s is not known: look at that "
                                           "job."),
                                         name);
        return;
    }
    g_autoptr(MouldGuest) guest = mould_guest_new(
        other_id, name, pattern, entries[STAGE_FEED]->result, cope,
        inputs_number(other, "job.contraction"), mass,
        still_wanted(other, entries[STAGE_LEARN]->result), own_wanted);
    found->trouble = mould_guest_trouble(guest);
    if (!found->trouble)
        found->guest = g_steal_pointer(&guest);
}

gboolean
plan_guest_find(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
                const LearnResult *learn, Progress *progress, PlanGuest *found, GError **error)
{
    g_autoptr(Inputs)
                  own = inputs_resolve(book, job_id, tables, learn ? learn->learned : NULL, reads);
    const char *other_id = inputs_text(own, "job.shares_with");
    *found = (PlanGuest){0};
    if (!other_id || !*other_id) {
        found->digest = g_strdup("");
        return TRUE;
    }
    g_autoptr(Inputs) other = inputs_resolve(book, book_has_job(book, other_id) ? other_id : job_id,
                                             tables, NULL, reads);
    CacheEntry *entries[STAGE_COUNT] = {NULL};
    found->trouble = find_trouble(book, tables, job_id, other_id, own, other);
    if (!found->trouble) {
        if (!walk_until(book, other_id, tables, cache, STAGE_FEED + 1, progress, entries, error))
            return FALSE;
        take_guest(other_id, other, entries, inputs_number(own, "flask.cope_depth"),
                   still_wanted(own, learn), found);
    }
    seal(found, other_id, entries);
    for (int i = 0; i < STAGE_COUNT; i++)
        cache_entry_unref(entries[i]);
    return TRUE;
}
