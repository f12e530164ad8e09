// SPDX-License-Identifier: GPL-3.0-or-later
// How fast sand draws heat from a casting: Chvorinov's rule with its constant from properties.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Metal and mould as the rule sees them. SI, temperatures in deg C.
typedef struct {
    double density;       // kg/m3 of the metal, as the mass per volume of the cooled casting
    double heat;          // J/kg given off until solid: latent heat and superheat
    double face;          // the temperature the metal holds at the mould's face
    double ambient;       // of the mould far away
    double conductivity;  // W/(m K) of the sand
    double sand_density;  // kg/m3
    double sand_specific; // J/(kg K)
} FeedCooling;

typedef enum {
    FEED_PLANE,
    FEED_CYLINDER,
    FEED_SPHERE,
} FeedShape;

// B of t = B (V/A)^2, s/m2, for a plane face and a thick sand mould without resistance at the face:
// B = pi/4 (density heat / (face - ambient))^2 / (k rho c). Adams and Taylor 1957; Poirier and
// Geiger, Transport Phenomena in Materials Processing. NAN when a value is NAN or the metal is no
// hotter than the mould.
double feed_constant(const FeedCooling *cooling);

// The same rule: t = B M^2, s. `modulus` in m.
double feed_time(double constant, double modulus);

// Freezing time, s, of a round body of modulus V/A = `modulus`: heat spreads out in the sand, so it
// is shorter than by feed_time. beta = lambda (2/sqrt(pi) + 1/(4 beta)) for a long cylinder and
// 1/(3 beta) for a sphere, with beta = modulus / sqrt(alpha t). Adams and Taylor 1957.
double feed_time_curved(const FeedCooling *cooling, FeedShape shape, double modulus);

// Heat, J/m2, a sand face held at `face` has taken after `time` s: 2 k (face - ambient)
// sqrt(t / (pi alpha)). Carslaw and Jaeger, Conduction of Heat in Solids, 1959.
double feed_heat_taken(const FeedCooling *cooling, double time);

G_END_DECLS
