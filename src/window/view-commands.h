// SPDX-License-Identifier: GPL-3.0-or-later
// The commands that every widget with a drawing in it has, by action and by key.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct {
    const char *move, *zoom, *fit;       // names of actions of the class; not copied
    GtkWidgetActionActivateFunc on_move; // (ii): steps to the right and down
    GtkWidgetActionActivateFunc on_zoom; // d: a factor
    GtkWidgetActionActivateFunc on_fit;
} FwViewCommands;

// Role and style of a drawing, and the commands: arrows move, plus and minus zoom, 0 fits.
void fw_view_commands_install(GtkWidgetClass *widget, GtkAccessibleRole role,
                              const FwViewCommands *commands);
// For each such widget: it takes the focus and keeps its drawing within its bounds.
void fw_view_commands_start(GtkWidget *widget);
// Does Tab come to the drawing, not pass within it or leave it? A drawing is one stop.
gboolean fw_view_commands_enters(GtkWidget *widget, GtkDirectionType direction);

G_END_DECLS
