// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "board": the pieces to print, made with coarse facets, and what is asked of them.
#include <glib/gi18n-lib.h>

#include "board/board.h"
#include "board/pieces.h"
#include "book/field.h"

#define LARGEST_FILE 20.0 // MB

static const FigureSpec spec_pieces = {
    "board.pieces",
    N_("Pieces to print"),
    QUANTITY_COUNT,
    NULL,
    N_("Two boards, a half pattern a cavity and half of the mould, runners, sprue, basin and open "
       "risers; what is larger than the bed is cut and counts once a piece."),
    "geometry"};
static const FigureSpec spec_pattern = {
    "board.pattern_volume",
    N_("Half patterns"),
    QUANTITY_VOLUME,
    NULL,
    N_("The rough casting larger by the contraction, parted, with riser (of an open one the foot), "
       "neck and gate, less the holes for dowels; all cavities. Measured on coarse facets."),
    "geometry"};
static const FigureSpec spec_plate = {
    "board.plate_volume",
    N_("Pattern boards"),
    QUANTITY_VOLUME,
    NULL,
    N_("Both boards with tabs and pockets, less the holes for dowels, and loose tabs."),
    "geometry"};
static const FigureSpec spec_gating = {
    "board.gating_volume",
    N_("Patterns of the gating"),
    QUANTITY_VOLUME,
    NULL,
    N_("Runners with the well, the sprue's pin, the basin's plug and the pins of open risers. "
       "Measured on coarse facets."),
    "geometry"};
static const FigureSpec spec_volume = {
    "board.volume",
    N_("Volume of all pieces"),
    QUANTITY_VOLUME,
    "board.pattern_volume + board.plate_volume + board.gating_volume",
    NULL,
    "definition"};
static const FigureSpec spec_shell = {
    "board.shell_volume",
    N_("Of it in solid shells"),
    QUANTITY_VOLUME,
    NULL,
    N_("A printer lays solid shells under every surface and fills what is inside in part: of each "
       "piece the surface times the shell's thickness, or all of a piece that is thinner."),
    "common-practice"};
static const FigureSpec spec_filament = {
    "board.filament_volume",
    N_("Filament, volume"),
    QUANTITY_VOLUME,
    "board.shell_volume + printer.fill * (board.volume - board.shell_volume)",
    NULL,
    "common-practice"};
static const FigureSpec spec_mass = {"board.filament_mass",
                                     N_("Filament"),
                                     QUANTITY_MASS,
                                     "printer.filament_density * board.filament_volume",
                                     NULL,
                                     "definition"};
static const FigureSpec spec_time = {"board.print_time",
                                     N_("Printing time"),
                                     QUANTITY_TIME,
                                     "board.filament_volume / printer.rate",
                                     NULL,
                                     "common-practice"};
static const FigureSpec spec_bed = {
    "board.bed_share",
    N_("Largest piece on the bed"),
    QUANTITY_RATIO,
    NULL,
    N_("Of each piece the side that leaves least room on the bed or under the print height, over "
       "the room there is, lying the better way round; the largest of all pieces."),
    "geometry",
    FIGURE_AT_MOST,
    0};
static const FigureSpec spec_draw = {"board.draw_depth",
                                     N_("Deepest draw"),
                                     QUANTITY_LENGTH,
                                     NULL,
                                     N_("Height of the highest half pattern above its board, riser "
                                        "and contraction included."),
                                     "geometry"};
static const FigureSpec spec_least = {"board.least_wall",
                                      N_("Thinnest wall that can be made"),
                                      QUANTITY_LENGTH,
                                      "2 * printer.detail",
                                      NULL,
                                      "common-practice"};
static const FigureSpec spec_thinnest = {"board.thinnest",
                                         N_("Thinnest wall of the pattern"),
                                         QUANTITY_LENGTH,
                                         "casting.min_wall * (1 + job.contraction)",
                                         NULL,
                                         "geometry",
                                         FIGURE_AT_LEAST,
                                         0.1};
static const FigureSpec spec_facets = {
    "board.facets",
    N_("Most facets of a file, at most"),
    QUANTITY_COUNT,
    NULL,
    N_("Triangles of each piece's coarse skin times the square of coarse over finest cell: flat "
       "places are thinned, so their number grows more slowly than that. At 390 000 the facets "
       "stop getting finer."),
    "geometry"};
static const FigureSpec spec_size = {"board.file_size",
                                     N_("Largest file, at most, MB"),
                                     QUANTITY_NUMBER,
                                     "(84 + 50 * board.facets) / 1000000", // a binary STL
                                     NULL,
                                     "definition",
                                     FIGURE_AT_MOST,
                                     0};

static const FigureSpec *const specs[] = {
    &spec_pieces, &spec_pattern,  &spec_plate,    &spec_gating, &spec_volume,
    &spec_shell,  &spec_filament, &spec_mass,     &spec_time,   &spec_bed,
    &spec_draw,   &spec_least,    &spec_thinnest, &spec_facets, &spec_size};

double
board_bed_share(Vec3 size, Vec3 bed)
{
    double straight = fmax(size.x / bed.x, size.y / bed.y);
    double turned = fmax(size.x / bed.y, size.y / bed.x);
    double share = fmax(fmin(straight, turned), size.z / bed.z);
    return fabs(share - 1) < 1e-9 ? 1 : share; // a board cut to the bed fits it
}

double
board_facets(const BoardPiece *piece, const BoardOptions *o)
{
    double finer = piece->cell > 0 ? piece->cell / o->detail : 1;
    return fmin(BOARD_MOST_TRIANGLES, ceil(piece->mesh->n_triangles * finer * finer));
}

typedef struct {
    double volume[BOARD_PIECE_KINDS]; // m3
    double bed, draw, facets;
    const BoardPiece *largest;
} Sums;

