// SPDX-License-Identifier: GPL-3.0-or-later
// What keys and the menu do to what is chosen.
#include <glib/gi18n.h>

#include "window/placing-private.h"

#define QUIET 600 // ms after which the next nudge is another step

static gboolean
on_quiet_cb(gpointer data)
{
    FwPlacing *self = data;
    self->quiet = 0;
    desk_end_gesture(self->desk);
    return G_SOURCE_REMOVE;
}

void
fw_placing_settle(FwPlacing *self)
{
    if (!self->quiet)
        return;
    g_clear_handle_id(&self->quiet, g_source_remove);
    desk_end_gesture(self->desk);
}

void
fw_placing_nudge(FwPlacing *self, double dx, double dy)
{
    PlacementSpot spot;
    if (self->moving || !fw_placing_get(self, &spot))
        return;
    spot.x += dx;
    spot.y += dy;
    if (self->quiet)
        g_source_remove(self->quiet);
    else
        desk_begin_gesture(self->desk);
    self->quiet = g_timeout_add(QUIET, on_quiet_cb, self);
    fw_placing_put(self, &spot);
}

static void
place_again(FwPlacing *self)
{
    static const char *const paths[] = {"job.sprue_x", "job.sprue_y", "job.placement"};
    g_autoptr(GError) error = NULL;
    desk_begin_gesture(self->desk);
    for (guint i = 0; i < G_N_ELEMENTS(paths) && !error; i++)
        desk_edit_field(self->desk, paths[i], "", &error);
    desk_end_gesture(self->desk);
    self->waiting = FALSE;
    placing_say(self, error ? error->message : _("Placed by the program again"));
}

// Those that are not locked keep their places in the text too, in case no more fit another way.
static void
place_rest(FwPlacing *self)
{
    guint locked = 0;
    if (self->moving || !placing_take_up(self))
        return;
    for (guint i = 0; i < self->spots->len; i++)
        locked += placing_spot(self, i)->locked;
    if (locked == 0) {
        placing_say(self, _("Lock the cavities that are to stay first"));
        return;
    }
    UnitSet units = fw_placing_units(self);
    g_autoptr(GError) error = NULL;
    g_autofree char *text = placement_write_rest((PlacementSpot *)(gpointer)self->spots->data,
                                                 self->spots->len, &units);
    desk_edit_field(self->desk, "job.placement", text, &error);
    self->waiting = FALSE;
    g_autofree char *words = g_strdup_printf(ngettext("The rest placed round %u locked cavity",
                                                      "The rest placed round %u locked cavities",
                                                      locked),
                                             locked);
    placing_say(self, error ? error->message : words);
}

static gboolean
copy_chosen(FwPlacing *self)
{
    if (self->spots->len >= PLACEMENT_MOST) {
        placing_say(self, _("There are as many cavities as can be placed by hand"));
        return FALSE;
    }
    PlacementSpot spot;
    self->crowded = !placing_beside(self->now, self->spots, self->chosen - 1, self->sprue_x,
                                    self->sprue_y, &spot);
    guint at = placing_next(self->spots, spot.guest);
    g_array_insert_val(self->spots, at, spot);
    self->wanted = at + 1;
    placing_set_chosen(self, self->wanted, FALSE);
    return TRUE;
}

static gboolean
remove_chosen(FwPlacing *self)
{
    if (self->spots->len == 1) {
        placing_say(self, _("The last cavity stays"));
        return FALSE;
    }
    g_array_remove_index(self->spots, self->chosen - 1);
    self->wanted = MIN(self->chosen, self->spots->len);
    placing_set_chosen(self, self->wanted, FALSE);
    return TRUE;
}

// Does it to the spots; FALSE when there is nothing to do.
static gboolean
change(FwPlacing *self, const char *what)
{
    guint index = self->chosen - 1;
    if (g_str_equal(what, "turn") || g_str_equal(what, "turn-back")) {
        placing_turn(placing_spot(self, index), g_str_equal(what, "turn") ? 1 : -1);
        return TRUE;
    }
    if (g_str_equal(what, "mirror"))
        return placing_mirror(self->now, self->spots, index);
    if (g_str_equal(what, "copy"))
        return copy_chosen(self);
    if (g_str_equal(what, "delete"))
        return remove_chosen(self);
    if (g_str_equal(what, "lock")) {
        placing_spot(self, index)->locked = !placing_spot(self, index)->locked;
        return TRUE;
    }
    gboolean column = g_str_equal(what, "align-column");
    g_return_val_if_fail(column || g_str_equal(what, "align-row"), FALSE);
    if (placing_align(self->now, self->spots, index, column) > 0)
        return TRUE;
    placing_say(self, column ? _("No other cavity stands in this column")
                             : _("No other cavity stands in this row"));
    return FALSE;
}

void
fw_placing_do(FwPlacing *self, const char *what)
{
    fw_placing_settle(self);
    if (g_str_equal(what, "again")) {
        place_again(self);
        return;
    }
    if (g_str_equal(what, "rest")) {
        place_rest(self);
        return;
    }
    if (self->moving || !placing_take_up(self))
        return;
    if (self->chosen == 0 || self->chosen > self->spots->len) {
        placing_say(self, _("Choose a cavity first"));
        return;
    }
    gboolean any = g_str_equal(what, "copy") || g_str_equal(what, "lock") ||
                   g_str_has_prefix(what, "align");
    if ((!any && placing_refuse_locked(self)) || !change(self, what))
        return;
    placing_lay_out(self);
    placing_commit(self);
    if (g_str_equal(what, "lock"))
        placing_say(self, fw_placing_is_locked(self, self->chosen) ? _("Locked") : _("Unlocked"));
    else if (g_str_equal(what, "copy") && self->crowded)
        placing_say(self, _("There is no room for one more: move it, or take a larger flask"));
    else
        placing_say_place(self);
}
