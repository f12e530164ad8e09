// SPDX-License-Identifier: GPL-3.0-or-later
// The action table and what is made from it.
#include "window/actions.h"

#include <glib/gi18n.h>

static const ActionRow rows[] = {
    {"win.new-book", N_("New from a mesh…"), "<Control>n", N_("Book")},
    {"win.open", N_("Open…"), "<Control>o", N_("Book")},
    {"win.save", N_("Save"), "<Control>s", N_("Book")},
    {"win.save-as", N_("Save as…"), "<Control><Shift>s", N_("Book")},
    {"win.demo", N_("Open the demo"), NULL, N_("Book")},
    {"win.new-job", N_("New job from a mesh…"), "<Control>j", N_("Book")},
    {"win.export", N_("Export the sketch…"), "<Control>e", N_("Book")},
    {"win.export-boards::cope", N_("Outlines of the cope board (DXF)…"), NULL, N_("Book")},
    {"win.export-boards::drag", N_("Outlines of the drag board (DXF)…"), NULL, N_("Book")},
    {"win.export-boards::both", N_("Outlines of both boards (DXF)…"), "<Control><Shift>e",
     N_("Book")},
    {"win.write-patterns", N_("Write the patterns to print…"), "<Control><Shift>p", N_("Book")},
    {"win.export-calendar", N_("Export calendar…"), "<Control><Shift>k", N_("Book")},
    {"win.print-traveller", N_("Print the traveller…"), "<Control><Shift>j", N_("Book")},
    {"win.export-traveller", N_("Export the traveller…"), NULL, N_("Book")},
    {"win.print-timeline", N_("Print the timeline…"), "<Control><Alt>p", N_("Book")},
    {"win.export-timeline", N_("Export the timeline…"), "<Control><Alt>e", N_("Book")},
    {"win.close", N_("Close the window"), "<Control>w", N_("Book")},
    {"win.undo", N_("Undo"), "<Control>z", N_("Editing")},
    {"win.redo", N_("Redo"), "<Control><Shift>z", N_("Editing")},
    {"win.stop", N_("Stop computing"), "<Control>period", N_("Editing")},
    {"win.stop-writing", N_("Stop writing patterns"), "<Control><Shift>period", N_("Editing")},
    {"win.nudge::right", N_("Move it a millimetre: arrows (Shift: ten, Alt: a tenth)"), "Right",
     N_("Placing in the flask"), TRUE},
    {"win.cavity-values", N_("Where it stands…"), "Return", N_("Placing in the flask"), TRUE},
    {"win.turn-cavity", N_("Turn by 15 degrees"), "r", N_("Placing in the flask"), TRUE},
    {"win.turn-cavity-back", N_("Turn back by 15 degrees"), "<Shift>r", N_("Placing in the flask"),
     TRUE},
    {"win.mirror-cavity", N_("To the other side of the runner"), "m", N_("Placing in the flask"),
     TRUE},
    {"win.copy-cavity", N_("One more beside it"), "<Control>d", N_("Placing in the flask"), TRUE},
    {"win.delete-cavity", N_("Take it out"), "Delete", N_("Placing in the flask"), TRUE},
    {"win.lock-cavity", N_("Lock or unlock"), "l", N_("Placing in the flask"), TRUE},
    {"win.align-row", N_("Align the row with it"), "<Control><Alt>h", N_("Placing in the flask"),
     TRUE},
    {"win.align-column", N_("Align the column with it"), "<Control><Alt>v",
     N_("Placing in the flask"), TRUE},
    {"win.explain-part", N_("Explain its sand"), "space", N_("Placing in the flask"), TRUE},
    {"win.place-rest", N_("Place the rest round the locked ones"), "<Shift>l",
     N_("Placing in the flask"), TRUE},
    {"win.place-again", N_("Place by the program again"), NULL, N_("Placing in the flask")},
    {"win.move-cut::on", N_("Move the plane of a section on"), "Page_Up",
     N_("Placing in the flask"), TRUE},
    {"win.move-cut::back", N_("Move the plane of a section back"), "Page_Down",
     N_("Placing in the flask"), TRUE},
    {"win.measure", N_("Measure in the flask"), "u", N_("Placing in the flask"), TRUE},
    {"win.nudge-task::later", N_("Begin the task 5 minutes later"), "<Control>Right",
     N_("Session timeline"), TRUE},
    {"win.nudge-task::earlier", N_("Begin the task 5 minutes earlier"), "<Control>Left",
     N_("Session timeline"), TRUE},
    {"win.free-task", N_("Let the plan place the task again (or Delete)"), "BackSpace",
     N_("Session timeline"), TRUE},
    {"win.free-tasks", N_("Reset all moved tasks"), NULL, N_("Session timeline")},
    {"win.explain-task", N_("Explain the task"), NULL, N_("Session timeline")},
    {"win.view::plan", N_("Plan view of the flask"), "<Control>1", N_("View")},
    {"win.view::section", N_("Section through the flask"), "<Control>2", N_("View")},
    {"win.view::cope", N_("Cope from above"), "<Control>5", N_("View")},
    {"win.view::drag", N_("Drag from above"), "<Control>6", N_("View")},
    {"win.view::across", N_("Section across the flask"), "<Control>7", N_("View")},
    {"win.view::end", N_("Flask from the end"), "<Control>8", N_("View")},
    {"win.view::stack", N_("Flask taken apart"), "<Control>9", N_("View")},
    {"win.view::modulus", N_("Where the casting is heavy"), "<Alt>1", N_("View")},
    {"win.view::filling", N_("How the mould fills"), "<Alt>2", N_("View")},
    {"win.view::gains", N_("What more would bring a session"), "<Alt>3", N_("View")},
    {"win.view::casting", N_("Section through the rough casting"), "<Control>4", N_("View")},
    {"win.view::pull", N_("Pull: which way the part draws"), "<Control>3", N_("View")},
    {"win.view::calendar", N_("Calendar of the sessions of all jobs"), "<Control><Shift>c",
     N_("View")},
    {"win.inspect::inputs", N_("Inputs of the step"), "<Control>i", N_("View")},
    {"win.inspect::figures", N_("Figures of the step"), "<Control>g", N_("View")},
    {"win.inspect::pieces", N_("Pieces to print"), "<Control>p", N_("View")},
    {"win.find", N_("Find an input or a figure of the step"), "<Control>f", N_("View")},
    {"win.start-day", N_("Start the day, or go on with it"), "<Control>t", N_("View")},
    {"win.results", N_("How the castings turned out"), "<Control>r", N_("View")},
    {"win.back-to-plan", N_("Back to the plan"), "<Control><Shift>t", N_("View")},
    {"win.zoom-in", N_("Zoom in"), "<Control>plus", N_("View")},
    {"win.zoom-out", N_("Zoom out"), "<Control>minus", N_("View")},
    {"win.fit", N_("Show the whole sketch"), "<Control>0", N_("View")},
    {"win.shortcuts", N_("Keyboard shortcuts"), "<Control>question", N_("Help")},
    {"win.about", N_("About Flaskwright"), NULL, N_("Help")},
};

