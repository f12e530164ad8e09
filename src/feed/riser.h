// SPDX-License-Identifier: GPL-3.0-or-later
// How large a riser must be. A riser is an upright cylinder. Beside the casting it stands on the
// parting in the cope, where it can between gate and casting, so that the metal that fills the
// casting runs through it and leaves it the hotter, and all its faces cool; on the casting its foot
// does not cool. A blind one is as high as wide, an open one as high as the cope leaves room for;
// its open top counts as a cooling face, since it radiates.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// V/A, m, of a cylinder; `base_cools` FALSE for one that stands on the casting.
double feed_cylinder_modulus(double diameter, double height, gboolean base_cools);

// Diameter, m, of a cylinder with H = D whose modulus is `modulus`: 6 M when all faces cool, 5 M
// when the base does not.
double feed_riser_by_modulus(double modulus, gboolean base_cools);

// Volume, m3, that a riser needs to give `shrinkage` (share of volume) of itself and of the casting
// when only `share` of it can be given: share V = shrinkage (V_casting + V). NAN when share is not
// more than shrinkage: then no riser is large enough. Campbell, Complete Casting Handbook.
double feed_riser_volume(double casting_volume, double shrinkage, double share);

// Diameter, m, of a cylinder with H = D of that volume.
double feed_riser_by_volume(double volume);

// The same for a height that is given, of an open riser. D H / (4 H + n D) = M with n cooling ends,
// 2 or 1, gives 4 M H / (H - n M); NAN when `height` is not more than n M: then no width is enough.
double feed_riser_open_by_modulus(double modulus, double height, gboolean base_cools);
double feed_riser_open_by_volume(double volume, double height);

// Diameter, m, of a round neck with modulus `margin` times that of the casting: a long bar, D/4.
double feed_neck(double casting_modulus, double margin);

// Does a section whose largest ball has `evenness` times the casting's modulus for its radius
// freeze well after the rest? More than 1.5; this program's own choice.
gboolean feed_is_uneven(double evenness);

G_END_DECLS
