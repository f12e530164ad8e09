// SPDX-License-Identifier: GPL-3.0-or-later
// Friction factors and single losses.
#include "mould/loss.h"

#include <math.h>

#define LAMINAR 2000.0   // Re up to which flow is taken as laminar
#define TURBULENT 4000.0 // and from which as turbulent

static double
find_turbulent(double reynolds, double rough, double *slope)
{
    double x = pow(rough / 3.7, 1.11) + 6.9 / reynolds;
    double root = -1.8 * log10(x), f = 1 / (root * root);
    // d(root)/dRe = 1.8/ln 10 * 6.9/(Re^2 x)
    *slope = -2 * f / root * (1.8 / G_LN10 * 6.9 / (reynolds * reynolds * x));
    return f;
}

double
mould_friction(double reynolds, double rough, double *slope)
{
    double ignored;
    slope = slope ? slope : &ignored;
    if (reynolds >= TURBULENT)
        return find_turbulent(reynolds, rough, slope);
    double f = 64 / reynolds, df = -f / reynolds;
    if (reynolds > LAMINAR) {
        double t = (reynolds - LAMINAR) / (TURBULENT - LAMINAR), dg;
        double g = find_turbulent(reynolds, rough, &dg);
        double w = t * t * (3 - 2 * t), dw = 6 * t * (1 - t) / (TURBULENT - LAMINAR);
        df = (1 - w) * df + w * dg + dw * (g - f);
        f = (1 - w) * f + w * g;
    }
    *slope = df;
    return f;
}

double
mould_friction_smooth(double reynolds)
{
    double laminar = 64 / reynolds, turbulent = 0.3164 * pow(reynolds, -0.25);
    double t = CLAMP((reynolds - LAMINAR) / (TURBULENT - LAMINAR), 0, 1), w = t * t * (3 - 2 * t);
    return (1 - w) * laminar + w * turbulent;
}

double
mould_loss_cone(double height, double upper, double lower)
{
    // The integral of (lower/d)^5 over the height; with x = lower/upper (1 + x + x^2 + x^3) x/4 is
    // its mean.
    double x = lower / upper;
    return height * x * (1 + x + x * x + x * x * x) / 4;
}

double
mould_loss_step(double from, double to)
{
    if (to >= from)
        return (1 - from / to) * (1 - from / to);
    return 0.5 * (1 - to / from);
}
