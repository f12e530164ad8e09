// SPDX-License-Identifier: GPL-3.0-or-later
// The model of the newest plan is made in a thread; when it is there, the ways to look at its areas
// are found in another.
#include "window/pull-part.h"

#include <glib/gi18n.h>

#include "window/pull-key.h"

struct _FwPullPart {
    GtkBox parent;
    FwShadeView *shade;
    FwPullKey *key;
    char *words;
    guint wanted, shown;          // numbers of the newest model asked for and of the one shown
    gconstpointer model_of;       // the pattern or part it was made of, compared only
    const PullModel *model;       // shown, or NULL
    Progress *looking;            // for ways to look at areas, or NULL
    Vec3 looks[PULL_MODEL_AREAS]; // from where each is seen best
    gboolean looked;              // they are known
    gboolean gone;                // disposed of
};

G_DEFINE_FINAL_TYPE(FwPullPart, fw_pull_part, GTK_TYPE_BOX)

static guint changed_signal;

// Returns the key in words.
static char *
show_key(FwPullPart *self, const Plan *plan)
{
    const PatternResult *pattern = plan_pattern(plan);
    gtk_widget_set_visible(GTK_WIDGET(self->key), pattern != NULL);
    if (!pattern)
        return g_strdup(_("The part is not closed, so draft and undercut are not known."));
    UnitSet units = plan_units(plan);
    return fw_pull_key_set(self->key, plan_part(plan)->measure.area, pattern->faces.low_area,
                           pattern->faces.hidden_area, &units);
}

static void
stop_looking(FwPullPart *self)
{
    self->looked = FALSE;
    if (self->looking)
        progress_stop(self->looking);
    g_clear_pointer(&self->looking, progress_unref);
}

static void
keep_model(FwPullPart *self, const PullModel *model)
{
    stop_looking(self);
    fw_pull_model_unref(self->model);
    self->model = model ? fw_pull_model_ref(model) : NULL;
}

static void
on_looked_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullPart *self = FW_PULL_PART(source);
    const PullModel *model;
    const Vec3 *looks = fw_pull_model_looked(result, &model);
    if (!looks || model != self->model)
        return;
    g_clear_pointer(&self->looking, progress_unref);
    for (guint i = 0; i < PULL_MODEL_AREAS; i++)
        self->looks[i] = looks[i];
    self->looked = TRUE;
    guint32 marked = fw_shade_view_get_marked(self->shade);
    if (marked > 0) // before its way was known
        fw_shade_view_look_from(self->shade, self->looks[marked - 1]);
}

static void
show_words(FwPullPart *self, const char *words)
{
    g_free(self->words);
    self->words = g_strdup(words);
    g_signal_emit(self, changed_signal, 0);
}

static void
on_made_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullPart *self = FW_PULL_PART(source);
    const PullModel *model = fw_pull_model_made(result);
    if (GPOINTER_TO_UINT(data) != self->wanted || self->gone)
        return;
    self->shown = self->wanted;
    keep_model(self, model);
    g_autofree char *facts = show_key(self, model->plan);
    fw_shade_view_set_model(self->shade, model->shade, NULL, facts);
    show_words(self, facts);
    if (!model->areas || model->areas->n == 0)
        return;
    self->looking = progress_new();
    fw_pull_model_look(model, fw_shade_view_eye(self->shade), self->looking, self, on_looked_cb);
}

static void
show_none(FwPullPart *self, const char *words)
{
    self->shown = ++self->wanted;
    self->model_of = NULL;
    keep_model(self, NULL);
    gtk_widget_set_visible(GTK_WIDGET(self->key), FALSE);
    fw_shade_view_set_model(self->shade, NULL, words, NULL);
    show_words(self, words);
}

void
fw_pull_part_show(FwPullPart *self, const Plan *plan, gboolean busy)
{
    const PartResult *part = plan ? plan_part(plan) : NULL;
    if (!gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    if (!part) {
        show_none(self, busy ? _("Working it out…") : _("There is no part to look at."));
        return;
    }
    gconstpointer of = plan_pattern(plan) ? (gconstpointer)plan_pattern(plan) : part;
    if (of == self->model_of)
        return;
    self->model_of = of;
    fw_pull_model_make(plan, self, on_made_cb, GUINT_TO_POINTER(++self->wanted));
}

const PullModel *
fw_pull_part_model(FwPullPart *self)
{
    return self->model;
}

const char *
fw_pull_part_words(FwPullPart *self)
{
    return self->words;
}

void
fw_pull_part_mark(FwPullPart *self, guint area)
{
    const AreaList *areas = self->model ? self->model->areas : NULL;
    if (!areas || area > MIN(areas->n, PULL_MODEL_AREAS))
        return;
    g_autofree char *title = area ? area_title(&areas->areas[area - 1]) : NULL;
    g_autofree char *words = area ? g_strdup_printf(_("Marked: area %u, %s."), area, title) : NULL;
    fw_shade_view_mark(self->shade, area, words);
    if (area && self->looked)
        fw_shade_view_look_from(self->shade, self->looks[area - 1]);
}

FwShadeView *
fw_pull_part_shade(FwPullPart *self)
{
    return self->shade;
}

gboolean
fw_pull_part_is_settled(FwPullPart *self)
{
    return self->shown == self->wanted && !self->looking && fw_shade_view_is_settled(self->shade);
}

static void
fw_pull_part_dispose(GObject *object)
{
    FwPullPart *self = FW_PULL_PART(object);
    self->gone = TRUE;
    keep_model(self, NULL);
    G_OBJECT_CLASS(fw_pull_part_parent_class)->dispose(object);
}

static void
fw_pull_part_finalize(GObject *object)
{
    g_free(FW_PULL_PART(object)->words);
    G_OBJECT_CLASS(fw_pull_part_parent_class)->finalize(object);
}

static void
fw_pull_part_class_init(FwPullPartClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_pull_part_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_pull_part_finalize;
    changed_signal = g_signal_new("changed", FW_TYPE_PULL_PART, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
fw_pull_part_init(FwPullPart *self)
{
    gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
    self->shade = FW_SHADE_VIEW(fw_shade_view_new());
    gtk_widget_set_hexpand(GTK_WIDGET(self->shade), TRUE);
    gtk_widget_set_vexpand(GTK_WIDGET(self->shade), TRUE);
    self->key = g_object_new(FW_TYPE_PULL_KEY, "visible", FALSE, NULL);
    gtk_box_append(GTK_BOX(self), GTK_WIDGET(self->shade));
    gtk_box_append(GTK_BOX(self), GTK_WIDGET(self->key));
}

GtkWidget *
fw_pull_part_new(void)
{
    return g_object_new(FW_TYPE_PULL_PART, NULL);
}
