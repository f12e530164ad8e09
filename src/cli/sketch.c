// SPDX-License-Identifier: GPL-3.0-or-later
// `sketch`: one view of a job's plan to a picture file.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/store.h"
#include "cli/cli.h"
#include "sketch/calendar.h"
#include "sketch/casting.h"
#include "sketch/export.h"
#include "sketch/filling.h"
#include "sketch/flask.h"
#include "sketch/gains.h"
#include "sketch/modulus.h"
#include "sketch/template.h"
#include "sketch/timeline.h"
#include "sketch/true-size.h"
#include "sketch/view.h"

#define PAGE_WIDTH 1123 // A4 landscape at 96 dots an inch; points are scaled by the surface
#define PAGE_HEIGHT 794

static const char *const boards[] = {"cope-board", "drag-board", NULL};

static gboolean
write_timeline(const Book *book, const char *job, const char *file, const Tables *tables,
               const char *to, gboolean true_size, gboolean replace, GError **error)
{
    if (true_size || g_str_has_suffix(to, ".dxf"))
        return base_error_set(error, BASE_ERROR_VALUE, to, NULL, _("a timeline has no true size"),
                              _("write it as .svg, .png or .pdf without --true-size"));
    g_autoptr(Plan) plan = plan_make(book, job, tables, NULL, NULL, error);
    if (!plan || !cli_usable(plan, file, error))
        return FALSE;
    g_autoptr(TimelineChart) chart = sketch_timeline_chart(plan, error);
    g_autofree char *pins = chart ? sketch_timeline_pins(plan) : NULL;
    return chart && timeline_export(chart, pins, to, replace, error);
}

static Scene *
make_scene(const Plan *plan, const char *view, const CastingPlane *plane, GError **error)
{
    if (g_strv_contains(boards, view))
        return sketch_template_scene(
            plan, g_str_equal(view, boards[0]) ? TEMPLATE_COPE : TEMPLATE_DRAG, error);
    if (g_str_equal(view, "casting"))
        return sketch_casting_scene(plan, plane, error);
    if (g_str_equal(view, "modulus"))
        return sketch_modulus_scene(plan, plane, error);
    if (g_str_equal(view, "filling"))
        return sketch_filling_scene(plan, error);
    if (g_str_equal(view, "gains"))
        return sketch_gains_scene(plan, error);
    return sketch_flask_scene_at(plan, view, plane->at, error);
}

static gboolean
is_view(const char *view)
{
    return g_str_equal(view, "timeline") || g_str_equal(view, "calendar") ||
           g_str_equal(view, "casting") || g_strv_contains(boards, view) || sketch_is_view(view);
}

// A board's lines are there to be laid on the board, and a DXF knows no other size.
static gboolean
write_scene(const Scene *scene, const char *view, const char *to, gboolean true_size,
            gboolean replace, GError **error)
{
    gboolean image = g_str_has_suffix(to, ".png"), board = g_strv_contains(boards, view);
    gboolean chart = scene_stretches(scene) ||
                     (sketch_is_view(view) && !sketch_view_has_size(view));
    if (chart && (true_size || g_str_has_suffix(to, ".dxf")))
        return base_error_setf(error, BASE_ERROR_VALUE, to, NULL,
                               _("write it as .svg, .png or .pdf without --true-size"),
                               _("the view %s is a chart and has no true size"), view);
    if (true_size || g_str_has_suffix(to, ".dxf") || (board && !image))
        return true_size_export(scene, NULL, to, replace, error);
    return export_scene(scene, THEME_PAPER, PAGE_WIDTH, PAGE_HEIGHT, to, replace, error);
}

// The casting by itself, which needs no flask that holds it.
static gboolean
shows_casting(const char *view)
{
    return g_str_equal(view, "modulus") || g_str_equal(view, "casting");
}

// CLI_DONE, or the code to return: options of the casting that make no sense.
static int
check_plane(const char *view, const char *cut, const char *at, CastingPlane *plane)
{
    gboolean modulus = g_str_equal(view, "modulus"), casting = shows_casting(view);
    if (cut && !casting)
        return cli_usage("%s", _("sketch: --cut is for --view casting and modulus only"));
    if (at && !casting && !sketch_flask_is_cut(view))
        return cli_usage("%s", _("sketch: --at is for sections only"));
    plane->at = casting && !modulus ? 0 : NAN;
    plane->axis = cut ? casting_cut_axis(cut) : casting_cut_axis("along");
    if (plane->axis < 0)
        return cli_usage(_("sketch: no cut called \"%s\"; use along, across or level"), cut);
    return CLI_DONE;
}

// A bare number is in the shop's unit.
static gboolean
read_place(const Book *book, const char *at, CastingPlane *plane, GError **error)
{
    if (!at)
        return TRUE;
    UnitSet units = book_units(book);
    g_autoptr(GError) own = NULL;
    if (quantity_parse(QUANTITY_LENGTH, at, &units, &plane->at, &own))
        return TRUE;
    g_propagate_prefixed_error(error, g_steal_pointer(&own), "--at: ");
    return FALSE;
}

