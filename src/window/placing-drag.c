// SPDX-License-Identifier: GPL-3.0-or-later
// Dragging. The layout follows once a frame.
#include <math.h>

#include "window/placing-private.h"

#define SNAP 7.0  // device units
#define START 3.0 // device units until a press becomes a drag
#define EVEN 1e-4 // m, of a drag that does not snap
#define EVEN_INCH 1.27e-4

static void
step_drag(FwPlacing *self)
{
    double even = fw_placing_units(self).inches ? EVEN_INCH : EVEN;
    double x = self->start.x + self->dx / self->scale, y = self->start.y - self->dy / self->scale;
    guint index = self->grip == GRIP_CAVITY ? self->chosen - 1 : self->spots->len;
    self->snap = (PlacingSnap){.at = {x, y}};
    if (!self->free)
        self->snap = placing_snap(self->now, self->spots, index, x, y, SNAP / self->scale);
    if (self->snap.at.x == x)
        self->snap.at.x = round(x / even) * even;
    if (self->snap.at.y == y)
        self->snap.at.y = round(y / even) * even;
    self->at = self->snap.at;
    if (self->grip == GRIP_ALONG || self->grip == GRIP_ACROSS) {
        double *plane = self->grip == GRIP_ALONG ? &self->along : &self->across;
        double half = (self->grip == GRIP_ALONG ? self->now->width : self->now->length) / 2;
        *plane = CLAMP(self->grip == GRIP_ALONG ? self->at.y : self->at.x, -half, half);
        self->snap.n_guides = 0;
        placing_show(self);
        return;
    }
    if (self->grip == GRIP_CAVITY) {
        placing_spot(self, index)->x = self->at.x;
        placing_spot(self, index)->y = self->at.y;
    } else {
        self->sprue_x = self->at.x;
        self->sprue_y = self->at.y;
    }
    placing_lay_out(self);
    placing_show_guides(self);
    placing_say_place(self);
}

static gboolean
on_tick_cb(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
    FwPlacing *self = data;
    self->tick = 0;
    step_drag(self);
    return G_SOURCE_REMOVE;
}

static void
flush_drag(FwPlacing *self)
{
    if (!self->tick)
        return;
    gtk_widget_remove_tick_callback(GTK_WIDGET(self->sketch), self->tick);
    self->tick = 0;
    step_drag(self);
}

static SolidPoint
place_of(FwPlacing *self, PlacingGrip grip, guint cavity)
{
    const MouldLayout *l = self->now;
    if (grip == GRIP_CAVITY)
        return (SolidPoint){placing_spot(self, cavity - 1)->x, placing_spot(self, cavity - 1)->y};
    if (grip == GRIP_SPRUE)
        return (SolidPoint){l->sprue_x, l->sprue_y};
    return (SolidPoint){isfinite(self->across) ? self->across : l->cavities[0].x,
                        isfinite(self->along) ? self->along : l->cavities[0].y};
}

gboolean
fw_placing_begin(FwPlacing *self, double x, double y)
{
    const ScenePart *part = fw_sketch_view_pick(self->sketch, x, y);
    guint cavity = 0;
    PlacingGrip grip = part ? placing_grip(part->id, &cavity) : GRIP_NONE;
    SolidPoint place;
    double scale;
    fw_placing_settle(self);
    if (self->resting || grip == GRIP_NONE || !placing_take_up(self) || cavity > self->spots->len ||
        !fw_sketch_view_to_scene(self->sketch, x, y, &place, &scale))
        return FALSE;
    fw_sketch_view_focus_part(self->sketch, part->id);
    placing_set_chosen(self, cavity, grip == GRIP_SPRUE);
    self->grip = grip;
    self->scale = scale * 1000;
    self->start = place_of(self, grip, cavity);
    self->held_along = self->along;
    self->held_across = self->across;
    self->moving = FALSE;
    return TRUE;
}

void
fw_placing_move(FwPlacing *self, double dx, double dy, gboolean free)
{
    if (self->grip == GRIP_NONE || (!self->moving && hypot(dx, dy) < START))
        return;
    if (!self->moving && self->grip == GRIP_CAVITY && placing_refuse_locked(self)) {
        self->grip = GRIP_NONE;
        return;
    }
    self->moving = TRUE;
    self->dx = dx;
    self->dy = dy;
    self->free = free;
    if (!self->tick)
        self->tick = gtk_widget_add_tick_callback(GTK_WIDGET(self->sketch), on_tick_cb, self, NULL);
}

static PlacingGrip
let_go(FwPlacing *self)
{
    PlacingGrip grip = self->moving ? self->grip : GRIP_NONE;
    self->grip = GRIP_NONE;
    self->moving = FALSE;
    fw_sketch_view_set_overlay(self->sketch, NULL);
    return grip;
}

void
fw_placing_end(FwPlacing *self)
{
    flush_drag(self);
    PlacingGrip grip = let_go(self);
    if (grip == GRIP_CAVITY)
        placing_commit(self);
    else if (grip == GRIP_SPRUE)
        placing_commit_sprue(self);
    else if (grip != GRIP_NONE)
        g_signal_emit_by_name(self, "cut", grip == GRIP_ACROSS,
                              grip == GRIP_ACROSS ? self->across : self->along);
}

void
fw_placing_cancel(FwPlacing *self)
{
    if (self->tick)
        gtk_widget_remove_tick_callback(GTK_WIDGET(self->sketch), self->tick);
    self->tick = 0;
    if (let_go(self) == GRIP_NONE)
        return;
    self->along = self->held_along;
    self->across = self->held_across;
    self->waiting = FALSE;
    g_clear_pointer(&self->spots, g_array_unref);
    fw_sketch_view_set_live(self->sketch, NULL);
}

gboolean
fw_placing_is_moving(FwPlacing *self)
{
    return self->moving;
}

const char *
fw_placing_cursor(FwPlacing *self, double x, double y)
{
    guint cavity;
    const ScenePart *part = self->plan_view && !self->resting
                                ? fw_sketch_view_pick(self->sketch, x, y)
                                : NULL;
    switch (self->moving ? self->grip : placing_grip(part ? part->id : NULL, &cavity)) {
    case GRIP_CAVITY:
    case GRIP_SPRUE:
        return "move";
    case GRIP_ALONG:
        return "ns-resize";
    case GRIP_ACROSS:
        return "ew-resize";
    case GRIP_NONE:
        break;
    }
    return part ? "pointer" : NULL;
}
