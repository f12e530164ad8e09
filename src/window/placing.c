// SPDX-License-Identifier: GPL-3.0-or-later
// The one in whose hand a cavity is. Between letting go and the plan that knows of it, what was
// moved is kept here and stays in sight.

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "window/placing-private.h"

G_DEFINE_FINAL_TYPE(FwPlacing, fw_placing, G_TYPE_OBJECT)

static guint said_signal, changed_signal;

void
placing_say(FwPlacing *self, const char *words)
{
    g_signal_emit(self, said_signal, 0, words);
}

PlacementSpot *
placing_spot(FwPlacing *self, guint index)
{
    return &((PlacementSpot *)(gpointer)self->spots->data)[index];
}

PlacingGrip
placing_grip(const char *id, guint *cavity)
{
    if (!id)
        return GRIP_NONE;
    if (sscanf(id, "cavity-%u", cavity) == 1 || sscanf(id, "riser-%u", cavity) == 1)
        return *cavity > 0 ? GRIP_CAVITY : GRIP_NONE;
    if (g_str_equal(id, "sprue") || g_str_equal(id, "well") || g_str_equal(id, "basin"))
        return GRIP_SPRUE;
    return g_str_equal(id, "cut-section")  ? GRIP_ALONG
           : g_str_equal(id, "cut-across") ? GRIP_ACROSS
                                           : GRIP_NONE;
}

UnitSet
fw_placing_units(FwPlacing *self)
{
    const Plan *plan = desk_plan(self->desk);
    return plan ? plan_units(plan) : (UnitSet){0};
}

gboolean
fw_placing_by_hand(FwPlacing *self)
{
    static const char *const paths[] = {"job.placement", "job.sprue_x", "job.sprue_y"};
    for (guint i = 0; i < G_N_ELEMENTS(paths); i++) {
        g_autofree char *text = placing_field_text(self, paths[i]);
        if (text)
            return TRUE;
    }
    return FALSE;
}

gboolean
fw_placing_is_shown(FwPlacing *self)
{
    const Plan *plan = desk_plan(self->desk);
    return self->plan_view && plan && plan_mould(plan) && plan_mould(plan)->n_cavities > 0 &&
           plan_mould(plan)->fixed;
}

const MouldLayout *
fw_placing_layout(FwPlacing *self)
{
    return self->plan_view && placing_take_up(self) ? self->now : NULL;
}

// What is chosen.

guint
fw_placing_chosen(FwPlacing *self)
{
    return self->chosen;
}

gboolean
fw_placing_has_sprue(FwPlacing *self)
{
    return self->sprue_chosen;
}

const char *
fw_placing_part(FwPlacing *self)
{
    static char id[32];
    if (self->sprue_chosen)
        return self->half == FLASK_DRAG ? "well" : "sprue";
    g_snprintf(id, sizeof id, "cavity-%u", self->chosen);
    return self->chosen ? id : NULL;
}

gboolean
fw_placing_is_locked(FwPlacing *self, guint cavity)
{
    return placing_take_up(self) && cavity > 0 && cavity <= self->spots->len &&
           placing_spot(self, cavity - 1)->locked;
}

void
placing_set_chosen(FwPlacing *self, guint cavity, gboolean sprue)
{
    if (cavity == self->chosen && sprue == self->sprue_chosen)
        return;
    self->chosen = cavity;
    self->sprue_chosen = sprue;
    g_signal_emit(self, changed_signal, 0);
}

void
fw_placing_choose(FwPlacing *self, guint cavity)
{
    placing_set_chosen(self, cavity, FALSE);
    if (fw_placing_part(self))
        fw_sketch_view_focus_part(self->sketch, fw_placing_part(self));
}

// The thing that has the focus now is chosen, if it can be moved.
static void
on_part_focused_cb(FwPlacing *self, const char *id)
{
    guint cavity = 0;
    PlacingGrip grip = self->plan_view ? placing_grip(id, &cavity) : GRIP_NONE;
    if (grip == GRIP_CAVITY)
        placing_set_chosen(self, cavity, FALSE);
    else if (grip == GRIP_SPRUE)
        placing_set_chosen(self, 0, TRUE);
    else
        placing_set_chosen(self, 0, FALSE);
}

gboolean
placing_refuse_locked(FwPlacing *self)
{
    if (self->sprue_chosen || !placing_spot(self, self->chosen - 1)->locked)
        return FALSE;
    g_autofree char *words = g_strdup_printf(
        _("Cavity %u is locked and stays where it is. L unlocks it."), self->chosen);
    placing_say(self, words);
    return TRUE;
}

static gboolean
can_move(FwPlacing *self)
{
    if (!placing_take_up(self))
        return FALSE;
    if (self->sprue_chosen)
        return TRUE;
    if (self->chosen == 0 || self->chosen > self->spots->len) {
        placing_say(self, _("Choose a cavity first"));
        return FALSE;
    }
    return !placing_refuse_locked(self);
}

