// SPDX-License-Identifier: GPL-3.0-or-later
// Two things go on in threads: making the shaded model of the newest plan, and the search, whose
// answers are kept until the part or what the casting is to be like changes.
#include "window/pull-view.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/error.h"
#include "part/search.h"
#include "window/pull-key.h"
#include "window/pull-question.h"
#include "window/pull-row.h"

#define SAME 0.003 // rad; two pulls this near are one

struct _FwPullView {
    GtkBox parent;
    FwShadeView *shade;
    FwPullKey *key;
    GtkWidget *search, *stop;
    GtkProgressBar *bar;
    GtkLabel *words;
    GtkListBox *list;
    Desk *desk;
    guint wanted, shown;        // numbers of the newest model asked for and of the one shown
    gpointer faces_of;          // the pattern the model was made of, compared only
    Progress *searching;        // of the search under way, or NULL
    SearchResult *result;       // or NULL
    gboolean rough;             // the result is the first ranking only
    char *asked, *answered;     // what the search under way, and the result, are of
    const SearchResult *listed; // the list is of, compared only
    guint listed_chosen;        // row of the job's pull, or past the last
    UnitSet listed_units;
    guint tick;
};

G_DEFINE_FINAL_TYPE(FwPullView, fw_pull_view, GTK_TYPE_BOX)

FwShadeView *
fw_pull_view_shade(FwPullView *self)
{
    return self->shade;
}

// The shaded model.

typedef struct {
    Plan *plan;
    guint number;
    ShadeModel *model;
} Making;

static void
free_making(gpointer data)
{
    Making *making = data;
    plan_unref(making->plan);
    shade_model_unref(making->model);
    g_free(making);
}

static void
make_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Making *making = data;
    const PatternResult *pattern = plan_pattern(making->plan);
    const PartResult *part = plan_part(making->plan);
    if (!pattern) {
        making->model = shade_model_new(part->mesh, NULL, NAN);
    } else {
        const FaceDraft *f = &pattern->faces;
        g_autofree guint8 *classes = g_new0(guint8, (gsize)pattern->part->n_triangles + 1);
        for (guint32 t = 0; t < MIN(f->n, pattern->part->n_triangles); t++)
            classes[t] = f->hidden[t] ? SHADE_HIDDEN : f->low[t] ? SHADE_LOW : SHADE_DRAWS;
        making->model = shade_model_new(pattern->part, classes, 0);
    }
    g_task_return_boolean(task, TRUE);
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
on_made_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullView *self = FW_PULL_VIEW(source);
    const Making *making = g_task_get_task_data(G_TASK(result));
    if (making->number != self->wanted || !self->desk)
        return;
    self->shown = making->number;
    g_autofree char *facts = show_key(self, making->plan);
    fw_shade_view_set_model(self->shade, making->model, NULL, facts);
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
        self->shown = ++self->wanted;
        self->faces_of = NULL;
        gtk_widget_set_visible(GTK_WIDGET(self->key), FALSE);
        fw_shade_view_set_model(self->shade, NULL,
                                desk_is_busy(self->desk) ? _("Working it out…")
                                                         : _("There is no part to look at."),
                                NULL);
        return;
    }
    gpointer of = plan_pattern(plan) ? (gpointer)plan_pattern(plan) : (gpointer)part;
    if (of == self->faces_of)
        return;
    self->faces_of = of;
    Making *making = g_new0(Making, 1);
    making->plan = plan_ref(plan);
    making->number = ++self->wanted;
    g_autoptr(GTask) task = g_task_new(self, NULL, on_made_cb, NULL);
    g_task_set_task_data(task, making, free_making);
    g_task_run_in_thread(task, make_in_thread);
}

gboolean
fw_pull_view_is_settled(FwPullView *self)
{
    return !gtk_widget_get_mapped(GTK_WIDGET(self)) ||
           (self->shown == self->wanted && fw_shade_view_is_settled(self->shade));
}

// The search.

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

// The first ranking on its way to the main thread.
typedef struct {
    FwPullView *view;
    SearchResult result;
} First;

static void
free_first(gpointer data)
{
    First *first = data;
    g_object_unref(first->view);
    g_free(first);
}

static void show_result(FwPullView *self, SearchResult *result, gboolean rough);

static gboolean
on_first_cb(gpointer data)
{
    First *first = data;
    FwPullView *self = first->view;
    if (self->searching && self->desk && !progress_stopped(self->searching))
        show_result(self, g_memdup2(&first->result, sizeof first->result), TRUE);
    return G_SOURCE_REMOVE;
}

// Called in the search's thread. As urgent as its end, so that it is told before that.
static void
tell_first(const SearchResult *result, gpointer data)
{
    First *first = g_new0(First, 1);
    first->view = g_object_ref(FW_PULL_VIEW(data));
    first->result = *result;
    g_idle_add_full(G_PRIORITY_DEFAULT, on_first_cb, first, free_first);
}

