// SPDX-License-Identifier: GPL-3.0-or-later
// Sand of a flask.
#include "mould/sand.h"

#include <math.h>

double
mould_sand_mass(double flask, double metal, double rammed_density)
{
    return (flask - metal) * rammed_density;
}

double
mould_sand_boxes(double mass, double box)
{
    return ceil(mass / box);
}

double
mould_sand_over(double cover, double asked)
{
    return MAX(0, cover - asked);
}
