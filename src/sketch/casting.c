// SPDX-License-Identifier: GPL-3.0-or-later
// The sheet with the casting's section: where its pieces lie, and what is said about them.
//
//   +--------------------------------------------+
//   | Section A-A                   A-[===]-A    |   where it is cut
//   |   | ____________                           |
//   |   |/############\  COPE    // draft    1.2 |   why there is metal:
//   |  -+--------------- DRAG    \\ stock   12.0 |   here, and in the whole
//   |   |---- 120 ----|          == in all       |
//   +--------------------------------------------+
#include "sketch/casting.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "sketch/casting-kit.h"

#define TITLE_SIZE 15.0
#define TEXT_SIZE 11.0

const char *const casting_cuts[] = {"across", "along", "level", NULL};

const CastingCause casting_causes[CAUSE_COUNT] = {
    {"cause-part", N_("Finished part"), "pattern.part_volume", ROLE_CUT_PART},
    {"cause-allowance", N_("Stock to machine"), "pattern.allowance_volume", ROLE_CUT_ALLOWANCE},
    {"cause-wall", N_("Walls thickened"), "pattern.wall_volume", ROLE_CUT_WALL},
    {"cause-fillet", N_("Corners filled"), "pattern.fillet_volume", ROLE_CUT_FILLET},
    {"cause-closed", N_("Small holes closed"), "pattern.closed_volume", ROLE_CUT_CLOSED},
    {"cause-undercut", N_("Undercuts filled"), "pattern.undercut_volume", ROLE_CUT_UNDERCUT},
    {"cause-stub", N_("Stub"), "pattern.stub_volume", ROLE_CUT_STUB},
    {"cause-draft", N_("Draft"), "pattern.draft_volume", ROLE_CUT_DRAFT},
};

int
casting_cut_axis(const char *name)
{
    for (int i = 0; casting_cuts[i]; i++)
        if (g_strcmp0(casting_cuts[i], name) == 0)
            return i;
    return -1;
}

void
casting_range(const PatternResult *p, int axis, double *low, double *high)
{
    *low = axis == 0 ? p->min.x : axis == 1 ? p->min.y : -p->height_drag;
    *high = axis == 0 ? p->max.x : axis == 1 ? p->max.y : p->height_cope;
}

// The scale (mm a metre, when a grain is `grain` mm) that brings a box into a place.
static double
fit_scale(SolidPoint size, double width, double height)
{
    return fmin(width / fmax(size.x, 1e-9), height / fmax(size.y, 1e-9));
}

CastingSheet
casting_sheet(const PatternResult *p, int axis)
{
    SolidPoint none = {INFINITY, INFINITY};
    return casting_sheet_wide(p, axis, none, (SolidPoint){-INFINITY, -INFINITY});
}

CastingSheet
casting_sheet_wide(const PatternResult *p, int axis, SolidPoint min, SolidPoint max)
{
    CastingSheet s = {0};
    double low[3], high[3];
    for (int a = 0; a < 3; a++)
        casting_range(p, a, &low[a], &high[a]);
    int u = axis == 0 ? 1 : 0, v = axis == 2 ? 1 : 2;
    s.min = (SolidPoint){low[u], low[v]};
    s.max = (SolidPoint){high[u], high[v]};
    min = (SolidPoint){fmin(min.x, low[u]), fmin(min.y, low[v])};
    max = (SolidPoint){fmax(max.x, high[u]), fmax(max.y, high[v])};
    SolidPoint size = {max.x - min.x, max.y - min.y};
    s.grain = CASTING_MM /
              fit_scale(size, CASTING_RIGHT - CASTING_LEFT, CASTING_HIGH - CASTING_LOW);
    s.width = CASTING_WIDTH * s.grain;
    s.height = CASTING_HEIGHT * s.grain;
    double x = (CASTING_LEFT + CASTING_RIGHT) / 2, y = (CASTING_LOW + CASTING_HIGH) / 2;
    s.section = (SolidPoint){x * s.grain - (min.x + max.x) / 2 * CASTING_MM,
                             y * s.grain - (min.y + max.y) / 2 * CASTING_MM};
    int across = axis == 2 ? 2 : 1; // the small picture: seen from above, or from the front
    SolidPoint seen = {high[0] - low[0], high[across] - low[across]};
    s.map_scale = s.grain * fit_scale(seen, CASTING_MAP_RIGHT - CASTING_MAP_LEFT,
                                      CASTING_MAP_HIGH - CASTING_MAP_LOW);
    x = (CASTING_MAP_LEFT + CASTING_MAP_RIGHT) / 2;
    y = (CASTING_MAP_LOW + CASTING_MAP_HIGH) / 2;
    s.map = (SolidPoint){x * s.grain - (low[0] + high[0]) / 2 * s.map_scale,
                         y * s.grain - (low[across] + high[across]) / 2 * s.map_scale};
    return s;
}

