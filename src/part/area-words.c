// SPDX-License-Identifier: GPL-3.0-or-later
// An area in words, as one would point it out standing before the open mould.
#include <glib/gi18n-lib.h>

#include "part/area.h"

#define LEVEL 0.7 // of the normal, along the pull: a top or an underside rather than a side

static const char *
find_title(const Area *a)
{
    Vec3 n = a->normal;
    if (a->form == AREA_HOLE)
        return N_("Inside of a hole");
    if (a->form == AREA_ROUND)
        return N_("Side all round");
    if (fabs(n.z) > LEVEL)
        return n.z > 0 ? N_("Face looking up") : N_("Underside");
    if (fabs(n.x) > 2 * fabs(n.y))
        return n.x > 0 ? N_("Side facing right") : N_("Side facing left");
    if (fabs(n.y) > 2 * fabs(n.x))
        return n.y > 0 ? N_("Side facing back") : N_("Side facing front");
    if (n.x > 0)
        return n.y > 0 ? N_("Side facing back right") : N_("Side facing front right");
    return n.y > 0 ? N_("Side facing back left") : N_("Side facing front left");
}

char *
area_title(const Area *a)
{
    return g_strdup(_(find_title(a)));
}

// Which third of the box.
static int
find_third(double at, double low, double high)
{
    double share = high > low ? (at - low) / (high - low) : 0.5;
    return share < 1.0 / 3 ? 0 : share > 2.0 / 3 ? 2 : 1;
}

char *
area_facts(const Area *a, Vec3 low, Vec3 high, double parting, const UnitSet *units)
{
    static const char *const places[3][3] = {
        {N_("at the front left"), N_("at the front"), N_("at the front right")},
        {N_("at the left"), N_("in the middle"), N_("at the right")},
        {N_("at the back left"), N_("at the back"), N_("at the back right")}};
    int x = find_third(a->middle.x, low.x, high.x), y = find_third(a->middle.y, low.y, high.y);
    const char *half = a->middle.z >= parting ? _("in the cope") : _("in the drag");
    // What goes round the part's middle is nowhere in particular.
    g_autofree char *where = a->form == AREA_ROUND && x == 1 && y == 1
                                 ? g_strdup(half)
                                 : g_strdup_printf("%s, %s", _(places[y][x]), half);
    g_autofree char *area = quantity_format(QUANTITY_AREA, a->area, units);
    if (a->hidden)
        return g_strdup_printf(_("%s, hidden from the pull, %s"), area, where);
    double tenth = G_PI / 1800; // of a degree: finer is noise of the mesh
    double mean = round(a->draft / tenth) * tenth + 0.0;
    double worst = round(a->least / tenth) * tenth + 0.0;
    g_autofree char *draft = quantity_format(QUANTITY_ANGLE, mean, units);
    g_autofree char *least = quantity_format(QUANTITY_ANGLE, worst, units);
    if (mean == worst)
        return g_strdup_printf(_("%s, %s draft, %s"), area, draft, where);
    return g_strdup_printf(_("%s, %s draft and %s at the least, %s"), area, draft, least, where);
}
