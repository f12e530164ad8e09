// SPDX-License-Identifier: GPL-3.0-or-later
// Gathers the pieces and measures them.
#include "board/board.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "board/pieces.h"
#include "board/riser.h"
#include "board/skin.h"
#include "solid/measure.h"

const char *const board_reads[] = {"job.board_thickness",
                                   "job.board_rim",
                                   "job.draft",
                                   "job.contraction",
                                   "printer.bed_x",
                                   "printer.bed_y",
                                   "printer.bed_z",
                                   "printer.detail",
                                   "printer.dowel",
                                   "printer.dowel_play",
                                   "printer.filament_density",
                                   "printer.shell",
                                   "printer.fill",
                                   "printer.rate",
                                   NULL};

gboolean
board_options(const Inputs *inputs, BoardOptions *o, GError **error)
{
    for (int i = 0; board_reads[i]; i++)
        if (isnan(inputs_number(inputs, board_reads[i])))
            return base_error_setf(error, BASE_ERROR_VALUE, NULL, NULL, _("put it in"),
                                   _("\"%s\" is not known"), board_reads[i]);
    *o = (BoardOptions){.thickness = inputs_number(inputs, "job.board_thickness"),
                        .rim = inputs_number(inputs, "job.board_rim"),
                        .bed = vec3(inputs_number(inputs, "printer.bed_x"),
                                    inputs_number(inputs, "printer.bed_y"),
                                    inputs_number(inputs, "printer.bed_z")),
                        .detail = inputs_number(inputs, "printer.detail"),
                        .dowel = inputs_number(inputs, "printer.dowel"),
                        .dowel_play = inputs_number(inputs, "printer.dowel_play"),
                        .filament_density = inputs_number(inputs, "printer.filament_density"),
                        .shell = inputs_number(inputs, "printer.shell"),
                        .fill = inputs_number(inputs, "printer.fill"),
                        .draft = inputs_number(inputs, "job.draft"),
                        .contraction = inputs_number(inputs, "job.contraction"),
                        .most_cells = BOARD_MOST_CELLS};
    return TRUE;
}

static void
clear_piece(gpointer data)
{
    BoardPiece *piece = data;
    g_free(piece->name);
    g_free(piece->places);
    solid_mesh_unref(piece->mesh);
}

static void
clear_result(gpointer data)
{
    BoardResult *r = data;
    for (guint i = 0; i < r->n_pieces; i++)
        clear_piece(&r->pieces[i]);
    g_free(r->pieces);
    g_strfreev(r->notes);
}

BoardResult *
board_result_ref(const BoardResult *result)
{
    return g_atomic_rc_box_acquire((BoardResult *)result);
}

void
board_result_unref(const BoardResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((BoardResult *)result, clear_result);
}

Vec3
board_point(const BoardPiece *piece, guint place, Vec3 p)
{
    const BoardPlace *at = &piece->places[place];
    if (at->over)
        p = vec3(p.x, -p.y, -p.z);
    double c = cos(at->turn), s = sin(at->turn);
    p = vec3(at->x + c * p.x - s * p.y, at->y + s * p.x + c * p.y, at->z + p.z);
    return piece->side == BOARD_DRAG ? vec3(p.x, -p.y, -p.z) : p;
}

const char *
board_kind_id(BoardKind kind)
{
    static const char *const ids[BOARD_PIECE_KINDS] = {"board", "pattern", "runner", "sprue",
                                                       "basin", "riser",   "tab"};
    g_return_val_if_fail(kind < BOARD_PIECE_KINDS, NULL);
    return ids[kind];
}

const char *
board_kind_label(BoardKind kind)
{
    static const char *const labels[BOARD_PIECE_KINDS] = {
        N_("board"),      N_("half pattern"), N_("runner"),   N_("sprue pin"),
        N_("basin plug"), N_("riser pin"),    N_("index tab")};
    g_return_val_if_fail(kind < BOARD_PIECE_KINDS, NULL);
    return _(labels[kind]);
}

char *
board_piece_cut(const BoardPiece *piece)
{
    static const char names[] = "xyz";
    if (piece->parts < 2)
        return NULL;
    g_autoptr(GString) along = g_string_new(NULL);
    for (int axis = 0; axis < 3; axis++)
        if (piece->cut[axis] > 1)
            // Translators: so many parts along an axis: "3 along x".
            g_string_append_printf(along, "%s%d %s %c", along->len ? ", " : "", piece->cut[axis],
                                   _("along"), names[axis]);
    return g_strdup_printf(piece->joints > 0
                               ? _("Part %u of %u: too large for the printer's bed, so it is cut "
                                   "(%s). Dowels across the cuts join the parts.")
                               : _("Part %u of %u: too large for the printer's bed, so it is cut "
                                   "(%s). Glue the parts together on a flat plate."),
                           piece->part, piece->parts, along->str);
}