static double
round_length(const UnitSet *units, double metres)
{
    double step = units->inches ? 25.4e-6 : 1e-4;
    return round(metres / step) * step + 0.0;
}

char *
casting_length(const UnitSet *units, double metres)
{
    return quantity_format(QUANTITY_LENGTH, round_length(units, metres), units);
}

char *
casting_length_number(const UnitSet *units, double metres)
{
    g_autofree char *number = NULL, *unit = NULL;
    quantity_format_parts(QUANTITY_LENGTH, round_length(units, metres), units, &number, &unit);
    if (g_strcmp0(unit, quantity_shop_unit(QUANTITY_LENGTH, units)) == 0)
        return g_steal_pointer(&number);
    return casting_length(units, metres);
}

void
casting_text(CastingDraft *draft, SceneRole role, double x, double y, double size, ShapeAlign align,
             gboolean strong, const char *part, const char *text)
{
    Shape style = {.size = size, .align = align, .strong = strong};
    scene_add_styled_text(draft->scene, role, CASTING_ORDER_TEXT, part, x, y, &style, text);
}

void
casting_arrow(CastingDraft *draft, SceneRole role, int order, const char *part, double x, double y,
              double dx, double dy)
{
    double length = 2.2 * draft->sheet.grain, half = 0.45 * draft->sheet.grain;
    SolidPoint head[] = {{x, y},
                         {x - length * dx - half * dy, y - length * dy + half * dx},
                         {x - length * dx + half * dy, y - length * dy - half * dx}};
    scene_add_polygon(draft->scene, role, order, part, TRUE, FALSE, head, 3);
}

// "Along, through the middle", "Level, 12 mm above the parting".
static char *
name_plane(const CauseCut *cut, const UnitSet *units)
{
    g_autofree char *off = casting_length(units, fabs(cut->at));
    gboolean middle = fabs(cut->at) < 5e-5;
    switch (cut->axis) {
    case 2:
        return middle        ? g_strdup(_("Level, at the parting"))
               : cut->at > 0 ? g_strdup_printf(_("Level, %s above the parting"), off)
                             : g_strdup_printf(_("Level, %s below the parting"), off);
    case 1:
        return middle        ? g_strdup(_("Along, through the middle"))
               : cut->at > 0 ? g_strdup_printf(_("Along, %s behind the middle"), off)
                             : g_strdup_printf(_("Along, %s before the middle"), off);
    default:
        return middle        ? g_strdup(_("Across, through the middle"))
               : cut->at > 0 ? g_strdup_printf(_("Across, %s right of the middle"), off)
                             : g_strdup_printf(_("Across, %s left of the middle"), off);
    }
}

char *
casting_words_at(const CauseCut *cut, SolidPoint place, const UnitSet *units)
{
    double thickness = 0;
    Cause cause = cause_cut_at(cut, place, &thickness);
    if (cause == CAUSE_COUNT)
        return NULL;
    g_autofree char *thick = casting_length(units, thickness);
    return g_strdup_printf(_("%s, %s thick here"), _(casting_causes[cause].word), thick);
}

static void
describe_causes(CastingDraft *draft)
{
    for (int c = 0; c < CAUSE_COUNT; c++) {
        if (draft->pattern->cause_volume[c] == 0)
            continue;
        const CastingCause *cause = &casting_causes[c];
        g_autofree char *area = quantity_format(QUANTITY_AREA, fmax(0, draft->cut->area[c]),
                                                draft->units);
        g_autofree char *volume = quantity_format(QUANTITY_VOLUME, draft->pattern->cause_volume[c],
                                                  draft->units);
        g_autofree char *words = g_strdup_printf(_("%s in this section, %s in the whole casting"),
                                                 area, volume);
        scene_add_part(draft->scene, cause->id, _(cause->word), words, cause->figure);
    }
}

