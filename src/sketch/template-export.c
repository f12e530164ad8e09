// SPDX-License-Identifier: GPL-3.0-or-later
// One file a board, all or none.
#include "sketch/template-export.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "base/error.h"
#include "sketch/true-size.h"

static const char *const names[] = {"cope", "drag", "both"};

gboolean
template_boards_find(const char *name, TemplateBoards *boards)
{
    g_return_val_if_fail(name != NULL && boards != NULL, FALSE);
    for (guint i = 0; i < G_N_ELEMENTS(names); i++)
        if (g_str_equal(name, names[i])) {
            *boards = (TemplateBoards)i;
            return TRUE;
        }
    return FALSE;
}

char **
template_paths(const char *path, TemplateBoards boards)
{
    g_return_val_if_fail(path != NULL && boards <= TEMPLATE_BOTH_BOARDS, NULL);
    if (boards != TEMPLATE_BOTH_BOARDS) {
        char **one = g_new0(char *, 2);
        one[0] = g_strdup(path);
        return one;
    }
    const char *slash = strrchr(path, G_DIR_SEPARATOR), *dot = strrchr(path, '.');
    gboolean ends = dot && (!slash || dot > slash + 1);
    int length = (int)(ends ? (gsize)(dot - path) : strlen(path));
    char **two = g_new0(char *, 3);
    for (int i = 0; i < 2; i++)
        two[i] = g_strdup_printf("%.*s-%s%s", length, path, names[i], ends ? dot : "");
    return two;
}

gboolean
template_export(const Plan *plan, TemplateBoards boards, const char *path, gboolean replace,
                GError **error)
{
    g_return_val_if_fail(plan != NULL && path != NULL && boards <= TEMPLATE_BOTH_BOARDS, FALSE);
    g_auto(GStrv) paths = template_paths(path, boards);
    gboolean both = boards == TEMPLATE_BOTH_BOARDS;
    for (guint i = 0; both && paths[i]; i++)
        if (g_file_test(paths[i], G_FILE_TEST_EXISTS))
            return base_error_set(error, BASE_ERROR_FILE, paths[i], NULL, _("is there already"),
                                  _("give another name"));
    for (guint i = 0; paths[i]; i++) {
        gboolean drag = both ? i == 1 : boards == TEMPLATE_DRAG_BOARD;
        g_autoptr(Scene) scene = sketch_template_scene(plan, drag ? TEMPLATE_DRAG : TEMPLATE_COPE,
                                                       error);
        if (scene && true_size_export(scene, NULL, paths[i], replace && !both, error))
            continue;
        for (guint k = 0; k < i; k++)
            g_unlink(paths[k]);
        return FALSE;
    }
    return TRUE;
}
