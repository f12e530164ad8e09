// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "stock": what there is to cut on the finished part's faces, and how long that takes. The
// finest cut that may be missing is what tolerance, mismatch and bow can take from the side they
// act on, all at once: the worst case, not the likely one.
#include "stock/stock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "solid/bvh.h"
#include "solid/spread.h"
#include "stock/tolerance.h"

#define PLACES 20000

const char *const stock_reads[] = {
    "job.allowance",         "job.tolerance_grade",  "job.bow", "machine.power", "machine.handling",
    "machine.cutting_share", "metal.cutting_energy", NULL};

#define LOOK_METHOD                                                                                \
    N_("Distance from the finished faces to the surface of the rough casting found on the grid, "  \
       "at "                                                                                       \
       "corners and some 20000 places spread over the faces. The casting holds the allowance by "  \
       "the way it is made, so less than a third of a cell missing from it is the grid's doing "   \
       "and "                                                                                      \
       "left out.")

static const FigureSpec spec_nearest = {"stock.nearest", N_("Least metal over a finished face"),
                                        QUANTITY_LENGTH, NULL,
                                        LOOK_METHOD,     "geometry"};
static const FigureSpec spec_max = {"stock.max", N_("Most stock"), QUANTITY_LENGTH,
                                    NULL,        LOOK_METHOD,      "geometry"};
static const FigureSpec spec_largest = {"stock.largest",
                                        N_("Largest dimension of the part"),
                                        QUANTITY_LENGTH,
                                        "max(part.size.x, max(part.size.y, part.size.z))",
                                        NULL,
                                        "definition"};
static const FigureSpec spec_tolerance = {
    "stock.tolerance",
    N_("Casting tolerance, whole width"),
    QUANTITY_LENGTH,
    NULL,
    N_("Linear tolerance of the grade for the part's largest dimension, from the table."),
    "iso-8062-3"};
static const FigureSpec spec_taken = {"stock.taken",
                                      N_("Tolerance, mismatch and bow may take"),
                                      QUANTITY_LENGTH,
                                      "stock.tolerance / 2 + mould.mismatch + job.bow",
                                      NULL,
                                      "common-practice"};
static const FigureSpec spec_min = {"stock.min",
                                    N_("Least stock in the worst case"),
                                    QUANTITY_LENGTH,
                                    "stock.nearest - stock.taken",
                                    NULL,
                                    "common-practice",
                                    FIGURE_AT_LEAST};
static const FigureSpec spec_chips = {"stock.chip_volume",
                                      N_("Chips from one casting"),
                                      QUANTITY_VOLUME,
                                      "casting.volume - pattern.part_volume",
                                      NULL,
                                      "geometry"};
static const FigureSpec spec_rate = {"stock.removal_rate",
                                     N_("Metal cut in a given time"),
                                     QUANTITY_REMOVAL_RATE,
                                     "machine.power * machine.cutting_share / metal.cutting_energy",
                                     NULL,
                                     "groover"};
static const FigureSpec spec_time = {"stock.machining_time",
                                     N_("Machining one casting"),
                                     QUANTITY_TIME,
                                     "stock.chip_volume / stock.removal_rate + machine.handling",
                                     NULL,
                                     "groover"};

StockResult *
stock_result_ref(const StockResult *result)
{
    return g_atomic_rc_box_acquire((StockResult *)result);
}

void
stock_result_unref(const StockResult *result)
{
    if (result)
        g_atomic_rc_box_release((StockResult *)result);
}

// Places on the faces and the corners, or every so manieth of them.
static GArray *
choose_places(const SolidMesh *part)
{
    GArray *places = solid_spread(part, PLACES);
    guint32 stride = MAX(1, part->n_vertices / PLACES);
    for (guint32 i = 0; i < part->n_vertices; i += stride) {
        SolidPlace corner = {part->vertices[i], vec3(0, 0, 0)};
        g_array_append_val(places, corner);
    }
    return places;
}

// Over a corner of the part the casting is rounded about that very corner, and a field sampled
// between cells would cut off its peak there; so the grid gives the sign and the mesh the distance.
gboolean
stock_look(const SolidMesh *part, const SolidMesh *casting, const SolidGrid *field, double *least,
           double *most, Vec3 *where, Progress *progress, GError **error)
{
    g_autoptr(GArray) places = choose_places(part);
    g_autoptr(SolidBvh) bvh = solid_bvh_new(casting);
    g_autofree double *over = g_new(double, places->len + 1);
    guint n = places->len;
#pragma omp parallel for schedule(dynamic, 256)
    for (guint i = 0; i < n; i++) {
        Vec3 at = g_array_index(places, SolidPlace, i).at;
        if (progress_stopped(progress))
            continue;
        double d = solid_bvh_nearest(bvh, at, SOLID_NO_TRIANGLE).distance;
        over[i] = solid_grid_sample(field, at) <= 0 ? d : -d;
    }
    if (!progress_check(progress, error))
        return FALSE;
    *least = n > 0 ? INFINITY : 0;
    *most = 0;
    *where = vec3(0, 0, 0);
    for (guint i = 0; i < n; i++) {
        if (over[i] < *least) {
            *least = over[i];
            *where = g_array_index(places, SolidPlace, i).at;
        }
        *most = fmax(*most, over[i]);
    }
    *least = fmax(0, *least);
    return TRUE;
}