static Scene *
make_job_scene(const Book *book, const char *job, const char *file, const char *view,
               const CastingPlane *plane, const Tables *tables, GError **error)
{
    // Most views need the mould alone, which is quick.
    gboolean whole = g_str_equal(view, "gains");
    g_autoptr(Plan) plan = whole ? plan_make(book, job, tables, NULL, NULL, error)
                                 : plan_make_mould(book, job, tables, NULL, error);
    if (!plan || (!shows_casting(view) && !cli_usable(plan, file, error)))
        return NULL;
    return make_scene(plan, view, plane, error);
}

// Of all jobs, or of the one asked for; `from` NULL: from today on.
static Scene *
make_calendar(const Book *book, const char *file, const char *asked, const char *from,
              const Tables *tables, GError **error)
{
    const char *const jobs[] = {asked, NULL};
    g_autoptr(GError) own = NULL;
    guint32 first = batch_today();
    if (from && !days_read_date(from, &first, &own)) {
        g_propagate_prefixed_error(error, g_steal_pointer(&own), "--from: ");
        return NULL;
    }
    g_autoptr(BatchPlan) batch = batch_plan_make(book, asked ? jobs : NULL, tables, NULL, first,
                                                 NULL, &own);
    if (batch)
        return sketch_calendar_scene(batch);
    g_propagate_prefixed_error(error, g_steal_pointer(&own), "%s: ", file);
    return NULL;
}

int
cli_sketch(int argc, char **argv)
{
    g_autofree char *asked = NULL, *view = NULL, *to = NULL, *cut = NULL, *at = NULL, *from = NULL;
    gboolean replace = FALSE, true_size = FALSE, finished;
    const GOptionEntry entries[] = {
        {"job", 'j', 0, G_OPTION_ARG_STRING, &asked, N_("Which job; the first otherwise"), "ID"},
        {"view", 0, 0, G_OPTION_ARG_STRING, &view,
         N_("plan, cope, drag, section, across, end, stack, casting, modulus, filling, "
            "gains, cope-board, drag-board, timeline or calendar"),
         "NAME"},
        {"cut", 0, 0, G_OPTION_ARG_STRING, &cut,
         N_("Which way the casting is cut: along (the default), across or level"), "WAY"},
        {"at", 0, 0, G_OPTION_ARG_STRING, &at,
         N_("Where a section lies: from the middle of flask or casting, or above the parting"),
         "LENGTH"},
        {"from", 0, 0, G_OPTION_ARG_STRING, &from,
         N_("The first day of the calendar there can be a session; today otherwise"), "DATE"},
        {"to", 'o', 0, G_OPTION_ARG_FILENAME, &to, N_("File to write: .svg, .png, .pdf or .dxf"),
         "FILE"},
        {"true-size", 0, 0, G_OPTION_ARG_NONE, &true_size,
         N_("A millimetre is a millimetre; a PDF on as many A4 sheets as it takes"), NULL},
        {"replace", 0, 0, G_OPTION_ARG_NONE, &replace, N_("Overwrite the file if it exists"), NULL},
        {NULL}};
    int code = cli_options("sketch", entries, &argc, &argv, 1, 1, &finished);
    if (code != CLI_DONE || finished)
        return code;
    if (!to)
        return cli_usage("%s", _("sketch: say where to, with --to FILE"));
    if (!view)
        view = g_strdup("plan");
    if (!is_view(view))
        return cli_usage(_("sketch: no view called \"%s\"; see sketch --help"), view);
    if (from && !g_str_equal(view, "calendar"))
        return cli_usage("%s", _("sketch: --from is for --view calendar only"));
    CastingPlane plane = {0};
    code = check_plane(view, cut, at, &plane);
    if (code != CLI_DONE)
        return code;
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    if (!tables)
        return cli_fail(error);
    g_autoptr(Book) book = store_read(argv[1], tables, &error);
    gboolean placed = book && read_place(book, at, &plane, &error);
    const char *job = placed ? cli_job(book, argv[1], asked, &error) : NULL;
    if (job && g_str_equal(view, "timeline"))
        return write_timeline(book, job, argv[1], tables, to, true_size, replace, &error)
                   ? CLI_DONE
                   : cli_fail(error);
    g_autoptr(Scene) scene = NULL;
    if (job && g_str_equal(view, "calendar"))
        scene = make_calendar(book, argv[1], asked, from, tables, &error);
    else if (job)
        scene = make_job_scene(book, job, argv[1], view, &plane, tables, &error);
    if (!scene || !write_scene(scene, view, to, true_size, replace, &error))
        return cli_fail(error);
    return CLI_DONE;
}