static Sums
sum_up(const BoardResult *r, const BoardOptions *o)
{
    Sums s = {{0}, 0, 0, 0, NULL};
    for (guint i = 0; i < r->n_pieces; i++) {
        const BoardPiece *p = &r->pieces[i];
        double share = board_bed_share(p->size, o->bed);
        s.volume[p->kind] += p->count * p->volume;
        if (share > s.bed) {
            s.bed = share;
            s.largest = p;
        }
        if (p->kind == BOARD_PIECE_PATTERN)
            s.draw = fmax(s.draw, p->size.z + p->places[0].z);
        s.facets = fmax(s.facets, board_facets(p, o));
    }
    return s;
}

static void
add_volumes(FigureList *figures, const BoardResult *r, const Sums *s, const BoardOptions *o)
{
    double gating = s->volume[BOARD_PIECE_RUNNER] + s->volume[BOARD_PIECE_SPRUE] +
                    s->volume[BOARD_PIECE_BASIN] + s->volume[BOARD_PIECE_RISER];
    double pattern = s->volume[BOARD_PIECE_PATTERN],
           plate = s->volume[BOARD_PIECE_BOARD] +
                   s->volume[BOARD_PIECE_TAB]; // loose tabs go with the boards they stand on
    figure_add(figures, &spec_pieces, r->count, "mould.cavities", "printer.bed_x", "printer.bed_y",
               "printer.bed_z", NULL);
    figure_add(figures, &spec_pattern, pattern, "mould.cavities", "casting.volume",
               "job.contraction", "job.draft", "printer.dowel", NULL);
    figure_add(figures, &spec_plate, plate, "flask.length", "flask.width", "job.board_rim",
               "job.board_thickness", "printer.dowel", NULL);
    figure_add(figures, &spec_gating, gating, "mould.gating_volume", "job.draft", NULL);
    double volume = pattern + plate + gating;
    figure_add(figures, &spec_volume, volume, "board.pattern_volume", "board.plate_volume",
               "board.gating_volume", NULL);
    figure_add(figures, &spec_shell, r->shell, "board.volume", "printer.shell", NULL);
    double filament = r->shell + o->fill * (volume - r->shell);
    figure_add(figures, &spec_filament, filament, "board.shell_volume", "printer.fill",
               "board.volume", NULL);
    figure_add(figures, &spec_mass, o->filament_density * filament, "printer.filament_density",
               "board.filament_volume", NULL);
    figure_add(figures, &spec_time, filament / figure_list_value(figures, "printer.rate"),
               "board.filament_volume", "printer.rate", NULL);
}

static void
limit_thinnest(Figure *figure, double least)
{
    figure_limit(figure, least, "board.least_wall");
    g_autofree char *wall = field_words("job.min_wall");
    g_autofree char *detail = field_words("printer.detail");
    if (figure->state == FIGURE_FAILS)
        figure_set_note(figure,
                        _("The pattern's facets lose so thin a wall: thicken it with %s, or make "
                          "%s smaller."),
                        wall, detail);
    else if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure,
                        _("Hardly thicker than the pattern's facets can show: a smaller %s makes "
                          "it sure."),
                        detail);
}

static void
add_checks(FigureList *figures, const Sums *s, const BoardOptions *o)
{
    Figure *bed = figure_add(figures, &spec_bed, s->bed, "printer.bed_x", "printer.bed_y",
                             "printer.bed_z", NULL);
    figure_limit(bed, 1, NULL);
    if (s->largest)
        figure_set_note(bed, "%s", s->largest->name);
    figure_add(figures, &spec_draw, s->draw, "pattern.depth_of_draw", "job.contraction",
               "feed.riser_height", NULL);
    figure_add(figures, &spec_least, 2 * o->detail, "printer.detail", NULL);
    double wall = figure_list_value(figures, "casting.min_wall") * (1 + o->contraction);
    Figure *thinnest = figure_add(figures, &spec_thinnest, wall, "casting.min_wall",
                                  "job.contraction", NULL);
    limit_thinnest(thinnest, 2 * o->detail);
    figure_add(figures, &spec_facets, s->facets, "printer.detail", NULL);
    Figure *size = figure_add(figures, &spec_size, (84 + 50 * s->facets) / 1000000, "board.facets",
                              NULL);
    figure_limit(size, LARGEST_FILE, NULL);
    if (s->facets >= BOARD_MOST_TRIANGLES)
        figure_set_note(size, "%s",
                        _("facets may get coarser than the printer's finest detail, so that the "
                          "file keeps to its limit"));
}

// Every figure as unknown, for want of `missing`.
static void
add_unknown(FigureList *figures, const char *missing)
{
    for (guint i = 0; i < G_N_ELEMENTS(specs); i++)
        figure_add_unknown(figures, specs[i], missing);
}

BoardResult *
board_stage(const Inputs *inputs, const PatternResult *pattern, const MouldLayout *layout,
            FigureList *figures, Progress *progress, GError **error)
{
    BoardOptions options;
    inputs_give(inputs, figures);
    for (int i = 0; board_reads[i]; i++)
        if (isnan(inputs_number(inputs, board_reads[i]))) {
            add_unknown(figures, board_reads[i]);
            return NULL;
        }
    if (!board_options(inputs, &options, error))
        return NULL;
    if (layout->n_cavities == 0) {
        add_unknown(figures, "mould.cavities");
        return NULL;
    }
    options.most_cells = BOARD_FEW_CELLS;
    BoardResult *result = board_make(&options, pattern, layout, progress, error);
    if (!result)
        return NULL;
    Sums sums = sum_up(result, &options);
    add_volumes(figures, result, &sums, &options);
    add_checks(figures, &sums, &options);
    return result;
}
