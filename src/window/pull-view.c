// SPDX-License-Identifier: GPL-3.0-or-later
// Brings together the picture, the search with its list, and the list of areas. Each
// follows the plan the desk shows.
#include "window/pull-view.h"

#include <glib/gi18n.h>

#include "window/pull-areas.h"
#include "window/pull-list.h"
#include "window/pull-part.h"
#include "window/pull-question.h"
#include "window/pull-row.h"

struct _FwPullView {
    GtkBox parent;
    FwPullPart *part;
    GtkWidget *start, *stop;
    GtkProgressBar *bar;
    GtkLabel *words;
    FwPullList *list;
    FwPullAreas *areas;
    GtkStackPage *areas_page;
    Desk *desk;
    FwPullSearch *search;
    guint tick;
};

G_DEFINE_FINAL_TYPE(FwPullView, fw_pull_view, GTK_TYPE_BOX)

FwShadeView *
fw_pull_view_shade(FwPullView *self)
{
    return fw_pull_part_shade(self->part);
}

static void
on_part_changed_cb(FwPullView *self)
{
    const PullModel *model = fw_pull_part_model(self->part);
    gboolean known = model && model->areas;
    fw_pull_areas_show(self->areas, known ? model : NULL, fw_pull_part_words(self->part));
    g_autofree char *title = g_strdup_printf(_("Areas (%u)"), fw_pull_areas_count(self->areas));
    gtk_stack_page_set_title(self->areas_page, known ? title : _("Areas"));
}

static void
on_area_chosen_cb(FwPullView *self, guint chosen)
{
    if (self->desk)
        fw_pull_part_mark(self->part, chosen);
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

gboolean
fw_pull_view_is_settled(FwPullView *self)
{
    return !gtk_widget_get_mapped(GTK_WIDGET(self)) ||
           (fw_pull_part_is_settled(self->part) && fw_pull_list_is_settled(self->list));
}

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
    if (part && !part->solid)
        return g_strdup(_("The part is no closed solid: mend the mesh, then search."));
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
    const Plan *plan = desk_plan(self->desk);
    const PullResult *pull = plan ? plan_pull(plan) : NULL;
    fw_pull_search_follow(self->search, plan);
    if (pull && pull->searched && pull->found.n > 0) // the plan has searched by itself
        fw_pull_search_take(self->search, plan, &pull->found);
    show_search(self);
    fw_pull_part_show(self->part, plan, desk_is_busy(self->desk));
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
        on_plan_changed_cb(self);
}

static void
fw_pull_view_dispose(GObject *object)
{
    FwPullView *self = FW_PULL_VIEW(object);
    fw_pull_view_stop(self);
    if (self->list)
        fw_pull_list_stop(self->list);
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_object(&self->desk);
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
    g_type_ensure(FW_TYPE_PULL_PART);
    g_type_ensure(FW_TYPE_PULL_LIST);
    g_type_ensure(FW_TYPE_PULL_AREAS);
    G_OBJECT_CLASS(klass)->dispose = fw_pull_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_pull_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->map = fw_pull_view_map;
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/pull-view.ui");
#define BIND(name) gtk_widget_class_bind_template_child(widget, FwPullView, name)
    BIND(part);
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
    gtk_widget_class_bind_template_callback(widget, on_part_changed_cb);
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
