// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the patterns of a plan with the printer's finest facets and writes them to a folder, in a
// thread, one set at a time.
#pragma once

#include <gio/gio.h>

#include "board/files.h"
#include "plan/plan.h"

G_BEGIN_DECLS

typedef enum {
    PIECES_NOTHING, // never asked
    PIECES_WRITTEN,
    PIECES_STOPPED,
    PIECES_THERE, // files of these names are in the folder, and nobody said to replace them
    PIECES_FAILED
} PiecesEnd;

#define FW_TYPE_PIECE_WRITER (fw_piece_writer_get_type())
G_DECLARE_FINAL_TYPE(FwPieceWriter, fw_piece_writer, FW, PIECE_WRITER, GObject)

// Signal "changed": begun or ended.
FwPieceWriter *fw_piece_writer_new(void);
// Nothing happens while one is under way. `app`, or NULL, is kept from leaving meanwhile.
void fw_piece_writer_start(FwPieceWriter *writer, const Plan *plan, const BoardOptions *options,
                           const char *folder, BoardFormat format, gboolean replace,
                           GApplication *app);
// The last once more, the same plan's pieces, replacing what is there.
void fw_piece_writer_replace(FwPieceWriter *writer);
void fw_piece_writer_stop(FwPieceWriter *writer); // it ends soon after
gboolean fw_piece_writer_is_running(FwPieceWriter *writer);
double fw_piece_writer_fraction(FwPieceWriter *writer);
const char *fw_piece_writer_words(FwPieceWriter *writer); // what it is at, or ""

// How the last ended, and about what.
PiecesEnd fw_piece_writer_end(FwPieceWriter *writer);
const char *fw_piece_writer_folder(FwPieceWriter *writer);
guint fw_piece_writer_files(FwPieceWriter *writer);         // written, or there
guint fw_piece_writer_pieces(FwPieceWriter *writer);        // to be printed from them
const char *fw_piece_writer_first(FwPieceWriter *writer);   // path of the first that is there
const char *fw_piece_writer_trouble(FwPieceWriter *writer); // the whole message, or NULL

G_END_DECLS