static void
search_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Search *s = data;
    GError *error = NULL;
    s->result = g_new0(SearchResult, 1);
    if (search_pulls(s->mesh, &s->options, s->result, tell_first, source, s->progress, &error))
        g_task_return_boolean(task, TRUE);
    else
        g_task_return_error(task, error);
}

static void
update_buttons(FwPullView *self)
{
    const Plan *plan = desk_plan(self->desk);
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(plan, &options);
    gboolean busy = self->searching != NULL;
    gtk_widget_set_visible(self->search, !busy);
    gtk_widget_set_sensitive(self->search, question != NULL);
    gtk_widget_set_visible(self->stop, busy);
    gtk_widget_set_hexpand(self->stop, busy);
    gtk_widget_set_visible(GTK_WIDGET(self->bar), busy);
}

// The row of the plan's pull; past the last if it is none of them.
static guint
find_chosen(FwPullView *self)
{
    const Plan *plan = desk_plan(self->desk);
    const PatternResult *pattern = plan ? plan_pattern(plan) : NULL;
    guint i = 0;
    while (pattern && i < fw_pull_view_answers(self) &&
           direction_angle(self->result->answers[i].pull, pattern->pull) >= SAME)
        i++;
    return pattern ? i : fw_pull_view_answers(self);
}

static void
add_rows(FwPullView *self, gboolean focused)
{
    for (guint i = 0; i < fw_pull_view_answers(self); i++) {
        gboolean chosen = i == self->listed_chosen;
        GtkWidget *row = fw_pull_row_new(&self->result->answers[i], i + 1,
                                         self->result->part_volume, chosen, &self->listed_units);
        gtk_list_box_append(self->list, row);
        if (chosen)
            gtk_list_box_select_row(self->list, GTK_LIST_BOX_ROW(row));
        if (chosen && focused)
            gtk_widget_grab_focus(row);
    }
}

// Made anew only when it says something else, so that focus and scrolling stay.
static void
fill_list(FwPullView *self)
{
    const Plan *plan = desk_plan(self->desk);
    if (self->result && (!plan || !plan_pattern(plan)))
        return; // on its way
    UnitSet units = {0};
    if (plan)
        units = plan_units(plan);
    guint chosen = find_chosen(self);
    if (self->result == self->listed && chosen == self->listed_chosen &&
        memcmp(&units, &self->listed_units, sizeof units) == 0)
        return;
    gboolean focused = gtk_widget_get_focus_child(GTK_WIDGET(self->list)) != NULL;
    GtkWidget *row;
    while ((row = gtk_widget_get_first_child(GTK_WIDGET(self->list))))
        gtk_list_box_remove(self->list, row);
    self->listed = self->result;
    self->listed_chosen = chosen;
    self->listed_units = units;
    add_rows(self, focused);
}

static void
say(FwPullView *self, const char *words)
{
    gtk_label_set_text(self->words, words);
    gtk_widget_set_visible(GTK_WIDGET(self->words), *words != '\0');
}

static void
say_state(FwPullView *self)
{
    const Plan *plan = desk_plan(self->desk);
    const PartResult *part = plan ? plan_part(plan) : NULL;
    if (self->searching && self->result && self->rough)
        say(self, _("First answers, to a percent or two. Judging the best of them…"));
    else if (self->searching)
        say(self, _("Looking in all directions…"));
    else if (self->result && self->rough)
        say(self, _("Stopped: these are first answers, to a percent or two."));
    else if (self->result) {
        g_autofree char *words = g_strdup_printf(
            _("The best of %u directions. Choose one to make it the job's pull."),
            self->result->directions);
        say(self, words);
    } else if (part && !part->solid)
        say(self, _("The part is no closed solid: mend the mesh, then search."));
    else
        say(self, _("Ranks the ways this part can be drawn by the metal each adds."));
}

// Answers of another part or another draft are no answers.
static void
drop_stale(FwPullView *self)
{
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(desk_plan(self->desk), &options);
    if (self->searching && question && g_strcmp0(question, self->asked) != 0)
        progress_stop(self->searching);
    if (self->result && question && g_strcmp0(question, self->answered) != 0)
        g_clear_pointer(&self->result, g_free);
}

static void
on_changed_cb(FwPullView *self)
{
    drop_stale(self);
    update_buttons(self);
    fill_list(self);
    say_state(self);
    update_model(self);
}

static void
show_result(FwPullView *self, SearchResult *result, gboolean rough)
{
    g_free(self->result);
    self->result = result;
    self->listed = NULL;
    self->rough = rough;
    g_free(self->answered);
    self->answered = g_strdup(self->asked);
    on_changed_cb(self);
}

