// SPDX-License-Identifier: GPL-3.0-or-later
// Walks the stage table in its fixed order. A stage's key is the digest of its name, of the inputs
// it declares, and of the results it reads; a result with that key in the cache is used again.
#include "plan/walk.h"

#include "base/digest.h"
#include "base/error.h"
#include "learn/learn.h"
#include "plan/guest.h"
#include "plan/plan-private.h"

typedef struct {
    const Book *book;
    const char *job_id;
    const Tables *tables;
    Cache *cache;
    const Plan *before;
    gboolean quick;
    guint skip; // bit set of StageId: not walked, and nothing after them reads them
    gboolean no_heat_flow;
    Progress *progress;
    CacheEntry *entries[STAGE_COUNT];
    gboolean stale[STAGE_COUNT], reused[STAGE_COUNT];
    PlanGuest guest; // found before stage "mould"
} Walk;

static Inputs *
resolve_inputs(const Walk *walk, const Stage *stage)
{
    const CacheEntry *learnt = walk->entries[STAGE_LEARN];
    const LearnResult *result = learnt ? learnt->result : NULL;
    return inputs_resolve(walk->book, walk->job_id, walk->tables, result ? result->learned : NULL,
                          stage->reads);
}

static char *
make_key(const Walk *walk, const Stage *stage, const Inputs *inputs)
{
    g_autoptr(Digest) digest = digest_new();
    digest_add_string(digest, stage->name);
    digest_add_string(digest, walk->job_id);
    digest_add_string(digest, inputs_digest(inputs));
    if (stage->id == STAGE_MOULD)
        digest_add_string(digest, walk->guest.digest);
    for (int i = 0; i < STAGE_COUNT; i++)
        if (stage->after & (1u << i))
            digest_add_string(digest, walk->entries[i]->digest);
    return digest_end(digest);
}

// What a person has to put right when `stage` cannot run: what its upstream lacks.
static const char *
find_cause(const Walk *walk, const Stage *stage)
{
    for (int i = 0; i < STAGE_COUNT; i++) {
        if (!(stage->needs & (1u << i)) || walk->entries[i]->result)
            continue;
        const FigureList *list = walk->entries[i]->figures;
        for (guint j = 0; j < figure_list_size(list); j++) {
            const Figure *figure = figure_list_at(list, j);
            if (!figure->given && figure->state == FIGURE_UNKNOWN)
                return figure->missing;
        }
    }
    return stage->id == STAGE_PART ? "job.mesh" : "part.closed";
}

// Adds, as unknown, the figures the stage owes and has not made.
static void
complete_figures(const Walk *walk, const Stage *stage, CacheEntry *entry)
{
    const char *cause = find_cause(walk, stage);
    for (guint i = 0; i < stage_figure_count(); i++) {
        const StageFigure *owed = stage_figure_at(i);
        if (owed->stage != stage->id || figure_list_find(entry->figures, owed->spec.id))
            continue;
        Figure *figure = figure_add_unknown(entry->figures, &owed->spec, cause);
        if (entry->error)
            figure_set_note(figure, "%s", entry->error);
    }
}

static gboolean
has_needs(const Walk *walk, const Stage *stage)
{
    for (int i = 0; i < STAGE_COUNT; i++)
        if ((stage->needs & (1u << i)) && !walk->entries[i]->result)
            return FALSE;
    return TRUE;
}

// Message of the first field the stage reads that could not be read: it names an entry the shop
// does not have. Without it one would only learn that the length of some flask is missing. NULL:
// none.
static const char *
find_unread(const Stage *stage, const Inputs *inputs)
{
    for (const char *const *path = stage->reads; *path; path++) {
        if (!field_find(*path))
            continue;
        const char *message = inputs_error(inputs, *path);
        if (message)
            return message;
    }
    return NULL;
}

// Runs one stage. NULL only when stopped; any other trouble is kept in the entry.
static CacheEntry *
run_stage_now(Walk *walk, const Stage *stage, const Inputs *inputs, const char *key, GError **error)
{
    gint64 start = g_get_monotonic_time();
    g_autoptr(CacheEntry) entry = cache_entry_new();
    entry->figures = figure_list_new();
    StageCall call = {.job_id = walk->job_id,
                      .inputs = inputs,
                      .figures = entry->figures,
                      .progress = walk->progress};
    call.no_heat_flow = walk->no_heat_flow && stage->id == STAGE_FREEZE;
    if (stage->id == STAGE_MOULD) {
        call.guest = walk->guest.guest;
        call.trouble = walk->guest.trouble;
    }
    for (int i = 0; i < STAGE_COUNT; i++)
        if (stage->after & (1u << i)) {
            call.results[i] = walk->entries[i]->result;
            figure_list_see(entry->figures, walk->entries[i]->figures);
        }
    if (has_needs(walk, stage)) {
        g_autoptr(GError) trouble = NULL;
        entry->result = stage->run(&call, &trouble);
        entry->ref = stage->ref;
        entry->unref = stage->unref;
        if (g_error_matches(trouble, BASE_ERROR, BASE_ERROR_CANCELLED)) {
            g_propagate_error(error, g_steal_pointer(&trouble));
            return NULL;
        }
        if (trouble)
            entry->error = g_strdup(trouble->message);
    }
    if (!entry->error)
        entry->error = g_strdup(find_unread(stage, inputs));
    complete_figures(walk, stage, entry);
    gboolean own = stage->digest && entry->result;
    entry->digest = g_strdup(own ? stage->digest(entry->result) : key);
    entry->seconds = (g_get_monotonic_time() - start) / 1e6;
    return g_steal_pointer(&entry);
}

