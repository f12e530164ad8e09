// SPDX-License-Identifier: GPL-3.0-or-later
// The small picture of the whole casting with the line it is cut at, as ISO 128-3 has it:
// long-dashed dotted, heavy ends, arrows in the direction of sight, a letter at each.
#include <glib/gi18n-lib.h>

#include "sketch/casting-kit.h"

#define PAST 3.5  // grains the line goes on beyond the casting
#define HEAVY 2.5 // grains of heavy end
#define ARROW 3.6 // grains from the line to the arrow's tip
#define WORD_SIZE 10.0
#define LETTER_SIZE 11.0

static void
draw_outline(CastingDraft *d)
{
    const PatternResult *p = d->pattern;
    const SolidOutline *seen = d->cut->axis == 2 ? p->side[1] : p->shadow;
    if (!seen)
        return;
    g_autoptr(SolidOutline) plain = solid_outline_simplified(seen, 0.02 * d->sheet.grain /
                                                                       d->sheet.map_scale);
    // The scene turns metres into millimetres; this picture has a scale of its own.
    double scale = d->sheet.map_scale / CASTING_MM;
    for (guint i = 0; i < plain->n_points; i++)
        plain->points[i] = (SolidPoint){plain->points[i].x * scale, plain->points[i].y * scale};
    double x = d->sheet.map.x / CASTING_MM, y = d->sheet.map.y / CASTING_MM;
    scene_add_outline(d->scene, ROLE_GRID, CASTING_ORDER_METAL, NULL, TRUE, FALSE, plain, x, y, 0);
    scene_add_outline(d->scene, ROLE_DIMENSION, CASTING_ORDER_LINE, NULL, FALSE, TRUE, plain, x, y,
                      0);
}

// One end of the line at (x, y), which goes on along (ax, ay); seen along (sx, sy).
static void
draw_end(CastingDraft *d, double x, double y, double ax, double ay, double sx, double sy)
{
    double g = d->sheet.grain;
    SolidPoint heavy[] = {{x - HEAVY * g * ax, y - HEAVY * g * ay}, {x, y}};
    SolidPoint shaft[] = {{x, y}, {x + ARROW * g * sx, y + ARROW * g * sy}};
    scene_add_line(d->scene, ROLE_VISIBLE, CASTING_ORDER_CUTTING, "plane", heavy, 2);
    scene_add_line(d->scene, ROLE_DIMENSION, CASTING_ORDER_CUTTING, "plane", shaft, 2);
    casting_arrow(d, ROLE_VISIBLE, CASTING_ORDER_CUTTING, "plane", shaft[1].x, shaft[1].y, sx, sy);
    casting_text(d, ROLE_TEXT, x + 2.2 * g * ax, y + 2.2 * g * ay, LETTER_SIZE, ALIGN_MIDDLE, TRUE,
                 NULL, "A");
}

static void
draw_cutting_line(CastingDraft *d)
{
    const CastingSheet *s = &d->sheet;
    gboolean upright = d->cut->axis == 0;
    int across = d->cut->axis == 2 ? 2 : 1;
    double low[3], high[3], past = PAST * s->grain;
    for (int a = 0; a < 3; a++)
        casting_range(d->pattern, a, &low[a], &high[a]);
    SolidPoint a, b;
    if (upright) {
        double x = s->map.x + d->cut->at * s->map_scale;
        a = (SolidPoint){x, s->map.y + low[1] * s->map_scale - past};
        b = (SolidPoint){x, s->map.y + high[1] * s->map_scale + past};
    } else {
        double y = s->map.y + d->cut->at * s->map_scale;
        a = (SolidPoint){s->map.x + low[0] * s->map_scale - past, y};
        b = (SolidPoint){s->map.x + high[0] * s->map_scale + past, y};
    }
    SolidPoint ends[] = {a, b};
    scene_add_line(d->scene, ROLE_CUTTING, CASTING_ORDER_CUTTING, "plane", ends, 2);
    double ax = upright ? 0 : 1, ay = upright ? 1 : 0;
    // The sections are drawn as seen from the right, from the front and from above.
    double sx = upright ? -1 : 0, sy = upright ? 0 : across == 2 ? -1 : 1;
    draw_end(d, a.x, a.y, -ax, -ay, sx, sy);
    draw_end(d, b.x, b.y, ax, ay, sx, sy);
}

void
casting_draw_map(CastingDraft *d)
{
    const CastingSheet *s = &d->sheet;
    gboolean level = d->cut->axis == 2;
    draw_outline(d);
    if (level) {
        double low, high, past = 2.0 * s->grain;
        casting_range(d->pattern, 0, &low, &high);
        SolidPoint line[] = {{s->map.x + low * s->map_scale - past, s->map.y},
                             {s->map.x + high * s->map_scale + past, s->map.y}};
        scene_add_line(d->scene, ROLE_PARTING, CASTING_ORDER_PARTING, NULL, line, 2);
    }
    draw_cutting_line(d);
    casting_text(d, ROLE_DIMENSION, CASTING_COLUMN * s->grain, 78.0 * s->grain, WORD_SIZE,
                 ALIGN_START, FALSE, NULL, level ? _("Seen from the front") : _("Seen from above"));
}
