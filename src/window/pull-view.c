// SPDX-License-Identifier: GPL-3.0-or-later
// Brings together the picture, its key, the search with its list, and the list of areas. Each
// follows the plan the desk shows.
#include "window/pull-view.h"

#include <glib/gi18n.h>

#include "window/pull-areas.h"
#include "window/pull-key.h"
#include "window/pull-list.h"
#include "window/pull-question.h"
#include "window/pull-row.h"

struct _FwPullView {
    GtkBox parent;
    FwShadeView *shade;
    FwPullKey *key;
    GtkWidget *start, *stop;
    GtkProgressBar *bar;
    GtkLabel *words;
    FwPullList *list;
    FwPullAreas *areas;
    GtkStackPage *areas_page;
    Desk *desk;
    FwPullSearch *search;
    guint tick;
    guint wanted, shown;          // numbers of the newest model asked for and of the one shown
    gconstpointer model_of;       // the pattern or part it was made of, compared only
    const PullModel *model;       // shown, or NULL
    Progress *looking;            // for ways to look at areas, or NULL
    Vec3 looks[PULL_MODEL_AREAS]; // from where each is seen best
    gboolean looked;              // they are known
};

G_DEFINE_FINAL_TYPE(FwPullView, fw_pull_view, GTK_TYPE_BOX)

FwShadeView *
fw_pull_view_shade(FwPullView *self)
{
    return self->shade;
}

// The shaded model and its areas.

static void
show_areas(FwPullView *self, const PullModel *model, const char *words)
{
    gboolean known = model && model->areas;
    fw_pull_areas_show(self->areas, known ? model : NULL, words);
    g_autofree char *title = g_strdup_printf(_("Areas (%u)"), fw_pull_areas_count(self->areas));
    gtk_stack_page_set_title(self->areas_page, known ? title : _("Areas"));
}

// Returns the key in words.
static char *
show_key(FwPullView *self, const Plan *plan)
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
stop_looking(FwPullView *self)
{
    self->looked = FALSE;
    if (self->looking)
        progress_stop(self->looking);
    g_clear_pointer(&self->looking, progress_unref);
}

static void
keep_model(FwPullView *self, const PullModel *model)
{
    stop_looking(self);
    fw_pull_model_unref(self->model);
    self->model = model ? fw_pull_model_ref(model) : NULL;
}

static void
on_looked_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullView *self = FW_PULL_VIEW(source);
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
on_made_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullView *self = FW_PULL_VIEW(source);
    const PullModel *model = fw_pull_model_made(result);
    if (GPOINTER_TO_UINT(data) != self->wanted || !self->desk)
        return;
    self->shown = self->wanted;
    keep_model(self, model);
    g_autofree char *facts = show_key(self, model->plan);
    fw_shade_view_set_model(self->shade, model->shade, NULL, facts);
    show_areas(self, model, facts);
    if (!model->areas || model->areas->n == 0)
        return;
    self->looking = progress_new();
    fw_pull_model_look(model, fw_shade_view_eye(self->shade), self->looking, self, on_looked_cb);
}

// Only while it can be seen, and only when the pattern has changed.
static void
update_model(FwPullView *self)
{
    const Plan *plan = desk_plan(self->desk);
    const PartResult *part = plan ? plan_part(plan) : NULL;
    if (!gtk_widget_get_mapped(GTK_WIDGET(self)))
        return;
    if (!part) {
        const char *words = desk_is_busy(self->desk) ? _("Working it out…")
                                                     : _("There is no part to look at.");
        self->shown = ++self->wanted;
        self->model_of = NULL;
        keep_model(self, NULL);
        gtk_widget_set_visible(GTK_WIDGET(self->key), FALSE);
        fw_shade_view_set_model(self->shade, NULL, words, NULL);
        show_areas(self, NULL, words);
        return;
    }
    gconstpointer of = plan_pattern(plan) ? (gconstpointer)plan_pattern(plan) : part;
    if (of == self->model_of)
        return;
    self->model_of = of;
    fw_pull_model_make(plan, self, on_made_cb, GUINT_TO_POINTER(++self->wanted));
}

