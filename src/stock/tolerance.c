// SPDX-License-Identifier: GPL-3.0-or-later
// The table of linear casting tolerances, ISO 8062-3:2007 table 2. Grades 1 to 5 are known to us up
// to 160 mm (5 to 250 mm), and no values of grades 15 and 16; those places are 0.
#include "stock/tolerance.h"

#include <math.h>

#define BANDS 12
#define GRADES 14

// Over the band before, up to and including this; mm.
static const double upto[BANDS] = {10, 16, 25, 40, 63, 100, 160, 250, 400, 630, 1000, 1600};

// Whole width, mm, by band and grade.
static const double width[BANDS][GRADES] = {
    {.09, .13, .18, .26, .36, .52, .74, 1, 1.5, 2, 2.8, 4.2, 0, 0},
    {.10, .14, .20, .28, .38, .54, .78, 1.1, 1.6, 2.2, 3, 4.4, 0, 0},
    {.11, .15, .22, .30, .42, .58, .82, 1.2, 1.7, 2.4, 3.2, 4.6, 6, 8},
    {.12, .17, .24, .32, .46, .64, .9, 1.3, 1.8, 2.6, 3.6, 5, 7, 9},
    {.13, .18, .26, .36, .50, .7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 10},
    {.14, .20, .28, .40, .56, .78, 1.1, 1.6, 2.2, 3.2, 4.4, 6, 9, 11},
    {.15, .22, .30, .44, .62, .88, 1.2, 1.8, 2.5, 3.6, 5, 7, 10, 12},
    {0, 0, 0, 0, .70, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 14},
    {0, 0, 0, 0, 0, 1.1, 1.6, 2.2, 3.2, 4.4, 6.2, 9, 12, 16},
    {0, 0, 0, 0, 0, 1.2, 1.8, 2.6, 3.6, 5, 7, 10, 14, 18},
    {0, 0, 0, 0, 0, 1.4, 2, 2.8, 4, 6, 8, 11, 16, 20},
    {0, 0, 0, 0, 0, 1.6, 2.2, 3.2, 4.6, 7, 9, 13, 18, 23}};

double
stock_tolerance(double dimension, int grade)
{
    if (grade < 1 || grade > GRADES || !(dimension >= 0))
        return NAN;
    for (int band = 0; band < BANDS; band++)
        if (dimension * 1e3 <= upto[band] * (1 + 1e-9)) // so that 100 mm in metres is not over 100
            return width[band][grade - 1] > 0 ? width[band][grade - 1] * 1e-3 : NAN;
    return NAN;
}
