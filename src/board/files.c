// SPDX-License-Identifier: GPL-3.0-or-later
// Writes into a hidden folder inside the one asked for, so that moving is no copying.
#include "board/files.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "base/error.h"
#include "solid/write.h"

static const char *const suffixes[BOARD_FORMATS] = {"stl", "3mf"};

const char *
board_format_suffix(BoardFormat format)
{
    g_return_val_if_fail(format < BOARD_FORMATS, NULL);
    return suffixes[format];
}

gboolean
board_format_find(const char *suffix, BoardFormat *format)
{
    for (guint i = 0; i < BOARD_FORMATS; i++)
        if (g_strcmp0(suffixes[i], suffix) == 0) {
            *format = (BoardFormat)i;
            return TRUE;
        }
    return FALSE;
}

static char *
path_of(const BoardPiece *piece, const char *folder, BoardFormat format)
{
    g_autofree char *base = g_strdup_printf("%s.%s", piece->name, suffixes[format]);
    return g_build_filename(folder, base, NULL);
}

char **
board_files_there(const BoardResult *boards, const char *folder, BoardFormat format)
{
    g_return_val_if_fail(format < BOARD_FORMATS, NULL);
    g_autoptr(GStrvBuilder) there = g_strv_builder_new();
    for (guint i = 0; i < boards->n_pieces; i++) {
        g_autofree char *path = path_of(&boards->pieces[i], folder, format);
        if (g_file_test(path, G_FILE_TEST_EXISTS) || g_file_test(path, G_FILE_TEST_IS_SYMLINK))
            g_strv_builder_add(there, path);
    }
    return g_strv_builder_end(there);
}

// What would stop the files from getting to their places is looked for before any is written.
static gboolean
check_places(const BoardResult *boards, const char *folder, BoardFormat format, gboolean replace,
             GError **error)
{
    if (g_mkdir_with_parents(folder, 0777) != 0)
        return base_error_set(error, BASE_ERROR_FILE, folder, NULL, _("the folder cannot be made"),
                              _("choose another"));
    g_auto(GStrv) there = board_files_there(boards, folder, format);
    for (char **path = there; *path; path++) {
        if (!replace)
            return base_error_set(error, BASE_ERROR_FILE, *path, NULL,
                                  _("the file is already there"), _("choose another folder"));
        if (g_file_test(*path, G_FILE_TEST_IS_DIR))
            return base_error_set(error, BASE_ERROR_FILE, *path, NULL,
                                  _("a folder stands where the file is to go"),
                                  _("choose another folder"));
    }
    return TRUE;
}

static gboolean
write_all(const BoardResult *boards, const char *folder, BoardFormat format, Progress *progress,
          GError **error)
{
    for (guint i = 0; i < boards->n_pieces; i++) {
        const BoardPiece *piece = &boards->pieces[i];
        g_autofree char *path = path_of(piece, folder, format);
        if (!progress_check(progress, error))
            return FALSE;
        if (!(format == BOARD_3MF ? solid_write_3mf(piece->mesh, piece->name, path, FALSE, error)
                                  : solid_write_stl(piece->mesh, path, FALSE, error)))
            return FALSE;
        progress_set_fraction(progress, (i + 1.0) / boards->n_pieces);
    }
    return progress_check(progress, error);
}

// New files that are in place when another cannot follow are taken away again.
static gboolean
move_all(const BoardResult *boards, const char *from, const char *to, BoardFormat format,
         gboolean replace, GError **error)
{
    for (guint i = 0; i < boards->n_pieces; i++) {
        g_autofree char *own = path_of(&boards->pieces[i], from, format);
        g_autofree char *place = path_of(&boards->pieces[i], to, format);
        if (solid_write_move(own, place, replace, error))
            continue;
        for (guint k = 0; k < i && !replace; k++) {
            g_autofree char *moved = path_of(&boards->pieces[k], to, format);
            g_unlink(moved);
        }
        return FALSE;
    }
    return TRUE;
}

static void
remove_hidden(const BoardResult *boards, const char *hidden, BoardFormat format)
{
    for (guint i = 0; i < boards->n_pieces; i++) {
        g_autofree char *path = path_of(&boards->pieces[i], hidden, format);
        g_unlink(path);
    }
    g_rmdir(hidden);
}

// A message names the folder that was asked for.
static void
name_folder(GError *error, const char *hidden, const char *folder)
{
    g_autoptr(GString) message = g_string_new(error->message);
    g_string_replace(message, hidden, folder, 0);
    g_free(error->message);
    error->message = g_strdup(message->str);
}

gboolean
board_files_write(const BoardResult *boards, const char *folder, BoardFormat format,
                  gboolean replace, Progress *progress, GError **error)
{
    g_return_val_if_fail(format < BOARD_FORMATS, FALSE);
    if (!check_places(boards, folder, format, replace, error))
        return FALSE;
    g_autofree char *hidden = g_build_filename(folder, ".patterns-XXXXXX", NULL);
    if (!g_mkdtemp_full(hidden, 0700))
        return base_error_set(error, BASE_ERROR_FILE, folder, NULL, g_strerror(errno),
                              _("choose another folder"));
    progress_set_words(progress, _("Writing the patterns"));
    progress_set_fraction(progress, 0);
    GError *failure = NULL;
    gboolean ok = write_all(boards, hidden, format, progress, &failure) &&
                  move_all(boards, hidden, folder, format, replace, &failure);
    remove_hidden(boards, hidden, format);
    if (failure) {
        name_folder(failure, hidden, folder);
        g_propagate_error(error, failure);
    }
    return ok;
}
