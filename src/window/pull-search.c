// SPDX-License-Identifier: GPL-3.0-or-later
// The first ranking comes to the main thread by an idle call, the end as a task's does.
#include "window/pull-search.h"

#include <string.h>

#include "base/error.h"
#include "window/pull-question.h"

struct _FwPullSearch {
    GObject parent;
    Progress *progress;     // of the search under way, or NULL
    SearchResult *result;   // or NULL
    gboolean rough;         // the result is the first ranking only
    char *asked, *answered; // what the search under way, and the result, are of
    char *trouble;
};

G_DEFINE_FINAL_TYPE(FwPullSearch, fw_pull_search, G_TYPE_OBJECT)

static guint changed_signal;

typedef struct {
    SolidMesh *mesh;
    EnvelopeOptions options;
    Progress *progress;
    SearchResult *result;
} Search;

static void
free_search(gpointer data)
{
    Search *search = data;
    solid_mesh_unref(search->mesh);
    progress_unref(search->progress);
    g_free(search->result);
    g_free(search);
}

// The first ranking on its way to the main thread, and of which search it is.
typedef struct {
    FwPullSearch *self;
    Progress *progress;
    SearchResult result;
} First;

static void
free_first(gpointer data)
{
    First *first = data;
    g_object_unref(first->self);
    progress_unref(first->progress);
    g_free(first);
}

static void
keep_result(FwPullSearch *self, SearchResult *result, gboolean rough, const char *question)
{
    g_autofree char *answered = g_strdup(question); // may be the member itself
    g_free(self->result);
    self->result = result;
    self->rough = rough;
    g_free(self->answered);
    self->answered = g_steal_pointer(&answered);
    g_signal_emit(self, changed_signal, 0);
}

static gboolean
on_first_idle_cb(gpointer data)
{
    First *first = data;
    FwPullSearch *self = first->self;
    gboolean late = self->progress != first->progress || progress_stopped(first->progress);
    if (!late && (!self->result || self->rough))
        keep_result(self, g_memdup2(&first->result, sizeof first->result), TRUE, self->asked);
    return G_SOURCE_REMOVE;
}

// In the thread; the source is of the task and lives as long as it.
static void
report_first(const SearchResult *result, gpointer data)
{
    GTask *task = data;
    const Search *search = g_task_get_task_data(task);
    First *first = g_new0(First, 1);
    first->self = g_object_ref(g_task_get_source_object(task));
    first->progress = progress_ref(search->progress);
    first->result = *result;
    // As urgent as the end, so that it is told before that.
    g_idle_add_full(G_PRIORITY_DEFAULT, on_first_idle_cb, first, free_first);
}

static void
search_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Search *s = data;
    GError *error = NULL;
    SearchResult result;
    if (search_pulls(s->mesh, &s->options, &result, report_first, task, s->progress, &error)) {
        s->result = g_memdup2(&result, sizeof result);
        g_task_return_boolean(task, TRUE);
    } else {
        g_task_return_error(task, error);
    }
}

static void
on_searched_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullSearch *self = FW_PULL_SEARCH(source);
    Search *s = g_task_get_task_data(G_TASK(result));
    g_autoptr(GError) error = NULL;
    gboolean good = g_task_propagate_boolean(G_TASK(result), &error);
    gboolean stopped = progress_stopped(s->progress);
    g_clear_pointer(&self->progress, progress_unref);
    if (error && !g_error_matches(error, BASE_ERROR, BASE_ERROR_CANCELLED))
        self->trouble = g_strdup(error->message);
    if (good && !stopped)
        keep_result(self, g_steal_pointer(&s->result), FALSE, self->asked);
    else
        g_signal_emit(self, changed_signal, 0);
}

void
fw_pull_search_start(FwPullSearch *self, const Plan *plan)
{
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(plan, &options);
    if (self->progress || !question)
        return;
    g_clear_pointer(&self->trouble, g_free);
    Search *s = g_new0(Search, 1);
    s->mesh = solid_mesh_ref(plan_part(plan)->mesh);
    s->options = options;
    s->progress = progress_new();
    self->progress = progress_ref(s->progress);
    g_free(self->asked);
    self->asked = g_steal_pointer(&question);
    g_autoptr(GTask) task = g_task_new(self, NULL, on_searched_cb, NULL);
    g_task_set_task_data(task, s, free_search);
    g_task_run_in_thread(task, search_in_thread);
    g_signal_emit(self, changed_signal, 0);
}

void
fw_pull_search_stop(FwPullSearch *self)
{
    if (self->progress)
        progress_stop(self->progress);
}

gboolean
fw_pull_search_is_running(FwPullSearch *self)
{
    return self->progress != NULL;
}

double
fw_pull_search_fraction(FwPullSearch *self)
{
    return self->progress ? progress_get_fraction(self->progress) : 0;
}

void
fw_pull_search_follow(FwPullSearch *self, const Plan *plan)
{
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(plan, &options);
    if (!question)
        return; // on its way
    if (self->progress && g_strcmp0(question, self->asked) != 0)
        progress_stop(self->progress);
    if (self->result && g_strcmp0(question, self->answered) != 0)
        keep_result(self, NULL, FALSE, NULL);
}

void
fw_pull_search_take(FwPullSearch *self, const Plan *plan, const SearchResult *answers)
{
    g_return_if_fail(answers->n <= SEARCH_MOST);
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(plan, &options);
    gboolean same = self->result && !self->rough && g_strcmp0(question, self->answered) == 0 &&
                    memcmp(self->result, answers, sizeof *answers) == 0;
    if (question && !same)
        keep_result(self, g_memdup2(answers, sizeof *answers), FALSE, question);
}

const SearchResult *
fw_pull_search_result(FwPullSearch *self)
{
    return self->result;
}

gboolean
fw_pull_search_is_rough(FwPullSearch *self)
{
    return self->rough;
}

const char *
fw_pull_search_question(FwPullSearch *self)
{
    return self->answered;
}

const char *
fw_pull_search_trouble(FwPullSearch *self)
{
    return self->trouble;
}

static void
fw_pull_search_finalize(GObject *object)
{
    FwPullSearch *self = FW_PULL_SEARCH(object);
    progress_unref(self->progress);
    g_free(self->result);
    g_free(self->asked);
    g_free(self->answered);
    g_free(self->trouble);
    G_OBJECT_CLASS(fw_pull_search_parent_class)->finalize(object);
}

static void
fw_pull_search_class_init(FwPullSearchClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_pull_search_finalize;
    changed_signal = g_signal_new("changed", FW_TYPE_PULL_SEARCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
fw_pull_search_init(FwPullSearch *self)
{
}

FwPullSearch *
fw_pull_search_new(void)
{
    return g_object_new(FW_TYPE_PULL_SEARCH, NULL);
}