static gboolean
on_tick_cb(gpointer data)
{
    FwPullView *self = data;
    if (self->searching)
        gtk_progress_bar_set_fraction(self->bar, progress_get_fraction(self->searching));
    return G_SOURCE_CONTINUE;
}

static void
on_searched_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPullView *self = FW_PULL_VIEW(source);
    Search *s = g_task_get_task_data(G_TASK(result));
    g_autoptr(GError) error = NULL;
    gboolean good = g_task_propagate_boolean(G_TASK(result), &error);
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_pointer(&self->searching, progress_unref);
    if (!self->desk)
        return;
    if (good)
        show_result(self, g_steal_pointer(&s->result), FALSE);
    else
        on_changed_cb(self);
    if (error && !g_error_matches(error, BASE_ERROR, BASE_ERROR_CANCELLED))
        say(self, error->message);
}

void
fw_pull_view_search(FwPullView *self)
{
    g_return_if_fail(self->desk);
    EnvelopeOptions options;
    g_autofree char *question = fw_pull_question(desk_plan(self->desk), &options);
    if (self->searching || !question)
        return;
    Search *s = g_new0(Search, 1);
    s->mesh = solid_mesh_ref(plan_part(desk_plan(self->desk))->mesh);
    s->options = options;
    s->progress = progress_new();
    self->searching = progress_ref(s->progress);
    g_free(self->asked);
    self->asked = g_steal_pointer(&question);
    self->tick = g_timeout_add(100, on_tick_cb, self);
    gtk_progress_bar_set_fraction(self->bar, 0);
    g_autoptr(GTask) task = g_task_new(self, NULL, on_searched_cb, NULL);
    g_task_set_task_data(task, s, free_search);
    g_task_run_in_thread(task, search_in_thread);
    update_buttons(self);
    say_state(self);
}

void
fw_pull_view_stop(FwPullView *self)
{
    if (self->searching)
        progress_stop(self->searching);
}

gboolean
fw_pull_view_is_searching(FwPullView *self)
{
    return self->searching != NULL;
}

guint
fw_pull_view_answers(FwPullView *self)
{
    return self->result ? self->result->n : 0;
}

gboolean
fw_pull_view_choose(FwPullView *self, guint n)
{
    if (n >= fw_pull_view_answers(self))
        return FALSE;
    g_autoptr(GError) error = NULL;
    g_autofree char *text = fw_pull_row_field(self->result->answers[n].pull);
    if (desk_edit_field(self->desk, "job.pull", text, &error))
        return TRUE;
    say(self, error->message);
    return FALSE;
}

static void
on_row_activated_cb(GtkListBox *list, GtkListBoxRow *row, FwPullView *self)
{
    fw_pull_view_choose(self, (guint)gtk_list_box_row_get_index(row));
}

static void
on_search_clicked_cb(FwPullView *self)
{
    fw_pull_view_search(self);
    gtk_widget_grab_focus(self->stop);
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
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_pull_view_parent_class)->dispose(object);
}

static void
fw_pull_view_finalize(GObject *object)
{
    FwPullView *self = FW_PULL_VIEW(object);
    progress_unref(self->searching);
    g_free(self->result);
    g_free(self->asked);
    g_free(self->answered);
    G_OBJECT_CLASS(fw_pull_view_parent_class)->finalize(object);
}

static void
fw_pull_view_class_init(FwPullViewClass *klass)
{
    g_type_ensure(FW_TYPE_SHADE_VIEW);
    g_type_ensure(FW_TYPE_PULL_KEY);
    G_OBJECT_CLASS(klass)->dispose = fw_pull_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_pull_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->map = fw_pull_view_map;
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/pull-view.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwPullView, name)
    BIND(shade);
    BIND(key);
    BIND(search);
    BIND(stop);
    BIND(bar);
    BIND(words);
    BIND(list);
#undef BIND
    gtk_widget_class_bind_template_callback(widget, on_search_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_stop_clicked_cb);
    gtk_widget_class_bind_template_callback(widget, on_row_activated_cb);
}

static void
fw_pull_view_init(FwPullView *self)
{
    gtk_widget_init_template(GTK_WIDGET(self));
}

void
fw_pull_view_set_desk(FwPullView *self, Desk *desk)
{
    g_return_if_fail(!self->desk);
    self->desk = g_object_ref(desk);
    g_signal_connect_object(desk, "plan-changed", G_CALLBACK(on_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_changed_cb), self,
                            G_CONNECT_SWAPPED);
    on_changed_cb(self);
}

GtkWidget *
fw_pull_view_new(void)
{
    return g_object_new(FW_TYPE_PULL_VIEW, NULL);
}