gboolean
fw_placing_get(FwPlacing *self, PlacementSpot *spot)
{
    if (!placing_take_up(self))
        return FALSE;
    if (self->sprue_chosen) {
        *spot = (PlacementSpot){self->now->sprue_x, self->now->sprue_y, 0, FALSE};
        return TRUE;
    }
    if (self->chosen == 0 || self->chosen > self->spots->len)
        return FALSE;
    *spot = *placing_spot(self, self->chosen - 1);
    return TRUE;
}

gboolean
fw_placing_put(FwPlacing *self, const PlacementSpot *spot)
{
    if (!can_move(self))
        return FALSE;
    if (self->sprue_chosen) {
        self->sprue_x = spot->x;
        self->sprue_y = spot->y;
    } else {
        *placing_spot(self, self->chosen - 1) = *spot;
    }
    placing_lay_out(self);
    if (self->sprue_chosen)
        placing_commit_sprue(self);
    else
        placing_commit(self);
    placing_say_place(self);
    return TRUE;
}

void
fw_placing_set_resting(FwPlacing *self, gboolean resting)
{
    self->resting = resting;
}

void
fw_placing_set_view(FwPlacing *self, const char *view, double along, double across)
{
    if (g_strcmp0(view, self->view) != 0)
        fw_placing_cancel(self);
    g_free(self->view);
    self->view = g_strdup(view);
    self->plan_view = sketch_flask_is_plan(view, &self->half);
    if (!self->moving) {
        self->along = along;
        self->across = across;
    }
    if (!self->plan_view)
        fw_sketch_view_set_live(self->sketch, NULL);
}

static void
look_whether_followed(FwPlacing *self)
{
    const Plan *plan = desk_plan(self->desk);
    if (!self->waiting)
        return;
    if (g_strcmp0(self->job, desk_job(self->desk)) != 0 || !plan)
        self->waiting = FALSE;
    if (!plan || plan_book(plan) != desk_book(self->desk))
        return;
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo stage = plan_stage_info(plan, i);
        if (g_str_equal(stage.id, "mould") && !stage.stale)
            self->waiting = FALSE;
    }
}

gboolean
fw_placing_is_waiting(FwPlacing *self)
{
    look_whether_followed(self);
    return self->waiting && self->plan_view;
}

void
fw_placing_drawn(FwPlacing *self)
{
    if (self->moving || fw_placing_is_waiting(self))
        return;
    fw_sketch_view_set_live(self->sketch, NULL);
    if (self->wanted)
        fw_placing_choose(self, self->wanted);
    self->wanted = 0;
}

static void
fw_placing_dispose(GObject *object)
{
    FwPlacing *self = FW_PLACING(object);
    if (self->tick && self->sketch)
        gtk_widget_remove_tick_callback(GTK_WIDGET(self->sketch), self->tick);
    self->tick = 0;
    g_clear_handle_id(&self->quiet, g_source_remove);
    g_clear_object(&self->sketch);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_placing_parent_class)->dispose(object);
}

static void
fw_placing_finalize(GObject *object)
{
    FwPlacing *self = FW_PLACING(object);
    g_clear_pointer(&self->spots, g_array_unref);
    mould_layout_unref(self->now);
    flask_outlines_unref(self->outlines);
    pattern_result_unref(self->outlined);
    g_free(self->view);
    g_free(self->job);
    G_OBJECT_CLASS(fw_placing_parent_class)->finalize(object);
}

static void
fw_placing_class_init(FwPlacingClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_placing_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_placing_finalize;
    said_signal = g_signal_new("said", FW_TYPE_PLACING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 1, G_TYPE_STRING);
    g_signal_new("cut", FW_TYPE_PLACING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                 G_TYPE_BOOLEAN, G_TYPE_DOUBLE);
    changed_signal = g_signal_new("changed", FW_TYPE_PLACING, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
    g_signal_new("command", FW_TYPE_PLACING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_BOOLEAN,
                 1, G_TYPE_STRING);
    g_signal_new("menu", FW_TYPE_PLACING, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                 G_TYPE_DOUBLE, G_TYPE_DOUBLE);
}

static void
fw_placing_init(FwPlacing *self)
{
    self->along = self->across = self->sprue_x = self->sprue_y = NAN;
}

FwPlacing *
fw_placing_new(Desk *desk, FwSketchView *sketch)
{
    FwPlacing *self = g_object_new(FW_TYPE_PLACING, NULL);
    self->desk = g_object_ref(desk);
    self->sketch = g_object_ref(sketch);
    g_signal_connect_object(sketch, "part-focused", G_CALLBACK(on_part_focused_cb), self,
                            G_CONNECT_SWAPPED);
    fw_placing_add_controllers(self, GTK_WIDGET(sketch));
    return self;
}