gboolean
fw_pull_view_is_settled(FwPullView *self)
{
    return !gtk_widget_get_mapped(GTK_WIDGET(self)) ||
           (self->shown == self->wanted && !self->looking &&
            fw_shade_view_is_settled(self->shade) && fw_pull_list_is_settled(self->list));
}

guint
fw_pull_view_areas(FwPullView *self)
{
    return fw_pull_areas_count(self->areas);
}

void
fw_pull_view_mark(FwPullView *self, guint area)
{
    fw_pull_areas_choose(self->areas, area);
}

static void
on_area_chosen_cb(FwPullView *self, guint chosen)
{
    if (!self->model || !self->model->areas)
        return;
    g_autofree char *title = chosen ? area_title(&self->model->areas->areas[chosen - 1]) : NULL;
    g_autofree char *words = chosen ? g_strdup_printf(_("Marked: area %u, %s."), chosen, title)
                                    : NULL;
    fw_shade_view_mark(self->shade, chosen, words);
    if (chosen && self->looked)
        fw_shade_view_look_from(self->shade, self->looks[chosen - 1]);
}

// The search.

static void
update_buttons(FwPullView *self)
{
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(desk_plan(self->desk), &options);
    gboolean busy = fw_pull_search_is_running(self->search);
    gtk_widget_set_visible(self->start, !busy);
    gtk_widget_set_sensitive(self->start, question != NULL);
    gtk_widget_set_visible(self->stop, busy);
    gtk_widget_set_hexpand(self->stop, busy);
    gtk_widget_set_visible(GTK_WIDGET(self->bar), busy);
}

static char *
state_words(FwPullView *self)
{
    const Plan *plan = desk_plan(self->desk);
    const PartResult *part = plan ? plan_part(plan) : NULL;
    const SearchResult *result = fw_pull_search_result(self->search);
    gboolean rough = fw_pull_search_is_rough(self->search);
    gboolean busy = fw_pull_search_is_running(self->search);
    const char *trouble = fw_pull_search_trouble(self->search);
    if (busy && result && rough)
        return g_strdup(_("First answers, to a percent or two. Judging the best of them…"));
    if (busy)
        return g_strdup(_("Looking in all directions…"));
    if (trouble)
        return g_strdup(trouble);
    if (result && rough)
        return g_strdup(_("Stopped: these are first answers, to a percent or two."));
    if (result)
        return g_strdup_printf(_("The best of %u directions. Choose one to make it the job's "
                                 "pull."),
                               result->directions);
    if (part && !part->check.closed)
        return g_strdup(_("The part is not closed: mend the mesh, then search."));
    return g_strdup(_("Ranks the ways this part can be drawn by the metal each adds."));
}

static void
say(FwPullView *self, const char *words)
{
    gtk_label_set_text(self->words, words);
}

static void
show_search(FwPullView *self)
{
    update_buttons(self);
    fw_pull_list_show(self->list, self->search, desk_plan(self->desk));
    g_autofree char *words = state_words(self);
    say(self, words);
}

static gboolean
on_tick_cb(gpointer data)
{
    FwPullView *self = data;
    gtk_progress_bar_set_fraction(self->bar, fw_pull_search_fraction(self->search));
    return G_SOURCE_CONTINUE;
}

static void
on_search_changed_cb(FwPullView *self)
{
    if (!self->desk)
        return;
    gboolean busy = fw_pull_search_is_running(self->search);
    if (busy && !self->tick) {
        gtk_progress_bar_set_fraction(self->bar, 0);
        self->tick = g_timeout_add(100, on_tick_cb, self);
    } else if (!busy) {
        g_clear_handle_id(&self->tick, g_source_remove);
    }
    // The button that had the focus goes: the other takes it, and a search ended by itself leaves
    // the person at its answers.
    gboolean held = gtk_widget_is_focus(busy ? self->start : self->stop);
    show_search(self);
    if (held)
        gtk_widget_grab_focus(busy ? self->stop : self->start);
}

static void
on_plan_changed_cb(FwPullView *self)
{
    fw_pull_search_follow(self->search, desk_plan(self->desk));
    show_search(self);
    update_model(self);
}

