// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces as files to print from: one file a piece, all of them or none.
#pragma once

#include "board/board.h"

G_BEGIN_DECLS

typedef enum {
    BOARD_STL,
    BOARD_3MF,
    BOARD_FORMATS
} BoardFormat;

const char *board_format_suffix(BoardFormat format); // "stl"; static
gboolean board_format_find(const char *suffix, BoardFormat *format);

// Paths of the pieces' files that are in the folder already. NULL-terminated; free with g_strfreev.
char **board_files_there(const BoardResult *boards, const char *folder, BoardFormat format);

// Makes the folder if need be. The files are written beside their places and moved there when all
// are whole, so that a failure or a stop leaves the folder as it was; only moving itself can fail
// half way, and then files that were replaced stay new. Existing files are replaced only if
// `replace`.
gboolean board_files_write(const BoardResult *boards, const char *folder, BoardFormat format,
                           gboolean replace, Progress *progress, GError **error);

G_END_DECLS
