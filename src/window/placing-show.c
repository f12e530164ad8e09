// SPDX-License-Identifier: GPL-3.0-or-later
// Drawing what is in hand, and handing it to the desk.
#include <glib/gi18n.h>
#include <math.h>

#include "window/placing-private.h"

char *
placing_field_text(FwPlacing *self, const char *path)
{
    const Book *book = desk_book(self->desk);
    return book ? edit_field_text(book, desk_job(self->desk), field_find(path)) : NULL;
}

static double
field_length(FwPlacing *self, const char *path)
{
    g_autofree char *text = placing_field_text(self, path);
    UnitSet units = fw_placing_units(self);
    double value;
    return text && quantity_parse(QUANTITY_LENGTH, text, &units, &value, NULL) ? value : NAN;
}

// What stands where, unless that is known better than by the plan. FALSE: there is nothing to move.
gboolean
placing_take_up(FwPlacing *self)
{
    if ((self->waiting || self->moving) && self->spots && self->now)
        return TRUE;
    if (!fw_placing_is_shown(self))
        return FALSE;
    const MouldLayout *layout = plan_mould(desk_plan(self->desk));
    UnitSet units = fw_placing_units(self);
    g_autofree char *text = placing_field_text(self, "job.placement");
    g_clear_pointer(&self->spots, g_array_unref);
    self->spots = placing_spots(layout, text, &units);
    self->sprue_x = field_length(self, "job.sprue_x");
    self->sprue_y = field_length(self, "job.sprue_y");
    mould_layout_unref(self->now);
    self->now = mould_layout_ref(layout);
    g_free(self->job);
    self->job = g_strdup(desk_job(self->desk));
    return TRUE;
}

static const FlaskOutlines *
find_outlines(FwPlacing *self, const PatternResult *pattern)
{
    if (self->outlines && self->outlined == pattern && self->outlined_half == self->half)
        return self->outlines;
    flask_outlines_unref(self->outlines);
    pattern_result_unref(self->outlined);
    self->outlined = pattern ? pattern_result_ref(pattern) : NULL;
    self->outlined_half = self->half;
    self->outlines = flask_outlines_new(self->now, pattern, self->half);
    return self->outlines;
}

void
placing_show_guides(FwPlacing *self)
{
    g_autoptr(Scene) guides = self->snap.n_guides > 0 ? scene_new("") : NULL;
    for (guint i = 0; i < self->snap.n_guides; i++) {
        const PlacingGuide *g = &self->snap.guides[i];
        SolidPoint ends[] = {{g->from.x * 1000, g->from.y * 1000},
                             {g->to.x * 1000, g->to.y * 1000}};
        scene_add_line(guides, ROLE_CUTTING, 0, NULL, ends, 2);
    }
    fw_sketch_view_set_overlay(self->sketch, guides);
}

// Draws what is in hand.
void
placing_show(FwPlacing *self)
{
    const Plan *plan = desk_plan(self->desk);
    if (!plan || !self->now)
        return;
    UnitSet units = plan_units(plan);
    g_autofree gboolean *locked = g_new0(gboolean, self->now->n_cavities + 1);
    for (guint i = 0; i < MIN(self->now->n_cavities, self->spots->len); i++)
        locked[i] = placing_spot(self, i)->locked;
    FlaskMarks marks = {.along = self->along,
                        .across = self->across,
                        .locked = locked,
                        .moving = self->grip == GRIP_CAVITY ? self->chosen : 0,
                        .outlines = find_outlines(self, plan_pattern(plan)),
                        .in_motion = TRUE}; // at rest the plan's own drawing takes its place
    g_autoptr(Scene) scene = flask_marked_scene(self->now, plan_pattern(plan), &units, self->half,
                                                &marks);
    fw_sketch_view_set_live(self->sketch, scene);
}

// The layout of the spots as they are now.
void
placing_lay_out(FwPlacing *self)
{
    const MouldLayout *next = mould_layout_moved(self->now,
                                                 (PlacementSpot *)(gpointer)self->spots->data,
                                                 self->spots->len, self->sprue_x, self->sprue_y);
    if (!next)
        return;
    mould_layout_unref(self->now);
    self->now = next;
    placing_show(self);
}

static void
say_trouble(FwPlacing *self, GError *error)
{
    self->waiting = FALSE;
    fw_sketch_view_set_live(self->sketch, NULL);
    placing_say(self, error->message);
}

void
placing_commit(FwPlacing *self)
{
    UnitSet units = fw_placing_units(self);
    g_autoptr(GError) error = NULL;
    g_autofree char *text = placement_write((PlacementSpot *)(gpointer)self->spots->data,
                                            self->spots->len, &units);
    self->waiting = TRUE;
    if (!desk_edit_field(self->desk, "job.placement", text, &error))
        say_trouble(self, error);
}

static char *
write_length(double value, const UnitSet *units)
{
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(number, sizeof number, units->inches ? "%.4f" : "%.2f",
                    value / (units->inches ? 0.0254 : 1e-3) + 0.0);
    return g_strdup_printf("%s %s", number, units->inches ? "in" : "mm");
}

void
placing_commit_sprue(FwPlacing *self)
{
    UnitSet units = fw_placing_units(self);
    g_autoptr(GError) error = NULL;
    g_autofree char *x = write_length(self->sprue_x, &units);
    g_autofree char *y = write_length(self->sprue_y, &units);
    gboolean own = !self->quiet;
    self->waiting = TRUE;
    if (own)
        desk_begin_gesture(self->desk);
    if (!desk_edit_field(self->desk, "job.sprue_x", x, &error) ||
        !desk_edit_field(self->desk, "job.sprue_y", y, &error))
        say_trouble(self, error);
    if (own)
        desk_end_gesture(self->desk);
}

void
placing_say_place(FwPlacing *self)
{
    UnitSet units = fw_placing_units(self);
    PlacementSpot spot;
    if (!fw_placing_get(self, &spot))
        return;
    double even = units.inches ? 2.54e-5 : 1e-5;
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, round(spot.x / even) * even, &units);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, round(spot.y / even) * even, &units);
    g_autofree char *turn = quantity_format(QUANTITY_ANGLE, spot.turn, &units);
    g_autofree char *words = self->sprue_chosen
                                 ? g_strdup_printf(_("Sprue: %s along, %s across"), x, y)
                                 : g_strdup_printf(_("Cavity %u: %s along, %s across, turned %s"),
                                                   self->chosen, x, y, turn);
    placing_say(self, words);
}