guint
actions_count(void)
{
    return G_N_ELEMENTS(rows);
}

const ActionRow *
actions_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(rows), NULL);
    return &rows[index];
}

void
actions_set_accels(GtkApplication *app)
{
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        const char *accels[] = {rows[i].accel, NULL};
        if (rows[i].accel && !rows[i].local)
            gtk_application_set_accels_for_action(app, rows[i].name, accels);
    }
}

static void
append_group(GString *ui, const char *group)
{
    g_autofree char *title = g_markup_escape_text(_(group), -1);
    g_string_append_printf(ui,
                           "<child><object class='GtkShortcutsGroup'>"
                           "<property name='title'>%s</property>",
                           title);
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        if (!rows[i].accel || !g_str_equal(rows[i].group, group))
            continue;
        g_autofree char *label = g_markup_escape_text(_(rows[i].label), -1);
        g_autofree char *accel = g_markup_escape_text(rows[i].accel, -1);
        g_string_append_printf(ui,
                               "<child><object class='GtkShortcutsShortcut'>"
                               "<property name='title'>%s</property>"
                               "<property name='accelerator'>%s</property></object></child>",
                               label, accel);
    }
    g_string_append(ui, "</object></child>");
}

GtkWidget *
actions_shortcuts_window(void)
{
    g_autoptr(GString) ui = g_string_new("<interface><object class='GtkShortcutsWindow' id='w'>"
                                         "<property name='modal'>1</property>"
                                         "<child><object class='GtkShortcutsSection'>"
                                         "<property name='section-name'>all</property>");
    const char *last = NULL;
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        if (!last || !g_str_equal(last, rows[i].group))
            append_group(ui, rows[i].group);
        last = rows[i].group;
    }
    g_string_append(ui, "</object></child></object></interface>");
    g_autoptr(GtkBuilder) builder = gtk_builder_new_from_string(ui->str, -1);
    return GTK_WIDGET(gtk_builder_get_object(builder, "w"));
}
