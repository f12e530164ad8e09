// SPDX-License-Identifier: GPL-3.0-or-later
// Why there is metal, as a table that is the legend too: hatch, words, area in this section, volume
// in the whole casting. Causes that add nothing are left out.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/casting-kit.h"

#define ROW 4.1    // grains
#define SIZE 10.0  // of text
#define LEAST 2e-4 // of the section
#define SWATCH 6.0
#define WORDS 8.0
#define AREA 45.0 // right edge of the areas, from the column's left

static void
draw_row(CastingDraft *d, double y, const char *part, const char *word, double area, double volume,
         gboolean strong)
{
    double g = d->sheet.grain, left = CASTING_COLUMN * g;
    g_autofree char *a = area > 0 ? quantity_format(QUANTITY_AREA, area, d->units)
                                  : g_strdup("\u2013");
    g_autofree char *v = quantity_format(QUANTITY_VOLUME, volume, d->units);
    casting_text(d, ROLE_TEXT, left + (part && !strong ? WORDS : 0) * g, y, SIZE, ALIGN_START,
                 strong, part, word);
    casting_text(d, ROLE_TEXT, left + AREA * g, y, SIZE, ALIGN_END, strong, part, a);
    casting_text(d, ROLE_TEXT, CASTING_EDGE * g, y, SIZE, ALIGN_END, strong, part, v);
}

static void
draw_rule(CastingDraft *d, double y)
{
    double g = d->sheet.grain;
    SolidPoint rule[] = {{CASTING_COLUMN * g, y}, {CASTING_EDGE * g, y}};
    scene_add_line(d->scene, ROLE_DIMENSION, CASTING_ORDER_LINE, NULL, rule, 2);
}

void
casting_draw_table(CastingDraft *d)
{
    double g = d->sheet.grain, left = CASTING_COLUMN * g, y = CASTING_TABLE_TOP * g, all = 0;
    for (int c = 0; c < CAUSE_COUNT; c++)
        all += d->cut->area[c];
    casting_text(d, ROLE_DIMENSION, left, y, SIZE, ALIGN_START, FALSE, NULL, _("Metal"));
    casting_text(d, ROLE_DIMENSION, left + AREA * g, y, SIZE, ALIGN_END, FALSE, NULL,
                 _("this section"));
    casting_text(d, ROLE_DIMENSION, CASTING_EDGE * g, y, SIZE, ALIGN_END, FALSE, NULL,
                 _("the whole"));
    draw_rule(d, y - 0.5 * ROW * g);
    for (int c = 0; c < CAUSE_COUNT; c++) {
        if (d->pattern->cause_volume[c] == 0)
            continue;
        const CastingCause *cause = &casting_causes[c];
        y -= ROW * g;
        scene_add_rectangle(d->scene, cause->role, CASTING_ORDER_LINE, cause->id, TRUE, TRUE, left,
                            y - 1.4 * g, SWATCH * g, 2.8 * g);
        // What is less than the cells can tell is nothing here.
        double here = d->cut->area[c] > LEAST * all ? d->cut->area[c] : 0;
        draw_row(d, y, cause->id, _(cause->word), here, d->pattern->cause_volume[c], FALSE);
    }
    y -= 0.5 * ROW * g;
    draw_rule(d, y);
    y -= 0.6 * ROW * g;
    draw_row(d, y, "casting", _("Rough casting"), all, d->pattern->volume, TRUE);
}
