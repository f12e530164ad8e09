// SPDX-License-Identifier: GPL-3.0-or-later
// Crucible volume and the metal of one load. A crucible's working fill is a volume; only its rating
// is a mass, and that of another metal as a rule.
#include "melt/charge.h"

#include <math.h>

double
melt_crucible_volume(double rating, double density)
{
    return rating / density;
}

// The load p must satisfy  p + max(reserve p, least) + heel <= working (1 - loss):  both readings
// of the reserve have to fit, hence the smaller of two.
double
melt_pourable(double working, double loss, double heel, double reserve, double least)
{
    double metal = working * (1 - loss) - heel;
    return fmin(metal / (1 + reserve), metal - least);
}

int
melt_flasks(double pourable, double flask_metal, double boxes)
{
    if (!(flask_metal > 0) || !(pourable > 0) || !(boxes > 0))
        return 0;
    return (int)fmin(floor(pourable / flask_metal), boxes);
}

double
melt_reserve(double poured, double reserve, double least)
{
    return fmax(reserve * poured, least);
}

double
melt_charge(double poured, double reserve_mass, double heel, double loss)
{
    return (poured + reserve_mass + heel) / (1 - loss);
}

double
melt_rating_needed(double need, double density, double fill, double rating_density)
{
    return need / (density * fill) * rating_density;
}
