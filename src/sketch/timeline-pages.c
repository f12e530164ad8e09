// SPDX-License-Identifier: GPL-3.0-or-later
// A long session on several pages: as much time and as many rows on each as can be read, one page
// after another in time, and then the next rows.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "sketch/export.h"
#include "sketch/timeline-kit.h"

#define LEAST_SCALE (54.0 / 3600.0) // device units per second that can still be read on paper
#define MOST_PAGES 400
#define MOST_SIDE 12000.0
#define PAGE_WIDTH 1123.0 // A4 lying, at 96 units to the inch
#define PAGE_HEIGHT 794.0

typedef struct {
    guint across, down; // pages
    double span;        // s on each
    guint rows;         // on each
} Paging;

static TimelineLook
make_look(double width, double height, const char *pins)
{
    return (TimelineLook){
        .width = width, .height = height, .now = NAN, .title = TRUE, .parts = TRUE, .pins = pins};
}

static Paging
find_paging(const TimelineChart *chart, double width, double height)
{
    TimelineLook look = make_look(width, height, NULL);
    TimelineFrame f = timeline_frame(chart, &look);
    double room = (f.right - f.left) / LEAST_SCALE;
    Paging p = {.across = (guint)CLAMP(ceil(chart->length / room - 1e-9), 1.0, MOST_PAGES)};
    p.span = chart->length / p.across;
    p.rows = MAX(1, f.n_rows);
    guint most = MAX(1, MOST_PAGES / p.across);
    // Their rows are as high as those of the first look, so as many go on every page.
    p.down = CLAMP((chart->n_rows + p.rows - 1) / p.rows, 1, most);
    return p;
}

guint
timeline_page_count(const TimelineChart *chart, double width, double height)
{
    g_return_val_if_fail(chart != NULL, 0);
    Paging p = find_paging(chart, width, height);
    return p.across * p.down;
}

Scene *
timeline_page(const TimelineChart *chart, double width, double height, guint page, const char *pins)
{
    g_return_val_if_fail(chart != NULL, NULL);
    Paging p = find_paging(chart, width, height);
    TimelineLook look = make_look(width, height, pins);
    TimelineFrame f = timeline_frame(chart, &look);
    look.from = (page % p.across) * p.span;
    look.scale = (f.right - f.left) / p.span;
    look.first_row = MIN(page / p.across, p.down - 1) * p.rows;
    g_autofree char *note = g_strdup_printf(_("page %u of %u"), page + 1, p.across * p.down);
    if (p.across * p.down > 1)
        look.note = note;
    return timeline_draw(chart, &look);
}

void
timeline_whole_size(const TimelineChart *chart, double *width, double *height)
{
    g_return_if_fail(chart != NULL && width != NULL && height != NULL);
    *width = PAGE_WIDTH - 2.0 * EXPORT_MARGIN;
    *height = PAGE_HEIGHT - 2.0 * EXPORT_MARGIN;
    for (int round = 0; round < 2; round++) { // the second sees what the first has changed
        TimelineLook look = make_look(*width, *height, NULL);
        TimelineFrame f = timeline_frame(chart, &look);
        *width += fmax(0.0, chart->length * LEAST_SCALE - (f.right - f.left));
        *height = ceil(f.end + (chart->n_rows - f.n_rows) * f.row_step);
    }
    *width = fmin(*width, MOST_SIDE);
    *height = fmin(*height, MOST_SIDE);
}

gboolean
timeline_export(const TimelineChart *chart, const char *pins, const char *path, gboolean replace,
                GError **error)
{
    g_return_val_if_fail(chart != NULL && path != NULL, FALSE);
    double width = PAGE_WIDTH - 2.0 * EXPORT_MARGIN, height = PAGE_HEIGHT - 2.0 * EXPORT_MARGIN;
    g_autoptr(GPtrArray) pages = g_ptr_array_new_with_free_func((GDestroyNotify)scene_unref);
    gsize end = strlen(path);
    if (end >= 4 && g_ascii_strcasecmp(path + end - 4, ".pdf") == 0) {
        guint n = timeline_page_count(chart, width, height);
        for (guint i = 0; i < n; i++)
            g_ptr_array_add(pages, timeline_page(chart, width, height, i, pins));
    } else {
        timeline_whole_size(chart, &width, &height);
        TimelineLook look = make_look(width, height, pins);
        g_ptr_array_add(pages, timeline_draw(chart, &look));
    }
    return export_pages((Scene *const *)pages->pdata, pages->len, THEME_PAPER,
                        width + 2.0 * EXPORT_MARGIN, height + 2.0 * EXPORT_MARGIN, path, replace,
                        error);
}