// A slow stage during a gesture, or one behind it, keeps what the plan before had.
static gboolean
stays_stale(const Walk *walk, const Stage *stage)
{
    for (int i = 0; i < STAGE_COUNT; i++)
        if ((stage->after & (1u << i)) && walk->stale[i])
            return TRUE;
    return stage->slow && walk->quick;
}

static gboolean
find_guest(Walk *walk, GError **error)
{
    const CacheEntry *learn = walk->entries[STAGE_LEARN];
    plan_guest_clear(&walk->guest);
    return plan_guest_find(walk->book, walk->job_id, walk->tables, walk->cache, learn->result,
                           walk->progress, &walk->guest, error);
}

static gboolean
do_stage(Walk *walk, const Stage *stage, GError **error)
{
    const CacheEntry *old = walk->before ? walk->before->entries[stage->id] : NULL;
    if (old && stays_stale(walk, stage) && !stage->slow) {
        walk->entries[stage->id] = cache_entry_ref(old);
        walk->stale[stage->id] = TRUE;
        return TRUE;
    }
    if (stage->id == STAGE_MOULD && !find_guest(walk, error))
        return FALSE;
    g_autoptr(Inputs) inputs = resolve_inputs(walk, stage);
    g_autofree char *key = make_key(walk, stage, inputs);
    CacheEntry *entry = walk->cache ? cache_find(walk->cache, key) : NULL;
    if (!entry && walk->no_heat_flow && stage->id == STAGE_FREEZE) {
        g_autofree char *whole = g_steal_pointer(&key);
        key = g_strconcat("rules ", whole, NULL);
        entry = walk->cache ? cache_find(walk->cache, key) : NULL;
    }
    walk->reused[stage->id] = entry != NULL;
    if (!entry && old && stays_stale(walk, stage)) {
        entry = cache_entry_ref(old);
        walk->stale[stage->id] = TRUE;
    } else if (!entry) {
        entry = run_stage_now(walk, stage, inputs, key, error);
        if (!entry)
            return FALSE;
        if (walk->cache)
            cache_keep(walk->cache, key, entry);
    }
    walk->entries[stage->id] = entry;
    return TRUE;
}

// The plan as far as `done` stages have come; the rest is lent by the plan before.
static Plan *
make_plan(const Walk *walk, int done)
{
    Plan *plan = plan_new(walk->book, walk->job_id, walk->tables);
    for (int i = 0; i < STAGE_COUNT; i++) {
        const CacheEntry *entry = walk->entries[i];
        if (i >= done)
            entry = walk->before ? walk->before->entries[i] : NULL;
        plan->entries[i] = entry ? cache_entry_ref(entry) : NULL;
        plan->stale[i] = i >= done || walk->stale[i];
        plan->reused[i] = i < done && walk->reused[i];
    }
    plan_seal(plan, walk->tables);
    return plan;
}

// The plan of the first `all` stages; what the walk holds is given back.
static Plan *
go_through(Walk *walk, int all, WalkPost post, gpointer data, GError **error)
{
    Plan *plan = NULL;
    int done = 0;
    if (!walk->job_id || !book_has_job(walk->book, walk->job_id)) {
        base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, "name one of its jobs",
                        "the book has no job called %s", walk->job_id ? walk->job_id : "(none)");
        return NULL;
    }
    for (; done < all; done++) {
        if (walk->skip & (1u << done))
            continue;
        progress_set_words(walk->progress, stage_at(done)->label);
        progress_set_fraction(walk->progress, (double)done / all);
        if (!progress_check(walk->progress, error) || !do_stage(walk, stage_at(done), error))
            break;
        if (post && done + 1 < all && !walk->reused[done])
            post(make_plan(walk, done + 1), FALSE, data);
    }
    if (done == all) {
        plan = make_plan(walk, done);
        if (post)
            post(plan_ref(plan), TRUE, data);
    }
    for (int i = 0; i < STAGE_COUNT; i++)
        cache_entry_unref(walk->entries[i]);
    plan_guest_clear(&walk->guest);
    return plan;
}

Plan *
walk_stages(const Book *book, const char *job_id, const Tables *tables, Cache *cache, guint stages,
            const Plan *before, gboolean quick, Progress *progress, WalkPost post, gpointer data,
            GError **error)
{
    Walk walk = {.book = book,
                 .job_id = job_id,
                 .tables = tables,
                 .cache = cache,
                 .before = before,
                 .quick = quick,
                 .progress = progress};
    return go_through(&walk, (int)MIN(stages, STAGE_COUNT), post, data, error);
}

Plan *
walk_for_days(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
              gboolean boards, Progress *progress, GError **error)
{
    Walk walk = {.book = book,
                 .job_id = job_id,
                 .tables = tables,
                 .cache = cache,
                 .skip = 1u << STAGE_STOCK | 1u << STAGE_COST | (boards ? 0 : 1u << STAGE_BOARD),
                 .no_heat_flow = TRUE,
                 .progress = progress};
    return go_through(&walk, STAGE_COUNT, NULL, NULL, error);
}

gboolean
walk_until(const Book *book, const char *job_id, const Tables *tables, Cache *cache, guint stages,
           Progress *progress, CacheEntry **entries, GError **error)
{
    Walk walk = {
        .book = book, .job_id = job_id, .tables = tables, .cache = cache, .progress = progress};
    gboolean good = TRUE;
    for (guint i = 0; good && i < MIN(stages, STAGE_COUNT); i++)
        good = progress_check(progress, error) && do_stage(&walk, stage_at(i), error);
    for (int i = 0; i < STAGE_COUNT; i++)
        entries[i] = walk.entries[i];
    plan_guest_clear(&walk.guest);
    return good;
}