double
board_cell(const BoardWork *work, Vec3 size)
{
    return fmax(work->options->detail, cbrt(size.x * size.y * size.z / work->options->most_cells));
}

BoardPiece *
board_add_piece(BoardWork *work, const char *name, BoardKind kind, BoardSide side, SolidMesh *mesh,
                const BoardPlace *places, guint n)
{
    SolidMeasure m = solid_measure(mesh);
    const BoardOptions *o = work->options;
    double shell = fmin(m.volume, m.area * o->shell);
    BoardPiece piece = {.name = g_strdup(name),
                        .kind = kind,
                        .side = side,
                        .mesh = mesh,
                        .places = g_memdup2(places, n * sizeof *places),
                        .count = n,
                        .part = 1,
                        .parts = 1,
                        .cut = {1, 1, 1},
                        .volume = m.volume,
                        .area = m.area,
                        .shell = shell,
                        .mass = o->filament_density * (shell + o->fill * (m.volume - shell)),
                        .size = vec3_sub(m.max, m.min)};
    g_array_append_val(work->pieces, piece);
    return &g_array_index(work->pieces, BoardPiece, work->pieces->len - 1);
}

static const CutRecord *
find_record(const GPtrArray *records, const char *name)
{
    for (guint i = 0; records && i < records->len; i++)
        if (g_str_equal(((CutRecord *)records->pdata[i])->name, name))
            return records->pdata[i];
    return NULL;
}

gboolean
board_add_parts(BoardWork *work, SolidGrid *field, const char *name, BoardKind kind, BoardSide side,
                const BoardPlace *places, guint n, const GArray *bores, GError **error)
{
    const BoardOptions *o = work->options;
    gboolean on_board = kind != BOARD_PIECE_SPRUE && kind != BOARD_PIECE_BASIN &&
                        kind != BOARD_PIECE_RISER;
    CutOptions cut = {.bed = o->bed,
                      .detail = o->detail,
                      .radius = (o->dowel + o->dowel_play) / 2,
                      .length = 2.5 * o->dowel,
                      .foot = on_board,
                      .bores = bores,
                      .guide = find_record(work->guide, name)};
    CutRecord *record = cut_record_new(name);
    g_ptr_array_add(work->records, record);
    g_autoptr(GPtrArray) parts = cut_field(field, &cut, record, work->progress, error);
    if (!parts)
        return FALSE;
    if (work->guide) // the coarse pieces tell how many there will be
        progress_set_fraction(work->progress,
                              MIN(0.95, (double)work->records->len / (work->guide->len + 1)));
    for (guint i = 0; i < parts->len; i++) {
        CutPart *part = g_ptr_array_index(parts, i);
        g_autofree char *own = parts->len > 1 ? g_strdup_printf("%s-%u", name, i + 1)
                                              : g_strdup(name);
        g_autofree BoardPlace *moved = g_memdup2(places, n * sizeof *places);
        for (guint k = 0; k < n; k++)
            moved[k].z += moved[k].over ? -part->z : part->z;
        BoardPiece *piece = board_add_piece(work, own, kind, side, g_steal_pointer(&part->mesh),
                                            moved, n);
        piece->cell = field->cell;
        piece->part = i + 1;
        piece->parts = parts->len;
        memcpy(piece->cut, record->counts, sizeof piece->cut);
        piece->joints = part->joints;
        piece->n_dowels = part->n_dowels;
        for (guint d = 0; d < part->n_dowels; d++)
            piece->dowels[d] = part->dowels[d];
        if (part->z == 0 && part->n_dowels == 0 && on_board)
            g_ptr_array_add(work->notes,
                            g_strdup_printf(_("%s is too small for dowels: mark its place on the "
                                              "board and glue it"),
                                            own));
    }
    if (parts->len > 1 && ((CutPart *)parts->pdata[0])->joints == 0)
        g_ptr_array_add(work->notes,
                        g_strdup_printf(_("%s is cut where it is too thin for dowels: glue it on "
                                          "a flat plate"),
                                        name));
    return TRUE;
}

