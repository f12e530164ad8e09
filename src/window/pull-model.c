// SPDX-License-Identifier: GPL-3.0-or-later
// Two tasks: the picture waits only for what it shows; ways to look at areas come after it.
#include "window/pull-model.h"

#include "part/pull.h"

static void
clear_model(gpointer data)
{
    PullModel *model = data;
    plan_unref(model->plan);
    shade_model_unref(model->shade);
    area_list_unref(model->areas);
}

const PullModel *
fw_pull_model_ref(const PullModel *model)
{
    return g_atomic_rc_box_acquire((PullModel *)model);
}

void
fw_pull_model_unref(const PullModel *model)
{
    if (model)
        g_atomic_rc_box_release_full((PullModel *)model, clear_model);
}

static void
free_model(gpointer data)
{
    fw_pull_model_unref(data);
}

static void
make_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    PullModel *model = data;
    const PatternResult *pattern = plan_pattern(model->plan);
    if (!pattern) {
        model->shade = shade_model_new(plan_part(model->plan)->mesh, NULL, NAN);
        g_task_return_boolean(task, TRUE);
        return;
    }
    const FaceDraft *f = &pattern->faces;
    g_autofree guint8 *classes = shade_classes(f);
    model->areas = area_list_new(pattern->part, f);
    model->shade = shade_model_new_areas(pattern->part, classes, model->areas->of, 0);
    pull_box(pattern->part, &model->low, &model->high);
    g_task_return_boolean(task, TRUE);
}

void
fw_pull_model_make(const Plan *plan, gpointer source, GAsyncReadyCallback made, gpointer data)
{
    PullModel *model = g_atomic_rc_box_new0(PullModel);
    model->plan = plan_ref(plan);
    g_autoptr(GTask) task = g_task_new(source, NULL, made, data);
    g_task_set_task_data(task, model, free_model);
    g_task_run_in_thread(task, make_in_thread);
}

const PullModel *
fw_pull_model_made(GAsyncResult *result)
{
    return g_task_get_task_data(G_TASK(result));
}

typedef struct {
    const PullModel *model;
    Vec3 liked;
    Progress *progress;
    Vec3 looks[PULL_MODEL_AREAS];
} Looking;

static void
free_looking(gpointer data)
{
    Looking *looking = data;
    fw_pull_model_unref(looking->model);
    progress_unref(looking->progress);
    g_free(looking);
}

static void
look_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Looking *l = data;
    const AreaList *areas = l->model->areas;
    g_task_return_boolean(task, area_looks(plan_pattern(l->model->plan)->part, areas,
                                           MIN(areas->n, PULL_MODEL_AREAS), l->liked, l->looks,
                                           l->progress, NULL));
}

void
fw_pull_model_look(const PullModel *model, Vec3 liked, Progress *progress, gpointer source,
                   GAsyncReadyCallback looked)
{
    g_return_if_fail(model->areas);
    Looking *l = g_new0(Looking, 1);
    l->model = fw_pull_model_ref(model);
    l->liked = liked;
    l->progress = progress_ref(progress);
    g_autoptr(GTask) task = g_task_new(source, NULL, looked, NULL);
    g_task_set_task_data(task, l, free_looking);
    g_task_run_in_thread(task, look_in_thread);
}

const Vec3 *
fw_pull_model_looked(GAsyncResult *result, const PullModel **model)
{
    const Looking *l = g_task_get_task_data(G_TASK(result));
    *model = l->model;
    return g_task_propagate_boolean(G_TASK(result), NULL) ? l->looks : NULL;
}