static void
describe(CastingDraft *draft, const char *plane)
{
    const PatternResult *p = draft->pattern;
    Scene *scene = draft->scene;
    describe_causes(draft);
    g_autofree char *volume = quantity_format(QUANTITY_VOLUME, p->volume, draft->units);
    scene_add_part(scene, "casting", _("Rough casting"), volume, "casting.volume");
    if (draft->cut->axis != 2) {
        g_autofree char *cope = casting_length(draft->units, p->height_cope);
        g_autofree char *drag = casting_length(draft->units, p->height_drag);
        g_autofree char *draft_angle = quantity_format(QUANTITY_ANGLE, p->draft, draft->units);
        scene_add_part(scene, "depth-cope", _("Depth of draw in the cope"), cope,
                       "pattern.depth.cope");
        scene_add_part(scene, "depth-drag", _("Depth of draw in the drag"), drag,
                       "pattern.depth.drag");
        scene_add_part(scene, "draft", _("Draft angle"), draft_angle, "pattern.draft_volume");
    }
    scene_add_part(scene, "plane", _("Cutting plane"), plane, NULL);
}

Scene *
casting_scene(const PatternResult *pattern, const CauseCut *cut, const UnitSet *units)
{
    g_return_val_if_fail(pattern != NULL && cut != NULL && units != NULL, NULL);
    CastingDraft d = {.scene = scene_new(_("Rough casting in section")),
                      .pattern = pattern,
                      .cut = cut,
                      .units = units,
                      .sheet = casting_sheet(pattern, cut->axis)};
    double g = d.sheet.grain;
    scene_set_grain(d.scene, g);
    scene_add_rectangle(d.scene, ROLE_DIMENSION, CASTING_ORDER_SHEET, NULL, FALSE, TRUE, 0, 0,
                        d.sheet.width, d.sheet.height);
    g_autofree char *plane = name_plane(cut, units);
    casting_text(&d, ROLE_TEXT, 3.0 * g, 77.5 * g, TITLE_SIZE, ALIGN_START, TRUE, NULL,
                 _("Rough casting, section A\u2013A"));
    g_autofree char *below = g_strdup_printf("%s. %s", plane,
                                             units->inches ? _("Lengths in inches, cold.")
                                                           : _("Lengths in millimetres, cold."));
    casting_text(&d, ROLE_DIMENSION, 3.0 * g, 73.0 * g, TEXT_SIZE, ALIGN_START, FALSE, NULL, below);
    casting_draw_section(&d);
    casting_draw_map(&d);
    casting_draw_table(&d);
    describe(&d, plane);
    return d.scene;
}

// Why a plan has no rough casting: the message of the first stage that failed.
static void
say_why(const Plan *plan, GError **error)
{
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo stage = plan_stage_info(plan, i);
        if (stage.error) {
            base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan), stage.error, NULL);
            return;
        }
    }
    base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, plan_job(plan),
                   _("there is no rough casting to draw yet"),
                   _("look at the figures marked unknown"));
}

Scene *
sketch_casting_scene(const Plan *plan, const CastingPlane *plane, GError **error)
{
    g_return_val_if_fail(plan && plane && plane->axis >= 0 && plane->axis <= 2, NULL);
    const PatternResult *pattern = plan_pattern(plan);
    if (!pattern) {
        say_why(plan, error);
        return NULL;
    }
    UnitSet units = plan_units(plan);
    double low, high;
    casting_range(pattern, plane->axis, &low, &high);
    if (!(plane->at >= low && plane->at <= high)) {
        g_autofree char *from = casting_length(&units, low), *to = casting_length(&units, high);
        g_autofree char *remedy = g_strdup_printf(_("choose a place from %s to %s"), from, to);
        base_error_set(error, BASE_ERROR_VALUE, NULL, plan_job(plan),
                       _("the plane does not meet the casting"), remedy);
        return NULL;
    }
    g_auto(CauseCut) cut = cause_cut(pattern, plane->axis, plane->at);
    return casting_scene(pattern, &cut, &units);
}
