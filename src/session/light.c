// SPDX-License-Identifier: GPL-3.0-or-later
// From the clock on the wall to the time of the session.
#include "session/light.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/days.h"

#define DAY 1440 // min

static gboolean
read_clock(const char *text, const char *field, int blank, int *minutes, GError **error)
{
    *minutes = blank;
    if (!text || !*text || days_read_clock(text, minutes, error))
        return TRUE;
    g_prefix_error(error, "%s: ", field);
    return FALSE;
}

gboolean
session_light_find(const char *from, const char *to, int start, SessionLight *light, GError **error)
{
    g_return_val_if_fail(light, FALSE);
    int begins, ends;
    if (!read_clock(from, "shop.light_from", 0, &begins, error) ||
        !read_clock(to, "shop.light_to", DAY, &ends, error))
        return FALSE;
    if (ends <= begins)
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "shop.light_to",
                               _("exchange the two, or leave one blank"),
                               _("daylight ends at %s and does not begin before %s"), to,
                               from && *from ? from : "00:00");
    int later = ends < DAY && ends <= start ? DAY : 0;
    *light = (SessionLight){.from = MAX(begins + later - start, 0) * 60.0,
                            .to = ends < DAY ? (ends + later - start) * 60.0 : INFINITY};
    return TRUE;
}