void
fw_pull_view_search(FwPullView *self)
{
    g_return_if_fail(self->desk);
    fw_pull_search_start(self->search, desk_plan(self->desk));
}

void
fw_pull_view_stop(FwPullView *self)
{
    fw_pull_search_stop(self->search);
}

gboolean
fw_pull_view_is_searching(FwPullView *self)
{
    return fw_pull_search_is_running(self->search);
}

guint
fw_pull_view_answers(FwPullView *self)
{
    const SearchResult *result = fw_pull_search_result(self->search);
    return result ? result->n : 0;
}

void
fw_pull_view_set_answers(FwPullView *self, const SearchResult *answers)
{
    g_return_if_fail(self->desk);
    if (answers)
        fw_pull_search_take(self->search, desk_plan(self->desk), answers);
}

gboolean
fw_pull_view_choose(FwPullView *self, guint n)
{
    if (n >= fw_pull_view_answers(self))
        return FALSE;
    g_autoptr(GError) error = NULL;
    g_autofree char *text = fw_pull_row_field(fw_pull_search_result(self->search)->answers[n].pull);
    if (desk_edit_field(self->desk, "job.pull", text, &error))
        return TRUE;
    say(self, error->message);
    return FALSE;
}

static void
on_pull_chosen_cb(FwPullView *self, guint n)
{
    fw_pull_view_choose(self, n);
}

static void
on_start_clicked_cb(FwPullView *self)
{
    fw_pull_view_search(self);
}

static void
on_stop_clicked_cb(FwPullView *self)
{
    fw_pull_view_stop(self);
}

static void
fw_pull_view_map(GtkWidget *widget)
{
    FwPullView *self = FW_PULL_VIEW(widget);
    GTK_WIDGET_CLASS(fw_pull_view_parent_class)->map(widget);
    if (self->desk)
        update_model(self);
}

static void
fw_pull_view_dispose(GObject *object)
{
    FwPullView *self = FW_PULL_VIEW(object);
    fw_pull_view_stop(self);
    stop_looking(self);
    if (self->list)
        fw_pull_list_stop(self->list);
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_object(&self->desk);
    g_clear_pointer(&self->model, fw_pull_model_unref);
    G_OBJECT_CLASS(fw_pull_view_parent_class)->dispose(object);
}

static void
fw_pull_view_finalize(GObject *object)
{
    FwPullView *self = FW_PULL_VIEW(object);
    g_object_unref(self->search);
    G_OBJECT_CLASS(fw_pull_view_parent_class)->finalize(object);
}

static void
fw_pull_view_class_init(FwPullViewClass *klass)
{
    g_type_ensure(FW_TYPE_SHADE_VIEW);
    g_type_ensure(FW_TYPE_PULL_KEY);
    g_type_ensure(FW_TYPE_PULL_LIST);
    g_type_ensure(FW_TYPE_PULL_AREAS);
    G_OBJECT_CLASS(klass)->dispose = fw_pull_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_pull_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->map = fw_pull_view_map;
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/pull-view.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwPullView, name)
    BIND(shade);
    BIND(key);
    BIND(start);
    BIND(stop);
    BIND(bar);
    BIND(words);
    BIND(list);
    BIND(areas);
    BIND(areas_page);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_start_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_stop_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_pull_chosen_cb);
    gtk_widget_class_bind_template_callback(widget, on_area_chosen_cb);
}

static void
fw_pull_view_init(FwPullView *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
    self->search = fw_pull_search_new();
    g_signal_connect_object(self->search, "changed", G_CALLBACK(on_search_changed_cb), self,
                            G_CONNECT_SWAPPED);
}

void
fw_pull_view_set_desk(FwPullView *self, Desk *desk)
{
    g_return_if_fail(!self->desk);
    self->desk = g_object_ref(desk);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(on_plan_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_plan_changed_cb), self,
                            G_CONNECT_SWAPPED);
    on_plan_changed_cb(self);
}

GtkWidget *
fw_pull_view_new(void)
{
    return g_object_new(FW_TYPE_PULL_VIEW, NULL);
}