static void
add_tolerance(const Inputs *inputs, FigureList *figures)
{
    double x = figure_list_value(figures, "part.size.x");
    double y = figure_list_value(figures, "part.size.y");
    double z = figure_list_value(figures, "part.size.z"), largest = fmax(x, fmax(y, z));
    double grade = inputs_number(inputs, "job.tolerance_grade");
    figure_add(figures, &spec_largest, largest, "part.size.x", "part.size.y", "part.size.z", NULL);
    double width = isnan(grade) ? NAN : stock_tolerance(largest, (int)grade);
    if (isnan(width) && !isnan(grade) && !isnan(largest)) {
        Figure *f = figure_add_unknown(figures, &spec_tolerance, "job.tolerance_grade");
        figure_set_note(f, _("The table here has no value for grade %d at this size."), (int)grade);
        return;
    }
    figure_add(figures, &spec_tolerance, width, "stock.largest", "job.tolerance_grade", NULL);
}

// To a tenth of a millimetre, a thing nobody could point at more finely.
static char *
format_place(double at, const UnitSet *units)
{
    return quantity_format(QUANTITY_LENGTH, round(1e4 * at) / 1e4, units);
}

static void
note_shortage(const Inputs *inputs, Figure *figure, const StockResult *r, double allowance)
{
    UnitSet units = inputs_units(inputs);
    g_autofree char *x = format_place(r->where.x, &units);
    g_autofree char *y = format_place(r->where.y, &units);
    g_autofree char *z = format_place(r->where.z, &units);
    // Rounded up: a tenth of a millimetre, or five thousandths of an inch.
    double step = units.inches ? 0.005 * 0.0254 : 1e-4;
    double enough = step * ceil((allowance - r->min) / step - 1e-5);
    g_autofree char *would_do = quantity_format(QUANTITY_LENGTH, enough, &units);
    figure_set_note(figure,
                    _("Least near x %s, y %s, z %s from the parting's middle. An allowance of %s "
                      "would do, or a finer grade."),
                    x, y, z, would_do);
}

static void
add_stock(const Inputs *inputs, FigureList *figures, StockResult *r, double nearest)
{
    double allowance = inputs_number(inputs, "job.allowance");
    r->taken = figure_list_value(figures, "stock.tolerance") / 2 +
               figure_list_value(figures, "mould.mismatch") + inputs_number(inputs, "job.bow");
    r->min = nearest - r->taken;
    figure_add(figures, &spec_nearest, nearest, "casting.volume", "job.allowance", NULL);
    figure_add(figures, &spec_max, r->max, "casting.volume", "job.allowance", NULL);
    figure_add(figures, &spec_taken, r->taken, "stock.tolerance", "mould.mismatch", "job.bow",
               NULL);
    Figure *f = figure_add(figures, &spec_min, r->min, "stock.nearest", "stock.taken", NULL);
    figure_limit(f, 0, NULL);
    if (f->state == FIGURE_FAILS)
        note_shortage(inputs, f, r, allowance);
}

static void
add_machining(const Inputs *inputs, FigureList *figures, StockResult *r)
{
    r->chip_volume = figure_list_value(figures, "casting.volume") -
                     figure_list_value(figures, "pattern.part_volume");
    double rate = inputs_number(inputs, "machine.power") *
                  inputs_number(inputs, "machine.cutting_share") /
                  inputs_number(inputs, "metal.cutting_energy");
    r->machining_time = r->chip_volume / rate + inputs_number(inputs, "machine.handling");
    figure_add(figures, &spec_chips, r->chip_volume, "casting.volume", "pattern.part_volume", NULL);
    figure_add(figures, &spec_rate, rate, "machine.power", "machine.cutting_share",
               "metal.cutting_energy", NULL);
    figure_add(figures, &spec_time, r->machining_time, "stock.chip_volume", "stock.removal_rate",
               "machine.handling", NULL);
}

static void
add_unknown(FigureList *figures, const char *missing)
{
    const FigureSpec *all[] = {&spec_nearest,   &spec_max,   &spec_largest,
                               &spec_tolerance, &spec_taken, &spec_min,
                               &spec_chips,     &spec_rate,  &spec_time};
    for (guint i = 0; i < G_N_ELEMENTS(all); i++)
        figure_add_unknown(figures, all[i], missing);
}

StockResult *
stock_stage(const Inputs *inputs, const PatternResult *pattern, const MouldLayout *layout,
            FigureList *figures, Progress *progress, GError **error)
{
    static const char *const earlier[] = {"casting.volume", "pattern.part_volume",
                                          "part.size.x",    "part.size.y",
                                          "part.size.z",    "mould.mismatch"};
    inputs_give(inputs, figures);
    if (!pattern) {
        add_unknown(figures, "casting.volume");
        return NULL;
    }
    for (guint i = 0; i < G_N_ELEMENTS(earlier); i++)
        if (!figure_list_find(figures, earlier[i])) {
            add_unknown(figures, earlier[i]);
            return NULL;
        }
    g_autoptr(StockResult) r = g_atomic_rc_box_new0(StockResult);
    double nearest;
    if (!stock_look(pattern->part, pattern->mesh, pattern->casting, &nearest, &r->max, &r->where,
                    progress, error))
        return NULL;
    // The facets of a net lie a little inside the round edges they stand for.
    double allowance = inputs_number(inputs, "job.allowance");
    if (nearest < allowance && nearest > allowance - pattern->casting->cell / 3)
        nearest = allowance;
    add_tolerance(inputs, figures);
    add_stock(inputs, figures, r, nearest);
    add_machining(inputs, figures, r);
    return g_steal_pointer(&r);
}