SolidGrid *
board_field_new(Vec3 low, Vec3 high, double cell, GError **error)
{
    double margin = 2 * cell;
    Vec3 from = vec3(low.x - margin, low.y - margin, cell / 2);
    double n[3] = {ceil((high.x + margin - from.x) / cell) + 1,
                   ceil((high.y + margin - from.y) / cell) + 1, ceil(high.z / cell) + 2};
    SolidGrid *grid = NULL;
    if (n[0] * n[1] * n[2] < 1e9)
        grid = solid_grid_new((int)n[0], (int)n[1], (int)n[2], cell, from);
    if (!grid) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL,
                       _("a pattern needs more cells than can be held"),
                       _("make the printer's finest detail coarser"));
        return NULL;
    }
    gsize total = (gsize)grid->nx * grid->ny * grid->nz;
    for (gsize i = 0; i < total; i++)
        grid->value[i] = 1;
    return grid;
}

static BoardResult *
make_result(BoardWork *work)
{
    BoardResult *r = g_atomic_rc_box_new0(BoardResult);
    g_array_set_clear_func(work->pieces, NULL);
    r->n_pieces = work->pieces->len;
    r->pieces = (BoardPiece *)(gpointer)g_array_free(g_steal_pointer(&work->pieces), FALSE);
    for (guint i = 0; i < r->n_pieces; i++) {
        r->count += r->pieces[i].count;
        r->volume += r->pieces[i].count * r->pieces[i].volume;
        r->mass += r->pieces[i].count * r->pieces[i].mass;
        r->shell += r->pieces[i].count * r->pieces[i].shell;
    }
    g_ptr_array_add(work->notes, NULL);
    r->notes = (char **)g_ptr_array_free(g_steal_pointer(&work->notes), FALSE);
    r->tab_depth = board_tab_depth(work->options, work->layout);
    r->tab_taper = board_tab_taper(work->options, work->layout);
    r->detail = work->detail;
    return r;
}

// The cuts and dowels go where `guide` has them, and into `records`: of CutRecord.
static BoardResult *
make_pieces(const BoardOptions *options, const PatternResult *pattern, const MouldLayout *layout,
            const GPtrArray *guide, GPtrArray *records, Progress *progress, GError **error)
{
    BoardWork work = {.options = options,
                      .pattern = pattern,
                      .layout = layout,
                      .guide = guide,
                      .records = records,
                      .pieces = g_array_new(FALSE, FALSE, sizeof(BoardPiece)),
                      .notes = g_ptr_array_new_with_free_func(g_free),
                      .detail = options->detail,
                      .progress = progress};
    g_array_set_clear_func(work.pieces, clear_piece);
    BoardResult *result = NULL;
    if (board_add_cavities(&work, error) && board_add_gating(&work, error) &&
        board_add_risers(&work, error) && board_add_tabs(&work, error) &&
        board_add_plates(&work, error))
        result = make_result(&work);
    g_clear_pointer(&work.pieces, g_array_unref);
    g_clear_pointer(&work.notes, g_ptr_array_unref);
    return result;
}

BoardResult *
board_make(const BoardOptions *options, const PatternResult *pattern, const MouldLayout *layout,
           Progress *progress, GError **error)
{
    g_return_val_if_fail(options->detail > 0 && options->dowel > 0, NULL);
    g_return_val_if_fail(options->most_cells > 0, NULL);
    if (layout->n_cavities == 0) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, _("no cavity fits the flask"),
                       _("choose a larger flask; the plan says what would do"));
        return NULL;
    }
    progress_set_words(progress, _("Making the patterns"));
    // What is printed follows what the plan said, down to the dowels: where they are decides how
    // the boards are cut.
    g_autoptr(GPtrArray) first = g_ptr_array_new_with_free_func((GDestroyNotify)cut_record_free);
    g_autoptr(GPtrArray) second = g_ptr_array_new_with_free_func((GDestroyNotify)cut_record_free);
    BoardOptions coarse = *options;
    coarse.most_cells = fmin(options->most_cells, BOARD_FEW_CELLS);
    BoardResult *result = make_pieces(&coarse, pattern, layout, NULL, first, progress, error);
    if (result && options->most_cells > coarse.most_cells) {
        board_result_unref(result);
        result = make_pieces(options, pattern, layout, first, second, progress, error);
    }
    progress_set_fraction(progress, 1);
    return result;
}
