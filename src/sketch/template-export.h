// SPDX-License-Identifier: GPL-3.0-or-later
// The boards' outlines as files in true size: of one board or of both.
#pragma once

#include "sketch/template.h"

G_BEGIN_DECLS

typedef enum {
    TEMPLATE_COPE_BOARD,
    TEMPLATE_DRAG_BOARD,
    TEMPLATE_BOTH_BOARDS
} TemplateBoards;

// "cope", "drag" or "both"; FALSE for another name.
gboolean template_boards_find(const char *name, TemplateBoards *boards);

// Where they go: `path` itself, or for both the name with "-cope" and "-drag" before its ending.
// NULL-terminated; free with g_strfreev().
char **template_paths(const char *path, TemplateBoards boards);

// Writes them as true_size_export() does, by the ending. `replace` counts for `path` itself; the
// two names made from it are never overwritten, since nobody was asked. FALSE with an error and,
// of both, without a file.
gboolean template_export(const Plan *plan, TemplateBoards boards, const char *path,
                         gboolean replace, GError **error);

G_END_DECLS
