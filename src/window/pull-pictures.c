// SPDX-License-Identifier: GPL-3.0-or-later
// One task at a time makes the first picture wanted; its rays need a tree of the mesh, which is
// kept while the next is of the same mesh.
#include "window/pull-pictures.h"

#include "part/face.h"
#include "part/pull.h"
#include "sketch/shade.h"
#include "window/drawing.h"

#define MOST_KEPT 120

// A mesh and its tree, shared by tasks.
typedef struct {
    SolidMesh *mesh;
    SolidBvh *bvh; // made by the first task that needs it; only one runs at a time
} Ground;

typedef struct {
    char *key;
    Ground *ground;
    Vec3 pull;
    double parting, draft;
    ThemeKind theme;
    int pixels;
    Progress *progress;
    GPtrArray *waiting; // GtkPicture
    GdkTexture *texture;
} Job;

struct _FwPullPictures {
    GObject parent;
    GHashTable *kept; // key -> GdkTexture
    GQueue wanted;    // Job; the head is being made
    Ground *ground;   // of the last job asked for
};

G_DEFINE_FINAL_TYPE(FwPullPictures, fw_pull_pictures, G_TYPE_OBJECT)

static void
clear_ground(gpointer data)
{
    Ground *ground = data;
    solid_mesh_unref(ground->mesh);
    solid_bvh_free(ground->bvh);
}

static void
unref_ground(Ground *ground)
{
    if (ground)
        g_rc_box_release_full(ground, clear_ground);
}

static void
free_job(gpointer data)
{
    Job *job = data;
    g_free(job->key);
    unref_ground(job->ground);
    progress_unref(job->progress);
    g_ptr_array_unref(job->waiting);
    g_clear_object(&job->texture);
    g_free(job);
}

// NULL when stopped.
static GdkTexture *
make_picture(Job *job)
{
    const SolidMesh *mesh = job->ground->mesh;
    if (!job->ground->bvh)
        job->ground->bvh = solid_bvh_new(mesh);
    FaceDraft f;
    if (!face_draft(mesh, job->ground->bvh, job->pull, job->parting, job->draft, &f, job->progress,
                    NULL))
        return NULL;
    g_autofree guint8 *classes = shade_classes(&f);
    face_draft_clear(&f);
    double rotation[9];
    pull_rotation(job->pull, rotation);
    g_autoptr(SolidMesh) lying = solid_mesh_transformed(mesh, rotation, vec3(0, 0, 0));
    g_autoptr(ShadeModel) model = shade_model_new(lying, classes, job->parting);
    ShadeView view = {.width = PULL_PICTURE_WIDTH,
                      .height = PULL_PICTURE_HEIGHT,
                      .pixels = job->pixels,
                      .turn = SHADE_TURN,
                      .tilt = SHADE_TILT,
                      .zoom = 1.15, // the margin is the large picture's
                      .theme = job->theme};
    cairo_surface_t *surface = shade_render(model, &view, job->progress, NULL);
    GdkTexture *texture = surface ? fw_drawing_texture(surface) : NULL;
    cairo_surface_destroy(surface);
    return texture;
}

static void
make_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Job *job = data;
    job->texture = make_picture(job);
    g_task_return_boolean(task, TRUE);
}

static void start_next(FwPullPictures *self);

static void
on_made_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullPictures *self = FW_PULL_PICTURES(source);
    Job *job = g_queue_pop_head(&self->wanted);
    if (job->texture) {
        if (g_hash_table_size(self->kept) >= MOST_KEPT)
            g_hash_table_remove_all(self->kept);
        g_hash_table_insert(self->kept, g_strdup(job->key), g_object_ref(job->texture));
        for (guint i = 0; i < job->waiting->len; i++)
            gtk_picture_set_paintable(g_ptr_array_index(job->waiting, i),
                                      GDK_PAINTABLE(job->texture));
    }
    free_job(job);
    start_next(self);
}

// The job belongs to the queue: it stays there until the task is done.
static void
start_next(FwPullPictures *self)
{
    Job *job = g_queue_peek_head(&self->wanted);
    if (!job)
        return;
    g_autoptr(GTask) task = g_task_new(self, NULL, on_made_cb, NULL);
    g_task_set_task_data(task, job, NULL);
    g_task_run_in_thread(task, make_in_thread);
}

static Job *
find_job(FwPullPictures *self, const char *key)
{
    for (GList *at = self->wanted.head; at; at = at->next)
        if (g_str_equal(((Job *)at->data)->key, key) &&
            !progress_stopped(((Job *)at->data)->progress))
            return at->data;
    return NULL;
}

static Ground *
share_ground(FwPullPictures *self, const SolidMesh *mesh)
{
    if (!self->ground || self->ground->mesh != mesh) {
        unref_ground(self->ground);
        self->ground = g_rc_box_new0(Ground);
        self->ground->mesh = solid_mesh_ref(mesh);
    }
    return g_rc_box_acquire(self->ground);
}

void
fw_pull_pictures_show(FwPullPictures *self, GtkPicture *picture, const char *part,
                      const SolidMesh *mesh, double draft, const SearchAnswer *a, ThemeKind theme)
{
    int pixels = gtk_widget_get_scale_factor(GTK_WIDGET(picture));
    g_autofree char *key = g_strdup_printf("%s %a %a %a %a %d %d", part, a->pull.x, a->pull.y,
                                           a->pull.z, a->parting, (int)theme, pixels);
    GdkTexture *texture = g_hash_table_lookup(self->kept, key);
    if (texture) {
        gtk_picture_set_paintable(picture, GDK_PAINTABLE(texture));
        return;
    }
    Job *job = find_job(self, key);
    if (!job) {
        job = g_new0(Job, 1);
        job->key = g_steal_pointer(&key);
        job->ground = share_ground(self, mesh);
        job->pull = vec3_unit(a->pull);
        job->parting = a->parting;
        job->draft = draft;
        job->theme = theme;
        job->pixels = pixels;
        job->progress = progress_new();
        job->waiting = g_ptr_array_new_with_free_func(g_object_unref);
        g_queue_push_tail(&self->wanted, job);
        if (self->wanted.length == 1)
            start_next(self);
    }
    g_ptr_array_add(job->waiting, g_object_ref_sink(picture));
}

// What is being made ends soon; what waits is dropped.
void
fw_pull_pictures_stop(FwPullPictures *self)
{
    Job *head = g_queue_pop_head(&self->wanted);
    g_queue_clear_full(&self->wanted, free_job);
    if (!head)
        return;
    progress_stop(head->progress);
    g_queue_push_head(&self->wanted, head);
}

gboolean
fw_pull_pictures_is_settled(FwPullPictures *self)
{
    return g_queue_is_empty(&self->wanted);
}

static void
fw_pull_pictures_finalize(GObject *object)
{
    FwPullPictures *self = FW_PULL_PICTURES(object);
    g_queue_clear_full(&self->wanted, free_job);
    g_hash_table_unref(self->kept);
    unref_ground(self->ground);
    G_OBJECT_CLASS(fw_pull_pictures_parent_class)->finalize(object);
}

static void
fw_pull_pictures_class_init(FwPullPicturesClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_pull_pictures_finalize;
}

static void
fw_pull_pictures_init(FwPullPictures *self)
{
    self->kept = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_object_unref);
    g_queue_init(&self->wanted);
}

FwPullPictures *
fw_pull_pictures_new(void)
{
    return g_object_new(FW_TYPE_PULL_PICTURES, NULL);
}
